package layout

import "math"

// This file draws the zones that setbacks and clearances take away, as
// polygons in a slope frame. A round part becomes the polygon of its tangents:
// it never takes less than the true distance, and at most roundExcessM more.

func (p SlopePt) plus(k float64, d SlopePt) SlopePt {
	return SlopePt{p.UM + float64(k*d.UM), p.VM + float64(k*d.VM)}
}

// leftOf is d turned a quarter to the left.
func leftOf(d SlopePt) SlopePt { return SlopePt{-d.VM, d.UM} }

// heading is the unit vector from a to b and their distance.
func heading(a, b SlopePt) (SlopePt, float64) {
	l := math.Hypot(b.UM-a.UM, b.VM-a.VM)
	return SlopePt{(b.UM - a.UM) / l, (b.VM - a.VM) / l}, l
}

// turnRad is the turn from heading d to heading e, left positive.
func turnRad(d, e SlopePt) float64 {
	return math.Atan2(float64(d.UM*e.VM)-float64(d.VM*e.UM), float64(d.UM*e.UM)+float64(d.VM*e.VM))
}

// tangentStepRad is the largest angle between neighbouring tangents whose
// corner stays within roundExcessM of a circle of radius r.
func tangentStepRad(r float64) float64 {
	return min(2*math.Acos(r/(r+roundExcessM)), math.Pi/4)
}

// tangentArc appends the corners between the tangents of a circle about c,
// from the direction of unit vector d on through sweepRad (left positive). The
// first and last tangent points are not corners: straight sides go on there.
func tangentArc(ring Ring, c, d SlopePt, r, sweepRad float64) Ring {
	// The slack keeps a sweep of exactly n steps from taking n + 1.
	n := max(1, int(math.Ceil(math.Abs(sweepRad)/tangentStepRad(r)-1e-9)))
	half := sweepRad / float64(2*n)
	for i := range n {
		ring = append(ring, c.plus(r/math.Cos(half), rotated(d, half*float64(2*i+1))))
	}
	return ring
}

// rotated turns d to the left.
func rotated(d SlopePt, rad float64) SlopePt {
	s, c := math.Sincos(rad)
	return SlopePt{float64(c*d.UM) - float64(s*d.VM), float64(s*d.UM) + float64(c*d.VM)}
}

// grownConvex is a convex counter-clockwise ring grown by distance r.
func grownConvex(ring Ring, r float64) Ring {
	if r <= 0 {
		return ring
	}
	var out Ring
	n := len(ring)
	for i, p := range ring {
		in, _ := heading(ring[(i+n-1)%n], p)
		d, _ := heading(p, ring[(i+1)%n])
		outward := SlopePt{in.VM, -in.UM}
		out = tangentArc(out, p, outward, r, max(0, turnRad(in, d)))
	}
	return out
}

// bands returns, for each edge of a ring that has a distance, the zone of all
// points to the left of the ring that are nearer to the edge than that. Edge i
// leaves ring[i]; distM[i] is its distance, 0 for no zone.
//
// Between them the zones take exactly what is near an edge on its left side:
// beyond the ends of an edge a round part is added only where the neighbour's
// own zone does not take at least as much, so that square corners stay square.
func bands(ring Ring, distM []float64) []Ring {
	var out []Ring
	n := len(ring)
	for i, a := range ring {
		if distM[i] <= 0 {
			continue
		}
		before, after := (i+n-1)%n, (i+1)%n
		b := ring[after]
		d, _ := heading(a, b)
		din, _ := heading(ring[before], a)
		dout, _ := heading(b, ring[(after+1)%n])
		start := endSweepRad(distM[i], distM[before], turnRad(din, d))
		end := endSweepRad(distM[i], distM[after], turnRad(d, dout))
		if distM[i] == distM[after] {
			// A reflex corner between equal distances: one of the two zones
			// takes the round part, this one.
			end = sweepWorth(-turnRad(d, dout), distM[i])
		}
		out = append(out, band(a, b, d, distM[i], start, end))
	}
	return out
}

// endSweepRad is how far round an edge's end its zone must reach: up to the
// next edge, where that keeps a smaller distance; 0 where it need not.
func endSweepRad(ownM, nextM, turn float64) float64 {
	if ownM <= nextM {
		return 0
	}
	return sweepWorth(min(math.Pi/2-turn, math.Pi), ownM)
}

// sweepWorth is the sweep and a little more, about outsideM at the radius, so
// that the round part overlaps what it ends at; or 0 where the sweep is none or
// its arc less than half a micrometre: the last digits of a square corner.
func sweepWorth(sweepRad, r float64) float64 {
	if sweepRad*r < halfMicroM {
		return 0
	}
	return sweepRad + min(outsideM/r, 0.1)
}

// band is the zone within r to the left of the edge from a to b with heading
// d, carried on round its ends by the given sweeps. At an end without a round
// part it also reaches outsideM to the right.
func band(a, b, d SlopePt, r, startRad, endRad float64) Ring {
	left := leftOf(d)
	var ring Ring
	if startRad == 0 {
		ring = append(ring, a.plus(-outsideM, left))
	} else {
		ring = append(ring, a)
	}
	if endRad == 0 {
		ring = append(ring, b.plus(-outsideM, left), b.plus(r, left))
	} else {
		from := rotated(left, -endRad)
		ring = append(ring, b, b.plus(r, from))
		ring = tangentArc(ring, b, from, r, endRad)
	}
	if startRad == 0 {
		return append(ring, a.plus(r, left))
	}
	ring = tangentArc(ring, a, left, r, startRad)
	return append(ring, a.plus(r, rotated(left, startRad)))
}

// box is an upright rectangle in a slope frame.
type box struct{ u0, v0, u1, v1 float64 }

func boundsOf(ring Ring) box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range ring {
		b = box{min(b.u0, p.UM), min(b.v0, p.VM), max(b.u1, p.UM), max(b.v1, p.VM)}
	}
	return b
}

// meets reports whether the insides of two boxes have a point in common.
func (b box) meets(o box) bool {
	return b.u0 < o.u1 && o.u0 < b.u1 && b.v0 < o.v1 && o.v0 < b.v1
}

// ring is the box as a counter-clockwise ring.
func (b box) ring() Ring {
	return Ring{{b.u0, b.v0}, {b.u1, b.v0}, {b.u1, b.v1}, {b.u0, b.v1}}
}
