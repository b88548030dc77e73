package layout

// reduced is the same classes on fewer lines, as many as can matter for weights:
// usedU and usedV say which line took the place of each line of all, -1 where
// none is needed. The lines of musts stay. Then every class is left out that
// holds all that another holds, when both are in the same musts: a weight that
// is enough for the other is enough for it. stands are the classes of all that
// those left stand for.
func (c *boxClasses) reduced(must []knot) (out *boxClasses, usedU, usedV []int16, stands []boxClass) {
	keepU, keepV := make([]bool, len(c.us)), make([]bool, len(c.vs))
	for _, p := range must {
		a, b := p.find(c)
		keepU[a], keepV[b] = true, true
	}
	startU, endU := make([]bool, len(c.us)+1), make([]bool, len(c.us)+1)
	startV, endV := make([]bool, len(c.vs)+1), make([]bool, len(c.vs)+1)
	for _, q := range c.list {
		startU[q.a0], endU[q.a1], startV[q.b0], endV[q.b1] = true, true, true, true
	}
	out = &boxClasses{}
	var atU, atV []int16
	out.us, usedU, atU = usedLines(c.us, keepU, startU, endU)
	out.vs, usedV, atV = usedLines(c.vs, keepV, startV, endV)
	for _, q := range c.list {
		out.list = append(out.list, boxClass{atU[q.a0], atU[q.a1], atV[q.b0], atV[q.b1], q.turn})
	}
	taken := out.needed(must)
	for i, k := range taken {
		stands = append(stands, c.list[k])
		out.list[i] = out.list[k]
	}
	out.list = out.list[:len(taken)]
	return out, usedU, usedV, stands
}

// usedLines drops the lines that do no more than the next one, because no class
// ends between the two, or no more than the last one left, because none starts
// between. used gives for every line the one that takes its place, or -1; at is
// the number of lines left before each line, and after the last.
func usedLines(lines []float64, keep, start, end []bool) (left []float64, used, at []int16) {
	used, at = make([]int16, len(lines)), make([]int16, len(lines)+1)
	starts := start[0]
	next := 0 // the first line that waits for the next one left
	take := func(end int, by int16) {
		for ; next < end; next++ {
			used[next] = by
		}
	}
	for i, v := range lines {
		n := int16(len(left))
		at[i] = n
		if keep[i] || starts && end[i+1] {
			left = append(left, v)
			take(i+1, n)
			starts = start[i+1]
			continue
		}
		if !starts {
			take(i+1, n-1)
		}
		starts = starts || start[i+1]
	}
	at[len(lines)] = int16(len(left))
	take(len(lines), -1)
	return left, used, at
}

// needed lists the classes that hold no more than is needed: of those that hold
// the same the first, and none that holds all that another holds, when both are in
// the same ones of the crossings.
func (c *boxClasses) needed(must []knot) []int {
	lines := make([][2]int16, len(must))
	for j, p := range must {
		lines[j][0], lines[j][1] = p.find(c)
	}
	sides := func(a0, a1, b0, b1 int16) uint64 {
		return uint64(uint16(a0)) | uint64(uint16(a1))<<16 | uint64(uint16(b0))<<32 | uint64(uint16(b1))<<48
	}
	// The first class with some sides, and by class the next one with the same sides
	// that is in other crossings, or itself.
	first, next := make(map[uint64]int32, len(c.list)), make([]int32, len(c.list))
	musts := make([]uint64, len(c.list))
	held := func(sides, in uint64) bool { // by a class in the same crossings
		i, ok := first[sides]
		for ok && musts[i] != in {
			i, ok = next[i], next[i] != i
		}
		return ok
	}
	var kept []int
	for i, q := range c.list {
		next[i] = int32(i)
		for j, p := range must {
			if p.in(q, lines[j][0], lines[j][1]) {
				musts[i] |= 1 << j
			}
		}
		key := sides(q.a0, q.a1, q.b0, q.b1)
		if held(key, musts[i]) {
			continue
		}
		if other, ok := first[key]; ok {
			next[i] = other
		}
		first[key] = int32(i)
		kept = append(kept, i)
	}
	out := kept[:0]
	for _, i := range kept {
		q, spare := c.list[i], false
		for _, d := range [...][4]int16{{1, 0, 0, 0}, {0, 1, 0, 0}, {0, 0, 1, 0}, {0, 0, 0, 1}, {1, 1, 0, 0}, {0, 0, 1, 1}} {
			if spare = held(sides(q.a0+d[0], q.a1-d[1], q.b0+d[2], q.b1-d[3]), musts[i]); spare {
				break
			}
		}
		if !spare {
			out = append(out, i)
		}
	}
	return out
}
