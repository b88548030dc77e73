package project

import (
	"context"
	"slices"

	"rooftally/layout"
)

// litPlane is what light has to say on one used plane. Its zero value is no
// light, with which no place is dark.
type litPlane struct {
	light *planeLight
	// leastPct is the share of the open plane's light under which a place is
	// dark, 0 where none is left out. rings are the dark parts, in the frame of
	// the light.
	leastPct float64
	rings    []layout.Ring
}

// dark reports whether a place is left out for want of light.
func (l litPlane) dark(m layout.Rect) bool {
	return l.leastPct > 0 && l.light.dark(l.light.of(m), l.leastPct)
}

// without is the region less the dark parts; ok is false where there are none,
// and while the plane is moved, when nobody knows them.
func (l litPlane) without(r layout.Region) (bright layout.Region, ok bool) {
	if len(l.rings) == 0 || !l.light.fresh {
		return r, false
	}
	return layout.Region{Outer: r.Outer, Holes: append(slices.Clone(r.Holes), l.rings...)}, true
}

// takeLight works out what light says on every used plane. Where a used plane
// has none nothing is said at all: places are compared over the whole roof.
func (r *roof) takeLight(s *Sunlight) error {
	if s == nil {
		return nil
	}
	if err := s.check(); err != nil {
		return err
	}
	lit := make([]litPlane, len(r.planes))
	for i, p := range r.doc.Planes {
		if !p.Use {
			continue
		}
		at := slices.IndexFunc(s.Planes, func(l PlaneSunlight) bool { return l.PlaneID == p.ID })
		if at < 0 {
			return nil
		}
		lit[i].light = newPlaneLight(s.Planes[at], p, r.frames[i])
		if least := r.doc.Target.MinAccessPct; least > 0 {
			lit[i].leastPct, lit[i].rings = least, lit[i].light.darkerThan(least)
		}
	}
	r.lit, r.sunlightKey = lit, s.Key
	return nil
}

// litOn is what light says on a plane, without the limit of light if so said.
func (r *roof) litOn(plane int, unlimited bool) litPlane {
	if r.lit == nil {
		return litPlane{}
	}
	l := r.lit[plane]
	if unlimited {
		l.leastPct, l.rings = 0, nil
	}
	return l
}

// limitsLight says that dark places are left out.
func (r *roof) limitsLight() bool { return r.lit != nil && r.doc.Target.MinAccessPct > 0 }

// darkZones are the dark parts of a plane in plan.
func (r *roof) darkZones(plane int) []ZoneResult {
	l := r.litOn(plane, false)
	out := make([]ZoneResult, len(l.rings))
	for i, ring := range l.rings {
		out[i] = ZoneResult{Why: whyDark, Ring: make([][2]float64, len(ring))}
		for j, p := range ring {
			out[i].Ring[j] = xy(l.light.toPlan(p))
		}
	}
	return out
}

// whyDark is the reason of a zone with too little light.
const whyDark = "dark"

// candidateIn works out what one module does on the roof in a style, and what
// the limit of light costs.
func (r *roof) candidateIn(ctx context.Context, c Candidate, style layout.Style) (CandidateResult, error) {
	res, err := r.candidateWith(ctx, c, style, false)
	if err != nil || !r.limitsLight() {
		return res, err
	}
	all, err := r.candidateWith(ctx, c, style, true)
	res.Fill.LeftDark = max(0, all.Fill.Count-res.Fill.Count)
	if res.Size != nil && all.Size != nil {
		res.Size.Layout.LeftDark = max(0, all.Size.Layout.Count-res.Size.Layout.Count)
	}
	return res, err
}

// lightUnknown reports a limit of light that nothing can be said about yet.
func lightUnknown(r *roof, _ Result) []Finding {
	if r.doc.Target.MinAccessPct == 0 || r.lit != nil {
		return nil
	}
	return []Finding{finding("target.min_access_pct",
		"is %s %%, but the light on the roof is not known yet; no place is left out", plain(r.doc.Target.MinAccessPct))}
}
