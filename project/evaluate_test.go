//go:build !js

package project

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"pgregory.net/rapid"

	"rooftally/layout"
)

func mustEvaluate(t testing.TB, d Document) Result {
	t.Helper()
	res, err := EvaluateWithin(t.Context(), d, layout.Drag)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// shed is a flat plane of the given size, used in full, no setbacks, gaps or
// end allowance, and one module of 1 m by 2 m and 400 W, portrait.
func shed(widthM, depthM float64) Document {
	d := New("Shed")
	d.Rules = Rules{Set: "none", Style: "rows"}
	d.Planes = []Plane{rectPlane("shed", 0, 0, widthM, depthM)}
	d.Candidates = []Candidate{{ID: "m", Label: "Module", PmaxW: 400, LengthM: 2, WidthM: 1}}
	return d
}

// rectPlane is a level plane with its lower left corner at x, y.
func rectPlane(id string, x, y, w, h float64) Plane {
	return Plane{
		ID: id, Use: true, AzimuthDeg: 180, Turn: "portrait", Covering: "tile", RafterSpacingM: 0.6,
		Ring: []Corner{{XM: x, YM: y}, {XM: x + w, YM: y}, {XM: x + w, YM: y + h}, {XM: x, YM: y + h}},
	}
}

// shadeOver is a last-resort shade area.
func shadeOver(x, y, w, h float64) KeepOut {
	return KeepOut{
		ID: "shade", Kind: "shade", Shape: "rect", Center: &Point{x + w/2, y + h/2},
		WidthM: w, DepthM: h, Shade: "last_resort",
	}
}

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// The numbers of a small roof by hand: 5 m by 4 m holds 5 x 2 modules of
// 1 m by 2 m.
func TestEvaluateByHand(t *testing.T) {
	d := shed(5, 4)
	res := mustEvaluate(t, d)
	c := res.Candidates[0]
	if c.Letter != "A" || c.ModuleAreaM2 != 2 || c.Size != nil || c.RidgeWidened {
		t.Errorf("candidate %+v", c)
	}
	f := c.Fill
	if f.Count != 10 || f.PdcW != 4000 || f.KWdc != 4 || f.InShade != 0 {
		t.Errorf("%d modules, %d W, %g kWdc, %d in shade; want 10, 4000, 4, 0", f.Count, f.PdcW, f.KWdc, f.InShade)
	}
	if f.WPerM2 != 200 || !near(f.FreeAreaM2, 0, 1e-6) {
		t.Errorf("%g W/m2, %g m2 free; want 200, 0", f.WPerM2, f.FreeAreaM2)
	}
	p := res.Planes[0]
	if !near(p.PlanAreaM2, 20, 1e-9) || !near(p.SlopeAreaM2, 20, 1e-9) || !near(p.UsableAreaM2, 20, 1e-6) || !near(res.PlanAreaM2, 20, 1e-9) {
		t.Errorf("plane %+v", p)
	}
	if !near(c.Coverage, 1, 1e-9) {
		t.Errorf("coverage %g, want 1", c.Coverage)
	}
	by := f.ByPlane[0]
	if by.Bound != 10 || !by.Proved || len(by.Modules) != 10 {
		t.Errorf("bound %d, proved %v, %d modules; want 10, true, 10", by.Bound, by.Proved, len(by.Modules))
	}
}

// With gaps of 0.1 m along the eave and 0.2 m up the slope a portrait module
// of 1 m by 2 m uses 1.1 x 2.2 m2, a landscape one 2.1 x 1.2 m2.
func TestAreaUsedFollowsTurn(t *testing.T) {
	for _, c := range []struct {
		turn string
		cell float64
	}{{"portrait", 1.1 * 2.2}, {"landscape", 2.1 * 1.2}} {
		d := shed(6, 5)
		d.Rules.GapEaveM, d.Rules.GapSlopeM = 0.1, 0.2
		d.Planes[0].Turn = c.turn
		res := mustEvaluate(t, d)
		f := res.Candidates[0].Fill
		if f.Count == 0 {
			t.Fatalf("%s: nothing fits", c.turn)
		}
		n := float64(f.Count)
		if want := 400 / c.cell; !near(f.WPerM2, want, 1e-9) {
			t.Errorf("%s: %g W/m2, want %g", c.turn, f.WPerM2, want)
		}
		if want := 30 - n*c.cell; !near(f.FreeAreaM2, want, 1e-6) {
			t.Errorf("%s: %g m2 free, want %g", c.turn, f.FreeAreaM2, want)
		}
	}
}

func TestNothingFits(t *testing.T) {
	res := mustEvaluate(t, shed(0.9, 4))
	f := res.Candidates[0].Fill
	if f.Count != 0 || f.WPerM2 != 0 || f.KWdc != 0 || !near(f.FreeAreaM2, 3.6, 1e-6) {
		t.Errorf("%+v", f)
	}
	if !hasFinding(res, "planes[0]", "no room") {
		t.Errorf("findings %v do not say that nothing fits", res.Findings)
	}
}

// The pitch makes the slope longer than the plan: at 60 degrees twice, so that
// 2 m of plan hold two rows of 2 m, and a module covers half its area in plan.
func TestPitchStretchesTheSlope(t *testing.T) {
	d := shed(3, 2.001)
	d.Planes[0].PitchDeg = 60
	res := mustEvaluate(t, d)
	c := res.Candidates[0]
	if c.Fill.Count != 6 {
		t.Errorf("%d modules, want 6", c.Fill.Count)
	}
	if want := 6 * 1.0 / (3 * 2.001); !near(c.Coverage, want, 1e-9) {
		t.Errorf("coverage %g, want %g", c.Coverage, want)
	}
	// Modules are mapped back into the plan ring, the lower edge to the south.
	m := c.Fill.ByPlane[0].Modules[0]
	if w, h := m.Plan[1][0]-m.Plan[0][0], m.Plan[3][1]-m.Plan[0][1]; !near(w, 1, 1e-9) || !near(h, 1, 1e-9) {
		t.Errorf("the module is %g by %g m in plan, want 1 by 1", w, h)
	}
}

func TestModuleLimit(t *testing.T) {
	d := shed(5, 4)
	d.Planes[0].ModuleLimit = new(7)
	by := mustEvaluate(t, d).Candidates[0].Fill.ByPlane[0]
	if by.Count != 7 || by.Bound != 10 || !by.Proved {
		t.Errorf("%d modules, bound %d, proved %v; want 7, 10, true", by.Count, by.Bound, by.Proved)
	}
	d.Planes[0].ModuleLimit = new(0)
	res := mustEvaluate(t, d)
	if n := res.Candidates[0].Fill.Count; n != 0 {
		t.Errorf("%d modules, want 0", n)
	}
	if len(res.Findings) != 0 {
		t.Errorf("findings %v on a plane closed by its limit", res.Findings)
	}
}

func TestUnusedPlaneHoldsNothing(t *testing.T) {
	d := shed(5, 4)
	d.Planes = append(d.Planes, rectPlane("other", 10, 0, 5, 4))
	d.Planes[0].Use = false
	res := mustEvaluate(t, d)
	f := res.Candidates[0].Fill
	if f.Count != 10 || len(f.ByPlane) != 1 || f.ByPlane[0].PlaneID != "other" || len(res.Planes) != 2 {
		t.Errorf("%+v", f)
	}
	if !near(res.PlanAreaM2, 40, 1e-9) || !near(res.Candidates[0].Coverage, 0.5, 1e-9) {
		t.Errorf("plan area %g, coverage %g; want 40, 0.5", res.PlanAreaM2, res.Candidates[0].Coverage)
	}
}

// Common practice, no source: 20 modules of 255, 285 and 320 W make 5.1, 5.7
// and 6.4 kWdc; 4.8 kWdc takes 19, 17 and 15 of them.
func TestTradeSizes(t *testing.T) {
	for _, c := range []struct {
		pmaxW int
		kwdc  float64
		need  int
	}{{255, 5.1, 19}, {285, 5.7, 17}, {320, 6.4, 15}} {
		t.Run(fmt.Sprint(c.pmaxW, " W"), func(t *testing.T) {
			d := shed(10, 4)
			d.Candidates[0].PmaxW, d.Candidates[0].Datasheet = c.pmaxW, nil
			d.Target = Target{Mode: "size", SizeW: 4800}
			r := mustEvaluate(t, d).Candidates[0]
			if r.Fill.Count != 20 || r.Fill.KWdc != c.kwdc {
				t.Errorf("%d modules make %v kWdc, want 20 and %v", r.Fill.Count, r.Fill.KWdc, c.kwdc)
			}
			if r.Size.Need != c.need || !r.Size.Fits || r.Size.Layout.Count != c.need {
				t.Errorf("need %d, fits %v, laid out %d; want %d", r.Size.Need, r.Size.Fits, r.Size.Layout.Count, c.need)
			}
		})
	}
	if n := Need(5700, 285); n != 20 {
		t.Errorf("5.7 kWdc of 285 W need %d, want 20", n)
	}
}

func TestNeedReachesTheSize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size, pmax := rapid.IntRange(1, 10_000_000).Draw(t, "size"), rapid.IntRange(1, 2000).Draw(t, "pmax")
		n := Need(size, pmax)
		if n*pmax < size || (n-1)*pmax >= size {
			t.Fatalf("%d modules of %d W for %d W", n, pmax, size)
		}
	})
}

func TestSizeThatDoesNotFit(t *testing.T) {
	d := shed(5, 4)
	d.Target = Target{Mode: "size", SizeW: 4001}
	s := mustEvaluate(t, d).Candidates[0].Size
	if s.Need != 11 || s.Fits || s.Layout.Count != 10 {
		t.Errorf("need %d, fits %v, laid out %d; want 11, false, 10", s.Need, s.Fits, s.Layout.Count)
	}
}

// Five modules across; the right two lie in shade.
//
//	|. . .|s s|
func TestLastResortIsPlacedLast(t *testing.T) {
	d := shed(5, 2)
	d.KeepOuts = []KeepOut{shadeOver(3, 0, 2, 2)}
	for _, c := range []struct{ sizeW, count, inShade int }{{400, 1, 0}, {1200, 3, 0}, {1600, 4, 1}, {2000, 5, 2}} {
		d.Target = Target{Mode: "size", SizeW: c.sizeW}
		r := mustEvaluate(t, d).Candidates[0]
		if r.Fill.Count != 5 || r.Fill.InShade != 2 {
			t.Errorf("filled: %d, %d in shade; want 5, 2", r.Fill.Count, r.Fill.InShade)
		}
		if l := r.Size.Layout; l.Count != c.count || l.InShade != c.inShade {
			t.Errorf("%d W: %d, %d in shade; want %d, %d", c.sizeW, l.Count, l.InShade, c.count, c.inShade)
		}
	}
}

// Filled, the plane has two modules of four that touch the narrow shade;
// keeping out of it leaves room for three, not two.
//
//	0     0.95 1.05                4.05
//	|       |ss|   .  |   .  |   .  |
func TestShadeIsAvoidedWherePossible(t *testing.T) {
	d := shed(4.05, 2)
	d.KeepOuts = []KeepOut{shadeOver(0.95, 0, 0.1, 2)}
	for _, c := range []struct{ n, inShade int }{{2, 0}, {3, 0}, {4, 2}} {
		d.Target = Target{Mode: "size", SizeW: 400 * c.n}
		r := mustEvaluate(t, d).Candidates[0]
		if r.Fill.Count != 4 || r.Fill.InShade != 2 {
			t.Fatalf("filled: %d, %d in shade; want 4, 2", r.Fill.Count, r.Fill.InShade)
		}
		if l := r.Size.Layout; l.Count != c.n || l.InShade != c.inShade {
			t.Errorf("%d, %d in shade; want %d, %d", l.Count, l.InShade, c.n, c.inShade)
		}
	}
	// Both planes have three places in the sun; all are filled before the two
	// of the other plane that are in shade.
	d.Planes = append(d.Planes, rectPlane("other", 10, 0, 5, 2))
	more := shadeOver(13, 0, 2, 2)
	more.ID = "more"
	d.KeepOuts = append(d.KeepOuts, more)
	d.Target.SizeW = 400 * 6
	if l := mustEvaluate(t, d).Candidates[0].Size.Layout; l.ByPlane[0].Count != 3 || l.ByPlane[1].Count != 3 || l.InShade != 0 {
		t.Errorf("%d and %d, %d in shade; want 3, 3, 0", l.ByPlane[0].Count, l.ByPlane[1].Count, l.InShade)
	}
}

// Every rule and field that bears on the packing does; the counts are by hand
// for a module of 1 m by 2 m, portrait.
func TestRulesReachThePacking(t *testing.T) {
	for _, c := range []struct {
		name string
		w, h float64
		edit func(*Document)
		want int
	}{
		{"end allowance within", 5.2, 2, func(d *Document) { d.Rules.EndAllowanceM = 0.1 }, 5},
		{"end allowance beyond", 5.19, 2, func(d *Document) { d.Rules.EndAllowanceM = 0.1 }, 4},
		{"gap along the eave within", 5.4, 2, func(d *Document) { d.Rules.GapEaveM = 0.1 }, 5},
		{"gap along the eave beyond", 5.39, 2, func(d *Document) { d.Rules.GapEaveM = 0.1 }, 4},
		{"gap up the slope", 5, 4, func(d *Document) { d.Rules.GapSlopeM = 0.1 }, 5},
		{"no distances in set none", 5, 2, func(d *Document) { d.Rules.Distances.EaveM = 1 }, 5},
		{"distance to the eaves", 5, 4.9, func(d *Document) { d.Rules.Set, d.Rules.Distances.EaveM = "distances", 0.5 }, 4},
		{"distance to no edge here", 5, 4, func(d *Document) { d.Rules.Set, d.Rules.Distances.HipM = "distances", 0.5 }, 10},
		{"edge made a hip", 5, 4, func(d *Document) {
			d.Rules.Set, d.Rules.Distances.HipM = "distances", 0.5
			d.Planes[0].Ring[1].Edge = "hip"
		}, 8},
		{"grid does not step", 4, 4, func(d *Document) { d.stepped(); d.Rules.Style = "grid" }, 6},
		{"rows step", 4, 4, func(d *Document) { d.stepped() }, 7},
		{"landscape", 4, 2, func(d *Document) { d.Planes[0].Turn = "landscape" }, 4},
		{"mixed", 3, 3, func(d *Document) { d.Planes[0].Turn = "mixed" }, 4},
		{"pipe", 4, 2, func(d *Document) { d.KeepOuts = []KeepOut{pipe(0.9, 0)} }, 2},
		{"wider pipe", 4, 2, func(d *Document) { d.KeepOuts = []KeepOut{pipe(1.1, 0)} }, 0},
		{"pipe with clearance", 4, 2, func(d *Document) { d.KeepOuts = []KeepOut{pipe(0.9, 0.2)} }, 0},
		{"rectangle along", 4, 2, func(d *Document) { d.KeepOuts = []KeepOut{bar(0)} }, 2},
		{"rectangle turned across", 4, 2, func(d *Document) { d.KeepOuts = []KeepOut{bar(90)} }, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := shed(c.w, c.h)
			c.edit(&d)
			if got := mustEvaluate(t, d).Candidates[0].Fill.Count; got != c.want {
				t.Errorf("%d modules, want %d", got, c.want)
			}
		})
	}
}

// stepped gives a shed a lower half 4 m wide and an upper half 3 m wide that
// begins 1.5 m further right: with one lattice for both, one half loses a
// module.
//
//	   +------+
//	   |      |
//	+--+    +-+
//	|       |
//	+-------+
func (d *Document) stepped() {
	d.Planes[0].Ring = []Corner{{XM: 0, YM: 0}, {XM: 4, YM: 0}, {XM: 4, YM: 2}, {XM: 4.5, YM: 2},
		{XM: 4.5, YM: 4}, {XM: 1.5, YM: 4}, {XM: 1.5, YM: 2}, {XM: 0, YM: 2}}
}

// bar is a chimney of 0.2 m by 3 m in the middle of a 4 m by 2 m shed, along
// y at turn 0.
func bar(turnDeg float64) KeepOut {
	return KeepOut{ID: "bar", Kind: "chimney", Shape: "rect", Center: &Point{2, 1}, WidthM: 0.2, DepthM: 3, TurnDeg: turnDeg}
}

// pipe is a round keep-out in the middle of a 4 m by 2 m shed.
func pipe(radiusM, clearanceM float64) KeepOut {
	return KeepOut{ID: "pipe", Kind: "pipe", Shape: "circle", Center: &Point{2, 1}, RadiusM: radiusM, ClearanceM: clearanceM}
}

// Neighbours need a gap and the edge does not: five modules with gaps of
// 0.1 m use 5.5 m of 5.4 m. The free area is then 0, not below.
func TestFreeAreaNotBelowZero(t *testing.T) {
	d := shed(5.4, 2)
	d.Rules.GapEaveM = 0.1
	if f := mustEvaluate(t, d).Candidates[0].Fill; f.Count != 5 || f.FreeAreaM2 != 0 || f.ByPlane[0].FreeAreaM2 != 0 {
		t.Errorf("%d modules, %g m2 free; want 5, 0", f.Count, f.FreeAreaM2)
	}
}

// A slope of 4 m of plan at 45 degrees rises 4 m above its eave.
func TestRidgeHeight(t *testing.T) {
	d := shed(5, 4)
	d.Planes[0].PitchDeg, d.Planes[0].EaveHeightM = 45, 2.5
	if h := mustEvaluate(t, d).Planes[0].RidgeHeightM; !near(h, 6.5, 1e-9) {
		t.Errorf("ridge at %g m, want 6.5", h)
	}
}

// Modules go to the planes with most room in the sun; of equal ones the first.
func TestSizeUsesFewPlanes(t *testing.T) {
	d := shed(3, 2)
	d.Planes = append(d.Planes, rectPlane("wide", 10, 0, 6, 2), rectPlane("middle", 20, 0, 4, 2), rectPlane("same", 30, 0, 4, 2))
	counts := func(n int) []int {
		d.Target = Target{Mode: "size", SizeW: 400 * n}
		var out []int
		for _, p := range mustEvaluate(t, d).Candidates[0].Size.Layout.ByPlane {
			out = append(out, p.Count)
		}
		return out
	}
	for _, c := range []struct {
		n    int
		want []int
	}{{5, []int{0, 5, 0, 0}}, {6, []int{0, 6, 0, 0}}, {8, []int{0, 6, 2, 0}}, {12, []int{0, 6, 4, 2}}, {17, []int{3, 6, 4, 4}}} {
		if got := counts(c.n); !slices.Equal(got, c.want) {
			t.Errorf("%d modules: %v, want %v", c.n, got, c.want)
		}
	}
	d.Planes[1].ModuleLimit = new(1)
	if got := counts(5); !slices.Equal(got, []int{0, 0, 4, 1}) {
		t.Errorf("with a limit: %v, want [0 0 4 1]", got)
	}
}

// gable is two planes of 10 m by 4 m in plan that meet in a level ridge.
func gable(turn string) Document {
	d := shed(10, 4)
	d.Planes = append(d.Planes, rectPlane("north", 0, 4, 10, 4))
	d.Planes[1].AzimuthDeg = 0
	for i := range d.Planes {
		d.Planes[i].PitchDeg, d.Planes[i].Turn = 30, turn
	}
	return d
}

// IRC 2018 R324.6.2: past 33 % of the plan area the ridge setback grows from
// 457 to 914 mm. The slope of each plane is 4.619 m long; two rows of 2 m need
// 4.0 m up the slope and fit below 457 mm, not below 914 mm.
func TestRidgeWidens(t *testing.T) {
	d := gable("portrait")
	d.Rules.Set = "irc_r324"
	d.Target = Target{Mode: "size", SizeW: 400}
	r := mustEvaluate(t, d).Candidates[0]
	// 9 modules a row beside a path of 0.914 m, 2 rows, 2 planes; each covers
	// 2 cos 30 m2 of 80 m2 of plan.
	if want := 36 * 2 * math.Cos(math.Pi/6) / 80; !near(r.Coverage, want, 1e-9) {
		t.Errorf("coverage %g, want %g", r.Coverage, want)
	}
	if !r.RidgeWidened || r.Fill.Count != 18 {
		t.Errorf("widened %v, %d modules; want true, 18", r.RidgeWidened, r.Fill.Count)
	}
	if r.Size.RidgeWidened || r.Size.Layout.Count != 1 {
		t.Errorf("one module: widened %v, %d laid out; want false, 1", r.Size.RidgeWidened, r.Size.Layout.Count)
	}

	// 15 modules cover 32.5 %, 16 cover 34.6 %.
	d.Target.SizeW = 15 * 400
	if s := mustEvaluate(t, d).Candidates[0].Size; s.RidgeWidened || !s.Fits {
		t.Errorf("15 modules: widened %v, fits %v; want false, true", s.RidgeWidened, s.Fits)
	}
	d.Target.SizeW = 16 * 400
	if s := mustEvaluate(t, d).Candidates[0].Size; !s.RidgeWidened || !s.Fits {
		t.Errorf("16 modules: widened %v, fits %v; want true, true", s.RidgeWidened, s.Fits)
	}
	d.Target.SizeW = 19 * 400
	if s := mustEvaluate(t, d).Candidates[0].Size; !s.RidgeWidened || s.Fits || s.Layout.Count != 18 {
		t.Errorf("19 modules: widened %v, fits %v, %d laid out; want true, false, 18", s.RidgeWidened, s.Fits, s.Layout.Count)
	}
	// The module limits keep the roof under 33 %.
	d.Planes[0].ModuleLimit, d.Planes[1].ModuleLimit = new(7), new(8)
	if r := mustEvaluate(t, d).Candidates[0]; r.RidgeWidened || r.Fill.Count != 15 {
		t.Errorf("limited: widened %v, %d modules; want false, 15", r.RidgeWidened, r.Fill.Count)
	}
}

func TestEvaluateRefuses(t *testing.T) {
	d := Demo()
	d.Planes[0].PitchDeg = 80
	_, err := EvaluateWithin(t.Context(), d, layout.Drag)
	if ps, ok := err.(Problems); !ok || ps[0].Path != "planes[0].pitch_deg" {
		t.Errorf("error %v, want Problems at planes[0].pitch_deg", err)
	}
}

func TestEvaluateCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := EvaluateWithin(ctx, Demo(), layout.Drag); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want %v", err, context.Canceled)
	}
}

// countdown is a context that is cancelled after it has been asked so often.
type countdown struct {
	context.Context
	stopAt int64
	asks   atomic.Int64 // several packings ask at once
}

func (c *countdown) Err() error {
	if c.asks.Add(1) > c.stopAt {
		return context.Canceled
	}
	return nil
}

// Whenever the caller gives up, the work ends with that error: the geometry of
// a large drawing takes seconds too, not only the packing.
func TestEvaluateAsksTheContextThroughout(t *testing.T) {
	whole := &countdown{Context: t.Context(), stopAt: math.MaxInt64}
	d := Demo()
	if _, err := EvaluateWithin(whole, d, layout.Drag); err != nil {
		t.Fatal(err)
	}
	if least := 3 * len(d.Planes); whole.asks.Load() < int64(least) {
		t.Errorf("asked %d times, want %d or more", whole.asks.Load(), least)
	}
	for at := range whole.asks.Load() {
		if _, err := EvaluateWithin(&countdown{Context: t.Context(), stopAt: at}, d, layout.Drag); !errors.Is(err, context.Canceled) {
			t.Fatalf("cancelled after %d of %d questions: error %v", at, whole.asks.Load(), err)
		}
	}
	// Without candidates nothing is packed; planes and remarks still ask.
	d.Candidates, d.Target.Chosen = nil, ""
	geometry := &countdown{Context: t.Context(), stopAt: math.MaxInt64}
	if _, err := EvaluateWithin(geometry, d, layout.Drag); err != nil || geometry.asks.Load() < int64(len(d.Planes)) {
		t.Errorf("asked %d times for %d planes, %v", geometry.asks.Load(), len(d.Planes), err)
	}
}

// A plane within all ranges that would hold more modules than are laid out.
func TestEvaluateTooManyModules(t *testing.T) {
	d := shed(170, 170)
	d.Candidates[0].LengthM, d.Candidates[0].WidthM, d.Candidates[0].Datasheet = 0.2, 0.2, nil
	_, err := EvaluateWithin(t.Context(), d, layout.Drag)
	if ps, ok := err.(Problems); !ok || ps[0].Path != "planes[0]" {
		t.Errorf("error %v, want Problems at planes[0]", err)
	}
}

func TestEvaluateEmpty(t *testing.T) {
	d := New("Empty")
	d.Target = Target{Mode: "size", SizeW: 1000}
	res := mustEvaluate(t, d)
	text, err := EncodeResult(res)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(strings.ReplaceAll(string(text), `"offer": null`, ""), "null") {
		t.Errorf("nulls in\n%s", text)
	}
	if s := res.Candidates[0].Size; s.Fits || s.Layout.Count != 0 || s.Need != 4 {
		t.Errorf("%+v; want no fit, 0 of 4", s)
	}
}

func TestWideZonesAreThereForWhoKeepsThem(t *testing.T) {
	d := Demo()
	d.Rules.Set = "irc_r324"
	d.KeepOuts = []KeepOut{}
	for i := range d.Planes {
		d.Planes[i].Use = true
	}
	res, err := EvaluateWithin(t.Context(), d, layout.Drag)
	if err != nil {
		t.Fatal(err)
	}
	widened := false
	for _, c := range res.Candidates {
		widened = widened || c.Widened()
		for _, p := range res.Planes {
			if zones := p.ZonesFor(c); len(zones) == 0 || c.Widened() != slices.EqualFunc(zones, p.WideZones, sameZone) {
				t.Errorf("%s on %s: widened %t with %d zones", c.Letter, p.ID, c.Widened(), len(zones))
			}
		}
	}
	if !widened {
		t.Fatal("no candidate covers enough of the roof to show anything")
	}
	d.Rules.Set = "none"
	if res, err = EvaluateWithin(t.Context(), d, layout.Drag); err != nil || len(res.Planes[0].WideZones) != 0 {
		t.Errorf("without a wider setback there are wide zones: %v %v", res.Planes[0].WideZones, err)
	}
}

func sameZone(a, b ZoneResult) bool { return a.Why == b.Why && slices.Equal(a.Ring, b.Ring) }
