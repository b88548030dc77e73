package layout

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestAreaM2(t *testing.T) {
	square := rectRing(0, 0, 10, 10)
	for _, c := range []struct {
		name string
		r    Region
		want float64
	}{
		{"square", Region{Outer: square}, 100},
		{"clockwise", Region{Outer: Ring{{0, 0}, {0, 10}, {10, 10}, {10, 0}}}, 100},
		{"hole", Region{Outer: square, Holes: []Ring{rectRing(2, 2, 4, 4)}}, 96},
		{"overlapping holes", Region{Outer: square, Holes: []Ring{rectRing(2, 2, 4, 4), rectRing(3, 3, 5, 5)}}, 93},
		{"the same hole twice, both ways", Region{Outer: square, Holes: []Ring{rectRing(2, 2, 4, 4), {{2, 2}, {2, 4}, {4, 4}, {4, 2}}}}, 96},
		{"hole across the outline", Region{Outer: square, Holes: []Ring{rectRing(8, 8, 12, 12)}}, 96},
		{"hole outside", Region{Outer: square, Holes: []Ring{rectRing(12, 0, 14, 2)}}, 100},
		{"hole around all", Region{Outer: square, Holes: []Ring{rectRing(-1, -1, 11, 11)}}, 0},
		{"slanted holes that cross", Region{Outer: square, Holes: []Ring{{{2, 2}, {6, 2}, {6, 6}}, {{2, 6}, {2, 2}, {6, 2}}}}, 100 - 12},
		{"bow tie hole", Region{Outer: square, Holes: []Ring{{{1, 1}, {5, 5}, {5, 1}, {1, 5}}}}, 100 - 8},
		{"outline touching itself at a point", Region{Outer: Ring{{0, 0}, {5, 0}, {5, 5}, {10, 5}, {10, 10}, {5, 10}, {5, 5}, {0, 5}}}, 50},
		{"keyhole", Region{Outer: Ring{{0, 0}, {10, 0}, {10, 10}, {5, 10}, {5, 6}, {6, 6}, {6, 4}, {4, 4}, {4, 6}, {5, 6}, {5, 10}, {0, 10}}}, 96},
		{"far away", Region{Outer: rectRing(5e6, 5e6, 5e6+10, 5e6+10)}, 100},
	} {
		got, err := c.r.AreaM2()
		if err != nil || math.Abs(got-c.want) > 1e-9*100 {
			t.Errorf("%s: %.12g, %v; want %g", c.name, got, err, c.want)
		}
	}
	if _, err := (Region{Outer: Ring{{0, 0}, {1, 1}}}).AreaM2(); err == nil {
		t.Error("two points have an area")
	}
}

// Holes of whole metres: the area is the number of unit cells that none covers.
func TestAreaM2Cells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const n = 12
		r := Region{Outer: rectRing(0, 0, n, n)}
		covered := [n][n]bool{}
		for range rapid.IntRange(0, 8).Draw(t, "holes") {
			whole := rapid.IntRange(-2, n+2)
			u0, v0, u1, v1 := whole.Draw(t, "u0"), whole.Draw(t, "v0"), whole.Draw(t, "u1"), whole.Draw(t, "v1")
			r.Holes = append(r.Holes, rectRing(float64(u0), float64(v0), float64(u1), float64(v1)))
			for u := max(0, min(u0, u1)); u < min(n, max(u0, u1)); u++ {
				for v := max(0, min(v0, v1)); v < min(n, max(v0, v1)); v++ {
					covered[u][v] = true
				}
			}
		}
		want := 0.0
		for i := range n * n {
			if !covered[i/n][i%n] {
				want++
			}
		}
		if got, err := r.AreaM2(); err != nil || math.Abs(got-want) > 1e-9 {
			t.Fatalf("%g, %v; want %g", got, err, want)
		}
	})
}

func TestCleanRing(t *testing.T) {
	for _, c := range []struct {
		name string
		ring Ring
		want int
	}{
		{"square", rectRing(0, 0, 1, 1), 4},
		{"closed by its first point", append(rectRing(0, 0, 1, 1), SlopePt{0, 0}), 4},
		{"every point three times", Ring{{0, 0}, {0, 0}, {0, 0}, {1, 0}, {1, 0}, {1, 0}, {1, 1}, {1, 1}, {1, 1}}, 3},
		{"points on straight runs", Ring{{0.5, 0}, {1, 0}, {1, 0.3}, {1, 1}, {0, 1}, {0, 0}}, 4},
		{"spike", Ring{{0, 0}, {1, 0}, {1, 1}, {1, 5}, {1, 1}, {0, 1}}, 4},
		{"spike past its own foot", Ring{{0, 0}, {1, 0}, {1, 5}, {1, 1}, {0, 1}}, 4},
		{"bent spike", Ring{{0, 0}, {1, 0}, {1, 1}, {2, 2}, {2, 3}, {2, 2}, {1, 1}, {0, 1}}, 4},
		{"spike over the closing point", Ring{{0, -4}, {0, 0}, {1, 0}, {1, 1}, {0, 1}}, 4},
		{"line", Ring{{0, 0}, {1, 1}, {3, 3}, {2, 2}}, 0},
		{"there and back", Ring{{0, 0}, {1, 0}, {1, 1}, {1, 0}}, 0},
		{"one point", Ring{{1, 1}, {1, 1}, {1, 1}}, 0},
		{"a tenth of a micrometre leaves a line", Ring{{0, 0}, {1, 0}, {2, 1e-7}}, 2},
		{"so it does with the apex in the middle", Ring{{0, 0}, {1, 1e-7}, {2, 0}}, 2},
		{"and with four corners", Ring{{0, 0}, {2, 0}, {2, 1e-7}, {0, 1e-7}}, 2},
		{"a spike of that width stays", Ring{{0, 0}, {1, 0}, {1, 1}, {1, 5}, {1 - 1e-7, 1}, {0, 1}}, 5},
		{"float64 noise is nothing", Ring{{0, 0}, {1, 0}, {2, 1e-12}}, 0},
		{"nothing", nil, 0},
	} {
		if got := cleanRing(c.ring, 0, 0); len(got) != c.want {
			t.Errorf("%s: %d corners %v, want %d", c.name, len(got), got, c.want)
		}
	}
}

func TestSelfCrossing(t *testing.T) {
	for _, c := range []struct {
		name string
		ring Ring
		want bool
	}{
		{"square", rectRing(0, 0, 1, 1), false},
		{"bow tie", Ring{{0, 0}, {1, 1}, {1, 0}, {0, 1}}, true},
		{"touches itself at a point", Ring{{0, 0}, {2, 0}, {2, 1}, {1, 0}, {0, 1}}, false},
		{"reaches past by a millimetre", Ring{{0, 0}, {2, 0}, {2, 1}, {1, -0.001}, {0, 1}}, true},
		{"reaches past by a quarter of a micrometre", Ring{{0, 0}, {2, 0}, {2, 1}, {1, -2.5e-7}, {0, 1}}, false},
		{"runs along itself", Ring{{0, 0}, {3, 0}, {3, 1}, {2, 0}, {1, 0}, {0, 1}}, false},
	} {
		if _, _, got := selfCrossing(cleanRing(c.ring, 0, 0)); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
	}
}
