package main

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"rooftally/catalog"
)

// csvFile writes CSV text of one invented module into a file.
func csvFile(t *testing.T, name string, change func(*catalog.Datasheet)) string {
	t.Helper()
	d := catalog.DemoDatasheets()[3]
	d.ID, d.Label, d.Invented = "imported-405", "Imported 405 W", true
	d.PmaxW, d.VmpV, d.ImpA = 405, 32, 12.66
	change(&d)
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(catalog.ModuleCSV().Export([]catalog.Datasheet{d})), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// upload picks a file on the page and asks for its preview.
func upload(b *browser, path string) {
	b.t.Helper()
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#file"), []string{path}))
	b.click(".tool-upload button")
}

// cleanButRefusals is clean where the test has sent what must be refused: the
// browser reports such an answer as an error of its own.
func (b *browser) cleanButRefusals() {
	b.t.Helper()
	b.mu.Lock()
	b.errors = slices.DeleteFunc(b.errors, func(e string) bool { return strings.Contains(e, "status of 422") })
	b.mu.Unlock()
	b.clean()
}

// TestACatalogImport uploads a text with a fault, reads where it is, uploads a
// sound one, takes it back once, imports it, and finds the module in the editor.
func TestACatalogImport(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	b.open("/")
	b.click(`nav a[href="/catalog"]`)
	b.untilText(".list-head", "12 modules")
	b.shoot("list")

	upload(b, csvFile(t, "faulty.csv", func(d *catalog.Datasheet) { d.VocV, d.ThicknessM = 3780, 30 }))
	b.untilText("h1", "Nothing was imported")
	b.untilText(tid("faults")+" tbody tr:first-child", "2voc_vis 3780; it must be 1 to 500 V")
	b.untilText(tid("faults")+" tbody tr:last-child", "2thickness_mis 30; it must be")
	b.shoot("faults")

	good := csvFile(t, "good.csv", func(*catalog.Datasheet) {})
	upload(b, good)
	b.untilText(tid("sums"), "Added1Changed0")
	b.untilText(tid("added"), "Imported 405 W")
	b.shoot("preview")
	b.click(".decide a") // Cancel
	b.untilText(".list-head", "12 modules")

	upload(b, good)
	b.untilText(tid("sums"), "Added1")
	b.click(tid("apply"))
	b.untilText(".notice", "1 module added.")
	b.untilText(".list-head", "13 modules")
	b.fill("#q", "imported")
	b.click(".search button")
	b.untilText(".list-head", "1 module of 13")
	// All figures open by the keyboard.
	eval[bool](b, `(document.querySelector('#e-imported-405 summary').focus(), true)`)
	b.keys("\r")
	b.until(`document.querySelector('#e-imported-405 details').open`)
	b.untilText("#e-imported-405 .figures", "Open-circuit voltage, V37.8")
	b.shoot("figures")

	upload(b, csvFile(t, "dearer.csv", func(d *catalog.Datasheet) { d.Price = 140 }))
	b.untilText(tid("changed")+" tbody", "price128140")
	b.shoot("changed")
	b.click(tid("apply"))
	b.untilText(".notice", "1 module changed.")

	id, before := demoOf(t, base)
	openRoof(b, id)
	b.click(tid("tally-candidates"))
	b.click(tid("candidates-add"))
	b.until(`[...document.querySelectorAll('dialog select')].some((s) => [...s.options].some((o) => o.value === 'imported-405' && o.text.startsWith('Imported 405 W')))`)
	if got := b.stored(id).Candidates[:3]; !reflect.DeepEqual(got, before.Candidates) {
		t.Errorf("the project's modules are %v, were %v", got, before.Candidates)
	}
	b.cleanButRefusals()
}

// TestAnEntryByForm changes an entry by form with a fault first, and deletes it.
func TestAnEntryByForm(t *testing.T) {
	b := openBrowser(t, startApp(t, filepath.Join(t.TempDir(), "a.db")), 1024, 768)
	b.open("/catalog/inverters")
	b.click("#e-demo-inv-5k summary")
	b.click(`#e-demo-inv-5k a[href*="/entry?"]`)
	b.fill("#f-ac_current_a", "2.1")
	b.shoot("form")
	b.click(".entry button.primary")
	b.untilText("#ac_current_a-problem", "need 20.83 A")
	b.shoot("fault")
	b.fill("#f-ac_current_a", "22")
	b.click(".entry button.primary")
	b.untilText(".notice", "1 string inverter changed.")
	b.click("#e-demo-inv-5k summary")
	b.untilText("#e-demo-inv-5k .figures", "Highest AC current of one phase, A22")
	b.click(`#e-demo-inv-5k a[href*="/delete?"]`)
	b.untilText("h1", "Delete “Invented 5 kW, two trackers”?")
	b.shoot("delete")
	b.click(".decide button")
	b.untilText(".list-head", "5 string inverters")
	b.cleanButRefusals()
}

// TestTheCatalogFitsAPhone has no page wider than the screen or with a target too
// small for a finger.
func TestTheCatalogFitsAPhone(t *testing.T) {
	b := openBrowser(t, startApp(t, filepath.Join(t.TempDir(), "a.db")), 390, 844)
	fits := func(what string) {
		t.Helper()
		b.until(`document.querySelector('main.catalog') !== null`)
		if wide := eval[int](b, `document.documentElement.scrollWidth`); wide > 390 {
			t.Errorf("%s is %d px wide on a screen of 390", what, wide)
		}
		small := eval[[]string](b, `[...document.querySelectorAll('main button, main .button, main .link, main input, main select, main summary, nav a')]
			.filter((e) => { const r = e.getBoundingClientRect(); return e.type !== 'hidden' && r.height > 0 && (r.height < 43.5 || r.width < 43.5); })
			.map((e) => e.outerHTML.slice(0, 80))`)
		if len(small) > 0 {
			t.Errorf("%s has targets under 44 px: %q", what, small)
		}
		b.shoot(what)
	}
	for _, kind := range []string{"modules", "inverters", "micro-inverters", "optimisers"} {
		b.open("/catalog/" + kind)
		eval[bool](b, `(document.querySelectorAll('details').forEach((d) => { d.open = true; }), true)`)
		fits(kind)
		b.open("/catalog/" + kind + "/entry")
		fits(kind + "-entry")
	}
	b.open("/catalog/modules")
	fits("list")
	upload(b, csvFile(t, "faulty.csv", func(d *catalog.Datasheet) { d.VocV, d.Label = 3780, strings.Repeat("Long", 30) }))
	b.untilText("h1", "Nothing was imported")
	fits("faults")
	upload(b, csvFile(t, "good.csv", func(d *catalog.Datasheet) {
		d.ID, d.Label, d.Price = "demo-300-small", strings.Repeat("Longname", 10), 0
	}))
	b.untilText(tid("sums"), "Changed1")
	fits("changed")
	b.open("/plant?kw=1000&per_string=19&watts=305&length_m=2&width_m=1&coverage=0.5")
	fits("plant")
}

// TestThePlantQuestion asks from the catalog with a typed module, then with one
// of the catalog. 1 MW of 305 W in strings of 19 takes 173 strings (common
// practice, no source); of 400 W in strings of 19 it takes 132 by arithmetic.
func TestThePlantQuestion(t *testing.T) {
	b := openBrowser(t, startApp(t, filepath.Join(t.TempDir(), "a.db")), 1024, 768)
	b.open("/catalog/modules")
	b.click(`.tool-buttons a[href="/plant"]`)
	b.untilText("h1", "Plant")
	b.fill("#f-kw", "1000")
	b.fill("#f-per_string", "19")
	b.fill("#f-watts", "305")
	b.click(".plant-form button")
	b.untilText(tid("answer"), "173 strings")
	b.shoot("answer")
	eval[bool](b, `(document.querySelector('#f-module').value = 'demo-400-medium', true)`)
	b.click(".plant-form button")
	b.untilText(tid("answer"), "132 strings")
	b.untilText(tid("answer"), "Area of the modules themselves")
	b.clean()
}
