package layout

import "math/bits"

// highBits is the high bit of every byte of a word.
const highBits = 0x8080808080808080

// everyByte times a byte is a word of that byte.
const everyByte = 0x0101010101010101

// stripCounts holds how many modules each kind of row has between two lines, one byte
// each, in words.
type stripCounts struct {
	words []uint64
	each  int   // words for a strip
	line  []int // by line: its number before lines were left out
	first []int // by line a: where its strips' words would start for b = 0
	// By line a the lines b up to which some row has more than up to the line before.
	ends bitTable
}

// of is the counts between lines a and b.
func (c *stripCounts) of(a, b int) []uint64 {
	at := c.first[a] + c.line[b]*c.each
	return c.words[at : at+c.each]
}

// countRows counts the modules of each kind of row between all lines, and leaves lines
// out that others stand in for. It reports false when that takes too many steps.
func (s *stripSearch) countRows() bool {
	c := &s.counts
	n, each := len(s.cuts), (len(s.kinds)+7)/8
	s.work += n * (n/2*each + 8*len(s.kinds))
	if s.work > s.limit || n*(n+1)/2*each > mostWords {
		return false
	}
	c.each, c.words = each, cleared(c.words, (n*(n-1)/2+n)*each)
	c.line, c.first = c.line[:0], c.first[:0]
	for a, at := 0, 0; a < n; a++ {
		c.line, c.first = append(c.line, a), append(c.first, at-a*each)
		at += (n - a) * each
	}
	s.findNext()
	lines := []int{n - 1} // those kept, from the right
	for a := n - 2; a >= 0; a-- {
		for k := range s.kinds {
			s.countFrom(a, k)
		}
		for b := a + 1; b < n; b++ {
			was, now := c.of(a, b-1), c.of(a, b)
			for i := range now {
				now[i] += was[i]
			}
		}
		next := lines[len(lines)-1]
		if a > 0 && s.sameFrom(a, next, lines) {
			s.corner[next] = s.corner[next] || s.corner[a]
			continue
		}
		lines = append(lines, a)
	}
	s.keepLines(lines)
	s.findEnds()
	return true
}

// cleared is list with n zeros.
func cleared[T any](list []T, n int) []T {
	if cap(list) < n {
		return make([]T, n)
	}
	list = list[:n]
	clear(list)
	return list
}

// nextLine is the first line from which there is room for a module from another one to it,
// and whether a module fills it.
type nextLine struct {
	line  int32
	exact bool
}

// findNext lists, by turn, the next line of each.
func (s *stripSearch) findNext() {
	for t, m := range s.v.modules {
		list, b := s.next[t][:0], 0
		for _, x := range s.cuts {
			for b < len(s.cuts) && s.cuts[b] < x+m.pitchU {
				b++
			}
			list = append(list, nextLine{int32(b), b < len(s.cuts) && s.cuts[b] == x+m.pitchU})
		}
		s.next[t] = list
	}
}

// countFrom adds one for each module of a row that begins at line a where it ends.
func (s *stripSearch) countFrom(a, kind int) {
	k := &s.kinds[kind]
	next, pitch := s.next[k.turn], s.v.modules[k.turn].pitchU
	words, one := s.counts.words[s.counts.first[a]+kind/8:], uint64(1)<<(kind%8*8)
	x, b, exact := s.cuts[a], a, true // x is at line b, or below it
	for i := range k.places {
		g := &k.places[i]
		if x < g.a {
			x, exact = g.a, false
		}
		for x <= g.b {
			x += pitch
			if exact {
				b, exact = int(next[b].line), next[b].exact
			} else {
				for b < len(s.cuts) && s.cuts[b] < x {
					b++
				}
				exact = b < len(s.cuts) && s.cuts[b] == x
			}
			if b == len(s.cuts) {
				return
			}
			words[b*s.counts.each] += one
		}
	}
}

// sameFrom reports whether all rows from line a and from the next one hold the same up to
// every other one of lines.
func (s *stripSearch) sameFrom(a, next int, lines []int) bool {
	c := &s.counts
	if !isZero(c.of(a, next)) {
		return false
	}
	for _, b := range lines[:len(lines)-1] {
		if !equalWords(c.of(a, b), c.of(next, b)) {
			return false
		}
	}
	return true
}

// sameUpTo reports the same of the rows up to line b and up to the one before.
func (s *stripSearch) sameUpTo(b, before int, lines []int) bool {
	c := &s.counts
	if !isZero(c.of(before, b)) {
		return false
	}
	for _, a := range lines[:len(lines)-1] {
		if !equalWords(c.of(a, b), c.of(a, before)) {
			return false
		}
	}
	return true
}

// keepLines keeps the lines listed from the right, but those up to which rows hold no
// more than up to the one before.
func (s *stripSearch) keepLines(fromRight []int) {
	c := &s.counts
	lines := []int{0}
	for i := len(fromRight) - 2; i >= 0; i-- {
		b, before := fromRight[i], lines[len(lines)-1]
		if i > 0 && s.sameUpTo(b, before, lines) {
			s.corner[before] = s.corner[before] || s.corner[b]
			continue
		}
		lines = append(lines, b)
	}
	for i, line := range lines {
		s.cuts[i], s.corner[i], c.line[i], c.first[i] = s.cuts[line], s.corner[line], line, c.first[line]
	}
	n := len(lines)
	s.cuts, s.corner, c.line, c.first = s.cuts[:n], s.corner[:n], c.line[:n], c.first[:n]
}

// findEnds sets ends.
func (s *stripSearch) findEnds() {
	c := &s.counts
	n := len(s.cuts)
	c.ends.reset(n)
	s.work += n * n * c.each / 4
	for a := range n {
		for b := a + 1; b < n; b++ {
			if !equalWords(c.of(a, b), c.of(a, b-1)) {
				c.ends.set(a, b)
			}
		}
	}
}

// prime reports whether rows from line a to line b may be more than those of two strips
// side by side.
func (s *stripSearch) prime(a, b int) bool {
	c := &s.counts
	whole := c.of(a, b)
	if !c.ends.has(a, b) || equalWords(whole, c.of(a+1, b)) {
		return false
	}
	for w, ends := range c.ends.row(a) {
		for ; ends != 0; ends &= ends - 1 {
			cut := w*64 + bits.TrailingZeros64(ends)
			if cut >= b {
				return true
			}
			if atLeast(c.of(a, cut), c.of(cut, b), whole) {
				return false
			}
		}
	}
	return true
}

// atLeast reports whether p + q is at least n in every byte.
func atLeast(p, q, n []uint64) bool {
	for i := range n {
		if (((p[i]+q[i])|highBits)-n[i])&highBits != highBits {
			return false
		}
	}
	return true
}

func isZero(list []uint64) bool {
	for _, v := range list {
		if v != 0 {
			return false
		}
	}
	return true
}

func equalWords(a, b []uint64) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// bitTable is a square table of yes and no.
type bitTable struct {
	words []uint64
	each  int // words for a row
}

// reset makes it n x n times no.
func (t *bitTable) reset(n int) {
	t.each = (n + 63) / 64
	t.words = cleared(t.words, n*t.each)
}

func (t *bitTable) row(i int) []uint64 { return t.words[i*t.each : (i+1)*t.each] }

func (t *bitTable) set(i, k int) { t.words[i*t.each+k/64] |= 1 << (k % 64) }

func (t *bitTable) has(i, k int) bool { return t.words[i*t.each+k/64]>>(k%64)&1 != 0 }
