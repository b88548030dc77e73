package project

import (
	"context"
	"errors"
	"fmt"

	"rooftally/layout"
)

// Evaluate works out everything that the pages, the editor and the report
// command show of a document: geometry, and for each candidate how much fits
// and, in mode "size", how a size is met, within the deep budget. The same
// document gives the same result. It does not change the document.
//
// A document that [Document.Validate] does not pass gives [Problems], and so
// does a plane too large to pack. A cancelled context gives its error, once
// the step at hand is done (the edges of the roof, or the geometry of one
// plane); any other error is a fault of the program.
func Evaluate(ctx context.Context, d Document) (Result, error) {
	return EvaluateWithin(ctx, d, layout.Deep)
}

// EvaluateWithin is [Evaluate] within a budget: Drag follows a finger, Deep
// looks on for more modules and closer bounds, and makes offers.
func EvaluateWithin(ctx context.Context, d Document, b layout.Budget) (Result, error) {
	return NewEvaluator().Evaluate(ctx, d, b)
}

// BudgetNamed is the budget of a name: "drag" or "deep".
func BudgetNamed(name string) (layout.Budget, error) {
	switch name {
	case "drag":
		return layout.Drag, nil
	case "deep":
		return layout.Deep, nil
	}
	return layout.Drag, fmt.Errorf("budget %q is not drag or deep", clip(name))
}

// Evaluator evaluates documents and remembers packings, so that an edit packs
// anew only what it changed. Its memory is bounded. It is safe for concurrent
// use, and calls that need the same packing at once share the work.
type Evaluator struct{ memory *memory }

// NewEvaluator returns an evaluator that remembers nothing yet.
func NewEvaluator() *Evaluator { return &Evaluator{newMemory()} }

// Evaluate is [EvaluateWithin] with memory: it gives the same result.
func (e *Evaluator) Evaluate(ctx context.Context, d Document, b layout.Budget) (Result, error) {
	return e.EvaluateLit(ctx, d, b, nil)
}

// EvaluateLit is [Evaluator.Evaluate] with the light on the roof, as [LightOf]
// gives it. Mode "size" then takes the places with most light, and
// Target.MinAccessPct leaves out the dark ones; see docs/choosing.md. nil is no
// light, and so is light that lacks a used plane. Light of another drawing is
// used as it is: a plane that has moved since takes the nearest of its cells.
// Light whose numbers do not fit together is an error.
func (e *Evaluator) EvaluateLit(ctx context.Context, d Document, b layout.Budget, s *Sunlight) (Result, error) {
	if b != layout.Drag && b != layout.Deep {
		return Result{}, fmt.Errorf("evaluate: budget %d is not Drag or Deep", b)
	}
	if ps := d.Validate(); len(ps) > 0 {
		return Result{}, ps
	}
	res, err := e.evaluate(ctx, d, b, s)
	if ps, ok := errors.AsType[Problems](err); ok {
		return Result{}, ps
	}
	if err != nil {
		return Result{}, fmt.Errorf("evaluate: %w", err)
	}
	return res, nil
}

// evaluate does the work of [Evaluator.EvaluateLit] on a sound document.
func (e *Evaluator) evaluate(ctx context.Context, d Document, b layout.Budget, s *Sunlight) (Result, error) {
	r, err := newRoof(ctx, d)
	if err != nil {
		return Result{}, err
	}
	if err := r.takeLight(s); err != nil {
		return Result{}, err
	}
	r.memory, r.budget = e.memory, b
	res := Result{
		KeepOuts:   r.keepOutResults(),
		Candidates: make([]CandidateResult, len(d.Candidates)),
		PlanAreaM2: r.planAreaM2,
		Rules:      RulesResult{ID: r.rules.ID, Title: r.rules.Title, Notes: r.rules.Notes},

		SunlightKey: r.sunlightKey,
	}
	err = each(len(d.Candidates), func(i int) error {
		got, err := r.candidate(ctx, d.Candidates[i])
		if err != nil {
			return fmt.Errorf("candidate %s: %w", d.Candidates[i].ID, err)
		}
		got.Letter = Letter(i)
		res.Candidates[i] = got
		return nil
	})
	if err != nil {
		return Result{}, err
	}
	// After the candidates, which may call for the wider ridge setback.
	res.Planes = r.planeResults(res.Candidates)
	res.Findings, err = r.findings(ctx, res)
	return res, err
}
