package web

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"rooftally/energy"
	"rooftally/project"
)

// yieldServer is pageServer with the yield of its project ready.
func yieldServer(t *testing.T, doc project.Document) (*server, *oneProject) {
	t.Helper()
	s, kept := pageServer(t, doc)
	primeYield(t, s, kept.stored, cannedYield(t, doc, cannedResult(t, doc)))
	return s, kept
}

// primeYield puts a yield in place of the one that would be reckoned.
func primeYield(t *testing.T, s *server, stored project.Stored, yield project.YieldResult) {
	t.Helper()
	res, ok := s.results.peek(t.Context(), stored)
	if !ok {
		t.Fatal("no result is kept")
	}
	year, err := s.yearOf(t.Context(), stored.Doc)
	if err != nil {
		t.Fatal(err)
	}
	built, err := s.build(t.Context(), stored.Doc, res)
	if err != nil {
		t.Fatal(err)
	}
	key, err := yieldKey(stored.Doc, res, built, year)
	if err != nil {
		t.Fatal(err)
	}
	_, err = s.reckoner.yields.get(t.Context(), key, func(context.Context) (project.YieldResult, error) { return yield, nil })
	if err != nil {
		t.Fatal(err)
	}
	for i := range yield.Candidates {
		_, err = s.reckoner.worths.get(t.Context(), key+" "+strconv.Itoa(i), func(context.Context) ([]project.WorthResult, error) { return cannedWorths(), nil })
		if err != nil {
			t.Fatal(err)
		}
	}
}

func TestYieldGolden(t *testing.T) {
	doc := gableDoc()
	res := cannedResult(t, doc)
	view := newYieldView(project.Stored{ID: "p1", Version: 3, Doc: doc}, res, cannedYield(t, doc, res), "b")
	view.Detail.addWorths(cannedWorths(), true, true, unitsOf(doc.Site))
	golden(t, "yield_gable.html", yieldMain(view))
}

// pairOf are candidates A, B, ... with first-year energies; below 0 is none.
func pairOf(kwh ...float64) yieldInput {
	in := yieldInput{doc: gableDoc(), units: units{power: "kWp"}}
	for i, v := range kwh {
		c := project.CandidateYield{Letter: project.Letter(i), Total: project.PlaneYield{ACYear: v, KWhPerKW: v / 10}, KWh25: 20 * v}
		if v < 0 {
			c = project.CandidateYield{Letter: project.Letter(i), Why: "The module was typed without a datasheet."}
		}
		in.yield.Candidates = append(in.yield.Candidates, c)
	}
	return in
}

func TestWhoYieldsMost(t *testing.T) {
	for _, c := range []struct {
		name  string
		kwh   []float64
		words string
		marks string // of the first row: B best, T tie, - neither
	}{
		{"one", []float64{5000}, "Option A is expected to make 5\u202f000 kWh in its first year, 500 kWh for each kWp.", "-"},
		{"clear", []float64{5000, 5500}, "Option B is expected to make the most in the first year, 5\u202f500 kWh: 10.0 % more than A.", "-B"},
		{"just clear", []float64{5000, 5103}, "Option B is expected to make the most in the first year, 5\u202f103 kWh: 2.1 % more than A.", "-B"},
		{"too near to tell", []float64{5000, 5099}, "Options A and B tie at about 5\u202f099 kWh in the first year: they differ by less than this reckoning can tell.", "TT"},
		{"two of three", []float64{5000, 4000, 5050}, "Options A and C tie at about 5\u202f050 kWh in the first year: they differ by less than this reckoning can tell.", "X-X"},
		{"one unknown", []float64{-1, 5000, 4000}, "Option B is expected to make the most in the first year, 5\u202f000 kWh: 25.0 % more than C.", "-B-"},
		{"none known", []float64{-1, -1}, "No option has a yield yet.", "--"},
		{"nothing at all", []float64{0, 0}, "Options A and B tie at about 0 kWh in the first year: they differ by less than this reckoning can tell.", "TT"},
	} {
		in := pairOf(c.kwh...)
		if got := in.decides(); got != c.words {
			t.Errorf("%s: %q, want %q", c.name, got, c.words)
		}
		marks := ""
		for _, cell := range in.firstRows()[0].Cells {
			switch {
			case cell.Best && cell.Tie:
				marks += "X"
			case cell.Best:
				marks += "B"
			case cell.Tie:
				marks += "T"
			default:
				marks += "-"
			}
		}
		if marks != c.marks {
			t.Errorf("%s: marks %s, want %s", c.name, marks, c.marks)
		}
	}
}

// Options that tie behind the best are named.
func TestTiesBehindTheBest(t *testing.T) {
	row := pairOf(5000, 8000, 5050, 3000).firstRows()[0]
	var got []string
	for _, c := range row.Cells {
		got = append(got, c.Shade)
	}
	if want := []string{"= tie with C", "", "= tie with A", ""}; !slices.Equal(got, want) {
		t.Errorf("ties %q, want %q", got, want)
	}
}

// The guaranteed line is the year's energy at the guaranteed power: with 0.9 of
// the label expected and 0.8 guaranteed, eight ninths of the energy.
func TestPromisedEnergy(t *testing.T) {
	kwh, ok := promisedKWh(project.YearLine{KWh: 9000, ExpectedShare: 0.9, PromisedShare: 0.8})
	if !ok || kwh < 7999.9 || kwh > 8000.1 {
		t.Errorf("%g, %v; want 8000", kwh, ok)
	}
	if _, ok = promisedKWh(project.YearLine{KWh: 9000, ExpectedShare: 0.9}); ok {
		t.Error("a year past the guarantee has a guaranteed energy")
	}
}

func TestReadYieldForm(t *testing.T) {
	usual := project.New("x").Yield
	snow := usual
	snow.Losses = append([]project.LossLine(nil), usual.Losses...)
	snow.Losses[1].MonthlyPct = [12]float64{10, 8, 3}
	at := func(y project.YieldTerms, id string) [12]float64 {
		for _, l := range y.Losses {
			if l.ID == id {
				return l.MonthlyPct
			}
		}
		t.Fatalf("no line %s", id)
		return [12]float64{}
	}
	year := func(v float64) (out [12]float64) {
		for m := range out {
			out[m] = v
		}
		return out
	}
	for _, c := range []struct {
		name     string
		from     project.YieldTerms
		form     url.Values
		id       string
		want     [12]float64
		problems []string
	}{
		{"nothing typed", usual, url.Values{}, "soiling", year(2), nil},
		{"a year", usual, url.Values{"loss-soiling": {"3,5 %"}}, "soiling", year(3.5), nil},
		{"a gain", usual, url.Values{"loss-tolerance": {"−1.5"}}, "tolerance", year(-1.5), nil},
		{"a month", usual, url.Values{"loss-snow": {"0"}, "loss-snow.1": {"12"}}, "snow", [12]float64{12}, nil},
		{"months as shown and an empty year", snow, url.Values{"loss-snow": {""}, "loss-snow.1": {"10"}, "loss-snow.2": {"8"}}, "snow", [12]float64{10, 8, 3}, nil},
		{"a year over months", snow, url.Values{"loss-snow": {"4"}, "loss-snow.1": {"10"}}, "snow", year(4), nil},
		{"both", snow, url.Values{"loss-snow": {"4"}, "loss-snow.1": {"11"}}, "snow", [12]float64{10, 8, 3}, []string{"not both"}},
		{"words", usual, url.Values{"loss-soiling": {"much"}}, "soiling", year(2), []string{"Dirt on the glass: “much” is not a plain number"}},
		{"hexadecimal", usual, url.Values{"loss-soiling": {"0x3"}}, "soiling", year(2), []string{"not a plain number"}},
		{"too much", usual, url.Values{"loss-soiling": {"101"}}, "soiling", year(2), []string{"must be from -10 to 100"}},
		{"a bad month", usual, url.Values{"loss-soiling.3": {"-11"}}, "soiling", year(2), []string{"Dirt on the glass, Mar: is -11"}},
		{"two wrong", usual, url.Values{"loss-soiling": {"x"}, "albedo": {"1.1"}}, "soiling", year(2), []string{"thrown back by the ground: is 1.1", "“x”"}},
		{"a line back", snow, url.Values{"reset": {"snow"}, "loss-snow.1": {"55"}}, "snow", year(0), nil},
		{"all back", snow, url.Values{"reset": {"all"}, "loss-soiling": {"9"}}, "soiling", year(2), nil},
	} {
		got, problems := readYieldForm(c.from, c.form)
		if at(got, c.id) != c.want {
			t.Errorf("%s: %s is %v, want %v", c.name, c.id, at(got, c.id), c.want)
		}
		text := strings.Join(problems, "\n")
		if len(problems) != len(c.problems) {
			t.Errorf("%s: problems %q, want %q", c.name, problems, c.problems)
			continue
		}
		for _, p := range c.problems {
			if !strings.Contains(text, p) {
				t.Errorf("%s: problems %q lack %q", c.name, problems, p)
			}
		}
	}
}

// A line of one's own is added with its name, side and value, and removed again;
// the usual ones stay.
func TestOwnLossLines(t *testing.T) {
	usual := gableDoc().Yield
	add := func(label, pct, side string) url.Values {
		return url.Values{"own-label": {label}, "own-pct": {pct}, "own-side": {side}}
	}
	with, problems := readYieldForm(usual, add(" Trees in leaf ", "2,5", "ac"))
	if len(problems) > 0 || len(with.Losses) != len(usual.Losses)+1 {
		t.Fatalf("%d lines, problems %q", len(with.Losses), problems)
	}
	own := with.Losses[len(usual.Losses)]
	if own.Label != "Trees in leaf" || own.MonthlyPct[0] != 2.5 || own.MonthlyPct[11] != 2.5 || own.Side != "ac" {
		t.Errorf("added %+v", own)
	}
	doc := gableDoc()
	if doc.Yield = with; len(doc.Validate()) > 0 {
		t.Error(doc.Validate())
	}
	again, problems := readYieldForm(with, add("Pollen", "1", "dc"))
	if len(problems) > 0 || again.Losses[len(again.Losses)-1].ID == own.ID {
		t.Errorf("a second line: %+v, %q", again.Losses, problems)
	}
	less, problems := readYieldForm(again, url.Values{"remove": {own.ID}})
	if len(problems) > 0 || len(less.Losses) != len(again.Losses)-1 || less.Losses[len(less.Losses)-1].Label != "Pollen" {
		t.Errorf("after removing: %+v, %q", less.Losses, problems)
	}
	if kept, _ := readYieldForm(usual, url.Values{"remove": {"soiling"}}); len(kept.Losses) != len(usual.Losses) {
		t.Error("a usual line was removed")
	}
	full := usual
	for i := len(full.Losses); i < project.MaxLossLines; i++ {
		full.Losses = append(slices.Clone(full.Losses), project.LossLine{ID: "own_" + strconv.Itoa(i), Label: "Line " + strconv.Itoa(i), Side: "dc"})
	}
	for _, c := range []struct {
		from project.YieldTerms
		form url.Values
		want string
	}{
		{usual, add("", "2", "dc"), "A loss of your own: what is lost has 0 characters; it must have from 1 to 60."},
		{usual, add(strings.Repeat("é", 61), "2", "dc"), "A loss of your own: what is lost has 61 characters; it must have from 1 to 60."},
		{usual, add("Pollen", "", "dc"), "A loss of your own, all year: type a number from -10 to 100."},
		{usual, add("Pollen", "much", "dc"), "A loss of your own, all year: “much” is not a plain number"},
		{usual, add("Pollen", "101", "dc"), "A loss of your own, all year: is 101; it must be from -10 to 100."},
		{usual, add("dirt on the glass", "1", "dc"), "A loss of your own: “dirt on the glass” is a line already"},
		{full, add("Pollen", "1", "dc"), "A loss of your own: there are 20 lines, as many as there may be."},
	} {
		got, problems := readYieldForm(c.from, c.form)
		if len(problems) != 1 || !strings.HasPrefix(problems[0], c.want) || len(got.Losses) != len(c.from.Losses) {
			t.Errorf("%v: %q, want %q", c.form, problems, c.want)
		}
	}
	// A line may be called what a month of another one might be.
	odd := usual
	odd.Losses = append(slices.Clone(odd.Losses), project.LossLine{ID: "own", Label: "One", Side: "dc"}, project.LossLine{ID: "own-1", Label: "Two", Side: "dc", MonthlyPct: own.MonthlyPct})
	if got, problems := readYieldForm(odd, formOf(odd)); len(problems) > 0 || !reflect.DeepEqual(got, odd) {
		t.Errorf("saved unchanged: %+v, %q", got.Losses, problems)
	}
}

// formOf is what a browser sends of the page's form when nothing is edited.
func formOf(y project.YieldTerms) url.Values {
	out := url.Values{}
	for _, l := range y.Losses {
		f := newLossField(l)
		out.Set("loss-"+l.ID, f.Value)
		for m, v := range f.Months {
			out.Set(lossName(l.ID, m), v)
		}
	}
	return out
}

// A refused line of one's own still stands in the form; one that is kept can be removed.
func TestOwnLossOnThePage(t *testing.T) {
	doc := gableDoc()
	s, _ := yieldServer(t, doc)
	post := func(form url.Values) *httptest.ResponseRecorder {
		form.Set("version", "1")
		return ask(t, s, "POST", "/projects/p1/yield", form)
	}
	w := post(url.Values{"own-label": {"Trees <in> leaf"}, "own-pct": {"101"}, "own-side": {"ac"}})
	if w.Code != http.StatusUnprocessableEntity {
		t.Fatalf("status %d", w.Code)
	}
	expectText(t, w.Body.String(), []string{
		`value="Trees &lt;in&gt; leaf"`, `value="101" aria-invalid="true"`, `<option value="ac" selected>`, "A loss of your own, all year: is 101",
		`data-testid="refused"`, "1 entry has to be put right",
	}, []string{`leaf" aria-invalid`})
	doc.Yield.Losses = append(doc.Yield.Losses, project.LossLine{ID: "own_1", Label: "Pollen", Side: "dc"})
	s, _ = yieldServer(t, doc)
	page := ask(t, s, "GET", "/projects/p1/yield?wait=long", nil).Body.String()
	expectText(t, page, []string{`name="remove" value="own_1"`, `aria-label="Remove Pollen"`}, []string{`name="remove" value="soiling"`, `data-testid="refused"`})
	w = post(url.Values{"remove": {"own_1"}, "albedo": {"7"}})
	expectText(t, w.Body.String(), []string{"Pollen was not removed; remove it again.", `name="remove" value="own_1"`}, nil)
}

func FuzzReadYieldForm(f *testing.F) {
	f.Add("3.5", "1", "0.2")
	f.Add("-", "--1", "1e3")
	f.Fuzz(func(t *testing.T, year, month, albedo string) {
		doc := gableDoc()
		terms, problems := readYieldForm(doc.Yield, url.Values{"loss-soiling": {year}, "loss-snow.2": {month}, "albedo": {albedo}})
		if len(problems) > 0 {
			return
		}
		doc.Yield = terms
		if left := doc.Validate(); len(left) > 0 {
			t.Errorf("%q, %q, %q passed the form and not the document: %v", year, month, albedo, left)
		}
	})
}

func TestGetYield(t *testing.T) {
	none := gableDoc()
	none.Planes = nil
	bare := gableDoc()
	bare.Candidates = nil
	feet := gableDoc()
	feet.Site.Units = "imperial"
	for _, c := range []struct {
		name, query string
		doc         project.Document
		has, lack   []string
	}{
		{"in feet", "?worths=1", feet, []string{"120 kWh if cut to 22&#39;-11 5/8", "12 km (7.5 mi)", "310 m (1017 ft)"}, []string{"7.00 m"}},
		{"the chosen one", "", gableDoc(), []string{"11\u202f276", "Option <span class=\"letter letter-A\">A</span> in full", "12 km away",
			"310 m higher", "not a promise for any one", "Work out what each is worth", "12 July"}, []string{`data-testid="worths"`, `data-testid="looking"`}},
		{"another", "?candidate=c", gableDoc(), []string{"Option <span class=\"letter letter-C\">C</span> in full", "/yield?candidate=a"}, nil},
		{"worths", "?candidate=b&worths=1", gableDoc(), []string{`data-testid="worths"`, "212", "120 kWh if cut to 7.00 m", "consent"}, []string{"Work out what each"}},
		{"no planes", "", none, []string{"Draw the roof"}, []string{"<table"}},
		{"no candidates", "", bare, []string{"Add candidates"}, []string{"<table"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := pageServer(t, c.doc)
			if missing(c.doc) == "" {
				s, _ = yieldServer(t, c.doc)
			}
			w := ask(t, s, "GET", "/projects/p1/yield"+c.query, nil)
			if w.Code != http.StatusOK {
				t.Fatalf("status %d", w.Code)
			}
			expectText(t, w.Body.String(), c.has, c.lack)
		})
	}
	s, _ := yieldServer(t, gableDoc())
	if w := ask(t, s, "GET", "/projects/gone/yield", nil); w.Code != http.StatusNotFound {
		t.Errorf("unknown project: status %d", w.Code)
	}
}

// A candidate without figures has no yield and says why; the others stay.
func TestYieldOfSome(t *testing.T) {
	s, kept := pageServer(t, gableDoc())
	y := cannedYield(t, kept.stored.Doc, cannedResult(t, kept.stored.Doc))
	y.Candidates[1] = project.CandidateYield{ID: "b", Letter: "B", Why: "The temperature coefficient is missing."}
	primeYield(t, s, kept.stored, y)
	expectText(t, ask(t, s, "GET", "/projects/p1/yield?candidate=b", nil).Body.String(),
		[]string{"Option B: The temperature coefficient is missing.", "not known", "11\u202f276"}, nil)
	expectText(t, ask(t, s, "GET", "/projects/p1/options", nil).Body.String(), []string{"Energy in year 1", "not known"}, nil)
	expectText(t, ask(t, s, "GET", "/projects/p1/proposal", nil).Body.String(), []string{"What it will yield", "The temperature coefficient is missing."}, nil)
}

// While a yield is being worked out the pages say so, show what they have, and
// stay of use.
func TestYieldBeingWorkedOut(t *testing.T) {
	s, _ := pageServer(t, gableDoc())
	for range cap(s.reckoner.yields.slots) {
		s.reckoner.yields.slots <- struct{}{} // others are at work
	}
	s.pageWait = yieldWait
	for path, has := range map[string][]string{
		"yield":    {"The yield is being worked out", "Stop and go to the options", "/projects/p1/yield?wait=long", "Dirt on the glass"},
		"options":  {"The yield is being worked out", "Rated power"},
		"proposal": {"The yield was still being worked out", "Garden side"},
	} {
		w := ask(t, s, "GET", "/projects/p1/"+path, nil)
		if w.Code != http.StatusOK {
			t.Errorf("%s: status %d", path, w.Code)
		}
		expectText(t, w.Body.String(), append(has, `data-testid="looking"`, "/static/js/sync/renew.js"), []string{"What it will yield", "Energy in year 1"})
	}
}

// What a page gave up waiting for goes on beside it and is done once; the page
// that asks again finds it.
func TestYieldGoesOnBesideItsPage(t *testing.T) {
	s, kept := pageServer(t, gableDoc())
	for range cap(s.reckoner.yields.slots) {
		s.reckoner.yields.slots <- struct{}{} // others are at work
	}
	if body := ask(t, s, "GET", "/projects/p1/yield", nil).Body.String(); !strings.Contains(body, "The yield is being worked out") {
		t.Fatal("the page waited for the yield")
	}
	<-s.reckoner.yields.slots // the others have done
	for deadline := time.Now().Add(bridge); ; time.Sleep(10 * time.Millisecond) {
		s.reckoner.yields.mu.Lock()
		done := len(s.reckoner.yields.byKey)
		s.reckoner.yields.mu.Unlock()
		if done == 1 {
			break
		}
		if time.Now().After(deadline) {
			t.Fatal("the yield was dropped with its page")
		}
	}
	s.reckoner.yields.slots <- struct{}{} // nothing more can be worked out
	body := ask(t, s, "GET", "/projects/p1/yield?wait=long", nil).Body.String()
	if strings.Contains(body, "The yield is being worked out") || !strings.Contains(body, kept.stored.Doc.Site.Label) {
		t.Error("the page does not find the yield")
	}
}

func TestPostYield(t *testing.T) {
	s, kept := yieldServer(t, gableDoc())
	w := ask(t, s, "POST", "/projects/p1/yield", url.Values{"version": {"3"}, "candidate": {"b"}, "loss-soiling": {"4"}, "sky": {string(energy.HayDavies)}})
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/projects/p1/yield?candidate=b" {
		t.Fatalf("status %d to %q", w.Code, w.Header().Get("Location"))
	}
	if got := kept.stored.Doc.Yield; got.Losses[0].MonthlyPct[5] != 4 || got.Sky != string(energy.HayDavies) || kept.stored.Version != 4 {
		t.Errorf("stored %+v at version %d", got, kept.stored.Version)
	}
}

func TestPostYieldRefuses(t *testing.T) {
	for _, c := range []struct {
		name   string
		form   url.Values
		status int
		has    []string
	}{
		{"a stale form", url.Values{"version": {"2"}, "loss-soiling": {"4"}}, http.StatusConflict, []string{"not saved yet", `value="4"`}},
		{"a bad number", url.Values{"version": {"3"}, "loss-soiling": {"lots"}}, http.StatusUnprocessableEntity, []string{"Dirt on the glass: “lots”", `value="lots"`, `aria-invalid="true"`}},
		{"an unknown sky", url.Values{"version": {"3"}, "sky": {"cloudy"}}, http.StatusUnprocessableEntity, []string{"yield.sky"}},
		{"no version", url.Values{"loss-soiling": {"4"}}, http.StatusBadRequest, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, kept := yieldServer(t, gableDoc())
			w := ask(t, s, "POST", "/projects/p1/yield", c.form)
			if w.Code != c.status {
				t.Fatalf("status %d, want %d", w.Code, c.status)
			}
			expectText(t, w.Body.String(), c.has, nil)
			if kept.saves != 0 {
				t.Error("it was saved")
			}
		})
	}
	// A stale form that would change nothing is no conflict.
	s, kept := yieldServer(t, gableDoc())
	if w := ask(t, s, "POST", "/projects/p1/yield", url.Values{"version": {"2"}, "loss-soiling": {"2"}}); w.Code != http.StatusSeeOther {
		t.Errorf("an unchanged stale form: status %d", w.Code)
	}
	kept.meanwhile = &project.Stored{ID: "p1", Version: 9, Doc: gableDoc()}
	s.results.keep(resultKey{"p1", 9}, cannedResult(t, gableDoc()))
	if w := ask(t, s, "POST", "/projects/p1/yield", url.Values{"version": {strconv.Itoa(kept.stored.Version)}, "loss-soiling": {"7"}}); w.Code != http.StatusConflict {
		t.Errorf("saved by another meanwhile: status %d", w.Code)
	}
}

// TestYieldPrints prints the proposal with its yield: no sheet is cut, and none is
// left with a few lines.
func TestYieldPrints(t *testing.T) {
	needTools(t)
	five := gableDoc()
	for i, c := range five.Candidates[:2] {
		c.ID = "more-" + strconv.Itoa(i)
		five.Candidates = append(five.Candidates, c)
	}
	for _, c := range []struct {
		name, paper string
		doc         project.Document
		pages       int
	}{
		{"three on A4", "a4", gableDoc(), 10}, {"three on Letter", "letter", gableDoc(), 10}, {"five on Letter", "letter", five, 10},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := yieldServer(t, c.doc)
			pages := printedBy(t, s, "/projects/p1/proposal?paper="+c.paper)
			if len(pages) != c.pages {
				t.Errorf("%d pages, want %d", len(pages), c.pages)
			}
			checkPages(t, pages)
			for i, head := range []string{"The options compared", "What it will yield", "From sunlight to alternating current", "A hot day and a dull one"} {
				if i+1 >= len(pages) || !strings.Contains(pages[i+1], head) {
					t.Errorf("page %d lacks %q", i+2, head)
				} else if n := len(strings.Fields(pages[i+1])); n < 90 {
					t.Errorf("page %d, %q, has %d words only", i+2, head, n)
				}
			}
			expectText(t, strings.Join(pages, "\n"), []string{"kWh in year 1", "not a promise for any one", "guaranteed"}, nil)
		})
	}
}
