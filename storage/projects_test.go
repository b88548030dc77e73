package storage

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"rooftally/project"
)

// clock gives a later time on every call, so that changes have an order.
type clock struct{ ticks atomic.Int64 }

func (c *clock) now() time.Time {
	return time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC).Add(time.Duration(c.ticks.Add(1)) * time.Second)
}

// newStore opens a real file with the settings of production.
func newStore(t *testing.T) *Store {
	t.Helper()
	return openAt(t, filepath.Join(t.TempDir(), "rooftally.db"))
}

func openAt(t *testing.T, path string) *Store {
	t.Helper()
	var c clock
	var ids atomic.Int64
	s, err := Open(t.Context(), Config{Path: path, Now: c.now, NewID: func() string { return fmt.Sprintf("p%d", ids.Add(1)) }})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

func create(t *testing.T, s *Store, label string) string {
	t.Helper()
	id, err := s.Create(t.Context(), project.New(label))
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func get(t *testing.T, s *Store, id string) project.Stored {
	t.Helper()
	stored, err := s.Get(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	return stored
}

func encode(t *testing.T, doc project.Document) []byte {
	t.Helper()
	data, err := project.Encode(doc)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func labelled(doc project.Document, label string) project.Document {
	doc.Site.Label = label
	return doc
}

func labels(t *testing.T, s *Store, q project.ListQuery) string {
	t.Helper()
	rows, err := s.List(t.Context(), q)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, r := range rows {
		names = append(names, r.Label)
	}
	return strings.Join(names, "|")
}

func TestCreateAndGet(t *testing.T) {
	s := newStore(t)
	doc := project.Demo()
	id, err := s.Create(t.Context(), doc)
	if err != nil {
		t.Fatal(err)
	}
	got := get(t, s, id)
	if got.ID != id || got.Version != 1 || got.Archived || got.CreatedAt.IsZero() || !got.CreatedAt.Equal(got.UpdatedAt) {
		t.Errorf("got %+v", got)
	}
	if !bytes.Equal(encode(t, got.Doc), encode(t, doc)) {
		t.Error("the document came back changed")
	}
}

func TestSave(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "First")
	before := get(t, s, id)
	next := labelled(before.Doc, "Second")
	version, err := s.Save(t.Context(), id, 1, next)
	if err != nil || version != 2 {
		t.Fatalf("version %d, %v; want 2", version, err)
	}
	after := get(t, s, id)
	if after.Version != 2 || after.Doc.Site.Label != "Second" || !after.UpdatedAt.After(before.UpdatedAt) || !after.CreatedAt.Equal(before.CreatedAt) {
		t.Errorf("got %+v", after)
	}
}

func TestASaveWhoseAnswerWasLostMayBeRepeated(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "First")
	next := labelled(get(t, s, id).Doc, "Second")
	for range 3 {
		version, err := s.Save(t.Context(), id, 1, next)
		if err != nil || version != 2 {
			t.Fatalf("version %d, %v; want 2 each time", version, err)
		}
	}
	updated := get(t, s, id).UpdatedAt
	if version, err := s.Save(t.Context(), id, 2, next); err != nil || version != 2 {
		t.Errorf("saving what is stored: version %d, %v; want 2", version, err)
	}
	if !get(t, s, id).UpdatedAt.Equal(updated) {
		t.Error("saving what is stored moved the time of the last change")
	}
}

func TestAStaleSaveChangesNothing(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "First")
	doc := get(t, s, id).Doc
	if _, err := s.Save(t.Context(), id, 1, labelled(doc, "Theirs")); err != nil {
		t.Fatal(err)
	}
	for _, base := range []int{0, 1, 3, -1} {
		_, err := s.Save(t.Context(), id, base, labelled(doc, "Mine"))
		stale, ok := errors.AsType[*project.StaleError](err)
		if !ok {
			t.Fatalf("base %d: got %v, want *project.StaleError", base, err)
		}
		if stale.Current.Version != 2 || stale.Current.Doc.Site.Label != "Theirs" || stale.Current.ID != id {
			t.Errorf("base %d: current is %+v", base, stale.Current)
		}
	}
	if got := get(t, s, id); got.Version != 2 || got.Doc.Site.Label != "Theirs" {
		t.Errorf("stored is %+v", got)
	}
}

// TestConcurrentSavers lets savers race from the same version, round after
// round: exactly one wins each, and nothing that was acknowledged is lost.
func TestConcurrentSavers(t *testing.T) {
	const savers, rounds = 8, 6
	s := newStore(t)
	id := create(t, s, "Start")
	base := get(t, s, id)
	for round := 1; round <= rounds; round++ {
		var wins atomic.Int64
		var winner atomic.Value
		var wait sync.WaitGroup
		for n := range savers {
			wait.Go(func() {
				label := fmt.Sprintf("round %d saver %d", round, n)
				version, err := s.Save(t.Context(), id, base.Version, labelled(base.Doc, label))
				_, stale := errors.AsType[*project.StaleError](err)
				switch {
				case err == nil && version == base.Version+1:
					wins.Add(1)
					winner.Store(label)
				case !stale:
					t.Errorf("%s: version %d, %v", label, version, err)
				}
			})
		}
		wait.Wait()
		if wins.Load() != 1 {
			t.Fatalf("round %d: %d savers won, want 1", round, wins.Load())
		}
		base = get(t, s, id)
		if base.Doc.Site.Label != winner.Load() {
			t.Fatalf("round %d: stored %q, won %q", round, base.Doc.Site.Label, winner.Load())
		}
	}
}

func TestReadersDoNotWaitForAWriter(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "Read me")
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Second)
	defer cancel()
	err := s.inWrite(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `UPDATE projects SET archived = 1`); err != nil {
			return err
		}
		got, err := s.Get(ctx, id)
		if err == nil && got.Archived {
			t.Error("a reader saw what is not committed")
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

func TestEarlierVersionsAreKept(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "v1")
	doc := get(t, s, id).Doc
	const saves = versionsKept + 7
	for v := 1; v <= saves; v++ {
		if _, err := s.Save(t.Context(), id, v, labelled(doc, fmt.Sprintf("v%d", v+1))); err != nil {
			t.Fatal(err)
		}
	}
	var n, first, last int
	row := s.read.QueryRow(`SELECT count(*), min(version), max(version) FROM project_versions WHERE project_id = ?`, id)
	if err := row.Scan(&n, &first, &last); err != nil {
		t.Fatal(err)
	}
	if n != versionsKept || last != saves || first != saves-versionsKept+1 {
		t.Errorf("%d versions %d to %d, want %d up to %d", n, first, last, versionsKept, saves)
	}
	var data []byte
	if err := s.read.QueryRow(`SELECT doc FROM project_versions WHERE version = ?`, last).Scan(&data); err != nil {
		t.Fatal(err)
	}
	if want := encode(t, labelled(doc, fmt.Sprintf("v%d", last))); !bytes.Equal(data, want) {
		t.Errorf("version %d is %s", last, data)
	}
}

func TestListIsSortedByLastChange(t *testing.T) {
	s := newStore(t)
	a := create(t, s, "a")
	create(t, s, "b")
	create(t, s, "c")
	if got := labels(t, s, project.ListQuery{}); got != "c|b|a" {
		t.Errorf("got %s", got)
	}
	if _, err := s.Save(t.Context(), a, 1, labelled(get(t, s, a).Doc, "a2")); err != nil {
		t.Fatal(err)
	}
	if got := labels(t, s, project.ListQuery{}); got != "a2|c|b" {
		t.Errorf("after a save: %s", got)
	}
}

func TestSearch(t *testing.T) {
	s := newStore(t)
	for _, label := range []string{"Mill Lane 4", "50% shade", `back\slash`, "under_score", "Überweg ÉLAN", "plain"} {
		create(t, s, label)
	}
	tests := []struct{ search, want string }{
		{"mill", "Mill Lane 4"},
		{"LANE", "Mill Lane 4"},
		{"%", "50% shade"},
		{"_", "under_score"},
		{`\`, `back\slash`},
		{"überweg élan", "Überweg ÉLAN"},
		{"lan", "Überweg ÉLAN|Mill Lane 4"},
		{"' OR 1=1 --", ""},
		{"nowhere", ""},
	}
	for _, tt := range tests {
		if got := labels(t, s, project.ListQuery{Search: tt.search}); got != tt.want {
			t.Errorf("search %q: got %q, want %q", tt.search, got, tt.want)
		}
	}
}

func TestSearchFollowsANewLabel(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "Old name")
	if _, err := s.Save(t.Context(), id, 1, labelled(get(t, s, id).Doc, "New name")); err != nil {
		t.Fatal(err)
	}
	if got := labels(t, s, project.ListQuery{Search: "old"}); got != "" {
		t.Errorf("the old name still finds %q", got)
	}
	if got := labels(t, s, project.ListQuery{Search: "new"}); got != "New name" {
		t.Errorf("the new name finds %q", got)
	}
}

func TestArchive(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "Move me")
	create(t, s, "Stay")
	updated := get(t, s, id).UpdatedAt
	if err := s.SetArchived(t.Context(), id, true); err != nil {
		t.Fatal(err)
	}
	if got := labels(t, s, project.ListQuery{}); got != "Stay" {
		t.Errorf("list: %s", got)
	}
	if got := labels(t, s, project.ListQuery{Archived: true}); got != "Move me" {
		t.Errorf("archive: %s", got)
	}
	if got := get(t, s, id); !got.Archived || !got.UpdatedAt.Equal(updated) || got.Version != 1 {
		t.Errorf("got %+v", got)
	}
	if err := s.SetArchived(t.Context(), id, false); err != nil {
		t.Fatal(err)
	}
	if got := labels(t, s, project.ListQuery{}); got != "Stay|Move me" {
		t.Errorf("after restoring: %s", got)
	}
}

func TestDuplicate(t *testing.T) {
	s := newStore(t)
	id, err := s.Create(t.Context(), project.Demo())
	if err != nil {
		t.Fatal(err)
	}
	if err := s.SetArchived(t.Context(), id, true); err != nil {
		t.Fatal(err)
	}
	copyID, err := s.Duplicate(t.Context(), id)
	if err != nil || copyID == id {
		t.Fatalf("id %q, %v", copyID, err)
	}
	got := get(t, s, copyID)
	want := project.Demo()
	want.Site.Label += " (copy)"
	if got.Archived || got.Version != 1 || !bytes.Equal(encode(t, got.Doc), encode(t, want)) {
		t.Errorf("got %+v", got)
	}
	if original := get(t, s, id); original.Doc.Site.Label != project.Demo().Site.Label {
		t.Errorf("the original became %q", original.Doc.Site.Label)
	}
}

func TestCopyLabelStaysWithinTheLimit(t *testing.T) {
	tests := []struct{ name, label, want string }{
		{"short", "Roof", "Roof (copy)"},
		{"copy of a copy", "Roof (copy)", "Roof (copy) (copy)"},
		{"full", strings.Repeat("x", 120), strings.Repeat("x", 113) + " (copy)"},
		{"full of wide characters", strings.Repeat("é", 120), strings.Repeat("é", 113) + " (copy)"},
		{"cut at a space", strings.Repeat("x", 112) + " yyyyyyy", strings.Repeat("x", 112) + " (copy)"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := copyLabel(tt.label, " (copy)")
			if got != tt.want {
				t.Errorf("got %q", got)
			}
			if problems := project.New(got).Validate(); len(problems) > 0 {
				t.Errorf("the label is not valid: %v", problems)
			}
		})
	}
}

func TestUnknownIDs(t *testing.T) {
	s := newStore(t)
	create(t, s, "Other")
	for _, id := range []string{"", "nobody", "p1' OR '1'='1"} {
		_, getErr := s.Get(t.Context(), id)
		_, saveErr := s.Save(t.Context(), id, 1, project.New("x"))
		_, copyErr := s.Duplicate(t.Context(), id)
		_, versionErr := s.CopyVersion(t.Context(), id, 1)
		for what, err := range map[string]error{
			"get": getErr, "save": saveErr, "duplicate": copyErr, "copy version": versionErr, "archive": s.SetArchived(t.Context(), id, true),
		} {
			if !errors.Is(err, project.ErrNotFound) {
				t.Errorf("%s of %q: got %v, want project.ErrNotFound", what, id, err)
			}
		}
	}
}

// TestABrokenDocument damages one of two documents: it is told apart and given
// as it is, and the list goes on.
func TestABrokenDocument(t *testing.T) {
	s := newStore(t)
	id := create(t, s, "Broken House")
	create(t, s, "Fine")
	const damaged = `{"schema":1}`
	if _, err := s.write.Exec(`UPDATE projects SET doc = CAST(? AS BLOB) WHERE id = ?`, damaged, id); err != nil {
		t.Fatal(err)
	}
	_, err := s.Get(t.Context(), id)
	broken, is := errors.AsType[*project.UnreadableError](err)
	if !is || broken.Row.ID != id || string(broken.Data) != damaged || broken.Reason == "" {
		t.Fatalf("got %v, want an error with the stored bytes", err)
	}
	if _, ok := errors.AsType[project.Problems](err); ok {
		t.Error("a broken stored document is reported like a user's mistake")
	}
	rows, err := s.List(t.Context(), project.ListQuery{})
	if err != nil || len(rows) != 2 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	if !reflect.DeepEqual(rows[1], broken.Row) || !rows[1].Unreadable || rows[1].Label != "broken house" {
		t.Errorf("the list has %+v", rows[1])
	}
	if rows[0].Unreadable {
		t.Errorf("the sound project is called unreadable: %+v", rows[0])
	}
	for what, err := range map[string]error{
		"save":      func() error { _, err := s.Save(t.Context(), id, 1, project.New("x")); return err }(),
		"duplicate": func() error { _, err := s.Duplicate(t.Context(), id); return err }(),
	} {
		if _, is := errors.AsType[*project.UnreadableError](err); !is {
			t.Errorf("%s: got %v", what, err)
		}
	}
	if err := s.SetArchived(t.Context(), id, true); err != nil {
		t.Errorf("archive: %v", err)
	}
}

func TestCreateFirst(t *testing.T) {
	s := newStore(t)
	created, err := s.CreateFirst(t.Context(), project.Demo())
	if err != nil || !created {
		t.Fatalf("created %v, %v", created, err)
	}
	rows, err := s.List(t.Context(), project.ListQuery{})
	if err != nil || len(rows) != 1 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	if err := s.SetArchived(t.Context(), rows[0].ID, true); err != nil {
		t.Fatal(err)
	}
	if created, err := s.CreateFirst(t.Context(), project.Demo()); err != nil || created {
		t.Errorf("with one archived project: created %v, %v", created, err)
	}
}

func TestEverythingIsThereAfterReopening(t *testing.T) {
	// A name that has to be escaped in the connection string.
	path := filepath.Join(t.TempDir(), "100% roofs? #1 & more.db")
	var c clock
	config := Config{Path: path, Now: c.now, NewID: func() string { return "only" }}
	s, err := Open(t.Context(), config)
	if err != nil {
		t.Fatal(err)
	}
	id := create(t, s, "Keep")
	if _, err := s.Save(t.Context(), id, 1, labelled(get(t, s, id).Doc, "Kept")); err != nil {
		t.Fatal(err)
	}
	want := get(t, s, id)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	again := openAt(t, path)
	got := get(t, again, id)
	if got.Version != 2 || got.Doc.Site.Label != "Kept" || !got.UpdatedAt.Equal(want.UpdatedAt) {
		t.Errorf("got %+v", got)
	}
	if found, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*")); err != nil || len(found) == 0 || !strings.HasPrefix(found[0], path) {
		t.Errorf("files are %q, %v", found, err)
	}
}

// TestEveryConnectionHasTheSettings holds all connections at once, so that
// the pool has to make each of them.
func TestEveryConnectionHasTheSettings(t *testing.T) {
	s := newStore(t)
	tests := []struct {
		name      string
		db        *sql.DB
		size      int
		queryOnly string
	}{{"writer", s.write, 1, "0"}, {"readers", s.read, readers, "1"}}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for i := range tt.size {
				conn, err := tt.db.Conn(t.Context())
				if err != nil {
					t.Fatal(err)
				}
				defer conn.Close()
				for pragma, want := range map[string]string{
					"journal_mode": "wal", "foreign_keys": "1", "busy_timeout": busyTimeoutMS, "synchronous": "2", "query_only": tt.queryOnly,
				} {
					var got string
					if err := conn.QueryRowContext(t.Context(), "PRAGMA "+pragma).Scan(&got); err != nil || got != want {
						t.Errorf("connection %d: %s is %q, %v; want %q", i, pragma, got, err, want)
					}
				}
			}
			if got := tt.db.Stats().MaxOpenConnections; got != tt.size {
				t.Errorf("pool of %d, want %d", got, tt.size)
			}
		})
	}
}
