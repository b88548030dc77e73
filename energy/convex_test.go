package energy

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestConvexParts(t *testing.T) {
	for _, c := range []struct {
		name  string
		ring  []pt
		parts int // 0 refused
		area  float64
	}{
		{"square", []pt{{0, 0}, {2, 0}, {2, 2}, {0, 2}}, 1, 4},
		{"square, clockwise", []pt{{0, 2}, {2, 2}, {2, 0}, {0, 0}}, 1, 4},
		//  +--+
		//  |  +--+
		//  +-----+
		{"L", []pt{{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}, 2, 3},
		{"U", []pt{{0, 0}, {3, 0}, {3, 2}, {2, 2}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}, 3, 5},
		{"corner on an edge", []pt{{0, 0}, {1, 0}, {2, 0}, {2, 2}, {0, 2}}, 1, 4},
		{"line", []pt{{0, 0}, {1, 0}, {2, 0}}, 0, 0},
		{"bow tie", []pt{{0, 0}, {2, 2}, {2, 0}, {0, 2}}, 0, 0},
		{"star, twice round", []pt{{1, 0}, {-0.8, 0.6}, {0.3, -0.95}, {0.3, 0.95}, {-0.8, -0.6}}, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			parts := convexParts(c.ring)
			if len(parts) != c.parts && !(c.parts == 3 && len(parts) > 3) {
				t.Fatalf("%d parts, want %d: %v", len(parts), c.parts, parts)
			}
			var area float64
			for _, p := range parts {
				if !isConvex(p) {
					t.Errorf("%v is not convex", p)
				}
				area += areaOf(p)
			}
			near(t, "area", area, c.area, 1e-12)
		})
	}
}

// A comb of random teeth keeps its area when cut up.
func TestConvexPartsKeepTheArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := []pt{{0, 0}}
		n := rapid.IntRange(1, 8).Draw(t, "teeth")
		ring = append(ring, pt{float64(n), 0})
		for i := n; i > 0; i-- {
			a := rapid.Float64Range(0.5, 3).Draw(t, "left")
			b := rapid.Float64Range(0.5, 3).Draw(t, "right")
			ring = append(ring, pt{float64(i), a}, pt{float64(i) - 0.6, b})
		}
		ring = append(ring, pt{0, 1})
		var area float64
		for _, p := range convexParts(ring) {
			area += areaOf(p)
		}
		if want := areaOf(ring); math.Abs(area-want) > 1e-9 {
			t.Fatalf("%g of %g in %v", area, want, ring)
		}
	})
}

func TestHullAndClip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var points []pt
		for range rapid.IntRange(1, 20).Draw(t, "n") {
			points = append(points, pt{rapid.Float64Range(-5, 5).Draw(t, "u"), rapid.Float64Range(-5, 5).Draw(t, "v")})
		}
		h := hull(points, nil)
		if len(h) < 3 {
			return
		}
		if areaOf(h) <= 0 {
			t.Fatalf("hull runs the wrong way: %v", h)
		}
		for _, p := range points {
			for i := range h {
				if cross(h[i], h[(i+1)%len(h)], p) < -1e-9 {
					t.Fatalf("%v lies outside %v", p, h)
				}
			}
		}
		// Left and right of a line add up to the whole.
		x := rapid.Float64Range(-4, 4).Draw(t, "cut")
		left := box{-9, -9, x, 9}.ring()
		right := box{x, -9, 9, 9}.ring()
		a, _, _ := clipTo(h, left[:], nil, nil)
		b, _, _ := clipTo(h, right[:], nil, nil)
		if got := areaOf(a) + areaOf(b); math.Abs(got-areaOf(h)) > 1e-9 {
			t.Fatalf("%g of %g", got, areaOf(h))
		}
	})
}
