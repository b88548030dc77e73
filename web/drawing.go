package web

import (
	"math"
	"strconv"
	"strings"

	"rooftally/project"
)

// drawingStyle fixes what a plan drawing shows and how large its marks are.
// Sizes are in drawing units: millimetres on the printed page, CSS pixels at
// full width on the screen.
type drawingStyle struct {
	// ID prefixes the ids of patterns and clip paths; unique on its page.
	ID string
	// WidthU is the width of the whole drawing; its height, foot strip
	// included, is as much as it needs and at most MaxHeightU.
	WidthU, MaxHeightU float64
	// UnitU is one millimetre of a printed mark in drawing units: 1 on paper,
	// about 4 on a screen. Text, arrows and line widths follow it.
	UnitU float64
	// Paper is the sheet's name. When it is set the drawing is to a round
	// scale and carries its size in millimetres, so that it prints true.
	Paper string
	// Imperial shows lengths in feet and inches and picks from the scales of
	// that trade.
	Imperial bool
	// North, Bar, Dimensions and Numbers switch the north arrow, the scale
	// bar, lengths (overall, eaves, rakes) and module numbers on.
	North, Bar, Dimensions, Numbers bool
	// KeepOutKeys writes K1, K2, ... beside the keep-outs.
	KeepOutKeys bool
	// Over draws the modules in place of their pattern, with what else there is
	// to show on them, before keys and numbers find their room; nil for none.
	Over func(s sheet, d *drawing, placed []placedModule, room *room)
}

// drawing is a plan drawing in plain values, ready for the view. North is up.
type drawing struct {
	ID            string
	Title         string
	ViewBox       string
	WidthMM       string // "" on a screen
	HeightMM      string
	UnitU         float64
	Planes        []drawnPlane
	Lines         []drawnLine
	KeepOuts      string // hatched and outlined
	Shade         string // dashed
	Letter        string // pattern of the modules
	Modules       string
	ShadeModules  string
	Over          []overPath
	Keys          []drawnKey
	Labels        []drawnLabel
	Dims          string
	Bar           *drawnBar
	North         *drawnNorth
	ScaleText     string
	NumbersHidden int
}

// drawnPlane is a plane's wash and the zones taken from it.
type drawnPlane struct {
	ClipID  string
	Outline string
	Zones   string
	Use     bool
}

// drawnLine is one edge form: all edges of a kind in one path.
type drawnLine struct {
	Kind string
	Path string
}

// drawnKey is a plane's number in a ring with its fall arrow and pitch.
type drawnKey struct {
	X, Y, R   string
	Text      string
	TextY     string
	TextSize  string
	Arrow     string // "" when flat or without room
	Leader    string // leads to the plane from a key beside it, "" for one on it
	PitchText *drawnLabel
}

// drawnLabel is one text on a ground of paper. The ground is a shape of its own: a
// line around the letters would come out of a print as the same text twice.
type drawnLabel struct {
	X, Y, Size string
	Ground     string // "" for none
	Anchor     string
	Transform  string
	Text       string
	Class      string
}

// drawnBar is the scale bar: a filled and an open half with their figures.
type drawnBar struct {
	Filled, Open string
	Labels       []drawnLabel
}

// drawnNorth is the north arrow.
type drawnNorth struct {
	Path  string
	Label drawnLabel
}

// xy is a point in drawing units, y down.
type xy struct{ x, y float64 }

// sheet maps plan metres to drawing units.
type sheet struct {
	style        drawingStyle
	minX, maxY   float64
	spanX, spanY float64
	k            float64 // drawing units per metre
	ox, oy       float64
	heightU      float64 // of the whole drawing
	scaleText    string
}

// at is the one crossing from plan metres (y north) to drawing units (y down).
func (s sheet) at(p [2]float64) xy {
	return xy{s.ox + (p[0]-s.minX)*s.k, s.oy + (s.maxY-p[1])*s.k}
}

func (s sheet) ring(ring [][2]float64) []xy {
	out := make([]xy, len(ring))
	for i, p := range ring {
		out[i] = s.at(p)
	}
	return out
}

// newDrawing draws doc with the layout of one candidate. A nil layout draws
// the roof alone. Planes that res does not know are drawn from their corners.
func newDrawing(doc project.Document, res project.Result, letter string, layout *project.LayoutResult, style drawingStyle) drawing {
	s := newSheet(doc, style)
	d := drawing{
		ID: style.ID, Letter: letter, UnitU: style.UnitU, ScaleText: s.scaleText,
		ViewBox: "0 0 " + num(style.WidthU) + " " + num(s.heightU),
	}
	if style.Paper != "" {
		d.WidthMM, d.HeightMM = num(style.WidthU)+"mm", num(s.heightU)+"mm"
	}
	room := newRoom(style.UnitU)
	d.Planes, d.Lines = drawPlanes(s, doc, res, letter, room)
	d.KeepOuts, d.Shade = drawKeepOuts(s, doc, res, room)
	var placed []placedModule
	if layout != nil {
		d.Modules, d.ShadeModules, placed = drawModules(s, *layout, room)
		if style.Over != nil {
			d.Modules, d.ShadeModules = "", ""
			style.Over(s, &d, placed, room)
		}
	}
	drawFurniture(s, &d, room)
	if style.Dimensions {
		drawOverall(s, &d, room)
		drawEdgeLengths(s, &d, doc, res, room)
	}
	if style.KeepOutKeys {
		drawKeepOutKeys(s, &d, doc, res, room)
	}
	drawPlaneKeys(s, &d, doc, room)
	if style.Numbers {
		drawNumbers(s, &d, placed, room)
	}
	return d
}

// planRings lists the outline of every plane in plan metres.
func planRings(doc project.Document) [][][2]float64 {
	out := make([][][2]float64, len(doc.Planes))
	for i, p := range doc.Planes {
		for _, c := range p.Ring {
			out[i] = append(out[i], [2]float64{c.XM, c.YM})
		}
	}
	return out
}

// candidateResult is the candidate with a letter; the zero value without one.
func candidateResult(res project.Result, letter string) project.CandidateResult {
	for _, c := range res.Candidates {
		if c.Letter == letter {
			return c
		}
	}
	return project.CandidateResult{}
}

// drawPlanes draws the planes with the zones that the lettered candidate's
// layout stays out of.
func drawPlanes(s sheet, doc project.Document, res project.Result, letter string, room *room) ([]drawnPlane, []drawnLine) {
	shownAs := candidateResult(res, letter)
	lines := edgeLines{seen: map[[4]int]bool{}, paths: map[string]*strings.Builder{}}
	var planes []drawnPlane
	for i, ring := range planRings(doc) {
		outline := s.ring(ring)
		dp := drawnPlane{
			ClipID:  s.style.ID + "-clip-" + strconv.Itoa(i+1),
			Outline: closedPath(outline),
			Use:     doc.Planes[i].Use,
		}
		room.addRing(lineMark, outline)
		pr, known := planeResult(res, doc.Planes[i].ID)
		if !known || len(pr.Edges) == 0 {
			for j := range outline {
				lines.add("rake", outline[j], outline[(j+1)%len(outline)])
			}
			planes = append(planes, dp)
			continue
		}
		inward := inwardSide(outline)
		for _, e := range pr.Edges {
			from, to := s.at(e.From), s.at(e.To)
			lines.add(e.Kind, from, to)
			if e.Kind == "eave" {
				a, b := beside(from, to, inward*0.9*s.style.UnitU)
				lines.add("eave", a, b)
				room.add(lineMark, a, b)
			}
		}
		var zones strings.Builder
		for _, z := range pr.ZonesFor(shownAs) {
			if z.Why == "setback" || z.Why == "path" || z.Why == "keep_out" {
				zone := sameTurn(s.ring(z.Ring))
				zones.WriteString(closedPath(zone))
				room.addRing(softMark, zone)
			}
		}
		dp.Zones = zones.String()
		planes = append(planes, dp)
	}
	return planes, lines.list()
}

// edgeLines gathers edges by kind and draws an edge shared by two planes once,
// since two dashed lines on one another would read as a solid one.
type edgeLines struct {
	seen  map[[4]int]bool
	paths map[string]*strings.Builder
}

func (l *edgeLines) add(kind string, a, b xy) {
	if b.x < a.x || b.x == a.x && b.y < a.y {
		a, b = b, a
	}
	key := [4]int{grain(a.x), grain(a.y), grain(b.x), grain(b.y)}
	if l.seen[key] {
		return
	}
	l.seen[key] = true
	if l.paths[kind] == nil {
		l.paths[kind] = &strings.Builder{}
	}
	l.paths[kind].WriteString(openPath(a, b))
}

// grain rounds to fifths of a drawing unit, under any line width.
func grain(v float64) int { return int(math.Round(v * 5)) }

func (l *edgeLines) list() []drawnLine {
	var out []drawnLine
	for _, kind := range edgeKinds() {
		if p := l.paths[kind]; p != nil {
			out = append(out, drawnLine{Kind: kind, Path: p.String()})
		}
	}
	return out
}

// edgeKinds lists the kinds in drawing order.
func edgeKinds() []string {
	return []string{"rake", "eave", "ridge", "hip", "valley", "break", "wall", "party_wall"}
}

func planeResult(res project.Result, id string) (project.PlaneResult, bool) {
	for _, p := range res.Planes {
		if p.ID == id {
			return p, true
		}
	}
	return project.PlaneResult{}, false
}

func keepOutKind(doc project.Document, id string) string {
	for _, k := range doc.KeepOuts {
		if k.ID == id {
			return k.Kind
		}
	}
	return ""
}

func drawKeepOuts(s sheet, doc project.Document, res project.Result, room *room) (solid, shade string) {
	var a, b strings.Builder
	for _, k := range res.KeepOuts {
		ring := s.ring(k.Footprint)
		if len(ring) < 3 {
			continue
		}
		room.addRing(lineMark, ring)
		if keepOutKind(doc, k.ID) == "shade" {
			b.WriteString(closedPath(ring))
		} else {
			a.WriteString(closedPath(ring))
		}
	}
	return a.String(), b.String()
}

// placedModule is a module's outline in drawing units and its number.
type placedModule struct {
	number int
	quad   []xy
}

func drawModules(s sheet, layout project.LayoutResult, room *room) (sun, shade string, placed []placedModule) {
	var a, b strings.Builder
	for _, p := range layout.ByPlane {
		for _, m := range p.Modules {
			quad := s.ring(m.Plan[:])
			if m.InShade {
				b.WriteString(closedPath(quad))
			} else {
				a.WriteString(closedPath(quad))
			}
			room.add(moduleMark, quad...)
			placed = append(placed, placedModule{number: len(placed) + 1, quad: quad})
		}
	}
	return a.String(), b.String(), placed
}

// num writes a coordinate with at most two decimals: a hundredth of a
// millimetre on paper.
func num(v float64) string {
	t := strconv.FormatFloat(v, 'f', 2, 64)
	t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	if t == "-0" {
		return "0"
	}
	return t
}

func closedPath(ring []xy) string {
	if len(ring) == 0 {
		return ""
	}
	return polyline(ring) + "Z"
}

func openPath(pts ...xy) string { return polyline(pts) }

func polyline(pts []xy) string {
	var b strings.Builder
	for i, p := range pts {
		if i == 0 {
			b.WriteByte('M')
		} else {
			b.WriteByte('L')
		}
		b.WriteString(num(p.x) + " " + num(p.y))
	}
	return b.String()
}
