package main

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/chromedp/chromedp"
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

	b.open(demo + "/options")
	b.untilText(tid("decides"), "kWdc")
	b.picture("options")

	b.open(demo + "/proposal")
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
