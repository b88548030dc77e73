package project

import "math"

// Unset reports whether nobody has said where the house stands: 0, 0 lies in
// open sea.
func (s Site) Unset() bool { return s.LatDeg == 0 && s.LonDeg == 0 }

// noonSunTenths ranks a plane by how squarely it faces the noon sun at an
// equinox, which stands 90 degrees less the latitude high towards the equator:
// the cosine of the sun's incidence on the plane, in whole tenths, so that
// planes nearly alike rank alike. 0 for every plane where the site is unset.
// It orders planes and says nothing of their yield.
//
// Source: spherical geometry, with a declination of 0.
func noonSunTenths(s Site, p Plane) int {
	if s.Unset() {
		return 0
	}
	const deg = math.Pi / 180
	towards := 180.0
	if s.LatDeg < 0 {
		towards = 0
	}
	pitch, elevation := p.PitchDeg*deg, (90-math.Abs(s.LatDeg))*deg
	across := math.Sin(pitch) * math.Cos(elevation) * math.Cos((p.AzimuthDeg-towards)*deg)
	cos := float64(math.Cos(pitch)*math.Sin(elevation)) + float64(across)
	return int(math.Floor(float64(cos*10) + noonSunSlack))
}

// noonSunSlack keeps a cosine that should be a whole number of tenths from
// falling below it by rounding.
const noonSunSlack = 1e-9

// awayDeg is from how far off the equator's side a plane is turned away from the
// sun: past the corner between east or west and the far side, so that those two
// are not. awayPitchDeg is from where its bearing counts (both our choice).
const (
	awayDeg      = 112.5
	awayPitchDeg = 10
)

// tropicDeg is the latitude up to which the noon sun stands on either side of a
// house over the year: the obliquity of the ecliptic.
const tropicDeg = 23.44

// FacesAway reports whether a plane is turned away from the sun: pitched by 10
// degrees or more and facing within 67.5 degrees of the pole. It is false where
// the site is unset or lies between the tropics, where no side is the sun's.
func FacesAway(s Site, p Plane) bool {
	if s.Unset() || math.Abs(s.LatDeg) <= tropicDeg || p.PitchDeg < awayPitchDeg {
		return false
	}
	towards := 180.0
	if s.LatDeg < 0 {
		towards = 0
	}
	off := math.Abs(math.Remainder(p.AzimuthDeg-towards, 360))
	return off > awayDeg
}
