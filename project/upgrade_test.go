//go:build !js

package project

import (
	"os"
	"reflect"
	"strings"
	"testing"
)

// demoSchema1 is the demo house as a program of schema 1 wrote it.
func demoSchema1(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("testdata/demo-schema1.json")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// A file of schema 1 reads as what it said, with nothing set by hand, and gives
// the counts that the program of its time gave.
func TestSchema1IsUpgraded(t *testing.T) {
	d, err := Decode([]byte(demoSchema1(t)))
	if err != nil {
		t.Fatal(err)
	}
	want := Demo()
	for i := range want.Planes {
		want.Planes[i].Turn = "mixed"
	}
	for i := range want.Candidates {
		want.Candidates[i].Datasheet = nil
	}
	want.Wiring, want.Loads, want.Cost = New("x").Wiring, New("x").Loads, Cost{}
	want.Surroundings = New("x").Surroundings
	if !reflect.DeepEqual(d, want) {
		t.Errorf("read as\n%+v\nwant\n%+v", d, want)
	}
	if ps := d.Validate(); ps != nil {
		t.Fatal(ps)
	}
	res := mustEvaluate(t, d)
	for i, count := range []int{32, 26, 20} {
		if got := res.Candidates[i].Fill.Count; got != count {
			t.Errorf("candidate %d: %d modules, %d before the upgrade", i, got, count)
		}
	}
}

// A file of schema 2 reads as what it said: the nearest station's weather, open
// country, the usual losses, and no place left out for want of light.
func TestSchema2IsUpgraded(t *testing.T) {
	text, err := os.ReadFile("testdata/demo-schema2.json")
	if err != nil {
		t.Fatal(err)
	}
	d, err := Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	want := Demo()
	want.Surroundings = Surroundings{Trees: []Tree{}, Buildings: []Building{}, Horizon: []HorizonPoint{}}
	if !reflect.DeepEqual(d, want) {
		t.Errorf("read as\n%+v\nwant\n%+v", d, want)
	}
	for _, c := range []struct{ old, new, path string }{
		{`"schema": 2,`, `"schema": 2, "weather": {},`, "weather"},
		{`"schema": 2,`, `"schema": 2, "surroundings": {},`, "surroundings"},
		{`"schema": 2,`, `"schema": 2, "yield": {},`, "yield"},
		{`"mode": "fill",`, `"mode": "fill", "min_access_pct": 0,`, "target.min_access_pct"},
	} {
		bad := strings.Replace(string(text), c.old, c.new, 1)
		if bad == string(text) {
			t.Fatalf("the file has no %q", c.old)
		}
		checkRefused(t, bad, c.path, "not a field of this file's schema")
	}
}

// What is wrong with a file of schema 1 is still found, at its own place.
func TestSchema1IsReadStrictly(t *testing.T) {
	text := demoSchema1(t)
	for _, c := range []struct{ name, old, new, path, says string }{
		{"field of schema 2 at the top", `"schema": 1,`, `"schema": 1, "hand": [],`, "hand", "not a field of this file's schema"},
		{"section of schema 2", `"schema": 1,`, `"schema": 1, "wiring": {},`, "wiring", "not a field of this file's schema"},
		{"datasheet of schema 2", `"pmax_w": 400`, `"datasheet": null, "pmax_w": 400`, "candidates[1].datasheet", "not a field of this file's schema"},
		{"candidates null", `"candidates": [`, `"candidates": null, "q": [`, "q", "not a field"},
		{"a candidate that is no object", `"candidates": [`, `"candidates": [3, `, "candidates[0]", "an object is needed"},
		{"field of schema 2 in the rules", `"style"`, `"tidy_cost_modules": 3, "style"`, "rules.tidy_cost_modules", "not a field of this file's schema"},
		{"field of schema 2 in the question", `"mode"`, `"max_blocks": 3, "mode"`, "target.max_blocks", "not a field of this file's schema"},
		{"unknown field", `"style"`, `"colour": 3, "style"`, "rules.colour", "not a field"},
		{"repeated field", `"style"`, `"style": "rows", "style"`, "rules.style", "twice"},
		{"missing field", `"mode": "fill",`, ``, "target.mode", "is missing"},
		{"rules missing", `"rules"`, `"rule"`, "rule", "not a field"},
		{"rules null", `"rules": {`, `"rules": null, "q": {`, "q", "not a field"},
		{"target a list", `"target": {`, `"target": [], "z": {`, "target", "an object is needed"},
		{"wrong kind", `"x_m": 6.4`, `"x_m": "6.4"`, "planes[0].ring[1].x_m", "is a string"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := strings.Replace(text, c.old, c.new, 1)
			if bad == text {
				t.Fatalf("the file has no %q", c.old)
			}
			checkRefused(t, bad, c.path, c.says)
		})
	}
}
