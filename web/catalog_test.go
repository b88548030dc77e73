package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"reflect"
	"strings"
	"testing"
	"time"

	"rooftally/catalog"
)

// askCatalog sends a request to a server with the given catalog.
func askCatalog(t *testing.T, c *fakeCatalog, method, target, body string, header map[string]string) (status int, location, answer string) {
	t.Helper()
	handler, err := New(Config{Projects: newFake(), Catalog: c, Now: func() time.Time { return testNow }, Until: t.Context()})
	if err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequestWithContext(t.Context(), method, target, strings.NewReader(body))
	r.Host = "127.0.0.1:8787"
	for name, value := range header {
		r.Header.Set(name, value)
	}
	w := httptest.NewRecorder()
	handler.ServeHTTP(w, r)
	return w.Code, w.Header().Get("Location"), w.Body.String()
}

// postForm sends fields as a form.
func postForm(t *testing.T, c *fakeCatalog, target string, fields url.Values) (status int, location, answer string) {
	t.Helper()
	return askCatalog(t, c, "POST", target, fields.Encode(), map[string]string{"Content-Type": formType})
}

// oneModule is a CSV text of one demo module under another ID, with changes.
func oneModule(id string, change func(*catalog.Datasheet)) string {
	d := catalog.DemoDatasheets()[3]
	d.ID, d.Label = id, "Typed 400 W"
	if change != nil {
		change(&d)
	}
	return catalog.ModuleCSV().Export([]catalog.Datasheet{d})
}

// wants checks what an answer must and must not have.
func wants(t *testing.T, answer string, has, lacks []string) {
	t.Helper()
	text := strings.Join(strings.Fields(answer), " ")
	for _, want := range has {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q in: %.3000s", want, text)
		}
	}
	for _, not := range lacks {
		if strings.Contains(text, not) {
			t.Errorf("must not have %q", not)
		}
	}
}

func TestCatalogPages(t *testing.T) {
	runTable(t, []request{
		{name: "catalog", method: "GET", path: "/catalog", status: 302, location: "/catalog/modules"},
		{name: "modules", method: "GET", path: "/catalog/modules", status: 200,
			has: []string{"12 modules", "Invented 300 W, small", "1.650 × 0.990", "−0.38", "demo-300-small", ">invented<", `aria-current="page">Modules</a>`,
				"a change here changes no project", `href="/catalog/modules/list.csv"`, `action="/catalog/modules/upload"`, "beta_voc_pct_per_k",
				"long_edge_front_pa", "Open-circuit voltage, V"}},
		{name: "inverters", method: "GET", path: "/catalog/inverters", status: 200, has: []string{"6 string inverters", "160 to 850", "2 + 1", "Add a string inverter"}},
		{name: "micro-inverters", method: "GET", path: "/catalog/micro-inverters", status: 200, has: []string{"1 micro-inverter", "22 to 52"}},
		{name: "optimisers", method: "GET", path: "/catalog/optimisers", status: 200, has: []string{"1 optimiser", "8 to 25", "Add an optimiser"}},
		{name: "search", method: "GET", path: "/catalog/modules?q=SMALL+330", status: 200, has: []string{"1 module of 12", "demo-330-small", `value="SMALL 330"`}, lacks: []string{"demo-300-small"}},
		{name: "search without a match", method: "GET", path: "/catalog/modules?q=%3Cb%3E", status: 200,
			has: []string{"No module has “&lt;b&gt;”", "Show all modules"}, lacks: []string{"<b>", "demo-300-small"}},
		{name: "no such kind", method: "GET", path: "/catalog/roofs", status: 404, has: []string{"No such page"}},
		{name: "kind of nothing", method: "POST", path: "/catalog/roofs/upload", status: 404},
		{name: "not that way", method: "GET", path: "/catalog/modules/upload", status: 405},
		{name: "imported", method: "GET", path: "/catalog/modules?added=2&changed=1", status: 200, has: []string{"2 modules added, 1 changed."}},
		{name: "added", method: "GET", path: "/catalog/modules?added=1&changed=0", status: 200, has: []string{"1 module added."}},
		{name: "changed", method: "GET", path: "/catalog/modules?added=x&changed=3", status: 200, has: []string{"3 modules changed."}},
		{name: "deleted", method: "GET", path: "/catalog/optimisers?deleted=1", status: 200, has: []string{"The optimiser was deleted."}},
		{name: "form", method: "GET", path: "/catalog/modules/entry?id=demo-300-small", status: 200,
			has: []string{"Edit demo-300-small", `value="39.9"`, "readonly", `<option value="p_mono" selected>`, "Half-cut cells"}},
		{name: "empty form", method: "GET", path: "/catalog/optimisers/entry", status: 200, has: []string{"Add an optimiser", `name="max_string_w"`}, lacks: []string{"readonly", "aria-invalid"}},
		{name: "form of nothing", method: "GET", path: "/catalog/modules/entry?id=nobody", status: 404, has: []string{"No such entry"}},
		{name: "delete", method: "GET", path: "/catalog/modules/delete?id=demo-300-small", status: 200,
			has: []string{"Delete “Invented 300 W, small”?", "Projects that use it keep their own copy"}},
		{name: "delete nothing", method: "GET", path: "/catalog/modules/delete?id=nobody", status: 404, has: []string{"No such entry"}},
		{name: "link to it", method: "GET", path: "/", status: 200, has: []string{`<a href="/catalog">Catalog</a>`}},
	})
}

func TestAnEmptyCatalogSaysHowToBegin(t *testing.T) {
	status, _, answer := askCatalog(t, &fakeCatalog{}, "GET", "/catalog/modules", "", nil)
	if status != 200 {
		t.Fatalf("status %d", status)
	}
	wants(t, answer, []string{"The list is empty", "Restore the demo entries"}, []string{"<table class=\"shelf\"", `role="search"`})
}

// TestALongListComesInSheets has 250 modules.
func TestALongListComesInSheets(t *testing.T) {
	c := newFakeCatalog()
	var list []catalog.Datasheet
	for i := range 250 {
		d := catalog.DemoDatasheets()[0]
		d.ID = fmt.Sprintf("typed-%03d", i)
		list = append(list, d)
	}
	c.modules.list = list
	tests := []struct {
		query      string
		has, lacks []string
	}{
		{"", []string{"1 to 100 of 250", "typed-099", `href="/catalog/modules?sheet=2"`}, []string{"typed-100", "Previous"}},
		{"?sheet=2&q=typed", []string{"101 to 200 of 250", "typed-100", `href="/catalog/modules?q=typed&amp;sheet=1"`, `href="/catalog/modules?q=typed&amp;sheet=3"`}, []string{"typed-099", "typed-200"}},
		{"?sheet=3", []string{"201 to 250 of 250", "typed-249"}, []string{"typed-199", "Next"}},
		{"?sheet=99", []string{"201 to 250 of 250"}, nil},
		{"?sheet=-1", []string{"1 to 100 of 250"}, nil},
		{"?q=typed-00", []string{"10 modules of 250"}, []string{"Next", "Previous"}},
	}
	for _, tt := range tests {
		_, _, answer := askCatalog(t, c, "GET", "/catalog/modules"+tt.query, "", nil)
		wants(t, answer, tt.has, tt.lacks)
	}
}

func TestCatalogDownload(t *testing.T) {
	for slug, want := range map[string]string{
		"modules":         catalog.ModuleCSV().Export(catalog.DemoDatasheets()),
		"inverters":       catalog.InverterCSV().Export(catalog.DemoInverters()),
		"micro-inverters": catalog.MicroInverterCSV().Export(catalog.DemoMicroInverters()),
		"optimisers":      catalog.OptimiserCSV().Export(catalog.DemoOptimisers()),
	} {
		got := fetch(t, newFake(), "GET", "/catalog/"+slug+"/list.csv", "", nil)
		if body := bodyOf(t, got); got.StatusCode != 200 || body != want {
			t.Errorf("%s: status %d, %.200s", slug, got.StatusCode, body)
		}
		if disposition := got.Header.Get("Content-Disposition"); disposition != "attachment; filename="+slug+".csv" {
			t.Errorf("%s: Content-Disposition is %q", slug, disposition)
		}
	}
}

func TestUploadShowsAPreviewAndKeepsNothing(t *testing.T) {
	c := newFakeCatalog()
	text := oneModule("typed-400", nil)
	changed := catalog.DemoDatasheets()[0]
	changed.Price, changed.NOCTC = 95.5, 0
	rows := catalog.ModuleCSV().Export([]catalog.Datasheet{changed, catalog.DemoDatasheets()[1]})
	text += rows[strings.Index(rows, "\n")+1:]
	body, header := upload("file", "new.csv", text)
	status, _, answer := askCatalog(t, c, "POST", "/catalog/modules/upload", body, header)
	if status != 200 {
		t.Errorf("status %d", status)
	}
	wants(t, answer, []string{
		"<dt>Added</dt><dd>1</dd>", "<dt>Changed</dt><dd>1</dd>", "<dt>The same already</dt><dd>1</dd>", "<dt>Not in the file</dt><dd>10</dd>",
		"From new.csv.", "Typed 400 W", "typed-400, row 2",
		`<code>price</code></th><td>92</td><td>95.5</td>`, `<code>noct_c</code></th><td>45</td><td><span class="unit">not given</span></td>`,
		`name="version" value="1"`, "Invented 330 W, small", "No project changes",
	}, nil)
	if !reflect.DeepEqual(c.modules.list, catalog.DemoDatasheets()) || c.modules.version != 1 {
		t.Error("the preview changed the list")
	}
}

func TestRefusedUploads(t *testing.T) {
	good := oneModule("typed-400", nil)
	full := func(n int) string {
		rows, header := "", good[:strings.Index(good, "\n")+1]
		for i := range n {
			rows += strings.Replace(good[len(header):], "typed-400", fmt.Sprintf("typed-%d", i), 1)
		}
		return header + rows
	}
	tests := []struct {
		name, text string
		has        []string
	}{
		{"a comma for decimals", strings.Replace(good, "37.8", "37,8", 1), []string{"1 fault in new.csv", "The list is as it was", "cells; the header has"}},
		{"by row and column", oneModule("typed-400", func(d *catalog.Datasheet) { d.VocV, d.WeightKg = 1000, 0.1 }),
			[]string{"2 faults in new.csv", `<td class="num">2</td><td><code>voc_v</code></td><td>is 1000; it must be 1 to 500 V</td>`, "<code>weight_kg</code>"}},
		{"no header", "hello\n", []string{`<td class="num">1</td>`, "is no column of this list"}},
		{"semicolons", "id;label\n", []string{"holds no comma"}},
		{"not UTF-8", "id,label\n\xff", []string{"not UTF-8"}},
		{"markup", "<script>,id\n", []string{"<code>&lt;script&gt;</code>"}},
		{"nothing", "", []string{"no rows below a header"}},
		{"too long", good + strings.Repeat(" ", catalog.MaxCSVBytes), []string{"at most 1048576 are read"}},
		{"far too long", strings.Repeat(" ", 5<<20), []string{"at most 1024 KiB"}},
		{"more than the list holds", full(catalog.MaxCSVRows - 11), []string{"would have 2001 modules; it can hold 2000"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := newFakeCatalog()
			body, header := upload("file", "new.csv", tt.text)
			status, _, answer := askCatalog(t, c, "POST", "/catalog/modules/upload", body, header)
			if status != http.StatusUnprocessableEntity {
				t.Errorf("status %d", status)
			}
			wants(t, answer, append(tt.has, "Nothing was imported"), []string{`data-testid="apply"`, "<script>,"})
			if c.modules.version != 1 {
				t.Error("the list was changed")
			}
		})
	}
	t.Run("no file", func(t *testing.T) {
		body, header := upload("other", "new.csv", good)
		status, _, answer := askCatalog(t, newFakeCatalog(), "POST", "/catalog/modules/upload", body, header)
		if status != http.StatusUnprocessableEntity {
			t.Errorf("status %d", status)
		}
		wants(t, answer, []string{"Choose a CSV file first.", "the file"}, nil)
	})
}

func TestApplyDoesWhatThePreviewShowed(t *testing.T) {
	c := newFakeCatalog()
	text := strings.ReplaceAll(oneModule("typed-400", nil), "\n", "\r\n") // as a browser sends it
	status, location, answer := postForm(t, c, "/catalog/modules/apply", url.Values{"version": {"1"}, "name": {"new.csv"}, "text": {text}})
	if status != http.StatusSeeOther || location != "/catalog/modules?added=1&changed=0" {
		t.Errorf("status %d to %q: %s", status, location, answer)
	}
	want := catalog.DemoDatasheets()[3]
	want.ID, want.Label = "typed-400", "Typed 400 W"
	if list := c.modules.list; len(list) != 13 || !reflect.DeepEqual(list[12], want) || !reflect.DeepEqual(list[:12], catalog.DemoDatasheets()) {
		t.Errorf("the list has %d modules, the last is %+v", len(list), list[len(list)-1])
	}
	if c.modules.version != 2 {
		t.Errorf("version %d", c.modules.version)
	}
}

// TestApplyIsGuarded tells that somebody changed the list after the preview.
func TestApplyIsGuarded(t *testing.T) {
	c := newFakeCatalog()
	if done, err := c.ReplaceModules(t.Context(), 1, catalog.DemoDatasheets()[:3]); !done || err != nil {
		t.Fatal(done, err)
	}
	fields := url.Values{"version": {"1"}, "name": {"new.csv"}, "text": {oneModule("typed-400", nil)}}
	status, _, answer := postForm(t, c, "/catalog/modules/apply", fields)
	if status != http.StatusConflict || len(c.modules.list) != 3 {
		t.Errorf("status %d, %d modules", status, len(c.modules.list))
	}
	wants(t, answer, []string{"The list has changed since the preview", `name="version" value="2"`, "<dt>Not in the file</dt><dd>3</dd>", "typed-400"}, nil)
	fields.Set("version", "2")
	if status, _, _ := postForm(t, c, "/catalog/modules/apply", fields); status != http.StatusSeeOther || len(c.modules.list) != 4 {
		t.Errorf("with the new version: status %d, %d modules", status, len(c.modules.list))
	}
}

func TestApplyOfSomethingElse(t *testing.T) {
	tests := []struct {
		name   string
		fields url.Values
		status int
	}{
		{"no version", url.Values{"text": {oneModule("x", nil)}}, 400},
		{"half a version", url.Values{"version": {"1.5"}, "text": {oneModule("x", nil)}}, 400},
		{"a fault", url.Values{"version": {"1"}, "text": {oneModule("X", nil)}}, 422},
		{"no text", url.Values{"version": {"1"}}, 422},
	}
	for _, tt := range tests {
		c := newFakeCatalog()
		if status, _, _ := postForm(t, c, "/catalog/modules/apply", tt.fields); status != tt.status || c.modules.version != 1 {
			t.Errorf("%s: status %d, version %d", tt.name, status, c.modules.version)
		}
	}
}

func TestRestoringTheDemoEntries(t *testing.T) {
	c := newFakeCatalog()
	mine := catalog.DemoDatasheets()[3]
	mine.ID = "mine"
	cheap := catalog.DemoDatasheets()[0]
	cheap.Price = 1
	if done, err := c.ReplaceModules(t.Context(), 1, []catalog.Datasheet{mine, cheap}); !done || err != nil {
		t.Fatal(done, err)
	}
	status, _, answer := postForm(t, c, "/catalog/modules/demo", nil)
	if status != 200 || c.modules.version != 2 {
		t.Errorf("status %d, version %d", status, c.modules.version)
	}
	wants(t, answer, []string{"From the demo entries", "<dt>Added</dt><dd>11</dd>", "<code>price</code></th><td>1</td><td>92</td>", "<dt>Not in the file</dt><dd>1</dd>"}, nil)
	status, _, answer = postForm(t, newFakeCatalog(), "/catalog/modules/demo", nil)
	if status != 200 {
		t.Errorf("status %d", status)
	}
	wants(t, answer, []string{"Nothing would change", "Back to the list"}, []string{`data-testid="apply"`})
}

// entryFields are the form's fields of an entry.
func entryFields(text string) url.Values {
	fields := url.Values{"version": {"1"}}
	lines := strings.SplitN(text, "\n", 2)
	cells := strings.Split(strings.TrimSpace(lines[1]), ",")
	for i, name := range strings.Split(lines[0], ",") {
		fields.Set(name, cells[i])
	}
	return fields
}

func TestEntryForm(t *testing.T) {
	typedOne := func(change func(url.Values)) url.Values {
		fields := entryFields(oneModule("typed-400", nil))
		change(fields)
		return fields
	}
	tests := []struct {
		name, path string
		fields     url.Values
		status     int
		location   string
		has        []string
		id         string
		voc        float64
	}{
		{"add", "/catalog/modules/entry", typedOne(func(url.Values) {}), 303, "/catalog/modules?added=1&changed=0", nil, "typed-400", 37.8},
		{"edit", "/catalog/modules/entry?id=demo-400-medium", typedOne(func(f url.Values) { f.Set("voc_v", " 37.9 "); f.Set("id", "other") }), 303,
			"/catalog/modules?added=0&changed=1", nil, "demo-400-medium", 37.9},
		{"add what is there", "/catalog/modules/entry", typedOne(func(f url.Values) { f.Set("id", "demo-400-medium") }), 422, "",
			[]string{"is in the list already", `value="demo-400-medium"`, `aria-invalid="true"`, `value="Typed 400 W"`}, "demo-400-medium", 37.8},
		{"wrong figures", "/catalog/modules/entry", typedOne(func(f url.Values) { f.Set("voc_v", "<b>"); f.Set("weight_kg", "") }), 422, "",
			[]string{"2 figures need another look", `id="voc_v-problem"`, "&lt;b&gt;", `<code>weight_kg</code> is blank; it must be given`}, "demo-400-medium", 37.8},
		{"nobody", "/catalog/modules/entry?id=nobody", typedOne(func(url.Values) {}), 404, "", []string{"No such entry"}, "demo-400-medium", 37.8},
		{"stale", "/catalog/modules/entry?id=demo-400-medium", typedOne(func(f url.Values) { f.Set("version", "0"); f.Set("voc_v", "37.7") }), 409, "",
			[]string{"The list has changed since this form was opened", `value="37.7"`, `name="version" value="1"`}, "demo-400-medium", 37.8},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := newFakeCatalog()
			status, location, answer := postForm(t, c, tt.path, tt.fields)
			if status != tt.status || location != tt.location {
				t.Errorf("status %d to %q: %.500s", status, location, answer)
			}
			wants(t, answer, tt.has, []string{"<b>"})
			for _, m := range c.modules.list {
				if m.ID == tt.id && m.VocV != tt.voc {
					t.Errorf("voc_v of %s is %g, want %g", m.ID, m.VocV, tt.voc)
				}
			}
			if kept := c.modules.version == 2; kept != (status == 303) {
				t.Errorf("status %d, version %d", status, c.modules.version)
			}
		})
	}
}

func TestDeleting(t *testing.T) {
	c := newFakeCatalog()
	const path = "/catalog/inverters/delete?id=demo-inv-5k"
	if status, _, answer := postForm(t, c, path, url.Values{"version": {"7"}}); status != http.StatusConflict || !strings.Contains(answer, "The list has changed") {
		t.Errorf("at another version: status %d", status)
	}
	if len(c.inverters.list) != 6 {
		t.Errorf("%d inverters are left", len(c.inverters.list))
	}
	status, location, _ := postForm(t, c, path, url.Values{"version": {"1"}})
	if status != http.StatusSeeOther || location != "/catalog/inverters?deleted=1" || len(c.inverters.list) != 5 || c.inverters.list[1].ID == "demo-inv-5k" {
		t.Errorf("status %d to %q, %d inverters", status, location, len(c.inverters.list))
	}
	if status, _, _ := postForm(t, c, path, url.Values{"version": {"2"}}); status != http.StatusNotFound {
		t.Errorf("a second time: status %d", status)
	}
}

func TestABrokenCatalog(t *testing.T) {
	broken := func() *fakeCatalog {
		c := newFakeCatalog()
		c.modules.fail, c.inverters.fail = errBroken, errBroken
		return c
	}
	for _, path := range []string{"/catalog/modules", "/catalog/inverters/list.csv", "/catalog/modules/entry", "/catalog/modules/delete?id=x", "/api/catalog", "/api/inverters"} {
		status, _, answer := askCatalog(t, broken(), "GET", path, "", nil)
		if status != 500 || strings.Contains(answer, "/secret/place") {
			t.Errorf("%s: status %d, %.200s", path, status, answer)
		}
	}
	if status, _, _ := postForm(t, broken(), "/catalog/modules/apply", url.Values{"version": {"1"}, "text": {oneModule("x", nil)}}); status != 500 {
		t.Errorf("apply: status %d", status)
	}
	status, _, answer := askCatalog(t, broken(), "GET", "/projects/demo", "", nil)
	if status != 200 || !strings.Contains(answer, `"catalog":[]`) {
		t.Errorf("the editor: status %d", status)
	}
}

func TestCatalogAPI(t *testing.T) {
	var modules []apiModule
	if err := json.Unmarshal([]byte(bodyOf(t, fetch(t, newFake(), "GET", "/api/catalog", "", nil))), &modules); err != nil {
		t.Fatal(err)
	}
	for i, want := range catalog.DemoDatasheets() {
		got := modules[i]
		if !reflect.DeepEqual(got.Datasheet, want) {
			t.Errorf("datasheet %d is %+v, want %+v", i, got.Datasheet, want)
		}
		if beside := (catalog.Module{ID: got.ID, Label: got.Label, PmaxW: got.PmaxW, LengthM: got.LengthM, WidthM: got.WidthM, Invented: got.Invented}); beside != want.Module {
			t.Errorf("module %d is %+v, want %+v", i, beside, want.Module)
		}
	}
	answersWith(t, "/api/inverters", catalog.DemoInverters())
	answersWith(t, "/api/micro-inverters", catalog.DemoMicroInverters())
	answersWith(t, "/api/optimisers", catalog.DemoOptimisers())
	if _, _, answer := askCatalog(t, &fakeCatalog{}, "GET", "/api/inverters", "", nil); answer != "[]\n" {
		t.Errorf("an empty list is %q", answer)
	}
}

// answersWith checks that an address gives a list, every figure of it.
func answersWith[T any](t *testing.T, path string, want []T) {
	t.Helper()
	var got []T
	if err := json.Unmarshal([]byte(bodyOf(t, fetch(t, newFake(), "GET", path, "", nil))), &got); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%s gives %+v, %v; want %+v", path, got, err, want)
	}
}

// TestEveryColumnHasAPlace holds the tables and groups of the pages to the
// columns of the CSV texts.
func TestEveryColumnHasAPlace(t *testing.T) {
	for _, kind := range productKinds() {
		list := productsOf(newFakeCatalog(), kind.Slug)
		known := map[string]bool{}
		for _, c := range list.columns() {
			known[c.Name] = true
		}
		for _, head := range kind.Head {
			for _, name := range head.Names {
				if !known[name] {
					t.Errorf("%s: the table shows %s, which is no column", kind.Slug, name)
				}
			}
		}
		if parts := partsOf(kind, list.columns()); len(parts) != len(kind.Parts) || kind.Parts[0].From != list.columns()[0].Name {
			t.Errorf("%s: %d groups of columns, want %d, the first from %s", kind.Slug, len(parts), len(kind.Parts), list.columns()[0].Name)
		}
	}
}

// TestCatalogPagesKeepThePolicy looks for what the content policy would block.
func TestCatalogPagesKeepThePolicy(t *testing.T) {
	for _, path := range []string{"/catalog/modules", "/catalog/modules/entry", "/catalog/modules/delete?id=demo-300-small"} {
		body := bodyOf(t, fetch(t, newFake(), "GET", path, "", nil))
		for _, not := range []string{" style=", "<style", " onclick=", "<script", "javascript:", `src="http`} {
			if strings.Contains(body, not) {
				t.Errorf("%s has %q", path, not)
			}
		}
	}
}
