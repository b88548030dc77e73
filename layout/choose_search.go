package layout

import "math"

// verdict is a solution and what is known of it.
type verdict struct {
	got    solution
	bound  int64
	proved bool
	limit  int   // of blocks, that the solution and the bound keep; 0 for none
	price  int64 // of a block, tried last; 0 for none
}

// value is the total value in units.
func (s solution) value() int64 { return s.cell.value + s.cell.blocks()*s.aim.price }

func (s solution) blocks() int { return int(s.cell.blocks()) }

// over reports whether s has more value than o, or as much and is tidier.
func (s solution) over(o solution) bool {
	return cell{s.value(), s.cell.minor}.over(cell{o.value(), o.cell.minor}, false)
}

// Prices are tried at most maxPrices times. Each search beside the first has one
// part in stepParts of the steps.
const (
	maxPrices = 10
	stepParts = 16
)

// search looks for the best choice within c.maxBlocks, or for that of the fewest
// blocks. Tables by number of blocks are exact when the steps suffice for them.
// Where they do not, searches without a limit help out, with a price for a block.
func (c *chooser) search() verdict {
	v := verdict{bound: math.MaxInt64, limit: c.maxBlocks}
	if v.limit == 0 {
		c.offer(&v, c.solve(aim{}, c.steps))
		return v
	}
	var parts [][][]*part
	if c.sumSteps(v.limit) <= c.steps {
		got := c.solve(aim{blocks: v.limit}, c.steps)
		c.offer(&v, got)
		if c.ctx.Err() != nil || v.proved {
			return v
		}
		if !got.found && got.isExact() {
			return c.over(c.solve(aim{fewest: true}, c.steps))
		}
		parts = got.parts
	}
	free := c.solve(aim{}, c.steps/stepParts)
	c.offer(&v, free)
	if c.ctx.Err() != nil || v.proved {
		return v
	}
	few := c.solve(aim{fewest: true}, c.steps/stepParts)
	if few.blocks() > v.limit && !v.got.found {
		return c.over(few)
	}
	c.offer(&v, few)
	c.tryPrices(&v, free, few)
	if parts != nil && !v.proved && v.got.found {
		c.settle(&v, parts)
	}
	return v
}

// over is the verdict on a choice of the fewest blocks that were found.
func (c *chooser) over(few solution) verdict {
	v := verdict{got: few, bound: few.value(), proved: true, limit: few.blocks()}
	if few.found && !few.isExact() {
		v.bound = math.MaxInt64
		free := c.solve(aim{}, c.steps/stepParts)
		c.offer(&v, free)
		c.tryPrices(&v, free, few)
		v.limit = max(c.maxBlocks, v.got.blocks())
		v.proved = v.proved && v.limit == c.maxBlocks
	}
	return v
}

// offer takes a solution that is better and keeps to the limit, and its bound if
// that is lower.
func (c *chooser) offer(v *verdict, got solution) {
	if !got.found {
		return
	}
	if v.limit == 0 || got.blocks() <= v.limit {
		if !v.got.found || got.over(v.got) {
			v.got = got
		}
	}
	if !got.aim.fewest {
		v.bound = min(v.bound, c.bound(got, v.limit))
	}
	v.proved = v.got.found && v.got.value() == v.bound
}

// tryPrices looks for the price of a block at which the best choices, less what
// their blocks cost, have as many blocks as the limit allows: the price at which
// the bound is lowest. lo has too many blocks, hi keeps to the limit. The price
// that makes both cost the same is tried, and its choice takes the place of one,
// until none is better.
func (c *chooser) tryPrices(v *verdict, lo, hi solution) {
	for range maxPrices {
		if v.proved || lo.blocks() <= v.limit || hi.blocks() > v.limit {
			return
		}
		price := (lo.value() - hi.value()) / int64(lo.blocks()-hi.blocks())
		if price <= 0 || price > math.MaxInt64/4/int64(c.n+1) {
			return
		}
		v.price = price
		mid := c.solve(aim{price: price}, c.steps/stepParts)
		if !mid.found {
			return
		}
		c.offer(v, mid)
		switch {
		case mid.cell.value <= lo.value()-price*int64(lo.blocks()):
			return
		case mid.blocks() <= v.limit:
			hi = mid
		default:
			lo = mid
		}
	}
}

// sumSteps is about how many steps it takes to add up tables of up to k blocks.
func (c *chooser) sumSteps(k int) int {
	steps, before := 0.0, 0
	pair := func(x, y int) {
		steps += float64(min(x, c.n)+1) * float64(min(y, c.n)+1) * float64((k+1)*(k+1)) / 4
	}
	for _, p := range c.planes {
		for _, alt := range p.alts {
			inAlt := 0
			for _, cl := range alt.clusters {
				pair(inAlt, cl.size)
				inAlt += cl.size
			}
		}
		pair(before, p.limit)
		before += p.limit
	}
	return int(min(steps, math.MaxInt32))
}
