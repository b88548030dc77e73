package project

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"rooftally/layout"
)

// valueWords says what places are worth; see [layout.PlaceValue]. The facing counts
// where the site is known, roomWords are for where it is not.
const (
	valueWords = "points: metres from shade, at most 100 each, and 1000 for each tenth of the noon sun that the plane faces, less 100000 in last-resort shade"
	roomWords  = "points: metres from shade, at most 100 each, less 100000 in last-resort shade"
)

// litWords says what places are worth where the light on the roof is known.
const litWords = "kWh: a year's sunlight on the module, to the whole kWh, less 100000 in last-resort shade"

// lastResortCost is what a place in last-resort shade is worth less where the
// light is known: far more than any light.
const lastResortCost = 100_000

// valueTotalMax is the greatest sum of values that is given to layout.Choose,
// half of what that takes.
const valueTotalMax = 2e9

// Need is the number of modules of pmaxW watts that reaches sizeW watts. Both
// are whole watts, at least 1: (size + Pmax - 1) / Pmax in integers, since
// floating point takes one module too many where the division is even.
func Need(sizeW, pmaxW int) int { return (sizeW + pmaxW - 1) / pmaxW }

// meetSize lays out the modules that reach the wanted size, or as many as fit.
// The wider ridge setback is kept only where these modules call for it.
func (r *roof) meetSize(ctx context.Context, narrow option, wide func() (option, error)) (*SizeResult, error) {
	need := Need(r.doc.Target.SizeW, narrow.candidate.PmaxW)
	o := narrow
	got, err := o.choose(ctx, need)
	if err != nil {
		return nil, err
	}
	widened := r.tooMuch(o.coverage(got.places))
	if widened {
		if o, err = wide(); err != nil {
			return nil, err
		}
		if got, err = o.choose(ctx, need); err != nil {
			return nil, err
		}
	}
	words := valueWords
	switch {
	case r.lit != nil:
		words = litWords
	case r.doc.Site.Unset():
		words = roomWords
	}
	lay := o.result(got.places)
	return &SizeResult{
		Need: need, Fits: lay.Count == need, RidgeWidened: widened, Layout: lay,
		Value: got.value, ValueBound: got.bound, ValueProved: got.proved, ValueWords: words,
	}, nil
}

// chosen are the places that meet a size: for each used plane some of those of
// one way of laying it out.
type chosen struct {
	places       [][]place
	value, bound float64
	proved       bool
}

// choose takes n places, or as many as there are, by their worth: those that a
// person locked first, then those of most value; of equal value the choice with
// the fewest blocks over all ways of laying out the planes, then the one that
// uses the roomier planes of those that face the sun alike.
func (o option) choose(ctx context.Context, n int) (chosen, error) {
	locked := 0
	for _, p := range o.planes {
		locked += p.locked
	}
	order := o.fillOrder()
	sites, places := make([]layout.Site, len(order)), make([][][]place, len(order))
	total := 0.0
	for at, i := range order {
		places[at] = alternatives(o.ways[i], n < locked)
		site, most := o.site(i, places[at], n >= locked)
		sites[at] = site
		total += most
	}
	scale := scaled(sites, total)
	got, err := layout.Choose(ctx, sites, n, o.roof.doc.Target.MaxBlocks, o.roof.budget)
	if err != nil {
		return chosen{}, fmt.Errorf("choosing places: %w", err)
	}
	out := chosen{
		places: make([][]place, len(order)),
		value:  got.Value * scale, bound: got.Bound * scale, proved: got.Proved,
	}
	for at, i := range order {
		for _, k := range got.Taken[at] {
			out.places[i] = append(out.places[i], places[at][got.Alternative[at]][k])
		}
	}
	return out, nil
}

// fillOrder lists the used planes as they are preferred: those that face the
// noon sun more squarely first, then those with most room outside last-resort
// shade, so that few planes are used, then as in the document.
func (o option) fillOrder() []int {
	order := make([]int, len(o.planes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(o.facing(b)-o.facing(a), o.planes[b].inSun()-o.planes[a].inSun())
	})
	return order
}

// facing is the tier of a used plane.
func (o option) facing(i int) int {
	return noonSunTenths(o.roof.doc.Site, o.roof.doc.Planes[o.planes[i].plane])
}

// alternatives are the ways of laying out a plane, those that leave last-resort
// shade free first. Where a size needs fewer modules than are locked, only these
// are to be had.
func alternatives(ways []packed, onlyLocked bool) [][]place {
	var out [][]place
	for _, w := range ways {
		if w.searched != nil {
			out = append(out, w.searched)
		}
		out = append(out, w.clear, w.full)
	}
	if onlyLocked {
		for i, places := range out {
			out[i] = slices.DeleteFunc(slices.Clone(places), func(k place) bool { return !k.locked })
		}
	}
	return out
}

// site is a used plane as layout.Choose has it, with the locked modules taken in
// any case if so said, and the greatest sum of the amounts of its values.
func (o option) site(plane int, alternatives [][]place, fix bool) (site layout.Site, most float64) {
	p := o.planes[plane]
	site.Spec = o.roof.freeSpec(o.candidate)
	site.Limit = &p.limit
	var shade []layout.Ring
	for _, z := range p.surface.Zones {
		if z.Why == layout.WhyShadeOffLimits || z.Why == layout.WhyShadeLastResort {
			shade = append(shade, z.Ring)
		}
	}
	tier, light := o.facing(plane), o.roof.litOn(p.plane, false).light
	for _, places := range alternatives {
		values, fixed := make([]float64, len(places)), make([]bool, len(places))
		sum := 0.0
		for i, k := range places {
			if light == nil {
				values[i] = layout.PlaceValue(layout.DistanceFrom(k.Rect, shade), tier, k.shaded)
			} else {
				values[i] = litValue(light.of(k.Rect), k)
			}
			sum += max(values[i], -values[i])
			fixed[i] = fix && k.locked
		}
		site.Alternatives = append(site.Alternatives, rects(places))
		site.Values = append(site.Values, values)
		site.Fixed = append(site.Fixed, fixed)
		most = max(most, sum)
	}
	return site, most
}

// litValue is what a place is worth by its light. It is rounded because a kWh in
// a year is no reason for one more block.
func litValue(kwhM2 float64, k place) float64 {
	v := math.Round(float64(kwhM2 * float64(k.WM*k.HM)))
	if k.shaded {
		v -= lastResortCost
	}
	return v
}

// scaled divides all values where their sum would be too great, which takes some
// ten thousand modules in shade, and returns by how much.
func scaled(sites []layout.Site, total float64) float64 {
	scale := 1.0
	for total/scale > valueTotalMax {
		scale *= 2
	}
	if scale == 1 {
		return scale
	}
	for _, s := range sites {
		for _, values := range s.Values {
			for i := range values {
				values[i] /= scale
			}
		}
	}
	return scale
}
