package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"rooftally/project"
	"rooftally/structural"
)

// house is the shed with a place: near Lone Rock, Wisconsin.
func house() project.Document {
	doc := shed()
	doc.Site.LatDeg, doc.Site.LonDeg, doc.Site.ElevationM = 43.05, -89.90, 320
	return doc
}

// untilStored waits until the server holds what a test looks for; "" is all
// there.
func (b *browser) untilStored(id string, missing func(project.Document) string) {
	b.t.Helper()
	deadline := time.Now().Add(patience)
	for {
		why := missing(b.stored(id))
		if why == "" {
			return
		}
		if time.Now().After(deadline) {
			b.shoot("failed")
			b.t.Fatal(why)
		}
		time.Sleep(50 * time.Millisecond)
	}
}

// untilSame waits until a part of the stored document is as wanted.
func (b *browser) untilSame(id string, part func(project.Document) any, want any) {
	b.t.Helper()
	b.untilStored(id, func(doc project.Document) string {
		if got := part(doc); !reflect.DeepEqual(got, want) {
			return fmt.Sprintf("stored:\n%#v\nwant:\n%#v", got, want)
		}
		return ""
	})
}

// pick chooses from a list of choices.
func (b *browser) pick(id, value string) {
	b.t.Helper()
	b.until(fmt.Sprintf(`!!document.querySelector('%s option[value=%q]')`, tid(id), value))
	eval[bool](b, fmt.Sprintf(`(() => { const s = document.querySelector(%q); s.value = %q; s.dispatchEvent(new Event('change')); return true; })()`, tid(id), value))
}

// undoTo undoes so many steps: no more lead to the document as it was before.
func (b *browser) undoTo(id string, steps int, before project.Document) {
	b.t.Helper()
	want, err := project.Encode(before)
	if err != nil {
		b.t.Fatal(err)
	}
	for range steps {
		b.click(tid("action-undo"))
	}
	b.untilStored(id, func(doc project.Document) string {
		got, err := project.Encode(doc)
		if err != nil || !bytes.Equal(got, want) {
			return fmt.Sprintf("after %d steps back the document is (%v)\n%s\nwant\n%s", steps, err, got, want)
		}
		return ""
	})
	if why := eval[string](b, `document.querySelector('[data-testid="action-undo"]').getAttribute('aria-disabled') ?? ''`); why != "true" {
		b.t.Errorf("more than %d steps were made", steps)
	}
	for range steps {
		b.keys("z", chromedp.KeyModifiers(chromedp.ModifierCtrl|chromedp.ModifierShift))
	}
}

// TestWiringDialog chooses an inverter, asks for the station, types a
// temperature over and gives it back, is refused, undoes and loads again.
func TestWiringDialog(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	id := give(t, base, house())
	openRoof(b, id)
	before := b.stored(id)

	b.click(tid("open-wiring"))
	b.click(tid("wiring-kind-string"))
	b.pick("wiring-inverter", "demo-inv-7k6")
	b.untilText(tid("wiring-inverter-figures"), "600 V")
	b.untilText(tid("wiring-inverter-figures"), "3 × 1 string, 16 A operating, 21 A short circuit")
	b.untilText(tid("wiring-code"), "600 V. NEC 690.7")
	b.untilText(tid("wiring-cold-basis"), "Not known")

	b.click(tid("wiring-station"))
	b.untilText(tid("wiring-station-figures"), "Lone Rock")
	b.untilText(tid("wiring-station-figures"), "28 km")
	b.untilText(tid("wiring-cold-basis"), "-33.0 C is the lowest temperature of the typical year")
	b.fill(tid("wiring-cold"), "-70")
	b.untilText("#field-wiring-cold-error", "Coldest to be expected: -70 is out of range. Type a temperature from −60 to 40 °C.")
	b.fill(tid("wiring-cold"), "-25.5")
	b.untilText(tid("wiring-cold-basis"), "Typed. The station has −33 °C.")
	b.click(tid("wiring-cold-back"))
	b.untilText(tid("wiring-cold-basis"), "-33.0 C")
	b.fill(tid("wiring-hot"), "36")
	b.click(tid("wiring-mix"))
	b.click(tid("wiring-shutdown"))
	b.fill(tid("wiring-main"), "200")
	b.fill(tid("wiring-busbar"), "10")
	b.untilText("#field-wiring-busbar-error", "Rating of its busbar: 10 is out of range. Type a number from 15 to 10000.")
	b.fill(tid("wiring-busbar"), "225")
	b.shoot("wiring")
	b.click(tid("wiring-close"))
	b.untilSame(id, func(d project.Document) any {
		w := d.Wiring
		return []any{w.Kind, w.Inverter != nil && w.Inverter.ID == "demo-inv-7k6", w.Station != nil && w.Station.ID == "726416", w.ColdC, w.HotAirC, w.MixParallel, w.ModuleShutdown, w.MainBreakerA, w.BusbarA}
	}, []any{"string", true, true, (*float64)(nil), new(36.0), true, true, new(200.0), new(225.0)})

	b.undoTo(id, 10, before)
	b.untilSame(id, func(d project.Document) any { return d.Wiring.BusbarA }, new(225.0))
	openRoof(b, id)
	b.click(tid("open-wiring"))
	b.untilText(tid("wiring-inverter-figures"), "600 V")
	if got := eval[string](b, `document.querySelector('[data-testid="wiring-inverter"]').value`); got != "demo-inv-7k6" {
		b.until(`document.querySelector('[data-testid="wiring-inverter"]').value === 'demo-inv-7k6'`) // until the catalog is there it is the copy
	}
	b.click(tid("wiring-kind-micro"))
	b.pick("wiring-micro", "demo-micro-400")
	b.untilText(tid("wiring-micro-figures"), "at most 9 units")
	b.untilText(tid("wiring-micro-stop"), "micro-inverters stop with the AC supply")
	b.click(tid("wiring-kind-optimiser"))
	b.pick("wiring-optimiser", "demo-opt-600")
	b.untilText(tid("wiring-optimiser-figures"), "380 V")
	b.click(tid("wiring-close"))
	b.untilSame(id, func(d project.Document) any {
		return d.Wiring.Micro != nil && d.Wiring.Optimiser != nil && d.Wiring.Inverter != nil
	}, true)
	b.clean()
}

// TestNoStationInReach asks far out at sea and where the site is not known.
func TestNoStationInReach(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1024, 768)
	doc := shed()
	openRoof(b, give(t, base, doc))
	b.click(tid("open-wiring"))
	b.untilText(tid("wiring-unset"), "no latitude and longitude yet")
	b.until(`document.querySelector('[data-testid="wiring-station"]').disabled`)

	doc.Site.LatDeg, doc.Site.LonDeg = -40, -110
	id := give(t, base, doc)
	openRoof(b, id)
	b.click(tid("open-wiring"))
	b.click(tid("wiring-station"))
	b.untilText(tid("wiring-station-warnings"), "no temperature is proposed. Type both.")
	b.untilText(tid("wiring-cold-basis"), "Not known. Without it no string is called valid.")
	b.fill(tid("wiring-cold"), "2")
	b.untilText(tid("wiring-cold-basis"), "Typed.")
	b.fill(tid("wiring-hot"), "28")
	b.until(`document.querySelector('[data-testid="wiring-station-warnings"]').hidden`) // the station is then only shown
	b.untilSame(id, func(d project.Document) any {
		return []any{d.Wiring.ColdC, d.Wiring.HotAirC, d.Wiring.Station != nil && !d.Wiring.Station.Usable}
	}, []any{new(2.0), new(28.0), true})
	b.cleanBut("status of 422") // so far out at sea there is no weather, and no light
}

// TestLoadsDialog gives snow and wind in both families. What the dialog starts
// them with must be the defaults of package structural.
func TestLoadsDialog(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	doc := house()
	doc.Site.Units = "imperial"
	id := give(t, base, doc)
	openRoof(b, id)
	before := b.stored(id)
	loads := func(d project.Document) any {
		return []any{d.Loads.ASCESnow, d.Loads.ENSnow, d.Loads.FlushWind, d.Loads.TypedWind}
	}
	none := []any{(*structural.ASCESnow)(nil), (*structural.ENSnow)(nil), (*structural.FlushWind)(nil), (*structural.TypedWind)(nil)}

	b.click(tid("open-loads"))
	b.fill(tid("loads-snow"), "700 psf")
	b.untilText("#field-loads-snow-error", "Ground snow load: 700 psf is out of range. Type a pressure from 0 to 626.56 psf.")
	b.fill(tid("loads-snow"), "1436.5 Pa")
	b.untilText(tid("loads-snow-beside"), "= 1436.5 Pa")
	b.untilText(tid("loads-conversions"), "1 psf = 47.880259 Pa")
	snow := structural.DefaultASCESnow(structural.ASCE716, 1436.5)
	b.untilSame(id, loads, []any{&snow, none[1], none[2], none[3]})

	b.click(tid("loads-wind-flush"))
	b.untilText(tid("loads-wind-missing"), "Not kept yet: type the wind speed too.")
	b.untilText(tid("loads-wind-drawn"), "Measured in the drawing")
	b.fill(tid("loads-wind-speed"), "100")
	b.untilText(tid("loads-wind-speed-beside"), "= 44.7 m/s")
	// The shed is 5 m deep, its eave at 3 m: the ridge stands 5 tan 30 higher.
	want := structural.DefaultFlushWind(structural.ASCE716, 44.704, 4.4434, 5)
	want.GCp = []structural.ZoneGCp{}
	b.untilSame(id, loads, []any{&snow, none[1], &want, none[3]})

	b.click(tid("loads-edition-7-22"))
	snow, want.Edition = structural.DefaultASCESnow(structural.ASCE722, 1436.5), structural.ASCE722
	b.untilSame(id, loads, []any{&snow, none[1], &want, none[3]})
	b.shoot("loads")

	b.click(tid("loads-snow-factors-fold"))
	b.fill(tid("loads-snow-ct"), "1")
	b.pick("loads-snow-curve", "warm")
	b.fill(tid("loads-snow-ct"), "1.3") // takes the curve along
	snow.ThermalCt = 1.3
	b.click(tid("loads-wind-factors-fold"))
	b.click(tid("loads-gcp-fold"))
	b.untilText(tid("loads-gcp-used"), "Used on Slope, 30°: 1 1.8 / 0.9; 2e 1.8 / 0.9;")
	b.fill(tid("loads-gcp-2e"), "9 / 1")
	b.untilText("#field-loads-gcp-2e-error", "Zone 2e, eave: 9 / 1 is out of range. Type suction from 0 to 6 and pressure from 0 to 3")
	b.fill(tid("loads-gcp-2e"), "1.5 / 0.7")
	b.fill(tid("loads-gcp-1"), "1.4/0.7")
	want.GCp = []structural.ZoneGCp{{Zone: "1", Up: 1.4, Down: 0.7}, {Zone: "2e", Up: 1.5, Down: 0.7}}
	b.untilSame(id, loads, []any{&snow, none[1], &want, none[3]})
	b.untilText(tid("loads-gcp-used"), "Used: the typed ones, 1 1.4 / 0.7; 2e 1.5 / 0.7.")
	b.shoot("factors")

	b.fill(tid("loads-span"), `4'`)
	b.fill(tid("loads-cantilever"), "50")
	b.untilText("#field-loads-cantilever-error", "Past the last attachment: 50 is out of range. Type a number from 0 to 40.")
	b.fill(tid("loads-cantilever"), "33")
	b.click(tid("loads-rails-up_slope"))
	b.untilText(tid("loads-rails-note"), "no rails are laid out here")
	b.untilSame(id, func(d project.Document) any { return []any{d.Loads.SpanM, d.Loads.CantileverShare, d.Loads.Rails} }, []any{new(1.2192), 0.33, "up_slope"})
	b.click(tid("loads-close"))
	b.undoTo(id, 11, before)
	b.untilSame(id, loads, []any{&snow, none[1], &want, none[3]})

	typeIECLoads(b, id)
	openRoof(b, id)
	b.click(tid("open-loads"))
	b.until(`document.querySelector('[data-testid="loads-snow-en"]').value === '750'`)
	b.until(`document.querySelector('[data-testid="loads-wind-typed"]').checked`)
	b.clean()
}

// typeIECLoads turns the site to the IEC family and metres and types its loads:
// no wind of ASCE 7 is on offer there.
func typeIECLoads(b *browser, id string) {
	b.t.Helper()
	b.click(tid("open-site"))
	b.click(tid("site-family-iec"))
	b.click(tid("site-units-metric"))
	b.click(tid("site-close"))
	b.click(tid("open-loads"))
	b.until(`!document.querySelector('[data-testid="loads-wind-flush"]').checkVisibility()`)
	b.fill(tid("loads-snow-en"), "750")
	b.click(tid("loads-wind-typed"))
	b.fill(tid("loads-wind-up"), "1.1 kPa")
	b.untilText(tid("loads-wind-typed-missing"), "Not kept yet: type the pressure too.")
	b.fill(tid("loads-wind-down"), "400")
	en := structural.DefaultENSnow(750)
	b.untilSame(id, func(d project.Document) any { return []any{d.Loads.ENSnow, d.Loads.TypedWind, d.Loads.FlushWind} },
		[]any{&en, &structural.TypedWind{UpPa: 1100, DownPa: 400}, (*structural.FlushWind)(nil)})
	b.untilText(tid("loads"), "This checks the module only, not clamps, rafters or roof. A licensed engineer decides.")
	b.click(tid("loads-close"))
}

// TestCostDialog types a currency and costs, and takes one back to not known.
func TestCostDialog(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	id := give(t, base, house())
	openRoof(b, id)
	before := b.stored(id)
	cost := func(d project.Document) any { return d.Cost }

	b.click(tid("open-cost"))
	b.fill(tid("cost-currency"), "thirteenchars")
	b.untilText("#field-cost-currency-error", "Currency: “thirteenchars” has 13 characters; 0 to 12 are allowed.")
	b.fill(tid("cost-currency"), "EUR")
	b.untilText(tid("cost-prices"), "112 EUR")
	b.fill(tid("cost-module"), "180,50")
	b.fill(tid("cost-fixed"), "2400")
	b.untilSame(id, cost, project.Cost{Currency: "EUR", RestPerModule: new(180.5), RestFixed: new(2400.0)})
	b.fill(tid("cost-fixed"), "0")
	b.untilSame(id, cost, project.Cost{Currency: "EUR", RestPerModule: new(180.5), RestFixed: new(0.0)})
	eval[bool](b, `(document.querySelector('[data-testid="cost-fixed"]').value = '', document.querySelector('[data-testid="cost-fixed"]').dispatchEvent(new Event('change')), true)`)
	b.untilSame(id, cost, project.Cost{Currency: "EUR", RestPerModule: new(180.5)})
	b.shoot("cost")
	b.click(tid("cost-close"))
	b.undoTo(id, 5, before)
	b.untilSame(id, cost, project.Cost{Currency: "EUR", RestPerModule: new(180.5)})
	openRoof(b, id)
	b.click(tid("open-cost"))
	b.until(`document.querySelector('[data-testid="cost-module"]').value === '180.5'`)
	b.clean()
}

// TestCandidatesKeepTheirDatasheets adds a module with its datasheet, renames
// it, is asked before another size takes the datasheet away, and takes it again.
func TestCandidatesKeepTheirDatasheets(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	id := give(t, base, house())
	openRoof(b, id)
	before := b.stored(id)
	sheetOfB := func(d project.Document) any {
		return []any{d.Candidates[1].PmaxW, d.Candidates[1].Datasheet != nil}
	}

	b.click(tid("tally-candidates"))
	b.click(tid("candidates-add"))
	b.untilStored(id, func(d project.Document) string {
		if len(d.Candidates) != 4 || d.Candidates[3].Datasheet == nil || d.Candidates[3].Datasheet.VocV == 0 {
			return "the added module has no datasheet"
		}
		return ""
	})
	b.untilText(tid("candidate-B-sheet-fold"), "Datasheet: Voc 37.8 V")
	b.fill(tid("candidate-B-label"), "Field trial B")
	b.untilSame(id, func(d project.Document) any {
		return d.Candidates[1].Datasheet != nil && d.Candidates[1].Datasheet.Label == "Field trial B"
	}, true)
	b.untilText(tid("candidate-B-origin"), "edited copy")

	b.fill(tid("candidate-B-pmax"), "405")
	b.untilText(tid("datasheet"), "With 405 W")
	b.shoot("question")
	b.click(tid("datasheet-close"))
	b.until(`document.querySelector('[data-testid="candidate-B-pmax"]').value === '400'`)
	b.fill(tid("candidate-B-pmax"), "405")
	b.click(tid("datasheet-drop"))
	b.untilText(tid("candidate-B-typed"), "wiring, loads, warranty and price are not worked out")
	b.untilSame(id, sheetOfB, []any{405, false})
	b.click(tid("candidate-B-again"))
	b.untilSame(id, sheetOfB, []any{400, true})
	b.pick("candidate-B-catalog", "")
	b.untilSame(id, func(d project.Document) any {
		return []any{d.Candidates[1].CatalogID, d.Candidates[1].Datasheet == nil}
	}, []any{"", true})
	b.click(tid("candidate-A-sheet-fold"))
	b.untilText(tid("candidate-A-figures"), "clamps on long edges")
	b.shoot("candidates")
	b.click(tid("candidates-close"))
	b.undoTo(id, 5, before)
	b.untilSame(id, func(d project.Document) any { return d.Candidates[1].CatalogID }, "")
	openRoof(b, id)
	b.click(tid("tally-candidates"))
	b.untilText(tid("candidate-B-origin"), "Typed here")
	b.clean()
}

// TestBuildDialogsOnEveryScreen opens each dialog on a desk, a tablet and a
// phone: nothing in it reaches over a side, and the way out is in sight.
func TestBuildDialogsOnEveryScreen(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	for _, units := range []string{"metric", "imperial"} {
		doc := project.Demo()
		doc.Site.Units = units
		id := give(t, base, doc)
		for _, size := range [][2]int64{{1440, 900}, {1024, 768}, {390, 844}} {
			t.Run(fmt.Sprintf("%s/%dx%d", units, size[0], size[1]), func(t *testing.T) {
				b.t = t
				b.do(chromedp.EmulateViewport(size[0], size[1]))
				openRoof(b, id)
				for _, name := range []string{"wiring", "loads", "cost", "candidates"} {
					lookAtDialog(b, name, size[0] < 900)
				}
			})
		}
	}
	b.t = t
	b.clean()
}

// lookAtDialog opens a dialog and everything folded in it.
func lookAtDialog(b *browser, name string, narrow bool) {
	b.t.Helper()
	opener := "open-" + name
	if name == "candidates" {
		opener = "tally-candidates"
		if narrow {
			b.click(tid("props-close"))
		}
	} else if narrow && !eval[bool](b, `document.querySelector('#props').dataset.open === 'true'`) {
		b.click(tid("props-open"))
	}
	b.click(tid(opener))
	b.drawn()
	b.shoot(name)
	eval[bool](b, `(document.querySelectorAll('dialog details').forEach((d) => { d.open = true; }), true)`)
	b.drawn()
	over := eval[string](b, fmt.Sprintf(`(() => {
		const box = document.querySelector(%q).getBoundingClientRect();
		return [...document.querySelectorAll(%q)].filter((e) => e.checkVisibility())
			.filter((e) => { const r = e.getBoundingClientRect(); return r.left < box.left - 0.5 || r.right > box.right + 0.5 || e.scrollWidth > e.clientWidth + 1 && e.tagName !== 'INPUT' && e.tagName !== 'SELECT'; })
			.map((e) => e.tagName + ' ' + e.textContent.slice(0, 40)).join('; ');
	})()`, tid(name), tid(name)+` :is(p, dd, dt, label:not(.visually-hidden), summary, input, select, button, li, h3)`))
	if over != "" {
		b.t.Errorf("%s: over a side: %s", name, over)
	}
	if hit := eval[string](b, outOfSight(tid(name+"-close"))); hit != "" {
		b.t.Errorf("%s: the way out is out of sight", name)
	}
	if small := eval[string](b, fmt.Sprintf(`[...document.querySelectorAll(%q)].filter((e) => e.checkVisibility() && e.getBoundingClientRect().height < 43.5).map((e) => e.textContent || e.id).join('; ')`,
		tid(name)+` :is(input:not([type=radio], [type=checkbox]), select, summary, button)`)); strings.TrimSpace(small) != "" {
		b.t.Errorf("%s: too small to touch: %s", name, small)
	}
	for i := 1; i < 5; i++ {
		eval[bool](b, fmt.Sprintf(`(document.querySelector('dialog .p-dialog-body').scrollTop = %d * (document.querySelector('dialog .p-dialog-body').clientHeight - 40), true)`, i))
		b.shoot(fmt.Sprintf("%s-%d", name, i))
	}
	b.click(tid(name + "-close"))
}
