package layout

import "math/bits"

// stripWheel is four pieces around a point: a line along u that breaks at the
// lines along v, and the other way round.
type stripWheel struct {
	n                      uint8
	low, high, left, right int // lines along v below and above, levels at left and right
}

// wheel is the best one of the strip from line a to line b with more than n
// modules, or one of n modules without places.
func (s *stripSearch) wheel(a, b int, n uint8) stripWheel {
	best := stripWheel{n: n}
	s.breaks[0], s.breaks[1] = s.low.breaks(s.breaks[0][:0], a, b), s.high.breaks(s.breaks[1][:0], a, b)
	for _, x := range s.breaks[0] {
		for _, y := range s.breaks[1] {
			if x == y || abs(s.cuts[x]-s.cuts[y]) > s.apart || s.most[strip(a, max(x, y))]+s.most[strip(min(x, y), b)] <= best.n {
				continue
			}
			s.work += 2 * s.low.each
			left := sideBySide{s.low.of(a, x), s.high.of(a, y)}
			right := sideBySide{s.low.of(x, b), s.high.of(y, b)}
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

// breaks appends the lines between a and b that may be worth a cut: more fits up to
// each than up to the line before, and less from it than from the line listed before.
func (t *stripTables) breaks(list []int, a, b int) []int {
	for w, ends := range t.ends.row(a) {
		for ; ends != 0; ends &= ends - 1 {
			c := w*64 + bits.TrailingZeros64(ends)
			if c >= b {
				return list
			}
			if last := len(list) - 1; last >= 0 && t.id(list[last], b) == t.id(c, b) {
				list[last] = c
			} else {
				list = append(list, c)
			}
		}
	}
	return list
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
	return mostByte(best)
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
