package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"rooftally/project"
)

// give makes a project of a document and returns its ID.
func give(t *testing.T, base string, doc project.Document) string {
	t.Helper()
	data, err := project.Encode(doc)
	if err != nil {
		t.Fatal(err)
	}
	var form bytes.Buffer
	w := multipart.NewWriter(&form)
	part, err := w.CreateFormFile("file", "project.json")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := part.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	r, err := http.Post(base+"/projects/upload", w.FormDataContentType(), &form)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	id, ok := strings.CutPrefix(r.Request.URL.Path, "/projects/")
	if !ok {
		t.Fatalf("upload: %s, at %s", r.Status, r.Request.URL)
	}
	return id
}

// openRoof opens a project in the editor and waits for its counts.
func openRoof(b *browser, id string) {
	b.t.Helper()
	b.open("/projects/" + id)
	b.untilCounted()
}

// untilCounted waits until the counts are those of the drawing.
func (b *browser) untilCounted() {
	b.t.Helper()
	b.until(`/^\d+$/.test(document.querySelector('[data-testid="tally-A-count"]')?.textContent ?? '') && !document.querySelector('#tally[data-stale]')`)
}

// TestMoveToCounts measures how long it takes from a pointer move, dragging a
// corner of the demo house, to the counts that it leads to on the screen. It
// holds no machine to a figure; -v shows the figures.
func TestMoveToCounts(t *testing.T) {
	const samples = 60
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	demo := project.Demo()
	openRoof(b, give(t, base, demo))

	b.clickPlan(point{3, 2.2}) // on the first plane, beside what stands on it
	b.until(`document.querySelectorAll('[data-testid="handle"]').length >= 4`)
	corner := demo.Planes[0].Ring[0]
	x, y := b.screen(point{corner.XM, corner.YM})
	b.move(x, y)
	b.press(x, y)
	const measured = `performance.getEntriesByName('move-to-counts').map((m) => m.duration)`
	var tookMs []float64
	for i := 0; len(tookMs) < samples; i++ {
		if i == 2000 {
			t.Fatalf("%d moves led to %d measures", i, len(tookMs))
		}
		angle := float64(i) / 12
		b.move(x-60+50*math.Cos(angle), y+40+35*math.Sin(angle))
		time.Sleep(16 * time.Millisecond) // a pointer reports about 60 times a second
		if i%10 == 9 {
			tookMs = eval[[]float64](b, measured)
		}
	}
	b.release(x-60, y+40)
	b.untilCounted()
	b.clean()

	slices.Sort(tookMs)
	rank := func(part float64) float64 { return tookMs[int(math.Ceil(part*float64(len(tookMs))))-1] }
	load, _ := os.ReadFile("/proc/loadavg")
	t.Logf("from pointer move to counts on screen, %d samples: median %.1f ms, 90th percentile %.1f ms, longest %.1f ms; %d processors, load %s",
		len(tookMs), rank(0.5), rank(0.9), rank(1), runtime.NumCPU(), strings.TrimSpace(string(load)))
}

// TestTheTallySaysWhatIsKnown holds the marks of the tally strip against
// documents that call for each of them.
func TestTheTallySaysWhatIsKnown(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1024, 768)

	limited := project.Demo()
	five := 5
	limited.Planes[0].ModuleLimit = &five
	openRoof(b, give(t, base, limited))
	b.untilText(tid("tally-A-known"), "limited")
	b.click(tid("tally-counts"))
	b.untilText(tid("counts-table"), "5limited")

	covered := project.Demo()
	covered.Rules.Set = "irc_r324"
	covered.KeepOuts = nil
	for i := range covered.Planes {
		covered.Planes[i].Use = true
	}
	openRoof(b, give(t, base, covered))
	b.untilText(tid("tally-A-ridge"), "ridge strip widened")
	b.click(tid("tally-counts"))
	b.untilText(tid("counts-ridge"), "of the roof in plan")

	five5 := project.Demo()
	for i := range 2 { // the first two again, under other IDs
		again := five5.Candidates[i]
		again.ID += "-again"
		five5.Candidates = append(five5.Candidates, again)
	}
	openRoof(b, give(t, base, five5))
	b.untilText(tid("tally-A-tie"), "tie with D")
	b.shoot("five-candidates")
	for _, letter := range []string{"A", "B", "C", "D", "E"} {
		if hit := eval[string](b, overlapIn(tid("tally-"+letter+"-card"))); hit != "" {
			t.Errorf("card %s: %s", letter, hit)
		}
	}
	b.clean()
}

// overlapIn is a script that names two texts of a card that cover each other
// or reach over its side, "" for none.
func overlapIn(card string) string {
	return fmt.Sprintf(`(() => {
		const card = document.querySelector(%q);
		const frame = card.getBoundingClientRect();
		const parts = [...card.querySelectorAll('.t-watts, .t-label, .t-count, .t-said, .t-power, .t-mark, .t-plane')]
			.map((e) => ({ text: e.textContent, box: e.getBoundingClientRect() })).filter(({ box }) => box.width > 1 && box.height > 1);
		for (const [i, a] of parts.entries()) {
			if (a.box.right > frame.right + 1) return a.text + ' reaches over the side';
			for (const c of parts.slice(i + 1)) {
				if (a.box.left < c.box.right - 1 && c.box.left < a.box.right - 1 && a.box.top < c.box.bottom - 1 && c.box.top < a.box.bottom - 1) return a.text + ' covers ' + c.text;
			}
		}
		return '';
	})()`, card)
}

// TestAConflictFoundOnLoadSaysWhen closes a conflict undecided, loads the page
// again, and reads when the other version was saved.
func TestAConflictFoundOnLoadSaysWhen(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	doc := project.Demo()
	id := give(t, base, doc)
	openRoof(b, id)

	doc.Site.Label = "Saved elsewhere"
	saveElsewhere(t, base, id, 1, doc)
	b.click(tid("roof-use-" + doc.Planes[1].ID))
	b.untilText(tid("conflict-theirs"), "saved ")
	b.click(tid("conflict-close"))
	b.do(chromedp.Reload())
	b.untilText(tid("conflict-theirs"), "saved ")
	if said := b.text(tid("conflict-mine")); !strings.Contains(said, "edited ") {
		t.Errorf("my version is not dated: %q", said)
	}
	b.click(tid("conflict-keep"))
	b.untilSaved()
	if got := b.stored(id).Site.Label; got == doc.Site.Label {
		t.Errorf("kept mine, stored %q", got)
	}
}

func saveElsewhere(t *testing.T, base, id string, version int, doc project.Document) {
	t.Helper()
	data, err := project.Encode(doc)
	if err != nil {
		t.Fatal(err)
	}
	body, err := json.Marshal(map[string]any{"version": version, "doc": json.RawMessage(data)})
	if err != nil {
		t.Fatal(err)
	}
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPut, base+"/api/projects/"+id, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusOK {
		said, _ := io.ReadAll(answer.Body)
		t.Fatalf("save elsewhere: %s %s", answer.Status, said)
	}
}

// TestTheViewStaysFitted makes the window smaller and larger: a roof that was
// shown whole is shown whole again, and a view that was moved is left alone.
func TestTheViewStaysFitted(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	openRoof(b, give(t, base, project.Demo()))
	const inside = `(() => {
		const board = document.querySelector('[data-testid="drawing"]').getBoundingClientRect();
		const ways = [...document.querySelectorAll('.plane-wash')].map((e) => e.getBoundingClientRect());
		const [left, right] = [Math.min(...ways.map((w) => w.left)), Math.max(...ways.map((w) => w.right))];
		const [top, bottom] = [Math.min(...ways.map((w) => w.top)), Math.max(...ways.map((w) => w.bottom))];
		return left >= board.left && right <= board.right && top >= board.top && bottom <= board.bottom
			&& Math.max((right - left) / board.width, (bottom - top) / board.height) > 0.6; })()`
	b.until(inside)
	for _, size := range [][2]int64{{1024, 600}, {1600, 1000}, {390, 844}} {
		b.do(chromedp.EmulateViewport(size[0], size[1]))
		b.until(fmt.Sprintf(`innerWidth === %d`, size[0]))
		b.until(inside)
	}
	b.do(chromedp.EmulateViewport(1440, 900))
	b.until(inside)
	b.click(tid("action-zoom-in"))
	scale := func() float64 {
		return eval[float64](b, `document.querySelector('[data-layer="modules"]').getScreenCTM().a`)
	}
	b.until(`!(` + inside + `)`)
	before := scale()
	b.do(chromedp.EmulateViewport(1200, 800))
	b.until(`document.querySelector('[data-testid="drawing"]').getBoundingClientRect().height < 640`)
	eval[bool](b, `(requestAnimationFrame(() => requestAnimationFrame(() => { document.body.dataset.drawn = 'yes'; })), true)`)
	b.until(`document.body.dataset.drawn === 'yes'`)
	if after := scale(); after != before {
		t.Errorf("the zoom changed from %g to %g px a metre with the window", before, after)
	}
	b.clean()
}
