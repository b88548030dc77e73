package web

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// mark is what a shape on a drawing means to a label that looks for room.
type mark int

const (
	lineMark   mark = iota // no label may cross it
	labelMark              // a label already placed
	moduleMark             // a label should keep off it
	softMark               // a line that a label should keep off
)

// room knows what already stands on a drawing, so that a label finds a free
// place or none. It keeps convex shapes by the square cells they reach into.
type room struct {
	cellU  float64
	shapes []roomShape
	cells  map[[2]int][]int
}

type roomShape struct {
	points []xy
	is     mark
}

// newRoom has cells about as large as a plane's key.
func newRoom(unitU float64) *room {
	return &room{cellU: 8 * unitU, cells: map[[2]int][]int{}}
}

// reachOf is the range of cells under a shape.
func (r *room) reachOf(shape []xy) (lo, hi [2]int) {
	loX, hiX := reach(shape, xy{1, 0})
	loY, hiY := reach(shape, xy{0, 1})
	at := func(v float64) int { return int(math.Floor(v / r.cellU)) }
	return [2]int{at(loX), at(loY)}, [2]int{at(hiX), at(hiY)}
}

func (r *room) add(is mark, points ...xy) {
	r.shapes = append(r.shapes, roomShape{points, is})
	lo, hi := r.reachOf(points)
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			r.cells[[2]int{x, y}] = append(r.cells[[2]int{x, y}], len(r.shapes)-1)
		}
	}
}

// addRing adds the sides of a ring.
func (r *room) addRing(is mark, ring []xy) {
	for i := range ring {
		r.add(is, ring[i], ring[(i+1)%len(ring)])
	}
}

// addPath adds the segments of an open line.
func (r *room) addPath(is mark, points ...xy) {
	for i := 1; i < len(points); i++ {
		r.add(is, points[i-1], points[i])
	}
}

// touching lists the shapes of some kinds that touch the convex shape q.
func (r *room) touching(q []xy, kinds ...mark) []int {
	var out []int
	lo, hi := r.reachOf(q)
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for _, i := range r.cells[[2]int{x, y}] {
				s := r.shapes[i]
				if slices.Contains(kinds, s.is) && !slices.Contains(out, i) && shapesTouch(q, s.points) {
					out = append(out, i)
				}
			}
		}
	}
	return out
}

// free tells whether q crosses no line and no placed label.
func (r *room) free(q []xy) bool { return len(r.touching(q, lineMark, labelMark)) == 0 }

// onModules counts the modules under q.
func (r *room) onModules(q []xy) int { return len(r.touching(q, moduleMark)) }

// cost counts what q covers that it should keep off.
func (r *room) cost(q []xy) int { return len(r.touching(q, moduleMark, softMark)) }

func (r *room) take(q []xy) { r.add(labelMark, q...) }

// shapesTouch tells whether two convex shapes (a segment counts as one) share
// a point, by looking for a side that separates them.
func shapesTouch(a, b []xy) bool {
	return !separated(a, b) && !separated(b, a)
}

func separated(a, b []xy) bool {
	for i := range a {
		p, q := a[i], a[(i+1)%len(a)]
		nx, ny := p.y-q.y, q.x-p.x
		for _, n := range [2]xy{{nx, ny}, {-ny, nx}} {
			aLo, aHi := reach(a, n)
			bLo, bHi := reach(b, n)
			if aHi < bLo || bHi < aLo {
				return true
			}
		}
	}
	return false
}

func reach(shape []xy, n xy) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range shape {
		v := p.x*n.x + p.y*n.y
		lo, hi = min(lo, v), max(hi, v)
	}
	return lo, hi
}

// box is the outline of a w by h label centred on c and turned by turnRad.
func box(c xy, w, h, turnRad float64) []xy {
	sin, cos := math.Sincos(turnRad)
	out := make([]xy, 4)
	for i, f := range [4]xy{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		dx, dy := f.x*w/2, f.y*h/2
		out[i] = xy{c.x + dx*cos - dy*sin, c.y + dx*sin + dy*cos}
	}
	return out
}

// orbRing is a ring as the geometry library takes it, closed.
func orbRing(ring []xy) orb.Ring {
	out := make(orb.Ring, 0, len(ring)+1)
	for _, p := range ring {
		out = append(out, orb.Point{p.x, p.y})
	}
	return append(out, out[0])
}

// clockwise reports whether a ring turns clockwise on the sheet, where y
// points down; a flat one counts as clockwise.
func clockwise(ring []xy) bool { return orbRing(ring).Orientation() != orb.CW }

// centroid is the centre of area of a ring; of a flat one, its first point.
func centroid(ring []xy) xy {
	c, area := planar.CentroidArea(orbRing(ring))
	if area == 0 {
		return ring[0]
	}
	return xy{c[0], c[1]}
}

// sameTurn reverses a ring that turns the other way, so that overlapping
// rings in one path fill as one shape.
func sameTurn(ring []xy) []xy {
	if clockwise(ring) {
		return ring
	}
	out := make([]xy, len(ring))
	for i, p := range ring {
		out[len(ring)-1-i] = p
	}
	return out
}

// inwardSide is the sign of [beside] that leads into the ring.
func inwardSide(ring []xy) float64 {
	if clockwise(ring) {
		return 1
	}
	return -1
}

// beside moves a segment sideways: positive is to its right on the sheet.
func beside(a, b xy, by float64) (xy, xy) {
	dx, dy := b.x-a.x, b.y-a.y
	long := math.Hypot(dx, dy)
	if long == 0 {
		return a, b
	}
	nx, ny := -dy/long*by, dx/long*by
	return xy{a.x + nx, a.y + ny}, xy{b.x + nx, b.y + ny}
}

// insideRing tells whether p is inside; the boundary counts as inside.
func insideRing(p xy, ring []xy) bool {
	return planar.RingContains(orbRing(ring), orb.Point{p.x, p.y})
}
