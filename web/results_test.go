package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http/httptest"
	"reflect"
	"strings"
	"testing"
	"time"

	"rooftally/project"
)

func TestResultsAreKeptByVersion(t *testing.T) {
	cache := newResultCache(project.NewEvaluator())
	demo := project.Stored{ID: "demo", Version: 1, Doc: smallDoc()}
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

// smallDoc is a roof for a few modules, whose longer search ends at once.
func smallDoc() project.Document {
	d := manyDoc(1, 4, 3)
	d.Candidates = d.Candidates[:1]
	return d
}

// TestAPageDoesNotWaitForTheSearch keeps the search from beginning, takes the
// quick result, and then lets it go on.
func TestAPageDoesNotWaitForTheSearch(t *testing.T) {
	s := plainServer(newFake(), discardLog())
	for range deepAtOnce {
		s.results.slots <- struct{}{}
	}
	stored := project.Stored{ID: "small", Version: 1, Doc: smallDoc()}
	quick, isDeep, err := s.evaluate(t.Context(), stored, 10*time.Millisecond)
	if err != nil || isDeep || len(quick.Candidates) != 1 {
		t.Fatalf("deep %v, %d candidates, %v", isDeep, len(quick.Candidates), err)
	}
	for range deepAtOnce {
		<-s.results.slots
	}
	deep, isDeep, err := s.evaluate(t.Context(), stored, time.Minute)
	if err != nil || !isDeep || deep.Candidates[0].Fill.Count < quick.Candidates[0].Fill.Count {
		t.Errorf("deep %v, %+v, %v", isDeep, deep.Candidates, err)
	}
	if _, kept := s.results.peek(t.Context(), stored); !kept {
		t.Error("the result was not kept")
	}
	if again, err := s.evaluateQuick(t.Context(), stored); err != nil || !reflect.DeepEqual(again, deep) {
		t.Errorf("the deep result is known, but the quick one was given: %v", err)
	}
}

func TestASearchForAnEarlierVersionEnds(t *testing.T) {
	cache := newResultCache(project.NewEvaluator())
	for range deepAtOnce {
		cache.slots <- struct{}{}
	}
	first := cache.join(project.Stored{ID: "small", Version: 1, Doc: smallDoc()})
	if again := cache.join(project.Stored{ID: "small", Version: 1, Doc: smallDoc()}); again != first {
		t.Error("the same version was searched twice")
	}
	second := cache.join(project.Stored{ID: "small", Version: 2, Doc: smallDoc()})
	<-first.done
	if !errors.Is(first.err, context.Canceled) {
		t.Errorf("the search for the earlier version ended with %v", first.err)
	}
	<-cache.slots
	// Somebody who waits ends the rest that a search begins with.
	late, stop := context.WithTimeout(t.Context(), restTime/2)
	defer stop()
	if _, err := cache.get(late, project.Stored{ID: "small", Version: 2, Doc: smallDoc()}); err != nil {
		t.Error(err)
	}
	<-second.done
	if second.err != nil || len(cache.searches) != 0 {
		t.Errorf("%v, %d searches left", second.err, len(cache.searches))
	}
}

func TestOnlySoManyResultsAreKept(t *testing.T) {
	cache := newResultCache(project.NewEvaluator())
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
	evaluator := project.NewEvaluator()
	return &server{projects: fake, log: log, now: func() time.Time { return testNow }, hosts: hostSet(nil), evaluator: evaluator, results: newResultCache(evaluator),
		weather: newFakeWeather(), reckoner: newReckoner()}
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
