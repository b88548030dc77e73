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
	l := drawnLabel{
		X: num(c.x), Y: num(c.y + 0.35*size), Size: num(size),
		Halo: num(0.36 * size), Anchor: "middle", Text: text, Class: class,
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
// cross no line: off the modules and the dotted lines if they can, else over
// as few as possible, on a paper ground.
func drawPlaneKeys(s sheet, d *drawing, doc project.Document, room *room) {
	for i, ring := range planRings(doc) {
		p := doc.Planes[i]
		outline := s.ring(ring)
		parts := keyParts{n: strconv.Itoa(i + 1), pitch: pitchText(p.PitchDeg), fallRad: p.AzimuthDeg * math.Pi / 180}
		parts.flat = p.PitchDeg < 2
		places := keyPlaces(outline, s.style.UnitU)
		for _, full := range []bool{true, false} {
			parts.full = full
			if at, ok := bestPlace(places, outline, parts, room, s.style.UnitU); ok {
				for _, q := range parts.shapes(at, s.style.UnitU) {
					room.take(q)
				}
				d.Keys = append(d.Keys, parts.draw(at, s.style.UnitU))
				break
			}
		}
	}
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

func bestPlace(places, outline []xy, k keyParts, room *room, u float64) (xy, bool) {
	best, found, cost := xy{}, false, math.MaxInt
	for _, at := range places {
		shapes, hits := k.shapes(at, u), 0
		ok := true
		for _, q := range shapes {
			if !insideRing(q[0], outline) || !room.free(q) {
				ok = false
				break
			}
			hits += room.cost(q)
		}
		if ok && hits < cost {
			best, found, cost = at, true, hits
			if hits == 0 {
				break
			}
		}
	}
	return best, found
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
