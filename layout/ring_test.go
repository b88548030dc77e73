package layout

import (
	"errors"
	"math"
	"math/big"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func pts(xy ...float64) []PlanPt {
	var out []PlanPt
	for i := 0; i+1 < len(xy); i += 2 {
		out = append(out, PlanPt{xy[i], xy[i+1]})
	}
	return out
}

func TestCheckRing(t *testing.T) {
	for _, tc := range []struct {
		name   string
		ring   []PlanPt
		vertex int // of the error
		rule   string
	}{
		{"nil", nil, -1, "fewer than 3"},
		{"two corners", pts(0, 0, 1, 1), -1, "fewer than 3"},
		{"triangle", pts(0, 0, 1, 0, 0, 1), 0, ""},
		{"triangle, clockwise", pts(0, 0, 0, 1, 1, 0), 0, ""},
		{"straight corner", pts(0, 0, 1, 0, 2, 0, 2, 2, 0, 2), 0, ""},
		{"at the limit", pts(-5000, -5000, 5000, -5000, 5000, 5000, -5000, 5000), 0, ""},
		{"beyond the limit", pts(0, 0, 5000.000001, 0, 0, 1), 1, "5000"},
		{"NaN", pts(0, 0, 1, 0, 0, math.NaN()), 2, "not a number"},
		{"infinite", pts(math.Inf(-1), 0, 1, 0, 0, 1), 0, "not a number"},
		{"closing point repeated", pts(0, 0, 1, 0, 0, 1, 0, 0), 3, "repeats"},
		{"same micrometre", pts(0, 0, 1, 0, 1.0000002, 0, 0, 1), 2, "repeats"},
		{"touches itself at a corner", pts(0, 0, 1, 1, 2, 0, 2, 2, 1, 1, 0, 2), 4, "repeats"},
		{"all on one line", pts(0, 0, 1, 1, 3, 3), 0, "no area"},
		{"all one point", pts(1, 1, 1, 1, 1, 1), 0, "no area"},
		{"bow tie", pts(0, 0, 2, 2, 2, 0, 0, 2), 0, "crosses"},
		// 3--2    a spike up from the right side
		// |  |
		// 0--1
		{"spike", pts(0, 0, 2, 0, 2, 5, 2, 2, 0, 2), 2, "spike"},
		{"corner on an edge", pts(0, 0, 4, 0, 4, 4, 2, 0, 0, 4), 0, "crosses or touches"},
		{"edge along another", pts(0, 0, 4, 0, 4, 4, 3, 4, 3, 0, 1, 0, 1, 4, 0, 4), 0, "crosses or touches"},
		{"a micrometre clear", pts(0, 0, 4, 0, 4, 4, 2, 0.000001, 0, 4), 0, ""},
	} {
		err := CheckRing(tc.ring)
		var se *ShapeError
		switch {
		case tc.rule == "" && err != nil:
			t.Errorf("%s: %v", tc.name, err)
		case tc.rule != "" && !errors.As(err, &se):
			t.Errorf("%s: %v, want an error about %q", tc.name, err, tc.rule)
		case tc.rule != "" && (se.Vertex != tc.vertex || !strings.Contains(se.Rule, tc.rule)):
			t.Errorf("%s: %v, want vertex %d and %q", tc.name, err, tc.vertex, tc.rule)
		}
	}
}

// A ring is judged the same in both directions and from every first corner.
func TestCheckRingIgnoresStartAndDirection(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(3, 7).Draw(rt, "n")
		var ring []PlanPt
		for range n {
			ring = append(ring, PlanPt{float64(rapid.IntRange(0, 4).Draw(rt, "x")), float64(rapid.IntRange(0, 4).Draw(rt, "y"))})
		}
		want := CheckRing(ring) == nil
		turned := append(slices.Clone(ring[1:]), ring[0])
		if got := CheckRing(turned) == nil; got != want {
			rt.Fatalf("%v: %v, from the second corner %v", ring, want, got)
		}
		slices.Reverse(turned)
		if got := CheckRing(turned) == nil; got != want {
			rt.Fatalf("%v: %v, reversed %v", ring, want, got)
		}
	})
}

func TestCrossSignIsExact(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		g := rapid.Int64Range(-1<<34, 1<<34)
		ax, ay := g.Draw(rt, "ax"), g.Draw(rt, "ay")
		bx, by := g.Draw(rt, "bx"), g.Draw(rt, "by")
		if rapid.Bool().Draw(rt, "close") {
			bx, by = ax+1, ay // products that differ in the last digits only
		}
		l := new(big.Int).Mul(big.NewInt(ax), big.NewInt(by))
		r := new(big.Int).Mul(big.NewInt(ay), big.NewInt(bx))
		if got, want := crossSign(ax, ay, bx, by), l.Cmp(r); got != want {
			rt.Fatalf("sign %d, want %d", got, want)
		}
	})
}

func TestHoldsPoint(t *testing.T) {
	// 4   +---+       a U, open at the top
	//     |   |  ...
	// 0   +-------+
	ring := microPts(pts(0, 0, 6, 0, 6, 4, 4, 4, 4, 2, 2, 2, 2, 4, 0, 4))
	for _, tc := range []struct {
		x, y float64
		want bool
	}{
		{1, 3, true}, {5, 3, true}, {3, 1, true}, {3, 3, false}, {-1, 2, false}, {7, 2, false},
		{0, 0, true}, {3, 2, true}, {4, 3, true}, {6, 4, true}, // on the outline
		{3, 2.000001, false}, {3, 4, false}, {-1, 4, false}, {7, 0, false},
	} {
		if got := holdsPoint(ring, toMicro(PlanPt{tc.x, tc.y})); got != tc.want {
			t.Errorf("(%v, %v): %v", tc.x, tc.y, got)
		}
	}
	// The way out of a diamond's middle passes a corner.
	diamond := microPts(pts(0, 1, 1, 0, 2, 1, 1, 2))
	for x, want := range map[float64]bool{-1: false, 1: true, 3: false} {
		if got := holdsPoint(diamond, toMicro(PlanPt{x, 1})); got != want {
			t.Errorf("diamond, x = %v: %v", x, got)
		}
	}
}

func TestRingsMeet(t *testing.T) {
	square := func(x, y, size float64) []microPt {
		return microPts(pts(x, y, x+size, y, x+size, y+size, x, y+size))
	}
	// 4   a U, open at the top, its slot from x = 2 to 4
	u := microPts(pts(0, 0, 6, 0, 6, 4, 4, 4, 4, 2, 2, 2, 2, 4, 0, 4))
	for _, tc := range []struct {
		name string
		ring []microPt
		want bool
	}{
		{"inside", square(0.5, 0.5, 0.5), true},
		{"around", square(-1, -1, 9), true},
		{"across an arm", square(1, 3, 2), true},
		{"a bar across both arms", microPts(pts(-1, 3, 7, 3, 7, 3.5, -1, 3.5)), true},
		{"in the slot", square(2.5, 2.5, 1), false},
		{"in the slot, touching its floor", square(2.5, 2, 1), true},
		{"beside", square(7, 0, 1), false},
	} {
		if got := ringsMeet(u, tc.ring); got != tc.want {
			t.Errorf("%s: %v", tc.name, got)
		}
		if got := ringsMeet(tc.ring, u); got != tc.want {
			t.Errorf("%s, the other way: %v", tc.name, got)
		}
	}
}

func TestIsConvex(t *testing.T) {
	for _, tc := range []struct {
		name string
		ring []PlanPt
		want bool
	}{
		{"square", pts(0, 0, 1, 0, 1, 1, 0, 1), true},
		{"clockwise", pts(0, 1, 1, 1, 1, 0, 0, 0), true},
		{"straight corner", pts(0, 0, 1, 0, 2, 0, 2, 2), true},
		{"L", pts(0, 0, 2, 0, 2, 1, 1, 1, 1, 2, 0, 2), false},
		{"dent of a micrometre", pts(0, 0, 2, 0, 2, 2, 1, 1.999999, 0, 2), false},
	} {
		if got := isConvex(microPts(tc.ring)); got != tc.want {
			t.Errorf("%s: %v", tc.name, got)
		}
	}
}
