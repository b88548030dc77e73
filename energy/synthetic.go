package energy

import (
	"fmt"
	"math"
)

// syntheticCalendarYear is the calendar year whose sun a year from monthly
// means gets: mid-way between leap years.
const syntheticCalendarYear = 2026

// SyntheticYear makes an hourly year of 8760 hours from twelve monthly values.
//
//   - Days: each month holds clear, mean and dull days, after the clearness
//     distribution of Liu and Jordan 1960 in the form of Bendt, Collares-Pereira
//     and Rabl 1981; see dayClearness.
//   - Diffuse: each day's share by Erbs 1982, then scaled so that the month has
//     the diffuse given, or that of Erbs's monthly curve where none is given.
//   - Day shape: global after Collares-Pereira and Rabl 1979, its diffuse share
//     by Erbs's hourly curve, at the middle of each hour; see shape.
//   - Dry bulb: a daily course about the month's mean; see airCourse.
//   - Wind: the yearly mean, or 1 m/s where it is not known.
//
// The monthly sums of global and diffuse irradiation are those given. Errors
// are a *[RangeError] for a number out of range or a month that is brighter
// than the sun outside the air or has more diffuse than global.
func SyntheticYear(site Site, m MonthlyMeans) (Year, error) {
	if err := site.Check(); err != nil {
		return Year{}, err
	}
	if err := m.check(); err != nil {
		return Year{}, err
	}
	y := Year{Site: site, Source: FromMonthly, Hours: make([]Hour, HoursInYear)}
	stamps := calendar(HoursInYear)
	for i, s := range stamps {
		y.Hours[i] = Hour{MidUnixS: midUnixS(syntheticCalendarYear, s, site.UTCOffsetH), Month: s.month, Day: s.day, Clock: s.clock}
	}
	var kt [12]float64
	for from := 0; from < HoursInYear; {
		to := from
		for to < HoursInYear && stamps[to].month == stamps[from].month {
			to++
		}
		clearness, err := fillMonth(site, y.Hours[from:to], m)
		if err != nil {
			return Year{}, err
		}
		kt[stamps[from].month-1] = clearness
		from = to
	}
	fillAir(&y, m, kt)
	return y, nil
}

func (m MonthlyMeans) check() error {
	for i := range 12 {
		err := checkSpans("",
			span{fmt.Sprintf("GHIKWhM2Day[%d]", i), m.GHIKWhM2Day[i], 0, 15},
			span{fmt.Sprintf("DHIKWhM2Day[%d]", i), m.DHIKWhM2Day[i], 0, m.GHIKWhM2Day[i]},
			span{fmt.Sprintf("AirC[%d]", i), m.AirC[i], minAirC, maxAirC})
		if err != nil {
			return err
		}
	}
	return checkRange("WindMS", m.WindMS, 0, maxWindMS)
}

// knowsDiffuse reports whether diffuse values are given.
func (m MonthlyMeans) knowsDiffuse() bool {
	for _, d := range m.DHIKWhM2Day {
		if d > 0 {
			return true
		}
	}
	return false
}

// day is one day of a month from means; irradiations in Wh/m2.
type day struct {
	extra, sunsetDeg float64
	global, diffuse  float64
	hours            []Hour
	suns             []Sun
}

// fillMonth sets the irradiance of one month's hours and returns the month's
// mean clearness, 0 for a month without light.
func fillMonth(site Site, hours []Hour, m MonthlyMeans) (float64, error) {
	days := monthDays(site, hours)
	month := hours[0].Month - 1
	var extra float64
	for _, d := range days {
		extra += d.extra
	}
	want := 1000 * m.GHIKWhM2Day[month] * float64(len(days))
	if want == 0 {
		return 0, nil
	}
	// No month anywhere reaches a clearness of 0.9.
	if most := 0.9 * extra; !(want <= most) {
		return 0, &RangeError{Field: fmt.Sprintf("GHIKWhM2Day[%d]", month), Value: m.GHIKWhM2Day[month], Max: most / float64(len(days)) / 1000}
	}
	share := ErbsMonthly(want/extra, days[len(days)/2].sunsetDeg)
	if m.knowsDiffuse() {
		share = m.DHIKWhM2Day[month] / m.GHIKWhM2Day[month]
	}
	spreadDays(days, want, want*share)
	for _, d := range days {
		d.shape()
	}
	return want / extra, nil
}

// monthDays splits a month's hours into days and works out each day's sun.
func monthDays(site Site, hours []Hour) []day {
	days := make([]day, len(hours)/24)
	for i := range days {
		d := &days[i]
		d.hours = hours[24*i : 24*i+24]
		d.suns = make([]Sun, 24)
		for k, h := range d.hours {
			d.suns[k] = SunAt(h.MidUnixS, site.LatDeg, site.LonDeg)
		}
		noon := d.suns[12]
		d.sunsetDeg = SunsetHourAngleDeg(site.LatDeg, noon.DeclinationDeg)
		const joulePerWh = 3600
		d.extra = DailyExtraterrestrialMJM2(site.LatDeg, noon.DeclinationDeg, 1/(noon.DistanceAU*noon.DistanceAU)) * 1e6 / joulePerWh
	}
	return days
}

// spreadDays gives each day its global and diffuse irradiation, so that the
// month's sums are as wanted.
func spreadDays(days []day, global, diffuse float64) {
	var extra float64
	for _, d := range days {
		extra += d.extra
	}
	kts := dayClearness(global/extra, len(days))
	var sum float64
	for i := range days {
		days[i].global = kts[i] * days[i].extra
		sum += days[i].global
	}
	for i := range days {
		d := &days[i]
		d.global *= global / sum
		d.diffuse = d.global * ErbsDaily(d.global/max(d.extra, 1e-9), d.sunsetDeg)
	}
	scaleDiffuse(days, diffuse)
}

// scaleDiffuse scales the days' diffuse so that the sum is as wanted.
func scaleDiffuse(days []day, want float64) {
	diffuse, global := make([]float64, len(days)), make([]float64, len(days))
	for i, d := range days {
		diffuse[i], global[i] = d.diffuse, d.global
	}
	scaleUnder(diffuse, global, want)
	for i := range days {
		days[i].diffuse = diffuse[i]
	}
}

// scaleUnder multiplies parts by one number, each held to its cap, so that their
// sum is as wanted; found by halving. It changes parts.
func scaleUnder(parts, caps []float64, want float64) {
	var sum float64
	for _, p := range parts {
		sum += p
	}
	if sum <= 0 {
		return
	}
	low, high := 0.0, 64*want/sum
	for range 64 {
		mid := (low + high) / 2
		var got float64
		for i, p := range parts {
			got += min(caps[i], mid*p)
		}
		if got < want {
			low = mid
		} else {
			high = mid
		}
	}
	for i, p := range parts {
		parts[i] = min(caps[i], high*p)
	}
}

// shape spreads the day's irradiation over its hours: global by [HourShare],
// diffuse in proportion to global times Erbs's hourly share, so that low sun is
// more diffuse than high sun. Spreading the diffuse by its own day shape instead
// (Liu and Jordan 1960) puts too much beam into low sun: at 45 degrees of pitch
// that errs about twice as much.
func (d *day) shape() {
	var global, diffuse [24]float64
	var sumG float64
	extra := ExtraterrestrialWM2(dayOfYear(d.hours[12].MidUnixS))
	for k, s := range d.suns {
		if s.Toward.Z < sunUpForBeam {
			continue
		}
		global[k] = HourShare(s.HourAngleDeg, d.sunsetDeg)
		diffuse[k] = global[k] * ErbsHourly(d.global*global[k]/(extra*s.Toward.Z))
		sumG += global[k]
	}
	if sumG <= 0 {
		return
	}
	for k := range global {
		global[k] *= d.global / sumG
	}
	scaleUnder(diffuse[:], global[:], d.diffuse)
	for k := range d.hours {
		h := &d.hours[k]
		h.GHIWM2, h.DHIWM2 = global[k], diffuse[k]
		h.DNIWM2 = beamNormal(h.GHIWM2-h.DHIWM2, d.suns[k].Toward.Z, extra)
		h.DHIWM2 = max(0, h.GHIWM2-h.DNIWM2*max(0, d.suns[k].Toward.Z))
	}
}

// HourShare returns the share of a day's global irradiation that falls into the
// hour about an hour angle, for the day's sunset hour angle; 0 outside the day.
// Collares-Pereira and Rabl, Solar Energy 22 (1979) 155-164, as in Duffie and
// Beckman 2.13 (from memory).
func HourShare(hourAngleDeg, sunsetDeg float64) float64 {
	ws := sunsetDeg * degree
	cosW, cosWs := math.Cos(hourAngleDeg*degree), math.Cos(ws)
	below := math.Sin(ws) - ws*cosWs
	if math.Abs(hourAngleDeg) >= sunsetDeg || below <= 0 {
		return 0
	}
	a := 0.409 + 0.5016*math.Sin(ws-60*degree)
	b := 0.6609 - 0.4767*math.Sin(ws-60*degree)
	return max(0, a+b*cosW) * math.Pi / 24 * (cosW - cosWs) / below
}
