package web

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"rooftally/project"
)

func TestAPI(t *testing.T) {
	demo := encoded(t, project.Demo())
	renamed := project.Demo()
	renamed.Site.Label = "Renamed"
	changed := encoded(t, renamed)
	small := encoded(t, smallWing())
	invalid := strings.Replace(demo, `"units": "metric"`, `"units": "furlongs"`, 1)
	save := func(version any, doc string) string { return fmt.Sprintf(`{"version":%v,"doc":%s}`, version, doc) }

	runTable(t, []request{
		{name: "get", method: "GET", path: "/api/projects/demo", status: 200,
			has: []string{`"version":3`, `"archived":false`, `"saved_at":"2026-03-01T12:00:00Z"`, `"doc":{"schema":3`}},
		{name: "get archived", method: "GET", path: "/api/projects/old", status: 200, has: []string{`"archived":true`}},
		{name: "get nobody", method: "GET", path: "/api/projects/nobody", status: 404, has: []string{`{"problems":[{"path":"","message":`}, lacks: []string{"<html"}},
		{name: "save", method: "PUT", path: "/api/projects/demo", body: save(3, changed), status: 200, has: []string{`{"version":4}`}},
		{name: "save what is stored", method: "PUT", path: "/api/projects/demo", body: save(3, demo), status: 200, has: []string{`{"version":3}`}},
		{name: "save what is stored from an earlier version", method: "PUT", path: "/api/projects/demo", body: save(2, demo), status: 200, has: []string{`{"version":3}`}},
		{name: "stale save", method: "PUT", path: "/api/projects/demo", body: save(2, changed), status: 409,
			has: []string{`"version":3`, `"doc":{"schema":3`, "Demo house", `"saved_at":`}, lacks: []string{"Renamed"}},
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
		{name: "evaluate quickly", method: "POST", path: "/api/evaluate?budget=drag", body: demo, status: 200,
			has: []string{`"planes":`, `"candidates":`, `"slope_area_m2":`, `"offer": null`}, lacks: []string{`"style": "best"`}},
		{name: "evaluate deeply", method: "POST", path: "/api/evaluate?budget=deep", body: small, status: 200, has: []string{`"style": "best"`}},
		{name: "evaluate", method: "POST", path: "/api/evaluate", body: small, status: 200, has: []string{`"style": "best"`}},
		{name: "evaluate within another budget", method: "POST", path: "/api/evaluate?budget=long", body: demo, status: 400, has: []string{"budget", "drag or deep"}},
		{name: "evaluate an invalid document", method: "POST", path: "/api/evaluate", body: invalid, status: 422, has: []string{`"path":"site.units"`}},
		{name: "evaluate nothing", method: "POST", path: "/api/evaluate", status: 422},
		{name: "evaluate too much", method: "POST", path: "/api/evaluate", body: strings.Repeat(" ", 5<<20), status: 413},
		{name: "no such call", method: "GET", path: "/api/nothing", status: 404, has: []string{`"problems"`}},
		{name: "not that way", method: "POST", path: "/api/projects/demo", status: 405, has: []string{`"problems"`}},
	})
}

// smallWing is the demo with the smaller planes alone, whose search ends soon,
// and mixing turns pays there.
func smallWing() project.Document {
	doc := project.Demo()
	doc.Planes[0].Use = false
	return doc
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

func TestASaveBeginsTheDeepSearch(t *testing.T) {
	s := plainServer(newFake(), slog.New(slog.DiscardHandler))
	s.results.until = t.Context()
	handler := s.routes()
	put := func(base int, doc project.Document) {
		t.Helper()
		body := fmt.Sprintf(`{"version":%d,"doc":%s}`, base, encoded(t, doc))
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, httptest.NewRequest("PUT", "http://localhost/api/projects/demo", strings.NewReader(body)))
		if w.Code != http.StatusOK {
			t.Fatalf("status %d: %s", w.Code, w.Body)
		}
	}
	for range deepAtOnce { // hold the searches back
		s.results.slots <- struct{}{}
	}
	renamed := project.Demo()
	renamed.Site.Label = "Renamed"
	put(3, renamed)
	first := s.results.searches["demo"]
	if first == nil || first.version != 4 {
		t.Fatalf("the search after the save is %+v", first)
	}
	put(4, smallWing())
	<-first.done
	if !errors.Is(first.err, context.Canceled) {
		t.Errorf("the search of the version before ended with %v", first.err)
	}
	second := s.results.searches["demo"]
	<-s.results.slots
	<-second.done
	if second.err != nil || second.result.Candidates[0].Offer == nil {
		t.Errorf("the second search gave %+v, %v", second.result.Candidates, second.err)
	}
	put(5, smallWing())
	if again := s.results.searches["demo"]; again != nil {
		t.Error("a result that is kept was searched again")
	}
}

func TestSearchesEndWithTheServer(t *testing.T) {
	s := plainServer(newFake(), slog.New(slog.DiscardHandler))
	until, stop := context.WithCancel(t.Context())
	s.results.until = until
	search := s.results.join(project.Stored{ID: "demo", Version: 3, Doc: project.Demo()})
	stop()
	<-search.done
	if !errors.Is(search.err, context.Canceled) {
		t.Errorf("the search ended with %v", search.err)
	}
}
