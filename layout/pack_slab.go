package layout

import "math"

// extent is how far one edge reaches along u inside a row's slab: lo and hi at
// row position y, changing by loBy and hiBy per tick of y while no vertex
// enters or leaves the slab.
type extent struct {
	lo, hi     float64
	loBy, hiBy float64
	edge       int32
}

// extentOf clips e to the slab between bot and top, which must overlap, and
// takes the slope of a moving end from the edge.
func extentOf(e *edge, id int32, bot, top float64) extent {
	s := extent{lo: e.x0, hi: e.x1, edge: id}
	if e.dir == 0 {
		return s
	}
	if e.y0 < bot {
		s.lo, s.loBy = e.x0+float64(e.slope*(bot-e.y0)), e.slope
	}
	if e.y1 > top {
		s.hi, s.hiBy = e.x0+float64(e.slope*(top-e.y0)), e.slope
	}
	if e.slope < 0 {
		s.lo, s.hi, s.loBy, s.hiBy = s.hi, s.lo, s.hiBy, s.loBy
	}
	return s
}

// before orders extents by their left end now, then soon.
func (s *extent) before(o *extent) bool {
	if s.lo != o.lo {
		return s.lo < o.lo
	}
	if s.loBy != o.loBy {
		return s.loBy < o.loBy
	}
	return s.edge < o.edge
}

// sortExtents is an insertion sort: a row meets few edges, and they are nearly
// in order from the row before.
func sortExtents(s []extent) {
	for i := 1; i < len(s); i++ {
		for j := i; j > 0 && s[j].before(&s[j-1]); j-- {
			s[j], s[j-1] = s[j-1], s[j]
		}
	}
}

// winding counts, from left to right along the foot of a slab, how often each
// ring has been wound around. Every ring is closed, so that the counts are
// back at zero after the last edge.
type winding struct {
	turns   []int32
	covered int // holes that are wound around here
}

// pass steps over e, if e meets the line.
func (w *winding) pass(e *edge, line float64) {
	if e.y0 > line || e.y1 < line {
		return
	}
	was := w.turns[e.ring]
	w.turns[e.ring] = was + e.dir
	if e.ring == 0 {
		return
	}
	if was == 0 {
		w.covered++
	} else if was+e.dir == 0 {
		w.covered--
	}
}

// inside reports whether the place is in the region.
func (w *winding) inside() bool { return w.turns[0] != 0 && w.covered == 0 }

// stripes finds the edges that meet a slab without looking at all of them: the
// edges are listed by horizontal stripes.
type stripes struct {
	f      *field
	perM   float64 // stripes per tick
	starts []int32
	list   []int32
}

// newStripes makes stripes about as high as the rows to be asked for.
func newStripes(f *field, rowH float64) *stripes {
	limit := 16*len(f.edges) + 256
	for n := int(min(max(f.height/rowH, 1), 4096)); ; n /= 2 {
		s := &stripes{f: f, perM: float64(n) / (f.height + 1), starts: make([]int32, n+1)}
		total := 0
		for i := range f.edges {
			total += s.of(f.edges[i].y1) - s.of(f.edges[i].y0) + 1
		}
		if total > limit && n > 1 {
			continue
		}
		s.fill(total)
		return s
	}
}

// of is the stripe that holds y, the first or last one for y beyond.
func (s *stripes) of(y float64) int {
	return int(min(max(math.Floor(float64(y*s.perM)), 0), float64(len(s.starts)-2)))
}

func (s *stripes) fill(total int) {
	for i := range s.f.edges {
		for b := s.of(s.f.edges[i].y0); b <= s.of(s.f.edges[i].y1); b++ {
			s.starts[b+1]++
		}
	}
	for b := 1; b < len(s.starts); b++ {
		s.starts[b] += s.starts[b-1]
	}
	s.list = make([]int32, total)
	next := append([]int32(nil), s.starts...)
	for i := range s.f.edges {
		for b := s.of(s.f.edges[i].y0); b <= s.of(s.f.edges[i].y1); b++ {
			s.list[next[b]] = int32(i)
			next[b]++
		}
	}
}

// interval is a closed range of places along u for the left side of a shrunk
// module.
type interval struct{ a, b float64 }

// slab answers where modules fit in one row; it keeps scratch memory.
type slab struct {
	*stripes
	extents []extent
	wind    winding
}

func newSlab(f *field, rowH float64) *slab {
	return &slab{stripes: newStripes(f, rowH), wind: winding{turns: make([]int32, f.rings)}}
}

// free appends to out, from left to right, the places for rectangles of width
// w between bot and top (bot < top, neither at a vertex): maximal intervals of
// the left side such that the rectangle's open interior meets no edge and lies
// in the region.
func (s *slab) free(out []interval, bot, top, w float64) []interval {
	s.collect(bot, top)
	return s.between(out, bot, w)
}

// collect sets extents to the edges that meet the slab, in no order.
func (s *slab) collect(bot, top float64) {
	s.extents = s.extents[:0]
	first := s.of(bot)
	for b := first; b <= s.of(top); b++ {
		for _, id := range s.list[s.starts[b]:s.starts[b+1]] {
			e := &s.f.edges[id]
			if e.y1 < bot || e.y0 > top || b != max(first, s.of(e.y0)) {
				continue
			}
			s.extents = append(s.extents, extentOf(e, id, bot, top))
		}
	}
}

// between appends the places that the collected edges leave; bot is the slab's
// foot.
func (s *slab) between(out []interval, bot, w float64) []interval {
	sortExtents(s.extents)
	reach := math.Inf(-1)
	for i := range s.extents {
		e := &s.extents[i]
		if e.lo-reach >= w-3*tieTicks && s.wind.inside() {
			out = append(out, interval{reach, e.lo - w})
		}
		reach = max(reach, e.hi)
		s.wind.pass(&s.f.edges[e.edge], bot)
	}
	return out
}
