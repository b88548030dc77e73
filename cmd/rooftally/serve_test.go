package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"rooftally/project"
)

// startApp runs the program's parts on a free port until the test ends and
// returns its address.
func startApp(t *testing.T, dbPath string) string {
	t.Helper()
	a, err := newApp(t.Context(), serveConfig{dbPath: dbPath, listen: "127.0.0.1:0"}, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	served := make(chan error, 1)
	go func() { served <- a.serve(ctx) }()
	t.Cleanup(func() {
		stop()
		if err := <-served; err != nil {
			t.Error(err)
		}
	})
	return a.url()
}

func read(t *testing.T, address string) (status int, body string) {
	t.Helper()
	r, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	data, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r.StatusCode, string(data)
}

// save puts a document into a project on top of a version.
func save(t *testing.T, base, id string, version int, doc project.Document) (status int, body string) {
	t.Helper()
	data, err := project.Encode(doc)
	if err != nil {
		t.Fatal(err)
	}
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPut, base+"/api/projects/"+id,
		strings.NewReader(fmt.Sprintf(`{"version":%d,"doc":%s}`, version, data)))
	if err != nil {
		t.Fatal(err)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	got, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, string(got)
}

func TestTheFirstStartMakesADemoProject(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	base := startApp(t, path)
	if status, body := read(t, base+"/healthz"); status != 200 || body != "ok\n" {
		t.Errorf("healthz: %d %q", status, body)
	}
	status, body := read(t, base+"/")
	if status != 200 || strings.Count(body, `class="row"`) != 1 || !strings.Contains(body, project.Demo().Site.Label) {
		t.Errorf("list: %d, %.2000s", status, body)
	}
}

func TestADemoProjectIsNotMadeTwice(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	base := startApp(t, path)
	_, body := read(t, base+"/")
	archive := regexp.MustCompile(`/projects/[0-9a-f-]+/archive`).FindString(body)
	r, err := http.Post(base+archive, "application/x-www-form-urlencoded", nil)
	if err != nil {
		t.Fatal(err)
	}
	_ = r.Body.Close()
	again := startApp(t, path)
	if _, body := read(t, again+"/"); strings.Contains(body, `class="row"`) {
		t.Error("there is a project although the only one was archived")
	}
	if _, body := read(t, again+"/?archived=1"); strings.Count(body, `class="row"`) != 1 {
		t.Error("the archived project is gone")
	}
}

func TestSavesReachTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	base := startApp(t, path)
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	r, err := client.Post(base+"/projects", "application/x-www-form-urlencoded", strings.NewReader("label=Mine"))
	if err != nil {
		t.Fatal(err)
	}
	_ = r.Body.Close()
	_, id, _ := strings.Cut(r.Header.Get("Location"), "/projects/")
	if status, body := save(t, base, id, 1, project.Demo()); status != 200 || !strings.Contains(body, `"version":2`) {
		t.Errorf("save: %d %s", status, body)
	}
	if status, body := save(t, base, id, 1, project.New("Late")); status != 409 || !strings.Contains(body, `"version":2`) {
		t.Errorf("stale save: %d %.200s", status, body)
	}
	want, err := project.Encode(project.Demo())
	if err != nil {
		t.Fatal(err)
	}
	if _, body := read(t, startApp(t, path)+"/projects/"+id+"/project.json"); body != string(want) {
		t.Errorf("a second program reads %.200s", body)
	}
}

func TestATakenPortIsSaidPlainly(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close()
	path := filepath.Join(t.TempDir(), "a.db")
	var stdout, stderr bytes.Buffer
	status := run(t.Context(), []string{"-db", path, "-listen", taken.Addr().String()}, nil, &stdout, &stderr)
	if status != exitFailed || stdout.Len() > 0 {
		t.Errorf("status %d, stdout %q", status, &stdout)
	}
	if want := taken.Addr().String() + " is taken"; !strings.Contains(stderr.String(), want) {
		t.Errorf("stderr %q lacks %q", &stderr, want)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a database was made although the program could not start")
	}
}

func TestArguments(t *testing.T) {
	dir := t.TempDir()
	text := filepath.Join(dir, "text.db")
	if err := os.WriteFile(text, bytes.Repeat([]byte("no database\n"), 100), 0o600); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name           string
		args           []string
		status         int
		stdout, stderr string
	}{
		{"help", []string{"help"}, exitOK, "rooftally pack", ""},
		{"unknown command", []string{"paint"}, exitUsage, "", `no command "paint"`},
		{"unknown flag", []string{"-colour"}, exitUsage, "", "colour"},
		{"flags explained", []string{"serve", "-h"}, exitOK, "", "-listen address"},
		{"too much", []string{"serve", "now"}, exitUsage, "", `unexpected argument "now"`},
		{"no such folder", []string{"-db", filepath.Join(dir, "none", "a.db")}, exitFailed, "", "there is no folder"},
		{"not a database", []string{"-listen", "127.0.0.1:0", "-db", text}, exitFailed, "", "text.db"},
		{"not an address", []string{"-listen", "nowhere", "-db", filepath.Join(dir, "a.db")}, exitFailed, "", "nowhere"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var stdout, stderr bytes.Buffer
			if status := run(t.Context(), tt.args, strings.NewReader(""), &stdout, &stderr); status != tt.status {
				t.Errorf("status %d, want %d", status, tt.status)
			}
			if !strings.Contains(stdout.String(), tt.stdout) || !strings.Contains(stderr.String(), tt.stderr) {
				t.Errorf("stdout %q, stderr %q", &stdout, &stderr)
			}
		})
	}
}

func TestDataFolder(t *testing.T) {
	const home = "/home/someone"
	tests := []struct {
		name, goos, home string
		env              map[string]string
		want             string
	}{
		{"linux", "linux", home, nil, "/home/someone/.local/share/rooftally"},
		{"set by the user", "linux", home, map[string]string{"XDG_DATA_HOME": "/data"}, "/data/rooftally"},
		{"a relative setting does not count", "linux", home, map[string]string{"XDG_DATA_HOME": "data"}, "/home/someone/.local/share/rooftally"},
		{"macOS", "darwin", home, nil, "/home/someone/Library/Application Support/rooftally"},
		{"windows", "windows", home, map[string]string{"LocalAppData": "/local"}, "/local/rooftally"},
		{"windows without a setting", "windows", home, nil, "/home/someone/AppData/Local/rooftally"},
		{"nobody's home", "linux", "", nil, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := dataFolder(tt.goos, tt.home, func(name string) string { return tt.env[name] })
			if got != filepath.FromSlash(tt.want) || (err != nil) != (tt.want == "") {
				t.Errorf("got %q, %v; want %q", got, err, tt.want)
			}
		})
	}
}

// asProgram is set when the test binary is started again as the program.
const asProgram = "ROOFTALLY_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) == "1" {
		main()
	}
	os.Exit(m.Run())
}

// TestSignalsStopTheProgram starts the program as its user does and lets a
// save be under way when the signal comes.
func TestSignalsStopTheProgram(t *testing.T) {
	for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		t.Run(signal.String(), func(t *testing.T) {
			data := t.TempDir()
			program := exec.CommandContext(t.Context(), os.Args[0], "-listen", "127.0.0.1:0")
			program.Env = append(os.Environ(), asProgram+"=1", "XDG_DATA_HOME="+data)
			var log bytes.Buffer
			program.Stderr = &log
			output, err := program.StdoutPipe()
			if err != nil {
				t.Fatal(err)
			}
			if err := program.Start(); err != nil {
				t.Fatal(err)
			}
			var base string
			if _, err := fmt.Fscanln(output, &base); err != nil {
				t.Fatalf("no address: %v; log: %s", err, &log)
			}
			if !regexp.MustCompile(`^http://127\.0\.0\.1:[1-9]\d*$`).MatchString(base) {
				t.Fatalf("address is %q", base)
			}
			answer := slowSave(t, base, func() {
				if err := program.Process.Signal(signal); err != nil {
					t.Fatal(err)
				}
				waitUntilRefused(t, strings.TrimPrefix(base, "http://"))
			})
			if err := program.Wait(); err != nil {
				t.Errorf("ended with %v, want status 0; log: %s", err, &log)
			}
			if answer != `{"version":2}` {
				t.Errorf("the save under way was answered %q", answer)
			}
			if !strings.Contains(log.String(), "msg=stopped") {
				t.Errorf("log: %s", &log)
			}
			path := filepath.Join(data, "rooftally", "rooftally.db")
			if _, body := read(t, startApp(t, path)+"/"); !strings.Contains(body, "Under way") {
				t.Error("the save under way was lost")
			}
		})
	}
}

// slowSave sends a save as far as half its body, calls midway once the program
// is reading it, sends the rest and returns the answer's body.
func slowSave(t *testing.T, base string, midway func()) string {
	t.Helper()
	_, list := read(t, base+"/")
	id := regexp.MustCompile(`/projects/([0-9a-f-]+)/archive`).FindStringSubmatch(list)
	if id == nil {
		t.Fatalf("no project in %.500s", list)
	}
	doc, err := project.Encode(project.New("Under way"))
	if err != nil {
		t.Fatal(err)
	}
	body := fmt.Sprintf(`{"version":1,"doc":%s}`, doc)
	host := strings.TrimPrefix(base, "http://")
	conn, err := net.Dial("tcp", host)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	send := func(text string) {
		t.Helper()
		if _, err := io.WriteString(conn, text); err != nil {
			t.Fatal(err)
		}
	}
	send(fmt.Sprintf("PUT /api/projects/%s HTTP/1.1\r\nHost: %s\r\nContent-Length: %d\r\nExpect: 100-continue\r\nConnection: close\r\n\r\n",
		id[1], host, len(body)))
	answers := bufio.NewReader(conn)
	// The program says so when it begins to read the body.
	if line, err := answers.ReadString('\n'); err != nil || !strings.HasPrefix(line, "HTTP/1.1 100") {
		t.Fatalf("got %q, %v", line, err)
	}
	if _, err := answers.ReadString('\n'); err != nil {
		t.Fatal(err)
	}
	send(body[:len(body)/2])
	midway()
	send(body[len(body)/2:])
	answer, err := http.ReadResponse(answers, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	data, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(string(data))
}

// waitUntilRefused returns once nobody listens at the address any more.
func waitUntilRefused(t *testing.T, address string) {
	t.Helper()
	deadline := time.Now().Add(10 * time.Second)
	for time.Now().Before(deadline) {
		conn, err := net.Dial("tcp", address)
		if err != nil {
			return
		}
		_ = conn.Close()
		time.Sleep(5 * time.Millisecond)
	}
	t.Error("the program still takes requests after the signal")
}
