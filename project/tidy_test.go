//go:build !js

package project

import (
	"cmp"
	"context"
	"testing"

	"pgregory.net/rapid"

	"rooftally/layout"
)

// Every choice of ways is tried and compared with the table's.
func TestTidyTableIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cost := rapid.IntRange(0, 5).Draw(t, "cost")
		planes := make([][]tidyOffer, rapid.IntRange(0, 4).Draw(t, "planes"))
		for i := range planes {
			planes[i] = []tidyOffer{anyTidyOffer(t, 0, 0)}
			for way := range rapid.IntRange(0, 3).Draw(t, "ways") {
				planes[i] = append(planes[i], anyTidyOffer(t, way+1, rapid.IntRange(0, 4).Draw(t, "loss")))
			}
		}
		table := newTidyTable(cost)
		for _, offers := range planes {
			table.add(offers)
		}
		got := tidyOffer{}
		for i, way := range table.choice() {
			got = got.plus(planes[i][way])
		}
		if got.loss > cost {
			t.Fatalf("gives up %d of at most %d", got.loss, cost)
		}
		if best := tidiestOf(planes, cost, tidyOffer{}); best.compare(got) != 0 {
			t.Fatalf("found %+v, best %+v", got, best)
		}
	})
}

func anyTidyOffer(t *rapid.T, way, loss int) tidyOffer {
	small := rapid.IntRange(1, 4)
	return tidyOffer{
		way: way, loss: loss, blocks: small.Draw(t, "blocks"), runs: small.Draw(t, "runs"),
		turns: turnSet(rapid.IntRange(1, 3).Draw(t, "turns")),
	}
}

func (o tidyOffer) plus(p tidyOffer) tidyOffer {
	return tidyOffer{loss: o.loss + p.loss, blocks: o.blocks + p.blocks, runs: o.runs + p.runs, turns: o.turns | p.turns}
}

// compare puts the tidier first, of those as tidy the one that costs less.
func (o tidyOffer) compare(p tidyOffer) int {
	return cmp.Or(cmp.Compare(o.blocks, p.blocks), cmp.Compare(o.runs, p.runs),
		cmp.Compare(o.turns.count(), p.turns.count()), cmp.Compare(o.loss, p.loss))
}

// tidiestOf tries every choice.
func tidiestOf(planes [][]tidyOffer, cost int, sofar tidyOffer) tidyOffer {
	if len(planes) == 0 {
		return sofar
	}
	best := tidyOffer{loss: -1}
	for _, offer := range planes[0] {
		next := sofar.plus(offer)
		if next.loss > cost {
			continue
		}
		if found := tidiestOf(planes[1:], cost, next); found.loss >= 0 && (best.loss < 0 || found.compare(best) < 0) {
			best = found
		}
	}
	return best
}

// Tidiness never costs more modules than allowed, never makes the roof untidier,
// and 0 gives up none.
func TestTidinessCostsWhatIsAllowed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDocument().Draw(t, "doc")
		// The fire rules judge the layout that is shown, and change the room.
		d.Rules.Style, d.Rules.Set, d.Target = "best", "distances", Target{Mode: "fill"}
		evaluate := func(cost int) Result {
			d.Rules.TidyCostModules = cost
			res, err := EvaluateWithin(context.Background(), d, layout.Drag)
			if err != nil {
				t.Fatal(err)
			}
			return res
		}
		cost := rapid.IntRange(1, 6).Draw(t, "cost")
		most, tidy := evaluate(0), evaluate(cost)
		for i := range most.Candidates {
			a, b := most.Candidates[i].Fill, tidy.Candidates[i].Fill
			if b.Count > a.Count || b.Count < a.Count-cost {
				t.Fatalf("%d modules, %d with %d given up at most", a.Count, b.Count, cost)
			}
			if layout.Tidiness(a.Tidiness).TidierThan(layout.Tidiness(b.Tidiness)) {
				t.Fatalf("%+v before, %+v when %d modules may go", a.Tidiness, b.Tidiness, cost)
			}
			if b.InShade > a.InShade {
				t.Fatalf("%d in shade before, %d after", a.InShade, b.InShade)
			}
		}
	})
}

// A size that needs every module is met whatever tidiness may cost.
func TestTidinessDoesNotCostASize(t *testing.T) {
	d := Demo()
	d.Planes[0].Use = false
	d.Rules.Style, d.Rules.TidyCostModules = "best", 10
	full := func() int {
		e := d
		e.Rules.TidyCostModules, e.Target.Mode = 0, "fill"
		return mustEvaluate(t, e).Candidates[0].Fill.Count
	}()
	d.Target = Target{Mode: "size", SizeW: full * d.Candidates[0].PmaxW}
	got := mustEvaluate(t, d).Candidates[0]
	if !got.Size.Fits || got.Size.Layout.Count != full {
		t.Errorf("%d modules of %d", got.Size.Layout.Count, full)
	}
	if got.Fill.Count >= full {
		t.Errorf("filled with %d of %d modules: tidiness costs nothing, so nothing is shown here", got.Fill.Count, full)
	}
}
