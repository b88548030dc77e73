//go:build !js

package project

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"rooftally/energy"
)

// trimM is how much shorter a tree is cut to see what that is worth, metres (our
// choice).
const trimM = 2

// WorthsOf reckons what each keep-out with a height, tree and building costs one
// candidate in a year, in the order of [SceneOf]: the year is reckoned again
// without it and, for a tree, with its top cut by 2 m. candidate is an index;
// res, build and y are as for [YieldOf]. It calls progress, if not nil, with
// how many obstructions are done. There are none where the candidate has no yield.
func WorthsOf(ctx context.Context, d Document, res Result, build BuildResult, y YearResult, candidate int, progress func(done, all int)) ([]WorthResult, error) {
	if ps := d.Validate(); len(ps) > 0 {
		return nil, ps
	}
	if candidate < 0 || candidate >= len(d.Candidates) {
		return nil, fmt.Errorf("worths: there is no candidate %d", candidate)
	}
	if err := sameDocument(d, res, build); err != nil {
		return nil, fmt.Errorf("worths: %w", err)
	}
	out := []WorthResult{}
	scene, err := SceneOf(d)
	if _, much := errors.AsType[Problems](err); much || y.Sun == nil {
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	w, err := newYielder(d, res, build, candidate, scene, y)
	if err != nil {
		return nil, fmt.Errorf("worths: %w", err)
	}
	if w.missing() != "" {
		return out, nil
	}
	in, _ := w.input()
	removed, err := energy.Worths(ctx, in, 0, progress)
	if err != nil {
		return nil, fmt.Errorf("worths: %w", err)
	}
	base, err := energy.Simulate(ctx, in)
	if err != nil {
		return nil, fmt.Errorf("worths: %w", err)
	}
	for _, r := range removed {
		o := scene.Obstructions[r.Obstruction]
		one := WorthResult{ID: o.ID, Label: d.labelOf(o.ID), Kind: d.kindOf(o), RemovedKWh: r.RemovedKWh}
		if o.Kind == energy.Tree {
			one.TrimmedToM = max(0, o.TopM-trimM)
			trimmed, err := energy.Simulate(ctx, withTop(in, r.Obstruction, one.TrimmedToM))
			if err != nil {
				return nil, fmt.Errorf("worths: %w", err)
			}
			one.TrimmedKWh = max(0, trimmed.Total.ACYear-base.Total.ACYear)
		}
		out = append(out, one)
	}
	return out, nil
}

// withTop is the input with one tree cut to a height; a crown that starts higher
// goes. in is not changed.
func withTop(in energy.Input, tree int, topM float64) energy.Input {
	in.Scene.Obstructions = slices.Clone(in.Scene.Obstructions)
	in.Scene.Obstructions[tree].TopM = topM
	return in
}

// labelOf is what people call a keep-out, tree or building; its id where it has
// no label.
func (d Document) labelOf(id string) string {
	label := ""
	for _, k := range d.KeepOuts {
		if k.ID == id {
			label = k.Label
		}
	}
	for _, t := range d.Surroundings.Trees {
		if t.ID == id {
			label = t.Label
		}
	}
	for _, b := range d.Surroundings.Buildings {
		if b.ID == id {
			label = b.Label
		}
	}
	if label == "" {
		return id
	}
	return label
}
