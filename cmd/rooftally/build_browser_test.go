package main

import (
	"encoding/csv"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"rooftally/project"
)

// TestTheBuildPage goes from the demo's options to its build page, reads the
// wiring plan and the loads, downloads the parts and looks at another option.
func TestTheBuildPage(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	id, _ := demoOf(t, base)
	b := openBrowser(t, base, 1440, 900)
	b.open("/projects/" + id + "/options?wait=long")
	b.click(`nav a[href$="/build"]`)
	b.untilText("h1", "Build")
	b.open("/projects/" + id + "/build?wait=long")

	// Every module of the plan is in exactly one string, and those left out are
	// named.
	b.untilText(tid("wires"), "modules fit")
	wires := eval[int](b, `Number(document.querySelector('[data-testid="wiring-table"] .total td:nth-of-type(3)').textContent)`)
	order := eval[[]string](b, `[...document.querySelectorAll('[data-testid="wiring-table"] tbody tr:not(.total) .order')].map(e => e.textContent)`)
	seen := map[string]bool{}
	for _, row := range order {
		for n := range strings.SplitSeq(row, ", ") {
			if seen[n] {
				t.Errorf("module %s is in two strings", n)
			}
			seen[n] = true
		}
	}
	if len(seen) != wires || wires == 0 {
		t.Errorf("%d modules in strings, %d wire", len(seen), wires)
	}
	if drawn := eval[int](b, `document.querySelectorAll('#wiring svg.plan .build-string').length`); drawn != len(order) {
		t.Errorf("%d strings are drawn, %d in the table", drawn, len(order))
	}
	// The demo has no shutdown gear: its plan is never shown as complete.
	b.untilText(tid("open"), "Not complete")
	b.untilText(tid("marks"), "Not met Rapid shutdown, 690.12")
	b.untilText(tid("loads"), "This checks the module only, not clamps, rafters or roof. A licensed engineer decides.")
	b.untilText(tid("load-table"), "0.6 W")
	b.shootParts("build")

	// As the browser gets it from the link.
	file, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](
		`fetch(document.querySelector('[data-testid="bill-csv"]').href).then(r => r.text())`, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(file)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	modules := 0
	for _, r := range rows[1:] {
		if r[0] == "total" && r[1] == "module" {
			modules, _ = strconv.Atoi(r[3])
		}
	}
	if want := b.text(".build-sum strong"); want != strconv.Itoa(modules)+" modules" {
		t.Errorf("the file has %d modules, the page %s", modules, want)
	}

	b.click(`.build-tabs a:not([aria-current])`)
	b.untilText(".build-tabs [aria-current]", "A")
	b.untilText(tid("wires"), "modules fit")
	b.clean()
}

// TestTheBuildPageFitsAPhone opens everything that folds, at phone and tablet
// size, and finds nothing wider than the screen or too small for a finger.
func TestTheBuildPageFitsAPhone(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	id, _ := demoOf(t, base)
	bare := project.Demo()
	bare.Site.Label = strings.Repeat("Embankment ", 10)
	bare.Wiring, bare.Loads = project.New("x").Wiring, project.New("x").Loads
	for _, c := range []struct {
		name, id      string
		width, height int
	}{{"phone", id, 390, 844}, {"tablet", id, 1024, 768}, {"bare", give(t, base, bare), 390, 844}} {
		b := openBrowser(t, base, c.width, c.height)
		b.open("/projects/" + c.id + "/build?wait=long")
		b.untilText("h1", "Build")
		b.shootParts(c.name)
		eval[bool](b, `(document.querySelectorAll('details').forEach((d) => { d.open = true; }), true)`)
		if wide := eval[int](b, `document.documentElement.scrollWidth`); wide > c.width {
			t.Errorf("%s: the page is %d px wide on a screen of %d", c.name, wide, c.width)
		}
		small := eval[[]string](b, `[...document.querySelectorAll('main .button, main nav a, main summary, header a')]
			.filter((e) => { const r = e.getBoundingClientRect(); return r.height > 0 && (r.height < 43.5 || r.width < 43.5); })
			.map((e) => e.outerHTML.slice(0, 80))`)
		if len(small) > 0 {
			t.Errorf("%s: targets under 44 px: %q", c.name, small)
		}
		b.clean()
	}
}

// shootParts takes a picture of each part of the page.
func (b *browser) shootParts(name string) {
	b.t.Helper()
	parts := eval[int](b, `document.querySelectorAll('.build-part').length`)
	b.shoot(name + "-head")
	for i := range parts {
		eval[bool](b, `(document.querySelectorAll('.build-part')[`+strconv.Itoa(i)+`].scrollIntoView(), true)`)
		b.drawn()
		b.shoot(name + "-" + strconv.Itoa(i))
	}
}
