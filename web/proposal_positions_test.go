package web

import (
	"testing"

	"rooftally/layout"
	"rooftally/project"
)

// lying and standing are a module of 1.75 by 1.08 m at a place.
func lying(u, v float64) project.Module { return project.Module{UM: u, VM: v, WM: 1.75, HM: 1.08} }
func standing(u, v float64) project.Module {
	return project.Module{UM: u, VM: v, WM: 1.08, HM: 1.75}
}

func TestModuleRuns(t *testing.T) {
	const gap = 0.02
	got := moduleRuns([]project.Module{
		lying(0.3, 0.3), lying(0.3+1.77, 0.3), lying(0.3+2*1.77, 0.3), // one run of three
		lying(7, 0.3),                           // beyond a chimney
		lying(0.3, 1.4),                         // the next row
		standing(5, 2.5), standing(5+1.10, 2.5), // two that stand
		lying(5+2*1.10, 2.5), // beside them, but lying
	}, gap, 11)
	want := []moduleRun{
		{first: 11, count: 3, leftM: 0.3, upM: 0.3, lengthM: 3*1.75 + 2*gap},
		{first: 14, count: 1, leftM: 7, upM: 0.3, lengthM: 1.75},
		{first: 15, count: 1, leftM: 0.3, upM: 1.4, lengthM: 1.75},
		{first: 16, count: 2, leftM: 5, upM: 2.5, lengthM: 2*1.08 + gap, tall: true},
		{first: 18, count: 1, leftM: 7.2, upM: 2.5, lengthM: 1.75},
	}
	if len(got) != len(want) {
		t.Fatalf("got %+v", got)
	}
	for i := range want {
		g, w := got[i], want[i]
		if fixed(g.lengthM, 6) != fixed(w.lengthM, 6) || fixed(g.leftM, 6) != fixed(w.leftM, 6) ||
			g.first != w.first || g.count != w.count || g.upM != w.upM || g.tall != w.tall {
			t.Errorf("run %d is %+v, want %+v", i, g, w)
		}
	}
	if got := moduleRuns(nil, gap, 1); got != nil {
		t.Errorf("no modules give %+v", got)
	}
}

// Every module of an evaluated roof stands in one run, numbered on, and there
// are as many runs as rail runs.
func TestProposalRunsCoverTheLayout(t *testing.T) {
	doc := project.Demo()
	doc.Hand = []project.HandLayout{{CandidateID: doc.Candidates[0].ID, PlaneID: doc.Planes[0].ID, Modules: []project.HandModule{
		{XM: 3.6, YM: 2.4, Turn: "portrait"}, {XM: 1.4, YM: 2.4, Turn: "portrait"}, {XM: 2.5, YM: 2.4, Turn: "portrait"},
	}}}
	for _, style := range []string{"rows", "best"} {
		doc.Rules.Style = style
		res, err := project.EvaluateWithin(t.Context(), doc, layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		if n := res.Candidates[0].Fill.ByPlane[0].Count; n < 2 {
			t.Fatalf("%d modules are placed by hand", n)
		}
		for _, c := range res.Candidates {
			t.Run(style+" "+c.Letter, func(t *testing.T) { checkRuns(t, doc, c.Fill) })
		}
	}
}

func checkRuns(t *testing.T, doc project.Document, l project.LayoutResult) {
	next := 1
	for _, by := range l.ByPlane {
		runs := moduleRuns(by.Modules, doc.Rules.GapEaveM, next)
		if len(runs) != by.Tidiness.RailRuns {
			t.Errorf("%s: %d runs, %d rail runs", by.PlaneID, len(runs), by.Tidiness.RailRuns)
		}
		for _, r := range runs {
			if r.first != next {
				t.Errorf("a run begins with %d, want %d", r.first, next)
			}
			next += r.count
		}
	}
	if next != l.Count+1 {
		t.Errorf("%d modules are set out, want %d", next-1, l.Count)
	}
	if len(proposalRuns(doc, l, units{})) == 0 {
		t.Error("no runs")
	}
}
