package web

import (
	"slices"

	"rooftally/energy"
	"rooftally/project"
)

// tiedWith reports whether the model cannot tell two energies apart.
func tiedWith(a, b float64) bool { return energy.Tie(a, b, energy.TieBandPct) }

// markYield marks the best of a row of energies. What the model cannot tell from
// it ties with it, whatever the figures say.
func markYield(cells []compareCell, known []bool, value func(i int) float64) {
	best, n := -1, 0
	for i := range cells {
		if known[i] {
			n++
			if best < 0 || value(i) > value(best) {
				best = i
			}
		}
	}
	if n < 2 {
		return
	}
	tied := 0
	for i := range cells {
		if known[i] && tiedWith(value(i), value(best)) {
			tied++
		}
	}
	for i := range cells {
		if known[i] && tiedWith(value(i), value(best)) {
			cells[i].Tie = tied > 1
			cells[i].Best = tied < n
		}
	}
}

// yieldRow is a row of the comparison, with words where a yield is not known.
func (in yieldInput) yieldRow(label, unit string, of func(project.CandidateYield) string) compareRow {
	r := compareRow{Label: label, Unit: unit}
	for _, c := range in.yield.Candidates {
		if c.Why != "" {
			r.Cells = append(r.Cells, textCell("not known"))
			continue
		}
		r.Cells = append(r.Cells, cell(of(c)))
	}
	return r
}

// marked marks a row of energies.
func (in yieldInput) marked(r compareRow, of func(project.CandidateYield) float64) compareRow {
	known := make([]bool, len(r.Cells))
	for i, c := range in.yield.Candidates {
		known[i] = c.Why == ""
	}
	markYield(r.Cells, known, func(i int) float64 { return of(in.yield.Candidates[i]) })
	return r
}

// energyRow is a marked row of kWh.
func (in yieldInput) energyRow(label string, of func(project.CandidateYield) float64) compareRow {
	return in.marked(in.yieldRow(label, "kWh", func(c project.CandidateYield) string { return energyText(of(c)) }), of)
}

func (in yieldInput) compareGroups() []compareGroup {
	if len(in.known()) == 0 {
		return nil
	}
	first := in.firstRows()
	first[0].Main = true
	first = append(first,
		in.yieldRow("Performance ratio", "%", func(c project.CandidateYield) string { return fixed(100*c.Total.PerformanceRatio, 1) }),
		in.yieldRow("Solar access", "%", func(c project.CandidateYield) string { return fixed(100*c.Total.Access, 1) }),
		in.yieldRow("Cut off at the inverter's limit", "kWh", func(c project.CandidateYield) string { return energyText(c.ClippedKWh) }),
	)
	return []compareGroup{
		{Heading: "First year, AC", Rows: first},
		{Heading: "Over the years", Rows: in.yearRows()},
		{Heading: "How sure the first year is", Rows: in.spreadRows()},
	}
}

// firstRows are the first year's energy, in all and for each kW. Options that tie
// behind the best are named beside it.
func (in yieldInput) firstRows() []compareRow {
	energyOf := func(c project.CandidateYield) float64 { return c.Total.ACYear }
	perKW := func(c project.CandidateYield) float64 { return c.Total.KWhPerKW }
	year := in.energyRow("Energy in year 1", energyOf)
	for i, c := range in.yield.Candidates {
		if with := in.tiedBehind(c); !year.Cells[i].Tie && len(with) > 0 {
			year.Cells[i].Shade = "= tie with " + andList(with)
		}
	}
	return []compareRow{
		year,
		in.marked(in.yieldRow("For each "+in.units.power, "kWh", func(c project.CandidateYield) string { return groupedTo(perKW(c), 0) }), perKW),
	}
}

// tiedBehind are the letters of the others whose first year ties with a candidate's.
func (in yieldInput) tiedBehind(c project.CandidateYield) []string {
	var out []string
	for _, o := range in.yield.Candidates {
		if c.Why == "" && o.Why == "" && o.Letter != c.Letter && tiedWith(o.Total.ACYear, c.Total.ACYear) {
			out = append(out, o.Letter)
		}
	}
	return out
}

func (in yieldInput) yearRows() []compareRow {
	return []compareRow{
		in.energyRow("25 years", func(c project.CandidateYield) float64 { return c.KWh25 }),
		in.energyRow("30 years", func(c project.CandidateYield) float64 { return c.KWh30 }),
		in.yieldRow("Year 25, expected", "kWh", func(c project.CandidateYield) string { return energyText(yearLine(c, 25).KWh) }),
		in.yieldRow("Year 25, with the power guaranteed", "kWh", func(c project.CandidateYield) string {
			if kwh, ok := promisedKWh(yearLine(c, 25)); ok {
				return energyText(kwh)
			}
			return "–"
		}),
	}
}

func (in yieldInput) spreadRows() []compareRow {
	return []compareRow{
		in.yieldRow("P50: as likely more as less", "kWh", func(c project.CandidateYield) string { return energyText(c.P50KWh) }),
		in.yieldRow("P90, any one year", "kWh", func(c project.CandidateYield) string { return energyText(c.P90OneKWh) }),
		in.yieldRow("P90, mean of ten years", "kWh", func(c project.CandidateYield) string { return energyText(c.P90TenKWh) }),
	}
}

// decides says who yields most in the first year, and who cannot be told from it.
func (in yieldInput) decides() string {
	all := in.known()
	if len(all) == 0 {
		return "No option has a yield yet."
	}
	best := all[0]
	for _, c := range all {
		if c.Total.ACYear > best.Total.ACYear {
			best = c
		}
	}
	amount := energyText(best.Total.ACYear) + " kWh"
	if len(all) == 1 {
		return optionWord(best.Letter) + " is expected to make " + amount + " in its first year, " +
			groupedTo(best.Total.KWhPerKW, 0) + " kWh for each " + in.units.power + "."
	}
	var tied []string
	next := -1
	for i, c := range all {
		switch {
		case c.Letter == best.Letter:
		case tiedWith(c.Total.ACYear, best.Total.ACYear):
			tied = append(tied, c.Letter)
		case next < 0 || c.Total.ACYear > all[next].Total.ACYear:
			next = i
		}
	}
	if len(tied) > 0 {
		return "Options " + andList(slices.Sorted(slices.Values(append(tied, best.Letter)))) + " tie at about " + amount +
			" in the first year: they differ by less than this reckoning can tell."
	}
	second := all[next]
	return optionWord(best.Letter) + " is expected to make the most in the first year, " + amount + ": " +
		fixed(100*(best.Total.ACYear/max(second.Total.ACYear, 1e-9)-1), 1) + " % more than " + second.Letter + "."
}
