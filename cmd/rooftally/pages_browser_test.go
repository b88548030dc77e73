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
	t.Parallel()
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
	t.Parallel()
	b := openBrowser(t, startApp(t, filepath.Join(t.TempDir(), "a.db")), 1024, 768)
	b.open("/")
	b.fill("#label", "Mill Lane 4")
	b.click("button[formaction]")
	b.untilText("#upload-problems", "Choose a file first.")
	b.until(`document.querySelector('#label').value === 'Mill Lane 4'`)
	b.click(".begin button.primary")
	b.untilText(".top-label", "Mill Lane 4")
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
	t.Parallel()
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
	t.Parallel()
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	id, doc := demoOf(t, base)
	doc.Site.Label = strings.Repeat("Embankment ", 10) + "1234567890"
	for i := range 2 {
		c := doc.Candidates[i]
		c.ID, c.PmaxW = fmt.Sprintf("more-%d", i), 301+40*i
		doc.Candidates = append(doc.Candidates, c)
	}
	doc.Target = project.Target{Mode: "size", SizeW: 5700}
	if got, _ := save(t, base, id, 1, doc); got != 200 {
		t.Fatalf("save: %d", got)
	}
	b := openBrowser(t, base, 390, 844)
	for _, path := range []string{"/", "/projects/" + id + "/options", "/projects/" + id + "/proposal", "/projects/" + id + "/versions", "/nowhere"} {
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
