package layout

import "slices"

// stripMiddle is what rows of a strip hold between any two levels: by level and by module
// from the first to the n-th, the level at which so many in rows from there end, or one
// more than there are.
type stripMiddle struct {
	n    uint8
	ends []int16
}

// from is where one module, two and so on end that begin at a level.
func (m stripMiddle) from(level int) []int16 {
	n := int(m.n)
	return m.ends[level*n : (level+1)*n]
}

// middle is that of the strip from line a to line b, made when it is first asked for.
func (s *stripSearch) middle(a, b int) stripMiddle {
	at := &s.middleAt[strip(a, b)]
	if *at == 0 {
		*at = s.makeMiddle(a, b)
	}
	return s.middles[*at]
}

// noMiddle is the number of the middle that holds nothing; 0 is none.
const noMiddle = 1

// makeMiddle gives the number of a strip's middle, which is that of a narrower strip
// when rows hold the same in it.
func (s *stripSearch) makeMiddle(a, b int) int32 {
	c := &s.counts
	switch counts := c.of(a, b); {
	case isZero(counts):
		return noMiddle
	case b > a+1 && !c.ends.has(a, b):
		s.middle(a, b-1)
		return s.middleAt[strip(a, b-1)]
	case b > a+1 && equalWords(counts, c.of(a+1, b)):
		s.middle(a+1, b)
		return s.middleAt[strip(a+1, b)]
	}
	s.unpack(a, b)
	s.climb()
	s.middles = append(s.middles, s.newMiddle())
	return int32(len(s.middles) - 1)
}

// newMiddle makes the middle of the strip that n and climbs are of.
func (s *stripSearch) newMiddle() stripMiddle {
	levels, never := len(s.levels), int16(len(s.levels)+1)
	m := stripMiddle{n: s.climbs[levels]}
	from, size := len(s.middleEnds), (levels+1)*int(m.n)
	s.middleEnds = slices.Grow(s.middleEnds, size)[:from+size]
	m.ends = s.middleEnds[from : from+size : from+size]
	s.wheelWork += len(s.rows) * (1 + int(m.n)/2)
	top := m.from(levels)
	for k := range top {
		top[k] = never
	}
	for l, row := levels-1, len(s.rows)-1; l >= 0; l-- {
		ends := m.from(l)
		copy(ends, m.from(l+1))
		for ; row >= 0 && int(s.rows[row].level) == l; row-- {
			r := &s.rows[row]
			held := int(s.n[r.kind])
			if held == 0 {
				continue
			}
			for k := range min(held, len(ends)) {
				ends[k] = min(ends[k], int16(r.end))
			}
			for k, end := range m.from(int(r.end))[:max(0, len(ends)-held)] {
				ends[held+k] = min(ends[held+k], end)
			}
		}
	}
	return m
}
