//go:build !js

package project

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"testing"

	"rooftally/energy"
)

// epwBytes is an invented year in the EPW layout; change edits its lines.
func epwBytes(t testing.TB, change func(lines []string)) []byte {
	t.Helper()
	y, err := energy.SyntheticYear(energy.Site{LatDeg: 40, LonDeg: -105, UTCOffsetH: -7, ElevationM: 1600}, energy.MonthlyMeans{
		GHIKWhM2Day: [12]float64{2.4, 3.3, 4.4, 5.6, 6.1, 6.9, 6.7, 6.0, 5.0, 3.8, 2.6, 2.1},
		AirC:        [12]float64{-1, 1, 5, 9, 14, 20, 23, 22, 17, 11, 4, -1},
	})
	if err != nil {
		t.Fatal(err)
	}
	lines := []string{
		"LOCATION,Invented Field,-,-,invented,0,40,-105,-7,1600",
		"DESIGN CONDITIONS,0", "TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0", "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
		"COMMENTS 1,", "COMMENTS 2,", "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
	}
	for _, h := range y.Hours {
		lines = append(lines, fmt.Sprintf("2001,%d,%d,%d,60,,%.1f,,,,,,,%.1f,%.1f,%.1f,,,,,,%.1f",
			h.Month, h.Day, h.Clock+1, h.AirC, h.GHIWM2, h.DNIWM2, h.DHIWM2, h.WindMS))
	}
	if change != nil {
		change(lines)
	}
	return []byte(strings.Join(lines, "\n"))
}

func TestReadWeatherFile(t *testing.T) {
	data := epwBytes(t, func(lines []string) {
		lines[0] = strings.Replace(lines[0], "Invented Field", "Field\t"+strings.Repeat("ü", 200), 1)
		// The 20th row loses its dry bulb, the 21st its wind.
		for i, column := range map[int]int{27: 6, 28: 21} {
			cells := strings.Split(lines[i], ",")
			cells[column] = ""
			lines[i] = strings.Join(cells, ",")
		}
	})
	f, year, err := ReadWeatherFile(`C:\weather/inv`+"\n"+`ented.epw`, data)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(data)
	if f.Hash != hex.EncodeToString(sum[:]) || f.Name != "inv ented.epw" || f.Format != "epw" || f.Hours != 8760 || len(year.Hours) != 8760 ||
		f.LatDeg != 40 || f.LonDeg != -105 || f.UTCOffsetH != -7 || f.ElevationM != 1600 {
		t.Errorf("%+v", f)
	}
	if n := len([]rune(f.Label)); n != 120 || !strings.HasPrefix(f.Label, "Field ü") {
		t.Errorf("label of %d characters: %q", n, f.Label)
	}
	want := []string{"dry bulb was missing in 1 hour: drawn straight over the gap.", "wind was missing in 1 hour: drawn straight over the gap."}
	if strings.Join(f.Notes, "|") != strings.Join(want, "|") {
		t.Errorf("notes %q", f.Notes)
	}
}

func TestReadWeatherFileRefuses(t *testing.T) {
	data := epwBytes(t, func(lines []string) { lines[20] = "2001" })
	f, year, err := ReadWeatherFile("a.epw", data)
	fault, is := errors.AsType[*energy.WeatherError](err)
	if !is || fault.Line != 21 || f.Hash != "" || year.Hours != nil {
		t.Errorf("%v, %+v", err, f)
	}
}

// Twelve values that make no year are refused in words.
func TestMonthlyFaultWords(t *testing.T) {
	even := MonthlyWeather{GHIKWhM2Day: [12]float64{2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2}}
	bright, hazy := even, even
	bright.GHIKWhM2Day[11] = 14
	hazy.DHIKWhM2Day = new([12]float64{1, 3})
	for says, m := range map[string]MonthlyWeather{
		"December has 14 kWh/m2 a day; as much as 3.":                                 bright,
		"February has 3 kWh/m2 of diffuse light a day, more than its 2 of all light.": hazy,
	} {
		d := New("House")
		d.Site.LatDeg, d.Site.LonDeg = 40, 5
		d.Weather.Source, d.Weather.Monthly = FromMonthly, &m
		y, err := WeatherOf(d, nil)
		if err != nil || y.Sun != nil || !strings.Contains(y.Why, says) {
			t.Errorf("%q, %v; want %q", y.Why, err, says)
		}
	}
}

// Whatever a file is called, what is kept of it is sound.
func FuzzReadWeatherFile(f *testing.F) {
	plain := epwBytes(f, nil)
	for _, name := range []string{"", "a.epw", `..\..\x`, "\x00\xff", strings.Repeat("é", 300), "a/", " b "} {
		f.Add(name, "Place")
	}
	f.Fuzz(func(t *testing.T, name, place string) {
		data := bytes.Replace(plain, []byte("Invented Field"), []byte(place), 1)
		file, _, err := ReadWeatherFile(name, data)
		if err != nil {
			return
		}
		d := New("House")
		d.Weather.Source, d.Weather.File = FromFile, &file
		if ps := d.Validate(); len(ps) > 0 {
			t.Errorf("name %q, place %q: %v", name, place, ps)
		}
	})
}
