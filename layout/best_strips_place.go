package layout

import "slices"

// placeWhole appends the modules of the strip from line a to line b.
func (s *stripSearch) placeWhole(out []spot, a, b int) []spot {
	if a == b || s.whole[strip(a, b)] == 0 {
		return out
	}
	want := s.whole[strip(a, b)]
	if s.most[strip(a, b)] == want {
		level := 0
		for s.low.get(a, b, level)+s.high.get(a, b, level) != want {
			level++
		}
		out = s.placeLow(out, a, b, level)
		return s.placeHigh(out, a, b, level)
	}
	for c := a + 1; c < b; c++ {
		if s.whole[strip(a, c)]+s.whole[strip(c, b)] == want {
			return s.placeWhole(s.placeWhole(out, a, c), c, b)
		}
	}
	w := s.wheels[slices.IndexFunc(s.wheels, func(w stripWheel) bool { return w.strip == strip(a, b) })]
	out = s.placeHigh(s.placeLow(out, a, w.low, w.left), a, w.high, w.left)
	out = s.placeHigh(s.placeLow(out, w.low, b, w.right), w.high, b, w.right)
	return s.placeMiddle(out, min(w.low, w.high), max(w.low, w.high), min(w.left, w.right), max(w.left, w.right))
}

// placeMiddle appends the modules in rows between two levels.
func (s *stripSearch) placeMiddle(out []spot, a, b, from, to int) []spot {
	m := s.middle(a, b)
	fits := func(n, level int) bool { return n <= 0 || int(m.from(level)[n-1]) <= to }
	left := int(m.n)
	for !fits(left, from) {
		left--
	}
	s.unpack(a, b)
	for i := range s.rows {
		r := &s.rows[i]
		held := int(s.n[r.kind])
		if left == 0 || int(r.level) < from || held == 0 || int(r.end) > to {
			continue
		}
		if fits(left-held, int(r.end)) {
			out = s.placeRow(out, r, a, b)
			left, from = max(0, left-held), int(r.end)
		}
	}
	return out
}

// placeLow appends the modules from the foot up to a level.
func (s *stripSearch) placeLow(out []spot, a, b, level int) []spot {
	want := s.low.get(a, b, level)
	if want == 0 {
		return out
	}
	s.unpack(a, b)
	s.climb()
	if s.climbs[level] < want {
		for c := a + 1; c < b; c++ {
			if s.low.get(a, c, level)+s.low.get(c, b, level) == want {
				return s.placeLow(s.placeLow(out, a, c, level), c, b, level)
			}
		}
	}
	for i := len(s.rows) - 1; i >= 0; i-- {
		r := &s.rows[i]
		if k := s.n[r.kind]; k > 0 && int(r.end) <= level && s.climbs[r.level]+k == s.climbs[level] {
			out, level = s.placeRow(out, r, a, b), int(r.level)
		}
	}
	return out
}

// placeHigh appends the modules from a level to the top.
func (s *stripSearch) placeHigh(out []spot, a, b, level int) []spot {
	want := s.high.get(a, b, level)
	if want == 0 {
		return out
	}
	s.unpack(a, b)
	s.descend()
	if s.climbs[level] < want {
		for c := a + 1; c < b; c++ {
			if s.high.get(a, c, level)+s.high.get(c, b, level) == want {
				return s.placeHigh(s.placeHigh(out, a, c, level), c, b, level)
			}
		}
	}
	for i := range s.rows {
		r := &s.rows[i]
		if k := s.n[r.kind]; k > 0 && int(r.level) >= level && s.climbs[r.end]+k == s.climbs[level] {
			out, level = s.placeRow(out, r, a, b), int(r.end)
		}
	}
	return out
}

// placeRow appends a row's modules between lines a and b.
func (s *stripSearch) placeRow(out []spot, r *stripRow, a, b int) []spot {
	k := &s.kinds[r.kind]
	pitch := s.v.modules[k.turn].pitchU
	next, end := s.cuts[a], s.cuts[b]-pitch
	for _, g := range k.places {
		for at := max(g.a, next); at <= min(g.b, end); at += pitch {
			out = append(out, spot{at, s.levels[r.level] + s.v.foot, int8(k.turn)})
			next = at + pitch
		}
	}
	return out
}
