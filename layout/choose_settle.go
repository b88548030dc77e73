package layout

import (
	"math"
	"math/bits"
	"slices"
)

// settler rules out masks by prices, for a position and for a block, so that
// clusters with too many masks become exact. Let every position cost price and
// every block blockPrice: the most that any choice is worth is then found with one
// number for each mask, for n and k need not be told apart; so is the most with one
// given mask in one given row. Plus n positions and k blocks at their prices, that
// bounds every choice of n positions in at most k blocks. A mask whose bound is
// below the value of a choice at hand is in no better one.
type settler struct {
	c      *chooser
	blocks int
	all    [][][]*priced // as parts
	cost   int           // steps of looking at all masks once
}

// priced is a cluster of a settler.
type priced struct {
	part *part
	sets []*maskSet
	up   [][]int32 // for each mask of a row, what goes on of it in the next
	// value and size are those of each mask; value is noWorth where a fixed
	// position lacks.
	value, size [][]int64
	most        int64 // that a choice is worth, at the prices tried last
}

// noWorth is far below any value that a settler sees, and maxSettled keeps sums of
// these far from it.
const (
	noWorth    = math.MinInt64 / 4
	maxSettled = 1 << 57
	// priceTrials is how many prices a settler tries in each of three ranges,
	// and settleParts what one look at all masks may take of the steps.
	priceTrials = 12
	settleParts = 24
)

// settle makes the choice exact where prices rule out enough masks. parts are
// those that the tables by number of blocks were made for.
func (c *chooser) settle(v *verdict, parts [][][]*part) {
	s := c.newSettler(parts, v.limit)
	if s == nil {
		return
	}
	price, blockPrice, bound := s.prices(v.price)
	if bound < v.bound {
		v.bound = bound
		v.proved = v.got.value() == bound
	}
	reduced, ok := s.reduce(price, blockPrice, v.got.value())
	if !ok {
		return
	}
	got := c.run(aim{blocks: v.limit}, reduced)
	if c.ctx.Err() != nil {
		return
	}
	// Either a choice that is no worse is the best, or there is none.
	if got.found && got.over(v.got) {
		v.got = got
	}
	v.bound, v.proved = v.got.value(), true
}

// newSettler returns nil where masks or values are too many or too large.
func (c *chooser) newSettler(parts [][][]*part, blocks int) *settler {
	s := &settler{c: c, blocks: blocks, all: make([][][]*priced, len(parts))}
	for i, plane := range parts {
		for _, alt := range plane {
			for _, p := range alt {
				cost := p.cost(p.mostRuns(blocks), blocks)
				s.cost += cost / ((p.n + 1) * (blocks + 1))
				if cost >= math.MaxInt32 || s.cost > c.steps/settleParts {
					return nil
				}
			}
		}
		for _, a := range c.planes[i].alts {
			for _, u := range a.units {
				if u > maxSettled/int64(c.n+1) || u < -maxSettled/int64(c.n+1) {
					return nil
				}
			}
		}
	}
	for i, plane := range parts {
		s.all[i] = make([][]*priced, len(plane))
		for j, alt := range plane {
			for _, p := range alt {
				s.all[i][j] = append(s.all[i][j], c.newPriced(p, blocks))
			}
		}
	}
	return s
}

func (c *chooser) newPriced(p *part, blocks int) *priced {
	rows := p.cluster.rows
	out := &priced{part: p, sets: c.maskSets(rows, p.mostRuns(blocks))}
	for r, set := range out.sets {
		value, size := make([]int64, len(set.masks)), make([]int64, len(set.masks))
		fixed := rows[r].fixedMask()
		for i, m := range set.masks {
			value[i], size[i] = set.worth(rows[r], m).value, int64(bits.OnesCount64(m))
			if m&fixed != fixed {
				value[i] = noWorth
			}
		}
		out.value, out.size = append(out.value, value), append(out.size, size)
		if r > 0 {
			below := out.sets[r-1]
			up := make([]int32, len(below.masks))
			for i, m := range below.masks {
				up[i] = set.find[lifted(rows[r-1], below, set, m)]
			}
			out.up = append(out.up, up)
		}
	}
	return out
}

// forward finds for each row and mask the most that the rows up to it are worth
// at the prices, and sets most.
func (p *priced) forward(price, blockPrice int64) [][]int64 {
	out := make([][]int64, len(p.sets))
	for r, set := range p.sets {
		g := filled(len(set.masks))
		if r == 0 {
			g[0] = 0
		} else {
			for i, to := range p.up[r-1] {
				g[to] = max(g[to], out[r-1][i])
			}
		}
		for i := len(g) - 1; i > 0; i-- {
			for _, less := range set.without(i) {
				g[less] = max(g[less], g[i])
			}
		}
		for i := range g {
			for _, less := range set.without(i) {
				g[i] = max(g[i], g[less]-blockPrice)
			}
		}
		p.most = noWorth
		for i := range g {
			g[i] = p.take(r, i, g[i], price)
			p.most = max(p.most, g[i])
		}
		out[r] = g
	}
	return out
}

// backward finds for each row and mask the most that the rows above are worth.
func (p *priced) backward(price, blockPrice int64) [][]int64 {
	out := make([][]int64, len(p.sets))
	last := len(p.sets) - 1
	out[last] = make([]int64, len(p.sets[last].masks))
	for r := last; r > 0; r-- {
		set := p.sets[r]
		g := make([]int64, len(set.masks))
		for i := range g {
			g[i] = p.take(r, i, out[r][i], price)
		}
		// A mask gains the runs that start in row r, at the price of a block, and
		// loses those that end below it.
		for i := len(g) - 1; i > 0; i-- {
			for _, less := range set.without(i) {
				g[less] = max(g[less], g[i]-blockPrice)
			}
		}
		for i := range g {
			for _, less := range set.without(i) {
				g[i] = max(g[i], g[less])
			}
		}
		out[r-1] = make([]int64, len(p.sets[r-1].masks))
		for i, to := range p.up[r-1] {
			out[r-1][i] = g[to]
		}
	}
	return out
}

// take adds mask i of row r to what the other rows are worth.
func (p *priced) take(r, i int, others, price int64) int64 {
	if others <= noWorth/2 || p.value[r][i] == noWorth {
		return noWorth
	}
	return others + p.value[r][i] - price*p.size[r][i]
}

func filled(n int) []int64 {
	out := make([]int64, n)
	for i := range out {
		out[i] = noWorth
	}
	return out
}

// bound is the bound at some prices, and what each alternative and the best of
// each plane are worth at them.
func (s *settler) bound(price, blockPrice int64) (bound int64, alts [][]int64, planes []int64) {
	bound = int64(s.c.n)*price + int64(s.blocks)*blockPrice
	for _, plane := range s.all {
		worth, best := make([]int64, len(plane)), int64(noWorth)
		for j, alt := range plane {
			for _, p := range alt {
				p.forward(price, blockPrice)
				worth[j] += p.most
			}
			best = max(best, worth[j])
		}
		if len(plane) == 0 {
			best = 0
		}
		alts, planes = append(alts, worth), append(planes, best)
		bound += best
	}
	return bound, alts, planes
}

// prices looks for the prices at which the bound, which is convex in both, is
// lowest: for a position, among the values, then for a block, around a first
// guess, and once more for a position.
func (s *settler) prices(guess int64) (price, blockPrice, bound int64) {
	var values []int64
	for _, p := range s.c.planes {
		for _, a := range p.alts {
			values = append(values, a.units...)
		}
	}
	slices.Sort(values)
	values = slices.Compact(values)
	last := int64(len(values) - 1)
	at := func(price, blockPrice int64) int64 {
		if s.c.ctx.Err() != nil {
			return 0 // whatever comes of it is not used
		}
		b, _, _ := s.bound(price, blockPrice)
		return b
	}
	if guess <= 0 {
		guess = max(values[last]-values[0], 1)
	}
	blockPrice = guess
	price = values[lowest(0, last, func(x int64) int64 { return at(values[x], blockPrice) })]
	blockPrice = lowest(0, 4*guess, func(x int64) int64 { return at(price, x) })
	price = values[lowest(0, last, func(x int64) int64 { return at(values[x], blockPrice) })]
	return price, blockPrice, at(price, blockPrice)
}

// lowest narrows a range by the golden section to where a convex function is
// lowest, and returns the best place it tried.
func lowest(lo, hi int64, f func(int64) int64) int64 {
	const part = 0.381966
	cut := func() (int64, int64) {
		d := int64(part * float64(hi-lo))
		return lo + d, hi - d
	}
	a, b := cut()
	fa, fb := f(a), f(b)
	for range priceTrials - 2 {
		if a >= b {
			break
		}
		if fa <= fb {
			hi, b, fb = b, a, fa
			a, _ = cut()
			a = min(a, b)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			_, b = cut()
			b = max(a, b)
			fb = f(b)
		}
	}
	if fa <= fb {
		return a
	}
	return b
}

// reduce returns parts with the masks that choices worth value or more can have.
// ok says that these are few enough.
func (s *settler) reduce(price, blockPrice, value int64) (parts [][][]*part, ok bool) {
	bound, alts, planes := s.bound(price, blockPrice)
	steps := 0
	parts = make([][][]*part, len(s.all))
	for i, plane := range s.all {
		parts[i] = make([][]*part, len(plane))
		for j, alt := range plane {
			for _, p := range alt {
				if p.part.exactTo < s.blocks {
					// What a choice with this alternative may lose in this cluster.
					spare := bound - planes[i] + alts[i][j] - value
					steps += p.reduce(price, blockPrice, spare, s.blocks)
				}
				parts[i][j] = append(parts[i][j], p.part)
			}
		}
	}
	return parts, steps <= s.c.steps
}

// reduce puts a part in place with the masks with which the cluster is worth at
// most spare less than it can be, and returns the steps that they take.
func (p *priced) reduce(price, blockPrice, spare int64, blocks int) int {
	next := *p.part
	next.table, next.filled, next.singles = table{}, nil, nil
	next.sets, next.exactTo = make([]*maskSet, len(p.sets)), math.MaxInt
	before, after := p.forward(price, blockPrice), p.backward(price, blockPrice)
	steps := 0
	for r, set := range p.sets {
		keep := func(i int) bool {
			return before[r][i] > noWorth/2 && after[r][i] > noWorth/2 && before[r][i]+after[r][i] >= p.most-spare
		}
		next.sets[r] = set.only(keep)
		steps += 2 * (len(next.sets[r].masks) + len(next.sets[r].less))
	}
	p.part = &next
	return steps * (next.n + 1) * (blocks + 1)
}

// only returns the masks that keep names, as alive, and all that remains of them
// when runs are taken away.
func (s *maskSet) only(keep func(int) bool) *maskSet {
	in, alive := make([]bool, len(s.masks)), make([]bool, len(s.masks))
	in[0] = true
	out := &maskSet{width: s.width, joins: s.joins}
	for i := len(s.masks) - 1; i >= 0; i-- {
		if alive[i] = keep(i); alive[i] || in[i] {
			in[i] = true
			for _, less := range s.without(i) {
				in[less] = true
			}
		}
	}
	for i, m := range s.masks {
		if in[i] {
			out.masks, out.alive = append(out.masks, m), append(out.alive, alive[i])
		}
	}
	out.link()
	return out
}
