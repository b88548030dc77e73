package energy

import (
	"fmt"
	"math"
)

// Scene is the roof and what stands around it.
type Scene struct {
	// Planes carry modules, 1 to 50.
	Planes []Plane
	// Modules lie on the planes, at most 5000.
	Modules []Module
	// Obstructions cast shadows, at most 200.
	Obstructions []Obstruction
	// Horizon is the far horizon.
	Horizon Horizon
	// LeafOn is, by month, the share of the time that trees carry leaves, 0 to
	// 1. All 0 takes [LeafMonths] of the weather's latitude.
	LeafOn [12]float64
}

// The most that a scene may hold.
const (
	MaxPlanes       = 50
	MaxModules      = 5000
	MaxObstructions = 200
	MaxCorners      = 500  // of one outline
	maxAllCorners   = 5000 // of all outlines
	maxSceneM       = 20000
)

// Mounting is how air reaches the back of modules.
type Mounting string

// The mountings; see [HeatLoss].
const (
	OpenRack    Mounting = "open_rack"
	FlatRoof    Mounting = "flat_roof"
	FlushOnRoof Mounting = "flush"
	Facade      Mounting = "facade"
)

// Plane is one flat piece of roof that modules lie on.
type Plane struct {
	ID string
	// Surface: PitchDeg 0 to 90, AzimuthDeg 0 <= a < 360.
	Surface
	// Origin is the world place of u = 0, v = 0 of the plane's slope frame: u
	// runs along (-cos azimuth, sin azimuth) in plan, v up the slope.
	Origin   Vec3
	Mounting Mounting
}

// Module is one module's place on a plane: a rectangle of the slope frame.
type Module struct {
	// Plane is the index in [Scene.Planes].
	Plane int
	// UM and VM are the lower left corner; WidthM runs along u, HeightM along v,
	// each 0.05 to 20.
	UM, VM, WidthM, HeightM float64
	// Group is the index of the inverter group in [Input.Groups].
	Group int
	// String numbers the series string from 1; 0 is a module that stands alone,
	// as with module-level electronics. Modules of one string share a group.
	String int
}

func (m Module) box() box { return box{m.UM, m.VM, m.UM + m.WidthM, m.VM + m.HeightM} }

// ObstructionKind is what casts a shadow.
type ObstructionKind string

// The kinds of obstruction.
const (
	// Prism is a vertical solid: chimney, dormer cheek, neighbouring building.
	Prism ObstructionKind = "prism"
	// Tree is a crown that passes some light.
	Tree ObstructionKind = "tree"
	// RoofPart is the solid under another roof plane, down to BaseM.
	RoofPart ObstructionKind = "roof"
)

// Crown is the shape of a tree's crown.
type Crown string

// The crowns: an ellipsoid, or an upright cylinder. Both stand from BaseM to
// TopM; the trunk below casts no shadow.
const (
	RoundCrown  Crown = "round"
	ColumnCrown Crown = "column"
)

// Obstruction is one thing that casts shadows on the roof.
type Obstruction struct {
	ID   string
	Kind ObstructionKind
	// Footprint is the outline in plan of a Prism or RoofPart, metres, x east
	// and y north: simple, 3 to 500 corners, either direction.
	Footprint [][2]float64
	// BaseM and TopM are heights above the ground datum of the scene. What lies
	// behind a plane casts no shadow on it, so that a chimney may start at 0.
	BaseM, TopM float64
	// TopsM are the heights of a RoofPart's corners, in place of TopM.
	TopsM []float64
	// PlaneID names the plane that a RoofPart is itself; it casts no shadow on
	// that plane.
	PlaneID string
	// CenterX, CenterY and RadiusM are a Tree's crown in plan, radius 0.1 to 50.
	CenterX, CenterY, RadiusM float64
	Crown                     Crown
	// LeafOnPass and LeafOffPass are the share of light that a Tree's crown
	// passes, 0 to 1.
	LeafOnPass, LeafOffPass float64
}

// Usual shares of light passed by a broad-leaved crown (common practice, no
// source; single trees vary from 0.1 to 0.3 with leaves and 0.4 to 0.8
// without). An evergreen keeps the value with leaves all year.
const (
	DefaultLeafOnPass  = 0.2
	DefaultLeafOffPass = 0.6
)

// LeafMonths is the share of each month that broad-leaved trees carry leaves:
// May to October in the north, November to April in the south, half of the
// month before and after, all year between the tropics (common practice, no
// source).
func LeafMonths(latDeg float64) [12]float64 {
	if math.Abs(latDeg) < 23.44 {
		return [12]float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}
	}
	north := [12]float64{0, 0, 0, 0.5, 1, 1, 1, 1, 1, 1, 0.5, 0}
	if latDeg > 0 {
		return north
	}
	var south [12]float64
	for i := range south {
		south[i] = north[(i+6)%12]
	}
	return south
}

// leafOn is the months with leaves in force.
func (s Scene) leafOn(latDeg float64) [12]float64 {
	if s.LeafOn == ([12]float64{}) {
		return LeafMonths(latDeg)
	}
	return s.LeafOn
}

// Check returns the first error of the scene: a *[RangeError] or *[ChoiceError]
// with the field, or an error for an outline that crosses itself.
func (s Scene) Check() error {
	err := checkSpans("Scene.",
		span{"Planes", float64(len(s.Planes)), 0, MaxPlanes},
		span{"Modules", float64(len(s.Modules)), 0, MaxModules},
		span{"Obstructions", float64(len(s.Obstructions)), 0, MaxObstructions})
	if err != nil {
		return err
	}
	for i, share := range s.LeafOn {
		if err := checkRange(fmt.Sprintf("Scene.LeafOn[%d]", i), share, 0, 1); err != nil {
			return err
		}
	}
	if err := s.Horizon.Check(); err != nil {
		return err
	}
	for i, p := range s.Planes {
		if err := p.check(fmt.Sprintf("Planes[%d].", i)); err != nil {
			return err
		}
	}
	for i, m := range s.Modules {
		if err := m.check(fmt.Sprintf("Modules[%d].", i), len(s.Planes)); err != nil {
			return err
		}
	}
	corners := 0
	for i, o := range s.Obstructions {
		if corners += len(o.Footprint); corners > maxAllCorners {
			continue // reported below with the whole number
		}
		if err := o.check(fmt.Sprintf("Obstructions[%d].", i)); err != nil {
			return err
		}
	}
	return checkRange("Obstructions corners in all", float64(corners), 0, maxAllCorners)
}

func (p Plane) check(prefix string) error {
	if _, err := HeatLoss(p.Mounting); err != nil {
		return &ChoiceError{prefix + "Mounting", string(p.Mounting), mountings()}
	}
	return checkSpans(prefix,
		span{"PitchDeg", p.PitchDeg, 0, 90},
		span{"AzimuthDeg", p.AzimuthDeg, 0, math.Nextafter(360, 0)},
		span{"Origin.X", p.Origin.X, -maxSceneM, maxSceneM},
		span{"Origin.Y", p.Origin.Y, -maxSceneM, maxSceneM},
		span{"Origin.Z", p.Origin.Z, -maxSceneM, maxSceneM})
}

func (m Module) check(prefix string, planes int) error {
	return checkSpans(prefix,
		span{"Plane", float64(m.Plane), 0, float64(planes - 1)},
		span{"UM", m.UM, -maxSceneM, maxSceneM},
		span{"VM", m.VM, -maxSceneM, maxSceneM},
		span{"WidthM", m.WidthM, 0.05, 20},
		span{"HeightM", m.HeightM, 0.05, 20},
		span{"String", float64(m.String), 0, MaxModules})
}

func (o Obstruction) check(prefix string) error {
	if err := checkSpans(prefix, span{"BaseM", o.BaseM, -1000, 1000}, span{"TopM", o.TopM, -1000, 1000}); err != nil {
		return err
	}
	if o.Kind == Tree {
		return o.checkTree(prefix)
	}
	if o.Kind != Prism && o.Kind != RoofPart {
		return &ChoiceError{prefix + "Kind", string(o.Kind), []string{string(Prism), string(Tree), string(RoofPart)}}
	}
	if err := checkRange(prefix+"Footprint corners", float64(len(o.Footprint)), 3, MaxCorners); err != nil {
		return err
	}
	for i, c := range o.Footprint {
		at := fmt.Sprintf("%sFootprint[%d]", prefix, i)
		if err := checkSpans(at, span{".x", c[0], -maxSceneM, maxSceneM}, span{".y", c[1], -maxSceneM, maxSceneM}); err != nil {
			return err
		}
	}
	if o.Kind == RoofPart {
		if err := o.checkTops(prefix); err != nil {
			return err
		}
	}
	if convexParts(o.ring()) == nil {
		return fmt.Errorf("%sFootprint: the outline has no area or crosses itself", prefix)
	}
	return nil
}

func (o Obstruction) checkTops(prefix string) error {
	n := float64(len(o.Footprint))
	if err := checkRange(prefix+"TopsM heights", float64(len(o.TopsM)), n, n); err != nil {
		return err
	}
	for i, top := range o.TopsM {
		if err := checkRange(fmt.Sprintf("%sTopsM[%d]", prefix, i), top, -1000, 1000); err != nil {
			return err
		}
	}
	return nil
}

func (o Obstruction) checkTree(prefix string) error {
	if o.Crown != RoundCrown && o.Crown != ColumnCrown {
		return &ChoiceError{prefix + "Crown", string(o.Crown), []string{string(RoundCrown), string(ColumnCrown)}}
	}
	return checkSpans(prefix,
		span{"CenterX", o.CenterX, -maxSceneM, maxSceneM},
		span{"CenterY", o.CenterY, -maxSceneM, maxSceneM},
		span{"RadiusM", o.RadiusM, 0.1, 50},
		span{"LeafOnPass", o.LeafOnPass, 0, 1},
		span{"LeafOffPass", o.LeafOffPass, 0, 1})
}

// ring is the footprint as points of plan.
func (o Obstruction) ring() []pt {
	out := make([]pt, len(o.Footprint))
	for i, c := range o.Footprint {
		out[i] = pt{c[0], c[1]}
	}
	return out
}
