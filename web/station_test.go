package web

import (
	"encoding/json"
	"math"
	"testing"

	"rooftally/climate"
	"rooftally/project"
)

func TestStation(t *testing.T) {
	runTable(t, []request{
		{name: "nearest", method: "GET", path: "/api/station?lat_deg=43.05&lon_deg=-89.9&elevation_m=320", status: 200,
			has: []string{`"usable":true`, `"warnings":[]`, `"cold_c":-`, `"cold_basis":"-`, `"source":"Station table`}},
		{name: "nothing near", method: "GET", path: "/api/station?lat_deg=-40&lon_deg=-120&elevation_m=0", status: 200,
			has: []string{`"usable":false`, `"cold_c":null`, `"cold_basis":""`, `"hot_c":null`, "no temperature is proposed"}},
		{name: "nothing given", method: "GET", path: "/api/station", status: 422,
			has: []string{`{"path":"lat_deg","message":"is missing"}`, `{"path":"lon_deg","message":"is missing"}`, `{"path":"elevation_m","message":"is missing"}`}},
		{name: "no number", method: "GET", path: "/api/station?lat_deg=north&lon_deg=1&elevation_m=1", status: 422,
			has: []string{`"path":"lat_deg"`, `north`}, lacks: []string{"lon_deg", "elevation_m"}},
		{name: "NaN", method: "GET", path: "/api/station?lat_deg=NaN&lon_deg=1&elevation_m=1", status: 422, has: []string{`"path":"lat_deg"`, "-90 to 90"}},
		{name: "two out of range", method: "GET", path: "/api/station?lat_deg=91&lon_deg=1&elevation_m=9001", status: 422,
			has:   []string{`{"path":"lat_deg","message":"is 91; it must be -90 to 90"}`, `{"path":"elevation_m","message":"is 9001; it must be -500 to 9000"}`},
			lacks: []string{"lon_deg"}},
		{name: "missing and out of range", method: "GET", path: "/api/station?lon_deg=181&elevation_m=1", status: 422,
			has: []string{`{"path":"lat_deg","message":"is missing"}`, `{"path":"lon_deg","message":"is 181; it must be -180 to 180"}`}},
		{name: "not that way", method: "POST", path: "/api/station", status: 405},
	})
}

// TestStationIsTheOneOfTheTable compares with package climate.
func TestStationIsTheOneOfTheTable(t *testing.T) {
	var got project.StationCopy
	body := bodyOf(t, fetch(t, newFake(), "GET", "/api/station?lat_deg=43.05&lon_deg=-89.9&elevation_m=320", "", nil))
	if err := json.Unmarshal([]byte(body), &got); err != nil {
		t.Fatal(err)
	}
	want, err := climate.Nearest(43.05, -89.9, 320)
	if err != nil {
		t.Fatal(err)
	}
	temperatures := want.Station.Temperatures()
	if got.ID != want.Station.ID || got.LatDeg != want.Station.LatDeg || got.LonDeg != want.Station.LonDeg || got.ElevationM != want.Station.ElevationM {
		t.Errorf("station is %+v, want %+v", got, want.Station)
	}
	if math.Abs(got.DistanceKm-want.DistanceKm) > 1e-9 || got.HeightM != want.HeightM {
		t.Errorf("%g km, %g m; want %g and %g", got.DistanceKm, got.HeightM, want.DistanceKm, want.HeightM)
	}
	if got.ColdC == nil || *got.ColdC != temperatures.ColdC || got.HotC == nil || *got.HotC != temperatures.HotC {
		t.Errorf("temperatures are %v and %v, want %+v", got.ColdC, got.HotC, temperatures)
	}
}
