package layout

import "math"

// Frame crosses between the plan frame and one plane's slope frame. It is a
// value and does not change. Its zero value maps everything to the origin; use
// [NewFrame].
//
// With azimuth a the plane falls towards (sin a, cos a) in plan; u runs to the
// right when looking up the slope, along (-cos a, sin a). v is the plan
// distance up the slope divided by cos(pitch). v = 0 at the ring's lowest
// corner, u = 0 at its leftmost.
type Frame struct {
	origin      PlanPt  // local origin, so that sums keep their digits far away
	sinA, cosA  float64 // azimuth
	sinP, cosP  float64 // pitch
	uMin, wMin  float64 // of the ring about the local origin, plan metres
	vMax        float64
	eaveHeightM float64
}

// NewFrame returns the frame of a plane. The corners may run in either
// direction and start anywhere: the frame is the same bit for bit.
//
// It returns a *[RangeError] for a pitch outside 0 to 75 degrees, an azimuth
// outside 0 <= a < 360, or an eave height that is not finite, and a
// *[ShapeError] for a ring that [CheckRing] refuses.
func NewFrame(p Plane) (Frame, error) {
	if err := checkPlaneNumbers(p); err != nil {
		return Frame{}, err
	}
	ring := p.planRing()
	if err := CheckRing(ring); err != nil {
		return Frame{}, err
	}
	return newFrame(p, ring), nil
}

func checkPlaneNumbers(p Plane) error {
	if err := checkRange("PitchDeg", p.PitchDeg, 0, 75); err != nil {
		return err
	}
	if err := checkRange("AzimuthDeg", p.AzimuthDeg, 0, math.Nextafter(360, 0)); err != nil {
		return err
	}
	return checkRange("EaveHeightM", p.EaveHeightM, -coordMaxM, coordMaxM)
}

// newFrame builds the frame of a plane whose numbers are known to be good.
func newFrame(p Plane, ring []PlanPt) Frame {
	f := Frame{eaveHeightM: p.EaveHeightM}
	f.sinA, f.cosA = sincosDeg(p.AzimuthDeg)
	f.sinP, f.cosP = sincosDeg(p.PitchDeg)
	f.origin = ring[0]
	for _, c := range ring {
		// A choice that depends on the points alone, not on where the ring starts.
		if c.XM < f.origin.XM || c.XM == f.origin.XM && c.YM < f.origin.YM {
			f.origin = c
		}
	}
	uMin, wMin, wMax := math.Inf(1), math.Inf(1), math.Inf(-1)
	for _, c := range ring {
		u, w := f.turn(c)
		uMin, wMin, wMax = min(uMin, u), min(wMin, w), max(wMax, w)
	}
	f.uMin, f.wMin = uMin, wMin
	f.vMax = (wMax - wMin) / f.cosP
	return f
}

// turn returns p in metres to the right of and up the slope from the local
// origin, both measured in plan. The conversions round each product on its
// own, so that every processor computes the same bits.
func (f Frame) turn(p PlanPt) (right, up float64) {
	dx, dy := p.XM-f.origin.XM, p.YM-f.origin.YM
	right = float64(f.sinA*dy) - float64(f.cosA*dx)
	up = -float64(f.sinA*dx) - float64(f.cosA*dy)
	return right, up
}

// ToSlope maps a plan point to the slope frame. The point need not lie on the
// plane.
func (f Frame) ToSlope(p PlanPt) SlopePt {
	u, w := f.turn(p)
	return SlopePt{UM: u - f.uMin, VM: (w - f.wMin) / f.cosP}
}

// ToPlan maps a point of the slope frame to plan; it undoes [Frame.ToSlope]
// within 1e-9 m.
func (f Frame) ToPlan(s SlopePt) PlanPt {
	u, w := s.UM+f.uMin, float64(s.VM*f.cosP)+f.wMin
	return PlanPt{
		XM: f.origin.XM + (-float64(f.cosA*u) - float64(f.sinA*w)),
		YM: f.origin.YM + (float64(f.sinA*u) - float64(f.cosA*w)),
	}
}

// HeightM is the height above ground of the plane, carried on without end, at
// a plan point: the eave height plus v sin(pitch). The pitch is used as it is,
// under 2 degrees too.
func (f Frame) HeightM(p PlanPt) float64 {
	return f.eaveHeightM + float64(f.ToSlope(p).VM*f.sinP)
}

// planRing returns the corners' places, in their order.
func (p Plane) planRing() []PlanPt {
	ring := make([]PlanPt, len(p.Ring))
	for i, c := range p.Ring {
		ring[i] = c.At
	}
	return ring
}

// PlanAreaM2 is the area of the plane's outline in plan, square metres. It is
// 0 for fewer than three corners and has no meaning for a ring that crosses
// itself.
func (p Plane) PlanAreaM2() float64 {
	return math.Abs(signedAreaM2(p.planRing()))
}

// SlopeAreaM2 is the true area of the plane, plan area / cos(pitch), square
// metres.
func (p Plane) SlopeAreaM2() float64 {
	_, cosP := sincosDeg(p.PitchDeg)
	return p.PlanAreaM2() / cosP
}

// RidgeHeightM is the height above ground of the plane's highest corner,
// metres. It is the eave height for a plane that [NewFrame] refuses.
func (p Plane) RidgeHeightM() float64 {
	f, err := NewFrame(p)
	if err != nil {
		return p.EaveHeightM
	}
	return f.eaveHeightM + float64(f.vMax*f.sinP)
}

// RiseIn12ToDeg turns a pitch given as rise in 12 into degrees:
// atan(rise / 12).
func RiseIn12ToDeg(rise float64) float64 {
	return math.Atan(rise/12) * (180 / math.Pi)
}

// DegToRiseIn12 turns degrees into rise in 12: 12 tan(deg). It undoes
// [RiseIn12ToDeg] for pitches under 90 degrees.
func DegToRiseIn12(deg float64) float64 {
	s, c := sincosDeg(deg)
	return 12 * s / c
}

// sincosDeg is the sine and cosine of an angle in degrees, exact at multiples
// of 90, so that walls drawn square stay square to the last bit.
func sincosDeg(deg float64) (sin, cos float64) {
	quarter := math.Round(deg / 90)
	sin, cos = math.Sincos((deg - 90*quarter) * (math.Pi / 180))
	switch int64(quarter) & 3 {
	case 1:
		sin, cos = cos, -sin
	case 2:
		sin, cos = -sin, -cos
	case 3:
		sin, cos = -cos, sin
	}
	// Adding 0 turns a negative zero into a positive one.
	return sin + 0, cos + 0
}
