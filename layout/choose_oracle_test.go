package layout

import (
	"context"
	"math"
	"math/bits"
	"testing"

	"pgregory.net/rapid"
)

// slowChoice looks at every subset of every alternative: for each number of
// positions and of blocks, the highest value in units over all planes.
func slowChoice(planes []Site) map[taken]int64 {
	all := map[taken]int64{{}: 0}
	for _, s := range planes {
		here := map[taken]int64{}
		if len(s.Alternatives) == 0 {
			here[taken{}] = 0
		}
		for a := range s.Alternatives {
			slowSubsets(s, a, here)
		}
		both := map[taken]int64{}
		for x, vx := range all {
			for y, vy := range here {
				at := taken{x.n + y.n, x.k + y.k}
				if v, ok := both[at]; !ok || vx+vy > v {
					both[at] = vx + vy
				}
			}
		}
		all = both
	}
	return all
}

func slowSubsets(s Site, a int, best map[taken]int64) {
	rects := s.Alternatives[a]
	for mask := range 1 << len(rects) {
		n, value, held := bits.OnesCount(uint(mask)), int64(0), true
		var some []Rect
		for i, r := range rects {
			if mask>>i&1 != 0 {
				some = append(some, r)
				value += unitsOf(s.Values[a][i])
			} else if s.Fixed != nil && s.Fixed[a] != nil && s.Fixed[a][i] {
				held = false
			}
		}
		if !held || s.Limit != nil && n > *s.Limit {
			continue
		}
		at := taken{n, TidinessOf(some, s.Spec).Blocks}
		if v, ok := best[at]; !ok || value > v {
			best[at] = value
		}
	}
}

// slowBest is the answer that Choose owes: the value and the blocks.
func slowBest(all map[taken]int64, n, maxBlocks int) (value int64, blocks int, over bool) {
	if maxBlocks == 0 {
		maxBlocks = math.MaxInt
	}
	fewest := math.MaxInt
	for at := range all {
		if at.n == n {
			fewest = min(fewest, at.k)
		}
	}
	if over = fewest > maxBlocks; over {
		maxBlocks = fewest
	}
	value = math.MinInt64
	for at, v := range all {
		if at.n == n && at.k <= maxBlocks && (v > value || v == value && at.k < blocks) {
			value, blocks = v, at.k
		}
	}
	return value, blocks, over
}

// drawSite makes a plane of a few positions: a lattice of one turn, perhaps with
// a second one beside or above it, of either turn, some places missing and a
// row moved.
func drawSite(t *rapid.T, most int) Site {
	s := Site{Spec: Spec{WidthM: 2, HeightM: 1, GapUM: 0.1, GapVM: 0.2}}
	fixed := -1
	for range rapid.IntRange(0, 2).Draw(t, "alternatives") {
		var rects []Rect
		u, room := 0.0, rapid.SampledFrom([]float64{0, 0.3}).Draw(t, "room")
		for range rapid.IntRange(1, 2).Draw(t, "lattices") {
			m := s.Spec.placed(Turn(rapid.IntRange(0, 1).Draw(t, "turn")))
			v, cols := rapid.SampledFrom([]float64{0, 1.2, 0.5}).Draw(t, "v"), rapid.IntRange(1, 4).Draw(t, "columns")
			for range rapid.IntRange(1, 3).Draw(t, "rows") {
				move := room * float64(rapid.IntRange(0, 3).Draw(t, "move")/3)
				for c := range cols {
					if len(rects) < most && rapid.IntRange(0, 5).Draw(t, "missing") > 0 {
						rects = append(rects, Rect{u + move + float64(c)*(m.WM+s.Spec.GapUM), v, m.WM, m.HM})
					}
				}
				v += m.HM + s.Spec.GapVM
			}
			u += float64(cols)*(m.WM+s.Spec.GapUM) + room
		}
		rects = rapid.Permutation(rects).Draw(t, "order")
		values, held := make([]float64, len(rects)), make([]bool, len(rects))
		for i := range values {
			values[i] = rapid.SampledFrom([]float64{0, 1, 1, 2, 2.5, 7, -3}).Draw(t, "value")
		}
		if fixed < 0 {
			fixed = rapid.SampledFrom([]int{0, 0, 0, 1, 2}).Draw(t, "fixed")
			fixed = min(fixed, len(rects))
		}
		if fixed > len(rects) {
			continue
		}
		for i := range fixed {
			held[i] = true
		}
		s.Alternatives, s.Values, s.Fixed = append(s.Alternatives, rects), append(s.Values, values), append(s.Fixed, held)
	}
	if rapid.IntRange(0, 3).Draw(t, "limited") == 0 {
		limit := max(fixed, 0) + rapid.IntRange(0, 4).Draw(t, "limit")
		s.Limit = &limit
	}
	return s
}

func drawPlanes(t *rapid.T) []Site {
	planes := make([]Site, rapid.IntRange(1, 3).Draw(t, "planes"))
	for i := range planes {
		planes[i] = drawSite(t, 9)
	}
	return planes
}

// checkChoice holds a choice to what it says of itself.
func checkChoice(t *rapid.T, planes []Site, c Choice) {
	t.Helper()
	count, value := 0, int64(0)
	var tidy Tidiness
	for i, s := range planes {
		a := c.Alternative[i]
		if a < 0 {
			if len(s.Alternatives) > 0 || len(c.Taken[i]) > 0 {
				t.Fatalf("planes[%d]: no alternative", i)
			}
			continue
		}
		in := map[int]bool{}
		var some []Rect
		for k, at := range c.Taken[i] {
			if k > 0 && at <= c.Taken[i][k-1] {
				t.Fatalf("planes[%d]: not ascending: %v", i, c.Taken[i])
			}
			in[at] = true
			some = append(some, s.Alternatives[a][at])
			value += unitsOf(s.Values[a][at])
		}
		for k := range s.Alternatives[a] {
			if s.Fixed != nil && s.Fixed[a] != nil && s.Fixed[a][k] && !in[k] {
				t.Fatalf("planes[%d]: fixed position %d is not taken", i, k)
			}
		}
		if s.Limit != nil && len(some) > *s.Limit {
			t.Fatalf("planes[%d]: %d taken of %d allowed", i, len(some), *s.Limit)
		}
		of := TidinessOf(some, s.Spec)
		tidy.Blocks += of.Blocks
		tidy.RailRuns += of.RailRuns
		count += len(some)
	}
	if count != c.Count || float64(value)/unitsPerValue != c.Value || tidy.Blocks != c.Tidiness.Blocks || tidy.RailRuns != c.Tidiness.RailRuns {
		t.Fatalf("says %+v, has %d of value %d and %+v", c, count, value, tidy)
	}
	if c.BlockLimit > 0 && tidy.Blocks > c.BlockLimit {
		t.Fatalf("%d blocks of %d", tidy.Blocks, c.BlockLimit)
	}
	if c.Bound < c.Value {
		t.Fatalf("bound %g below value %g", c.Bound, c.Value)
	}
}

func TestChooseAgreesWithAllSubsets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		planes := drawPlanes(t)
		n, k := rapid.IntRange(0, 20).Draw(t, "n"), rapid.IntRange(0, 4).Draw(t, "blocks")
		c, err := Choose(context.Background(), planes, n, k, Deep)
		if err != nil {
			t.Fatal(err)
		}
		checkChoice(t, planes, c)
		value, blocks, over := slowBest(slowChoice(planes), c.Count, k)
		if c.Value != float64(value)/unitsPerValue || c.Tidiness.Blocks != blocks || c.Over != over {
			t.Fatalf("value %g in %d blocks, over %v; want %g in %d, %v", c.Value, c.Tidiness.Blocks, c.Over, float64(value)/unitsPerValue, blocks, over)
		}
		if !c.Proved || c.Bound != c.Value {
			t.Fatalf("not proved: %+v", c)
		}
	})
}

// Without the steps to be exact, a choice is still valid, its bound holds, and it
// is proved only when it is one of the best.
func TestChooseWithFewSteps(t *testing.T) {
	proved, open := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		planes := drawPlanes(t)
		n, k := rapid.IntRange(1, 20).Draw(t, "n"), rapid.IntRange(0, 4).Draw(t, "blocks")
		steps := rapid.SampledFrom([]int{0, 30, 300, 3000}).Draw(t, "steps")
		ch, err := newChooser(context.Background(), planes, n, k, steps)
		if err != nil {
			t.Fatal(err)
		}
		c, err := ch.choose()
		if err != nil {
			t.Fatal(err)
		}
		checkChoice(t, planes, c)
		all := slowChoice(planes)
		most := 0
		for at := range all {
			most = max(most, at.n)
		}
		if c.Count < min(n, most) {
			t.Fatalf("%d taken of %d", c.Count, n)
		}
		value, blocks, over := slowBest(all, c.Count, c.BlockLimit)
		if over || c.Bound < float64(value)/unitsPerValue {
			t.Fatalf("bound %g, but %g can be had in %d blocks", c.Bound, float64(value)/unitsPerValue, blocks)
		}
		if value, _, over := slowBest(all, c.Count, k); c.Proved && (c.Value != float64(value)/unitsPerValue || c.Over != over) {
			t.Fatalf("proved %g, over %v; want %g, %v", c.Value, c.Over, float64(value)/unitsPerValue, over)
		}
		if c.Proved {
			proved++
		} else {
			open++
		}
	})
	if proved == 0 || open == 0 {
		t.Errorf("%d proved, %d open: the test shows nothing", proved, open)
	}
}

func TestChooseKeepsToNoOrderOfPlanes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		planes := drawPlanes(t)
		n, k := rapid.IntRange(1, 20).Draw(t, "n"), rapid.IntRange(0, 4).Draw(t, "blocks")
		a, err := Choose(context.Background(), planes, n, k, Drag)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Choose(context.Background(), rapid.Permutation(planes).Draw(t, "order"), n, k, Drag)
		if err != nil {
			t.Fatal(err)
		}
		a.Tidiness.Turns, b.Tidiness.Turns = 0, 0 // they decide no tie
		if a.Value != b.Value || a.Bound != b.Bound || a.Tidiness != b.Tidiness || a.Over != b.Over || a.Count != b.Count {
			t.Fatalf("%+v, in another order %+v", a, b)
		}
	})
}

// Whatever a first search with few steps came to, prices rule out no mask of a
// better choice, and what they leave is exact.
func TestSettleAgreesWithAllSubsets(t *testing.T) {
	settled := 0
	rapid.Check(t, func(t *rapid.T) {
		planes := drawPlanes(t)
		ch, err := newChooser(context.Background(), planes, rapid.IntRange(1, 20).Draw(t, "n"), rapid.IntRange(1, 4).Draw(t, "blocks"), 1_000_000)
		if err != nil {
			t.Fatal(err)
		}
		if ch.maxBlocks == 0 {
			return
		}
		first := ch.run(aim{blocks: ch.maxBlocks}, ch.plan(ch.maxBlocks, rapid.SampledFrom([]int{0, 30, 300}).Draw(t, "steps")))
		if !first.found || first.isExact() {
			return
		}
		v := verdict{bound: math.MaxInt64, limit: ch.maxBlocks}
		ch.offer(&v, first)
		if ch.settle(&v, first.parts); !v.proved {
			t.Fatalf("not proved: %d, bound %d", v.got.value(), v.bound)
		}
		c := ch.choice(v)
		checkChoice(t, planes, c)
		value, blocks, _ := slowBest(slowChoice(planes), c.Count, ch.maxBlocks)
		if v.got.value() != value || v.bound != value || c.Tidiness.Blocks != blocks {
			t.Fatalf("%d in %d blocks, bound %d; want %d in %d", v.got.value(), c.Tidiness.Blocks, v.bound, value, blocks)
		}
		settled++
	})
	if settled == 0 {
		t.Error("nothing was left to settle: the test shows nothing")
	}
}
