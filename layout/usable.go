package layout

import (
	"fmt"
	"slices"
)

// Why says what takes a zone away.
const (
	WhySetback         = "setback"
	WhyPath            = "path"
	WhyKeepOut         = "keep_out"
	WhyShadeOffLimits  = "shade_off_limits"
	WhyShadeLastResort = "shade_last_resort"
)

// Zone is one part of a plane that modules stay out of (or, for
// [WhyShadeLastResort], that they fill last). Its ring lies in the plane's
// slope frame and may reach beyond the plane.
type Zone struct {
	Why  string
	Ring Ring
}

// Usability is what rules and keep-outs leave of a plane.
type Usability struct {
	// Region is in the plane's slope frame: the plane's ring and, as holes,
	// every zone but last-resort shade.
	Region Region
	// Zones are all zones, for drawing.
	Zones []Zone
	// LastResort are the rings of last-resort shade.
	LastResort []Ring
	// Notes are remarks for the user, such as a path put on a side that nobody
	// picked.
	Notes []string
}

// Usable works out where modules may lie on planes[plane]. planes are all
// planes of the roof and edges what [Edges] says of them; keepOuts are all
// keep-outs of the site. With wideRidge the wider ridge distance of a rule set
// that has two is kept.
//
// Setbacks, paths and clearances are measured in the roof plane. A keep-out
// that does not reach the plane with its clearance adds no zone; one that just
// touches it may add one that takes nothing.
//
// It returns a *[RangeError] for a plane index out of range, and an error
// naming the plane or keep-out, around a *[ShapeError] or *[RangeError], for
// one that [NewFrame] or [KeepOut.Check] refuses.
func Usable(plane int, planes []Plane, edges [][]Edge, keepOuts []KeepOut, rules RuleSet, wideRidge bool) (Usability, error) {
	top := min(len(planes), len(edges)) - 1
	if plane < 0 || plane > top {
		return Usability{}, &RangeError{Field: "plane", Value: float64(plane), Min: 0, Max: float64(top)}
	}
	p := planes[plane]
	f, err := NewFrame(p)
	if err != nil {
		return Usability{}, fmt.Errorf("plane %q: %w", p.ID, err)
	}
	outer := make(Ring, len(p.Ring))
	for i, c := range p.Ring {
		outer[i] = f.ToSlope(c.At)
	}
	var out Usability
	if rules.Exempts(p.PitchDeg) {
		out.Notes = append(out.Notes, "Slopes this low are exempt from the rule set; nothing is kept free here.")
	} else {
		out.Zones = setbacks(f, edges[plane], signedAreaM2(p.planRing()) < 0, rules.distances(wideRidge))
		if rules.PathM > 0 {
			zone, notes := pathZone(plane, f, outer, edges, rules.PathM)
			out.Zones = append(out.Zones, zone)
			out.Notes = append(out.Notes, notes...)
		}
	}
	for _, k := range keepOuts {
		if err := k.Check(); err != nil {
			return Usability{}, fmt.Errorf("keep-out %q: %w", k.ID, err)
		}
		if p.boxDistanceM(k.Center) > k.reachM() {
			continue
		}
		out.Zones = append(out.Zones, k.zones(f, outer, k.Footprint(planes))...)
	}
	out.Region.Outer = outer
	for _, z := range out.Zones {
		if z.Why == WhyShadeLastResort {
			out.LastResort = append(out.LastResort, z.Ring)
		} else {
			out.Region.Holes = append(out.Region.Holes, z.Ring)
		}
	}
	return out, nil
}

// distances are the set's distances, with the wider ridge distance if asked
// for and there is one.
func (r RuleSet) distances(wideRidge bool) Distances {
	d := r.Distances
	if wideRidge && r.WideRidgeM > 0 {
		d.RidgeM = r.WideRidgeM
	}
	return d
}

// setbacks are the zones along the pieces of a plane's outline, whose pieces
// run clockwise if so said.
func setbacks(f Frame, pieces []Edge, clockwise bool, d Distances) []Zone {
	ring := make(Ring, len(pieces))
	distM := make([]float64, len(pieces))
	for i, e := range pieces {
		ring[i], distM[i] = f.ToSlope(e.From), d.Of(e.Kind)
	}
	if clockwise {
		// Reversed, corner i of n becomes n-1-i and the edge that left corner
		// i leaves corner n-2-i.
		slices.Reverse(ring)
		slices.Reverse(distM)
		distM = append(distM[1:], distM[:1]...)
	}
	var zones []Zone
	for _, r := range bands(ring, distM) {
		zones = append(zones, Zone{WhySetback, r})
	}
	return zones
}

// zones are the keep-out's zones on the plane of f with the given outline; a
// zone that misses the plane is left out.
func (k KeepOut) zones(f Frame, outer Ring, footprint []PlanPt) []Zone {
	why := WhyKeepOut
	if k.Kind == Shade {
		why = WhyShadeOffLimits
		if k.LastResort {
			why = WhyShadeLastResort
		}
	}
	bounds, outline := boundsOf(outer), outer.microPts()
	var zones []Zone
	for _, r := range k.grownIn(f, footprint) {
		if boundsOf(r).meets(bounds) && ringsMeet(r.microPts(), outline) {
			zones = append(zones, Zone{why, r})
		}
	}
	return zones
}
