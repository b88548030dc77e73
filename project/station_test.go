package project

import (
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
