package project

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"rooftally/layout"
)

// roof is the geometry of a document, worked out once and shared by all its
// candidates. Slices run parallel to the document's planes.
type roof struct {
	doc      Document
	rules    layout.RuleSet
	planes   []layout.Plane
	frames   []layout.Frame
	edges    [][]layout.Edge
	keepOuts []layout.KeepOut
	// planAreaM2 is the plan area of all planes, used or not.
	planAreaM2 float64
	// narrow is what may be covered with the ordinary ridge setback; wide,
	// worked out when first asked for, with the wider one.
	narrow, wide []surface
	wideLock     sync.Mutex

	// lit runs parallel to planes; nil where the light on the roof is not known.
	// sunlightKey is its key.
	lit         []litPlane
	sunlightKey string

	memory *memory
	budget layout.Budget
}

// surface is what may be covered of one plane.
type surface struct {
	layout.Usability
	areaM2 float64
}

// newRoof works out the geometry of a document that [Document.Validate] finds
// sound. The context is asked before every plane: a drawing at the limits of the
// format takes seconds.
func newRoof(ctx context.Context, d Document) (*roof, error) {
	rules, ok := layout.RuleSetByID(d.Rules.Set)
	if !ok {
		return nil, fmt.Errorf("rule set %q is not known", d.Rules.Set)
	}
	if rules.Typed {
		rules.Distances = layout.Distances(d.Rules.Distances)
	}
	r := &roof{doc: d, rules: rules}
	for i, p := range d.Planes {
		lp := p.layout()
		f, err := layout.NewFrame(lp)
		if err != nil {
			return nil, planeError(i, "frame", err)
		}
		r.planes = append(r.planes, lp)
		r.frames = append(r.frames, f)
		r.planAreaM2 += lp.PlanAreaM2()
	}
	for _, k := range d.KeepOuts {
		r.keepOuts = append(r.keepOuts, k.layout())
	}
	r.edges = layout.Edges(r.planes)
	var err error
	r.narrow, err = r.surfaces(ctx, false)
	return r, err
}

// surfaces works out what may be covered of every plane.
func (r *roof) surfaces(ctx context.Context, wideRidge bool) ([]surface, error) {
	out := make([]surface, len(r.planes))
	for i := range r.planes {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		u, err := layout.Usable(i, r.planes, r.edges, r.keepOuts, r.rules, wideRidge)
		if err != nil {
			return nil, planeError(i, "usable part", err)
		}
		area, err := u.Region.AreaM2()
		if err != nil {
			return nil, planeError(i, "usable area", err)
		}
		out[i] = surface{Usability: u, areaM2: area}
	}
	return out, nil
}

// planeError says at which plane a step failed. A shape that package layout
// refuses, such as one that could hold too many modules, is a problem of the
// document although no single field is out of range.
func planeError(plane int, step string, err error) error {
	if shape, ok := errors.AsType[*layout.ShapeError](err); ok {
		return Problems{{Path: fmt.Sprintf("planes[%d]", plane), Message: shape.Error()}}
	}
	return fmt.Errorf("%s of planes[%d]: %w", step, plane, err)
}

// wideSurfaces is [roof.surfaces] with the wider ridge setback, worked out
// once.
func (r *roof) wideSurfaces(ctx context.Context) ([]surface, error) {
	r.wideLock.Lock()
	defer r.wideLock.Unlock()
	if r.wide == nil {
		wide, err := r.surfaces(ctx, true)
		if err != nil {
			return nil, err
		}
		r.wide = wide
	}
	return r.wide, nil
}

// layout is the plane as package layout has it.
func (p Plane) layout() layout.Plane {
	ring := make([]layout.Corner, len(p.Ring))
	for i, c := range p.Ring {
		ring[i] = layout.Corner{
			At:   layout.PlanPt{XM: c.XM, YM: c.YM},
			Kind: layout.EdgeKind(c.Edge), Street: c.Street,
		}
	}
	return layout.Plane{
		ID: p.ID, Ring: ring,
		PitchDeg: p.PitchDeg, AzimuthDeg: p.AzimuthDeg, EaveHeightM: p.EaveHeightM,
	}
}

// layout is the keep-out as package layout has it.
func (k KeepOut) layout() layout.KeepOut {
	out := layout.KeepOut{
		ID: k.ID, Kind: layout.KeepOutKind(k.Kind), Shape: layout.ShapeKind(k.Shape),
		Points: planPoints(k.Points),
		WidthM: k.WidthM, DepthM: k.DepthM, RadiusM: k.RadiusM, TurnDeg: k.TurnDeg,
		ClearanceM: k.ClearanceM, LastResort: k.Shade == "last_resort",
	}
	if k.Center != nil {
		out.Center = layout.PlanPt{XM: k.Center.XM, YM: k.Center.YM}
	}
	return out
}

// turnName is the word for a turn. A module is packed with its short side as
// width, so AsGiven is portrait.
func turnName(t layout.Turn) string {
	if t == layout.Turned {
		return "landscape"
	}
	return "portrait"
}

// turns are the turns allowed on a plane.
func (p Plane) turns() []layout.Turn {
	switch p.Turn {
	case "portrait":
		return []layout.Turn{layout.AsGiven}
	case "landscape":
		return []layout.Turn{layout.Turned}
	}
	return []layout.Turn{layout.AsGiven, layout.Turned}
}

// spec is what is packed for a candidate on a plane.
func (r *roof) spec(c Candidate, p Plane) layout.Spec {
	s := r.freeSpec(c)
	s.Turns = p.turns()
	return s
}

// freeSpec is what a person may set for a candidate: either turn.
func (r *roof) freeSpec(c Candidate) layout.Spec {
	return layout.Spec{
		WidthM: c.WidthM, HeightM: c.LengthM,
		GapUM: r.doc.Rules.GapEaveM, GapVM: r.doc.Rules.GapSlopeM,
		EndM:  r.doc.Rules.EndAllowanceM,
		Turns: []layout.Turn{layout.AsGiven, layout.Turned},
	}
}

// planeResults is what geometry alone says of every plane, and the wider zones
// where a candidate's layout keeps them.
func (r *roof) planeResults(candidates []CandidateResult) []PlaneResult {
	var wide []surface
	if slices.ContainsFunc(candidates, func(c CandidateResult) bool {
		return c.RidgeWidened || c.Size != nil && c.Size.RidgeWidened
	}) {
		wide = r.wide
	}
	out := make([]PlaneResult, len(r.planes))
	for i, p := range r.doc.Planes {
		lp := r.planes[i]
		out[i] = PlaneResult{
			ID: p.ID, Label: p.Label, Use: p.Use,
			PitchDeg: p.PitchDeg, AzimuthDeg: p.AzimuthDeg,
			PlanAreaM2: lp.PlanAreaM2(), SlopeAreaM2: lp.SlopeAreaM2(),
			UsableAreaM2: r.narrow[i].areaM2, RidgeHeightM: lp.RidgeHeightM(),
			Edges: edgeResults(r.edges[i]), Zones: r.zoneResults(i, r.narrow),
			WideZones: r.zoneResults(i, wide),
		}
	}
	return out
}

func edgeResults(edges []layout.Edge) []EdgeResult {
	out := make([]EdgeResult, len(edges))
	for i, e := range edges {
		out[i] = EdgeResult{
			Index: e.Index, From: xy(e.From), To: xy(e.To), LengthM: e.LengthM,
			Kind: string(e.Kind), Guessed: e.Guessed, Street: e.Street,
		}
	}
	return out
}

// zoneResults are the zones of one plane in plan; none where the surfaces were
// never worked out.
func (r *roof) zoneResults(plane int, of []surface) []ZoneResult {
	if of == nil {
		return []ZoneResult{}
	}
	zones := of[plane].Zones
	out := make([]ZoneResult, len(zones))
	for i, z := range zones {
		ring := make([][2]float64, len(z.Ring))
		for j, s := range z.Ring {
			ring[j] = xy(r.frames[plane].ToPlan(s))
		}
		out[i] = ZoneResult{Why: z.Why, Ring: ring}
	}
	return append(out, r.darkZones(plane)...)
}

func (r *roof) keepOutResults() []KeepOutResult {
	out := make([]KeepOutResult, len(r.keepOuts))
	for i, k := range r.keepOuts {
		footprint := k.Footprint(r.planes)
		out[i] = KeepOutResult{ID: k.ID, Footprint: make([][2]float64, len(footprint))}
		for j, p := range footprint {
			out[i].Footprint[j] = xy(p)
		}
	}
	return out
}

// planAreaOf is the plan area that modules on a plane cover, without gaps.
func (r *roof) planAreaOf(plane int, modules []layout.Rect) float64 {
	var slope float64
	for _, m := range modules {
		slope += float64(m.WM * m.HM)
	}
	return slope * math.Cos(r.doc.Planes[plane].PitchDeg*(math.Pi/180))
}

// xy is a plan point as results have it.
func xy(p layout.PlanPt) [2]float64 { return [2]float64{p.XM, p.YM} }
