package layout

import (
	"math"
	"slices"
)

// Notes about the side of a path.
const (
	notePathUnpicked = "No street side picked: the path is put on the right, looking up the slope."
	notePathNoSide   = "The edge marked as street side lies along the eave and so has no left or right: the path goes by the other marked edges or, without any, on the right, looking up the slope."
	notePathTie      = "Both sides are equally near to the marked street side: the path is put on the right, looking up the slope."
)

// pathZone is the path kept free from eave to ridge on one plane: an upright
// band of the slope frame, over the plane's whole height, at one end of the
// top run (see [topRun]), over an eave (see [overEaves]). Where the top run is
// shorter than the path is wide, as over a hip end, the band lies centred
// under it, moved as far as needed to stay within the plane's width.
//
// The end is on the side of the plane's own street edges, by length where they
// disagree; else the one whose band lies nearer in plan to a street edge of
// another plane; else the right one. A street edge along the eave has no left
// or right.
func pathZone(plane int, f Frame, outer Ring, edges [][]Edge, widthM float64) (Zone, []string) {
	uMax := boundsOf(outer).u1
	r0, r1 := topRun(f, outer, edges[plane])
	left, right := overEaves(f, edges[plane], r0, r1, widthM)
	var notes []string
	if right < left {
		left = max(0, min((r0+r1-widthM)/2, uMax-widthM))
		right = left
	}
	u := right
	if left < right {
		var toRight bool
		toRight, notes = pathOnRight(plane, f, edges, left+widthM/2, right+widthM/2)
		if !toRight {
			u = left
		}
	}
	return Zone{WhyPath, box{u, -outsideM, u + widthM, f.vMax + outsideM}.ring()}, notes
}

// overEaves is where the band of a path may begin at the left-most and at the
// right-most so that it lies under the top run and over one of the plane's
// eaves in full: beside a valley the top run reaches further than the eave.
// Where no eave has room for it, only the top run counts.
func overEaves(f Frame, pieces []Edge, r0, r1, widthM float64) (left, right float64) {
	left, right = math.Inf(1), math.Inf(-1)
	for _, e := range pieces {
		if e.Kind != Eave {
			continue
		}
		a, b := f.ToSlope(e.From), f.ToSlope(e.To)
		lo, hi := max(r0, min(a.UM, b.UM)), min(r1, max(a.UM, b.UM))
		if hi-lo >= widthM-halfMicroM {
			left, right = min(left, lo), max(right, hi-widthM)
		}
	}
	if left > right {
		return r0, r1 - widthM
	}
	return left, right
}

// topRun is the extent in u of what a path must lead to: the plane's highest
// ridge piece, of equals the longest, then the leftmost; without a ridge, the
// corners at the plane's highest level.
func topRun(f Frame, outer Ring, pieces []Edge) (u0, u1 float64) {
	bestV := math.Inf(-1)
	for _, e := range pieces {
		if e.Kind != Ridge {
			continue
		}
		a, b := f.ToSlope(e.From), f.ToSlope(e.To)
		v, lo, hi := (a.VM+b.VM)/2, min(a.UM, b.UM), max(a.UM, b.UM)
		// Compared in bands, so that the last digits do not choose.
		level := math.Abs(v-bestV) <= topBandM
		longer := hi-lo > u1-u0+halfMicroM
		same := math.Abs(hi-lo-(u1-u0)) <= halfMicroM
		if !level && v > bestV || level && (longer || same && lo < u0) {
			bestV, u0, u1 = v, lo, hi
		}
	}
	if !math.IsInf(bestV, -1) {
		return u0, u1
	}
	u0, u1 = math.Inf(1), math.Inf(-1)
	for _, p := range outer {
		if p.VM >= f.vMax-topBandM {
			u0, u1 = min(u0, p.UM), max(u1, p.UM)
		}
	}
	return u0, u1
}

// pathOnRight picks the side of the path; left and right are the middles of
// the two bands in u.
func pathOnRight(plane int, f Frame, edges [][]Edge, left, right float64) (bool, []string) {
	lean, own := streetLean(f, edges[plane])
	if lean != 0 {
		return lean > 0, nil
	}
	var notes []string
	if own {
		notes = append(notes, notePathNoSide)
	}
	dLeft, dRight := math.Inf(1), math.Inf(1)
	for i, pieces := range edges {
		for _, e := range pieces {
			if i != plane && e.Street {
				dLeft = min(dLeft, uprightDistanceM(f, left, e))
				dRight = min(dRight, uprightDistanceM(f, right, e))
			}
		}
	}
	switch {
	case math.IsInf(dLeft, 1) && own:
		return true, notes
	case math.IsInf(dLeft, 1):
		return true, append(notes, notePathUnpicked)
	case math.Abs(dLeft-dRight) <= sideTieM:
		return true, append(notes, notePathTie)
	}
	return dRight < dLeft, notes
}

// streetLean adds up the street pieces of a plane: metres on the right less
// metres on the left, 0 where they cancel or have no side. own reports whether
// there is any street piece.
func streetLean(f Frame, pieces []Edge) (lean float64, own bool) {
	corners := make([]PlanPt, len(pieces))
	for i, e := range pieces {
		corners[i] = e.From
	}
	outward := 1.0
	if signedAreaM2(corners) < 0 {
		outward = -1
	}
	for _, e := range pieces {
		if !e.Street {
			continue
		}
		own = true
		d, l := heading(f.ToSlope(e.From), f.ToSlope(e.To))
		if side := outward * d.VM; math.Abs(side) > math.Sin(alongEaveDeg*math.Pi/180) {
			lean += math.Copysign(l, side)
		}
	}
	if math.Abs(lean) <= sideTieM {
		lean = 0
	}
	return lean, own
}

// uprightDistanceM is the distance in plan between an edge and the line that
// runs up the whole slope at u.
func uprightDistanceM(f Frame, u float64, e Edge) float64 {
	a, b := f.ToPlan(SlopePt{u, 0}), f.ToPlan(SlopePt{u, f.vMax})
	if segmentsMeet(toMicro(a), toMicro(b), toMicro(e.From), toMicro(e.To)) {
		return 0
	}
	return slices.Min([]float64{
		pointToSegmentM(a, e.From, e.To), pointToSegmentM(b, e.From, e.To),
		pointToSegmentM(e.From, a, b), pointToSegmentM(e.To, a, b),
	})
}

// pointToSegmentM is the distance from p to the segment ab, a != b.
func pointToSegmentM(p, a, b PlanPt) float64 {
	d := PlanPt{b.XM - a.XM, b.YM - a.YM}
	t := dot(PlanPt{p.XM - a.XM, p.YM - a.YM}, d) / dot(d, d)
	t = max(0, min(1, t))
	return math.Hypot(p.XM-a.XM-float64(t*d.XM), p.YM-a.YM-float64(t*d.YM))
}
