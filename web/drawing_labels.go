package web

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"rooftally/project"
)

// Text heights in millimetres of a printed mark, and the widest mean advance
// of a character in ems: a label may be narrower than reckoned, not wider.
const (
	textU      = 2.5
	numberU    = 2.3
	numberMinU = 1.5 // about 4 points, the smallest that reads in print
	advanceEm  = 0.56
)

// groundShare is how much of the reckoned width the ground of a text takes: most
// characters are narrower.
const groundShare = 0.9

func textWidth(text string, sizeU float64) float64 {
	return advanceEm * sizeU * float64(len([]rune(text)))
}

// drawOverall adds the plan's overall width below and its height at the right.
func drawOverall(s sheet, d *drawing, room *room) {
	u := s.style.UnitU
	x0, x1 := s.ox, s.ox+s.spanX*s.k
	y0, y1 := s.oy, s.oy+s.spanY*s.k
	size := textU * u
	line, tick := y1+7.5*u, 0.9*u
	d.Dims = openPath(xy{x0, y1 + 1.2*u}, xy{x0, line + u}) + openPath(xy{x1, y1 + 1.2*u}, xy{x1, line + u}) +
		openPath(xy{x0, line}, xy{x1, line})
	for _, x := range []float64{x0, x1} {
		d.Dims += openPath(xy{x - tick, line + tick}, xy{x + tick, line - tick})
	}
	room.addPath(lineMark, xy{x0, y1 + u}, xy{x0, line}, xy{x1, line}, xy{x1, y1 + u})
	text := lengthText(s.spanX, s.style.Imperial)
	placeLabel(d, room, xy{(x0 + x1) / 2, line + size}, 0, text, size, "dim")

	side := x1 + 7.5*u
	d.Dims += openPath(xy{x1 + 1.2*u, y0}, xy{side + u, y0}) + openPath(xy{x1 + 1.2*u, y1}, xy{side + u, y1}) +
		openPath(xy{side, y0}, xy{side, y1})
	for _, y := range []float64{y0, y1} {
		d.Dims += openPath(xy{side - tick, y + tick}, xy{side + tick, y - tick})
	}
	room.addPath(lineMark, xy{x1 + u, y0}, xy{side, y0}, xy{side, y1}, xy{x1 + u, y1})
	text = lengthText(s.spanY, s.style.Imperial)
	placeLabel(d, room, xy{side + size, (y0 + y1) / 2}, -math.Pi/2, text, size, "dim")
}

// placeLabel puts a label centred on c if it has room.
func placeLabel(d *drawing, room *room, c xy, turnRad float64, text string, size float64, class string) bool {
	q := box(c, textWidth(text, size), size*0.95, turnRad)
	if !room.free(q) {
		return false
	}
	room.take(q)
	d.Labels = append(d.Labels, newLabel(c, turnRad, text, size, class))
	return true
}

// newLabel centres a text on c: capitals and figures stand about 0.7 em high.
func newLabel(c xy, turnRad float64, text string, size float64, class string) drawnLabel {
	w, h := textWidth(text, size)*groundShare+0.3*size, 1.05*size
	l := drawnLabel{
		X: num(c.x), Y: num(c.y + 0.35*size), Size: num(size), Anchor: "middle", Text: text, Class: class,
		Ground: block(c.x-w/2, c.y-h/2, w, h),
	}
	if turnRad != 0 {
		l.Transform = "rotate(" + num(turnRad*180/math.Pi) + " " + num(c.x) + " " + num(c.y) + ")"
	}
	return l
}

// drawEdgeLengths writes the true length beside every eave and rake that has
// room, outside the plane if it can, else inside.
func drawEdgeLengths(s sheet, d *drawing, doc project.Document, res project.Result, room *room) {
	size := textU * s.style.UnitU
	for i, ring := range planRings(doc) {
		pr, known := planeResult(res, doc.Planes[i].ID)
		if !known {
			continue
		}
		inward := inwardSide(s.ring(ring))
		for _, e := range pr.Edges {
			if e.Kind != "eave" && e.Kind != "rake" {
				continue
			}
			text := lengthText(e.LengthM, s.style.Imperial)
			if e.Kind == "rake" && pr.PitchDeg > 0 {
				text = "slope " + text
			}
			placeAlong(d, room, s.at(e.From), s.at(e.To), inward, text, size)
		}
	}
}

// placeAlong sets a text beside the segment from a to b, reading from the
// bottom or the right of the sheet.
func placeAlong(d *drawing, room *room, a, b xy, inward float64, text string, size float64) {
	if math.Hypot(b.x-a.x, b.y-a.y) < textWidth(text, size) {
		return
	}
	turn := math.Atan2(b.y-a.y, b.x-a.x)
	if turn > math.Pi/2-0.01 {
		turn -= math.Pi
	} else if turn < -math.Pi/2-0.01 {
		turn += math.Pi
	}
	for _, side := range []float64{-1, 1} {
		p, q := beside(a, b, side*inward*size*1.15)
		for _, t := range []float64{0.5, 0.4, 0.6, 0.3, 0.7} {
			c := xy{p.x + (q.x-p.x)*t, p.y + (q.y-p.y)*t}
			shape := box(c, textWidth(text, size), size*0.95, turn)
			if room.onModules(shape) == 0 && placeLabel(d, room, c, turn, text, size, "dim") {
				return
			}
		}
	}
}

// drawPlaneKeys puts each plane's number, fall arrow and pitch where they
// cross no line and cover no module. A plane without such a place has its number
// alone there, else beside the roof with a line to the plane, else over as few
// modules as possible.
func drawPlaneKeys(s sheet, d *drawing, doc project.Document, room *room) {
	rings := planRings(doc)
	outlines := make([][]xy, len(rings))
	for i, ring := range rings {
		outlines[i] = s.ring(ring)
	}
	for i := range outlines {
		p := doc.Planes[i]
		parts := keyParts{n: strconv.Itoa(i + 1), pitch: pitchText(p.PitchDeg), fallRad: p.AzimuthDeg * math.Pi / 180}
		parts.flat = p.PitchDeg < 2
		if k, shapes, ok := placeKey(s, parts, outlines, i, room); ok {
			for _, q := range shapes {
				room.take(q)
			}
			d.Keys = append(d.Keys, k)
		}
	}
}

// placeKey finds the best place for the key of plane i and what it takes there.
func placeKey(s sheet, k keyParts, outlines [][]xy, i int, room *room) (drawnKey, [][]xy, bool) {
	u := s.style.UnitU
	places := keyPlaces(outlines[i], u)
	var over *xy
	overFull := false
	for _, full := range []bool{true, false} {
		k.full = full
		at, modules, ok := bestPlace(places, outlines[i], k, room, u)
		if ok && modules == 0 {
			return k.draw(at, u), k.shapes(at, u), true
		}
		if ok && over == nil {
			over, overFull = &at, full
		}
	}
	k.full = false
	if at, leader, ok := besideRoof(s, k, outlines, i, room); ok {
		out := k.draw(at, u)
		out.Leader = leader
		return out, k.shapes(at, u), true
	}
	if over == nil {
		return drawnKey{}, nil, false
	}
	k.full = overFull
	return k.draw(*over, u), k.shapes(*over, u), true
}

// besideRoof looks for a place off the roof near the plane's edges, nearest first,
// and a line from there to just within the plane.
func besideRoof(s sheet, k keyParts, outlines [][]xy, i int, room *room) (at xy, leader string, ok bool) {
	u, ring := s.style.UnitU, outlines[i]
	inward := inwardSide(ring)
	for away := 4.0; away <= 9; away++ {
		for j := range ring {
			a, b := ring[j], ring[(j+1)%len(ring)]
			out1, out2 := beside(a, b, -inward*away*u)
			in1, in2 := beside(a, b, inward*1.2*u)
			for _, t := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
				c, tip := between(out1, out2, t), between(in1, in2, t)
				from := toward(c, tip, keyRadiusU*u)
				if s.holds(k.shapes(c, u)[0]) && offRoof(k.shapes(c, u)[0], outlines) && room.free(k.shapes(c, u)[0]) &&
					len(room.touching([]xy{from, tip}, labelMark)) == 0 && offRoof([]xy{between(from, tip, 0.1)}, outlines) {
					return c, openPath(from, tip) + ringPath(tip, 0.25*u), true
				}
			}
		}
	}
	return xy{}, "", false
}

func between(a, b xy, t float64) xy { return xy{a.x + (b.x-a.x)*t, a.y + (b.y-a.y)*t} }

// toward is the point a way off from a on the line to b.
func toward(a, b xy, way float64) xy {
	long := math.Hypot(b.x-a.x, b.y-a.y)
	if long == 0 {
		return a
	}
	return between(a, b, way/long)
}

// holds reports whether a shape lies on the sheet, above its foot.
func (s sheet) holds(q []xy) bool {
	for _, p := range q {
		if p.x < 0 || p.y < 0 || p.x > s.style.WidthU || p.y > s.heightU-9*s.style.UnitU {
			return false
		}
	}
	return true
}

// offRoof reports whether no corner of a shape lies on a plane, nor any plane's
// corner in it.
func offRoof(q []xy, outlines [][]xy) bool {
	for _, ring := range outlines {
		for _, p := range q {
			if insideRing(p, ring) {
				return false
			}
		}
		for _, p := range ring {
			if len(q) > 2 && insideRing(p, q) {
				return false
			}
		}
	}
	return true
}

// keyPlaces samples the inside of a plane, nearest its middle first.
func keyPlaces(ring []xy, u float64) []xy {
	lo, hi := xy{math.Inf(1), math.Inf(1)}, xy{math.Inf(-1), math.Inf(-1)}
	for _, p := range ring {
		lo, hi = xy{min(lo.x, p.x), min(lo.y, p.y)}, xy{max(hi.x, p.x), max(hi.y, p.y)}
	}
	mid := xy{(lo.x + hi.x) / 2, (lo.y + hi.y) / 2}
	const steps = 28
	var out []xy
	for i := 1; i < steps; i++ {
		for j := 1; j < steps; j++ {
			p := xy{lo.x + (hi.x-lo.x)*float64(i)/steps, lo.y + (hi.y-lo.y)*float64(j)/steps}
			if insideRing(p, ring) {
				out = append(out, p)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b xy) int {
		return cmp.Compare(math.Hypot(a.x-mid.x, a.y-mid.y), math.Hypot(b.x-mid.x, b.y-mid.y))
	})
	return out
}

// bestPlace is the place that covers the fewest modules, and of those the one
// that crosses the fewest soft lines.
func bestPlace(places, outline []xy, k keyParts, room *room, u float64) (best xy, modules int, found bool) {
	cost := math.MaxInt
	for _, at := range places {
		shapes, over, hits := k.shapes(at, u), 0, 0
		ok := true
		for _, q := range shapes {
			if !insideRing(q[0], outline) || !room.free(q) {
				ok = false
				break
			}
			over += room.onModules(q)
			hits += room.cost(q)
		}
		if c := over*1000 + hits; ok && c < cost {
			best, modules, found, cost = at, over, true, c
			if hits == 0 {
				break
			}
		}
	}
	return best, modules, found
}

// keyParts is a plane's key before it has a place.
type keyParts struct {
	n, pitch string
	fallRad  float64 // bearing, clockwise from north
	flat     bool
	full     bool // with arrow and pitch
}

const (
	keyRadiusU = 2.1
	arrowU     = 5.5
)

// arrow is the tail and tip of the fall arrow of a key centred on at.
func (k keyParts) arrow(at xy, u float64) (tail, tip xy) {
	sin, cos := math.Sincos(k.fallRad)
	from, to := (keyRadiusU+0.5)*u, (keyRadiusU+0.5+arrowU)*u
	return xy{at.x + sin*from, at.y - cos*from}, xy{at.x + sin*to, at.y - cos*to}
}

// pitchAt centres the pitch beside the key, on the side away from the arrow.
func (k keyParts) pitchAt(at xy, u float64) xy {
	half := textWidth(k.pitch, textU*u) / 2
	if sin := math.Sin(k.fallRad); sin > 0.5 && !k.flat {
		return xy{at.x - keyRadiusU*u - half - 0.6*u, at.y}
	}
	return xy{at.x + keyRadiusU*u + half + 0.6*u, at.y}
}

// shapes are the convex parts that need room.
func (k keyParts) shapes(at xy, u float64) [][]xy {
	side := 2 * (keyRadiusU + 0.4) * u
	out := [][]xy{box(at, side, side, 0)}
	if !k.full {
		return out
	}
	c := k.pitchAt(at, u)
	out = append(out, box(c, textWidth(k.pitch, textU*u), textU*u, 0))
	if !k.flat {
		tail, tip := k.arrow(at, u)
		mid := xy{(tail.x + tip.x) / 2, (tail.y + tip.y) / 2}
		out = append(out, box(mid, (arrowU+1.6)*u, 2.4*u, math.Atan2(tip.y-tail.y, tip.x-tail.x)))
	}
	return out
}

func (k keyParts) draw(at xy, u float64) drawnKey {
	out := drawnKey{
		X: num(at.x), Y: num(at.y), R: num(keyRadiusU * u), Text: k.n,
		TextSize: num(textU * u), TextY: num(at.y + 0.35*textU*u),
	}
	if !k.full {
		return out
	}
	l := newLabel(k.pitchAt(at, u), 0, k.pitch, textU*u, "pitch")
	out.PitchText = &l
	if !k.flat {
		tail, tip := k.arrow(at, u)
		out.Arrow = openPath(tail, tip)
		for _, turn := range []float64{2.6, -2.6} {
			sin, cos := math.Sincos(math.Atan2(tip.y-tail.y, tip.x-tail.x) + turn)
			out.Arrow += openPath(tip, xy{tip.x + cos*1.8*u, tip.y + sin*1.8*u})
		}
	}
	return out
}

// drawKeepOutKeys writes K1, K2, ... beside the keep-outs of the document.
func drawKeepOutKeys(s sheet, d *drawing, doc project.Document, res project.Result, room *room) {
	size := numberU * s.style.UnitU
	for i, k := range doc.KeepOuts {
		for _, kr := range res.KeepOuts {
			if kr.ID != k.ID || len(kr.Footprint) < 3 {
				continue
			}
			placeAround(d, room, s.ring(kr.Footprint), keepOutKey(i), size)
		}
	}
}

// placeAround tries the centre of a shape, then its middle and eight places
// around it, those first that cover the least.
func placeAround(d *drawing, room *room, ring []xy, text string, size float64) {
	lo, hi := ring[0], ring[0]
	for _, p := range ring {
		lo, hi = xy{min(lo.x, p.x), min(lo.y, p.y)}, xy{max(hi.x, p.x), max(hi.y, p.y)}
	}
	mid := xy{(lo.x + hi.x) / 2, (lo.y + hi.y) / 2}
	dx, dy := (hi.x-lo.x)/2+textWidth(text, size)/2+0.4*size, (hi.y-lo.y)/2+0.8*size
	around := []xy{mid, {mid.x + dx, mid.y}, {mid.x - dx, mid.y}, {mid.x, mid.y - dy}, {mid.x, mid.y + dy},
		{mid.x + dx, mid.y - dy}, {mid.x - dx, mid.y - dy}, {mid.x + dx, mid.y + dy}, {mid.x - dx, mid.y + dy}}
	w := textWidth(text, size)
	if c := centroid(ring); insideRing(c, ring) && room.onModules(box(c, w, size, 0)) <= 2 &&
		placeLabel(d, room, c, 0, text, size, "keepout-key") {
		return
	}
	slices.SortStableFunc(around, func(a, b xy) int {
		return cmp.Compare(room.cost(box(a, w, size, 0)), room.cost(box(b, w, size, 0)))
	})
	for _, c := range around {
		if placeLabel(d, room, c, 0, text, size, "keepout-key") {
			return
		}
	}
}

// drawNumbers writes each module's number inside it, all of one size. Where
// the widest would be too small to read, none is written; one whose module is
// under a plane's key is counted, not squeezed in.
func drawNumbers(s sheet, d *drawing, placed []placedModule, room *room) {
	size := numberSize(placed, s.style.UnitU)
	if size < numberMinU*s.style.UnitU {
		d.NumbersHidden = len(placed)
		return
	}
	for _, m := range placed {
		if !placeNumber(d, m, size, room) {
			d.NumbersHidden++
		}
	}
}

// numberSize is the text height at which the widest number fits the smallest
// module, at most the usual one.
func numberSize(placed []placedModule, u float64) float64 {
	size := numberU * u
	digits := float64(len(strconv.Itoa(len(placed))))
	for _, m := range placed {
		_, a, b := quadMiddle(m.quad)
		short := min(math.Hypot(a.x, a.y), math.Hypot(b.x, b.y))
		size = min(size, short*0.8/(advanceEm*digits), short*0.8)
	}
	return size
}

func placeNumber(d *drawing, m placedModule, size float64, room *room) bool {
	text := strconv.Itoa(m.number)
	c, a, b := quadMiddle(m.quad)
	for _, f := range []xy{{0, 0}, {0, .28}, {0, -.28}, {.25, 0}, {-.25, 0}} {
		at := xy{c.x + a.x*f.x + b.x*f.y, c.y + a.y*f.x + b.y*f.y}
		q := box(at, textWidth(text, size), size*0.8, 0)
		if inQuad(q, m.quad) && room.free(q) {
			room.take(q)
			d.Labels = append(d.Labels, newLabel(at, 0, text, size, "number"))
			return true
		}
	}
	return false
}

// quadMiddle is the middle of a module and its two side vectors.
func quadMiddle(q []xy) (c, a, b xy) {
	c = xy{(q[0].x + q[2].x) / 2, (q[0].y + q[2].y) / 2}
	return c, xy{q[1].x - q[0].x, q[1].y - q[0].y}, xy{q[3].x - q[0].x, q[3].y - q[0].y}
}

func inQuad(q, quad []xy) bool {
	for _, p := range q {
		if !insideRing(p, quad) {
			return false
		}
	}
	return true
}
