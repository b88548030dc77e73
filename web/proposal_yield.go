package web

import (
	"strconv"

	"rooftally/project"
)

// proposalYield is what the chosen option will yield, for paper.
type proposalYield struct {
	// Working says that it was still being worked out, Why that there is none and
	// why.
	Working bool
	Why     string
	Letter  string
	// Year1, PerKW, KWh25 and KWh30 are the figures in large; Access and Ratio
	// stand beside them.
	Year1, PerKW, KWh25, KWh30 string
	Access, Ratio              string
	P90One, P90Ten             string
	Weather                    yieldWeather
	Words                      []string
	Unwired                    string
	Decides                    string
	TieWords                   string
	Options                    []proposalYieldOption
	Planes                     []yieldPlane
	Monthly, Years             chart
	AllYears                   chart
	AllYearsTable              chartTable
	YearBlocks                 []chartTable
	Chain                      []barRow
	Days                       []yieldDay
	Notes                      []string
}

// Known reports whether there are numbers to print.
func (y proposalYield) Known() bool { return !y.Working && y.Why == "" }

// proposalYieldOption is one candidate's yield in the comparison.
type proposalYieldOption struct {
	Letter, Name, Why                  string
	Chosen                             bool
	Tie                                string
	KWh, PerKW, Ratio, KWh25, P90, Y25 string
	Promised                           string
}

// dayPaperShare is how much of the plan's height the chart of a day takes: two stand
// on a sheet.
const dayPaperShare = 0.38

// paperTextMM is the height of a chart's text on paper, about 8 points.
const paperTextMM = 2.8

// newProposalYield puts the yield of the chosen candidate into plain values, with
// charts that fit the sheet.
func newProposalYield(doc project.Document, res project.Result, yield project.YieldResult, ready bool, sheet paper) proposalYield {
	if !ready || yield.Why != "" {
		return proposalYield{Working: !ready, Why: yield.Why}
	}
	in := yieldInput{doc: doc, res: res, yield: yield, units: unitsOf(doc.Site), chosen: chosenIndex(doc)}
	c := yield.Candidates[in.chosen]
	if c.Why != "" {
		return proposalYield{Why: c.Why}
	}
	frame := func(id string, heightMM float64) chartFrame {
		return chartFrame{ID: id, WidthU: sheet.PlanWidthMM, HeightU: heightMM, TextU: paperTextMM, Paper: true}
	}
	name := in.nameOf(c.Letter)
	years := yearsOf(c, name)
	y := proposalYield{
		Letter: c.Letter, Year1: energyText(c.Total.ACYear), PerKW: groupedTo(c.Total.KWhPerKW, 0),
		KWh25: energyText(c.KWh25), KWh30: energyText(c.KWh30),
		Access: fixed(100*c.Total.Access, 1), Ratio: fixed(100*c.Total.PerformanceRatio, 1),
		P90One: energyText(c.P90OneKWh), P90Ten: energyText(c.P90TenKWh),
		Weather: in.units.yieldWeather(yield.Weather), Decides: in.decides(), TieWords: yield.TieWords,
		Options: in.proposalOptions(), Planes: in.detail("").Planes, Notes: in.units.allProse(yield.Notes),
		Monthly:    monthlyChart(frame("paper-monthly", 46), []chartSeries{{Letter: c.Letter, Name: name, Values: c.Total.ACKWh[:]}}),
		Years:      yearsChart(frame("paper-years", 40), []yearsSeries{years}),
		YearBlocks: yearBlocks(years), Chain: chainRows(c.Chain, nil),
	}
	if len(in.known()) > 1 {
		y.AllYears, y.AllYearsTable = yearsChart(frame("paper-all-years", 38), in.years()), someYears(in.years())
	}
	for _, w := range append([]string{c.InverterWords, c.SpreadWords}, c.Assumed...) {
		if w != "" {
			y.Words = append(y.Words, closed(in.units.prose(w)))
		}
	}
	y.Words = append(y.Words, "Shade is that of what is drawn, with the heights typed there. Nobody has measured them.")
	y.Unwired = in.units.prose(c.UnwiredWords)
	y.Days = in.days(func(id string) (wide, narrow chartFrame) {
		return frame("paper-"+id, dayPaperShare*sheet.PlanHeightMM), frame("unused-"+id, 60)
	})
	return y
}

func (in yieldInput) proposalOptions() []proposalYieldOption {
	row := in.firstRows()[0]
	var out []proposalYieldOption
	for i, c := range in.yield.Candidates {
		o := proposalYieldOption{Letter: c.Letter, Name: in.nameOf(c.Letter), Chosen: i == chosenIndex(in.doc), Why: c.Why, Tie: row.Cells[i].Shade}
		if row.Cells[i].Tie {
			o.Tie = "= tie"
		}
		if c.Why == "" {
			o.KWh, o.PerKW, o.Ratio = energyText(c.Total.ACYear), groupedTo(c.Total.KWhPerKW, 0), fixed(100*c.Total.PerformanceRatio, 1)
			o.KWh25, o.P90, o.Y25 = energyText(c.KWh25), energyText(c.P90OneKWh), energyText(yearLine(c, 25).KWh)
			o.Promised = "–"
			if kwh, ok := promisedKWh(yearLine(c, 25)); ok {
				o.Promised = energyText(kwh)
			}
		}
		out = append(out, o)
	}
	return out
}

// fewOptions is up to how many options the sheet has room for a second line each.
const fewOptions = 3

// someYears is every fifth year of all options, a line for each and, of a few, one
// for its guarantee.
func someYears(all []yearsSeries) chartTable {
	t := chartTable{Head: []string{"kWh in year"}}
	years := []int{1, 5, 10, 15, 20, 25, 30}
	for _, n := range years {
		t.Head = append(t.Head, strconv.Itoa(n))
	}
	for _, s := range all {
		expected, promised := []string{s.Letter + " expected"}, []string{s.Letter + " guaranteed power"}
		for _, n := range years {
			expected, promised = append(expected, knownEnergy(s.Expected, n-1)), append(promised, knownEnergy(s.Promised, n-1))
		}
		t.Rows = append(t.Rows, expected)
		if len(all) <= fewOptions {
			t.Rows = append(t.Rows, promised)
		}
	}
	return t
}

// yearsInBlock is how many years stand under each other on paper.
const yearsInBlock = 10

// yearBlocks are the years in blocks side by side.
func yearBlocks(s yearsSeries) []chartTable {
	var out []chartTable
	for n := range s.Expected {
		if n%yearsInBlock == 0 {
			out = append(out, chartTable{Head: []string{"Year", "expected", "guaranteed"}})
		}
		t := &out[len(out)-1]
		t.Rows = append(t.Rows, []string{strconv.Itoa(n + 1), energyText(s.Expected[n]), knownEnergy(s.Promised, n)})
	}
	return out
}
