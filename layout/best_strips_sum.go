package layout

import (
	"encoding/binary"
	"math/bits"
)

// stripTables holds a table of counts for each strip, one byte for each level, in words.
// Strips whose tables are the same share one.
type stripTables struct {
	words []uint64
	each  int     // words for a table
	at    []int32 // by strip: where its table starts
	sum   []uint64
	// The lines a, by line b, from which the table is another one than up to the line
	// before b; and the lines b by line a.
	grew, ends bitTable
}

// reset makes room for n lines and a number of levels; the first table is that of an
// empty strip.
func (t *stripTables) reset(n, levels int) {
	t.each = (levels + 7) / 8
	t.words, t.sum = cleared(t.words, t.each), cleared(t.sum, t.each)
	t.at = cleared(t.at, n*n/2)
	t.grew.reset(n)
	t.ends.reset(n)
}

func (t *stripTables) id(a, b int) int32 {
	if a == b {
		return 0
	}
	return t.at[strip(a, b)]
}

func (t *stripTables) table(id int32) []uint64 { return t.words[id : int(id)+t.each] }

func (t *stripTables) of(a, b int) []uint64 { return t.table(t.id(a, b)) }

func (t *stripTables) get(a, b, level int) uint8 { return byteOf(t.of(a, b), level) }

// add sets the table of the strip from line a to line b to the most of direct, nil
// for none, and of what two strips side by side hold, the left one of which is prime.
// A line at which neither ends nor begins anything need not be looked at.
func (t *stripTables) add(a, b int, direct []uint64, primes []uint64) (steps int) {
	left, right := t.id(a, b-1), t.id(a+1, b)
	sum := t.sum
	copy(sum, t.table(left))
	if direct != nil {
		raise(sum, direct)
	}
	if t.grew.has(b, a+1) {
		raise(sum, t.table(right))
	}
	grew := t.grew.row(b)
	for w := a / 64; w <= b/64; w++ {
		for both := primes[w] & grew[w]; both != 0; both &= both - 1 {
			c := w*64 + bits.TrailingZeros64(both)
			p, q := t.of(a, c), t.of(c, b)
			for i := range sum {
				sum[i] = maxBytes(sum[i], p[i]+q[i])
			}
			steps += t.each
		}
	}
	at := &t.at[strip(a, b)]
	switch {
	case equalWords(sum, t.table(left)):
		*at = left
	case equalWords(sum, t.table(right)):
		*at = right
	default:
		*at = int32(len(t.words))
		t.words = append(t.words, sum...)
	}
	if *at != left {
		t.grew.set(b, a)
		t.ends.set(a, b)
	}
	return steps + 3*t.each
}

// raise makes every byte of list no less than that of by.
func raise(list, by []uint64) {
	for i := range list {
		list[i] = maxBytes(list[i], by[i])
	}
}

// solve fills the tables. It reports false when that takes too many steps.
func (s *stripSearch) solve() bool {
	n := len(s.cuts)
	s.low.reset(n, len(s.levels)+1)
	s.high.reset(n, len(s.levels)+1)
	s.most, s.whole = cleared(s.most, n*n/2), cleared(s.whole, n*n/2)
	s.ends.reset(n)
	s.n = cleared(s.n, 8*s.counts.each)
	s.climbs, s.direct = cleared(s.climbs, 8*s.low.each), cleared(s.direct, 2*s.low.each)
	s.primes.reset(n)
	for b := 1; b < n; b++ {
		for a := b - 1; a >= 0; a-- {
			if s.work > s.limit || len(s.low.words)+len(s.high.words) > mostWords {
				return false
			}
			var low, high []uint64
			if s.prime(a, b) {
				s.primes.set(a, b)
				low, high = s.direct[:s.low.each], s.direct[s.low.each:]
				s.unpack(a, b)
				s.climb()
				pack8(low, s.climbs)
				s.descend()
				pack8(high, s.climbs)
				s.work += 2 * len(s.rows)
			}
			s.work += s.low.add(a, b, low, s.primes.row(a)) + s.high.add(a, b, high, s.primes.row(a))
		}
	}
	s.middleAt, s.middles, s.middleEnds = cleared(s.middleAt, n*n/2), append(s.middles[:0], stripMiddle{}, stripMiddle{}), s.middleEnds[:0]
	s.wheels, s.wheelWork = s.wheels[:0], 0
	for b := 1; b < n; b++ {
		for a := b - 1; a >= 0; a-- {
			s.sumWhole(a, b)
		}
	}
	return true
}

// sumWhole sets what the strip from line a to line b holds.
func (s *stripSearch) sumWhole(a, b int) {
	at := strip(a, b)
	left, right := uint8(0), uint8(0)
	if b > a+1 {
		left, right = s.whole[strip(a, b-1)], s.whole[strip(a+1, b)]
	}
	switch grew, grewHigh := s.low.grew.has(b, a), s.high.grew.has(b, a); {
	case grew || grewHigh:
		s.most[at] = s.mostOf(a, b)
	case b > a+1:
		s.most[at] = s.most[strip(a, b-1)]
	}
	best := max(s.most[at], left, right)
	for w, ends := range s.ends.row(a) {
		for ; ends != 0; ends &= ends - 1 {
			c := w*64 + bits.TrailingZeros64(ends)
			best = max(best, s.whole[strip(a, c)]+s.whole[strip(c, b)])
		}
	}
	if s.corner[a] && s.corner[b] {
		if w := s.wheel(a, b, best); w.n > best {
			best, w.strip = w.n, at
			s.wheels = append(s.wheels, w)
		}
	}
	s.whole[at] = best
	if best > left {
		s.ends.set(a, b)
	}
}

// mostOf is the most modules of a strip with one line along u.
func (s *stripSearch) mostOf(a, b int) uint8 {
	low, high := s.low.of(a, b), s.high.of(a, b)
	most := uint64(0)
	for i, v := range low {
		most = maxBytes(most, v+high[i])
	}
	return mostByte(most)
}

// unpack sets n to the counts of the strip from line a to line b.
func (s *stripSearch) unpack(a, b int) {
	for i, v := range s.counts.of(a, b) {
		binary.LittleEndian.PutUint64(s.n[8*i:], v)
	}
}

// climb sets climbs to the most modules in rows that hold n from the foot up to each level.
func (s *stripSearch) climb() {
	most := s.climbs
	clear(most)
	level, high := 0, uint8(0)
	for i := range s.rows {
		r := &s.rows[i]
		for ; level < int(r.level); level++ {
			high = max(high, most[level])
			most[level] = high
		}
		if k := s.n[r.kind]; k > 0 {
			most[r.end] = max(most[r.end], max(high, most[level])+k)
		}
	}
	for ; level <= len(s.levels); level++ {
		high = max(high, most[level])
		most[level] = high
	}
}

// descend sets climbs to the most modules in rows that hold n from each level to the top.
func (s *stripSearch) descend() {
	most := s.climbs
	clear(most)
	level := len(s.levels)
	for i := len(s.rows) - 1; i >= 0; i-- {
		r := &s.rows[i]
		for level > int(r.level) {
			level--
			most[level] = most[level+1]
		}
		most[level] = max(most[level], most[r.end]+s.n[r.kind])
	}
}

// pack8 puts eight counts in a word.
func pack8(words []uint64, counts []uint8) {
	for i := range words {
		words[i] = binary.LittleEndian.Uint64(counts[8*i:])
	}
}

func byteOf(words []uint64, i int) uint8 { return uint8(words[i/8] >> (i % 8 * 8)) }

// maxBytes is the greater one of each pair of bytes under 128.
func maxBytes(a, b uint64) uint64 {
	first := ((a | highBits) - b) & highBits // where a is not less
	mask := first - first>>7 | first
	return a&mask | b&^mask
}

// mostByte is the greatest byte of a word.
func mostByte(v uint64) uint8 {
	v = maxBytes(v, v>>32)
	v = maxBytes(v, v>>16)
	return uint8(maxBytes(v, v>>8))
}
