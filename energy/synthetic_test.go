package energy

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// stationMeans reads a station's row of the climate table.
func stationMeans(t testing.TB, id string) MonthlyMeans {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(string(sharedFile(t, filepath.Join("climate", "stations.csv"))))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		if row[0] != id {
			continue
		}
		cell := map[string]string{}
		for i, name := range rows[0] {
			cell[name] = row[i]
		}
		var m MonthlyMeans
		for i := range 12 {
			for column, to := range map[string]*float64{"ghi": &m.GHIKWhM2Day[i], "dhi": &m.DHIKWhM2Day[i], "temp": &m.AirC[i]} {
				if *to, err = strconv.ParseFloat(cell[fmt.Sprintf("%s_%02d", column, i+1)], 64); err != nil {
					t.Fatal(err)
				}
			}
		}
		return m
	}
	t.Fatalf("no station %s", id)
	return MonthlyMeans{}
}

// yearOnPlanes is the yearly Perez irradiation, kWh/m2, of each pitch and
// bearing.
func yearOnPlanes(y Year, pitches, bearings []float64) [][]float64 {
	out := make([][]float64, len(pitches))
	planes := make([][]transposer, len(pitches))
	for i, p := range pitches {
		out[i] = make([]float64, len(bearings))
		for _, b := range bearings {
			planes[i] = append(planes[i], newTransposer(Perez, Surface{p, b}))
		}
	}
	sun, err := NewYearOfSun(y)
	if err != nil {
		panic(err)
	}
	for i := range sun.hours {
		l := sun.hours[i].lightOf(DefaultOptions())
		s := skyOf(Perez, l)
		for i := range planes {
			for j := range planes[i] {
				out[i][j] += planes[i][j].put(l, s).Total() / 1000
			}
		}
	}
	return out
}

// TestMonthlyMeansAgainstHours is the promise of docs/energy.md: the yearly
// plane irradiation from twelve monthly values is within 3 % of the hourly
// file's for pitches to 30 degrees and 5 % to 45 degrees, at every bearing, on
// the stations of ../shared/weather. -v prints the table of the docs.
func TestMonthlyMeansAgainstHours(t *testing.T) {
	pitches := []float64{0, 5, 10, 15, 20, 25, 30, 35, 40, 45}
	var bearings []float64
	for b := 0.0; b < 360; b += 15 {
		bearings = append(bearings, b)
	}
	ids := map[string]string{"boston.epw.gz": "725090", "miami.epw.gz": "722020", "minneapolis.epw.gz": "726580", "phoenix.epw.gz": "722780", "seattle.epw.gz": "727930"}
	for _, station := range epwStations() {
		y := sharedYear(t, station)
		given := stationMeans(t, ids[station])
		hourly := yearOnPlanes(y, pitches, bearings)
		withErbs := given
		withErbs.DHIKWhM2Day = [12]float64{}
		for _, c := range []struct {
			name  string
			means MonthlyMeans
		}{{"table's diffuse", given}, {"diffuse by Erbs", withErbs}} {
			made, err := SyntheticYear(y.Site, c.means)
			if err != nil {
				t.Fatal(err)
			}
			got := yearOnPlanes(made, pitches, bearings)
			line := fmt.Sprintf("| %s | %s |", strings.TrimSuffix(station, ".epw.gz"), c.name)
			for i, p := range pitches {
				limit := 0.03
				if p > 30 {
					limit = 0.05
				}
				low, high := math.Inf(1), math.Inf(-1)
				for j, b := range bearings {
					e := got[i][j]/hourly[i][j] - 1
					low, high = min(low, e), max(high, e)
					if math.Abs(e) > limit {
						t.Errorf("%s, %s: pitch %g bearing %g is off by %.2f %%", station, c.name, p, b, 100*e)
					}
				}
				if p == 0 || p == 15 || p == 30 || p == 45 {
					line += fmt.Sprintf(" %+.1f to %+.1f |", 100*low, 100*high)
				}
			}
			t.Log(line)
		}
	}
}

// means is a mild invented climate.
func means() MonthlyMeans {
	m := MonthlyMeans{WindMS: 2}
	for i := range 12 {
		m.GHIKWhM2Day[i] = 3.5 - 2.5*math.Cos(2*math.Pi*(float64(i)+0.3)/12)
		m.DHIKWhM2Day[i] = 0.5 * m.GHIKWhM2Day[i]
		m.AirC[i] = 10 - 9*math.Cos(2*math.Pi*float64(i)/12)
	}
	return m
}

func TestSyntheticYearKeepsTheMonths(t *testing.T) {
	site := Site{LatDeg: 45, LonDeg: 10, UTCOffsetH: 1}
	want := means()
	y, err := SyntheticYear(site, want)
	if err != nil {
		t.Fatal(err)
	}
	if err := y.Check(); err != nil {
		t.Fatal(err)
	}
	got := y.MonthlyMeans()
	for i := range 12 {
		near(t, fmt.Sprintf("global of month %d", i+1), got.GHIKWhM2Day[i], want.GHIKWhM2Day[i], 1e-6)
		near(t, fmt.Sprintf("diffuse of month %d", i+1), got.DHIKWhM2Day[i], want.DHIKWhM2Day[i], 0.005*want.DHIKWhM2Day[i])
		near(t, fmt.Sprintf("dry bulb of month %d", i+1), got.AirC[i], want.AirC[i], 0.05)
	}
	near(t, "wind", got.WindMS, 2, 1e-9)
	again, err := SyntheticYear(site, want)
	if err != nil {
		t.Fatal(err)
	}
	for i := range y.Hours {
		if y.Hours[i] != again.Hours[i] {
			t.Fatalf("hour %d differs on a second run", i)
		}
	}
}

// Erbs, Klein and Beckman 1983: coldest before sunrise, warmest in mid
// afternoon, a swing of 25.8 KT - 5.21 K.
func TestAirCourse(t *testing.T) {
	low, high, sum := 0.0, 0.0, 0.0
	var lowAt, highAt float64
	for hour := 0.5; hour < 24; hour++ {
		v := airCourse(hour)
		sum += v
		if v < low {
			low, lowAt = v, hour
		}
		if v > high {
			high, highAt = v, hour
		}
	}
	near(t, "mean", sum, 0, 1e-9)
	near(t, "swing", high-low, 1, 0.05)
	near(t, "warmest hour", highAt, 15, 1)
	near(t, "coldest hour", lowAt, 5, 1)
}

func TestSyntheticYearRefuses(t *testing.T) {
	site := Site{LatDeg: 45, LonDeg: 10, UTCOffsetH: 1}
	for name, edit := range map[string]func(*MonthlyMeans){
		"GHIKWhM2Day[0]": func(m *MonthlyMeans) { m.GHIKWhM2Day[0] = 9 },
		"GHIKWhM2Day[3]": func(m *MonthlyMeans) { m.GHIKWhM2Day[3] = math.NaN() },
		"DHIKWhM2Day[5]": func(m *MonthlyMeans) { m.DHIKWhM2Day[5] = m.GHIKWhM2Day[5] + 0.1 },
		"AirC[11]":       func(m *MonthlyMeans) { m.AirC[11] = 70 },
		"WindMS":         func(m *MonthlyMeans) { m.WindMS = -1 },
	} {
		m := means()
		edit(&m)
		_, err := SyntheticYear(site, m)
		var r *RangeError
		if !errors.As(err, &r) || r.Field != name {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := SyntheticYear(Site{LatDeg: 100}, means()); err == nil {
		t.Error("latitude 100 passes")
	}
}

func TestSyntheticYearProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site := Site{LatDeg: rapid.Float64Range(-80, 80).Draw(t, "lat"), LonDeg: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		site.UTCOffsetH = math.Round(site.LonDeg / 15)
		var m MonthlyMeans
		for i := range 12 {
			m.GHIKWhM2Day[i] = rapid.Float64Range(0, 9).Draw(t, "global")
			m.DHIKWhM2Day[i] = m.GHIKWhM2Day[i] * rapid.Float64Range(0, 1).Draw(t, "share")
			m.AirC[i] = rapid.Float64Range(-40, 40).Draw(t, "air")
		}
		y, err := SyntheticYear(site, m)
		if err != nil {
			return
		}
		if err := y.Check(); err != nil {
			t.Fatal(err)
		}
	})
}

// Bendt, Collares-Pereira and Rabl 1981: the mean of the days is the month's,
// and no day leaves the range of the distribution.
func TestDayClearness(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kt, n := rapid.Float64Range(0.1, 0.75).Draw(t, "kt"), rapid.IntRange(28, 31).Draw(t, "days")
		var sum float64
		days := dayClearness(kt, n)
		for _, k := range days {
			sum += k
			if k < 0.009 || k > 0.9 {
				t.Fatalf("a day of %g", k)
			}
		}
		if math.Abs(sum/float64(n)-kt) > 0.002 {
			t.Fatalf("mean %g, want %g", sum/float64(n), kt)
		}
	})
}
