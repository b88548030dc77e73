package web

// A sheet with a drawing over tables is one page where both have room on it. Else
// the drawing takes the first page, and the tables begin the next: a few lines
// alone on a page would be paper for nothing. What the tables take is estimated
// from their rows, by heights measured in the printed page.
const (
	// tablePlanShare is how much of the plan's frame a drawing may take on a page
	// that it shares with a table, and leastPlanShare how little is enough.
	tablePlanShare = 0.6
	leastPlanShare = 0.45

	loadHeadMM   = 5
	loadRowMM    = 5
	loadGroupMM  = 6.3 // a plane's name above its rows
	railHeadMM   = 9
	railRowMM    = 4.1
	noteLineMM   = 4.5
	noteChars    = 105 // on a line of a finding
	weightLineMM = 5.2
	loadRestMM   = 61 // headings, caution, key and the lines below the table
	railRestMM   = 35
	partHeadMM   = 11 // a heading with the space above it
	spareMM      = 5
)

// tablePlan is the room of a drawing over tables.
type tablePlan struct {
	HeightMM float64
	// Parted says that the tables begin a page.
	Parted bool
}

// planOver lays out a drawing over tables. With restMM on its page besides, it
// shares it; where it does not, aloneMM stay with it.
func planOver(p paper, restMM, aloneMM float64) tablePlan {
	if room := p.TextHeightMM - restMM - spareMM; room >= leastPlanShare*p.PlanHeightMM {
		return tablePlan{HeightMM: min(room, tablePlanShare*p.PlanHeightMM)}
	}
	return tablePlan{HeightMM: min(p.PlanHeightMM, p.TextHeightMM-aloneMM-spareMM), Parted: true}
}

// loadsPlan lays out the sheet of loads.
func loadsPlan(p paper, l loadsView) tablePlan {
	rest := loadRestMM + loadHeadMM + notesMM(l.Findings)
	for _, plane := range l.Planes {
		rest += loadGroupMM + loadRowMM*float64(len(plane.Rows))
		for _, r := range plane.Rows {
			if r.Why != "" { // on a line of its own
				rest += noteLineMM
			}
		}
	}
	return planOver(p, rest, loadRestMM)
}

// railsPlan lays out the sheet of rails; the table by plane stays with the drawing.
func railsPlan(p paper, r railsView, weights int) tablePlan {
	runs := 0
	for _, plane := range r.Planes {
		runs += len(plane.Runs)
	}
	alone := railRestMM + railHeadMM + railRowMM*float64(len(r.Planes))
	rest := alone + partHeadMM + railHeadMM + railRowMM*float64(runs) + notesMM(r.Findings)
	if weights > 0 {
		rest += partHeadMM + weightLineMM*float64(weights)
	}
	return planOver(p, rest, alone)
}

// notesMM is the height of a list of findings.
func notesMM(all []finding) float64 {
	if len(all) == 0 {
		return 0
	}
	lines := 0
	for _, f := range all {
		lines += 1 + len(f.Level+": "+f.Text)/noteChars
	}
	return 4 + noteLineMM*float64(lines)
}

// buildPlans are the rooms of the drawings of what it takes to build.
type buildPlans struct{ Loads, Rails tablePlan }

// of is the height of a drawing by its ID.
func (b buildPlans) of(p paper, id string) float64 {
	switch {
	case id == "loads" && b.Loads.HeightMM > 0:
		return b.Loads.HeightMM
	case id == "rails" && b.Rails.HeightMM > 0:
		return b.Rails.HeightMM
	}
	return tablePlanShare * p.PlanHeightMM
}
