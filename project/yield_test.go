//go:build !js

package project

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rooftally/catalog"
	"rooftally/energy"
	"rooftally/layout"
)

// yearOf is a document's typical year, which must be there.
func yearOf(t testing.TB, d Document) YearResult {
	t.Helper()
	y, err := WeatherOf(d, nil)
	if err != nil || y.Why != "" {
		t.Fatalf("no year: %v %s", err, y.Why)
	}
	return y
}

// yieldOf evaluates, builds and reckons a document.
func yieldOf(t testing.TB, d Document) YieldResult {
	t.Helper()
	res := mustEvaluate(t, d)
	got, err := YieldOf(t.Context(), d, res, mustBuild(t, d), yearOf(t, d))
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// lightOf is the light on a document's roof.
func lightOf(t testing.TB, d Document) Sunlight {
	t.Helper()
	s, err := LightOf(t.Context(), d, yearOf(t, d))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// openRoof is a plane of 10 m by 5 m (in plan) that falls to the south near the
// demo's station, in open country, with the catalog's invented modules, no
// inverter and no setbacks.
func openRoof(pitchDeg float64) Document {
	d := New("Open roof")
	d.Site.LatDeg, d.Site.LonDeg, d.Site.ElevationM, d.Site.UTCOffsetH = 43.05, -89.90, 320, -6
	d.Rules = Rules{Set: "none", Style: "rows", GapEaveM: 0.02, GapSlopeM: 0.02}
	p := rectPlane("roof", 0, 0, 10, 5)
	p.PitchDeg, p.EaveHeightM, p.Turn = pitchDeg, 3, "portrait"
	d.Planes = []Plane{p}
	return d
}

// A plane in open country without an inverter yields what energy.OnePlane does,
// times the number of modules; its light is open everywhere.
func TestYieldOfOpenPlane(t *testing.T) {
	d := openRoof(30)
	got := yieldOf(t, d)
	y := yearOf(t, d)
	for i, c := range got.Candidates {
		m := ModuleModelOf(*d.Candidates[i].Datasheet)
		one, err := energy.Simulate(t.Context(), energy.OnePlane(y.Sun, energy.Surface{PitchDeg: 30, AzimuthDeg: 180}, energy.FlushOnRoof, m))
		if err != nil {
			t.Fatal(err)
		}
		want := one.Total.ACYear * float64(c.Count)
		if c.Why != "" || c.Count == 0 || !near(c.Total.ACYear, want, 1e-6*want) || !near(c.Total.KWhPerKW, one.Total.KWhPerKW, 1e-6*one.Total.KWhPerKW) {
			t.Errorf("%s: %g kWh with %d modules, want %g; %s", c.Letter, c.Total.ACYear, c.Count, want, c.Why)
		}
		if !near(c.Total.Access, 1, 1e-9) {
			t.Errorf("%s: access %g in open country", c.Letter, c.Total.Access)
		}
		var sum float64
		for _, line := range c.Years[:25] {
			sum += line.KWh
		}
		if len(c.Years) != 30 || !near(sum, c.KWh25, 1e-6) || c.Years[29].SumKWh != c.KWh30 || c.Years[0].KWh != c.Total.ACYear {
			t.Errorf("%s: years %+v", c.Letter, c.Years)
		}
		// 5 % and 5 %: one year's P90 is 1 - 1.2816 x 7.07 % of the estimate.
		if !near(c.P90OneKWh/c.P50KWh, 1-1.2815515655*0.05*math.Sqrt2, 1e-9) || c.P90TenKWh <= c.P90OneKWh || c.P50KWh != c.Total.ACYear {
			t.Errorf("%s: P50 %g, P90 %g and %g", c.Letter, c.P50KWh, c.P90OneKWh, c.P90TenKWh)
		}
		if last := c.Chain[len(c.Chain)-1]; !near(last.KWh, c.Total.ACYear, 1e-6*c.Total.ACYear) {
			t.Errorf("%s: the chain ends at %g kWh, the total is %g", c.Letter, last.KWh, c.Total.ACYear)
		}
		if len(c.HotDay.Hours) != 24 || !(c.HotDay.KWhPerKW > c.DullDay.KWhPerKW && c.DullDay.KWhPerKW > 0) {
			t.Errorf("%s: hot day %g, dull day %g kWh per kW", c.Letter, c.HotDay.KWhPerKW, c.DullDay.KWhPerKW)
		}
	}
	if !near(got.Weather.GHIYear, sumOf(got.Weather.GHIKWhM2), 1e-9) || got.Weather.GHIYear < 1200 || got.Weather.GHIYear > 1700 {
		t.Errorf("%g kWh/m2 a year", got.Weather.GHIYear)
	}
	s := lightOf(t, d)
	for _, v := range s.Planes[0].KWhM2 {
		if v >= 0 && v != s.Planes[0].OpenKWhM2 {
			t.Fatalf("a cell has %g of %g kWh/m2 in open country", v, s.Planes[0].OpenKWhM2)
		}
	}
}

func sumOf(m [12]float64) float64 {
	var s float64
	for _, v := range m {
		s += v
	}
	return s
}

// Fifty metres of tree line to the west: access falls towards it, module by
// module, and so does the light of the cells.
//
//	tree | 1 | 2 | 3 | ...   a row of modules along the eave
func TestTreeDarkensTheNearestMost(t *testing.T) {
	d := openRoof(0)
	d.Candidates = d.Candidates[:1]
	// A column far higher than wide, beside the middle of the roof's west edge.
	tree := NewTree("tree", "", Point{-3, 2.5}, 2.5, 0, 14)
	tree.Crown = "column"
	d.Surroundings.Trees = []Tree{tree}
	c := yieldOf(t, d).Candidates[0]
	byColumn := map[float64][]float64{}
	for i, m := range mustEvaluate(t, d).Candidates[0].Fill.ByPlane[0].Modules {
		// u runs along (-cos azimuth, sin azimuth): east, with the plane to the south.
		byColumn[m.UM] = append(byColumn[m.UM], c.Modules[i].Access)
	}
	var at []float64
	for u := range byColumn {
		at = append(at, u)
	}
	slices.Sort(at)
	if len(at) < 5 {
		t.Fatalf("%d columns of modules", len(at))
	}
	mean := func(v []float64) float64 { return (slices.Max(v) + slices.Min(v)) / 2 }
	for i := 1; i < len(at); i++ {
		if mean(byColumn[at[i]]) <= mean(byColumn[at[i-1]]) {
			t.Errorf("modules %g m from the west edge have access %v, those at %g m %v", at[i], byColumn[at[i]], at[i-1], byColumn[at[i-1]])
		}
	}
	if first := mean(byColumn[at[0]]); first > 0.9 {
		t.Errorf("access %g beside the tree", first)
	}
}

// A chimney of 2 m on a level roof: its shadow reaches 2 m / tan(elevation) past
// it, away from the sun.
func TestShadowOfChimney(t *testing.T) {
	d := openRoof(0)
	d.KeepOuts = []KeepOut{{ID: "chimney", Kind: "chimney", Shape: "rect", Center: &Point{5, 2.5}, WidthM: 0.5, DepthM: 0.5, HeightM: 2}}
	for _, at := range []LocalTime{{6, 21, 12}, {3, 21, 9.5}, {12, 21, 14}} {
		s, err := ShadowsOf(d, at)
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Outlines) != 1 || s.Outlines[0].ObstructionID != "chimney" || s.Outlines[0].Kind != "chimney" || s.Dark {
			t.Fatalf("%+v", s)
		}
		sin, cos := math.Sincos(s.Sun.AzimuthDeg * math.Pi / 180)
		reach, back := 0.0, 0.0
		for _, p := range s.Outlines[0].Plan {
			along := -(p[0]-5)*sin - (p[1]-2.5)*cos
			reach, back = max(reach, along), min(back, along)
		}
		corner := 0.25 * (math.Abs(sin) + math.Abs(cos)) // the chimney's own reach that way
		want := 2/math.Tan(s.Sun.ElevationDeg*math.Pi/180) + corner
		if !near(reach, want, 1e-6) || !near(back, -corner, 1e-6) {
			t.Errorf("%v: the shadow reaches %g m, want %g; back %g, want %g", at, reach, want, back, -corner)
		}
	}
	night, err := ShadowsOf(d, LocalTime{6, 21, 1})
	if err != nil || !night.Dark || len(night.Outlines) != 0 || night.RisesH < 3 || night.SetsH > 21 || night.Day != "ordinary" {
		t.Errorf("%+v %v", night, err)
	}
	for path, at := range map[string]LocalTime{"month": {13, 1, 0}, "day": {2, 29, 12}, "clock_h": {1, 1, 24.5}} {
		_, err := ShadowsOf(d, at)
		if ps, ok := errors.AsType[Problems](err); !ok || ps[0].Path != path {
			t.Errorf("%v: %v", at, err)
		}
	}
	d.Site = Site{Label: "x", Units: "metric", RuleFamily: "nec"}
	if _, err := ShadowsOf(d, LocalTime{1, 1, 12}); err == nil {
		t.Error("shadows of a house without a place")
	}
}

// What casts a shadow and what does not.
func TestSceneTakesWhatStandsUp(t *testing.T) {
	d := Demo()
	scene, err := SceneOf(d)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	tops := map[string]float64{}
	for _, o := range scene.Obstructions {
		ids = append(ids, o.ID)
		tops[o.ID] = o.TopM
	}
	want := []string{"chimney", "vent-pipe", "main-south", "main-north", "wing-west", "wing-east", "front-tree", "house-east"}
	if !slices.Equal(ids, want) {
		t.Errorf("obstructions %q, want %q", ids, want)
	}
	if len(scene.Planes) != 3 {
		t.Errorf("%d planes, want the 3 in use", len(scene.Planes))
	}
	// The chimney's middle is on the ridge, 4.4 m up the plan at 30 degrees.
	ridge := 2.8 + 4.4*math.Tan(math.Pi/6)
	if !near(tops["chimney"], ridge+0.9, 1e-9) {
		t.Errorf("the chimney ends at %g m, want %g", tops["chimney"], ridge+0.9)
	}
	d.KeepOuts[0].HeightM = 0
	d.KeepOuts[1].Center = &Point{-20, 0} // beside the roof
	scene, err = SceneOf(d)
	if err != nil || scene.Obstructions[0].ID != "main-south" {
		t.Errorf("first obstruction %+v, %v", scene.Obstructions[0], err)
	}
	for i := range 50 {
		d.Surroundings.Trees = append(d.Surroundings.Trees[:min(i, 49)], NewTree(fmt.Sprintf("t%d", i), "", Point{float64(i), 30}, 1, 1, 5))
	}
	for i := range 200 {
		d.KeepOuts = append(d.KeepOuts, KeepOut{ID: fmt.Sprintf("k%d", i), Kind: "pipe", Shape: "circle", Center: &Point{1, 1}, RadiusM: 0.1, HeightM: 1})
	}
	if _, err := SceneOf(d); err == nil || !strings.Contains(err.Error(), "too much") {
		t.Errorf("%v", err)
	}
	res := mustEvaluate(t, d)
	y, err := YieldOf(t.Context(), d, res, mustBuild(t, d), yearOf(t, d))
	if err != nil || !strings.Contains(y.Why, "Shadows cannot be reckoned") || y.Candidates[0].Why != y.Why {
		t.Errorf("%v %q", err, y.Why)
	}
}

// Planes that meet at a ridge do not shade each other along it, though one is
// drawn 15 mm higher than the other: a gable in open country.
func TestNeighbouringPlanesCastNoHairlines(t *testing.T) {
	d := openRoof(30)
	north := d.Planes[0]
	north.ID, north.AzimuthDeg, north.EaveHeightM = "north", 0, 3.015
	north.Ring = []Corner{{XM: 0, YM: 5}, {XM: 10, YM: 5}, {XM: 10, YM: 10}, {XM: 0, YM: 10}}
	d.Planes = append(d.Planes, north)
	for _, p := range lightOf(t, d).Planes {
		for i, v := range p.KWhM2 {
			// The other side of a ridge lies below the plane and can hide nothing.
			if v >= 0 && v != p.OpenKWhM2 {
				t.Errorf("%s: cell %d has %g of %g kWh/m2", p.PlaneID, i, v, p.OpenKWhM2)
			}
		}
	}
}

// Strings lose more to shade than module-level electronics; both have the same
// light. Modules that a plan leaves out make nothing.
func TestYieldFollowsThePlan(t *testing.T) {
	d := Demo()
	strings := yieldOf(t, d)
	micro := d
	micro.Wiring.Kind = WiringMicro
	m := catalog.DemoMicroInverters()[0]
	m.WeightedEfficiencyPct = d.Wiring.Inverter.WeightedEfficiencyPct
	micro.Wiring.Micro = &m
	alone := yieldOf(t, micro)
	a, b := strings.Candidates[2], alone.Candidates[2]
	if a.Why != "" || b.Why != "" || a.UnwiredWords != "" || b.UnwiredWords != "" {
		t.Fatalf("%q %q %q %q", a.Why, b.Why, a.UnwiredWords, b.UnwiredWords)
	}
	if a.Total.ACYear >= 0.99*b.Total.ACYear || a.Total.Access != b.Total.Access {
		t.Errorf("strings %g kWh with access %g, modules alone %g with %g", a.Total.ACYear, a.Total.Access, b.Total.ACYear, b.Total.Access)
	}
	step := func(c CandidateYield, id string) float64 {
		for _, s := range c.Chain {
			if s.ID == id {
				return s.LossPct
			}
		}
		t.Fatalf("no step %s", id)
		return 0
	}
	if step(a, "string_shade") < step(b, "string_shade")+1 || step(b, "string_shade") < 0 || step(b, "mismatch") != 0 || !near(step(a, "mismatch"), 1, 1e-9) {
		t.Errorf("uneven light costs strings %g %%, modules alone %g %%", step(a, "string_shade"), step(b, "string_shade"))
	}
	left := strings.Candidates[0]
	unwired, made := 0, 0.0
	for _, m := range left.Modules {
		made += m.ACKWh
		if !m.Wired {
			unwired++
			if m.ACKWh != 0 || m.Access <= 0.5 {
				t.Errorf("module %d is not wired and makes %g kWh, access %g", m.Number, m.ACKWh, m.Access)
			}
		} else if m.String == 0 {
			t.Errorf("module %d is in no string", m.Number)
		}
	}
	if unwired == 0 || left.UnwiredWords == "" || left.Total.Modules != left.Count-unwired || !near(made, left.Total.ACYear, 1e-6*made) {
		t.Errorf("%d of %d not wired; %q; modules make %g of %g kWh", unwired, left.Count, left.UnwiredWords, made, left.Total.ACYear)
	}
	if !slices.ContainsFunc(a.Planes, func(p PlaneYield) bool { return p.PlaneID == "wing-east" && p.Access < 0.95 }) {
		t.Errorf("planes %+v", a.Planes)
	}
}

// What is not known is said.
func TestYieldSaysWhatIsMissing(t *testing.T) {
	d := Demo()
	d.Candidates[0].Datasheet = nil
	d.Candidates[1].LengthM, d.Candidates[1].WidthM, d.Candidates[1].Datasheet = 5, 5, nil // fits nowhere
	got := yieldOf(t, d)
	if c := got.Candidates[0]; !strings.Contains(c.Why, "without a datasheet") || c.Count == 0 {
		t.Errorf("%q", c.Why)
	}
	if c := got.Candidates[1]; c.Why != noModules {
		t.Errorf("%q", c.Why)
	}
	if got.Candidates[2].Why != "" || got.Best != 2 {
		t.Errorf("best %d, %q", got.Best, got.Candidates[2].Why)
	}
	generic := d
	generic.Wiring = defaultWiring()
	c := yieldOf(t, generic).Candidates[2]
	if c.Why != "" || !strings.Contains(c.InverterWords, "No inverter is chosen") || !strings.Contains(c.InverterWords, "one string") {
		t.Errorf("%q %q", c.Why, c.InverterWords)
	}
	for i, m := range c.Modules {
		if !m.Wired || m.String == 0 {
			t.Errorf("module %d: %+v", i, m)
		}
	}
}

// Two candidates of the same module but for a hundredth of a percent tie; one of
// half the modules does not.
func TestNearlyEqualCandidatesTie(t *testing.T) {
	d := openRoof(30)
	twin := *d.Candidates[0].Datasheet
	twin.GammaPmaxPctPerK -= 0.01
	d.Candidates = []Candidate{d.Candidates[0], CandidateOf(twin, "twin"), d.Candidates[2]}
	limit := 9
	d.Planes[0].ModuleLimit = &limit
	got := yieldOf(t, d)
	if len(got.Ties) != 1 || got.Ties[0].A != "A" || got.Ties[0].B != "B" || got.TieWords == "" || !(got.Ties[0].DifferencePct > 0 && got.Ties[0].DifferencePct < 0.2) {
		t.Errorf("ties %+v %q", got.Ties, got.TieWords)
	}
	if got.Best != 2 {
		t.Errorf("best %d, want the one of 450 W", got.Best)
	}
}

// The same document gives the same bytes, and a done context an error.
func TestYieldIsDeterministicAndStops(t *testing.T) {
	d := Demo()
	res := mustEvaluate(t, d)
	b, y := mustBuild(t, d), yearOf(t, d)
	texts := [2][]byte{}
	for i := range texts {
		got, err := YieldOf(t.Context(), d, res, b, yearOf(t, d))
		if err != nil {
			t.Fatal(err)
		}
		if texts[i], err = marshal(got); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(texts[0], texts[1]) {
		t.Error("two runs differ")
	}
	if a, b := lightOf(t, d), lightOf(t, d); a.Key != b.Key || a.Key != LightKey(d, y) || a.Key == "" || !slices.Equal(a.Planes[0].KWhM2, b.Planes[0].KWhM2) {
		t.Error("two lights differ")
	}
	other := d
	other.Surroundings.Trees = slices.Clone(d.Surroundings.Trees)
	other.Surroundings.Trees[0].TopM++
	relabelled := d
	relabelled.Site.Label = "Another name"
	if LightKey(other, y) == LightKey(d, y) || LightKey(relabelled, y) != LightKey(d, y) {
		t.Error("a light's key follows what the light does not depend on, or not what it does")
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := YieldOf(ctx, d, res, b, y); !errors.Is(err, context.Canceled) {
		t.Errorf("yield: %v", err)
	}
	if _, err := LightOf(ctx, d, y); !errors.Is(err, context.Canceled) {
		t.Errorf("light: %v", err)
	}
	if _, err := WorthsOf(ctx, d, res, b, y, 0, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("worths: %v", err)
	}
	if _, err := YieldOf(t.Context(), d, res, BuildResult{}, y); err == nil {
		t.Error("a build of another document was taken")
	}
}

// Removing what shades is worth something, trimming a tree less than removing it.
func TestWorths(t *testing.T) {
	d := Demo()
	res := mustEvaluate(t, d)
	seen := 0
	got, err := WorthsOf(t.Context(), d, res, mustBuild(t, d), yearOf(t, d), 1, func(done, all int) { seen = done })
	if err != nil {
		t.Fatal(err)
	}
	scene, err := SceneOf(d)
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != 4 || seen != len(scene.Obstructions) {
		t.Fatalf("%d worths, %d steps: %+v", len(got), seen, got)
	}
	for _, w := range got {
		if w.RemovedKWh <= 0 || w.Label == w.ID {
			t.Errorf("%+v", w)
		}
		if w.Kind == "tree" {
			if w.TrimmedToM != 5.5 || w.TrimmedKWh <= 0 || w.TrimmedKWh >= w.RemovedKWh {
				t.Errorf("%+v", w)
			}
		} else if w.TrimmedKWh != 0 || w.TrimmedToM != 0 {
			t.Errorf("%+v", w)
		}
	}
	// What is gained is what the yield without it has more.
	without := d
	without.Surroundings.Trees = []Tree{}
	base, more := yieldOf(t, d).Candidates[1].Total.ACYear, yieldOf(t, without).Candidates[1].Total.ACYear
	for _, w := range got {
		if w.Kind == "tree" && !near(w.RemovedKWh, more-base, 1e-6) {
			t.Errorf("removing the tree is worth %g kWh, want %g", w.RemovedKWh, more-base)
		}
	}
}

// The light's mean over a module is what the simulation gives that module.
func TestLightAgreesWithModules(t *testing.T) {
	d := Demo()
	light, res := lightOf(t, d), mustEvaluate(t, d)
	yield := yieldOf(t, d)
	for i, c := range res.Candidates {
		k := 0
		for _, by := range c.Fill.ByPlane {
			at := slices.IndexFunc(light.Planes, func(p PlaneSunlight) bool { return p.PlaneID == by.PlaneID })
			plane := d.Planes[slices.IndexFunc(d.Planes, func(p Plane) bool { return p.ID == by.PlaneID })]
			frame, err := layout.NewFrame(plane.layout())
			if err != nil {
				t.Fatal(err)
			}
			l := newPlaneLight(light.Planes[at], plane, frame)
			if !l.fresh {
				t.Fatal("the light is not of this plane")
			}
			for _, m := range by.Modules {
				got := l.of(layout.Rect{UM: m.UM, VM: m.VM, WM: m.WM, HM: m.HM}) / l.OpenKWhM2
				if want := yield.Candidates[i].Modules[k].Access; !near(got, want, 0.01) {
					t.Errorf("%s module %d: access %.4f by cells, %.4f by itself", c.Letter, k+1, got, want)
				}
				k++
			}
		}
	}
}

func ringOf(points [][2]float64) layout.Ring {
	out := make(layout.Ring, len(points))
	for i, p := range points {
		out[i] = layout.SlopePt{UM: p[0], VM: p[1]}
	}
	return out
}

// yieldHouse is the house of the speed figure: 4 planes, 3 candidates of some 30
// modules in strings, 8 obstructions beside the planes themselves.
func yieldHouse(tb testing.TB) (Document, Result, BuildResult, YearResult) {
	d := Demo()
	for i := range d.Planes {
		d.Planes[i].Use = true
	}
	d.KeepOuts = slices.DeleteFunc(d.KeepOuts, func(k KeepOut) bool { return k.Kind == "shade" })
	for i, at := range []Point{{8, 6}, {2, 7}} {
		d.KeepOuts = append(d.KeepOuts, KeepOut{ID: fmt.Sprintf("vent-%d", i), Kind: "vent", Shape: "circle", Center: &at, RadiusM: 0.15, HeightM: 0.5})
	}
	d.Surroundings.Trees = append(d.Surroundings.Trees, NewTree("back", "", Point{3, 14}, 2.5, 2, 9), NewTree("west", "", Point{-5, 3}, 2.5, 2, 9))
	limit := 10
	for i := range d.Planes {
		d.Planes[i].ModuleLimit = &limit
	}
	v := *d.Wiring.Inverter
	v.ACPowerW, v.ACCurrentA = 12000, 50
	d.Wiring.Inverter = &v
	res := mustEvaluate(tb, d)
	return d, res, mustBuild(tb, d), yearOf(tb, d)
}

func TestYieldHouseIsWhatTheFigureSays(t *testing.T) {
	d, res, _, _ := yieldHouse(t)
	scene, err := SceneOf(d)
	if err != nil {
		t.Fatal(err)
	}
	standing := 0
	for _, o := range scene.Obstructions {
		if o.Kind != energy.RoofPart {
			standing++
		}
	}
	if len(scene.Planes) != 4 || standing != 8 || len(res.Candidates) != 3 {
		t.Errorf("%d planes, %d obstructions, %d candidates", len(scene.Planes), standing, len(res.Candidates))
	}
	for _, c := range res.Candidates {
		t.Logf("%s: %d modules", c.Letter, c.Fill.Count)
		if c.Fill.Count < 26 {
			t.Errorf("%s: %d modules", c.Letter, c.Fill.Count)
		}
	}
}

func BenchmarkYieldOf(b *testing.B) {
	d, res, build, y := yieldHouse(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := YieldOf(context.Background(), d, res, build, y); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLightOf(b *testing.B) {
	d, _, _, y := yieldHouse(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := LightOf(context.Background(), d, y); err != nil {
			b.Fatal(err)
		}
	}
}

// Whatever is sound gets light, a yield and shadows, or is told why not; what
// comes out is in range.
func TestYieldOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDocument().Draw(t, "doc")
		if rapid.IntRange(0, 3).Draw(t, "near a station") > 0 {
			d.Site, d.Weather = Demo().Site, defaultWeather()
		}
		y, err := WeatherOf(d, nil)
		if err != nil {
			t.Fatal(err)
		}
		res, err := EvaluateWithin(context.Background(), d, layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Build(context.Background(), d, res, nil)
		if err != nil {
			t.Fatal(err)
		}
		got, err := YieldOf(context.Background(), d, res, b, y)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := marshal(got); err != nil {
			t.Fatalf("the yield cannot be written: %v", err)
		}
		for _, c := range got.Candidates {
			if c.Why != "" {
				continue
			}
			if len(c.Modules) != c.Count || c.Total.Modules > c.Count || !(c.Total.ACYear >= 0) || len(c.Chain) == 0 {
				t.Fatalf("%+v", c)
			}
			for _, m := range c.Modules {
				if !(m.Access >= 0 && m.Access <= 1+1e-9) || !(m.ACKWh >= 0) || !m.Wired && m.ACKWh != 0 {
					t.Fatalf("%+v", m)
				}
			}
		}
		if _, err := ShadowsOf(d, LocalTime{6, 21, 10}); err != nil && !d.Site.Unset() {
			t.Fatal(err)
		}
		if y.Sun == nil {
			return
		}
		light, err := LightOf(context.Background(), d, y)
		if err != nil {
			t.Fatal(err)
		}
		lit, err := NewEvaluator().EvaluateLit(context.Background(), d, layout.Drag, &light)
		if err != nil {
			t.Fatal(err)
		}
		for i, c := range lit.Candidates {
			if all := res.Candidates[i]; c.Fill.Count > all.Fill.Count && !all.RidgeWidened {
				t.Fatalf("%d modules with light, %d without", c.Fill.Count, res.Candidates[i].Fill.Count)
			}
		}
		ShadeProposal(light, 80)
	})
}
