package layout

import (
	"math"
	"slices"
)

// windower solves windows of one view: the most modules that rows hold in a
// rectangle, beside modules that stay where they are. It keeps scratch memory.
type windower struct {
	v        *view
	f        field
	prof     profiler
	profiles []profile
	whole    []profile // of the region, once they are known
	stack    stacker
	boxes    [][4]float64 // of the holes
	free     []interval
	one      [1]stacked
	got      []spot
	work     int // what was looked at, in steps
}

func newWindower(v *view) *windower {
	w := &windower{v: v, profiles: make([]profile, len(v.modules))}
	w.f.rings = v.f.rings
	w.prof = profiler{f: &w.f, wind: winding{turns: make([]int32, v.f.rings)}}
	w.stack = stacker{queue: queue[queued]{before: (*queued).before}}
	for _, ring := range v.f.corners {
		b := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for _, p := range ring {
			b = [4]float64{min(b[0], float64(p.x)), min(b[1], float64(p.y)), max(b[2], float64(p.x)), max(b[3], float64(p.y))}
		}
		w.boxes = append(w.boxes, b)
	}
	return w
}

// wallTicks is how thick the walls beside a window are: more than any region.
const wallTicks = 2 * maxExtentM * ticksPerM

// solve appends to out the modules of the best stack of rows inside in (in the
// view's frame, true module sides), clear of the fixed rectangles of the view.
// With alone, one turn for all rows is preferred when it holds as many.
func (w *windower) solve(out []spot, in area, fixed []area, alone bool) []spot {
	in = w.open(in, fixed)
	for i := range w.v.modules {
		w.sweep(in, i)
	}
	c, turn := w.run(0, len(w.v.modules)), 0
	if alone && len(w.v.modules) > 1 {
		for i := range w.v.modules {
			if one := w.run(i, i+1); one.count() >= c.count() {
				c, turn = one, i
				break
			}
		}
	}
	return w.fill(out, c, int8(turn))
}

// lowest finds the lowest place of a turn in a window, the leftmost of these.
func (w *windower) lowest(in area, fixed []area, turn int) (spot, bool) {
	in = w.open(in, fixed)
	w.sweep(in, turn)
	for _, st := range w.profiles[turn] {
		if st.n > 0 {
			w.one[0] = stacked{y: st.y, n: 1}
			w.got = w.fill(w.got[:0], chain{modules: w.v.modules[turn : turn+1], rows: w.one[:]}, int8(turn))
			break
		}
	}
	if len(w.got) == 0 {
		return spot{}, false
	}
	b := w.got[0]
	w.got = w.got[:0]
	return b, true
}

// open sets the field to what matters in a window and returns the window as
// rows see it: what a row must find free reaches beyond the module.
func (w *windower) open(in area, fixed []area) area {
	beyond := w.v.modules[0].left + slackTicks
	in = area{math.Floor(in.x0 - beyond), math.Floor(in.y0 - w.v.foot), math.Ceil(in.x1 + beyond), math.Ceil(in.y1 + w.v.foot)}
	w.collect(in, fixed)
	w.work += len(w.f.edges) + len(fixed)
	return in
}

// sweep computes the profile of a turn.
func (w *windower) sweep(in area, turn int) {
	m := w.v.modules[turn]
	w.prof.m, w.prof.out, w.prof.extents, w.prof.work = m, w.profiles[turn][:0], w.prof.extents[:0], 0
	lowest, highest := rowRange(w.v.f, m)
	w.profiles[turn] = w.prof.run(max(lowest, in.y0), min(highest, in.y1-m.h), func() bool { return false })
	w.work += w.prof.work
}

// run finds the best stack of the turns from first to end-1.
func (w *windower) run(first, end int) chain {
	s := &w.stack
	s.modules, s.profiles = w.v.modules[first:end], w.profiles[first:end]
	s.stacks, s.lowest, s.queue.items = s.stacks[:0], s.lowest[:0], s.queue.items[:0]
	c := s.run()
	w.work += 4 * len(s.stacks)
	return c
}

// insertBelow is how many edges others are inserted among one by one.
const insertBelow = 32

// collect sets the field to what matters in the window.
func (w *windower) collect(in area, fixed []area) {
	f := &w.f
	f.edges = f.edges[:0]
	for i := range w.v.f.edges {
		e := &w.v.f.edges[i]
		if e.y0 > in.y1 {
			break
		}
		if e.y1 < in.y0 {
			continue
		}
		if b := &w.boxes[e.ring]; e.ring > 0 && (b[0] > in.x1 || b[2] < in.x0) {
			continue
		}
		f.edges = append(f.edges, *e)
	}
	sorted := len(f.edges) < insertBelow // so far they are in order
	add := func(a area) {
		if a.x0 > in.x1 || a.x1 < in.x0 || a.y0 > in.y1 || a.y1 < in.y0 {
			return
		}
		e := edge{x0: a.x0, y0: a.y0, x1: a.x1, y1: a.y1}
		f.edges = append(f.edges, e)
		if sorted {
			i := len(f.edges) - 1
			for ; i > 0 && compareEdges(e, f.edges[i-1]) < 0; i-- {
				f.edges[i] = f.edges[i-1]
			}
			f.edges[i] = e
		}
	}
	low, high := in.y0-8, in.y1+8
	add(area{in.x0 - wallTicks, low, in.x0, high})
	add(area{in.x1, low, in.x1 + wallTicks, high})
	for _, a := range fixed {
		add(area{a.x0 - w.v.padX, a.y0 - w.v.padY, a.x1 + w.v.padX, a.y1 + w.v.padY})
	}
	if !sorted {
		slices.SortFunc(f.edges, compareEdges)
	}
	f.heights = f.heights[:0]
	for i := range f.edges {
		f.heights = append(f.heights, f.edges[i].y0, f.edges[i].y1)
	}
	slices.Sort(f.heights)
	f.heights = slices.Compact(f.heights)
}

// fill appends the modules of a stack whose first turn is turn.
func (w *windower) fill(out []spot, c chain, turn int8) []spot {
	sl := slab{wind: w.prof.wind}
	sl.stripes = &stripes{f: &w.f}
	sl.extents = w.prof.extents[:0]
	for _, st := range c.rows {
		m := &c.modules[st.m]
		bot, top := m.slabAt(st.y)
		sl.extents = sl.extents[:0]
		for i := range w.f.edges {
			if e := &w.f.edges[i]; e.y1 >= bot && e.y0 <= top {
				sl.extents = append(sl.extents, extentOf(e, int32(i), bot, top))
			}
		}
		w.free = sl.between(w.free[:0], bot, m.w)
		n, next := 0, math.Inf(-1)
		for _, g := range w.free {
			at, end := max(m.roundedLeft(g.a), next), m.latest(g.b)
			for ; at <= end && n < st.n; at += m.pitchU {
				out = append(out, spot{at, st.y + w.v.foot, turn + int8(st.m)})
				n++
				next = at + m.pitchU
			}
		}
	}
	w.prof.extents = sl.extents[:0]
	return out
}
