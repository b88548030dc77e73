package layout

import (
	"context"
	"testing"

	"pgregory.net/rapid"
)

// floor is a level 10 m by 6 m with a setback of 0.3 m at its foot, an area of
// 1 m by 1 m that is kept free and one in last-resort shade.
//
//	6 +--------------------+
//	  |        [k] [s]     |  k from 4 to 5, s from 6 to 7, both from 3 to 4
//	0 +====================+
func floor() Usability {
	u := Usability{
		Region: Region{Outer: Ring{{0, 0}, {10, 0}, {10, 6}, {0, 6}}},
		Zones: []Zone{
			{WhySetback, Ring{{0, 0}, {10, 0}, {10, 0.3}, {0, 0.3}}},
			{WhyKeepOut, Ring{{4, 3}, {5, 3}, {5, 4}, {4, 4}}},
			{WhyShadeLastResort, Ring{{6, 3}, {7, 3}, {7, 4}, {6, 4}}},
		},
	}
	u.Region.Holes = []Ring{u.Zones[0].Ring, u.Zones[1].Ring}
	u.LastResort = []Ring{u.Zones[2].Ring}
	return u
}

// Touching is allowed, what overlaps by more than the tolerance is not.
func TestObstacle(t *testing.T) {
	spec := Spec{WidthM: 1, HeightM: 2, EndM: 0.04}
	const over = 2e-6
	for _, c := range []struct {
		name string
		m    Rect
		why  string
		zone int
	}{
		{"free", Rect{1, 1, 1, 2}, "", 0},
		{"turned", Rect{1, 1, 2, 1}, "", 0},
		{"another size", Rect{1, 1, 1.5, 2}, WhyOutside, -1},
		{"touches the setback", Rect{1, 0.3, 1, 2}, "", 0},
		{"in the setback", Rect{1, 0.3 - over, 1, 2}, WhySetback, 0},
		{"touches the top", Rect{1, 4, 1, 2}, "", 0},
		{"beyond the top", Rect{1, 4 + over, 1, 2}, WhyOutside, -1},
		{"end allowance touches the side", Rect{0.04, 1, 1, 2}, "", 0},
		{"end allowance beyond the side", Rect{0.04 - over, 1, 1, 2}, WhyEnd, -1},
		{"touches the side", Rect{0, 1, 1, 2}, WhyEnd, -1},
		{"beyond the side", Rect{-over, 1, 1, 2}, WhyOutside, -1},
		{"over the free area", Rect{4.2, 2, 1, 2}, WhyKeepOut, 1},
		{"below the free area", Rect{4, 1, 1, 2}, "", 0},
		{"end allowance touches the free area", Rect{2.96, 2.5, 1, 2}, "", 0},
		{"end allowance in the free area", Rect{2.96 + over, 2.5, 1, 2}, WhyEnd, 1},
		{"in last-resort shade", Rect{6, 2.5, 1, 2}, "", 0},
		{"setback before free area", Rect{4.2, 0.2, 1, 2}, WhySetback, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			u := floor()
			got := u.Obstacle(c.m, spec)
			if got.Why != c.why || got.Why != "" && got.Zone != c.zone {
				t.Errorf("%+v, want %q at %d", got, c.why, c.zone)
			}
			if err := CheckPacking(u.Region, spec, []Rect{c.m}); (err == nil) != (got.Why == "") {
				t.Errorf("%q, but the checker says %v", got.Why, err)
			}
		})
	}
}

// TooNear and the checker agree, at exactly the gaps too.
func TestTooNear(t *testing.T) {
	wide := Region{Outer: Ring{{-50, -50}, {50, -50}, {50, 50}, {-50, 50}}}
	rapid.Check(t, func(t *rapid.T) {
		s := Spec{WidthM: 1, HeightM: 2, GapUM: 0.02, GapVM: 0.05}
		at := func(label string, steps int) float64 {
			return float64(rapid.IntRange(-steps, steps).Draw(t, label)) / 100
		}
		a, b := Rect{0, 0, 1, 2}, Rect{at("u", 220), at("v", 220), 1, 2}
		if rapid.Bool().Draw(t, "turned") {
			b.WM, b.HM = 2, 1
		}
		err := CheckPacking(wide, s, []Rect{a, b})
		if near := TooNear(a, b, s); near != (err != nil) || near != TooNear(b, a, s) {
			t.Fatalf("too near %v, the checker says %v", near, err)
		}
	})
}

// Three modules in a strip that is just long enough stay three when the middle
// one stands already, and the two ends keep their end allowance. A hair less
// and one is lost.
//
//	|.04|  1  |.02|  1  |.02|  1  |.04|   3.12 m
func TestAroundKeepsExactlyTheGap(t *testing.T) {
	s := Spec{WidthM: 1, HeightM: 2, GapUM: 0.02, GapVM: 0.03, EndM: 0.04, Turns: []Turn{AsGiven}}
	for _, c := range []struct {
		name string
		long float64
		at   Rect // what stands
		more int
	}{
		{"long enough", 3.12, Rect{1.06, 0, 1, 2}, 2},
		{"too short", 3.12 - 1e-4, Rect{1.06, 0, 1, 2}, 1},
		{"moved to the left", 3.12, Rect{1.06 - 1e-4, 0, 1, 2}, 1},
		{"at an end", 3.12, Rect{0.04, 0, 1, 2}, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			strip := Region{Outer: Ring{{0, 0}, {c.long, 0}, {c.long, 2}, {0, 2}}}
			left, exact := Around(strip, s, []Rect{c.at})
			if !exact {
				t.Error("not exact")
			}
			p, err := Pack(t.Context(), left, s, Rows)
			if err != nil {
				t.Fatal(err)
			}
			if len(p.Modules) != c.more {
				t.Errorf("%d more, want %d", len(p.Modules), c.more)
			}
			if err := CheckPacking(strip, s, append(p.Modules, c.at)); err != nil {
				t.Error(err)
			}
		})
	}
	// The same up the slope.
	tower := Region{Outer: Ring{{0, 0}, {1.08, 0}, {1.08, 6.06}, {0, 6.06}}}
	left, _ := Around(tower, s, []Rect{{0.04, 2.03, 1, 2}})
	if p, err := Pack(t.Context(), left, s, Rows); err != nil || len(p.Modules) != 2 {
		t.Errorf("%d more, %v; want 2", len(p.Modules), err)
	}
}

// Whatever stands, what is filled in around it makes a valid layout with it, and
// no more than the bound says.
func TestAroundIsValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := floor()
		s := Spec{
			WidthM: 1, HeightM: 1.7,
			GapUM: rapid.SampledFrom([]float64{0, 0.02, 0.3}).Draw(t, "gap u"),
			GapVM: rapid.SampledFrom([]float64{0, 0.03}).Draw(t, "gap v"),
			EndM:  rapid.SampledFrom([]float64{0, 0.04, 0.7, 1}).Draw(t, "end"),
		}
		var standing []Rect
		for range rapid.IntRange(0, 6).Draw(t, "standing") {
			m := Rect{float64(rapid.IntRange(0, 900).Draw(t, "u")) / 100, float64(rapid.IntRange(30, 430).Draw(t, "v")) / 100, 1, 1.7}
			if rapid.Bool().Draw(t, "turned") {
				m.WM, m.HM = m.HM, m.WM
			}
			stands := u.Obstacle(m, s).Why == ""
			for _, o := range standing {
				stands = stands && !TooNear(m, o, s)
			}
			if stands {
				standing = append(standing, m)
			}
		}
		left, exact := Around(u.Region, s, standing)
		style := rapid.SampledFrom(Styles()).Draw(t, "style")
		p, err := Pack(context.Background(), left, s, style)
		if err != nil {
			t.Fatal(err)
		}
		if err := CheckPacking(u.Region, s, append(p.Modules, standing...)); err != nil {
			t.Fatal(err)
		}
		if narrow := s.WidthM+2*(s.GapUM-s.EndM) < heldApartM; exact == narrow && len(standing) > 0 && standing[0].WM == 1 {
			t.Fatalf("exact %v for an end allowance of %g and a gap of %g", exact, s.EndM, s.GapUM)
		}
		if bound, err := UpperBound(context.Background(), left, s); err != nil || len(p.Modules) > bound || style != Best && bound != p.Bound {
			t.Fatalf("%d modules, bound %d, %d in the packing, %v", len(p.Modules), bound, p.Bound, err)
		}
	})
}
