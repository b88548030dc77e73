package layout

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestDistanceFrom(t *testing.T) {
	m := Rect{1, 1, 2, 1} // 1 to 3, 1 to 2
	square := func(u, v, side float64) Ring { return box{u, v, u + side, v + side}.ring() }
	for _, c := range []struct {
		name  string
		rings []Ring
		want  float64
	}{
		{"nothing", nil, math.Inf(1)},
		{"an empty ring", []Ring{{}}, math.Inf(1)},
		{"to the right", []Ring{square(5, 1.2, 0.5)}, 2},
		{"above", []Ring{square(0, 2.25, 9)}, 0.25},
		{"off a corner", []Ring{square(6, 6, 1)}, 5},
		{"the nearest", []Ring{square(6, 6, 1), square(3.5, 0, 3)}, 0.5},
		{"touching a side", []Ring{square(3, 0, 3)}, 0},
		{"touching a corner", []Ring{square(3, 2, 3)}, 0},
		{"overlapping", []Ring{square(2, 0, 2)}, 0},
		{"inside the ring", []Ring{square(-5, -5, 20)}, 0},
		{"around the ring", []Ring{square(2, 1.25, 0.5)}, 0},
		{"a ring across, no corner inside", []Ring{box{0, 1.25, 9, 1.75}.ring()}, 0},
		{"clockwise", []Ring{{{-5, -5}, {-5, 9}, {9, 9}, {9, -5}}}, 0},
		// The line u + v = 7 passes the corner (3, 2) at 2/sqrt 2.
		{"a slanted side", []Ring{{{7, 0}, {7, 7}, {0, 7}}}, math.Sqrt2},
		{"a slanted side across", []Ring{{{4, 0}, {9, 9}, {0, 4}}}, 0},
		{"a point", []Ring{{{3, 5}}}, 3},
		{"a line", []Ring{{{0, 5}, {9, 5}}}, 3},
		// The arms of an L lie below and to the left.
		{"in the notch of a ring", []Ring{{{0, 0}, {9, 0}, {9, 0.4}, {0.5, 0.4}, {0.5, 9}, {0, 9}}}, 0.5},
	} {
		if got := DistanceFrom(m, c.rings); math.Abs(got-c.want) > 1e-12 && got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Points of the module and of the ring's edges are nowhere nearer than the
// distance, and some are about as near.
func TestDistanceFromAgreesWithPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(-4, 4)
		m := Rect{at.Draw(t, "u"), at.Draw(t, "v"), rapid.Float64Range(0.1, 3).Draw(t, "w"), rapid.Float64Range(0.1, 3).Draw(t, "h")}
		ring := Ring{{at.Draw(t, "u0"), at.Draw(t, "v0")}, {at.Draw(t, "u1"), at.Draw(t, "v1")}, {at.Draw(t, "u2"), at.Draw(t, "v2")}}
		got := DistanceFrom(m, []Ring{ring})
		if Overlaps(m, ring) && got != 0 {
			t.Fatalf("overlaps, but %g away", got)
		}
		const parts = 400
		nearest := math.Inf(1)
		for i, q := range ring {
			p := ring[(i+2)%3]
			for k := range parts + 1 {
				f := float64(k) / parts
				nearest = min(nearest, distanceFromPoint(m, SlopePt{p.UM + (q.UM-p.UM)*f, p.VM + (q.VM-p.VM)*f}))
			}
		}
		if got > nearest+1e-12 {
			t.Fatalf("%g, but a point is at %g", got, nearest)
		}
		// Points are at most 12/400 m apart along an edge.
		if got > 0 && got < nearest-0.016 {
			t.Fatalf("%g, but the nearest point is at %g", got, nearest)
		}
		if got == 0 && nearest > 0.016 && !Overlaps(m, ring) {
			t.Fatalf("0, but the nearest point is at %g", nearest)
		}
	})
}

func TestPlaceValue(t *testing.T) {
	for _, c := range []struct {
		name      string
		distanceM float64
		tier      int
		inShade   bool
		want      float64
	}{
		{"beside shade", 0, 0, false, 0},
		{"to the centimetre", 1.2345, 0, false, 1.23},
		{"far", 250, 0, false, 100},
		{"no shade", math.Inf(1), 0, false, 100},
		{"not a number", math.NaN(), 0, false, 0},
		{"below zero", -1, 0, false, 0},
		{"a tier up", 0, 1, false, 1000},
		{"facing away", 2, -1, false, -998},
		{"no such tier", 0, 99, false, 20000},
		{"in last-resort shade", 0, 20, true, -80000},
	} {
		if got := PlaceValue(c.distanceM, c.tier, c.inShade); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	if PlaceValue(math.Inf(1), 20, true) >= PlaceValue(0, -20, false) || PlaceValue(math.Inf(1), 3, false) >= PlaceValue(0, 4, false) {
		t.Error("shade must come last, facing before distance")
	}
}

func TestVariants(t *testing.T) {
	// A slanted left side: rows start at it, their mirror images at the right.
	r := Region{Outer: Ring{{0, 0}, {7, 0}, {7, 4.2}, {2, 4.2}}}
	s := Spec{WidthM: 2, HeightM: 1, GapUM: 0.1, GapVM: 0.2, EndM: 0.05}
	alts, err := Variants(t.Context(), r, s, []Style{Rows, Grid})
	if err != nil {
		t.Fatal(err)
	}
	leftmost, rightmost := math.Inf(1), 0.0
	for i, a := range alts {
		if err := CheckPacking(r, s, a); err != nil {
			t.Errorf("variant %d: %v", i, err)
		}
		end := 0.0
		for _, m := range a {
			end = max(end, m.UM+m.WM)
		}
		leftmost, rightmost = min(leftmost, end), max(rightmost, end)
	}
	// The room along the eave is 7 - 2 x 0.05 m, three modules take 6.2 m of it.
	if math.Abs(rightmost-6.95) > 1e-5 || leftmost > 6.95-0.05 {
		t.Errorf("right ends from %g to %g: want one at 6.95, and one short of it", leftmost, rightmost)
	}
	if again, err := Variants(t.Context(), Region{Outer: box{0, 0, 6.3, 1}.ring()}, s, []Style{Rows, Grid, Columns}); err != nil || len(again) != 1 {
		t.Errorf("%d layouts of a plane that is filled in one way, %v: want 1", len(again), err)
	}
}
