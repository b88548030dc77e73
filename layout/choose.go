package layout

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// Site is one plane when positions are chosen: the layouts it may have, of which
// one is used, and what each of their positions is worth.
type Site struct {
	Spec Spec
	// Alternatives are valid packings of the plane, the preferred one first.
	// None means that the plane takes nothing.
	Alternatives [][]Rect
	// Values runs parallel to Alternatives and their modules: what a position is
	// worth, in one unit for all planes, within 1e6 of zero. See [PlaceValue].
	Values [][]float64
	// Fixed runs parallel to Alternatives, or is nil for none: positions that
	// are taken in any case, such as locked modules; as many in each alternative.
	// An entry may be nil too.
	Fixed [][]bool
	// Limit is the most positions that may be taken, at least the number of
	// fixed ones; nil for no limit.
	Limit *int
}

// Choice is the outcome of [Choose].
type Choice struct {
	// Alternative says for each plane which alternative is used; -1 where there
	// is none.
	Alternative []int
	// Taken lists for each plane the indices in that alternative, ascending.
	Taken [][]int
	// Count is how many positions are taken.
	Count int
	// Value is their total value.
	Value float64
	// Bound is at least the total value of every choice of Count positions that
	// takes one of the given alternatives on each plane, keeps Fixed and Limit,
	// and has at most BlockLimit blocks. It says nothing about layouts that were
	// not given.
	Bound float64
	// Proved says that Value meets Bound and, where Over is set, that no such
	// choice of Count positions has fewer blocks.
	Proved bool
	// BlockLimit is the number of blocks that is kept: the one asked for, or,
	// where Over is set, that of this choice; 0 for no limit.
	BlockLimit int
	// Over says that no choice of Count positions within the blocks asked for
	// was found, and that this one has the fewest that were found.
	Over bool
	// Tidiness is that of what is taken: sums over the planes, and the turns in
	// use on any of them.
	Tidiness Tidiness
}

// Choose takes n positions of the planes with the highest total value, in at
// most maxBlocks blocks over all planes; 0 is no limit. A block is what
// [Tidiness] counts. An n beyond what the planes and their limits hold takes as
// many as they do, an n below the number of fixed positions takes just these.
// Where n positions cannot be had in maxBlocks blocks, the fewest blocks come
// first, and then value: see Choice.Over.
//
// Values are rounded to whole billionths and then add up exactly: no order of
// planes or of adding decides. Equal values go to fewer blocks, then fewer rail
// runs, then fewer positions on the last plane, then on the one before it, and so
// on; then the earlier alternative and, within one of at most 4096 positions, the
// least sum of the positions' numbers when counted upwards and then to the right.
//
// The work is counted in steps, see [Budget]. When they do not suffice, the
// choice is the best of a restricted kind, ties may go otherwise, and Proved is set
// only where it meets a bound all the same. An error wraps a *[RangeError] for a number out of range,
// is a plain one for slices that do not match, or that of ctx.
func Choose(ctx context.Context, planes []Site, n, maxBlocks int, b Budget) (Choice, error) {
	c, err := newChooser(ctx, planes, n, maxBlocks, b.chooseSteps())
	if err != nil {
		return Choice{}, err
	}
	return c.choose()
}

func (c *chooser) choose() (Choice, error) {
	v := c.search()
	if err := c.ctx.Err(); err != nil {
		return Choice{}, err
	}
	return c.choice(v), nil
}

// unitsPerValue is how finely values are told apart: whole billionths. maxValue
// and maxTotal keep sums of them within int64.
const (
	unitsPerValue = 1e9
	maxValue      = 1e6
	maxTotal      = 4e9
)

// chooser is one call of [Choose].
type chooser struct {
	ctx       context.Context
	planes    []sitePlane
	n         int // positions to take
	maxBlocks int
	steps     int // see Budget.chooseSteps
	sets      map[setKey]*maskSet
	memory    [2]maskLayer // of row solvers, one after the other
}

// sitePlane is a plane with its alternatives taken apart.
type sitePlane struct {
	site  Site
	alts  []alternative
	limit int // the most positions that may be taken
}

func newChooser(ctx context.Context, planes []Site, n, maxBlocks, steps int) (*chooser, error) {
	if err := checkRange("maxBlocks", float64(maxBlocks), 0, maxModules); err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	c := &chooser{ctx: ctx, steps: steps, sets: map[setKey]*maskSet{}}
	most, fixed, total := 0, 0, 0.0
	for i, s := range planes {
		if err := checkSite(s); err != nil {
			return nil, fmt.Errorf("planes[%d]: %w", i, err)
		}
		p := newSitePlane(s)
		c.planes = append(c.planes, p)
		most += p.limit
		if len(p.alts) > 0 {
			fixed += p.alts[0].fixedN
		}
		total += greatestTotal(s)
	}
	if err := checkRange("the sum of Values", total, 0, maxTotal); err != nil {
		return nil, err
	}
	c.n = min(max(n, fixed), most)
	// A block holds a position at least: more blocks than positions limit nothing.
	if c.maxBlocks = maxBlocks; maxBlocks > c.n {
		c.maxBlocks = 0
	}
	return c, nil
}

// checkSite returns an error for numbers out of range and slices that do not
// match.
func checkSite(s Site) error {
	if len(s.Values) != len(s.Alternatives) {
		return fmt.Errorf("%d lists of Values for %d alternatives", len(s.Values), len(s.Alternatives))
	}
	if s.Fixed != nil && len(s.Fixed) != len(s.Alternatives) {
		return fmt.Errorf("%d lists of Fixed for %d alternatives", len(s.Fixed), len(s.Alternatives))
	}
	first := 0
	for a := range s.Alternatives {
		held, err := checkAlternative(s, a)
		if err != nil {
			return fmt.Errorf("alternative %d: %w", a, err)
		}
		if a == 0 {
			first = held
		}
		if held != first {
			return fmt.Errorf("%d positions Fixed of alternative %d and %d of alternative 0, want as many", held, a, first)
		}
	}
	if s.Limit != nil {
		return checkRange("Limit", float64(*s.Limit), float64(first), math.MaxInt32)
	}
	return nil
}

// checkAlternative also counts the fixed positions.
func checkAlternative(s Site, a int) (fixed int, err error) {
	rects := s.Alternatives[a]
	if len(s.Values[a]) != len(rects) {
		return 0, fmt.Errorf("%d Values for %d positions", len(s.Values[a]), len(rects))
	}
	if err := checkRange("positions", float64(len(rects)), 0, maxModules); err != nil {
		return 0, err
	}
	for i, v := range s.Values[a] {
		if err := checkRange("Values", v, -maxValue, maxValue); err != nil {
			return 0, fmt.Errorf("position %d: %w", i, err)
		}
		if !isFinite(rects[i].UM) || !isFinite(rects[i].VM) {
			return 0, fmt.Errorf("position %d: its place is not finite", i)
		}
	}
	if s.Fixed == nil || s.Fixed[a] == nil {
		return 0, nil
	}
	if len(s.Fixed[a]) != len(rects) {
		return 0, fmt.Errorf("%d marks Fixed for %d positions", len(s.Fixed[a]), len(rects))
	}
	for _, f := range s.Fixed[a] {
		if f {
			fixed++
		}
	}
	return fixed, nil
}

// greatestTotal is at least the amount of the sum of the values that a choice
// takes of the plane.
func greatestTotal(s Site) float64 {
	most := 0.0
	for _, values := range s.Values {
		sum := 0.0
		for _, v := range values {
			sum += math.Abs(v)
		}
		most = max(most, sum)
	}
	return most
}

// newSitePlane leaves out alternatives that repeat an earlier one.
func newSitePlane(s Site) sitePlane {
	p := sitePlane{site: s}
	for a, rects := range s.Alternatives {
		if !slices.ContainsFunc(p.alts, func(o alternative) bool { return o.same(s, a) }) {
			p.alts = append(p.alts, newAlternative(s, a))
			p.limit = max(p.limit, len(rects))
		}
	}
	if s.Limit != nil {
		p.limit = min(p.limit, *s.Limit)
	}
	return p
}

// choice states the outcome for the caller.
func (c *chooser) choice(v verdict) Choice {
	out := Choice{
		Alternative: make([]int, len(c.planes)), Taken: make([][]int, len(c.planes)),
		Value: float64(v.got.value()) / unitsPerValue, Bound: float64(v.bound) / unitsPerValue,
		Proved: v.proved, BlockLimit: v.limit, Over: v.limit > c.maxBlocks,
	}
	var turns [2]bool
	for i, p := range c.planes {
		out.Alternative[i], out.Taken[i] = -1, []int{}
		if len(p.alts) == 0 {
			continue
		}
		alt := p.alts[v.got.alts[i]]
		out.Alternative[i] = alt.index
		out.Taken[i] = append(out.Taken[i], v.got.taken[i]...)
		slices.Sort(out.Taken[i])
		modules := make([]Rect, len(out.Taken[i]))
		for k, at := range out.Taken[i] {
			modules[k] = alt.rects[at]
			turns[p.site.Spec.turnOf(modules[k])] = true
		}
		t := TidinessOf(modules, p.site.Spec)
		out.Count += len(modules)
		out.Tidiness.RailRuns += t.RailRuns
		out.Tidiness.Blocks += t.Blocks
	}
	for _, used := range turns {
		if used {
			out.Tidiness.Turns++
		}
	}
	return out
}

// turnOf is which way round a module lies; AsGiven for a square one.
func (s Spec) turnOf(m Rect) Turn {
	if aligned(m.WM, s.WidthM) {
		return AsGiven
	}
	return Turned
}
