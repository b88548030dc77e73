package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"rooftally/project"
)

// request is one row of a table: what is asked, and what the answer must and
// must not have.
type request struct {
	name         string
	method, path string
	header       map[string]string
	body         string
	broken       bool // every call for projects fails
	status       int
	has, lacks   []string
	location     string
}

const formType = "application/x-www-form-urlencoded"

func runTable(t *testing.T, tests []request) {
	t.Helper()
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			fake := newFake()
			if tt.broken {
				fake.fail = errBroken
			}
			got := fetch(t, fake, tt.method, tt.path, tt.body, tt.header)
			body := bodyOf(t, got)
			if got.StatusCode != tt.status {
				t.Errorf("status %d, want %d; body: %.300s", got.StatusCode, tt.status, body)
			}
			if location := got.Header.Get("Location"); location != tt.location {
				t.Errorf("leads to %q, want %q", location, tt.location)
			}
			for _, want := range tt.has {
				if !strings.Contains(body, want) {
					t.Errorf("lacks %q in: %.2000s", want, body)
				}
			}
			for _, not := range append(tt.lacks, "/secret/place") {
				if strings.Contains(body, not) {
					t.Errorf("must not have %q", not)
				}
			}
		})
	}
}

func TestPages(t *testing.T) {
	runTable(t, []request{
		{name: "health", method: "GET", path: "/healthz", status: 200, has: []string{"ok"}},
		{name: "health without a body", method: "HEAD", path: "/healthz", status: 200},
		{name: "list", method: "GET", path: "/", status: 200,
			has: []string{"Demo house", "4 planes", "1 Mar 2026, 12:00", "invented demo data", "nothing drawn yet",
				"2 projects", "New project", "Upload", "&lt;b&gt;Long", `href="/?archived=1"`},
			lacks: []string{"Archived house", "<b>Long", "Restore"}},
		{name: "search", method: "GET", path: "/?q=DEMO", status: 200,
			has: []string{"Demo house", `value="DEMO"`, "1 project<"}, lacks: []string{"&lt;b&gt;Long"}},
		{name: "search without a match", method: "GET", path: "/?q=%3Cscript%3E", status: 200,
			has: []string{"No project’s name contains “&lt;script&gt;”", "Show all projects"}, lacks: []string{"<script>", "Demo house"}},
		{name: "archive", method: "GET", path: "/?archived=1", status: 200,
			has: []string{"Archived house", "Restore", "Back to all projects"}, lacks: []string{"Demo house", "New project", `/archive"`}},
		{name: "just archived", method: "GET", path: "/?moved=old", status: 200,
			has: []string{"“Archived house” is in the archive.", `action="/projects/old/restore"`}},
		{name: "just restored", method: "GET", path: "/?archived=1&moved=demo", status: 200, has: []string{"is back in"}},
		{name: "moved a project that is not there", method: "GET", path: "/?moved=nobody", status: 200, lacks: []string{"is in the archive"}},
		{name: "editor", method: "GET", path: "/projects/demo", status: 200,
			has: []string{`id="editor"`, `id="actions"`, `id="board"`, `id="status"`, `id="props"`, `id="tally"`, `id="savestate"`, `id="dialogs"`,
				`<script type="application/json" id="boot">{"id":"demo","version":3,"doc":{"schema":`, `"catalog":[{"id":`,
				`src="/static/js/main.js"`, `href="/static/css/editor.css"`, `aria-current="page">Roof`}},
		{name: "editor of a name that looks like markup", method: "GET", path: "/projects/empty", status: 200,
			has: []string{`\u003cb\u003eLong`, "&lt;b&gt;Long"}, lacks: []string{"<b>Long"}},
		{name: "editor of nobody", method: "GET", path: "/projects/nobody", status: 404, has: []string{"No such project", `href="/"`}},
		{name: "options of nobody", method: "GET", path: "/projects/nobody/options", status: 404, has: []string{"No such project"}},
		{name: "proposal of nobody", method: "GET", path: "/projects/nobody/proposal", status: 404, has: []string{"No such project"}},
		{name: "sheet of the proposal", method: "GET", path: "/projects/demo/proposal.css?paper=a4", status: 200, has: []string{"@page"}},
		{name: "no such page", method: "GET", path: "/nowhere", status: 404, has: []string{"No such page"}},
		{name: "not that way", method: "DELETE", path: "/", status: 405, has: []string{"Not possible here"}},
		{name: "list out of order", method: "GET", path: "/", broken: true, status: 500, has: []string{"Something went wrong"}},
		{name: "editor out of order", method: "GET", path: "/projects/demo", broken: true, status: 500, has: []string{"Something went wrong"}},
	})
}

func TestDownload(t *testing.T) {
	runTable(t, []request{
		{name: "file", method: "GET", path: "/projects/demo/project.json", status: 200, has: []string{encoded(t, project.Demo())}},
		{name: "of nobody", method: "GET", path: "/projects/nobody/project.json", status: 404},
	})
	got := fetch(t, newFake(), "GET", "/projects/demo/project.json", "", nil)
	if want := "attachment; filename=demo-house-invented.json"; got.Header.Get("Content-Disposition") != want {
		t.Errorf("Content-Disposition is %q, want %q", got.Header.Get("Content-Disposition"), want)
	}
}

func TestFileName(t *testing.T) {
	tests := []struct{ label, want string }{
		{"Mill Lane 4", "mill-lane-4.json"},
		{"  --a  /  b\\c..  ", "a-b-c.json"},
		{"屋根", "project.json"},
		{"", "project.json"},
		{`"; filename=x`, "filename-x.json"},
		{strings.Repeat("ab ", 60), strings.TrimSuffix(strings.Repeat("ab-", 20), "-") + ".json"},
	}
	for _, tt := range tests {
		if got := fileName(tt.label); got != tt.want {
			t.Errorf("%q: got %q, want %q", tt.label, got, tt.want)
		}
	}
}

func TestCreating(t *testing.T) {
	asForm := map[string]string{"Content-Type": formType}
	runTable(t, []request{
		{name: "new", method: "POST", path: "/projects", header: asForm, body: "label=+Mill+Lane+4+", status: 303, location: "/projects/n4"},
		{name: "no name", method: "POST", path: "/projects", header: asForm, body: "label=++", status: 422,
			has: []string{"Type a name first", `aria-invalid="true"`, "Demo house"}},
		{name: "name too long", method: "POST", path: "/projects", header: asForm, body: "label=" + strings.Repeat("x", 121), status: 422,
			has: []string{"has 121 characters", `value="` + strings.Repeat("x", 121)}},
		{name: "two lines", method: "POST", path: "/projects", header: asForm, body: "label=a%0Ab", status: 422, has: []string{"This name cannot be used"}},
		{name: "broken form", method: "POST", path: "/projects", header: asForm, body: "label=%zz", status: 400, has: []string{"Not understood"}},
		{name: "out of order", method: "POST", path: "/projects", header: asForm, body: "label=x", broken: true, status: 500},
		{name: "duplicate", method: "POST", path: "/projects/demo/duplicate", status: 303, location: "/"},
		{name: "duplicate nobody", method: "POST", path: "/projects/nobody/duplicate", status: 404},
		{name: "archive", method: "POST", path: "/projects/demo/archive", status: 303, location: "/?moved=demo"},
		{name: "archive nobody", method: "POST", path: "/projects/nobody/archive", status: 404},
		{name: "restore", method: "POST", path: "/projects/old/restore", status: 303, location: "/?archived=1&moved=old"},
		{name: "restore nobody", method: "POST", path: "/projects/nobody/restore", status: 404},
		{name: "archive by a link", method: "GET", path: "/projects/demo/archive", status: 405},
	})
}

// upload is the body of a form with one file.
func upload(field, name, content string) (body string, header map[string]string) {
	const mark = "mark"
	body = fmt.Sprintf("--%s\r\nContent-Disposition: form-data; name=%q; filename=%q\r\nContent-Type: application/json\r\n\r\n%s\r\n--%s--\r\n",
		mark, field, name, content, mark)
	return body, map[string]string{"Content-Type": "multipart/form-data; boundary=" + mark}
}

func TestUpload(t *testing.T) {
	send := func(name, field, file, content string, status int, has ...string) request {
		body, header := upload(field, file, content)
		r := request{name: name, method: "POST", path: "/projects/upload", header: header, body: body, status: status, has: has}
		if status == 303 {
			r.location = "/projects/n4"
		}
		return r
	}
	doc := encoded(t, project.Demo())
	invalid := strings.Replace(doc, `"units": "metric"`, `"units": "furlongs"`, 1)
	unknown := strings.Replace(doc, `"schema":`, `"colour": 1, "schema":`, 1)
	runTable(t, []request{
		send("sound", "file", "a.json", doc, 303),
		send("unknown member", "file", "a<b>.json", unknown, 422, "colour", "a&lt;b&gt;.json was not taken", "Demo house"),
		send("invalid value", "file", "a.json", invalid, 422, "<code>site.units</code>", "furlongs"),
		send("not JSON", "file", "a.json", "hello", 422, "was not taken"),
		send("empty file", "file", "a.json", "", 422, "was not taken"),
		send("nothing chosen", "file", "", "", 400, "Choose a file first."),
		send("other field", "fichier", "a.json", doc, 400, "Choose a file first."),
		send("too large", "file", "a.json", strings.Repeat(" ", 5<<20), 413, "at most 4 MiB", "Demo house"),
		{name: "not a form", method: "POST", path: "/projects/upload", body: doc, header: map[string]string{"Content-Type": "application/json"},
			status: 400, has: []string{"No file was taken"}},
	})
}

func TestUploadThenDownloadGivesTheSameBytes(t *testing.T) {
	fake := newFake()
	want := encoded(t, project.Demo())
	body, header := upload("file", "a.json", want)
	if got := fetch(t, fake, "POST", "/projects/upload", body, header); got.StatusCode != http.StatusSeeOther {
		t.Fatalf("status %d", got.StatusCode)
	}
	if got := bodyOf(t, fetch(t, fake, "GET", "/projects/n4/project.json", "", nil)); got != want {
		t.Errorf("got %.200s", got)
	}
}

func TestNotAllowed(t *testing.T) {
	save := fmt.Sprintf(`{"version":3,"doc":%s}`, encoded(t, project.Demo()))
	runTable(t, []request{
		{name: "form of another site", method: "POST", path: "/projects", body: "label=x", status: 403,
			header: map[string]string{"Content-Type": formType, "Origin": "http://evil.example"}, has: []string{"Refused"}},
		{name: "script of another site", method: "PUT", path: "/api/projects/demo", body: save, status: 403,
			header: map[string]string{"Sec-Fetch-Site": "cross-site"}, has: []string{`"problems"`}},
		{name: "same site, other port", method: "POST", path: "/projects/demo/archive", status: 403,
			header: map[string]string{"Sec-Fetch-Site": "same-site"}},
		{name: "our own page", method: "POST", path: "/projects/demo/archive", status: 303, location: "/?moved=demo",
			header: map[string]string{"Sec-Fetch-Site": "same-origin", "Origin": "http://127.0.0.1:8787"}},
		{name: "wrong host", method: "GET", path: "/", status: 421, header: map[string]string{"Host": "evil.example"},
			has: []string{"Wrong address"}, lacks: []string{"Demo house"}},
		{name: "wrong host, saving", method: "PUT", path: "/api/projects/demo", body: save, status: 421,
			header: map[string]string{"Host": "evil.example:8787", "Origin": "http://evil.example:8787"}},
		{name: "no host", method: "GET", path: "/", status: 421, header: map[string]string{"Host": ""}},
		{name: "localhost", method: "GET", path: "/healthz", status: 200, header: map[string]string{"Host": "LocalHost:8787"}},
		{name: "IPv6", method: "GET", path: "/healthz", status: 200, header: map[string]string{"Host": "[::1]:8787"}},
		{name: "a name that was allowed", method: "GET", path: "/healthz", status: 200, header: map[string]string{"Host": "Roofs.example"}},
	})
}

func TestEveryAnswerCarriesTheSecurityHeaders(t *testing.T) {
	for _, path := range []string{"/", "/projects/demo", "/nowhere", "/api/catalog", "/static/css/base.css"} {
		for _, host := range []string{"127.0.0.1", "evil.example"} {
			got := fetch(t, newFake(), "GET", path, "", map[string]string{"Host": host})
			policy := got.Header.Get("Content-Security-Policy")
			if !strings.Contains(policy, "default-src 'self'") || strings.Contains(policy, "unsafe") {
				t.Errorf("%s: policy is %q", path, policy)
			}
			if got.Header.Get("X-Content-Type-Options") != "nosniff" {
				t.Errorf("%s: types may be guessed", path)
			}
		}
	}
}

// TestPagesKeepThePolicy looks for what the content policy would block.
func TestPagesKeepThePolicy(t *testing.T) {
	for _, path := range []string{"/", "/projects/demo", "/projects/demo/options", "/projects/demo/proposal", "/nowhere"} {
		body := bodyOf(t, fetch(t, newFake(), "GET", path, "", nil))
		for _, not := range []string{" style=", "<style", " onclick=", " onload=", "<script>", "javascript:", `src="http`, `href="http`} {
			if strings.Contains(body, not) {
				t.Errorf("%s has %q", path, not)
			}
		}
	}
}

func TestStaticFiles(t *testing.T) {
	runTable(t, []request{
		{name: "style", method: "GET", path: "/static/css/base.css", status: 200, has: []string{"--paper: #fbfaf6"}},
		{name: "icon", method: "GET", path: "/favicon.ico", status: 200, has: []string{"<svg"}},
		{name: "licence of the font", method: "GET", path: "/static/fonts/OFL.txt", status: 200, has: []string{"SIL OPEN FONT LICENSE"}},
		{name: "no such file", method: "GET", path: "/static/css/none.css", status: 404},
		{name: "folder", method: "GET", path: "/static/css/", status: 404},
		{name: "way out", method: "GET", path: "/static/../static.go", status: 404, lacks: []string{"package static"}},
	})
	first := fetch(t, newFake(), "GET", "/static/fonts/source-sans-3-latin-400-normal.woff2", "", nil)
	tag := first.Header.Get("ETag")
	if first.Header.Get("Content-Type") != "font/woff2" || tag == "" {
		t.Errorf("type %q, tag %q", first.Header.Get("Content-Type"), tag)
	}
	again := fetch(t, newFake(), "GET", "/static/fonts/source-sans-3-latin-400-normal.woff2", "", map[string]string{"If-None-Match": tag})
	if again.StatusCode != http.StatusNotModified || bodyOf(t, again) != "" {
		t.Errorf("asking again: status %d", again.StatusCode)
	}
}

// TestTheEvaluatorIsSentPacked asks for the WebAssembly program as the page
// names it: its bytes for good where the address names them, packed for whoever
// takes gzip, and its worker alone may compile it.
func TestTheEvaluatorIsSentPacked(t *testing.T) {
	page := bodyOf(t, fetch(t, newFake(), "GET", "/projects/demo", "", nil))
	named := regexp.MustCompile(`"evaluator":"(/static/wasm/rooftally\.wasm)(\?v=[0-9a-f]{16})"`).FindStringSubmatch(page)
	if named == nil {
		t.Fatal("the editor's page names no evaluator")
	}
	magic := "\x00asm"
	for _, c := range []struct{ name, path, accept, encoding, begins, cache string }{
		{"named content", named[1] + named[2], "gzip, deflate, br", "gzip", "\x1f\x8b", "public, max-age=31536000, immutable"},
		{"other content", named[1] + "?v=0123456789abcdef", "gzip", "gzip", "\x1f\x8b", "no-cache"},
		{"no content named", named[1], "br , GZIP;q=0.5", "gzip", "\x1f\x8b", "no-cache"},
		{"no gzip", named[1] + named[2], "br", "", magic, "public, max-age=31536000, immutable"},
		{"gzip refused", named[1] + named[2], "gzip;q=0.0, br", "", magic, "public, max-age=31536000, immutable"},
		{"nothing said", named[1], "", "", magic, "no-cache"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := fetch(t, newFake(), "GET", c.path, "", map[string]string{"Accept-Encoding": c.accept})
			h := got.Header
			if got.StatusCode != 200 || h.Get("Content-Type") != "application/wasm" || h.Get("Content-Encoding") != c.encoding || h.Get("Cache-Control") != c.cache {
				t.Errorf("status %d, headers %v", got.StatusCode, h)
			}
			if body := bodyOf(t, got); !strings.HasPrefix(body, c.begins) {
				t.Errorf("begins with %q", body[:4])
			}
		})
	}
	worker := fetch(t, newFake(), "GET", "/static/js/sync/worker.js", "", nil)
	want := "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'"
	if got := worker.Header.Get("Content-Security-Policy"); worker.StatusCode != 200 || got != want {
		t.Errorf("the worker's status is %d and its policy %q", worker.StatusCode, got)
	}
}

func TestAPanicIsAnErrorPage(t *testing.T) {
	got := fetch(t, nil, "GET", "/projects/demo", "", nil)
	if body := bodyOf(t, got); got.StatusCode != 500 || !strings.Contains(body, "Something went wrong") || strings.Contains(body, "goroutine") {
		t.Errorf("status %d, body %.300s", got.StatusCode, body)
	}
}

func TestAnEvaluationThatTakesTooLongIsSaidSo(t *testing.T) {
	kind := kindOf(fmt.Errorf("evaluate: %w", context.DeadlineExceeded))
	if kind.status != http.StatusServiceUnavailable {
		t.Errorf("status %d, want %d", kind.status, http.StatusServiceUnavailable)
	}
	done, stop := context.WithCancel(t.Context())
	stop()
	if _, err := project.Evaluate(done, project.Demo()); !errors.Is(err, context.Canceled) {
		t.Errorf("a stopped evaluation gave %v", err)
	}
}
