package layout

import "math"

// packGrid finds the best lattice of one turn, as rows, if it holds least modules
// or more.
func (j *job) packGrid(least int) []row {
	best := lattice{n: least - 1}
	var g *gridSearch
	for i := range j.modules {
		if next := newGridSearch(j.f, &j.modules[i]); next.run(&best, j.stopped) {
			g = next
		}
	}
	if g == nil || j.stopped() {
		return nil
	}
	return g.fill(best)
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
	f               *field
	m               *module
	lowest, highest float64
	sl              *slab
	free            []interval
	found           []remnant
	bars            []bar
	fold            fold
	leans           []float64
	nodes           queue[*gridPart]
	spare           []*gridPart
}

func newGridSearch(f *field, m *module) *gridSearch {
	g := &gridSearch{f: f, m: m, sl: newSlab(f, m.h), nodes: queue[*gridPart]{before: higherBound}}
	g.lowest, g.highest = rowRange(f, *m)
	return g
}

// residue is v modulo pitch, in [0, pitch).
func residue(v, pitch float64) float64 {
	// Exact but for the last line: pitch is whole, and so v less a multiple of it
	// needs no more digits than v.
	r := v - float64(math.Floor(v/pitch)*pitch)
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
	was := best.n
	whole := &gridPart{lo: 0, hi: min(g.m.pitchV-1, g.highest-g.lowest), bound: math.MaxInt}
	g.cutAt(whole)
	g.try(whole, 0, best)
	g.try(whole, whole.hi, best)
	g.nodes.push(whole)
	for len(g.nodes.items) > 0 && !stop() {
		p := g.nodes.pop()
		if p.bound <= best.n {
			break
		}
		if p.hi-p.lo < 2 {
			g.try(p, p.lo, best)
			g.try(p, p.hi, best)
		} else {
			g.add(p, p.lo, p.split-1, p.split-1, best)
			g.add(p, p.split, p.hi, p.split, best)
		}
		g.spare = append(g.spare, p)
	}
	return best.n > was
}

// tryBelow is the share of a pitch below which an end of a range is tried: a wider
// range is cut anyway, whatever is found.
const tryBelow = 64

// add adds the part of p with the offsets from lo to hi, and tries its end at,
// unless a bound rules it out.
func (g *gridSearch) add(p *gridPart, lo, hi, at float64, best *lattice) {
	part := g.part(p, lo, hi, best.n)
	if part == nil {
		return
	}
	if hi-lo < g.m.pitchV/tryBelow {
		g.try(part, at, best)
	}
	if part.bound > best.n {
		g.nodes.push(part)
	} else {
		g.spare = append(g.spare, part)
	}
}

// try improves best by the lattices of offset v.
func (g *gridSearch) try(p *gridPart, v float64, best *lattice) {
	g.find(p, v, v)
	g.fold.set(p, g.found, g.m.pitchU)
	if u, n := g.fold.deepest(); n > best.n {
		*best = lattice{v: v, u: u, n: n}
	}
}

// higherBound puts the higher bound first, then the lower range.
func higherBound(a, b **gridPart) bool {
	if (*a).bound != (*b).bound {
		return (*a).bound > (*b).bound
	}
	return (*a).lo < (*b).lo
}

// common is the part of the slab of the row at y that all offsets from lo to
// hi share when the row moves with them.
func (g *gridSearch) common(y, lo, hi float64) (bot, top float64) {
	bot, _ = g.m.slabAt(y + hi)
	_, top = g.m.slabAt(y + lo)
	return bot, top
}
