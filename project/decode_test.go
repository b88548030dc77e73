//go:build !js

package project

import (
	"bytes"
	"strings"
	"testing"

	"github.com/go-json-experiment/json/jsontext"
)

// demoText is the demo in canonical form.
func demoText(t testing.TB) string {
	t.Helper()
	b, err := Encode(Demo())
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestDecodeDemo(t *testing.T) {
	text := demoText(t)
	d, err := Decode([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	again, err := Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	if string(again) != text {
		t.Fatal("decoding and encoding again changed the bytes")
	}
	if ps := d.Validate(); ps != nil {
		t.Fatal(ps)
	}
}

// Every row spoils the demo file in one place.
func TestDecodeRefuses(t *testing.T) {
	text := demoText(t)
	for _, c := range []struct {
		name, old, new string
		path, says     string
	}{
		{"unknown field", `"lat_deg"`, `"colour": 1, "lat_deg"`, "site.colour", "not a field"},
		{"wrong case", `"lat_deg"`, `"Lat_deg"`, "site.Lat_deg", "not a field"},
		{"repeated field", `"lat_deg": 43.05`, `"lat_deg": 1, "lat_deg": 43.05`, "site.lat_deg", "twice"},
		{"repeated unknown field", `"lat_deg"`, `"q": 1, "q": 2, "lat_deg"`, "site.q", "twice"},
		{"odd name", `"lat_deg"`, `"a.b": 1, "lat_deg"`, `site["a.b"]`, "not a field"},
		{"missing number", `"pitch_deg": 30,`, ``, "planes[0].pitch_deg", "is missing"},
		{"missing nullable", `"module_limit": null,`, ``, "planes[0].module_limit", "is missing"},
		{"missing list", `"planes"`, `"plane"`, "plane", "not a field"},
		{"null number", `"x_m": 6.4`, `"x_m": null`, "planes[0].ring[1].x_m", "is null"},
		{"null text", `"label": "Main, south"`, `"label": null`, "planes[0].label", "is null"},
		{"null optional", `"radius_m": 0.055`, `"radius_m": 0.055, "points": null`, "keep_outs[1].points", "is null"},
		{"null in list", `"keep_outs": [`, `"keep_outs": [null,`, "keep_outs[0]", "is null"},
		{"string for number", `"x_m": 6.4`, `"x_m": "6.4"`, "planes[0].ring[1].x_m", "is a string; a number is needed"},
		{"number for string", `"turn": "either"`, `"turn": 3`, "planes[0].turn", "is a number; a string is needed"},
		{"number for boolean", `"street": false`, `"street": 0`, "planes[0].ring[0].street", "true or false is needed"},
		{"object for list", `"keep_outs": [`, `"keep_outs": {}, "k": [`, "keep_outs", "is an object; a list is needed"},
		{"fraction of a watt", `"pmax_w": 330`, `"pmax_w": 330.5`, "candidates[0].pmax_w", "whole number"},
		{"watts with exponent", `"pmax_w": 330`, `"pmax_w": 33e1`, "candidates[0].pmax_w", "whole number"},
		{"watts too large", `"pmax_w": 330`, `"pmax_w": 99999999999999999999`, "candidates[0].pmax_w", "too large"},
		{"number too large", `"x_m": 6.4`, `"x_m": 1e999`, "planes[0].ring[1].x_m", "too large"},
		{"not a number", `"x_m": 6.4`, `"x_m": NaN`, "planes[0].ring[1].x_m", "not well-formed JSON"},
		{"infinity", `"x_m": 6.4`, `"x_m": Infinity`, "planes[0].ring[1].x_m", "not well-formed JSON"},
		{"comment", `{`, `{ // note`, "", "not well-formed JSON"},
		{"broken text", `Main, south`, "Main\xff", "planes[0].label", "not well-formed JSON"},
		{"newer schema", `"schema": 3`, `"schema": 4`, "schema", "newer"},
		{"schema 0", `"schema": 3`, `"schema": 0`, "schema", "no such schema"},
		{"no schema", `"schema": 3,`, ``, "schema", "is missing"},
		{"null schema", `"schema": 3`, `"schema": null`, "schema", "is missing"},
		{"schema as text", `"schema": 3`, `"schema": "1"`, "schema", "is a string"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := strings.Replace(text, c.old, c.new, 1)
			if bad == text {
				t.Fatalf("the demo file has no %q", c.old)
			}
			checkRefused(t, bad, c.path, c.says)
		})
	}
}

// checkRefused wants a Problems with the path and words among its entries.
func checkRefused(t *testing.T, text, path, says string) {
	t.Helper()
	_, err := Decode([]byte(text))
	ps, ok := err.(Problems)
	if !ok {
		t.Fatalf("error %v (%T), want Problems", err, err)
	}
	for _, p := range ps {
		if p.Path == path && strings.Contains(p.Message, says) {
			return
		}
	}
	t.Fatalf("problems %q, want path %q saying %q", ps, path, says)
}

func TestDecodeWholeFile(t *testing.T) {
	text := demoText(t)
	for _, c := range []struct{ name, text, says string }{
		{"empty", "", "ends too early"},
		{"white space", " \n", "ends too early"},
		{"cut short", text[:len(text)/2], "ends too early"},
		{"trailing object", text + "{}", "not well-formed"},
		{"trailing text", text + "x", "not well-formed"},
		{"list", "[]", "an object is needed"},
		{"null", "null", ""},
		{"byte order mark", "\ufeff" + text, "not well-formed"},
		{"too large", strings.Repeat(" ", MaxFileBytes) + text, "at most 4194304"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Decode([]byte(c.text))
			ps, ok := err.(Problems)
			if !ok || len(ps) == 0 || !strings.Contains(ps.Error(), c.says) {
				t.Fatalf("error %v, want one saying %q", err, c.says)
			}
		})
	}
}

func TestDecodeReportsEveryGap(t *testing.T) {
	text := demoText(t)
	text = strings.Replace(text, `"turn": "either",`, ``, 2)
	text = strings.Replace(text, `"x_m": 13,`, `"x_m": null,`, 1)
	_, err := Decode([]byte(text))
	ps, _ := err.(Problems)
	if len(ps) != 3 {
		t.Fatalf("%d problems, want 3: %v", len(ps), ps)
	}
}

func TestDecodeDeepNesting(t *testing.T) {
	deep := `{"schema": 1, "site": ` + strings.Repeat("[", 1_000_000) + strings.Repeat("]", 1_000_000) + "}"
	if _, err := Decode([]byte(deep)); err == nil {
		t.Fatal("a million nested lists were read")
	}
}

// White space, the order of members and the way numbers are written do not
// outlast one round.
func TestCanonicalForm(t *testing.T) {
	text := demoText(t)
	for _, c := range []struct{ name, old, new string }{
		{"white space", "\n", "\n\n   "},
		{"exponent", `"x_m": 6.4`, `"x_m": 64e-1`},
		{"negative zero", `"x_m": 0,`, `"x_m": -0.0,`},
		{"empty list of another shape", `"radius_m": 0.055`, `"radius_m": 0.055, "points": []`},
		{"zero of another shape", `"radius_m": 0.055`, `"radius_m": 0.055, "width_m": 0`},
		{"escaped text", `"Main, south"`, `"M\u0061in, south"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			other := strings.Replace(text, c.old, c.new, -1)
			if other == text {
				t.Fatalf("the demo file has no %q", c.old)
			}
			d, err := Decode([]byte(other))
			if err != nil {
				t.Fatal(err)
			}
			got, err := Encode(d)
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != text {
				t.Fatalf("not the canonical form:\n%s", got)
			}
		})
	}
}

func TestEncodeEmptyListsAndShapes(t *testing.T) {
	d := New("x")
	d.Planes, d.KeepOuts, d.Candidates = nil, nil, nil
	b, err := Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"planes": []`, `"keep_outs": []`, `"candidates": []`} {
		if !bytes.Contains(b, []byte(want)) {
			t.Errorf("no %s in\n%s", want, b)
		}
	}
	if !bytes.HasSuffix(b, []byte("}\n")) {
		t.Error("no newline at the end")
	}
}

func TestUpgradeSteps(t *testing.T) {
	rename := func(old, new string) func(jsontext.Value) (jsontext.Value, error) {
		return func(v jsontext.Value) (jsontext.Value, error) {
			return bytes.ReplaceAll(v, []byte(old), []byte(new)), nil
		}
	}
	steps := []upgradeStep{
		{From: 7, Apply: rename(`"schema":7,"a"`, `"schema":8,"b"`)},
		{From: 8, Apply: rename(`"schema":8,"b"`, `"schema":9,"c"`)},
	}
	for _, c := range []struct{ name, in, want, says string }{
		{"two steps", `{"schema":7,"a":1}`, `{"schema":9,"c":1}`, ""},
		{"one step", `{"schema":8,"b":1}`, `{"schema":9,"c":1}`, ""},
		{"current", `{"schema":9,"c":1}`, `{"schema":9,"c":1}`, ""},
		{"newer", `{"schema":10}`, "", "newer"},
		{"before the first", `{"schema":6}`, "", "no such schema"},
		{"negative", `{"schema":-1}`, "", "no such schema"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := upgradeTo([]byte(c.in), 9, steps)
			if c.says != "" {
				if err == nil || !strings.Contains(err.Error(), c.says) {
					t.Fatalf("error %v, want one saying %q", err, c.says)
				}
				return
			}
			if err != nil || string(got) != c.want {
				t.Fatalf("%s, %v; want %s", got, err, c.want)
			}
		})
	}
}

// Every schema below the current one has exactly one step away from it.
func TestUpgradeStepsComplete(t *testing.T) {
	steps := upgradeSteps()
	if len(steps) != Schema-1 {
		t.Fatalf("%d steps for schema %d", len(steps), Schema)
	}
	for i, s := range steps {
		if s.From != i+1 {
			t.Errorf("step %d starts from %d", i, s.From)
		}
	}
}
