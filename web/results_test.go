package web

import (
	"bytes"
	"context"
	"fmt"
	"log/slog"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"rooftally/project"
)

func TestResultsAreKeptByVersion(t *testing.T) {
	cache := newResultCache()
	demo := project.Stored{ID: "demo", Version: 1, Doc: project.Demo()}
	first, err := cache.get(t.Context(), demo)
	if err != nil {
		t.Fatal(err)
	}
	// A kept result needs no evaluation: a broken document goes unnoticed.
	broken := project.Stored{ID: "demo", Version: 1}
	kept, err := cache.get(t.Context(), broken)
	if err != nil || len(kept.Planes) != len(first.Planes) {
		t.Errorf("the same version again: %d planes, %v", len(kept.Planes), err)
	}
	broken.Version = 2
	if _, err := cache.get(t.Context(), broken); err == nil {
		t.Error("another version was answered with the kept result")
	}
	if _, err := cache.get(t.Context(), broken); err == nil {
		t.Error("a failure was kept as a result")
	}
}

func TestOnlySoManyResultsAreKept(t *testing.T) {
	cache := newResultCache()
	for i := range resultsKept + 5 {
		cache.keep(resultKey{fmt.Sprint(i), 1}, project.Result{})
		cache.keep(resultKey{fmt.Sprint(i), 1}, project.Result{})
	}
	if len(cache.byKey) != resultsKept || len(cache.oldest) != resultsKept {
		t.Errorf("%d results in order of %d, want %d", len(cache.byKey), len(cache.oldest), resultsKept)
	}
	for i := range resultsKept + 5 {
		if _, ok := cache.byKey[resultKey{fmt.Sprint(i), 1}]; ok != (i >= 5) {
			t.Errorf("result %d kept: %v", i, ok)
		}
	}
}

// plainServer is a server without its handler, for its smaller parts.
func plainServer(fake *fakeProjects, log *slog.Logger) *server {
	return &server{projects: fake, log: log, now: func() time.Time { return testNow }, hosts: hostSet(nil), results: newResultCache()}
}

func TestARowWithoutCountsStaysInTheList(t *testing.T) {
	fake := newFake()
	invalid := fake.byID["demo"]
	invalid.ID = "invalid"
	invalid.Doc.Site.Units = "furlongs"
	fake.byID["invalid"] = invalid
	s := plainServer(fake, slog.New(slog.DiscardHandler))
	late, stop := context.WithDeadline(t.Context(), time.Unix(0, 0))
	defer stop()
	tests := []struct {
		name, id, note string
		counting       context.Context
		counts         int
	}{
		{"counted", "demo", "", t.Context(), len(project.Demo().Candidates)},
		{"out of time", "old-demo", "Open it for the counts", late, 0},
		{"invalid", "invalid", "No counts: open it to see why", t.Context(), 0},
		{"nothing drawn", "empty", "", t.Context(), 0},
	}
	later := fake.byID["demo"]
	later.ID = "old-demo"
	fake.byID["old-demo"] = later
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			view, err := s.rowView(t.Context(), tt.counting, fake.byID[tt.id].Row())
			if err != nil || view.Note != tt.note || len(view.Counts) != tt.counts || view.Thumb == nil {
				t.Errorf("got note %q, %d counts, %v", view.Note, len(view.Counts), err)
			}
		})
	}
}

func TestRequestsAreLoggedOnce(t *testing.T) {
	var log bytes.Buffer
	fake := newFake()
	fake.fail = errBroken
	handler, err := New(Config{Projects: fake, Log: slog.New(slog.NewTextHandler(&log, nil)), Now: func() time.Time { return testNow }})
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/healthz", "/nowhere", "/projects/demo"} {
		r := httptest.NewRequestWithContext(t.Context(), "GET", path, nil)
		r.Host = "localhost"
		handler.ServeHTTP(httptest.NewRecorder(), r)
	}
	tests := []struct {
		text  string
		count int
	}{
		{"path=/healthz", 0},
		{"level=INFO msg=request method=GET path=/nowhere status=404", 1},
		{"level=INFO msg=request method=GET path=/projects/demo status=500", 1},
		{`level=ERROR msg="request failed" method=GET path=/projects/demo err="disk on fire`, 1},
		{"level=ERROR", 1},
	}
	for _, tt := range tests {
		if got := strings.Count(log.String(), tt.text); got != tt.count {
			t.Errorf("%d times %q, want %d, in:\n%s", got, tt.text, tt.count, &log)
		}
	}
}
