package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"rooftally/project"
)

type point struct{ x, y float64 }

// The L-shaped gable roof of the sitting, in plan metres, each plane's eave
// first: a 12 x 7 m main gable and a 5 m wide wing to the south. All pitches
// are equal, so that the wing's ridge meets the main slope 2.5 m up.
//
//	(0,7)-----------------------(12,7)
//	  |           north            |
//	(0,3.5)=====================(12,3.5)
//	  |     south      /\          |
//	(0,0)-------(6,0) /  \ (11,0)(12,0)
//	              |  west | east |
//	           (6,-4)--(8.5,-4)--(11,-4)
var ellGable = []struct {
	azimuthDeg float64
	ring       []point
}{
	{180, []point{{0, 0}, {6, 0}, {8.5, 2.5}, {11, 0}, {12, 0}, {12, 3.5}, {0, 3.5}}},
	{0, []point{{12, 7}, {0, 7}, {0, 3.5}, {12, 3.5}}},
	{270, []point{{6, 0}, {6, -4}, {8.5, -4}, {8.5, 2.5}}},
	{90, []point{{11, -4}, {11, 0}, {8.5, 2.5}, {8.5, -4}}},
}

// screen turns plan metres into page pixels as the drawing does now.
func (b *browser) screen(p point) (x, y float64) {
	b.t.Helper()
	b.drawn()
	at := eval[[]float64](b, fmt.Sprintf(`(() => {
		const m = document.querySelector('[data-layer="modules"]').getScreenCTM();
		const q = new DOMPoint(%g, %g).matrixTransform(m);
		return [q.x, q.y]; })()`, p.x, p.y))
	return at[0], at[1]
}

func (b *browser) clickPlan(p point) {
	b.t.Helper()
	b.clickAt(b.screen(p))
}

// tid is the selector of a test id.
func tid(id string) string { return `[data-testid="` + id + `"]` }

func (b *browser) untilSaved() {
	b.t.Helper()
	b.untilText("#savestate", "Saved")
}

// stored is the project as the server holds it.
func (b *browser) stored(id string) project.Document {
	b.t.Helper()
	status, body := read(b.t, b.base+"/projects/"+id+"/project.json")
	if status != http.StatusOK {
		b.t.Fatalf("download: %d %s", status, body)
	}
	doc, err := project.Decode([]byte(body))
	if err != nil {
		b.t.Fatal(err)
	}
	return doc
}

// TestTheWholeSitting goes from an empty list to the printed page as a seller
// with a homeowner would.
func TestTheWholeSitting(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)

	id := startProject(b, "L gable, drawn")
	drawEllGable(b)
	markChimney(b)
	checkRoof(b, id)
	checkTally(b, id)
	checkUndo(b, id)
	meetASize(b, id)
	checkOptions(b, id)
	checkProposal(b, id)
	checkSameBytes(b, id)
	b.clean()
}

func startProject(b *browser, label string) string {
	b.open("/")
	b.do(chromedp.SendKeys(chromedp.CSS(`form.begin-new input[name="label"]`), label))
	b.click(`form.begin-new button`)
	b.until(`location.pathname.startsWith('/projects/') && !!document.querySelector('[data-testid="drawing"] [data-layer="modules"][transform]')`)
	b.shoot("empty-roof")
	return strings.TrimPrefix(eval[string](b, `location.pathname`), "/projects/")
}

func drawEllGable(b *browser) {
	for range 3 { // room for 12 x 11 m
		if x, y := b.screen(point{-1, 8}); x > 20 && y > 140 {
			break
		}
		b.click(tid("action-zoom-out"))
	}
	for i, plane := range ellGable {
		b.click(tid("action-draw-plane"))
		b.untilText("#status", "eave")
		for _, p := range plane.ring {
			b.clickPlan(p)
		}
		b.keys(kb.Enter)
		b.until(fmt.Sprintf(`document.querySelectorAll('[data-testid="plane"]').length === %d`, i+1))
		b.keys(kb.Escape)
	}
	b.click(tid("action-fit"))
	b.shoot("drawn")
}

func markChimney(b *browser) {
	b.click(tid("menu-obstruction-button"))
	b.click(tid("menu-mark-rectangle"))
	b.untilText("#status", "corner")
	b.clickPlan(point{2.6, 3.1})
	b.clickPlan(point{3.3, 3.9})
	b.until(`document.querySelectorAll('[data-testid="keepout"]').length === 1`)
	b.keys(kb.Escape)
	b.untilSaved()
	b.shoot("chimney")
}

// checkRoof holds the stored drawing against what was clicked. A click is true
// to half a pixel, so the drawing may be off by some centimetres.
func checkRoof(b *browser, id string) {
	const offM = 0.05
	doc := b.stored(id)
	if len(doc.Planes) != len(ellGable) {
		b.t.Fatalf("stored %d planes, drew %d", len(doc.Planes), len(ellGable))
	}
	for i, want := range ellGable {
		got := doc.Planes[i]
		if len(got.Ring) != len(want.ring) {
			b.t.Fatalf("plane %d has %d corners, drew %d", i, len(got.Ring), len(want.ring))
		}
		for k, c := range got.Ring {
			if d := max(abs(c.XM-want.ring[k].x), abs(c.YM-want.ring[k].y)); d > offM {
				b.t.Errorf("plane %d corner %d lies %.3f m off: %+v", i, k, d, c)
			}
		}
		if turn := abs(got.AzimuthDeg - want.azimuthDeg); min(turn, 360-turn) > 1 {
			b.t.Errorf("plane %d faces %g, want %g", i, got.AzimuthDeg, want.azimuthDeg)
		}
	}
	res, err := project.Evaluate(b.t.Context(), doc)
	if err != nil {
		b.t.Fatal(err)
	}
	kinds := map[string]int{}
	for _, p := range res.Planes {
		for _, e := range p.Edges {
			kinds[e.Kind]++
		}
	}
	for kind, want := range map[string]int{"valley": 4, "ridge": 4, "eave": 5} {
		if kinds[kind] != want {
			b.t.Errorf("%d edge pieces are %s, want %d (%v)", kinds[kind], kind, want, kinds)
		}
	}
}

// checkTally compares the strip with an evaluation of the stored document.
func checkTally(b *browser, id string) {
	res, err := project.Evaluate(b.t.Context(), b.stored(id))
	if err != nil {
		b.t.Fatal(err)
	}
	if len(res.Candidates) != 3 {
		b.t.Fatalf("%d candidates", len(res.Candidates))
	}
	for _, c := range res.Candidates {
		if c.Fill.Count == 0 {
			b.t.Errorf("%s: no modules on a roof of %.0f m2", c.Letter, res.PlanAreaM2)
		}
		b.untilText(tid("tally-"+c.Letter+"-count"), fmt.Sprint(c.Fill.Count))
		b.untilText("#tally", fmt.Sprintf("%.2f", c.Fill.KWdc))
	}
	drawn := eval[int](b, `document.querySelectorAll('[data-testid="module"]').length`)
	if drawn != res.Candidates[0].Fill.Count {
		b.t.Errorf("%d modules drawn, %d counted", drawn, res.Candidates[0].Fill.Count)
	}
}

// checkUndo moves a corner, watches the counts follow, and takes it back.
func checkUndo(b *browser, id string) {
	before := b.text(tid("tally-A-count"))
	x, y := b.screen(point{1.5, 5.2})
	b.clickAt(x, y) // the north plane
	b.until(`document.querySelectorAll('[data-testid="handle"]').length >= 4`)
	x, y = b.screen(ellGable[1].ring[0])
	toX, toY := b.screen(point{9, 7})
	b.move(x, y)
	b.press(x, y)
	for i := 1; i <= 10; i++ {
		f := float64(i) / 10
		b.move(x+(toX-x)*f, y+(toY-y)*f)
	}
	b.until(fmt.Sprintf(`document.querySelector('[data-testid="tally-A-count"]').textContent.trim() !== %q`, before))
	b.release(toX, toY)
	b.shoot("dragged")
	b.click(tid("action-undo"))
	b.untilText(tid("tally-A-count"), before)
	b.untilSaved()
	b.keys(kb.Escape)
	if n := len(b.stored(id).Planes); n != len(ellGable) {
		b.t.Errorf("undo left %d planes", n)
	}
}

func meetASize(b *browser, id string) {
	b.click(tid("tally-question"))
	b.click(tid("target-mode-size"))
	b.fill(tid("target-size"), "5.7")
	b.click(tid("target-close"))
	b.untilText("#tally", "needs")
	b.untilSaved()
	b.shoot("meet-a-size")
	doc := b.stored(id)
	if doc.Target.Mode != "size" || doc.Target.SizeW != 5700 {
		b.t.Fatalf("stored target %+v", doc.Target)
	}
	for _, c := range doc.Candidates {
		need := (5700 + c.PmaxW - 1) / c.PmaxW
		b.untilText("#tally", fmt.Sprintf("needs %d, ", need))
	}
}

func checkOptions(b *browser, id string) {
	b.open("/projects/" + id + "/options")
	b.untilText(tid("compare"), "Modules")
	b.shoot("options")
	b.click(tid("option-C") + ` form button`)
	b.untilText(tid("option-C"), "Chosen")
	doc := b.stored(id)
	if doc.Target.Chosen != doc.Candidates[2].ID {
		b.t.Errorf("chosen %q, want %q", doc.Target.Chosen, doc.Candidates[2].ID)
	}
}

// checkProposal prints the page on both papers and reads it back.
func checkProposal(b *browser, id string) {
	doc := b.stored(id)
	res, err := project.Evaluate(b.t.Context(), doc)
	if err != nil {
		b.t.Fatal(err)
	}
	chosen := res.Candidates[2].Size.Layout
	b.open("/projects/" + id + "/proposal")
	b.untilText(tid("cautions"), "licensed")
	b.shoot("proposal")
	for paper, size := range map[string]string{"a4": "A4", "letter": "letter"} {
		b.open("/projects/" + id + "/proposal?paper=" + paper)
		pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize(), chromedp.PDFPrintBackground()))
		if err != nil {
			b.t.Fatal(err)
		}
		text, pages, found := readPDF(b.t, pdf)
		if !strings.Contains(found, size) {
			b.t.Errorf("%s: page size %s, want %s", paper, found, size)
		}
		if pages < 4 {
			b.t.Errorf("%s: %d pages, want one for each of summary, plan, roof, cautions", paper, pages)
		}
		for _, want := range []string{
			doc.Site.Label, doc.Candidates[2].Label, fmt.Sprintf("%d", chosen.Count),
			"live", "flue", "licensed", "local code", fmt.Sprintf("1 of %d", pages), fmt.Sprintf("%d of %d", pages, pages),
		} {
			if !strings.Contains(text, want) {
				b.t.Errorf("%s: the printed text lacks %q", paper, want)
			}
		}
	}
}

// checkSameBytes uploads the download as a new project and downloads it again.
func checkSameBytes(b *browser, id string) {
	_, first := read(b.t, b.base+"/projects/"+id+"/project.json")
	file := filepath.Join(b.t.TempDir(), "roof.json")
	if err := os.WriteFile(file, []byte(first), 0o600); err != nil {
		b.t.Fatal(err)
	}
	b.open("/")
	b.do(chromedp.SetUploadFiles(chromedp.CSS(`form.begin-new input[type="file"]`), []string{file}))
	b.click(`form.begin-new button[formaction]`)
	b.until(`location.pathname.startsWith('/projects/')`)
	other := strings.TrimPrefix(eval[string](b, `location.pathname`), "/projects/")
	if other == id {
		b.t.Fatal("the upload opened the old project")
	}
	if _, again := read(b.t, b.base+"/projects/"+other+"/project.json"); again != first {
		b.t.Error("the second download differs from the first")
	}
}

var pdfInfo = regexp.MustCompile(`(?m)^(Pages|Page size):\s+(.*)$`)

// readPDF gives a file's text with white space folded, its number of pages and
// its page size in words.
func readPDF(t *testing.T, pdf []byte) (text string, pages int, size string) {
	t.Helper()
	for _, tool := range []string{"pdftotext", "pdfinfo"} {
		if _, err := exec.LookPath(tool); err != nil {
			if os.Getenv("ROOFTALLY_BROWSER") == "required" {
				t.Fatalf("%s is required for this run", tool)
			}
			t.Skipf("%s was not found", tool)
		}
	}
	file := filepath.Join(t.TempDir(), "proposal.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	if dir := os.Getenv("ROOFTALLY_SHOTS"); dir != "" {
		_ = os.WriteFile(filepath.Join(dir, "proposal.pdf"), pdf, 0o600)
	}
	out, err := exec.Command("pdftotext", "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	info, err := exec.Command("pdfinfo", file).Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range pdfInfo.FindAllStringSubmatch(string(info), -1) {
		if m[1] == "Pages" {
			if err := json.Unmarshal([]byte(m[2]), &pages); err != nil {
				t.Fatal(err)
			}
		} else {
			size = m[2]
		}
	}
	return strings.Join(strings.Fields(string(out)), " "), pages, size
}

func abs(v float64) float64 { return max(v, -v) }
