package layout

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
)

// stripSearch finds layouts in strips. Lines along the view's v cut the region from
// side to side; a line along u, or a [stripWheel], may cut each part again, lines
// along v the pieces, and rows fill what results. Lines are where modules pushed
// together from the left end; rows begin on a corner or on each other. All these
// layouts are weighed together: a strip from line a to line b is solved for every
// height at which it may be cut, and tables are added up side by side.
type stripSearch struct {
	v      *view
	rich   bool
	levels []float64 // heights at which rows may begin, ascending
	rows   []stripRow
	cuts   []float64 // places of left sides at which strips may begin, ascending; the last is the end of the region
	// Tables with an entry for each strip, see [stripSearch.strip].
	low    stripTable // most modules from the foot up to each level
	high   stripTable // and from each level to the top
	whole  []uint8    // most modules with one line along u or none
	corner []bool     // lines at the side of something
	apart  float64    // how far the two lines of a wheel may be apart
	n      []uint8    // scratch memory: modules of each row
}

// stripRow is a row at a level and where the left sides of its modules may be.
type stripRow struct {
	level, end int32 // end is the level from which the next row may begin
	turn       int32
	places     []interval
}

// stripTable holds a list of counts for each strip, one byte each, in words.
type stripTable struct {
	words []uint64
	each  int // words for a strip
}

// stripMost is the most modules that strips are made for: a count fits in seven bits.
const stripMost = 127

// mostLines is the most lines or levels that are looked at, and mostFound the
// most that are found with repetition: more would take too many steps in any budget.
const mostLines, mostFound = 2_000, 20_000

// stripView is a view through which strips are looked for, and how richly.
type stripView struct {
	view int
	rich bool
}

// stripViews are in order of worth for their steps: across the slope first, where
// there are fewer lines.
func stripViews(b Budget) []stripView {
	if b == Drag {
		return []stripView{{columnsView, true}, {0, false}}
	}
	var all []stripView
	for _, o := range [...]int{columnsView, 0, columnsView + 1, columnsView + 2, columnsView + 3, 1, 2, 3} {
		all = append(all, stripView{o, true})
	}
	return all
}

// packStrips looks for layouts in strips of view v, without the rich rows where
// they take too many steps. It gives nil when that takes
// more than limit steps, each some nanoseconds.
func packStrips(v *view, rich bool, limit int, stop func() bool) (spots []spot, steps int) {
	s := &stripSearch{v: v, rich: rich}
	for _, m := range v.modules {
		s.apart = max(s.apart, m.pitchU)
	}
	s.findCuts()
	s.findLevels(stop)
	n, each := len(s.cuts), (len(s.levels)+8)/8
	if max(n, len(s.levels)) > mostLines {
		steps = math.MaxInt
	} else {
		s.findRows()
		steps = s.steps(each)
	}
	if rich && steps > limit {
		return packStrips(v, false, limit, stop)
	}
	if len(s.rows) == 0 || n < 2 || steps > limit {
		return nil, 0
	}
	s.low, s.high = stripTable{make([]uint64, n*n/2*each), each}, stripTable{make([]uint64, n*n/2*each), each}
	s.whole, s.n = make([]uint8, n*n/2), make([]uint8, len(s.rows))
	s.solve()
	spots = s.placeWhole(nil, 0, n-1)
	v.toRegion(spots)
	return spots, steps
}

// steps is the work ahead, counted in some two nanoseconds.
func (s *stripSearch) steps(each int) int {
	n := len(s.cuts)
	steps := 50*len(s.levels)*len(s.v.modules) + 2*n*n*len(s.rows) + n*n*n/2*each
	near, first := 0, 0 // the most lines that a line may make a wheel with
	for x := range s.cuts {
		for s.cuts[x]-s.cuts[first] > s.apart {
			first++
		}
		near = max(near, 2*(x-first))
	}
	for b := range s.cuts {
		for a := range b {
			if s.corner[a] && s.corner[b] {
				steps += 3 * (b - a) * min(b-a, near) * each
			}
		}
	}
	return steps
}

// findCuts lists the lines: from the left side of the region, sums of widths; and
// the sides of everything.
func (s *stripSearch) findCuts() {
	ms := s.v.modules
	left := func(x float64) float64 { return ms[0].roundedLeft(x) }
	right := func(x float64) float64 {
		end := math.Inf(-1)
		for i := range ms {
			end = max(end, ms[i].latest(x-ms[i].w)+ms[i].pitchU)
		}
		return end
	}
	end := right(s.v.f.width)
	corners := []float64{left(0), end}
	for r, ring := range s.v.f.corners {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range ring {
			lo, hi = min(lo, float64(p.x)), max(hi, float64(p.x))
			if r == 0 {
				corners = append(corners, left(float64(p.x)), right(float64(p.x)))
			}
		}
		if r > 0 {
			corners = append(corners, left(hi), right(lo))
		}
	}
	s.cuts = appendSums(slices.Clone(corners), left(0), ms[0].pitchU, ms[len(ms)-1].pitchU, end)
	slices.Sort(s.cuts)
	s.cuts = slices.Compact(s.cuts)
	last, found := slices.BinarySearch(s.cuts, end)
	if found {
		last++
	}
	s.cuts = s.cuts[:last]
	slices.Sort(corners)
	s.corner = make([]bool, last)
	for i, c := range s.cuts {
		_, s.corner[i] = slices.BinarySearch(corners, c)
	}
}

// findLevels lists the heights: on the foot of the region, on a
// corner of its outline, on a hole, or on other rows; in a rich search also where
// a row from side to side begins to hold more or less, which slanted sides make
// happen anywhere.
func (s *stripSearch) findLevels(stop func() bool) {
	var bases []float64
	for r, ring := range s.v.f.corners {
		top := math.Inf(-1)
		for _, p := range ring {
			top = max(top, float64(p.y))
			if r == 0 {
				bases = append(bases, foot(float64(p.y)))
			}
		}
		if r > 0 {
			bases = append(bases, foot(top))
		}
	}
	ms := s.v.modules
	if s.rich {
		for _, m := range ms {
			for _, st := range newProfile(s.v.f, m, stop) {
				bases = append(bases, st.y)
			}
		}
	}
	slices.Sort(bases)
	for _, b := range slices.Compact(bases) {
		s.levels = appendSums(s.levels, b, ms[0].pitchV, ms[len(ms)-1].pitchV, s.v.f.height)
	}
	slices.Sort(s.levels)
	s.levels = slices.Compact(s.levels)
}

// findRows lists the rows at each level.
func (s *stripSearch) findRows() {
	for t := range s.v.modules {
		s.findTurn(t)
	}
	slices.SortFunc(s.rows, func(a, b stripRow) int { return cmp.Or(cmp.Compare(a.level, b.level), cmp.Compare(a.turn, b.turn)) })
}

func (s *stripSearch) findTurn(turn int) {
	m := &s.v.modules[turn]
	lowest, highest := rowRange(s.v.f, *m)
	sl := newSlab(s.v.f, m.h)
	var free []interval
	for i, y := range s.levels {
		if y < lowest || y > highest {
			continue
		}
		bot, top := m.slabAt(y)
		free = sl.free(free[:0], bot, top, m.w)
		var places []interval
		for _, g := range free {
			if at, end := m.roundedLeft(g.a), m.latest(g.b); at <= end {
				places = append(places, interval{at, end})
			}
		}
		if len(places) > 0 {
			end, _ := slices.BinarySearch(s.levels, y+m.pitchV)
			s.rows = append(s.rows, stripRow{int32(i), int32(end), int32(turn), places})
		}
	}
}

// appendSums appends from + i a + k b up to top, and stops past mostFound.
func appendSums(out []float64, from, a, b, top float64) []float64 {
	for ; from <= top && len(out) <= mostFound; from += a {
		for v := from; v <= top && len(out) <= mostFound; v += b {
			out = append(out, v)
			if a == b {
				break
			}
		}
	}
	return out
}

// strip is the index of the strip from line a to line b > a.
func (s *stripSearch) strip(a, b int) int { return b*(b-1)/2 + a }

// solve fills the tables.
func (s *stripSearch) solve() {
	n, k := len(s.cuts), len(s.levels)+1
	narrow := s.v.modules[0].pitchU
	for _, m := range s.v.modules {
		narrow = min(narrow, m.pitchU)
	}
	at := make([]uint8, s.low.each*8)
	for a := range n {
		for b := a + 1; b < n; b++ {
			if s.cuts[b]-s.cuts[a] < narrow {
				continue
			}
			s.count(a, b)
			s.climb(at[:k])
			s.low.set(s.strip(a, b), at)
			s.descend(at[:k])
			s.high.set(s.strip(a, b), at)
		}
	}
	s.close(&s.low)
	s.close(&s.high)
	for i := range s.whole {
		s.whole[i], _ = s.cut(i)
	}
	s.wheels()
	for width := 2; width < n; width++ {
		for a := 0; a+width < n; a++ {
			best := s.whole[s.strip(a, a+width)]
			for c := a + 1; c < a+width; c++ {
				best = max(best, s.whole[s.strip(a, c)]+s.whole[s.strip(c, a+width)])
			}
			s.whole[s.strip(a, a+width)] = best
		}
	}
}

// stripWheel is four pieces around a point: a line along u that breaks at the
// lines along v, and the other way round.
type stripWheel struct {
	n                      uint8
	low, high, left, right int // lines along v below and above, levels at left and right
}

// wheels gives every strip between corners what a wheel in it holds.
func (s *stripSearch) wheels() {
	for b := range s.cuts {
		for a := range b {
			if s.corner[a] && s.corner[b] {
				s.whole[s.strip(a, b)] = s.wheel(a, b, s.whole[s.strip(a, b)]).n
			}
		}
	}
}

// wheel is the best one of the strip from line a to line b with more than n
// modules, or one of n modules without places.
func (s *stripSearch) wheel(a, b int, n uint8) stripWheel {
	best := stripWheel{n: n}
	first := a + 1
	for x := a + 1; x < b; x++ {
		for s.cuts[x]-s.cuts[first] > s.apart {
			first++
		}
		for y := first; y < b && s.cuts[y]-s.cuts[x] <= s.apart; y++ {
			if x == y {
				continue
			}
			left := sideBySide{s.low.of(s.strip(a, x)), s.high.of(s.strip(a, y))}
			right := sideBySide{s.low.of(s.strip(x, b)), s.high.of(s.strip(y, b))}
			if x < y && left.over(right) > best.n {
				best = stripWheel{low: x, high: y}
				best.n, best.left, best.right = left.levels(right)
			} else if x > y && right.over(left) > best.n {
				best = stripWheel{low: x, high: y}
				best.n, best.right, best.left = right.levels(left)
			}
		}
	}
	return best
}

// sideBySide is what a side of a wheel holds below and above each level.
type sideBySide struct{ low, high []uint64 }

// over is the most modules of p cut at some level and q cut no higher.
func (p sideBySide) over(q sideBySide) uint8 {
	var most, best uint64 // of q up to here, in each byte the same; of both
	for i := range p.low {
		m := q.low[i] + q.high[i]
		m = maxBytes(m, m<<8)
		m = maxBytes(m, m<<16)
		m = maxBytes(maxBytes(m, m<<32), most)
		most = m >> 56 * 0x0101010101010101
		best = maxBytes(best, m+p.low[i]+p.high[i])
	}
	best = maxBytes(best, best>>32)
	best = maxBytes(best, best>>16)
	return uint8(maxBytes(best, best>>8))
}

// levels is over with the levels of p and q.
func (p sideBySide) levels(q sideBySide) (n uint8, ofP, ofQ int) {
	most, at := uint8(0), 0
	for i := range 8 * len(p.low) {
		if m := byteOf(q.low, i) + byteOf(q.high, i); m > most {
			most, at = m, i
		}
		if m := byteOf(p.low, i) + byteOf(p.high, i) + most; m > n {
			n, ofP, ofQ = m, i, at
		}
	}
	return n, ofP, ofQ
}

func byteOf(words []uint64, i int) uint8 { return uint8(words[i/8] >> (i % 8 * 8)) }

// cut is the most modules of a strip with one line along u, and its level.
func (s *stripSearch) cut(strip int) (best uint8, level int) {
	for l := range len(s.levels) + 1 {
		if n := s.low.at(strip, l) + s.high.at(strip, l); n > best {
			best, level = n, l
		}
	}
	return best, level
}

// climb gives the most modules in rows from the foot up to each level.
func (s *stripSearch) climb(most []uint8) {
	clear(most)
	at := 0
	for l := range s.levels {
		if l > 0 {
			most[l] = max(most[l], most[l-1])
		}
		for ; at < len(s.rows) && int(s.rows[at].level) == l; at++ {
			end := s.rows[at].end
			most[end] = max(most[end], most[l]+s.n[at])
		}
	}
	last := len(s.levels)
	most[last] = max(most[last], most[last-1])
}

// descend gives the most modules in rows from each level to the top.
func (s *stripSearch) descend(most []uint8) {
	clear(most)
	at := len(s.rows) - 1
	for l := len(s.levels) - 1; l >= 0; l-- {
		most[l] = most[l+1]
		for ; at >= 0 && int(s.rows[at].level) == l; at-- {
			most[l] = max(most[l], most[s.rows[at].end]+s.n[at])
		}
	}
}

// count gives every row's modules between lines a and b.
func (s *stripSearch) count(a, b int) {
	for i := range s.rows {
		r := &s.rows[i]
		pitch := s.v.modules[r.turn].pitchU
		n, next, end := 0, s.cuts[a], s.cuts[b]-pitch
		for _, g := range r.places {
			from, to := max(g.a, next), min(g.b, end)
			if from <= to {
				more := 1 + int((to-from)/pitch)
				n += more
				next = from + float64(float64(more)*pitch)
			}
		}
		s.n[i] = uint8(n)
	}
}

// close makes every strip hold what any two strips side by side hold.
func (s *stripSearch) close(t *stripTable) {
	n := len(s.cuts)
	for width := 2; width < n; width++ {
		for a := 0; a+width < n; a++ {
			out := t.of(s.strip(a, a+width))
			for c := a + 1; c < a+width; c++ {
				p, q := t.of(s.strip(a, c)), t.of(s.strip(c, a+width))
				for i := range out {
					out[i] = maxBytes(out[i], p[i]+q[i])
				}
			}
		}
	}
}

// maxBytes is the greater one of each pair of bytes under 128.
func maxBytes(a, b uint64) uint64 {
	const high = 0x8080808080808080
	first := ((a | high) - b) & high // where a is not less
	mask := first - first>>7 | first
	return a&mask | b&^mask
}

func (t *stripTable) of(strip int) []uint64 { return t.words[strip*t.each : (strip+1)*t.each] }

func (t *stripTable) at(strip, level int) uint8 { return byteOf(t.of(strip), level) }

func (t *stripTable) set(strip int, counts []uint8) {
	for i := range t.of(strip) {
		t.words[strip*t.each+i] = binary.LittleEndian.Uint64(counts[8*i:])
	}
}

// placeWhole appends the modules of the strip from line a to line b.
func (s *stripSearch) placeWhole(out []spot, a, b int) []spot {
	most, level := s.cut(s.strip(a, b))
	if want := s.whole[s.strip(a, b)]; most < want {
		for c := a + 1; c < b; c++ {
			if s.whole[s.strip(a, c)]+s.whole[s.strip(c, b)] == want {
				return s.placeWhole(s.placeWhole(out, a, c), c, b)
			}
		}
	}
	if most < s.whole[s.strip(a, b)] {
		w := s.wheel(a, b, most)
		out = s.placeHigh(s.placeLow(out, a, w.low, w.left), a, w.high, w.left)
		return s.placeHigh(s.placeLow(out, w.low, b, w.right), w.high, b, w.right)
	}
	out = s.placeLow(out, a, b, level)
	return s.placeHigh(out, a, b, level)
}

// placeLow appends the modules from the foot up to a level.
func (s *stripSearch) placeLow(out []spot, a, b, level int) []spot {
	want := s.low.at(s.strip(a, b), level)
	if want == 0 {
		return out
	}
	s.count(a, b)
	most := make([]uint8, len(s.levels)+1)
	s.climb(most)
	if most[level] < want {
		for c := a + 1; c < b; c++ {
			if s.low.at(s.strip(a, c), level)+s.low.at(s.strip(c, b), level) == want {
				return s.placeLow(s.placeLow(out, a, c, level), c, b, level)
			}
		}
	}
	for i := len(s.rows) - 1; i >= 0; i-- {
		r := &s.rows[i]
		if n := s.n[i]; n > 0 && int(r.end) <= level && most[r.level]+n == most[level] {
			out, level = s.placeRow(out, r, a, b), int(r.level)
		}
	}
	return out
}

// placeHigh appends the modules from a level to the top.
func (s *stripSearch) placeHigh(out []spot, a, b, level int) []spot {
	want := s.high.at(s.strip(a, b), level)
	if want == 0 {
		return out
	}
	s.count(a, b)
	most := make([]uint8, len(s.levels)+1)
	s.descend(most)
	if most[level] < want {
		for c := a + 1; c < b; c++ {
			if s.high.at(s.strip(a, c), level)+s.high.at(s.strip(c, b), level) == want {
				return s.placeHigh(s.placeHigh(out, a, c, level), c, b, level)
			}
		}
	}
	for i := range s.rows {
		r := &s.rows[i]
		if n := s.n[i]; n > 0 && int(r.level) >= level && most[r.end]+n == most[level] {
			out, level = s.placeRow(out, r, a, b), int(r.end)
		}
	}
	return out
}

// placeRow appends a row's modules between lines a and b.
func (s *stripSearch) placeRow(out []spot, r *stripRow, a, b int) []spot {
	pitch := s.v.modules[r.turn].pitchU
	next, end := s.cuts[a], s.cuts[b]-pitch
	for _, g := range r.places {
		for at := max(g.a, next); at <= min(g.b, end); at += pitch {
			out = append(out, spot{at, s.levels[r.level] + s.v.foot, int8(r.turn)})
			next = at + pitch
		}
	}
	return out
}
