package energy

import (
	"math"
	"time"
)

// DayKind says whether the sun rises and sets.
type DayKind string

// The kinds of day.
const (
	Ordinary   DayKind = "ordinary"
	PolarDay   DayKind = "polar_day"
	PolarNight DayKind = "polar_night"
)

// Day is when the sun rises, passes the meridian and sets, in seconds since
// 1970 UTC. For a polar day or night RiseUnixS and SetUnixS are 12 hours from
// the transit and mean nothing else.
type Day struct {
	Kind                              DayKind
	RiseUnixS, TransitUnixS, SetUnixS float64
}

// SunDay returns the day whose transit falls on a calendar date of the site's
// standard time. Rise and set are when the sun's upper edge touches a level
// horizon, refraction included (elevation of the centre -0.8333 degrees); they
// are found by halving, good to a second of time.
func SunDay(site Site, year int, month time.Month, day int) Day {
	noon := float64(time.Date(year, month, day, 12, 0, 0, 0, time.UTC).Unix()) - 3600*site.UTCOffsetH
	transit := noon
	for range 4 {
		// 240 s of time to a degree; a mean day is 360 degrees within 0.001.
		transit -= 240 * SunAt(transit, site.LatDeg, site.LonDeg).HourAngleDeg
	}
	const half = 43200
	d := Day{Kind: Ordinary, TransitUnixS: transit}
	height := func(unixS float64) float64 {
		return SunAt(unixS, site.LatDeg, site.LonDeg).ElevationDeg - sunsetElevationDeg
	}
	switch {
	case height(transit) <= 0:
		d.Kind = PolarNight
	case height(transit-half) > 0 && height(transit+half) > 0:
		d.Kind = PolarDay
	}
	if d.Kind != Ordinary {
		d.RiseUnixS, d.SetUnixS = transit-half, transit+half
		return d
	}
	d.RiseUnixS = crossing(height, transit-half, transit)
	d.SetUnixS = crossing(height, transit+half, transit)
	return d
}

// crossing halves the stretch from low (where f is negative) to high (where it
// is positive) until 0.1 s is left.
func crossing(f func(float64) float64, low, high float64) float64 {
	for math.Abs(high-low) > 0.1 {
		mid := (low + high) / 2
		if f(mid) > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	return (low + high) / 2
}

// SolarConstantWM2 is the mean irradiance of the sun outside the air, as in
// Duffie and Beckman, Solar Engineering of Thermal Processes, 4th ed. 2013.
const SolarConstantWM2 = 1367

// DistanceFactor is the square of mean over present sun distance on a day of
// the year, 1 to 366: Spencer, Search 2 (1971) 172 (from memory).
func DistanceFactor(dayOfYear int) float64 {
	angle := 2 * math.Pi * float64(dayOfYear-1) / 365
	sin1, cos1 := math.Sincos(angle)
	sin2, cos2 := math.Sincos(2 * angle)
	return 1.000110 + 0.034221*cos1 + 0.001280*sin1 + 0.000719*cos2 + 0.000077*sin2
}

// ExtraterrestrialWM2 is the irradiance outside the air on a surface that
// faces the sun, on a day of the year, 1 to 366.
func ExtraterrestrialWM2(dayOfYear int) float64 {
	return SolarConstantWM2 * DistanceFactor(dayOfYear)
}

// SunsetHourAngleDeg is the hour angle at which the sun's centre meets a level
// horizon without air: acos(-tan lat tan decl); 0 in a polar night and 180 in a
// polar day. Duffie and Beckman 1.6.10.
func SunsetHourAngleDeg(latDeg, declinationDeg float64) float64 {
	c := -math.Tan(latDeg*degree) * math.Tan(declinationDeg*degree)
	return math.Acos(min(1, max(-1, c))) / degree
}

// DailyExtraterrestrialMJM2 is the day's irradiation of a level surface outside
// the air, MJ/m2, for a latitude, a declination and a distance factor. Duffie
// and Beckman 1.10.3.
func DailyExtraterrestrialMJM2(latDeg, declinationDeg, distanceFactor float64) float64 {
	ws := SunsetHourAngleDeg(latDeg, declinationDeg) * degree
	sinLat, cosLat := math.Sincos(latDeg * degree)
	sinDec, cosDec := math.Sincos(declinationDeg * degree)
	const secondsADay = 86400
	return secondsADay / math.Pi * SolarConstantWM2 * distanceFactor *
		(cosLat*cosDec*math.Sin(ws) + ws*sinLat*sinDec) / 1e6
}

// AirMass is the relative optical air mass at an apparent elevation in degrees;
// elevations below 0 count as 0. Kasten and Young, Applied Optics 28 (1989)
// 4735-4738.
func AirMass(elevationDeg float64) float64 {
	e := min(90, max(0, elevationDeg))
	return 1 / (math.Sin(e*degree) + 0.50572*math.Pow(e+6.07995, -1.6364))
}
