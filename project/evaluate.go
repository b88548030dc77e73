package project

import (
	"context"
	"errors"
	"fmt"
)

// Evaluate works out everything that the pages, the editor and the report
// command show of a document: geometry, and for each candidate how much fits
// and, in mode "size", how a size is met. The same document gives the same
// result. It does not change the document.
//
// A document that [Document.Validate] does not pass gives [Problems], and so
// does a plane too large to pack. A cancelled context gives its error, once
// the step at hand is done (the edges of the roof, or the geometry of one
// plane); any other error is a fault of the program.
func Evaluate(ctx context.Context, d Document) (Result, error) {
	if ps := d.Validate(); len(ps) > 0 {
		return Result{}, ps
	}
	res, err := evaluate(ctx, d)
	if ps, ok := errors.AsType[Problems](err); ok {
		return Result{}, ps
	}
	if err != nil {
		return Result{}, fmt.Errorf("evaluate: %w", err)
	}
	return res, nil
}

// evaluate does the work of [Evaluate] on a sound document.
func evaluate(ctx context.Context, d Document) (Result, error) {
	r, err := newRoof(ctx, d)
	if err != nil {
		return Result{}, err
	}
	res := Result{
		KeepOuts:   r.keepOutResults(),
		Candidates: make([]CandidateResult, len(d.Candidates)),
		PlanAreaM2: r.planAreaM2,
		Rules:      RulesResult{ID: r.rules.ID, Title: r.rules.Title, Notes: r.rules.Notes},
	}
	for i, c := range d.Candidates {
		res.Candidates[i], err = r.candidate(ctx, c)
		if err != nil {
			return Result{}, fmt.Errorf("candidate %s: %w", c.ID, err)
		}
		res.Candidates[i].Letter = Letter(i)
	}
	// After the candidates, which may call for the wider ridge setback.
	res.Planes = r.planeResults()
	res.Findings, err = r.findings(ctx, res)
	return res, err
}

// Letter is the letter of the candidate at a position: A for 0.
func Letter(position int) string { return string(rune('A' + position)) }

// candidate works out what one module does on the roof. Where the rule set has
// a wider ridge setback for a roof much covered, and the modules pass its
// limit, the roof is packed once more with it.
func (r *roof) candidate(ctx context.Context, c Candidate) (CandidateResult, error) {
	res := CandidateResult{
		ID: c.ID, Label: c.Label, PmaxW: c.PmaxW, ModuleAreaM2: c.module().AreaM2(),
	}
	narrow, err := r.pack(ctx, c, r.narrow)
	if err != nil {
		return res, err
	}
	wide := func() (option, error) {
		surfaces, err := r.wideSurfaces(ctx)
		if err != nil {
			return option{}, err
		}
		return r.pack(ctx, c, surfaces)
	}
	fill := narrow
	counts := narrow.allot(narrow.most())
	res.Coverage = narrow.coverage(counts)
	if r.tooMuch(res.Coverage) {
		res.RidgeWidened = true
		if fill, err = wide(); err != nil {
			return res, err
		}
		counts = fill.allot(fill.most())
	}
	res.Fill = fill.result(counts)
	if r.doc.Target.Mode == "size" {
		res.Size, err = r.meetSize(narrow, func() (option, error) {
			if res.RidgeWidened {
				return fill, nil
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

// meetSize lays out the modules that reach the wanted size, or as many as fit.
// The wider ridge setback is kept only where these modules call for it.
func (r *roof) meetSize(narrow option, wide func() (option, error)) (*SizeResult, error) {
	need := Need(r.doc.Target.SizeW, narrow.candidate.PmaxW)
	o := narrow
	counts := o.allot(need)
	widened := r.tooMuch(o.coverage(counts))
	if widened {
		var err error
		if o, err = wide(); err != nil {
			return nil, err
		}
		counts = o.allot(need)
	}
	lay := o.result(counts)
	return &SizeResult{Need: need, Fits: lay.Count == need, RidgeWidened: widened, Layout: lay}, nil
}

// Need is the number of modules of pmaxW watts that reaches sizeW watts. Both
// are whole watts, at least 1: (size + Pmax - 1) / Pmax in integers, since
// floating point takes one module too many where the division is even.
func Need(sizeW, pmaxW int) int { return (sizeW + pmaxW - 1) / pmaxW }
