package project

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"rooftally/layout"
)

// The thresholds of the findings.
const (
	// overlapM2 is the overlap of two planes in plan that is worth a word: a
	// drawing slip of 10 mm along 10 m.
	overlapM2 = 0.1
	// touchM2 is the area from which a keep-out counts as lying on a plane:
	// above the rounding of areas of a large plane, below any pipe.
	touchM2 = 1e-5
	// azimuthOffDeg is how far the fall may lie off square to the lowest edge
	// before someone should look: above what a person measures a bearing to.
	azimuthOffDeg = 5
	// fallPitchDeg is the pitch under which the azimuth only turns the rows.
	fallPitchDeg = 2
	// lowestTieM is the difference of mean height within which two edges are
	// equally low.
	lowestTieM = 0.001
)

// findings are the remarks on a drawing that do not stop evaluation, rule by
// rule and in document order within each. The list is never nil.
func (r *roof) findings(ctx context.Context, res Result) ([]Finding, error) {
	out := []Finding{}
	for _, rule := range []func(context.Context, *roof, Result) ([]Finding, error){
		overlappingPlanes, idleKeepOuts,
		without(azimuthOffEave), without(idleStreetFlags), without(surfaceNotes),
		without(planesTooSmall), without(doubtfulCandidates), without(sizeWithoutSite), without(tooManyBlocks), without(handRefused),
		without(lightUnknown),
	} {
		more, err := rule(ctx, r, res)
		if err != nil {
			return nil, err
		}
		out = append(out, more...)
	}
	return out, nil
}

// without makes a rule that cannot fail look like one that can.
func without(rule func(*roof, Result) []Finding) func(context.Context, *roof, Result) ([]Finding, error) {
	return func(_ context.Context, r *roof, res Result) ([]Finding, error) { return rule(r, res), nil }
}

// sizeWithoutSite reports that nothing tells the sunny planes from the others
// when a size is to be met on planes that face different ways.
func sizeWithoutSite(r *roof, _ Result) []Finding {
	if r.doc.Target.Mode != "size" || !r.doc.Site.Unset() || r.lit != nil {
		return nil
	}
	var first *Plane
	for i, p := range r.doc.Planes {
		switch {
		case !p.Use:
		case first == nil:
			first = &r.doc.Planes[i]
		case p.AzimuthDeg != first.AzimuthDeg:
			return []Finding{finding("site.lat_deg", "is not given, so that planes are filled by room alone, whichever way they face")}
		}
	}
	return nil
}

// tooManyBlocks reports, in one remark, the sizes that cannot be met in as few
// blocks as wanted.
func tooManyBlocks(r *roof, res Result) []Finding {
	var over []string
	for _, c := range res.Candidates {
		if c.Size == nil || r.doc.Target.MaxBlocks == 0 || c.Size.Layout.Tidiness.Blocks <= r.doc.Target.MaxBlocks {
			continue
		}
		lay := c.Size.Layout
		over = append(over, fmt.Sprintf("the %d modules of option %s form %d blocks", lay.Count, c.Letter, lay.Tidiness.Blocks))
	}
	if len(over) == 0 {
		return nil
	}
	return []Finding{finding("target.max_blocks", "is %d, but %s; no layout with fewer is found", r.doc.Target.MaxBlocks, strings.Join(over, ", "))}
}

// handRefused reports modules set by hand that the filled roof does not allow.
func handRefused(r *roof, res Result) []Finding {
	var out []Finding
	for i, h := range r.doc.Hand {
		c := slices.IndexFunc(res.Candidates, func(c CandidateResult) bool { return c.ID == h.CandidateID })
		for _, p := range res.Candidates[c].Shown().ByPlane {
			if p.PlaneID == h.PlaneID && len(p.Refused) > 0 {
				out = append(out, finding(fmt.Sprintf("hand[%d]", i), "sets %d modules on plane %q where the roof does not allow them; they are left out", len(p.Refused), h.PlaneID))
			}
		}
	}
	return out
}

func finding(path, format string, args ...any) Finding {
	return Finding{Path: path, Message: fmt.Sprintf(format, args...)}
}

// overlappingPlanes reports pairs of used planes that lie over each other.
func overlappingPlanes(ctx context.Context, r *roof, _ Result) ([]Finding, error) {
	var out []Finding
	for i := range r.planes {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for j := i + 1; j < len(r.planes); j++ {
			if !r.doc.Planes[i].Use || !r.doc.Planes[j].Use {
				continue
			}
			m2, err := sharedAreaM2(planRing(r.planes[i]), planRing(r.planes[j]))
			if err != nil {
				return nil, err
			}
			if m2 > overlapM2 {
				out = append(out, finding(fmt.Sprintf("planes[%d].ring", j),
					"overlaps plane %q by %.1f m2 in plan; modules are counted on both", r.doc.Planes[i].name(), m2))
			}
		}
	}
	return out, nil
}

// idleKeepOuts reports keep-outs that lie on no plane.
func idleKeepOuts(ctx context.Context, r *roof, res Result) ([]Finding, error) {
	var out []Finding
	for i, k := range res.KeepOuts {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		covers := false
		for _, p := range r.planes {
			m2, err := sharedAreaM2(k.Footprint, planRing(p))
			if err != nil {
				return nil, err
			}
			if covers = m2 > touchM2; covers {
				break
			}
		}
		if !covers {
			out = append(out, finding(fmt.Sprintf("keep_outs[%d]", i), "lies on no plane and changes nothing"))
		}
	}
	return out, nil
}

// planRing is a plane's outline as [x, y] pairs.
func planRing(p layout.Plane) [][2]float64 {
	out := make([][2]float64, len(p.Ring))
	for i, c := range p.Ring {
		out[i] = xy(c.At)
	}
	return out
}

// sharedAreaM2 is the area that two simple outlines have in common: the area
// of the first less what is left of it with the second as a hole.
func sharedAreaM2(a, b [][2]float64) (float64, error) {
	if len(a) == 0 || len(b) == 0 || apart(a, b, 0) || apart(a, b, 1) {
		return 0, nil
	}
	outer, hole := slopeRing(a, a[0]), slopeRing(b, a[0])
	whole, err := layout.Region{Outer: outer}.AreaM2()
	if err != nil {
		return 0, fmt.Errorf("area of an outline: %w", err)
	}
	rest, err := layout.Region{Outer: outer, Holes: []layout.Ring{hole}}.AreaM2()
	if err != nil {
		return 0, fmt.Errorf("area common to two outlines: %w", err)
	}
	return max(0, whole-rest), nil
}

// apart reports whether two outlines do not meet along one axis.
func apart(a, b [][2]float64, axis int) bool {
	least := func(ring [][2]float64, sign float64) float64 {
		m := math.Inf(1)
		for _, p := range ring {
			m = min(m, sign*p[axis])
		}
		return m
	}
	return -least(a, -1) <= least(b, 1) || -least(b, -1) <= least(a, 1)
}

// slopeRing lends a plan outline, moved to a local origin, to a function of
// the slope frame that measures areas only.
func slopeRing(ring [][2]float64, origin [2]float64) layout.Ring {
	out := make(layout.Ring, len(ring))
	for i, p := range ring {
		out[i] = layout.SlopePt{UM: p[0] - origin[0], VM: p[1] - origin[1]}
	}
	return out
}

// azimuthOffEave reports planes whose fall is not square to their lowest edge.
func azimuthOffEave(r *roof, _ Result) []Finding {
	var out []Finding
	for i, p := range r.doc.Planes {
		if p.PitchDeg < fallPitchDeg {
			continue
		}
		faces := lowestEdgeBearingDeg(r.planes[i], r.frames[i])
		if off := math.Abs(math.Remainder(faces-p.AzimuthDeg, 360)); off > azimuthOffDeg {
			out = append(out, finding(fmt.Sprintf("planes[%d].azimuth_deg", i),
				"is %s, but the lowest edge faces %.0f deg, %.0f deg off; check the azimuth or the outline",
				plain(p.AzimuthDeg), faces, off))
		}
	}
	return out
}

// lowestEdgeBearingDeg is the true bearing of the outward normal of the edge
// with the lowest middle, the longest of those equally low.
func lowestEdgeBearingDeg(p layout.Plane, f layout.Frame) float64 {
	bestHeight, bestLength, bearing := math.Inf(1), 0.0, 0.0
	ccw := counterClockwise(p)
	for i, c := range p.Ring {
		a, b := c.At, p.Ring[(i+1)%len(p.Ring)].At
		if !ccw {
			a, b = b, a
		}
		height := (f.HeightM(a) + f.HeightM(b)) / 2
		dx, dy := b.XM-a.XM, b.YM-a.YM
		length := math.Hypot(dx, dy)
		if height > bestHeight+lowestTieM || height > bestHeight-lowestTieM && length <= bestLength {
			continue
		}
		// With the inside on the left, outwards is to the right: (dy, -dx).
		bestHeight, bestLength = height, length
		bearing = math.Mod(float64(math.Atan2(dy, -dx)*(180/math.Pi))+360, 360)
	}
	return bearing
}

// counterClockwise reports whether a plane's ring runs counter-clockwise seen
// with y up.
func counterClockwise(p layout.Plane) bool {
	var twice float64
	o := p.Ring[0].At
	for i, c := range p.Ring {
		a, b := c.At, p.Ring[(i+1)%len(p.Ring)].At
		twice += float64((a.XM-o.XM)*(b.YM-o.YM)) - float64((b.XM-o.XM)*(a.YM-o.YM))
	}
	return twice > 0
}

// idleStreetFlags reports a street side that changes nothing. A rule set with
// paths remarks itself on a side that nobody picked; see [surfaceNotes].
func idleStreetFlags(r *roof, _ Result) []Finding {
	if r.rules.PathM > 0 {
		return nil
	}
	for i, p := range r.doc.Planes {
		if at := slices.IndexFunc(p.Ring, func(c Corner) bool { return c.Street }); at >= 0 {
			return []Finding{finding(fmt.Sprintf("planes[%d].ring[%d].street", i, at),
				"marks the street side, but the rule set %q keeps no path; it changes nothing", r.rules.Title)}
		}
	}
	return nil
}

// surfaceNotes passes on what the rules remark on used planes. A remark on
// several planes is made once, at the first, and names the others.
func surfaceNotes(r *roof, _ Result) []Finding {
	var out []Finding
	var texts []string
	names := map[string][]string{}
	for i, p := range r.doc.Planes {
		if !p.Use {
			continue
		}
		for _, note := range r.narrow[i].Notes {
			if names[note] == nil {
				texts = append(texts, note)
				out = append(out, Finding{Path: fmt.Sprintf("planes[%d]", i)})
			}
			names[note] = append(names[note], p.name())
		}
	}
	for i, note := range texts {
		out[i].Message = strings.Join(names[note], ", ") + ": " + note
	}
	return out
}

// planesTooSmall reports used planes on which no candidate has a place.
func planesTooSmall(r *roof, res Result) []Finding {
	if len(res.Candidates) == 0 {
		return nil
	}
	used := -1
	var out []Finding
	for i, p := range r.doc.Planes {
		if !p.Use {
			continue
		}
		used++
		if p.ModuleLimit != nil && *p.ModuleLimit == 0 {
			continue
		}
		room := "room"
		if len(r.litOn(i, false).rings) > 0 {
			room = "room with light enough"
		}
		fits := slices.ContainsFunc(res.Candidates, func(c CandidateResult) bool { return c.Fill.ByPlane[used].Count > 0 })
		if !fits {
			out = append(out, finding(fmt.Sprintf("planes[%d]", i), "is in use but has no %s for any of the candidates", room))
		}
	}
	return out
}

// doubtfulCandidates passes on what the catalog doubts.
func doubtfulCandidates(r *roof, _ Result) []Finding {
	var out []Finding
	for i, c := range r.doc.Candidates {
		for _, p := range c.module().Check() {
			if p.Doubt {
				out = append(out, finding(fmt.Sprintf("candidates[%d].%s", i, p.Field), "%s", p.Message))
			}
		}
	}
	return out
}

// name is what to call a plane in a sentence.
func (p Plane) name() string {
	if p.Label != "" {
		return p.Label
	}
	return p.ID
}
