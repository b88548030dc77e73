package layout

import (
	"math"
	"slices"
)

// rowFinder finds the rows of a [stripSearch] from the foot up.
type rowFinder struct {
	m               *module
	lowest, highest float64
	prof            profiler // its edges at the level at hand
	entered         int      // edges looked at so far
	sl              slab
	ends            []float64 // of the rows found, ascending
	next            int       // the first end that no level has been made for
	last            int32     // the kind of its row at the last level, -1 when it has none there
	here            int32     // and at the level at hand
	free            []interval
}

// findRows lists the levels and their rows: those that begin on one of bases or where
// another row ends. A row that begins where none ends is left out when a row of its turn
// at the level below has all its places. It reports false when that takes too many steps.
func (s *stripSearch) findRows(bases []float64) bool {
	finders, highest := s.finders[:len(s.v.modules)], math.Inf(-1)
	for t := range finders {
		finders[t].reset(s.v.f, &s.v.modules[t])
		highest = max(highest, finders[t].highest)
	}
	s.levels, s.rows, s.kinds, s.room = s.levels[:0], s.rows[:0], s.kinds[:0], s.room[:0]
	open := false // a row has ended since the last level
	for {
		if s.work > s.limit || len(bases) > mostLines || len(s.levels) > mostLevels {
			return false
		}
		y, ended := math.Inf(1), false
		if len(bases) > 0 {
			y = bases[0]
		}
		for t := range finders {
			if f := &finders[t]; f.next < len(f.ends) && f.ends[f.next] <= y {
				y, ended = f.ends[f.next], true
			}
		}
		if y > highest {
			break
		}
		if len(bases) > 0 && bases[0] == y {
			bases = bases[1:]
		}
		for t := range finders {
			if f := &finders[t]; f.next < len(f.ends) && f.ends[f.next] == y {
				f.next++
			}
		}
		open = !s.findLevel(finders, y, ended || open) && (ended || open)
	}
	s.dropRows()
	return len(s.rows) > 0
}

// findLevel adds the level at y if rows begin there that are worth it; ended tells
// whether a row has ended since the level before.
func (s *stripSearch) findLevel(finders []rowFinder, y float64, ended bool) bool {
	from := len(s.rows)
	for t := range finders {
		f := &finders[t]
		f.here = -1
		if y < f.lowest || y > f.highest {
			continue
		}
		places := f.places(y)
		s.work += 30 + max(0, len(f.prof.extents)-16)
		if len(places) == 0 || !ended && f.last >= 0 && covers(s.kinds[f.last].places, places) {
			continue
		}
		f.here = s.kindOf(int32(t), places)
		s.rows = append(s.rows, stripRow{level: int32(len(s.levels)), kind: f.here})
		f.ends = append(f.ends, y+f.m.pitchV)
	}
	if len(s.rows) == from {
		return false
	}
	s.levels = append(s.levels, y)
	for t := range finders {
		if f := &finders[t]; ended || f.here >= 0 {
			f.last = f.here
		}
	}
	return true
}

// reset prepares for rows of m on f.
func (f *rowFinder) reset(of *field, m *module) {
	f.m, f.last, f.entered, f.ends, f.next = m, -1, 0, f.ends[:0], 0
	f.lowest, f.highest = rowRange(of, *m)
	f.prof = profiler{f: of, m: *m, extents: f.prof.extents[:0], leaves: math.Inf(1)}
	f.sl.stripes = &stripes{f: of}
	f.sl.wind = winding{turns: cleared(f.sl.wind.turns, of.rings)}
}

// places is where the left sides of modules may be in a row at y, in scratch memory. No
// call is for a lower y than the one before.
func (f *rowFinder) places(y float64) []interval {
	f.entered = f.prof.update(y, f.entered)
	f.prof.reset(y)
	f.sl.extents = f.prof.extents
	bot, _ := f.m.slabAt(y)
	f.free = f.sl.between(f.free[:0], bot, f.m.w)
	places := f.free[:0]
	for _, g := range f.free {
		if at, end := f.m.roundedLeft(g.a), f.m.latest(g.b); at <= end {
			places = append(places, interval{at, end})
		}
	}
	return places
}

// kindOf is the kind of rows of a turn with places: one of the last few, or a new one.
func (s *stripSearch) kindOf(turn int32, places []interval) int32 {
	for i := len(s.kinds) - 1; i >= max(0, len(s.kinds)-4); i-- {
		if k := &s.kinds[i]; k.turn == turn && slices.Equal(k.places, places) {
			return int32(i)
		}
	}
	from := len(s.room)
	s.room = append(s.room, places...)
	s.kinds = append(s.kinds, stripKind{turn, s.room[from:len(s.room):len(s.room)]})
	return int32(len(s.kinds) - 1)
}

// covers reports whether every interval of b lies in one of a.
func covers(a, b []interval) bool {
	i := 0
	for _, g := range b {
		for i < len(a) && a[i].b < g.b {
			i++
		}
		if i == len(a) || a[i].a > g.a {
			return false
		}
	}
	return true
}

// dropRows sets the ends of the rows. From the top down, it leaves out each row that
// ends where a row of its turn with all its places does that begins higher, and each
// level where no row begins.
func (s *stripSearch) dropRows() {
	const none = -1
	above := [2]int{none, none}                // by turn: the row kept last
	levels, rows := len(s.levels), len(s.rows) // those kept are put from here to the end
	for at := len(s.rows) - 1; at >= 0; {
		level := s.rows[at].level
		y, kept := s.levels[level], false
		for ; at >= 0 && s.rows[at].level == level; at-- {
			r := s.rows[at]
			k := &s.kinds[r.kind]
			end, _ := slices.BinarySearch(s.levels[levels:], y+s.v.modules[k.turn].pitchV)
			r.end = int32(len(s.levels) - levels - end) // from the top
			if i := above[k.turn]; i != none && s.rows[i].end == r.end && covers(s.kinds[s.rows[i].kind].places, k.places) {
				continue
			}
			rows--
			s.rows[rows] = r
			above[k.turn] = rows
			kept = true
		}
		if kept {
			levels--
			s.levels[levels] = y
		}
	}
	s.levels = append(s.levels[:0], s.levels[levels:]...)
	s.rows = append(s.rows[:0], s.rows[rows:]...)
	n, level := int32(len(s.levels)), int32(-1)
	for i, old := 0, int32(-1); i < len(s.rows); i++ {
		r := &s.rows[i]
		if r.level != old {
			old, level = r.level, level+1
		}
		r.level, r.end = level, n-r.end
	}
}
