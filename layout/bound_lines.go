package layout

import (
	"cmp"
	"math"
	"slices"
)

const (
	// mostJoints is how many sums of box lengths are worth while along one axis,
	// mostFirstLines how many lines to start with when there are many vertices.
	mostJoints     = 1200
	mostFirstLines = 250
	// pastJoint is how far beyond a joint its line is, so that the slack does
	// not decide.
	pastJoint = 2.5 * boundApartTicks
)

// joiner makes lines along one axis where a gapless row of boxes has its joints.
type joiner struct {
	low, high float64   // the ends of what boxes can fill
	sizes     []float64 // of the boxes
}

// fromEnds are the joints of rows from both ends, so that every box holds a
// line; ok is false when the rows are too long.
func (j joiner) fromEnds() (lines []float64, ok bool) {
	long, short := j.sizes[0], j.sizes[len(j.sizes)-1]
	extent := max(0, j.high-j.low)
	if float64(extent/long)*float64(extent/short) > mostJoints {
		return nil, false
	}
	return withLines(nil, j.joints(j.joints(nil, j.low-pastJoint, 1), j.high+pastJoint, -1)), true
}

// fromVertices adds the joints of rows that start at the vertices at the places
// given, unless those are too many. Right of a vertex a box keeps end; left of
// it, it may reach over the vertex by the gap less end.
func (j joiner) fromVertices(lines, vertices []float64, end, gap float64) []float64 {
	var add []float64
	for _, v := range vertices {
		add = j.joints(j.joints(add, v+end-pastJoint, 1), v-end+gap+pastJoint, -1)
		if len(add) > 20*mostFirstLines {
			return lines
		}
	}
	if all := withLines(lines, add); len(all) <= mostFirstLines {
		return all
	}
	return lines
}

// joints appends from and all sums of box lengths from there, upwards for sign
// 1 and downwards for -1, that lie between the ends.
func (j joiner) joints(out []float64, from, sign float64) []float64 {
	long, short := j.sizes[0], j.sizes[len(j.sizes)-1]
	room := j.high - from
	if sign < 0 {
		room = from - j.low
	}
	for a := 0.0; a <= room; a += long {
		for b := a; b <= room; b += short {
			if p := from + float64(sign*b); p > j.low && p < j.high {
				out = append(out, p)
			}
			if long == short {
				break
			}
		}
	}
	return out
}

// withLines adds lines that keep lineApartTicks from those already there.
func withLines(lines, add []float64) []float64 {
	out := slices.Clone(lines)
	slices.Sort(add)
	for _, v := range add {
		i, _ := slices.BinarySearch(out, v)
		if i > 0 && v-out[i-1] < lineApartTicks || i < len(out) && out[i]-v < lineApartTicks {
			continue
		}
		out = slices.Insert(out, i, v)
	}
	return out
}

// vague is a stretch of places that no line tells apart and the amount there.
type vague struct {
	low, high, size, score float64
}

// refined adds lines along u (axis 0) or v (axis 1) where the amounts leave most
// open: in the middle of the stretches with the greatest amount times length,
// one line for the boxes' near sides and one for their far sides.
func (b *bounder) refined(w *weighing, axis int) []float64 {
	lines := w.all.us
	if axis == 1 {
		lines = w.all.vs
	}
	type key struct {
		first, end int16
		turn       int8
	}
	at := map[key]int{}
	var list []vague
	for i, q := range w.stands {
		amount := w.at.amount[i]
		if amount < 1e-6 {
			continue
		}
		k := key{q.a0, q.a1, q.turn}
		if axis == 1 {
			k.first, k.end = q.b0, q.b1
		}
		n, ok := at[k]
		if !ok {
			n = len(list)
			at[k] = n
			list = append(list, b.stretch(lines, int(k.first), int(k.end), k.turn, axis))
		}
		list[n].score += float64(amount * (list[n].high - list[n].low))
	}
	list = slices.DeleteFunc(list, func(v vague) bool { return v.high-v.low < 10*lineApartTicks })
	slices.SortStableFunc(list, func(p, q vague) int { return cmp.Compare(q.score, p.score) })
	var add []float64
	for _, v := range list[:min(len(list), max(4, len(lines)/5)/2+1)] {
		mid := math.Floor((v.low + v.high) / 2)
		add = append(add, mid, mid+v.size)
	}
	return withLines(lines, add)
}

// stretch is where a box of the turn may start that holds lines first to end-1.
func (b *bounder) stretch(lines []float64, first, end int, turn int8, axis int) vague {
	box := b.boxes[turn]
	v := vague{low: -2 * boundInsideTicks, high: b.f.width + 2*boundInsideTicks - box.iw, size: box.w}
	if axis == 1 {
		v.high, v.size = b.f.height+2*boundInsideTicks-box.ih, box.h
	}
	if first > 0 {
		v.low = max(v.low, lines[first-1])
	}
	if end > 0 {
		v.low = max(v.low, lines[end-1]-v.size)
	}
	if first < len(lines) {
		v.high = min(v.high, lines[first])
	}
	if end < len(lines) {
		v.high = min(v.high, lines[end]-v.size)
	}
	return v
}

// undecided finds the crossing, and the turns, of which the amounts say least
// whether some box holds it; ok is false when they are clear about all.
func (b *bounder) undecided(w *weighing) (p knot, ok bool) {
	const clear = 0.05
	most := clear
	amount, load := make([]float64, len(w.at.amount)), make([]float64, len(w.load))
	for turns := int8(1); turns < 1<<len(b.boxes); turns++ {
		for i, q := range w.c.list {
			amount[i] = 0
			if turns>>q.turn&1 == 1 {
				amount[i] = w.at.amount[i]
			}
		}
		w.spread(amount, load)
		for i, v := range load {
			if doubt := min(v, 1-v); doubt > most+1e-9 {
				most = doubt
				p = knot{u: w.c.us[i%w.nu], v: w.c.vs[i/w.nu], turns: turns}
			}
		}
	}
	return p, most > clear
}
