package layout

import (
	"context"
	"math/bits"
	"slices"
)

// rowSolver finds the best choices in one cluster, row by row. A choice takes a
// mask of each row. The blocks that it opens in a row are those runs of the mask
// that stand on no equal run, and its blocks are the sum of what its rows open: no
// more of what lies below is to be known than the last mask. So the best cells
// for each mask of a row follow from those of the row below. That is exact when
// all masks are looked at; otherwise it is the best with so many runs a row.
type rowSolver struct {
	rows  []clusterRow
	sets  []*maskSet
	n, k  int // most positions; most blocks, 0 for no limit
	aim   aim
	cells int // of a mask: one for each n and k
	// layers are kept for tracing: after each row, the cells of each mask.
	layers []maskLayer
	memory *[2]maskLayer // lent for layers that are not kept
}

// maskLayer holds the cells of each mask of a row, and the numbers of positions
// between which they mean something: all others are none. hi is below lo where
// none mean anything.
type maskLayer struct {
	cells  []cell
	lo, hi []int
}

// layer makes a layer without cells for some masks in the memory of another.
func (s *rowSolver) layer(masks int, memory maskLayer) maskLayer {
	l := maskLayer{
		slices.Grow(memory.cells[:0], masks*s.cells)[:masks*s.cells],
		slices.Grow(memory.lo[:0], masks)[:masks],
		slices.Grow(memory.hi[:0], masks)[:masks],
	}
	for i := range l.hi {
		l.lo[i], l.hi[i] = 0, -1
	}
	return l
}

// of is the cells of mask i with k blocks.
func (s *rowSolver) of(l maskLayer, i, k int) []cell {
	from := i*s.cells + k*(s.n+1)
	return l.cells[from : from+s.n+1]
}

// newRowSolver prepares the search of a part.
func (c *chooser) newRowSolver(p *part, a aim) *rowSolver {
	s := &rowSolver{rows: p.cluster.rows, n: p.n, k: a.blocks, aim: a, cells: (p.n + 1) * (a.blocks + 1), memory: &c.memory}
	if s.sets = p.sets; s.sets == nil {
		s.sets = c.maskSets(s.rows, p.runs)
	}
	return s
}

// solve runs through the rows and returns the best for each n and k; when ctx
// ends, a table that means nothing. keep holds on to what [rowSolver.trace]
// needs.
func (s *rowSolver) solve(ctx context.Context, keep bool) table {
	last, next := s.layer(1, s.memory[0]), s.memory[1]
	last.lo[0], last.hi[0] = 0, 0
	for k := range s.k + 1 {
		s.of(last, 0, k)[0] = none()
	}
	last.cells[0] = cell{}
	for r := range s.rows {
		if ctx.Err() != nil {
			return newTable(s.n, s.k)
		}
		next = s.layer(len(s.sets[r].masks), next)
		s.lift(last, next, r)
		s.close(next, r)
		s.open(next, r)
		s.take(next, r)
		if last, next = next, last; keep {
			s.layers = append(s.layers, last)
			next = maskLayer{}
		}
	}
	if !keep {
		s.memory[0], s.memory[1] = last, next
	}
	out := newTable(s.n, s.k)
	sum := maskLayer{out.cells, []int{0}, []int{s.n}}
	for i := range last.lo {
		s.merge(last, i, sum, 0, 0, cell{}, 0)
	}
	out.thin(s.aim.fewest)
	return out
}

// lifted is the mask of a row that continues all blocks of a mask of the row
// below that can go on.
func lifted(row clusterRow, below, set *maskSet, mask uint64) uint64 {
	up, runs := uint64(0), 0
	for rest := below.starts(mask); rest != 0; rest &= rest - 1 {
		start := bits.TrailingZeros64(rest)
		to := row.above[start]
		size := bits.OnesCount64(below.run(mask, start))
		if to < 0 || to+size > set.width {
			continue
		}
		run := runFrom(to, size)
		if set.starts(run) == 1<<to {
			up |= run
			runs++
		}
	}
	// By tolerances alone, runs apart below could seem to touch here.
	if set.runsOf(up) != runs {
		return 0
	}
	return up
}

// lift carries the cells of the row below to what goes on of its blocks.
func (s *rowSolver) lift(last, next maskLayer, r int) {
	for i := range last.lo {
		if last.hi[i] < last.lo[i] {
			continue
		}
		if r == 0 {
			s.merge(last, i, next, 0, 0, cell{}, 0) // the empty mask
			continue
		}
		below := s.sets[r-1]
		s.sets[r].known(lifted(s.rows[r-1], below, s.sets[r], below.masks[i]), func(to int32) {
			s.merge(last, i, next, int(to), 0, cell{}, len(below.without(i)))
		})
	}
}

// close ends blocks: each mask may give up any of its runs.
func (s *rowSolver) close(l maskLayer, r int) {
	set := s.sets[r]
	for i := len(set.masks) - 1; i > 0; i-- {
		for _, less := range set.without(i) {
			s.merge(l, i, l, int(less), 0, cell{}, len(set.without(i)))
		}
	}
}

// open starts blocks: each mask may gain any run.
func (s *rowSolver) open(l maskLayer, r int) {
	set := s.sets[r]
	for i := range set.masks {
		for _, less := range set.without(i) {
			s.merge(l, int(less), l, i, min(s.k, 1), s.aim.blockCell(), len(set.without(i))-1)
		}
	}
}

// merge offers the cells of mask from to mask to, with up more blocks and more
// added. Mask from has some runs, so that it takes as many blocks at least.
func (s *rowSolver) merge(src maskLayer, from int, dst maskLayer, to, up int, more cell, runs int) {
	lo, hi := src.lo[from], src.hi[from]
	if hi < lo {
		return
	}
	s.widen(dst, to, lo, hi)
	for k := min(runs, s.k-up); k+up <= s.k; k++ {
		a, b := s.of(src, from, k)[lo:hi+1], s.of(dst, to, k+up)[lo:hi+1]
		for n, c := range a {
			if !c.ok() {
				continue
			}
			if c = c.plus(more); c.over(b[n], s.aim.fewest) {
				b[n] = c
			}
		}
	}
}

// widen makes the cells lo to hi of mask i mean something, none to begin with.
func (s *rowSolver) widen(l maskLayer, i, lo, hi int) {
	oldLo, oldHi := l.lo[i], l.hi[i]
	if oldHi < oldLo {
		oldLo, oldHi = lo, lo-1
	}
	if lo >= oldLo && hi <= oldHi {
		return
	}
	l.lo[i], l.hi[i] = min(lo, oldLo), max(hi, oldHi)
	for k := range s.k + 1 {
		cells := s.of(l, i, k)
		for n := l.lo[i]; n < oldLo; n++ {
			cells[n] = none()
		}
		for n := oldHi + 1; n <= l.hi[i]; n++ {
			cells[n] = none()
		}
	}
}

// take adds the positions of each mask. Masks that lack a fixed position are
// dropped, and so are cells of more positions than are wanted.
func (s *rowSolver) take(l maskLayer, r int) {
	row, set := s.rows[r], s.sets[r]
	fixed := row.fixedMask()
	for i, mask := range set.masks {
		size := bits.OnesCount64(mask)
		lo, hi := l.lo[i], min(l.hi[i], s.n-size)
		if mask&fixed != fixed || hi < lo || set.isDead(i) {
			l.lo[i], l.hi[i] = 0, -1
			continue
		}
		add := set.worth(row, mask)
		for k := 0; k <= s.k; k++ {
			shift(s.of(l, i, k), lo, hi, size, add)
		}
		l.lo[i], l.hi[i] = lo+size, hi+size
	}
}

// shift moves cells lo to hi up by size and adds to them. The others are not
// looked at again.
func shift(cells []cell, lo, hi, size int, add cell) {
	for n := hi; n >= lo; n-- {
		if cells[n].ok() {
			cells[n+size] = cells[n].plus(add)
		} else {
			cells[n+size] = none()
		}
	}
}

// trace finds masks, one for each row, that make up cell (n, k) of the table that
// solve returned. It looks for a way that opens just the blocks it must; a cell
// that thin left has one.
func (s *rowSolver) trace(n, k int) []uint64 {
	out := make([]uint64, len(s.rows))
	r := len(s.rows) - 1
	at, best := -1, none()
	for i := range s.sets[r].masks {
		if c := s.cellOf(r, i, n, k); c.over(best, s.aim.fewest) {
			at, best = i, c
		}
	}
	for ; at >= 0; r-- {
		out[r] = s.sets[r].masks[at]
		if r == 0 {
			break
		}
		at, n, k = s.before(r, at, n, k)
	}
	return out
}

// cellOf is cell (n, k) of mask i after row r.
func (s *rowSolver) cellOf(r, i, n, k int) cell {
	l := s.layers[r]
	if k < 0 || n < l.lo[i] || n > l.hi[i] {
		return none()
	}
	return s.of(l, i, k)[n]
}

// before is a mask of the row below r, and n and k there, from which cell (n, k)
// of mask at of row r comes; mask -1 if there is none.
func (s *rowSolver) before(r, at, n, k int) (mask, beforeN, beforeK int) {
	set := s.sets[r]
	want := s.cellOf(r, at, n, k)
	add := set.worth(s.rows[r], set.masks[at])
	n -= bits.OnesCount64(set.masks[at])
	for i, below := range s.sets[r-1].masks {
		opened := s.opened(below, set.masks[at], r)
		fromK := k
		if s.k > 0 {
			fromK -= opened
		}
		c := s.cellOf(r-1, i, n, fromK)
		if c.ok() && c.plus(add).plus(s.aim.blockCells(opened)) == want {
			return i, n, fromK
		}
	}
	return -1, 0, 0
}

// opened is how many blocks a mask of row r opens above a mask of the row below.
func (s *rowSolver) opened(below, mask uint64, r int) int {
	set := s.sets[r]
	up := lifted(s.rows[r-1], s.sets[r-1], set, below)
	opened := set.runsOf(mask)
	for rest := set.starts(mask) & set.starts(up); rest != 0; rest &= rest - 1 {
		i := bits.TrailingZeros64(rest)
		if set.run(mask, i) == set.run(up, i) {
			opened--
		}
	}
	return opened
}
