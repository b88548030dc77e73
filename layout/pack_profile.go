package layout

import "math"

// step is one piece of a profile: rows at the positions from y up to the next
// step hold n modules. above is the index of the next step that holds more, or
// -1.
type step struct {
	y     float64
	n     int
	above int
}

// profile is how many modules a row of one turn holds at every row position
// (the row's lower edge in ticks), from the lowest position to the last step,
// which holds none.
type profile []step

// gap is a stretch of a slab inside the region that no edge enters, as the
// interval of the shrunk module's left side: from a to b now, changing by aBy
// and bBy per tick of row position.
type gap struct{ a, aBy, b, bBy float64 }

// profiler sweeps a row of one turn up the region.
//
// While no vertex enters or leaves the slab, every edge's reach along u is
// linear in the row position, and so is every condition on which the count
// depends: which edge ends a gap, whether a gap is wide enough, how many pitches
// fit. The profiler computes the count and the last position up to which all
// these conditions hold, and goes on from there; no position is sampled.
type profiler struct {
	f       *field
	m       module
	extents []extent
	leaves  float64 // the height at which the first of extents leaves the slab
	gaps    []gap
	wind    winding
	out     profile
	work    int // edges looked at
}

// newProfile computes the profile of m over f. stop is asked now and then and
// may end the work early, with an unusable profile.
func newProfile(f *field, m module, stop func() bool) profile {
	p := &profiler{f: f, m: m, wind: winding{turns: make([]int32, f.rings)}, extents: make([]extent, 0, 16), out: make(profile, 0, 16)}
	lowest, highest := rowRange(f, m)
	return p.run(lowest, highest, stop)
}

// run computes the profile of the row positions from lowest to highest.
func (p *profiler) run(lowest, highest float64, stop func() bool) profile {
	v := newVertexEvents(p.f, p.m)
	entered := 0
	p.leaves = math.Inf(1)
	for y := lowest; y <= highest && !stop(); {
		last := min(v.next(y)-1, highest)
		entered = p.update(y, entered)
		for y <= last {
			p.reset(y)
			p.work += len(p.extents) + 4
			end := y + p.findGaps(y, last-y)
			for from := y; y <= end; {
				n, keeps := p.count(y-from, end-y)
				p.emit(y, n)
				y += keeps + 1
			}
		}
	}
	p.emit(max(highest+1, lowest), 0)
	p.out.link()
	return p.out
}

// rowRange is the lowest and the highest position of a row of m in the box
// around f. One tick below the foot of the box still keeps the shrunk module
// inside.
func rowRange(f *field, m module) (lowest, highest float64) {
	return -1, f.height - m.h + 1
}

// vertexEvents lists the row positions at which a vertex has just left the
// slab below or just entered it above.
type vertexEvents struct {
	ys   []float64 // heights of the vertices, ascending
	h    float64
	i, j int
}

func newVertexEvents(f *field, m module) *vertexEvents {
	return &vertexEvents{ys: f.heights, h: m.h}
}

// foot and head are the first positions at which a vertex at height y is below
// the slab, and inside it coming from above.
func foot(y float64) float64    { return y - 1 }
func head(y, h float64) float64 { return y - h + 2 }

// next is the first event after y; calls must come with ascending y.
func (v *vertexEvents) next(y float64) float64 {
	for v.i < len(v.ys) && foot(v.ys[v.i]) <= y {
		v.i++
	}
	for v.j < len(v.ys) && head(v.ys[v.j], v.h) <= y {
		v.j++
	}
	n := math.Inf(1)
	if v.i < len(v.ys) {
		n = foot(v.ys[v.i])
	}
	if v.j < len(v.ys) {
		n = min(n, head(v.ys[v.j], v.h))
	}
	return n
}

// update drops the edges that have left the slab at row position y and adds
// those that have entered it; the field's edges before entered were added
// already. It returns the new entered.
func (p *profiler) update(y float64, entered int) int {
	bot, top := p.m.slabAt(y)
	if p.leaves <= bot {
		p.leaves = math.Inf(1)
		kept := p.extents[:0]
		for i := range p.extents {
			if y1 := p.f.edges[p.extents[i].edge].y1; y1 > bot {
				kept = append(kept, p.extents[i])
				p.leaves = min(p.leaves, y1)
			}
		}
		p.extents = kept
	}
	for ; entered < len(p.f.edges) && p.f.edges[entered].y0 < top; entered++ {
		if y1 := p.f.edges[entered].y1; y1 > bot {
			p.extents = append(p.extents, extent{edge: int32(entered)})
			p.leaves = min(p.leaves, y1)
		}
	}
	return entered
}

// reset computes the reach of every edge in the slab at row position y.
func (p *profiler) reset(y float64) {
	bot, top := p.m.slabAt(y)
	for i := range p.extents {
		p.extents[i].set(&p.f.edges[p.extents[i].edge], bot, top)
	}
	sortExtents(p.extents)
}

// findGaps splits the edges in the slab into groups that no module can pass
// between, and sets gaps to the passable stretches inside the region. It
// returns for how many ticks, at most limit, the gaps keep their ends.
//
// It holds until then: every edge of a group is tied to an earlier edge of the
// group by less than a module's width; the leftmost and the rightmost edge of
// each group stay so; passable gaps stay passable, and groups on both sides of
// an outside stretch stay apart.
func (p *profiler) findGaps(y, limit float64) float64 {
	bot, _ := p.m.slabAt(y)
	p.gaps = p.gaps[:0]
	ex := p.extents
	first, right := 0, 0
	for i := 1; i < len(ex); i++ {
		r, e := &ex[right], &ex[i]
		wide, wideBy := e.lo-r.hi-p.m.w, e.loBy-r.hiBy
		if wide < -tieTicks {
			limit = holds(-wide, -wideBy, limit)
			limit = holds(p.m.w-(r.lo-e.hi), e.hiBy-r.loBy, limit)
			limit = holds(e.lo-ex[first].lo, e.loBy-ex[first].loBy, limit)
			if e.hi > r.hi || e.hi == r.hi && e.hiBy > r.hiBy {
				right = i
			}
			continue
		}
		limit = p.closeGroup(first, right, i, bot, limit)
		if p.wind.inside() {
			p.gaps = append(p.gaps, gap{r.hi, r.hiBy, e.lo - p.m.w, e.loBy})
		} else {
			wide += p.m.w
		}
		limit = holds(wide, wideBy, limit)
		first, right = i, i
	}
	return p.closeGroup(first, right, len(ex), bot, limit)
}

// closeGroup winds past the edges first to end-1 and keeps right their
// rightmost.
func (p *profiler) closeGroup(first, right, end int, bot, limit float64) float64 {
	for i := first; i < end; i++ {
		e, r := &p.extents[i], &p.extents[right]
		limit = holds(r.hi-e.hi, r.hiBy-e.hiBy, limit)
		p.wind.pass(&p.f.edges[e.edge], bot)
	}
	return limit
}

// holds is for how many whole ticks, at most limit, the condition v >= 0,
// which holds now, is kept when v changes by by each tick.
func holds(v, by, limit float64) float64 {
	if by >= 0 || v+float64(by*limit) >= -2*tieTicks {
		return limit
	}
	return max(0, min(limit, math.Floor((v+2*tieTicks)/-by)))
}

// count fills the gaps from the left, dt ticks after they were found, and
// returns how many modules fit and for how many ticks more, at most limit, the
// count stays.
//
// Filling from the left is optimal: a module moved left as far as it goes
// leaves more room for the ones to its right.
func (p *profiler) count(dt, limit float64) (n int, keeps float64) {
	next, nextBy := math.Inf(-1), 0.0
	for i := range p.gaps {
		g := &p.gaps[i]
		start, startBy := g.a+float64(g.aBy*dt), g.aBy
		if next > start {
			limit = holds(next-start, nextBy-startBy, limit)
			start, startBy = next, nextBy
		} else if n > 0 {
			limit = holds(start-next, startBy-nextBy, limit)
		}
		room, roomBy := g.b+float64(g.bBy*dt)-start, g.bBy-startBy
		if room < -tieTicks {
			limit = holds(-room, -roomBy, limit)
			continue
		}
		k := math.Floor((room+tieTicks)/p.m.pitchU) + 1
		reach := float64(k * p.m.pitchU)
		limit = holds(room-(reach-p.m.pitchU), roomBy, limit)
		limit = holds(reach-room, -roomBy, limit)
		n += int(k)
		next, nextBy = start+reach, startBy
	}
	return n, limit
}

// emit appends a step unless the count goes on.
func (p *profiler) emit(y float64, n int) {
	if k := len(p.out); k == 0 || p.out[k-1].n != n {
		p.out = append(p.out, step{y: y, n: n})
	}
}

// link sets above.
func (p profile) link() {
	for i := len(p) - 1; i >= 0; i-- {
		j := i + 1
		for j > 0 && j < len(p) && p[j].n <= p[i].n {
			j = p[j].above
		}
		if j >= len(p) {
			j = -1
		}
		p[i].above = j
	}
}

// at is the index of the step that holds row position y, which must not be
// below the first step.
func (p profile) at(y float64) int {
	lo, hi := 0, len(p)
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; p[mid].y <= y {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}
