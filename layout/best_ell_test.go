package layout

import (
	"context"
	"iter"
	"testing"
)

// L-shaped parts reach the optimum of every pallet (column optimum), in either
// direction, within the steps of the deep budget: also of the 13 that are beyond
// five blocks (Lins, Lins and Morabito 2003; Birgin, Lobato and Morabito 2010),
// and never more.
func TestEllsReachOptima(t *testing.T) {
	for _, c := range palletRows(t) {
		turned := Region{Outer: rectRing(0, 0, c.region.Outer[2].VM, c.region.Outer[2].UM)}
		for _, r := range []Region{c.region, turned} {
			j, err := newJob(context.Background(), r, c.spec)
			if err != nil {
				t.Fatal(err)
			}
			e := Deep.effort()
			got := j.spotRects(j.packBlocks(e.blocks, e.ells))
			if len(got) != c.optimum {
				t.Errorf("%v of %v: %d, optimum %d", r, c.spec, len(got), c.optimum)
			}
			if err := CheckPacking(r, c.spec, got); err != nil {
				t.Errorf("%v of %v: %v", r, c.spec, err)
			}
		}
	}
}

// The two parts of every cut of every part of 6 x 5 squares have all its squares,
// and each one once.
func TestEllSidesDivide(t *testing.T) {
	const width, height = 6, 5
	b, ok := newBlocker(width, height, [][2]float64{{1, 1}}, 0)
	if !ok {
		t.Fatal("no blocks")
	}
	e := newEller(b, 0, nil)
	tried := map[ellKind]int{}
	for p := range ellsWithin(width, height) {
		for kind := cutColumnLeft; kind <= cutStairsAcross; kind++ {
			x, y := kind.spans(p)
			for i := x.from; i <= x.to; i++ {
				for k := y.from; k <= y.to; k++ {
					z := ellCut{kind: kind, x: i, y: k}.thirds(p)
					for m := z.from; m <= z.to; m++ {
						tried[kind]++
						c := ellCut{kind, i, k, m}
						if sides := e.sides(p, c); !p.dividedBy(sides) {
							t.Fatalf("%+v cut by %+v in %+v", p, c, sides)
						}
					}
				}
			}
		}
	}
	for kind := cutColumnLeft; kind <= cutStairsAcross; kind++ {
		if tried[kind] == 0 {
			t.Errorf("no cut of kind %d", kind)
		}
	}
}

// ellsWithin is every part in w x h squares.
func ellsWithin(w, h int16) iter.Seq[ell] {
	return func(yield func(ell) bool) {
		for n := range w * h * w * h {
			p := ell{1 + n%w, 1 + n/w%h, 1 + n/w/h%w, 1 + n/w/h/w}
			if p.s <= p.w && p.t <= p.h && p == p.normal() && !yield(p) {
				return
			}
		}
	}
}

// dividedBy reports whether every square of a part, and no other, is in exactly
// one side.
func (p ell) dividedBy(sides [2]ellSide) bool {
	for i := range p.w {
		for k := range p.h {
			n := 0
			for _, s := range sides {
				u, v := i-s.x, k-s.y
				if s.flipX {
					u = s.x - 1 - i
				}
				if s.flipY {
					v = s.y - 1 - k
				}
				if s.part.has(u, v) {
					n++
				}
			}
			if n > 1 || p.has(i, k) != (n == 1) {
				return false
			}
		}
	}
	return true
}

// has reports whether a part has the square at (i, k), in units.
func (p ell) has(i, k int16) bool {
	return i >= 0 && k >= 0 && (i < p.w && k < p.t || i < p.s && k < p.h)
}

// The waste of bars of 1 x n in a rectangle is Barnes's min(r s, (n-r)(n-s))
// (Discrete Mathematics 26 (1979) 93-100), and in an L never more than what the
// best layout of them leaves, found by trying all.
func TestEllWaste(t *testing.T) {
	const size = 5
	for n := 3; n <= 4; n++ {
		steps := []float64{0, 1, 2, 3, 4, 5}
		e := &eller{b: &blocker{xs: steps, ys: steps, unit: 1}, bars: []ellBars{newEllBars(n)}}
		for p := range ellsWithin(size, size) {
			got := int(e.waste(p))
			r, s := int(p.w)%n, int(p.h)%n
			if want := min(r*s, (n-r)*(n-s)); p.s == p.w && got != want {
				t.Errorf("bars of %d in %+v: waste %d, want %d", n, p, got, want)
			}
			if left := int(e.area(p)) - n*bestBars(p, n, 0, map[int16]bool{}); got > left {
				t.Errorf("bars of %d in %+v: waste %d, a layout leaves %d", n, p, got, left)
			}
		}
	}
}

// bestBars is the most bars of 1 x n on the squares of p from the one numbered
// at on, less the used ones.
func bestBars(p ell, n int, at int16, used map[int16]bool) int {
	if at == p.w*p.h {
		return 0
	}
	most := bestBars(p, n, at+1, used)
	for _, step := range [2][2]int16{{1, 0}, {0, 1}} {
		var bar []int16
		for i, k := at%p.w, at/p.w; len(bar) < n && p.has(i, k) && !used[k*p.w+i]; i, k = i+step[0], k+step[1] {
			bar = append(bar, k*p.w+i)
		}
		if len(bar) < n {
			continue
		}
		for _, b := range bar {
			used[b] = true
		}
		most = max(most, 1+bestBars(p, n, at+1, used))
		for _, b := range bar {
			used[b] = false
		}
	}
	return most
}

// Without steps, or when stopped, L-shaped parts hold what blocks hold.
func TestEllsStop(t *testing.T) {
	r, s := Region{Outer: rectRing(0, 0, 43, 26)}, Spec{WidthM: 7, HeightM: 3}
	ctx, cancel := context.WithCancel(context.Background())
	j, err := newJob(ctx, r, s)
	if err != nil {
		t.Fatal(err)
	}
	if got := len(j.packBlocks(100_000, 100)); got != 52 {
		t.Errorf("with 100 steps: %d, want 52", got)
	}
	cancel()
	if got := len(j.packBlocks(100_000, 10_000_000)); got != 52 {
		t.Errorf("stopped: %d, want 52", got)
	}
}

// L-shaped parts keep gaps and end allowances: 43 x 26 units of which a module
// with its gap has 7 x 3, as in the pallet, hold 53.
func TestEllsKeepGapsAndEnds(t *testing.T) {
	s := Spec{WidthM: 1.38, HeightM: 0.58, GapUM: 0.02, GapVM: 0.02, EndM: 0.1}
	r := Region{Outer: rectRing(3, 4, 3+8.6-0.02+0.2, 4+5.2-0.02)}
	j, err := newJob(context.Background(), r, s)
	if err != nil {
		t.Fatal(err)
	}
	got := j.spotRects(j.packBlocks(100_000, 10_000_000))
	if len(got) != 53 {
		t.Errorf("%d modules, want 53", len(got))
	}
	if err := CheckPacking(r, s, got); err != nil {
		t.Error(err)
	}
}
