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
	want, err := project.Evaluate(t.Context(), d)
	if err != nil {
		t.Fatal(err)
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
	whole, err := project.EncodeReport(want, build)
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
		{"schema", `"schema": 2`, `"schema": 99`, "house.json: schema: is 99"},
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
