package energy

import (
	"math"
	"slices"
)

// pt is a point of a slope frame or of plan, metres. Rings of pts run
// counter-clockwise with the second axis up.
type pt struct{ u, v float64 }

// cross is twice the signed area of the triangle a, b, c.
func cross(a, b, c pt) float64 {
	return (b.u-a.u)*(c.v-a.v) - (b.v-a.v)*(c.u-a.u)
}

// areaOf is the signed area of a ring, positive counter-clockwise; 0 for fewer
// than three points.
func areaOf(ring []pt) float64 {
	var twice float64
	for i := 2; i < len(ring); i++ {
		twice += cross(ring[0], ring[i-1], ring[i])
	}
	return twice / 2
}

// box is an axis-parallel rectangle.
type box struct{ lowU, lowV, highU, highV float64 }

func emptyBox() box {
	return box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
}

func (b box) with(p pt) box {
	return box{min(b.lowU, p.u), min(b.lowV, p.v), max(b.highU, p.u), max(b.highV, p.v)}
}

// meets reports whether two boxes share inner points.
func (b box) meets(c box) bool {
	return b.lowU < c.highU && c.lowU < b.highU && b.lowV < c.highV && c.lowV < b.highV
}

func (b box) ring() [4]pt {
	return [4]pt{{b.lowU, b.lowV}, {b.highU, b.lowV}, {b.highU, b.highV}, {b.lowU, b.highV}}
}

func (b box) area() float64 { return (b.highU - b.lowU) * (b.highV - b.lowV) }

// hull puts the convex hull of points into out (emptied first) and returns it,
// counter-clockwise, without points on its edges. It sorts points in place.
// Fewer than three corners mean no area. Andrew's monotone chain.
func hull(points, out []pt) []pt {
	slices.SortFunc(points, func(a, b pt) int {
		switch {
		case a.u < b.u || a.u == b.u && a.v < b.v:
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	out = out[:0]
	for _, p := range points {
		for len(out) >= 2 && cross(out[len(out)-2], out[len(out)-1], p) <= 0 {
			out = out[:len(out)-1]
		}
		out = append(out, p)
	}
	lower := len(out) + 1
	for i := len(points) - 2; i >= 0; i-- {
		for len(out) >= lower && cross(out[len(out)-2], out[len(out)-1], points[i]) <= 0 {
			out = out[:len(out)-1]
		}
		out = append(out, points[i])
	}
	if len(out) > 1 {
		out = out[:len(out)-1] // the first point again
	}
	return out
}

// clipTo puts the part of a convex ring inside a convex counter-clockwise
// window into out, using spare as scratch, and returns it and the two buffers
// for the next call. Sutherland and Hodgman 1974.
func clipTo(ring, window, out, spare []pt) (clipped, restOut, restSpare []pt) {
	out = append(out[:0], ring...)
	for i := range window {
		a, b := window[i], window[(i+1)%len(window)]
		spare = clipHalf(out, a, b, spare[:0])
		out, spare = spare, out
		if len(out) < 3 {
			return nil, out, spare
		}
	}
	return out, out, spare
}

// clipHalf appends to out the part of a ring left of the line from a to b.
func clipHalf(ring []pt, a, b pt, out []pt) []pt {
	last := ring[len(ring)-1]
	lastSide := cross(a, b, last)
	for _, p := range ring {
		side := cross(a, b, p)
		if (side > 0) != (lastSide > 0) && side != 0 && lastSide != 0 {
			k := lastSide / (lastSide - side)
			out = append(out, pt{last.u + k*(p.u-last.u), last.v + k*(p.v-last.v)})
		}
		if side >= 0 {
			out = append(out, p)
		}
		last, lastSide = p, side
	}
	return out
}

// convexParts cuts a simple ring (either direction) into convex
// counter-clockwise rings: ears first (Meisters 1975), then neighbours are
// joined where the join is convex (Hertel and Mehlhorn 1983). It returns nil
// for a ring that crosses itself or has no area.
func convexParts(ring []pt) [][]pt {
	ring = slices.Clone(ring)
	if areaOf(ring) < 0 {
		slices.Reverse(ring)
	}
	if !(areaOf(ring) > 0) {
		return nil
	}
	if isConvex(ring) {
		return [][]pt{ring}
	}
	parts := ears(ring)
	var area float64
	for _, p := range parts {
		area += areaOf(p)
	}
	// The parts of a ring that crosses itself do not add up to it.
	if math.Abs(area-areaOf(ring)) > 1e-9*areaOf(ring) {
		return nil
	}
	for i := 0; i < len(parts); i++ {
		for k := i + 1; k < len(parts); k++ {
			if joined := joinConvex(parts[i], parts[k]); joined != nil {
				parts[i] = joined
				parts = slices.Delete(parts, k, k+1)
				k = i // the grown part may take what it could not before
			}
		}
	}
	return parts
}

func isConvex(ring []pt) bool {
	n := len(ring)
	var turn float64
	for i := range ring {
		a, b, c := ring[i], ring[(i+1)%n], ring[(i+2)%n]
		if cross(a, b, c) < 0 {
			return false
		}
		turn += math.Atan2(cross(a, b, c), (b.u-a.u)*(c.u-b.u)+(b.v-a.v)*(c.v-b.v))
	}
	return turn < 7 // once round is 6.28; a star goes round twice
}

// ears cuts a counter-clockwise simple ring into triangles; nil if no ear is
// left, which means that the ring crosses itself.
func ears(ring []pt) [][]pt {
	left := slices.Clone(ring)
	var out [][]pt
	for len(left) > 3 {
		i := firstEar(left)
		if i < 0 {
			return nil
		}
		n := len(left)
		if t := []pt{left[(i+n-1)%n], left[i], left[(i+1)%n]}; areaOf(t) > 0 {
			out = append(out, t)
		}
		left = slices.Delete(left, i, i+1)
	}
	if areaOf(left) > 0 {
		out = append(out, left)
	}
	return out
}

func firstEar(ring []pt) int {
	n := len(ring)
	for i := range ring {
		a, b, c := ring[(i+n-1)%n], ring[i], ring[(i+1)%n]
		if cross(a, b, c) < 0 {
			continue
		}
		empty := true
		for _, p := range ring {
			if p != a && p != b && p != c && cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0 {
				empty = false
				break
			}
		}
		if empty {
			return i
		}
	}
	return -1
}

// joinConvex joins two convex rings along a shared edge, nil if they share none
// or the join is not convex.
func joinConvex(a, b []pt) []pt {
	for i := range a {
		for k := range b {
			if a[i] != b[(k+1)%len(b)] || a[(i+1)%len(a)] != b[k] {
				continue
			}
			joined := make([]pt, 0, len(a)+len(b)-2)
			for s := 1; s <= len(a); s++ {
				joined = append(joined, a[(i+s)%len(a)])
			}
			for s := 2; s < len(b); s++ {
				joined = append(joined, b[(k+s)%len(b)])
			}
			if isConvex(joined) {
				return joined
			}
			return nil
		}
	}
	return nil
}
