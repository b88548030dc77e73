//go:build !js

package project

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"strings"

	"rooftally/climate"
	"rooftally/energy"
)

// WeatherOf finds the typical year that a document's yields are reckoned with.
// file is the parsed weather file of [WeatherFile], brought by the caller where
// that is the source and the file is at hand; nil otherwise. Where there is no
// year, YearResult.Why says what is missing. A document that [Document.Validate]
// does not pass gives [Problems].
func WeatherOf(d Document, file *energy.Year) (YearResult, error) {
	if ps := d.Validate(); len(ps) > 0 {
		return YearResult{}, ps
	}
	out := YearResult{Source: d.Weather.Source, Warnings: []string{}}
	var year energy.Year
	var err error
	switch out.Source {
	case FromFile:
		year = out.fromFile(d, file)
	case FromMonthly:
		year, err = out.fromMonthly(d)
	default:
		year, err = out.fromStation(d.Site)
	}
	if err != nil {
		out.Why = fmt.Sprintf("No typical year can be made of the twelve values: %s.", monthlyFault(err))
	}
	if out.Why == "" {
		if out.Sun, err = energy.NewYearOfSun(year); err != nil {
			out.Why = fmt.Sprintf("The weather cannot be used: %v.", err)
		}
	}
	if out.Why != "" {
		out.Sun, out.Key = nil, ""
	}
	return out, nil
}

// NoSite is why nothing can be said of a house that stands nowhere.
const NoSite = "The house has no place yet: latitude and longitude are not given."

// fromStation makes a year of the monthly means of the nearest station. The
// hours are those of the station's own sun.
func (out *YearResult) fromStation(site Site) (energy.Year, error) {
	if site.Unset() {
		out.Why = NoSite
		return energy.Year{}, nil
	}
	match, err := climate.Nearest(site.LatDeg, site.LonDeg, site.ElevationM)
	if err != nil {
		return energy.Year{}, err
	}
	s := match.Station
	out.Station, out.Label = &match, stationLabel(s)
	year, ok := climate.YearOf(s.ID)
	switch {
	case !match.Usable:
		out.Why = fmt.Sprintf("The nearest weather station, %s, is %.0f km away and %s: it is no guide. Import a weather file, or type twelve monthly values.",
			out.Label, match.DistanceKm, heightWords(match.HeightM))
		return energy.Year{}, nil
	case !ok:
		out.Why = fmt.Sprintf("The table has no typical year of %s.", out.Label)
		return energy.Year{}, nil
	}
	out.Warnings = append(out.Warnings, match.Warnings...)
	out.Words = fmt.Sprintf("Typical year of the nearest station, %s, %.0f km away and %s; its hours are made from monthly means.",
		out.Label, match.DistanceKm, heightWords(match.HeightM))
	means := energy.MonthlyMeans{GHIKWhM2Day: year.GHI, DHIKWhM2Day: year.DHI, AirC: year.TempC}
	if year.WindMS != nil {
		means.WindMS = *year.WindMS
	}
	at := energy.Site{Name: s.Name, LatDeg: s.LatDeg, LonDeg: s.LonDeg, UTCOffsetH: year.UTCOffsetH, ElevationM: s.ElevationM}
	out.Key = keyOf(at, means)
	return energy.SyntheticYear(at, means)
}

// fromMonthly makes a year of the values that somebody typed.
func (out *YearResult) fromMonthly(d Document) (energy.Year, error) {
	m := d.Weather.Monthly
	if m == nil {
		out.Why = "No monthly values are typed yet."
		return energy.Year{}, nil
	}
	if d.Site.Unset() {
		out.Why = NoSite
		return energy.Year{}, nil
	}
	out.Label, out.Words = m.Label, "Twelve monthly values, typed"
	if m.Label != "" {
		out.Words += " (" + m.Label + ")"
	}
	out.Words += "; the hours of the year are made from them."
	if m.DHIKWhM2Day == nil {
		out.Warnings = append(out.Warnings, "The diffuse part of the light was not typed; it is reckoned after Erbs.")
	}
	if m.WindMS == 0 {
		out.Warnings = append(out.Warnings, "The wind is not known; 1 m/s is taken.")
	}
	means := energy.MonthlyMeans{GHIKWhM2Day: m.GHIKWhM2Day, AirC: m.AirC, WindMS: m.WindMS}
	if m.DHIKWhM2Day != nil {
		means.DHIKWhM2Day = *m.DHIKWhM2Day
	}
	at := energy.Site{
		Name: d.Site.Label, LatDeg: d.Site.LatDeg, LonDeg: d.Site.LonDeg,
		UTCOffsetH: out.clock(d.Site), ElevationM: d.Site.ElevationM,
	}
	keyed := at
	keyed.Name = ""
	out.Key = keyOf(keyed, means)
	return energy.SyntheticYear(at, means)
}

// offClockH is how far a site's standard time may lie from that of its longitude
// before somebody must have left it untyped. The widest time zones are 3 hours
// off the sun.
const offClockH = 3.5

// clock is the site's standard time, or where that cannot be, the whole hour of
// its longitude: days would else be cut in two at noon.
func (out *YearResult) clock(s Site) float64 {
	sunH := s.LonDeg / 15
	if math.Abs(math.Remainder(s.UTCOffsetH-sunH, 24)) <= offClockH {
		return s.UTCOffsetH
	}
	took := min(14, max(-12, math.Round(sunH)))
	out.Warnings = append(out.Warnings, fmt.Sprintf("Standard time of UTC %+g h does not fit the longitude; UTC %+g h is taken.", s.UTCOffsetH, took))
	return took
}

// fromFile takes an imported file.
func (out *YearResult) fromFile(d Document, file *energy.Year) energy.Year {
	f := d.Weather.File
	switch {
	case f == nil:
		out.Why = "No weather file is imported yet."
		return energy.Year{}
	case file == nil:
		out.Label = f.Label
		out.Why = fmt.Sprintf("The weather file %s is not kept here. Import it again.", f.Name)
		return energy.Year{}
	}
	out.Label, out.Key = f.Label, keyOf(f.Hash)
	place := f.Label
	if place == "" {
		place = "an unnamed place"
	}
	out.Words = fmt.Sprintf("Typical year of %s, from the file %s.", place, f.Name)
	out.Warnings = append(out.Warnings, f.Notes...)
	if !d.Site.Unset() {
		km := climate.DistanceKm(d.Site.LatDeg, d.Site.LonDeg, f.LatDeg, f.LonDeg)
		heightM := f.ElevationM - d.Site.ElevationM
		if km > climate.WarnKm || math.Abs(heightM) > climate.WarnHeightM {
			out.Warnings = append(out.Warnings, fmt.Sprintf("The file's place is %.0f km away and %s.", km, heightWords(heightM)))
		}
	}
	return *file
}

// stationLabel is name, region and country of a station.
func stationLabel(s climate.Station) string {
	parts := []string{s.Name}
	if s.Region != "" {
		parts = append(parts, s.Region)
	}
	return strings.Join(append(parts, s.Country), ", ")
}

// heightWords say how much higher or lower a place is.
func heightWords(m float64) string {
	switch {
	case m >= 0.5:
		return fmt.Sprintf("%.0f m higher", m)
	case m <= -0.5:
		return fmt.Sprintf("%.0f m lower", -m)
	}
	return "as high"
}

// keyOf names values: equal values, equal keys.
func keyOf(values ...any) string {
	h := sha256.New()
	for _, v := range values {
		text, err := marshal(v)
		if err != nil {
			text = fmt.Appendf(nil, "%v", v) // what is no JSON, such as NaN, still has a text
		}
		h.Write(text)
	}
	const bytes = 16
	return hex.EncodeToString(h.Sum(nil)[:bytes])
}
