package layout

import (
	"math"
	"slices"
)

// blocker packs one rectangle by blocks: it is cut in two by a line, or in five
// around a middle block, and so on with each part, down to a block of one turn.
//
// Sizes are those of cells: a module with one gap to its right and one above,
// in a rectangle with one gap more. Only sums of cell sides matter as sizes;
// any other is as good as the greatest sum below it. Parts are numbered by
// these sums.
type blocker struct {
	cells  [][2]float64 // by turn: width and height
	xs, ys []float64
	memo   []blockValue
	bounds []int32   // by part: what it holds at most, -1 when not looked at
	restX  []int32   // by i and a: the part beside xs[a] in xs[i]
	restY  []int32   // by k and d: the part above ys[d] in ys[k]
	ends   []float64 // scratch memory of around, a stretch for each that is under way
	work   int
	limit  int
	cell   float64 // the least area of a cell
	unit   float64 // greatest common divisor of the sides, 0 when turns differ in more than the turn
}

// blockValue is what is known of a part.
type blockValue struct {
	n       int32
	settled bool // n is the most
	cut     blockCut
}

// blockCut is how a part is cut: x1 and y1 for a cut in two (the other is 0),
// both pairs for five blocks, none for a block of one turn.
type blockCut struct{ x1, x2, y1, y2 float64 }

// mostSums is how many sums of sides a rectangle may have to be cut into blocks.
const mostSums = 400

// sums lists the sums of multiples of sides up to top, ascending, from 0, or
// nil when there are very many.
func sums(sides []float64, top float64) []float64 {
	out := []float64{0}
	for _, side := range sides {
		for i := 0; i < len(out); i++ {
			if next := out[i] + side; next <= top {
				out = append(out, next)
			}
			if len(out) > mostSums*mostSums {
				return nil
			}
		}
		slices.Sort(out)
		out = slices.Compact(out)
	}
	return out
}

// newBlocker prepares cells for a rectangle. It reports false when there are
// too many sums.
func newBlocker(width, height float64, cells [][2]float64, limit int) (*blocker, bool) {
	b := &blocker{cells: cells, limit: limit, cell: math.Inf(1)}
	var ws, hs []float64
	for _, c := range cells {
		ws, hs = append(ws, c[0]), append(hs, c[1])
		b.cell = min(b.cell, c[0]*c[1])
	}
	b.xs, b.ys = raster(sums(ws, width), width), raster(sums(hs, height), height)
	if len(b.xs) < 1 || len(b.ys) < 1 || len(b.xs) > mostSums || len(b.ys) > mostSums {
		return nil, false
	}
	if len(cells) == 2 && cells[0][0] == cells[1][1] && cells[0][1] == cells[1][0] {
		b.unit = cells[0][0]
		for r := cells[0][1]; r > 0; {
			b.unit, r = r, math.Mod(b.unit, r)
		}
	}
	b.restX, b.restY = rests(b.xs), rests(b.ys)
	b.memo = make([]blockValue, len(b.xs)*len(b.ys))
	b.bounds = make([]int32, len(b.memo))
	for i := range b.bounds {
		b.bounds[i] = -1
	}
	return b, true
}

// raster keeps of the sums up to top those that are the most that fits beside
// another one.
func raster(all []float64, top float64) []float64 {
	out := make([]float64, 0, len(all))
	for _, s := range all {
		out = append(out, all[below(all, top-s)])
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// below is the index of the greatest of list that does not exceed v.
func below(list []float64, v float64) int {
	i, found := slices.BinarySearch(list, v)
	if found {
		return i
	}
	return i - 1
}

func (b *blocker) index(i, k int) int { return i*len(b.ys) + k }

// start is a part's value before any cut: the better turn alone. It sets the part's bound.
func (b *blocker) start(i, k int) *blockValue {
	at := b.index(i, k)
	v := &b.memo[at]
	if b.bounds[at] >= 0 {
		return v
	}
	x, y := b.xs[i], b.ys[k]
	for _, c := range b.cells {
		v.n = max(v.n, int32(math.Floor(x/c[0])*math.Floor(y/c[1])))
	}
	b.bounds[at] = v.n
	if len(b.cells) > 1 {
		b.bounds[at] = max(v.n, b.bound(x, y))
	}
	v.settled = v.n >= b.bounds[at]
	return v
}

// most is a part's bound.
func (b *blocker) most(i, k int) int32 {
	if n := b.bounds[b.index(i, k)]; n >= 0 {
		return n
	}
	b.start(i, k)
	return b.bounds[b.index(i, k)]
}

// bound is the bound of both turns by area and by the waste that bars leave: a
// cell of a x b units is made of bars of 1 x a and of bars of 1 x b, and bars of
// 1 x n leave at least min(r s, (n-r)(n-s)) of a rectangle whose sides leave r
// and s when divided by n (Barnes, Discrete Mathematics 26 (1979) 93-100).
func (b *blocker) bound(x, y float64) int32 {
	waste := 0.0
	if b.unit > 0 {
		for _, side := range b.cells[0] {
			n := side / b.unit
			r, s := math.Mod(x/b.unit, n), math.Mod(y/b.unit, n)
			waste = max(waste, min(float64(r*s), float64((n-r)*(n-s))))
		}
	}
	return int32((float64(x*y) - float64(waste*b.unit*b.unit)) / b.cell)
}

// solve is the most modules of part (i, k) by blocks, or what is held so far
// once the steps are used up: a part not settled by then would otherwise be
// looked into again by everyone who asks.
func (b *blocker) solve(i, k int) int32 {
	v := b.start(i, k)
	if v.settled || b.work >= b.limit {
		return v.n
	}
	most := b.most(i, k)
	b.halve(i, k, v, most)
	if v.n < most {
		b.fifths(i, k, v, most)
	}
	if b.work < b.limit {
		v.settled, b.bounds[b.index(i, k)] = true, v.n
	}
	return v.n
}

// halve tries every cut in two.
func (b *blocker) halve(i, k int, v *blockValue, most int32) {
	x, y := b.xs[i], b.ys[k]
	for c := 1; c < i && b.xs[c] <= x/2 && v.n < most; c++ {
		b.work++
		r := int(b.restX[i*len(b.xs)+c])
		if b.most(c, k)+b.most(r, k) <= v.n {
			continue
		}
		if n := b.solve(c, k) + b.solve(r, k); n > v.n {
			v.n, v.cut = n, blockCut{x1: b.xs[c]}
		}
	}
	for c := 1; c < k && b.ys[c] <= y/2 && v.n < most; c++ {
		b.work++
		r := int(b.restY[k*len(b.ys)+c])
		if b.most(i, c)+b.most(i, r) <= v.n {
			continue
		}
		if n := b.solve(i, c) + b.solve(i, r); n > v.n {
			v.n, v.cut = n, blockCut{y1: b.ys[c]}
		}
	}
}

// fifths tries every cut in five around a middle block: at the lower left a part
// x1 wide and y2 high, and on around with the sun. Turned half around, a cut has
// x1 + x2 <= x, and the mirrored ones hold as many.
func (b *blocker) fifths(i, k int, v *blockValue, most int32) {
	x := b.xs[i]
	for a := 1; a < i && 2*b.xs[a] < x; a++ {
		for c := a + 1; c < i && b.xs[a]+b.xs[c] <= x; c++ {
			if v.n >= most || b.work >= b.limit {
				return
			}
			if b.restX[i*len(b.xs)+c] > 0 {
				b.around(i, k, a, c, v)
			}
		}
	}
}

// around tries the cuts in five with middle blocks from xs[a] to xs[c].
//
// What its parts hold at most is a sum of terms of y1 alone and terms of y2 alone
// when the middle block is bounded by its area. So one pass downwards finds for every y1
// the most that any y2 above it can give, and most y1 are ruled out by that.
func (b *blocker) around(i, k, a, c int, v *blockValue) {
	nx, ny := len(b.xs), len(b.ys)
	left, right, middle := int(b.restX[i*nx+a]), int(b.restX[i*nx+c]), int(b.restX[c*nx+a])
	above := b.restY[k*ny : (k+1)*ny]
	perY := (b.xs[c] - b.xs[a]) / b.cell
	held := len(b.ends)
	b.ends = append(b.ends, make([]float64, k+1)...)
	ends := b.ends[held:]
	defer func() { b.ends = b.ends[:held] }()
	ends[k] = math.Inf(-1)
	for e := k - 1; e > 0; e-- {
		ends[e] = max(ends[e+1], float64(b.most(a, e)+b.most(c, int(above[e])))+float64(perY*b.ys[e]))
	}
	low, high := b.bounds[a*ny:(a+1)*ny], b.bounds[c*ny:(c+1)*ny]
	b.work += 1 + k/4 // cheaper than a cut
	for d := 1; d < k-1; d++ {
		up := int(above[d])
		sides := b.most(left, d) + b.most(right, up)
		for e := d + 1; e < k; e++ {
			if float64(sides)-float64(perY*b.ys[d])+ends[e] < float64(v.n+1)-areaTol {
				break
			}
			if b.work++; b.work >= b.limit {
				return
			}
			over, mid := int(above[e]), int(b.restY[e*ny+d])
			if sides+low[e]+high[over]+b.most(middle, mid) <= v.n {
				continue
			}
			if n := b.sum(v.n, [5][2]int{{left, d}, {right, up}, {a, e}, {c, over}, {middle, mid}}); n > v.n {
				v.n, v.cut = n, blockCut{b.xs[a], b.xs[c], b.ys[d], b.ys[e]}
			}
			sides = b.most(left, d) + b.most(right, up)
		}
	}
}

// areaTol is above the rounding of a few areas in cells.
const areaTol = 1e-6

// sum is what parts hold together when that is more than n, else n or less.
func (b *blocker) sum(n int32, parts [5][2]int) int32 {
	total := int32(0)
	for _, p := range parts {
		total += b.most(p[0], p[1])
	}
	for _, p := range parts {
		if total <= n {
			return total
		}
		hoped := b.most(p[0], p[1])
		total -= hoped - b.solve(p[0], p[1])
	}
	return total
}

// place appends the cells of part (i, k) with its lower-left corner at (x, y).
func (b *blocker) place(out []spot, i, k int, x, y float64) []spot {
	v := b.start(i, k)
	w, h := b.xs[i], b.ys[k]
	add := func(x0, y0, x1, y1 float64) {
		out = b.place(out, below(b.xs, x1-x0), below(b.ys, y1-y0), x+x0, y+y0)
	}
	switch c := v.cut; {
	case c.x2 > 0:
		add(0, 0, c.x1, c.y2)
		add(c.x1, 0, w, c.y1)
		add(0, c.y2, c.x2, h)
		add(c.x2, c.y1, w, h)
		add(c.x1, c.y1, c.x2, c.y2)
	case c.x1 > 0:
		add(0, 0, c.x1, h)
		add(c.x1, 0, w, h)
	case c.y1 > 0:
		add(0, 0, w, c.y1)
		add(0, c.y1, w, h)
	default:
		for t, cell := range b.cells {
			across, up := math.Floor(w/cell[0]), math.Floor(h/cell[1])
			if v.n == 0 || int32(across*up) != v.n {
				continue
			}
			for r := range int(up) {
				for s := range int(across) {
					out = append(out, spot{x + float64(float64(s)*cell[0]), y + float64(float64(r)*cell[1]), int8(t)})
				}
			}
			break
		}
	}
	return out
}

// packBlocks is the best layout by blocks of a region that is one rectangle,
// nil for any other one or when there are too many sums of sides. When it is
// below the bound, L-shaped parts are tried with up to ells steps.
func (j *job) packBlocks(limit, ells int) []spot {
	if !j.f.rectangle() {
		return nil
	}
	gapU, gapV, end := toTicks(j.s.GapUM), toTicks(j.s.GapVM), toTicks(j.s.EndM)
	var cells [][2]float64
	for _, m := range j.modules {
		cells = append(cells, [2]float64{m.pitchU, m.pitchV})
	}
	unit := 1.0
	if len(cells) == 2 && gapU == gapV {
		// Sides in whole units, where there are such, leave no rounding to add up.
		long, short := (j.s.WidthM+j.s.GapUM)*ticksPerM, (j.s.HeightM+j.s.GapVM)*ticksPerM
		if j.modules[0].turn == Turned {
			long, short = short, long
		}
		if p, q, u := commonUnit(long, short); u > 0 {
			unit, cells = u, [][2]float64{{p, q}, {q, p}}
		}
	}
	// A tick on each side is within the slack of a row.
	b, ok := newBlocker(math.Floor((j.f.width-2*end+gapU+2)/unit), math.Floor((j.f.height+gapV+2)/unit), cells, limit)
	if !ok {
		return nil
	}
	i, k := len(b.xs)-1, len(b.ys)-1
	var out []spot
	if n := b.solve(i, k); ells > 0 && int(n) < j.bound {
		e := newEller(b, ells, j.stopped)
		out = e.place(nil, e.reach(int32(j.bound)), ellFrame{signX: 1, signY: 1})
	} else {
		out = b.place(nil, i, k, 0, 0)
	}
	for i, at := range out {
		out[i].x, out[i].y = math.Round(at.x*unit)+end-1, math.Round(at.y*unit)-1
	}
	return out
}

// commonUnit is the greatest length of which two sides are whole multiples p and
// q, q at most mostUnits, each to within unitTicks; 0 when there is none.
func commonUnit(a, b float64) (p, q, unit float64) {
	const mostUnits, unitTicks = 400, 0.005
	for q := 1.0; q <= mostUnits; q++ {
		unit := b / q
		if p := math.Round(a / unit); p > 0 && abs(a-float64(p*unit)) <= unitTicks {
			return p, q, unit
		}
	}
	return 0, 0, 0
}

// rectangle reports whether the region is one, with sides along u and v.
func (f *field) rectangle() bool {
	for i, ring := range f.corners {
		if (i == 0) != (len(ring) == 4) || i > 0 && len(ring) > 0 {
			return false
		}
	}
	for _, p := range f.corners[0] {
		if p.x != 0 && float64(p.x) != f.width || p.y != 0 && float64(p.y) != f.height {
			return false
		}
	}
	return true
}
