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
	steps  int // left; may be overdrawn
	bound  int // proved for the whole region
}

// branch is a part of all placements: those that use only the classes left and
// hold every crossing of must, and where the search in it stands.
type branch struct {
	us, vs []float64
	must   []knot
	left   *boxClasses // nil at the start
	// What the last weighing came to, on the lines of from.
	from *boxClasses
	at   point
	sum  float64 // of its weights
}

// Limits of a search. Only maxMusts and maxLines are more than a matter of speed:
// the musts are bits of one word, the lines are counted in int16.
const (
	maxMusts    = 60
	maxLines    = 3000 // along one axis
	fewRounds   = 800  // of one weighing
	manyRounds  = 8000 // where the two values leave open whether it will do
	patience    = 4    // sets of lines in a row that win nothing, before it ends
	almost      = 0.15 // modules that are not worth more classes
	refinements = 3    // at most, before a branch is cut in two
	refineEvery = 8    // cuts, lines are added whatever the weights say
	stalled     = 0.01 // modules won by new lines: too few to go on
	nearTarget  = 0.05 // modules below the target: no weights will do
	sure        = 1e-3 // the same, as soon as it is seen
)

// closerBound bounds the count of any placement of the turns in the region,
// starting from known, a bound, and best, a count that was reached. steps limits
// the work, in about three nanoseconds each; the result depends on nothing else,
// unless ctx ends, after which it is still a bound. docs/packing.md has the proof.
//
// First the region is weighed undivided, on one start after the other. Then the
// counts above best are ruled out one by one, from the bound downwards, by cutting
// the placements in parts.
func closerBound(ctx context.Context, f *field, s Spec, turns []Turn, best, known, steps int) int {
	best = max(best, 0)
	if best >= known {
		return known
	}
	b := &bounder{ctx: ctx, f: f, target: best + 1, bound: known}
	for _, t := range turns {
		b.boxes = append(b.boxes, newBoundBox(s, t))
	}
	starts := b.starts(s)
	if len(starts) == 0 {
		return known
	}
	var whole []branch
	for _, start := range starts {
		b.steps += steps / 2 / len(starts)
		whole = append(whole, b.relax(start)...)
		if b.bound <= best {
			return b.bound
		}
	}
	if len(whole) == 0 {
		return b.bound
	}
	for _, margin := range [...]float64{almost, almost / 8} {
		br := simplest(whole, margin)
		b.steps += steps / 4
		for b.bound > best {
			b.target = b.bound
			if !b.ruleOut(br) {
				break
			}
			b.bound--
		}
	}
	return b.bound
}

// simplest is the branch with the fewest classes among those that are by at most
// margin worse than the best: what is cut in parts is weighed very often.
func simplest(whole []branch, margin float64) branch {
	least := math.Inf(1)
	for _, br := range whole {
		least = min(least, br.sum)
	}
	out := whole[0]
	for _, br := range whole {
		if br.sum <= least+margin && (out.sum > least+margin || len(br.from.list) < len(out.from.list)) {
			out = br
		}
	}
	return out
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
	out := []branch{{us: us, vs: vs}}
	if len(moreU) > len(us) || len(moreV) > len(vs) {
		out = append(out, branch{us: moreU, vs: moreV})
	}
	return out
}

// relax bounds the whole region by weights on the lines of br, and adds lines
// while that wins something. It returns the branch on each set of lines. Classes
// that no target modules could use are left out.
func (b *bounder) relax(br branch) (all []branch) {
	least := math.Inf(1)
	for idle := 0; idle < patience && b.steps > 0 && b.ctx.Err() == nil; idle++ {
		c := b.classes(&br)
		w := b.weigh(&br, c, func(w *weighing) float64 { return math.Floor(w.best) })
		if w == nil {
			b.bound = b.target - 1
			return nil
		}
		br.left, br.sum = c, w.best
		if p, ok := newProof(c, nil, w.onAll(w.bestWeight), nil); ok {
			// Classes may have been left out for target modules.
			b.bound = min(b.bound, max(p.bound(), b.target-1))
			if b.bound < b.target {
				return nil
			}
			br.left = p.useful(c, b.target)
		}
		all = append(all, br)
		if w.best < least-stalled {
			idle = -1
		}
		least = min(least, w.best)
		if !b.refine(&br, w) {
			break
		}
	}
	return all
}

// classes are those left of a branch, on its lines.
func (b *bounder) classes(br *branch) *boxClasses {
	if br.left != nil && len(br.left.us) == len(br.us) && len(br.left.vs) == len(br.vs) {
		b.steps -= 2000 + 30*len(br.left.list)
		return br.left
	}
	all := newBoxClasses(b.f, b.boxes, br.us, br.vs)
	b.steps -= 2000 + 100*len(all.list) + 40*len(b.f.edges)*len(br.vs)
	if br.left != nil {
		all.within(br.left)
	}
	return all
}

// refine adds lines; ok is false when there are none to add, or too many.
func (b *bounder) refine(br *branch, w *weighing) (ok bool) {
	us, vs := b.refined(w, 0), b.refined(w, 1)
	if len(us) == len(br.us) && len(vs) == len(br.vs) || len(us) > maxLines || len(vs) > maxLines {
		return false
	}
	br.us, br.vs = us, vs
	return true
}

// ruleOut reports whether no placement of the branch has target modules.
func (b *bounder) ruleOut(br branch) bool {
	for visit := 0; b.steps > 0 && b.ctx.Err() == nil; visit++ {
		all := b.classes(&br)
		w := b.weigh(&br, all, func(*weighing) float64 { return float64(b.target) })
		if w == nil {
			return true
		}
		br.left = all
		if p, ok := newProof(all, br.must, w.onAll(w.bestWeight), w.bestExtra); ok {
			if p.bound() < b.target {
				return true
			}
			if br.left = p.useful(all, b.target); len(br.left.list) == 0 {
				return true
			}
		}
		p, ok := b.undecided(w)
		tired := visit >= refinements || w.floor > float64(b.target)-nearTarget && (visit > 0 || len(br.must)%refineEvery < refineEvery-1)
		if ok && tired && len(br.must) < maxMusts {
			return b.split(br, p)
		}
		if !b.refine(&br, w) {
			return ok && len(br.must) < maxMusts && b.split(br, p)
		}
	}
	return false
}

// split rules out both parts of a branch: that some box holds the crossing in
// one of its turns, and that none does.
func (b *bounder) split(br branch, p knot) bool {
	some, none := br, br
	some.must = append(br.must[:len(br.must):len(br.must)], p)
	some.at.extra = append(br.at.extra[:len(br.at.extra):len(br.at.extra)], 0)
	none.left = br.left.without(p)
	return b.ruleOut(some) && b.ruleOut(none)
}

// weigh looks for weights on the lines of all, from where the branch stands, with
// a sum below target or below what goal says. It returns nil when there is nothing
// to weigh.
func (b *bounder) weigh(br *branch, all *boxClasses, goal func(*weighing) float64) *weighing {
	if len(all.list) == 0 {
		return nil
	}
	w := newWeighing(all, br.must)
	if br.from != nil {
		carryWeights(w, br)
		carryAmounts(w, br)
		copy(w.now.extra, br.at.extra)
	}
	rounds := min(manyRounds, max(fewRounds, b.steps/3/w.size()))
	b.steps -= w.run(b.ctx, rounds, func(w *weighing, round int) bool {
		g := goal(w)
		return w.best < float64(b.target)-1e-6 || w.floor > g-sure || round >= fewRounds && w.floor > g-nearTarget
	})
	br.from = &boxClasses{us: all.us, vs: all.vs, list: w.stands}
	br.at = point{w.onAll(w.at.weight), w.at.extra, w.at.amount}
	return w
}

// carryWeights starts w with the weights of the branch, whose lines are among
// those of w.
func carryWeights(w *weighing, br *branch) {
	u, v := linesAt(br.from.us, w.all.us, w.usedU), linesAt(br.from.vs, w.all.vs, w.usedV)
	n := len(br.from.us)
	for b, y := range v {
		for a, x := range u {
			if x >= 0 && y >= 0 {
				w.now.weight[int(y)*w.nu+int(x)] += br.at.weight[b*n+a]
			}
		}
	}
}

// linesAt is, for every old line, the line in use that does what it did, or -1.
func linesAt(old, lines []float64, used []int16) []int16 {
	out := make([]int16, len(old))
	for i, v := range old {
		k, _ := slices.BinarySearch(lines, v)
		out[i] = used[k]
	}
	return out
}

// carryAmounts shares the amount of every class of the branch among the classes
// of w that lie in it.
func carryAmounts(w *weighing, br *branch) {
	amount := make(map[boxClass]float64, len(br.from.list))
	for i, q := range br.from.list {
		if v := br.at.amount[i]; v > 0 {
			amount[q] = v
		}
	}
	in := newCoarser(w.all, br.from)
	parts := make(map[boxClass]float64, len(amount))
	for _, q := range w.stands {
		parts[in.class(q)]++
	}
	for i, q := range w.stands {
		k := in.class(q)
		if v := amount[k]; v > 0 {
			w.now.amount[i] = v / parts[k]
		}
	}
}
