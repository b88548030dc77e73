package layout

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// maskSet lists the ways to take positions of one row in at most some number of
// runs, as masks, with fewer runs first. Rows with runs broken at the same places
// share it.
type maskSet struct {
	width int
	joins uint64 // bit i: position i continues the run of position i-1
	masks []uint64
	find  map[uint64]int32
	// less lists for each mask the masks that lack one of its runs: entries
	// lessAt[i] to lessAt[i+1].
	less   []int32
	lessAt []int32
	// alive marks the masks that a choice may take, nil for all; the others are
	// what blocks go on as.
	alive []bool
}

// setKey says which rows share a maskSet.
type setKey struct {
	width, runs int
	joins       uint64
}

// maxMaskWidth is the widest row whose masks fit a word; maxMasks keeps the
// masks of a row within some tens of megabytes.
const (
	maxMaskWidth = 64
	maxMasks     = 200_000
)

func (r clusterRow) joins() uint64 {
	var m uint64
	for i, j := range r.joined {
		if j {
			m |= 1 << i
		}
	}
	return m
}

// countMasks is the number of masks of at most k runs in a row, and the number
// of runs in all of them, each at most math.MaxInt32.
func countMasks(joined []bool, k int) (masks, runs int) {
	// open and shut count masks of the positions so far by runs, with the last
	// position taken or not.
	open, shut := make([]int, k+2), make([]int, k+2)
	shut[0] = 1
	for _, j := range joined {
		for r := k; r >= 0; r-- {
			goesOn, starts := open[r], 0
			if !j {
				goesOn = 0
				if r > 0 {
					starts = open[r-1]
				}
			}
			if r > 0 {
				starts += shut[r-1]
			}
			shut[r] = min(shut[r]+open[r], math.MaxInt32)
			open[r] = min(goesOn+starts, math.MaxInt32)
		}
	}
	for r := 0; r <= k; r++ {
		masks = min(masks+open[r]+shut[r], math.MaxInt32)
		runs = min(runs+r*(open[r]+shut[r]), math.MaxInt32)
	}
	return masks, runs
}

// fixedMask marks the fixed positions of a row.
func (r clusterRow) fixedMask() uint64 {
	var m uint64
	for i, f := range r.fixed {
		if f {
			m |= 1 << i
		}
	}
	return m
}

// maskSets returns the masks of at most k runs of each row.
func (c *chooser) maskSets(rows []clusterRow, k int) []*maskSet {
	out := make([]*maskSet, len(rows))
	for r, row := range rows {
		out[r] = c.maskSet(row, k)
	}
	return out
}

// maskSet returns the masks of at most k runs of a row.
func (c *chooser) maskSet(r clusterRow, k int) *maskSet {
	key := setKey{len(r.at), k, r.joins()}
	if s := c.sets[key]; s != nil {
		return s
	}
	s := &maskSet{width: len(r.at), joins: key.joins}
	s.grow(0, 0, k)
	s.link()
	c.sets[key] = s
	return s
}

// grow adds mask and all that extend it from position from on by up to k runs.
func (s *maskSet) grow(mask uint64, from, k int) {
	s.masks = append(s.masks, mask)
	if k == 0 {
		return
	}
	for start := from; start < s.width; start++ {
		if start > 0 && s.joined(start) && has(mask, start-1) {
			continue // it would continue the run before
		}
		run := uint64(0)
		for end := start; end < s.width && (end == start || s.joined(end)); end++ {
			run |= 1 << end
			s.grow(mask|run, end+1, k-1)
		}
	}
}

func has(mask uint64, i int) bool { return mask>>i&1 != 0 }

func (s *maskSet) joined(i int) bool { return has(s.joins, i) }

// starts marks the positions at which runs of a mask start.
func (s *maskSet) starts(mask uint64) uint64 { return mask &^ (mask << 1 & s.joins) }

func (s *maskSet) runsOf(mask uint64) int { return bits.OnesCount64(s.starts(mask)) }

// runFrom is a mask of size positions from position i on.
func runFrom(i, size int) uint64 { return ^uint64(0) >> (64 - size) << i }

// run is the run of a mask that starts at position i.
func (s *maskSet) run(mask uint64, i int) uint64 {
	end := i + 1
	for end < s.width && has(mask, end) && s.joined(end) {
		end++
	}
	return runFrom(i, end-i)
}

// link sorts the masks and finds what each is without one of its runs.
func (s *maskSet) link() {
	slices.SortFunc(s.masks, func(a, b uint64) int {
		return cmp.Or(cmp.Compare(s.runsOf(a), s.runsOf(b)), cmp.Compare(a, b))
	})
	s.find = make(map[uint64]int32, len(s.masks))
	s.lessAt = make([]int32, len(s.masks)+1)
	for i, m := range s.masks {
		s.find[m] = int32(i)
		for rest := s.starts(m); rest != 0; rest &= rest - 1 {
			s.less = append(s.less, s.find[m&^s.run(m, bits.TrailingZeros64(rest))])
		}
		s.lessAt[i+1] = int32(len(s.less))
	}
}

// without lists the masks that mask i is without one of its runs.
func (s *maskSet) without(i int) []int32 { return s.less[s.lessAt[i]:s.lessAt[i+1]] }

func (s *maskSet) isDead(i int) bool { return s.alive != nil && !s.alive[i] }

// known calls use for a mask of the set, or, where it is not in it, for what
// remains of it in the set when runs are taken away.
func (s *maskSet) known(mask uint64, use func(int32)) {
	if at, ok := s.find[mask]; ok {
		use(at)
		return
	}
	for rest := s.starts(mask); rest != 0; rest &= rest - 1 {
		s.known(mask&^s.run(mask, bits.TrailingZeros64(rest)), use)
	}
}

// worth is what a mask of a row adds, but for the blocks it opens.
func (s *maskSet) worth(r clusterRow, mask uint64) cell {
	c := cell{minor: int64(s.runsOf(mask)) * oneRun}
	for rest := mask; rest != 0; rest &= rest - 1 {
		i := bits.TrailingZeros64(rest)
		c.value += r.units[i]
		c.minor += r.rank[i]
	}
	return c
}
