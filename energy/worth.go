package energy

import (
	"context"
	"slices"
)

// Worth is what one obstruction costs in a year.
type Worth struct {
	// Obstruction is the index in the scene.
	Obstruction int
	// RemovedKWh is the AC energy gained without it, the others left as they
	// are; not below 0.
	RemovedKWh float64
	// TrimmedKWh is the gain of cutting a tree's crown to the height asked for,
	// 0 for anything else.
	TrimmedKWh float64
}

// Worths reckons the yield again without each obstruction that is no roof part,
// and, unless trimM is 0, with each tree cut to trimM above the datum: a tree no
// higher stays, one whose crown starts above it goes. It calls progress, if not
// nil, after each obstruction.
func Worths(ctx context.Context, in Input, trimM float64, progress func(done, all int)) ([]Worth, error) {
	base, err := Simulate(ctx, in)
	if err != nil {
		return nil, err
	}
	in.WantHours = false
	gain := func(edit func(list []Obstruction, i int) []Obstruction, i int) (float64, error) {
		changed := in
		changed.Scene.Obstructions = edit(slices.Clone(in.Scene.Obstructions), i)
		r, err := Simulate(ctx, changed)
		return max(0, r.Total.ACYear-base.Total.ACYear), err
	}
	remove := func(list []Obstruction, i int) []Obstruction { return slices.Delete(list, i, i+1) }
	trim := func(list []Obstruction, i int) []Obstruction {
		list[i].TopM = min(list[i].TopM, trimM) // a crown that starts higher has no body left
		return list
	}
	var out []Worth
	for i, o := range in.Scene.Obstructions {
		if o.Kind != RoofPart {
			w := Worth{Obstruction: i}
			if w.RemovedKWh, err = gain(remove, i); err != nil {
				return nil, err
			}
			if o.Kind == Tree && trimM > 0 {
				if w.TrimmedKWh, err = gain(trim, i); err != nil {
					return nil, err
				}
			}
			out = append(out, w)
		}
		if progress != nil {
			progress(i+1, len(in.Scene.Obstructions))
		}
	}
	return out, nil
}
