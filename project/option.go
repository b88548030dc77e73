package project

import (
	"cmp"
	"context"
	"slices"

	"rooftally/layout"
)

// option is one candidate packed on all used planes.
type option struct {
	roof      *roof
	candidate Candidate
	planes    []packed
}

// packed is one candidate packed on one used plane.
type packed struct {
	plane   int
	surface surface
	// full is the packing that may use last-resort shade; shaded runs parallel
	// to its modules.
	full   layout.Packing
	shaded []bool
	// clear is the packing with last-resort shade off limits. It can hold more
	// modules in the sun than full has, whose rows may lie otherwise.
	clear []layout.Rect
	// limit is the most modules that may lie on the plane.
	limit int
}

// pack lays out a candidate on every used plane.
func (r *roof) pack(ctx context.Context, c Candidate, surfaces []surface) (option, error) {
	o := option{roof: r, candidate: c}
	for i, p := range r.doc.Planes {
		if !p.Use {
			continue
		}
		pk, err := r.packPlane(ctx, c, i, surfaces[i])
		if err != nil {
			return o, planeError(i, "packing", err)
		}
		o.planes = append(o.planes, pk)
	}
	return o, nil
}

func (r *roof) packPlane(ctx context.Context, c Candidate, plane int, s surface) (packed, error) {
	p := r.doc.Planes[plane]
	spec, style := r.spec(c, p), layout.Style(r.doc.Rules.Style)
	full, err := layout.Pack(ctx, s.Region, spec, style)
	if err != nil {
		return packed{}, err
	}
	pk := packed{plane: plane, surface: s, full: full, clear: full.Modules, limit: len(full.Modules)}
	pk.shaded = shadedBy(full.Modules, s.LastResort)
	if slices.Contains(pk.shaded, true) {
		clear, err := layout.Pack(ctx, s.clear(), spec, style)
		if err != nil {
			return packed{}, err
		}
		pk.clear = clear.Modules
	}
	if p.ModuleLimit != nil {
		pk.limit = min(pk.limit, *p.ModuleLimit)
	}
	return pk, nil
}

// shadedBy says of each module whether it reaches into any of the rings.
func shadedBy(modules []layout.Rect, rings []layout.Ring) []bool {
	out := make([]bool, len(modules))
	for i, m := range modules {
		out[i] = slices.ContainsFunc(rings, func(ring layout.Ring) bool { return layout.Overlaps(m, ring) })
	}
	return out
}

// inSun is how many modules the plane can hold outside last-resort shade.
func (p packed) inSun() int {
	free := 0
	for _, s := range p.shaded {
		if !s {
			free++
		}
	}
	return min(p.limit, max(free, len(p.clear)))
}

// take returns n modules, with as few as possible of them in last-resort
// shade, and which of them are. n is at most the limit.
func (p packed) take(n int) ([]layout.Rect, []bool) {
	modules, shaded := p.full.Modules, p.shaded
	if n <= len(p.clear) {
		modules, shaded = p.clear, make([]bool, len(p.clear))
	}
	keep := layout.Thin(modules, shaded, n)
	outM, outS := make([]layout.Rect, len(keep)), make([]bool, len(keep))
	for i, k := range keep {
		outM[i], outS[i] = modules[k], shaded[k]
	}
	return outM, outS
}

// most is how many modules fit on all used planes.
func (o option) most() int {
	n := 0
	for _, p := range o.planes {
		n += p.limit
	}
	return n
}

// allot shares n modules among the planes, or as many as fit. Places outside
// last-resort shade go first; planes that face the noon sun more squarely go
// first, and among those alike the ones with most such places, so that few
// planes are used; then document order. The result runs parallel to o.planes.
func (o option) allot(n int) []int {
	counts := make([]int, len(o.planes))
	order := make([]int, len(o.planes))
	for i := range order {
		order[i] = i
	}
	facing := func(i int) int { return noonSunTenths(o.roof.doc.Site, o.roof.doc.Planes[o.planes[i].plane]) }
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(facing(b)-facing(a), o.planes[b].inSun()-o.planes[a].inSun())
	})
	for _, room := range []func(packed) int{packed.inSun, func(p packed) int { return p.limit }} {
		for _, i := range order {
			more := min(n, room(o.planes[i])-counts[i])
			counts[i] += more
			n -= more
		}
	}
	return counts
}

// coverage is the plan area of a layout's modules over the plan area of the
// whole roof; 0 for a roof without planes.
func (o option) coverage(counts []int) float64 {
	if o.roof.planAreaM2 == 0 {
		return 0
	}
	var area float64
	for i, p := range o.planes {
		modules, _ := p.take(counts[i])
		area += o.roof.planAreaOf(p.plane, modules)
	}
	return area / o.roof.planAreaM2
}

// result is the layout with the given counts.
func (o option) result(counts []int) LayoutResult {
	res := LayoutResult{ByPlane: make([]PlaneLayoutResult, len(o.planes))}
	var usedM2 float64
	for i, p := range o.planes {
		by, used := o.planeResult(p, counts[i])
		res.ByPlane[i] = by
		res.Count += by.Count
		res.InShade += by.InShade
		res.FreeAreaM2 += by.FreeAreaM2
		usedM2 += used
	}
	res.PdcW = res.Count * o.candidate.PmaxW
	res.KWdc = kilo(res.PdcW)
	if usedM2 > 0 {
		res.WPerM2 = float64(res.PdcW) / usedM2
	}
	return res
}

// planeResult is the part of a layout on one plane and the roof area it uses,
// each module with one gap beside and one above it.
func (o option) planeResult(p packed, n int) (PlaneLayoutResult, float64) {
	modules, shaded := p.take(n)
	res := PlaneLayoutResult{
		PlaneID: o.roof.doc.Planes[p.plane].ID,
		Count:   n, PdcW: n * o.candidate.PmaxW, KWdc: kilo(n * o.candidate.PmaxW),
		Bound: p.full.Bound, Proved: p.full.Proved,
		Modules: make([]Module, len(modules)),
	}
	var usedM2 float64
	gaps := o.roof.doc.Rules
	for i, m := range modules {
		usedM2 += float64((m.WM + gaps.GapEaveM) * (m.HM + gaps.GapSlopeM))
		if shaded[i] {
			res.InShade++
		}
		res.Modules[i] = Module{
			UM: m.UM, VM: m.VM, WM: m.WM, HM: m.HM,
			Plan: corners(o.roof.frames[p.plane], m), InShade: shaded[i],
		}
	}
	// Outer modules need no gap, so a full plane can use more than it has.
	res.FreeAreaM2 = max(0, p.surface.areaM2-usedM2)
	return res, usedM2
}

// corners are a module's corners in plan, counter-clockwise from its lower
// left seen looking up the slope.
func corners(f layout.Frame, m layout.Rect) [4][2]float64 {
	at := func(u, v float64) [2]float64 { return xy(f.ToPlan(layout.SlopePt{UM: u, VM: v})) }
	right, top := m.UM+m.WM, m.VM+m.HM
	return [4][2]float64{at(m.UM, m.VM), at(right, m.VM), at(right, top), at(m.UM, top)}
}

// kilo turns whole watts into kilowatts.
func kilo(w int) float64 { return float64(w) / 1000 }
