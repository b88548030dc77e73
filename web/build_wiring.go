package web

import (
	"fmt"
	"strconv"
	"strings"

	"rooftally/electrical"
	"rooftally/project"
)

// wiringView is how a candidate's modules are wired.
type wiringView struct {
	// Why says why there is no plan and Where what to do about it, "" where there
	// is one.
	Why, Where string
	// Words say how many fit and how many wire; Short that some are left out.
	Words string
	Short bool
	// Exact says that no plan connects more.
	Exact    bool
	Branches bool
	Gear     []fact
	// Rows are strings or branches, in the order of their numbers.
	Rows     []stringRow
	Sum      stringRow
	Trackers []trackerRow
	Findings []finding
	Marks    []markRow
	ACWhy    string
	AC       []figure
	ACNotes  []finding
	Figures  []figureList
	Drawing  drawing
	// Inverters are those of the catalog, InverterWords sums them up.
	Inverters     []inverterRow
	InverterWords string
}

// stringRow is one line of the wiring table.
type stringRow struct {
	Name, Tracker, Input, Count string
	// Modules are in wiring order.
	Modules                         string
	Power, VocCold, VmpHot, VmpCold string
	Current                         string
	Run, Jumps                      string
	// Form is the string's line in the drawing.
	Form lineForm
}

// lineForm tells one string from another without colour: dashes in
// millimetres of print, none for a full line, and a width.
type lineForm struct {
	DashMM  []float64
	WidthMM float64
}

// stringForm is the form of a string by its number: six dashes, then the same
// in a thicker line, and so on round; the number beside it tells the rest.
func stringForm(number int) lineForm {
	dashes := [][]float64{
		nil, {2.6, 1.1}, {0.01, 1.2}, {3.2, 1, 0.01, 1}, {1.1, 1.1}, {3.2, 0.9, 0.01, 0.9, 0.01, 0.9},
	}
	n := number - 1
	return lineForm{dashes[n%len(dashes)], []float64{0.55, 0.9}[n/len(dashes)%2]}
}

// trackerRow is the currents of one tracker.
type trackerRow struct {
	Tracker, Strings, ShortCircuit, Operating, Fuses string
	Findings                                         []finding
}

// markRow is one safety duty.
type markRow struct {
	Name, Text, Source string
	Met                bool
}

// inverterRow is what one inverter of the catalog does with the modules.
type inverterRow struct {
	Name                 string
	Works, Chosen        bool
	Wires, Strings, DCAC string
	Reasons              []string
}

// wiring is the view of the wiring.
func (b builtCandidate) wiring() wiringView {
	w := b.built.Wiring
	v := wiringView{
		Why: b.units.prose(w.Why), Where: b.whereWiring(), Exact: w.Exact, Branches: w.Kind == project.WiringMicro, Short: len(w.LeftOut) > 0,
		Words: wiringWords(w), Gear: b.gear(), ACWhy: w.AC.Why, InverterWords: w.InverterWords, Inverters: b.inverters(),
		Findings: b.units.wiringFindings(w.Findings), AC: b.units.electricalFigures(w.AC.Figures), ACNotes: b.units.wiringFindings(w.AC.Findings),
	}
	v.Figures = []figureList{
		{"Temperatures", b.units.electricalFigures(b.site.Figures)}, {"The string", b.units.electricalFigures(w.Figures)},
	}
	v.Findings = append(b.units.wiringFindings(b.site.Findings), v.Findings...)
	if w.Why != "" {
		return v
	}
	b.stringRows(&v, w)
	for _, t := range w.Trackers {
		row := trackerRow{
			Tracker: strconv.Itoa(t.Tracker), ShortCircuit: amps(t.ShortCircuitA), Operating: amps(t.OperatingA), Fuses: "not needed",
			Findings: b.units.wiringFindings(t.Findings),
		}
		var names []string
		for _, n := range t.Strings {
			names = append(names, stringName(n, false))
		}
		row.Strings = strings.Join(names, ", ")
		if t.Fuses {
			row.Fuses = trimZeros(fixed(t.FuseMinA, 2)) + " to " + trimZeros(fixed(t.FuseMaxA, 2)) + " A"
		}
		v.Trackers = append(v.Trackers, row)
		v.Figures = append(v.Figures, figureList{"Tracker " + row.Tracker, b.units.electricalFigures(t.Figures)})
	}
	for _, m := range w.Marks {
		v.Marks = append(v.Marks, markRow{markName(m.Code), m.Message, m.Source, m.Met})
	}
	v.Drawing = b.draw("wiring", "How the modules are wired", b.drawStrings(w))
	return v
}

// stringRows fills the wiring table.
func (b builtCandidate) stringRows(v *wiringView, w project.WiringResult) {
	for _, s := range w.Strings {
		v.Rows = append(v.Rows, stringRow{
			Name: stringName(s.Number, false), Tracker: strconv.Itoa(s.Tracker), Input: strconv.Itoa(s.Input), Count: strconv.Itoa(len(s.Modules)),
			Modules: orderText(s.Modules), Power: fixed(s.PowerW, 0), VocCold: volts(s.VocColdV), VmpHot: volts(s.VmpHotV), VmpCold: volts(s.VmpColdV),
			Run: b.units.length(s.RunM), Jumps: strconv.Itoa(s.Jumps), Form: stringForm(s.Number),
		})
	}
	for _, s := range w.Branches {
		v.Rows = append(v.Rows, stringRow{
			Name: stringName(s.Number, true), Count: strconv.Itoa(len(s.Modules)), Modules: orderText(s.Modules), Current: amps(s.CurrentA),
			Power: strconv.Itoa(len(s.Modules) * b.candidate.PmaxW), Run: b.units.length(s.RunM), Jumps: strconv.Itoa(s.Jumps), Form: stringForm(s.Number),
		})
	}
	v.Sum = stringRow{Count: strconv.Itoa(w.Wires), Power: strconv.Itoa(w.Wires * b.candidate.PmaxW), Run: b.units.length(w.RunM)}
}

// stringName is how a string, or a branch of micro-inverters, is called.
func stringName(number int, branch bool) string {
	if branch {
		return "AC" + strconv.Itoa(number)
	}
	return "S" + strconv.Itoa(number)
}

// orderText lists modules in wiring order.
func orderText(refs []project.ModuleRef) string {
	parts := make([]string, len(refs))
	for i, r := range refs {
		parts[i] = strconv.Itoa(r.Number)
	}
	return strings.Join(parts, ", ")
}

// wiringWords tell fits and wires apart.
func wiringWords(w project.WiringResult) string {
	switch {
	case w.Why != "":
		return ""
	case w.LeftOutWords != "":
		return w.LeftOutWords
	}
	in := countOf(len(w.Strings), "string", "strings")
	if w.Kind == project.WiringMicro {
		in = countOf(len(w.Branches), "branch", "branches")
	}
	return fmt.Sprintf("%s fit and all wire, in %s.", modulesText(w.Fits), in)
}

// markName is a safety duty in words.
func markName(code string) string {
	switch code {
	case "rapid_shutdown":
		return "Rapid shutdown, 690.12"
	case "arc_fault":
		return "Arc-fault protection, 690.11"
	}
	return words(code)
}

// whereWiring says what to choose, and where, for a plan to come about.
func (b builtCandidate) whereWiring() string {
	w := b.doc.Wiring
	switch {
	case b.built.Wiring.Why == "" || b.built.Count == 0:
		return ""
	case b.candidate.Datasheet == nil:
		return chooseModule
	case b.site.ColdC == nil || b.site.HotCellC == nil:
		return "Find the nearest weather station in the editor under Wiring, or type the temperatures there."
	case w.Kind == project.WiringNone:
		return "Choose strings, micro-inverters or optimisers in the editor under Wiring."
	case w.Kind == project.WiringMicro && w.Micro == nil:
		return "Choose a micro-inverter in the editor under Wiring."
	case w.Kind == project.WiringOptimiser && w.Optimiser == nil && w.Inverter != nil:
		return "Choose an optimiser in the editor under Wiring."
	case w.Kind != project.WiringMicro && w.Inverter == nil:
		return "Choose an inverter in the editor under Wiring."
	}
	return ""
}

// chooseModule says where a module with a datasheet is chosen.
const chooseModule = "Choose a module of the catalog in the editor under Candidates."

// gear names what was chosen for the wiring.
func (b builtCandidate) gear() []fact {
	w := b.doc.Wiring
	var out []fact
	switch w.Kind {
	case project.WiringMicro:
		if w.Micro != nil {
			out = append(out, fact{"Micro-inverter", w.Micro.Label})
			out = append(out, fact{"DC/AC", fixed(float64(b.candidate.PmaxW)/w.Micro.ACPowerW, 2)})
		}
		if n := b.built.Wiring.PerBranch; n > 0 {
			out = append(out, fact{"On one branch", "at most " + strconv.Itoa(n) + ", breaker " + trimZeros(fixed(b.built.Wiring.BreakerA, 1)) + " A"})
		}
		return append(out, b.designFacts()...)
	case project.WiringOptimiser:
		if w.Optimiser != nil {
			out = append(out, fact{"Optimiser", w.Optimiser.Label})
		}
	}
	if w.Kind != project.WiringNone && w.Inverter != nil {
		out = append(out, fact{"Inverter", w.Inverter.Label})
	}
	if r := dcACText(b.built.Wiring); r != "" {
		out = append(out, fact{"DC/AC", r})
	}
	if p := b.built.Wiring; p.Why == "" {
		out = append(out, fact{"Modules in a string", strconv.Itoa(p.Shortest) + " to " + strconv.Itoa(p.Longest)})
	}
	return append(out, b.designFacts()...)
}

// designFacts are the temperatures that the wiring is designed for and the
// station that they are from.
func (b builtCandidate) designFacts() []fact {
	var out []fact
	add := func(name string, c *float64) {
		if c != nil {
			out = append(out, fact{name, b.units.temperature(*c)})
		}
	}
	add("Coldest air", b.site.ColdC)
	add("Hottest cells", b.site.HotCellC)
	if s := b.site.Station; s != nil {
		text := fixed(s.DistanceKm, 0) + " km"
		if b.units.imperial {
			text = fixed(s.DistanceKm*1000/mileM, 0) + " mi"
		}
		out = append(out, fact{"Nearest weather station", s.Label + ", " + text + " away"})
	}
	return out
}

// dcACText is the ratio of module power to inverter power, "" where there is
// none.
func dcACText(w project.WiringResult) string {
	for _, f := range w.Figures {
		if f.Key == "dc_ac" && w.Wires > 0 {
			return fixed(f.Value, 2)
		}
	}
	return ""
}

// inverters are the verdicts on those of the catalog.
func (b builtCandidate) inverters() []inverterRow {
	chosen := ""
	if w := b.doc.Wiring; w.Inverter != nil && (w.Kind == project.WiringString || w.Kind == project.WiringOptimiser) {
		chosen = w.Inverter.ID
	}
	var out []inverterRow
	for _, v := range b.built.Wiring.Inverters {
		row := inverterRow{
			Name: v.Label, Works: v.Works, Chosen: v.ID == chosen, Reasons: v.Reasons,
			Wires: strconv.Itoa(v.Wires) + " of " + strconv.Itoa(v.Fits), Strings: strconv.Itoa(v.Strings), DCAC: fixed(v.DCAC, 2),
		}
		if v.Wires == 0 {
			row.DCAC = "–"
		}
		out = append(out, row)
	}
	return out
}

// unmetMarks are the duties that a plan does not meet.
func unmetMarks(marks []electrical.Mark) []string {
	var out []string
	for _, m := range marks {
		if !m.Met {
			out = append(out, markName(m.Code))
		}
	}
	return out
}
