package web

import (
	"strings"
	"testing"
	"time"

	"rooftally/project"
)

// withVersions is newFake where the demo has two earlier versions, one of them
// unreadable, and where "bad" cannot be read.
func withVersions() *fakeProjects {
	f := newFake()
	f.versions = map[string][]project.Version{"demo": {
		{Number: 2, SavedAt: testNow.Add(-time.Hour), Contested: true, Doc: project.Demo()},
		{Number: 1, SavedAt: testNow.Add(-2 * time.Hour), Unreadable: true},
	}}
	f.broken = map[string]*project.UnreadableError{"bad": {
		Row:  project.Row{ID: "bad", Label: "damaged house", Version: 4, UpdatedAt: testNow, Unreadable: true},
		Data: []byte(`{"schema":99}`), Reason: "schema: is 99",
	}}
	return f
}

func TestVersions(t *testing.T) {
	body := bodyOf(t, fetch(t, withVersions(), "GET", "/projects/demo/versions", "", nil))
	for _, want := range []string{
		"Version 3 is in use", "Version 2", "4 planes", "4 keep-outs", "saved beside another", "1 Mar 2026, 11:00",
		`action="/projects/demo/versions/2/copy"`, "Version 1", "cannot be read", "<svg",
	} {
		if !strings.Contains(body, want) {
			t.Errorf("lacks %q", want)
		}
	}
	if strings.Contains(body, "/versions/1/copy") {
		t.Error("an unreadable version can be opened")
	}
	if body := bodyOf(t, fetch(t, withVersions(), "GET", "/projects/empty/versions", "", nil)); !strings.Contains(body, "There is no earlier version") {
		t.Error("a project without versions does not say so")
	}
	// The current document cannot be read: the earlier ones are still listed.
	if got := fetch(t, withVersions(), "GET", "/projects/bad/versions", "", nil); got.StatusCode != 200 {
		t.Errorf("versions of an unreadable project: %d", got.StatusCode)
	}
}

func TestCopyVersion(t *testing.T) {
	for path, want := range map[string]struct {
		status   int
		location string
	}{
		"/projects/demo/versions/2/copy":   {303, "/projects/n4"},
		"/projects/demo/versions/9/copy":   {404, ""},
		"/projects/nobody/versions/1/copy": {404, ""},
		"/projects/demo/versions/x/copy":   {400, ""},
	} {
		got := fetch(t, withVersions(), "POST", path, "", map[string]string{"Content-Type": formType})
		if got.StatusCode != want.status || got.Header.Get("Location") != want.location {
			t.Errorf("%s: %d to %q", path, got.StatusCode, got.Header.Get("Location"))
		}
	}
}

func TestAnUnreadableProject(t *testing.T) {
	list := fetch(t, withVersions(), "GET", "/", "", nil)
	body := bodyOf(t, list)
	if list.StatusCode != 200 {
		t.Fatalf("list: %d", list.StatusCode)
	}
	for _, want := range []string{"Demo house", "damaged house", "cannot be read", `href="/projects/bad/project.json"`, `href="/projects/bad/versions"`, `action="/projects/bad/archive"`} {
		if !strings.Contains(body, want) {
			t.Errorf("the list lacks %q", want)
		}
	}
	for _, not := range []string{`href="/projects/bad"`, "/projects/bad/duplicate"} {
		if strings.Contains(body, not) {
			t.Errorf("the list offers %q", not)
		}
	}
	file := fetch(t, withVersions(), "GET", "/projects/bad/project.json", "", nil)
	if got := bodyOf(t, file); got != `{"schema":99}` || !strings.Contains(file.Header.Get("Content-Disposition"), "damaged-house.json") {
		t.Errorf("download: %q, %q", got, file.Header.Get("Content-Disposition"))
	}
	for _, path := range []string{"/projects/bad", "/projects/bad/options", "/projects/bad/proposal"} {
		got := fetch(t, withVersions(), "GET", path, "", nil)
		if body := bodyOf(t, got); got.StatusCode != 500 || !strings.Contains(body, "This project cannot be read") {
			t.Errorf("%s: %d", path, got.StatusCode)
		}
	}
	if got := fetch(t, withVersions(), "GET", "/?moved=bad", "", nil); got.StatusCode != 200 {
		t.Errorf("after archiving it: %d", got.StatusCode)
	}
}

// A file that is refused does not take the name typed beside it along.
func TestARefusedUploadKeepsTheTypedName(t *testing.T) {
	const boundary = "b"
	body := "--b\r\nContent-Disposition: form-data; name=\"label\"\r\n\r\nMill Lane 4\r\n" +
		"--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"x.json\"\r\n\r\n{}\r\n--b--\r\n"
	got := fetch(t, newFake(), "POST", "/projects/upload", body, map[string]string{"Content-Type": "multipart/form-data; boundary=" + boundary})
	if text := bodyOf(t, got); got.StatusCode != 422 || !strings.Contains(text, `value="Mill Lane 4"`) || !strings.Contains(text, "x.json was not taken") {
		t.Errorf("%d %.3000s", got.StatusCode, text)
	}
}
