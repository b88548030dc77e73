package layout

import (
	"cmp"
	"math"
	"slices"
)

// boundBox is one turn as the bound sees it, in whole ticks: a box, closed on
// its left and lower side and open on the others, that holds the module and the
// gap after it. The boxes of a valid packing have no point in common.
type boundBox struct {
	w, h   float64
	iw, ih float64 // what must be free, shrunk on all sides
	left   float64 // from the left side of what must be free to the box's left side
}

func newBoundBox(s Spec, t Turn) boundBox {
	m := s.placed(t)
	ticks := func(v float64) float64 { return math.Floor(float64(v*ticksPerM) + 0.01) }
	w, h, end := ticks(m.WM), ticks(m.HM), ticks(s.EndM)
	return boundBox{
		w: w + ticks(s.GapUM) - boundApartTicks, h: h + ticks(s.GapVM) - boundApartTicks,
		iw: w + 2*end - 2*boundInsideTicks, ih: h - 2*boundInsideTicks,
		left: end - boundInsideTicks,
	}
}

// boxClass is all boxes of one turn that hold the same crossings of lines:
// columns a0 to a1-1 and rows b0 to b1-1.
type boxClass struct {
	a0, a1, b0, b1 int16
	turn           int8
}

// boxClasses are the classes that a region has room for.
type boxClasses struct {
	us, vs []float64 // the lines, in ticks, ascending
	list   []boxClass
}

// newBoxClasses finds every class that has a box in the region. It may name
// classes that have none, never the other way round.
func newBoxClasses(f *field, boxes []boundBox, us, vs []float64) *boxClasses {
	c := &boxClasses{us: us, vs: vs}
	for t := range boxes {
		c.addTurn(f, boxes[t], int8(t))
	}
	return c
}

func (c *boxClasses) addTurn(f *field, box boundBox, turn int8) {
	low, high := -2.0*boundInsideTicks, f.height-box.ih+2*boundInsideTicks
	if high <= low {
		return
	}
	across := breaks(c.us, box.w, low, f.width+2*boundInsideTicks)
	up := breaks(c.vs, box.h, low, high)
	sl := newSlab(f, box.ih)
	var free []interval
	for j := 0; j+1 < len(up); j++ {
		b0, b1 := held(c.vs, box.h, up[j], up[j+1])
		free = roomFor(sl, free[:0], box, up[j], up[j+1])
		k := 0
		for i := 0; i+1 < len(across) && k < len(free); i++ {
			for k < len(free) && free[k].b < across[i] {
				k++
			}
			if k < len(free) && free[k].a <= across[i+1] {
				a0, a1 := held(c.us, box.w, across[i], across[i+1])
				c.list = append(c.list, boxClass{a0, a1, b0, b1, turn})
			}
		}
	}
}

// breaks lists the places between low and high at which a box of length size
// gains or loses a line, with both ends.
func breaks(lines []float64, size, low, high float64) []float64 {
	out := []float64{low, high}
	for _, p := range lines {
		if p > low && p < high {
			out = append(out, p)
		}
		if b := p - size; b > low && b < high {
			out = append(out, b)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// held is which lines a box holds that starts after low and not after high,
// where no break lies between.
func held(lines []float64, size, low, high float64) (first, end int16) {
	a, _ := slices.BinarySearch(lines, high)
	b, found := slices.BinarySearch(lines, low+size)
	if found {
		b++
	}
	return int16(a), int16(max(a, b))
}

// roomFor appends where the left side of a box may be whose lower side is above
// low and not above high: disjoint intervals from left to right. It takes
// strips so low that hardly more fits than in truth.
func roomFor(sl *slab, out []interval, box boundBox, low, high float64) []interval {
	n := math.Ceil((high - low) / (box.ih / 16))
	for k := 0.0; k < n; k++ {
		bot := math.Floor(low+float64((high-low)*(k+1)/n)) + 1
		top := math.Floor(low + float64((high-low)*k/n))
		// Every box of the strip needs the slab that all of them share.
		out = sl.free(out, bot+boundInsideTicks+0.5, top+boundInsideTicks+box.ih-0.5, box.iw)
	}
	slices.SortFunc(out, func(p, q interval) int { return cmp.Or(cmp.Compare(p.a, q.a), cmp.Compare(p.b, q.b)) })
	joined := out[:0]
	for _, v := range out {
		v.a, v.b = v.a+box.left-1, v.b+box.left+1
		if n := len(joined); n > 0 && v.a <= joined[n-1].b {
			joined[n-1].b = max(joined[n-1].b, v.b)
		} else {
			joined = append(joined, v)
		}
	}
	return joined
}

// within keeps the classes that lie in a class of old, whose lines are among
// those of c.
func (c *boxClasses) within(old *boxClasses) {
	have := make(map[boxClass]struct{}, len(old.list))
	for _, q := range old.list {
		have[q] = struct{}{}
	}
	in := newCoarser(c, old)
	c.list = slices.DeleteFunc(c.list, func(q boxClass) bool {
		_, ok := have[in.class(q)]
		return !ok
	})
}

// coarser tells which class of an older, smaller set of lines a class lies in.
type coarser struct{ u, v []int16 }

func newCoarser(c, old *boxClasses) coarser {
	return coarser{linesBefore(c.us, old.us), linesBefore(c.vs, old.vs)}
}

func (m coarser) class(q boxClass) boxClass {
	return boxClass{m.u[q.a0], m.u[q.a1], m.v[q.b0], m.v[q.b1], q.turn}
}

// linesBefore counts for every line, and after the last, the old lines before it.
func linesBefore(lines, old []float64) []int16 {
	out := make([]int16, len(lines)+1)
	n := int16(0)
	for i, v := range lines {
		out[i] = n
		if int(n) < len(old) && old[n] == v {
			n++
		}
	}
	out[len(lines)] = n
	return out
}

// without returns the classes that do not hold the crossing in one of the turns.
func (c *boxClasses) without(p knot) *boxClasses {
	a, b := p.find(c)
	out := &boxClasses{us: c.us, vs: c.vs}
	for _, q := range c.list {
		if !p.in(q, a, b) {
			out.list = append(out.list, q)
		}
	}
	return out
}

// knot is where two lines cross, and the turns meant, one bit each.
type knot struct {
	u, v  float64
	turns int8
}

// find gives the crossing's lines.
func (p knot) find(c *boxClasses) (a, b int16) {
	i, _ := slices.BinarySearch(c.us, p.u)
	j, _ := slices.BinarySearch(c.vs, p.v)
	return int16(i), int16(j)
}

// in reports whether q is of the turns and holds the crossing of lines a and b.
func (p knot) in(q boxClass, a, b int16) bool {
	return p.turns>>q.turn&1 == 1 && q.a0 <= a && a < q.a1 && q.b0 <= b && b < q.b1
}
