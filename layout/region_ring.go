package layout

import (
	"cmp"
	"slices"
)

// cleanRing moves a ring to whole ticks from (ox, oy) and drops every point
// that does not change the covered area: repeats, points on a straight run,
// and the tips of spikes without width.
//
// A spike that has width, yet less than the grid tells apart, stays as a line
// to and fro: what it covers is lost to the engine, but no module may lie
// across it. What is left has three or more corners, two when the whole ring
// is such a spike, or none.
func cleanRing(ring Ring, ox, oy float64) []tickPt {
	out := make([]tickPt, 0, len(ring))
	for i, p := range ring {
		out = pushCorner(ring, out, tickPt{int64(toTicks(p.UM) - ox), int64(toTicks(p.VM) - oy), i})
	}
	for len(out) >= 3 {
		n := len(out)
		switch {
		case idle(ring, out[n-2], out[n-1], out[0]):
			out = out[:n-1]
		case idle(ring, out[n-1], out[0], out[1]):
			out = out[1:]
		default:
			return out
		}
	}
	if len(out) == 2 && ring.hasArea() {
		return out
	}
	return nil
}

// pushCorner appends p, first taking back corners that p shows to be none.
func pushCorner(ring Ring, out []tickPt, p tickPt) []tickPt {
	for n := len(out); n > 0; n = len(out) {
		if out[n-1].x == p.x && out[n-1].y == p.y {
			return out
		}
		if n < 2 || !idle(ring, out[n-2], out[n-1], p) {
			break
		}
		out = out[:n-1]
	}
	return append(out, p)
}

// idle reports whether b, between a and c, is no corner of the ring they come
// from: a point of a straight run, or the tip of a spike without width.
func idle(ring Ring, a, b, c tickPt) bool {
	if !straight(a, b, c) {
		return false
	}
	back := (b.x-a.x)*sign64(c.x-b.x) < 0 || (b.y-a.y)*sign64(c.y-b.y) < 0
	return !back || !Ring{ring[a.vertex], ring[b.vertex], ring[c.vertex]}.hasArea()
}

func sign64(v int64) int64 { return int64(cmp.Compare(v, 0)) }

// hasArea reports whether what a ring encloses, counted with its direction, is
// more than float64 noise.
func (r Ring) hasArea() bool {
	var twice float64
	for i := 1; i+1 < len(r); i++ {
		a, b := SlopePt{r[i].UM - r[0].UM, r[i].VM - r[0].VM}, SlopePt{r[i+1].UM - r[0].UM, r[i+1].VM - r[0].VM}
		twice += float64(a.UM*b.VM) - float64(a.VM*b.UM)
	}
	return abs(twice) > 2*flatTolM2
}

// straight reports exactly whether b is on the line through a and c, which
// makes b a point of a straight run or the tip of a spike without width. It is
// true when two neighbours are the same point.
func straight(a, b, c tickPt) bool {
	return crossSign(b.x-a.x, b.y-a.y, c.x-b.x, c.y-b.y) == 0
}

// selfCrossing finds two edges of a clean ring that cross by more than
// crossTicks and names the vertices they start from. Edges that touch or
// overlap do not cross.
func selfCrossing(ring []tickPt) (a, b int, crosses bool) {
	n := len(ring)
	byLeft := make([]int, n)
	for i := range byLeft {
		byLeft[i] = i
	}
	left := func(i int) int64 { return min(ring[i].x, ring[(i+1)%n].x) }
	slices.SortFunc(byLeft, func(i, j int) int {
		return cmp.Or(cmp.Compare(left(i), left(j)), cmp.Compare(i, j))
	})
	for k, i := range byLeft {
		p, q := ring[i], ring[(i+1)%n]
		right := max(p.x, q.x)
		for _, j := range byLeft[k+1:] {
			if left(j) >= right {
				break
			}
			if cross(p, q, ring[j], ring[(j+1)%n]) {
				return p.vertex, ring[j].vertex, true
			}
		}
	}
	return 0, 0, false
}

// cross reports whether the segments pq and rs pass through each other.
func cross(p, q, r, s tickPt) bool {
	if max(p.y, q.y) <= min(r.y, s.y) || max(r.y, s.y) <= min(p.y, q.y) {
		return false
	}
	return sideOfLine(p, q, r)*sideOfLine(p, q, s) < 0 && sideOfLine(r, s, p)*sideOfLine(r, s, q) < 0
}

// sideOfLine is 1 when c is left of the line from a to b, -1 when right, 0 when it
// is within about crossTicks of the line. The float64 error of the quotient is
// below 1e-5 ticks on a region of maxExtentM.
func sideOfLine(a, b, c tickPt) int {
	dx, dy := float64(b.x-a.x), float64(b.y-a.y)
	area := float64(dx*float64(c.y-a.y)) - float64(dy*float64(c.x-a.x))
	reach := float64(crossTicks * (abs(dx) + abs(dy)))
	switch {
	case area > reach:
		return 1
	case area < -reach:
		return -1
	}
	return 0
}

func abs(v float64) float64 { return max(v, -v) }
