package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// browser is one tab of a real Chromium on a running server. Its calls fail
// the test; they wait for a state of the page, never for a time.
type browser struct {
	t    *testing.T
	ctx  context.Context
	base string

	mu     sync.Mutex
	errors []string // uncaught exceptions and console errors of the page
}

// patience is how long the page may take to reach a state on a busy machine.
const patience = 40 * time.Second

// chromiumPath finds Chromium, or skips the test. With
// ROOFTALLY_BROWSER=required a missing Chromium is a failure.
func chromiumPath(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("ROOFTALLY_BROWSER") == "required" {
		t.Fatal("Chromium is required for this run and was not found")
	}
	t.Skip("Chromium was not found: the browser tests are skipped")
	return ""
}

// openBrowser starts Chromium with a window of the given size on the server
// at base.
func openBrowser(t *testing.T, base string, widthPx, heightPx int) *browser {
	t.Helper()
	path := chromiumPath(t)
	alloc, stopAlloc := chromedp.NewExecAllocator(context.Background(),
		chromedp.ExecPath(path), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.WindowSize(widthPx, heightPx),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.UserDataDir(t.TempDir()))
	t.Cleanup(stopAlloc)
	ctx, stop := chromedp.NewContext(alloc)
	t.Cleanup(stop)
	ctx, stopTime := context.WithTimeout(ctx, 3*time.Minute)
	t.Cleanup(stopTime)
	b := &browser{t: t, ctx: ctx, base: base}
	// The first call starts Chromium and ends it with its context: not one of do's.
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(int64(widthPx), int64(heightPx))); err != nil {
		t.Fatal(err)
	}
	messages := chromedp.Console(ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			if m.IsException() || m.Type == "error" {
				b.mu.Lock()
				b.errors = append(b.errors, m.String())
				b.mu.Unlock()
			}
		}
	}()
	return b
}

func (b *browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, patience)
	defer stop()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.shoot("failed")
		b.t.Fatal(err)
	}
}

// open goes to a path of the server.
func (b *browser) open(path string) {
	b.t.Helper()
	b.do(chromedp.Navigate(b.base + path))
}

// click clicks the middle of the first visible element that matches.
func (b *browser) click(css string) {
	b.t.Helper()
	b.drawn()
	b.do(chromedp.Click(chromedp.CSS(css), chromedp.NodeVisible))
}

// fill replaces a field's text and leaves the field, so that it commits.
func (b *browser) fill(css, text string) {
	b.t.Helper()
	b.click(css)
	eval[bool](b, fmt.Sprintf(`(document.querySelector(%q).select(), true)`, css))
	b.keys(text)
	b.do(chromedp.Blur(chromedp.CSS(css)))
}

// keys types keys where the focus is.
func (b *browser) keys(keys string, opts ...chromedp.KeyOption) {
	b.t.Helper()
	b.do(chromedp.KeyEvent(keys, opts...))
}

// until waits until the page has loaded, its stylesheets too, and a JavaScript
// expression is true. It asks again after an error, since a page may be on its
// way out.
func (b *browser) until(expression string) {
	b.t.Helper()
	deadline := time.Now().Add(patience)
	loaded := "document.readyState === 'complete' && (" + expression + ")"
	for {
		ok, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](loaded))
		if err == nil && ok {
			return
		}
		if time.Now().After(deadline) || b.ctx.Err() != nil {
			b.shoot("failed")
			b.t.Fatalf("waited in vain for %s (last error: %v)", expression, err)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// drawn waits until the page has shown all that it knows: it draws once a
// frame, and what a drawing changes (a box's size) is answered in the next. It
// asks again after an error, since a page may be on its way out.
func (b *browser) drawn() {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, patience)
	defer stop()
	const frames = `new Promise(done => {
		const frame = n => n ? requestAnimationFrame(() => frame(n - 1)) : done(true);
		frame(3);
	})`
	for {
		_, err := chromedp.Run(ctx, chromedp.Evaluate[bool](frames, chromedp.EvalAwaitPromise))
		if err == nil {
			return
		}
		if ctx.Err() != nil {
			b.shoot("failed")
			b.t.Fatal(err)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// untilText waits until an element's text, white space folded, contains want.
func (b *browser) untilText(css, want string) {
	b.t.Helper()
	b.until(fmt.Sprintf(`(document.querySelector(%q)?.textContent ?? '').replace(/\s+/g, ' ').includes(%q)`, css, want))
}

// text is an element's text with white space folded, "" when it is missing.
func (b *browser) text(css string) string {
	return eval[string](b, fmt.Sprintf(`(document.querySelector(%q)?.textContent ?? '').replace(/\s+/g, ' ').trim()`, css))
}

// move, press and release are the pointer, in page pixels.
func (b *browser) move(x, y float64) {
	b.t.Helper()
	b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x, y))
}

func (b *browser) press(x, y float64) {
	b.t.Helper()
	b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
}

func (b *browser) release(x, y float64) {
	b.t.Helper()
	b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
}

// clickAt moves the pointer to a place and clicks there.
func (b *browser) clickAt(x, y float64) {
	b.t.Helper()
	b.move(x, y)
	b.press(x, y)
	b.release(x, y)
}

// shoot keeps a screenshot in the folder named by ROOFTALLY_SHOTS, if any.
func (b *browser) shoot(name string) {
	dir := os.Getenv("ROOFTALLY_SHOTS")
	if dir == "" {
		return
	}
	png, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		b.t.Logf("no screenshot %s: %v", name, err)
		return
	}
	file := filepath.Join(dir, strings.ReplaceAll(b.t.Name(), "/", "_")+"-"+name+".png")
	if err := os.WriteFile(file, png, 0o644); err != nil {
		b.t.Log(err)
	}
}

// clean fails the test if the page threw or logged an error so far.
func (b *browser) clean() {
	b.t.Helper()
	b.cleanBut("no error has this in it")
}

// cleanBut is clean for a page of which a test expects errors, such as a request
// that the server refuses: those with expected in them.
func (b *browser) cleanBut(expected string) {
	b.t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, e := range b.errors {
		if !strings.Contains(e, expected) {
			b.t.Errorf("the page reported: %s", e)
		}
	}
}

// eval gives the value of a JavaScript expression.
func eval[T any](b *browser, expression string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return v
}
