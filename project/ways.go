package project

import (
	"context"
	"slices"

	"rooftally/layout"
)

// recipe is how a region is filled: a style and the turns that it may use.
type recipe struct {
	style layout.Style
	turns []layout.Turn
}

// filling is a plane to be filled for a candidate, around modules that a person
// locked, if any.
type filling struct {
	roof      *roof
	candidate Candidate
	base      packed
	locked    []place
	// region is what is left beside the locked modules; exact says that the
	// bounds of region hold for any layout around them.
	region layout.Region
	exact  bool
	// lit says which places are dark.
	lit litPlane
}

// packPlane lays out a candidate on one plane: the fullest way first, then
// others that have fewer modules or as many, for the tidier to be chosen.
func (r *roof) packPlane(ctx context.Context, c Candidate, style layout.Style, plane int, s surface, lit litPlane) ([]packed, error) {
	p := r.doc.Planes[plane]
	f := filling{
		roof: r, candidate: c, region: s.Region, exact: true, lit: lit,
		base: packed{plane: plane, surface: s, dragged: -1, refused: []RefusedModule{}},
	}
	if h, ok := r.handOn(c, p); ok {
		f.locked, f.base.refused = r.standing(h, c, plane, s)
		if !h.Fill {
			alone, err := r.handPlane(ctx, f.base, c, f.locked)
			return []packed{alone.capped(p.ModuleLimit)}, err
		}
		f.base.hand = handAround
		f.region, f.exact = layout.Around(s.Region, r.freeSpec(c), rects(f.locked))
	}
	first, err := f.fill(ctx, fillings(style, p))
	if err != nil {
		return nil, err
	}
	if first.bound, err = f.bound(ctx); err != nil {
		return nil, err
	}
	if style != layout.Best {
		return []packed{first}, nil
	}
	if r.budget == layout.Deep {
		if first.dragged, err = f.dragged(ctx); err != nil {
			return nil, err
		}
	}
	return f.withTidier(ctx, first)
}

// withTidier puts the ways that may be tidier beside the fullest. While a finger
// moves they are made only where tidiness may cost modules.
func (f filling) withTidier(ctx context.Context, first packed) ([]packed, error) {
	ways := []packed{first}
	if f.roof.budget == layout.Drag && f.roof.doc.Rules.TidyCostModules == 0 {
		return ways, nil
	}
	for _, alone := range tidier(f.roof.doc.Planes[first.plane]) {
		way, err := f.fill(ctx, []recipe{alone})
		if err != nil {
			return nil, err
		}
		way.bound, way.dragged = first.bound, first.dragged
		ways = append(ways, way)
	}
	// What style "best" packs may lose more to the dark than another.
	for i := 1; f.lit.leastPct > 0 && i < len(ways); i++ {
		if ways[i].limit > ways[0].limit {
			ways[0], ways[i] = ways[i], ways[0]
		}
	}
	return ways, nil
}

// dragged is how many modules the drag budget finds with style "best".
func (f filling) dragged(ctx context.Context) (int, error) {
	turns := f.roof.doc.Planes[f.base.plane].turns()
	found, err := f.brightest(ctx, f.region, []recipe{{layout.Best, turns}}, layout.Drag)
	n := len(found)
	if limit := f.limit(); limit != nil {
		n = min(n, *limit)
	}
	return n, err
}

// fillings are the recipes of a style, of which the one that holds most is
// taken. Only style "best" may mix turns where a plane asks for either.
func fillings(style layout.Style, p Plane) []recipe {
	if style != layout.Best && p.Turn == "either" {
		return []recipe{{style, []layout.Turn{layout.AsGiven}}, {style, []layout.Turn{layout.Turned}}}
	}
	return []recipe{{style, p.turns()}}
}

// tidier are the recipes that may be tidier than style "best": each style by
// itself, in each turn by itself and in mixed ones.
func tidier(p Plane) []recipe {
	var out []recipe
	for _, style := range []layout.Style{layout.Grid, layout.Rows, layout.Columns} {
		for _, t := range p.turns() {
			out = append(out, recipe{style, []layout.Turn{t}})
		}
		if len(p.turns()) > 1 && style != layout.Grid {
			out = append(out, recipe{style, p.turns()})
		}
	}
	return out
}

// fill lays the plane out by the recipe that holds most; see [fuller].
func (f filling) fill(ctx context.Context, recipes []recipe) (packed, error) {
	out := f.base
	var err error
	if out.full, err = f.brightest(ctx, f.region, recipes, f.roof.budget); err != nil {
		return out, err
	}
	out.clear = out.full
	if inShade(out.full) > 0 {
		clear := layout.Region{Outer: f.region.Outer, Holes: append(slices.Clone(f.region.Holes), f.base.surface.LastResort...)}
		if out.clear, err = f.brightest(ctx, clear, recipes, layout.Drag); err != nil {
			return out, err
		}
		if f.roof.doc.Target.Mode == "size" && f.roof.budget == layout.Deep {
			if out.searched, err = f.brightest(ctx, clear, recipes, layout.Deep); err != nil {
				return out, err
			}
		}
	}
	out = out.capped(f.limit())
	if len(f.locked) > 0 {
		err = f.roof.check(out, f.candidate)
	}
	return out, err
}

// fullest is the filling of a region with the most modules, of those that may
// lie on the plane; then the one with fewest in last-resort shade; then the
// tidiest; then the first.
func (f filling) fullest(ctx context.Context, region layout.Region, recipes []recipe, b layout.Budget) ([]place, error) {
	var best []place
	for i, way := range recipes {
		made, err := f.roof.memory.pack(ctx, region, f.spec(way.turns), way.style, b)
		if err != nil {
			return nil, err
		}
		places := slices.Clone(f.locked)
		for _, m := range made.Modules {
			if !f.lit.dark(m) {
				places = append(places, place{Rect: m, shaded: shadedBy(m, f.base.surface.LastResort)})
			}
		}
		if i == 0 || f.fuller(places, best) {
			best = places
		}
	}
	return best, nil
}

// brightest is the filling of a region with the most modules outside the dark:
// of one that leaves dark parts free and one that drops the dark places, the one
// with more; of equals the second.
func (f filling) brightest(ctx context.Context, region layout.Region, recipes []recipe, b layout.Budget) ([]place, error) {
	dropped, err := f.fullest(ctx, region, recipes, b)
	bright, ok := f.lit.without(region)
	if err != nil || !ok {
		return dropped, err
	}
	free, err := f.fullest(ctx, bright, recipes, b)
	if (packed{full: free}).capped(f.limit()).limit > (packed{full: dropped}).capped(f.limit()).limit {
		return free, err
	}
	return dropped, err
}

// fuller reports whether a is better than b in the order of [filling.fullest].
func (f filling) fuller(a, b []place) bool {
	pa, pb := packed{full: a}.capped(f.limit()), packed{full: b}.capped(f.limit())
	if pa.limit != pb.limit {
		return pa.limit > pb.limit
	}
	shownA, shownB := pa.take(pa.limit), pb.take(pb.limit)
	if sa, sb := inShade(shownA), inShade(shownB); sa != sb {
		return sa < sb
	}
	s := f.roof.freeSpec(f.candidate)
	return layout.TidinessOf(rects(shownA), s).TidierThan(layout.TidinessOf(rects(shownB), s))
}

// bound is the count that no layout of the plane around the locked modules
// exceeds.
func (f filling) bound(ctx context.Context) (int, error) {
	spec := f.spec(f.roof.doc.Planes[f.base.plane].turns())
	if !f.exact {
		// The holes take more than they must: only the plane as a whole, with
		// either turn, bounds what may stand on it.
		return f.roof.bound(ctx, f.base.surface.Region, f.roof.freeSpec(f.candidate))
	}
	rest, err := f.roof.bound(ctx, f.region, spec)
	return len(f.locked) + rest, err
}

// bound is the count that no placement in a region exceeds, the closer one in
// the deep budget.
func (r *roof) bound(ctx context.Context, region layout.Region, s layout.Spec) (int, error) {
	if r.budget == layout.Drag {
		return r.memory.bound(ctx, region, s)
	}
	best, err := r.memory.pack(ctx, region, s, layout.Best, layout.Deep)
	return best.Bound, err
}

func (f filling) spec(turns []layout.Turn) layout.Spec {
	s := f.roof.freeSpec(f.candidate)
	s.Turns = turns
	return s
}

func (f filling) limit() *int { return f.roof.doc.Planes[f.base.plane].ModuleLimit }
