package web

import (
	"slices"
	"strconv"
	"strings"

	"rooftally/project"
)

// yieldView is the page of what the candidates yield, in plain values.
type yieldView struct {
	ID, Label string
	Version   int
	Invented  bool
	// Missing is "planes" or "candidates" when there is nothing to reckon.
	Missing string
	// Looking says that the longer search for modules has not ended, Working that
	// the yield itself is still being worked out: there are no numbers then.
	Looking, Working bool
	// WaitAddress is the page that waits for the yield.
	WaitAddress string
	// Stale says that typed values were not saved, and why.
	Stale string
	// Why says why there is no yield, "" where there is one; Placeless that it is
	// for want of the house's latitude and longitude.
	Why       string
	Placeless bool
	Weather   yieldWeather
	// Decides says in a sentence who yields most; Ties are the pairs that the
	// model cannot tell apart.
	Decides  string
	Ties     []string
	TieWords string
	// Letters are the candidates' in the table, Groups its rows.
	Letters []string
	Groups  []compareGroup
	// Whys are the candidates without a yield, with the reason.
	Whys          []string
	Monthly       chart
	MonthlyNarrow chart
	Years         chart
	YearsNarrow   chart
	Tabs          []buildTab
	Detail        yieldDetail
	Days          []yieldDay
	Notes         []string
	Form          yieldForm
}

// yieldWeather is whose weather a yield rests on.
type yieldWeather struct {
	Words, Light string
	Warnings     []string
}

// yieldInput is everything a yield's pages are made of.
type yieldInput struct {
	doc    project.Document
	res    project.Result
	yield  project.YieldResult
	units  units
	chosen int
}

// newYieldView is the page of the yields; asked is the candidate whose parts are
// shown in full.
func newYieldView(stored project.Stored, res project.Result, yield project.YieldResult, asked string) yieldView {
	doc := stored.Doc
	v := yieldView{ID: stored.ID, Label: doc.Site.Label, Version: stored.Version, Invented: doc.Site.Invented,
		Missing: missing(doc), Form: newYieldForm(doc)}
	if v.Missing != "" {
		return v
	}
	u := unitsOf(doc.Site)
	v.Why, v.Placeless = u.prose(yield.Why), yield.Why == project.NoSite
	v.Weather = u.yieldWeather(yield.Weather)
	v.Notes = u.allProse(yield.Notes)
	if v.Why != "" {
		return v
	}
	in := yieldInput{doc: doc, res: res, yield: yield, units: u, chosen: buildIndex(doc, asked)}
	v.Decides, v.TieWords = in.decides(), yield.TieWords
	for _, t := range yield.Ties {
		v.Ties = append(v.Ties, t.Words)
	}
	for i, c := range yield.Candidates {
		v.Letters = append(v.Letters, c.Letter)
		if c.Why != "" {
			v.Whys = append(v.Whys, optionWord(c.Letter)+": "+c.Why)
		}
		v.Tabs = append(v.Tabs, buildTab{
			Letter: c.Letter, Name: candidateName(doc.Candidates[i]), Address: yieldAddress(stored.ID, c.ID),
			Current: i == in.chosen, Chosen: i == chosenIndex(doc),
		})
	}
	v.Groups = in.compareGroups()
	v.Monthly = monthlyChart(wideFrame("monthly", 280), in.monthly())
	v.MonthlyNarrow = monthlyChart(narrowFrame("monthly", 250), in.monthly())
	v.Years = yearsChart(wideFrame("years", 250), in.years())
	v.YearsNarrow = yearsChart(narrowFrame("years", yearsHighU(len(in.years()))), in.years())
	v.Days = in.days(screenDay)
	v.Detail = in.detail(stored.ID)
	return v
}

// wideFrame and narrowFrame are the same chart on a screen and on a phone.
func wideFrame(id string, heightU float64) chartFrame {
	return chartFrame{ID: id, WidthU: 960, HeightU: heightU, TextU: 13}
}

func narrowFrame(id string, heightU float64) chartFrame {
	return chartFrame{ID: id + "-narrow", WidthU: 350, HeightU: heightU, TextU: 12}
}

// yieldAddress is the page with one candidate's parts in full.
func yieldAddress(id, candidate string) string {
	return "/projects/" + id + "/yield?candidate=" + candidate
}

func (u units) yieldWeather(w project.YieldWeather) yieldWeather {
	out := yieldWeather{Words: u.prose(w.Words), Warnings: u.allProse(w.Warnings)}
	if w.GHIYear > 0 {
		out.Light = groupedTo(w.GHIYear, 0) + " kWh/m² of light fall on level ground in the year."
	}
	return out
}

// allProse is [units.prose] for a list.
func (u units) allProse(all []string) []string {
	var out []string
	for _, t := range all {
		out = append(out, u.prose(t))
	}
	return out
}

// known lists the candidates that have a yield.
func (in yieldInput) known() []project.CandidateYield {
	return slices.DeleteFunc(slices.Clone(in.yield.Candidates), func(c project.CandidateYield) bool { return c.Why != "" })
}

func (in yieldInput) nameOf(letter string) string {
	for i, c := range in.yield.Candidates {
		if c.Letter == letter {
			return candidateName(in.doc.Candidates[i])
		}
	}
	return letter
}

func (in yieldInput) monthly() []chartSeries {
	var out []chartSeries
	for _, c := range in.known() {
		out = append(out, chartSeries{Letter: c.Letter, Name: in.nameOf(c.Letter), Values: c.Total.ACKWh[:]})
	}
	return out
}

func (in yieldInput) years() []yearsSeries {
	var out []yearsSeries
	for _, c := range in.known() {
		out = append(out, yearsOf(c, in.nameOf(c.Letter)))
	}
	return out
}

// yearsOf is one candidate's energy over the years, with the power expected and
// with the one that is guaranteed for as long as it is.
func yearsOf(c project.CandidateYield, name string) yearsSeries {
	s := yearsSeries{Letter: c.Letter, Name: name}
	for _, y := range c.Years {
		s.Expected = append(s.Expected, y.KWh)
		if kwh, ok := promisedKWh(y); ok {
			s.Promised = append(s.Promised, kwh)
		}
	}
	return s
}

// promisedKWh is a year's energy with the guaranteed power in place of the
// expected one; not ok past the guarantee.
func promisedKWh(y project.YearLine) (kwh float64, ok bool) {
	if !(y.PromisedShare > 0 && y.ExpectedShare > 0) {
		return 0, false
	}
	return y.KWh * y.PromisedShare / y.ExpectedShare, true
}

// yearLine is one year of a candidate, the zero value without it.
func yearLine(c project.CandidateYield, year int) project.YearLine {
	if year < 1 || year > len(c.Years) {
		return project.YearLine{}
	}
	return c.Years[year-1]
}

// closed is a sentence with its full stop.
func closed(t string) string {
	if t == "" || strings.HasSuffix(t, ".") {
		return t
	}
	return t + "."
}

// numbered is "1  Name" for a plane with a name of its own.
func numbered(number, name string) string {
	if name == "Plane "+number {
		return name
	}
	return number + "  " + name
}

func planeNumbered(doc project.Document, id string) string {
	for i, p := range doc.Planes {
		if p.ID == id {
			return numbered(strconv.Itoa(i+1), planeName(p, i))
		}
	}
	return id
}
