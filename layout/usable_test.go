package layout

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func mustUsable(t testing.TB, plane int, planes []Plane, keepOuts []KeepOut, ruleID string, wide bool) Usability {
	t.Helper()
	rules, ok := RuleSetByID(ruleID)
	if !ok {
		t.Fatalf("no rule set %q", ruleID)
	}
	u, err := Usable(plane, planes, Edges(planes), keepOuts, rules, wide)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// free reports whether a point of the slope frame is in the region.
func (r Region) free(u, v float64) bool {
	p := SlopePt{u, v}
	return r.Outer.inside(p) && !insideAny(r.Holes, p)
}

// Arithmetic: 10 m x 6 m of roof with 300 mm kept free all round leaves 9.4 m
// x 5.4 m, to the micrometre.
func TestSetbackAllRound(t *testing.T) {
	planD := 6 * math.Cos(math.Pi/6)
	planes := []Plane{plane("s", 30, 180, 3, 0, 0, 10, 0, 10, planD, 0, planD)}
	for _, w := range worlds() {
		r := mustUsable(t, 0, w.planes(planes), nil, "distances", false).Region
		const um = 1e-6
		for _, u := range []float64{0.3, 9.7} {
			for _, v := range []float64{0.3, 5.7} {
				in := func(d float64) bool {
					return r.free(u+d*math.Copysign(1, 5-u), v+d*math.Copysign(1, 3-v))
				}
				if !in(um) || in(-um) {
					t.Errorf("%s: corner (%v, %v): free inside %v, free outside %v", w.name, u, v, in(um), in(-um))
				}
			}
		}
		for _, s := range []struct {
			u, v float64
			want bool
		}{
			{5, 0.3 + um, true}, {5, 0.3 - um, false}, {5, 5.7 - um, true}, {5, 5.7 + um, false},
			{0.3 + um, 3, true}, {0.3 - um, 3, false}, {9.7 - um, 3, true}, {9.7 + um, 3, false},
			{5, 0, false}, {5, 3, true}, {5, -0.0005, false},
		} {
			if got := r.free(s.u, s.v); got != s.want {
				t.Errorf("%s: (%v, %v): free %v", w.name, s.u, s.v, got)
			}
		}
	}
}

func TestNoSetbacks(t *testing.T) {
	u := mustUsable(t, 0, simpleRoofs()[0].planes, nil, "none", false)
	if len(u.Zones) != 0 || len(u.Region.Holes) != 0 || len(u.Region.Outer) != 4 || len(u.Notes) != 0 {
		t.Errorf("%+v", u)
	}
}

// A chimney astride the ridge takes from both planes. It is measured in plan,
// its clearance in the roof plane.
func TestChimneyAstrideRidge(t *testing.T) {
	planes := simpleRoofs()[0].planes // ridge at y = 4, 30 degrees
	chimney := KeepOut{ID: "c", Kind: Chimney, Shape: RectShape, Center: PlanPt{5, 4}, WidthM: 0.8, DepthM: 1, ClearanceM: 0.3}
	for _, w := range worlds() {
		k := chimney
		k.Center = w.point(k.Center)
		k.TurnDeg = w.turnDeg
		for i, p := range planes {
			u := mustUsable(t, i, w.planes(planes), []KeepOut{k}, "none", false)
			if len(u.Zones) != 1 || u.Zones[0].Why != WhyKeepOut {
				t.Fatalf("%s, plane %s: zones %+v", w.name, p.ID, u.Zones)
			}
			b := boundsOf(u.Zones[0].Ring)
			vRidge := 4 * sec30
			reach := 0.5*sec30 + 0.3 // down the slope from the ridge
			if !near(b.u0, 5-0.7, 1e-6) || !near(b.u1, 5+0.7, 1e-6) || !near(b.v0, vRidge-reach, 1e-6) {
				t.Errorf("%s, plane %s: %+v", w.name, p.ID, b)
			}
			if u.Region.free(5, vRidge-reach+0.01) || !u.Region.free(5, vRidge-reach-0.01) {
				t.Errorf("%s, plane %s: the chimney does not take what it covers", w.name, p.ID)
			}
		}
	}
}

// A keep-out takes from every plane it covers, from no other, wherever its
// center lies.
func TestKeepOutFindsItsPlanes(t *testing.T) {
	planes := simpleRoofs()[0].planes
	at := func(x, y, r, clearance float64) KeepOut {
		return KeepOut{Kind: Pipe, Shape: CircleShape, Center: PlanPt{x, y}, RadiusM: r, ClearanceM: clearance}
	}
	for _, tc := range []struct {
		name string
		k    KeepOut
		s, n int // zones on the two planes
	}{
		{"on the south slope", at(5, 2, 0.1, 0.1), 1, 0},
		{"on the north slope", at(5, 6, 0.1, 0.1), 0, 1},
		{"reaches over the ridge by its clearance", at(5, 3.8, 0.1, 0.2), 1, 1},
		{"beside the roof, reaching in", at(-0.1, 2, 0.2, 0), 1, 0},
		{"beside the roof, a millimetre short", at(-0.203, 2, 0.2, 0), 0, 0},
		{"by the corner, where only the boxes meet", KeepOut{Kind: Other, Shape: PolygonShape, Points: pts(-1, 0.5, 0.5, -1, -1, -1)}, 0, 0},
		{"far from the roof", at(50, 2, 0.2, 0), 0, 0},
		{"polygon over everything", KeepOut{Kind: Other, Shape: PolygonShape, Points: pts(-1, -1, 11, -1, 11, 9, -1, 9)}, 1, 1},
	} {
		s := mustUsable(t, 0, planes, []KeepOut{tc.k}, "none", false)
		n := mustUsable(t, 1, planes, []KeepOut{tc.k}, "none", false)
		if len(s.Zones) != tc.s || len(n.Zones) != tc.n {
			t.Errorf("%s: %d and %d zones, want %d and %d", tc.name, len(s.Zones), len(n.Zones), tc.s, tc.n)
		}
	}
}

func TestShade(t *testing.T) {
	planes := simpleRoofs()[0].planes
	shade := KeepOut{Kind: Shade, Shape: RectShape, Center: PlanPt{5, 2}, WidthM: 2, DepthM: 1, ClearanceM: 0.25}
	off := mustUsable(t, 0, planes, []KeepOut{shade}, "none", false)
	if len(off.Region.Holes) != 1 || len(off.LastResort) != 0 || off.Zones[0].Why != WhyShadeOffLimits {
		t.Errorf("off limits: %+v", off)
	}
	// Measured in the roof plane: 2 m x 1 m and 250 mm round it.
	if b := boundsOf(off.Zones[0].Ring); !near(b.u1-b.u0, 2.5, 1e-9) || !near(b.v1-b.v0, 1.5, 1e-9) {
		t.Errorf("off limits: %+v", b)
	}
	shade.LastResort = true
	last := mustUsable(t, 0, planes, []KeepOut{shade}, "none", false)
	if len(last.Region.Holes) != 0 || len(last.LastResort) != 1 || last.Zones[0].Why != WhyShadeLastResort {
		t.Errorf("last resort: %+v", last)
	}
	// LastResort means nothing for other kinds.
	shade.Kind = RoofWindow
	window := mustUsable(t, 0, planes, []KeepOut{shade}, "none", false)
	if len(window.Region.Holes) != 1 || len(window.LastResort) != 0 || window.Zones[0].Why != WhyKeepOut {
		t.Errorf("roof window: %+v", window)
	}
}

// After IRC 2018 R324.6: 457 or 914 mm below the ridge, nothing along eave and
// rake but the path of 914 mm.
func TestFireAccess(t *testing.T) {
	planes := street(simpleRoofs()[0].planes, [2]int{0, 3}) // street in the west
	top := 4 * sec30
	for _, tc := range []struct {
		wide   bool
		ridgeM float64
	}{{false, 0.457}, {true, 0.914}} {
		u := mustUsable(t, 0, planes, nil, "irc_r324", tc.wide)
		const um = 1e-6
		for _, s := range []struct {
			u, v float64
			want bool
		}{
			{5, top - tc.ridgeM + um, false}, {5, top - tc.ridgeM - um, true},
			{0.914 - um, 1, false}, {0.914 + um, 1, true},
			{10 - um, 1, true}, {5, um, true},
		} {
			if got := u.Region.free(s.u, s.v); got != s.want {
				t.Errorf("wide %v: (%v, %v): free %v", tc.wide, s.u, s.v, got)
			}
		}
		if len(u.Notes) != 0 {
			t.Errorf("wide %v: notes %q", tc.wide, u.Notes)
		}
	}
	low := slices.Clone(planes)
	for i := range low {
		low[i].PitchDeg = RiseIn12ToDeg(2)
	}
	u := mustUsable(t, 0, low, nil, "irc_r324", true)
	if len(u.Zones) != 0 || len(u.Notes) != 1 || !strings.Contains(u.Notes[0], "exempt") {
		t.Errorf("2:12: %+v", u)
	}
}

// Where the kind changes along an edge, the larger distance goes round the end
// of its piece.
func TestSetbackGoesRoundAPiecesEnd(t *testing.T) {
	planes := wallRoofs()[0].planes // high edge of lo: ridge 3 m, wall 5 m, ridge 2 m
	rules, _ := RuleSetByID("none")
	rules.Distances.WallM = 1
	edges := Edges(planes)
	u, err := Usable(0, planes, edges, nil, rules, false)
	if err != nil {
		t.Fatal(err)
	}
	top := 3 * sec30
	for _, s := range []struct {
		du, dv float64 // from the left end of the wall, down the slope
		want   bool
	}{
		{0.1, 0.99, false}, {0.1, 1.01, true},
		{-0.99, 0.01, false}, {-1.01, 0.01, true},
		{-0.70, 0.70, false}, {-0.72, 0.72, true}, // 0.990 and 1.018 m away
	} {
		if got := u.Region.free(2+s.du, top-s.dv); got != s.want {
			t.Errorf("%v along, %v down: free %v", s.du, s.dv, got)
		}
	}
}

func TestUsableErrors(t *testing.T) {
	planes := simpleRoofs()[0].planes
	edges := Edges(planes)
	var re *RangeError
	var se *ShapeError
	for _, i := range []int{-1, 2} {
		if _, err := Usable(i, planes, edges, nil, RuleSet{}, false); !errors.As(err, &re) {
			t.Errorf("plane %d: %v", i, err)
		}
	}
	if _, err := Usable(0, planes, edges, []KeepOut{{ID: "k7", Kind: Vent, Shape: PolygonShape}}, RuleSet{}, false); !errors.As(err, &se) || !strings.Contains(err.Error(), "k7") {
		t.Errorf("bad keep-out: %v", err)
	}
	bad := []Plane{plane("p9", 30, 180, 3, 0, 0, 1, 1)}
	if _, err := Usable(0, bad, Edges(bad), nil, RuleSet{}, false); !errors.As(err, &se) || !strings.Contains(err.Error(), "p9") {
		t.Errorf("bad plane: %v", err)
	}
}

// siteGen draws a roof, a few keep-outs on it and a rule set.
func siteGen(rt *rapid.T) ([]Plane, []KeepOut, RuleSet) {
	planes := rapid.SampledFrom(allRoofs()).Draw(rt, "roof").planes
	if rapid.Bool().Draw(rt, "street") {
		planes = street(planes, [2]int{0, 1})
	}
	var keepOuts []KeepOut
	for range rapid.IntRange(0, 3).Draw(rt, "keep-outs") {
		keepOuts = append(keepOuts, KeepOut{
			Kind:   rapid.SampledFrom([]KeepOutKind{Chimney, Pipe, RoofWindow, Shade}).Draw(rt, "kind"),
			Shape:  rapid.SampledFrom([]ShapeKind{RectShape, CircleShape}).Draw(rt, "shape"),
			Center: PlanPt{rapid.Float64Range(0.1, 9.9).Draw(rt, "x"), rapid.Float64Range(0.1, 7.9).Draw(rt, "y")},
			WidthM: 0.7, DepthM: 1.1, RadiusM: 0.4, TurnDeg: rapid.Float64Range(0, 359).Draw(rt, "turn"),
			ClearanceM: rapid.Float64Range(0, 0.5).Draw(rt, "clearance"),
			LastResort: rapid.Bool().Draw(rt, "last resort"),
		})
	}
	return planes, keepOuts, rapid.SampledFrom(RuleSets()).Draw(rt, "rules")
}

// zoneAreas lists why and how much each zone takes, sorted.
func zoneAreas(u Usability) map[string][]float64 {
	out := map[string][]float64{}
	for _, z := range u.Zones {
		out[z.Why] = append(out[z.Why], math.Abs(z.Ring.shoelace()))
	}
	for _, a := range out {
		slices.Sort(a)
	}
	return out
}

func sameAreas(a, b map[string][]float64, tolM2 float64) bool {
	if len(a) != len(b) {
		return false
	}
	for why, as := range a {
		if len(as) != len(b[why]) {
			return false
		}
		for i := range as {
			if !near(as[i], b[why][i], tolM2) {
				return false
			}
		}
	}
	return true
}

// Turning and moving the whole site keeps what each zone takes.
func TestTurningKeepsZones(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		planes, keepOuts, rules := siteGen(rt)
		w := world{
			dx: rapid.Float64Range(-4900, 4900).Draw(rt, "dx"), dy: rapid.Float64Range(-4900, 4900).Draw(rt, "dy"),
			turnDeg: rapid.Float64Range(0, 359.9).Draw(rt, "bearing"),
		}
		moved := slices.Clone(keepOuts)
		for i, k := range moved {
			moved[i].Center = w.point(k.Center)
			if _, onPlane := highestFrameAt(planes, k.Center); !k.Kind.inRoofPlane() || !onPlane {
				moved[i].TurnDeg = math.Mod(k.TurnDeg+w.turnDeg, 360)
			}
		}
		// The corners of a circle's polygon stay where they were in plan, so
		// that on a slope it takes another share of its rounding.
		tolM2 := 1e-6
		if slices.ContainsFunc(keepOuts, func(k KeepOut) bool { return k.Shape == CircleShape }) {
			tolM2 = 0.01
		}
		edges, turned := Edges(planes), w.planes(planes)
		for i := range planes {
			a, err1 := Usable(i, planes, edges, keepOuts, rules, true)
			b, err2 := Usable(i, turned, Edges(turned), moved, rules, true)
			if err1 != nil || err2 != nil {
				rt.Fatal(err1, err2)
			}
			if grazes(i, planes, edges, keepOuts, rules) {
				continue
			}
			if !sameAreas(zoneAreas(a), zoneAreas(b), tolM2) || !slices.Equal(a.Notes, b.Notes) {
				rt.Fatalf("plane %s:\n%v %q\n%v %q", planes[i].ID, zoneAreas(a), a.Notes, zoneAreas(b), b.Notes)
			}
		}
	})
}

// grazes reports whether a keep-out reaches the plane's edge by so little that a
// few millimetres decide whether it is on the plane: a circle's polygon, whose
// corners do not turn with the roof, may then do either.
func grazes(plane int, planes []Plane, edges [][]Edge, keepOuts []KeepOut, rules RuleSet) bool {
	const byM = 0.01
	var zones [2]int
	for i := range zones {
		other := slices.Clone(keepOuts)
		for k := range other {
			other[k].ClearanceM = max(0, other[k].ClearanceM+byM*float64(2*i-1))
			if other[k].Shape == CircleShape {
				other[k].RadiusM += byM * float64(2*i-1)
			}
		}
		u, err := Usable(plane, planes, edges, other, rules, true)
		if err != nil {
			return true
		}
		zones[i] = len(u.Zones)
	}
	return zones[0] != zones[1]
}

// The region is the same whichever way the rings run and wherever they start.
func TestUsableIgnoresStartAndDirection(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		planes, keepOuts, rules := siteGen(rt)
		w := world{reversed: rapid.Bool().Draw(rt, "reversed"), first: rapid.IntRange(0, 4).Draw(rt, "first")}
		edges, other := Edges(planes), w.planes(planes)
		for i := range planes {
			a, err1 := Usable(i, planes, edges, keepOuts, rules, false)
			b, err2 := Usable(i, other, Edges(other), keepOuts, rules, false)
			if err1 != nil || err2 != nil {
				rt.Fatal(err1, err2)
			}
			for range 50 {
				u, v := rapid.Float64Range(0, 12).Draw(rt, "u"), rapid.Float64Range(0, 12).Draw(rt, "v")
				// Drawn numbers like 0.3 lie on zone outlines: step off them.
				u, v = u+1.23e-5, v+1.71e-5
				if a.Region.free(u, v) != b.Region.free(u, v) {
					rt.Fatalf("plane %s: (%v, %v): %v and %v", planes[i].ID, u, v, a.Region.free(u, v), b.Region.free(u, v))
				}
			}
		}
	})
}
