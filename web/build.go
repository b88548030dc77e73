package web

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rooftally/electrical"
	"rooftally/project"
	"rooftally/structural"
)

// buildView is the page of what it takes to build one candidate's layout.
type buildView struct {
	ID, Label string
	Invented  bool
	// Missing is "planes" or "candidates" when there is nothing to build.
	Missing string
	// Looking says that the longer search has not ended.
	Looking bool
	// NoLight says why modules are placed without regard to light, though the
	// question asks for it; "" otherwise.
	NoLight lightNotice
	// Tabs lead to the other candidates, CSV to the parts as a file.
	Tabs []buildTab
	CSV  string
	// Keys explain the plane numbers in the drawings.
	Keys  []planeKey
	Parts buildParts
}

// buildTab leads to the page of one candidate.
type buildTab struct {
	Letter, Name, Address string
	Current, Chosen       bool
}

// buildParts is what it takes to build one candidate, in plain values. The
// proposal prints it too.
type buildParts struct {
	Letter, Name     string
	Count, KW, Power string
	// Open says in sentences what keeps the result from being complete, none
	// where nothing is open in what is checked here.
	Open     []string
	Wiring   wiringView
	Loads    loadsView
	Rails    railsView
	Bill     billView
	Warranty warrantyView
	Cost     costView
}

// finding is something the user has to know; Level is a word for it.
type finding struct{ Level, Text string }

// figure is a number with its formula and source.
type figure struct{ Label, Value, Formula, Numbers, Source string }

// figureList is figures under a small heading, "" for none.
type figureList struct {
	Heading string
	Figures []figure
}

// buildIndex is the position of the candidate that a page asks for, else of the
// chosen one.
func buildIndex(doc project.Document, asked string) int {
	if at := slices.IndexFunc(doc.Candidates, func(c project.Candidate) bool { return c.ID == asked }); at >= 0 {
		return at
	}
	return chosenIndex(doc)
}

// newBuildView is the page of one candidate.
func newBuildView(stored project.Stored, res project.Result, built project.BuildResult, asked string) buildView {
	doc := stored.Doc
	v := buildView{ID: stored.ID, Label: doc.Site.Label, Invented: doc.Site.Invented, Missing: missing(doc)}
	if v.Missing != "" {
		return v
	}
	at := buildIndex(doc, asked)
	for i, c := range res.Candidates {
		v.Tabs = append(v.Tabs, buildTab{
			Letter: c.Letter, Name: candidateName(doc.Candidates[i]), Address: buildAddress(stored.ID, "", c.ID),
			Current: i == at, Chosen: i == chosenIndex(doc),
		})
	}
	for i, p := range doc.Planes {
		v.Keys = append(v.Keys, planeKey{strconv.Itoa(i + 1), planeName(p, i), p.Use})
	}
	v.CSV = buildAddress(stored.ID, ".csv", doc.Candidates[at].ID)
	v.Parts = newBuildParts(doc, res, built, at, func(id string) drawingStyle {
		return drawingStyle{ID: id, WidthU: 900, MaxHeightU: 720, UnitU: 4.8, Imperial: unitsOf(doc.Site).imperial, North: true, Bar: true}
	})
	return v
}

// buildAddress is the page of a candidate, or with suffix ".csv" its parts.
func buildAddress(id, suffix, candidate string) string {
	return "/projects/" + id + "/build" + suffix + "?candidate=" + candidate
}

// newBuildParts puts one candidate into plain values; style gives the frame of
// each drawing by its ID.
func newBuildParts(doc project.Document, res project.Result, built project.BuildResult, at int, style func(id string) drawingStyle) buildParts {
	b := builtCandidate{
		doc: doc, res: res, site: built.Site, built: built.Candidates[at], candidate: doc.Candidates[at],
		layout: res.Candidates[at].Shown(), units: unitsOf(doc.Site), style: style,
	}
	v := buildParts{
		Letter: b.built.Letter, Name: candidateName(b.candidate),
		Count: modulesText(b.built.Count), KW: kwText(b.built.PdcW), Power: b.units.power,
		Wiring: b.wiring(), Loads: b.loads(), Rails: b.rails(), Bill: b.bill(), Warranty: b.warranty(), Cost: b.cost(),
	}
	v.Open = b.open()
	return v
}

// builtCandidate is everything a view of one candidate is made of.
type builtCandidate struct {
	doc       project.Document
	res       project.Result
	site      project.BuildSite
	built     project.CandidateBuild
	candidate project.Candidate
	layout    project.LayoutResult
	units     units
	style     func(id string) drawingStyle
}

// open says what keeps the whole from being complete.
func (b builtCandidate) open() []string {
	out := slices.Clone(b.built.Wiring.Open)
	switch l := b.built.Loads; {
	case l.Why != "":
		out = append(out, l.Why)
	case l.Worst == project.LoadOver, l.Worst == project.LoadOutsideRule, l.Worst == project.LoadUnknown:
		out = append(out, "Loads: "+l.Words)
	}
	if why := b.built.Rails.Why; why != "" {
		out = append(out, why)
	}
	var once []string
	for _, t := range out {
		if t = b.units.prose(t); !slices.Contains(once, t) {
			once = append(once, t)
		}
	}
	return once
}

// draw is a drawing of the roof with something over it.
func (b builtCandidate) draw(id, title string, over func(s sheet, d *drawing, placed []placedModule, room *room)) drawing {
	style := b.style(id)
	style.Over = over
	d := newDrawing(b.doc, b.res, b.built.Letter, &b.layout, style)
	d.Title = title + " on the plan of the roof"
	return d
}

// firstNumbers is the number of the first module of each plane of the layout.
func (b builtCandidate) firstNumbers() []int {
	out, next := make([]int, len(b.layout.ByPlane)), 1
	for i, p := range b.layout.ByPlane {
		out[i] = next
		next += len(p.Modules)
	}
	return out
}

// planeLabel is the number and the name of a plane.
func (b builtCandidate) planeLabel(id string) (number, name string) {
	for i, p := range b.doc.Planes {
		if p.ID == id {
			return strconv.Itoa(i + 1), planeName(p, i)
		}
	}
	return "", id
}

// rangesText writes rising numbers with runs of three and more as "4–7".
func rangesText(numbers []int) string {
	numbers = slices.Sorted(slices.Values(numbers))
	var parts []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		if j-i < 2 {
			j = i
		}
		part := strconv.Itoa(numbers[i])
		if j > i {
			part += "–" + strconv.Itoa(numbers[j])
		}
		parts = append(parts, part)
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// levelWord is how bad a finding is.
func levelWord(level string) string {
	switch level {
	case string(electrical.Error):
		return "Not allowed"
	case string(electrical.Warning):
		return "Mind"
	}
	return "Note"
}

func (u units) wiringFindings(all []electrical.Finding) []finding {
	var out []finding
	for _, f := range all {
		out = append(out, finding{levelWord(string(f.Level)), u.prose(f.Message)})
	}
	return out
}

func (u units) loadFindings(all []structural.Finding) []finding {
	var out []finding
	for _, f := range all {
		out = append(out, finding{levelWord(string(f.Level)), u.prose(f.Message)})
	}
	return out
}

// figureOf writes a figure for display. Its formula stays in SI units.
func (u units) figureOf(f electrical.Figure) figure {
	value := trimZeros(fixed(f.Value, 3))
	if f.Unit == "C" {
		value = trimZeros(fixed(f.Value, 1))
	}
	if f.Unit != "" {
		value = strings.ReplaceAll(u.prose(value+" "+f.Unit), "m2", "m²")
	}
	return figure{f.Label, value, f.Formula, f.Numbers, f.Source}
}

func (u units) electricalFigures(all []electrical.Figure) []figure {
	var out []figure
	for _, f := range all {
		out = append(out, u.figureOf(f))
	}
	return out
}

func (u units) structuralFigures(all []structural.Figure) []figure {
	var out []figure
	for _, f := range all {
		out = append(out, u.figureOf(electrical.Figure(f)))
	}
	return out
}

// volts and amps write readings with one decimal.
func volts(v float64) string { return fixed(v, 1) }
func amps(v float64) string  { return fixed(v, 1) }

func percent(share float64) string { return fmt.Sprintf("%s %%", fixed(100*share, 1)) }

// firstUpper begins a label with a capital.
func firstUpper(t string) string {
	if t == "" {
		return t
	}
	return strings.ToUpper(t[:1]) + t[1:]
}
