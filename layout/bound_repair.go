package layout

import (
	"math"
	"math/bits"
)

// leastTable answers for rectangles of crossings: the least of what the
// rectangles over a crossing have, and the most of what the crossings of a
// rectangle have. Level i, k holds the rectangles of 2^i by 2^k crossings, of
// which two or four cover any rectangle.
type leastTable struct {
	nu, nv int
	level  [][]float64
	levelV int   // levels along v
	cover  []int // per class: its level, and the lower left of four rectangles
	corner [][4]int32
}

func newLeastTable(c *boxClasses) leastTable {
	t := leastTable{nu: len(c.us), nv: len(c.vs)}
	levelU := 1
	t.levelV = 1
	for _, q := range c.list {
		levelU = max(levelU, bits.Len(uint(q.a1-q.a0)))
		t.levelV = max(t.levelV, bits.Len(uint(q.b1-q.b0)))
	}
	t.level = make([][]float64, levelU*t.levelV)
	t.cover, t.corner = make([]int, len(c.list)), make([][4]int32, len(c.list))
	for i, q := range c.list {
		if q.a1 == q.a0 || q.b1 == q.b0 {
			t.cover[i] = -1
			continue
		}
		ku, kv := bits.Len(uint(q.a1-q.a0))-1, bits.Len(uint(q.b1-q.b0))-1
		t.cover[i] = ku*t.levelV + kv
		a, b := int32(q.a0), int32(q.b0)*int32(t.nu)
		a1, b1 := int32(q.a1)-1<<ku, (int32(q.b1)-1<<kv)*int32(t.nu)
		t.corner[i] = [4]int32{b + a, b + a1, b1 + a, b1 + a1}
	}
	return t
}

// size is the work of one question, in steps.
func (t *leastTable) size() int { return len(t.level)*t.nu*t.nv + 4*len(t.cover) }

// reset makes room for all levels, filled with v.
func (t *leastTable) reset(v float64) {
	for i := range t.level {
		if t.level[i] == nil {
			t.level[i] = make([]float64, t.nu*t.nv)
		}
		for p := range t.level[i] {
			t.level[i][p] = v
		}
	}
}

// over writes for every crossing the least value of the classes that hold it,
// +Inf where there is none.
func (t *leastTable) over(value, out []float64) {
	t.reset(math.Inf(1))
	for i, v := range value {
		if t.cover[i] < 0 {
			continue
		}
		l := t.level[t.cover[i]]
		for _, p := range t.corner[i] {
			l[p] = min(l[p], v)
		}
	}
	for i := len(t.level) - 1; i > 0; i-- {
		lower, shift := t.below(i)
		t.fold(t.level[i], lower, shift)
	}
	copy(out, t.level[0])
}

// below is the level that a level's rectangles are two of, side by side, and how
// many places apart.
func (t *leastTable) below(i int) (level []float64, shift int) {
	if ku := i / t.levelV; ku > 0 {
		return t.level[i-t.levelV], 1 << (ku - 1)
	}
	return t.level[i-1], t.nu << (i - 1)
}

// fold lowers both halves of each rectangle to its value. A rectangle that
// reaches beyond the last line has no value, so that rows do not mix.
func (t *leastTable) fold(level, lower []float64, shift int) {
	for p, v := range level {
		if v < lower[p] {
			lower[p] = v
		}
	}
	for p, v := range level[:max(0, len(level)-shift)] {
		if v < lower[p+shift] {
			lower[p+shift] = v
		}
	}
}

// within writes for every class the most of the values of the crossings it
// holds.
func (t *leastTable) within(value, out []float64) {
	t.reset(0)
	copy(t.level[0], value)
	for i := 1; i < len(t.level); i++ {
		lower, shift := t.below(i)
		for p := range t.level[i][:max(0, len(lower)-shift)] {
			t.level[i][p] = max(lower[p], lower[p+shift])
		}
	}
	for i := range out {
		out[i] = 0
		if t.cover[i] >= 0 {
			l := t.level[t.cover[i]]
			for _, p := range t.corner[i] {
				out[i] = max(out[i], l[p])
			}
		}
	}
}

// look judges the last step, keeps its weights when they are the best so far,
// and returns the work in steps.
func (w *weighing) look() (steps int) {
	w.value(w.at)
	w.lower(w.at)
	return 2 * (w.least.size() + w.size())
}

// faint is a weight that counts for nothing in a sum but can be raised.
const faint = 1e-9

// value is the sum of weights once each is raised or lowered just so much that
// every class holds 1: by the least ratio, among the classes that hold it, of
// what a class holds to what it must hold. Each of a class's weights is then
// divided by no more than the class's own ratio, so that the class holds what it
// must. The best weights are kept.
func (w *weighing) value(at point) float64 {
	for p, v := range at.weight {
		w.repaired[p] = max(v, faint)
	}
	for i := range w.need {
		w.need[i] = 1
	}
	for j, in := range w.must {
		for _, i := range in {
			w.need[i] += at.extra[j]
		}
	}
	w.hold(w.repaired, at.extra)
	for i, must := range w.need {
		w.held[i] = (w.held[i] + must - 1) / must
	}
	w.least.over(w.held, w.load)
	sum := 0.0
	for p, v := range w.load {
		w.repaired[p] /= v
		sum += w.repaired[p]
	}
	for _, v := range at.extra {
		sum -= v
	}
	w.hold(w.repaired, at.extra)
	least := math.Inf(1)
	for _, h := range w.held {
		least = min(least, h)
	}
	if !(least > 0) {
		return math.Inf(1)
	}
	if sum/least < w.best {
		w.best = sum / least
		w.bestWeight = append(w.bestWeight[:0], w.repaired...)
		w.bestExtra = append(w.bestExtra[:0], at.extra...)
	}
	return sum / least
}

// lower raises floor to the sum of amounts once each is divided by the most load
// of a crossing that its class holds, so that no crossing is loaded by more
// than 1. It is nothing when a must is then not met.
func (w *weighing) lower(at point) {
	w.spread(at.amount, w.load)
	w.least.within(w.load, w.held)
	sum := 0.0
	for i, v := range at.amount {
		if v > 0 {
			w.held[i] = v / max(w.held[i], faint)
			sum += w.held[i]
		} else {
			w.held[i] = 0
		}
	}
	for _, in := range w.must {
		if w.sum(in, w.held) < 0.9 {
			return
		}
	}
	w.floor = max(w.floor, sum)
}
