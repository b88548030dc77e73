package layout

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// boundOf is the bound by weights alone, starting from no knowledge.
func boundOf(t rapid.TB, r Region, s Spec, best, steps int) int {
	t.Helper()
	turns, err := s.check()
	if err != nil {
		t.Fatal(err)
	}
	f, err := newField(r)
	if err != nil {
		t.Skip(err)
	}
	return closerBound(context.Background(), f, s, turns, best, math.MaxInt32, steps)
}

func rectangle(w, h float64) Region {
	return Region{Outer: Ring{{0, 0}, {w, 0}, {w, h}, {0, h}}}
}

// Optima of pallet loading, from the literature as listed in the reference
// table: the bound must come down to the optimum when told of it, and never go
// below when told of one less.
func TestBoundMeetsPalletOptima(t *testing.T) {
	for _, c := range []struct{ l, w, a, b, optimum int }{
		{14, 10, 3, 2, 23}, {22, 16, 5, 3, 23}, {30, 22, 7, 4, 23}, {34, 23, 5, 4, 38},
		{42, 31, 9, 4, 35}, {50, 36, 11, 6, 27}, {57, 44, 12, 5, 41}, {86, 82, 15, 11, 42},
	} {
		t.Run(fmt.Sprintf("%dx%d of %dx%d", c.l, c.w, c.a, c.b), func(t *testing.T) {
			r := rectangle(float64(c.l)/10, float64(c.w)/10)
			s := Spec{WidthM: float64(c.a) / 10, HeightM: float64(c.b) / 10}
			if got := boundOf(t, r, s, c.optimum, 600e6); got != c.optimum {
				t.Errorf("bound %d, optimum %d", got, c.optimum)
			}
			if got := boundOf(t, r, s, c.optimum-1, 100e6); got < c.optimum {
				t.Errorf("bound %d is below the optimum %d", got, c.optimum)
			}
		})
	}
}

// Real planes whose outlines are nowhere parallel to the modules: the bound comes
// down to a count that was reached, and not below it when told of one less.
func TestBoundMeetsCountsOfSlantedPlanes(t *testing.T) {
	counts := map[string]int{"zurich-018": 38, "zurich-085": 27, "zurich-098": 0}
	for _, c := range corpus(t, "roofs_real") {
		want, ok := counts[c.ID]
		if !ok {
			continue
		}
		if got := boundOf(t, c.region(), c.spec(), want, 1600e6); got != want {
			t.Errorf("%s: bound %d, reached %d", c.ID, got, want)
		}
		if got := boundOf(t, c.region(), c.spec(), want-1, 100e6); got < want {
			t.Errorf("%s: bound %d is below what was reached, %d", c.ID, got, want)
		}
	}
}

// A strip one module high is a knapsack, of which the optimum is arithmetic.
func TestBoundOfStrip(t *testing.T) {
	for _, c := range []struct {
		name  string
		width float64
		s     Spec
		want  int
	}{
		{"three fill it to the last", 3*1.0 + 2*0.1, Spec{WidthM: 1, HeightM: 1.7, GapUM: 0.1, Turns: []Turn{AsGiven}}, 3},
		{"a hair too short", 3*1.0 + 2*0.1 - 1e-4, Spec{WidthM: 1, HeightM: 1.7, GapUM: 0.1, Turns: []Turn{AsGiven}}, 2},
		{"short by less than the tolerances", 3*1.0 + 2*0.1 - 3e-6, Spec{WidthM: 1, HeightM: 1.7, GapUM: 0.1, Turns: []Turn{AsGiven}}, 3},
		{"ends count once", 3*1.0 + 2*0.1 + 2*0.3, Spec{WidthM: 1, HeightM: 1.7, GapUM: 0.1, EndM: 0.3, Turns: []Turn{AsGiven}}, 3},
		{"ends too short", 3*1.0 + 2*0.1 + 2*0.3 - 1e-4, Spec{WidthM: 1, HeightM: 1.7, GapUM: 0.1, EndM: 0.3, Turns: []Turn{AsGiven}}, 2},
		{"the gap up the slope is another", 3 * 1.0, Spec{WidthM: 1, HeightM: 1.7, GapVM: 0.5, Turns: []Turn{AsGiven}}, 3},
		{"turned modules do not fit", 5, Spec{WidthM: 1.7, HeightM: 1, Turns: []Turn{AsGiven}}, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := max(c.s.HeightM, 1) + 0.01
			if got := boundOf(t, rectangle(c.width, h), c.s, c.want, 200e6); got != c.want {
				t.Errorf("bound %d, want %d", got, c.want)
			}
			if got := boundOf(t, rectangle(c.width, h), c.s, c.want-1, 50e6); got < c.want {
				t.Errorf("bound %d is below %d", got, c.want)
			}
		})
	}
}

// A planted packing is a count that any bound must allow, however the region
// was made from it.
func TestBoundAllowsPlanted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Spec{
			WidthM: rapid.Float64Range(0.4, 1.2).Draw(t, "w"), HeightM: rapid.Float64Range(0.4, 1.8).Draw(t, "h"),
			GapUM: rapid.SampledFrom([]float64{0, 0.02, 0.3}).Draw(t, "gapU"), GapVM: rapid.SampledFrom([]float64{0, 0.05, 0.2}).Draw(t, "gapV"),
			EndM: rapid.SampledFrom([]float64{0, 0.04}).Draw(t, "end"),
		}
		s.Turns = rapid.SampledFrom([][]Turn{nil, {AsGiven}, {Turned}}).Draw(t, "turns")
		r, n := planted(rand.New(rand.NewSource(rapid.Int64().Draw(t, "seed"))), s)
		best := max(0, n-1-rapid.IntRange(0, 1).Draw(t, "less"))
		if got := boundOf(t, r, s, best, 6e6); got < n {
			t.Fatalf("bound %d, but %d modules were planted in %v", got, n, r)
		}
	})
}

// planted drops modules at random into a tilted four-corner region, as tightly
// as contact with those before allows, and covers with holes what is left over
// around some of them.
func planted(rnd *rand.Rand, s Spec) (Region, int) {
	w, h := 1.5+3*rnd.Float64(), 1.5+3*rnd.Float64()
	r := Region{Outer: Ring{{0, rnd.Float64() * 0.5}, {w, 0}, {w - rnd.Float64(), h}, {rnd.Float64() * 0.5, h - rnd.Float64()*0.3}}}
	turns, _ := s.check()
	var placed []Rect
	for try := 0; try < 400; try++ {
		m := s.placed(turns[rnd.Intn(len(turns))])
		m.UM, m.VM = rnd.Float64()*w, rnd.Float64()*h
		if len(placed) > 0 {
			o := placed[rnd.Intn(len(placed))]
			switch rnd.Intn(3) {
			case 0:
				m.UM, m.VM = o.UM+o.WM+s.GapUM, o.VM+(rnd.Float64()-0.5)*o.HM
			case 1:
				m.UM, m.VM = o.UM+(rnd.Float64()-0.5)*o.WM, o.VM+o.HM+s.GapVM
			case 2:
				m.UM, m.VM = o.UM, o.VM-m.HM-s.GapVM
			}
		}
		if CheckPacking(r, s, append(slices.Clone(placed), m)) == nil {
			placed = append(placed, m)
		}
	}
	for try := 0; try < 60; try++ {
		x, y, d := rnd.Float64()*w, rnd.Float64()*h, 0.05+rnd.Float64()*0.6
		hole := Ring{{x, y}, {x + d, y + 0.1*d}, {x + d, y + d}, {x, y + d}}
		with := Region{Outer: r.Outer, Holes: append(slices.Clone(r.Holes), hole)}
		if CheckPacking(with, s, placed) == nil {
			r = with
		}
	}
	return r, len(placed)
}

// The same numbers in, the same bound out; more steps never worsen it; an ended
// context still leaves a bound.
func TestBoundIsRepeatableAndStops(t *testing.T) {
	r := Region{Outer: Ring{{0, 0}, {7, 0.2}, {5.5, 4.1}, {0.8, 4}}}
	s := Spec{WidthM: 1.7, HeightM: 1, GapUM: 0.02, GapVM: 0.02}
	first := boundOf(t, r, s, 9, 30e6)
	for range 3 {
		if got := boundOf(t, r, s, 9, 30e6); got != first {
			t.Fatalf("bound %d, before %d", got, first)
		}
	}
	if got := boundOf(t, r, s, 9, 300e6); got > first {
		t.Errorf("bound %d with ten times the steps, %d before", got, first)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	f, err := newField(r)
	if err != nil {
		t.Fatal(err)
	}
	if got := closerBound(ctx, f, s, []Turn{AsGiven, Turned}, 9, 20, 300e6); got != 20 {
		t.Errorf("bound %d after the context ended, want what was known, 20", got)
	}
}

// A proof is arithmetic: check it against sums taken one by one.
func TestProofSums(t *testing.T) {
	rnd := rand.New(rand.NewSource(7))
	all := &boxClasses{us: []float64{1, 2, 3, 4, 5}, vs: []float64{1, 2, 3, 4}}
	for range 200 {
		all.list = all.list[:0]
		for range 12 {
			a, b := int16(rnd.Intn(5)), int16(rnd.Intn(4))
			all.list = append(all.list, boxClass{a, a + 1 + int16(rnd.Intn(5-int(a))), b, b + 1 + int16(rnd.Intn(4-int(b))), int8(rnd.Intn(2))})
		}
		weight := make([]float64, 20)
		var want proof
		for i := range weight {
			weight[i] = rnd.Float64() * 2
			want.total += int64(weight[i] * proofScale)
		}
		must := []knot{{u: 3, v: 2, turns: 1}}
		off := int64(0.25 * proofScale)
		want.total -= off
		p, _ := newProof(all, must, weight, []float64{0.25})
		want.least = math.MaxInt64
		for i, q := range all.list {
			var held int64
			for b := q.b0; b < q.b1; b++ {
				for a := q.a0; a < q.a1; a++ {
					held += int64(weight[int(b)*5+int(a)] * proofScale)
				}
			}
			if q.turn == 0 && q.a0 <= 2 && q.a1 > 2 && q.b0 <= 1 && q.b1 > 1 {
				held -= off
			}
			if p.held[i] != held {
				t.Fatalf("class %v holds %d, want %d", q, p.held[i], held)
			}
			want.least = min(want.least, held)
		}
		if p.total != want.total || p.least != want.least {
			t.Fatalf("proof %d/%d, want %d/%d", p.total, p.least, want.total, want.least)
		}
	}
}

// Every place of a box belongs to a class of the list that holds just its lines.
func TestClassesCoverAllPlaces(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	s := Spec{WidthM: 1.1, HeightM: 0.7, GapUM: 0.02, GapVM: 0.1, EndM: 0.05}
	for range 40 {
		r, _ := planted(rnd, s)
		f, err := newField(r)
		if err != nil {
			t.Fatal(err)
		}
		low := r.Outer[0]
		for _, p := range r.Outer {
			low = SlopePt{UM: min(low.UM, p.UM), VM: min(low.VM, p.VM)}
		}
		b := &bounder{f: f, boxes: []boundBox{newBoundBox(s, AsGiven), newBoundBox(s, Turned)}}
		starts := b.starts(s)
		start := starts[len(starts)-1]
		us, vs := start.us, start.vs
		c := newBoxClasses(f, b.boxes, us, vs)
		for range 2000 {
			turn := rnd.Intn(2)
			m := s.placed(Turn(turn))
			m.UM, m.VM = low.UM+rnd.Float64()*f.width/ticksPerM, low.VM+rnd.Float64()*f.height/ticksPerM
			if CheckPacking(r, s, []Rect{m}) != nil {
				continue
			}
			q := boxClass{turn: int8(turn)}
			q.a0, q.a1 = holdsLines(us, (m.UM-low.UM)*ticksPerM, b.boxes[turn].w)
			q.b0, q.b1 = holdsLines(vs, (m.VM-low.VM)*ticksPerM, b.boxes[turn].h)
			if !slices.Contains(c.list, q) {
				t.Fatalf("no class for %v (%v)", m, q)
			}
		}
	}
}

func holdsLines(lines []float64, at, size float64) (first, end int16) {
	for _, p := range lines {
		if p < at {
			first++
		}
		if p < at+size {
			end++
		}
	}
	return first, end
}

// Whatever a search can place, the bound allows, even when it is told to rule
// it out.
func TestBoundAllowsWhatIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := smallRoof(t)
		found := len(rapidPack(t, r, s, Best).Modules)
		if found == 0 {
			return
		}
		if got := boundOf(t, r, s, found-1, 5e6); got < found {
			t.Fatalf("bound %d, but %d modules lie in %+v, %+v", got, found, r, s)
		}
	})
}
