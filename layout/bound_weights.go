package layout

import (
	"context"
	"math"
	"slices"
)

// weighing looks for weights, 0 or more, on the crossings of lines, so that
// every class holds 1 or more and the sum is small; a crossing that must be held
// counts against the classes that hold it and against the sum. Its numbers are
// float64 and prove nothing; [proof] does.
//
// The method is the primal-dual hybrid gradient for linear programs (Chambolle
// and Pock 2011; diagonal steps Pock and Chambolle 2011), reflected and drawn back
// to where it began, with restarts (Lu and Yang, restarted Halpern PDHG, 2024).
// One round costs a few operations per class and crossing, because what a
// rectangle of crossings weighs is the sum of four entries of a table.
type weighing struct {
	all          *boxClasses // what is asked about
	c            *boxClasses // all reduced
	usedU, usedV []int16     // which line of c took the place of each of all
	stands       []boxClass  // which class of all each of c stands for
	nu, nv       int
	corners      [][4]int32 // of each class in the table; signs + - - +
	must         [][]int32  // classes that hold each crossing that must be held
	table        []float64

	now, next, from       point // the iterate, its reflected step, the last restart
	at                    point // the step at the last look
	weightStep, extraStep []float64
	amountStep            []float64
	load, repaired        []float64 // per crossing
	held, need            []float64 // per class; need is what it must hold of weights
	balance               float64
	least                 leastTable

	best                  float64 // least sum with which every class holds 1, so far
	bestWeight, bestExtra []float64
	floor                 float64 // about what no weights on these lines go below
}

// point is a value of all variables: weights of crossings, of musts, and
// amounts of classes.
type point struct{ weight, extra, amount []float64 }

func newPoint(crossings, musts, classes int) point {
	return point{make([]float64, crossings), make([]float64, musts), make([]float64, classes)}
}

func (p point) copyFrom(q point) {
	copy(p.weight, q.weight)
	copy(p.extra, q.extra)
	copy(p.amount, q.amount)
}

// mustScale evens out the steps for musts, which many classes share, with those
// for crossings.
const mustScale = 30

func newWeighing(all *boxClasses, must []knot) *weighing {
	w := &weighing{all: all, balance: 1, best: math.Inf(1)}
	w.c, w.usedU, w.usedV, w.stands = all.reduced(must)
	c := w.c
	w.nu, w.nv = len(c.us), len(c.vs)
	points, classes := w.nu*w.nv, len(c.list)
	w.table = make([]float64, (w.nu+1)*(w.nv+1))
	w.corners = make([][4]int32, classes)
	for _, p := range []*point{&w.now, &w.next, &w.from, &w.at} {
		*p = newPoint(points, len(must), classes)
	}
	for _, p := range []*[]float64{&w.weightStep, &w.load, &w.repaired} {
		*p = make([]float64, points)
	}
	for _, p := range []*[]float64{&w.amountStep, &w.held, &w.need} {
		*p = make([]float64, classes)
	}
	w.extraStep = make([]float64, len(must))
	w.least = newLeastTable(c)
	w.must = make([][]int32, len(must))
	for i, q := range c.list {
		w.corners[i] = cornersOf(q, w.nu)
		w.amountStep[i] = float64(q.a1-q.a0) * float64(q.b1-q.b0)
	}
	for j, p := range must {
		a, b := p.find(c)
		for i, q := range c.list {
			if p.in(q, a, b) {
				w.must[j] = append(w.must[j], int32(i))
				w.amountStep[i] += mustScale
			}
		}
		w.extraStep[j] = mustScale / float64(max(1, len(w.must[j])))
	}
	ones := w.held
	for i := range ones {
		ones[i] = 1
		w.amountStep[i] = 1 / max(1, w.amountStep[i])
	}
	w.spread(ones, w.load)
	for p, n := range w.load {
		if n > 0.5 {
			w.weightStep[p] = 1 / n
		}
	}
	return w
}

// onAll gives weights by the crossings of all lines.
func (w *weighing) onAll(weight []float64) []float64 {
	if len(weight) == 0 {
		return nil
	}
	out := make([]float64, len(w.all.us)*len(w.all.vs))
	for b, y := range w.c.vs {
		j, _ := slices.BinarySearch(w.all.vs, y)
		for a, x := range w.c.us {
			i, _ := slices.BinarySearch(w.all.us, x)
			out[j*len(w.all.us)+i] = weight[b*w.nu+a]
		}
	}
	return out
}

func cornersOf(q boxClass, nu int) [4]int32 {
	a0, a1 := int32(q.a0), int32(q.a1)
	b0, b1 := int32(q.b0)*int32(nu+1), int32(q.b1)*int32(nu+1)
	return [4]int32{b1 + a1, b0 + a1, b1 + a0, b0 + a0}
}

// size is the work of one round, in steps: half as much again when its numbers
// are too many to stay near the processor.
func (w *weighing) size() int {
	n := 2*len(w.corners) + 2*len(w.load)
	for _, in := range w.must {
		n += 2 * len(in)
	}
	if n > 200_000 {
		n += n / 2
	}
	return n
}

// spread sums the amounts of the classes at each crossing they hold.
func (w *weighing) spread(amount, load []float64) {
	clear(w.table)
	for i, v := range amount {
		if v != 0 {
			k := &w.corners[i]
			w.table[k[0]] += v
			w.table[k[1]] -= v
			w.table[k[2]] -= v
			w.table[k[3]] += v
		}
	}
	for b := 0; b < w.nv; b++ {
		row := w.table[b*(w.nu+1):]
		out := load[b*w.nu : (b+1)*w.nu]
		sum := 0.0
		for a := range out {
			sum += row[a]
			out[a] = sum
		}
		if b > 0 {
			for a, v := range load[(b-1)*w.nu : b*w.nu] {
				out[a] += v
			}
		}
	}
	// The table's first row and column are taken for zero elsewhere.
	clear(w.table)
}

// hold computes what each class holds of weights and musts.
func (w *weighing) hold(weight, extra []float64) {
	for b := 0; b < w.nv; b++ {
		below, row := w.table[b*(w.nu+1):], w.table[(b+1)*(w.nu+1):]
		sum := 0.0
		for a, v := range weight[b*w.nu : (b+1)*w.nu] {
			sum += v
			row[a+1] = below[a+1] + sum
		}
	}
	for i := range w.corners {
		k := &w.corners[i]
		w.held[i] = w.table[k[0]] - w.table[k[1]] - w.table[k[2]] + w.table[k[3]]
	}
	for j, in := range w.must {
		for _, i := range in {
			w.held[i] -= extra[j]
		}
	}
}

// round takes a step from now and reflects it: next is as far beyond the step
// as now is before it.
func (w *weighing) round() {
	now, next := w.now, w.next
	w.spread(now.amount, w.load)
	for p, v := range now.weight {
		n := max(0, v-float64(float64(w.balance*w.weightStep[p])*(1-w.load[p])))
		next.weight[p] = 2*n - v
	}
	for j, in := range w.must {
		v := now.extra[j]
		n := max(0, v-float64(float64(w.balance*w.extraStep[j])*(w.sum(in, now.amount)-1)))
		next.extra[j] = 2*n - v
	}
	w.hold(next.weight, next.extra)
	for i, h := range w.held {
		v := now.amount[i]
		n := max(0, v+float64(w.amountStep[i]/w.balance*(1-h)))
		next.amount[i] = 2*n - v
	}
}

// sum adds the amounts of the classes listed.
func (w *weighing) sum(in []int32, amount []float64) float64 {
	sum := 0.0
	for _, i := range in {
		sum += amount[i]
	}
	return sum
}

// drawBack makes now a point between next and from, the nearer to next the more
// rounds have passed since the restart.
func (w *weighing) drawBack(since int) {
	t := 1 / float64(since+2)
	mix := func(now, next, from []float64) {
		for i, v := range next {
			now[i] = v + float64(t*(from[i]-v))
		}
	}
	mix(w.now.weight, w.next.weight, w.from.weight)
	mix(w.now.extra, w.next.extra, w.from.extra)
	mix(w.now.amount, w.next.amount, w.from.amount)
}

// step writes where the last step led: between now and next.
func (w *weighing) step(to point) {
	half := func(out, now, next []float64) {
		for i, v := range now {
			out[i] = (v + next[i]) / 2
		}
	}
	half(to.weight, w.now.weight, w.next.weight)
	half(to.extra, w.now.extra, w.next.extra)
	half(to.amount, w.now.amount, w.next.amount)
}

// moved is how far q is from p, for the weights and for the amounts, each
// against its steps.
func (w *weighing) moved(p, q point) (weights, amounts float64) {
	for i, v := range p.weight {
		if s := w.weightStep[i]; s > 0 {
			d := q.weight[i] - v
			weights += float64(d*d) / s
		}
	}
	for i, v := range p.amount {
		d := q.amount[i] - v
		amounts += float64(d*d) / w.amountStep[i]
	}
	return weights, amounts
}

// Rounds between two looks at the step's length and at the result, and what ends
// a run.
const (
	stepEvery   = 10
	lookEvery   = 100
	closeEnough = 0.003 // modules between the two values
)

// run improves the weights for at most n rounds and returns the steps taken. It
// ends early when done says so at a look.
func (w *weighing) run(ctx context.Context, n int, done func(w *weighing, round int) bool) (steps int) {
	w.from.copyFrom(w.now)
	since, first, last := 0, 0.0, 0.0
	for r := 1; r <= n; r++ {
		w.round()
		steps += w.size()
		if r%lookEvery == 0 || r == n {
			w.step(w.at)
			steps += w.look()
			if done(w, r) || w.best-w.floor < closeEnough || ctx.Err() != nil {
				break
			}
		}
		if since%stepEvery == 0 {
			weights, amounts := w.moved(w.now, w.next)
			length := math.Sqrt(weights/w.balance + float64(amounts*w.balance))
			switch {
			case since == 0:
				first = length
			case length <= 0.2*first || length <= 0.8*first && length > last || since > max(200, r*36/100):
				w.restart()
				since = 0
				continue
			}
			last = length
		}
		w.drawBack(since)
		since++
	}
	return steps
}

// restart begins anew from the last step and evens out the two kinds of steps.
func (w *weighing) restart() {
	w.step(w.now)
	weights, amounts := w.moved(w.from, w.now)
	if weights > 1e-12 && amounts > 1e-12 {
		w.balance = math.Sqrt(float64(math.Sqrt(weights/amounts) * w.balance))
	}
	w.from.copyFrom(w.now)
}
