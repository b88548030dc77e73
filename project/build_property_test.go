//go:build !js

package project

import (
	"bytes"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rooftally/catalog"
	"rooftally/electrical"
	"rooftally/layout"
)

// A build counts every module once, never breaks a limit of its plan, wires no
// more than fit, and sums its bill up; the same document gives the same bytes.
func TestBuildProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDocument().Draw(t, "doc")
		d.Rules.Style = "rows"
		d.Site.RuleFamily = rapid.SampledFrom([]string{"nec", "iec"}).Draw(t, "family")
		d.Wiring, d.Loads = anyWiring(t), anyLoads(t)
		if ps := d.Validate(); ps != nil {
			t.Fatalf("the generator drew %v", ps)
		}
		res, err := EvaluateWithin(t.Context(), d, layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Build(t.Context(), d, res, catalog.DemoInverters()[:3])
		if err != nil {
			t.Fatal(err)
		}
		again, err := Build(t.Context(), d, res, catalog.DemoInverters()[:3])
		if err != nil {
			t.Fatal(err)
		}
		first, err := EncodeReport(res, b, YieldResult{})
		if err != nil {
			t.Fatal(err)
		}
		if second, err := EncodeReport(res, again, YieldResult{}); err != nil || !bytes.Equal(first, second) {
			t.Fatalf("a second build differs (%v)", err)
		}
		for i, c := range b.Candidates {
			checkWiring(t, d, res.Candidates[i].Shown(), c)
			checkBill(t, c)
			checkLoads(t, c)
		}
	})
}

// checkWiring holds a plan to its limits.
func checkWiring(t *rapid.T, d Document, lay LayoutResult, c CandidateBuild) {
	w := c.Wiring
	if w.Why != "" {
		if w.Complete || w.Wires != 0 || len(w.Strings)+len(w.Branches) > 0 {
			t.Fatalf("no plan (%s), yet %+v", w.Why, w)
		}
		return
	}
	seen := map[ModuleRef]bool{}
	take := func(modules []ModuleRef) {
		for _, m := range modules {
			at := slices.IndexFunc(lay.ByPlane, func(p PlaneLayoutResult) bool { return p.PlaneID == m.PlaneID })
			if at < 0 || m.Index < 0 || m.Index >= len(lay.ByPlane[at].Modules) || m.Number < 1 || m.Number > lay.Count || seen[m] {
				t.Fatalf("module %+v is not there, or is there twice", m)
			}
			seen[m] = true
		}
	}
	wired := 0
	for _, s := range w.Strings {
		take(s.Modules)
		n := len(s.Modules)
		wired += n
		if n < w.Shortest || n > w.Longest {
			t.Fatalf("string of %d, limits %d to %d", n, w.Shortest, w.Longest)
		}
		limit, err := electrical.CodeLimit(electrical.Family(d.Site.RuleFamily), electrical.Place(d.Wiring.Place))
		if err != nil {
			t.Fatal(err)
		}
		if most := min(limit.Value, d.Wiring.Inverter.MaxDCV) * (1 + 1e-8); s.VocColdV > most {
			t.Fatalf("string of %g V, limit %g V", s.VocColdV, most)
		}
	}
	for _, s := range w.Branches {
		take(s.Modules)
		wired += len(s.Modules)
		if len(s.Modules) > w.PerBranch || 1.25*s.CurrentA > w.BreakerA*(1+1e-8) {
			t.Fatalf("branch %+v on a breaker of %g A", s, w.BreakerA)
		}
	}
	take(w.LeftOut)
	if wired != w.Wires || w.Wires > w.Fits || w.Fits != lay.Count || len(seen) != lay.Count {
		t.Fatalf("%d wired of %d, %d named; the plan says %d and the layout %d", wired, w.Fits, len(seen), w.Wires, lay.Count)
	}
	if w.Complete != (len(w.Open) == 0) || w.Complete && w.Wires != w.Fits {
		t.Fatalf("complete: %t with %q open, %d of %d wired", w.Complete, w.Open, w.Wires, w.Fits)
	}
}

// checkBill sums a bill up by part, apart from the code that does.
func checkBill(t *rapid.T, c CandidateBuild) {
	type part struct {
		key, label string
		missing    bool
	}
	sum, modules := map[part]int{}, 0
	add := func(lines []BillLine, sign int) {
		for _, l := range lines {
			if l.Quantity <= 0 {
				t.Fatalf("line %+v", l)
			}
			sum[part{l.Key, l.Label, l.Missing}] += sign * l.Quantity
		}
	}
	for _, p := range c.Bill.Planes {
		add(p.Lines, 1)
		modules += p.Lines[0].Quantity
	}
	add(c.Bill.Project, 1)
	add(c.Bill.Total, -1)
	for p, n := range sum {
		if n != 0 {
			t.Fatalf("%+v: the total is off by %d", p, n)
		}
	}
	if modules != c.Count {
		t.Fatalf("%d modules in the bill, %d in the layout", modules, c.Count)
	}
	for _, m := range c.Wiring.Marks {
		if needed := quantityOf(c.Bill, m.Code); !m.Met && needed != m.Quantity {
			t.Fatalf("%s needs %d, the bill has %d", m.Code, m.Quantity, needed)
		}
	}
}

// checkLoads counts the statuses.
func checkLoads(t *rapid.T, c CandidateBuild) {
	if c.Loads.Caution == "" {
		t.Fatal("no caution")
	}
	if c.Loads.Why != "" {
		return
	}
	n := c.Loads.Report.Counts
	if n.Within+n.Near+n.Over+n.Unknown != c.Count || len(c.Loads.Modules) != c.Count {
		t.Fatalf("%+v of %d modules, %d listed", n, c.Count, len(c.Loads.Modules))
	}
	for i, m := range c.Loads.Modules {
		if m.Number != i+1 {
			t.Fatalf("module %d has number %d", i, m.Number)
		}
	}
}
