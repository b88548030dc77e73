package layout

import (
	"context"
	"math"
)

// weighing looks for weights, 0 or more, on the crossings of lines, so that
// every class holds 1 or more and the sum is small; a crossing that must be held
// counts against the classes that hold it and against the sum. Its numbers are
// float64 and prove nothing; [proof] does.
//
// The method is the primal-dual hybrid gradient for linear programs with
// restarts (Chambolle and Pock 2011; diagonal steps Pock and Chambolle 2011;
// restarts Applegate et al. 2021). One round costs a few operations per class
// and crossing, because what a rectangle of crossings weighs is the sum of four
// entries of a table.
type weighing struct {
	c       *boxClasses
	nu, nv  int
	corners [][4]int32 // of each class in the table; signs + - - +
	must    [][]int32  // classes that hold each crossing that must be held
	table   []float64

	weight, extra, amount          []float64 // of crossings, musts, classes
	weightSum, extraSum, amountSum []float64 // since the last restart
	weightAvg, extraAvg, amountAvg []float64
	weightOld, amountOld           []float64 // at the last restart
	weightStep, extraStep, amtStep []float64
	load                           []float64 // per crossing
	held                           []float64 // per class
	balance                        float64

	best                  float64 // least sum, scaled to hold 1, so far
	bestWeight, bestExtra []float64
}

// mustScale evens out the steps for musts, which many classes share, with those
// for crossings.
const mustScale = 30

func newWeighing(c *boxClasses, must []knot) *weighing {
	w := &weighing{c: c, nu: len(c.us), nv: len(c.vs), balance: 1, best: math.Inf(1)}
	points, classes := w.nu*w.nv, len(c.list)
	w.table = make([]float64, (w.nu+1)*(w.nv+1))
	w.corners = make([][4]int32, classes)
	for _, p := range []*[]float64{&w.weight, &w.weightSum, &w.weightAvg, &w.weightOld, &w.weightStep, &w.load} {
		*p = make([]float64, points)
	}
	for _, p := range []*[]float64{&w.amount, &w.amountSum, &w.amountAvg, &w.amountOld, &w.amtStep, &w.held} {
		*p = make([]float64, classes)
	}
	for _, p := range []*[]float64{&w.extra, &w.extraSum, &w.extraAvg, &w.extraStep} {
		*p = make([]float64, len(must))
	}
	w.must = make([][]int32, len(must))
	for i, q := range c.list {
		w.corners[i] = cornersOf(q, w.nu)
		w.amtStep[i] = float64(q.a1-q.a0) * float64(q.b1-q.b0)
	}
	for j, p := range must {
		a, b := p.find(c)
		for i, q := range c.list {
			if p.in(q, a, b) {
				w.must[j] = append(w.must[j], int32(i))
				w.amtStep[i] += mustScale
			}
		}
		w.extraStep[j] = mustScale / float64(max(1, len(w.must[j])))
	}
	ones := w.held
	for i := range ones {
		ones[i] = 1
		w.amtStep[i] = 1 / max(1, w.amtStep[i])
	}
	w.spread(ones, w.load)
	for p, n := range w.load {
		if n > 0.5 {
			w.weightStep[p] = 1 / n
		}
	}
	return w
}

func cornersOf(q boxClass, nu int) [4]int32 {
	a0, a1 := int32(q.a0), int32(q.a1)
	b0, b1 := int32(q.b0)*int32(nu+1), int32(q.b1)*int32(nu+1)
	return [4]int32{b1 + a1, b0 + a1, b1 + a0, b0 + a0}
}

// size is the work of one round, in steps.
func (w *weighing) size() int {
	n := 2*len(w.corners) + 2*len(w.weight)
	for _, in := range w.must {
		n += 2 * len(in)
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

// round is one step of the method.
func (w *weighing) round(next, nextExtra []float64) {
	w.spread(w.amount, w.load)
	for p, v := range w.weight {
		n := max(0, v-float64(float64(w.balance*w.weightStep[p])*(1-w.load[p])))
		next[p] = 2*n - v
		w.weight[p] = n
		w.weightSum[p] += n
	}
	for j, in := range w.must {
		sum := 0.0
		for _, i := range in {
			sum += w.amount[i]
		}
		v := w.extra[j]
		n := max(0, v-float64(float64(w.balance*w.extraStep[j])*(sum-1)))
		nextExtra[j] = 2*n - v
		w.extra[j] = n
		w.extraSum[j] += n
	}
	w.hold(next, nextExtra)
	for i, h := range w.held {
		n := max(0, w.amount[i]+float64(w.amtStep[i]/w.balance*(1-h)))
		w.amount[i] = n
		w.amountSum[i] += n
	}
}

// Rounds between two looks at the result, and what ends a run.
const (
	lookEvery   = 40
	closeEnough = 0.003 // modules between the two values
	tooHigh     = 0.3   // modules above the target: no weights on these lines will do
)

// run improves the weights for at most n rounds and returns the steps taken. It
// ends early when the sum is below target, or cannot get there.
func (w *weighing) run(ctx context.Context, n int, target float64) (steps int, floor float64) {
	next, nextExtra := make([]float64, len(w.weight)), make([]float64, len(w.extra))
	copy(w.weightOld, w.weight)
	copy(w.amountOld, w.amount)
	since, gapWas := 0, math.Inf(1)
	for r := 1; r <= n; r++ {
		w.round(next, nextExtra)
		since++
		if r%lookEvery != 0 {
			continue
		}
		steps = r * w.size()
		average(w.weightAvg, w.weightSum, since)
		average(w.extraAvg, w.extraSum, since)
		average(w.amountAvg, w.amountSum, since)
		highNow, lowNow := w.value(w.weight, w.extra), w.lower(w.amount)
		highAvg, lowAvg := w.value(w.weightAvg, w.extraAvg), w.lower(w.amountAvg)
		floor = max(floor, lowNow, lowAvg)
		if w.best < target || floor >= target+tooHigh || w.best-floor < closeEnough || ctx.Err() != nil {
			return steps, floor
		}
		gap := highNow - lowNow
		takeAvg := highAvg-lowAvg < gap
		if takeAvg {
			gap = highAvg - lowAvg
		}
		if gap < 0.4*gapWas || since > max(200, r*36/100) {
			w.restart(takeAvg)
			since, gapWas = 0, gap
		}
	}
	return n * w.size(), floor
}

func average(out, sum []float64, n int) {
	for i, v := range sum {
		out[i] = v / float64(n)
	}
}

// restart begins anew from here and evens out the two kinds of steps.
func (w *weighing) restart(fromAverage bool) {
	if fromAverage {
		copy(w.weight, w.weightAvg)
		copy(w.extra, w.extraAvg)
		copy(w.amount, w.amountAvg)
	}
	moved, movedAmount := 0.0, 0.0
	for p, v := range w.weight {
		if s := w.weightStep[p]; s > 0 {
			moved += float64((v - w.weightOld[p]) * (v - w.weightOld[p]) / s)
		}
	}
	for i, v := range w.amount {
		movedAmount += float64((v - w.amountOld[i]) * (v - w.amountOld[i]) / w.amtStep[i])
	}
	if moved > 1e-12 && movedAmount > 1e-12 {
		w.balance = math.Sqrt(float64(math.Sqrt(moved/movedAmount) * w.balance))
	}
	copy(w.weightOld, w.weight)
	copy(w.amountOld, w.amount)
	clear(w.weightSum)
	clear(w.extraSum)
	clear(w.amountSum)
}

// value is the sum of weights when scaled so that every class holds 1, and
// keeps the best weights.
func (w *weighing) value(weight, extra []float64) float64 {
	w.hold(weight, extra)
	least, sum := math.Inf(1), 0.0
	for _, h := range w.held {
		least = min(least, h)
	}
	for _, v := range weight {
		sum += v
	}
	for _, v := range extra {
		sum -= v
	}
	if !(least > 0) {
		return math.Inf(1)
	}
	if sum/least < w.best {
		w.best = sum / least
		w.bestWeight = append(w.bestWeight[:0], weight...)
		w.bestExtra = append(w.bestExtra[:0], extra...)
	}
	return sum / least
}

// lower is a value that no weights on these lines go below, about: the amounts
// scaled so that no crossing is loaded by more than 1. It is 0 when a must is
// not met.
func (w *weighing) lower(amount []float64) float64 {
	w.spread(amount, w.load)
	most, total := 0.0, 0.0
	for _, v := range w.load {
		most = max(most, v)
	}
	for _, v := range amount {
		total += v
	}
	for _, in := range w.must {
		sum := 0.0
		for _, i := range in {
			sum += amount[i]
		}
		if sum < 0.98 {
			return 0
		}
	}
	if !(most > 0) {
		return 0
	}
	return total / most
}
