package main

import (
	"fmt"
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"rooftally/project"
)

// line is the network between browser and server, in the hands of a test.
type line struct {
	url string

	mu          sync.Mutex
	isCut       bool
	missing     string // requests that begin so get status 404; "" for none
	evaluations int    // asked of the server so far
	held        string // requests that begin so wait; "" for none
	released    chan struct{}
}

// lineTo leads to the server at base.
func lineTo(t *testing.T, base string) *line {
	t.Helper()
	target, err := url.Parse(base)
	if err != nil {
		t.Fatal(err)
	}
	l := &line{}
	server := &httputil.ReverseProxy{
		Rewrite: func(r *httputil.ProxyRequest) {
			r.SetURL(target)
			r.Out.Host = r.In.Host
		},
		ErrorLog: log.New(io.Discard, "", 0), // a browser that leaves breaks connections
	}
	front := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		l.wait(r)
		isCut, isMissing := l.pass(r.URL.Path)
		switch {
		case isCut:
			panic(http.ErrAbortHandler) // the connection breaks without an answer
		case isMissing:
			http.NotFound(w, r)
		default:
			server.ServeHTTP(w, r)
		}
	}))
	t.Cleanup(front.Close)
	l.url = front.URL
	return l
}

func (l *line) pass(path string) (isCut, isMissing bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if path == "/api/evaluate" {
		l.evaluations++
	}
	return l.isCut, l.missing != "" && strings.HasPrefix(path, l.missing)
}

// hold lets requests whose path begins so wait until release is called.
func (l *line) hold(prefix string) (release func()) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.held, l.released = prefix, make(chan struct{})
	return sync.OnceFunc(func() { close(l.released) })
}

func (l *line) wait(r *http.Request) {
	l.mu.Lock()
	isHeld, released := l.held != "" && strings.HasPrefix(r.URL.Path, l.held), l.released
	l.mu.Unlock()
	if !isHeld {
		return
	}
	select {
	case <-released:
	case <-r.Context().Done():
	}
}

func (l *line) cut(isCut bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.isCut = isCut
}

func (l *line) asked() int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.evaluations
}

// openDemo opens the project that a new database begins with and gives its ID.
func openDemo(b *browser) string {
	b.open("/")
	b.click(`.row a[href^="/projects/"]`)
	b.until(`document.querySelectorAll('[data-testid="module"]').length > 0`)
	return strings.TrimPrefix(eval[string](b, `location.pathname`), "/projects/")
}

// dragCorner pulls the main plane's lower west corner to the east, holds it
// until the count has changed, and lets go.
func dragCorner(b *browser) {
	b.t.Helper()
	before := b.text(tid("tally-A-count"))
	corner := project.Demo().Planes[0].Ring[0]
	b.clickPlan(point{corner.XM + 3, corner.YM + 1.5})
	b.until(`document.querySelectorAll('[data-testid="handle"]').length >= 4`)
	x, y := b.screen(point{corner.XM, corner.YM})
	toX, toY := b.screen(point{corner.XM + 2.5, corner.YM})
	b.move(x, y)
	b.press(x, y)
	for i := 1; i <= 20; i++ {
		f := float64(i) / 20
		b.move(x+(toX-x)*f, y+(toY-y)*f)
	}
	b.until(fmt.Sprintf(`document.querySelector('[data-testid="tally-A-count"]').textContent.trim() !== %q`, before))
	b.shoot("held")
	b.release(toX, toY)
}

const countsHere = `performance.getEntriesByName('counting-here').length === 1`

// TestCountsFollowWithoutTheNetwork drags with the line cut, and compares the
// counts with the server's once the drawing has come through to it.
func TestCountsFollowWithoutTheNetwork(t *testing.T) {
	l := lineTo(t, startApp(t, filepath.Join(t.TempDir(), "a.db")))
	b := openBrowser(t, l.url, 1440, 900)
	id := openDemo(b)
	b.until(countsHere)
	b.clean()
	asked := l.asked()

	l.cut(true)
	dragCorner(b)
	b.untilText("#savestate", "Offline")
	if n := l.asked() - asked; n > 0 {
		t.Errorf("%d evaluations were asked of the server", n)
	}
	l.cut(false)
	eval[bool](b, `dispatchEvent(new Event('online'))`)
	b.untilSaved()
	checkTally(b, id)
}

// TestTheServerCountsWithoutTheProgram drags in a page whose program for
// counting never arrives.
func TestTheServerCountsWithoutTheProgram(t *testing.T) {
	l := lineTo(t, startApp(t, filepath.Join(t.TempDir(), "a.db")))
	l.missing = "/static/wasm/"
	b := openBrowser(t, l.url, 1440, 900)
	id := openDemo(b)
	asked := l.asked()
	dragCorner(b)
	b.untilSaved()
	checkTally(b, id)
	if l.asked() == asked || eval[bool](b, countsHere) {
		t.Error("somebody other than the server counted")
	}
}

// TestTheLongerSearchFollows takes most modules and waits for the module that
// only the longer search finds: in the browser with the line cut, and by the
// server where the program for counting never arrives.
func TestTheLongerSearchFollows(t *testing.T) {
	for _, c := range []struct{ name, missing string }{{"in the browser", ""}, {"by the server", "/static/wasm/"}} {
		t.Run(c.name, func(t *testing.T) {
			l := lineTo(t, startApp(t, filepath.Join(t.TempDir(), "a.db")))
			l.missing = c.missing
			b := openBrowser(t, l.url, 1024, 768)
			openRoof(b, give(t, l.url, unevenRoof()))
			if c.missing == "" {
				b.until(countsHere)
			}
			asked := l.asked()
			l.cut(c.missing == "")
			b.untilText(tid("tally-A-offer"), "more rail run")
			b.click(tid("tally-A-offer"))
			b.untilText(tid("tally-A-gained"), "+1 found")
			b.untilText(tid("tally-A-known"), "proved")
			if byServer := l.asked() > asked; byServer == (c.missing == "") {
				t.Errorf("the server was asked: %v", byServer)
			}
		})
	}
}
