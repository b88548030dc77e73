package layout

import "context"

// What keeps a module from a place, beside the reasons of zones.
const (
	// WhyOutside is a module that reaches beyond the plane's outline.
	WhyOutside = "outside"
	// WhyEnd is a module whose end allowance alone reaches beyond the outline
	// or into a zone.
	WhyEnd = "end"
)

// Obstacle is what keeps a module from a place: the zero value is nothing.
type Obstacle struct {
	// Why is "", [WhyOutside], [WhyEnd] or the reason of a zone.
	Why string
	// Zone is the index in Usability.Zones of what is in the way; -1 for the
	// outline.
	Zone int
}

// Obstacle returns the first thing that keeps a module from where it stands: the
// outline, a zone in their order (last-resort shade is none), then either of
// them in the way of its end allowance. It judges as [CheckPacking] does: what
// it lets pass is valid there, touching is allowed, and 1e-6 m are forgiven.
// A module of another size than s allows, or not finite, is outside.
func (u Usability) Obstacle(m Rect, s Spec) Obstacle {
	bare := s
	bare.EndM = 0
	if checkModule(Region{Outer: u.Region.Outer}, nil, bare, m) != nil {
		return Obstacle{Why: WhyOutside, Zone: -1}
	}
	if at := u.zoneUnder(m); at >= 0 {
		return Obstacle{Why: u.Zones[at].Why, Zone: at}
	}
	held := Rect{UM: m.UM - s.EndM, VM: m.VM, WM: m.WM + 2*s.EndM, HM: m.HM}
	if at := u.zoneUnder(held); at >= 0 {
		return Obstacle{Why: WhyEnd, Zone: at}
	}
	if checkModule(Region{Outer: u.Region.Outer}, nil, s, m) != nil {
		return Obstacle{Why: WhyEnd, Zone: -1}
	}
	return Obstacle{}
}

// zoneUnder is the index of the first zone, last-resort shade aside, that a
// rectangle overlaps, or -1.
func (u Usability) zoneUnder(r Rect) int {
	for i, z := range u.Zones {
		if z.Why != WhyShadeLastResort && Overlaps(r, z.Ring) {
			return i
		}
	}
	return -1
}

// TooNear reports whether two modules overlap or keep neither of the gaps of s,
// as [CheckPacking] judges.
func TooNear(a, b Rect, s Spec) bool {
	apart := func(low, size, otherLow, otherSize, gap float64) bool {
		return max(otherLow-(low+size), low-(otherLow+otherSize)) >= gap-gapTolM
	}
	return !apart(a.UM, a.WM, b.UM, b.WM, s.GapUM) && !apart(a.VM, a.HM, b.VM, b.HM, s.GapVM)
}

// Around returns the region that is left to further modules when some stand
// already: each is a hole, grown by GapVM up and down and by GapUM less EndM to
// both sides, since a further module is tried with its end allowance. A module
// is then inside the region exactly where it keeps its gaps to those that
// stand.
//
// An end allowance so much longer than the gap that next to nothing of a hole
// would be left makes holes of heldApartM: further modules then keep more than
// the gap, and exact is false. No argument is changed.
func Around(r Region, s Spec, standing []Rect) (left Region, exact bool) {
	left = Region{Outer: r.Outer, Holes: make([]Ring, 0, len(r.Holes)+len(standing))}
	left.Holes = append(left.Holes, r.Holes...)
	exact = true
	for _, m := range standing {
		w := m.WM + 2*(s.GapUM-s.EndM)
		if w < heldApartM {
			w, exact = heldApartM, false
		}
		u := m.UM + (m.WM-w)/2
		left.Holes = append(left.Holes, box{u, m.VM - s.GapVM, u + w, m.VM + m.HM + s.GapVM}.ring())
	}
	return left, exact
}

// heldApartM is the least width of the hole that stands for a module, a
// millimetre: far above all tolerances, so that it is never taken for a flat
// hole, and far below what a person sets.
const heldApartM = 0.001

// UpperBound is a number that no axis-parallel placement of the allowed turns
// exceeds, from areas alone: the bound that [Pack] reports in the Drag budget
// for a style that may use all these turns. Its errors are those of [Pack].
func UpperBound(ctx context.Context, r Region, s Spec) (int, error) {
	j, err := newJob(ctx, r, s)
	if err != nil {
		return 0, err
	}
	if err := ctx.Err(); err != nil {
		return 0, err
	}
	return j.bound, nil
}
