package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"rooftally/project"
)

// demoOf is the id and document of the demo project at base.
func demoOf(t *testing.T, base string) (id string, doc project.Document) {
	t.Helper()
	_, list := read(t, base+"/")
	_, rest, _ := strings.Cut(list, `id="p-`)
	id, _, _ = strings.Cut(rest, `"`)
	_, body := read(t, base+"/api/projects/"+id)
	var answer struct{ Doc json.RawMessage }
	if err := json.Unmarshal([]byte(body), &answer); err != nil {
		t.Fatal(err)
	}
	doc, err := project.Decode(answer.Doc)
	if err != nil {
		t.Fatal(err)
	}
	return id, doc
}

// TestTheOtherVersionIsFound lets two people save, one keep their own, and
// then looks for the other's version by the links of the pages.
func TestTheOtherVersionIsFound(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	id, doc := demoOf(t, base)
	theirs, mine := doc, doc
	theirs.Planes = doc.Planes[:2]
	mine.Site.Label = "Mine"
	for _, step := range []struct {
		version int
		doc     project.Document
		status  int
	}{{1, theirs, 200}, {1, mine, 409}, {2, mine, 200}} {
		if got, _ := save(t, base, id, step.version, step.doc); got != step.status {
			t.Fatalf("save on version %d: %d, want %d", step.version, got, step.status)
		}
	}
	b := openBrowser(t, base, 390, 844)
	b.open("/")
	b.click(`a[aria-label="Earlier versions of Mine"]`)
	b.untilText("h1", "Earlier versions")
	b.untilText(`[data-testid="versions"] li:first-child`, "saved beside another")
	b.untilText(`[data-testid="versions"] li:first-child`, "2 planes")
	b.click(`button[aria-label="Open version 2 as a new project"]`)
	b.until(`location.pathname.startsWith('/projects/') && !location.pathname.includes('` + id + `')`)
	b.untilText(".top-label", doc.Site.Label+" (version 2)")
	b.open("/projects/" + id + "/options")
	b.click(".options-foot a")
	b.untilText(`[data-testid="versions"]`, "Version 1")
	b.clean()
}

// TestARefusedFileKeepsTheName types a name, sends a file that is none, and
// goes on with the name.
func TestARefusedFileKeepsTheName(t *testing.T) {
	b := openBrowser(t, startApp(t, filepath.Join(t.TempDir(), "a.db")), 1024, 768)
	b.open("/")
	b.fill("#label", "Mill Lane 4")
	b.click("button[formaction]")
	b.untilText("#upload-problems", "Choose a file first.")
	b.until(`document.querySelector('#label').value === 'Mill Lane 4'`)
	b.click(".begin button.primary")
	b.untilText(".top-label", "Mill Lane 4")
}

// TestTwoClicksMakeOneProject clicks again before the first click has led anywhere:
// the form is sent once.
func TestTwoClicksMakeOneProject(t *testing.T) {
	b := openBrowser(t, startApp(t, filepath.Join(t.TempDir(), "a.db")), 1024, 768)
	b.open("/")
	b.fill("#label", "Mill Lane 4")
	b.until("true")
	if sent := eval[int](b, `(() => {
		let sent = 0;
		document.querySelector('.begin').addEventListener('submit', (e) => { if (!e.defaultPrevented) sent += 1; e.preventDefault(); });
		for (let i = 0; i < 2; i += 1) document.querySelector('.begin button.primary').click();
		return sent;
	})()`); sent != 1 {
		t.Errorf("two clicks send the form %d times", sent)
	}
}

// TestWithoutModuleTypes opens a roof that has none, and is told where to add one.
func TestWithoutModuleTypes(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	doc := shed()
	doc.Candidates, doc.Target.Chosen = []project.Candidate{}, ""
	b := openBrowser(t, base, 1440, 900)
	b.open("/projects/" + give(t, base, doc))
	b.untilText("#tally", "No modules to compare yet.")
	b.click("#tally .t-empty button")
	b.untilText("#dialogs", "Modules to compare")
	b.clean()
}

// back is the browser's back button. A page that the browser has kept whole
// comes back without loading, so it waits for this page to be gone.
func back(b *browser) {
	b.t.Helper()
	eval[bool](b, `(window.leaving = true, setTimeout(() => history.back(), 0), true)`)
	b.until(`!window.leaving && document.querySelector('main') !== null`)
}

// TestTheWayBackFromAChoice chooses an option, goes back, and chooses another:
// the page that comes back is not a stale one.
func TestTheWayBackFromAChoice(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	id, _ := demoOf(t, base)
	b := openBrowser(t, base, 1440, 900)
	b.open("/projects/" + id + "/options")
	b.click(`[data-testid="option-A"] .option-choice button`)
	b.untilText(`[data-testid="option-A"]`, "Chosen")
	b.click(`[data-testid="option-A"] .option-choice a`)
	b.until(`document.querySelector('[data-testid="summary"]') !== null`)
	// A page that the browser has kept whole is beyond the driver's own clicks.
	choose := func(letter string) {
		t.Helper()
		eval[bool](b, fmt.Sprintf(`(document.querySelector('[data-testid="option-%s"] .option-choice button').click(), true)`, letter))
	}
	back(b)
	b.untilText(`[data-testid="option-A"]`, "Chosen")
	choose("C")
	b.untilText(`[data-testid="option-C"]`, "Chosen")
	b.until(`document.querySelector('[data-testid="stale"]') === null`)
	// Once more back, over the choice itself.
	back(b)
	choose("B")
	b.untilText(`[data-testid="option-B"]`, "Chosen")
	b.until(`document.querySelector('[data-testid="stale"]') === null`)
	b.clean()
}

// TestPagesFitAPhone has a name of 120 characters, five candidates, and no page
// wider than the screen or with a target too small for a finger.
func TestPagesFitAPhone(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	id, doc := demoOf(t, base)
	doc.Site.Label = strings.Repeat("Embankment ", 10) + "1234567890"
	for i := range 2 {
		c := doc.Candidates[i]
		c.ID, c.PmaxW, c.Datasheet = fmt.Sprintf("more-%d", i), 301+40*i, nil
		doc.Candidates = append(doc.Candidates, c)
	}
	doc.Target = project.Target{Mode: "size", SizeW: 5700}
	if got, _ := save(t, base, id, 1, doc); got != 200 {
		t.Fatalf("save: %d", got)
	}
	b := openBrowser(t, base, 390, 844)
	for _, path := range []string{"/", "/projects/" + id + "/options", "/projects/" + id + "/yield", "/projects/" + id + "/proposal", "/projects/" + id + "/versions", "/nowhere"} {
		b.open(path)
		b.until(`document.querySelector('main') !== null`)
		if wide := eval[int](b, `document.documentElement.scrollWidth`); wide > 390 {
			t.Errorf("%s is %d px wide on a screen of 390", path, wide)
		}
		small := eval[[]string](b, `[...document.querySelectorAll('main button, main .button, main .link, main input, nav a')]
			.filter((e) => { const r = e.getBoundingClientRect(); return r.height > 0 && (r.height < 43.5 || r.width < 43.5); })
			.map((e) => e.outerHTML.slice(0, 80))`)
		if len(small) > 0 {
			t.Errorf("%s has targets under 44 px: %q", path, small)
		}
	}
}

// unevenRoof is an invented slope that narrows upwards, with a chimney. Most
// modules hold more than rows on it, and a longer search finds one more than
// the quick one, which TestTheOfferOfMostModules checks.
func unevenRoof() project.Document {
	d := project.New("Uneven roof (invented)")
	d.Site.Invented, d.Rules.Set = true, "none"
	d.Planes = []project.Plane{{
		ID: "south", Label: "South", Use: true, PitchDeg: 30, AzimuthDeg: 180, EaveHeightM: 3,
		Turn: "either", Covering: "tile", RafterSpacingM: 0.6,
		Ring: []project.Corner{{}, {XM: 7}, {XM: 6.5, YM: 4.5}, {XM: 1, YM: 4.5}},
	}}
	d.KeepOuts = []project.KeepOut{{
		ID: "chimney", Label: "Chimney", Kind: "chimney", Shape: "rect", Center: &project.Point{XM: 4, YM: 1},
		WidthM: 0.6, DepthM: 0.6, ClearanceM: 0.2, HeightM: 1,
	}}
	d.Candidates = []project.Candidate{{ID: "a", Label: "Medium 400 (invented)", PmaxW: 400, LengthM: 1.722, WidthM: 1.134, Invented: true}}
	return d
}

// TestTheOfferOfMostModules takes it in the editor, goes back, and does both
// once more on the options page; the proposal records what was left.
func TestTheOfferOfMostModules(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	doc := unevenRoof()
	rows, err := project.Evaluate(t.Context(), doc)
	if err != nil {
		t.Fatal(err)
	}
	doc.Rules.Style = "best"
	best, err := project.Evaluate(t.Context(), doc)
	if err != nil {
		t.Fatal(err)
	}
	few, many, offer := rows.Candidates[0].Fill, best.Candidates[0].Fill, rows.Candidates[0].Offer
	if offer == nil || offer.More != many.Count-few.Count || many.Gained != 1 {
		t.Fatalf("rows hold %d, most modules %d, %d by the longer search; offered is %+v", few.Count, many.Count, many.Gained, offer)
	}
	words, fits := fmt.Sprintf("+%d module", offer.More), fmt.Sprintf("Fit %d more module", offer.More)

	b := openBrowser(t, base, 1440, 900)
	id := give(t, base, unevenRoof())
	openRoof(b, id)
	b.untilText(tid("tally-A-tidy"), fmt.Sprintf("%d rail run", few.Tidiness.RailRuns))
	b.untilText(tid("tally-A-offer"), fits)
	b.shoot("offered")
	b.click(tid("tally-A-offer"))
	b.untilText(tid("tally-A-count"), fmt.Sprint(many.Count))
	b.untilText(tid("tally-A-gained"), "+1 found")
	b.untilText(tid("tally-spoken"), "+1 found")
	b.shoot("taken")
	b.click(tid("tally-A-back"))
	b.untilText(tid("tally-A-count"), fmt.Sprint(few.Count))
	b.click(tid("action-undo"))
	b.untilText(tid("tally-A-count"), fmt.Sprint(many.Count))
	b.click(tid("action-undo"))
	b.untilText(tid("tally-A-offer"), fits)
	b.untilSaved()

	b.open("/projects/" + id + "/proposal")
	b.untilText(tid("offer-record"), words)
	b.open("/projects/" + id + "/options")
	b.untilText(tid("offer"), words)
	b.shoot("options")
	b.click(tid("offer") + " button")
	b.untilText(tid("style-back"), "Back to rows")
	if got := b.stored(id).Rules.Style; got != "best" {
		t.Errorf("stored style %s", got)
	}
	b.open("/projects/" + id + "/proposal")
	b.untilText(tid("tidy"), fmt.Sprintf("%d rail run", many.Tidiness.RailRuns))
	b.until(`document.querySelector('[data-testid="offer-record"]') === null`)
	b.open("/projects/" + id + "/options")
	b.click(tid("style-back") + " button")
	b.untilText(tid("offer"), words)
	b.clean()
}
