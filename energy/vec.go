package energy

import "math"

// Vec3 is a point or direction in world metres: x east, y north, z up.
type Vec3 struct{ X, Y, Z float64 }

func (a Vec3) plus(b Vec3) Vec3     { return Vec3{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec3) minus(b Vec3) Vec3    { return Vec3{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec3) times(k float64) Vec3 { return Vec3{a.X * k, a.Y * k, a.Z * k} }
func (a Vec3) dot(b Vec3) float64   { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// direction is the unit vector towards a bearing and elevation.
func direction(elevationDeg, azimuthDeg float64) Vec3 {
	sinE, cosE := math.Sincos(elevationDeg * degree)
	sinA, cosA := math.Sincos(azimuthDeg * degree)
	return Vec3{cosE * sinA, cosE * cosA, sinE}
}

// degree is one degree in radians.
const degree = math.Pi / 180
