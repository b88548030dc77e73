package layout

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// kindAt is the kind of the piece of an edge that holds its middle.
func kindAt(planes []Plane, plane, edge int) EdgeKind {
	ring := planes[plane].Ring
	a, b := ring[edge].At, ring[(edge+1)%len(ring)].At
	mid := PlanPt{(a.XM + b.XM) / 2, (a.YM + b.YM) / 2}
	for _, e := range Edges(planes)[plane] {
		if e.Index == edge && pointToSegmentM(mid, e.From, e.To) < 1e-6 {
			return e.Kind
		}
	}
	return "none"
}

// shareDistM and stepHeightM: two halves of a gable of 30 degrees apart by a gap
// in plan or in height.
func TestShareDistM(t *testing.T) {
	for _, tc := range []struct {
		name     string
		gap, off float64 // in plan, in height
		s, n     EdgeKind
	}{
		{"together", 0, 0, Ridge, Ridge},
		{"20 mm apart in plan", 0.020, 0, Ridge, Ridge},
		{"20 mm over each other", -0.020, 0, Ridge, Ridge},
		{"21 mm apart in plan", 0.021, 0, Ridge, Ridge}, // both free, high edges of sheds
		{"21 mm higher", 0, 0.021, Ridge, Ridge},
		{"150 mm higher", 0, 0.150, Ridge, Ridge},
		{"151 mm higher", 0, 0.151, Wall, Ridge},
		{"150 mm lower", 0, -0.150, Ridge, Ridge},
		{"151 mm lower", 0, -0.151, Ridge, Wall},
	} {
		planes := []Plane{
			plane("s", 30, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4),
			plane("n", 30, 0, 3+tc.off, 0, 4+tc.gap, 10, 4+tc.gap, 10, 8+tc.gap, 0, 8+tc.gap),
		}
		s, n := kindAt(planes, 0, 2), kindAt(planes, 1, 0)
		if s != tc.s || n != tc.n {
			t.Errorf("%s: %s and %s, want %s and %s", tc.name, s, n, tc.s, tc.n)
		}
		shared := Edges(planes)[0][2].SharedWith != ""
		if want := math.Abs(tc.gap) <= 0.020 && (math.Abs(tc.off) <= 0.150 || tc.s == Wall); shared != want {
			t.Errorf("%s: shared %v, want %v", tc.name, shared, want)
		}
	}
}

// stepHeightM: a level step, and the cheek of a dormer. Where the step grows
// beyond the tolerance the wall reaches down to 20 mm, not to 150 mm.
func TestStepHeightM(t *testing.T) {
	for _, tc := range []struct {
		name   string
		pitch  float64
		stepM  float64
		taperM float64 // how much lower the step is at the far end
		kinds  []EdgeKind
	}{
		{"level decks, 150 mm", 0, 0.150, 0, []EdgeKind{Break}},
		{"level decks, 151 mm", 0, 0.151, 0, []EdgeKind{Wall}},
		{"slopes, 150 mm to nothing", 30, 0.150, 0.150, []EdgeKind{Break}},
		{"slopes, 150 mm to 150 mm the other way", 30, 0.150, 0.300, []EdgeKind{Break}},
		{"slopes, 151 mm to nothing", 30, 0.151, 0.151, []EdgeKind{Wall, Break}},
		{"slopes, 2 m to nothing", 30, 2, 2, []EdgeKind{Wall}}, // 40 mm of break: too short
	} {
		// The high plane stands to the right of x = 5, flatter by the taper
		// over 4 m of plan.
		flatter := math.Atan(tanDeg(tc.pitch)-tc.taperM/4) * 180 / math.Pi
		planes := []Plane{
			plane("l", tc.pitch, 180, 3, 0, 0, 5, 0, 5, 4, 0, 4),
			plane("r", flatter, 180, 3+tc.stepM, 5, 0, 9, 0, 9, 4, 5, 4),
		}
		var kinds []EdgeKind
		for _, e := range Edges(planes)[0] {
			if e.Index != 1 {
				continue
			}
			kinds = append(kinds, e.Kind)
			// The wall of 151 mm is down to 20 mm after 131 / 151 of 4 m.
			if want := 4 * 131.0 / 151; len(tc.kinds) == 2 && e.Kind == Wall && !near(e.To.YM, want, 1e-4) {
				t.Errorf("%s: the wall ends at %v, want %v", tc.name, e.To.YM, want)
			}
		}
		if !slices.Equal(kinds, tc.kinds) {
			t.Errorf("%s: %v, want %v", tc.name, kinds, tc.kinds)
		}
	}
}

// A roof drawn by hand: one point of it, in every ring that has it, off its
// place. Every edge stays what it is in the true drawing, seen from both sides.
func TestEdgeKindsOffByAHand(t *testing.T) {
	moves := []PlanPt{{0.04, 0}, {-0.04, 0}, {0, 0.04}, {0, -0.04}, {0.028, 0.028}, {-0.028, 0.028}, {0.028, -0.028}, {-0.028, -0.028}}
	for _, tc := range []struct {
		name   string
		planes []Plane
		point  PlanPt
	}{
		{"L gable, foot of the hip", joinedRoofs()[0].planes, PlanPt{0, 6}},
		{"L gable, head of the hip", joinedRoofs()[0].planes, PlanPt{3, 3}},
		{"L gable, foot of the valley", joinedRoofs()[0].planes, PlanPt{6, 0}},
		{"hip, end of the ridge", simpleRoofs()[1].planes, PlanPt{3, 3}},
		{"gable, end of the ridge", simpleRoofs()[0].planes, PlanPt{0, 4}},
	} {
		for _, pitchDeg := range []float64{20, 30, 45, 60} {
			want := shapeOf(movedPoint(tc.planes, pitchDeg, tc.point, PlanPt{}))
			for _, by := range moves {
				if got := shapeOf(movedPoint(tc.planes, pitchDeg, tc.point, by)); !slices.Equal(got, want) {
					t.Errorf("%s, %v degrees, off by %v:\ngot  %v\nwant %v", tc.name, pitchDeg, by, got, want)
				}
			}
		}
	}
}

// A whole ridge drawn off its center.
func TestRidgeOffCenter(t *testing.T) {
	for _, pitchDeg := range []float64{20, 30, 45, 60} {
		for _, offM := range []float64{0, 0.035, -0.035, 0.043, -0.043} { // 43 mm at 60 degrees: 149 mm apart
			planes := []Plane{
				plane("s", pitchDeg, 180, 3, 0, 0, 10, 0, 10, 4+offM, 0, 4+offM),
				plane("n", pitchDeg, 0, 3, 0, 4+offM, 10, 4+offM, 10, 8, 0, 8),
			}
			if s, n := kindAt(planes, 0, 2), kindAt(planes, 1, 0); s != Ridge || n != Ridge {
				t.Errorf("%v degrees, %v m off: %s and %s", pitchDeg, offM, s, n)
			}
		}
	}
}

// movedPoint is a roof at a pitch with one point of all its rings moved.
func movedPoint(planes []Plane, pitchDeg float64, point, by PlanPt) []Plane {
	out := slices.Clone(planes)
	for i := range out {
		out[i].PitchDeg = pitchDeg
		out[i].Ring = slices.Clone(out[i].Ring)
		for k, c := range out[i].Ring {
			if c.At == point {
				out[i].Ring[k].At = PlanPt{point.XM + by.XM, point.YM + by.YM}
			}
		}
	}
	return out
}

// shapeOf lists the pieces of a roof's edges by plane, corner, kind and plane
// across.
func shapeOf(planes []Plane) []string {
	var out []string
	for i, edges := range Edges(planes) {
		for _, e := range edges {
			out = append(out, fmt.Sprintf("%s %d %s %s", planes[i].ID, e.Index, e.Kind, e.SharedWith))
		}
	}
	return out
}

// shareLengthM: two planes side by side that overlap by a run along x = 5.
func TestShareLengthM(t *testing.T) {
	for _, tc := range []struct {
		run    float64
		pieces int // of the left plane's right edge
	}{{0.099, 1}, {0.100, 2}, {0.5, 2}, {3.900, 2}, {3.901, 1}} {
		planes := []Plane{
			plane("l", 30, 180, 3, 0, 0, 5, 0, 5, 4, 0, 4),
			plane("r", 30, 180, 3+(4-tc.run)*tan30, 5, 4-tc.run, 9, 4-tc.run, 9, 8, 5, 8),
		}
		n := 0
		for _, e := range Edges(planes)[0] {
			if e.Index == 1 {
				n++
			}
		}
		if n != tc.pieces {
			t.Errorf("run of %v m: %d pieces, want %d", tc.run, n, tc.pieces)
		}
	}
}

// shareAngleDeg: two level decks that part from a common corner, one turned.
func TestShareAngleDeg(t *testing.T) {
	for _, tc := range []struct {
		deg  float64
		want bool
	}{{0, true}, {3, true}, {10, true}, {14.9, false}, {15.1, false}, {20, false}} {
		// 20 mm apart is reached after 0.38 m at 3 degrees, 115 mm at 10, 77 mm
		// at 15: beyond 11.5 degrees only edges that cross run together for
		// 100 mm, which the angle then refuses from 15 on.
		sn, cs := math.Sincos(tc.deg * math.Pi / 180)
		planes := []Plane{
			plane("a", 0, 0, 3, 0, -2, 0.3, -2, 0.3, 0, 0, 0),
			plane("b", 0, 0, 3, 0, 0, 0.3*cs, 0.3*sn, 0.3*cs, 2, 0, 2),
		}
		shared := false
		for _, e := range Edges(planes)[1] {
			shared = shared || e.Kind == Break
		}
		if shared != tc.want {
			t.Errorf("%v degrees: shared %v", tc.deg, shared)
		}
	}
	// Crossing in the middle: 40 mm / sin, so 150 mm at 14.9 and 15.1 degrees.
	for _, tc := range []struct {
		deg  float64
		want bool
	}{{14.9, true}, {15.1, false}} {
		sn, cs := math.Sincos(tc.deg * math.Pi / 180)
		planes := []Plane{
			plane("a", 0, 0, 3, -1, -2, 1, -2, 1, 0, -1, 0),
			plane("b", 0, 0, 3, -cs, -sn, cs, sn, cs, 2, -cs, 2),
		}
		shared := false
		for _, e := range Edges(planes)[0] {
			shared = shared || e.Kind == Break
		}
		if shared != tc.want {
			t.Errorf("crossing at %v degrees: shared %v", tc.deg, shared)
		}
	}
}

// levelPitchDeg: under it all free edges are eaves.
func TestLevelPitchDeg(t *testing.T) {
	for _, tc := range []struct {
		pitch float64
		want  EdgeKind
	}{{0, Eave}, {1.99, Eave}, {2, Ridge}} {
		planes := []Plane{plane("s", tc.pitch, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4)}
		if got := kindAt(planes, 0, 2); got != tc.want {
			t.Errorf("pitch %v: high edge is %s, want %s", tc.pitch, got, tc.want)
		}
	}
}

// levelEdgeDeg: a shared edge from which both planes fall away.
func TestLevelEdgeDeg(t *testing.T) {
	for _, tc := range []struct {
		deg  float64
		want EdgeKind
	}{{0, Ridge}, {1.9, Ridge}, {2.1, Hip}, {6.7, Hip}} {
		s := side{inFall: 0.9, fromH: 3, toH: 3 + 10*tanDeg(tc.deg), lengthM: 10, dir: PlanPt{1, 0}}
		if got := sharedKind(s, s); got != tc.want {
			t.Errorf("climbing %v degrees: %s, want %s", tc.deg, got, tc.want)
		}
	}
	// The reason given: a hip between planes of 2:12 climbs 6.7 degrees.
	rise := tanDeg(RiseIn12ToDeg(2))
	if got := math.Atan(rise/math.Sqrt2) * 180 / math.Pi; !near(got, 6.7, 0.05) {
		t.Errorf("hip between planes of 2:12 climbs %v", got)
	}
}

// alongEaveDeg: a shed whose azimuth is off from its eave.
func TestAlongEaveDeg(t *testing.T) {
	for _, tc := range []struct {
		off    float64
		lo, hi EdgeKind
	}{{0, Eave, Ridge}, {9.9, Eave, Ridge}, {10.1, Rake, Rake}, {30, Rake, Rake}} {
		planes := []Plane{plane("s", 30, 180+tc.off, 3, 0, 0, 10, 0, 10, 4, 0, 4)}
		lo, hi := kindAt(planes, 0, 0), kindAt(planes, 0, 2)
		if lo != tc.lo || hi != tc.hi {
			t.Errorf("%v degrees off: %s and %s", tc.off, lo, hi)
		}
	}
}

// alongFallDeg: whether an edge has a high side.
func TestAlongFallDeg(t *testing.T) {
	for _, tc := range []struct {
		deg  float64
		want fall
	}{{0, along}, {1.9, along}, {-1.9, along}, {2.1, away}, {-2.1, towards}, {90, away}} {
		s := side{inFall: math.Sin(tc.deg * math.Pi / 180)}
		if got := s.fall(); got != tc.want {
			t.Errorf("%v degrees: %d, want %d", tc.deg, got, tc.want)
		}
	}
}

// roundExcessM: the corners of a round part lie beyond the true distance, by
// no more than it.
func TestRoundExcessM(t *testing.T) {
	for _, r := range []float64{0.0001, 0.001, 0.01, 0.1, 1, 10} {
		for _, sweep := range []float64{0.01, 0.5, math.Pi / 2, math.Pi} {
			for _, p := range tangentArc(nil, SlopePt{}, SlopePt{1, 0}, r, sweep) {
				if d := math.Hypot(p.UM, p.VM); d < r || d > r+roundExcessM+1e-12 {
					t.Errorf("radius %v, sweep %v: corner at %v", r, sweep, d)
				}
			}
		}
	}
}

// outsideM: a slanting edge's zone reaches over the edge, by no more than
// that.
func TestOutsideM(t *testing.T) {
	ring := Ring{{0, 0}, {7, 0.3}, {3, 4}}
	for i, zone := range bands(ring, []float64{0.3, 0.3, 0.3}) {
		a, b := ring[i], ring[(i+1)%3]
		d, l := heading(a, b)
		at := func(right float64) bool { return zone.inside(a.plus(l/2, d).plus(-right, leftOf(d))) }
		if !at(0) || !at(outsideM-1e-7) || at(outsideM+1e-7) {
			t.Errorf("edge %d: on it %v, inside the margin %v, beyond %v", i, at(0), at(outsideM-1e-7), at(outsideM+1e-7))
		}
	}
}

// halfMicroM: a corner square but for the last digits gets no round part.
func TestHalfMicroM(t *testing.T) {
	if got := sweepWorth(1e-7, 0.3); got != 0 {
		t.Errorf("an arc of 30 nm is swept: %v", got)
	}
	if got := sweepWorth(3e-6, 0.3); got == 0 {
		t.Error("an arc of 0.9 um is not swept")
	}
}

// topBandM: which corners belong to the top edge of a plane without a ridge.
func TestTopBandM(t *testing.T) {
	for _, tc := range []struct {
		drop float64
		u1   float64
	}{{0.019, 8}, {0.021, 2}} {
		outer := Ring{{0, 0}, {10, 0}, {8, 5 - tc.drop}, {2, 5}}
		u0, u1 := topRun(Frame{vMax: 5}, outer, nil)
		if u0 != 2 || u1 != tc.u1 {
			t.Errorf("%v m lower: %v to %v, want 2 to %v", tc.drop, u0, u1, tc.u1)
		}
	}
}

// holdDistM and heightTieM: the plane of a center at an eave and at a ridge.
func TestHoldDistM(t *testing.T) {
	planes := simpleRoofs()[0].planes // eaves at y = 0 and 8, ridge at y = 4
	steep := slices.Clone(planes)
	steep[1].PitchDeg = 40
	steep[1].EaveHeightM = 3 + 4*tan30 - 4*tanDeg(40) + 0.0009 // 0.9 mm too high at the ridge
	for _, tc := range []struct {
		name   string
		planes []Plane
		y      float64
		plane  int // -1 for none
	}{
		{"inside", planes, 1, 0},
		{"on the eave", planes, 0, 0},
		{"1 mm out", planes, -0.0009, 0},
		{"more than 1 mm out", planes, -0.0011, -1},
		{"on the ridge", planes, 4, 0},
		{"a micrometre beyond the ridge", planes, 4.000001, 0},
		{"10 mm beyond the ridge", planes, 4.010, 1},
		{"on the ridge, the second less than 1 mm higher", steep, 4, 0},
	} {
		f, ok := highestFrameAt(tc.planes, PlanPt{5, tc.y})
		if ok != (tc.plane >= 0) || ok && f != mustFrame(t, tc.planes[tc.plane]) {
			t.Errorf("%s: found %v, %+v", tc.name, ok, f)
		}
	}
}

// sideTieM: the street edge of another plane nearly in the middle.
func TestSideTieM(t *testing.T) {
	for _, tc := range []struct {
		off  float64 // of the street edge's middle from the plane's, to the left
		want bool    // on the right
	}{{0, true}, {0.0004, true}, {0.01, false}, {-0.01, true}} {
		planes := []Plane{
			plane("p", 30, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4),
			plane("q", 30, 180, 0, 4-tc.off, -3, 6-tc.off, -3, 6-tc.off, -2, 4-tc.off, -2),
		}
		planes = street(planes, [2]int{1, 0})
		right, _ := pathOnRight(0, mustFrame(t, planes[0]), Edges(planes), 0.5, 9.5)
		if right != tc.want {
			t.Errorf("%v m off: on the right %v", tc.off, right)
		}
	}
}

// exemptSlackDeg has its test in TestRuleSetNumbers, coordMaxM in
// TestCheckRing.
