package project

import (
	"errors"
	"fmt"
	"math"

	"rooftally/layout"
)

// outline reports what is wrong with a closed outline in plan: too few or many
// corners, coordinates out of range, too wide an outline, one that crosses or
// touches itself. The later checks need sound coordinates and wait for them.
func (ps *Problems) outline(path string, points []Point) {
	before := len(*ps)
	ps.count(path, len(points), MinCorners, MaxCorners)
	for i, p := range points {
		ps.point(fmt.Sprintf("%s[%d]", path, i), p)
	}
	if len(*ps) > before {
		return
	}
	if across := diagonalM(points); across > MaxAcrossM {
		ps.add(path, "is %.1f m across; at most %g m is allowed", across, MaxAcrossM)
		return
	}
	if shape, ok := errors.AsType[*layout.ShapeError](layout.CheckRing(planPoints(points))); ok {
		if shape.Vertex >= 0 {
			path = fmt.Sprintf("%s[%d]", path, shape.Vertex)
		}
		ps.add(path, "%s", shape.Rule)
	}
}

// planPoints are the points as package layout has them.
func planPoints(points []Point) []layout.PlanPt {
	out := make([]layout.PlanPt, len(points))
	for i, p := range points {
		out[i] = layout.PlanPt{XM: p.XM, YM: p.YM}
	}
	return out
}

func (ps *Problems) point(path string, p Point) {
	ps.number(path+".x_m", p.XM, -5000, 5000, " m")
	ps.number(path+".y_m", p.YM, -5000, 5000, " m")
}

// diagonalM is the diagonal of the bounding box of points, metres.
func diagonalM(points []Point) float64 {
	minX, maxX := math.Inf(1), math.Inf(-1)
	minY, maxY := math.Inf(1), math.Inf(-1)
	for _, p := range points {
		minX, maxX = min(minX, p.XM), max(maxX, p.XM)
		minY, maxY = min(minY, p.YM), max(maxY, p.YM)
	}
	return math.Hypot(maxX-minX, maxY-minY)
}
