package energy

import "fmt"

// HorizonPoint is the height of hills or distant buildings in one direction.
type HorizonPoint struct {
	// AzimuthDeg is the bearing, 0 <= a < 360; ElevationDeg 0 to 90.
	AzimuthDeg, ElevationDeg float64
}

// Horizon is the profile of the far horizon: points in rising bearing, drawn
// straight between neighbours and round through north. No points is a level
// horizon; one point holds all round.
type Horizon []HorizonPoint

// MaxHorizonPoints is the most points a profile may have.
const MaxHorizonPoints = 720

// Check returns an error for too many points, a number out of range, or
// bearings that do not rise.
func (h Horizon) Check() error {
	if len(h) > MaxHorizonPoints {
		return &RangeError{"Horizon points", float64(len(h)), 0, MaxHorizonPoints}
	}
	for i, p := range h {
		low := 0.0
		if i > 0 {
			low = h[i-1].AzimuthDeg
		}
		err := checkSpans(fmt.Sprintf("Horizon[%d].", i),
			span{"AzimuthDeg", p.AzimuthDeg, low, 359.999999},
			span{"ElevationDeg", p.ElevationDeg, 0, 90})
		if err != nil {
			return err
		}
	}
	return nil
}

// At is the elevation of the horizon in a direction, degrees. Where two points
// share a bearing it is the later one's there.
func (h Horizon) At(azimuthDeg float64) float64 {
	if len(h) == 0 {
		return 0
	}
	a := wrap360(azimuthDeg)
	after := 0
	for after < len(h) && h[after].AzimuthDeg <= a {
		after++
	}
	left, right := h[(after+len(h)-1)%len(h)], h[after%len(h)]
	width := wrap360(right.AzimuthDeg - left.AzimuthDeg)
	if width == 0 {
		return left.ElevationDeg
	}
	return left.ElevationDeg + (right.ElevationDeg-left.ElevationDeg)*wrap360(a-left.AzimuthDeg)/width
}

// hides reports whether the far horizon stands before the sun. A level horizon
// never does: what little light the sky model puts around a sun that has just
// set is kept.
func (h Horizon) hides(s Sun) bool {
	at := h.At(s.AzimuthDeg)
	return at > 0 && s.RefractedDeg < at
}
