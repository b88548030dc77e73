//go:build !js

package project

import (
	"slices"
	"testing"

	"rooftally/layout"
)

// backwards sets one candidate's modules of a plane by hand where they are, in
// another order and without the first.
func backwards(d Document, res Result, candidate int, planeID string) Document {
	by := res.Candidates[candidate].Shown().ByPlane
	at := slices.IndexFunc(by, func(p PlaneLayoutResult) bool { return p.PlaneID == planeID })
	h := HandLayout{CandidateID: d.Candidates[candidate].ID, PlaneID: planeID}
	for _, m := range slices.Backward(by[at].Modules[1:]) {
		h.Modules = append(h.Modules, HandModule{XM: m.Plan[0][0], YM: m.Plan[0][1], Turn: m.Turn})
	}
	d.Hand = []HandLayout{h}
	return d
}

// Every module has the string that the plan gives it and the light of its own
// place, whatever the order in which modules were set, and those that the plan
// leaves out make nothing.
func TestStringsAndLightOfAHandLayout(t *testing.T) {
	const candidate, plane = 0, "main-south"
	d := Demo()
	d = backwards(d, mustEvaluate(t, d), candidate, plane)
	res, build := mustEvaluate(t, d), mustBuild(t, d)
	c := yieldOf(t, d).Candidates[candidate]
	lay, plan, light := res.Candidates[candidate].Shown(), build.Candidates[candidate].Wiring, lightOf(t, d)
	if c.Why != "" || plan.Why != "" || len(plan.LeftOut) == 0 || len(plan.Strings) < 2 || len(res.Candidates[candidate].Fill.ByPlane[0].Refused) > 0 {
		t.Fatalf("%q %q, %d left out of %d strings", c.Why, plan.Why, len(plan.LeftOut), len(plan.Strings))
	}
	series := map[ModuleRef]int{}
	for _, s := range plan.Strings {
		for _, ref := range s.Modules {
			series[ref] = s.Number
		}
	}
	for _, m := range c.Modules {
		if m.String != series[m.ModuleRef] || m.Wired != (series[m.ModuleRef] > 0) || !m.Wired && m.ACKWh != 0 {
			t.Errorf("%+v: string %d, wired %v, %g kWh; the plan says %d", m.ModuleRef, m.String, m.Wired, m.ACKWh, series[m.ModuleRef])
		}
		by := lay.ByPlane[slices.IndexFunc(lay.ByPlane, func(p PlaneLayoutResult) bool { return p.PlaneID == m.PlaneID })]
		at := by.Modules[m.Index]
		l := planeLightOf(t, d, light, m.PlaneID)
		if want := l.of(layout.Rect{UM: at.UM, VM: at.VM, WM: at.WM, HM: at.HM}) / l.OpenKWhM2; !near(m.Access, want, 0.015) {
			t.Errorf("%+v: access %.3f, that of its place is %.3f", m.ModuleRef, m.Access, want)
		}
	}
	if len(c.Modules) != len(series)+len(plan.LeftOut) || c.Total.Modules != plan.Wires {
		t.Errorf("%d modules, %d in strings, %d left out, %d yield", len(c.Modules), len(series), len(plan.LeftOut), c.Total.Modules)
	}
}

// What the inverter cuts off is a share of what it would give without a limit,
// and the same inverter without one gives it.
func TestClippedShare(t *testing.T) {
	d := openRoof(30)
	d.Candidates = d.Candidates[:1]
	d.Wiring = Demo().Wiring
	with := func(acW float64) CandidateYield {
		v := *d.Wiring.Inverter
		v.ACPowerW, v.ACCurrentA = acW, acW/200
		d.Wiring.Inverter = &v
		return yieldOf(t, d).Candidates[0]
	}
	cut, whole := with(1500), with(12_000)
	if cut.Why != "" || whole.Why != "" || cut.Total.Modules != whole.Total.Modules || whole.ClippedKWh != 0 || whole.ClippedPct != 0 {
		t.Fatalf("%q %q: %d and %d modules, %g kWh cut off without a limit", cut.Why, whole.Why, cut.Total.Modules, whole.Total.Modules, whole.ClippedKWh)
	}
	if want := 100 * (1 - cut.Total.ACYear/whole.Total.ACYear); want < 1 || !near(cut.ClippedPct, want, 1e-6) {
		t.Errorf("%g %% cut off, want %g", cut.ClippedPct, want)
	}
}
