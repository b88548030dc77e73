package web

import (
	"math"
	"strconv"
	"strings"
	"time"

	"rooftally/project"
)

// paper is a sheet size the proposal prints on.
type paper struct {
	// ID is "a4" or "letter"; Name is what the sheet is called.
	ID, Name string
	// CSS is the size as @page wants it.
	CSS string
	// PlanWidthMM and PlanHeightMM are the drawing's frame within the margins.
	PlanWidthMM, PlanHeightMM float64
	// TextHeightMM is the height between the margins.
	TextHeightMM float64
}

// Margins of the printed page in millimetres; the running foot stands in the
// lower one.
const (
	marginSideMM = 20
	marginTopMM  = 18
	marginFootMM = 24
)

func papers() []paper {
	return []paper{
		{ID: "a4", Name: "A4", CSS: "210mm 297mm", PlanWidthMM: 170, PlanHeightMM: 172, TextHeightMM: 255},
		{ID: "letter", Name: "Letter", CSS: "8.5in 11in", PlanWidthMM: 175, PlanHeightMM: 154, TextHeightMM: 237.4},
	}
}

// choosePaper takes the asked paper if there is one of that name, else the one
// usual where the rule family is: A4 for IEC, Letter for NEC.
func choosePaper(asked, family string) paper {
	usual := "letter"
	if family == "iec" {
		usual = "a4"
	}
	all := papers()
	found := all[0]
	for _, p := range all {
		if p.ID == asked {
			return p
		}
		if p.ID == usual {
			found = p
		}
	}
	return found
}

// proposalView is the printed document in plain values.
type proposalView struct {
	ID, Label  string
	Version    int
	Date       string
	Paper      paper
	Papers     []paper
	Invented   bool
	Missing    string
	Power      string
	AreaUnit   string
	Place      []fact
	Letter     string
	Module     string
	ModuleSize string
	Count      string
	InShade    int
	KW         string
	Decides    string
	Answer     string
	Short      bool
	Looking    bool   // the longer search has not ended
	Tidy       string // how even the layout is
	Known      string // how the count stands to its bound
	Offer      string // what another style would have held, for the record
	Refused    []string
	ByPlane    []proposalPlane
	Others     []proposalOption
	HasShade   bool
	Plan       drawing
	Limits     []string
	Setting    []fact
	Setbacks   []fact
	Rules      project.RulesResult
	KeepOuts   []proposalKeepOut
	Runs       []proposalRun
	Findings   []string
	Assumed    []string
	Cautions   []caution
	// Build is what it takes to build the chosen option, and Keys its planes.
	Build buildParts
	Plans buildPlans
	Keys  []planeKey
	Yield proposalYield
}

// fact is a name with its value.
type fact struct{ Name, Value string }

// caution is a warning with its reason.
type caution struct{ Head, Text string }

// proposalPlane is one plane in the tables.
type proposalPlane struct {
	Number, Name           string
	Pitch, Azimuth         string
	SlopeArea              string
	Use                    bool
	Modules, InShade, KW   string
	Turn, Covering, Rafter string
	Hand                   string // who placed its modules, "" for the engine
	Edges                  []fact
	// EaveHeight and TopHeight are above ground, of the plane's lowest and
	// highest corner.
	EaveHeight, TopHeight string
}

// proposalOption is one candidate in the comparison.
type proposalOption struct {
	Letter, Label          string
	Chosen, Invented       bool
	Rated, Size            string
	Modules, InShade, KW   string
	Density, Free, Reaches string
}

// proposalKeepOut is one keep-out in the installer's list.
type proposalKeepOut struct{ Key, Kind, Label, Size, Clearance, Height string }

// newProposalView writes the proposal of a stored document for the candidate
// it has chosen, dated by the clock it is given, in the site's standard time.
func newProposalView(stored project.Stored, res project.Result, built project.BuildResult, sheet paper, now time.Time) proposalView {
	doc, u := stored.Doc, unitsOf(stored.Doc.Site)
	v := proposalView{
		ID: stored.ID, Label: doc.Site.Label, Version: stored.Version, Paper: sheet, Papers: papers(),
		Date: siteDate(doc.Site, now), Invented: doc.Site.Invented, Missing: missing(doc),
		Power: u.power, AreaUnit: u.areaUnit(), Rules: res.Rules,
	}
	if v.Missing != "" {
		return v
	}
	at := chosenIndex(doc)
	chosen, module := res.Candidates[at], doc.Candidates[at]
	layout := chosen.Shown()
	v.Letter, v.Module = chosen.Letter, candidateName(module)
	v.ModuleSize = u.moduleSize(module.LengthM, module.WidthM)
	v.Count, v.InShade, v.KW = strconv.Itoa(layout.Count), layout.InShade, kwText(layout.PdcW)
	v.Decides = deciding(doc, res, u)
	if chosen.Size != nil {
		v.Answer, v.Short = "Size to meet: "+kwText(doc.Target.SizeW)+" "+u.power+". "+sizeAnswer(chosen), !chosen.Size.Fits
	}
	v.Tidy, v.Known, v.Offer = wholeParts(tidyText(layout.Tidiness)), knownText(doc, chosen), offerRecord(doc, chosen, u)
	v.Refused = refusedNotes(doc, layout)
	v.Place = placeFacts(doc.Site, u)
	v.ByPlane = proposalPlanes(doc, res, layout, u)
	v.Others = proposalOptions(doc, res, u)
	for _, o := range v.Others {
		v.HasShade = v.HasShade || o.InShade != "0"
	}
	v.Plan = proposalPlan(doc, res, chosen.Letter, layout, sheet, u)
	v.Limits = optionNotes(doc, chosen)
	v.Setting, v.Setbacks = settingFacts(doc.Rules, layout.Tidiness, u), setbackFacts(doc.Rules, u)
	v.KeepOuts = proposalKeepOuts(doc.KeepOuts, u)
	v.Runs = proposalRuns(doc, layout, u)
	v.Findings = findingTexts(doc, res)
	v.Assumed, v.Cautions = assumptions(doc, u), cautions()
	parts := func() buildParts {
		return newBuildParts(doc, res, built, at, func(id string) drawingStyle {
			return drawingStyle{ID: id, WidthU: sheet.PlanWidthMM, MaxHeightU: v.Plans.of(sheet, id), UnitU: 1, Paper: sheet.Name, Imperial: u.imperial, North: true, Bar: true}
		})
	}
	// Drawn again once the tables say what room they leave.
	v.Build = parts()
	v.Plans = buildPlans{Loads: loadsPlan(sheet, v.Build.Loads), Rails: railsPlan(sheet, v.Build.Rails, len(v.Build.Loads.Dead))}
	v.Build = parts()
	for i, p := range doc.Planes {
		v.Keys = append(v.Keys, planeKey{strconv.Itoa(i + 1), planeName(p, i), p.Use})
	}
	return v
}

// offerRecord says for the record that another style would hold more, "" where
// none does.
func offerRecord(doc project.Document, c project.CandidateResult, u units) string {
	if c.Offer == nil {
		return ""
	}
	l := c.Shown()
	return "Set for most modules instead of " + styleWord(doc.Rules.Style) + ", the roof would hold " + modulesText(l.Count+c.Offer.More) +
		", " + kwText(c.Offer.PdcW) + " " + u.power + " (" + offerText(*c.Offer, l.Tidiness.Turns) + ")."
}

// siteDate is the calendar day at the site, by its standard time.
func siteDate(site project.Site, now time.Time) string {
	zone := time.FixedZone("site", int(math.Round(site.UTCOffsetH*3600)))
	return now.In(zone).Format("2 January 2006")
}

// candidateName is a module's label, or its power when it has none.
func candidateName(c project.Candidate) string {
	if strings.TrimSpace(c.Label) != "" {
		return c.Label
	}
	return strconv.Itoa(c.PmaxW) + " W module"
}

func placeFacts(site project.Site, u units) []fact {
	if site.Unset() {
		return []fact{{"Latitude, longitude", "not given"}}
	}
	elevation := fixed(site.ElevationM, 0) + " m"
	if u.imperial {
		elevation = fixed(site.ElevationM/footM, 0) + " ft"
	}
	return []fact{
		{"Latitude, longitude", degrees(site.LatDeg, "N", "S") + ", " + degrees(site.LonDeg, "E", "W")},
		{"Elevation", elevation},
	}
}

func degrees(deg float64, positive, negative string) string {
	side := positive
	if deg < 0 {
		side = negative
	}
	return fixed(math.Abs(deg), 4) + "° " + side
}

// proposalPlan is the drawing to scale with everything an installer reads.
func proposalPlan(doc project.Document, res project.Result, letter string, layout project.LayoutResult, sheet paper, u units) drawing {
	d := newDrawing(doc, res, letter, &layout, drawingStyle{
		ID: "plan", WidthU: sheet.PlanWidthMM, MaxHeightU: sheet.PlanHeightMM, UnitU: 1, Paper: sheet.Name,
		Imperial: u.imperial, North: true, Bar: true, Dimensions: true, Numbers: true, KeepOutKeys: true,
	})
	d.Title = "Plan of the roof to scale with " + modulesText(layout.Count)
	return d
}

func proposalPlanes(doc project.Document, res project.Result, layout project.LayoutResult, u units) []proposalPlane {
	watts := make([]int, len(doc.Planes))
	var out []proposalPlane
	for i, p := range doc.Planes {
		pr, _ := planeResult(res, p.ID)
		b, _ := planeLayout(layout, p.ID)
		watts[i] = b.PdcW
		row := proposalPlane{
			Number: strconv.Itoa(i + 1), Name: planeName(p, i), Use: p.Use,
			Pitch: pitchText(p.PitchDeg), Azimuth: bearingText(p.AzimuthDeg), SlopeArea: u.area(pr.SlopeAreaM2),
			Modules: strconv.Itoa(b.Count), InShade: strconv.Itoa(b.InShade),
			Turn: turnUsed(p, b), Hand: handText(b), Covering: words(p.Covering), Rafter: u.distance(p.RafterSpacingM),
			Edges: edgeFacts(pr.Edges, u), EaveHeight: u.length(p.EaveHeightM), TopHeight: u.length(pr.RidgeHeightM),
		}
		out = append(out, row)
	}
	for i, kw := range kwColumn(watts) {
		out[i].KW = kw
	}
	return out
}

// edgeFacts lists the true lengths of a plane's edges by kind.
func edgeFacts(edges []project.EdgeResult, u units) []fact {
	var out []fact
	for _, kind := range append([]string{"eave"}, edgeKinds()...) {
		if kind == "eave" && len(out) > 0 {
			continue
		}
		var lengths []string
		for _, e := range edges {
			if e.Kind == kind {
				// A no-break space: a line may end between lengths, not within one.
				lengths = append(lengths, strings.ReplaceAll(u.length(e.LengthM), " ", "\u00a0"))
			}
		}
		if len(lengths) > 0 {
			out = append(out, fact{words(kind), strings.Join(lengths, ", ")})
		}
	}
	return out
}

func proposalOptions(doc project.Document, res project.Result, u units) []proposalOption {
	watts := make([]int, len(res.Candidates))
	var out []proposalOption
	for i, c := range res.Candidates {
		layout, module := c.Shown(), doc.Candidates[i]
		watts[i] = layout.PdcW
		o := proposalOption{
			Letter: c.Letter, Label: candidateName(module), Chosen: i == chosenIndex(doc), Invented: module.Invented,
			Rated: strconv.Itoa(c.PmaxW), Size: u.moduleSize(module.LengthM, module.WidthM),
			Modules: strconv.Itoa(layout.Count), InShade: strconv.Itoa(layout.InShade),
			Density: u.density(layout.WPerM2), Free: u.area(layout.FreeAreaM2),
		}
		if c.Size != nil {
			o.Reaches = strconv.Itoa(c.Size.Need) + ", fits"
			if !c.Size.Fits {
				o.Reaches = strconv.Itoa(c.Size.Need) + ", too few fit"
			}
		}
		out = append(out, o)
	}
	for i, kw := range kwColumn(watts) {
		out[i].KW = kw
	}
	return out
}

// kwColumn shows powers that stand under each other with the same number of
// decimals: two, or three if one of them needs it.
func kwColumn(watts []int) []string {
	decimals := 2
	for _, w := range watts {
		if w%10 != 0 {
			decimals = 3
		}
	}
	out := make([]string, len(watts))
	for i, w := range watts {
		out[i] = kwText(w)
		if w%10 == 0 && decimals == 3 {
			out[i] += "0"
		}
	}
	return out
}

func settingFacts(r project.Rules, t project.Tidiness, u units) []fact {
	return []fact{
		{"Arrangement", styleWord(r.Style)},
		{"Rail runs", strconv.Itoa(t.RailRuns)},
		{"Blocks", strconv.Itoa(t.Blocks)},
		{"Gap along the eave", u.distance(r.GapEaveM)},
		{"Gap up the slope", u.distance(r.GapSlopeM)},
		{"Rails", "along the eave"},
		{"End allowance, clamp and rail", u.distance(r.EndAllowanceM)},
	}
}

// setbackFacts are the typed distances, in one line if they are all the same;
// other rule sets say theirs in words.
func setbackFacts(r project.Rules, u units) []fact {
	if r.Set != "distances" {
		return nil
	}
	d := r.Distances
	all := project.Distances{EaveM: d.EaveM, RidgeM: d.EaveM, RakeM: d.EaveM, HipM: d.EaveM,
		ValleyM: d.EaveM, BreakM: d.EaveM, WallM: d.EaveM, PartyWallM: d.EaveM}
	if d == all {
		return []fact{{"Every edge", u.distance(d.EaveM)}}
	}
	return []fact{
		{"Eave", u.distance(d.EaveM)}, {"Ridge", u.distance(d.RidgeM)}, {"Rake", u.distance(d.RakeM)},
		{"Hip", u.distance(d.HipM)}, {"Valley", u.distance(d.ValleyM)}, {"Break", u.distance(d.BreakM)},
		{"Wall", u.distance(d.WallM)}, {"Party wall", u.distance(d.PartyWallM)},
	}
}

func proposalKeepOuts(all []project.KeepOut, u units) []proposalKeepOut {
	var out []proposalKeepOut
	for i, k := range all {
		row := proposalKeepOut{Key: keepOutKey(i), Kind: words(k.Kind), Label: k.Label, Size: keepOutSize(k, u),
			Clearance: u.distance(k.ClearanceM), Height: u.length(k.HeightM)}
		switch {
		case k.Shade == "last_resort":
			row.Kind = "shade, last resort"
		case k.Shade == "off_limits":
			row.Kind = "shade, off limits"
		}
		if k.Kind == "shade" || k.Kind == "roof_window" && k.HeightM == 0 {
			row.Height = "–"
		}
		out = append(out, row)
	}
	return out
}

func keepOutSize(k project.KeepOut, u units) string {
	switch k.Shape {
	case "rect":
		return u.length(k.WidthM) + " × " + u.length(k.DepthM)
	case "circle":
		return "∅ " + u.distance(2*k.RadiusM)
	}
	return countOf(len(k.Points), "corner", "corners")
}

// words turns an identifier of the document into words.
func words(id string) string { return strings.ReplaceAll(id, "_", " ") }
