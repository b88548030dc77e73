package layout

import "math"

// The scale of [PlaceValue].
const (
	// farM is from where on a place gains nothing by being farther from shade.
	farM = 100.0
	// valueStepM is how finely distances count: a centimetre is no reason for
	// one more block.
	valueStepM = 0.01
	// facingStep is the value of one tier of facing, far above that of any
	// distance; shadeCost is that of staying out of last-resort shade, far
	// above that of any facing.
	facingStep = 1000.0
	shadeCost  = 100_000.0
)

// PlaceValue is the value of a position for [Choose] as long as yields are not
// known: its distance from shade in metres, rounded to a centimetre and at most
// 100; plus 1000 for each tier by which its plane faces the noon sun more squarely
// (tiers from -20 to 20, others count as the nearest); less 100 000 if it reaches
// into last-resort shade. So no distance makes up for a tier on a single position,
// and no tier for shade; over several positions the sums decide. A distance of
// +Inf, for no shade anywhere, counts as 100; NaN and below 0 as 0.
func PlaceValue(distanceM float64, facingTier int, inShade bool) float64 {
	v := 0.0
	if distanceM > 0 {
		v = math.Round(min(distanceM, farM)/valueStepM) * valueStepM
	}
	v += float64(facingStep * float64(min(max(facingTier, -20), 20)))
	if inShade {
		v -= shadeCost
	}
	return v
}

// DistanceFrom is the distance of a module from the nearest of some rings, such
// as the zones of shade, in metres in the slope frame; 0 where it touches or
// overlaps one, +Inf without rings. The inside of a ring that crosses itself is
// what it winds around. A ring of one or two points is a point or a line, one of
// none is ignored. It is exact but for the rounding of float64.
func DistanceFrom(r Rect, rings []Ring) float64 {
	nearest := math.Inf(1)
	for _, ring := range rings {
		for i, q := range ring {
			p := ring[(i+len(ring)-1)%len(ring)]
			nearest = min(nearest, distanceFromEdge(r, p, q))
		}
		if nearest == 0 || len(ring) > 0 && windsAround(ring, r.UM, r.VM) {
			return 0
		}
	}
	return nearest
}

// distanceFromEdge is the distance of a rectangle from a line from p to q. It is
// taken at an end of the line or at a corner of the rectangle, or they meet.
func distanceFromEdge(r Rect, p, q SlopePt) float64 {
	if meetsEdge(r, p, q) {
		return 0
	}
	d := min(distanceFromPoint(r, p), distanceFromPoint(r, q))
	for _, c := range [4]SlopePt{{r.UM, r.VM}, {r.UM + r.WM, r.VM}, {r.UM, r.VM + r.HM}, {r.UM + r.WM, r.VM + r.HM}} {
		d = min(d, pointToEdge(c, p, q))
	}
	return d
}

// distanceFromPoint is the distance of a rectangle from a point, 0 inside.
func distanceFromPoint(r Rect, p SlopePt) float64 {
	du := max(r.UM-p.UM, 0, p.UM-(r.UM+r.WM))
	dv := max(r.VM-p.VM, 0, p.VM-(r.VM+r.HM))
	return math.Hypot(du, dv)
}

// pointToEdge is the distance of c from the line from p to q.
func pointToEdge(c, p, q SlopePt) float64 {
	du, dv := q.UM-p.UM, q.VM-p.VM
	at := 0.0
	if length2 := float64(du*du) + float64(dv*dv); length2 > 0 {
		at = (float64((c.UM-p.UM)*du) + float64((c.VM-p.VM)*dv)) / length2
		at = min(max(at, 0), 1)
	}
	return math.Hypot(c.UM-(p.UM+float64(at*du)), c.VM-(p.VM+float64(at*dv)))
}

// meetsEdge reports whether a rectangle and the line from p to q have a point in
// common: their boxes meet, and not all corners lie on one side of the line.
func meetsEdge(r Rect, p, q SlopePt) bool {
	right, top := r.UM+r.WM, r.VM+r.HM
	if max(p.UM, q.UM) < r.UM || min(p.UM, q.UM) > right || max(p.VM, q.VM) < r.VM || min(p.VM, q.VM) > top {
		return false
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range [4]SlopePt{{r.UM, r.VM}, {right, r.VM}, {r.UM, top}, {right, top}} {
		side := float64((q.UM-p.UM)*(c.VM-p.VM)) - float64((q.VM-p.VM)*(c.UM-p.UM))
		low, high = min(low, side), max(high, side)
	}
	return low <= 0 && high >= 0
}

// windsAround reports whether a ring winds around a point that is not on it.
func windsAround(ring Ring, u, v float64) bool {
	winds := 0
	for i, q := range ring {
		p := ring[(i+len(ring)-1)%len(ring)]
		if (p.VM <= v) == (q.VM <= v) {
			continue
		}
		left := float64((q.UM-p.UM)*(v-p.VM))-float64((q.VM-p.VM)*(u-p.UM)) > 0
		switch {
		case q.VM > v && left:
			winds++
		case q.VM <= v && !left:
			winds--
		}
	}
	return winds != 0
}
