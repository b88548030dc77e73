package layout

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestStripsReachKnownLayouts holds strips alone against the best layouts known
// of planes on which rows, columns and their windows are beaten. On ell-02,
// ell-03 and rect-06 only a wheel reaches them, on sky-03 only one with a middle.
func TestStripsReachKnownLayouts(t *testing.T) {
	want := map[string]bool{
		"roof-dormer-02": true, "roof-ell-02": true, "roof-ell-03": true, "roof-gable-05": true,
		"roof-gable-07": true, "roof-hip-03": true, "roof-rect-06": true, "roof-sky-02": true,
		"roof-sky-03": true,
	}
	for _, c := range corpus(t, "roofs") {
		if !want[c.ID] {
			continue
		}
		t.Run(c.ID, func(t *testing.T) {
			best := 0
			for _, o := range stripViews(Drag) {
				best = max(best, len(stripsOf(t, c.region(), c.spec(), o)))
			}
			if best < c.Truth.AnyLower {
				t.Errorf("%d modules, %d are known to fit", best, c.Truth.AnyLower)
			}
		})
	}
}

// TestStripsAreLayouts holds strips of every view against the checker.
func TestStripsAreLayouts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := smallRoof(t)
		o := rapid.IntRange(0, 7).Draw(t, "view")
		got := stripsOf(t, r, s, o)
		if err := CheckPacking(r, s, got); err != nil {
			t.Fatal(err)
		}
	})
}

// stripsOf is the layout that view o gives, however long it takes.
func stripsOf(t interface {
	Helper()
	Fatal(...any)
}, r Region, s Spec, o int) []Rect {
	t.Helper()
	j, err := newJob(context.Background(), r, s)
	if err != nil {
		t.Fatal(err)
	}
	if len(j.modules) == 0 || j.bound > stripMost {
		return nil
	}
	var strips stripSearch
	v := newView(j.f, j.s, j.modules, o&1 != 0, o&2 != 0, o&columnsView != 0)
	spots, _ := strips.pack(v, j.profilesOf(v.f, v.modules), 1<<40, 1<<40)
	return j.spotRects(spots)
}

func TestMaxBytes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var a, b, want uint64
		for i := range 8 {
			p, q := rapid.Uint64Range(0, 127).Draw(t, "a"), rapid.Uint64Range(0, 127).Draw(t, "b")
			a, b, want = a|p<<(8*i), b|q<<(8*i), want|max(p, q)<<(8*i)
		}
		if got := maxBytes(a, b); got != want {
			t.Fatalf("maxBytes(%016x, %016x) = %016x, want %016x", a, b, got, want)
		}
	})
}

// TestWheelSides weighs the sides of a wheel, and its middle, by trying every pair of levels.
func TestWheelSides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		levels := rapid.IntRange(0, 30).Draw(t, "levels")
		side := func(name string) (out sideBySide) {
			for i, words := range []*[]uint64{&out.low, &out.high} {
				*words = make([]uint64, (levels+8)/8)
				counts := rapid.SliceOfN(rapid.Uint8Range(0, 30), levels+1, levels+1).Draw(t, name+[]string{" low", " high"}[i])
				pack8(*words, slices.Concat(counts, make([]uint8, 8)))
			}
			return out
		}
		upper, lower := side("upper"), side("lower")
		var middle stripMiddle
		middle.n = rapid.Uint8Range(0, 3).Draw(t, "middle")
		middle.ends = make([]int16, int(middle.n)*(levels+1))
		for l := levels; l >= 0; l-- { // what fits from a level fits from a lower one
			for k := range middle.from(l) {
				least, most := l+1, levels+1
				if k > 0 {
					least = int(middle.from(l)[k-1])
				}
				if l < levels {
					most = int(middle.from(l + 1)[k])
				}
				middle.from(l)[k] = int16(rapid.IntRange(least, most).Draw(t, "end"))
			}
		}
		at := func(p sideBySide, level int) int { return int(byteOf(p.low, level) + byteOf(p.high, level)) }
		held := func(down, up int) int {
			n := at(lower, down) + at(upper, up)
			for _, end := range middle.from(down) {
				if int(end) <= up {
					n++
				}
			}
			return n
		}
		want, plain := 0, 0
		for up := range levels + 1 {
			for down := range up + 1 {
				want = max(want, held(down, up))
				plain = max(plain, at(lower, down)+at(upper, up))
			}
		}
		if got := upper.over(lower); int(got) != plain {
			t.Fatalf("without a middle %d, want %d", got, plain)
		}
		s := stripSearch{levels: make([]float64, levels)}
		least := rapid.IntRange(0, want+1).Draw(t, "least")
		n, up, down := s.around(upper, lower, middle, uint8(least))
		switch {
		case want <= least && int(n) != least:
			t.Fatalf("%d modules where there are no more than %d", n, least)
		case want > least && (int(n) != want || down > up || held(down, up) != want):
			t.Fatalf("%d modules at levels %d and %d, want %d", n, up, down, want)
		}
	})
}

// stripRoof is a small roof that strips are made for, seen from any side.
func stripRoof(t *rapid.T) (Region, Spec, *job, *view) {
	r, spec := smallRoof(t)
	o := rapid.IntRange(0, 7).Draw(t, "view")
	j, err := newJob(t.Context(), r, spec)
	if err != nil || len(j.modules) == 0 || j.bound > stripMost {
		t.Skip(err)
	}
	return r, spec, j, newView(j.f, j.s, j.modules, o&1 != 0, o&2 != 0, o&columnsView != 0)
}

// TestMiddleHoldsWhatRowsDo holds the middles of all strips against rows stacked between
// every two levels, and what is placed in them against the checker.
func TestMiddleHoldsWhatRowsDo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, spec, j, v := stripRoof(t)
		var s stripSearch
		s.pack(v, j.profilesOf(v.f, v.modules), 1<<40, 1<<40)
		if len(s.cuts) < 2 || len(s.rows) == 0 || len(s.levels) > 60 {
			t.Skip("no strips, or many levels")
		}
		for b := range s.cuts {
			for a := range b {
				s.unpack(a, b)
				held := slices.Clone(s.n)
				for from := range s.levels {
					most := stackedRows(&s, held, from)
					got := s.middle(a, b).from(from)
					for to := from; to <= len(s.levels); to++ {
						n := 0
						for n < len(got) && int(got[n]) <= to {
							n++
						}
						if n != most[to] {
							t.Fatalf("lines %d to %d, levels %d to %d: %d modules, want %d", a, b, from, to, n, most[to])
						}
					}
				}
				from := rapid.IntRange(0, len(s.levels)-1).Draw(t, "from")
				to := rapid.IntRange(from, len(s.levels)).Draw(t, "to")
				spots := s.placeMiddle(nil, a, b, from, to)
				if want := stackedRows(&s, held, from)[to]; len(spots) != want {
					t.Fatalf("lines %d to %d, levels %d to %d: %d modules placed, want %d", a, b, from, to, len(spots), want)
				}
				v.toRegion(spots)
				if err := CheckPacking(r, spec, j.spotRects(spots)); err != nil {
					t.Fatal(err)
				}
			}
		}
	})
}

// stackedRows is the most modules in rows that hold some number each, by kind, from one
// level up to each other.
func stackedRows(s *stripSearch, held []uint8, from int) []int {
	most := make([]int, len(s.levels)+1)
	for level := from; level <= len(s.levels); level++ {
		if level > from {
			most[level] = max(most[level], most[level-1])
		}
		for _, r := range s.rows {
			if int(r.level) == level {
				most[r.end] = max(most[r.end], most[level]+int(held[r.kind]))
			}
		}
	}
	return most
}
