package project

import (
	"context"

	"rooftally/layout"
)

// option is one candidate packed on all used planes.
type option struct {
	roof      *roof
	candidate Candidate
	// ways are, for each used plane, the ways of laying it out, the fullest
	// first; planes is the way chosen for each.
	ways   [][]packed
	planes []packed
}

// pack lays out a candidate in a style on every used plane; unlimited takes dark
// places too.
func (r *roof) pack(ctx context.Context, c Candidate, style layout.Style, surfaces []surface, unlimited bool) (option, error) {
	var used []int
	for i, p := range r.doc.Planes {
		if p.Use {
			used = append(used, i)
		}
	}
	o := option{roof: r, candidate: c, ways: make([][]packed, len(used)), planes: make([]packed, len(used))}
	err := each(len(used), func(at int) error {
		ways, err := r.packPlane(ctx, c, style, used[at], surfaces[used[at]], r.litOn(used[at], unlimited))
		if err != nil {
			return planeError(used[at], "packing", err)
		}
		o.ways[at], o.planes[at] = ways, ways[0]
		return nil
	})
	return o, err
}

// filled are the places of the chosen ways, as many as may lie on each plane.
func (o option) filled() [][]place {
	out := make([][]place, len(o.planes))
	for i, p := range o.planes {
		out[i] = p.take(p.limit)
	}
	return out
}

// coverage is the plan area of modules over the plan area of the whole roof; 0
// for a roof without planes. places runs parallel to o.planes.
func (o option) coverage(places [][]place) float64 {
	if o.roof.planAreaM2 == 0 {
		return 0
	}
	var area float64
	for i, p := range o.planes {
		area += o.roof.planAreaOf(p.plane, rects(places[i]))
	}
	return area / o.roof.planAreaM2
}

// result is the layout that has modules at some places of each plane.
func (o option) result(places [][]place) LayoutResult {
	res := LayoutResult{ByPlane: make([]PlaneLayoutResult, len(o.planes))}
	var usedM2 float64
	var turns turnSet
	for i, p := range o.planes {
		by, used := o.planeResult(p, places[i])
		res.ByPlane[i] = by
		res.Count += by.Count
		res.InShade += by.InShade
		res.FreeAreaM2 += by.FreeAreaM2
		res.Tidiness.RailRuns += by.Tidiness.RailRuns
		res.Tidiness.Blocks += by.Tidiness.Blocks
		res.Gained += by.Gained
		usedM2 += used
		for _, m := range by.Modules {
			turns = turns.with(m.Turn)
		}
	}
	res.Tidiness.Turns = turns.count()
	res.PdcW = res.Count * o.candidate.PmaxW
	res.KWdc = kilo(res.PdcW)
	if usedM2 > 0 {
		res.WPerM2 = float64(res.PdcW) / usedM2
	}
	return res
}

// planeResult is the part of a layout on one plane and the roof area it uses,
// each module with one gap beside and one above it.
func (o option) planeResult(p packed, places []place) (PlaneLayoutResult, float64) {
	n := len(places)
	res := PlaneLayoutResult{
		PlaneID: o.roof.doc.Planes[p.plane].ID,
		Count:   n, PdcW: n * o.candidate.PmaxW, KWdc: kilo(n * o.candidate.PmaxW),
		InShade: inShade(places),
		Bound:   p.bound, Proved: len(p.full) == p.bound,
		Modules:  make([]Module, len(places)),
		Tidiness: o.tidiness(places),
		Hand:     p.hand, Refused: p.refused,
	}
	if p.dragged >= 0 {
		res.Gained = max(0, n-p.dragged)
	}
	var usedM2 float64
	gaps := o.roof.doc.Rules
	for i, k := range places {
		usedM2 += float64((k.WM + gaps.GapEaveM) * (k.HM + gaps.GapSlopeM))
		res.Modules[i] = Module{
			UM: k.UM, VM: k.VM, WM: k.WM, HM: k.HM,
			Plan: corners(o.roof.frames[p.plane], k.Rect), InShade: k.shaded,
			Turn: turnOf(k.Rect), Hand: k.hand, Locked: k.locked,
		}
	}
	// Outer modules need no gap, so a full plane can use more than it has.
	res.FreeAreaM2 = max(0, p.surface.areaM2-usedM2)
	return res, usedM2
}

func (o option) tidiness(places []place) Tidiness {
	return Tidiness(layout.TidinessOf(rects(places), o.roof.freeSpec(o.candidate)))
}

// turnOf is the turn of a placed module, "portrait" for a square one.
func turnOf(m layout.Rect) string {
	if m.WM > m.HM {
		return turnName(layout.Turned)
	}
	return turnName(layout.AsGiven)
}

// turnSet is a set of turns, a bit each.
type turnSet uint8

func (t turnSet) with(turn string) turnSet {
	if turn == turnName(layout.Turned) {
		return t | 2
	}
	return t | 1
}

// count is how many turns are in the set, 0 to 2.
func (t turnSet) count() int { return int(t&1 + t>>1) }

// corners are a module's corners in plan, counter-clockwise from its lower
// left seen looking up the slope.
func corners(f layout.Frame, m layout.Rect) [4][2]float64 {
	at := func(u, v float64) [2]float64 { return xy(f.ToPlan(layout.SlopePt{UM: u, VM: v})) }
	right, top := m.UM+m.WM, m.VM+m.HM
	return [4][2]float64{at(m.UM, m.VM), at(right, m.VM), at(right, top), at(m.UM, top)}
}

// kilo turns whole watts into kilowatts.
func kilo(w int) float64 { return float64(w) / 1000 }
