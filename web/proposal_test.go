package web

import (
	"context"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"rooftally/project"
	"rooftally/static"
)

func TestChoosePaper(t *testing.T) {
	for _, c := range []struct{ asked, family, want string }{
		{"", "iec", "a4"}, {"", "nec", "letter"}, {"a4", "nec", "a4"}, {"letter", "iec", "letter"}, {"a0", "iec", "a4"},
	} {
		if got := choosePaper(c.asked, c.family).ID; got != c.want {
			t.Errorf("paper %q in the %s family is %s, want %s", c.asked, c.family, got, c.want)
		}
	}
}

// The date is the one at the site: 21:30 UTC is the next day in New Zealand.
func TestSiteDate(t *testing.T) {
	for offset, want := range map[float64]string{-6: "14 March 2026", 0: "14 March 2026", 12: "15 March 2026", 5.75: "15 March 2026"} {
		if got := siteDate(project.Site{UTCOffsetH: offset}, fixtureNow()); got != want {
			t.Errorf("UTC%+v: %s, want %s", offset, got, want)
		}
	}
}

func TestKWColumn(t *testing.T) {
	if got := strings.Join(kwColumn([]int{5415, 400, 0}), " "); got != "5.415 0.400 0.000" {
		t.Error(got)
	}
	if got := strings.Join(kwColumn([]int{5410, 400}), " "); got != "5.41 0.40" {
		t.Error(got)
	}
}

// A label cannot end the string of the foot's rule.
func TestCSSString(t *testing.T) {
	for text, want := range map[string]string{
		`a "b"; } body { x`: `"a \22 b\22 \3b  \7d  body \7b  x"`,
		"one\ntwo\\":        `"one two\5c "`,
		"Straße 5":          `"Stra\df e 5"`,
	} {
		if got := cssString(text); got != want {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
	}
}

func TestClipText(t *testing.T) {
	if got := clipText("Haus am Birkenweg", 9); got != "Haus am…" {
		t.Error(got)
	}
	if got := clipText("Haus", 4); got != "Haus" {
		t.Error(got)
	}
}

func TestProposalGolden(t *testing.T) {
	doc := gableDoc()
	doc.Target.Chosen = "b"
	s, kept := pageServer(t, doc)
	view := newProposalView(kept.stored, s.mustResult(t, kept.stored), s.mustBuild(t, kept.stored), choosePaper("", "nec"), fixtureNow())
	golden(t, "proposal_gable.html", proposalMain(view))
}

func TestProposalPage(t *testing.T) {
	size, iec, none, bare := gableDoc(), gableDoc(), manyDoc(1, 1, 1), gableDoc()
	size.Target = project.Target{Mode: "size", SizeW: 20000, Chosen: "b"}
	iec.Site.RuleFamily = "iec"
	bare.Planes = nil
	unused := gableDoc()
	unused.Planes[1].Use = false
	plain := gableDoc()
	plain.Site.Invented = false
	plain.Site.Label = `<script>alert("x")</script>`
	for i := range plain.Candidates {
		plain.Candidates[i].Invented, plain.Candidates[i].Label = false, ""
	}
	for _, c := range []struct {
		name, query string
		doc         project.Document
		has, lack   []string
	}{
		{"fill", "", gableDoc(), []string{"14 March 2026", "10.88", "1:75 on Letter", "Stay off the roof", "cannot be switched off", "Never cover a flue",
			"licensed engineer", "authority having jurisdiction", "judged by eye", "until the roof is measured", "K1", "300 mm", "A, B and C are invented"},
			[]string{"kWp", "style=", "<style"}},
		{"A4 asked for", "?paper=a4", gableDoc(), []string{"on A4", "proposal.css?paper=a4"}, []string{"on Letter"}},
		{"iec", "", iec, []string{"kWp", "on A4"}, []string{"kWdc"}},
		{"size out of reach", "", size, []string{"Needs 50 modules", "Only 32 fit: 18 too few", "50, too few fit"}, nil},
		{"no module", "", none, []string{"No module fits"}, []string{"NaN"}},
		{"unused plane", "", unused, []string{"not used"}, nil},
		{"real data", "", plain, []string{"&lt;script&gt;"}, []string{"invented", "<script>alert"}},
		{"no planes", "", bare, []string{"Draw the roof"}, []string{`class="sheet"`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := pageServer(t, c.doc)
			w := ask(t, s, "GET", "/projects/p1/proposal"+c.query, nil)
			if w.Code != http.StatusOK {
				t.Fatalf("status %d", w.Code)
			}
			expectText(t, w.Body.String(), c.has, c.lack)
		})
	}
}

func TestOffersAndHandsInTheProposal(t *testing.T) {
	doc := gableDoc()
	sheet := choosePaper("", "nec")
	page := func(chosen string) string {
		doc.Target.Chosen = chosen
		var out strings.Builder
		res := offeredResult(t, doc)
		view := newProposalView(project.Stored{ID: "p1", Version: 3, Doc: doc}, res, builtOf(t, doc, res), sheet, fixtureNow())
		if err := proposalMain(view).Render(t.Context(), &out); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	expectText(t, page("b"), []string{
		"4\u00a0rail\u00a0runs, 2\u00a0blocks, one\u00a0orientation",
		"Set for most modules instead of rows, the roof would hold 34 modules, 13.60 kWdc (+2 modules, 3 more rail runs, two orientations).",
		"No arrangement square to the eaves can hold more than 36 of these modules; 32 are the most found in rows.",
	}, []string{"by hand", "must not be built"})
	expectText(t, page("a"), []string{
		"Garden side: placed by hand.",
		"module 5 of those placed by hand is not allowed, on K1 Chimney or its clearance. It is not counted and must not be built.",
	}, []string{"would hold", "Proved:"})
}

func TestProposalStyle(t *testing.T) {
	s, _ := pageServer(t, gableDoc())
	w := ask(t, s, "GET", "/projects/p1/proposal.css?paper=a4", nil)
	if w.Code != http.StatusOK || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/css") {
		t.Fatalf("status %d, type %s", w.Code, w.Header().Get("Content-Type"))
	}
	expectText(t, w.Body.String(), []string{"size: 210mm 297mm", `"Corner house`, "drawing no", "counter(pages)"}, nil)
	if w = ask(t, s, "GET", "/projects/gone/proposal.css", nil); w.Code != http.StatusNotFound {
		t.Errorf("unknown project: status %d", w.Code)
	}
}

// TestProposalPrints prints with the browser and reads the pages back.
func TestProposalPrints(t *testing.T) {
	needTools(t)
	long := gableDoc()
	long.Site.Label = strings.Repeat("Haus am Birkenweg 12 ", 6)[:120]
	for _, c := range []struct {
		name, paper string
		doc         project.Document
		pages       int
		has         []string
	}{
		{"a gable on A4", "a4", gableDoc(), 6, []string{"1:75 on A4", "Garden side", "10.88", "Module positions"}},
		{"a gable on Letter", "letter", gableDoc(), 6, []string{"1:75 on Letter"}},
		{"twelve planes on A4", "a4", manyDoc(12, 7, 5), 9, []string{"Long wing 12 towards"}},
		{"twelve planes on Letter", "letter", manyDoc(12, 7, 5), 9, []string{"Long wing 12 towards"}},
		{"a thousand modules", "a4", manyDoc(8, 16, 16), 10, []string{"left out: too small"}},
		{"no module", "letter", manyDoc(1, 1, 1), 5, []string{"No module fits"}},
		{"a long label", "letter", long, 6, []string{"Haus am Birkenweg 12 Haus"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			pages := printPages(t, c.doc, c.paper)
			if len(pages) != c.pages {
				t.Errorf("%d pages, want %d", len(pages), c.pages)
			}
			expectText(t, strings.Join(pages, "\n"), c.has, nil)
			checkPages(t, pages)
			if n := strings.Count(pages[1], "slope 4.62 m"); strings.HasPrefix(c.name, "a gable") && n != 4 {
				t.Errorf("the length of four rakes stands %d times on the plan", n)
			}
		})
	}
}

// checkPages looks for the foot on every page.
func checkPages(t *testing.T, pages []string) {
	t.Helper()
	for i, p := range pages {
		foot := "14 March 2026 · drawing no. 3 · " + strconv.Itoa(i+1) + " of " + strconv.Itoa(len(pages))
		if !strings.Contains(p, foot) {
			t.Errorf("page %d lacks the foot %q", i+1, foot)
		}
	}
}

// A row is never cut: each plane here has so many edges that its row takes
// several lines, and every page has all the edges of the rows it shows, with
// the two heights that end a row.
func TestProposalCutsNoRow(t *testing.T) {
	needTools(t)
	const planes, corners = 14, 60
	const lengths = corners + 2
	doc := manyDoc(planes, 7, 5)
	for i := range doc.Planes {
		first := doc.Planes[i].Ring[0]
		doc.Planes[i].Ring = nil
		for j := range corners {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / corners)
			doc.Planes[i].Ring = append(doc.Planes[i].Ring, project.Corner{XM: first.XM + 2*cos, YM: first.YM + 2*sin})
		}
	}
	for _, sheet := range papers() {
		total := 0
		for i, page := range printPages(t, doc, sheet.ID) {
			if strings.Contains(page, "Scale ") || strings.Contains(page, "From the left") {
				continue // the plan and the positions have lengths of their own
			}
			n := len(regexp.MustCompile(`\d\.\d\d[ \x{a0}]m\b`).FindAllString(page, -1))
			if total += n; n%lengths != 0 {
				t.Errorf("%s, page %d shows %d lengths, not whole rows of %d", sheet.Name, i+1, n, lengths)
			}
		}
		if total != planes*lengths {
			t.Errorf("%s shows %d lengths, want %d", sheet.Name, total, planes*lengths)
		}
	}
}

func needTools(t *testing.T) {
	t.Helper()
	for _, tool := range []string{"chromium", "pdftotext"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed: printing is not tested", tool)
		}
	}
}

// printPages prints the proposal and returns the text of each page.
func printPages(t *testing.T, doc project.Document, paper string) []string {
	t.Helper()
	return printed(t, doc, "/projects/p1/proposal?paper="+paper)
}

// printed prints a page of a project and returns the text of each page of paper.
// The folder that ROOFTALLY_PRINTS names, if any, gets the file.
func printed(t *testing.T, doc project.Document, path string) []string {
	t.Helper()
	s, _ := pageServer(t, doc)
	return printedBy(t, s, path)
}

// printedBy is [printed] for a page of a server.
func printedBy(t *testing.T, s *server, path string) []string {
	t.Helper()
	files, err := newAssets(static.Files)
	if err != nil {
		t.Fatal(err)
	}
	s.assets, s.log, s.hosts = files, discardLog(), hostSet(nil)
	s.pageWait = patience // a page that renews itself would stop the print
	srv := httptest.NewServer(s.routes())
	defer srv.Close()
	dir := t.TempDir()
	pdf := filepath.Join(dir, "proposal.pdf")
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	out, err := exec.CommandContext(ctx, "chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--user-data-dir="+filepath.Join(dir, "profile"),
		"--no-pdf-header-footer", "--print-to-pdf="+pdf, srv.URL+path).CombinedOutput()
	if err != nil {
		t.Fatalf("print: %v\n%s", err, out)
	}
	if dir := os.Getenv("ROOFTALLY_PRINTS"); dir != "" {
		if err := os.Link(pdf, filepath.Join(dir, strings.NewReplacer("/", "-", "?", "-").Replace(t.Name())+".pdf")); err != nil {
			t.Log(err)
		}
	}
	text, err := exec.CommandContext(ctx, "pdftotext", "-layout", pdf, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
}
