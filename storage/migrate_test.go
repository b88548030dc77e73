package storage

import (
	"database/sql"
	"errors"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"rooftally/migrations"
	"rooftally/project"
)

const usersSQL = `CREATE TABLE t (id INTEGER PRIMARY KEY) STRICT;`

// files makes migrations from name, text pairs.
func files(pairs ...string) fstest.MapFS {
	fsys := fstest.MapFS{}
	for i := 0; i < len(pairs); i += 2 {
		fsys[pairs[i]] = &fstest.MapFile{Data: []byte(pairs[i+1])}
	}
	return fsys
}

func testConfig(path string) Config {
	n := 0
	return Config{
		Path:  path,
		Now:   func() time.Time { return time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC) },
		NewID: func() string { n++; return "p" + string(rune('0'+n)) },
	}
}

// opens opens and closes a database with the given migrations.
func opens(t *testing.T, path string, fsys fstest.MapFS) error {
	t.Helper()
	s, err := open(t.Context(), testConfig(path), fsys)
	if err != nil {
		return err
	}
	return s.Close()
}

func TestMigrationsAreAppliedOnceInOrder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	one := files("0001_t.sql", usersSQL)
	if err := opens(t, path, one); err != nil {
		t.Fatal(err)
	}
	if err := opens(t, path, one); err != nil {
		t.Fatalf("opening again: %v", err)
	}
	two := files("0001_t.sql", usersSQL, "0002_u.sql", `ALTER TABLE t ADD COLUMN name TEXT;`)
	if err := opens(t, path, two); err != nil {
		t.Fatalf("with one more migration: %v", err)
	}
	db, err := connect(path, 1, url.Values{})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rows, err := db.Query(`SELECT number, name, length(sha256), applied_at FROM schema_migrations ORDER BY number`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var got []string
	for rows.Next() {
		var number, hashLength, at int
		var name string
		if err := rows.Scan(&number, &name, &hashLength, &at); err != nil {
			t.Fatal(err)
		}
		if hashLength != 64 || at == 0 {
			t.Errorf("migration %d: hash of %d characters, applied at %d", number, hashLength, at)
		}
		got = append(got, name)
	}
	if strings.Join(got, " ") != "0001_t.sql 0002_u.sql" {
		t.Errorf("recorded %q", got)
	}
	if _, err := db.Exec(`INSERT INTO t (name) VALUES ('x')`); err != nil {
		t.Errorf("second migration had no effect: %v", err)
	}
}

func TestAChangedMigrationIsRefused(t *testing.T) {
	tests := []struct {
		name  string
		then  fstest.MapFS
		words string
	}{
		{"text changed", files("0001_t.sql", usersSQL+"\n-- one more line"), "has changed since it was applied"},
		{"name changed", files("0001_s.sql", usersSQL), "was applied as 0001_t.sql, but this program has 0001_s.sql"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "a.db")
			if err := opens(t, path, files("0001_t.sql", usersSQL)); err != nil {
				t.Fatal(err)
			}
			err := opens(t, path, tt.then)
			changed, ok := errors.AsType[*ChangedError](err)
			if !ok || changed.Number != 1 {
				t.Fatalf("got %v, want *ChangedError of migration 1", err)
			}
			if !strings.Contains(err.Error(), tt.words) || !strings.Contains(err.Error(), path) {
				t.Errorf("message %q lacks %q or the path", err, tt.words)
			}
		})
	}
}

func TestANewerDatabaseIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	if err := opens(t, path, files("0001_t.sql", usersSQL, "0002_u.sql", `CREATE TABLE u (id INTEGER) STRICT;`)); err != nil {
		t.Fatal(err)
	}
	err := opens(t, path, files("0001_t.sql", usersSQL))
	newer, ok := errors.AsType[*NewerError](err)
	if !ok || newer.Database != 2 || newer.Program != 1 {
		t.Fatalf("got %v, want *NewerError 2 over 1", err)
	}
	if !strings.Contains(err.Error(), "use a newer program") {
		t.Errorf("message %q does not say what to do", err)
	}
}

func TestATornRecordIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	fsys := files("0001_t.sql", usersSQL, "0002_u.sql", `CREATE TABLE u (id INTEGER) STRICT;`)
	if err := opens(t, path, fsys); err != nil {
		t.Fatal(err)
	}
	execIn(t, path, `DELETE FROM schema_migrations WHERE number = 1`)
	if err := opens(t, path, fsys); err == nil || !strings.Contains(err.Error(), "lacks migration 1") {
		t.Errorf("got %v", err)
	}
}

func TestAFailedMigrationLeavesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	bad := files("0001_t.sql", usersSQL, "0002_bad.sql", `CREATE TABLE half (id INTEGER) STRICT; SELECT no_such_function();`)
	if err := opens(t, path, bad); err == nil || !strings.Contains(err.Error(), "0002_bad.sql") {
		t.Fatalf("got %v, want an error that names the file", err)
	}
	good := files("0001_t.sql", usersSQL, "0002_good.sql", `CREATE TABLE half (id INTEGER) STRICT;`)
	if err := opens(t, path, good); err != nil {
		t.Errorf("after a repaired migration: %v", err)
	}
}

func TestAMigrationMustNotBreakForeignKeys(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	err := opens(t, path, files("0001_t.sql", `PRAGMA defer_foreign_keys = on;
		CREATE TABLE t (id INTEGER PRIMARY KEY) STRICT;
		CREATE TABLE u (t INTEGER REFERENCES t (id)) STRICT;
		INSERT INTO u VALUES (7);`))
	if err == nil || !strings.Contains(err.Error(), "table u") {
		t.Errorf("got %v, want an error that names the table", err)
	}
}

func TestMigrationNames(t *testing.T) {
	tests := []struct {
		name, want string
		files      fstest.MapFS
	}{
		{"gap", "0003_b.sql: number 2", files("0001_a.sql", usersSQL, "0003_b.sql", "")},
		{"not from 1", "number 1", files("0002_a.sql", usersSQL)},
		{"no number", "must be like", files("first.sql", usersSQL)},
		{"same number twice", "number 2", files("0001_a.sql", usersSQL, "0001_b.sql", "")},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "a.db")
			if err := opens(t, path, tt.files); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
			if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
				t.Error("the file was made although the migrations are unusable")
			}
		})
	}
}

func TestAForeignFileIsLeftAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	execIn(t, path, `CREATE TABLE recipes (id INTEGER)`)
	if _, err := Open(t.Context(), testConfig(path)); !errors.Is(err, ErrForeign) {
		t.Fatalf("got %v, want ErrForeign", err)
	}
	db, err := sql.Open("sqlite3", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var n int
	if err := db.QueryRow(`SELECT count(*) FROM sqlite_schema`).Scan(&n); err != nil || n != 1 {
		t.Errorf("%d tables, %v; want the one that was there", n, err)
	}
}

func TestATextFileIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	text := strings.Repeat("not a database\n", 100)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(t.Context(), testConfig(path)); err == nil || !strings.Contains(err.Error(), path) {
		t.Errorf("got %v, want an error that names the file", err)
	}
}

// TestReleasedDatabasesOpen opens a database as release 1 of the schema made
// it, with a project in it, with the program's own migrations.
func TestReleasedDatabasesOpen(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	first, err := migrations.Files.ReadFile("0001_projects.sql")
	if err != nil {
		t.Fatal(err)
	}
	s, err := open(t.Context(), testConfig(path), files("0001_projects.sql", string(first)))
	if err != nil {
		t.Fatal(err)
	}
	id, err := s.Create(t.Context(), project.New("Kept"))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s, err = Open(t.Context(), testConfig(path))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if got, err := s.Get(t.Context(), id); err != nil || got.Doc.Site.Label != "Kept" {
		t.Errorf("got %q, %v", got.Doc.Site.Label, err)
	}
}

// execIn runs a statement on a closed database.
func execIn(t *testing.T, path, statement string) {
	t.Helper()
	db, err := sql.Open("sqlite3", path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(statement); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}
