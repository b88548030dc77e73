package web

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"rooftally/catalog"
	"rooftally/project"
)

func TestAPI(t *testing.T) {
	demo := encoded(t, project.Demo())
	renamed := project.Demo()
	renamed.Site.Label = "Renamed"
	changed := encoded(t, renamed)
	invalid := strings.Replace(demo, `"units": "metric"`, `"units": "furlongs"`, 1)
	save := func(version any, doc string) string { return fmt.Sprintf(`{"version":%v,"doc":%s}`, version, doc) }

	runTable(t, []request{
		{name: "get", method: "GET", path: "/api/projects/demo", status: 200,
			has: []string{`"version":3`, `"archived":false`, `"saved_at":"2026-03-01T12:00:00Z"`, `"doc":{"schema":1`}},
		{name: "get archived", method: "GET", path: "/api/projects/old", status: 200, has: []string{`"archived":true`}},
		{name: "get nobody", method: "GET", path: "/api/projects/nobody", status: 404, has: []string{`{"problems":[{"path":"","message":`}, lacks: []string{"<html"}},
		{name: "save", method: "PUT", path: "/api/projects/demo", body: save(3, changed), status: 200, has: []string{`{"version":4}`}},
		{name: "save what is stored", method: "PUT", path: "/api/projects/demo", body: save(3, demo), status: 200, has: []string{`{"version":3}`}},
		{name: "save what is stored from an earlier version", method: "PUT", path: "/api/projects/demo", body: save(2, demo), status: 200, has: []string{`{"version":3}`}},
		{name: "stale save", method: "PUT", path: "/api/projects/demo", body: save(2, changed), status: 409,
			has: []string{`"version":3`, `"doc":{"schema":1`, "Demo house", `"saved_at":`}, lacks: []string{"Renamed"}},
		{name: "save nobody", method: "PUT", path: "/api/projects/nobody", body: save(1, demo), status: 404, has: []string{`"problems"`}},
		{name: "save an invalid document", method: "PUT", path: "/api/projects/demo", body: save(3, invalid), status: 422, has: []string{`"path":"site.units"`, "furlongs"}},
		{name: "save a document with an unknown member", method: "PUT", path: "/api/projects/demo", body: save(3, `{"schema":1,"colour":1}`), status: 422, has: []string{"colour"}},
		{name: "save without a document", method: "PUT", path: "/api/projects/demo", body: `{"version":3}`, status: 422, has: []string{`"path":"doc"`}},
		{name: "save without a version", method: "PUT", path: "/api/projects/demo", body: `{"doc":` + demo + `}`, status: 422, has: []string{`"path":"version"`}},
		{name: "save with half a version", method: "PUT", path: "/api/projects/demo", body: save(2.5, demo), status: 400},
		{name: "save with more than that", method: "PUT", path: "/api/projects/demo", body: `{"version":3,"extra":1,"doc":` + demo + `}`, status: 400},
		{name: "save with two versions", method: "PUT", path: "/api/projects/demo", body: `{"version":2,"version":3,"doc":` + demo + `}`, status: 400},
		{name: "save half a message", method: "PUT", path: "/api/projects/demo", body: `{"version":3,"doc":{`, status: 400, has: []string{`"problems"`}},
		{name: "save something else", method: "PUT", path: "/api/projects/demo", body: "hello", status: 400},
		{name: "save too much", method: "PUT", path: "/api/projects/demo", body: save(3, `"`+strings.Repeat("x", 5<<20)+`"`), status: 413},
		{name: "save out of order", method: "PUT", path: "/api/projects/demo", body: save(3, changed), broken: true, status: 500,
			has: []string{"Something went wrong"}},
		{name: "evaluate", method: "POST", path: "/api/evaluate", body: demo, status: 200, has: []string{`"planes":`, `"candidates":`, `"slope_area_m2":`}},
		{name: "evaluate an invalid document", method: "POST", path: "/api/evaluate", body: invalid, status: 422, has: []string{`"path":"site.units"`}},
		{name: "evaluate nothing", method: "POST", path: "/api/evaluate", status: 422},
		{name: "evaluate too much", method: "POST", path: "/api/evaluate", body: strings.Repeat(" ", 5<<20), status: 413},
		{name: "no such call", method: "GET", path: "/api/nothing", status: 404, has: []string{`"problems"`}},
		{name: "not that way", method: "POST", path: "/api/projects/demo", status: 405, has: []string{`"problems"`}},
	})
}

func TestAStaleSaveLeavesTheProjectAlone(t *testing.T) {
	fake := newFake()
	mine := project.Demo()
	mine.Site.Label = "Mine"
	fetch(t, fake, "PUT", "/api/projects/demo", fmt.Sprintf(`{"version":1,"doc":%s}`, encoded(t, mine)), nil)
	if got := fake.byID["demo"]; got.Version != 3 || got.Doc.Site.Label != project.Demo().Site.Label {
		t.Errorf("stored is version %d of %q", got.Version, got.Doc.Site.Label)
	}
}

func TestARepeatedSaveGetsTheSameAnswer(t *testing.T) {
	fake := newFake()
	mine := project.Demo()
	mine.Site.Label = "Mine"
	body := fmt.Sprintf(`{"version":3,"doc":%s}`, encoded(t, mine))
	for range 3 {
		got := fetch(t, fake, "PUT", "/api/projects/demo", body, nil)
		if answer := bodyOf(t, got); got.StatusCode != 200 || answer != "{\"version\":4}\n" {
			t.Errorf("status %d, %s", got.StatusCode, answer)
		}
	}
}

func TestCatalogIsComplete(t *testing.T) {
	var got []apiModule
	if err := json.Unmarshal([]byte(bodyOf(t, fetch(t, newFake(), "GET", "/api/catalog", "", nil))), &got); err != nil {
		t.Fatal(err)
	}
	want := catalog.Demo()
	if len(got) != len(want) {
		t.Fatalf("%d modules, want %d", len(got), len(want))
	}
	for i, m := range want {
		if g := got[i]; g.ID != m.ID || g.Label != m.Label || g.PmaxW != m.PmaxW || g.LengthM != m.LengthM || g.WidthM != m.WidthM || g.Invented != m.Invented {
			t.Errorf("module %d is %+v, want %+v", i, g, m)
		}
	}
}
