package layout

import (
	"math"
	"math/rand"
	"slices"
	"testing"
)

// someClasses draws classes on lines at whole places.
func someClasses(rnd *rand.Rand, nu, nv, n int) *boxClasses {
	c := &boxClasses{}
	for i := range nu {
		c.us = append(c.us, float64(i))
	}
	for i := range nv {
		c.vs = append(c.vs, float64(i))
	}
	for range n {
		a, b := rnd.Intn(nu), rnd.Intn(nv)
		c.list = append(c.list, boxClass{int16(a), int16(a + 1 + rnd.Intn(min(4, nu-a))), int16(b), int16(b + 1 + rnd.Intn(min(4, nv-b))), int8(rnd.Intn(2))})
	}
	return c
}

// heldBy sums a value over the crossings of a class.
func heldBy(q boxClass, nu int, value []float64, extra []float64, must []knot) float64 {
	sum := 0.0
	for b := q.b0; b < q.b1; b++ {
		for a := q.a0; a < q.a1; a++ {
			sum += value[int(b)*nu+int(a)]
		}
	}
	for j, p := range must {
		if p.in(q, int16(p.u), int16(p.v)) {
			sum -= extra[j]
		}
	}
	return sum
}

// Weights that are enough on the lines and classes that are left are enough for
// all classes, whatever the weights: the least that any class holds is the same.
func TestReducedClassesAreEnough(t *testing.T) {
	rnd := rand.New(rand.NewSource(11))
	for range 300 {
		all := someClasses(rnd, 4+rnd.Intn(8), 4+rnd.Intn(8), 1+rnd.Intn(60))
		must := []knot{{u: float64(rnd.Intn(len(all.us))), v: float64(rnd.Intn(len(all.vs))), turns: 1 + int8(rnd.Intn(3))}}
		extra := []float64{rnd.Float64()}
		w := newWeighing(all, must)
		weight := make([]float64, w.nu*w.nv)
		for i := range weight {
			weight[i] = rnd.Float64()
		}
		onAll := w.onAll(weight)
		least, reduced := math.Inf(1), math.Inf(1)
		for _, q := range all.list {
			least = min(least, heldBy(q, len(all.us), onAll, extra, must))
		}
		w.hold(weight, extra)
		for _, h := range w.held {
			reduced = min(reduced, h)
		}
		if math.Abs(least-reduced) > 1e-9 {
			t.Fatalf("least %g, of the classes left %g", least, reduced)
		}
	}
}

// Nothing is lost by the lines left out: weights on all lines, each moved to
// the line that takes its place, give every class as much or more.
func TestLinesLeftDoAsMuch(t *testing.T) {
	rnd := rand.New(rand.NewSource(12))
	for range 300 {
		all := someClasses(rnd, 3+rnd.Intn(9), 3+rnd.Intn(9), 1+rnd.Intn(12))
		c, usedU, usedV, _ := all.reduced(nil)
		weight := make([]float64, len(all.us)*len(all.vs))
		moved := make([]float64, len(weight))
		for b := range all.vs {
			for a := range all.us {
				v := rnd.Float64()
				weight[b*len(all.us)+a] = v
				if usedU[a] >= 0 && usedV[b] >= 0 {
					i, _ := slices.BinarySearch(all.us, c.us[usedU[a]])
					j, _ := slices.BinarySearch(all.vs, c.vs[usedV[b]])
					moved[j*len(all.us)+i] += v
				}
			}
		}
		for _, q := range all.list {
			before, after := heldBy(q, len(all.us), weight, nil, nil), heldBy(q, len(all.us), moved, nil, nil)
			if after < before-1e-9 {
				t.Fatalf("class %v held %g, now %g", q, before, after)
			}
		}
	}
}

// The two questions to a table, asked one by one.
func TestLeastTable(t *testing.T) {
	rnd := rand.New(rand.NewSource(13))
	for range 200 {
		c := someClasses(rnd, 1+rnd.Intn(12), 1+rnd.Intn(12), 1+rnd.Intn(30))
		nu, nv := len(c.us), len(c.vs)
		table := newLeastTable(c)
		value, load := make([]float64, len(c.list)), make([]float64, nu*nv)
		for i := range value {
			value[i] = rnd.Float64()
		}
		for i := range load {
			load[i] = rnd.Float64()
		}
		over, within := make([]float64, nu*nv), make([]float64, len(c.list))
		table.over(value, over)
		table.within(load, within)
		least := make([]float64, nu*nv)
		for i := range least {
			least[i] = math.Inf(1)
		}
		for i, q := range c.list {
			most := 0.0
			for b := q.b0; b < q.b1; b++ {
				for a := q.a0; a < q.a1; a++ {
					p := int(b)*nu + int(a)
					most, least[p] = max(most, load[p]), min(least[p], value[i])
				}
			}
			if within[i] != most {
				t.Fatalf("class %v: most %g, want %g", q, within[i], most)
			}
		}
		if !slices.Equal(over, least) {
			t.Fatalf("least %v, want %v", over, least)
		}
	}
}

// Mended weights give every class 1, with musts too, however bad they were.
func TestMendedWeightsAreEnough(t *testing.T) {
	rnd := rand.New(rand.NewSource(14))
	for range 200 {
		all := someClasses(rnd, 3+rnd.Intn(8), 3+rnd.Intn(8), 1+rnd.Intn(40))
		must := []knot{{u: 1, v: 1, turns: 1}, {u: 2, v: 2, turns: 3}}
		w := newWeighing(all, must)
		for i := range w.at.weight {
			w.at.weight[i] = max(0, rnd.Float64()-0.3)
		}
		w.at.extra[0], w.at.extra[1] = rnd.Float64(), rnd.Float64()
		sum := w.value(w.at)
		onAll, want := w.onAll(w.bestWeight), 0.0
		for _, v := range onAll {
			want += v
		}
		want -= w.bestExtra[0] + w.bestExtra[1]
		least := math.Inf(1)
		for _, q := range all.list {
			least = min(least, heldBy(q, len(all.us), onAll, w.bestExtra, must))
		}
		if least < 1-1e-5 {
			t.Fatalf("a class holds %g", least)
		}
		if math.Abs(sum*least-want) > 1e-9*(1+want) {
			t.Fatalf("sum %g where each class holds %g, want %g", sum, least, want)
		}
	}
}
