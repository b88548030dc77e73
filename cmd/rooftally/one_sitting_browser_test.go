package main

import (
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"rooftally/catalog"
	"rooftally/project"
)

// TestFromADatasheetToTheWiringPlan is one sitting: a module is imported as CSV
// and put on the roof, an inverter picked, the site's cold, snow and wind given,
// and the wiring plan and the loads are read on the build page and the proposal.
func TestFromADatasheetToTheWiringPlan(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)

	b.open("/catalog/modules")
	upload(b, csvFile(t, "module.csv", func(*catalog.Datasheet) {}))
	b.untilText(tid("sums"), "Added1")
	b.click(tid("apply"))
	b.untilText(".notice", "1 module added.")

	id := give(t, base, house())
	openRoof(b, id)
	b.click(tid("tally-candidates"))
	b.pick("candidate-A-catalog", "imported-405")
	b.untilText(tid("candidate-A-sheet-fold"), "Voc 37.8 V")
	b.click(tid("candidates-close"))
	b.click(tid("open-wiring"))
	b.click(tid("wiring-kind-string"))
	b.pick("wiring-inverter", "demo-inv-7k6")
	b.untilText(tid("wiring-inverter-figures"), "600 V")
	b.click(tid("wiring-station"))
	b.untilText(tid("wiring-cold-basis"), "-33.0 C")
	b.click(tid("wiring-shutdown"))
	b.fill(tid("wiring-main"), "200")
	b.fill(tid("wiring-busbar"), "225")
	b.click(tid("wiring-close"))
	b.click(tid("open-loads"))
	b.fill(tid("loads-snow"), "1440")
	b.click(tid("loads-wind-typed"))
	b.fill(tid("loads-wind-up"), "900")
	b.fill(tid("loads-wind-down"), "900")
	b.fill(tid("loads-span"), "1.2")
	b.click(tid("loads-close"))
	b.untilStored(id, func(d project.Document) string {
		if d.Loads.TypedWind == nil || d.Loads.SpanM == nil || d.Wiring.BusbarA == nil || d.Candidates[0].CatalogID != "imported-405" {
			return "the sitting is not stored"
		}
		return ""
	})

	b.click(`nav.steps a[href$="/build"]`)
	b.untilText("h1", "Build")
	b.open("/projects/" + id + "/build?wait=long")
	readThePlan(b)
	// By arithmetic: wind lifts with 0.6 x 900 Pa = 540 Pa, 33.75 % of 1600 Pa; on
	// the front D + 0.75 S + 0.75 x 0.6 W is 1179 Pa of 3600 Pa.
	b.untilText(tid("load-words"), "within the design rating")
	b.untilText(tid("governing"), "Rear 540 Pa of 1600 Pa, 33.8 %, by 0.6 W.")
	b.untilText(tid("loads"), "This checks the module only, not clamps, rafters or roof. A licensed engineer decides.")
	b.untilText(tid("rails"), "Double strokes: splices")
	b.shootParts("build")

	b.click(`nav.steps a[href$="/proposal"]`)
	b.untilText(tid("wiring"), "S1")
	b.untilText(tid("loads"), "A licensed engineer decides.")
	b.clean()
}

// readThePlan checks each string of the page by its own arithmetic. Cold Voc is
// 37.8 V x (1 + 0.0025 x 58) = 43.281 V: at most 13 modules stay within 600 V.
func readThePlan(b *browser) {
	b.t.Helper()
	b.untilText(tid("wires"), "modules fit")
	rows := eval[[][]string](b, `[...document.querySelectorAll('[data-testid="wiring-table"] tbody tr:not(.total)')].map(r => [...r.children].map(c => c.textContent.trim()))`)
	if len(rows) == 0 {
		b.t.Fatal("no string is shown")
	}
	for _, cells := range rows {
		n, voc := number(b, cells[3]), number(b, cells[6])
		if n < 1 || n > 13 || math.Abs(voc-n*43.281) > 0.06 || strings.Count(cells[4], ",")+1 != int(n) {
			b.t.Errorf("string %q", cells)
		}
	}
	b.untilText(tid("marks"), "each module has listed shutdown gear")
	b.untilText(tid("ac"), fmt.Sprintf("1.25 x 32 A + 200 A = %d A", 240))
}

// number reads a cell of a table.
func number(b *browser, text string) float64 {
	b.t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		b.t.Errorf("%q is no number", text)
	}
	return v
}
