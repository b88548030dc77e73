package web

import (
	"slices"
	"strconv"
	"strings"

	"rooftally/electrical"
	"rooftally/project"
)

// buildGroups are the rows on wiring, loads, parts and cost. What nobody has
// asked for yet takes one line.
func buildGroups(all []project.CandidateBuild, u units) []compareGroup {
	if len(all) == 0 {
		return nil
	}
	return []compareGroup{wiringGroup(all), loadGroup(all, u), partsGroup(all)}
}

// cells makes a row with a cell for each candidate.
func cells(label, unit string, all []project.CandidateBuild, of func(project.CandidateBuild) compareCell) compareRow {
	r := compareRow{Label: label, Unit: unit}
	for _, c := range all {
		r.Cells = append(r.Cells, of(c))
	}
	return r
}

func textCell(t string) compareCell { return compareCell{Text: t} }

// planned is a cell that needs a wiring plan.
func planned(of func(project.WiringResult) compareCell) func(project.CandidateBuild) compareCell {
	return func(c project.CandidateBuild) compareCell {
		if c.Wiring.Why != "" {
			return textCell("no plan")
		}
		return of(c.Wiring)
	}
}

func wiringGroup(all []project.CandidateBuild) compareGroup {
	g := compareGroup{Heading: "Wiring"}
	any := false
	for _, c := range all {
		any = any || c.Wiring.Why == ""
	}
	if !any {
		g.Rows = []compareRow{cells("Plan", "", all, func(c project.CandidateBuild) compareCell { return textCell(c.Wiring.Why) })}
		return g
	}
	g.Rows = []compareRow{
		cells("Modules wired", "", all, planned(func(w project.WiringResult) compareCell {
			out := cell(strconv.Itoa(w.Wires))
			if w.Wires < w.Fits {
				out.Shade = strconv.Itoa(w.Fits-w.Wires) + " left out"
			}
			return out
		})),
		cells("Strings or branches", "", all, planned(func(w project.WiringResult) compareCell {
			return cell(strconv.Itoa(len(w.Strings) + len(w.Branches)))
		})),
		cells("All wired within every limit", "", all, planned(func(w project.WiringResult) compareCell {
			if wiringWorks(w) {
				return textCell("yes")
			}
			return textCell("no")
		})),
		cells("DC/AC", "", all, planned(func(w project.WiringResult) compareCell {
			if r := dcACText(w); r != "" {
				return cell(r)
			}
			return textCell("–")
		})),
		cells("Inverters of the catalog that take all", "", all, func(c project.CandidateBuild) compareCell {
			return textCell(inverterCount(c.Wiring))
		}),
		cells("Safety marks not met", "", all, planned(func(w project.WiringResult) compareCell {
			if open := unmetMarks(w.Marks); len(open) > 0 {
				return textCell(strings.Join(open, "; "))
			}
			return textCell("none")
		})),
	}
	return g
}

// inverterCount is how many inverters of the catalog take every module, of how
// many.
func inverterCount(w project.WiringResult) string {
	if len(w.Inverters) == 0 {
		return "–"
	}
	n := 0
	for _, v := range w.Inverters {
		if v.Works {
			n++
		}
	}
	return strconv.Itoa(n) + " of " + strconv.Itoa(len(w.Inverters))
}

func loadGroup(all []project.CandidateBuild, u units) compareGroup {
	g := compareGroup{Heading: "Loads on the module only, not clamps, rafters or roof; a licensed engineer decides", Rows: []compareRow{
		cells("Worst module", "", all, func(c project.CandidateBuild) compareCell {
			if c.Loads.Why != "" {
				return textCell("not checked")
			}
			worst, n := levelOf(c.Loads.Worst), 0
			for _, m := range c.Loads.Modules {
				if m.Status == c.Loads.Worst {
					n++
				}
			}
			return textCell(worst.Word + ", " + modulesText(n))
		}),
		cells("Greatest load, of its rating", "%", all, func(c project.CandidateBuild) compareCell {
			if c.Loads.Governing == nil {
				return textCell("not known")
			}
			return cell(fixed(100*c.Loads.Governing.Ratio, 1))
		}),
	}}
	weighed := func(c project.CandidateBuild) bool { return len(c.Loads.Dead) > 0 }
	if slices.ContainsFunc(all, weighed) {
		g.Rows = append(g.Rows, cells("Weight on the roof under the modules", u.weightUnit(), all, func(c project.CandidateBuild) compareCell {
			for _, f := range c.Loads.Dead {
				if f.Key == "dead_load" {
					return cell(u.weight(f.Value))
				}
			}
			return textCell("not known")
		}))
	}
	return g
}

func partsGroup(all []project.CandidateBuild) compareGroup {
	g := compareGroup{Heading: "Parts and cost", Rows: []compareRow{
		cells("Attachments", "", all, func(c project.CandidateBuild) compareCell {
			if c.Rails.Why != "" {
				return textCell("no rails laid")
			}
			n := 0
			for _, p := range c.Rails.Plan.Planes {
				n += p.Attachments
			}
			return cell(strconv.Itoa(n))
		}),
		cells("Parts saved", "", all, func(c project.CandidateBuild) compareCell {
			if c.Bill.Saves == "" {
				return textCell("–")
			}
			return textCell(c.Bill.Saves)
		}),
	}}
	if slices.ContainsFunc(all, func(c project.CandidateBuild) bool { return len(c.Warranty.Years) > 0 }) {
		g.Rows = append(g.Rows, cells("Guaranteed in the last year of the warranty", "", all, func(c project.CandidateBuild) compareCell {
			if n := len(c.Warranty.Years); n > 0 {
				return textCell(fixed(100*c.Warranty.Years[n-1].Share, 1) + " % in year " + strconv.Itoa(n))
			}
			return textCell("not known")
		}))
	}
	known := true
	for _, c := range all {
		known = known && c.Cost.Total != nil
	}
	if !known {
		return g
	}
	currency := all[0].Cost.Currency
	cost := cells("Cost by the prices typed", currency, all, func(c project.CandidateBuild) compareCell {
		out := cell(moneyText(*c.Cost.Total))
		if c.Cost.Without != "" {
			out.Shade = "not all prices"
		}
		return out
	})
	per := cells("For each kW", currency, all, func(c project.CandidateBuild) compareCell { return cell(moneyText(*c.Cost.PerKWdc)) })
	g.Rows = append(g.Rows, cost, per)
	return g
}

// wiringWorks reports whether a plan takes every module and breaks no limit.
func wiringWorks(w project.WiringResult) bool {
	for _, f := range append(slices.Clone(w.Findings), w.AC.Findings...) {
		if f.Level == electrical.Error {
			return false
		}
	}
	return w.Why == "" && w.Wires == w.Fits
}
