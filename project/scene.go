//go:build !js

package project

import (
	"fmt"
	"math"
	"slices"

	"rooftally/energy"
	"rooftally/layout"
)

// SceneOf is what the roof and all around it look like to the sun: the used
// planes in document order; as obstructions the keep-outs that stand up, every
// plane as the solid under it, trees and buildings, in this order; and the far
// horizon. It has no modules. The error is [Problems] for a document that
// [Document.Validate] does not pass and for one that has more planes or
// obstructions than package energy takes.
//
// A keep-out stands on the topmost plane over its centre, or, with its centre on
// none, over the highest of its corners. One without height casts no shadow, nor
// do roof windows and areas of shade.
func SceneOf(d Document) (energy.Scene, error) {
	if ps := d.Validate(); len(ps) > 0 {
		return energy.Scene{}, ps
	}
	s := sketch{doc: d}
	for i, p := range d.Planes {
		lp := p.layout()
		f, err := layout.NewFrame(lp)
		if err != nil {
			return energy.Scene{}, planeError(i, "frame", err)
		}
		s.planes, s.frames = append(s.planes, lp), append(s.frames, f)
	}
	scene := energy.Scene{Planes: s.usedPlanes()}
	scene.Obstructions = slices.Concat(s.keepOuts(), s.roofParts(), s.around())
	for _, h := range d.Surroundings.Horizon {
		scene.Horizon = append(scene.Horizon, energy.HorizonPoint(h))
	}
	if err := scene.Check(); err != nil {
		return energy.Scene{}, Problems{{Path: "surroundings", Message: fmt.Sprintf("with planes and keep-outs are too much for shadows to be reckoned: %v", err)}}
	}
	return scene, nil
}

// sketch is a document with the geometry of its planes.
type sketch struct {
	doc    Document
	planes []layout.Plane
	frames []layout.Frame
}

// usedPlanes are the planes that modules may lie on.
func (s sketch) usedPlanes() []energy.Plane {
	var out []energy.Plane
	for i, p := range s.doc.Planes {
		if !p.Use {
			continue
		}
		origin := s.frames[i].ToPlan(layout.SlopePt{})
		out = append(out, energy.Plane{
			ID: p.ID, Surface: energy.Surface{PitchDeg: p.PitchDeg, AzimuthDeg: p.AzimuthDeg},
			Origin:   energy.Vec3{X: origin.XM, Y: origin.YM, Z: p.EaveHeightM},
			Mounting: s.doc.Wiring.heatMounting(),
		})
	}
	return out
}

// heatMounting is how air reaches the back of the modules.
func (w Wiring) heatMounting() energy.Mounting {
	if w.Mounting == string(energy.OpenRack) {
		return energy.OpenRack
	}
	return energy.FlushOnRoof
}

// roofParts are the solids under all planes, used or not: a wing shades the main
// roof whether or not it carries modules.
func (s sketch) roofParts() []energy.Obstruction {
	out := make([]energy.Obstruction, len(s.planes))
	for i, p := range s.planes {
		out[i] = energy.Obstruction{ID: p.ID, PlaneID: p.ID, Kind: energy.RoofPart}
		for _, c := range p.Ring {
			out[i].Footprint = append(out[i].Footprint, xy(c.At))
			out[i].TopsM = append(out[i].TopsM, s.frames[i].HeightM(c.At))
		}
	}
	return out
}

// keepOuts are those that stand up from the roof.
func (s sketch) keepOuts() []energy.Obstruction {
	var out []energy.Obstruction
	for _, k := range s.doc.KeepOuts {
		if k.HeightM == 0 || k.Kind == "roof_window" || k.Kind == "shade" {
			continue
		}
		footprint := s.footprint(k)
		if roofM, ok := s.under(k, footprint); ok {
			out = append(out, energy.Obstruction{ID: k.ID, Kind: energy.Prism, Footprint: footprint, TopM: roofM + k.HeightM})
		}
	}
	return out
}

// circleSides is how many sides stand for a round pipe, which has its area.
const circleSides = 12

// footprint is the outline of a keep-out in plan.
func (s sketch) footprint(k KeepOut) [][2]float64 {
	var out [][2]float64
	if k.Shape == "circle" {
		r := k.RadiusM * math.Sqrt(math.Pi/(circleSides/2*math.Sin(2*math.Pi/circleSides)))
		for i := range circleSides {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / circleSides)
			out = append(out, [2]float64{k.Center.XM + float64(r*cos), k.Center.YM + float64(r*sin)})
		}
		return out
	}
	for _, p := range k.layout().Footprint(s.planes) {
		out = append(out, xy(p))
	}
	return out
}

// under is the height of the roof that a keep-out stands on; ok is false where
// it stands beside the roof.
func (s sketch) under(k KeepOut, footprint [][2]float64) (heightM float64, ok bool) {
	if heightM, ok = s.roofAt(middle(k, footprint)); ok {
		return heightM, true
	}
	for _, corner := range footprint {
		if h, on := s.roofAt(corner); on && (!ok || h > heightM) {
			heightM, ok = h, true
		}
	}
	return heightM, ok
}

// middle is the centre of a keep-out: for a polygon that of its area.
func middle(k KeepOut, footprint [][2]float64) [2]float64 {
	if k.Center != nil {
		return [2]float64{k.Center.XM, k.Center.YM}
	}
	o := footprint[0]
	var twice, x, y float64
	for i, a := range footprint {
		b := footprint[(i+1)%len(footprint)]
		ax, ay, bx, by := a[0]-o[0], a[1]-o[1], b[0]-o[0], b[1]-o[1]
		cross := float64(ax*by) - float64(bx*ay)
		twice += cross
		x += float64((ax + bx) * cross)
		y += float64((ay + by) * cross)
	}
	return [2]float64{o[0] + x/(3*twice), o[1] + y/(3*twice)}
}

// roofAt is the height of the topmost plane over a plan point. A point that lies
// just beside an outline is on it: rings are drawn to 20 mm, see docs/roof.md.
func (s sketch) roofAt(p [2]float64) (heightM float64, ok bool) {
	for i, plane := range s.planes {
		if !holds(planRing(plane), p) {
			continue
		}
		if h := s.frames[i].HeightM(layout.PlanPt{XM: p[0], YM: p[1]}); !ok || h > heightM {
			heightM, ok = h, true
		}
	}
	return heightM, ok
}

// besideM is how far beside an outline a point still counts as on it.
const besideM = 0.02

// holds reports whether a point lies in a ring or within besideM of it.
func holds(ring [][2]float64, p [2]float64) bool {
	inside := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		dx, dy := b[0]-a[0], b[1]-a[1]
		px, py := p[0]-a[0], p[1]-a[1]
		along := min(1, max(0, (float64(px*dx)+float64(py*dy))/(float64(dx*dx)+float64(dy*dy))))
		if math.Hypot(px-float64(along*dx), py-float64(along*dy)) <= besideM {
			return true
		}
		if (a[1] > p[1]) != (b[1] > p[1]) && px < float64(dx*py)/dy {
			inside = !inside
		}
	}
	return inside
}

// around are the trees and the buildings.
func (s sketch) around() []energy.Obstruction {
	var out []energy.Obstruction
	for _, t := range s.doc.Surroundings.Trees {
		o := energy.Obstruction{
			ID: t.ID, Kind: energy.Tree, Crown: energy.Crown(t.Crown),
			CenterX: t.XM, CenterY: t.YM, RadiusM: t.RadiusM, BaseM: t.BaseM, TopM: t.TopM,
			LeafOnPass: t.LeafOnPass, LeafOffPass: t.LeafOffPass,
		}
		if t.Evergreen {
			o.LeafOffPass = t.LeafOnPass
		}
		out = append(out, o)
	}
	for _, b := range s.doc.Surroundings.Buildings {
		o := energy.Obstruction{ID: b.ID, Kind: energy.Prism, BaseM: b.BaseM, TopM: b.TopM}
		for _, p := range b.Ring {
			o.Footprint = append(o.Footprint, [2]float64{p.XM, p.YM})
		}
		out = append(out, o)
	}
	return out
}

// options are the models of light that a document asks for.
func (y YieldTerms) options() energy.Options {
	o := energy.DefaultOptions()
	o.Sky, o.Glass, o.Albedo = energy.SkyModel(y.Sky), energy.Glass{Model: energy.GlassModel(y.Glass)}, y.Albedo
	return o
}
