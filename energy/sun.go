package energy

import "math"

// Sun is the sun's place for one instant and site.
type Sun struct {
	// ElevationDeg is the height over the horizon of the sun's centre, seen
	// from the ground, without refraction: -90 to 90.
	ElevationDeg float64
	// RefractedDeg is ElevationDeg raised by the air's refraction at 1010 mbar
	// and 10 C; see [RefractionDeg].
	RefractedDeg float64
	// AzimuthDeg is the bearing: 0 north, clockwise, 0 <= a < 360.
	AzimuthDeg float64
	// DeclinationDeg is the apparent declination.
	DeclinationDeg float64
	// HourAngleDeg is 0 at transit, positive afterwards: -180 to 180.
	HourAngleDeg float64
	// EquationOfTimeMin is apparent less mean solar time, minutes.
	EquationOfTimeMin float64
	// DistanceAU is the distance from the earth in astronomical units.
	DistanceAU float64
	// Toward is the unit vector to the sun as it is seen (refracted).
	Toward Vec3
}

// deltaTS is terrestrial less universal time, seconds: 69 s holds within 6 s
// for 1990 to 2030 and moves the sun less than 0.0001 degrees.
const deltaTS = 69

// ecliptic is the sun seen from the earth's centre.
type ecliptic struct {
	rightAscensionDeg, declinationDeg float64
	distanceAU                        float64
	meanLongitudeDeg                  float64
	// nutation in right ascension (the equation of the equinoxes), degrees.
	equinoxesDeg float64
}

// sunFromEarth is the sun's apparent place by the low-accuracy series of J.
// Meeus, Astronomical Algorithms, 2nd ed. 1998, chapter 25 (about 0.01
// degrees; coefficients from memory, checked against Reda and Andreas 2004).
func sunFromEarth(julianDay float64) ecliptic {
	t := (julianDay + deltaTS/86400.0 - 2451545) / 36525
	meanLong := wrap360(280.46646 + t*(36000.76983+t*0.0003032))
	anomaly := degree * wrap360(357.52911+t*(35999.05029-t*0.0001537))
	ecc := 0.016708634 - t*(0.000042037+t*0.0000001267)
	centre := (1.914602-t*(0.004817+t*0.000014))*math.Sin(anomaly) +
		(0.019993-t*0.000101)*math.Sin(2*anomaly) + 0.000289*math.Sin(3*anomaly)
	node := degree * wrap360(125.04452-1934.136261*t)
	nutation := -0.00478 * math.Sin(node)
	const aberrationDeg = 0.00569
	long := degree * (meanLong + centre - aberrationDeg + nutation)
	tilt := degree * (23.4392911 - t*0.0130042 + 0.00256*math.Cos(node))
	sinLong, cosLong := math.Sincos(long)
	sinTilt, cosTilt := math.Sincos(tilt)
	return ecliptic{
		rightAscensionDeg: wrap360(math.Atan2(cosTilt*sinLong, cosLong) / degree),
		declinationDeg:    math.Asin(sinTilt*sinLong) / degree,
		distanceAU:        1.000001018 * (1 - ecc*ecc) / (1 + ecc*math.Cos(anomaly+degree*centre)),
		meanLongitudeDeg:  meanLong,
		equinoxesDeg:      nutation * cosTilt,
	}
}

// SunAt returns the sun's place at an instant, given in seconds since 1970-01-01
// UTC, for a geographic latitude (-90 to 90, north positive) and longitude
// (-180 to 180, east positive) in degrees. It is good to 0.01 degrees for 1950
// to 2050. At a pole the bearing is that of the meridian of lonDeg.
//
// Place by Meeus 1998 (see sunFromEarth), sidereal time by the IAU 1982
// expression there, parallax 8.794" cos(elevation) / distance.
func SunAt(unixS, latDeg, lonDeg float64) Sun {
	julianDay := unixS/86400 + 2440587.5
	e := sunFromEarth(julianDay)
	d := julianDay - 2451545
	t := d / 36525
	sidereal := 280.46061837 + 360.98564736629*d + 0.000387933*t*t + e.equinoxesDeg
	hour := wrap180(sidereal + lonDeg - e.rightAscensionDeg)
	sinLat, cosLat := math.Sincos(latDeg * degree)
	sinDec, cosDec := math.Sincos(e.declinationDeg * degree)
	sinHour, cosHour := math.Sincos(hour * degree)
	up := sinLat*sinDec + cosLat*cosDec*cosHour
	east := -cosDec * sinHour
	north := cosLat*sinDec - sinLat*cosDec*cosHour
	elevation := math.Atan2(up, math.Hypot(east, north)) / degree
	elevation -= 8.794 / 3600 / e.distanceAU * math.Cos(elevation*degree)
	azimuth := wrap360(math.Atan2(east, north) / degree)
	refracted := elevation + RefractionDeg(elevation, 1010, 10)
	return Sun{
		ElevationDeg:      elevation,
		RefractedDeg:      refracted,
		AzimuthDeg:        azimuth,
		DeclinationDeg:    e.declinationDeg,
		HourAngleDeg:      hour,
		EquationOfTimeMin: 4 * wrap180(e.meanLongitudeDeg-0.0057183-e.rightAscensionDeg+e.equinoxesDeg),
		DistanceAU:        e.distanceAU,
		Toward:            direction(refracted, azimuth),
	}
}

// sunsetElevationDeg is the elevation of the sun's centre, without refraction,
// when its upper edge touches the horizon: radius 0.2667 plus refraction
// 0.5667 (Reda and Andreas 2004).
const sunsetElevationDeg = -0.8333

// RefractionDeg is how much the air lifts a body at an elevation (degrees,
// without refraction), for a pressure in mbar and a temperature in C. Below
// -0.8333 degrees, where the sun is wholly set, it is 0.
//
// Reda and Andreas, Solar Energy 76 (2004) 577-589, equation 42.
func RefractionDeg(elevationDeg, pressureMbar, airC float64) float64 {
	if elevationDeg < sunsetElevationDeg {
		return 0
	}
	bent := degree * (elevationDeg + 10.3/(elevationDeg+5.11))
	return pressureMbar / 1010 * 283 / (273 + airC) * 1.02 / (60 * math.Tan(bent))
}

// wrap360 turns an angle in degrees into 0 <= a < 360.
func wrap360(deg float64) float64 {
	w := math.Mod(deg, 360)
	if w < 0 {
		w += 360
	}
	if w >= 360 { // a tiny negative angle rounds up to 360
		return 0
	}
	return w
}

// wrap180 turns an angle in degrees into -180 < a <= 180.
func wrap180(deg float64) float64 {
	w := wrap360(deg)
	if w > 180 {
		return w - 360
	}
	return w
}
