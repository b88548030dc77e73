package layout

import (
	"cmp"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// plainStrips is what a [stripSearch] does without leaving anything out: all rows
// that lie on a base or on another row, between all lines, and all sums of strips.
type plainStrips struct {
	v         *view
	cuts      []float64
	corner    []bool
	levels    []float64
	rows      []plainRow
	low, high map[[2]int][]int // by strip and level
	hollow    bool             // nothing stands in the middle of wheels
}

type plainRow struct {
	level, end, turn int
	places           []interval
}

// newPlainStrips finds the rows above bases.
func newPlainStrips(s *stripSearch, bases []float64) *plainStrips {
	p := &plainStrips{v: s.v, cuts: slices.Clone(s.cuts), corner: slices.Clone(s.corner)}
	sl := newSlab(s.v.f, s.v.modules[0].h)
	at := map[float64]bool{}
	todo := slices.Clone(bases)
	for len(todo) > 0 {
		y := todo[0]
		todo = todo[1:]
		if at[y] {
			continue
		}
		at[y] = true
		p.levels = append(p.levels, y)
		for turn, m := range s.v.modules {
			lowest, highest := rowRange(s.v.f, m)
			if y < lowest || y > highest {
				continue
			}
			var places []interval
			bot, top := m.slabAt(y)
			for _, g := range sl.free(nil, bot, top, m.w) {
				if from, to := m.roundedLeft(g.a), m.latest(g.b); from <= to {
					places = append(places, interval{from, to})
				}
			}
			if len(places) > 0 {
				p.rows = append(p.rows, plainRow{int(y), int(y + m.pitchV), turn, places})
				todo = append(todo, y+m.pitchV)
			}
		}
	}
	slices.Sort(p.levels)
	for i := range p.rows {
		r := &p.rows[i]
		r.level, _ = slices.BinarySearch(p.levels, float64(r.level))
		r.end, _ = slices.BinarySearch(p.levels, float64(r.end))
	}
	slices.SortFunc(p.rows, func(a, b plainRow) int { return cmp.Compare(a.level, b.level) })
	return p
}

// count is a row's modules between two lines.
func (p *plainStrips) count(r plainRow, a, b int) int {
	n, next, pitch := 0, p.cuts[a], p.v.modules[r.turn].pitchU
	for _, g := range r.places {
		for x := max(g.a, next); x <= g.b && x+pitch <= p.cuts[b]; x += pitch {
			n++
			next = x + pitch
		}
	}
	return n
}

// most is the most modules of all layouts.
func (p *plainStrips) most() int {
	p.low, p.high = map[[2]int][]int{}, map[[2]int][]int{}
	whole := map[[2]int]int{}
	levels := len(p.levels)
	for b := range p.cuts {
		for a := b - 1; a >= 0; a-- {
			low, high := make([]int, levels+1), make([]int, levels+1)
			from := 0
			for _, r := range p.rows {
				for ; from < r.level; from++ {
					low[from+1] = max(low[from+1], low[from])
				}
				low[r.end] = max(low[r.end], low[r.level]+p.count(r, a, b))
			}
			for ; from < levels; from++ {
				low[from+1] = max(low[from+1], low[from])
			}
			at := len(p.rows) - 1
			for l := levels - 1; l >= 0; l-- {
				high[l] = high[l+1]
				for ; at >= 0 && p.rows[at].level == l; at-- {
					high[l] = max(high[l], high[p.rows[at].end]+p.count(p.rows[at], a, b))
				}
			}
			best := 0
			for c := a + 1; c < b; c++ {
				best = max(best, whole[[2]int{a, c}]+whole[[2]int{c, b}])
				for l := range low {
					low[l] = max(low[l], p.low[[2]int{a, c}][l]+p.low[[2]int{c, b}][l])
					high[l] = max(high[l], p.high[[2]int{a, c}][l]+p.high[[2]int{c, b}][l])
				}
			}
			for l := range low {
				best = max(best, low[l]+high[l])
			}
			p.low[[2]int{a, b}], p.high[[2]int{a, b}] = low, high
			if p.corner[a] && p.corner[b] {
				best = max(best, p.wheels(a, b))
			}
			whole[[2]int{a, b}] = best
		}
	}
	return whole[[2]int{0, len(p.cuts) - 1}]
}

// wheels is the most modules of a wheel between two lines.
func (p *plainStrips) wheels(a, b int) int {
	best := 0
	for x := a + 1; x < b; x++ {
		for y := a + 1; y < b; y++ {
			if x == y {
				continue
			}
			left, right := make([]int, len(p.levels)+1), make([]int, len(p.levels)+1)
			for l := range left {
				left[l] = p.low[[2]int{a, x}][l] + p.high[[2]int{a, y}][l]
				right[l] = p.low[[2]int{x, b}][l] + p.high[[2]int{y, b}][l]
			}
			upper, lower := left, right // cut no higher than the other one
			if x > y {
				upper, lower = right, left
			}
			for down := range lower {
				middle := p.rowsFrom(down, min(x, y), max(x, y))
				if p.hollow {
					clear(middle)
				}
				for up := down; up < len(upper); up++ {
					best = max(best, lower[down]+middle[up]+upper[up])
				}
			}
		}
	}
	return best
}

// rowsFrom is the most modules in rows between two lines from a level up to each other.
func (p *plainStrips) rowsFrom(level, a, b int) []int {
	most := make([]int, len(p.levels)+1)
	for _, r := range p.rows {
		if r.level < level {
			continue
		}
		for ; level < r.level; level++ {
			most[level+1] = max(most[level+1], most[level])
		}
		most[r.end] = max(most[r.end], most[level]+p.count(r, a, b))
	}
	for ; level < len(p.levels); level++ {
		most[level+1] = max(most[level+1], most[level])
	}
	return most
}

// TestStripsLeaveNothingOut holds a search for strips against the one that tries
// everything.
func TestStripsLeaveNothingOut(t *testing.T) {
	more := 0
	rapid.Check(t, func(t *rapid.T) {
		_, _, j, v := stripRoof(t)
		s := stripSearch{v: v}
		profiles := j.profilesOf(s.v.f, s.v.modules)
		s.findCuts()
		plain := newPlainStrips(&s, s.bases(profiles))
		if len(plain.cuts) > 24 || len(plain.levels) > 60 {
			t.Skip("too many lines")
		}
		want := plain.most()
		got, _ := s.pack(s.v, profiles, 1<<40, 1<<40)
		if len(got) < want {
			t.Fatalf("%d modules, want %d or more", len(got), want)
		}
		if len(got) > want {
			more++
		}
	})
	t.Log(more, "with more")
}

// TestWheelsHaveMiddles holds the search against the one that tries everything on roofs,
// found by trial, on which that loses a module when nothing stands in the middle of wheels.
func TestWheelsHaveMiddles(t *testing.T) {
	for _, c := range []struct {
		widthM, heightM float64
		hole            Ring
		spec            Spec
		view            int
	}{
		{4.5, 6.5, rectRing(2.9, 1.7, 3.6, 2.5), Spec{WidthM: 1.7, HeightM: 1.1}, 0},
		{5.1, 7, rectRing(2.4, 2, 2.7, 2.7), Spec{WidthM: 1.5, HeightM: 0.9}, 0},
		{6.2, 4.4, rectRing(1.6, 0.8, 2.2, 1.4), Spec{WidthM: 1.6, HeightM: 1.1}, columnsView},
		{6.7, 5.2, rectRing(2.8, 1.8, 3.2, 2.1), Spec{WidthM: 1.8, HeightM: 1.1}, columnsView},
	} {
		r := Region{Outer: rectRing(0, 0, c.widthM, c.heightM), Holes: []Ring{c.hole}}
		j, err := newJob(t.Context(), r, c.spec)
		if err != nil {
			t.Fatal(err)
		}
		s := stripSearch{v: newView(j.f, j.s, j.modules, false, false, c.view == columnsView)}
		profiles := j.profilesOf(s.v.f, s.v.modules)
		s.findCuts()
		plain := newPlainStrips(&s, s.bases(profiles))
		want := plain.most()
		plain.hollow = true
		without := plain.most()
		got, _ := s.pack(s.v, profiles, 1<<40, 1<<40)
		if len(got) != want || without >= want {
			t.Errorf("%v: %d modules, want %d, %d without middles", c, len(got), want, without)
		}
		if err := CheckPacking(r, c.spec, j.spotRects(got)); err != nil {
			t.Error(err)
		}
	}
}
