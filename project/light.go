//go:build !js

package project

import (
	"context"
	"fmt"
	"math"

	"github.com/go-json-experiment/json"

	"rooftally/energy"
	"rooftally/layout"
)

// The cells of the light on a roof. lightStepM is their side on an ordinary
// house; larger roofs get larger ones, so that all planes together have about
// lightCells.
const (
	lightStepM = 0.25
	lightCells = 2000
)

// LightKey names what the light of a document and a year depends on: equal keys,
// equal light. It is "" where [LightOf] gives an error.
func LightKey(d Document, y YearResult) string {
	scene, err := SceneOf(d)
	if err != nil || y.Sun == nil {
		return ""
	}
	grids, err := lightGrids(d)
	if err != nil {
		return ""
	}
	return lightKey(d, y, scene, grids)
}

func lightKey(d Document, y YearResult, scene energy.Scene, grids []lightGrid) string {
	cells := make([]energy.Grid, len(grids))
	for i, g := range grids {
		cells[i] = g.Grid
	}
	return keyOf(y.Key, d.Yield.Sky, d.Yield.Albedo, scene, cells)
}

// LightOf works out the light on every used plane over a typical year, past
// keep-outs, the roof itself, trees, buildings and the far horizon. The errors are
// those of [SceneOf], that of ctx, and one for a year without sun: YearResult.Why
// says why there is none.
func LightOf(ctx context.Context, d Document, y YearResult) (Sunlight, error) {
	scene, err := SceneOf(d)
	if err != nil {
		return Sunlight{}, err
	}
	if y.Sun == nil {
		return Sunlight{}, fmt.Errorf("light: there is no typical year: %s", y.Why)
	}
	grids, err := lightGrids(d)
	if err != nil {
		return Sunlight{}, err
	}
	out := Sunlight{Key: lightKey(d, y, scene, grids), Words: y.Words, Planes: make([]PlaneSunlight, len(grids))}
	err = each(len(grids), func(i int) error {
		var err error
		out.Planes[i], err = grids[i].light(ctx, y.Sun, scene, i, d.Yield.options())
		return err
	})
	if err != nil {
		return Sunlight{}, fmt.Errorf("light: %w", err)
	}
	return out, nil
}

// lightGrid is the lattice of cells on one used plane.
type lightGrid struct {
	energy.Grid
	plane Plane
	frame layout.Frame
	ring  layout.Ring
}

// lightGrids are the lattices of the used planes, in document order.
func lightGrids(d Document) ([]lightGrid, error) {
	var out []lightGrid
	var areaM2 float64
	for i, p := range d.Planes {
		if !p.Use {
			continue
		}
		f, err := layout.NewFrame(p.layout())
		if err != nil {
			return nil, planeError(i, "frame", err)
		}
		g := lightGrid{Grid: energy.Grid{Plane: len(out)}, plane: p, frame: f}
		for _, c := range p.Ring {
			g.ring = append(g.ring, f.ToSlope(layout.PlanPt{XM: c.XM, YM: c.YM}))
		}
		areaM2 += p.layout().SlopeAreaM2()
		out = append(out, g)
	}
	const stepsPerM = 20 // steps are whole 5 cm
	stepM := max(lightStepM, math.Ceil(math.Sqrt(areaM2/lightCells)*stepsPerM)/stepsPerM)
	for i := range out {
		out[i].lay(stepM)
	}
	return out, nil
}

// lay spreads cells over the plane from its lower left corner, which is the
// frame's origin.
func (g *lightGrid) lay(stepM float64) {
	g.StepM = stepM
	var wideM, highM float64
	for _, p := range g.ring {
		wideM, highM = max(wideM, p.UM), max(highM, p.VM)
	}
	const sliver = 1e-6
	g.Columns = max(1, int(math.Ceil(wideM/stepM-sliver)))
	g.Rows = max(1, int(math.Ceil(highM/stepM-sliver)))
}

// light works out the cells. That of a cell at the plane's edge is the light of
// a small part of it on the plane: beyond an edge it may be dark under the next
// plane.
func (g lightGrid) light(ctx context.Context, sun *energy.YearOfSun, scene energy.Scene, plane int, o energy.Options) (PlaneSunlight, error) {
	origin := g.frame.ToPlan(layout.SlopePt{})
	out := PlaneSunlight{
		PlaneID: g.plane.ID, OriginXM: origin.XM, OriginYM: origin.YM, AzimuthDeg: g.plane.AzimuthDeg, PitchDeg: g.plane.PitchDeg,
		UM: g.UM, VM: g.VM, StepM: g.StepM, Columns: g.Columns, Rows: g.Rows, KWhM2: make([]float64, g.Columns*g.Rows),
	}
	scene.Planes = scene.Planes[plane : plane+1]
	at := make([]int, 0, len(out.KWhM2))
	for i, cell := range g.Cells() {
		out.KWhM2[i] = -1
		if part, ok := g.onPlane(cell); ok {
			scene.Modules = append(scene.Modules, part)
			at = append(at, i)
		}
	}
	// The open plane's light is that of any cell with nothing around.
	open := scene
	open.Obstructions, open.Horizon, open.Modules = nil, nil, []energy.Module{{WidthM: g.StepM, HeightM: g.StepM}}
	bare, err := energy.Irradiate(ctx, sun, open, o)
	if err != nil {
		return out, err
	}
	out.OpenKWhM2 = tenths(bare[0].POAYear)
	const atOnce = energy.MaxModules
	for from := 0; from < len(at); from += atOnce {
		some := scene
		some.Modules = scene.Modules[from:min(len(at), from+atOnce)]
		cells, err := energy.Irradiate(ctx, sun, some, o)
		if err != nil {
			return out, err
		}
		for i, c := range cells {
			out.KWhM2[at[from+i]] = tenths(c.POAYear)
		}
	}
	return out, nil
}

func tenths(v float64) float64 { return math.Round(v*10) / 10 }

// cellParts is into how many parts along each side a cell at an edge is cut.
const cellParts = 5

// onPlane is the part of a cell whose light stands for it: the whole cell inside
// the plane, and at an edge the one of its parts inside the plane that is nearest
// to their middle. ok is false for a cell with no part inside.
func (g lightGrid) onPlane(cell energy.Module) (part energy.Module, ok bool) {
	cell.Plane = 0
	partM := g.StepM / cellParts
	var inside []energy.Module
	var u, v float64
	for i := range cellParts * cellParts {
		p := energy.Module{UM: cell.UM + float64(i%cellParts)*partM, VM: cell.VM + float64(i/cellParts)*partM, WidthM: partM, HeightM: partM}
		if g.holds(p) {
			inside = append(inside, p)
			u, v = u+p.UM, v+p.VM
		}
	}
	switch n := float64(len(inside)); n {
	case 0:
		return part, false
	case cellParts * cellParts:
		return cell, true
	default:
		u, v = u/n, v/n
	}
	nearest := math.Inf(1)
	for _, p := range inside {
		if d := math.Hypot(p.UM-u, p.VM-v); d < nearest {
			part, nearest = p, d
		}
	}
	return part, true
}

// holds reports whether the corners of a rectangle lie inside the plane, a hair
// in from them.
func (g lightGrid) holds(m energy.Module) bool {
	const hair = 1e-6
	left, low, right, top := m.UM+hair, m.VM+hair, m.UM+m.WidthM-hair, m.VM+m.HeightM-hair
	return insideRing(g.ring, left, low) && insideRing(g.ring, right, low) && insideRing(g.ring, right, top) && insideRing(g.ring, left, top)
}

// insideRing reports whether a point lies inside a ring, by even and odd.
func insideRing(ring layout.Ring, u, v float64) bool {
	inside := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.VM > v) != (b.VM > v) && u-a.UM < (b.UM-a.UM)*(v-a.VM)/(b.VM-a.VM) {
			inside = !inside
		}
	}
	return inside
}

// leastProposedM2 is the smallest dark part that is proposed as a keep-out: less
// keeps no module away (our choice).
const leastProposedM2 = 0.25

// ShadeProposal returns the parts of the planes with less light over the year
// than a share of the open plane's, in percent, for keep-outs of kind "shade": the
// outlines of the cells, in plan. Parts under a quarter of a square metre are left
// out, and an outline with more corners than a keep-out may have is drawn with
// larger cells.
func ShadeProposal(s Sunlight, minAccessPct float64) []ShadeArea {
	out := []ShadeArea{}
	if s.check() != nil {
		return out
	}
	for _, p := range s.Planes {
		l := planeLight{PlaneSunlight: p}
		rings := l.darkerThan(minAccessPct)
		for rough := 2; tooManyCorners(rings); rough *= 2 {
			rings = l.coarser(rough).darkerThan(minAccessPct)
		}
		for _, ring := range rings {
			if areaM2(ring) < leastProposedM2 {
				continue
			}
			area := ShadeArea{PlaneID: p.PlaneID}
			for _, at := range ring {
				q := l.toPlan(at)
				area.Ring = append(area.Ring, Point{q.XM, q.YM})
			}
			out = append(out, area)
		}
	}
	return out
}

func tooManyCorners(rings []layout.Ring) bool {
	for _, r := range rings {
		if len(r) > MaxCorners {
			return true
		}
	}
	return false
}

// coarser is the light in cells n times as wide and high, each as dark as the
// darkest in it.
func (l planeLight) coarser(n int) *planeLight {
	out := l
	out.StepM *= float64(n)
	out.Columns, out.Rows = (l.Columns+n-1)/n, (l.Rows+n-1)/n
	out.KWhM2 = make([]float64, out.Columns*out.Rows)
	for i := range out.KWhM2 {
		out.KWhM2[i] = -1
	}
	for i, v := range l.KWhM2 {
		at := &out.KWhM2[i/l.Columns/n*out.Columns+i%l.Columns/n]
		if v >= 0 && (*at < 0 || v < *at) {
			*at = v
		}
	}
	return &out
}

// areaM2 is the area of a counter-clockwise ring.
func areaM2(ring layout.Ring) float64 {
	var twice float64
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		twice += a.UM*b.VM - b.UM*a.VM
	}
	return twice / 2
}

// EncodeSunlight writes the light on a roof as [DecodeSunlight] reads it.
func EncodeSunlight(s Sunlight) ([]byte, error) {
	out, err := json.Marshal(s)
	if err != nil {
		return nil, fmt.Errorf("encode light: %w", err)
	}
	return out, nil
}
