package energy

import (
	"fmt"
	"math"
	"time"
)

// Site is where weather or a roof is.
type Site struct {
	Name string
	// LatDeg -90 to 90 and LonDeg -180 to 180, north and east positive.
	LatDeg, LonDeg float64
	// UTCOffsetH is standard time in hours from UTC, -12 to 14.
	UTCOffsetH float64
	// ElevationM is metres above sea level, -450 to 9000.
	ElevationM float64
}

// Check returns a *[RangeError] for a number out of range.
func (s Site) Check() error {
	return checkSpans("Site.",
		span{"LatDeg", s.LatDeg, -90, 90},
		span{"LonDeg", s.LonDeg, -180, 180},
		span{"UTCOffsetH", s.UTCOffsetH, -12, 14},
		span{"ElevationM", s.ElevationM, -450, 9000})
}

// Hour is the weather of one hour.
type Hour struct {
	// MidUnixS is the middle of the hour, seconds since 1970 UTC.
	MidUnixS float64
	// Month is 1 to 12, Day 1 to 31, and Clock 0 to 23 the hour's start, in
	// the site's standard time.
	Month, Day, Clock int
	// GHIWM2, DNIWM2 and DHIWM2 are the hour's mean global horizontal, direct
	// normal and diffuse horizontal irradiance, 0 to 2000.
	GHIWM2, DNIWM2, DHIWM2 float64
	// AirC is the dry bulb, -90 to 60, and WindMS the wind speed, 0 to 75.
	AirC, WindMS float64
	// Albedo is the ground's reflectance, 0 to 1; 0 where it is not known.
	Albedo float64
}

// Source says where a year comes from.
type Source string

// The sources.
const (
	FromEPW     Source = "epw"
	FromTMY3    Source = "tmy3"
	FromMonthly Source = "monthly"
)

// Year is the hourly weather of a typical year: 8760 hours, or 8784 with a
// 29th of February, from 1 January 0:00 to 31 December 24:00 standard time.
type Year struct {
	Site   Site
	Source Source
	Hours  []Hour
	// Filled lists what the reader had to make up, in a fixed order.
	Filled []Filled
}

// Filled is how often a missing value was replaced, and by what.
type Filled struct {
	// Field is "GHI", "DNI", "DHI", "dry bulb" or "wind".
	Field string
	Hours int
	How   string
}

// The numbers of hours that a year may have.
const (
	HoursInYear     = 8760
	HoursInLeapYear = 8784
)

// Check returns an error for a year that no reader here would make: a wrong
// number of hours, a number out of range (the hour and the field are named), or
// hours out of order.
func (y Year) Check() error {
	if err := y.Site.Check(); err != nil {
		return err
	}
	if n := len(y.Hours); n != HoursInYear && n != HoursInLeapYear {
		return fmt.Errorf("the year has %d hours, not %d or %d", n, HoursInYear, HoursInLeapYear)
	}
	stamps := calendar(len(y.Hours))
	for i, h := range y.Hours {
		if want := stamps[i]; h.Month != want.month || h.Day != want.day || h.Clock != want.clock {
			return fmt.Errorf("hour %d of the year is %d-%d %d:00, not %d-%d %d:00; hours must follow one another from 1 January",
				i, h.Month, h.Day, h.Clock, want.month, want.day, want.clock)
		}
		if h.check("") != nil { // the place is put into words only when needed
			return h.check(fmt.Sprintf("Hours[%d].", i))
		}
	}
	return nil
}

// The ranges of an hour's numbers.
const (
	maxIrradianceWM2 = 2000
	minAirC, maxAirC = -90, 60
	maxWindMS        = 75
)

func (h Hour) check(prefix string) error {
	// Seconds for the years 1900 to 2100.
	return checkSpans(prefix,
		span{"MidUnixS", h.MidUnixS, -2208988800, 4133980800},
		span{"GHIWM2", h.GHIWM2, 0, maxIrradianceWM2},
		span{"DNIWM2", h.DNIWM2, 0, maxIrradianceWM2},
		span{"DHIWM2", h.DHIWM2, 0, maxIrradianceWM2},
		span{"AirC", h.AirC, minAirC, maxAirC},
		span{"WindMS", h.WindMS, 0, maxWindMS},
		span{"Albedo", h.Albedo, 0, 1})
}

// stamp is one hour of the calendar in standard time.
type stamp struct{ month, day, clock int }

// calendar lists the hours of a year of n hours: with a 29th of February when n
// is 8784.
func calendar(n int) []stamp {
	year := 2023
	if n == HoursInLeapYear {
		year = 2024
	}
	out := make([]stamp, n)
	start := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := range out {
		at := start.Add(time.Duration(i) * time.Hour)
		out[i] = stamp{int(at.Month()), at.Day(), at.Hour()}
	}
	return out
}

// midUnixS is the middle of an hour of standard time.
func midUnixS(year int, s stamp, utcOffsetH float64) float64 {
	utc := time.Date(year, time.Month(s.month), s.day, s.clock, 30, 0, 0, time.UTC)
	return float64(utc.Unix()) - 3600*utcOffsetH
}

// dayOfYear is the day, 1 to 366, of an instant in UTC.
func dayOfYear(unixS float64) int {
	return time.Unix(int64(math.Floor(unixS)), 0).UTC().YearDay()
}

// MonthlyMeans are twelve monthly values, January first.
type MonthlyMeans struct {
	// GHIKWhM2Day is the mean daily global horizontal irradiation of each
	// month, 0 to 15 kWh/m2/day.
	GHIKWhM2Day [12]float64
	// DHIKWhM2Day is the diffuse part of it; all 0 where it is not known.
	DHIKWhM2Day [12]float64
	// AirC is the mean dry bulb of each month, -90 to 60.
	AirC [12]float64
	// WindMS is the yearly mean wind speed, 0 to 75; 0 where it is not known.
	WindMS float64
}

// MonthlyMeans returns the year's monthly means.
func (y Year) MonthlyMeans() MonthlyMeans {
	var m MonthlyMeans
	var hours [12]float64
	for _, h := range y.Hours {
		i := h.Month - 1
		hours[i]++
		m.GHIKWhM2Day[i] += h.GHIWM2
		m.DHIKWhM2Day[i] += h.DHIWM2
		m.AirC[i] += h.AirC
		m.WindMS += h.WindMS / float64(len(y.Hours))
	}
	for i, n := range hours {
		if n == 0 {
			continue
		}
		m.GHIKWhM2Day[i] *= 24 / n / 1000
		m.DHIKWhM2Day[i] *= 24 / n / 1000
		m.AirC[i] /= n
	}
	return m
}
