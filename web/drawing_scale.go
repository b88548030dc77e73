package web

import (
	"math"
	"strconv"

	"rooftally/project"
)

// printScale is a scale a drawing can be printed to.
type printScale struct {
	// Denom is the n of 1:n.
	Denom float64
	// Text is how the trade says it.
	Text string
}

// printScales lists the round scales, largest drawing first: 1:n, or the
// architect's scales of inches to a foot.
func printScales(imperial bool) []printScale {
	if imperial {
		return []printScale{
			{24, "1/2 in = 1 ft (1:24)"}, {48, "1/4 in = 1 ft (1:48)"},
			{64, "3/16 in = 1 ft (1:64)"}, {96, "1/8 in = 1 ft (1:96)"},
			{128, "3/32 in = 1 ft (1:128)"}, {192, "1/16 in = 1 ft (1:192)"},
			{240, "1 in = 20 ft (1:240)"}, {360, "1 in = 30 ft (1:360)"},
			{480, "1 in = 40 ft (1:480)"}, {600, "1 in = 50 ft (1:600)"},
			{1200, "1 in = 100 ft (1:1200)"}, {2400, "1 in = 200 ft (1:2400)"},
			{6000, "1 in = 500 ft (1:6000)"}, {12000, "1 in = 1000 ft (1:12000)"},
			{60000, "1 in = 5000 ft (1:60000)"}, {120000, "1 in = 10000 ft (1:120000)"},
		}
	}
	var out []printScale
	for _, n := range []int{20, 25, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750,
		1000, 1500, 2000, 2500, 5000, 10000, 20000, 50000, 100000} {
		out = append(out, printScale{float64(n), "1:" + strconv.Itoa(n)})
	}
	return out
}

// chooseScale returns the largest round scale at which a roof of spanXM by
// spanYM metres fits wMM by hMM millimetres. A roof that fits none gets the
// smallest scale; the document's coordinate limits keep that from happening
// on sheets the proposal uses.
func chooseScale(spanXM, spanYM, wMM, hMM float64, imperial bool) printScale {
	scales := printScales(imperial)
	for _, c := range scales {
		if spanXM*1000 <= wMM*c.Denom && spanYM*1000 <= hMM*c.Denom {
			return c
		}
	}
	return scales[len(scales)-1]
}

// newSheet fits the roof of doc into the style's frame, above a foot strip
// for the scale bar and inside a margin for lengths, and trims the height that
// is not needed. A document without planes gets a sheet of one metre.
func newSheet(doc project.Document, style drawingStyle) sheet {
	minX, minY, maxX, maxY := extent(planRings(doc))
	if minX > maxX {
		minX, minY, maxX, maxY = 0, 0, 1, 1
	}
	s := sheet{style: style, minX: minX, maxY: maxY, spanX: max(maxX-minX, 0.01), spanY: max(maxY-minY, 0.01)}
	pad, foot := 3*style.UnitU, 0.0
	if style.Dimensions {
		pad = 12 * style.UnitU
	}
	if style.Bar || style.North {
		foot = 9 * style.UnitU
	}
	w, h := style.WidthU-2*pad, style.MaxHeightU-2*pad-foot
	if style.Paper != "" {
		c := chooseScale(s.spanX, s.spanY, w, h, style.Imperial)
		s.k = 1000 / c.Denom
		s.scaleText = c.Text + " on " + style.Paper
	} else {
		s.k = min(w/s.spanX, h/s.spanY)
	}
	s.ox, s.oy = pad+(w-s.spanX*s.k)/2, pad
	s.heightU = s.spanY*s.k + 2*pad + foot
	return s
}

// drawFurniture adds the scale bar and the north arrow in the foot strip.
func drawFurniture(s sheet, d *drawing, room *room) {
	u := s.style.UnitU
	y := s.heightU - 4*u
	if s.style.Bar {
		d.Bar = newBar(s, 3*u, y)
	}
	if s.style.North {
		x := s.style.WidthU - 5*u
		top, foot := y-4.5*u, y+2.5*u
		d.North = &drawnNorth{
			Path: closedPath([]xy{{x, top}, {x + 2*u, foot}, {x, foot - 1.6*u}, {x - 2*u, foot}}),
			Label: drawnLabel{
				X: num(x - 3.4*u), Y: num(y), Size: num(textU * u),
				Anchor: "middle", Text: "N", Class: "note",
			},
		}
	}
}

// newBar is the scale bar: the longest round length within a third of the
// sheet, its first half filled.
func newBar(s sheet, x, y float64) *drawnBar {
	unitM, word := 1.0, " m"
	if s.style.Imperial {
		unitM, word = footM, " ft"
	}
	limit := s.style.WidthU / 3 / s.k / unitM
	whole := math.Pow(10, math.Floor(math.Log10(limit)))
	for _, f := range []float64{5, 2} {
		if whole*f <= limit {
			whole *= f
			break
		}
	}
	long, thick := whole*unitM*s.k, 1.1*s.style.UnitU
	mid, end := x+long/2, x+long
	size := num(textU * s.style.UnitU)
	label := func(at float64, v float64, unit string) drawnLabel {
		return drawnLabel{
			X: num(at), Y: num(y - 1.2*s.style.UnitU), Size: size, Anchor: "middle",
			Text: strconv.FormatFloat(v, 'g', -1, 64) + unit, Class: "note",
		}
	}
	return &drawnBar{
		Filled: closedPath([]xy{{x, y}, {mid, y}, {mid, y + thick}, {x, y + thick}}),
		Open:   closedPath([]xy{{mid, y}, {end, y}, {end, y + thick}, {mid, y + thick}}),
		Labels: []drawnLabel{label(x, 0, ""), label(mid, whole/2, ""), label(end, whole, word)},
	}
}

// thumbPaths fits the planes and the solid keep-outs into the thumbnail's 96
// by 72 with a margin of 4; both are "" if there are no planes.
func thumbPaths(doc project.Document, res project.Result) (roof, things string) {
	rings := planRings(doc)
	minX, minY, maxX, maxY := extent(rings)
	if minX > maxX {
		return "", ""
	}
	w, h := max(maxX-minX, 0.01), max(maxY-minY, 0.01)
	k := min(88/w, 64/h)
	s := sheet{minX: minX, maxY: maxY, k: k, ox: (96 - w*k) / 2, oy: (72 - h*k) / 2}
	for _, ring := range rings {
		roof += closedPath(s.ring(ring))
	}
	for _, kr := range res.KeepOuts {
		if keepOutKind(doc, kr.ID) != "shade" {
			things += closedPath(s.ring(kr.Footprint))
		}
	}
	return roof, things
}

// extent is the smallest box around rings; minX > maxX if they have no point.
func extent(rings [][][2]float64) (minX, minY, maxX, maxY float64) {
	minX, minY, maxX, maxY = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, ring := range rings {
		for _, p := range ring {
			minX, maxX = min(minX, p[0]), max(maxX, p[0])
			minY, maxY = min(minY, p[1]), max(maxY, p[1])
		}
	}
	return minX, minY, maxX, maxY
}
