package electrical

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// On a full rectangle strings hang together, whatever its sides and lengths: no
// step is longer than to a neighbour.
func TestPathsHangTogetherOnRectangles(t *testing.T) {
	for _, c := range []struct {
		name          string
		rows, columns int
		lengths       []int
	}{
		{"a row in two", 1, 12, []int{6, 6}},
		{"a row, two left over", 1, 12, []int{5, 5}},
		{"two rows", 2, 10, []int{10, 10}},
		{"three rows in two", 3, 8, []int{12, 12}},
		{"three rows in four", 3, 8, []int{6, 6, 6, 6}},
		{"unequal", 3, 9, []int{14, 13}},
		{"square", 5, 5, []int{8, 8, 8}},
		{"sixty", 5, 12, []int{20, 20, 20}},
		{"columns", 6, 2, []int{6, 6}},
	} {
		t.Run(c.name, func(t *testing.T) {
			placed := field("s", c.rows, c.columns, 30, 180, 0)
			got := newRouter(placed, upTo(len(placed)), 1.722).paths(c.lengths)
			steps, runM := 0, 0.0
			for i, p := range got {
				if len(p.modules) != c.lengths[i] || p.jumps != 0 {
					t.Errorf("string %d: %d modules, %d jumps", i+1, len(p.modules), p.jumps)
				}
				steps += len(p.modules) - 1
				runM += p.runM
			}
			// No run is shorter than the width from module to module.
			if least := 1.154 * float64(steps); runM < least-0.01 || runM > 1.4*least {
				t.Errorf("runs of %.2f m; side by side they would be %.2f m", runM, least)
			}
		})
	}
}

func upTo(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// scatter is a roof with holes: some places of a 3 x 4 field.
func scatter(t *rapid.T, most int) []PlacedModule {
	all := field("s", 3, 4, 30, 180, 0)
	keep := rapid.SliceOfNDistinct(rapid.IntRange(0, len(all)-1), 2, most, rapid.ID[int]).Draw(t, "keep")
	slices.Sort(keep)
	out := make([]PlacedModule, len(keep))
	for i, k := range keep {
		out[i] = all[k]
	}
	return out
}

// permutations calls f with every order of part.
func permutations(part []int, f func([]int)) {
	var walk func(int)
	walk = func(at int) {
		if at == len(part) {
			f(part)
			return
		}
		for i := at; i < len(part); i++ {
			part[at], part[i] = part[i], part[at]
			walk(at + 1)
			part[at], part[i] = part[i], part[at]
		}
	}
	walk(0)
}

func (r *router) costOf(path []int) int64 {
	var sum int64
	for i := 1; i < len(path); i++ {
		sum += r.step(path[i-1], path[i])
	}
	return sum
}

// The order of a short string is the best of all.
func TestShortestIsTheBestOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		placed := scatter(t, 7)
		r := newRouter(placed, upTo(len(placed)), 1.722)
		best := int64(math.MaxInt64)
		permutations(upTo(len(placed)), func(p []int) { best = min(best, r.costOf(p)) })
		got := r.shortest(upTo(len(placed)))
		if cost := r.costOf(got); cost != best {
			t.Fatalf("%v costs %d, the best %d", got, cost, best)
		}
		slices.Sort(got)
		if !slices.Equal(got, upTo(len(placed))) {
			t.Fatalf("%v are not all modules", got)
		}
	})
}

// Two strings with one module left over cost at most a tenth more than the best
// of all ways. (Over 20 000 draws all were the best.)
func TestPathsAreNearTheBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		placed := scatter(t, 8)
		n := len(placed)
		if n < 5 {
			t.Skip("too few for two strings")
		}
		lengths := []int{(n - 1) / 2, (n - 1) / 2}
		r := newRouter(placed, upTo(n), 1.722)
		best := int64(math.MaxInt64)
		cut := lengths[0]
		permutations(upTo(n), func(p []int) {
			best = min(best, r.costOf(p[:cut])+r.costOf(p[cut:2*cut]))
		})
		var cost int64
		for _, p := range r.paths(lengths) {
			cost += r.costOf(p.modules)
		}
		if float64(cost) > 1.1*float64(best) {
			t.Fatalf("cost %d, the best %d", cost, best)
		}
	})
}
