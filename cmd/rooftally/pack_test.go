package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rooftally/layout"
)

const planes = "../../layout/testdata/"

// packed runs the command and decodes its lines.
func packed(t *testing.T, stdin string, args ...string) (lines []packLine, stderr string, status int) {
	t.Helper()
	var out, errs bytes.Buffer
	status = runPack(args, strings.NewReader(stdin), &out, &errs)
	for text := range strings.Lines(out.String()) {
		var line packLine
		if err := json.Unmarshal([]byte(text), &line); err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		lines = append(lines, line)
	}
	return lines, errs.String(), status
}

// The command over all planes meets their truth in every exact style, and best
// holds no fewer.
func TestPackCommandMeetsTruth(t *testing.T) {
	files, err := filepath.Glob(planes + "roofs*/*.json")
	if err != nil || len(files) != 237 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, style := range []layout.Style{layout.Rows, layout.Grid, layout.Best} {
		lines, stderr, status := packed(t, "", append([]string{"-style", string(style), "-budget", "drag"}, files...)...)
		if status != 0 || stderr != "" || len(lines) != len(files) {
			t.Fatalf("%s: status %d, %d lines, %s", style, status, len(lines), stderr)
		}
		for i, name := range files {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			var file struct {
				ID    string
				Truth struct{ Rows, Lattice int }
			}
			if err := json.Unmarshal(data, &file); err != nil {
				t.Fatal(err)
			}
			want := max(file.Truth.Rows, file.Truth.Lattice)
			if style == layout.Grid {
				want = file.Truth.Lattice
			}
			got := lines[i]
			if style == layout.Best {
				want = max(want, got.Count)
			}
			if got.ID != file.ID || got.Style != style || got.Count != want || len(got.Modules) != want ||
				got.Bound < want || got.Proved != (got.Bound == want) || got.ElapsedMS < 0 {
				t.Errorf("%s: %s %s, %d of %d modules, bound %d, proved %t", name, got.ID, got.Style, got.Count, want, got.Bound, got.Proved)
			}
		}
	}
}

const smallPlane = `{"id": "small", "units": "m", "module": {"w": 2, "h": 1}, "gap": 0,
 "region": {"outer": [[0, 0], [2, 0], [2, 1], [0, 1]], "holes": []}, "note": "ignored"}`

// The line's exact form, but for the time.
func TestPackCommandLine(t *testing.T) {
	var out, errs bytes.Buffer
	if status := runPack([]string{"-"}, strings.NewReader(smallPlane), &out, &errs); status != 0 || errs.Len() > 0 {
		t.Fatalf("status %d, %s", status, &errs)
	}
	before, after, _ := strings.Cut(out.String(), `"elapsed_ms":`)
	_, modules, _ := strings.Cut(after, ",")
	got := before + modules
	want := `{"id":"small","style":"best","count":1,"bound":1,"proved":true,"modules":[{"x":0,"y":0,"w":2,"h":1}]}` + "\n"
	if got != want {
		t.Errorf("got  %swant %s", got, want)
	}
	out.Reset()
	tiny := strings.Replace(smallPlane, `"w": 2`, `"w": 5`, 1)
	runPack([]string{"-"}, strings.NewReader(tiny), &out, &errs)
	if !strings.Contains(out.String(), `"modules":[]}`) {
		t.Errorf("no modules are written as %s", &out)
	}
}

// A bad file is named with its field, and the others are still done.
func TestPackCommandErrors(t *testing.T) {
	with := func(old, new string) string { return strings.Replace(smallPlane, old, new, 1) }
	for _, c := range []struct{ name, file, want string }{
		{"empty", "", "-: not JSON: unexpected end"},
		{"cut off", smallPlane[:46], "-: module.w: not JSON: unexpected end"},
		{"two objects", smallPlane + smallPlane, "-: not JSON: invalid character '{'"},
		{"list", "[]", "-: [] is not an object"},
		{"null", "null", "-: null is not an object"},
		{"no id", with(`"id"`, `"ID"`), "-: id: missing"},
		{"id is a number", with(`"small"`, `7`), "-: id: 7 is not a text"},
		{"feet", with(`"m"`, `"ft"`), `-: units: "ft" is not "m"`},
		{"no module", with(`"module"`, `"Module"`), "-: module: missing"},
		{"no width", with(`"w"`, `"W"`), "-: module.w: missing"},
		{"width zero", with(`"w": 2`, `"w": 0`), "-: module.w: 0 is outside 0.01 to 10"},
		{"height too large", with(`"h": 1`, `"h": 11`), "-: module.h: 11 is outside 0.01 to 10"},
		{"width text", with(`"w": 2`, `"w": "2"`), `-: module.w: "2" is not a number`},
		{"width NaN", with(`"w": 2`, `"w": NaN`), "-: module.w: not JSON: invalid character 'N'"},
		{"gap Infinity", with(`"gap": 0`, `"gap": Infinity`), "-: gap: not JSON: invalid character 'I'"},
		{"coordinate NaN", with(`[2, 0]`, `[2, NaN]`), "-: region.outer[1][1]: not JSON: invalid character 'N'"},
		{"too deep", strings.Repeat("[", 20000), "-: not JSON: invalid character '[' exceeded max depth"},
		{"width twice", with(`"w": 2`, `"w": 2, "w": 3`), "-: module.w: is there twice"},
		{"width too long for a float", with(`"w": 2`, `"w": 1e999`), "-: module.w: 1e999 is not a number"},
		{"no gap", with(`"gap"`, `"gaps"`), "-: gap: missing"},
		{"gap negative", with(`"gap": 0`, `"gap": -1`), "-: gap: -1 is outside 0 to 1"},
		{"no region", with(`"region"`, `"Region"`), "-: region: missing"},
		{"no outline", with(`"outer"`, `"inner"`), "-: region.outer: missing"},
		{"outline null", with(`[[0, 0], [2, 0], [2, 1], [0, 1]]`, `null`), "-: region.outer: null is not a list"},
		{"point null", with(`[2, 0]`, `null`), "-: region.outer[1]: null is not a list"},
		{"coordinate null", with(`[2, 0]`, `[2, null]`), "-: region.outer[1][1]: null is not a number"},
		{"three coordinates", with(`[2, 0]`, `[2, 0, 1]`), "-: region.outer[1]: has 3 numbers, needs 2"},
		{"holes as text", with(`"holes": []`, `"holes": "none"`), `-: region.holes: "none" is not a list`},
		{"hole of texts", with(`"holes": []`, `"holes": [["a"]]`), `-: region.holes[0][0]: "a" is not a list`},
		{"two points", with(`, [2, 1], [0, 1]`, ``), "-: region.outer: has 2 points, needs 3 or more"},
		{"flat", with(`[2, 1], [0, 1]`, `[3, 0]`), "-: region.outer: has no area"},
		{"crossing", with(`[2, 0], [2, 1]`, `[2, 1], [2, 0]`), "-: region.outer[0]: the edge from here crosses the edge from point 2"},
		{"far", with(`[2, 0]`, `[2e9, 0]`), "-: region.outer[1]: (2e+09, 0) is outside"},
	} {
		t.Run(c.name, func(t *testing.T) {
			good := planes + "roofs/roof-rect-04.json"
			lines, stderr, status := packed(t, c.file, "-", good)
			if status != exitUsage || !strings.HasPrefix(stderr, c.want) {
				t.Errorf("status %d, %q; want %q", status, stderr, c.want)
			}
			if len(lines) != 1 || lines[0].ID != "roof-rect-04" {
				t.Errorf("the other file was not done: %v", lines)
			}
		})
	}
	lines, stderr, status := packed(t, smallPlane, "no-such.json", "-")
	if status != exitUsage || len(lines) != 1 || !strings.HasPrefix(stderr, "no-such.json: cannot be read") {
		t.Errorf("missing file: status %d, %d lines, %s", status, len(lines), stderr)
	}
}

func TestPackCommandArguments(t *testing.T) {
	for _, c := range []struct {
		args   []string
		status int
		want   string
	}{
		{nil, exitUsage, "usage: rooftally pack"},
		{[]string{"-budget", "endless", "-"}, exitUsage, `"endless" is not deep or drag`},
		{[]string{"-", "-"}, exitUsage, "standard input can be read once"},
		{[]string{"-style", "heap", "-"}, exitUsage, `"heap" is not best, rows, grid or columns`},
		{[]string{"-speed", "-"}, exitUsage, "not defined: -speed"},
		{[]string{"-h"}, exitOK, "usage: rooftally pack"},
	} {
		if lines, stderr, status := packed(t, smallPlane, c.args...); status != c.status || !strings.Contains(stderr, c.want) || len(lines) != 0 {
			t.Errorf("%v: status %d, %q", c.args, status, stderr)
		}
	}
}

// FuzzPackInput feeds the command any file. It prints a line whose modules the
// checker accepts and status 0, or a message and status 2.
func FuzzPackInput(f *testing.F) {
	f.Add([]byte(smallPlane))
	for _, name := range []string{"roofs/roof-shade-01.json", "roofs/stress-dup-02.json", "roofs/stress-sliver-02.json", "roofs_real/zurich-188.json"} {
		data, err := os.ReadFile(planes + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var out, errs bytes.Buffer
		roof, err := decodeRoofFile(data)
		if err == nil && manyModules(roof) {
			return // slow, and nothing else than what fewer modules show
		}
		status := runPack([]string{"-"}, bytes.NewReader(data), &out, &errs)
		if (status == exitOK) != (out.Len() > 0) || (status == exitUsage) != (errs.Len() > 0) || status == exitFailed {
			t.Fatalf("status %d, stdout %q, stderr %q", status, &out, &errs)
		}
		if status != exitOK {
			return
		}
		var line packLine
		if err := json.Unmarshal(out.Bytes(), &line); err != nil {
			t.Fatal(err)
		}
		var modules []layout.Rect
		for _, m := range line.Modules {
			modules = append(modules, layout.Rect{UM: m.X, VM: m.Y, WM: m.W, HM: m.H})
		}
		if err := layout.CheckPacking(roof.region, roof.spec, modules); err != nil {
			t.Fatal(err)
		}
		if line.Count != len(modules) || line.Bound < line.Count {
			t.Fatalf("count %d, %d modules, bound %d", line.Count, len(modules), line.Bound)
		}
	})
}

// manyModules is true for planes whose box could hold over 3000 modules.
func manyModules(roof roofFile) bool {
	byU := func(a, b layout.SlopePt) int { return int(max(-1, min(1, 1e9*(a.UM-b.UM)))) }
	byV := func(a, b layout.SlopePt) int { return int(max(-1, min(1, 1e9*(a.VM-b.VM)))) }
	if len(roof.region.Outer) == 0 {
		return false
	}
	o := roof.region.Outer
	width := slices.MaxFunc(o, byU).UM - slices.MinFunc(o, byU).UM
	height := slices.MaxFunc(o, byV).VM - slices.MinFunc(o, byV).VM
	return width*height > 3000*roof.spec.WidthM*roof.spec.HeightM
}
