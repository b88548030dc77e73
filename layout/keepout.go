package layout

import (
	"fmt"
	"math"
	"slices"
)

// KeepOutKind is what stands in the way of modules.
type KeepOutKind string

// The keep-out kinds. Chimney, Vent, Pipe and Other are vertical prisms
// measured in plan; RoofWindow and Shade are measured in the roof plane.
const (
	Chimney    KeepOutKind = "chimney"
	Vent       KeepOutKind = "vent"
	Pipe       KeepOutKind = "pipe"
	RoofWindow KeepOutKind = "roof_window"
	Shade      KeepOutKind = "shade"
	Other      KeepOutKind = "other"
)

// inRoofPlane reports whether the kind's sizes are measured in the roof plane.
func (k KeepOutKind) inRoofPlane() bool { return k == RoofWindow || k == Shade }

// ShapeKind is how a keep-out's outline is given.
type ShapeKind string

// The shapes: PolygonShape by Points, RectShape by Center, WidthM, DepthM and
// TurnDeg, CircleShape by Center and RadiusM.
const (
	PolygonShape ShapeKind = "polygon"
	RectShape    ShapeKind = "rect"
	CircleShape  ShapeKind = "circle"
)

// KeepOut is something that modules must avoid. It belongs to the site and
// acts on every plane that its footprint covers.
type KeepOut struct {
	ID    string
	Kind  KeepOutKind
	Shape ShapeKind
	// Points are plan points for every kind: simple, 3 or more.
	Points []PlanPt
	Center PlanPt
	// WidthM runs east (plan kinds) or along the eave (roof-plane kinds),
	// DepthM north or up the slope. Both, and RadiusM, 0.001 to 1000.
	WidthM, DepthM float64
	RadiusM        float64
	// TurnDeg turns a rectangle clockwise seen from above, from north (plan
	// kinds) or from the upslope direction (roof-plane kinds).
	TurnDeg float64
	// ClearanceM is kept free around it, measured in the roof plane, 0 to 10.
	ClearanceM float64
	// LastResort, for Shade only: modules may lie there, but are placed and
	// counted last.
	LastResort bool
}

// Check returns the first thing wrong with a keep-out: a *[ShapeError] for its
// points, a *[RangeError] for its numbers, an error naming an unknown kind or
// shape. Fields that the shape does not use are not looked at.
func (k KeepOut) Check() error {
	switch k.Kind {
	case Chimney, Vent, Pipe, RoofWindow, Shade, Other:
	default:
		return fmt.Errorf("unknown kind %q", k.Kind)
	}
	if err := checkRange("ClearanceM", k.ClearanceM, 0, 10); err != nil {
		return err
	}
	switch k.Shape {
	case PolygonShape:
		return CheckRing(k.Points)
	case RectShape:
		return firstError(k.checkCenter(), checkRange("WidthM", k.WidthM, 0.001, 1000),
			checkRange("DepthM", k.DepthM, 0.001, 1000), checkRange("TurnDeg", k.TurnDeg, -360, 360))
	case CircleShape:
		return firstError(k.checkCenter(), checkRange("RadiusM", k.RadiusM, 0.001, 1000))
	}
	return fmt.Errorf("unknown shape %q", k.Shape)
}

func (k KeepOut) checkCenter() error {
	return firstError(checkRange("Center.XM", k.Center.XM, -coordMaxM, coordMaxM),
		checkRange("Center.YM", k.Center.YM, -coordMaxM, coordMaxM))
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// Footprint is the keep-out's outline in plan, without its clearance. It acts
// on every plane that it covers, whatever the kind.
//
// A polygon is its Points. Rectangles and circles of the plan kinds are drawn
// in plan. Those of the kinds measured in the roof plane are drawn in the
// slope frame of the plane that holds Center, to within 1 mm of its outline;
// where several planes lie over each other there, in that of the highest;
// where none does, as on a level plane with north up the slope. A circle
// becomes a polygon that encloses it and stays within 1 mm of it.
//
// It is nil for a keep-out that [KeepOut.Check] refuses.
func (k KeepOut) Footprint(planes []Plane) []PlanPt {
	if k.Check() != nil {
		return nil
	}
	if k.Shape == PolygonShape {
		return slices.Clone(k.Points)
	}
	outline := k.outline()
	out := make([]PlanPt, len(outline))
	if k.Kind.inRoofPlane() {
		if f, ok := highestFrameAt(planes, k.Center); ok {
			c := f.ToSlope(k.Center)
			for i, p := range outline {
				out[i] = f.ToPlan(c.plus(1, p))
			}
			return out
		}
	}
	for i, p := range outline {
		out[i] = PlanPt{k.Center.XM + p.UM, k.Center.YM + p.VM}
	}
	return out
}

// outline is a rectangle or circle about the origin, counter-clockwise.
func (k KeepOut) outline() Ring {
	if k.Shape == CircleShape {
		// The clearance is counted in, so that growing the polygon by it adds
		// no corners. Sides in fours keep the true extent along both axes.
		step := tangentStepRad(k.RadiusM + k.ClearanceM)
		n := 4 * math.Ceil(math.Pi/2/step-1e-9)
		r := k.RadiusM / math.Cos(math.Pi/n)
		ring := make(Ring, int(n))
		for i := range ring {
			ring[i] = SlopePt{}.plus(r, rotated(SlopePt{1, 0}, (2*float64(i)+1)*math.Pi/n))
		}
		return ring
	}
	s, c := sincosDeg(k.TurnDeg)
	across, along := SlopePt{c, -s}, SlopePt{s, c}
	w, d := k.WidthM/2, k.DepthM/2
	return Ring{
		SlopePt{}.plus(-w, across).plus(-d, along),
		SlopePt{}.plus(w, across).plus(-d, along),
		SlopePt{}.plus(w, across).plus(d, along),
		SlopePt{}.plus(-w, across).plus(d, along),
	}
}

// highestFrameAt finds the frame of the plane over p that is highest there; of
// those within heightTieM of each other the first. A plane is over p if p lies
// in its outline or within holdDistM of it. Planes whose numbers [NewFrame]
// refuses do not count; whether outlines cross themselves is not asked again
// for every keep-out.
func highestFrameAt(planes []Plane, p PlanPt) (Frame, bool) {
	var best Frame
	found := false
	for _, pl := range planes {
		if !(pl.boxDistanceM(p) <= holdDistM) || checkPlaneNumbers(pl) != nil {
			continue
		}
		ring := pl.planRing()
		if checkCorners(ring) != nil || !holdsNearly(ring, p) {
			continue
		}
		f := newFrame(pl, ring)
		if !found || f.HeightM(p) > best.HeightM(p)+heightTieM {
			best, found = f, true
		}
	}
	return best, found
}

// holdsNearly reports whether p lies in the ring or within holdDistM of it.
func holdsNearly(ring []PlanPt, p PlanPt) bool {
	if holdsPoint(microPts(ring), toMicro(p)) {
		return true
	}
	for i, a := range ring {
		if pointToSegmentM(p, a, ring[(i+1)%len(ring)]) <= holdDistM {
			return true
		}
	}
	return false
}

// boxDistanceM is the distance in plan from q to the upright box around the
// outline, measured along the farther axis; 0 inside.
func (p Plane) boxDistanceM(q PlanPt) float64 {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, c := range p.Ring {
		x0, x1 = min(x0, c.At.XM), max(x1, c.At.XM)
		y0, y1 = min(y0, c.At.YM), max(y1, c.At.YM)
	}
	return max(0, x0-q.XM, q.XM-x1, y0-q.YM, q.YM-y1)
}

// reachM is how far in plan the keep-out with its clearance can reach from
// its center; +Inf for a polygon. Lengths in a roof plane only shrink in plan.
func (k KeepOut) reachM() float64 {
	switch k.Shape {
	case CircleShape:
		return k.RadiusM + k.ClearanceM + 2*roundExcessM
	case RectShape:
		return math.Hypot(k.WidthM, k.DepthM)/2 + k.ClearanceM + roundExcessM
	}
	return math.Inf(1)
}

// grownIn is the keep-out grown by its clearance, measured in the plane of f:
// one ring for a convex footprint; for others the footprint and a zone along
// each of its edges, which overlap.
func (k KeepOut) grownIn(f Frame, footprint []PlanPt) []Ring {
	if signedAreaM2(footprint) < 0 {
		footprint = slices.Clone(footprint)
		slices.Reverse(footprint)
	}
	ring := make(Ring, len(footprint))
	for i, p := range footprint {
		ring[i] = f.ToSlope(p)
	}
	if k.Shape != PolygonShape || isConvex(microPts(footprint)) {
		return []Ring{grownConvex(ring, k.ClearanceM)}
	}
	reversed := slices.Clone(ring)
	slices.Reverse(reversed)
	distM := make([]float64, len(ring))
	for i := range distM {
		distM[i] = k.ClearanceM
	}
	return append([]Ring{ring}, bands(reversed, distM)...)
}
