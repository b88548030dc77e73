package main

import (
	"fmt"
	"path/filepath"
	"testing"

	"rooftally/project"
)

func TestZZShots(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	for _, size := range [][2]int{{1440, 900}, {1024, 768}, {390, 844}} {
		for _, units := range []string{"metric", "imperial"} {
			b := openBrowser(t, base, size[0], size[1])
			doc := project.Demo()
			doc.Site.Units = units
			openRoof(b, give(t, base, doc))
			if size[0] < 900 {
				b.click(tid("props-open"))
			}
			for _, d := range []string{"wiring", "loads", "cost", "candidates"} {
				if d == "candidates" {
					eval[bool](b, `(document.querySelector('[data-testid="tally-candidates"], [data-testid="open-candidates"]')?.click(), true)`)
				} else {
					b.click(tid("open-" + d))
				}
				b.drawn()
				for i := range 4 {
					eval[bool](b, fmt.Sprintf(`(document.querySelector('dialog').scrollTop = %d*(document.querySelector('dialog').clientHeight-90), true)`, i))
					if i == 2 && units == "imperial" {
						eval[bool](b, `(document.querySelectorAll('dialog details').forEach(d => d.open = true), true)`)
					}
					b.drawn()
					b.shoot(fmt.Sprintf("%d-%s-%s-%d", size[0], units, d, i))
				}
				b.click(tid(d + "-close"))
			}
			b.clean()
		}
	}
}
