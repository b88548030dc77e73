package storage

import (
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"rooftally/catalog"
	"rooftally/migrations"
	"rooftally/project"
)

// modules reads the modules and fails the test if it cannot.
func modules(t *testing.T, s *Store) ([]catalog.Datasheet, int) {
	t.Helper()
	list, version, err := s.Modules(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return list, version
}

// replaceModules must replace them.
func replaceModules(t *testing.T, s *Store, base int, list []catalog.Datasheet) {
	t.Helper()
	if replaced, err := s.ReplaceModules(t.Context(), base, list); err != nil || !replaced {
		t.Fatalf("replaced %v, %v", replaced, err)
	}
}

func TestListsComeBackAsTheyWent(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	s := openAt(t, path)
	ctx := t.Context()
	steps := []struct {
		name string
		fill func() (bool, error)
		read func(*Store) (any, int, error)
		want any
	}{
		{"modules", func() (bool, error) { return s.ReplaceModules(ctx, 0, catalog.DemoDatasheets()) },
			func(s *Store) (any, int, error) { return anyList(s.Modules(ctx)) }, catalog.DemoDatasheets()},
		{"inverters", func() (bool, error) { return s.ReplaceInverters(ctx, 0, catalog.DemoInverters()) },
			func(s *Store) (any, int, error) { return anyList(s.Inverters(ctx)) }, catalog.DemoInverters()},
		{"micro-inverters", func() (bool, error) { return s.ReplaceMicroInverters(ctx, 0, catalog.DemoMicroInverters()) },
			func(s *Store) (any, int, error) { return anyList(s.MicroInverters(ctx)) }, catalog.DemoMicroInverters()},
		{"optimisers", func() (bool, error) { return s.ReplaceOptimisers(ctx, 0, catalog.DemoOptimisers()) },
			func(s *Store) (any, int, error) { return anyList(s.Optimisers(ctx)) }, catalog.DemoOptimisers()},
	}
	for _, step := range steps {
		t.Run(step.name, func(t *testing.T) {
			got, version, err := step.read(s)
			if err != nil || version != 0 || reflect.ValueOf(got).Len() != 0 || reflect.ValueOf(got).IsNil() {
				t.Errorf("before: %v at version %d, %v; want an empty list at 0", got, version, err)
			}
			if replaced, err := step.fill(); err != nil || !replaced {
				t.Fatalf("replaced %v, %v", replaced, err)
			}
			again := openAt(t, path)
			if got, version, err = step.read(again); err != nil || version != 1 || !reflect.DeepEqual(got, step.want) {
				t.Errorf("version %d, %v:\n got %+v\nwant %+v", version, err, got, step.want)
			}
		})
	}
}

func anyList[T any](list []T, version int, err error) (any, int, error) { return list, version, err }

func TestAListIsReplacedAtItsVersionOnly(t *testing.T) {
	s := newStore(t)
	demo := catalog.DemoDatasheets()
	replaceModules(t, s, 0, demo)
	replaceModules(t, s, 1, demo[:2])
	for _, base := range []int{-1, 0, 1, 3} {
		if replaced, err := s.ReplaceModules(t.Context(), base, demo[5:]); replaced || err != nil {
			t.Errorf("base %d over version 2: replaced %v, %v", base, replaced, err)
		}
	}
	if got, version := modules(t, s); version != 2 || !reflect.DeepEqual(got, demo[:2]) {
		t.Errorf("version %d, %d modules", version, len(got))
	}
	if _, version, err := s.Inverters(t.Context()); err != nil || version != 0 {
		t.Errorf("the inverters are at version %d, %v", version, err)
	}
}

// TestAnEmptiedListStaysEmpty is why the demo entries do not come back.
func TestAnEmptiedListStaysEmpty(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	s := openAt(t, path)
	replaceModules(t, s, 0, catalog.DemoDatasheets())
	replaceModules(t, s, 1, nil)
	again := openAt(t, path)
	if replaced, err := again.ReplaceModules(t.Context(), 0, catalog.DemoDatasheets()); replaced || err != nil {
		t.Errorf("filled again: %v, %v", replaced, err)
	}
	if got, version := modules(t, again); len(got) != 0 || version != 2 {
		t.Errorf("%d modules at version %d", len(got), version)
	}
}

// TestAFailedReplacementLeavesTheList gives one ID twice, after entries that
// could be kept.
func TestAFailedReplacementLeavesTheList(t *testing.T) {
	s := newStore(t)
	demo := catalog.DemoDatasheets()
	replaceModules(t, s, 0, demo[:3])
	twice := append(catalog.DemoDatasheets()[3:], demo[4])
	if replaced, err := s.ReplaceModules(t.Context(), 1, twice); err == nil || replaced || !strings.Contains(err.Error(), demo[4].ID) {
		t.Errorf("replaced %v, %v; want an error that names %s", replaced, err, demo[4].ID)
	}
	if got, version := modules(t, s); version != 1 || !reflect.DeepEqual(got, demo[:3]) {
		t.Errorf("version %d, %d modules", version, len(got))
	}
}

func TestOnlyChangedEntriesGetANewTime(t *testing.T) {
	s := newStore(t)
	demo := catalog.DemoDatasheets()[:3]
	replaceModules(t, s, 0, demo)
	times := func() map[string]int64 {
		t.Helper()
		out := map[string]int64{}
		rows, err := s.read.Query(`SELECT id, updated_at FROM module_sheets`)
		if err != nil {
			t.Fatal(err)
		}
		defer rows.Close()
		for rows.Next() {
			var id string
			var at int64
			if err := rows.Scan(&id, &at); err != nil {
				t.Fatal(err)
			}
			out[id] = at
		}
		return out
	}
	before := times()
	changed := []catalog.Datasheet{demo[2], demo[0], demo[1]}
	changed[1].Price++
	replaceModules(t, s, 1, changed)
	after := times()
	for i, want := range []bool{false, true, false} {
		if id := changed[i].ID; (after[id] > before[id]) != want {
			t.Errorf("%s: from %d to %d; changed %v", id, before[id], after[id], want)
		}
	}
	if got, _ := modules(t, s); !reflect.DeepEqual(got, changed) {
		t.Errorf("the order is %s, %s, %s", got[0].ID, got[1].ID, got[2].ID)
	}
}

func TestABrokenEntryIsNamed(t *testing.T) {
	s := newStore(t)
	replaceModules(t, s, 0, catalog.DemoDatasheets())
	for _, body := range []string{`{`, `{"colour":"blue"}`} {
		if _, err := s.write.Exec(`UPDATE module_sheets SET body = CAST(? AS BLOB) WHERE id = 'demo-360-medium'`, body); err != nil {
			t.Fatal(err)
		}
		if list, _, err := s.Modules(t.Context()); err == nil || list != nil || !strings.Contains(err.Error(), "demo-360-medium") {
			t.Errorf("%s: %d modules, %v", body, len(list), err)
		}
	}
}

// TestTheCatalogComesToAnOlderDatabase opens a database as schema 2 made it.
func TestTheCatalogComesToAnOlderDatabase(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	var pairs []string
	for _, name := range []string{"0001_projects.sql", "0002_contested_versions.sql"} {
		text, err := migrations.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		pairs = append(pairs, name, string(text))
	}
	old, err := open(t.Context(), testConfig(path), files(pairs...))
	if err != nil {
		t.Fatal(err)
	}
	id := create(t, old, "Kept")
	if err := old.Close(); err != nil {
		t.Fatal(err)
	}
	s := openAt(t, path)
	replaceModules(t, s, 0, catalog.DemoDatasheets())
	if got := get(t, s, id); got.Doc.Site.Label != "Kept" || got.Version != 1 {
		t.Errorf("the project is version %d of %q", got.Version, got.Doc.Site.Label)
	}
}

// TestProjectsKeepTheirCopies changes and empties the catalog beside a project.
func TestProjectsKeepTheirCopies(t *testing.T) {
	s := newStore(t)
	replaceModules(t, s, 0, catalog.DemoDatasheets())
	id, err := s.Create(t.Context(), project.Demo())
	if err != nil {
		t.Fatal(err)
	}
	before := get(t, s, id)
	changed := catalog.DemoDatasheets()
	for i := range changed {
		changed[i].PmaxW++
	}
	replaceModules(t, s, 1, changed)
	replaceModules(t, s, 2, nil)
	if after := get(t, s, id); !reflect.DeepEqual(after, before) {
		t.Errorf("the project changed from %+v to %+v", before, after)
	}
}
