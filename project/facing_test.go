//go:build !js

package project

import (
	"testing"

	"rooftally/layout"
)

// The cosines are worked by hand from cos(pitch) sin(elevation) +
// sin(pitch) cos(elevation) cos(azimuth - equator).
func TestNoonSunTenths(t *testing.T) {
	for _, c := range []struct {
		name             string
		latDeg           float64
		pitchDeg, facing float64
		want             int
	}{
		{"square to the sun", 40, 40, 180, 10},
		{"south at 30 deg, cos 10 deg = 0.985", 40, 30, 180, 9},
		{"east at 30 deg, 0.866 x 0.766 = 0.663", 40, 30, 90, 6},
		{"west as east", 40, 30, 270, 6},
		{"north at 30 deg, cos 70 deg = 0.342", 40, 30, 0, 3},
		{"level, 0.766", 40, 0, 123, 7},
		{"south of the equator north is sunny", -40, 40, 0, 10},
		{"turned away from the sun", 60, 60, 0, -5},
	} {
		s := Site{LatDeg: c.latDeg, LonDeg: 1}
		if got := noonSunTenths(s, Plane{PitchDeg: c.pitchDeg, AzimuthDeg: c.facing}); got != c.want {
			t.Errorf("%s: %d tenths, want %d", c.name, got, c.want)
		}
	}
	if got := noonSunTenths(Site{}, Plane{PitchDeg: 40, AzimuthDeg: 180}); got != 0 {
		t.Errorf("unset site: %d tenths, want 0", got)
	}
}

func TestASizeIsMetOnTheSunnySide(t *testing.T) {
	d := Demo()
	d.Rules.Set = "none"
	d.KeepOuts = []KeepOut{}
	for i := range d.Planes {
		d.Planes[i].Use = d.Planes[i].AzimuthDeg == 180 || d.Planes[i].AzimuthDeg == 0
	}
	d.Target = Target{Mode: "size", SizeW: 4 * d.Candidates[0].PmaxW}
	for _, c := range []struct {
		name   string
		latDeg float64
		facing float64
	}{
		{"north of the equator", 40, 180},
		{"south of the equator", -40, 0},
	} {
		d.Site.LatDeg = c.latDeg
		res, err := EvaluateWithin(t.Context(), d, layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		for _, by := range res.Candidates[0].Size.Layout.ByPlane {
			for _, p := range d.Planes {
				if p.ID == by.PlaneID && by.Count > 0 && p.AzimuthDeg != c.facing {
					t.Errorf("%s: %d modules face %g", c.name, by.Count, p.AzimuthDeg)
				}
			}
		}
	}
}

func TestASizeWithoutASiteIsRemarkedOn(t *testing.T) {
	remarks := func(d Document) (n int) {
		res, err := EvaluateWithin(t.Context(), d, layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range res.Findings {
			if f.Path == "site.lat_deg" {
				n++
			}
		}
		return n
	}
	d := Demo()
	d.Target = Target{Mode: "size", SizeW: 1000}
	if n := remarks(d); n != 0 {
		t.Errorf("%d remarks on a site that is given", n)
	}
	d.Site.LatDeg, d.Site.LonDeg = 0, 0
	if n := remarks(d); n != 1 {
		t.Errorf("%d remarks on a site that is not given, want 1", n)
	}
	d.Target.Mode = "fill"
	if n := remarks(d); n != 0 {
		t.Errorf("%d remarks where the roof is filled", n)
	}
}
