package project

import (
	"slices"

	"rooftally/layout"
)

// packed is one way of laying out a candidate's modules on one used plane.
type packed struct {
	plane   int
	surface surface
	// full may use last-resort shade. clear is laid out with that off limits:
	// it can hold more modules in the sun than full has, whose rows may lie
	// otherwise. Modules that a person locked are in both.
	full, clear []place
	// searched is clear within the deep budget, where a size is to be met. A
	// filled roof seldom has room for as many, and is not worth the search.
	searched []place
	// bound is the count that no layout of the plane exceeds.
	bound int
	// limit is the most modules that may lie on the plane, locked how many of
	// them a person locked.
	limit, locked int
	// dragged is how many the drag budget shows; -1 where no budget matters.
	dragged int
	hand    string
	refused []RefusedModule
}

// capped sets the limits once the places are known.
func (p packed) capped(limit *int) packed {
	p.limit, p.locked = len(p.full), 0
	if limit != nil {
		p.limit = min(p.limit, *limit)
	}
	for _, k := range p.full {
		if k.locked {
			p.locked++
		}
	}
	return p
}

// inSun is how many modules the plane can hold outside last-resort shade,
// beside those that a person locked.
func (p packed) inSun() int {
	return min(p.limit, p.locked+max(sunny(p.full), sunny(p.clear)))
}

// sunny is how many places are neither locked nor in last-resort shade.
func sunny(places []place) int {
	n := 0
	for _, k := range places {
		if !k.locked && !k.shaded {
			n++
		}
	}
	return n
}

// take returns n modules: locked ones first, in their order, then as few as
// possible in last-resort shade. n is at most the limit.
func (p packed) take(n int) []place {
	from := p.full
	if n <= len(p.clear) {
		from = p.clear
	}
	var loose []int // indices
	keep := make([]bool, len(from))
	left := n
	for i, k := range from {
		switch {
		case !k.locked:
			loose = append(loose, i)
		case left > 0:
			keep[i] = true
			left--
		}
	}
	modules, shaded := make([]layout.Rect, len(loose)), make([]bool, len(loose))
	for i, k := range loose {
		modules[i], shaded[i] = from[k].Rect, from[k].shaded
	}
	for _, k := range layout.Thin(modules, shaded, left) {
		keep[loose[k]] = true
	}
	out := make([]place, 0, n)
	for i, k := range from {
		if keep[i] {
			out = append(out, k)
		}
	}
	return out
}

// rects are the modules of places.
func rects(places []place) []layout.Rect {
	out := make([]layout.Rect, len(places))
	for i, k := range places {
		out[i] = k.Rect
	}
	return out
}

// inShade is how many places lie in last-resort shade.
func inShade(places []place) int {
	n := 0
	for _, k := range places {
		if k.shaded {
			n++
		}
	}
	return n
}

// shadedBy says whether a module reaches into any of the rings.
func shadedBy(m layout.Rect, rings []layout.Ring) bool {
	return slices.ContainsFunc(rings, func(ring layout.Ring) bool { return layout.Overlaps(m, ring) })
}
