package layout

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func never() bool { return false }

// A rectangle 3 modules wide with a triangular roof on top, drawn:
//
//	  /\
//	 /  \
//	|    |
//	|____|
//
// In the roof the room shrinks by 2 m per metre: the third module is lost at
// once, the second when 4 - 2d < 2, the last when 4 - 2d < 1.
func TestProfileOfAGable(t *testing.T) {
	r := Region{Outer: Ring{{0, 0}, {4, 0}, {4, 3}, {2, 5}, {0, 3}}}
	s := Spec{WidthM: 1, HeightM: 1}
	f, err := newField(r)
	if err != nil {
		t.Fatal(err)
	}
	p := newProfile(f, newModule(s, AsGiven), never)
	want := []struct {
		n   int
		upM float64 // up to which position, lower edge of the row
	}{{4, 2}, {3, 2.5}, {2, 3}, {1, 3.5}, {0, 4}}
	if len(p) != len(want) {
		t.Fatalf("%v", p)
	}
	for i, w := range want {
		if p[i].n != w.n {
			t.Errorf("step %d holds %d, want %d", i, p[i].n, w.n)
		}
		// The slack lets a row stay up to 4 ticks longer on a slant of 1.
		if i+1 < len(p) {
			if late := p[i+1].y - w.upM*ticksPerM; late < 1 || late > 4 {
				t.Errorf("step %d ends %g ticks late", i, late)
			}
		}
	}
}

// A slanted keep-out thinner than the gap between modules. Module 1 x 1, pitch
// 1.5 along u: the second module starts at 1.5 or at the keep-out's right side,
// whichever is further right.
func TestProfileAcrossAThinKeepOut(t *testing.T) {
	s := Spec{WidthM: 1, HeightM: 1, GapUM: 0.5}
	for _, c := range []struct {
		name         string
		foot         float64 // the keep-out leans from here to 3 - foot over 9 m
		widthM, topM float64 // of the plane
		want         []int
		changeM      float64
	}{
		// Its right side is at 1.15 + v/10: past 1.5 at 3.5. Three modules need
		// a start by 4.2 - 1 - 1.5 = 1.7, which it passes at 5.5.
		{"leaning right, overtakes the gap", 1.05, 4.2, 4.2, []int{3, 2, 0}, 5.5},
		// Its right side is at 1.95 - v/10, before 1.5 from 4.5 on. The last
		// start that the wall leaves is 3.2 - 1 - (v + 1)/10, before 1.5 from 6 on.
		{"leaning left with the wall, the gap decides", 1.95, 3.2, 2.3, []int{2, 1, 0}, 6},
		{"leaning left, room at last", 1.95, 2.7, 2.7, []int{1, 2, 0}, 2.5},
	} {
		const thin = 0.0001
		hole := Ring{{c.foot - thin, 0}, {c.foot, 0}, {3 - c.foot, 9}, {3 - c.foot - thin, 9}}
		plane := Ring{{0, 0}, {c.widthM, 0}, {c.topM, 9}, {0, 9}}
		f, err := newField(Region{Outer: plane, Holes: []Ring{hole}})
		if err != nil {
			t.Fatal(err)
		}
		p := newProfile(f, newModule(s, AsGiven), never)
		got := make([]int, len(p))
		for i := range p {
			got[i] = p[i].n
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		} else if at := p[1].y / ticksPerM; math.Abs(at-c.changeM) > 1e-4 {
			t.Errorf("%s: changes at %g, want %g", c.name, at, c.changeM)
		}
	}
}

// At any position the profile holds what a slab computed on its own holds.
func TestProfileAgreesWithSlab(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := smallRoof(t)
		f, err := newField(r)
		if err != nil {
			t.Fatal(err)
		}
		m := newModule(s, rapid.SampledFrom([]Turn{AsGiven, Turned}).Draw(t, "turn"))
		p := newProfile(f, m, never)
		sl := newSlab(f, m.h)
		lowest, highest := rowRange(f, m)
		var ys []float64
		for _, st := range p {
			ys = append(ys, st.y-1, st.y, st.y+1)
		}
		for range 20 {
			ys = append(ys, float64(rapid.IntRange(int(lowest), int(max(lowest, highest))).Draw(t, "y")))
		}
		for _, y := range ys {
			if y < lowest || y > highest {
				continue
			}
			bot, top := m.slabAt(y)
			least := placesIn(sl.free(nil, bot, top, m.w), m.pitchU, -4*tieTicks)
			most := placesIn(sl.free(nil, bot, top, m.w), m.pitchU, 4*tieTicks)
			if n := p[p.at(y)].n; n < least || n > most {
				t.Fatalf("at %g the profile holds %d, the slab %d to %d", y, n, least, most)
			}
		}
	})
}

// placesIn counts modules from the left, each interval longer by tol.
func placesIn(free []interval, pitch, tol float64) int {
	n, at := 0, math.Inf(-1)
	for _, iv := range free {
		for x := max(iv.a, at); x <= iv.b+tol; x += pitch {
			n++
			at = x + pitch
		}
	}
	return n
}

func TestProfileAbove(t *testing.T) {
	p := profile{{n: 2}, {n: 1}, {n: 2}, {n: 5}, {n: 0}, {n: 3}, {n: 0}}
	p.link()
	for i, want := range []int{3, 2, 3, -1, 5, -1, -1} {
		if p[i].above != want {
			t.Errorf("above step %d: %d, want %d", i, p[i].above, want)
		}
	}
}
