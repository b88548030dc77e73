package layout

import (
	"math"
	"math/bits"
	"slices"
)

// CheckRing says whether a plan ring is fit to be an outline: at least three
// corners, every coordinate a number within 5000 m of the origin, no corner
// twice, no spike (an edge that runs back along the one before), no two edges
// that cross or touch, and some area. A corner in the middle of a straight run
// is allowed; so are both directions. The answer is exact for the corners
// rounded to micrometres. The error is a *[ShapeError] that names the first
// offending vertex.
func CheckRing(ring []PlanPt) error {
	if err := checkCorners(ring); err != nil {
		return err
	}
	pts := microPts(ring)
	if allInLine(pts) {
		return &ShapeError{Ring: planRingName, Vertex: 0, Rule: "encloses no area: all corners lie on one line"}
	}
	// A repeated corner and a spike also make edges touch: the plainer rule is
	// looked for first.
	for _, rule := range ringRules() {
		for i := range pts {
			if rule.broken(pts, i) {
				return &ShapeError{Ring: planRingName, Vertex: i, Rule: rule.words}
			}
		}
	}
	return nil
}

// checkCorners is the part of [CheckRing] that looks at each corner alone.
func checkCorners(ring []PlanPt) error {
	if len(ring) < 3 {
		return &ShapeError{Ring: planRingName, Vertex: -1, Rule: "has fewer than 3 corners"}
	}
	for i, p := range ring {
		if !(math.Abs(p.XM) <= coordMaxM && math.Abs(p.YM) <= coordMaxM) {
			return &ShapeError{Ring: planRingName, Vertex: i, Rule: "coordinate is not a number from -5000 to 5000 m"}
		}
	}
	return nil
}

// planRingName is what errors call a ring of plan points.
const planRingName = "ring"

// ringRule is a rule that corner i, or the edge that leaves it, can break.
type ringRule struct {
	words  string
	broken func(pts []microPt, i int) bool
}

func ringRules() []ringRule {
	return []ringRule{
		{"repeats an earlier corner", repeatsCorner},
		{"is a spike: its two edges run over each other", isSpike},
		{"leaves by an edge that crosses or touches another", crossesLater},
	}
}

func repeatsCorner(pts []microPt, i int) bool {
	return slices.Contains(pts[:i], pts[i])
}

func isSpike(pts []microPt, i int) bool {
	n := len(pts)
	return runsBack(pts[(i+n-1)%n], pts[i], pts[(i+1)%n])
}

// crossesLater reports whether the edge that leaves corner i meets a later one
// that is not its neighbour.
func crossesLater(pts []microPt, i int) bool {
	n := len(pts)
	for j := i + 2; j < n; j++ {
		neighbours := i == 0 && j == n-1
		if !neighbours && segmentsMeet(pts[i], pts[i+1], pts[j], pts[(j+1)%n]) {
			return true
		}
	}
	return false
}

// microPt is a point in whole micrometres. Within coordMaxM a difference
// stays below 2^34, so that differences are exact and their products fit the
// 128 bits of [crossSign].
type microPt struct{ x, y int64 }

func microPts(ring []PlanPt) []microPt {
	pts := make([]microPt, len(ring))
	for i, p := range ring {
		pts[i] = toMicro(p)
	}
	return pts
}

func toMicro(p PlanPt) microPt { return roundMicro(p.XM, p.YM) }

// microPts is the ring in whole micrometres of the slope frame.
func (r Ring) microPts() []microPt {
	pts := make([]microPt, len(r))
	for i, p := range r {
		pts[i] = roundMicro(p.UM, p.VM)
	}
	return pts
}

func roundMicro(xM, yM float64) microPt {
	return microPt{int64(math.Round(xM * 1e6)), int64(math.Round(yM * 1e6))}
}

// turnSign is the sign of the turn from a over b to c: 1 left, -1 right, 0
// straight on or back. Exact.
func turnSign(a, b, c microPt) int {
	return crossSign(b.x-a.x, b.y-a.y, c.x-a.x, c.y-a.y)
}

// crossSign is the sign of ax*by - ay*bx, exact for all int64.
func crossSign(ax, ay, bx, by int64) int {
	hi1, lo1 := mul128(ax, by)
	hi2, lo2 := mul128(ay, bx)
	switch {
	case hi1 != hi2:
		return sign(hi1 > hi2)
	case lo1 != lo2:
		return sign(lo1 > lo2)
	}
	return 0
}

func sign(positive bool) int {
	if positive {
		return 1
	}
	return -1
}

// mul128 is the signed product of a and b in two halves.
func mul128(a, b int64) (hi int64, lo uint64) {
	h, lo := bits.Mul64(uint64(a), uint64(b))
	if a < 0 {
		h -= uint64(b)
	}
	if b < 0 {
		h -= uint64(a)
	}
	return int64(h), lo
}

// runsBack reports whether the edge from a to b starts back along the edge
// from prev to a.
func runsBack(prev, a, b microPt) bool {
	if turnSign(prev, a, b) != 0 {
		return false
	}
	sameWay := func(p, q int64) bool { return p > 0 && q > 0 || p < 0 && q < 0 }
	return sameWay(prev.x-a.x, b.x-a.x) || sameWay(prev.y-a.y, b.y-a.y)
}

// segmentsMeet reports whether the closed segments ab and cd have a point in
// common. Exact.
func segmentsMeet(a, b, c, d microPt) bool {
	if max(a.x, b.x) < min(c.x, d.x) || max(c.x, d.x) < min(a.x, b.x) ||
		max(a.y, b.y) < min(c.y, d.y) || max(c.y, d.y) < min(a.y, b.y) {
		return false
	}
	// With boxes that meet, straddling or touching both ways is meeting.
	return turnSign(a, b, c)*turnSign(a, b, d) <= 0 && turnSign(c, d, a)*turnSign(c, d, b) <= 0
}

// allInLine reports whether all points lie on one line.
func allInLine(pts []microPt) bool {
	far := pts[0]
	for _, p := range pts {
		if far == pts[0] {
			far = p
		}
		if turnSign(pts[0], far, p) != 0 {
			return false
		}
	}
	return true
}

// isConvex reports whether a simple ring turns only one way; straight corners
// are allowed. Exact.
func isConvex(pts []microPt) bool {
	n, seen := len(pts), 0
	for i := range pts {
		t := turnSign(pts[i], pts[(i+1)%n], pts[(i+2)%n])
		if t*seen < 0 {
			return false
		}
		if t != 0 {
			seen = t
		}
	}
	return true
}

// holdsPoint reports whether p lies in or on the ring. Exact.
func holdsPoint(pts []microPt, p microPt) bool {
	inside := false
	for i, b := range pts {
		a := pts[(i+len(pts)-1)%len(pts)]
		if a.y > b.y {
			a, b = b, a
		}
		t := turnSign(a, b, p)
		if t == 0 && p.x >= min(a.x, b.x) && p.x <= max(a.x, b.x) && p.y >= a.y && p.y <= b.y {
			return true
		}
		// Half-open in y, so that a ray through a corner counts it once.
		if a.y <= p.y && p.y < b.y && t > 0 {
			inside = !inside
		}
	}
	return inside
}

// ringsMeet reports whether two rings, their insides included, have a point in
// common. Exact.
func ringsMeet(a, b []microPt) bool {
	if holdsPoint(a, b[0]) || holdsPoint(b, a[0]) {
		return true
	}
	for i, p := range a {
		for j, q := range b {
			if segmentsMeet(p, a[(i+1)%len(a)], q, b[(j+1)%len(b)]) {
				return true
			}
		}
	}
	return false
}

// signedAreaM2 is the area of a plan ring, positive when it runs
// counter-clockwise seen with y up. Sums start at the first corner, so that a
// roof far from the origin keeps its digits.
func signedAreaM2(ring []PlanPt) float64 {
	var twice float64
	for i := 1; i+1 < len(ring); i++ {
		ax, ay := ring[i].XM-ring[0].XM, ring[i].YM-ring[0].YM
		bx, by := ring[i+1].XM-ring[0].XM, ring[i+1].YM-ring[0].YM
		twice += float64(ax*by) - float64(ay*bx)
	}
	return twice / 2
}
