package layout

import (
	"math"
	"slices"
)

// packGrid finds the best lattice of one turn, as rows.
func (j *job) packGrid() []row {
	best := lattice{}
	var m *module
	for i := range j.modules {
		g := newGridSearch(j.f, &j.modules[i])
		if g.run(&best, j.stopped) {
			m = &j.modules[i]
		}
	}
	if m == nil || j.stopped() {
		return nil
	}
	return j.fillGrid(m, best)
}

// lattice is a lattice's offset from the lowest row position and from u = 0 in
// ticks, and how many modules it holds.
type lattice struct {
	v, u float64
	n    int
}

// gridSearch finds the best lattice of one turn by branch and bound over the
// offset in v; for one offset the best offset in u is found by a sweep.
//
// For a range of offsets, every row is judged by the part of its slab that all
// offsets of the range have in common: a module that fits at one of them fits
// there too, so that the sweep's count is an upper bound for the range.
type gridSearch struct {
	f            *field
	m            *module
	lowest       float64
	highest      float64
	events       []float64 // offsets at which a vertex leaves or enters a row
	sl           *slab
	free         []interval
	starts, ends []float64
	leans        []float64
	nodes        queue[gridNode]
}

// gridNode is a range of offsets, both ends included, with its bound.
type gridNode struct {
	lo, hi float64
	bound  int
}

func newGridSearch(f *field, m *module) *gridSearch {
	g := &gridSearch{f: f, m: m, sl: newSlab(f, m.h), nodes: queue[gridNode]{before: (*gridNode).before}}
	g.lowest, g.highest = rowRange(f, *m)
	for _, y := range f.heights {
		g.events = append(g.events, g.offset(foot(y)), g.offset(head(y, m.h)))
	}
	slices.Sort(g.events)
	g.events = slices.Compact(g.events)
	return g
}

// offset is the lattice offset that has a row at position y.
func (g *gridSearch) offset(y float64) float64 {
	return residue(y-g.lowest, g.m.pitchV)
}

// residue is v modulo pitch, in [0, pitch).
func residue(v, pitch float64) float64 {
	r := math.Mod(v, pitch)
	if r < 0 {
		r += pitch
	}
	if r >= pitch { // a tiny negative v rounds up to the pitch itself
		r = 0
	}
	return r
}

// run improves best and reports whether it did. The best bound is taken first,
// so that no range is looked into whose bound the result does not exceed.
func (g *gridSearch) run(best *lattice, stop func() bool) bool {
	if g.highest < g.lowest {
		return false
	}
	improved := false
	try := func(v float64) {
		if u, n := g.sweep(v, v, g.shared); n > best.n {
			*best = lattice{v: v, u: u, n: n}
			improved = true
		}
	}
	last := min(g.m.pitchV-1, g.highest-g.lowest)
	try(0)
	try(last)
	g.push(0, last, best.n)
	for len(g.nodes.items) > 0 && !stop() {
		node := g.nodes.pop()
		if node.bound <= best.n {
			break
		}
		if node.hi-node.lo < 2 {
			continue // both ends were tried
		}
		at := g.split(node.lo, node.hi)
		try(at - 1)
		try(at)
		g.push(node.lo, at-1, best.n)
		g.push(at, node.hi, best.n)
	}
	return improved
}

// split is where a range is best cut: at the event nearest to its middle,
// because counts jump there, else in the middle.
func (g *gridSearch) split(lo, hi float64) float64 {
	mid := math.Floor((lo + hi) / 2)
	at := math.Inf(1)
	i, _ := slices.BinarySearch(g.events, mid)
	for _, k := range []int{i - 1, i} {
		if k >= 0 && k < len(g.events) && g.events[k] > lo && g.events[k] <= hi && abs(g.events[k]-mid) < abs(at-mid) {
			at = g.events[k]
		}
	}
	if at > hi {
		return mid + 1
	}
	return at
}

// push adds a range unless a bound rules it out.
func (g *gridSearch) push(lo, hi float64, best int) {
	bound := math.MaxInt
	if bot, top := g.common(0, lo, hi); bot < top {
		_, bound = g.sweep(lo, hi, g.shared)
	}
	if short := g.m.pitchV / leanBelow; bound > best && hi > lo && hi-lo < short && g.noEvent(lo, hi) {
		_, leaning := g.sweep(lo, hi, g.leaning(lo, hi))
		bound = min(bound, leaning)
	}
	if bound <= best {
		return
	}
	g.nodes.push(gridNode{lo, hi, bound})
}

// before puts the higher bound first, then the lower range.
func (a *gridNode) before(b *gridNode) bool {
	if a.bound != b.bound {
		return a.bound > b.bound
	}
	return a.lo < b.lo
}

// common is the part of the slab of the row at y that all offsets from lo to
// hi share when the row moves with them.
func (g *gridSearch) common(y, lo, hi float64) (bot, top float64) {
	bot, _ = g.m.slabAt(y + hi)
	_, top = g.m.slabAt(y + lo)
	return bot, top
}

// shared appends the places of the row at y that some offset from lo to hi may
// have: those of the slab that all of them share.
func (g *gridSearch) shared(out []interval, y, lo, hi float64) []interval {
	bot, top := g.common(y, lo, hi)
	return g.sl.free(out, bot, top, g.m.w)
}

// sweep is the best offset in u and its count over the rows of offset lo when
// lo == hi, else a bound for all offsets from lo to hi. places lists where a
// row's modules may be.
func (g *gridSearch) sweep(lo, hi float64, places func(out []interval, y, lo, hi float64) []interval) (u float64, n int) {
	g.starts, g.ends = g.starts[:0], g.ends[:0]
	always, open := 0, 0
	for y := g.lowest; y+lo <= g.highest; y += g.m.pitchV {
		g.free = places(g.free[:0], y, lo, hi)
		for _, iv := range g.free {
			// An interval meets every offset once per whole pitch, and those
			// from start to end once more.
			length := max(iv.b-iv.a, 0) + tieTicks
			turns := math.Floor(length / g.m.pitchU)
			always += int(turns)
			start := residue(iv.a, g.m.pitchU)
			end := start + length - float64(turns*g.m.pitchU)
			if end >= g.m.pitchU {
				end -= g.m.pitchU
				open++
			}
			g.starts, g.ends = append(g.starts, start), append(g.ends, end)
		}
	}
	slices.Sort(g.starts)
	slices.Sort(g.ends)
	most, ended := open, 0
	for i, start := range g.starts {
		for ended < len(g.ends) && g.ends[ended] < start {
			ended++
		}
		if here := open + i + 1 - ended; here > most {
			most, u = here, start
		}
	}
	return u, always + most
}
