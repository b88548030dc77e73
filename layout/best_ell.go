package layout

import "math"

// eller looks for one module more than blocks hold in a rectangle. Parts are
// L-shaped, or rectangles, and every one is cut in two such parts by a line with
// at most two corners (Lins, Lins and Morabito, Journal of the Operational
// Research Society 54 (2003) 777-789; Birgin, Lobato and Morabito, the same 61
// (2010) 306-320). The cuts here are derived anew: a corner of the line is a
// reflex corner of one of the parts, and an L has one.
type eller struct {
	b            *blocker
	restX, restY []int32 // by i and p: the greatest of the list within the i-th less the p-th
	parts        map[ell]*ellValue
	bars         []ellBars
	work, limit  int // steps: cuts looked at
	stopped      func() bool
}

// ell is an L-shaped part: a rectangle from its corner to xs[w] and ys[h] less
// what is beyond both xs[s] and ys[t]. A rectangle has s = w and t = h.
type ell struct{ w, h, s, t int16 }

// ellValue is what is known of a part: it holds low, and not more than high.
type ellValue struct {
	low, high int32
	cut       ellCut
}

// ellCut is a cut: its kind and the places of its segments, x across, y up, z
// the last of three.
type ellCut struct {
	kind    ellKind
	x, y, z int16
}

// ellSide is one of the two parts of a cut: its corner in the frame of what is
// cut, and whether it is mirrored from there.
type ellSide struct {
	part         ell
	x, y         int16
	flipX, flipY bool
}

type ellKind uint8

// Kinds of cuts. R is the reflex corner. The last two cut rectangles only.
const (
	cutNone         ellKind = iota
	cutColumnLeft           // straight up, left of R
	cutColumnRight          // straight up, right of R
	cutRowBelow             // straight across, below R
	cutRowAbove             // straight across, above R
	cutNested               // from the right end to a corner and to the top end
	cutUpperLeft            // from above R, left, down to the bottom
	cutLowerRight           // from right of R, down, left to the left side
	cutLeftDownLeft         // from R, as are the next three
	cutDownLeftDown
	cutLeftUpLeft
	cutDownRightDown
	cutStairsUp     // up, right, up
	cutStairsAcross // right, up, right
)

// reach looks for layouts of the whole rectangle with one module more and one
// more again, up to most, and returns the whole, whose value is the best found.
func (e *eller) reach(most int32) ell {
	i, k := int16(len(e.b.xs)-1), int16(len(e.b.ys)-1)
	whole := ell{i, k, i, k}
	for n := e.at(whole).low; n < most && e.holds(whole, n+1); n++ {
	}
	return whole
}

// newEller prepares cuts of the rectangle of b, which has been solved.
func newEller(b *blocker, limit int, stopped func() bool) *eller {
	e := &eller{b: b, limit: limit, stopped: stopped, parts: map[ell]*ellValue{}, restX: b.restX, restY: b.restY}
	if b.unit > 0 {
		for _, side := range b.cells[0] {
			if n := side / b.unit; n > 1 && n <= mostBar {
				e.bars = append(e.bars, newEllBars(int(n)))
			}
		}
	}
	return e
}

// rests tabulates, by i and p, the greatest of list within list[i] - list[p].
func rests(list []float64) []int32 {
	out := make([]int32, len(list)*len(list))
	for i := range list {
		for p := range i + 1 {
			out[i*len(list)+p] = int32(below(list, list[i]-list[p]))
		}
	}
	return out
}

// dx and dy are the places of what is left of a width or height beyond a cut.
func (e *eller) dx(i, p int16) int16 { return int16(e.restX[int(i)*len(e.b.xs)+int(p)]) }
func (e *eller) dy(k, q int16) int16 { return int16(e.restY[int(k)*len(e.b.ys)+int(q)]) }

// normal is the part with s = w and t = h when it is a rectangle.
func (p ell) normal() ell {
	switch {
	case p.s == 0:
		p.h = p.t
	case p.t == 0:
		p.w = p.s
	case p.s < p.w && p.t < p.h:
		return p
	}
	return ell{p.w, p.h, p.w, p.h}
}

func (e *eller) area(p ell) float64 {
	xs, ys := e.b.xs, e.b.ys
	return float64(xs[p.w]*ys[p.t]) + float64(xs[p.s]*(ys[p.h]-ys[p.t]))
}

// at is the value of a part: before any cut, what blocks hold and its bound.
func (e *eller) at(p ell) *ellValue {
	if v := e.parts[p]; v != nil {
		return v
	}
	v := &ellValue{}
	if p.s == p.w {
		v.low = e.blocks(p.w, p.h)
	} else {
		row := e.blocks(p.w, p.t) + e.blocks(p.s, e.dy(p.h, p.t))
		column := e.blocks(p.s, p.h) + e.blocks(e.dx(p.w, p.s), p.t)
		v.low, v.cut = row, ellCut{kind: cutRowBelow, y: p.t}
		if column > row {
			v.low, v.cut = column, ellCut{kind: cutColumnLeft, x: p.s}
		}
	}
	v.high = max(v.low, int32((e.area(p)-e.waste(p))/e.b.cell))
	e.parts[p] = v
	return v
}

// blocks is what a rectangle is known to hold by blocks, looked for while these
// have steps left.
func (e *eller) blocks(i, k int16) int32 {
	if e.b.work < e.b.limit {
		return e.b.solve(int(i), int(k))
	}
	return e.b.start(int(i), int(k)).n
}

// holds reports whether a part is found to hold n.
func (e *eller) holds(p ell, n int32) bool {
	v := e.at(p)
	if v.low >= n || v.high < n || e.work >= e.limit {
		return v.low >= n
	}
	for kind := cutColumnLeft; kind <= cutStairsAcross; kind++ {
		if c, ok := e.cuts(p, kind, n); ok {
			v.low, v.cut = n, c
			return true
		}
	}
	if e.work < e.limit {
		v.high = n - 1
	}
	return false
}

// ellSpan is the first and the last place of a segment.
type ellSpan struct{ from, to int16 }

// spans is where the segments of a kind of cut of p can be. Half the places are
// enough where the other half is the same mirrored.
func (kind ellKind) spans(p ell) (x, y ellSpan) {
	left, right := ellSpan{1, p.s - 1}, ellSpan{p.s, p.w - 1}
	low, high := ellSpan{1, p.t - 1}, ellSpan{p.t, p.h - 1}
	none, never := ellSpan{0, 0}, ellSpan{1, 0}
	if p.s == p.w {
		switch kind {
		case cutColumnLeft:
			return left, none
		case cutRowBelow:
			return none, low
		case cutNested, cutStairsUp, cutStairsAcross:
			return left, low
		}
		return never, none
	}
	switch kind {
	case cutColumnLeft:
		return ellSpan{1, p.s}, none
	case cutColumnRight:
		return ellSpan{p.s + 1, p.w - 1}, none
	case cutRowBelow:
		return none, ellSpan{1, p.t}
	case cutRowAbove:
		return none, ellSpan{p.t + 1, p.h - 1}
	case cutNested, cutLeftDownLeft, cutDownLeftDown:
		return left, low
	case cutUpperLeft:
		return left, high
	case cutLowerRight:
		return right, low
	case cutLeftUpLeft:
		return left, ellSpan{p.t + 1, p.h - 1}
	case cutDownRightDown:
		return ellSpan{p.s + 1, p.w - 1}, low
	}
	return never, none
}

// thirds is where the last of three segments can be.
func (c ellCut) thirds(p ell) ellSpan {
	switch c.kind {
	case cutStairsUp:
		return ellSpan{c.x + 1, p.w - 1}
	case cutStairsAcross:
		return ellSpan{c.y + 1, p.h - 1}
	}
	return ellSpan{0, 0}
}

// cuts tries the cuts of one kind, for n modules.
func (e *eller) cuts(p ell, kind ellKind, n int32) (ellCut, bool) {
	x, y := kind.spans(p)
	for i := x.from; i <= x.to; i++ {
		if e.stopped() {
			e.limit = 0
		}
		for k := y.from; k <= y.to; k++ {
			z := ellCut{kind: kind, x: i, y: k}.thirds(p)
			for m := z.from; m <= z.to; m++ {
				c := ellCut{kind, i, k, m}
				if e.work++; e.work >= e.limit {
					return c, false
				}
				if e.both(e.sides(p, c), n) {
					return c, true
				}
			}
		}
	}
	return ellCut{}, false
}

// both reports whether two parts are found to hold n together.
func (e *eller) both(s [2]ellSide, n int32) bool {
	p, q := s[0].part, s[1].part
	if int32(e.area(p)/e.b.cell)+int32(e.area(q)/e.b.cell) < n {
		return false
	}
	v, w := e.at(p), e.at(q)
	for {
		first := n - w.high
		if first > v.high || e.work >= e.limit || !e.holds(p, first) {
			return v.low+w.low >= n
		}
		if e.holds(q, n-v.low) {
			return true
		}
	}
}

// sides is the two parts of a cut: a table, and as long as there are kinds.
func (e *eller) sides(p ell, c ellCut) [2]ellSide {
	x, y, z, w, h, s, t := c.x, c.y, c.z, p.w, p.h, p.s, p.t
	var a, b ellSide
	switch c.kind {
	case cutColumnLeft:
		a = ellSide{part: ell{x, h, x, h}}
		b = ellSide{part: ell{e.dx(w, x), h, e.dx(s, x), t}, x: x}
	case cutColumnRight:
		a = ellSide{part: ell{x, h, s, t}}
		b = ellSide{part: ell{e.dx(w, x), t, e.dx(w, x), t}, x: x}
	case cutRowBelow:
		a = ellSide{part: ell{w, y, w, y}}
		b = ellSide{part: ell{s: s, t: e.dy(t, y), w: w, h: e.dy(h, y)}, y: y}
	case cutRowAbove:
		a = ellSide{part: ell{w, y, s, t}}
		b = ellSide{part: ell{s, e.dy(h, y), s, e.dy(h, y)}, y: y}
	case cutNested:
		a = ellSide{part: ell{w, h, x, y}}
		b = ellSide{part: ell{e.dx(w, x), e.dy(h, y), e.dx(s, x), e.dy(t, y)}, x: x, y: y}
	case cutUpperLeft:
		a = ellSide{part: ell{e.dx(w, x), y, e.dx(s, x), t}, x: x}
		b = ellSide{part: ell{s, h, x, e.dy(h, y)}, y: h, flipY: true}
	case cutLowerRight:
		a = ellSide{part: ell{x, e.dy(h, y), s, e.dy(t, y)}, y: y}
		b = ellSide{part: ell{w, t, e.dx(w, x), y}, x: w, flipX: true}
	case cutLeftDownLeft:
		a = ellSide{part: ell{w, t, e.dx(w, x), y}, x: w, flipX: true}
		b = ellSide{part: ell{s, e.dy(h, y), x, e.dy(h, t)}, y: h, flipY: true}
	case cutDownLeftDown:
		a = ellSide{part: ell{s, h, x, e.dy(h, y)}, y: h, flipY: true}
		b = ellSide{part: ell{e.dx(w, x), t, e.dx(w, s), y}, x: w, flipX: true}
	case cutLeftUpLeft:
		a = ellSide{part: ell{w, y, x, t}}
		b = ellSide{part: ell{s, e.dy(h, t), e.dx(s, x), e.dy(h, y)}, x: s, y: h, flipX: true, flipY: true}
	case cutDownRightDown:
		a = ellSide{part: ell{x, h, s, y}}
		b = ellSide{part: ell{e.dx(w, s), t, e.dx(w, x), e.dy(t, y)}, x: w, y: t, flipX: true, flipY: true}
	case cutStairsUp:
		a = ellSide{part: ell{z, h, x, e.dy(h, y)}, y: h, flipY: true}
		b = ellSide{part: ell{e.dx(w, x), h, e.dx(w, z), y}, x: w, flipX: true}
	case cutStairsAcross:
		a = ellSide{part: ell{w, z, e.dx(w, x), y}, x: w, flipX: true}
		b = ellSide{part: ell{w, e.dy(h, y), x, e.dy(h, z)}, y: h, flipY: true}
	}
	a.part, b.part = a.part.normal(), b.part.normal()
	return [2]ellSide{a, b}
}

// ellFrame is where a part lies: its corner, and -1 where it is mirrored.
type ellFrame struct{ x, y, signX, signY float64 }

// place appends the cells of a part.
func (e *eller) place(out []spot, p ell, f ellFrame) []spot {
	c := e.at(p).cut
	if c.kind == cutNone {
		first := len(out)
		out = e.b.place(out, int(p.w), int(p.h), 0, 0)
		for i, at := range out[first:] {
			cell := e.b.cells[at.turn]
			out[first+i].x = endOf(f.x, f.signX, at.x, cell[0])
			out[first+i].y = endOf(f.y, f.signY, at.y, cell[1])
		}
		return out
	}
	for _, s := range e.sides(p, c) {
		g := ellFrame{f.x + float64(f.signX*e.b.xs[s.x]), f.y + float64(f.signY*e.b.ys[s.y]), f.signX, f.signY}
		if s.flipX {
			g.signX = -g.signX
		}
		if s.flipY {
			g.signY = -g.signY
		}
		out = e.place(out, s.part, g)
	}
	return out
}

// endOf is the lower end of a length that starts at from in a frame.
func endOf(corner, sign, from, length float64) float64 {
	if sign < 0 {
		return corner - from - length
	}
	return corner + from
}

// mostBar is the longest bar, in units, whose waste is looked at.
const mostBar = 40

// ellBars counts the squares of each of n diagonal colours, (i + j) modulo n, in
// rectangles: a bar of 1 x n covers one of each, so what a colour has more than
// the scarcest is waste (Barnes, Discrete Mathematics 26 (1979) 93-100). Whole
// bars change nothing, so only the sides modulo n matter.
type ellBars struct {
	n     int
	count []int32 // by r, s and colour
}

func newEllBars(n int) ellBars {
	b := ellBars{n, make([]int32, n*n*n)}
	for r := range n {
		for s := range n {
			for i := range r {
				for j := range s {
					b.count[(r*n+s)*n+(i+j)%n]++
				}
			}
		}
	}
	return b
}

// waste is the least area of a part that bars leave.
func (e *eller) waste(p ell) float64 {
	u, most := e.b.unit, int32(0)
	in := func(v float64) int { return int(math.Round(v / u)) }
	for _, b := range e.bars {
		w, h := in(e.b.xs[p.w])%b.n, in(e.b.ys[p.h])
		s, t := in(e.b.xs[p.s])%b.n, in(e.b.ys[p.t])
		top := (h - t) % b.n
		// Diagonals of the other way start from the upper side of either rectangle.
		for _, shift := range [2]int{t % b.n, (2*b.n - top) % b.n} {
			low := b.count[(w*b.n+t%b.n)*b.n:][:b.n]
			high := b.count[(s*b.n+top)*b.n:][:b.n]
			least, total := int32(math.MaxInt32), int32(0)
			for c := range b.n {
				k := low[c] + high[(c+b.n-shift)%b.n]
				least, total = min(least, k), total+k
			}
			most = max(most, total-int32(b.n)*least)
		}
	}
	return float64(float64(most) * u * u)
}
