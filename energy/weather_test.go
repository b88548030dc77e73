package energy

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
)

// sampleEPW is an invented file: a site on the equator where the sun is up from
// 6 to 18, with simple numbers.
func sampleEPW(rows int) []string {
	lines := []string{
		"LOCATION,Invented Town,-,XXX,invented,000000,0.00,0.00,0.0,12.0",
		"DESIGN CONDITIONS,0", "TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0",
		"HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0", "COMMENTS 1,invented", "COMMENTS 2,", "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
	}
	for _, s := range calendar(rows) {
		var ghi, dni, dhi float64
		if s.clock >= 7 && s.clock < 17 {
			ghi, dni, dhi = 500, 400, 200
		}
		lines = append(lines, fmt.Sprintf("2001,%d,%d,%d,0,?,%d,5,50,101000,0,0,300,%g,%g,%g,0,0,0,0,180,3.0,0,0,16,77777,9,999999999,89,0.1,0,88,0.25,0,1",
			s.month, s.day, s.clock+1, s.clock, ghi, dni, dhi))
	}
	return lines
}

func sampleTMY3() []string {
	lines := []string{`000000,"INVENTED TOWN",XX,0.0,0.000,0.000,12`,
		"Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),Dry-bulb (C),Wspd (m/s),Alb (unitless)"}
	for _, s := range calendar(HoursInYear) {
		lines = append(lines, fmt.Sprintf("%02d/%02d/2001,%02d:00,0,0,0,%d,3.0,0.25", s.month, s.day, s.clock+1, s.clock))
	}
	return lines
}

func joined(lines []string) []byte { return []byte(strings.Join(lines, "\r\n") + "\r\n") }

// with returns a copy of lines with the fields of one row replaced.
func with(lines []string, line int, replace map[int]string) []string {
	out := append([]string{}, lines...)
	fields := strings.Split(out[line-1], ",")
	for i, v := range replace {
		fields[i] = v
	}
	out[line-1] = strings.Join(fields, ",")
	return out
}

func TestParseEPW(t *testing.T) {
	for _, rows := range []int{HoursInYear, HoursInLeapYear} {
		y, err := ParseWeather(joined(sampleEPW(rows)))
		if err != nil {
			t.Fatal(err)
		}
		if len(y.Hours) != rows || y.Source != FromEPW || y.Filled != nil || y.Check() != nil {
			t.Fatalf("%d hours, %s, %v, %v", len(y.Hours), y.Source, y.Filled, y.Check())
		}
		if y.Site != (Site{Name: "Invented Town", ElevationM: 12}) {
			t.Errorf("site %+v", y.Site)
		}
		// Hour 8 of 1 January 2001 ends at 8:00; its middle is 7:30.
		h := y.Hours[7]
		want := Hour{MidUnixS: 978334200, Month: 1, Day: 1, Clock: 7, GHIWM2: 500, DNIWM2: 400, DHIWM2: 200, AirC: 7, WindMS: 3, Albedo: 0.25}
		if h != want {
			t.Errorf("%+v, want %+v", h, want)
		}
	}
}

func TestParseGzipBOMAndTMY3(t *testing.T) {
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	if _, err := w.Write(append([]byte("\ufeff"), joined(sampleTMY3())...)); err != nil {
		t.Fatal(err)
	}
	w.Close()
	y, err := ParseWeather(packed.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if y.Source != FromTMY3 || y.Site.Name != "INVENTED TOWN" || y.Site.ElevationM != 12 || len(y.Hours) != HoursInYear {
		t.Fatalf("%s %+v %d", y.Source, y.Site, len(y.Hours))
	}
	if h := y.Hours[7]; h.MidUnixS != 978334200 || h.AirC != 7 || h.Albedo != 0.25 {
		t.Errorf("%+v", h)
	}
}

func TestMissingValues(t *testing.T) {
	base := sampleEPW(HoursInYear)
	noon := 8 + 13 // the row of 12:00 to 13:00 on 1 January
	night := 8 + 2
	sinE := SunAt(midUnixS(2001, stamp{1, 1, 12}, 0), 0, 0).Toward.Z
	for _, c := range []struct {
		name    string
		line    int
		replace map[int]string
		filled  string
		check   func(Hour) float64
		want    float64
	}{
		{"GHI from the others", noon, map[int]string{13: "9999"}, "[{GHI 1 from the other two}]",
			func(h Hour) float64 { return h.GHIWM2 }, 200 + 400*sinE},
		{"DHI from the others", noon, map[int]string{15: "9999"}, "[{DHI 1 from the other two}]",
			func(h Hour) float64 { return h.DHIWM2 }, 500 - 400*sinE},
		{"DNI from the others", noon, map[int]string{14: ""}, "[{DNI 1 from the other two}]",
			func(h Hour) float64 { return h.DNIWM2 }, 300 / sinE},
		{"GHI alone", noon, map[int]string{14: "9999", 15: "9999"}, "[{DNI 1 by Erbs 1982} {DHI 1 by Erbs 1982}]",
			func(h Hour) float64 { return h.DHIWM2 + h.DNIWM2*sinE }, 500},
		{"dark", night, map[int]string{13: "9999", 14: "9999", 15: "9999"}, "[{GHI 1 0, the sun is down} {DNI 1 0, the sun is down} {DHI 1 0, the sun is down}]",
			func(h Hour) float64 { return h.GHIWM2 + h.DNIWM2 + h.DHIWM2 }, 0},
		{"dry bulb", noon, map[int]string{6: "99.9"}, "[{dry bulb 1 drawn straight over the gap}]",
			func(h Hour) float64 { return h.AirC }, 12},
		{"wind", noon, map[int]string{21: "999"}, "[{wind 1 drawn straight over the gap}]",
			func(h Hour) float64 { return h.WindMS }, 3},
		{"albedo", noon, map[int]string{32: "999"}, "[]", func(h Hour) float64 { return h.Albedo }, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			y, err := ParseWeather(joined(with(base, c.line, c.replace)))
			if err != nil {
				t.Fatal(err)
			}
			if got := fmt.Sprint(y.Filled); got != c.filled {
				t.Errorf("filled %s, want %s", got, c.filled)
			}
			near(t, "value", c.check(y.Hours[c.line-9]), c.want, 1e-9)
			if err := y.Check(); err != nil {
				t.Error(err)
			}
		})
	}
}

func TestBeamNormal(t *testing.T) {
	near(t, "30 degrees up", beamNormal(300, 0.5, 1367), 600, 1e-9)
	near(t, "at most the light outside the air", beamNormal(300, 0.1, 1367), 1367, 0)
	near(t, "sun too low", beamNormal(5, 0.01, 1367), 0, 0)
	near(t, "diffuse over global", beamNormal(-5, 0.5, 1367), 0, 0)
}

func TestGapsAtTheEndsAndNoWind(t *testing.T) {
	all := sampleEPW(HoursInYear)
	for i := 8; i < len(all); i++ {
		all[i] = strings.Replace(all[i], ",180,3.0,", ",180,999,", 1)
	}
	all = with(with(all, 9, map[int]string{6: "99.9"}), len(all), map[int]string{6: "99.9"})
	y, err := ParseWeather(joined(all))
	if err != nil {
		t.Fatal(err)
	}
	if y.Hours[0].AirC != 1 || y.Hours[HoursInYear-1].AirC != 22 || y.Hours[5].WindMS != 1 {
		t.Errorf("%+v %+v", y.Hours[0], y.Hours[HoursInYear-1])
	}
	if got := fmt.Sprint(y.Filled); got != "[{dry bulb 2 drawn straight over the gap} {wind 8760 1 m/s, the file has no wind}]" {
		t.Error(got)
	}
}

func TestWeatherErrorsNameLineAndField(t *testing.T) {
	base := sampleEPW(HoursInYear)
	gap := append([]string{}, base...)
	for i := 100; i < 100+maxGapHours+1; i++ {
		gap = with(gap, i, map[int]string{6: "99.9"})
	}
	tmy := sampleTMY3()
	for _, c := range []struct {
		name  string
		lines []string
		line  int
		field string
		part  string
	}{
		{"empty", nil, 0, "", "neither"},
		{"another file", []string{"a,b", "c,d", "e,f"}, 1, "", "neither"},
		{"short header", append([]string{"LOCATION,x"}, base[1:]...), 1, "", "10 are needed"},
		{"latitude", with(base, 1, map[int]string{6: "north"}), 1, "latitude", "not a number"},
		{"latitude too big", with(base, 1, map[int]string{6: "95"}), 1, "", "-90 to 90"},
		{"two an hour", with(base, 8, map[int]string{2: "2"}), 8, "records per hour", "1 to 1"},
		{"a row short", base[:len(base)-1], 0, "", "8759 hourly rows"},
		{"not a number", with(base, 4000, map[int]string{14: "x"}), 4000, "DNI", `"x" is not a number`},
		{"NaN", with(base, 4000, map[int]string{14: "NaN"}), 4000, "DNI", "not a number"},
		{"too bright", with(base, 4000, map[int]string{13: "2500"}), 4000, "GHI", "2500 is outside 0 to 2000"},
		{"too hot", with(base, 4000, map[int]string{6: "61"}), 4000, "dry bulb", "61 is outside -90 to 60"},
		{"hour twice", with(base, 4000, map[int]string{3: "1"}), 4000, "date", "comes next"},
		{"month 13", with(base, 4000, map[int]string{1: "13"}), 4000, "month", "1 to 12"},
		{"short row", append(append([]string{}, base[:len(base)-1]...), "2001,12,31,24"), len(base), "", "has 4 columns"},
		{"sun up and no light", with(base, 21, map[int]string{13: "9999", 14: "9999"}), 21, "GHI", "missing with the sun up"},
		{"long gap", gap, 100, "dry bulb", "missing for 25 hours"},
		{"no such column", append([]string{tmy[0], strings.Replace(tmy[1], "DNI", "XNI", 1)}, tmy[2:]...), 2, "", `no column "DNI`},
		{"bad time", with(tmy, 50, map[int]string{1: "7"}), 50, "date", "HH:MM"},
		{"half past", with(tmy, 50, map[int]string{1: "07:30"}), 50, "minute", "0 to 0"},
		{"long line", append([]string{"LOCATION," + strings.Repeat("x", maxWeatherLineBytes)}, base[1:]...), 1, "", "bytes long"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ParseWeather(joined(c.lines))
			var w *WeatherError
			if !errors.As(err, &w) {
				t.Fatalf("%v is no WeatherError", err)
			}
			if w.Line != c.line || w.Field != c.field || !strings.Contains(w.Message, c.part) {
				t.Errorf("line %d field %q: %s; want line %d field %q with %q", w.Line, w.Field, w.Message, c.line, c.field, c.part)
			}
		})
	}
}

func TestWeatherSizeLimits(t *testing.T) {
	if _, err := ParseWeather(make([]byte, MaxWeatherFileBytes+1)); err == nil {
		t.Error("a file over the limit passes")
	}
	var bomb bytes.Buffer
	w := gzip.NewWriter(&bomb)
	for range MaxWeatherUnpackedBytes>>20 + 1 {
		if _, err := w.Write(make([]byte, 1<<20)); err != nil {
			t.Fatal(err)
		}
	}
	w.Close()
	if _, err := ParseWeather(bomb.Bytes()); err == nil || !strings.Contains(err.Error(), "unpacks to more") {
		t.Errorf("%v", err)
	}
	if _, err := ParseWeather([]byte{0x1f, 0x8b, 1, 2}); err == nil {
		t.Error("broken gzip passes")
	}
}

// The published EPW files and the TMY3 CSV file.
func TestSharedWeatherFiles(t *testing.T) {
	for _, name := range append(epwStations(), "phoenix_tmy3.csv.gz") {
		y := sharedYear(t, name)
		if err := y.Check(); err != nil || len(y.Hours) != HoursInYear {
			t.Errorf("%s: %d hours, %v", name, len(y.Hours), err)
		}
		if len(y.Filled) > 0 {
			t.Errorf("%s: filled %v in a whole file", name, y.Filled)
		}
		// The file's own closure: GHI against DHI + DNI sin(elevation) over the
		// year shows that the hours' middles are read right.
		var ghi, parts float64
		for _, h := range y.Hours {
			ghi += h.GHIWM2
			parts += h.DHIWM2 + h.DNIWM2*max(0, SunAt(h.MidUnixS, y.Site.LatDeg, y.Site.LonDeg).Toward.Z)
		}
		near(t, name+" closure", parts/ghi, 1, 0.01)
	}
}

// One station in both layouts is one year: the EPW file is a conversion of the
// CSV file, so it differs by rounding alone.
func TestBothLayoutsAgree(t *testing.T) {
	a, b := sharedYear(t, "phoenix.epw.gz"), sharedYear(t, "phoenix_tmy3.csv.gz")
	for i := range a.Hours {
		p, q := a.Hours[i], b.Hours[i]
		p.Albedo, q.Albedo = 0, 0
		if p != q {
			t.Fatalf("hour %d: %+v and %+v", i, p, q)
		}
	}
}

func TestYearCheck(t *testing.T) {
	y, err := ParseWeather(joined(sampleEPW(HoursInYear)))
	if err != nil {
		t.Fatal(err)
	}
	for name, edit := range map[string]func(*Year){
		"short":    func(y *Year) { y.Hours = y.Hours[1:] },
		"NaN":      func(y *Year) { y.Hours[5].GHIWM2 = math.NaN() },
		"order":    func(y *Year) { y.Hours[5], y.Hours[6] = y.Hours[6], y.Hours[5] },
		"latitude": func(y *Year) { y.Site.LatDeg = 91 },
	} {
		bad := y
		bad.Hours = append([]Hour{}, y.Hours...)
		edit(&bad)
		if bad.Check() == nil {
			t.Errorf("%s passes", name)
		}
	}
}

// Whole files are slow to mutate; the seeds are their heads and a few rows.
func FuzzParseWeather(f *testing.F) {
	epw, tmy := joined(sampleEPW(HoursInYear)), joined(sampleTMY3())
	f.Add(epw[:1500])
	f.Add(tmy[:1500])
	f.Add([]byte{0x1f, 0x8b, 8, 0})
	f.Add([]byte("LOCATION,a,b,c,d,e,1,2,3,4\n\n\n\n\n\n\nDATA PERIODS,1,1"))
	f.Fuzz(func(t *testing.T, data []byte) {
		y, err := ParseWeather(data)
		if err == nil {
			err = y.Check()
			if err != nil {
				t.Fatal(err)
			}
			return
		}
		var w *WeatherError
		if !errors.As(err, &w) {
			t.Fatalf("%v is no WeatherError", err)
		}
	})
}

// One row of any text either errs by line or gives numbers in range.
func FuzzWeatherRow(f *testing.F) {
	f.Add(sampleEPW(HoursInYear)[8], true)
	f.Add(sampleTMY3()[2], false)
	f.Add("2001,1,1,1,0,?,99.9,5,50,1,0,0,300,9999,9999,9999,0,0,0,0,180,999", true)
	tmyColumns, err := tmy3Columns(sampleTMY3()[1])
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, row string, epw bool) {
		fields := strings.Split(row, ",")
		columns, read := tmyColumns, tmy3Stamp
		if epw {
			columns, read = epwColumns(), epwStamp
			if len(fields) < 22 {
				return
			}
		}
		at, err := read(9, fields)
		if err != nil {
			return
		}
		b := newYearBuilder(Site{}, FromEPW, HoursInYear, columns)
		if b.add(9, at, fields) != nil || b.fillLight(0) != nil {
			return
		}
		h := b.year.Hours[0]
		for _, v := range []*float64{&h.AirC, &h.WindMS} { // gaps are filled later
			if math.IsNaN(*v) {
				*v = 0
			}
		}
		if err := h.check(""); err != nil {
			t.Fatal(err)
		}
	})
}
