package layout

import (
	"cmp"
	"slices"
)

// Budget is how much work [PackWithin] may spend on what is not exact. Work is
// counted in steps, not by the clock, so that results are the same everywhere.
type Budget int

// Drag is for following a finger: about a millisecond for a plane of a house.
// Deep is for standing still: seconds.
const (
	Drag Budget = iota
	Deep
)

// Steps of a budget. A step is a few nanoseconds to some tens: one edge looked at
// by a row's sweep, or one cut of a rectangle in five or of an L in two.
const (
	dragSteps, deepSteps           = 5_000, 150_000_000
	dragBlockSteps, deepBlockSteps = 30_000, 20_000_000
	dragEllSteps, deepEllSteps     = 0, 30_000_000
	dragStripSteps, deepStripSteps = 1_500_000, 40_000_000
	dragWheelSteps, deepWheelSteps = 60_000, 10_000_000 // in each view
	dragTidySteps, deepTidySteps   = 3_000, 5_000_000
)

// Steps of [closerBound] within Deep, three to five nanoseconds each: a first try
// before the long search, which ends when the count meets the bound, and a
// second after it.
const firstBoundSteps, lastBoundSteps = 150_000_000, 2_200_000_000

// fullModules is the number of modules from which on a plane gets all steps of
// the long search and the second bound.
const fullModules = 15

// firstLookSteps is a short search of Deep, before it looks for a bound.
const firstLookSteps = 14_000

// effort is the steps that each method may take.
type effort struct{ search, blocks, ells, strips, wheels, tidy int }

func (b Budget) effort() effort {
	if b == Deep {
		return effort{deepSteps, deepBlockSteps, deepEllSteps, deepStripSteps, deepWheelSteps, deepTidySteps}
	}
	return effort{dragSteps, dragBlockSteps, dragEllSteps, dragStripSteps, dragWheelSteps, dragTidySteps}
}

// packBest is the layout with the most modules that any method finds, the
// tidiest of these, in the order of the methods when they are equal: grid,
// rows, columns, blocks with L-shaped parts, strips, and the search that starts
// from the best of them.
func (j *job) packBest(b Budget) []Rect {
	e := b.effort()
	best := j.rects(j.packRows())
	take := func(r []Rect) {
		if len(r) > len(best) || len(r) == len(best) && TidinessOf(r, j.s).TidierThan(TidinessOf(best, j.s)) {
			best = r
		}
	}
	if len(j.modules) == 0 || j.stopped() {
		return best
	}
	rows := len(best)
	s := newSearcher(j)
	take(j.spotRects(s.whole(columnsView)))
	if len(best) < j.bound {
		take(j.spotRects(j.packBlocks(e.blocks, e.ells)))
	}
	strips := stripPool.Get().(*stripSearch)
	for _, o := range stripViews(b) {
		if len(best) < j.bound && j.bound <= stripMost {
			spots, steps := strips.pack(s.window(o).v, s.profiles(o), e.strips, e.wheels)
			e.strips -= steps
			take(j.spotRects(spots))
		}
	}
	stripPool.Put(strips)
	// A grid is a stack of rows: it can be tidier, and holds no more.
	if rows > 0 && rows == len(best) {
		if grid := j.rects(j.packGrid(rows)); len(grid) == rows && !TidinessOf(best, j.s).TidierThan(TidinessOf(grid, j.s)) {
			best = grid
		}
	}
	if b == Deep && len(best) == 0 {
		j.tighten(0, firstBoundSteps)
	}
	if !j.searchable() || len(best) == 0 {
		return best
	}
	look := func(search, tidy int) {
		if len(best) >= j.bound {
			return
		}
		if more := s.run(j.spotsOf(best), j.bound, s.work+search); len(more) > len(best) {
			best = j.spotRects(s.tidy(slices.Clone(more), tidy))
		}
	}
	if b != Deep {
		look(e.search, e.tidy)
		return best
	}
	look(firstLookSteps, e.tidy)
	j.tighten(len(best), firstBoundSteps)
	look(sized(e.search, len(best)), e.tidy)
	j.tighten(len(best), sized(lastBoundSteps, len(best)))
	return best
}

// sized is the share of steps for a plane of so many modules: a small one, of
// which a house has many, is settled with fewer or not at all.
func sized(steps, modules int) int { return steps / fullModules * min(modules, fullModules) }

// tighten looks for a closer bound than the one at hand, for a count that was
// reached.
func (j *job) tighten(count, steps int) {
	turns := make([]Turn, len(j.modules))
	for i, m := range j.modules {
		turns[i] = m.turn
	}
	j.bound = closerBound(j.ctx, j.f, j.s, turns, count, j.bound, steps)
}

// searchable reports whether a placed module can stand in the way of a row as a
// rectangle: its end allowance must leave some of it.
func (j *job) searchable() bool {
	least := 2 * (toTicks(j.s.EndM) - toTicks(j.s.GapUM))
	for _, m := range j.modules {
		if m.pitchU-toTicks(j.s.GapUM) <= least {
			return false
		}
	}
	return true
}

// spotRects moves spots to metres, row by row. A tick more brings a module that
// is flush with an eave or a wall back to it.
func (j *job) spotRects(spots []spot) []Rect {
	out := make([]Rect, 0, len(spots))
	for _, b := range spots {
		r := j.s.placed(j.modules[b.turn].turn)
		r.UM, r.VM = (j.f.originU+b.x+1)/ticksPerM, (j.f.originV+b.y+1)/ticksPerM
		out = append(out, r)
	}
	slices.SortFunc(out, func(a, b Rect) int {
		if a.VM != b.VM {
			return order(a.VM < b.VM)
		}
		return cmp.Compare(a.UM, b.UM)
	})
	return out
}

// spotsOf is the inverse of spotRects.
func (j *job) spotsOf(rects []Rect) []spot {
	out := make([]spot, 0, len(rects))
	for _, r := range rects {
		b := spot{x: toTicks(r.UM) - j.f.originU - 1, y: toTicks(r.VM) - j.f.originV - 1}
		for i, m := range j.modules {
			if j.s.placed(m.turn).WM == r.WM {
				b.turn = int8(i)
				break
			}
		}
		out = append(out, b)
	}
	return out
}
