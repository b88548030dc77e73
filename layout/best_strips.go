package layout

import (
	"math"
	"slices"
	"sync"
)

// stripSearch finds layouts in strips. Lines along the view's v cut the region from
// side to side; a line along u, or a [stripWheel], may cut each part again, lines
// along v the pieces, and rows fill what results. Lines are where modules pushed
// together from the left end; rows begin on a corner or on each other. All these
// layouts are weighed together: a strip from line a to line b is solved for every
// height at which it may be cut, and tables are added up side by side.
//
// What cannot win is left out: rows and lines that others stand in for, strips
// that hold no more rows than two side by side, and tables that are those of a
// narrower strip. It keeps scratch memory from view to view.
type stripSearch struct {
	v      *view
	levels []float64 // heights at which rows begin, ascending
	rows   []stripRow
	kinds  []stripKind
	cuts   []float64 // places of left sides at which strips may begin, ascending; the last is the end of the region
	corner []bool    // by line: at the side of something
	counts stripCounts
	low    stripTables  // most modules from the foot up to each level
	high   stripTables  // and from each level to the top
	most   []uint8      // by strip: most modules with one line along u or none
	whole  []uint8      // by strip: most modules
	ends   bitTable     // by line a: the lines b up to which whole is more than up to the line before
	wheels []stripWheel // of the strips that hold more with one
	work   int
	limit  int

	middleAt              []int32       // by strip: its middle's number, 0 while it is not made
	middles               []stripMiddle // by number
	middleEnds            []int16       // the ends of all middles
	wheelWork, wheelLimit int

	// Scratch memory.
	finders [2]rowFinder
	room    []interval // of the kinds' places
	lists   [3][]float64
	n       []uint8 // by kind: modules in a strip
	climbs  []uint8
	direct  []uint64
	primes  bitTable
	next    [2][]nextLine
	breaks  [2][]int
	above   []uint64
}

// stripPool keeps the scratch memory of strip searches.
var stripPool = sync.Pool{New: func() any { return new(stripSearch) }}

// stripRow is a row at a level.
type stripRow struct {
	level, end int32 // end is the level from which the next row may begin
	kind       int32
}

// stripKind is what rows have in common that hold the same modules: their turn and
// where the left sides may be.
type stripKind struct {
	turn   int32
	places []interval
}

// stripMost is the most modules that strips are made for: a count fits in seven bits.
const stripMost = 127

// mostLines is the most lines, or bases of rows, that are looked at, mostFound the
// most that are found with repetition, and mostLevels the most levels before some are
// left out: more would take too many steps in any budget.
const mostLines, mostFound, mostLevels = 2_000, 20_000, 8_000

// mostWords is the most words that counts, or tables, may take.
const mostWords = 1 << 22

// stripViews are in order of worth for their steps: across the slope first, where
// there are fewer lines.
func stripViews(b Budget) []int {
	if b == Drag {
		return []int{columnsView, 0}
	}
	return []int{columnsView, 0, columnsView + 1, columnsView + 2, columnsView + 3, 1, 2, 3}
}

// pack looks for layouts in strips of view v, of whose rows from side to side there are
// profiles. It gives nil when that takes more than limit steps, each some nanoseconds, and
// goes without more wheels when so many steps are used up for these.
func (s *stripSearch) pack(v *view, profiles []profile, limit, wheels int) (spots []spot, steps int) {
	s.v, s.work, s.limit, s.wheelLimit = v, 0, limit, wheels
	s.findCuts()
	if len(s.cuts) < 2 || len(s.cuts) > mostLines || !s.findRows(s.bases(profiles)) || !s.countRows() || !s.solve() {
		return nil, s.work
	}
	spots = s.placeWhole(nil, 0, len(s.cuts)-1)
	v.toRegion(spots)
	return spots, s.work
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
	corners := append(s.lists[0][:0], left(0), end)
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
	s.cuts = appendSums(append(s.cuts[:0], corners...), left(0), ms[0].pitchU, ms[len(ms)-1].pitchU, end)
	slices.Sort(s.cuts)
	s.cuts = slices.Compact(s.cuts)
	last, found := slices.BinarySearch(s.cuts, end)
	if found {
		last++
	}
	s.cuts = s.cuts[:last]
	slices.Sort(corners)
	s.lists[0], s.corner = corners, s.corner[:0]
	for _, c := range s.cuts {
		_, found := slices.BinarySearch(corners, c)
		s.corner = append(s.corner, found)
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

// bases lists the heights at which rows begin that lie on no other row: on the foot of
// the region, on a corner of its outline or on a hole, and where a row from side to
// side begins to hold more, which slanted sides make happen anywhere.
func (s *stripSearch) bases(profiles []profile) []float64 {
	bases := s.lists[0][:0]
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
	for _, p := range profiles {
		n := 0
		for _, st := range p {
			if st.n > n {
				bases = append(bases, st.y)
			}
			n = st.n
		}
	}
	slices.Sort(bases)
	s.lists[0] = slices.Compact(bases)
	return s.lists[0]
}

// strip is the index of the strip from line a to line b > a.
func strip(a, b int) int { return b*(b-1)/2 + a }
