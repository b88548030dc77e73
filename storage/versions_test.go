package storage

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"rooftally/project"
)

// saveNext saves the stored document under another label at its version.
func saveNext(t *testing.T, s *Store, id, label string) {
	t.Helper()
	stored := get(t, s, id)
	if _, err := s.Save(t.Context(), id, stored.Version, labelled(stored.Doc, label)); err != nil {
		t.Fatal(err)
	}
}

func versions(t *testing.T, s *Store, id string) []project.Version {
	t.Helper()
	all, err := s.Versions(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestVersions(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "One")
	other := create(t, s, "Other")
	if got := versions(t, s, id); len(got) != 0 {
		t.Errorf("a new project has %d earlier versions", len(got))
	}
	firstSaved := get(t, s, id).UpdatedAt
	saveNext(t, s, id, "Two")
	saveNext(t, s, id, "Three")
	saveNext(t, s, other, "Another")
	got := versions(t, s, id)
	if len(got) != 2 || got[0].Number != 2 || got[1].Number != 1 {
		t.Fatalf("versions are %+v", got)
	}
	if got[0].Doc.Site.Label != "Two" || got[1].Doc.Site.Label != "One" {
		t.Errorf("labels are %q, %q", got[0].Doc.Site.Label, got[1].Doc.Site.Label)
	}
	if !got[1].SavedAt.Equal(firstSaved) || got[1].SavedAt.Location() != time.UTC {
		t.Errorf("saved at %v, want %v", got[1].SavedAt, firstSaved)
	}
	if got := versions(t, s, "nobody"); len(got) != 0 {
		t.Errorf("nobody has %d versions", len(got))
	}
}

// TestAContestedVersionStays keeps one's own version after a conflict and goes
// on saving until the limit is passed: the other version is still there.
func TestAContestedVersionStays(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "Start")
	start := get(t, s, id).Doc
	saveNext(t, s, id, "Theirs")
	_, err := s.Save(t.Context(), id, 1, labelled(start, "Mine"))
	stale, is := errors.AsType[*project.StaleError](err)
	if !is {
		t.Fatalf("got %v, want *project.StaleError", err)
	}
	if _, err := s.Save(t.Context(), id, stale.Current.Version, labelled(start, "Mine")); err != nil {
		t.Fatal(err)
	}
	for i := range versionsKept + 5 {
		saveNext(t, s, id, fmt.Sprintf("Mine %d", i))
	}
	all := versions(t, s, id)
	last := all[len(all)-1]
	if last.Doc.Site.Label != "Theirs" || last.Number != 2 || !last.Contested {
		t.Errorf("the oldest version kept is %d %q, contested %v", last.Number, last.Doc.Site.Label, last.Contested)
	}
	if len(all) != versionsKept+1 {
		t.Errorf("%d versions are kept, want %d and the contested one", len(all), versionsKept)
	}
	for _, v := range all[:len(all)-1] {
		if v.Contested {
			t.Errorf("version %d is called contested", v.Number)
		}
	}
}

func TestCopyVersion(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "House")
	first := get(t, s, id).Doc
	saveNext(t, s, id, "Changed")
	newID, err := s.CopyVersion(t.Context(), id, 1)
	if err != nil {
		t.Fatal(err)
	}
	got := get(t, s, newID)
	if want := labelled(first, "House (version 1)"); string(encode(t, got.Doc)) != string(encode(t, want)) || got.Version != 1 {
		t.Errorf("the copy is version %d of %q", got.Version, got.Doc.Site.Label)
	}
	if now := get(t, s, id); now.Version != 2 || now.Doc.Site.Label != "Changed" {
		t.Errorf("the project is now version %d, %q", now.Version, now.Doc.Site.Label)
	}
	for _, n := range []int{0, 2, 3, -1} {
		if _, err := s.CopyVersion(t.Context(), id, n); !errors.Is(err, project.ErrNotFound) {
			t.Errorf("version %d: got %v, want project.ErrNotFound", n, err)
		}
	}
}

func TestABrokenVersionStaysInTheList(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "House")
	saveNext(t, s, id, "Changed")
	saveNext(t, s, id, "Changed again")
	if _, err := s.write.Exec(`UPDATE project_versions SET doc = CAST('{' AS BLOB) WHERE version = 1`); err != nil {
		t.Fatal(err)
	}
	all := versions(t, s, id)
	if len(all) != 2 || !all[1].Unreadable || all[0].Unreadable {
		t.Errorf("versions are %+v", all)
	}
	if _, err := s.CopyVersion(t.Context(), id, 1); err == nil {
		t.Error("a broken version was copied")
	}
}
