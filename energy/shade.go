package energy

import (
	"context"
	"math"
)

// shadow is the outline of one solid's shadow on a plane.
type shadow struct {
	ring  []pt // convex, counter-clockwise
	box   box
	pass  leafPair
	index int // of the obstruction
}

// planeShade casts shadows on the rectangles of one plane.
type planeShade struct {
	frame   slopeFrame
	casters []caster
	rects   []box
	bounds  box // of all rects
}

// newPlaneShade prepares a plane of a scene with its bodies. It is the part of the work that does not
// depend on where the sun is.
func newPlaneShade(s Scene, bodies []body, plane int, rects []box) *planeShade {
	p := &planeShade{frame: newSlopeFrame(s.Planes[plane]), rects: rects, bounds: emptyBox()}
	for _, r := range rects {
		p.bounds = p.bounds.with(pt{r.lowU, r.lowV}).with(pt{r.highU, r.highV})
	}
	for _, b := range bodies {
		if o := &s.Obstructions[b.index]; o.Kind == RoofPart && o.PlaneID == s.Planes[plane].ID {
			continue
		}
		if c, ok := casterOf(b, p.frame); ok {
			p.casters = append(p.casters, c)
		}
	}
	return p
}

// grazing is the sine of the angle between sun and plane under which no shadow
// is drawn: the light that meets the plane there is nothing.
const grazing = 0.005

// shadowsAt returns the shadows towards a direction (in the world, the way to
// the sun) that meet the box. None with the sun behind the plane.
func (p *planeShade) shadowsAt(toward Vec3, within box, w *workspace) []shadow {
	d := p.frame.turn(toward)
	w.shadows = w.shadows[:0]
	if d.Z < grazing {
		return nil
	}
	leanU, leanV := d.X/d.Z, d.Y/d.Z
	for i := range p.casters {
		c := &p.casters[i]
		w.points = w.points[:0]
		b := emptyBox()
		for _, q := range c.points {
			at := pt{q.X - q.Z*leanU, q.Y - q.Z*leanV}
			w.points = append(w.points, at)
			b = b.with(at)
		}
		if !b.meets(within) {
			continue
		}
		n := len(w.shadows)
		if n == len(w.rings) {
			w.rings = append(w.rings, nil)
		}
		w.rings[n] = hull(w.points, w.rings[n])
		if len(w.rings[n]) >= 3 {
			w.shadows = append(w.shadows, shadow{ring: w.rings[n], box: b, pass: c.pass, index: c.index})
		}
	}
	return w.shadows
}

// workspace is scratch memory, reused from one direction to the next.
type workspace struct {
	points  []pt
	rings   [][]pt
	shadows []shadow
	hits    []shadow
	levels  []clipLevel
}

// clipLevel holds the clipped rings of one depth of the recursion.
type clipLevel struct{ out, spare []pt }

// cover is how much of a rectangle lies in shadow.
type cover struct {
	// blocked is the mean share of light kept away, 0 to 1.
	blocked leafPair
	// peak is the largest share kept away anywhere in the rectangle.
	peak leafPair
}

// most overlapping shadows on one rectangle that are added up exactly; above,
// points are counted.
const maxExactShadows = 7

// coverOf adds up the shadows on a rectangle. Where shadows overlap, their
// shares multiply: a point under trees of shares a and b passes a b, so that the
// mean over the rectangle is a sum over all sets of shadows S of
// area(rect and all of S) x product of (pass - 1), by inclusion and exclusion.
// Shadows that hold the whole rectangle only multiply what the others leave.
func coverOf(rect box, shadows []shadow, w *workspace) cover {
	w.hits = w.hits[:0]
	ring := rect.ring()
	whole := leafPair{1, 1}
	for i := range shadows {
		s := &shadows[i]
		if !s.box.meets(rect) {
			continue
		}
		if !holdsAll(s.ring, ring[:]) {
			w.hits = append(w.hits, *s)
			continue
		}
		whole = leafPair{whole.on * s.pass.on, whole.off * s.pass.off}
		if whole == (leafPair{}) {
			return cover{leafPair{1, 1}, leafPair{1, 1}}
		}
	}
	c := coverOfParts(rect, ring[:], w)
	if whole == (leafPair{1, 1}) {
		return c
	}
	under := func(blocked leafPair) leafPair {
		return leafPair{1 - whole.on*(1-blocked.on), 1 - whole.off*(1-blocked.off)}
	}
	return cover{under(c.blocked), under(c.peak)}
}

// coverOfParts adds up the shadows in w.hits.
func coverOfParts(rect box, ring []pt, w *workspace) cover {
	var c cover
	switch n := len(w.hits); {
	case n == 0:
		return c
	case n > maxExactShadows:
		return coverByPoints(rect, w.hits)
	}
	w.addSets(&c, ring, 0, 0, leafPair{-1, -1}, leafPair{1, 1})
	area := rect.area()
	c.blocked.on = min(1, max(0, c.blocked.on/area))
	c.blocked.off = min(1, max(0, c.blocked.off/area))
	return c
}

// addSets adds the sets of shadows that hold those taken so far, whose common
// part is ring, and more from the given one on. sign is minus the product of
// (pass - 1), passed the product of pass, over those taken.
func (w *workspace) addSets(c *cover, ring []pt, from, depth int, sign, passed leafPair) {
	if depth == len(w.levels) {
		w.levels = append(w.levels, clipLevel{})
	}
	for i := from; i < len(w.hits); i++ {
		level := w.levels[depth]
		var part []pt
		part, level.out, level.spare = clipTo(ring, w.hits[i].ring, level.out, level.spare)
		w.levels[depth] = level
		area := areaOf(part)
		if area <= 0 {
			continue
		}
		pass := w.hits[i].pass
		next := leafPair{sign.on * (pass.on - 1), sign.off * (pass.off - 1)}
		through := leafPair{passed.on * pass.on, passed.off * pass.off}
		c.blocked.on += next.on * area
		c.blocked.off += next.off * area
		c.peak.on = max(c.peak.on, 1-through.on)
		c.peak.off = max(c.peak.off, 1-through.off)
		w.addSets(c, part, i+1, depth+1, next, through)
	}
}

// holdsAll reports whether a convex ring holds all points.
func holdsAll(ring, points []pt) bool {
	for i := range ring {
		a, b := ring[i], ring[(i+1)%len(ring)]
		for _, p := range points {
			if cross(a, b, p) < 0 {
				return false
			}
		}
	}
	return true
}

// coverByPoints counts a grid of 16 x 16 points.
func coverByPoints(rect box, shadows []shadow) cover {
	const n = 16
	var c cover
	for i := range n {
		for k := range n {
			p := [1]pt{{
				rect.lowU + (rect.highU-rect.lowU)*(float64(i)+0.5)/n,
				rect.lowV + (rect.highV-rect.lowV)*(float64(k)+0.5)/n,
			}}
			through := leafPair{1, 1}
			for s := range shadows {
				if holdsAll(shadows[s].ring, p[:]) {
					through.on *= shadows[s].pass.on
					through.off *= shadows[s].pass.off
				}
			}
			c.blocked.on += (1 - through.on) / (n * n)
			c.blocked.off += (1 - through.off) / (n * n)
			c.peak.on = max(c.peak.on, 1-through.on)
			c.peak.off = max(c.peak.off, 1-through.off)
		}
	}
	return c
}

// skyRows and skySteps cut the sky into patches of 7.5 degrees.
const (
	skyRows  = 12
	skySteps = 48
)

// skyViews returns, for each rectangle, the share of the even sky's light that
// reaches it past obstructions and the horizon: the patches' cosine of
// incidence times solid angle, shadowed as the sun is, over the same without
// obstructions. 1 for an open sky. Once ctx is done it breaks off, and what it
// returns means nothing.
func (p *planeShade) skyViews(ctx context.Context, h Horizon, w *workspace) []leafPair {
	views := make([]leafPair, len(p.rects))
	var open float64
	for row := range skyRows {
		e := (float64(row) + 0.5) * 90 / skyRows
		solid := math.Cos(e * degree)
		for step := range skySteps {
			a := (float64(step) + 0.5) * 360 / skySteps
			toward := direction(e, a)
			weight := solid * p.frame.overhead.dot(toward)
			if weight <= 0 {
				continue
			}
			if ctx.Err() != nil {
				return views
			}
			open += weight
			if e < h.At(a) {
				continue
			}
			shadows := p.shadowsAt(toward, p.bounds, w)
			for i, r := range p.rects {
				b := coverOf(r, shadows, w).blocked
				views[i].on += weight * (1 - b.on)
				views[i].off += weight * (1 - b.off)
			}
		}
	}
	for i := range views {
		views[i].on /= open
		views[i].off /= open
	}
	return views
}
