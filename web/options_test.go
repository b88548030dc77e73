package web

import (
	"bytes"
	"context"
	"flag"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/a-h/templ"

	"rooftally/catalog"
	"rooftally/project"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares a view with its file, or writes the file with -update.
func golden(t *testing.T, name string, view templ.Component) {
	t.Helper()
	var got bytes.Buffer
	if err := view.Render(context.Background(), &got); err != nil {
		t.Fatal(err)
	}
	// One element a line, so that a change reads as a change.
	text := []byte(strings.ReplaceAll(got.String(), "><", ">\n<") + "\n")
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(text, want) {
		t.Errorf("%s differs from the view; look at the change, then run the test with -update", path)
	}
}

// oneProject is a place that keeps a single project at some version.
type oneProject struct {
	Projects
	stored project.Stored
	saves  int
	// meanwhile, if set, replaces the stored project just before a save.
	meanwhile *project.Stored
}

func (p *oneProject) Get(_ context.Context, id string) (project.Stored, error) {
	if id != p.stored.ID {
		return project.Stored{}, project.ErrNotFound
	}
	return p.stored, nil
}

func (p *oneProject) Save(_ context.Context, _ string, base int, doc project.Document) (int, error) {
	if p.meanwhile != nil {
		p.stored = *p.meanwhile
	}
	if base != p.stored.Version {
		return 0, &project.StaleError{Current: p.stored}
	}
	p.stored.Doc, p.stored.Version = doc, base+1
	p.saves++
	return p.stored.Version, nil
}

// pageServer serves one canned project without the engine: its results are
// already in the cache.
func pageServer(t *testing.T, doc project.Document) (*server, *oneProject) {
	t.Helper()
	kept := &oneProject{stored: project.Stored{ID: "p1", Version: 3, Doc: doc}}
	evaluator := project.NewEvaluator()
	s := &server{projects: kept, now: fixtureNow, evaluator: evaluator, results: newResultCache(evaluator), pageWait: time.Second,
		catalog: newFakeCatalog(), weather: newFakeWeather(), reckoner: newReckoner(), log: discardLog()}
	if missing(doc) == "" {
		s.results.keep(resultKey{"p1", 3}, cannedResult(t, doc))
	}
	return s, kept
}

func TestParseKW(t *testing.T) {
	for _, c := range []struct {
		typed string
		watts int
		err   error
	}{
		{"5.7", 5700, nil}, // floating point makes 5699.999...
		{"5,7", 5700, nil},
		{" 6.5 kWdc ", 6500, nil},
		{"6.5 kWp", 6500, nil},
		{"0.001", 1, nil},
		{".5", 500, nil},
		{"8", 8000, nil},
		{"8.", 8000, nil},
		{"1.2300", 1230, nil},
		{"00007.1", 7100, nil},
		{"10000", 10_000_000, nil},
		{"10000.001", 0, errKWRange},
		{"123456", 0, errKWRange},
		{"0", 0, errKWRange},
		{"0.0004", 0, errKWFine},
		{"5.7005", 0, errKWFine},
		{"", 0, errKWEmpty},
		{"kW", 0, errKWEmpty},
		{".", 0, errKWForm},
		{"-3", 0, errKWForm},
		{"1e3", 0, errKWForm},
		{"1.2.3", 0, errKWForm},
		{"٣", 0, errKWForm},
	} {
		watts, err := parseKW(c.typed)
		if watts != c.watts || err != c.err {
			t.Errorf("parseKW(%q) = %d, %v; want %d, %v", c.typed, watts, err, c.watts, c.err)
		}
	}
}

func FuzzParseKW(f *testing.F) {
	f.Add("5.7")
	f.Add("0,001 kWp")
	f.Fuzz(func(t *testing.T, typed string) {
		watts, err := parseKW(typed)
		if err != nil {
			return
		}
		again, err := parseKW(kwText(watts))
		if err != nil || again != watts {
			t.Errorf("%q made %d W, shown as %s, read as %d, %v", typed, watts, kwText(watts), again, err)
		}
	})
}

func TestKWText(t *testing.T) {
	for watts, want := range map[int]string{0: "0.00", 5: "0.005", 340: "0.34", 5700: "5.70", 5415: "5.415", 12000: "12.00"} {
		if got := kwText(watts); got != want {
			t.Errorf("kwText(%d) = %s, want %s", watts, got, want)
		}
	}
}

func TestLengthText(t *testing.T) {
	for _, c := range []struct {
		m        float64
		imperial bool
		want     string
	}{
		{10, false, "10.00 m"},
		{-0.001, false, "0.00 m"},
		{0.3048, true, `1'-0"`}, // one foot by definition
		{10, true, `32'-9 3/4"`},
		{0.3048 - 0.0001, true, `1'-0"`}, // rounds up to the foot, never 12 inches
		{0.0254 / 8, true, `0'-0 1/8"`},
		{15*0.3048 + 3*0.0254/8, true, `15'-0 3/8"`},
	} {
		if got := lengthText(c.m, c.imperial); got != c.want {
			t.Errorf("lengthText(%v, %v) = %s, want %s", c.m, c.imperial, got, c.want)
		}
	}
}

func TestUnits(t *testing.T) {
	feet := units{imperial: true}
	for got, want := range map[string]string{
		feet.area(100):              "1076", // 100 m2 = 1076.39 ft2
		feet.density(200):           "18.58",
		feet.moduleSize(1.7, 1):     "66 7/8 × 39 3/8 in",
		units{}.moduleSize(1.7, 1):  "1700 × 1000 mm",
		units{}.density(200):        "200.0",
		bearingText(359.9):          "359.9° (N)",
		bearingText(225):            "225° (SW)",
		degrees(-89.9, "E", "W"):    "89.9000° W",
		andList([]string{"A", "B"}): "A and B",
	} {
		if got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

// made is a candidate that fills the roof with count modules of pmaxW.
func made(letter string, count, pmaxW int) project.CandidateResult {
	return project.CandidateResult{Letter: letter, PmaxW: pmaxW, Fill: project.LayoutResult{Count: count, PdcW: count * pmaxW}}
}

// sized is the same asked to meet sizeW.
func sized(letter string, count, pmaxW, sizeW int) project.CandidateResult {
	c := made(letter, count, pmaxW)
	need := (sizeW + pmaxW - 1) / pmaxW
	n := min(need, count)
	c.Size = &project.SizeResult{Need: need, Fits: count >= need, Layout: project.LayoutResult{Count: n, PdcW: n * pmaxW}}
	return c
}

func TestDeciding(t *testing.T) {
	shaded := made("B", 10, 400)
	shaded.Fill.InShade = 4
	for _, c := range []struct {
		name string
		mode string
		size int
		all  []project.CandidateResult
		want string
	}{
		{"one best", "fill", 0, []project.CandidateResult{made("A", 20, 340), made("B", 18, 400), made("C", 14, 445)},
			"Option B makes the most, 7.20 kWdc: 0.40 kWdc more than A, with 2 fewer modules."},
		{"more modules", "fill", 0, []project.CandidateResult{made("A", 22, 340), made("B", 18, 400)},
			"Option A makes the most, 7.48 kWdc: 0.28 kWdc more than B, with 4 more modules."},
		{"as many", "fill", 0, []project.CandidateResult{made("A", 10, 340), made("B", 10, 400)},
			"Option B makes the most, 4.00 kWdc: 0.60 kWdc more than A, with as many modules."},
		{"tie", "fill", 0, []project.CandidateResult{made("A", 20, 360), made("B", 18, 400), made("C", 2, 400)},
			"Options A and B tie at 7.20 kWdc. B does it with the fewest modules, 18."},
		{"tie with as many", "fill", 0, []project.CandidateResult{made("A", 18, 400), made("B", 18, 400)},
			"Options A and B tie at 7.20 kWdc."},
		{"shade is said", "fill", 0, []project.CandidateResult{made("A", 10, 300), shaded},
			"Option B makes the most, 4.00 kWdc: 1.00 kWdc more than A, with as many modules. 4 of the 10 modules of B are in shade."},
		{"alone", "fill", 0, []project.CandidateResult{made("A", 1, 400)},
			"Option A makes 0.40 kWdc with 1 module. There is no other option to compare it with."},
		{"nothing fits", "fill", 0, []project.CandidateResult{made("A", 0, 400), made("B", 0, 300)},
			"No module fits on the roof as it is drawn."},
		// Common practice, no source: 4.8 kWdc takes 19, 17 and 15 modules.
		{"size met", "size", 4800, []project.CandidateResult{sized("A", 20, 255, 4800), sized("B", 20, 285, 4800), sized("C", 20, 320, 4800)},
			"4.80 kWdc takes 15 modules of C; 19 of A and 17 of B."},
		{"size met by one", "size", 4800, []project.CandidateResult{sized("A", 10, 255, 4800), sized("C", 20, 320, 4800)},
			"4.80 kWdc takes 15 modules of C. The roof does not hold enough of A (10 of 19)."},
		{"size met alike", "size", 4000, []project.CandidateResult{sized("A", 10, 400, 4000), sized("B", 12, 410, 4000)},
			"4.00 kWdc takes 10 modules of A or B."},
		{"size out of reach", "size", 9000, []project.CandidateResult{sized("A", 10, 255, 9000), sized("B", 10, 320, 9000)},
			"No option reaches 9.00 kWdc on this roof; B comes nearest with 3.20 kWdc."},
		{"size on nothing", "size", 9000, []project.CandidateResult{sized("A", 0, 255, 9000)},
			"No module fits on the roof as it is drawn."},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc := project.Document{Target: project.Target{Mode: c.mode, SizeW: c.size}}
			if got := deciding(doc, project.Result{Candidates: c.all}, unitsOf(doc.Site)); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

func TestMarkBest(t *testing.T) {
	for _, c := range []struct {
		name  string
		beats better
		shown []string
		want  string // one letter a cell: b best, t tie of the best, = tie of all, . none
	}{
		{"highest", highest, []string{"1.00", "3.00", "2.00"}, ".b."},
		{"lowest", lowest, []string{"15", "19", "17"}, "b.."},
		{"two tie", highest, []string{"3.00", "3.00", "2.00"}, "tt."},
		{"all tie", highest, []string{"3.00", "3.00", "3.00"}, "==="},
		{"alone", highest, []string{"3.00"}, "."},
	} {
		t.Run(c.name, func(t *testing.T) {
			var cells []compareCell
			for _, s := range c.shown {
				cells = append(cells, cell(s))
			}
			markBest(cells, c.beats, func(i int) float64 {
				v, err := strconv.ParseFloat(c.shown[i], 64)
				if err != nil {
					t.Fatal(err)
				}
				return v
			})
			got := ""
			for _, cell := range cells {
				switch {
				case cell.Best && cell.Tie:
					got += "t"
				case cell.Best:
					got += "b"
				case cell.Tie:
					got += "="
				default:
					got += "."
				}
			}
			if got != c.want {
				t.Errorf("marks %s, want %s", got, c.want)
			}
		})
	}
}

func TestMarkKnown(t *testing.T) {
	filled := func(planes ...project.PlaneLayoutResult) project.CandidateResult {
		return project.CandidateResult{Fill: project.LayoutResult{ByPlane: planes}}
	}
	two := 2
	doc := project.Document{Planes: []project.Plane{{ID: "p", ModuleLimit: &two}, {ID: "q"}}}
	res := project.Result{Candidates: []project.CandidateResult{
		filled(project.PlaneLayoutResult{PlaneID: "p", Count: 4, Bound: 4, Proved: true}, project.PlaneLayoutResult{PlaneID: "q", Count: 3, Bound: 5}),
		// held at a module limit: the bound was reached, the count is lower
		filled(project.PlaneLayoutResult{PlaneID: "p", Count: 2, Bound: 4, Proved: true}, project.PlaneLayoutResult{PlaneID: "q"}),
		filled(project.PlaneLayoutResult{PlaneID: "p", Count: 4, Bound: 4, Proved: true}, project.PlaneLayoutResult{PlaneID: "q", Count: 5, Bound: 5, Proved: true}),
		// placed by hand: the bound says nothing of it
		filled(project.PlaneLayoutResult{PlaneID: "p", Count: 4, Bound: 4, Proved: true}, project.PlaneLayoutResult{PlaneID: "q", Count: 1, Bound: 5, Hand: "by_hand"}),
	}}
	for id, want := range map[string][4]string{
		"p":    {"proved", "", "proved", "proved"},
		"q":    {"at most 5", "", "proved", ""},
		"":     {"at most 9", "", "proved", ""},
		"gone": {},
	} {
		cells := make([]compareCell, 4)
		markKnown(cells, doc, res, id)
		if got := [4]string{cells[0].Known, cells[1].Known, cells[2].Known, cells[3].Known}; got != want {
			t.Errorf("plane %q is known as %q, want %q", id, got, want)
		}
	}
}

func TestOptionsGolden(t *testing.T) {
	s, kept := pageServer(t, gableDoc())
	golden(t, "options_gable.html", optionsMain(newOptionsView(kept.stored, s.mustResult(t, kept.stored), s.mustBuild(t, kept.stored))))

	doc := gableDoc()
	doc.Site.RuleFamily, doc.Target = "iec", project.Target{Mode: "size", SizeW: 5700, Chosen: "b"}
	s, kept = pageServer(t, doc)
	golden(t, "options_size_iec.html", optionsMain(newOptionsView(kept.stored, s.mustResult(t, kept.stored), s.mustBuild(t, kept.stored))))
}

func (s *server) mustResult(t *testing.T, p project.Stored) project.Result {
	t.Helper()
	res, isDeep, err := s.evaluate(t.Context(), p, time.Second)
	if err != nil || !isDeep {
		t.Fatalf("deep %v, %v", isDeep, err)
	}
	return res
}

// mustBuild is what it takes to build that result.
func (s *server) mustBuild(t *testing.T, p project.Stored) project.BuildResult {
	t.Helper()
	return builtOf(t, p.Doc, s.mustResult(t, p))
}

// builtOf builds a result with the demo's inverters.
func builtOf(t *testing.T, doc project.Document, res project.Result) project.BuildResult {
	t.Helper()
	built, err := project.Build(t.Context(), doc, res, catalog.DemoInverters())
	if err != nil {
		t.Fatal(err)
	}
	return built
}

func TestOptionsPage(t *testing.T) {
	noPlanes, noCandidates, size := gableDoc(), gableDoc(), gableDoc()
	noPlanes.Planes = nil
	noCandidates.Candidates = nil
	size.Target = project.Target{Mode: "size", SizeW: 6000, Chosen: "c"}
	feet := gableDoc()
	feet.Site.Units = "imperial"
	for _, c := range []struct {
		name      string
		doc       project.Document
		has, lack []string
	}{
		{"fill", gableDoc(), []string{`data-testid="option-C"`, "W/m²", "kWdc", "proved", "in shade", "Choose for the proposal", "invented demo data"}, []string{"Modules needed", "kWp", "style="}},
		{"meet a size", size, []string{"Modules needed", `value="6"`, "14 modules of C", "They fit"}, []string{"proved</span>"}},
		{"feet", feet, []string{"W/ft²", "ft²"}, []string{"W/m²"}},
		{"no planes", noPlanes, []string{"Draw the roof", `href="/projects/p1"`}, []string{"<table", "Choose for"}},
		{"no candidates", noCandidates, []string{"Add candidates", `href="/projects/p1"`}, []string{"<table"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := pageServer(t, c.doc)
			w := ask(t, s, "GET", "/projects/p1/options", nil)
			if w.Code != http.StatusOK {
				t.Fatalf("status %d", w.Code)
			}
			expectText(t, w.Body.String(), c.has, c.lack)
		})
	}
}

func TestPostTarget(t *testing.T) {
	for _, c := range []struct {
		name   string
		form   url.Values
		status int
		want   project.Target
		has    []string
	}{
		{"meet a size", url.Values{"version": {"3"}, "mode": {"size"}, "size_kw": {"5.7"}}, http.StatusSeeOther, project.Target{Mode: "size", SizeW: 5700}, nil},
		{"fill", url.Values{"version": {"3"}, "mode": {"fill"}}, http.StatusSeeOther, project.Target{Mode: "fill"}, nil},
		{"choose", url.Values{"version": {"3"}, "chosen": {"b"}}, http.StatusSeeOther, project.Target{Mode: "fill", Chosen: "b"}, nil},
		{"bad size", url.Values{"version": {"3"}, "mode": {"size"}, "size_kw": {"six"}}, http.StatusUnprocessableEntity, project.Target{Mode: "fill"}, []string{"plain number", `value="six"`}},
		{"bad mode", url.Values{"version": {"3"}, "mode": {"both"}}, http.StatusUnprocessableEntity, project.Target{Mode: "fill"}, nil},
		{"unknown candidate", url.Values{"version": {"3"}, "chosen": {"z"}}, http.StatusUnprocessableEntity, project.Target{Mode: "fill"}, []string{"no longer in the project"}},
		{"stale", url.Values{"version": {"2"}, "mode": {"size"}, "size_kw": {"5.7"}}, http.StatusConflict, project.Target{Mode: "fill"}, []string{`data-testid="stale"`, "version 3", `value="5.7"`}},
		{"no version", url.Values{"mode": {"fill"}}, http.StatusBadRequest, project.Target{Mode: "fill"}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, kept := pageServer(t, gableDoc())
			w := ask(t, s, "POST", "/projects/p1/options", c.form)
			if w.Code != c.status {
				t.Fatalf("status %d, want %d: %s", w.Code, c.status, w.Body)
			}
			if kept.stored.Doc.Target != c.want {
				t.Errorf("target %+v, want %+v", kept.stored.Doc.Target, c.want)
			}
			expectText(t, w.Body.String(), c.has, nil)
		})
	}
}

func TestPostStyle(t *testing.T) {
	for _, c := range []struct {
		name, before string
		form         url.Values
		status       int
		want         string // the style kept
		location     string
	}{
		{"take most modules", "rows", url.Values{"version": {"3"}, "style": {"best"}}, http.StatusSeeOther, "best", "/projects/p1/options?before=rows"},
		{"from columns", "columns", url.Values{"version": {"3"}, "style": {"best"}}, http.StatusSeeOther, "best", "/projects/p1/options?before=columns"},
		{"and back", "best", url.Values{"version": {"3"}, "style": {"columns"}}, http.StatusSeeOther, "columns", "/projects/p1/options"},
		{"no such style", "rows", url.Values{"version": {"3"}, "style": {"spiral"}}, http.StatusUnprocessableEntity, "rows", ""},
		{"stale", "rows", url.Values{"version": {"2"}, "style": {"best"}}, http.StatusConflict, "rows", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc := gableDoc()
			doc.Rules.Style = c.before
			s, kept := pageServer(t, doc)
			w := ask(t, s, "POST", "/projects/p1/options", c.form)
			if w.Code != c.status || w.Header().Get("Location") != c.location {
				t.Errorf("status %d to %q, want %d to %q", w.Code, w.Header().Get("Location"), c.status, c.location)
			}
			if got := kept.stored.Doc.Rules.Style; got != c.want {
				t.Errorf("style %s, want %s", got, c.want)
			}
		})
	}
}

func TestTheWayBackFromMostModules(t *testing.T) {
	doc := gableDoc()
	doc.Rules.Style = "best"
	for query, want := range map[string]string{"": "Back to rows", "?before=grid": "Back to one grid", "?before=spiral": "Back to rows", "?before=best": "Back to rows"} {
		s, _ := pageServer(t, doc)
		expectText(t, ask(t, s, "GET", "/projects/p1/options"+query, nil).Body.String(), []string{want}, []string{"Take most modules"})
	}
}

// offeredResult is a canned result in which most modules add something for B,
// and in which A has modules placed by hand, one where it is not allowed.
func offeredResult(t *testing.T, doc project.Document) project.Result {
	t.Helper()
	res := cannedResult(t, doc)
	res.Candidates[1].Offer = &project.OfferResult{Style: "best", More: 2, PdcW: res.Candidates[1].Fill.PdcW + 800, RailRuns: 3, Blocks: 2, Turns: 2}
	south := &res.Candidates[0].Fill.ByPlane[0]
	south.Hand = "by_hand"
	south.Refused = []project.RefusedModule{{Index: 4, Why: "keep_out", With: "chimney"}}
	return res
}

func TestOffersAndHandsOnTheOptionsPage(t *testing.T) {
	doc := gableDoc()
	res := offeredResult(t, doc)
	view := newOptionsView(project.Stored{ID: "p1", Version: 3, Doc: doc}, res, builtOf(t, doc, res))
	var page strings.Builder
	if err := optionsMain(view).Render(t.Context(), &page); err != nil {
		t.Fatal(err)
	}
	expectText(t, page.String(), []string{
		"instead of rows", "B +2 modules, 3 more rail runs, two orientations", "Take most modules",
		"Garden side: placed by hand.",
		"Garden side: module 5 of those placed by hand is not allowed, on K1 Chimney or its clearance. It is not counted and must not be built.",
	}, []string{"A +", "Back to"})
}

func TestNothingIsSaidOfAnOfferThatAddsNothing(t *testing.T) {
	s, _ := pageServer(t, gableDoc())
	expectText(t, ask(t, s, "GET", "/projects/p1/options", nil).Body.String(), []string{"Rail runs", "Blocks", "Orientations"}, []string{"most modules", "still going on"})
}

func TestAPageSaysThatTheSearchGoesOn(t *testing.T) {
	s, kept := pageServer(t, smallDoc())
	kept.stored.Version, s.pageWait = 4, time.Millisecond // a version without a result
	for range deepAtOnce {
		s.results.slots <- struct{}{}
	}
	pages := []string{"/projects/p1/options", "/projects/p1/proposal"}
	for _, path := range pages {
		expectText(t, ask(t, s, "GET", path, nil).Body.String(), []string{`data-testid="looking"`, "sync/renew.js", "quick counts", `href="` + path}, nil)
	}
	for range deepAtOnce {
		<-s.results.slots
	}
	for _, path := range pages {
		expectText(t, ask(t, s, "GET", path+"?wait=long", nil).Body.String(), nil, []string{"looking", "renew.js", "quick counts"})
	}
}

// A save that loses the race after the version was looked at changes nothing
// and shows what is kept now.
func TestPostTargetRace(t *testing.T) {
	s, kept := pageServer(t, gableDoc())
	newer := kept.stored
	newer.Version = 4
	newer.Doc.Site.Label = "Renamed meanwhile"
	kept.meanwhile = &newer
	s.results.keep(resultKey{"p1", 4}, cannedResult(t, newer.Doc))
	w := ask(t, s, "POST", "/projects/p1/options", url.Values{"version": {"3"}, "chosen": {"b"}})
	if w.Code != http.StatusConflict || kept.saves != 0 || kept.stored.Version != 4 {
		t.Fatalf("status %d, %d saves, version %d", w.Code, kept.saves, kept.stored.Version)
	}
	expectText(t, w.Body.String(), []string{"Renamed meanwhile", "version 4", `name="version" value="4"`}, nil)
}

// ask sends one request through the routes of these pages.
func ask(t *testing.T, s *server, method, path string, form url.Values) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(method, "http://localhost"+path, strings.NewReader(form.Encode()))
	if form != nil {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	w := httptest.NewRecorder()
	s.log = discardLog()
	s.hosts = hostSet(nil)
	s.routes().ServeHTTP(w, r)
	return w
}

func discardLog() *slog.Logger { return slog.New(slog.DiscardHandler) }

func expectText(t *testing.T, body string, has, lack []string) {
	t.Helper()
	for _, h := range has {
		if !strings.Contains(body, h) {
			t.Errorf("the page lacks %q", h)
		}
	}
	for _, l := range lack {
		if strings.Contains(body, l) {
			t.Errorf("the page has %q", l)
		}
	}
}
