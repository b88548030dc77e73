package project

import "testing"

func TestFacesAway(t *testing.T) {
	north, south, tropics := Site{LatDeg: 43, LonDeg: -90}, Site{LatDeg: -34, LonDeg: 151}, Site{LatDeg: 12, LonDeg: 77}
	for _, c := range []struct {
		name    string
		site    Site
		azimuth float64
		pitch   float64
		want    bool
	}{
		{"north in the north", north, 0, 30, true},
		{"nearly north", north, 350, 30, true},
		{"north-east", north, 45, 30, true},
		{"at the limit", north, 67.5, 30, false},
		{"past the limit", north, 67, 30, true},
		{"east", north, 90, 30, false},
		{"west", north, 270, 30, false},
		{"south", north, 180, 30, false},
		{"nearly flat", north, 0, 9, false},
		{"south in the south", south, 180, 30, true},
		{"north in the south", south, 0, 30, false},
		{"between the tropics", tropics, 0, 30, false},
		{"nowhere", Site{}, 0, 30, false},
	} {
		if got := FacesAway(c.site, Plane{AzimuthDeg: c.azimuth, PitchDeg: c.pitch}); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
