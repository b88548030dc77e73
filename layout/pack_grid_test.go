package layout

import (
	"math"
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

// Whatever lattice holds more than a given count at an offset of a part is found in
// the part as in the whole, and neither bound of the part is less.
func TestGridPartsKeepLattices(t *testing.T) {
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
		whole := &gridPart{hi: min(m.pitchV-1, g.highest-g.lowest)}
		at := func(p *gridPart, v float64, beyond int) lattice {
			best := lattice{n: beyond}
			g.try(p, v, &best)
			return best
		}
		beyond := at(whole, 0, 0).n - rapid.IntRange(0, 2).Draw(t, "fewer")
		for range 10 {
			p := whole
			for range rapid.IntRange(1, 12).Draw(t, "depth") {
				// A half, or less, and often without a vertex.
				mid := math.Floor((p.lo + p.hi) / 2)
				lo, hi := p.lo, mid
				if p.split > 0 {
					hi = p.split - 1
				}
				if rapid.Bool().Draw(t, "upper") {
					lo, hi = min(hi+1, p.hi), p.hi
				}
				part := g.part(p, lo, hi, beyond)
				for k := range 5 {
					v := lo + math.Floor((hi-lo)*float64(k)/4)
					want := at(whole, v, beyond)
					if want.n <= beyond {
						continue
					}
					if part == nil {
						t.Fatalf("%g to %g ruled out above %d: %+v", lo, hi, beyond, want)
					}
					if got := at(part, v, beyond); got.n != want.n || abs(got.u-want.u) > tieTicks {
						t.Fatalf("%g to %g: got %+v, want %+v", lo, hi, got, want)
					}
					if part.bound < want.n {
						t.Fatalf("%g to %g: bound %d, %+v", lo, hi, part.bound, want)
					}
					if part.smooth && part.listed && g.leaning(part) < want.n {
						t.Fatalf("%g to %g: leaning bound %d, %+v", lo, hi, g.leaning(part), want)
					}
				}
				if part == nil || lo == hi {
					break
				}
				p = part
			}
		}
	})
}
