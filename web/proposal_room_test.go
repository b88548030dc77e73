package web

import (
	"strings"
	"testing"

	"rooftally/project"
)

func TestADrawingSharesItsPageOrLeavesIt(t *testing.T) {
	for _, p := range papers() {
		for restMM := 20.0; restMM < 400; restMM += 7 {
			const aloneMM = 60
			got := planOver(p, restMM, aloneMM)
			most, least := tablePlanShare*p.PlanHeightMM, leastPlanShare*p.PlanHeightMM
			switch {
			case got.Parted && (restMM+least+spareMM <= p.TextHeightMM || got.HeightMM+aloneMM > p.TextHeightMM):
				t.Errorf("%s, %g mm of tables: parted, %g mm high", p.Name, restMM, got.HeightMM)
			case !got.Parted && (got.HeightMM+restMM > p.TextHeightMM || got.HeightMM < least || got.HeightMM > most):
				t.Errorf("%s, %g mm of tables: shared, %g mm high", p.Name, restMM, got.HeightMM)
			}
		}
	}
}

// The demo house has every sheet: on none a few lines are left over for a page of
// their own.
func TestNoPageIsNearlyEmpty(t *testing.T) {
	needTools(t)
	feet := project.Demo()
	feet.Site.Units = "imperial"
	for _, c := range []struct {
		paper string
		doc   project.Document
	}{{"a4", project.Demo()}, {"letter", project.Demo()}, {"letter", feet}} {
		for i, page := range printPages(t, c.doc, c.paper) {
			lines := 0
			for line := range strings.Lines(page) {
				if strings.TrimSpace(line) != "" {
					lines++
				}
			}
			if lines < 8 {
				t.Errorf("%s, %s: page %d has %d lines:\n%s", c.paper, c.doc.Site.Units, i+1, lines, page)
			}
		}
	}
}
