package layout

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// Pack lays out as many modules as the style can hold in the region, and
// bounds what any layout could hold.
//
// Grid, Rows and Columns are exact: no layout of the style has more modules. Best
// holds no fewer than any of them, and the tidier layout when two hold as many;
// Pack looks for it within the [Drag] budget. Among grids, rows or columns of equal
// count the earlier turn of s.Turns is taken before the later, one turn for all
// rows before mixed rows, and rows lie as low as possible. The same input gives
// the same result to the last bit.
//
// Exact means: whatever fits without any tolerance is found, and whatever is
// returned is valid within 1e-6 m as [CheckPacking] checks; sizes and gaps are
// taken to a quarter of a micrometre. A region too small for a module gives an
// empty Packing. Neither argument is changed.
//
// Errors are a *[ShapeError], a *[RangeError], an unknown style, the context's
// error, or a failed check of the own result, which would be a fault of this
// package.
func Pack(ctx context.Context, r Region, s Spec, style Style) (Packing, error) {
	return PackWithin(ctx, r, s, style, Drag)
}

// PackWithin is [Pack] with a budget, which matters to Best alone: how far to look
// beyond what is exact. Deep looks on until the count meets the bound or its steps
// are used up. An unknown budget is an error.
func PackWithin(ctx context.Context, r Region, s Spec, style Style, b Budget) (Packing, error) {
	if b != Drag && b != Deep {
		return Packing{}, fmt.Errorf("budget %d is not Drag or Deep", b)
	}
	if !slices.Contains(Styles(), style) {
		return Packing{}, fmt.Errorf("style %q is none of %v", style, Styles())
	}
	job, err := newJob(ctx, r, s)
	if err != nil {
		return Packing{}, err
	}
	modules := job.pack(style, b)
	if err := ctx.Err(); err != nil {
		return Packing{}, err
	}
	out := Packing{Style: style, Modules: modules, Bound: job.bound}
	if err := CheckPacking(r, s, out.Modules); err != nil {
		return Packing{}, fmt.Errorf("layout made an invalid packing: %w", err)
	}
	if len(out.Modules) > out.Bound {
		return Packing{}, fmt.Errorf("layout made an invalid bound: %d modules, bound %d", len(out.Modules), out.Bound)
	}
	out.Proved = len(out.Modules) == out.Bound
	return out, nil
}

// pack lays out modules in a style.
func (j *job) pack(style Style, b Budget) []Rect {
	switch style {
	case Grid:
		return j.rects(j.packGrid(1))
	case Rows:
		return j.rects(j.packRows())
	case Columns:
		return j.spotRects(newSearcher(j).whole(columnsView))
	}
	return j.packBest(b)
}

// job is one call of [Pack] in ticks.
type job struct {
	ctx     context.Context
	f       *field
	s       Spec
	modules []module // one per allowed turn, in order of preference
	bound   int

	profiles []profile // by turn, once rows have been packed
}

// module is one turn of the module, in ticks.
type module struct {
	turn Turn
	// w is the width along u that must be free: the module with its end
	// allowances, less the slack.
	w float64
	// h is the full height of the module.
	h float64
	// pitchU and pitchV are the least distances between the left sides of two
	// modules of a row and between the lower sides of two rows.
	pitchU, pitchV float64
	// left is from the left side of what must be free to the module's left side.
	left float64
}

// slabAt is the stretch of v that a row at y must find free. Its ends lie half
// a tick beside any vertex.
func (m module) slabAt(y float64) (bot, top float64) {
	return y + slackTicks, y + m.h - slackTicks
}

func newJob(ctx context.Context, r Region, s Spec) (*job, error) {
	turns, err := s.check()
	if err != nil {
		return nil, err
	}
	f, err := newField(r)
	if err != nil {
		return nil, err
	}
	j := &job{ctx: ctx, f: f, s: s}
	for _, t := range turns {
		j.modules = append(j.modules, newModule(s, t))
	}
	reach, err := f.measure(s.narrowest(turns))
	if err != nil {
		return nil, err
	}
	bound := upperBound(reach, s, turns)
	if bound > maxModules {
		return nil, &ShapeError{Ring: "outer", Vertex: -1, Rule: fmt.Sprintf("could hold %.0f modules, at most %d are laid out", bound, maxModules)}
	}
	j.bound = int(bound)
	return j, nil
}

func newModule(s Spec, t Turn) module {
	size := s.placed(t)
	end := toTicks(s.EndM)
	m := module{turn: t, h: ceilTicks(size.HM)}
	w := ceilTicks(size.WM)
	m.w = w + 2*end - 2*slackTicks
	m.pitchU = w + toTicks(s.GapUM)
	m.pitchV = m.h + toTicks(s.GapVM)
	m.left = end - slackTicks
	return m
}

// ceilTicks is a size in ticks, rounded up so that the module is never larger
// than its place; a hundredth of a tick is taken for float64 noise.
func ceilTicks(m float64) float64 { return math.Ceil(float64(m*ticksPerM) - 0.01) }

// stopped reports whether the caller has given up.
func (j *job) stopped() bool { return j.ctx.Err() != nil }
