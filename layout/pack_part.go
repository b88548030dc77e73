package layout

import (
	"math"
	"slices"
)

// gridPart is a part of the offsets of a lattice: a range along v and one along u,
// with a bound of the count. It lists the places where modules may stand for some
// of its offsets, as far as that depends on the offset. So the work for a part
// shrinks with the part, whatever the size of the region.
type gridPart struct {
	lo, hi float64 // of v, both ends included
	// from and width are the range of u, whole ticks, and every u when width is 0:
	// outside it no count exceeds the best one known when the part was made.
	from, width float64
	bound       int
	split       float64 // the first v of the upper half when it is cut
	smooth      bool    // no vertex leaves or enters a row between lo and hi
	listed      bool    // false when rows share no slab: then nothing is known
	sure        int     // modules that fit at every offset of the part
	places      []gridPlace
	near        []nearEdge
}

func (p *gridPart) all() bool { return p.width == 0 }

// gridPlace is an interval for the left side of a module in the row at y for
// offset 0, free in the slab that all offsets share, for one site when the part
// is narrow along u: the site-th pitch from u = 0.
type gridPlace struct {
	interval
	y, site float64
	first   int32 // its first near edge, -1 for none
}

// nearEdge lists an edge that forbids some of a place for some offset; next is
// the next one of the place.
type nearEdge struct{ edge, next int32 }

// remnant is what is left of a place at some offsets.
type remnant struct {
	interval
	y, site float64
	of      int32 // the place
}

// newPart takes a part that is not used any more, if there is one.
func (g *gridSearch) newPart(lo, hi float64) *gridPart {
	p := &gridPart{}
	if n := len(g.spare); n > 0 {
		p, g.spare = g.spare[n-1], g.spare[:n-1]
		*p = gridPart{places: p.places[:0], near: p.near[:0]}
	}
	p.lo, p.hi, p.bound = lo, hi, math.MaxInt
	return p
}

// part is the part of p with the offsets from lo to hi, nil when none of these has
// more than best modules.
func (g *gridSearch) part(p *gridPart, lo, hi float64, best int) *gridPart {
	part := g.newPart(lo, hi)
	if bot, top := g.common(0, lo, hi); bot < top {
		g.find(p, lo, hi)
		g.fold.set(p, g.found, g.m.pitchU)
		most, from, to := g.fold.above(best)
		part.bound, part.listed = most, true
		if most > best {
			if p.listed {
				part.sure = p.sure
				part.narrow(p, from, to, g.m.pitchU)
				g.keep(part, p)
			} else {
				g.list(part)
			}
		}
	}
	if part.bound > best {
		g.cutAt(part)
	}
	if part.bound > best && part.listed && part.smooth && hi > lo && hi-lo < g.m.pitchV/leanBelow {
		part.bound = min(part.bound, g.leaning(part))
	}
	if part.bound <= best {
		g.spare = append(g.spare, part)
		return nil
	}
	return part
}

// narrow sets the range along u, as counted from the start of p's, with some ticks
// more on either side than rounding can take.
func (p *gridPart) narrow(of *gridPart, from, to, pitch float64) {
	from, to = math.Floor(from)-1, math.Ceil(to)+1
	if of.all() {
		if to-from < pitch*narrowBelow {
			p.from, p.width = residue(from, pitch), to-from
		}
		return
	}
	from, to = max(from, 0), min(to, of.width)
	p.from, p.width = of.from+from, to-from
}

// narrowBelow is the share of a pitch below which a range along u is kept: the
// places of a wider one are hardly fewer.
const narrowBelow = 0.75

// find sets found to what is free of p's places in the slab that the offsets from
// lo to hi share.
func (g *gridSearch) find(p *gridPart, lo, hi float64) {
	g.found = g.found[:0]
	if !p.listed {
		for y := g.lowest; y+lo <= g.highest; y += g.m.pitchV {
			bot, top := g.common(y, lo, hi)
			g.free = g.sl.free(g.free[:0], bot, top, g.m.w)
			for _, v := range g.free {
				g.found = append(g.found, remnant{interval: v, y: y})
			}
		}
		return
	}
	for i := range p.places {
		at := &p.places[i]
		from := len(g.found)
		g.found = append(g.found, remnant{at.interval, at.y, at.site, int32(i)})
		bot, top := g.common(at.y, lo, hi)
		for k := at.first; k >= 0; k = p.near[k].next {
			if e := &g.f.edges[p.near[k].edge]; e.y1 >= bot && e.y0 <= top {
				lo, hi := e.within(bot, top)
				g.found = cut(g.found, from, lo-g.m.w, hi)
			}
		}
	}
}

// cut takes what lies between p and q from the pieces that start at index from.
func cut(pieces []remnant, from int, p, q float64) []remnant {
	if n := len(pieces) - 1; n == from && (p >= pieces[n].b || q <= pieces[n].a) {
		return pieces
	}
	for i := len(pieces) - 1; i >= from; i-- {
		v := &pieces[i]
		if p >= v.b || q <= v.a {
			continue
		}
		left, right := p-v.a >= -3*tieTicks, v.b-q >= -3*tieTicks
		switch {
		case left && right:
			other := *v
			v.b, other.a = p, q
			pieces = append(pieces, other)
		case left:
			v.b = p
		case right:
			v.a = q
		default:
			pieces[i] = pieces[len(pieces)-1]
			pieces = pieces[:len(pieces)-1]
		}
	}
	return pieces
}

// list makes a part of the pieces found in the whole field.
func (g *gridSearch) list(part *gridPart) {
	part.places = slices.Grow(part.places, len(g.found))
	part.near = slices.Grow(part.near, 3*len(g.found))
	for i := 0; i < len(g.found); {
		y, from := g.found[i].y, len(part.places)
		for ; i < len(g.found) && g.found[i].y == y; i++ {
			part.places = append(part.places, gridPlace{g.found[i].interval, y, 0, -1})
		}
		row := part.places[from:]
		bot, top := g.reach(y, part.lo, part.hi)
		g.sl.collect(bot, top)
		for k := range g.sl.extents {
			x := &g.sl.extents[k]
			// The first place that ends beyond the start of what x forbids.
			lo, hi := 0, len(row)
			for lo < hi {
				if mid := (lo + hi) / 2; row[mid].b <= x.lo-g.m.w-nearTicks {
					lo = mid + 1
				} else {
					hi = mid
				}
			}
			for ; lo < len(row) && row[lo].a < x.hi+nearTicks; lo++ {
				part.near = append(part.near, nearEdge{x.edge, row[lo].first})
				row[lo].first = int32(len(part.near) - 1)
			}
		}
	}
}

// nearTicks is how near an edge must come to a place to be listed with it: more
// than the tolerance with which places are cut.
const nearTicks = 8 * tieTicks

// reach is all that the slabs of the row at y cover at the offsets from lo to hi.
func (g *gridSearch) reach(y, lo, hi float64) (bot, top float64) {
	bot, _ = g.m.slabAt(y + lo)
	_, top = g.m.slabAt(y + hi)
	return bot, top
}

// keep makes a part of what was found in p, as far as it is in its range along u.
func (g *gridSearch) keep(part, p *gridPart) {
	part.places = slices.Grow(part.places, len(g.found))
	part.near = slices.Grow(part.near, len(p.near))
	for i := range g.found {
		v := &g.found[i]
		g.bars = g.bars[:0]
		bot, top := g.reach(v.y, part.lo, part.hi)
		for k := p.places[v.of].first; k >= 0; k = p.near[k].next {
			id := p.near[k].edge
			if e := &g.f.edges[id]; e.y1 >= bot && e.y0 <= top {
				lo, hi := e.within(bot, top)
				g.bars = append(g.bars, bar{lo - g.m.w - nearTicks, hi + nearTicks, id})
			}
		}
		switch {
		case part.all():
			g.take(part, v, v.interval)
		case p.all():
			g.sites(part, v)
		default:
			g.clip(part, v)
		}
	}
}

// bar is what an edge forbids of a row at any offset of a part.
type bar struct {
	a, b float64
	edge int32
}

// sites takes what lies in the range along u at each site of the row. Where nothing
// bars a whole site at any offset, a module is sure.
func (g *gridSearch) sites(part *gridPart, v *remnant) {
	pitch, end := g.m.pitchU, max(v.a, v.b)+nearTicks
	// The sites whose ranges lie in v as a whole are first to last.
	first := math.Ceil((v.a - part.from) / pitch)
	last := math.Floor((v.b - part.from - part.width) / pitch)
	v.site = math.Floor((v.a - part.from - part.width) / pitch)
	for float64(v.site*pitch)+part.from <= end {
		if v.site >= first && v.site <= last {
			next := last + 1
			for i := range g.bars {
				b := &g.bars[i]
				if at := max(v.site, math.Floor((b.a-part.from-part.width)/pitch)); at < next && float64(at*pitch)+part.from < b.b {
					next = at
				}
			}
			part.sure += int(next - v.site)
			v.site = next
		}
		g.clip(part, v)
		v.site++
	}
}

// clip takes what of v lies in the range along u at its site.
func (g *gridSearch) clip(part *gridPart, v *remnant) {
	start := float64(v.site*g.m.pitchU) + part.from
	if end := start + part.width; v.a <= end && max(v.a, v.b)+nearTicks >= start {
		g.take(part, v, interval{max(v.a, start), min(v.b, end)})
	}
}

// take adds a place for v, cut down to in, with the edges that bar some of it
// at some offset. Where none does and the range along u is filled, a module is sure.
func (g *gridSearch) take(part *gridPart, v *remnant, in interval) {
	first, end := int32(-1), max(in.a, in.b)
	for i := range g.bars {
		if b := &g.bars[i]; b.a < end && b.b > min(in.a, in.b) {
			part.near = append(part.near, nearEdge{b.edge, first})
			first = int32(len(part.near) - 1)
		}
	}
	if first < 0 && !part.all() && in.b-in.a == part.width {
		part.sure++
		return
	}
	part.places = append(part.places, gridPlace{in, v.y, v.site, first})
}

// cutAt chooses where a part is best cut: where a vertex leaves or enters a row
// nearest to its middle, because counts jump there, else in the middle. It also
// notes whether there is such a place, from the second offset on.
func (g *gridSearch) cutAt(part *gridPart) {
	mid := math.Floor((part.lo + part.hi) / 2)
	at := math.Inf(1)
	for i := range part.places {
		y := part.places[i].y
		for k := part.places[i].first; k >= 0; k = part.near[k].next {
			e := &g.f.edges[part.near[k].edge]
			for _, v := range [4]float64{foot(e.y0), foot(e.y1), head(e.y0, g.m.h), head(e.y1, g.m.h)} {
				if v -= y; v > part.lo && v <= part.hi && (abs(v-mid) < abs(at-mid) || abs(v-mid) == abs(at-mid) && v < at) {
					at = v
				}
			}
		}
	}
	if part.smooth = math.IsInf(at, 1); part.smooth {
		at = mid + 1
	}
	part.split = at
}
