//go:build !js

package project

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"rooftally/layout"
)

// smallHouse is the demo with its smaller planes alone, whose search ends soon.
func smallHouse(style string) Document {
	d := Demo()
	d.Planes[0].Use = false
	d.Rules.Style = style
	return d
}

// What is remembered changes no result: an evaluator that has seen other
// documents gives the same bytes as a fresh one.
func TestMemoryChangesNothing(t *testing.T) {
	e := NewEvaluator()
	rapid.Check(t, func(t *rapid.T) {
		d := anyDocument().Draw(t, "doc")
		for range 2 {
			want, err := EvaluateWithin(context.Background(), d, layout.Drag)
			if err != nil {
				t.Fatal(err)
			}
			got, err := e.Evaluate(context.Background(), d, layout.Drag)
			if err != nil {
				t.Fatal(err)
			}
			a, _ := EncodeResult(want)
			b, _ := EncodeResult(got)
			if string(a) != string(b) {
				t.Fatalf("with memory\n%s\nwithout\n%s", b, a)
			}
			d.Rules.EndAllowanceM = 0.07
		}
	})
}

// Many at once, each with an own copy and some that give up, all get the same.
func TestEvaluatorIsSafeForManyAtOnce(t *testing.T) {
	e := NewEvaluator()
	d := smallHouse("rows")
	want, err := Evaluate(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	text, _ := EncodeResult(want)
	var group sync.WaitGroup
	for i := range 12 {
		ctx := t.Context()
		if i%3 == 0 {
			given, stop := context.WithCancel(ctx)
			ctx = given
			stop()
		}
		group.Go(func() {
			res, err := e.Evaluate(ctx, d, layout.Deep)
			if i%3 == 0 {
				if !errors.Is(err, context.Canceled) {
					t.Errorf("given up: %v", err)
				}
				return
			}
			if got, _ := EncodeResult(res); err != nil || string(got) != string(text) {
				t.Errorf("another result, %v", err)
			}
		})
	}
	group.Wait()
}

// Those who wait for the same packing share it; when who makes it gives up,
// another goes on.
func TestSharedWorkSurvivesWhoGivesUp(t *testing.T) {
	s := newSharing()
	begun, first, stop := make(chan struct{}), make(chan error), make(chan struct{})
	go func() {
		_, err := s.do(t.Context(), "k", layout.Deep, func() (layout.Packing, error) {
			close(begun)
			<-stop
			return layout.Packing{}, fmt.Errorf("packing: %w", context.Canceled)
		})
		first <- err
	}()
	<-begun
	second := make(chan layout.Packing)
	go func() {
		p, err := s.do(t.Context(), "k", layout.Deep, func() (layout.Packing, error) { return layout.Packing{Bound: 7}, nil })
		if err != nil {
			t.Error(err)
		}
		second <- p
	}()
	close(stop)
	if err := <-first; !errors.Is(err, context.Canceled) {
		t.Errorf("who gave up got %v", err)
	}
	if p := <-second; p.Bound != 7 {
		t.Errorf("who went on got %+v", p)
	}
	// A waiter that gives up itself does not wait for the work.
	blocked := make(chan struct{})
	go func() {
		_, _ = s.do(t.Context(), "l", layout.Deep, func() (layout.Packing, error) { <-blocked; return layout.Packing{}, nil })
	}()
	given, giveUp := context.WithCancel(t.Context())
	giveUp()
	if _, err := s.do(given, "l", layout.Deep, func() (layout.Packing, error) { return layout.Packing{}, nil }); err != nil && !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	close(blocked)
}

// The memory holds no more than it may, and keeps what is asked for.
func TestMemoryIsBounded(t *testing.T) {
	m := newMemory()
	p := layout.Packing{Modules: make([]layout.Rect, 1000)}
	for i := range 3000 {
		m.keep(fmt.Sprint(i), p)
		if _, ok := m.find("0"); !ok {
			t.Fatalf("what is asked for was dropped after %d more", i)
		}
		if most := memoryBytes / (32 * 1000); len(m.young) > most+1 || len(m.old) > most+1 {
			t.Fatalf("%d and %d packings are kept", len(m.young), len(m.old))
		}
	}
	if _, ok := m.find("5"); ok {
		t.Error("nothing was dropped")
	}
}

// The error of the lowest number comes back, whichever failed first.
func TestEachReturnsTheFirstError(t *testing.T) {
	for range 50 {
		err := each(40, func(i int) error {
			if i%7 == 3 {
				return fmt.Errorf("number %d", i)
			}
			return nil
		})
		if err == nil || err.Error() != "number 3" {
			t.Fatalf("error %v, want that of number 3", err)
		}
	}
	if err := each(40, func(int) error { return nil }); err != nil {
		t.Error(err)
	}
	defer func() {
		if got := recover(); got != "broken" {
			t.Errorf("recovered %v", got)
		}
	}()
	_ = each(4, func(i int) error {
		if i == 2 {
			panic("broken")
		}
		return nil
	})
}

func TestBudgets(t *testing.T) {
	for name, want := range map[string]layout.Budget{"drag": layout.Drag, "deep": layout.Deep} {
		if got, err := BudgetNamed(name); err != nil || got != want {
			t.Errorf("%s is %v, %v", name, got, err)
		}
	}
	if _, err := BudgetNamed("Deep"); err == nil {
		t.Error("a name in capitals passed")
	}
	if _, err := NewEvaluator().Evaluate(t.Context(), Demo(), 9); err == nil {
		t.Error("budget 9 passed")
	}
}

// The deep budget never counts fewer, bounds closer, and what it offers is what
// style "best" gives.
func TestDeepBudget(t *testing.T) {
	e := NewEvaluator()
	deep := func(d Document) Result {
		t.Helper()
		res, err := e.Evaluate(t.Context(), d, layout.Deep)
		if err != nil {
			t.Fatal(err)
		}
		return res
	}
	best := deep(smallHouse("best"))
	offers := 0
	for _, style := range []string{"rows", "columns", "grid", "best"} {
		d := smallHouse(style)
		quick, got := mustEvaluate(t, d), deep(d)
		for i, c := range got.Candidates {
			q, b := quick.Candidates[i], best.Candidates[i]
			if q.Offer != nil || q.Fill.Gained != 0 {
				t.Errorf("%s %s: the drag budget offers %+v and gained %d", style, c.ID, q.Offer, q.Fill.Gained)
			}
			if c.Fill.Count != q.Fill.Count+c.Fill.Gained {
				t.Errorf("%s %s: %d modules, %d in the drag budget, %d gained", style, c.ID, c.Fill.Count, q.Fill.Count, c.Fill.Gained)
			}
			for k, p := range c.Fill.ByPlane {
				if p.Bound > q.Fill.ByPlane[k].Bound || p.Bound != b.Fill.ByPlane[k].Bound || p.Proved != (p.Count == p.Bound) {
					t.Errorf("%s %s %s: %d modules, bound %d, proved %v; quickly %d, for best %d",
						style, c.ID, p.PlaneID, p.Count, p.Bound, p.Proved, q.Fill.ByPlane[k].Bound, b.Fill.ByPlane[k].Bound)
				}
			}
			more := b.Fill.Count - c.Fill.Count
			if more > 0 != (c.Offer != nil) {
				t.Errorf("%s %s: %d modules, %d with best, offer %+v", style, c.ID, c.Fill.Count, b.Fill.Count, c.Offer)
			}
			if c.Offer == nil {
				continue
			}
			offers++
			want := OfferResult{
				Style: "best", More: more, PdcW: b.Fill.PdcW,
				RailRuns: b.Fill.Tidiness.RailRuns - c.Fill.Tidiness.RailRuns,
				Blocks:   b.Fill.Tidiness.Blocks - c.Fill.Tidiness.Blocks, Turns: b.Fill.Tidiness.Turns,
			}
			if *c.Offer != want {
				t.Errorf("%s %s: offer %+v, want %+v", style, c.ID, *c.Offer, want)
			}
		}
	}
	if offers == 0 {
		t.Error("no offer was made, so that none was checked")
	}
}

// Planes laid out by hand stay as they are in the offer, and a size that is met
// has none.
func TestOfferLeavesHandAlone(t *testing.T) {
	d := smallHouse("rows")
	d.Planes[3].Use = false
	d.Candidates = d.Candidates[:1]
	d.Target.Chosen = ""
	d.Hand = []HandLayout{{CandidateID: d.Candidates[0].ID, PlaneID: "wing-west", Modules: []HandModule{}}}
	res, err := Evaluate(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	if c := res.Candidates[0]; c.Fill.Count != 0 || c.Offer != nil {
		t.Errorf("%d modules, offer %+v", c.Fill.Count, c.Offer)
	}
	d.Hand = nil
	d.Target = Target{Mode: "size", SizeW: 400}
	if res, err = Evaluate(t.Context(), d); err != nil || res.Candidates[0].Offer != nil {
		t.Errorf("a size that is met: offer %+v, %v", res.Candidates[0].Offer, err)
	}
	d.Target.SizeW = 100_000
	if res, err = Evaluate(t.Context(), d); err != nil || res.Candidates[0].Offer == nil {
		t.Errorf("a size out of reach: no offer, %v", err)
	}
}

// Each plane keeps to one turn of the two where it may have either, whichever
// holds more: 2 m by 3 m holds 2 upright and 3 level ones, 3 m by 2 m the other
// way round.
func TestEitherTurn(t *testing.T) {
	for _, style := range []string{"rows", "columns", "grid"} {
		d := shed(2, 3)
		d.Rules.Style = style
		d.Planes = append(d.Planes, rectPlane("wide", 10, 0, 3, 2), rectPlane("same", 20, 0, 2, 2))
		for i := range d.Planes {
			d.Planes[i].Turn = "either"
		}
		for i, want := range []struct {
			count int
			turn  string
		}{{3, "landscape"}, {3, "portrait"}, {2, "portrait"}} {
			by := mustEvaluate(t, d).Candidates[0].Fill.ByPlane[i]
			if by.Count != want.count || by.Tidiness.Turns != 1 || by.Modules[0].Turn != want.turn {
				t.Errorf("%s, plane %d: %d modules, first %s, %d turns; want %+v", style, i, by.Count, by.Modules[0].Turn, by.Tidiness.Turns, want)
			}
		}
	}
	// 3 m by 3 m holds 4 in a pinwheel without its middle, 3 in one turn.
	d := shed(3, 3)
	for _, c := range []struct {
		style, turn string
		count       int
	}{{"rows", "either", 3}, {"best", "either", 4}, {"best", "mixed", 4}, {"best", "portrait", 3}} {
		d.Rules.Style, d.Planes[0].Turn = c.style, c.turn
		if got := mustEvaluate(t, d).Candidates[0].Fill; got.Count != c.count {
			t.Errorf("%s, %s: %d modules, want %d", c.style, c.turn, got.Count, c.count)
		}
	}
}
