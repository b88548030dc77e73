package main

import (
	"context"
	"database/sql"
	"encoding/json"
	"log/slog"
	"net/http"
	"net/url"
	"path/filepath"
	"testing"

	"rooftally/catalog"
)

// listed counts the entries that an address of the API gives.
func listed(t *testing.T, base, path string) int {
	t.Helper()
	_, body := read(t, base+path)
	var list []json.RawMessage
	if err := json.Unmarshal([]byte(body), &list); err != nil {
		t.Fatalf("%s: %v: %.200s", path, err, body)
	}
	return len(list)
}

func TestTheFirstStartFillsTheCatalog(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	for path, want := range map[string]int{
		"/api/catalog":         len(catalog.DemoDatasheets()),
		"/api/inverters":       len(catalog.DemoInverters()),
		"/api/micro-inverters": len(catalog.DemoMicroInverters()),
		"/api/optimisers":      len(catalog.DemoOptimisers()),
	} {
		if got := listed(t, base, path); got != want {
			t.Errorf("%s has %d, want %d", path, got, want)
		}
	}
}

func TestDeletedDemoEntriesStayAway(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	base := startApp(t, path)
	r, err := http.PostForm(base+"/catalog/optimisers/delete?id=demo-opt-600", url.Values{"version": {"1"}})
	if err != nil {
		t.Fatal(err)
	}
	_ = r.Body.Close()
	again := startApp(t, path)
	if got := listed(t, again, "/api/optimisers"); got != 0 {
		t.Errorf("%d optimisers after the only one was deleted", got)
	}
	if got := listed(t, again, "/api/inverters"); got != len(catalog.DemoInverters()) {
		t.Errorf("%d inverters", got)
	}
}

// TestAnOlderDatabaseGetsTheCatalog takes a database back to what it was before
// there was a catalog, which is without the tables of the third migration and
// those after it.
func TestAnOlderDatabaseGetsTheCatalog(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	closed, stop := context.WithCancel(t.Context())
	stop()
	a, err := newApp(t.Context(), serveConfig{dbPath: path, listen: "127.0.0.1:0"}, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	if err := a.serve(closed); err != nil {
		t.Fatal(err)
	}
	db, err := sql.Open("sqlite3", path)
	if err != nil {
		t.Fatal(err)
	}
	for _, statement := range []string{
		`DROP TABLE catalog_lists`, `DROP TABLE module_sheets`, `DROP TABLE string_inverters`, `DROP TABLE micro_inverters`, `DROP TABLE optimisers`,
		`DROP TABLE weather_files`,
		`DELETE FROM schema_migrations WHERE number >= 3`,
	} {
		if _, err := db.Exec(statement); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	base := startApp(t, path)
	if got := listed(t, base, "/api/catalog"); got != len(catalog.DemoDatasheets()) {
		t.Errorf("%d modules", got)
	}
	if _, doc := demoOf(t, base); len(doc.Candidates) != 3 {
		t.Errorf("the project has %d candidates", len(doc.Candidates))
	}
}
