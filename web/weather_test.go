package web

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"reflect"
	"strings"
	"testing"

	"rooftally/energy"
	"rooftally/project"
)

// inventedEPW is an invented year near 40 degrees north in the EPW layout, by
// lines: row i of the hours is element 8 + i.
func inventedEPW(t testing.TB) []string {
	t.Helper()
	y, err := energy.SyntheticYear(
		energy.Site{Name: "Invented Field", LatDeg: 40, LonDeg: -105, UTCOffsetH: -7, ElevationM: 1600},
		energy.MonthlyMeans{
			GHIKWhM2Day: [12]float64{2.4, 3.3, 4.4, 5.6, 6.1, 6.9, 6.7, 6.0, 5.0, 3.8, 2.6, 2.1},
			AirC:        [12]float64{-1, 1, 5, 9, 14, 20, 23, 22, 17, 11, 4, -1},
		})
	if err != nil {
		t.Fatal(err)
	}
	lines := []string{
		"LOCATION,Invented <Field>,-,-,invented,0,40,-105,-7,1600",
		"DESIGN CONDITIONS,0", "TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0", "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
		"COMMENTS 1,invented for a test", "COMMENTS 2,", "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
	}
	for _, h := range y.Hours {
		lines = append(lines, fmt.Sprintf("2001,%d,%d,%d,60,,%.1f,,,,,,,%.1f,%.1f,%.1f,,,,,,%.1f",
			h.Month, h.Day, h.Clock+1, h.AirC, h.GHIWM2, h.DNIWM2, h.DHIWM2, h.WindMS))
	}
	return lines
}

func joined(lines []string) []byte { return []byte(strings.Join(lines, "\n") + "\n") }

// keptFile is the document's part of a file, whose bytes are kept.
func keptFile(t testing.TB, s *server, data []byte) *project.WeatherFile {
	t.Helper()
	file, _, err := project.ReadWeatherFile("invented.epw", data)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.weather.PutWeatherFile(t.Context(), file.Name, data); err != nil {
		t.Fatal(err)
	}
	return &file
}

// formToken is what the page's forms bring back.
func formToken(t testing.TB, doc project.Document) string {
	t.Helper()
	is, err := contentKey(doc.Weather)
	if err != nil {
		t.Fatal(err)
	}
	return is
}

// postParts posts the page's form in parts, with a file unless data is nil.
func postParts(t *testing.T, s *server, path, name string, data []byte, fields map[string]string) *httptest.ResponseRecorder {
	t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for k, v := range fields {
		if err := w.WriteField(k, v); err != nil {
			t.Fatal(err)
		}
	}
	if data != nil {
		part, err := w.CreateFormFile("file", name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := part.Write(data); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequestWithContext(t.Context(), "POST", "http://localhost"+path, &body)
	r.Header.Set("Content-Type", w.FormDataContentType())
	answer := httptest.NewRecorder()
	s.hosts = hostSet(nil)
	s.routes().ServeHTTP(answer, r)
	return answer
}

// values are twelve that make a year at the gable.
func values() *project.MonthlyWeather {
	return &project.MonthlyWeather{
		Label: "Atlas <b>", GHIKWhM2Day: [12]float64{1.9, 2.8, 3.9, 4.9, 5.8, 6.3, 6.2, 5.4, 4.2, 2.9, 1.8, 1.5},
		AirC: [12]float64{-8, -5, 1, 8, 14, 19, 22, 21, 16, 10, 2, -5}, WindMS: 4.25,
	}
}

func TestWeatherPage(t *testing.T) {
	data := joined(inventedEPW(t))
	gable := gableDoc()
	ocean, monthly, kept, gone, feet, hostile := gableDoc(), gableDoc(), gableDoc(), gableDoc(), gableDoc(), gableDoc()
	ocean.Site.LatDeg, ocean.Site.LonDeg = -45, -120
	monthly.Weather.Source, monthly.Weather.Monthly = project.FromMonthly, values()
	feet.Site.Units = "imperial"
	feet.Weather = monthly.Weather
	hostile.Site.Label = `"><script>alert(1)</script>`
	for _, c := range []struct {
		name, query string
		doc         project.Document
		file, keep  bool
		has, lack   []string
	}{
		{"station", "", gable, false, false,
			[]string{"In use: the nearest station", `data-testid="sun-chart"`, "from the house", "°C", "<strong>In use.</strong>", "Begin with the station"},
			[]string{"NaN", "No yield can be reckoned", "Use the nearest station", "Download the file", "style="}},
		{"no station near", "", ocean, false, false,
			[]string{"No yield can be reckoned", `data-testid="station-refused"`, "200 km or 600 m"},
			[]string{"NaN", `data-testid="year"`, "Begin with the station", "Use the nearest station"}},
		{"twelve values", "", monthly, false, false,
			[]string{"In use: your twelve values", "Use the nearest station", `value="4.25"`, `value="Atlas &lt;b&gt;"`, `id="ghi_1" name="ghi_1" value="1.9"`},
			[]string{"NaN", "Atlas <b>", "Use the values kept"}},
		{"feet", "", feet, false, false,
			[]string{"°F", "mph", `id="air_1" name="air_1" value="17.6"`, " mi from the house", " ft "},
			[]string{"NaN", "°C", " km from", "m/s"}},
		{"a file", "", kept, true, true,
			[]string{"In use: a weather file", "invented.epw", "Invented &lt;Field&gt;", "Download the file", "40.00° N, 105.00° W", "Use the nearest station"},
			[]string{"NaN", `data-testid="not-kept"`, "Invented <Field>"}},
		{"a file that is not here", "", gone, true, false,
			[]string{"No yield can be reckoned", `data-testid="not-kept"`, "Import the same file again"},
			[]string{"NaN", "Download the file", `data-testid="year"`}},
		{"the station's values", "?fill=station", gable, false, false, []string{`name="filled" value="station"`, `id="dhi_12"`}, []string{"NaN"}},
		{"no station's values", "?fill=station", ocean, false, false, nil, []string{`name="filled"`, "NaN"}},
		{"done", "?done=station", gable, false, false, []string{"The nearest station is in use."}, nil},
		{"done nothing", "?done=file", gable, false, false, nil, []string{`data-testid="done"`}},
		{"hostile", "", hostile, false, false, []string{"&lt;script&gt;"}, []string{"<script>alert"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, one := pageServer(t, c.doc)
			if c.file {
				other := s
				if !c.keep {
					other, _ = pageServer(t, c.doc)
				}
				one.stored.Doc.Weather.Source, one.stored.Doc.Weather.File = project.FromFile, keptFile(t, other, data)
			}
			w := ask(t, s, "GET", "/projects/p1/weather"+c.query, nil)
			if w.Code != http.StatusOK {
				t.Fatalf("status %d: %s", w.Code, w.Body)
			}
			expectText(t, w.Body.String(), c.has, c.lack)
		})
	}
	s, _ := pageServer(t, gable)
	if w := ask(t, s, "GET", "/projects/gone/weather", nil); w.Code != http.StatusNotFound {
		t.Errorf("no such project: status %d", w.Code)
	}
}

func TestImportAWeatherFile(t *testing.T) {
	data := joined(inventedEPW(t))
	s, one := pageServer(t, gableDoc())
	before := one.stored.Doc
	w := postParts(t, s, "/projects/p1/weather", `C:\files\invented.epw`, data, map[string]string{"was": formToken(t, before), "action": "file"})
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/projects/p1/weather?done=file" {
		t.Fatalf("status %d to %q: %s", w.Code, w.Header().Get("Location"), w.Body)
	}
	after := one.stored.Doc
	f := after.Weather.File
	if after.Weather.Source != project.FromFile || f == nil || f.Name != "invented.epw" || f.Format != "epw" || f.Hours != 8760 || f.LatDeg != 40 {
		t.Fatalf("weather %+v", after.Weather)
	}
	if ps := after.Validate(); len(ps) > 0 {
		t.Error(ps)
	}
	drawing := after
	drawing.Weather = before.Weather
	if !reflect.DeepEqual(drawing, before) {
		t.Error("more than the weather has changed")
	}
	download := ask(t, s, "GET", "/api/weather-files/"+f.Hash, nil)
	if download.Code != http.StatusOK || !bytes.Equal(download.Body.Bytes(), data) {
		t.Errorf("download: status %d, %d bytes of %d", download.Code, download.Body.Len(), len(data))
	}
	expectText(t, ask(t, s, "GET", "/projects/p1/weather?done=file", nil).Body.String(),
		[]string{"invented.epw is in use.", "In use: a weather file"}, []string{"No yield can be reckoned"})
}

// A file that is no good changes nothing and keeps nothing.
func TestAWeatherFileIsRefused(t *testing.T) {
	sound := inventedEPW(t)
	broken := append([]string{}, sound...)
	broken[508] = strings.Replace(broken[508], ",60,,", ",60,,warm", 1)
	for _, c := range []struct {
		name string
		data []byte
		has  []string
	}{
		{"a number", joined(broken), []string{"Nothing was imported", ">509<", ">dry bulb<", "is not a number", "bad.epw"}},
		{"a picture", []byte("\x89PNG\r\n\x1a\n<b>"), []string{"Nothing was imported", "LOCATION (EPW)"}},
		{"nothing in it", []byte{}, []string{"Nothing was imported"}},
		{"no file", nil, []string{"Choose a file first."}},
		{"too large", bytes.Repeat([]byte("x"), maxWeatherBody+1), []string{"at most 8 MiB"}},
		{"a little too large", bytes.Repeat([]byte("x"), energy.MaxWeatherFileBytes+1), []string{"at most"}},
		{"rows", joined(sound[:5000]), []string{"4992 hourly rows"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, one := pageServer(t, gableDoc())
			before := one.stored
			w := postParts(t, s, "/projects/p1/weather", "bad.epw", c.data, map[string]string{"was": formToken(t, before.Doc), "action": "file"})
			if w.Code != http.StatusUnprocessableEntity {
				t.Errorf("status %d", w.Code)
			}
			expectText(t, w.Body.String(), append(c.has, `data-testid="fault"`, "The project is as it was"), []string{"NaN", "<b>."})
			if kept := len(s.weather.(*fakeWeather).data); one.saves != 0 || kept != 0 || !reflect.DeepEqual(one.stored, before) {
				t.Errorf("%d saves, %d files kept", one.saves, kept)
			}
		})
	}
}

// monthlyValues is the form of the twelve values, with some fields changed.
func monthlyValues(t *testing.T, doc project.Document, w *project.MonthlyWeather, change map[string]string) url.Values {
	t.Helper()
	form := url.Values{"was": {formToken(t, doc)}, "action": {"monthly"}, "label": {w.Label}}
	shown := monthlyFormOf(w, weatherUnitsOf(doc.Site))
	for _, row := range shown.Rows {
		for _, f := range []formField{row.GHI, row.DHI, row.Air} {
			form.Set(f.ID, f.Text)
		}
	}
	form.Set("wind", shown.Wind.Text)
	for k, v := range change {
		form.Set(k, v)
	}
	return form
}

func TestPostTwelveValues(t *testing.T) {
	for _, c := range []struct {
		name   string
		change map[string]string
		status int
		has    []string
	}{
		{"sound", nil, http.StatusSeeOther, nil},
		{"a comma", map[string]string{"ghi_1": " 1,95 "}, http.StatusSeeOther, nil},
		{"a minus sign", map[string]string{"air_1": "−8.5"}, http.StatusSeeOther, nil},
		{"empty", map[string]string{"ghi_3": ""}, 422, []string{"Mar: sunlight is empty.", `id="ghi_3" name="ghi_3" value="" aria-label="Mar, sunlight, kWh/m² a day" inputmode="decimal" autocomplete="off" aria-invalid="true"`}},
		{"no number", map[string]string{"air_7": "warm <b>"}, 422, []string{"Jul: temperature is &#34;warm &lt;b&gt;&#34;; type a number."}},
		{"not a number", map[string]string{"ghi_1": "NaN"}, 422, []string{"Jan: sunlight is"}},
		{"hexadecimal", map[string]string{"ghi_1": "0x2"}, 422, []string{"Jan: sunlight is"}},
		{"too sunny", map[string]string{"ghi_6": "15.1"}, 422, []string{"Jun: sunlight is 15.1; it must be 0 to 15 kWh/m²."}},
		{"too cold", map[string]string{"air_1": "-91"}, 422, []string{"Jan: temperature is -91; it must be -90 to 60 °C."}},
		{"windy", map[string]string{"wind": "76"}, 422, []string{"Wind is 76; it must be 0 to 75 m/s."}},
		{"part of the diffuse light", map[string]string{"dhi_1": "0.9", "dhi_3": "1.2"}, 422, []string{"Feb: diffuse is empty; type all twelve"}},
		{"brighter than the sun", map[string]string{"ghi_12": "14"}, 422, []string{"Your values are not saved yet.", `value="14"`}},
		{"a long name", map[string]string{"label": strings.Repeat("x", 121)}, 422, []string{"Your values are not saved yet."}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, one := pageServer(t, gableDoc())
			w := ask(t, s, "POST", "/projects/p1/weather", monthlyValues(t, one.stored.Doc, values(), c.change))
			if w.Code != c.status {
				t.Fatalf("status %d: %s", w.Code, w.Body)
			}
			expectText(t, w.Body.String(), c.has, []string{"NaN<", "<b>"})
			got := one.stored.Doc.Weather
			if c.status != http.StatusSeeOther {
				if one.saves != 0 || got.Monthly != nil {
					t.Errorf("%d saves, %+v", one.saves, got)
				}
				return
			}
			want := values()
			switch c.name {
			case "a comma":
				want.GHIKWhM2Day[0] = 1.95
			case "a minus sign":
				want.AirC[0] = -8.5
			}
			if got.Source != project.FromMonthly || !reflect.DeepEqual(got.Monthly, want) {
				t.Errorf("kept %+v, want %+v", got.Monthly, want)
			}
		})
	}
}

// What is shown in Fahrenheit and miles is kept to the last digit where nobody
// typed over it.
func TestTwelveValuesKeepTheirDigits(t *testing.T) {
	doc := gableDoc()
	doc.Site.Units = "imperial"
	w := values()
	w.AirC[3], w.GHIKWhM2Day[4], w.WindMS = 8.123456, 5.123456, 4.123456
	doc.Weather.Source, doc.Weather.Monthly = project.FromStation, w
	s, one := pageServer(t, doc)
	form := monthlyValues(t, doc, w, map[string]string{"air_1": "14"})
	if answer := ask(t, s, "POST", "/projects/p1/weather", form); answer.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", answer.Code, answer.Body)
	}
	want := *w
	want.AirC[0] = -10
	if got := one.stored.Doc.Weather.Monthly; got == nil || !reflect.DeepEqual(*got, want) {
		t.Errorf("kept %+v, want %+v", got, want)
	}
}

func TestPostSource(t *testing.T) {
	both := gableDoc()
	both.Weather.Source, both.Weather.Monthly = project.FromMonthly, values()
	file := both
	file.Weather.File = &project.WeatherFile{Hash: strings.Repeat("0", 64), Name: "a.epw", Format: "epw", Hours: 8760, Notes: []string{}}
	for _, c := range []struct {
		name   string
		doc    project.Document
		form   url.Values
		status int
		source string
	}{
		{"station", both, url.Values{"action": {"station"}}, http.StatusSeeOther, project.FromStation},
		{"the file", file, url.Values{"action": {"use-file"}}, http.StatusSeeOther, project.FromFile},
		{"the values again", both, url.Values{"action": {"use-monthly"}}, http.StatusSeeOther, project.FromMonthly},
		{"no file", both, url.Values{"action": {"use-file"}}, http.StatusBadRequest, project.FromMonthly},
		{"no values", gableDoc(), url.Values{"action": {"use-monthly"}}, http.StatusBadRequest, project.FromStation},
		{"nothing", both, url.Values{}, http.StatusBadRequest, project.FromMonthly},
		{"something", both, url.Values{"action": {"rain"}}, http.StatusBadRequest, project.FromMonthly},
		{"no parts", both, url.Values{"action": {"file"}}, http.StatusBadRequest, project.FromMonthly},
		{"beside another choice", both, url.Values{"action": {"station"}, "was": {"other"}}, http.StatusConflict, project.FromMonthly},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, one := pageServer(t, c.doc)
			if c.form.Get("was") == "" {
				c.form.Set("was", formToken(t, c.doc))
			}
			w := ask(t, s, "POST", "/projects/p1/weather", c.form)
			if w.Code != c.status || one.stored.Doc.Weather.Source != c.source {
				t.Errorf("status %d, source %q: %s", w.Code, one.stored.Doc.Weather.Source, w.Body)
			}
			if want := c.doc.Weather; !reflect.DeepEqual(one.stored.Doc.Weather.Monthly, want.Monthly) || !reflect.DeepEqual(one.stored.Doc.Weather.File, want.File) {
				t.Error("what is not in use was lost")
			}
		})
	}
}

// A form beside another choice keeps what was typed; a drawing that has moved on
// gets the weather and stays as it is.
func TestWeatherMeetsOtherChanges(t *testing.T) {
	s, one := pageServer(t, gableDoc())
	form := monthlyValues(t, one.stored.Doc, values(), nil)
	form.Set("was", "another")
	w := ask(t, s, "POST", "/projects/p1/weather", form)
	if w.Code != http.StatusConflict {
		t.Errorf("status %d", w.Code)
	}
	expectText(t, w.Body.String(), []string{`data-testid="stale"`, `id="ghi_1" name="ghi_1" value="1.9"`}, nil)

	moved := one.stored
	moved.Version++
	moved.Doc.Site.Label = "Drawn on meanwhile"
	one.meanwhile = &moved
	form.Set("was", formToken(t, one.stored.Doc))
	once := &onceMeanwhile{oneProject: one}
	s.projects = once
	if w := ask(t, s, "POST", "/projects/p1/weather", form); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	if got := one.stored; got.Doc.Site.Label != "Drawn on meanwhile" || got.Doc.Weather.Source != project.FromMonthly || got.Version != moved.Version+1 {
		t.Errorf("version %d of %q, weather %s", got.Version, got.Doc.Site.Label, got.Doc.Weather.Source)
	}
}

// onceMeanwhile lets somebody else save once only.
type onceMeanwhile struct{ *oneProject }

func (p *onceMeanwhile) Save(ctx context.Context, id string, base int, doc project.Document) (int, error) {
	version, err := p.oneProject.Save(ctx, id, base, doc)
	p.meanwhile = nil
	return version, err
}

func TestWeatherFileAPI(t *testing.T) {
	data := joined(inventedEPW(t))
	broken := inventedEPW(t)
	broken[0] = strings.Replace(broken[0], ",40,", ",91,", 1)
	long := inventedEPW(t)
	long[508] = strings.Replace(long[508], ",60,,", ",60,,x", 1)
	post := func(s *server, name string, body []byte) *httptest.ResponseRecorder {
		r := httptest.NewRequestWithContext(t.Context(), "POST", "http://localhost/api/weather-files", bytes.NewReader(body))
		r.Header.Set("X-File-Name", name)
		w := httptest.NewRecorder()
		s.hosts = hostSet(nil)
		s.routes().ServeHTTP(w, r)
		return w
	}
	for _, c := range []struct {
		name, file string
		body       []byte
		status     int
		has        []string
	}{
		{"sound", "my%20%C3%BCber%2Ffield.epw", data, 200, []string{`"format":"epw"`, `"name":"field.epw"`, `"hours":8760`, `"notes":[]`, `"lat_deg":40`}},
		{"no name", "", data, 200, []string{`"name":"weather file"`}},
		{"a bad name", "%zz", data, 400, []string{"X-File-Name"}},
		{"a bad site", "a.epw", joined(broken), 422, []string{`"path":"line 1"`}},
		{"a bad number", "a.epw", joined(long), 422, []string{`"path":"line 509, dry bulb"`, "is not a number"}},
		{"no file", "a.epw", nil, 422, []string{"problems"}},
		{"too large", "a.epw", bytes.Repeat([]byte("x"), energy.MaxWeatherFileBytes+1), 413, []string{"at most 8 MiB"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, one := pageServer(t, gableDoc())
			w := post(s, c.file, c.body)
			if w.Code != c.status {
				t.Errorf("status %d", w.Code)
			}
			expectText(t, w.Body.String(), c.has, nil)
			kept := len(s.weather.(*fakeWeather).data)
			if want := map[bool]int{true: 1}[c.status == 200]; kept != want || one.saves != 0 {
				t.Errorf("%d files kept, %d saves", kept, one.saves)
			}
		})
	}
	s, _ := pageServer(t, gableDoc())
	for _, hash := range []string{"x", strings.Repeat("0", 64), "..%2f"} {
		if w := ask(t, s, "GET", "/api/weather-files/"+hash, nil); w.Code != http.StatusNotFound || !strings.Contains(w.Body.String(), "no such weather file") {
			t.Errorf("%s: status %d, %s", hash, w.Code, w.Body)
		}
	}
	s.weather.(*fakeWeather).fail = errBroken
	if w := post(s, "a.epw", data); w.Code != http.StatusInternalServerError || strings.Contains(w.Body.String(), "secret") {
		t.Errorf("status %d, %s", w.Code, w.Body)
	}
	if w := postParts(t, s, "/projects/p1/weather", "a.epw", data, map[string]string{"was": formToken(t, gableDoc()), "action": "file"}); w.Code != http.StatusInternalServerError {
		t.Errorf("status %d", w.Code)
	}
}

func FuzzTwelveValues(f *testing.F) {
	f.Add("1.9", "", "-8", "4", "Atlas")
	f.Add("NaN", "1e999", "−90", "0x1", "\x00")
	f.Add("1,9", " 0.7 ", "∞", "", strings.Repeat("é", 200))
	f.Fuzz(func(t *testing.T, ghi, dhi, air, wind, label string) {
		form := url.Values{"label": {label}, "wind": {wind}}
		for m := range 12 {
			form.Set(fieldID(ghiField, m), ghi)
			form.Set(fieldID(dhiField, m), dhi)
			form.Set(fieldID(airField, m), air)
		}
		for _, imperial := range []bool{false, true} {
			got, shown := readMonthly(form, nil, weatherUnits{imperial})
			if len(shown.Problems) > 0 {
				continue
			}
			doc := gableDoc()
			doc.Weather.Monthly = &got
			for _, p := range doc.Validate() {
				if p.Path != "weather.monthly.label" {
					t.Errorf("%q was taken: %s", form, p)
				}
			}
		}
		if err := weatherMain(weatherView{Monthly: emptyMonthly()}).Render(t.Context(), io.Discard); err != nil {
			t.Error(err)
		}
	})
}
