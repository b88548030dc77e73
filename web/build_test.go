package web

import (
	"encoding/csv"
	"net/http"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rooftally/catalog"
	"rooftally/project"
	"rooftally/structural"
)

// wiredDoc is the gable with the demo's modules, wiring, loads and costs.
func wiredDoc() project.Document {
	d, demo := gableDoc(), project.Demo()
	d.Candidates, d.Wiring, d.Loads, d.Cost = demo.Candidates, demo.Wiring, demo.Loads, demo.Cost
	d.Target.Chosen = "demo-400-medium"
	return d
}

func TestRangesText(t *testing.T) {
	for _, c := range []struct {
		numbers []int
		want    string
	}{
		{nil, ""}, {[]int{4}, "4"}, {[]int{4, 5}, "4, 5"}, {[]int{6, 4, 5}, "4–6"}, {[]int{1, 2, 3, 7, 9, 10, 11, 12}, "1–3, 7, 9–12"},
	} {
		if got := rangesText(c.numbers); got != c.want {
			t.Errorf("%v is %q, want %q", c.numbers, got, c.want)
		}
	}
}

// Twelve strings have twelve forms.
func TestStringFormsDiffer(t *testing.T) {
	seen := map[string]int{}
	for n := 1; n <= 12; n++ {
		f := stringForm(n)
		key := strconv.FormatFloat(f.WidthMM, 'f', 2, 64)
		for _, d := range f.DashMM {
			key += " " + strconv.FormatFloat(d, 'f', 2, 64)
		}
		if other := seen[key]; other > 0 {
			t.Errorf("strings %d and %d have one form", other, n)
		}
		seen[key] = n
	}
}

func TestMoneyText(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 128: "128", 1188.75: "1\u202f188.75", 11412: "11\u202f412", 999.999: "1\u202f000", 0.5: "0.50"} {
		if got := moneyText(v); got != want {
			t.Errorf("%v is %q, want %q", v, got, want)
		}
	}
}

func TestBuildGolden(t *testing.T) {
	doc := wiredDoc()
	s, kept := pageServer(t, doc)
	golden(t, "build_gable.html", buildMain(newBuildView(kept.stored, s.mustResult(t, kept.stored), s.mustBuild(t, kept.stored), "")))
}

func TestBuildPage(t *testing.T) {
	micro, optimiser, met, iec, noInverter, noModules, bare := wiredDoc(), wiredDoc(), wiredDoc(), wiredDoc(), wiredDoc(), wiredDoc(), wiredDoc()
	micro.Wiring.Kind, micro.Wiring.Micro = project.WiringMicro, &catalog.DemoMicroInverters()[0]
	optimiser.Wiring.Kind, optimiser.Wiring.Optimiser = project.WiringOptimiser, &catalog.DemoOptimisers()[0]
	met.Wiring.ModuleShutdown = true
	iec.Site.RuleFamily = "iec"
	noInverter.Wiring.Inverter = nil
	noModules.Planes = manyDoc(1, 1, 1).Planes
	noModules.KeepOuts = nil
	bare.Planes = nil
	cold := wiredDoc()
	cold.Wiring.Station = nil
	free := wiredDoc()
	free.Wiring.Kind = project.WiringNone
	free.Loads = project.New("x").Loads
	typed := gableDoc()
	customary := wiredDoc()
	customary.Site.Units = "imperial"
	whole := micro
	whole.Wiring.BusbarA = new(400.0)
	whole.Loads.FlushWind, whole.Loads.TypedWind = nil, &structural.TypedWind{UpPa: 900, DownPa: 900}
	for _, c := range []struct {
		name, query string
		doc         project.Document
		has, lack   []string
	}{
		{"strings", "", wiredDoc(), []string{"Not complete", "Not met", "Rapid shutdown, 690.12", "S1", "1.25 x 32 A + 200 A = 240 A",
			"This checks the module only, not clamps, rafters or roof", "Attachments", "Inverters of the catalog", "not in the plan yet", "NEC 690.7(A)(1)", "11 of "},
			[]string{"Nothing is open", "NaN", "style="}},
		{"another candidate", "?candidate=demo-450-large", wiredDoc(), []string{"of option C, "}, nil},
		{"no such candidate", "?candidate=gone", wiredDoc(), []string{"of option B, "}, nil},
		{"micro-inverters", "", micro, []string{"AC1", "Branch", "the micro-inverters stop with the AC supply"}, []string{"Not met", "Inverters of the catalog", "Voc cold"}},
		{"nothing open", "", whole, []string{"Nothing is open in what is checked here.", "the roof itself are not checked", "A licensed engineer decides."}, []string{"Not complete", "Not met"}},
		{"optimisers", "", optimiser, []string{"Optimiser", "S1"}, []string{"NaN"}},
		{"marks met", "", met, []string{"each module has listed shutdown gear"}, []string{"Not met</strong> <span>Rapid", "not in the plan yet"}},
		{"iec", "", iec, []string{"No mark of NEC", "limit for a phase is not typed", "Type it in the editor under Wiring."}, []string{"Not met</strong>"}},
		{"no inverter", "", noInverter, []string{"No inverter is chosen.", "Choose an inverter in the editor under Wiring.", "Inverters of the catalog"}, []string{"data-testid=\"wiring-table\""}},
		{"no way of wiring", "", free, []string{"Choose strings, micro-inverters or optimisers in the editor under Wiring.", "Type snow and wind in the editor under Loads.",
			"Type the rail span in the editor under Loads.", "not judged"}, nil},
		{"no temperatures", "", cold, []string{"Find the nearest weather station in the editor under Wiring"}, nil},
		{"no datasheets", "", typed, []string{"typed without a datasheet", "Choose a module of the catalog in the editor under Candidates."}, []string{"NaN"}},
		{"no modules", "", noModules, []string{"There are no modules."}, []string{"NaN", "Inverters of the catalog"}},
		{"customary units", "", customary, []string{"psf</span>", "Rails, 4.2 m (13&#39;-9 3/8&#34;) sticks", "Pa (", " psf) of "}, []string{"<span class=\"unit\">Pa</span>"}},
		{"no planes", "", bare, []string{"Draw the roof"}, []string{"data-testid=\"wiring\""}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := pageServer(t, c.doc)
			w := ask(t, s, "GET", "/projects/p1/build"+c.query, nil)
			if w.Code != http.StatusOK {
				t.Fatalf("status %d: %s", w.Code, w.Body)
			}
			expectText(t, w.Body.String(), c.has, c.lack)
		})
	}
	s, _ := pageServer(t, wiredDoc())
	if w := ask(t, s, "GET", "/projects/gone/build", nil); w.Code != http.StatusNotFound {
		t.Errorf("unknown project: status %d", w.Code)
	}
}

// The wiring table names every module of the layout once, or the words do.
func TestTheWiringTableIsWhole(t *testing.T) {
	doc := wiredDoc()
	s, kept := pageServer(t, doc)
	built := s.mustBuild(t, kept.stored)
	for at, c := range doc.Candidates {
		v := newBuildView(kept.stored, s.mustResult(t, kept.stored), built, c.ID).Parts
		var numbers []int
		for _, r := range v.Wiring.Rows {
			for text := range strings.SplitSeq(r.Modules, ", ") {
				n, err := strconv.Atoi(text)
				if err != nil {
					t.Fatal(err)
				}
				numbers = append(numbers, n)
			}
		}
		for _, m := range built.Candidates[at].Wiring.LeftOut {
			if !regexp.MustCompile(`\b` + strconv.Itoa(m.Number) + `\b`).MatchString(v.Wiring.Words) {
				t.Errorf("%s: module %d is left out and not named in %q", c.ID, m.Number, v.Wiring.Words)
			}
			numbers = append(numbers, m.Number)
		}
		slices.Sort(numbers)
		for i, n := range numbers {
			if n != i+1 {
				t.Fatalf("%s: the table has %v", c.ID, numbers)
			}
		}
		if want := strconv.Itoa(len(numbers)) + " modules"; v.Count != want {
			t.Errorf("%s: %s in the table, the layout has %s", c.ID, want, v.Count)
		}
	}
}

// The page's total of a part is that of its planes, and the file says the same.
func TestBuildCSV(t *testing.T) {
	s, kept := pageServer(t, wiredDoc())
	w := ask(t, s, "GET", "/projects/p1/build.csv?candidate=demo-330-small", nil)
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "text/csv; charset=utf-8" {
		t.Fatalf("status %d, %s", w.Code, w.Header().Get("Content-Type"))
	}
	if got := w.Header().Get("Content-Disposition"); got != "attachment; filename=corner-house-invented-parts-A.csv" {
		t.Error(got)
	}
	rows, err := csv.NewReader(strings.NewReader(w.Body.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	inFile := map[string]string{}
	for _, r := range rows {
		if r[0] == "total" {
			inFile[r[2]] = r[3]
		}
	}
	bill := newBuildView(kept.stored, s.mustResult(t, kept.stored), s.mustBuild(t, kept.stored), "demo-330-small").Parts.Bill
	if len(bill.Rows) < 6 || len(inFile) != len(bill.Rows) {
		t.Errorf("%d parts on the page, %d in the file", len(bill.Rows), len(inFile))
	}
	for _, r := range bill.Rows {
		sum := 0
		for _, n := range append(slices.Clone(r.ByPlane), r.Elsewhere) {
			if v, err := strconv.Atoi(n); err == nil {
				sum += v
			}
		}
		if strconv.Itoa(sum) != r.Total || inFile[r.Label] != r.Total {
			t.Errorf("%s: planes have %d, the total is %s, the file %s", r.Label, sum, r.Total, inFile[r.Label])
		}
	}
	bare := wiredDoc()
	bare.Planes = nil
	s, _ = pageServer(t, bare)
	if w := ask(t, s, "GET", "/projects/p1/build.csv", nil); w.Code != http.StatusNotFound {
		t.Errorf("without a roof: status %d", w.Code)
	}
}

// The options have a row for each part of building that is known.
func TestOptionsOfAWiredRoof(t *testing.T) {
	customary := wiredDoc()
	customary.Site.Units = "imperial"
	for _, c := range []struct {
		name      string
		doc       project.Document
		has, lack []string
	}{
		{"metric", wiredDoc(), []string{"Modules wired", "Inverters of the catalog that take all", " of 6", "Safety marks not met", "Weight on the roof under the modules", "kg/m²", "% in year 30", "Attachments"}, []string{"lb/ft²"}},
		{"customary units", customary, []string{"lb/ft²"}, []string{"kg/m²"}},
		{"nothing known", gableDoc(), []string{"typed without a datasheet"}, []string{"Weight on the roof", "Guaranteed in the last year"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := pageServer(t, c.doc)
			expectText(t, ask(t, s, "GET", "/projects/p1/options", nil).Body.String(), c.has, c.lack)
		})
	}
}

// The proposal has the cost where the module has a price, and says what it is.
func TestProposalCost(t *testing.T) {
	priced, partly := wiredDoc(), wiredDoc()
	priced.Cost = project.Cost{Currency: "EUR", RestPerModule: new(190.0), RestFixed: new(2600.0)}
	partly.Cost = project.Cost{Currency: "EUR"}
	for _, c := range []struct {
		name      string
		doc       project.Document
		has, lack []string
	}{
		{"all prices", priced, []string{"Guarantee and cost", "Cost by the prices given", "EUR", "not an offer unless it is signed as one"}, []string{"No price is given for"}},
		{"some prices", partly, []string{"Cost by the prices given", "No price is given for: other costs for each module, other costs of the project."}, nil},
		{"no price", gableDoc(), []string{"Open points, parts and guarantee"}, []string{"Cost by the prices given", "an offer"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := pageServer(t, c.doc)
			expectText(t, ask(t, s, "GET", "/projects/p1/proposal", nil).Body.String(), c.has, c.lack)
		})
	}
}

// TestTheBuildPrints prints the page and the proposal of a wired roof: no table
// of strings is cut, and what is open is said on paper too.
func TestTheBuildPrints(t *testing.T) {
	needTools(t)
	many := wiredDoc()
	many.Planes, many.KeepOuts = manyDoc(8, 16, 9).Planes, nil
	many.Wiring.Kind, many.Wiring.Micro = project.WiringMicro, &catalog.DemoMicroInverters()[0]
	for _, c := range []struct {
		name, paper string
		doc         project.Document
		rows        string
	}{
		{"a gable on A4", "a4", wiredDoc(), "S"}, {"a gable on Letter", "letter", wiredDoc(), "S"},
		{"many branches on A4", "a4", many, "AC"}, {"many branches on Letter", "letter", many, "AC"},
	} {
		t.Run(c.name, func(t *testing.T) {
			pages := printPages(t, c.doc, c.paper)
			checkPages(t, pages)
			all := strings.Join(pages, "\n")
			expectText(t, all, []string{"This checks the module only, not clamps, rafters or roof.", "Bill of materials", "Guaranteed output", "Rails and attachments"}, nil)
			checkRows(t, c.doc, pages)
			if c.rows == "S" {
				expectText(t, all, []string{"Not complete", "Needs rapid shutdown"}, nil)
			}
		})
	}
}

// checkRows looks for every string's first and last numbers of the wiring table
// on one page: the row's name, and its count of modules beside it.
func checkRows(t *testing.T, doc project.Document, pages []string) {
	t.Helper()
	s, kept := pageServer(t, doc)
	rows := newBuildView(kept.stored, s.mustResult(t, kept.stored), s.mustBuild(t, kept.stored), "").Parts.Wiring.Rows
	if len(rows) == 0 {
		t.Fatal("nothing is wired")
	}
	for _, r := range rows {
		line := regexp.MustCompile(`(?m)^ *` + r.Name + `\s.*` + regexp.QuoteMeta(r.Run))
		found := 0
		for _, p := range pages {
			if !line.MatchString(p) {
				continue
			}
			found++
			for text := range strings.SplitSeq(r.Modules, ", ") {
				if !regexp.MustCompile(`\b` + text + `\b`).MatchString(p) {
					t.Errorf("%s: module %s is not on the page of its row", r.Name, text)
				}
			}
		}
		if found != 1 {
			t.Errorf("%s is on %d pages, want 1", r.Name, found)
		}
	}
}
