package layout

import "math/bits"

// stripWheel is four pieces around a point or around a fifth in the middle: a line
// along u that breaks at the lines along v, and the other way round.
type stripWheel struct {
	strip                  int // the strip that it fills
	n                      uint8
	low, high, left, right int // lines along v below and above, levels at left and right
}

// wheel is the best one of the strip from line a to line b with more than n
// modules, or one of n modules without places. It stops when the steps for wheels are
// used up.
//
// The sides are cut at levels of their own; what is between the levels and between the
// lines is the middle. Of the two lines the left one may be moved left as long as what is
// left of it holds as many, the right one likewise: the rest gains.
func (s *stripSearch) wheel(a, b int, n uint8) stripWheel {
	best := stripWheel{n: n}
	if s.wheelsEnd() {
		return best
	}
	for _, leftIsHigh := range []bool{false, true} { // the left one of the two lines is the one above
		first, second := &s.low, &s.high // of the left line and of the right one
		if leftIsHigh {
			first, second = second, first
		}
		s.breaks[0], s.breaks[1] = first.starts(s.breaks[0][:0], a, b), second.stops(s.breaks[1][:0], a, b)
		for _, lo := range s.breaks[0] {
			for _, hi := range s.breaks[1] {
				if hi <= lo {
					continue
				}
				if s.wheelsEnd() {
					return best
				}
				s.wheelWork++
				if hoped := int(s.most[strip(a, hi)]) + int(s.most[strip(lo, b)]) + int(s.most[strip(lo, hi)]); hoped <= int(best.n) {
					continue
				}
				upper, lower := sideBySide{first.of(a, lo), second.of(a, hi)}, sideBySide{first.of(lo, b), second.of(hi, b)}
				if leftIsHigh {
					upper, lower = lower, upper
				}
				n, up, down := s.weigh(upper, lower, lo, hi, best.n)
				switch {
				case n <= best.n:
				case leftIsHigh:
					best = stripWheel{n: n, low: hi, high: lo, left: down, right: up}
				default:
					best = stripWheel{n: n, low: lo, high: hi, left: up, right: down}
				}
			}
		}
	}
	return best
}

// wheelsEnd reports whether the steps, or the memory, for wheels are used up.
func (s *stripSearch) wheelsEnd() bool {
	return s.wheelWork > s.wheelLimit || len(s.middleEnds) > mostWords
}

// weigh is [stripSearch.around] of sides with the middle from line lo to line hi. The middle
// is not looked at where bounds rule out that all together hold more than n.
func (s *stripSearch) weigh(upper, lower sideBySide, lo, hi int, n uint8) (most uint8, up, down int) {
	s.wheelWork += 2 * s.low.each
	sides := int(upper.over(lower))
	if sides+int(s.most[strip(lo, hi)]) <= int(n) {
		return n, 0, 0
	}
	middle := s.middle(lo, hi)
	if sides+int(middle.n) <= int(n) {
		return n, 0, 0
	}
	s.wheelWork += (1 + int(middle.n)) * len(s.levels)
	return s.around(upper, lower, middle, n)
}

// starts appends the lines between a and b up to each of which more fits than up to the
// line before.
func (t *stripTables) starts(list []int, a, b int) []int {
	for c := a + 1; c < b; c++ {
		if t.ends.has(a, c) {
			list = append(list, c)
		}
	}
	return list
}

// stops appends the lines between a and b from each of which more fits than from the next.
func (t *stripTables) stops(list []int, a, b int) []int {
	for c := a + 1; c < b; c++ {
		if t.id(c, b) != t.id(c+1, b) {
			list = append(list, c)
		}
	}
	return list
}

// sideBySide is what a side of a wheel holds below and above each level, in either order.
type sideBySide struct{ low, high []uint64 }

// over is the most modules of p cut at some level and q cut no higher.
func (p sideBySide) over(q sideBySide) uint8 {
	var most, best uint64 // of q up to here, in each byte the same; of both
	for i := range p.low {
		m := q.low[i] + q.high[i]
		m = maxBytes(m, m<<8)
		m = maxBytes(m, m<<16)
		m = maxBytes(maxBytes(m, m<<32), most)
		most = m >> 56 * everyByte
		best = maxBytes(best, m+p.low[i]+p.high[i])
	}
	return mostByte(best)
}

// around is the most modules of one side, the other and the middle between them, with the
// levels at which the sides are cut; or n and no levels when there are no more than n.
func (s *stripSearch) around(upper, lower sideBySide, middle stripMiddle, n uint8) (most uint8, up, down int) {
	s.above = cleared(s.above, len(upper.low))
	above, carry := s.above, uint64(0) // the most of the upper side cut at each level or above
	for i := len(above) - 1; i >= 0; i-- {
		m := upper.low[i] + upper.high[i]
		m = maxBytes(m, m>>8)
		m = maxBytes(m, m>>16)
		m = maxBytes(maxBytes(m, m>>32), carry)
		above[i], carry = m, m&0xff*everyByte
	}
	// Of the lower side only levels matter below which it holds less.
	most, heldFrom, ofUpper, each := n, uint64(0), uint8(0), len(s.levels)+1
	for i := range above {
		held := lower.low[i] + lower.high[i]
		for more := ((held | highBits) - heldFrom*everyByte) & highBits; more != 0; more &= more - 1 {
			at := bits.TrailingZeros64(more) / 8
			h, l := uint8(held>>(8*at)), 8*i+at
			if uint64(h) < heldFrom || l >= each {
				continue
			}
			heldFrom = uint64(h) + 1
			rest := byteOf(above, l)
			if h+rest > most {
				most, ofUpper, down, up = h+rest, rest, l, l
			}
			for k, end := range middle.from(l) {
				if int(end) == each || h+rest+middle.n <= most {
					break
				}
				if rest = byteOf(above, int(end)); h+uint8(k)+1+rest > most {
					most, ofUpper, down, up = h+uint8(k)+1+rest, rest, l, int(end)
				}
			}
		}
	}
	for most > n && byteOf(upper.low, up)+byteOf(upper.high, up) != ofUpper {
		up++
	}
	return most, up, down
}
