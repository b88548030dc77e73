package layout

import (
	"fmt"
	"math"
	"slices"
)

// tickPt is a point in ticks from the field's origin; vertex is its index in
// the ring as given.
type tickPt struct {
	x, y   int64
	vertex int
}

// edge is one side of a ring, in ticks, from its lower end to its upper end; a
// level edge runs from left to right.
type edge struct {
	x0, y0, x1, y1 float64
	slope          float64 // x per y; 0 when level
	ring           int32   // 0 is the outline, i+1 is hole i
	dir            int32   // +1 when the ring runs upwards here, -1 down, 0 level
}

// field is a region as the engine sees it: clean rings, whole ticks, a local
// origin. Winding counts, not direction, say what is inside, so that rings may
// run either way. It does not change once made.
type field struct {
	// originU and originV are the local origin, whole ticks.
	originU, originV float64
	edges            []edge     // by y0, then x0
	rings            int        // outline and kept holes, flat holes included
	width, height    float64    // of the outline
	heights          []float64  // of all vertices, ascending, each once
	corners          [][]tickPt // the clean rings; nil for a flat hole
}

// newField checks r and moves it to ticks.
//
// The outline must have area and must not cross itself; it may touch itself.
// Repeated points, points on a straight run, repeated closing points and
// spikes without width are dropped. A hole without area is ignored; one thinner
// than a tick becomes a line that no module may cross. A hole
// that crosses itself covers everything it winds around.
func newField(r Region) (*field, error) {
	low, high, err := checkPoints(r)
	if err != nil {
		return nil, err
	}
	f := &field{}
	ox, oy := toTicks(low.UM), toTicks(low.VM)
	f.originU, f.originV = ox, oy
	f.width, f.height = toTicks(high.UM)-ox, toTicks(high.VM)-oy

	outline := cleanRing(r.Outer, ox, oy)
	if len(outline) < 3 {
		return nil, &ShapeError{Ring: "outer", Vertex: -1, Rule: "has no area"}
	}
	if a, b, crosses := selfCrossing(outline); crosses {
		return nil, &ShapeError{Ring: "outer", Vertex: a, Rule: fmt.Sprintf("the edge from here crosses the edge from point %d", b)}
	}
	corners := [][]tickPt{outline}
	for _, hole := range r.Holes {
		corners = append(corners, cleanRing(hole, ox, oy))
	}
	f.setRings(corners)
	return f, nil
}

// setRings lists the edges and heights of clean rings, the outline first.
func (f *field) setRings(corners [][]tickPt) {
	f.corners, f.rings = corners, len(corners)
	for i, ring := range corners {
		f.addRing(ring, int32(i))
	}
	slices.SortFunc(f.edges, compareEdges)
	f.heights = make([]float64, 0, len(f.edges))
	for i := range f.edges {
		// In a closed ring every vertex is the lower end of an edge or the
		// upper end of one.
		f.heights = append(f.heights, f.edges[i].y0, f.edges[i].y1)
	}
	slices.Sort(f.heights)
	f.heights = slices.Compact(f.heights)
}

// toTicks rounds metres to whole ticks.
func toTicks(m float64) float64 { return math.Round(float64(m * ticksPerM)) }

// checkPoints refuses what the engine's arithmetic is not made for and returns
// the corners of the box around the outline.
func checkPoints(r Region) (low, high SlopePt, err error) {
	if len(r.Outer) < 3 {
		return low, high, &ShapeError{Ring: "outer", Vertex: -1, Rule: fmt.Sprintf("has %d points, needs 3 or more", len(r.Outer))}
	}
	points := 0
	allLow := SlopePt{math.Inf(1), math.Inf(1)}
	allHigh := SlopePt{math.Inf(-1), math.Inf(-1)}
	for i := -1; i < len(r.Holes); i++ {
		ring := r.Outer
		if i >= 0 {
			ring = r.Holes[i]
		}
		points += len(ring)
		for j, p := range ring {
			if !(math.Abs(p.UM) <= maxFarM && math.Abs(p.VM) <= maxFarM) {
				return low, high, &ShapeError{Ring: ringName(i), Vertex: j, Rule: fmt.Sprintf("(%g, %g) is outside -%g to %g m", p.UM, p.VM, maxFarM, maxFarM)}
			}
			allLow = SlopePt{min(allLow.UM, p.UM), min(allLow.VM, p.VM)}
			allHigh = SlopePt{max(allHigh.UM, p.UM), max(allHigh.VM, p.VM)}
		}
		if i < 0 {
			low, high = allLow, allHigh
		}
	}
	if points > maxPoints {
		return low, high, &ShapeError{Ring: "outer", Vertex: -1, Rule: fmt.Sprintf("the region has %d points, at most %d", points, maxPoints)}
	}
	if e := max(allHigh.UM-allLow.UM, allHigh.VM-allLow.VM); e > maxExtentM {
		return low, high, &ShapeError{Ring: "outer", Vertex: -1, Rule: fmt.Sprintf("the region with its holes extends over %g m, at most %g", e, maxExtentM)}
	}
	return low, high, nil
}

// ringName names hole i, or the outline for -1.
func ringName(hole int) string {
	if hole < 0 {
		return "outer"
	}
	return fmt.Sprintf("holes[%d]", hole)
}

// addRing appends the edges of a clean ring.
func (f *field) addRing(ring []tickPt, id int32) {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		dir := int32(1)
		switch {
		case a.y > b.y:
			a, b, dir = b, a, -1
		case a.y == b.y:
			dir = 0
			if a.x > b.x {
				a, b = b, a
			}
		}
		e := edge{x0: float64(a.x), y0: float64(a.y), x1: float64(b.x), y1: float64(b.y), ring: id, dir: dir}
		if dir != 0 {
			e.slope = float64(b.x-a.x) / float64(b.y-a.y)
		}
		f.edges = append(f.edges, e)
	}
}

// compareEdges orders edges by their lower end, then by the rest, of finite numbers.
func compareEdges(a, b edge) int {
	switch {
	case a.y0 != b.y0:
		return order(a.y0 < b.y0)
	case a.x0 != b.x0:
		return order(a.x0 < b.x0)
	case a.y1 != b.y1:
		return order(a.y1 < b.y1)
	case a.x1 != b.x1:
		return order(a.x1 < b.x1)
	case a.ring != b.ring:
		return order(a.ring < b.ring)
	}
	return int(a.dir - b.dir)
}

// order is what a comparison gives for two that differ.
func order(less bool) int {
	if less {
		return -1
	}
	return 1
}
