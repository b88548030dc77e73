package structural

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Tolerances of places, metres.
const (
	// alignTolM: two modules line up, or a rectangle is a module, within 1 mm:
	// rows are set to that on a roof.
	alignTolM = 0.001
	// touchTolM: two modules side by side overlap a line across both by more
	// than this, else they only meet at a corner.
	touchTolM = 0.001
	// openSlackM: a stretch of a module's side that faces no module opens it to
	// the wind if it is longer than 100 mm. Gaps between rows and rows that do
	// not quite line up open nothing.
	openSlackM = 0.1
)

// Rect is a module in its plane's own frame: U metres along the eave, V up the
// slope, lower left corner and sides.
type Rect struct{ UM, VM, WM, HM float64 }

// Turn says how a module lies.
type Turn string

// The turns: Portrait has the long side up the slope. A square module is
// portrait.
const (
	Portrait  Turn = "portrait"
	Landscape Turn = "landscape"
)

// checkRects tests that rectangles are modules of the given sides and apart,
// and returns each one's turn.
func checkRects(modules []Rect, lengthM, widthM float64) ([]Turn, error) {
	turns := make([]Turn, len(modules))
	for i, m := range modules {
		err := checkSpans(span{"u_m", m.UM, -1e4, 1e4, "m"}, span{"v_m", m.VM, -1e4, 1e4, "m"})
		switch {
		case err != nil:
			return nil, bad("modules", "%d: %v", i, err)
		case near(m.WM, widthM) && near(m.HM, lengthM):
			turns[i] = Portrait
		case near(m.WM, lengthM) && near(m.HM, widthM):
			turns[i] = Landscape
		default:
			return nil, bad("modules", "%d is %g x %g m; it must be %g x %g m in either turn", i, m.WM, m.HM, widthM, lengthM)
		}
	}
	if a, b, ok := overlap(modules); ok {
		return nil, bad("modules", "%d and %d overlap", a, b)
	}
	return turns, nil
}

// overlap returns the first two rectangles that overlap by more than 1 mm.
func overlap(modules []Rect) (int, int, bool) {
	for i, a := range modules {
		for k, b := range modules[:i] {
			if du, dv := apart(a, b); du < -alignTolM && dv < -alignTolM {
				return k, i, true
			}
		}
	}
	return 0, 0, false
}

// apart is the clear distance of two rectangles along each axis, below 0 where
// they share a stretch of it.
func apart(a, b Rect) (duM, dvM float64) {
	return max(a.UM, b.UM) - min(a.UM+a.WM, b.UM+b.WM), max(a.VM, b.VM) - min(a.VM+a.HM, b.VM+b.HM)
}

// near reports whether two lengths are the same within alignTolM.
func near(a, b float64) bool { return math.Abs(a-b) <= alignTolM }

// leastGapM is the smallest clear distance between modules that face each other;
// +Inf where none do.
func leastGapM(modules []Rect) float64 {
	least := math.Inf(1)
	for i, a := range modules {
		for _, b := range modules[:i] {
			switch du, dv := apart(a, b); {
			case dv < -touchTolM && du >= -alignTolM:
				least = min(least, max(0, du))
			case du < -touchTolM && dv >= -alignTolM:
				least = min(least, max(0, dv))
			}
		}
	}
	return least
}

// exposed says of each module whether the edge factor applies: one of its sides
// faces no module within reachM over a stretch of more than 100 mm, or it lies within 1.5
// module sides of such a side of another module.
func exposed(modules []Rect, reachM float64) []bool {
	const depth = 1.5 // ASCE 7-16 29.4.4: within 1.5 Lp of the exposed edge, from memory
	out := make([]bool, len(modules))
	for _, view := range [4]func(Rect) Rect{
		func(r Rect) Rect { return r },
		func(r Rect) Rect { return Rect{-r.UM - r.WM, r.VM, r.WM, r.HM} },
		func(r Rect) Rect { return Rect{r.VM, r.UM, r.HM, r.WM} },
		func(r Rect) Rect { return Rect{-r.VM - r.HM, r.UM, r.HM, r.WM} },
	} {
		turned := make([]Rect, len(modules))
		for i, m := range modules {
			turned[i] = view(m)
		}
		for i, m := range turned {
			if !openRight(m, turned, reachM) {
				continue
			}
			edge := m.UM + m.WM
			for k, o := range turned {
				_, dv := apart(m, o)
				if right := o.UM + o.WM; k == i || dv < -touchTolM && right <= edge+alignTolM && edge-right < depth*o.WM {
					out[k] = true
				}
			}
		}
	}
	return out
}

// openRight reports whether some stretch of a module's right side faces no
// module within reachM.
func openRight(m Rect, all []Rect, reachM float64) bool {
	var met [][2]float64
	for _, o := range all {
		d := o.UM - m.UM - m.WM
		if d >= -alignTolM && d <= reachM && o.VM < m.VM+m.HM && o.VM+o.HM > m.VM {
			met = append(met, [2]float64{o.VM, o.VM + o.HM})
		}
	}
	slices.SortFunc(met, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	upTo := m.VM
	for _, s := range met {
		if s[0] > upTo+openSlackM {
			break
		}
		upTo = max(upTo, s[1])
	}
	return upTo < m.VM+m.HM-openSlackM
}

// FlushCondition is one condition of the flush rooftop array rule.
type FlushCondition struct {
	// Key names it for a program: "parallel", "height" and so on.
	Key string `json:"key"`
	// Message says the condition and what is there.
	Message string `json:"message"`
	Met     bool   `json:"met"`
	Source  string `json:"source"`
}

// Limits of the flush rule, ASCE 7-16 29.4.4.
const (
	flushTiltDeg   = 2
	flushHeightM   = 0.254   // 10 in
	flushGapM      = 0.00635 // 1/4 in
	flushPanelM    = 2.04    // 6.7 ft from gap to gap
	flushRoofM     = 18.288  // 60 ft, the end of our tables
	exposedReachM  = 1.219   // 4 ft
	edgeDistFactor = 2       // times the height above the roof
)

// conditions tests each condition of the rule for one plane's array; nearM are
// the modules' distances in plan from roof edge or ridge.
func (w FlushWind) conditions(p PlaneArray, lengthM, widthM float64, nearM []float64) []FlushCondition {
	const memory = "ASCE 7-16 29.4.4, from memory"
	// A tilt or a height typed in degrees or inches must not fail by a last digit.
	most := func(v, limit float64) bool { return v <= limit*(1+roundSlack) }
	gapM := leastGapM(p.Modules)
	gapText := "the smallest is " + num(gapM*1000) + " mm"
	if math.IsInf(gapM, 1) {
		gapText = "no two face each other"
	}
	needM := edgeDistFactor * w.HeightAboveRoofM
	var tooNear []int
	nearestM := math.Inf(1)
	for i, d := range nearM {
		nearestM = min(nearestM, d)
		if d < needM*(1-roundSlack) {
			tooNear = append(tooNear, i+1)
		}
	}
	edgeText := "the nearest is " + num(nearestM) + " m away"
	if len(tooNear) > 0 {
		edgeText += fmt.Sprintf("; nearer are %s of the plane", namedModules(tooNear))
	}
	if math.IsInf(nearestM, 1) {
		edgeText = "no edge is known, so that this is not tested"
	}
	area := lengthM * widthM
	return []FlushCondition{
		{"enclosed", "The building is enclosed or partially enclosed.", w.Enclosed, memory},
		{"parallel", "Modules are parallel to the roof within 2 deg; they are within " + num(w.TiltToRoofDeg) + " deg.",
			most(w.TiltToRoofDeg, flushTiltDeg), memory},
		{"height", "Their top is at most 0.254 m (10 in) above the roof; it is " + num(w.HeightAboveRoofM) + " m.",
			most(w.HeightAboveRoofM, flushHeightM), "ASCE 7-16 29.4.4"},
		{"gap", "Gaps between modules are at least 6.35 mm (1/4 in); " + gapText + ".",
			gapM >= flushGapM*(1-roundSlack), "ASCE 7-16 29.4.4"},
		{"panel_size", "Gaps are at most 2.04 m (6.7 ft) apart, so that no side of a module is longer; it is " + num(lengthM) + " x " + num(widthM) + " m (" + num(area) + " m2).",
			most(max(lengthM, widthM), flushPanelM), memory},
		{"edge_distance", "Modules are at least twice their height above the roof, " + num(needM) + " m, from roof edges, ridges and hips in plan; " + edgeText + ".",
			len(tooNear) == 0 && !math.IsInf(nearestM, 1), memory},
		{"roof_height", "The mean roof height is at most 18.288 m (60 ft), where the tables here end; it is " + num(w.MeanRoofHeightM) + " m.",
			most(w.MeanRoofHeightM, flushRoofM), "limit of these tables"},
	}
}

// namedModules writes "module 3" or "modules 3, 4 and 9", shortened past six.
func namedModules(numbers []int) string {
	if len(numbers) == 1 {
		return fmt.Sprintf("module %d", numbers[0])
	}
	const shown = 6
	text := "modules "
	last := min(len(numbers), shown) - 1
	for i, n := range numbers[:last+1] {
		switch {
		case i == 0:
		case i == last && len(numbers) <= shown:
			text += " and "
		default:
			text += ", "
		}
		text += fmt.Sprint(n)
	}
	if len(numbers) > shown {
		text += fmt.Sprintf(" and %d more", len(numbers)-shown)
	}
	return text
}
