package structural

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// wind is what the wind does to every plane alike: the velocity pressure and
// the equalisation factor, where the flush rule is used.
type wind struct{ qPa, gammaA float64 }

// sharedWind works out the velocity pressure and adds its figures. Above the
// end of the tables it is 0, and every plane is then outside the rule.
func (r LoadRequest) sharedWind(out *LoadReport) wind {
	out.Figures = []Figure{}
	if r.FlushWind == nil {
		return wind{}
	}
	q, figures, err := r.FlushWind.velocityPressure()
	if err != nil {
		return wind{}
	}
	area := r.Module.LengthM * r.Module.WidthM
	g := PressureEqualisation(area)
	out.Figures = append(figures, Figure{"pressure_equalisation", "Pressure equalisation factor",
		"0.8 to 10 ft2, 0.4 from 100 ft2, straight over the logarithm between",
		num(area) + " m2 = " + num(area*feetPerM*feetPerM) + " ft2: " + num(g), g, "", "ASCE 7-16 Fig. 29.4-8; between its ends from memory"})
	return wind{q, g}
}

// plane judges the modules of one plane.
func (r LoadRequest) plane(p PlaneArray, turns []Turn, w wind, combos []combination) PlaneLoad {
	out := PlaneLoad{ID: p.ID, Conditions: []FlushCondition{}, Cases: []LoadCase{}, Modules: []ModuleLoad{}}
	base := r.still(p, &out)
	keys := r.situations(p, turns, &out)
	hips := slices.ContainsFunc(p.Edges, func(e Edge) bool { return e.Kind == Hip })
	seen := []situation{}
	for _, k := range keys {
		at := slices.Index(seen, k)
		if at < 0 {
			at = len(seen)
			seen = append(seen, k)
			c := LoadCase{Zone: k.zone, Exposed: k.exposed, Turn: k.turn, Clamps: k.clamps, Figures: []Figure{}}
			why := r.blow(&c, p.PitchDeg, hips, out.OutsideRule, w)
			ratings := r.Module.ratings(k.clamps)
			c.Figures = append(c.Figures, ratings.figures(k.clamps)...)
			l := base
			l.windDown, l.windUp = c.WindDownPa, c.WindUpPa
			l.frontRating, l.rearRating = ratings.DesignPa(Front), ratings.DesignPa(Rear)
			c.judge(l, combos, why)
			out.Cases = append(out.Cases, c)
		}
		c := out.Cases[at]
		out.Modules = append(out.Modules, ModuleLoad{Case: at, Status: c.Status, Ratio: c.Ratio, Governing: c.Governing})
		out.Counts.add(c.Status)
	}
	return out
}

// still adds snow and weight to a plane's figures and returns their parts square
// to it.
func (r LoadRequest) still(p PlaneArray, out *PlaneLoad) loads {
	cos := math.Cos(p.PitchDeg * degree)
	weight := r.Module.weightPa() * cos
	l := loads{weight: weight}
	snow, given := roofSnow{}, true
	switch {
	case r.ASCESnow != nil:
		snow = r.ASCESnow.on(p.PitchDeg)
	case r.ENSnow != nil:
		snow = r.ENSnow.on(p.PitchDeg)
	default:
		given = false
	}
	out.Figures = append([]Figure{}, snow.figures...)
	square := func(key, label string, pa float64) *float64 {
		v := pa * normalPart(p.PitchDeg)
		out.Figures = append(out.Figures, Figure{key, label, "snow of plan area x cos2 of the pitch",
			whole(pa) + " Pa x cos2 " + num(p.PitchDeg) + " deg = " + whole(v) + " Pa", v, "Pa", "geometry"})
		return &v
	}
	if given {
		l.snow = square("snow_square", "Snow square to the module, S", snow.pa)
		if r.ENSnow != nil && r.ENSnow.Exceptional {
			l.exceptional = square("snow_exceptional_square", "Exceptional snow square to the module", snow.exceptional)
		}
	}
	out.Figures = append(out.Figures, Figure{"weight_square", "Weight square to the module", "D x cos of the pitch",
		num(r.Module.weightPa()) + " Pa x cos " + num(p.PitchDeg) + " deg = " + num(weight) + " Pa", weight, "Pa", "geometry"})
	return l
}

// situation is what tells load cases apart.
type situation struct {
	zone    Zone
	exposed bool
	turn    Turn
	clamps  ClampEdge
}

// situations returns each module's situation and tests the conditions of the
// flush rule.
func (r LoadRequest) situations(p PlaneArray, turns []Turn, out *PlaneLoad) []situation {
	rails := p.Rails
	if rails == "" {
		rails = AlongEave
	}
	list := make([]situation, len(p.Modules))
	for i, t := range turns {
		list[i] = situation{turn: t, clamps: ClampsAt(t, rails)}
	}
	w := r.FlushWind
	if w == nil || len(p.Modules) == 0 {
		return list
	}
	edge := exposed(p.Modules, max(exposedReachM, 4*w.HeightAboveRoofM))
	zoneWidthM := ZoneWidthM(p.PitchDeg, w.BuildingWidthM, w.MeanRoofHeightM)
	out.Figures = append(out.Figures, Figure{"zone_width", "Width of the edge zones in plan", zoneFormula(p.PitchDeg),
		num(w.BuildingWidthM) + " m wide, " + num(w.MeanRoofHeightM) + " m high: " + num(zoneWidthM) + " m", zoneWidthM, "m", "ASCE 7-16 Fig. 30.3-2, from memory"})
	nearM := make([]float64, len(p.Modules))
	for i, m := range p.Modules {
		list[i].zone, nearM[i] = zoneOf(m, p.Edges, p.PitchDeg, zoneWidthM)
		list[i].exposed = edge[i] || w.AllExposed
	}
	out.Conditions = w.conditions(p, r.Module.LengthM, r.Module.WidthM, nearM)
	out.OutsideRule = slices.ContainsFunc(out.Conditions, func(c FlushCondition) bool { return !c.Met })
	return list
}

func zoneFormula(pitchDeg float64) string {
	if pitchDeg <= flatDeg {
		return "0.6 x mean roof height, to 7 deg"
	}
	return "the lesser of 10 % of the smaller side and 0.4 x mean roof height; at least 4 % of the side and 0.914 m"
}

// blow sets the wind pressures of a case and returns why there are none, or "".
func (r LoadRequest) blow(c *LoadCase, pitchDeg float64, hips, outside bool, w wind) string {
	if t := r.TypedWind; t != nil {
		up, down := t.UpPa, t.DownPa
		c.WindUpPa, c.WindDownPa = &up, &down
		basis := "typed, strength level"
		if r.Family == EN {
			basis = "typed, characteristic"
		}
		c.Figures = append(c.Figures, Figure{"wind_up", "Wind that lifts, W", "as typed", whole(up) + " Pa", up, "Pa", basis},
			Figure{"wind_down", "Wind that presses, W", "as typed", whole(down) + " Pa", down, "Pa", basis})
		return ""
	}
	f := r.FlushWind
	if f == nil {
		return "the wind is not given"
	}
	if outside {
		return "the wind is outside this rule, engineer needed"
	}
	g, source, ok := f.coefficient(c.Zone, pitchDeg, hips)
	if !ok && len(f.GCp) > 0 {
		return fmt.Sprintf("no pressure coefficient is typed for zone %s", c.Zone)
	}
	if !ok {
		return "the table of pressure coefficients ends at 45 deg: the wind is outside this rule, engineer needed"
	}
	edge := innerEdgeFactor
	if c.Exposed {
		edge = exposedEdgeFactor
	}
	var up, down Figure
	up = f.pressure("wind_up", "Wind that lifts, W, zone "+string(c.Zone), w, g.Up, edge, source)
	down = f.pressure("wind_down", "Wind that presses, W, zone "+string(c.Zone), w, g.Down, innerEdgeFactor, source)
	c.WindUpPa, c.WindDownPa = &up.Value, &down.Value
	c.Figures = append(c.Figures, up, down)
	return ""
}

// pressure is p = qh x GCp x gamma_E x gamma_a, at least the least pressure.
func (w FlushWind) pressure(key, label string, s wind, gcp, edge float64, source string) Figure {
	v := s.qPa * gcp * edge * s.gammaA
	f := Figure{key, label, "velocity pressure x GCp x edge factor x equalisation factor",
		whole(s.qPa) + " Pa x " + num(gcp) + " x " + num(edge) + " x " + num(s.gammaA) + " = " + whole(v) + " Pa",
		v, "Pa", "ASCE 7-16 29.4.4; GCp: " + source}
	if v < w.LeastPa {
		f.Value = w.LeastPa
		f.Numbers += ", raised to " + whole(w.LeastPa) + " Pa"
		f.Source += "; least wind pressure from memory"
	}
	return f
}

// judge works out the combinations of a case and its status. why says what is
// missing of the wind.
func (c *LoadCase) judge(l loads, combos []combination, why string) {
	c.Checks = []Check{}
	var missing []string
	if l.snow == nil {
		missing = append(missing, "the snow is not given")
	}
	if why != "" {
		missing = append(missing, why)
	}
	unrated := map[Side]bool{}
	for _, combo := range combos {
		k, known := l.check(combo)
		if !known {
			continue
		}
		c.Checks = append(c.Checks, k)
		if k.RatingPa == 0 && k.Pa > 0 && !unrated[k.Side] {
			unrated[k.Side] = true
			missing = append(missing, fmt.Sprintf("no %s rating is given for clamps on the %s", k.Side, c.Clamps.words()))
		}
	}
	worst := Check{}
	for _, k := range c.Checks {
		if k.Ratio > worst.Ratio {
			worst = k
		}
	}
	c.Ratio, c.Governing = worst.Ratio, worst.Formula
	c.Status = statusOf(worst.Ratio)
	if len(missing) > 0 && c.Status != Over {
		c.Status = Unknown
	}
	c.Why = whyText(worst, missing)
}

// statusOf is the status of a load over its rating.
func statusOf(ratio float64) Status {
	switch {
	case ratio <= nearFrom*(1+roundSlack):
		return Within
	case ratio <= overFrom*(1+roundSlack):
		return Near
	}
	return Over
}

// whyText says the governing numbers and what is missing.
func whyText(worst Check, missing []string) string {
	var parts []string
	if worst.Ratio > 0 {
		parts = append(parts, fmt.Sprintf("%s %s Pa of %s Pa, %s %%, by %s", worst.Side, whole(worst.Pa), whole(worst.RatingPa), rounded(100*worst.Ratio, 1), worst.Formula))
	}
	parts = append(parts, missing...)
	if len(parts) == 0 {
		return "No load."
	}
	text := strings.Join(parts, "; ") + "."
	return strings.ToUpper(text[:1]) + text[1:]
}

// say adds what the user has to know about the whole.
func (r LoadRequest) say(out *LoadReport) {
	add := func(level Level, code, format string, args ...any) {
		out.Findings = append(out.Findings, Finding{level, code, fmt.Sprintf(format, args...)})
	}
	if n := out.Counts.Over; n > 0 {
		add(Error, "over_rating", "%s over the design rating.", modulesAre(n))
	}
	for _, p := range out.Planes {
		for _, c := range p.Conditions {
			if !c.Met {
				add(Warning, "outside_flush_rule", "Plane %s is outside this rule, engineer needed. %s", p.ID, c.Message)
			}
		}
	}
	if n := out.Counts.Unknown; n > 0 {
		add(Warning, "unknown_load", "%s not judged: %s", modulesAre(n), r.firstUnknown(out))
	}
	if s := r.ASCESnow; s != nil && s.Slippery {
		switch {
		case !s.slipperyHolds():
			add(Warning, "slippery_refused", "The slippery curve of a warm roof needs a thermal resistance of 5.28 m2 K/W (R 30), or 3.52 (R 20) where it is ventilated; the other curve is used (ASCE 7-16 7.4.1).")
		default:
			add(Note, "slippery", "Slippery counts only where nothing holds the snow and it has room to slide below the eave.")
		}
	}
	if r.ASCESnow != nil || r.ENSnow != nil {
		add(Note, "drifts", "Drifting, unbalanced and sliding snow is not worked out and can be more, below a higher roof and in valleys above all; it can be typed.")
	}
	if r.FlushWind != nil && len(r.FlushWind.GCp) == 0 {
		add(Warning, "gcp_from_memory", "The pressure coefficients are from memory. Check them against the standard, or type your own.")
	}
}

// firstUnknown is the reason of the first module that was not judged.
func (r LoadRequest) firstUnknown(out *LoadReport) string {
	for _, p := range out.Planes {
		for _, c := range p.Cases {
			if c.Status == Unknown {
				return c.Why
			}
		}
	}
	return ""
}

func modulesAre(n int) string {
	if n == 1 {
		return "1 module is"
	}
	return fmt.Sprintf("%d modules are", n)
}
