package layout

import (
	"cmp"
	"math"
	"slices"
)

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
	s := extent{edge: id}
	s.set(e, bot, top)
	return s
}

// set is extentOf in place.
func (s *extent) set(e *edge, bot, top float64) {
	s.lo, s.hi, s.loBy, s.hiBy = e.x0, e.x1, 0, 0
	if e.dir == 0 {
		return
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
}

// within is extentOf without how the ends move.
func (e *edge) within(bot, top float64) (lo, hi float64) {
	lo, hi = e.x0, e.x1
	if e.y0 < bot {
		lo += float64(e.slope * (bot - e.y0))
	}
	if e.y1 > top {
		hi = e.x0 + float64(e.slope*(top-e.y0))
	}
	return min(lo, hi), max(lo, hi)
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
		if !s[i].before(&s[i-1]) {
			continue
		}
		x, j := s[i], i
		for ; j > 0 && x.before(&s[j-1]); j-- {
			s[j] = s[j-1]
		}
		s[j] = x
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
// edges are listed by horizontal stripes, in each by their left end.
type stripes struct {
	f      *field
	perM   float64 // stripes per tick
	starts []int32
	list   []int32
	left   []float64 // by edge
	first  []int32   // by edge: its lowest stripe
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
	edges := s.f.edges
	ids := make([]int32, len(edges), len(edges)+total)
	s.left, s.first = make([]float64, len(edges)), make([]int32, len(edges))
	for i := range edges {
		ids[i], s.left[i], s.first[i] = int32(i), min(edges[i].x0, edges[i].x1), int32(s.of(edges[i].y0))
	}
	slices.SortFunc(ids, func(a, b int32) int {
		return cmp.Or(cmp.Compare(s.left[a], s.left[b]), cmp.Compare(a, b))
	})
	for i := range edges {
		for b := int(s.first[i]); b <= s.of(edges[i].y1); b++ {
			s.starts[b+1]++
		}
	}
	for b := 1; b < len(s.starts); b++ {
		s.starts[b] += s.starts[b-1]
	}
	s.list = ids[len(ids):cap(ids)]
	next := slices.Clone(s.starts)
	for _, id := range ids {
		for b := int(s.first[id]); b <= s.of(edges[id].y1); b++ {
			s.list[next[b]] = id
			next[b]++
		}
	}
}

// append adds to ids the edges that meet the slab from bot to top, by their left
// end; spare is scratch memory.
func (s *stripes) append(ids, spare []int32, bot, top float64) (met, other []int32) {
	first, last := int32(s.of(bot)), int32(s.of(top))
	for b := first; b <= last; b++ {
		from := len(ids)
		for _, id := range s.list[s.starts[b]:s.starts[b+1]] {
			if b > first && s.first[id] < b {
				continue // a lower stripe has it too
			}
			if e := &s.f.edges[id]; e.y1 >= bot && e.y0 <= top {
				ids = append(ids, id)
			}
		}
		if from > 0 && from < len(ids) {
			ids, spare = s.merge(spare[:0], ids[:from], ids[from:]), ids
		}
	}
	return ids, spare
}

// merge appends two lists that are in order to out, in order.
func (s *stripes) merge(out, a, b []int32) []int32 {
	for len(a) > 0 && len(b) > 0 {
		if s.left[a[0]] <= s.left[b[0]] {
			out, a = append(out, a[0]), a[1:]
		} else {
			out, b = append(out, b[0]), b[1:]
		}
	}
	return append(append(out, a...), b...)
}

// interval is a closed range of places along u for the left side of a shrunk
// module.
type interval struct{ a, b float64 }

// slab answers where modules fit in one row; it keeps scratch memory.
type slab struct {
	*stripes
	ids, spare []int32
	extents    []extent
	wind       winding
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

// collect sets extents to the edges that meet the slab, nearly in order.
func (s *slab) collect(bot, top float64) {
	s.extents = s.extents[:0]
	s.ids, s.spare = s.append(s.ids[:0], s.spare, bot, top)
	for _, id := range s.ids {
		s.extents = append(s.extents, extentOf(&s.f.edges[id], id, bot, top))
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
