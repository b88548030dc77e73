//go:build !js

package project

import (
	"context"
	"fmt"
	"slices"

	"rooftally/energy"
)

// YieldOf reckons what each candidate's layout yields in a typical year, the
// layout that answers the document's question. res is the evaluation of the
// document, build what [Build] makes of it, y what [WeatherOf] finds. It changes
// none of them, and the same values give the same result.
//
// Where there is no typical year, or more stands around than can be reckoned,
// YieldResult.Why says so. A document that [Document.Validate] does not pass gives
// [Problems]. A result of another document, or a cancelled context, gives an
// error.
func YieldOf(ctx context.Context, d Document, res Result, build BuildResult, y YearResult) (YieldResult, error) {
	if ps := d.Validate(); len(ps) > 0 {
		return YieldResult{}, ps
	}
	if err := sameDocument(d, res, build); err != nil {
		return YieldResult{}, fmt.Errorf("yield: %w", err)
	}
	out := YieldResult{
		Why: y.Why, Weather: weatherOf(y), Best: -1, Ties: []YieldTie{}, Notes: []string{},
		Candidates: make([]CandidateYield, len(d.Candidates)),
	}
	var scene energy.Scene
	if out.Why == "" {
		var err error
		if scene, err = SceneOf(d); err != nil {
			out.Why = fmt.Sprintf("Shadows cannot be reckoned: %v.", err)
		}
	}
	days := daysOf(d, res, y)
	err := each(len(d.Candidates), func(i int) error {
		out.Candidates[i] = emptyYield(d, res, i)
		if out.Candidates[i].Why = out.Why; out.Why != "" {
			return nil
		}
		w, err := newYielder(d, res, build, i, scene, y)
		if err == nil {
			w.days = days
			err = w.yield(ctx, &out.Candidates[i])
		}
		if err != nil {
			return fmt.Errorf("yield: candidate %s: %w", d.Candidates[i].ID, err)
		}
		return nil
	})
	if err != nil {
		return YieldResult{}, err
	}
	if out.Why == "" {
		out.compare()
		out.Notes = yieldNotes(d, y)
	}
	return out, nil
}

// sameDocument reports a result or a build of another document.
func sameDocument(d Document, res Result, build BuildResult) error {
	if len(res.Candidates) != len(d.Candidates) || len(build.Candidates) != len(d.Candidates) {
		return fmt.Errorf("the result has %d candidates and the build %d, the document %d", len(res.Candidates), len(build.Candidates), len(d.Candidates))
	}
	for i, c := range d.Candidates {
		lay := res.Candidates[i].Shown()
		if res.Candidates[i].ID != c.ID || build.Candidates[i].ID != c.ID || build.Candidates[i].Count != lay.Count {
			return fmt.Errorf("result and build are not those of candidate %s", c.ID)
		}
		used := 0
		for _, p := range d.Planes {
			if !p.Use {
				continue
			}
			if used >= len(lay.ByPlane) || lay.ByPlane[used].PlaneID != p.ID {
				return fmt.Errorf("the result has not the used planes of the document")
			}
			used++
		}
		if used != len(lay.ByPlane) {
			return fmt.Errorf("the result has %d used planes, the document %d", len(lay.ByPlane), used)
		}
	}
	return nil
}

// weatherOf is the year for display.
func weatherOf(y YearResult) YieldWeather {
	out := YieldWeather{Source: y.Source, Label: y.Label, Words: y.Words, Warnings: slices.Clone(y.Warnings)}
	if y.Sun == nil {
		return out
	}
	days := [12]float64{}
	for _, h := range y.Sun.Year().Hours {
		days[h.Month-1] += 1.0 / 24
	}
	means := y.Sun.Year().MonthlyMeans()
	for m := range 12 {
		out.GHIKWhM2[m] = means.GHIKWhM2Day[m] * days[m]
		out.GHIYear += out.GHIKWhM2[m]
	}
	out.AirC = means.AirC
	return out
}

// emptyYield is a candidate of which nothing is known yet but its layout.
func emptyYield(d Document, res Result, i int) CandidateYield {
	c, lay := d.Candidates[i], res.Candidates[i].Shown()
	return CandidateYield{
		ID: c.ID, Letter: Letter(i), Label: c.Label, Count: lay.Count, PdcW: lay.PdcW,
		Planes: []PlaneYield{}, Modules: []ModuleYieldResult{}, Chain: []ChainBar{}, Assumed: []string{}, Years: []YearLine{},
		HotDay: DayResult{Hours: []DayHour{}}, DullDay: DayResult{Hours: []DayHour{}}, Worths: []WorthResult{},
	}
}

// compare finds the candidate with most energy and those that tie.
func (out *YieldResult) compare() {
	for i, c := range out.Candidates {
		if c.Why == "" && (out.Best < 0 || c.Total.ACYear > out.Candidates[out.Best].Total.ACYear) {
			out.Best = i
		}
	}
	for i, a := range out.Candidates {
		for _, b := range out.Candidates[i+1:] {
			if a.Why == "" && b.Why == "" && energy.Tie(a.Total.ACYear, b.Total.ACYear, energy.TieBandPct) {
				out.Ties = append(out.Ties, tieOf(a, b))
			}
		}
	}
	if len(out.Ties) > 0 {
		out.TieWords = fmt.Sprintf("Candidates that differ by %d %% or less are equal as far as this estimate can tell: "+
			"the model ranks modules no more closely than that.", energy.TieBandPct)
	}
}

func tieOf(a, b CandidateYield) YieldTie {
	most := max(a.Total.ACYear, b.Total.ACYear)
	t := YieldTie{A: a.Letter, B: b.Letter}
	if most > 0 {
		t.DifferencePct = 100 * (most - min(a.Total.ACYear, b.Total.ACYear)) / most
	}
	t.Words = fmt.Sprintf("%s and %s yield within %.1f %% of each other: a tie.", t.A, t.B, t.DifferencePct)
	return t
}

// yieldNotes say what the figures are and are not.
func yieldNotes(d Document, y YearResult) []string {
	notes := []string{
		"A design estimate for a typical year, not a promise for any one.",
		"The inverter's limit works on hourly means, which understate what it cuts off: a cloud's edge is brighter than its hour.",
		"Trees are taken to stay as they are; they grow. Nothing is added for light that buildings reflect, and snow is only what the loss line says.",
	}
	if y.Source != FromFile {
		notes = append(notes, "The hours are made from monthly means, which know no morning from afternoon: shade that falls at one time of day can be off by more than the rest.")
	}
	if d.Wiring.heatMounting() == energy.FlushOnRoof {
		notes = append(notes, "Modules lie in the plane of the roof and do not shade each other.")
	} else {
		notes = append(notes, "Modules are taken to lie in the plane of the roof and not to shade each other: tilted rows yield otherwise.")
	}
	return notes
}
