package web

import (
	"slices"

	"rooftally/project"
)

// optionsYield is what the comparison says of the yield.
type optionsYield struct {
	// Working says that it is being worked out, Why that there is none and why.
	Working bool
	Why     string
	// Words say in a sentence who yields most; Weather rests on whose weather.
	Words, Weather string
	Charts         []chartPair
	// Letter is the option whose losses are shown in Chain.
	Letter string
	Chain  []barRow
	Days   []yieldDay
}

// chartPair is one chart for a screen and for a phone.
type chartPair struct{ Wide, Narrow chart }

// Known reports whether there are numbers to show.
func (y optionsYield) Known() bool { return len(y.Charts) > 0 }

// addYield puts the yield into a comparison: its rows after those of the roof, and
// its charts.
func (v *optionsView) addYield(stored project.Stored, res project.Result, yield project.YieldResult, ready bool) {
	if v.Missing != "" {
		return
	}
	if !ready || yield.Why != "" {
		v.Yield = optionsYield{Working: !ready, Why: yield.Why}
		return
	}
	doc := stored.Doc
	in := yieldInput{doc: doc, res: res, yield: yield, units: unitsOf(doc.Site), chosen: chosenIndex(doc)}
	if len(in.known()) == 0 {
		v.Yield.Why = in.whyNone()
		return
	}
	v.Groups = slices.Insert(v.Groups, min(1, len(v.Groups)), in.optionsGroup())
	chosen := yield.Candidates[in.chosen]
	v.Yield = optionsYield{
		Words: in.decides(), Weather: in.units.prose(yield.Weather.Words), Days: in.days(screenDay),
		Letter: chosen.Letter, Chain: chainRows(chosen.Chain, nil),
		Charts: []chartPair{
			{monthlyChart(wideFrame("monthly", 250), in.monthly()), monthlyChart(narrowFrame("monthly", 250), in.monthly())},
			{yearsChart(wideFrame("years", 230), in.years()), yearsChart(narrowFrame("years", yearsHighU(len(in.years()))), in.years())},
		},
	}
}

// yearsHighU is the height of the years' panels on a phone, two side by side.
func yearsHighU(panels int) float64 { return 40 + 190*float64((panels+1)/2) }

// whyNone gives the reason that all candidates share, or each one's.
func (in yieldInput) whyNone() string {
	var all []string
	for _, c := range in.yield.Candidates {
		if !slices.Contains(all, c.Why) {
			all = append(all, c.Why)
		}
	}
	if len(all) == 1 {
		return all[0]
	}
	text := ""
	for _, c := range in.yield.Candidates {
		text += c.Letter + ": " + c.Why + " "
	}
	return text
}

// optionsGroup is the rows on yield in the comparison of the options.
func (in yieldInput) optionsGroup() compareGroup {
	rows := in.firstRows()
	rows[0].Main = true
	return compareGroup{Heading: "Yield, an estimate for a typical year", Rows: append(rows,
		in.energyRow("25 years", func(c project.CandidateYield) float64 { return c.KWh25 }),
		in.yieldRow("P90, any one year", "kWh", func(c project.CandidateYield) string { return energyText(c.P90OneKWh) }),
	)}
}
