package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
)

// TestTheYieldPage edits a loss with the keyboard, sees less energy, goes back to
// the usual one, and asks what each obstruction costs.
func TestTheYieldPage(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	id, _ := demoOf(t, base)
	b := openBrowser(t, base, 1440, 900)
	b.open("/projects/" + id + "/yield?wait=long")
	b.untilText(tid("decides"), "first year")
	before := b.text(tid("decides"))

	b.click("#loss-soiling-year")
	eval[bool](b, `(document.querySelector('#loss-soiling-year').select(), true)`)
	b.keys("12\r") // Enter saves
	b.until(fmt.Sprintf(`(document.querySelector(%q)?.textContent ?? '').includes('first year') && document.querySelector('#loss-soiling-year').defaultValue === '12'`, tid("decides")))
	if after := b.text(tid("decides")); after == before {
		t.Errorf("with six times the dirt the page still says %q", after)
	}
	if got := b.stored(id).Yield.Losses[0].MonthlyPct; got[0] != 12 || got[11] != 12 {
		t.Errorf("stored %v", got)
	}
	b.click(tid("loss-soiling") + " button[name=reset]")
	b.until(`document.querySelector('#loss-soiling-year')?.defaultValue === '2'`)
	b.untilText(tid("decides"), before)

	b.click(tid("ask-worths"))
	b.until(`document.querySelector('table[data-testid="worths"]') !== null`)
	b.untilText(`table[data-testid="worths"]`, "Tree in the front garden")
	b.clean()
}

// TestTheYieldPageOnEveryScreen opens everything that folds, with five options and
// long names, and finds nothing wider than the screen or too small for a finger.
func TestTheYieldPageOnEveryScreen(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	id, doc := demoOf(t, base)
	for i := range 2 {
		c := doc.Candidates[i]
		c.ID, c.Label = fmt.Sprintf("more-%d", i), strings.Repeat("Invented ", 6)+"60"
		sheet := *c.Datasheet
		sheet.Label = c.Label
		c.Datasheet = &sheet
		doc.Candidates = append(doc.Candidates, c)
	}
	doc.Site.Label = strings.Repeat("Embankment ", 10)
	five := give(t, base, doc)
	for _, c := range []struct {
		name, id      string
		width, height int
	}{{"desk", id, 1440, 900}, {"tablet", five, 1024, 768}, {"phone", five, 390, 844}} {
		b := openBrowser(t, base, c.width, c.height)
		b.open("/projects/" + c.id + "/yield?wait=long&worths=1")
		b.until(`document.querySelector('[data-testid="worths"]') !== null`)
		b.shoot(c.name)
		for _, part := range []string{"monthly", "years", "planes", "chain", "modules", "worths", "days", "terms"} {
			eval[bool](b, fmt.Sprintf(`((document.querySelector('[data-testid="%s"]') ?? document.querySelector('#%s')).scrollIntoView(), true)`, part, part))
			b.drawn()
			b.shoot(c.name + "-" + part)
		}
		eval[bool](b, `(document.querySelectorAll('details').forEach((d) => { d.open = true; }), true)`)
		if wide := eval[int](b, `document.documentElement.scrollWidth`); wide > c.width {
			t.Errorf("%s: the page is %d px wide on a screen of %d", c.name, wide, c.width)
		}
		small := eval[[]string](b, `[...document.querySelectorAll('main button, main .button, main .link, main nav a, main summary, main input:not([type=hidden]), main select, header a')]
			.filter((e) => { const r = e.getBoundingClientRect(); return r.height > 0 && (r.height < 43.5 || r.width < 43.5); })
			.map((e) => e.outerHTML.slice(0, 80))`)
		if len(small) > 0 {
			t.Errorf("%s: targets under 44 px: %q", c.name, small)
		}
		b.clean()
	}
}
