package layout

import (
	"context"
	"math"
	"slices"
)

// bounder is one search for a bound.
type bounder struct {
	ctx    context.Context
	f      *field
	boxes  []boundBox
	target int // the count to be ruled out
	steps  int // left
	bound  int // proved for the whole region
}

// branch is a part of all placements: those that use only the classes left and
// hold every crossing of must, and where the search in it stands.
type branch struct {
	whole  bool // holds all placements of target modules
	us, vs []float64
	must   []knot
	left   *boxClasses // nil at the start
	// What the last weighing came to, on the lines of from.
	from                  *boxClasses
	weight, extra, amount []float64
}

// Limits of a search. Only maxMusts and maxLines are more than a matter of speed:
// the musts are bits of one word, the lines are counted in int16.
const (
	maxMusts       = 60
	maxLines       = 3000 // along one axis
	roundsPerVisit = 1500
	refinements    = 3     // at most, before a branch is cut in two
	stalled        = 0.003 // modules won by new lines: too few to go on
	nearTarget     = 0.05  // modules below the target: no weights will do
)

// closerBound bounds the count of any placement of the turns in the region,
// starting from known, a bound, and best, a count that was reached. It tries to
// rule out best+1 modules. steps limits the work, in about two nanoseconds each;
// the result depends on nothing else, unless ctx ends, after which it is still a
// bound. docs/packing.md has the proof.
func closerBound(ctx context.Context, f *field, s Spec, turns []Turn, best, known, steps int) int {
	best = max(best, 0)
	if best >= known {
		return known
	}
	b := &bounder{ctx: ctx, f: f, target: best + 1, bound: known}
	for _, t := range turns {
		b.boxes = append(b.boxes, newBoundBox(s, t))
	}
	for _, start := range b.starts(s) {
		b.steps += steps / 2
		if b.ruleOut(start) {
			return best
		}
	}
	return b.bound
}

// starts are the sets of lines to start from, each good at some regions: rows
// from both ends, and rows from every vertex too.
func (b *bounder) starts(s Spec) []branch {
	end, gapU, gapV := toTicks(s.EndM), toTicks(s.GapUM), toTicks(s.GapVM)
	across := joiner{low: end, high: b.f.width - end + gapU}
	up := joiner{low: 0, high: b.f.height + gapV}
	for _, box := range b.boxes {
		across.sizes, up.sizes = append(across.sizes, box.w), append(up.sizes, box.h)
	}
	us, okU := across.fromEnds()
	vs, okV := up.fromEnds()
	if !okU || !okV {
		return nil
	}
	var columns []float64
	for i := range b.f.edges {
		columns = append(columns, b.f.edges[i].x0)
	}
	slices.Sort(columns)
	moreU := across.fromVertices(us, slices.Compact(columns), end, gapU)
	moreV := up.fromVertices(vs, b.f.heights, 0, gapV)
	out := []branch{{whole: true, us: us, vs: vs}}
	if len(moreU) > len(us) || len(moreV) > len(vs) {
		out = append(out, branch{whole: true, us: moreU, vs: moreV})
	}
	return out
}

// ruleOut reports whether no placement of the branch has target modules.
func (b *bounder) ruleOut(br branch) bool {
	last := math.Inf(1)
	for visit := 0; b.steps > 0 && b.ctx.Err() == nil; visit++ {
		all := newBoxClasses(b.f, b.boxes, br.us, br.vs)
		if br.left != nil {
			all.within(br.left)
		}
		b.steps -= 2000 + 60*len(all.list) + 40*len(b.f.edges)*len(br.vs)
		w, floor := b.weigh(&br, all)
		if w == nil {
			return true
		}
		br.left = all
		if p, ok := newProof(all, br.must, w.bestWeight, w.bestExtra); ok {
			if p.bound() < b.target {
				return true
			}
			if br.whole {
				b.bound = min(b.bound, p.bound())
			}
			if br.left = p.useful(all, b.target); len(br.left.list) == 0 {
				return true
			}
		}
		us, vs := b.refined(w, 0), b.refined(w, 1)
		same := len(us) == len(br.us) && len(vs) == len(br.vs)
		p, ok := b.undecided(w)
		tired := visit >= refinements || visit > 0 && w.best > last-stalled && floor > float64(b.target)-nearTarget
		if ok && (same || tired) && len(br.must) < maxMusts {
			return b.split(br, p)
		}
		if same || len(us) > maxLines || len(vs) > maxLines {
			return false
		}
		last = w.best
		br.us, br.vs = us, vs
	}
	return false
}

// split rules out both parts of a branch: that some box holds the crossing in
// one of its turns, and that none does.
func (b *bounder) split(br branch, p knot) bool {
	br.whole = false
	some, none := br, br
	some.must = append(br.must[:len(br.must):len(br.must)], p)
	some.extra = append(br.extra[:len(br.extra):len(br.extra)], 0)
	none.left = br.left.without(p)
	return b.ruleOut(some) && b.ruleOut(none)
}

// weigh looks for weights on the lines of all, from where the branch stands. It
// returns nil when there is nothing to weigh.
func (b *bounder) weigh(br *branch, all *boxClasses) (w *weighing, floor float64) {
	if len(all.list) == 0 {
		return nil, 0
	}
	c := all.needed(br.must)
	w = newWeighing(c, br.must)
	if br.from != nil {
		carryWeights(w, br)
		carryAmounts(w, br)
		copy(w.extra, br.extra)
	}
	rounds := min(roundsPerVisit, max(2*lookEvery, b.steps/w.size()))
	used, floor := w.run(b.ctx, rounds, float64(b.target)-1e-6)
	b.steps -= used
	br.from, br.weight, br.extra, br.amount = c, w.weightAvg, w.extraAvg, w.amountAvg
	return w, floor
}

// carryWeights starts w with the weights of the branch, whose lines are among
// those of w.
func carryWeights(w *weighing, br *branch) {
	u, v := linesBefore(w.c.us, br.from.us), linesBefore(w.c.vs, br.from.vs)
	n := len(br.from.us)
	for b := 0; b < w.nv; b++ {
		for a := 0; a < w.nu; a++ {
			if u[a+1] > u[a] && v[b+1] > v[b] {
				w.weight[b*w.nu+a] = br.weight[int(v[b])*n+int(u[a])]
			}
		}
	}
}

// carryAmounts shares the amount of every class of the branch among the classes
// of w that lie in it.
func carryAmounts(w *weighing, br *branch) {
	amount := make(map[boxClass]float64, len(br.from.list))
	for i, q := range br.from.list {
		if v := br.amount[i]; v > 0 {
			amount[q] = v
		}
	}
	in := newCoarser(w.c, br.from)
	parts := make(map[boxClass]float64, len(amount))
	for _, q := range w.c.list {
		parts[in.class(q)]++
	}
	for i, q := range w.c.list {
		k := in.class(q)
		if v := amount[k]; v > 0 {
			w.amount[i] = v / parts[k]
		}
	}
}
