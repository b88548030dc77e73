package project

import (
	"context"

	"rooftally/layout"
)

// Letter is the letter of the candidate at a position: A for 0.
func Letter(position int) string { return string(rune('A' + position)) }

// candidate works out what one module does on the roof, and in the deep budget
// what style "best" would add.
func (r *roof) candidate(ctx context.Context, c Candidate) (CandidateResult, error) {
	style := layout.Style(r.doc.Rules.Style)
	res, err := r.candidateIn(ctx, c, style)
	if err != nil || r.budget != layout.Deep || style == layout.Best {
		return res, err
	}
	best, err := r.candidateIn(ctx, c, layout.Best)
	if err != nil {
		return res, err
	}
	res.Offer = offer(res.Shown(), best.Shown())
	return res, nil
}

// offer says what a layout of style "best" has beyond the one shown; nil where
// it has no more modules.
func offer(shown, best LayoutResult) *OfferResult {
	if best.Count <= shown.Count {
		return nil
	}
	return &OfferResult{
		Style: string(layout.Best), More: best.Count - shown.Count, PdcW: best.PdcW,
		RailRuns: best.Tidiness.RailRuns - shown.Tidiness.RailRuns,
		Blocks:   best.Tidiness.Blocks - shown.Tidiness.Blocks,
		Turns:    best.Tidiness.Turns,
	}
}

// candidateWith works out what one module does on the roof in a style. Where the
// rule set has a wider ridge setback for a roof much covered, and the modules
// pass its limit, the roof is packed once more with it. unlimited takes dark
// places too.
func (r *roof) candidateWith(ctx context.Context, c Candidate, style layout.Style, unlimited bool) (CandidateResult, error) {
	res := CandidateResult{
		ID: c.ID, Label: c.Label, PmaxW: c.PmaxW, ModuleAreaM2: c.module().AreaM2(),
	}
	narrow, err := r.pack(ctx, c, style, r.narrow, unlimited)
	if err != nil {
		return res, err
	}
	wide := func() (option, error) {
		surfaces, err := r.wideSurfaces(ctx)
		if err != nil {
			return option{}, err
		}
		return r.pack(ctx, c, style, surfaces, unlimited)
	}
	packed := narrow
	fill := narrow.tidied(r.doc.Rules.TidyCostModules)
	res.Coverage = fill.coverage(fill.filled())
	if r.tooMuch(res.Coverage) {
		res.RidgeWidened = true
		if packed, err = wide(); err != nil {
			return res, err
		}
		fill = packed.tidied(r.doc.Rules.TidyCostModules)
	}
	res.Fill = fill.result(fill.filled())
	if r.doc.Target.Mode == "size" {
		res.Size, err = r.meetSize(ctx, narrow, func() (option, error) {
			if res.RidgeWidened {
				return packed, nil
			}
			return wide()
		})
	}
	return res, err
}

// tooMuch reports whether a coverage calls for the wider ridge setback.
func (r *roof) tooMuch(coverage float64) bool {
	return r.rules.WideRidgeM > 0 && coverage > r.rules.CoverageLimit
}
