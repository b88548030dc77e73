package main

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"rooftally/project"
)

var pictures = flag.String("pictures", "", "folder that TestTheGuideScreens writes the guide's pictures to")

// TestTheGuideScreens opens every screen that docs/guide.md shows, on the demo
// house, and takes its picture where -pictures says so.
func TestTheGuideScreens(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	_, list := read(t, base+"/")
	demo := regexp.MustCompile(`/projects/[0-9a-f-]{36}`).FindString(list)
	b := openBrowser(t, base, 1280, 800)

	b.open("/")
	b.untilText("main", "Demo house (invented)")
	b.picture("projects")

	b.open("/catalog/modules")
	b.untilText(".list-head", "12 modules")
	b.picture("catalog")

	b.open(demo)
	b.until(`document.querySelectorAll('[data-testid="module"]').length > 0`)
	b.picture("roof")
	b.clickPlan(point{1, 6.6})
	b.until(`document.querySelectorAll('[data-testid="handle"]').length > 0`)
	b.picture("plane")
	b.click(tid("props-roof"))
	b.click(tid("open-rules"))
	b.untilText(tid("rules-notes"), "local code")
	b.picture("rules")

	b.click(tid("rules-close"))
	b.click(tid("open-wiring"))
	b.untilText(tid("wiring-inverter-figures"), "600 V")
	b.picture("wiring")
	b.click(tid("wiring-close"))
	b.click(tid("open-loads"))
	b.untilText(tid("loads-wind-factors-fold"), "Factors")
	b.picture("loads")

	b.open(demo)
	b.untilCounted()
	b.click(tid("menu-surroundings-button"))
	b.click(tid("menu-surroundings"))
	b.untilText("#status", "Surroundings:")
	tree := project.Demo().Surroundings.Trees[0]
	b.clickPlan(point{tree.XM, tree.YM})
	b.untilText(tid("props-title"), tree.Label)
	b.picture("surroundings")
	b.keys(kb.Escape)
	b.keys(kb.Escape)
	b.openLight()
	b.click(tid("light-sun"))
	b.do(chromedp.Focus(chromedp.CSS(tid("light-clock"))))
	for range 12 { // to three in the afternoon
		b.keys(kb.ArrowRight)
	}
	b.untilText(tid("light-clock-words"), "15:00")
	b.untilText(tid("light-sun-words"), "high.")
	b.click(tid("lit-next"))
	b.until(`document.querySelectorAll('[data-testid="lit-months"] tr').length === 12`)
	b.picture("light")

	b.open(demo + "/options?wait=long")
	b.untilText(tid("decides"), "kWdc")
	b.picture("options")

	b.open(demo + "/build?wait=long")
	b.untilText(tid("wires"), "modules fit")
	eval[bool](b, `(document.querySelector('#wiring').scrollIntoView(), true)`)
	b.drawn()
	b.picture("build")

	b.open(demo + "/proposal?wait=long")
	b.untilText(tid("cautions"), "licensed")
	b.picture("proposal")
	b.clean()
}

// picture writes a screenshot to the folder named by -pictures, if any.
func (b *browser) picture(name string) {
	b.t.Helper()
	if *pictures == "" {
		return
	}
	png, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		b.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(*pictures, name+".png"), png, 0o644); err != nil {
		b.t.Fatal(err)
	}
}
