package project

import (
	"context"
	"slices"
	"strconv"

	"rooftally/layout"
)

// The ways in which a plane can be laid out by hand; see PlaneLayoutResult.
const (
	handAlone  = "by_hand"
	handAround = "around"
)

// place is one module that is laid out, in the plane's slope frame.
type place struct {
	layout.Rect
	shaded       bool // reaches into last-resort shade
	hand, locked bool
}

// handOn is what a person set on a plane for a candidate; ok is false for
// nothing.
func (r *roof) handOn(c Candidate, p Plane) (h HandLayout, ok bool) {
	i := slices.IndexFunc(r.doc.Hand, func(h HandLayout) bool { return h.CandidateID == c.ID && h.PlaneID == p.ID })
	if i < 0 || r.doc.Hand[i].Fill && len(r.doc.Hand[i].Modules) == 0 {
		return HandLayout{}, false
	}
	return r.doc.Hand[i], true
}

// standing takes those modules of a hand layout that the plane allows, and says
// of the others why not, both in the order of the list. Locked ones are tried
// first.
func (r *roof) standing(h HandLayout, c Candidate, plane int, s surface) ([]place, []RefusedModule) {
	t := trial{
		roof: r, plane: plane, surface: s, spec: r.freeSpec(c), limit: MaxHandModules,
		rects: make([]layout.Rect, len(h.Modules)), taken: make([]bool, len(h.Modules)),
	}
	if limit := r.doc.Planes[plane].ModuleLimit; limit != nil {
		t.limit = *limit
	}
	for i, m := range h.Modules {
		t.rects[i] = r.rectOf(c, plane, m)
	}
	whys, withs := make([]string, len(h.Modules)), make([]string, len(h.Modules))
	for _, locked := range []bool{true, false} {
		for i, m := range h.Modules {
			if m.Locked == locked {
				whys[i], withs[i] = t.try(i)
			}
		}
	}
	var places []place
	refused := []RefusedModule{}
	for i, m := range h.Modules {
		if t.taken[i] {
			places = append(places, place{
				Rect: t.rects[i], shaded: shadedBy(t.rects[i], s.LastResort), hand: true, locked: m.Locked,
			})
			continue
		}
		refused = append(refused, RefusedModule{
			Index: i, Plan: corners(r.frames[plane], t.rects[i]), Why: whys[i], With: withs[i], Locked: m.Locked,
		})
	}
	return places, refused
}

// rectOf is where a module set by hand lies on its plane.
func (r *roof) rectOf(c Candidate, plane int, m HandModule) layout.Rect {
	at := r.frames[plane].ToSlope(layout.PlanPt{XM: m.XM, YM: m.YM})
	rect := layout.Rect{UM: at.UM, VM: at.VM, WM: c.WidthM, HM: c.LengthM}
	if m.Turn == turnName(layout.Turned) {
		rect.WM, rect.HM = rect.HM, rect.WM
	}
	return rect
}

// trial tries modules set by hand one after the other.
type trial struct {
	roof    *roof
	plane   int
	surface surface
	spec    layout.Spec
	rects   []layout.Rect
	taken   []bool
	count   int // of those taken
	limit   int
}

// try takes a module or says what refuses it.
func (t *trial) try(index int) (why, with string) {
	m := t.rects[index]
	if o := t.surface.Obstacle(m, t.spec); o.Why != "" {
		return o.Why, t.keepOutOf(o.Zone)
	}
	for i, other := range t.rects {
		if t.taken[i] && layout.TooNear(m, other, t.spec) {
			return "overlap", strconv.Itoa(i)
		}
	}
	if t.count >= t.limit {
		return "limit", ""
	}
	t.taken[index] = true
	t.count++
	return "", ""
}

// keepOutOf is the ID of the keep-out that a zone is of, "" for a zone of
// another kind and for -1.
func (t *trial) keepOutOf(zone int) string {
	if zone < 0 {
		return ""
	}
	want := t.surface.Zones[zone]
	if want.Why != layout.WhyKeepOut && want.Why != layout.WhyShadeOffLimits {
		return ""
	}
	for _, k := range t.roof.keepOuts {
		alone, err := layout.Usable(t.plane, t.roof.planes, t.roof.edges, []layout.KeepOut{k}, layout.RuleSet{}, false)
		if err == nil && slices.ContainsFunc(alone.Zones, func(z layout.Zone) bool {
			return z.Why == want.Why && slices.Equal(z.Ring, want.Ring)
		}) {
			return k.ID
		}
	}
	return ""
}

// handPlane is a plane that holds what a person set and no more. Its bound is
// that of any layout, of either turn.
func (r *roof) handPlane(ctx context.Context, base packed, c Candidate, places []place) (packed, error) {
	p := base
	p.hand, p.full, p.clear = handAlone, places, places
	var err error
	p.bound, err = r.bound(ctx, p.surface.Region, r.freeSpec(c))
	if err != nil {
		return p, err
	}
	return p, r.check(p, c)
}

// check is the independent checker's word on a plane with modules set by hand.
func (r *roof) check(p packed, c Candidate) error {
	for _, places := range [][]place{p.full, p.clear, p.searched} {
		if err := layout.CheckPacking(p.surface.Region, r.freeSpec(c), rects(places)); err != nil {
			return err
		}
	}
	return nil
}
