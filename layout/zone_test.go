package layout

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// inside reports whether p lies in a ring; points on the outline may go either
// way.
func (r Ring) inside(p SlopePt) bool {
	in := false
	for i, a := range r {
		b := r[(i+1)%len(r)]
		if (a.VM > p.VM) != (b.VM > p.VM) && p.UM < a.UM+(p.VM-a.VM)/(b.VM-a.VM)*(b.UM-a.UM) {
			in = !in
		}
	}
	return in
}

func insideAny(rings []Ring, p SlopePt) bool {
	for _, r := range rings {
		if r.inside(p) {
			return true
		}
	}
	return false
}

// nearest is the point of the segment ab nearest to p, and its distance.
func nearest(p, a, b SlopePt) (SlopePt, float64) {
	du, dv := b.UM-a.UM, b.VM-a.VM
	t := ((p.UM-a.UM)*du + (p.VM-a.VM)*dv) / (du*du + dv*dv)
	t = max(0, min(1, t))
	q := SlopePt{a.UM + t*du, a.VM + t*dv}
	return q, math.Hypot(p.UM-q.UM, p.VM-q.VM)
}

// shoelace is the area of a slope ring.
func (r Ring) shoelace() float64 {
	var twice float64
	for i, a := range r {
		b := r[(i+1)%len(r)]
		twice += a.UM*b.VM - a.VM*b.UM
	}
	return twice / 2
}

// starGen draws a simple counter-clockwise ring around (10, 10).
func starGen(rt *rapid.T, lo float64) Ring {
	n := rapid.IntRange(4, 9).Draw(rt, "n") // from 4 on no gap is over 180 degrees
	ring := make(Ring, n)
	for i := range ring {
		r := rapid.Float64Range(lo, 8).Draw(rt, "r")
		a := (float64(i) + rapid.Float64Range(0, 0.7).Draw(rt, "a")) * 2 * math.Pi / float64(n)
		ring[i] = SlopePt{10 + r*math.Cos(a), 10 + r*math.Sin(a)}
	}
	return ring
}

// Every point that sees an edge from nearer than its distance is taken, and no
// point beyond the distance of every edge by more than the rounding.
func TestBandsTakeWhatIsNear(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		ring := starGen(rt, 2)
		distM := make([]float64, len(ring))
		for i := range distM {
			distM[i] = rapid.SampledFrom([]float64{0, 0.3, 0.457, 0.914, 3}).Draw(rt, "d")
		}
		zones := bands(ring, distM)
		for range 200 {
			p := SlopePt{rapid.Float64Range(2, 18).Draw(rt, "u"), rapid.Float64Range(2, 18).Draw(rt, "v")}
			if !ring.inside(p) {
				continue
			}
			must, may := false, false
			for i, a := range ring {
				q, d := nearest(p, a, ring[(i+1)%len(ring)])
				may = may || d <= distM[i]+roundExcessM+1e-9
				must = must || d < distM[i]-1e-9 && sees(ring, p, q)
			}
			got := insideAny(zones, p)
			if got && !may || !got && must {
				rt.Fatalf("ring %v, distances %v: point %v: taken %v, must %v, may %v", ring, distM, p, got, must, may)
			}
		}
	})
}

// sees reports whether the way from p to q on the outline stays inside.
func sees(ring Ring, p, q SlopePt) bool {
	for k := 1; k < 200; k++ {
		f := float64(k) / 200
		if !ring.inside(SlopePt{p.UM + f*(q.UM-p.UM), p.VM + f*(q.VM-p.VM)}) {
			return false
		}
	}
	return true
}

// A convex ring grown by r holds what is nearer than r and nothing beyond it
// by more than the rounding.
func TestGrownConvex(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(rt, "n")
		ring := make(Ring, n)
		for i := range ring {
			a := (float64(i) + rapid.Float64Range(0, 0.7).Draw(rt, "a")) * 2 * math.Pi / float64(n)
			ring[i] = SlopePt{10 + 3*math.Cos(a), 10 + 5*math.Sin(a)} // on an ellipse, so convex
		}
		r := rapid.SampledFrom([]float64{0, 0.0005, 0.05, 0.3, 1, 4}).Draw(rt, "r")
		grown := grownConvex(ring, r)
		for range 200 {
			p := SlopePt{rapid.Float64Range(0, 20).Draw(rt, "u"), rapid.Float64Range(0, 20).Draw(rt, "v")}
			d := math.Inf(1)
			for i, a := range ring {
				_, di := nearest(p, a, ring[(i+1)%n])
				d = min(d, di)
			}
			if ring.inside(p) {
				d = 0
			}
			got := grown.inside(p)
			if !got && d < r-1e-9 || got && d > r+roundExcessM+1e-9 {
				rt.Fatalf("ring %v grown by %v: point %v at %v: inside %v", ring, r, p, d, got)
			}
		}
	})
}

// Square corners stay square: no zone along a rectangle's edges is more than
// a rectangle.
func TestBandsOfARectangle(t *testing.T) {
	ring := box{0, 0, 10, 6}.ring()
	want := []box{
		{0, -outsideM, 10, 0.3}, {9.7, 0, 10 + outsideM, 6}, {0, 5.7, 10, 6 + outsideM}, {-outsideM, 0, 0.3, 6},
	}
	zones := bands(ring, []float64{0.3, 0.3, 0.3, 0.3})
	if len(zones) != 4 {
		t.Fatalf("%d zones", len(zones))
	}
	for i, z := range zones {
		b := boundsOf(z)
		if len(z) != 4 || !near(b.u0, want[i].u0, 1e-9) || !near(b.v0, want[i].v0, 1e-9) ||
			!near(b.u1, want[i].u1, 1e-9) || !near(b.v1, want[i].v1, 1e-9) {
			t.Errorf("zone %d: %v, want %v", i, z, want[i])
		}
	}
}

// Blunt corners between equal distances need no round part.
func TestBandsOfAHexagon(t *testing.T) {
	ring := make(Ring, 6)
	for i := range ring {
		ring[i] = SlopePt{}.plus(5, rotated(SlopePt{1, 0}, float64(i)*math.Pi/3))
	}
	for i, z := range bands(ring, []float64{1, 1, 1, 1, 1, 1}) {
		if len(z) != 4 {
			t.Errorf("zone %d has %d corners", i, len(z))
		}
	}
}

// A grown square has few corners: 4 quarter circles.
func TestGrownCorners(t *testing.T) {
	for _, tc := range []struct {
		r       float64
		corners int // in all
	}{{0, 4}, {0.1, 4 * 6}, {0.3, 4 * 10}, {1, 4 * 18}} {
		if got := len(grownConvex(box{0, 0, 1, 1}.ring(), tc.r)); got != tc.corners {
			t.Errorf("grown by %v: %d corners, want %d", tc.r, got, tc.corners)
		}
	}
}
