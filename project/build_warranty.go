//go:build !js

package project

import (
	"fmt"

	"rooftally/energy"
)

// WarrantyResult is the output that a module's maker guarantees.
type WarrantyResult struct {
	// Why says why there is no line, "" where there is one.
	Why string `json:"why"`
	// Words say how the guarantee falls.
	Words string `json:"words"`
	// Years run from 1 to the length of the performance warranty.
	Years []WarrantyYear `json:"years"`
}

// WarrantyYear is one year of the guarantee.
type WarrantyYear struct {
	Year int `json:"year"`
	// Share is of the rated power, a fraction; PdcW that of the whole layout.
	Share float64 `json:"share"`
	PdcW  float64 `json:"pdc_w"`
}

// warranty is the guaranteed power year by year.
func (b builder) warranty() WarrantyResult {
	d := b.candidate.Datasheet
	switch {
	case d == nil:
		return WarrantyResult{Why: noDatasheet + " What its maker guarantees is not known.", Years: []WarrantyYear{}}
	case d.PerformanceWarrantyYears == 0:
		return WarrantyResult{Why: "The datasheet gives no performance warranty.", Years: []WarrantyYear{}}
	}
	promised := energy.Ageing{FirstYearPct: d.FirstYearLossPct, YearlyPct: d.YearlyLossPct, Form: energy.AgeForm(d.LossLaw)}
	life, err := energy.LifetimeOf(0, promised, promised, d.PerformanceWarrantyYears)
	if err != nil {
		return WarrantyResult{Why: fmt.Sprintf("There is no line: %v.", err), Years: []WarrantyYear{}}
	}
	of := "of the rated power"
	if promised.Form == energy.Compound {
		of = "of the year before"
	}
	out := WarrantyResult{
		Words: fmt.Sprintf("At most %g %% less in the first year, then %g %% %s in each further one, for %d years.",
			d.FirstYearLossPct, d.YearlyLossPct, of, d.PerformanceWarrantyYears),
	}
	for _, y := range life.Years {
		out.Years = append(out.Years, WarrantyYear{y.Year, y.PromisedShare, y.PromisedShare * float64(b.lay.PdcW)})
	}
	return out
}
