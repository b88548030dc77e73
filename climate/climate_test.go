package climate

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// stations reads the whole table.
func stations(t *testing.T) []Station {
	t.Helper()
	var all []Station
	if err := eachStation(func(s Station) { all = append(all, s) }); err != nil {
		t.Fatal(err)
	}
	return all
}

// station is the one of this ID.
func station(t *testing.T, id string) Station {
	t.Helper()
	for _, s := range stations(t) {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no station %s", id)
	return Station{}
}

// Every row reads, its figures are plausible, and its year is there.
func TestTableIsWhole(t *testing.T) {
	all := stations(t)
	if len(all) != 1092 {
		t.Fatalf("%d stations, want 1092", len(all))
	}
	ids, noCold, noHot := map[string]bool{}, 0, 0
	for _, s := range all {
		if len(s.ID) != 6 || ids[s.ID] || s.Name == "" || len(s.Country) != 3 {
			t.Errorf("%+v: ID, name or country", s)
		}
		ids[s.ID] = true
		if math.Abs(s.LatDeg) > 72 || math.Abs(s.LonDeg) > 180 || s.ElevationM < -450 || s.ElevationM > 3100 {
			t.Errorf("%s: place %g %g %g", s.ID, s.LatDeg, s.LonDeg, s.ElevationM)
		}
		d := s.Temperatures()
		// Le Mars, Iowa, has one reading of 53.3 C, which can hardly be right
		// and errs on the safe side.
		if d.ColdC < -60 || d.HotC > 50 && s.ID != "725484" || d.ColdC >= d.HotC {
			t.Errorf("%s: %+v", s.ID, d)
		}
		if s.ExtremeMinC == nil {
			noCold++
		}
		if s.DesignMaxC == nil {
			noHot++
		}
		checkYear(t, s.ID)
	}
	if noCold != 241 || noHot != 206 {
		t.Errorf("%d without an extreme, %d without a design temperature; want 241 and 206", noCold, noHot)
	}
}

func checkYear(t *testing.T, id string) {
	t.Helper()
	y, ok := YearOf(id)
	if !ok {
		t.Errorf("%s has no year", id)
	}
	for m := range 12 {
		if !(y.GHI[m] > 0.1 && y.GHI[m] < 10 && y.DHI[m] > 0.05 && y.DHI[m] < y.GHI[m]*1.01 && math.Abs(y.TempC[m]) < 45) {
			t.Errorf("%s month %d: %g %g %g", id, m+1, y.GHI[m], y.DHI[m], y.TempC[m])
		}
	}
}

func TestYearOf(t *testing.T) {
	y, ok := YearOf("785830") // Belize, the first row
	if !ok || y.Set != "SWERA" || y.UTCOffsetH != -6 || y.GHI[0] != 3.785 || y.GHI[11] != 3.738 ||
		y.DHI[0] != 1.927 || y.TempC[11] != 23.7 || y.WindMS == nil || *y.WindMS != 2.7 {
		t.Errorf("%+v, %v", y, ok)
	}
	if _, ok := YearOf("000000"); ok {
		t.Error("an unknown station has a year")
	}
}

// One degree of latitude is 2 pi R / 360 = 111.195 km; half the Earth is pi R.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		name                   string
		lat1, lon1, lat2, lon2 float64
		km, tolerance          float64
	}{
		{"none", 40, -105, 40, -105, 0, 0},
		{"a degree north", 40, 10, 41, 10, 111.195, 0.001},
		{"a degree along the equator", 0, 10, 0, 11, 111.195, 0.001},
		{"over the date line", 0, 179.5, 0, -179.5, 111.195, 0.001},
		{"a degree east at 60 north", 60, 0, 60, 1, 55.597, 0.01},
		{"the far side", 30, 20, -30, -160, math.Pi * earthRadiusKm, 0.001},
		{"over the pole", 89.5, 0, 89.5, 180, 111.195, 0.001},
	} {
		if got := DistanceKm(c.lat1, c.lon1, c.lat2, c.lon2); math.Abs(got-c.km) > c.tolerance {
			t.Errorf("%s: %g km, want %g", c.name, got, c.km)
		}
	}
}

func TestNearestAtStation(t *testing.T) {
	s := station(t, "785830")
	m, err := Nearest(s.LatDeg, s.LonDeg, s.ElevationM)
	if err != nil || m.Station.ID != s.ID || m.DistanceKm != 0 || m.HeightM != 0 || !m.Usable || len(m.Warnings) != 0 {
		t.Errorf("%+v, %v", m, err)
	}
}

// The limits are inclusive, and each is said in words.
func TestJudge(t *testing.T) {
	for _, c := range []struct {
		name   string
		km, m  float64
		usable bool
		says   []string
	}{
		{"near", 10, 50, true, nil},
		{"at the first limits", 80, -300, true, nil},
		{"far", 80.1, 0, true, []string{"80 km away, past 80 km: check"}},
		{"high", 0, 301, true, []string{"301 m higher, past 300 m: check"}},
		{"low and far", 150, -400, true, []string{"150 km away, past 80", "400 m lower, past 300"}},
		{"at the last limits", 200, 600, true, []string{"200 km", "600 m"}},
		{"too far", 201, 0, false, []string{"201 km away, past 200 km: no temperature is proposed"}},
		{"too high, and far", 100, 601, false, []string{"100 km away, past 80 km: check", "601 m higher, past 600 m: no temperature"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := Match{Station: Station{Name: "Here"}, DistanceKm: c.km, HeightM: c.m}
			m.judge()
			if m.Usable != c.usable || len(m.Warnings) != len(c.says) {
				t.Fatalf("%+v", m)
			}
			for i, says := range c.says {
				if !strings.Contains(m.Warnings[i], says) {
					t.Errorf("%q does not say %q", m.Warnings[i], says)
				}
			}
		})
	}
}

// The middle of the South Atlantic has no station; the site is refused.
func TestNearestFarFromAll(t *testing.T) {
	m, err := Nearest(-30, -20, 0)
	if err != nil || m.Usable || len(m.Warnings) == 0 {
		t.Errorf("%+v, %v", m, err)
	}
}

func TestNearestBadInput(t *testing.T) {
	for _, c := range []struct {
		name        string
		lat, lon, m float64
		field       string
	}{
		{"latitude", 90.1, 0, 0, "lat_deg"},
		{"longitude", 0, -180.1, 0, "lon_deg"},
		{"elevation", 0, 0, 9001, "elevation_m"},
		{"not a number", math.NaN(), 0, 0, "lat_deg"},
		{"infinite", 0, 0, math.Inf(-1), "elevation_m"},
	} {
		if _, err := Nearest(c.lat, c.lon, c.m); err == nil || !strings.Contains(err.Error(), c.field+" is ") {
			t.Errorf("%s: error %v", c.name, err)
		}
	}
}

// No other station has a smaller distance + height / 10, by the law of cosines.
func TestNearestProperty(t *testing.T) {
	all := stations(t)
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "lat")
		lon := rapid.Float64Range(-180, 180).Draw(t, "lon")
		elevation := rapid.Float64Range(-500, 4000).Draw(t, "elevation")
		m, err := Nearest(lat, lon, elevation)
		if err != nil {
			t.Fatal(err)
		}
		const rad = math.Pi / 180
		score := func(s Station) float64 {
			c := math.Sin(lat*rad)*math.Sin(s.LatDeg*rad) + math.Cos(lat*rad)*math.Cos(s.LatDeg*rad)*math.Cos((lon-s.LonDeg)*rad)
			return 6371.0088*math.Acos(max(-1, min(1, c))) + math.Abs(s.ElevationM-elevation)/10
		}
		best := score(m.Station)
		for _, s := range all {
			if score(s) < best-0.01 {
				t.Fatalf("%s is nearer than %s", s.ID, m.Station.ID)
			}
		}
	})
}

func TestTemperatures(t *testing.T) {
	for _, c := range []struct {
		name string
		id   string
		want Temperatures
	}{
		{"both known", "785830", Temperatures{14.3, ExtremeMean, 32, Design2Pct, "14.3 C is the mean of each year's lowest", "32.0 C is exceeded in 2 %"}},
		// The typical year runs from -3.5 to 35.8 C: -3.5 less 7 is -10.5.
		{"neither known", "586650", Temperatures{-10.5, FileMinLessMargin, 35.8, FileMax, "-3.5 C, less 7 K", "35.8 C is the highest temperature of the typical year"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := station(t, c.id).Temperatures()
			if got.ColdC != c.want.ColdC || got.HotC != c.want.HotC || got.ColdBasis != c.want.ColdBasis || got.HotBasis != c.want.HotBasis ||
				!strings.Contains(got.ColdWords, c.want.ColdWords) || !strings.Contains(got.HotWords, c.want.HotWords) {
				t.Errorf("%+v", got)
			}
		})
	}
}

func BenchmarkNearest(b *testing.B) {
	for b.Loop() {
		if _, err := Nearest(40, -105, 1600); err != nil {
			b.Fatal(err)
		}
	}
}
