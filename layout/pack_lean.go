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

// noEvent reports whether no vertex leaves or enters a row between the offsets
// lo and hi, so that every edge's reach is linear in the offset.
func (g *gridSearch) noEvent(lo, hi float64) bool {
	i, found := slices.BinarySearch(g.events, lo)
	if found {
		i++ // an event at lo has taken place
	}
	return i == len(g.events) || g.events[i] > hi
}

// leaning returns places for [gridSearch.sweep] like shared, in a frame whose u
// leans with v as most of the edges do that rows meet between lo and hi.
func (g *gridSearch) leaning(lo, hi float64) func(out []interval, y, lo, hi float64) []interval {
	lean := g.commonLean(lo)
	return func(out []interval, y, lo, hi float64) []interval {
		if free, ok := g.freeLeaning(out, y, lo, hi, lean); ok {
			return free
		}
		from := len(out)
		out = g.shared(out, y, lo, hi)
		shift := float64(lean * (hi - lo))
		for i := range out[from:] {
			out[from+i].a -= max(0, shift)
			out[from+i].b -= min(0, shift)
		}
		return out
	}
}

// commonLean is the median change per tick of the ends that move at offset lo.
func (g *gridSearch) commonLean(lo float64) float64 {
	g.leans = g.leans[:0]
	for y := g.lowest; y+lo <= g.highest; y += g.m.pitchV {
		bot, top := g.m.slabAt(y + lo)
		g.sl.collect(bot, top)
		for i := range g.sl.extents {
			for _, by := range [2]float64{g.sl.extents[i].loBy, g.sl.extents[i].hiBy} {
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

// freeLeaning lists the places that the row at y may have at any offset from lo
// to hi, moved back along the lean to offset lo. Every edge forbids at least
// what it forbids at both ends of the range, because its reach is linear.
//
// It is not ok when an edge moves by a module's width or more against the lean:
// then it may pass from one side of a place to the other.
func (g *gridSearch) freeLeaning(out []interval, y, lo, hi, lean float64) (free []interval, ok bool) {
	bot, top := g.m.slabAt(y + lo)
	g.sl.collect(bot, top)
	for i := range g.sl.extents {
		e := &g.sl.extents[i]
		dLo, dHi := float64((e.loBy-lean)*(hi-lo)), float64((e.hiBy-lean)*(hi-lo))
		if math.Max(abs(dLo), abs(dHi)) >= g.m.w {
			return out, false
		}
		e.lo += max(0, dLo)
		e.hi += min(0, dHi)
	}
	return g.sl.between(out, bot, g.m.w), true
}
