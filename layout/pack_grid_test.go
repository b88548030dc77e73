package layout

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// A parallelogram whose rows all lack the same hair for one module more: every
// offset in v is as good as every other, so that no range is ruled out by its
// middle. The search must not go down to single ticks everywhere.
func TestGridSearchOnPlateaus(t *testing.T) {
	s := Spec{WidthM: 1.7, HeightM: 1.1, GapUM: 0.02, GapVM: 0.02}
	for _, slope := range []float64{0.3, 1} {
		for _, missM := range []float64{1e-2, 1e-4, 1e-5, 3e-6, 1e-6, 0} {
			for _, rows := range []float64{1, 8} {
				length, height := 10*1.72-0.02+1.1*slope-missM, rows*1.12+0.5
				r := Region{Outer: Ring{{0, 0}, {length, 0}, {length + height*slope, height}, {height * slope, height}}}
				f, err := newField(r)
				if err != nil {
					t.Fatal(err)
				}
				m := newModule(s, AsGiven)
				steps := 0
				var best lattice
				newGridSearch(f, &m).run(&best, func() bool { steps++; return steps > 100_000 })
				if steps > 2000 {
					t.Errorf("slope %g, %g m short, %g rows: %d steps", slope, missM, rows, steps)
				}
				if least := 9 * int(rows); best.n < least {
					t.Errorf("slope %g, %g m short, %g rows: %d modules", slope, missM, rows, best.n)
				}
			}
		}
	}
}

// What a row may hold at any offset of a range lies in the places that each of
// the two bounds allows, moved along with the lean for the second.
func TestGridBoundsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := smallRoof(t)
		f, err := newField(r)
		if err != nil {
			t.Fatal(err)
		}
		m := newModule(s, rapid.SampledFrom([]Turn{AsGiven, Turned}).Draw(t, "turn"))
		g := newGridSearch(f, &m)
		if g.highest < g.lowest {
			t.Skip("too small")
		}
		for range 20 {
			lo := float64(rapid.IntRange(0, int(m.pitchV)-1).Draw(t, "lo"))
			hi := lo + float64(rapid.IntRange(0, int(m.h/2)).Draw(t, "hi"))
			if i, _ := slices.BinarySearch(g.events, lo+1); i < len(g.events) {
				hi = min(hi, g.events[i]-1)
			}
			hi = max(lo, min(hi, m.pitchV-1))
			lean := g.commonLean(lo)
			for k := range 6 {
				at := lo + math.Floor((hi-lo)*float64(k)/5)
				for y := g.lowest; y+at <= g.highest; y += m.pitchV {
					free := g.shared(nil, y, at, at)
					if iv, ok := uncovered(free, g.shared(nil, y, lo, hi), 0); ok {
						t.Fatalf("%v at %g is not shared by %g to %g", iv, at, lo, hi)
					}
					if iv, ok := uncovered(free, g.leaning(lo, hi)(nil, y, lo, hi), lean*(at-lo)); ok {
						t.Fatalf("%v at %g is not in the leaning places of %g to %g", iv, at, lo, hi)
					}
				}
			}
		}
	})
}

// uncovered finds an interval that, moved back by shift, lies in none of the
// wider ones.
func uncovered(free, wider []interval, shift float64) (interval, bool) {
	for _, iv := range free {
		in := func(w interval) bool {
			return w.a <= iv.a-shift+4*tieTicks && w.b >= iv.b-shift-4*tieTicks
		}
		if !slices.ContainsFunc(wider, in) {
			return iv, true
		}
	}
	return interval{}, false
}
