package web

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"rooftally/project"
)

// testNow is the time of every test.
var testNow = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

// fakeProjects keeps projects in memory and behaves as Projects says.
type fakeProjects struct {
	mu       sync.Mutex
	byID     map[string]project.Stored
	versions map[string][]project.Version
	// broken holds the projects whose documents cannot be read.
	broken map[string]*project.UnreadableError
	// fail, if set, is what every call returns.
	fail error
}

func (f *fakeProjects) List(_ context.Context, q project.ListQuery) ([]project.Row, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	var rows []project.Row
	for _, p := range f.byID {
		if p.Archived == q.Archived && strings.Contains(strings.ToLower(p.Doc.Site.Label), strings.ToLower(q.Search)) {
			rows = append(rows, p.Row())
		}
	}
	for _, b := range f.broken {
		if b.Row.Archived == q.Archived {
			rows = append(rows, b.Row)
		}
	}
	slices.SortFunc(rows, func(a, b project.Row) int { return strings.Compare(a.ID, b.ID) })
	return rows, f.fail
}

func (f *fakeProjects) Get(_ context.Context, id string) (project.Stored, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.get(id)
}

func (f *fakeProjects) get(id string) (project.Stored, error) {
	if f.fail != nil {
		return project.Stored{}, f.fail
	}
	if b, is := f.broken[id]; is {
		return project.Stored{}, fmt.Errorf("get project %s: %w", id, b)
	}
	p, ok := f.byID[id]
	if !ok {
		return project.Stored{}, fmt.Errorf("get project %s: %w", id, project.ErrNotFound)
	}
	return p, nil
}

func (f *fakeProjects) Create(_ context.Context, doc project.Document) (string, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.fail != nil {
		return "", f.fail
	}
	id := fmt.Sprintf("n%d", len(f.byID)+1)
	f.byID[id] = project.Stored{ID: id, Version: 1, Doc: doc, CreatedAt: testNow, UpdatedAt: testNow}
	return id, nil
}

func (f *fakeProjects) Save(_ context.Context, id string, base int, doc project.Document) (int, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	p, err := f.get(id)
	switch {
	case err != nil:
		return 0, err
	case reflect.DeepEqual(p.Doc, doc):
		return p.Version, nil
	case p.Version != base:
		return 0, fmt.Errorf("save project %s: %w", id, &project.StaleError{Current: p})
	}
	p.Doc = doc
	p.Version++
	f.byID[id] = p
	return p.Version, nil
}

func (f *fakeProjects) Duplicate(ctx context.Context, id string) (string, error) {
	p, err := f.Get(ctx, id)
	if err != nil {
		return "", err
	}
	return f.Create(ctx, p.Doc)
}

func (f *fakeProjects) SetArchived(_ context.Context, id string, archived bool) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	p, err := f.get(id)
	if err != nil {
		return err
	}
	p.Archived = archived
	f.byID[id] = p
	return nil
}

func (f *fakeProjects) Versions(_ context.Context, id string) ([]project.Version, error) {
	return f.versions[id], f.fail
}

func (f *fakeProjects) CopyVersion(ctx context.Context, id string, version int) (string, error) {
	for _, v := range f.versions[id] {
		if v.Number == version {
			return f.Create(ctx, v.Doc)
		}
	}
	return "", fmt.Errorf("copy version %d of project %s: %w", version, id, project.ErrNotFound)
}

// longName is a name of 120 characters that looks like markup.
var longName = "<b>Long & \"quoted\"</b> " + strings.Repeat("x", 97)

// newFake has one project of each kind that the pages meet:
// "demo" at version 3, "empty", "old" in the archive.
func newFake() *fakeProjects {
	put := func(id string, version int, archived bool, doc project.Document) project.Stored {
		return project.Stored{ID: id, Version: version, Archived: archived, Doc: doc, CreatedAt: testNow, UpdatedAt: testNow}
	}
	return &fakeProjects{byID: map[string]project.Stored{
		"demo":  put("demo", 3, false, project.Demo()),
		"empty": put("empty", 1, false, project.New(longName)),
		"old":   put("old", 1, true, project.New("Archived house")),
	}}
}

func newHandler(t *testing.T, projects Projects) http.Handler {
	t.Helper()
	handler, err := New(Config{
		Projects: projects,
		Catalog:  newFakeCatalog(),
		Weather:  newFakeWeather(),
		Log:      slog.New(slog.DiscardHandler),
		Now:      func() time.Time { return testNow },
		Hosts:    []string{"roofs.example"},
		Until:    t.Context(),
	})
	if err != nil {
		t.Fatal(err)
	}
	return handler
}

// fetch sends a request to a fresh handler.
func fetch(t *testing.T, projects Projects, method, target, body string, header map[string]string) *http.Response {
	t.Helper()
	r := httptest.NewRequestWithContext(t.Context(), method, target, strings.NewReader(body))
	r.Host = "127.0.0.1:8787"
	for name, value := range header {
		if name == "Host" {
			r.Host = value
			continue
		}
		r.Header.Set(name, value)
	}
	w := httptest.NewRecorder()
	newHandler(t, projects).ServeHTTP(w, r)
	return w.Result()
}

func bodyOf(t *testing.T, r *http.Response) string {
	t.Helper()
	data, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func encoded(t *testing.T, doc project.Document) string {
	t.Helper()
	data, err := project.Encode(doc)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

var errBroken = errors.New("disk on fire in /secret/place")
