package web

import (
	"strconv"
	"strings"

	"rooftally/project"
)

// optionsView is the comparison of the candidates in plain values.
type optionsView struct {
	ID       string
	Version  int
	Label    string
	Invented bool
	// Missing is "planes" or "candidates" when there is nothing to compare.
	Missing  string
	Decides  string
	Size     bool   // the question is to meet a size
	SizeText string // the size in the form, kW
	Problem  string // what is wrong with the form
	Stale    string // a choice that was not saved, and why
	// Looking says that the longer search has not ended.
	Looking bool
	// Style is in force, Before the one to go back to from "best"; Offers are
	// what "best" would add, an option each.
	Style, Before string
	Offers        []string
	Power         string
	Columns       []optionColumn
	Groups        []compareGroup
	Keys          []planeKey
	Rules         project.RulesResult
	Findings      []string
	// Caution stands below the rows on loads, "" where there are none.
	Caution string
	Yield   optionsYield
}

// optionColumn is one candidate's head: its drawing and its choice.
type optionColumn struct {
	ID, Letter, Label string
	Rated             string
	Invented          bool
	Chosen            bool
	Drawing           drawing
	Answer            string // "meet a size" in words, "" otherwise
	Short             bool   // does not reach the size
	Notes             []string
	Refused           []string // modules placed by hand that the roof does not allow
}

// planeKey explains a number in the drawings.
type planeKey struct {
	Number, Name string
	Use          bool
}

// compareGroup is rows under a small heading.
type compareGroup struct {
	Heading string
	Rows    []compareRow
}

// compareRow is one line of the table, a cell for each candidate.
type compareRow struct {
	Label, Unit string
	Sub         bool
	// Main sets the row larger: it answers the first question.
	Main  bool
	Cells []compareCell
}

// compareCell is a number cut at its decimal point, so that a column aligns.
type compareCell struct {
	Whole, Part string
	Best, Tie   bool
	// Shade is how many of the number lie in shade, "" for none.
	Shade string
	// Known is "proved" where no layout can hold more, else the most that one
	// could hold, "" where neither says anything.
	Known string
	// Text stands in place of a number.
	Text string
}

// planeName is a plane's label, or its number when it has none.
func planeName(p project.Plane, index int) string {
	if strings.TrimSpace(p.Label) != "" {
		return p.Label
	}
	return "Plane " + strconv.Itoa(index+1)
}

// chosenIndex is the position of the candidate the proposal is for: the one
// the target names, else the first.
func chosenIndex(doc project.Document) int {
	for i, c := range doc.Candidates {
		if c.ID == doc.Target.Chosen {
			return i
		}
	}
	return 0
}

// missing names what keeps a document from being compared, "" if nothing.
func missing(doc project.Document) string {
	switch {
	case len(doc.Planes) == 0:
		return "planes"
	case len(doc.Candidates) == 0:
		return "candidates"
	}
	return ""
}

// newOptionsView puts a stored document, its result and what it takes to build
// that side by side.
func newOptionsView(stored project.Stored, res project.Result, built project.BuildResult) optionsView {
	doc, u := stored.Doc, unitsOf(stored.Doc.Site)
	v := optionsView{
		ID: stored.ID, Version: stored.Version, Label: doc.Site.Label, Invented: doc.Site.Invented,
		Missing: missing(doc), Size: doc.Target.Mode == "size", Power: u.power, Rules: res.Rules,
		Style: doc.Rules.Style, Before: "rows",
	}
	if doc.Target.SizeW > 0 {
		v.SizeText = trimZeros(kwText(doc.Target.SizeW))
	}
	v.Findings = findingTexts(doc, res)
	if v.Missing != "" {
		return v
	}
	for i, p := range doc.Planes {
		v.Keys = append(v.Keys, planeKey{strconv.Itoa(i + 1), planeName(p, i), p.Use})
	}
	for i, c := range res.Candidates {
		v.Columns = append(v.Columns, newOptionColumn(doc, res, i, c))
		if c.Offer != nil {
			v.Offers = append(v.Offers, c.Letter+" "+offerText(*c.Offer, c.Shown().Tidiness.Turns))
		}
	}
	v.Decides = deciding(doc, res, u)
	v.Groups = append(compareGroups(doc, res, u), buildGroups(built.Candidates, u)...)
	if len(built.Candidates) > 0 {
		v.Caution = built.Candidates[0].Loads.Caution
	}
	return v
}

func newOptionColumn(doc project.Document, res project.Result, i int, c project.CandidateResult) optionColumn {
	u, layout := unitsOf(doc.Site), c.Shown()
	col := optionColumn{
		ID: c.ID, Letter: c.Letter, Label: c.Label, Rated: strconv.Itoa(c.PmaxW) + " W",
		Invented: doc.Candidates[i].Invented, Chosen: i == chosenIndex(doc),
	}
	// A narrow column shows the drawing smaller; its marks keep their size.
	widthU := 360.0
	if len(doc.Candidates) > 3 {
		widthU = 260
	}
	col.Drawing = newDrawing(doc, res, c.Letter, &layout, drawingStyle{
		ID: "plan-" + c.Letter, WidthU: widthU, MaxHeightU: 320, UnitU: 4.8,
		Imperial: u.imperial, North: true, Bar: true,
	})
	col.Drawing.Title = "Plan of the roof with " + modulesText(layout.Count) + " of option " + c.Letter
	if c.Size != nil {
		col.Answer, col.Short = sizeAnswer(c), !c.Size.Fits
	}
	col.Notes, col.Refused = optionNotes(doc, c), refusedNotes(doc, layout)
	if t := valueText(c.Size); t != "" {
		col.Notes = append(col.Notes, t)
	}
	return col
}

// sizeAnswer says what a candidate needs to meet the size and whether it fits.
func sizeAnswer(c project.CandidateResult) string {
	need := "Needs " + modulesText(c.Size.Need)
	if c.Size.Fits {
		return need + ". They fit; the roof holds " + strconv.Itoa(c.Fill.Count) + "."
	}
	return need + ". Only " + strconv.Itoa(c.Fill.Count) + " fit: " + strconv.Itoa(c.Size.Need-c.Fill.Count) + " too few."
}

// optionNotes are remarks on one candidate's layout.
func optionNotes(doc project.Document, c project.CandidateResult) []string {
	var notes []string
	switch {
	case !c.Widened():
	case c.Size == nil:
		notes = append(notes, "Its modules would cover "+trimZeros(fixed(c.Coverage*100, 1))+" % of the roof in plan. "+
			"The rule set asks for the wider strip along the ridge then, so the roof was packed again with it.")
	default:
		notes = append(notes, "So many modules pass the rule set's limit of covered roof, so they keep the wider strip along the ridge.")
	}
	for i, p := range doc.Planes {
		for _, b := range c.Shown().ByPlane {
			if b.PlaneID == p.ID && p.ModuleLimit != nil && b.Count == *p.ModuleLimit {
				notes = append(notes, planeName(p, i)+" is held at its limit of "+modulesText(*p.ModuleLimit)+".")
			}
		}
	}
	if t := awayText(doc, c.Shown()); t != "" {
		notes = append(notes, t)
	}
	return append(notes, handNotes(doc, c.Shown())...)
}

// awayText says how many modules of a layout face away from the sun, "" for none.
func awayText(doc project.Document, l project.LayoutResult) string {
	away := 0
	var names []string
	for i, p := range doc.Planes {
		if b, ok := planeLayout(l, p.ID); ok && b.Count > 0 && project.FacesAway(doc.Site, p) {
			away += b.Count
			names = append(names, planeName(p, i)+", "+bearingText(p.AzimuthDeg))
		}
	}
	switch {
	case away == 0:
		return ""
	case away == l.Count:
		return "All its modules face away from the sun (" + strings.Join(names, "; ") + ")."
	}
	verb := " face away from the sun ("
	if away == 1 {
		verb = " faces away from the sun ("
	}
	return strconv.Itoa(away) + " of " + modulesText(l.Count) + verb + strings.Join(names, "; ") + ")."
}

// compareGroups are the rows of the table.
func compareGroups(doc project.Document, res project.Result, u units) []compareGroup {
	onRoof := compareGroup{Heading: "On the roof", Rows: []compareRow{
		row("Modules", "", res, func(l project.LayoutResult) string { return strconv.Itoa(l.Count) }),
		row("of these in shade", "", res, func(l project.LayoutResult) string { return strconv.Itoa(l.InShade) }),
		row("Rated power", u.power, res, func(l project.LayoutResult) string { return kwText(l.PdcW) }),
	}}
	markKnown(onRoof.Rows[0].Cells, doc, res, "")
	onRoof.Rows[0].Main, onRoof.Rows[1].Sub, onRoof.Rows[2].Main = true, true, true
	markBest(onRoof.Rows[2].Cells, highest, func(i int) float64 { return float64(res.Candidates[i].Shown().PdcW) })
	if doc.Target.Mode == "size" {
		onRoof.Rows = append(sizeRows(res), onRoof.Rows...)
		clearMarks(onRoof.Rows[len(onRoof.Rows)-1].Cells)
	}
	use := compareGroup{Heading: "Use of the roof", Rows: []compareRow{
		row("Power per roof area used", "W/"+u.areaUnit(), res, func(l project.LayoutResult) string { return u.density(l.WPerM2) }),
		row("Usable area left free", u.areaUnit(), res, func(l project.LayoutResult) string { return u.area(l.FreeAreaM2) }),
	}}
	markBest(use.Rows[0].Cells, highest, func(i int) float64 { return res.Candidates[i].Shown().WPerM2 })
	if doc.Target.Mode == "size" {
		markBest(use.Rows[1].Cells, highest, func(i int) float64 { return res.Candidates[i].Shown().FreeAreaM2 })
	}
	for i, p := range doc.Planes {
		if !p.Use {
			continue
		}
		name := planeName(p, i)
		if p.Label == name {
			name = strconv.Itoa(i+1) + "  " + name
		}
		onRoof.Rows = append(onRoof.Rows, planeRow(name, "modules", p.ID, res, func(b project.PlaneLayoutResult) string { return strconv.Itoa(b.Count) }))
		markKnown(onRoof.Rows[len(onRoof.Rows)-1].Cells, doc, res, p.ID)
		markShade(onRoof.Rows[len(onRoof.Rows)-1].Cells, res, p.ID)
		use.Rows = append(use.Rows, planeRow(name, u.areaUnit(), p.ID, res, func(b project.PlaneLayoutResult) string { return u.area(b.FreeAreaM2) }))
	}
	return []compareGroup{onRoof, tidyGroup(res), use, moduleGroup(doc, res, u)}
}

// tidyGroup is how even the layouts are. Fewer is not marked as best: it can
// just mean fewer modules.
func tidyGroup(res project.Result) compareGroup {
	count := func(label string, of func(project.Tidiness) int) compareRow {
		return row(label, "", res, func(l project.LayoutResult) string { return strconv.Itoa(of(l.Tidiness)) })
	}
	return compareGroup{Heading: "Tidiness", Rows: []compareRow{
		count("Rail runs", func(t project.Tidiness) int { return t.RailRuns }),
		count("Blocks", func(t project.Tidiness) int { return t.Blocks }),
		count("Orientations", func(t project.Tidiness) int { return t.Turns }),
	}}
}

// sizeRows answer "meet a size".
func sizeRows(res project.Result) []compareRow {
	need := compareRow{Label: "Modules needed"}
	fits := compareRow{Label: "Do they fit"}
	for _, c := range res.Candidates {
		need.Cells = append(need.Cells, cell(strconv.Itoa(c.Size.Need)))
		answer := "yes"
		if !c.Size.Fits {
			answer = "no"
		}
		fits.Cells = append(fits.Cells, compareCell{Whole: answer})
	}
	markBest(need.Cells, lowest, func(i int) float64 { return float64(res.Candidates[i].Size.Need) })
	return []compareRow{need, fits}
}

func moduleGroup(doc project.Document, res project.Result, u units) compareGroup {
	rated, size, area := compareRow{Label: "Rated power, Pmax", Unit: "W"}, compareRow{Label: "Size"}, compareRow{Label: "Area", Unit: u.areaUnit()}
	for i, c := range res.Candidates {
		rated.Cells = append(rated.Cells, cell(strconv.Itoa(c.PmaxW)))
		size.Cells = append(size.Cells, compareCell{Text: u.moduleSize(doc.Candidates[i].LengthM, doc.Candidates[i].WidthM)})
		t := fixed(c.ModuleAreaM2, 2)
		if u.imperial {
			t = fixed(c.ModuleAreaM2/(footM*footM), 1)
		}
		area.Cells = append(area.Cells, cell(t))
	}
	return compareGroup{Heading: "The module", Rows: []compareRow{rated, size, area}}
}

func row(label, unit string, res project.Result, value func(project.LayoutResult) string) compareRow {
	r := compareRow{Label: label, Unit: unit}
	for _, c := range res.Candidates {
		r.Cells = append(r.Cells, cell(value(c.Shown())))
	}
	return r
}

// planeRow has an empty cell where a layout does not know the plane.
func planeRow(label, unit, id string, res project.Result, value func(project.PlaneLayoutResult) string) compareRow {
	r := compareRow{Label: label, Unit: unit, Sub: true}
	for _, c := range res.Candidates {
		b, ok := planeLayout(c.Shown(), id)
		if !ok {
			r.Cells = append(r.Cells, compareCell{})
			continue
		}
		r.Cells = append(r.Cells, cell(value(b)))
	}
	return r
}

func planeLayout(l project.LayoutResult, id string) (project.PlaneLayoutResult, bool) {
	for _, b := range l.ByPlane {
		if b.PlaneID == id {
			return b, true
		}
	}
	return project.PlaneLayoutResult{}, false
}

// cell cuts a number at its decimal point.
func cell(number string) compareCell {
	whole, part, found := strings.Cut(number, ".")
	if found {
		part = "." + part
	}
	return compareCell{Whole: whole, Part: part}
}

// better tells whether a beats b.
type better func(a, b float64) bool

func highest(a, b float64) bool { return a > b }
func lowest(a, b float64) bool  { return a < b }

// markBest marks the best value of a row. Values shown alike count as a tie,
// and where all are alike there is no best to mark, only a tie; where nothing fits
// anywhere, not even that.
func markBest(cells []compareCell, beats better, value func(i int) float64) {
	if len(cells) < 2 {
		return
	}
	best := 0
	for i := range cells {
		if beats(value(i), value(best)) {
			best = i
		}
	}
	if value(best) == 0 {
		return
	}
	alike := 0
	for i := range cells {
		if sameNumber(cells[i], cells[best]) {
			alike++
		}
	}
	for i := range cells {
		if sameNumber(cells[i], cells[best]) {
			cells[i].Tie = alike > 1
			cells[i].Best = alike < len(cells)
		}
	}
}

func sameNumber(a, b compareCell) bool { return a.Whole == b.Whole && a.Part == b.Part }

func clearMarks(cells []compareCell) {
	for i := range cells {
		cells[i].Best, cells[i].Tie = false, false
	}
}

// markKnown says how counts stand to their upper bound, on one plane or, with
// id "", on all of them. Only a full roof is held against it: with a size to
// meet the count says what was asked for, and where a limit or a person ends
// it, the bound says nothing.
func markKnown(cells []compareCell, doc project.Document, res project.Result, id string) {
	for i, c := range res.Candidates {
		if c.Size != nil || limited(doc, only(c.Fill, id)) {
			continue
		}
		switch bound, proved := boundOf(c.Fill, id); {
		case proved:
			cells[i].Known = "proved"
		case bound > 0:
			cells[i].Known = "at most " + strconv.Itoa(bound)
		}
	}
}

// only is a layout's part on one plane, all of it with id "".
func only(l project.LayoutResult, id string) project.LayoutResult {
	if id == "" {
		return l
	}
	b, ok := planeLayout(l, id)
	if !ok {
		return project.LayoutResult{}
	}
	return project.LayoutResult{ByPlane: []project.PlaneLayoutResult{b}}
}

func markShade(cells []compareCell, res project.Result, id string) {
	for i, c := range res.Candidates {
		if b, ok := planeLayout(c.Shown(), id); ok && b.InShade > 0 {
			cells[i].Shade = strconv.Itoa(b.InShade) + " in shade"
		}
	}
}
