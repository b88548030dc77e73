package web

import (
	"math"
	"strconv"
	"strings"

	"rooftally/project"
)

// railsView is what holds a candidate's modules.
type railsView struct {
	Why, Where string
	// Bare says that the drawing has the runs alone, without attachments.
	Bare     bool
	Planes   []railPlane
	Findings []finding
	Figures  []figureList
	Drawing  drawing
}

// railPlane is the rails of one plane.
type railPlane struct {
	Number, Name                         string
	Step, Cantilever, Rail, Attachments  string
	Sticks, Splices, MidClamps, EndClamp string
	Runs                                 []railRun
}

// railRun is one run of modules on two rails.
type railRun struct {
	Name, Modules, Length, Attachments, First, Splices, Extended string
}

// rails is the view of the rails.
func (b builtCandidate) rails() railsView {
	r := b.built.Rails
	v := railsView{Why: b.units.prose(r.Why), Findings: b.units.loadFindings(r.Plan.Findings)}
	if r.Why != "" {
		if b.built.Count > 0 && b.doc.Loads.SpanM == nil {
			v.Where = "Type the rail span in the editor under Loads."
		}
		if v.Bare = len(r.Lines) > 0; v.Bare {
			v.Drawing = b.draw("rails", "Rail runs", b.drawRails(r))
		}
		return v
	}
	firsts := b.firstNumbers()
	for i, p := range r.Plan.Planes {
		if len(p.Runs) == 0 {
			continue
		}
		out := railPlane{
			Step: b.units.distance(p.StepM), Cantilever: b.units.distance(p.CantileverM), Rail: b.units.length(p.RailM),
			Attachments: strconv.Itoa(p.Attachments), Sticks: "0", Splices: "0", MidClamps: "0", EndClamp: "0",
		}
		out.Number, out.Name = b.planeLabel(p.ID)
		for _, l := range p.Bill {
			n := strconv.Itoa(l.Quantity)
			switch l.Key {
			case "rail_stick":
				out.Sticks = n
			case "splice":
				out.Splices = n
			case "mid_clamp":
				out.MidClamps = n
			case "end_clamp":
				out.EndClamp = n
			}
		}
		for _, run := range p.Runs {
			numbers := make([]int, len(run.Modules))
			for j, m := range run.Modules {
				numbers[j] = firsts[i] + m
			}
			row := railRun{
				Name: out.Number + "." + strconv.Itoa(run.Number), Modules: rangesText(numbers), Length: b.units.length(run.LengthM()),
				Attachments: strconv.Itoa(len(run.AttachUM)), Splices: strconv.Itoa(run.Splices), First: "–", Extended: "–",
			}
			if len(run.AttachUM) > 0 {
				row.First = b.units.distance(run.AttachUM[0] - run.FromUM)
			}
			if run.ExtendedM > 0 {
				row.Extended = b.units.distance(run.ExtendedM)
			}
			out.Runs = append(out.Runs, row)
		}
		v.Planes = append(v.Planes, out)
		v.Figures = append(v.Figures, figureList{out.Name, b.units.structuralFigures(p.Figures)})
	}
	v.Drawing = b.draw("rails", "Rails and attachments", b.drawRails(r))
	return v
}

// billView is the parts, a column for each plane.
type billView struct {
	Planes []planeKey
	Rows   []billRow
	Notes  []string
	Saves  string
}

// billRow is one part: how many on each plane, elsewhere and in total.
type billRow struct {
	Label, Length string
	ByPlane       []string
	Elsewhere     string
	Total         string
	Missing       bool
}

// bill is the view of the parts.
func (b builtCandidate) bill() billView {
	all := b.built.Bill
	v := billView{Notes: all.Notes, Saves: all.Saves}
	for _, p := range all.Planes {
		number, name := b.planeLabel(p.PlaneID)
		v.Planes = append(v.Planes, planeKey{Number: number, Name: name, Use: true})
	}
	for _, t := range all.Total {
		row := billRow{Label: b.units.prose(t.Label), Total: strconv.Itoa(t.Quantity), Missing: t.Missing, Elsewhere: quantityText(all.Project, t)}
		if t.LengthM > 0 {
			row.Length = b.units.length(t.LengthM)
		}
		for _, p := range all.Planes {
			row.ByPlane = append(row.ByPlane, quantityText(p.Lines, t))
		}
		v.Rows = append(v.Rows, row)
	}
	return v
}

// quantityText is how many of a part some lines have, "" for none.
func quantityText(lines []project.BillLine, part project.BillLine) string {
	n := 0
	for _, l := range lines {
		if l.Key == part.Key && l.Label == part.Label && l.LengthM == part.LengthM && l.Missing == part.Missing {
			n += l.Quantity
		}
	}
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// warrantyView is the guaranteed output by year.
type warrantyView struct {
	Why, Where, Words string
	// Some are the years of the small table, All every one.
	Some, All []warrantyRow
	Chart     warrantyChart
}

// warrantyRow is one year.
type warrantyRow struct{ Year, Share, KW string }

// warranty is the view of the guarantee.
func (b builtCandidate) warranty() warrantyView {
	w := b.built.Warranty
	v := warrantyView{Why: w.Why, Words: w.Words}
	if w.Why != "" {
		if b.candidate.Datasheet == nil {
			v.Where = chooseModule
		}
		return v
	}
	last := len(w.Years)
	for _, y := range w.Years {
		row := warrantyRow{strconv.Itoa(y.Year), fixed(100*y.Share, 1), fixed(y.PdcW/1000, 2)}
		v.All = append(v.All, row)
		if y.Year == 1 || y.Year == last || y.Year%5 == 0 && last-y.Year > 1 {
			v.Some = append(v.Some, row)
		}
	}
	v.Chart = newWarrantyChart(w.Years)
	return v
}

// warrantyChart is the line of the guarantee in a frame of 480 by 150.
type warrantyChart struct {
	Line        string
	Grid, Ticks []chartMark
	Left, Right string
	Title       string
}

// chartMark is a line of the frame with its label.
type chartMark struct{ At, Text string }

// Frame of the chart in its own units.
const (
	chartLeft, chartRight = 44.0, 470.0
	chartTop, chartFoot   = 8.0, 124.0
)

// newWarrantyChart draws from a round share below the last year up to 100 %.
func newWarrantyChart(years []project.WarrantyYear) warrantyChart {
	n := len(years)
	if n == 0 {
		return warrantyChart{}
	}
	least := 100.0
	for _, w := range years {
		least = min(least, 100*w.Share)
	}
	from := max(0, 5*math.Floor(least/5)-5) // a step below the line
	y := func(pct float64) float64 { return chartFoot - (chartFoot-chartTop)*(pct-from)/(100-from) }
	x := func(year int) float64 {
		return chartLeft + (chartRight-chartLeft)*float64(year-1)/float64(max(1, n-1))
	}
	c := warrantyChart{Left: num(chartLeft), Right: num(chartRight)}
	for pct := from; pct <= 100; pct += 5 {
		c.Grid = append(c.Grid, chartMark{num(y(pct)), strconv.Itoa(int(pct)) + " %"})
	}
	var line []xy
	for i, w := range years {
		line = append(line, xy{x(w.Year), y(100 * w.Share)})
		if w.Year == 1 || w.Year%5 == 0 || i == n-1 && w.Year%5 > 2 {
			c.Ticks = append(c.Ticks, chartMark{num(x(w.Year)), strconv.Itoa(w.Year)})
		}
	}
	c.Line = openPath(line...)
	c.Title = "Guaranteed share of the rated power from year 1, " + percent(years[0].Share) + ", to year " + strconv.Itoa(n) + ", " + percent(years[n-1].Share)
	return c
}

// costView is what a candidate costs.
type costView struct {
	Why, Where, Without string
	Currency            string
	Lines               []costRow
	Total, PerKW        string
}

// costRow is one cost.
type costRow struct{ Label, Quantity, Price, Amount string }

// cost is the view of the cost.
func (b builtCandidate) cost() costView {
	c := b.built.Cost
	v := costView{Why: c.Why, Without: c.Without, Currency: c.Currency}
	for _, l := range c.Lines {
		v.Lines = append(v.Lines, costRow{firstUpper(l.Label), strconv.Itoa(l.Quantity), moneyText(l.Price), moneyText(l.Amount)})
	}
	if c.Total != nil {
		v.Total, v.PerKW = moneyText(*c.Total), moneyText(*c.PerKWdc)
	}
	switch {
	case b.built.Count == 0:
	case b.candidate.Datasheet == nil:
		v.Where = chooseModule
	case c.Why != "" || c.Without != "":
		v.Where = "Prices of products stand in the catalog, other costs in the editor under Cost."
	}
	return v
}

// moneyText is an amount, with two decimals only where it has some.
func moneyText(v float64) string {
	whole, part, _ := strings.Cut(fixed(v, 2), ".")
	n, err := strconv.ParseFloat(whole, 64)
	if err != nil {
		return fixed(v, 2)
	}
	if part == "00" {
		return grouped(n)
	}
	return grouped(n) + "." + part
}
