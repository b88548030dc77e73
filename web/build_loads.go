package web

import (
	"slices"
	"strconv"

	"rooftally/project"
	"rooftally/structural"
)

// loadsView is what snow and wind do to a candidate's modules.
type loadsView struct {
	Why, Where string
	// Caution stands beside the result, whatever it is.
	Caution string
	// Unit is that of the table's pressures.
	Unit  string
	Words string
	Worst loadLevel
	// Governing is the module with the greatest load over its rating.
	Governing    string
	Combinations []string
	Planes       []loadPlane
	Levels       []loadLevel
	Findings     []finding
	Dead         []figure
	Figures      []figureList
	Drawing      drawing
}

// loadLevel is a status of a module: a letter, a word and a pattern.
type loadLevel struct {
	// Status is that of package project, Letter stands in the drawing.
	Status, Letter, Word, About string
}

// loadLevels lists the levels, the worst last.
func loadLevels() []loadLevel {
	return []loadLevel{
		{project.LoadWithin, "W", "within", "to 85 % of the design rating"},
		{project.LoadNear, "N", "near", "above 85 % of the design rating, to 100 %"},
		{project.LoadUnknown, "U", "not judged", "something is not known"},
		{project.LoadOutsideRule, "E", "outside the rule", "outside the wind rule, engineer needed"},
		{project.LoadOver, "O", "over", "over the design rating: not to be built so"},
	}
}

// levelOf is the level of a status.
func levelOf(status string) loadLevel {
	for _, l := range loadLevels() {
		if l.Status == status {
			return l
		}
	}
	return loadLevel{Status: status}
}

// loadPlane is one plane's situations.
type loadPlane struct {
	Number, Name string
	Rows         []loadRow
	Conditions   []conditionRow
	// Outside says that a condition is not met.
	Outside bool
}

// conditionRow is one condition of the wind rule.
type conditionRow struct {
	Text, Source string
	Met          bool
}

// loadRow is a situation that several modules of a plane share.
type loadRow struct {
	Level                      loadLevel
	Modules, Place, Lie        string
	WindUp, WindDown           string
	Front, FrontOf, Rear       string
	RearOf, Share, Combination string
	Why                        string
}

// loads is the view of the loads.
func (b builtCandidate) loads() loadsView {
	l := b.built.Loads
	v := loadsView{
		Why: b.units.prose(l.Why), Unit: b.units.pressureUnit(), Caution: l.Caution, Words: l.Words, Worst: levelOf(l.Worst), Combinations: l.Report.Combinations,
		Findings: append(b.loadRemarks(), b.units.loadFindings(l.Findings)...), Dead: b.units.structuralFigures(l.Dead),
	}
	v.Where = b.whereLoads()
	if l.Why != "" {
		return v
	}
	if g := l.Governing; g != nil {
		_, name := b.planeLabel(g.PlaneID)
		v.Governing = "Module " + strconv.Itoa(g.Number) + " on " + name + ": " + b.units.prose(g.WhyStatus)
	}
	seen := map[string]bool{}
	for _, m := range l.Modules {
		seen[m.Status] = true
	}
	for _, level := range loadLevels() {
		if seen[level.Status] {
			v.Levels = append(v.Levels, level)
		}
	}
	v.Figures = append(v.Figures, figureList{"The site", b.units.structuralFigures(l.Report.Figures)})
	firsts := b.firstNumbers()
	for i, p := range l.Report.Planes {
		if len(p.Modules) == 0 {
			continue
		}
		plane, figures := b.loadPlane(p, firsts[i])
		v.Planes = append(v.Planes, plane)
		v.Figures = append(v.Figures, figures)
	}
	v.Drawing = b.draw("loads", "Loads on the modules", b.drawLoads(l))
	return v
}

// loadRemarks are the findings without the one that the words on the modules
// say too.
func (b builtCandidate) loadRemarks() []finding {
	return b.units.loadFindings(slices.DeleteFunc(slices.Clone(b.built.Loads.Report.Findings), func(f structural.Finding) bool {
		return f.Code == "over_rating"
	}))
}

// whereLoads says what to type, and where.
func (b builtCandidate) whereLoads() string {
	l := b.doc.Loads
	wind := l.TypedWind != nil || l.FlushWind != nil && b.doc.Site.RuleFamily != "iec"
	snow := l.ASCESnow != nil
	if b.doc.Site.RuleFamily == "iec" {
		snow = l.ENSnow != nil
	}
	switch {
	case b.built.Count == 0:
		return ""
	case b.candidate.Datasheet == nil:
		return chooseModule
	case !snow && !wind:
		return "Type snow and wind in the editor under Loads."
	case !snow:
		return "Type the snow in the editor under Loads."
	case !wind:
		return "Type the wind in the editor under Loads."
	}
	return ""
}

// loadPlane is one plane's situations with their figures; first is the number
// of its first module.
func (b builtCandidate) loadPlane(p structural.PlaneLoad, first int) (loadPlane, figureList) {
	out := loadPlane{Outside: p.OutsideRule}
	out.Number, out.Name = b.planeLabel(p.ID)
	list := figureList{out.Name, b.units.structuralFigures(p.Figures)}
	for _, c := range p.Conditions {
		out.Conditions = append(out.Conditions, conditionRow{b.units.prose(c.Message), c.Source, c.Met})
	}
	numbers := make([][]int, len(p.Cases))
	for i, m := range p.Modules {
		numbers[m.Case] = append(numbers[m.Case], first+i)
	}
	for i, c := range p.Cases {
		out.Rows = append(out.Rows, b.loadRowOf(c, p.OutsideRule, numbers[i]))
		figures := b.units.structuralFigures(c.Figures)
		for _, k := range c.Checks {
			figures = append(figures, figure{string(k.Side) + ": " + k.Formula, percent(k.Ratio), k.Formula, k.Numbers, k.Source})
		}
		for j := range figures {
			figures[j].Label = "Modules " + rangesText(numbers[i]) + ": " + figures[j].Label
		}
		list.Figures = append(list.Figures, figures...)
	}
	return out, list
}

// loadRowOf is one situation with its greatest load on each side.
func (b builtCandidate) loadRowOf(c structural.LoadCase, outside bool, numbers []int) loadRow {
	status := string(c.Status)
	if outside && c.Status == structural.Unknown {
		status = project.LoadOutsideRule
	}
	r := loadRow{
		Level: levelOf(status), Modules: rangesText(numbers), Place: placeText(c), Lie: string(c.Turn) + ", " + words(string(c.Clamps)),
		WindUp: b.pressure(c.WindUpPa), WindDown: b.pressure(c.WindDownPa), Front: "–", FrontOf: "–", Rear: "–", RearOf: "–",
		Share: "–", Combination: c.Governing, Why: b.units.prose(c.Why),
	}
	if c.Ratio > 0 {
		r.Share = percent(c.Ratio)
	}
	var front, rear structural.Check
	for _, k := range c.Checks {
		switch {
		case k.Side == structural.Front && k.Pa >= front.Pa:
			front = k
		case k.Side == structural.Rear && k.Pa >= rear.Pa:
			rear = k
		}
	}
	r.Front, r.FrontOf = b.checkTexts(front)
	r.Rear, r.RearOf = b.checkTexts(rear)
	return r
}

// checkTexts are a load and the rating it is held against.
func (b builtCandidate) checkTexts(k structural.Check) (load, rating string) {
	load, rating = "–", "–"
	if k.Formula != "" {
		load = b.units.pressure(k.Pa)
	}
	if k.RatingPa > 0 {
		rating = b.units.pressure(k.RatingPa)
	}
	return load, rating
}

// placeText is where modules lie on the roof and in the array, "" where that
// does not matter.
func placeText(c structural.LoadCase) string {
	if c.Zone == "" {
		return ""
	}
	text := "zone " + string(c.Zone)
	if c.Exposed {
		return text + ", exposed"
	}
	return text
}

func (b builtCandidate) pressure(pa *float64) string {
	if pa == nil {
		return "–"
	}
	return b.units.pressure(*pa)
}
