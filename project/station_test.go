//go:build !js

package project

import (
	"strings"
	"testing"

	"rooftally/climate"
)

// The demo's station is the one that the table gives for its position, with the
// temperatures that the rule proposes.
func TestDemoStation(t *testing.T) {
	d := Demo()
	m, err := climate.Nearest(d.Site.LatDeg, d.Site.LonDeg, d.Site.ElevationM)
	if err != nil {
		t.Fatal(err)
	}
	want, got, temps := m.Station, d.Wiring.Station, m.Station.Temperatures()
	if got.ID != want.ID || got.LatDeg != want.LatDeg || got.LonDeg != want.LonDeg || got.ElevationM != want.ElevationM {
		t.Errorf("station %+v, want %+v", got, want)
	}
	if !near(got.DistanceKm, m.DistanceKm, 1e-9) || got.HeightM != m.HeightM || got.Usable != m.Usable || len(m.Warnings) != len(got.Warnings) {
		t.Errorf("distance %+v, want %+v", got, m)
	}
	if *got.ColdC != temps.ColdC || *got.HotC != temps.HotC || got.ColdBasis != temps.ColdWords || got.HotBasis != temps.HotWords {
		t.Errorf("temperatures %+v, want %+v", got, temps)
	}
	if got.Source != climate.Source {
		t.Error("the source is not that of the table")
	}
}

// A site that has moved since its station was found is told so; typed
// temperatures make the station a mere note.
func TestStationMoved(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*Document)
		says string // "" for nothing
	}{
		{"as found", func(*Document) {}, ""},
		{"a street on", func(d *Document) { d.Site.LatDeg += 0.001 }, ""},
		{"another town", func(d *Document) { d.Site.LatDeg += 0.1 }, "The site has moved since the weather station was found: Lone Rock, WI, USA was 28 km away and is 23 km, and differed by -101 m in height and does by -101 m."},
		{"up the hill", func(d *Document) { d.Site.ElevationM += 50 }, "does by -151 m"},
		{"typed", func(d *Document) {
			d.Site.LatDeg += 0.1
			d.Wiring.ColdC, d.Wiring.HotAirC = new(-20.0), new(30.0)
		}, ""},
		{"one typed", func(d *Document) { d.Site.LatDeg += 0.1; d.Wiring.ColdC = new(-20.0) }, "has moved"},
		{"warned", func(d *Document) { s := *d.Wiring.Station; s.Warnings = []string{"It is far."}; d.Wiring.Station = &s }, "It is far."},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := Demo()
			c.edit(&d)
			var words []string
			for _, f := range buildSite(d).Findings {
				words = append(words, f.Message)
			}
			text := strings.Join(words, " ")
			if !strings.Contains(text, c.says) || c.says == "" && text != "" {
				t.Errorf("says %q, want %q", text, c.says)
			}
		})
	}
}

// Typed temperatures come before those of the station, each for itself.
func TestDesignTemperatures(t *testing.T) {
	d := Demo()
	d.Wiring.ColdC, d.Wiring.Mounting = new(-12.5), "open_rack"
	s := buildSite(d)
	if *s.ColdC != -12.5 || s.ColdWords != "-12.5 C, typed." || *s.HotAirC != 35 || *s.HotCellC != 65 || s.Figures[0].Source != "typed" {
		t.Errorf("%+v", s)
	}
	d.Wiring.CellRiseK = new(28.0)
	if s := buildSite(d); *s.HotCellC != 63 || s.Figures[2].Source != "rise: typed" {
		t.Errorf("%+v", s)
	}
}
