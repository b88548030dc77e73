package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"

	"rooftally/catalog"
	"rooftally/layout"
	"rooftally/project"
)

// writeDemo writes the demo project after an edit of its text.
func writeDemo(t *testing.T, old, new string) string {
	t.Helper()
	text, err := project.Encode(project.Demo())
	if err != nil {
		t.Fatal(err)
	}
	edited := strings.Replace(string(text), old, new, 1)
	if edited == string(text) && old != new {
		t.Fatalf("the demo has no %q", old)
	}
	name := filepath.Join(t.TempDir(), "house.json")
	if err := os.WriteFile(name, []byte(edited), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// The report shows the numbers that Evaluate and Build give.
func TestReportSameAsEvaluate(t *testing.T) {
	name := writeDemo(t, `"mode": "fill"`, `"mode": "size"`)
	var stdout, stderr bytes.Buffer
	if code := runReport([]string{name}, nil, &stdout, &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, stderr.String())
	}
	var got project.Report
	if err := json.Unmarshal(stdout.Bytes(), &got, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	d := project.Demo()
	d.Target.Mode = "size"
	year, err := project.WeatherOf(d, nil)
	if err != nil {
		t.Fatal(err)
	}
	light, err := project.LightOf(t.Context(), d, year)
	if err != nil {
		t.Fatal(err)
	}
	want, err := project.NewEvaluator().EvaluateLit(t.Context(), d, layout.Deep, &light)
	if err != nil {
		t.Fatal(err)
	}
	if got.SunlightKey == "" || got.SunlightKey != want.SunlightKey {
		t.Errorf("counted with light %q, want %q", got.SunlightKey, want.SunlightKey)
	}
	if len(got.Candidates) != 3 {
		t.Fatalf("%d candidates, want 3", len(got.Candidates))
	}
	for i, w := range want.Candidates {
		g := got.Candidates[i]
		if g.Fill.Count != w.Fill.Count || g.Fill.KWdc != w.Fill.KWdc || g.Size.Need != w.Size.Need {
			t.Errorf("candidate %s: %d modules, %g kWdc, need %d; want %d, %g, %d", w.ID,
				g.Fill.Count, g.Fill.KWdc, g.Size.Need, w.Fill.Count, w.Fill.KWdc, w.Size.Need)
		}
		for j, wp := range w.Fill.ByPlane {
			if g.Fill.ByPlane[j].Count != wp.Count {
				t.Errorf("candidate %s on %s: %d, want %d", w.ID, wp.PlaneID, g.Fill.ByPlane[j].Count, wp.Count)
			}
		}
	}
	build, err := project.Build(t.Context(), d, want, catalog.DemoInverters())
	if err != nil {
		t.Fatal(err)
	}
	if g, w := got.Build.Candidates[1], build.Candidates[1]; g.Wiring.Wires != w.Wiring.Wires || g.Wiring.Wires == 0 ||
		g.Loads.Words != w.Loads.Words || len(g.Bill.Total) != len(w.Bill.Total) || *g.Cost.Total != *w.Cost.Total {
		t.Errorf("build %+v, want %+v", g, w)
	}
	yield, err := project.YieldOf(t.Context(), d, want, build, year)
	if err != nil {
		t.Fatal(err)
	}
	if g, w := got.Yield.Candidates[1], yield.Candidates[1]; g.Total.ACYear != w.Total.ACYear || !(g.Total.ACYear > 1000) || len(g.Modules) != g.Count {
		t.Errorf("yield %+v, want %+v", g.Total, w.Total)
	}
	whole, err := project.EncodeReport(want, build, yield)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(stdout.Bytes(), whole) {
		t.Error("the report differs from the encoded result")
	}
}

func TestReportStdin(t *testing.T) {
	text, err := project.Encode(project.New("Empty"))
	if err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	if code := runReport([]string{"-"}, bytes.NewReader(text), &stdout, &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, stderr.String())
	}
	for _, want := range []string{`"planes": []`, `"keep_outs": []`, `"findings": []`} {
		if !strings.Contains(stdout.String(), want) {
			t.Errorf("no %s in the report", want)
		}
	}
}

func TestReportBadInput(t *testing.T) {
	for _, c := range []struct{ name, old, new, says string }{
		{"form", `"x_m": 6.4`, `"x_m": "6.4"`, "house.json: planes[0].ring[1].x_m: is a string"},
		{"wiring", `"place": "dwelling"`, `"place": "boat"`, `house.json: wiring.place: is "boat"`},
		{"range", `"pitch_deg": 30`, `"pitch_deg": 80`, "house.json: planes[0].pitch_deg: is 80; it must be from 0 to 75"},
		{"schema", `"schema": 3`, `"schema": 99`, "house.json: schema: is 99"},
		{"not JSON", `{`, `<`, "house.json: is not well-formed JSON"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var stdout, stderr bytes.Buffer
			code := runReport([]string{writeDemo(t, c.old, c.new)}, nil, &stdout, &stderr)
			if code != 2 || stdout.Len() != 0 || !strings.Contains(stderr.String(), c.says) {
				t.Fatalf("exit %d, stdout %q, stderr %q; want 2, nothing, %q", code, stdout.String(), stderr.String(), c.says)
			}
		})
	}
}

// The inverters that are compared are those of the file.
func TestReportInverters(t *testing.T) {
	list := filepath.Join(t.TempDir(), "inverters.csv")
	text := catalog.InverterCSV().Export(catalog.DemoInverters()[1:3])
	if err := os.WriteFile(list, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	if code := runReport([]string{"-inverters", list, writeDemo(t, "", "")}, nil, &stdout, &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, stderr.String())
	}
	var got project.Report
	if err := json.Unmarshal(stdout.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if v := got.Build.Candidates[0].Wiring.Inverters; len(v) != 2 || v[0].ID != "demo-inv-5k" || v[1].ID != "demo-inv-7k6" {
		t.Errorf("compared %+v", v)
	}
	if err := os.WriteFile(list, []byte(strings.Replace(text, "max_dc_v", "max_v", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	stdout.Reset()
	code := runReport([]string{"-inverters", list, writeDemo(t, "", "")}, nil, &stdout, &stderr)
	if code != 2 || stdout.Len() != 0 || !strings.Contains(stderr.String(), "inverters.csv: ") || !strings.Contains(stderr.String(), "max_v") {
		t.Errorf("exit %d, stderr %q", code, stderr.String())
	}
}

// A weather file that is brought along is the year that is reckoned with; one that
// is not leaves the yield open and says so.
func TestReportWeather(t *testing.T) {
	weather := keepLines(t, "invented.epw", epwText(inventedYear(t)))
	// One candidate on one plane, so that the deep search is short.
	d := project.Demo()
	d.Candidates, d.Target.Chosen, d.Hand = d.Candidates[:1], "", []project.HandLayout{}
	for i := range d.Planes {
		d.Planes[i].Use = i == 0
	}
	write := func(name string) string {
		t.Helper()
		text, err := project.Encode(d)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	house := write("house.json")
	reported := func(args ...string) project.Report {
		t.Helper()
		var stdout, stderr bytes.Buffer
		if code := runReport(args, nil, &stdout, &stderr); code != 0 {
			t.Fatalf("exit %d: %s", code, stderr.String())
		}
		var got project.Report
		if err := json.Unmarshal(stdout.Bytes(), &got, json.RejectUnknownMembers(true)); err != nil {
			t.Fatal(err)
		}
		return got
	}
	station, file := reported(house), reported("-weather", weather, house)
	if station.Yield.Weather.Source != project.FromStation || file.Yield.Weather.Source != project.FromFile ||
		!strings.Contains(file.Yield.Weather.Words, "Invented Field") {
		t.Errorf("weather %+v and %+v", station.Yield.Weather, file.Yield.Weather)
	}
	if a, b := station.Yield.Candidates[0].Total.ACYear, file.Yield.Candidates[0].Total.ACYear; !(a > 1000) || !(b > 1000) || a == b {
		t.Errorf("yields %g and %g", a, b)
	}
	if station.SunlightKey == file.SunlightKey || file.SunlightKey == "" {
		t.Errorf("light %q and %q", station.SunlightKey, file.SunlightKey)
	}
	d.Weather.Source = project.FromFile
	d.Weather.File = &project.WeatherFile{Hash: strings.Repeat("0", 64), Name: "gone.epw", Format: "epw", Hours: 8760, Notes: []string{}}
	named := write("named.json")
	if got := reported(named); got.Yield.Why == "" || got.SunlightKey != "" || got.Candidates[0].Fill.Count == 0 {
		t.Errorf("why %q, light %q, %d modules", got.Yield.Why, got.SunlightKey, got.Candidates[0].Fill.Count)
	}
	if got := reported("-weather", weather, named); got.Yield.Why != "" {
		t.Errorf("with the file at hand: %s", got.Yield.Why)
	}
	bad := epwText(inventedYear(t))
	bad[99] = "2001,1"
	var stdout, stderr bytes.Buffer
	code := runReport([]string{"-weather", keepLines(t, "bad.epw", bad), house}, nil, &stdout, &stderr)
	if code != 2 || stdout.Len() != 0 || !strings.Contains(stderr.String(), "bad.epw: line 100") {
		t.Errorf("exit %d, %q", code, stderr.String())
	}
}

func TestReportNoFileAndUsage(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		code int
		says string
	}{
		{"no file", []string{filepath.Join(t.TempDir(), "none.json")}, 2, "none.json: cannot be read"},
		{"folder", []string{t.TempDir()}, 2, "cannot be read"},
		{"no argument", nil, 2, "usage:"},
		{"two arguments", []string{"a", "b"}, 2, "usage:"},
		{"unknown flag", []string{"-x", "a"}, 2, "usage:"},
		{"no list of inverters", []string{"-inverters", filepath.Join(t.TempDir(), "none.csv"), "-"}, 2, "none.csv: cannot be read"},
		{"no weather", []string{"-weather", filepath.Join(t.TempDir(), "none.epw"), "-"}, 2, "none.epw: cannot be read"},
		{"help", []string{"-h"}, 0, "usage:"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var stdout, stderr bytes.Buffer
			code := runReport(c.args, nil, &stdout, &stderr)
			if code != c.code || stdout.Len() != 0 || !strings.Contains(stderr.String(), c.says) {
				t.Fatalf("exit %d, stdout %q, stderr %q; want %d, nothing, %q", code, stdout.String(), stderr.String(), c.code, c.says)
			}
		})
	}
}

// brokenPipe fails every write.
type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errors.New("broken pipe") }

func TestReportOutputFails(t *testing.T) {
	var stderr bytes.Buffer
	code := runReport([]string{writeDemo(t, "", "")}, nil, brokenPipe{}, &stderr)
	if code != 1 || !strings.Contains(stderr.String(), "broken pipe") {
		t.Fatalf("exit %d, stderr %q; want 1 and the cause", code, stderr.String())
	}
}
