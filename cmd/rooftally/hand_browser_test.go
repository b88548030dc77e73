package main

import (
	"cmp"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"rooftally/layout"
	"rooftally/project"
)

// shed is one plane of 12 x 5 m in plan with a chimney near its right end.
func shed() project.Document {
	doc := project.New("Shed for hands (invented)")
	doc.Planes = []project.Plane{{
		ID: "slope", Label: "Slope", Use: true, PitchDeg: 30, AzimuthDeg: 180, EaveHeightM: 3,
		Ring: []project.Corner{{XM: 0, YM: 0}, {XM: 12, YM: 0}, {XM: 12, YM: 5}, {XM: 0, YM: 5}},
		Turn: "portrait", Covering: "tile", RafterSpacingM: project.DefaultRafterSpacingM,
	}}
	doc.KeepOuts = []project.KeepOut{{
		ID: "flue", Label: "Old flue", Kind: "chimney", Shape: "rect",
		Center: &project.Point{XM: 10.4, YM: 3.6}, WidthM: 0.6, DepthM: 0.6, ClearanceM: 0.2, HeightM: 1,
	}}
	return doc
}

// middles are the page places of what is drawn under a test id, row by row
// from the eave up, each from the left.
func (b *browser) middles(id string) []point {
	b.t.Helper()
	b.drawn()
	flat := eval[[]float64](b, fmt.Sprintf(`[...document.querySelectorAll(%q)].map((e) => e.getBoundingClientRect())
		.map((r) => [r.x + r.width / 2, r.y + r.height / 2])
		.sort((a, c) => Math.abs(c[1] - a[1]) > 2 ? c[1] - a[1] : a[0] - c[0]).flat()`, tid(id)))
	out := make([]point, len(flat)/2)
	for i := range out {
		out[i] = point{flat[2*i], flat[2*i+1]}
	}
	return out
}

// untilMany waits until so many elements bear a test id.
func (b *browser) untilMany(id string, n int) {
	b.t.Helper()
	b.until(fmt.Sprintf(`document.querySelectorAll(%q).length === %d`, tid(id), n))
}

func (b *browser) shiftClickAt(p point) {
	b.t.Helper()
	for _, kind := range []input.DispatchMouseEventType{input.DispatchMouseEventTypeMousePressed, input.DispatchMouseEventTypeMouseReleased} {
		b.do(chromedp.MouseEvent(kind, p.x, p.y, chromedp.ButtonLeft, chromedp.ClickCount(1), chromedp.ButtonModifiers(chromedp.ModifierShift)))
	}
}

// drag presses at one place, moves in steps and lets go at another. Before it
// lets go it waits for the given state of the page.
func (b *browser) drag(from, to point, before string) {
	b.t.Helper()
	b.move(from.x, from.y)
	b.press(from.x, from.y)
	const steps = 8
	for i := 1; i <= steps; i++ {
		f := float64(i) / steps
		b.move(from.x+(to.x-from.x)*f, from.y+(to.y-from.y)*f)
	}
	b.until(before)
	b.release(to.x, to.y)
}

// count is the count of candidate A once it is that of the drawing.
func (b *browser) count() int {
	b.t.Helper()
	b.untilCounted()
	n, err := strconv.Atoi(b.text(tid("tally-A-count")))
	if err != nil {
		b.t.Fatal(err)
	}
	return n
}

func (b *browser) untilCount(n int) {
	b.t.Helper()
	b.until(fmt.Sprintf(`document.querySelector(%q).textContent.trim() === '%d' && !document.querySelector('#tally[data-stale]')`, tid("tally-A-count"), n))
}

// TestHandEdits takes a module away, drags one, is refused, locks two and
// fills around them, moves a chimney onto a locked one, and finds it all again
// after loading the page anew.
func TestHandEdits(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	id := give(t, base, shed())
	openRoof(b, id)
	whole := b.count()
	b.click(tid("action-modules"))
	b.untilText("#status", "click one")

	removeOne(b, whole)
	dragOne(b, id, whole)
	refuseOnFlue(b, id)
	lockAndFill(b, id)
	flueOntoLocked(b, id)
	b.clean()
}

// removeOne takes the last module of the lowest row away, back and away again.
func removeOne(b *browser, whole int) {
	b.t.Helper()
	all := b.middles("module")
	if len(all) != whole {
		b.t.Fatalf("%d modules drawn, %d counted", len(all), whole)
	}
	last := slices.IndexFunc(all, func(p point) bool { return p.y < all[0].y-4 }) - 1
	b.clickAt(all[last].x, all[last].y)
	b.untilMany("module-picked", 1)
	b.shoot("picked")
	b.keys(kb.Delete)
	b.untilCount(whole - 1)
	b.keys("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	b.untilCount(whole)
	b.untilText("#status", "Undone: Remove module.")
	b.clickAt(all[last].x, all[last].y)
	b.untilMany("module-picked", 1)
	b.keys(kb.Delete)
	b.untilCount(whole - 1)
	b.untilText(tid("hand-who"), "Set by hand for module A")
}

// dragOne moves the last module of the lowest row into the room beside it.
func dragOne(b *browser, id string, whole int) {
	b.t.Helper()
	b.untilSaved()
	before := b.stored(id).Hand[0].Modules
	all := b.middles("module")
	last := slices.IndexFunc(all, func(p point) bool { return p.y < all[0].y-4 }) - 1
	to := point{all[last].x + 30, all[last].y}
	b.drag(all[last], to, `!!document.querySelector('[data-testid="ghost"]:not([data-refused])') && !document.querySelector('#tally[data-stale]')`)
	b.untilMany("ghost", 0)
	b.untilCount(whole - 1)
	b.untilText("#status", "1 module of A selected")
	b.untilSaved()
	after := b.stored(id).Hand[0].Modules
	if len(after) != len(before) {
		b.t.Fatalf("%d modules by hand, want %d", len(after), len(before))
	}
	moved := after[len(after)-1]
	if slices.Contains(before, moved) {
		b.t.Errorf("the last module did not move: %+v", moved)
	}
	if !slices.ContainsFunc(before, func(m project.HandModule) bool { return abs(m.YM-moved.YM) < 1e-9 && m.Turn == moved.Turn }) {
		b.t.Errorf("the moved module left its row: %+v", moved)
	}
}

// refuseOnFlue drags a module onto the flue, reads why it may not stay, and
// finds it where it was.
func refuseOnFlue(b *browser, id string) {
	b.t.Helper()
	before := b.stored(id)
	all := b.middles("module")
	x, y := b.screen(point{10.4, 3.6})
	b.drag(all[0], point{x, y}, `!!document.querySelector('[data-testid="ghost"][data-refused]')`)
	b.untilText("#status", "Not allowed there: on Old flue or its clearance. It was put back.")
	b.untilMany("ghost", 0)
	if n := len(b.middles("module")); n != len(all) {
		b.t.Errorf("%d modules after the refusal, want %d", n, len(all))
	}
	b.untilSaved()
	if after := b.stored(id); !slices.Equal(after.Hand[0].Modules, before.Hand[0].Modules) {
		b.t.Error("the refused place was stored")
	}

	b.move(all[0].x, all[0].y)
	b.press(all[0].x, all[0].y)
	b.move(x-20, y)
	b.move(x, y)
	b.untilText(tid("tip"), "Not allowed: on Old flue or its clearance")
	b.shoot("refused")
	b.keys(kb.Escape)
	b.release(x, y)
	b.untilMany("ghost", 0)
}

// lockAndFill locks two and lets the rest be filled.
func lockAndFill(b *browser, id string) {
	b.t.Helper()
	all := b.middles("module")
	b.clickAt(all[1].x, all[1].y)
	b.untilMany("module-picked", 1)
	b.shiftClickAt(all[2])
	b.untilMany("module-picked", 2)
	b.keys("k")
	b.untilMany("module-lock", 2)
	b.shoot("locked")
	before := b.count()
	b.click(tid("props-fill-rest"))
	b.untilText(tid("hand-who"), "around 2 locked modules")
	if n := b.count(); n < before {
		b.t.Errorf("%d modules filled around the locked ones, %d before", n, before)
	}
	b.untilMany("module-lock", 2)
	b.untilSaved()
	h := b.stored(id).Hand[0]
	if !h.Fill || len(h.Modules) != 2 {
		b.t.Errorf("stored %+v", h)
	}
	b.shoot("filled")
}

// flueOntoLocked moves the flue onto a locked module and reads that it no
// longer counts, after loading the page again too.
func flueOntoLocked(b *browser, id string) {
	b.t.Helper()
	b.click(tid("action-modules"))
	locked := b.middles("module-lock")[0]
	x, y := b.screen(point{10.4, 3.6})
	b.drag(point{x, y}, locked, `!!document.querySelector('[data-testid="module-refused"]')`)
	b.click(tid("props-roof"))
	b.untilText(tid("remarks"), "on Old flue or its clearance")
	b.shoot("remarked")
	b.untilSaved()
	n := b.count()
	b.do(chromedp.Reload())
	b.until(`!!document.querySelector('[data-testid="module-refused"]')`)
	b.untilCount(n)
	b.click(tid("roof-plane-slope"))
	b.untilText(tid("refused-module"), "Locked module: on Old flue or its clearance.")
	b.shoot("listed")
	refused := len(b.middles("module-refused"))

	b.click(tid("refused-unlock"))
	b.until(fmt.Sprintf(`document.querySelectorAll(%q).length === %d`, tid("module-refused"), refused-1))
	b.click(tid("action-undo"))
	b.untilMany("module-refused", refused)
	b.click(tid("refused-show"))
	b.untilMany("module-picked", 1)
	if title := b.text(tid("props-title")); !strings.Contains(title, "1 module selected") {
		b.t.Errorf("titled %q", title)
	}
	b.keys(kb.Delete)
	b.until(fmt.Sprintf(`document.querySelectorAll(%q).length === %d`, tid("module-refused"), refused-1))
	b.untilSaved()
	if left := len(b.stored(id).Hand[0].Modules); left != 1 {
		b.t.Errorf("%d modules by hand left, want 1", left)
	}
}

// TestHandEditsOnEveryScreen works on modules on a desk, a tablet and a phone:
// everything that it takes is in sight and in reach.
func TestHandEditsOnEveryScreen(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	id := give(t, base, project.Demo())
	for _, size := range [][2]int64{{1440, 900}, {1024, 768}, {390, 844}} {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) {
			b.t = t
			b.do(chromedp.EmulateViewport(size[0], size[1]))
			openRoof(b, id)
			addByPointer(b)
			b.untilSaved()
		})
	}
	b.t = t
	b.clean()
}

// addByPointer adds and takes away a module with the pointer alone, and undoes
// both.
func addByPointer(b *browser) {
	b.t.Helper()
	before := b.count()
	b.click(tid("action-modules"))
	b.untilText(tid("mode-bar"), "Add module")
	if hit := eval[string](b, outOfSight(`#actions button, [data-testid="mode-bar"] button`)); hit != "" {
		b.t.Errorf("out of sight: %s", hit)
	}
	all := b.middles("module")
	b.clickAt(all[0].x, all[0].y)
	b.untilMany("module-picked", 1)
	b.shoot("picked")
	if b.text(tid("props-title")) == "" || !eval[bool](b, `document.querySelector('#props').dataset.open === 'true'`) {
		b.click(tid("props-open"))
	}
	b.drawn()
	b.shoot("properties")
	b.click(tid("props-remove-modules"))
	b.untilCount(before - 1)
	b.click(tid("props-close"))
	b.click(tid("mode-add-module"))
	b.untilText("#status", "Click to add a module")
	place := b.middles("modules") // the middles of whole planes
	b.move(place[0].x, place[0].y)
	b.until(`!!document.querySelector('[data-testid="ghost"]')`)
	b.shoot("ghost")
	b.clickAt(place[0].x, place[0].y)
	b.untilText("#status", "Nothing was added.")
	b.click(tid("mode-stop"))
	b.click(tid("mode-done"))
	b.click(tid("action-undo"))
	b.untilCount(before)
}

// outOfSight is a script that names the first visible control of a selector
// that reaches over a side of the window, "" for none.
func outOfSight(css string) string {
	return fmt.Sprintf(`[...document.querySelectorAll(%q)].filter((e) => e.checkVisibility())
		.map((e) => ({ text: e.textContent, box: e.getBoundingClientRect() }))
		.find(({ box }) => box.left < 0 || box.right > innerWidth || box.top < 0 || box.bottom > innerHeight)?.text ?? ''`, css)
}

// TestHandEditsAreExactOnATurnedPlane takes a module out of a plane that lies
// askew in plan and adds it again by eye: the snap must give back the very gap
// and row, or the evaluation would refuse it. Then it drags one flush with the
// end of its row.
func TestHandEditsAreExactOnATurnedPlane(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	b := openBrowser(t, base, 1440, 900)
	doc := shed()
	turn := 0.4 // radians, 22.9 degrees
	doc.Planes[0].AzimuthDeg, doc.Planes[0].PitchDeg = 180-turn*180/math.Pi, 37
	for i, c := range doc.Planes[0].Ring {
		x, y := c.XM*math.Cos(turn)-c.YM*math.Sin(turn), c.XM*math.Sin(turn)+c.YM*math.Cos(turn)
		doc.Planes[0].Ring[i].XM, doc.Planes[0].Ring[i].YM = math.Round(x*1e4)/1e4, math.Round(y*1e4)/1e4
	}
	doc.KeepOuts = nil
	id := give(t, base, doc)
	openRoof(b, id)
	whole := b.count()
	b.click(tid("action-modules"))
	b.untilText("#status", "click one")
	all := b.middles("module")
	inner := all[len(all)/2]
	b.clickAt(inner.x, inner.y)
	b.untilMany("module-picked", 1)
	b.keys(kb.Delete)
	b.untilCount(whole - 1)

	b.keys("a")
	b.untilText("#status", "Click to add a module")
	b.move(inner.x+5, inner.y+3)
	b.until(`!!document.querySelector('[data-testid="ghost"]:not([data-refused])')`)
	b.clickAt(inner.x+5, inner.y+3)
	b.untilCount(whole)
	b.keys(kb.Escape)
	b.untilSaved()
	if r := refusedIn(t, b.stored(id)); r != 0 {
		t.Errorf("%d modules are refused", r)
	}

	// The rightmost one, a little further right than it may stand.
	all = b.middles("module")
	end := slices.MaxFunc(all, func(a, c point) int { return cmp.Compare(a.x, c.x) })
	b.clickAt(end.x, end.y)
	b.untilMany("module-picked", 1)
	reach := eval[float64](b, `document.querySelector('[data-layer="modules"]').getScreenCTM().a`) / math.Cos(turn) // px in 1 m
	slack := rightSlackM(t, b.stored(id)) * reach
	to := point{end.x + (slack+5)*math.Cos(turn), end.y - (slack+5)*math.Sin(turn)}
	b.drag(end, to, `(document.querySelector('[data-testid="tip"]')?.textContent ?? '').includes('flush')`)
	b.untilMany("ghost", 0)
	b.untilText("#status", "1 module of A selected")
	b.untilSaved()
	if left := rightSlackM(t, b.stored(id)); left > 1e-4 { // corners are drawn to a tenth of a millimetre
		t.Errorf("%g m are left beside the last module", left)
	}
	b.clean()
}

// refusedIn is how many modules set by hand the roof does not allow.
func refusedIn(t *testing.T, doc project.Document) int {
	t.Helper()
	return len(firstPlane(t, doc).Refused)
}

// firstPlane is what candidate A has on the first plane.
func firstPlane(t *testing.T, doc project.Document) project.PlaneLayoutResult {
	t.Helper()
	res, err := project.EvaluateWithin(t.Context(), doc, layout.Drag)
	if err != nil {
		t.Fatal(err)
	}
	return res.Candidates[0].Fill.ByPlane[0]
}

// rightSlackM is the room from the rightmost module to where its row must end:
// the rake's setback and the end allowance off the plane's right edge.
func rightSlackM(t *testing.T, doc project.Document) float64 {
	t.Helper()
	var right float64
	for _, m := range firstPlane(t, doc).Modules {
		right = max(right, m.UM+m.WM)
	}
	return 12 - doc.Rules.Distances.RakeM - doc.Rules.EndAllowanceM - right
}
