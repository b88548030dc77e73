package web

import (
	"strconv"
	"strings"

	"rooftally/project"
)

// yieldDetail is one candidate's yield in full.
type yieldDetail struct {
	ID, Letter, Name string
	Why              string
	Power            string
	// Words say what was taken for the wiring, what makes nothing, what the
	// datasheet does not say.
	Words       []string
	Unwired     string
	Planes      []yieldPlane
	PlaneMonths chartTable
	Chain       []barRow
	Modules     []yieldModulePlane
	// FewModules shows their tables without being asked.
	FewModules bool
	Worths     []barRow
	// WorthsAsked says that the address asks for what obstructions cost, Working
	// that it is still being worked out.
	WorthsAsked   bool
	WorthsWorking bool
	WorthAddress  string
	WorthWait     string
	WithTrees     bool
	SpreadWords   string
}

// yieldPlane is a row of the table by plane.
type yieldPlane struct {
	Name, Modules, KW, Light, Access string
	KWh, PerKW, Ratio                string
	Total                            bool
}

// yieldModulePlane is the modules of one plane by month.
type yieldModulePlane struct {
	Name string
	Rows []yieldModule
}

// yieldModule is one module: its number in the plan, its share of the open
// plane's light, and its energy.
type yieldModule struct {
	Number, String string
	Year           heatCell
	Months         []heatCell
	KWh            string
	Unwired        bool
}

// heatCell is a number on a ground of one of six steps of lightness, the darker
// the less light.
type heatCell struct {
	Text string
	Step int
}

// heatLimits are the percentages below which a cell takes the next step.
func heatLimits() []float64 { return []float64{95, 90, 80, 70, 60} }

// newHeatCell writes a share of light in whole percent.
func newHeatCell(access float64) heatCell {
	pct := 100 * finite(access)
	c := heatCell{Text: fixed(pct, 0)}
	for _, limit := range heatLimits() {
		if pct < limit {
			c.Step++
		}
	}
	return c
}

func (in yieldInput) detail(id string) yieldDetail {
	c := in.yield.Candidates[in.chosen]
	d := yieldDetail{ID: c.ID, Letter: c.Letter, Name: in.nameOf(c.Letter), Why: c.Why, Power: in.units.power}
	if d.Why != "" {
		return d
	}
	for _, w := range append([]string{c.InverterWords}, c.Assumed...) {
		if w != "" {
			d.Words = append(d.Words, closed(in.units.prose(w)))
		}
	}
	d.Unwired, d.SpreadWords = in.units.prose(c.UnwiredWords), closed(c.SpreadWords)
	for _, p := range c.Planes {
		d.Planes = append(d.Planes, planeYieldRow(planeNumbered(in.doc, p.PlaneID), p))
	}
	total := planeYieldRow("All planes", c.Total)
	total.Total = true
	d.Planes = append(d.Planes, total)
	d.PlaneMonths = in.planeMonths(c)
	d.Chain = chainRows(c.Chain, in.doc.Yield.Losses)
	d.Modules, d.FewModules = in.modules(c), len(c.Modules) <= fewModules
	d.WorthAddress = yieldAddress(id, c.ID) + "&worths=1#worths"
	d.WorthWait = yieldAddress(id, c.ID) + "&worths=1&wait=long#worths"
	return d
}

func planeYieldRow(name string, p project.PlaneYield) yieldPlane {
	return yieldPlane{
		Name: name, Modules: strconv.Itoa(p.Modules), KW: fixed(p.KWp, 2), Light: groupedTo(p.POAYear, 0),
		Access: fixed(100*p.Access, 1), KWh: energyText(p.ACYear), PerKW: groupedTo(p.KWhPerKW, 0), Ratio: fixed(100*p.PerformanceRatio, 1),
	}
}

// planeMonths is the energy of each plane in every month.
func (in yieldInput) planeMonths(c project.CandidateYield) chartTable {
	t := chartTable{Caption: "Energy by plane and month, kWh AC", Head: append(append([]string{"Plane"}, monthNames()...), "Year")}
	add := func(name string, p project.PlaneYield) {
		row := []string{name}
		for _, kwh := range p.ACKWh {
			row = append(row, energyText(kwh))
		}
		t.Rows = append(t.Rows, append(row, energyText(p.ACYear)))
	}
	for _, p := range c.Planes {
		add(planeNumbered(in.doc, p.PlaneID), p)
	}
	add("All planes", c.Total)
	return t
}

// chainRows are the steps from light to AC as bars, the first of full length. A
// step that is one of the loss lines leads to its place in the form.
func chainRows(chain []project.ChainBar, lines []project.LossLine) []barRow {
	if len(chain) == 0 {
		return nil
	}
	most := 0.0
	for _, b := range chain {
		most = max(most, finite(b.KWh))
	}
	if most == 0 {
		most = 1
	}
	var out []barRow
	before := chain[0].KWh
	for i, b := range chain {
		row := barRow{ID: b.ID, Label: b.Label, Source: strings.ReplaceAll(b.Source, "m2", "m²"), Value: energyText(b.KWh), Left: b.KWh / most}
		if i > 0 {
			row.Change = stepText(b.LossPct)
			row.Lost = max(0, before-b.KWh) / most
		}
		for _, l := range lines {
			row.Editable = row.Editable || l.ID == b.ID
		}
		before = b.KWh
		out = append(out, row)
	}
	return out
}

// stepText is what a step takes or adds, in percent.
func stepText(lossPct float64) string {
	t := fixed(lossPct, 1)
	switch {
	case t == "0.0":
		return "0"
	case t[0] == '-':
		return "+" + t[1:]
	}
	return "−" + t
}

// fewModules is up to how many modules the page shows its tables open.
const fewModules = 48

func (in yieldInput) modules(c project.CandidateYield) []yieldModulePlane {
	var out []yieldModulePlane
	last := ""
	for _, m := range c.Modules {
		if len(out) == 0 || m.PlaneID != last {
			out, last = append(out, yieldModulePlane{Name: planeNumbered(in.doc, m.PlaneID)}), m.PlaneID
		}
		row := yieldModule{Number: strconv.Itoa(m.Number), String: "–", Year: newHeatCell(m.Access), KWh: energyText(m.ACKWh), Unwired: !m.Wired}
		if m.String > 0 {
			row.String = strconv.Itoa(m.String)
		}
		for _, a := range m.MonthlyAccess {
			row.Months = append(row.Months, newHeatCell(a))
		}
		p := &out[len(out)-1]
		p.Rows = append(p.Rows, row)
	}
	return out
}

// addWorths puts in what each obstruction costs.
func (d *yieldDetail) addWorths(all []project.WorthResult, ready, asked bool, u units) {
	d.WorthsAsked, d.WorthsWorking = asked, !ready
	d.Worths, d.WithTrees = worthRows(all, u)
}

// worthRows are what each obstruction costs, the greatest first in length only:
// the order is that of the drawing.
func worthRows(all []project.WorthResult, u units) (rows []barRow, withTrees bool) {
	most := 0.0
	for _, w := range all {
		most = max(most, w.RemovedKWh, w.TrimmedKWh)
	}
	if most == 0 {
		most = 1
	}
	for _, w := range all {
		name := w.Label
		if name == "" {
			name = words(w.Kind)
		}
		row := barRow{ID: w.ID, Label: name, Source: words(w.Kind), Value: energyText(w.RemovedKWh), Left: w.RemovedKWh / most}
		if w.TrimmedToM > 0 {
			withTrees = true
			row.Change = energyText(w.TrimmedKWh) + " kWh if cut to " + u.length(w.TrimmedToM)
		}
		rows = append(rows, row)
	}
	return rows, withTrees
}
