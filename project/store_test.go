//go:build !js

package project

import (
	"errors"
	"fmt"
	"testing"
	"time"
)

func TestRow(t *testing.T) {
	at := time.Date(2030, 6, 1, 9, 0, 0, 0, time.UTC)
	s := Stored{ID: "p1", Version: 3, Archived: true, Doc: Demo(), CreatedAt: at, UpdatedAt: at.Add(time.Hour)}
	r := s.Row()
	if r.ID != "p1" || r.Version != 3 || !r.Archived || r.Label != s.Doc.Site.Label || !r.Invented {
		t.Errorf("row %+v does not say what the project is", r)
	}
	if r.Planes != 4 || r.Candidates != 3 || !r.CreatedAt.Equal(at) || !r.UpdatedAt.Equal(at.Add(time.Hour)) {
		t.Errorf("row %+v has other counts or times", r)
	}
	if len(r.Outline) != 4 || len(r.Outline[0]) != 7 || r.Outline[0][2] != (Point{XM: 9.4, YM: 3}) {
		t.Errorf("outline %v is not the demo's", r.Outline)
	}
}

func TestStaleErrorIsFoundWhenWrapped(t *testing.T) {
	err := fmt.Errorf("save: %w", &StaleError{Current: Stored{ID: "p1", Version: 4}})
	stale, ok := errors.AsType[*StaleError](err)
	if !ok || stale.Current.Version != 4 {
		t.Fatalf("%v does not carry the current version", err)
	}
}
