package layout

import "math"

// proof is a set of weights in whole numbers, from which a bound follows
// without any rounding.
//
// Let n modules be placed so that every crossing that must be held is held.
// Their boxes hold no crossing twice, so together they hold at most the sum of
// all weights, less what each must takes off for every box that holds it, which
// is once or more: at most total. Each box holds least or more. Hence
// n*least <= total.
type proof struct {
	total int64
	least int64
	held  []int64 // by class of the list given
}

// proofScale is what a weight of 1 becomes.
const proofScale = 1 << 32

// newProof rounds weights down to whole numbers and sums them up over all
// classes. Rounding may weaken the proof, never falsify it. ok is false when it
// proves nothing.
func newProof(all *boxClasses, must []knot, weight, extra []float64) (p proof, ok bool) {
	nu, nv := len(all.us), len(all.vs)
	if len(weight) != nu*nv {
		return proof{}, false
	}
	table := make([]int64, (nu+1)*(nv+1))
	for b := 0; b < nv; b++ {
		below, row := table[b*(nu+1):], table[(b+1)*(nu+1):]
		var sum int64
		for a, v := range weight[b*nu : (b+1)*nu] {
			sum += wholeWeight(v)
			row[a+1] = below[a+1] + sum
			if row[a+1] > 1<<60 {
				return proof{}, false
			}
		}
	}
	p.total, p.least = table[len(table)-1], math.MaxInt64
	p.held = make([]int64, len(all.list))
	for i, q := range all.list {
		k := cornersOf(q, nu)
		p.held[i] = table[k[0]] - table[k[1]] - table[k[2]] + table[k[3]]
	}
	for j, m := range must {
		a, b := m.find(all)
		off := wholeWeight(extra[j])
		p.total -= off
		for i, q := range all.list {
			if m.in(q, a, b) {
				p.held[i] -= off
			}
		}
	}
	for _, h := range p.held {
		p.least = min(p.least, h)
	}
	return p, p.least > 0
}

// wholeWeight is v in units of 1/proofScale, at most 256.
func wholeWeight(v float64) int64 {
	if !(v > 0) {
		return 0
	}
	return int64(min(v, 256) * proofScale)
}

// bound is the count that no placement exceeds; -1 when there is none at all.
func (p proof) bound() int {
	if p.total < 0 {
		return -1
	}
	return int(p.total / p.least)
}

// useful returns the classes of all that n modules could use: with a module of
// the class, the other n-1 hold at least least each, all together at most total.
func (p proof) useful(all *boxClasses, n int) *boxClasses {
	out := &boxClasses{us: all.us, vs: all.vs}
	for i, q := range all.list {
		if rest := p.total - p.held[i]; rest >= 0 && rest/p.least >= int64(n-1) {
			out.list = append(out.list, q)
		}
	}
	return out
}
