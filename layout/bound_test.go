package layout

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A plane filled exactly is proved; a plane a little larger still is.
func TestBoundOfFullPlanes(t *testing.T) {
	for _, c := range []struct {
		name       string
		s          Spec
		nu, nv     float64
		spareM     float64
		wantProved bool
	}{
		{"without gaps", Spec{WidthM: 1.7, HeightM: 1.1}, 7, 5, 0, true},
		{"with gaps", Spec{WidthM: 1.7, HeightM: 1.1, GapUM: 0.02, GapVM: 0.02}, 7, 5, 0, true},
		{"with a little room", Spec{WidthM: 1.7, HeightM: 1.1, GapUM: 0.02, GapVM: 0.02}, 7, 5, 0.02, true},
		{"with unequal gaps, one turn", Spec{WidthM: 1.7, HeightM: 1.1, GapUM: 0.01, GapVM: 0.3, Turns: []Turn{AsGiven}}, 7, 5, 0, true},
		{"a row could almost be added", Spec{WidthM: 1.7, HeightM: 1.1, Turns: []Turn{AsGiven}}, 7, 5, 1, false},
	} {
		w := c.nu*(c.s.WidthM+c.s.GapUM) - c.s.GapUM + c.spareM
		h := c.nv*(c.s.HeightM+c.s.GapVM) - c.s.GapVM + c.spareM
		p := mustPack(t, Region{Outer: rectRing(0, 0, w, h)}, c.s, Best)
		if len(p.Modules) != int(c.nu*c.nv) || p.Proved != c.wantProved {
			t.Errorf("%s: %d modules, bound %d", c.name, len(p.Modules), p.Bound)
		}
	}
}

// area / ((w+g)(h+g)) is no bound: 2 modules of 1 x 1 with a gap of 1 fit on
// 3 x 1, and 3 / (2 x 2) is less than one.
func TestBoundCountsGapsBeyondTheEdge(t *testing.T) {
	p := mustPack(t, Region{Outer: rectRing(0, 0, 3, 1)}, Spec{WidthM: 1, HeightM: 1, GapUM: 1, GapVM: 1}, Rows)
	if len(p.Modules) != 2 || p.Bound != 2 {
		t.Errorf("%d modules, bound %d, want 2", len(p.Modules), p.Bound)
	}
}

// The tip of a triangle and a strip narrower than a module do not count.
func TestBoundIgnoresWhatNoModuleReaches(t *testing.T) {
	s := Spec{WidthM: 2, HeightM: 1}
	strip := Region{Outer: rectRing(0, 0, 0.9, 100)}
	if p := mustPack(t, strip, s, Rows); p.Bound != 0 || !p.Proved {
		t.Errorf("strip: bound %d", p.Bound)
	}
	// 4 x 4 / 2 = 8 m2, less a tip 1 wide and 1 high: 7.5 m2.
	triangle := Region{Outer: Ring{{0, 0}, {4, 0}, {2, 4}}}
	if p := mustPack(t, triangle, s, Rows); p.Bound != 3 {
		t.Errorf("triangle: bound %d, want 3", p.Bound)
	}
}

// The grown area of the bound's proof: boundary terms against a sampled
// Minkowski sum of region and box. Samples that lie in the sum are a subset of
// it, so that their area, but for the sampling error, must not be larger.
func TestBoundGrownArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, _ := smallRoof(t)
		f, err := newField(r)
		if err != nil {
			t.Fatal(err)
		}
		m, err := f.measure(0)
		if err != nil {
			t.Fatal(err)
		}
		growU, growV := 0.15, 0.25
		const tick = 1 / ticksPerM
		grown := m.area*tick*tick + m.alongU*tick*growV + m.alongV*tick*growU + 2*m.pieces*growU*growV
		low, high, _ := checkPoints(r)
		const n = 40
		du, dv := (high.UM-low.UM+2*growU)/n, (high.VM-low.VM+2*growV)/n
		hits, inside := 0, 0
		for i := range n * n {
			u, v := low.UM-growU+(float64(i%n)+0.5)*du, low.VM-growV+(float64(i/n)+0.5)*dv
			if oracleInside(r, u, v) {
				inside++
			}
			for k := range 25 {
				if oracleInside(r, u+growU*float64(k%5-2)/2, v+growV*float64(k/5-2)/2) {
					hits++
					break
				}
			}
		}
		// Half a sample along the boundary.
		noise := (m.alongU*dv + m.alongV*du) * tick
		if sampled := float64(hits) * du * dv; sampled > grown+noise {
			t.Fatalf("sampled %g m2, the bound's area is %g", sampled, grown)
		}
		if sampled, area := float64(inside)*du*dv, m.area*tick*tick; math.Abs(sampled-area) > noise+0.05 {
			t.Fatalf("sampled area %g m2, measured %g", sampled, area)
		}
	})
}
