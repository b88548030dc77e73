package layout

import (
	"math"
	"slices"
)

// Where the sides of a region are parallel and slanted, the room in a row stays
// the same while the row moves up and sideways with them. The part of the slab
// that all offsets of a range share overstates that room until the range is as
// short as what the row lacks for one module more. Judged along the slant, it
// is not overstated at all.

// leanBelow is the share of a pitch below which a range is judged along the
// slant too: nearly all ranges are ruled out before, and that costs as much again.
const leanBelow = 64

// leaning is a bound for a part without vertices, in a frame whose u leans with v
// as most of the edges do that its places have near. Every edge forbids at least
// what it forbids at both ends of the range, because its reach is linear.
//
// An edge that moves by a module's width or more against the lean is left out: it
// may pass from one side of a place to the other.
func (g *gridSearch) leaning(p *gridPart) int {
	lean := g.commonLean(p)
	shift := float64(lean * (p.hi - p.lo))
	g.found = g.found[:0]
	for i := range p.places {
		at := &p.places[i]
		from := len(g.found)
		// Moved back along the lean to the lowest offset, the place may be on
		// either side of where it is.
		in := interval{at.a - max(0, shift), at.b - min(0, shift)}
		g.found = append(g.found, remnant{in, at.y, at.site, int32(i)})
		bot, top := g.m.slabAt(at.y + p.lo)
		for k := at.first; k >= 0; k = p.near[k].next {
			id := p.near[k].edge
			e := &g.f.edges[id]
			if e.y1 < bot || e.y0 > top {
				continue
			}
			x := extentOf(e, id, bot, top)
			dLo, dHi := float64((x.loBy-lean)*(p.hi-p.lo)), float64((x.hiBy-lean)*(p.hi-p.lo))
			if max(abs(dLo), abs(dHi)) < g.m.w {
				g.found = cut(g.found, from, x.lo+max(0, dLo)-g.m.w, x.hi+min(0, dHi))
			}
		}
	}
	g.fold.set(p, g.found, g.m.pitchU)
	most, _, _ := g.fold.above(math.MaxInt)
	return most
}

// commonLean is the median change per tick of the ends that move at the lowest
// offset of p.
func (g *gridSearch) commonLean(p *gridPart) float64 {
	g.leans = g.leans[:0]
	for i := range p.places {
		bot, top := g.m.slabAt(p.places[i].y + p.lo)
		for k := p.places[i].first; k >= 0; k = p.near[k].next {
			id := p.near[k].edge
			e := &g.f.edges[id]
			if e.y1 < bot || e.y0 > top {
				continue
			}
			x := extentOf(e, id, bot, top)
			for _, by := range [2]float64{x.loBy, x.hiBy} {
				if by != 0 {
					g.leans = append(g.leans, by)
				}
			}
		}
	}
	if len(g.leans) == 0 {
		return 0
	}
	slices.Sort(g.leans)
	return g.leans[len(g.leans)/2]
}
