//go:build !js

package project

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rooftally/layout"
)

// handShed is a level 10 m by 5 m plane with modules of 1 m by 2 m, gaps of
// 20 mm, an end allowance of 40 mm and a setback of 0.3 m at the eave.
func handShed(fill bool, modules ...HandModule) Document {
	d := shed(10, 5)
	d.Rules = Rules{
		Set: "distances", Distances: Distances{EaveM: 0.3}, Style: "rows",
		GapEaveM: 0.02, GapSlopeM: 0.02, EndAllowanceM: 0.04,
	}
	d.Planes[0].Ring[0].Edge = "eave"
	for i := 1; i < 4; i++ {
		d.Planes[0].Ring[i].Edge = "rake"
	}
	d.Hand = []HandLayout{{CandidateID: "m", PlaneID: "shed", Fill: fill, Modules: modules}}
	return d
}

func upright(x, y float64) HandModule { return HandModule{XM: x, YM: y, Turn: "portrait"} }

func locked(m HandModule) HandModule { m.Locked = true; return m }

func level(m HandModule) HandModule { m.Turn = "landscape"; return m }

// Each row sets modules by hand; those refused must be, in order, for the reason
// and with the partner given.
func TestHandIsRefusedWithTheReason(t *testing.T) {
	vent := KeepOut{ID: "vent", Kind: "other", Shape: "rect", Center: &Point{5, 4}, WidthM: 0.4, DepthM: 0.4}
	shade := KeepOut{ID: "elm", Kind: "shade", Shape: "rect", Center: &Point{8, 4}, WidthM: 0.4, DepthM: 0.4, Shade: "off_limits"}
	for _, c := range []struct {
		name    string
		modules []HandModule
		edit    func(*Document)
		want    []string // index, reason, with
	}{
		{"all stand", []HandModule{upright(1, 1), upright(2.02, 1), level(upright(1, 3.02))}, nil, nil},
		{"beyond the edge", []HandModule{upright(9.5, 1)}, nil, []string{"0 outside "}},
		{"far away", []HandModule{upright(-900, 1), upright(1, 1)}, nil, []string{"0 outside "}},
		{"in the setback", []HandModule{upright(1, 0.29), upright(3, 0.3)}, nil, []string{"0 setback "}},
		{"over a vent", []HandModule{upright(4.5, 2.5)}, nil, []string{"0 keep_out vent"}},
		{"over shade", []HandModule{upright(7.5, 2.5)}, nil, []string{"0 shade_off_limits elm"}},
		{"end allowance over a vent", []HandModule{upright(3.77, 2.5), upright(5.24, 2.5)}, nil, []string{"0 end vent"}},
		{"end allowance over the edge", []HandModule{upright(0.03, 1), upright(8.96, 1)}, nil, []string{"0 end "}},
		{"over each other", []HandModule{upright(1, 1), upright(1.5, 1.5)}, nil, []string{"1 overlap 0"}},
		{"gap too small", []HandModule{upright(1, 1), upright(2.019, 1)}, nil, []string{"1 overlap 0"}},
		{"the locked one stands", []HandModule{upright(1, 1), locked(upright(1.5, 1.5))}, nil, []string{"0 overlap 1"}},
		{"one refused refuses no other", []HandModule{upright(1, 0.1), upright(1, 0.5)}, nil, []string{"0 setback "}},
		{"of two pairs", []HandModule{upright(1, 1), upright(1.1, 1), upright(5, 0.5), upright(5.1, 0.5)}, nil, []string{"1 overlap 0", "3 overlap 2"}},
		{"limit", []HandModule{upright(1, 1), upright(3, 1), locked(upright(5, 0.5))},
			func(d *Document) { d.Planes[0].ModuleLimit = new(2) }, []string{"1 limit "}},
		{"no room in the limit", []HandModule{locked(upright(1, 1))}, func(d *Document) { d.Planes[0].ModuleLimit = new(0) }, []string{"0 limit "}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := handShed(false, c.modules...)
			d.KeepOuts = []KeepOut{vent, shade}
			if c.edit != nil {
				c.edit(&d)
			}
			res := mustEvaluate(t, d)
			by := res.Candidates[0].Fill.ByPlane[0]
			var got []string
			for _, r := range by.Refused {
				got = append(got, strings.Join([]string{string(rune('0' + r.Index)), r.Why, r.With}, " "))
				if m := c.modules[r.Index]; r.Locked != m.Locked || !near(r.Plan[0][0], m.XM, 1e-9) || !near(r.Plan[0][1], m.YM, 1e-9) {
					t.Errorf("refused as %+v", r)
				}
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("refused %q, want %q", got, c.want)
			}
			if by.Hand != "by_hand" || by.Count != len(c.modules)-len(c.want) {
				t.Errorf("%d modules, %q; want %d", by.Count, by.Hand, len(c.modules)-len(c.want))
			}
			for _, m := range by.Modules {
				if !m.Hand {
					t.Errorf("%+v is not marked", m)
				}
			}
			if hasFinding(res, "hand[0]", "left out") != (len(c.want) > 0) {
				t.Errorf("findings %v", res.Findings)
			}
		})
	}
}

// Two rows of 9 hold 18 modules: 9 x 1 m and 8 gaps of 20 mm in 9.92 m, twice 2 m
// and a gap in 4.7 m. A module from 1.5 m to 3.5 m stands in the way of both
// rows: 4 are left in each on either side of it, in 4.44 m.
func TestFillingAroundLockedModules(t *testing.T) {
	count := func(modules ...HandModule) (PlaneLayoutResult, Result) {
		res := mustEvaluate(t, handShed(true, modules...))
		return res.Candidates[0].Fill.ByPlane[0], res
	}
	free, _ := count()
	if free.Hand != "" || free.Count != 18 {
		t.Fatalf("nothing locked: %d modules, %q", free.Count, free.Hand)
	}
	inRow, _ := count(locked(upright(free.Modules[3].UM, free.Modules[3].VM)))
	if inRow.Count != 18 || inRow.Hand != "around" {
		t.Errorf("one of them locked: %d, %q", inRow.Count, inRow.Hand)
	}
	high, _ := count(locked(upright(4.5, 1.5)))
	if high.Count != 17 || !slices.ContainsFunc(high.Modules, func(m Module) bool { return m.Locked && m.Hand && near(m.UM, 4.5, 1e-9) && near(m.VM, 1.5, 1e-9) }) {
		t.Errorf("locked beside the rows: %d modules", high.Count)
	}
	if n := len(slices.DeleteFunc(slices.Clone(high.Modules), func(m Module) bool { return !m.Hand })); n != 1 {
		t.Errorf("%d modules are said to be set by hand", n)
	}
	gone, res := count(locked(upright(4.5, 0.1)))
	if gone.Count != 18 || len(gone.Refused) != 1 || gone.Refused[0].Why != "setback" || !gone.Refused[0].Locked || !hasFinding(res, "hand[0]", "sets 1 module") {
		t.Errorf("locked in the setback: %d modules, refused %+v, %v", gone.Count, gone.Refused, res.Findings)
	}
}

// A change of pitch keeps the place in plan.
func TestHandKeepsItsPlaceInPlan(t *testing.T) {
	d := handShed(true, locked(upright(2, 0.5)))
	for _, pitch := range []float64{0, 30, 60} {
		d.Planes[0].PitchDeg = pitch
		by := mustEvaluate(t, d).Candidates[0].Fill.ByPlane[0]
		m := by.Modules[slices.IndexFunc(by.Modules, func(m Module) bool { return m.Locked })]
		if !near(m.Plan[0][0], 2, 1e-9) || !near(m.Plan[0][1], 0.5, 1e-9) {
			t.Errorf("pitch %g: at %v", pitch, m.Plan[0])
		}
	}
}

// Only the candidate and plane named are laid out by hand.
func TestHandIsForOneCandidateAndPlane(t *testing.T) {
	d := handShed(false, upright(1, 1))
	other := d.Candidates[0]
	other.ID = "n"
	d.Candidates = append(d.Candidates, other)
	second := rectPlane("second", 20, 0, 10, 5)
	d.Planes = append(d.Planes, second)
	res := mustEvaluate(t, d)
	for i, want := range [][]string{{"by_hand", ""}, {"", ""}} {
		for k, by := range res.Candidates[i].Fill.ByPlane {
			if by.Hand != want[k] || (by.Count == 1) != (want[k] == "by_hand") {
				t.Errorf("candidate %d, plane %d: %q with %d", i, k, by.Hand, by.Count)
			}
		}
	}
}

// Meeting a size takes locked modules first, in last-resort shade too.
func TestSizeTakesLockedFirst(t *testing.T) {
	d := handShed(true, locked(upright(4.5, 0.7)), locked(upright(8, 0.5)))
	d.KeepOuts = []KeepOut{shadeOver(7.5, 0, 2, 5)}
	d.Planes = append(d.Planes, rectPlane("larger", 20, 0, 30, 5))
	for n := 1; n <= 4; n++ {
		d.Target = Target{Mode: "size", SizeW: 400 * n}
		lay := mustEvaluate(t, d).Candidates[0].Size.Layout
		held := 0
		for _, m := range lay.ByPlane[0].Modules {
			if m.Locked {
				held++
			}
		}
		if lay.Count != n || held != min(n, 2) {
			t.Errorf("%d modules: %d of them locked", lay.Count, held)
		}
	}
}

// Locked modules survive whatever else changes, or are listed; nothing refused
// is counted or shown.
func TestLockedModulesSurvive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDocument().Draw(t, "doc")
		if len(d.Candidates) == 0 {
			return
		}
		h := HandLayout{CandidateID: d.Candidates[0].ID, PlaneID: d.Planes[0].ID, Fill: rapid.Bool().Draw(t, "fill")}
		for range rapid.IntRange(1, 8).Draw(t, "modules") {
			at := func(label string, most int) float64 { return float64(rapid.IntRange(0, most).Draw(t, label)) / 100 }
			h.Modules = append(h.Modules, HandModule{XM: at("x", 1100), YM: at("y", 600), Turn: "landscape", Locked: true})
		}
		d.Planes[0].Use = true
		d.Hand = []HandLayout{h}
		res, err := EvaluateWithin(t.Context(), d, layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		by := res.Candidates[0].Fill.ByPlane[0]
		for i, m := range h.Modules {
			shown := slices.ContainsFunc(by.Modules, func(s Module) bool {
				return s.Locked && s.Hand && near(s.Plan[0][0], m.XM, 1e-9) && near(s.Plan[0][1], m.YM, 1e-9)
			})
			refused := slices.ContainsFunc(by.Refused, func(r RefusedModule) bool { return r.Index == i })
			// A module at the place of another may be refused and shown at once.
			if !shown && !refused || shown && refused && !slices.Contains(slices.Delete(slices.Clone(h.Modules), i, i+1), m) {
				t.Fatalf("module %d: shown %v, refused %v", i, shown, refused)
			}
		}
		if held := len(h.Modules) - len(by.Refused); by.Count < held || !h.Fill && by.Count != held {
			t.Fatalf("%d modules of %d locked, %d refused", by.Count, len(h.Modules), len(by.Refused))
		}
	})
}
