package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"rooftally/project"
)

// openLight looks at the light of a project in the editor once it is that of the
// drawing.
func (b *browser) openLight() {
	b.t.Helper()
	b.click(tid("action-light"))
	b.untilLit("")
}

// lightKey names the light that is drawn, "" for none and for an old one.
func (b *browser) lightKey() string {
	b.t.Helper()
	return eval[string](b, `document.querySelector('[data-testid="light-map"]:not(.stale)')?.dataset.key ?? ''`)
}

// untilLit waits until the map is that of the drawing and another than before.
func (b *browser) untilLit(before string) {
	b.t.Helper()
	b.until(fmt.Sprintf(`(() => { const m = document.querySelector('[data-testid="light-map"]:not(.stale)'); return !!m && m.dataset.key !== %q; })()`, before))
	b.untilCounted()
}

// percents are the shares printed on the modules.
func (b *browser) percents() []int {
	b.t.Helper()
	b.drawn()
	var out []int
	for _, text := range eval[[]string](b, `[...document.querySelectorAll('[data-testid="light-module"]')].map((e) => e.textContent)`) {
		n, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(text, "%")))
		if err != nil {
			b.t.Fatalf("a module bears %q", text)
		}
		out = append(out, n)
	}
	return out
}

func least(list []int) int {
	low := 1000
	for _, n := range list {
		low = min(low, n)
	}
	return low
}

// TestATreeDarkensTheRoof imports a weather file in the editor, places a tree,
// sees the map change, leaves the dark places out of the counts, and takes every
// step back.
func TestATreeDarkensTheRoof(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	doc := house()
	doc.KeepOuts = nil
	id := give(t, base, doc)
	openRoof(b, id)
	before := b.stored(id)

	year := inventedYear(t)
	path := keepLines(t, "invented.epw", epwText(year))
	b.click(tid("open-weather"))
	b.untilText(tid("weather-words"), "Lone Rock")
	b.do(chromedp.SetUploadFiles(chromedp.CSS(tid("weather-file")), []string{path}))
	b.untilText(tid("weather-import-note"), "invented.epw is in use")
	b.untilText(tid("weather-words"), "invented.epw")
	b.untilText(tid("weather-file-facts"), "Invented Field")
	b.shoot("weather")
	b.click(tid("weather-close"))
	b.untilStored(id, func(d project.Document) string {
		if d.Weather.Source != project.FromFile || d.Weather.File == nil || d.Weather.File.Hours != len(year.Hours) {
			return fmt.Sprintf("stored weather: %+v", d.Weather)
		}
		return ""
	})

	b.openLight()
	b.untilText(tid("light-source"), "invented.epw")
	open := b.percents()
	if len(open) == 0 || least(open) < 97 {
		t.Fatalf("with nothing around the modules have %v %%", open)
	}
	count := b.text(tid("tally-A-count"))
	first := b.lightKey()

	b.click(tid("menu-surroundings-button"))
	b.click(tid("menu-place-tree"))
	b.untilText("#status", "middle of the tree")
	b.clickPlan(point{3, -2.6})
	b.untilMany("tree", 1)
	b.fill(tid("tree-across"), "6")
	b.fill(tid("around-top"), "12")
	b.untilLit(first)
	b.shoot("tree")
	b.keys(kb.Escape)
	b.keys(kb.Escape)
	b.untilText("#status", "Light:")
	dark := b.percents()
	if least(dark) >= least(open)-5 {
		t.Errorf("behind the tree the modules have %v %%, without it %v %%", dark, open)
	}
	b.shoot("dark")

	// The limit of light, and what it leaves out.
	b.fill(tid("light-limit"), strconv.Itoa(least(dark)+4))
	b.click(tid("light-use-limit"))
	b.untilText(tid("tally-A-dark"), "left out as dark")
	b.untilCounted()
	if now := b.text(tid("tally-A-count")); now == count {
		t.Errorf("%s modules with the dark places and without them", now)
	}
	if low := least(b.percents()); low < least(dark)+3 { // printed whole
		t.Errorf("a module with %d %% stands under a limit of %d %%", low, least(dark)+4)
	}
	b.shoot("limited")
	b.untilStored(id, func(d project.Document) string {
		if d.Target.MinAccessPct != float64(least(dark)+4) || len(d.Surroundings.Trees) != 1 || d.Surroundings.Trees[0].TopM != 12 || d.Surroundings.Trees[0].RadiusM != 3 {
			return fmt.Sprintf("stored: %+v, %+v", d.Target, d.Surroundings)
		}
		return ""
	})
	// The server counts the same with its own light.
	lit := b.stored(id)
	counted, key := countedWithLight(t, base, lit)
	if got := b.text(tid("tally-A-count")); got != strconv.Itoa(counted) || key == "" {
		t.Errorf("the page counts %s, the server %d with light %q", got, counted, key)
	}

	b.undoTo(id, 5, before) // weather, tree, its crown, its top, the limit
	b.clean()
}

// countedWithLight is how many modules of the first candidate the server counts,
// and the light that it counts with.
func countedWithLight(t *testing.T, base string, doc project.Document) (count int, key string) {
	t.Helper()
	data, err := project.Encode(doc)
	if err != nil {
		t.Fatal(err)
	}
	r, err := http.Post(base+"/api/evaluate?light=1&budget=drag", "application/json", bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	var answer struct {
		SunlightKey string `json:"sunlight_key"`
		Candidates  []struct {
			Fill struct {
				Count int `json:"count"`
			} `json:"fill"`
		} `json:"candidates"`
	}
	if err := json.NewDecoder(r.Body).Decode(&answer); err != nil || len(answer.Candidates) == 0 {
		t.Fatalf("%s: %v, %d candidates", r.Status, err, len(answer.Candidates))
	}
	return answer.Candidates[0].Fill.Count, answer.SunlightKey
}

// TestLightOfOneModuleAndOneMoment moves the sun by keys, reads a module's months
// and what the things around cost, and takes a proposed shade area.
func TestLightOfOneModuleAndOneMoment(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	doc := house()
	doc.Site.UTCOffsetH = -6
	doc.Surroundings.Trees = []project.Tree{project.NewTree("oak", "Oak", project.Point{XM: 3, YM: -2.6}, 2.5, 2, 12)}
	id := give(t, base, doc)
	openRoof(b, id)
	b.openLight()
	b.until(`!document.querySelector('#tally[data-looking]')`)

	b.click(tid("light-sun"))
	b.untilText(tid("light-sun-words"), "high. It rises 0")
	noon := b.text(tid("light-sun-words"))
	b.untilMany("sun-shadow", 2) // the flue, and the oak's crown, which lets light through
	b.do(chromedp.Focus(chromedp.CSS(tid("light-clock"))))
	for range 16 {
		b.keys(kb.ArrowRight)
	}
	b.untilText(tid("light-clock-words"), "16:00")
	b.until(fmt.Sprintf(`document.querySelector('[data-testid="light-sun-words"]').textContent !== %q`, noon))
	b.untilText(tid("light-sun-words"), "W, ")
	b.do(chromedp.Focus(chromedp.CSS(tid("light-clock"))))
	b.keys(kb.End)
	b.untilText(tid("light-sun-words"), "The sun is down.")
	b.keys(kb.Home)
	b.shoot("night")
	for range 36 {
		b.keys(kb.ArrowRight)
	}
	b.untilText(tid("light-clock-words"), "12:00")
	b.untilText(tid("light-sun-words"), "high.")
	b.shoot("noon")

	b.click(tid("lit-next"))
	b.untilText(tid("lit-title"), "Slope, module 1")
	b.until(`document.querySelectorAll('[data-testid="lit-months"] tr').length === 12`)
	b.untilText(tid("lit-facts"), "kWh a year")
	first := b.text(tid("lit-facts"))
	b.click(tid("lit-previous"))
	b.until(fmt.Sprintf(`document.querySelector('[data-testid="lit-facts"]').textContent !== %q`, first))
	b.shoot("module")

	b.click(tid("worths-ask"))
	b.untilText(tid("worths"), "Oak removed: +")
	b.untilText(tid("worths"), "cut to 10 m +")
	b.untilText(tid("worths"), "Old flue removed: +")

	steps := len(b.stored(id).KeepOuts)
	b.fill(tid("light-limit"), "70")
	b.click(tid("light-propose"))
	b.until(`document.querySelectorAll('[data-testid="proposed-shade"]').length > 0`)
	areas := eval[int](b, `document.querySelectorAll('[data-testid="proposed-shade"]').length`)
	b.shoot("proposal")
	b.click(tid("light-take"))
	b.untilStored(id, func(d project.Document) string {
		if len(d.KeepOuts) != steps+areas || d.KeepOuts[steps].Kind != "shade" || d.KeepOuts[steps].Shade != "off_limits" {
			return fmt.Sprintf("stored %d keep-outs, want %d more than %d", len(d.KeepOuts), areas, steps)
		}
		return ""
	})
	b.untilMany("proposed-shade", 0)
	b.undoTo(id, 1, doc)
	b.clean()
}

// TestTheLightCanBeCalledOff draws on while the light is worked out, and calls
// it off.
func TestTheLightCanBeCalledOff(t *testing.T) {
	l := lineTo(t, startApp(t, filepath.Join(t.TempDir(), "a.db")))
	b := openBrowser(t, l.url, 1440, 900)
	doc := house()
	id := give(t, l.url, doc)
	release := l.hold("/api/light")
	openRoof(b, id)
	b.untilText(tid("light-progress"), "Working out the light")
	b.click(tid("roof-use-slope"))
	b.untilText("#tally", "0")
	b.click(tid("action-undo"))
	b.untilCounted()
	b.click(tid("action-light"))
	b.click(tid("light-cancel"))
	b.untilText(tid("light-note"), "The light was not worked out.")
	b.shoot("stopped")
	release()
	b.click(tid("light-again"))
	b.untilLit("")
	b.until(`document.querySelector('[data-testid="light-progress"]').hidden`)
}

// TestAnOutlineSurvivesAReload loads the page again in the middle of a drawing.
func TestAnOutlineSurvivesAReload(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	id := give(t, base, house())
	openRoof(b, id)
	b.click(tid("action-mark-shade"))
	b.untilText("#status", "corner")
	b.clickPlan(point{1, 1})
	b.clickPlan(point{4, 1})
	b.untilMany("draft-corner", 2)
	b.do(chromedp.Reload())
	b.untilText("#status", "The outline begun before is still here.")
	b.untilMany("draft-corner", 2)
	b.clickPlan(point{4, 3})
	b.keys(kb.Enter)
	b.untilStored(id, func(d project.Document) string {
		if n := len(d.KeepOuts); n != 2 || d.KeepOuts[1].Kind != "shade" || len(d.KeepOuts[1].Points) != 3 {
			return fmt.Sprintf("stored keep-outs: %+v", d.KeepOuts)
		}
		return ""
	})
	b.do(chromedp.Reload())
	b.untilCounted()
	if said := b.text("#status"); strings.Contains(said, "begun before") {
		t.Errorf("after the outline is closed: %q", said)
	}
}

// TestTheLightFits looks for what lies outside the window, on three sizes.
func TestTheLightFits(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	openRoof(b, give(t, base, project.Demo()))
	b.openLight()
	b.click(tid("light-sun"))
	b.untilText(tid("light-sun-words"), "high.")
	for _, size := range [][2]int64{{1440, 900}, {1024, 768}, {390, 844}} {
		b.do(chromedp.EmulateViewport(size[0], size[1]))
		b.until(fmt.Sprintf(`innerWidth === %d`, size[0]))
		b.drawn()
		b.shoot(fmt.Sprintf("light-%d", size[0]))
		if wide := eval[int](b, `document.documentElement.scrollWidth`); wide > int(size[0]) {
			t.Errorf("%d px: the page is %d px wide", size[0], wide)
		}
		if high := eval[float64](b, `document.querySelector('#board').getBoundingClientRect().height`); high < 180 {
			t.Errorf("%d x %d: %.0f px are left for the drawing", size[0], size[1], high)
		}
	}
	b.clean()
}
