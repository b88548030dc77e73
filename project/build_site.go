//go:build !js

package project

import (
	"fmt"
	"math"

	"rooftally/climate"
	"rooftally/electrical"
)

// BuildSite is what the site demands of every candidate's wiring.
type BuildSite struct {
	// Family is the site's rule family, "nec" or "iec".
	Family string `json:"family"`
	// Station is the document's copy, nil for none.
	Station *StationCopy `json:"station"`
	// ColdC is the lowest expected air temperature, HotAirC the hot design air
	// temperature and HotCellC the cells' then, C; nil is not known. ColdWords and
	// HotWords say where they are from, or what is missing.
	ColdC     *float64 `json:"cold_c"`
	HotAirC   *float64 `json:"hot_air_c"`
	HotCellC  *float64 `json:"hot_cell_c"`
	ColdWords string   `json:"cold_words"`
	HotWords  string   `json:"hot_words"`
	// Figures are the temperatures for display, Findings what the user has to
	// know of them.
	Figures  []electrical.Figure  `json:"figures"`
	Findings []electrical.Finding `json:"findings"`
}

// buildSite finds the design temperatures of a document.
func buildSite(d Document) BuildSite {
	w := d.Wiring
	out := BuildSite{
		Family: d.Site.RuleFamily, Station: w.Station,
		Figures: []electrical.Figure{}, Findings: []electrical.Finding{},
	}
	var cold, hot *float64
	var coldBasis, hotBasis string
	if s := w.Station; s != nil {
		cold, hot, coldBasis, hotBasis = s.ColdC, s.HotC, s.ColdBasis, s.HotBasis
		out.station(d.Site, *s, w.ColdC != nil && w.HotAirC != nil)
	}
	out.ColdC, out.ColdWords = designTemperature(w.ColdC, cold, coldBasis, w.Station, "lowest expected")
	out.HotAirC, out.HotWords = designTemperature(w.HotAirC, hot, hotBasis, w.Station, "hot design")
	out.figure("cold_air", "Lowest expected air temperature", out.ColdC, w.ColdC != nil, out.ColdWords, w.Station)
	out.figure("hot_air", "Hot design air temperature", out.HotAirC, w.HotAirC != nil, out.HotWords, w.Station)
	if out.HotAirC != nil {
		f := electrical.HotCell(*out.HotAirC, w.cellRiseK())
		if w.CellRiseK != nil {
			f.Source = "rise: typed"
		}
		out.HotCellC = &f.Value
		out.Figures = append(out.Figures, f)
	}
	return out
}

// designTemperature is the typed temperature, else that of the station, and
// where it is from; what names it.
func designTemperature(typed, station *float64, basis string, s *StationCopy, what string) (*float64, string) {
	switch {
	case typed != nil:
		return typed, fmt.Sprintf("%.1f C, typed.", *typed)
	case station != nil:
		return station, basis
	case s != nil:
		return nil, fmt.Sprintf("The nearest weather station, %s, is %.0f km away and differs by %.0f m in height: it is no guide. Type the %s temperature.",
			s.Label, s.DistanceKm, math.Abs(s.HeightM), what)
	}
	return nil, fmt.Sprintf("The %s temperature is not known: no weather station was asked for, and none was typed.", what)
}

// figure adds a temperature that is known.
func (b *BuildSite) figure(key, label string, v *float64, typed bool, words string, s *StationCopy) {
	if v == nil {
		return
	}
	source := "typed"
	if !typed {
		source = s.Source
	}
	b.Figures = append(b.Figures, electrical.Figure{
		Key: key, Label: label, Formula: "as typed, else from the nearest weather station", Numbers: words, Value: *v, Unit: "C", Source: source,
	})
}

// Differences of a site from where it was when its station was found, from which
// a finding says so: the station's distance in the table is rounded by neither.
const (
	movedKm = 0.5
	movedM  = 5
)

// station adds what the user has to know of a station. With both temperatures
// typed it is only shown.
func (b *BuildSite) station(site Site, s StationCopy, typed bool) {
	if typed {
		return
	}
	say := func(code, format string, args ...any) {
		b.Findings = append(b.Findings, electrical.Finding{Level: electrical.Warning, Code: code, Message: fmt.Sprintf(format, args...)})
	}
	for _, w := range s.Warnings {
		say("station", "%s", w)
	}
	km, heightM := climate.DistanceKm(site.LatDeg, site.LonDeg, s.LatDeg, s.LonDeg), s.ElevationM-site.ElevationM
	if math.Abs(km-s.DistanceKm) > movedKm || math.Abs(heightM-s.HeightM) > movedM {
		say("station_moved", "The site has moved since the weather station was found: %s was %.0f km away and is %.0f km, and differed by %.0f m in height and does by %.0f m. Ask for the nearest one again.",
			s.Label, s.DistanceKm, km, s.HeightM, heightM)
	}
}
