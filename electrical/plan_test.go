package electrical

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rooftally/catalog"
)

// field is rows x columns of portrait modules, 1.154 m and 1.742 m apart in the
// roof plane, on a plane of this pitch that faces south unless turned.
func field(plane string, rows, columns int, pitchDeg, azimuthDeg, eastM float64) []PlacedModule {
	var out []PlacedModule
	for i := range rows {
		for j := range columns {
			up := 1.742 * float64(i)
			along := 1.154 * float64(j)
			sinA, cosA := math.Sincos(azimuthDeg * math.Pi / 180)
			sinP, cosP := math.Sincos(pitchDeg * math.Pi / 180)
			out = append(out, PlacedModule{
				XM: eastM - along*cosA - up*cosP*sinA, YM: along*sinA - up*cosP*cosA, ZM: up * sinP,
				PlaneID: plane, PitchDeg: pitchDeg, AzimuthDeg: azimuthDeg,
			})
		}
	}
	return out
}

// request asks for a plan of the demo's 430 W module in a cold, hot place.
func request(t testing.TB, inverter string, placed []PlacedModule) PlanRequest {
	return PlanRequest{
		Module: demoModule(t, "demo-430-n"), Placed: placed, Inverter: demoInverter(t, inverter),
		Conditions: Conditions{ColdC: -10, HotCellC: 67, Family: IEC, Place: OnDwelling},
	}
}

func mustPlan(t testing.TB, r PlanRequest) Plan {
	t.Helper()
	plan, err := PlanStrings(r)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func lengths(plan Plan) []int {
	var out []int
	for _, s := range plan.Strings {
		out = append(out, len(s.Modules))
	}
	return out
}

// The module's cold Voc is 38.9 V x (1 + 0.0025 x 35) = 42.30 V and its hot Vmp
// 32.6 V x (1 - 0.0028 x 42) = 28.77 V. On the 8 kW inverter (1000 V, tracking
// from 160 V, start 180 V, 2 + 1 inputs) a string holds 6 to 23; on the 5 kW
// one (600 V, from 90 V, start 120 V, 1 + 1 inputs, 7500 W) 4 to 14, at most 17
// modules. All by arithmetic.
func TestPlanCounts(t *testing.T) {
	south := func(n int) []PlacedModule { return field("s", 1, n, 30, 180, 0) }
	eastWest := func(n, m int) []PlacedModule {
		return append(field("e", 1, n, 30, 90, 0), field("w", 1, m, 30, 270, 40)...)
	}
	for _, c := range []struct {
		name     string
		inverter string
		placed   []PlacedModule
		mix      bool
		wires    int
		lengths  []int
		why      string // in the finding of what is left out
	}{
		{"one string", "demo-inv-8k", south(12), false, 12, []int{12}, ""},
		{"two equal strings", "demo-inv-8k", south(24), false, 24, []int{12, 12}, ""},
		{"too few", "demo-inv-8k", south(5), false, 0, nil, "needs at least 6"},
		{"just enough", "demo-inv-8k", south(6), false, 6, []int{6}, ""},
		{"the largest array", "demo-inv-5k", south(18), false, 17, []int{9, 8}, "7500 W, 17 modules"},
		{"two facings", "demo-inv-8k", eastWest(10, 13), false, 23, []int{10, 13}, ""},
		{"one facing is short", "demo-inv-8k", eastWest(10, 5), false, 10, []int{10}, "Only 5 face this way"},
		{"facing within a degree", "demo-inv-8k", append(field("a", 1, 6, 30, 180, 0), field("b", 1, 6, 30.9, 180.9, 20)...), false, 12, []int{12}, ""},
		{"facing over a degree", "demo-inv-8k", append(field("a", 1, 6, 30, 180, 0), field("b", 1, 6, 31.1, 180, 20)...), false, 12, []int{6, 6}, ""},
		{"north is north", "demo-inv-8k", append(field("a", 1, 4, 30, 359.6, 0), field("b", 1, 4, 30, 0.2, 20)...), false, 8, []int{8}, ""},
		{"three facings, two trackers", "demo-inv-8k", append(eastWest(6, 6), field("s", 1, 6, 30, 180, 60)...), false, 12, []int{6, 6}, "of one facing each"},
		{"three facings, mixed", "demo-inv-8k", append(eastWest(6, 6), field("s", 1, 6, 30, 180, 60)...), true, 18, []int{6, 6, 6}, ""},
		{"mixing is not used without need", "demo-inv-8k", eastWest(8, 8), true, 16, []int{8, 8}, ""},
		{"a tracker holds equal strings", "demo-inv-12k", south(41), false, 41, nil, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := request(t, c.inverter, c.placed)
			r.MixParallel = c.mix
			plan := mustPlan(t, r)
			checkPlan(t, r, plan)
			got := lengths(plan)
			if plan.Wires != c.wires || !plan.Exact || c.lengths != nil && !slices.Equal(slices.Sorted(slices.Values(got)), slices.Sorted(slices.Values(c.lengths))) {
				t.Errorf("wires %d in %v, exact %v; want %d in %v", plan.Wires, got, plan.Exact, c.wires, c.lengths)
			}
			left := ""
			for _, f := range plan.Findings {
				if f.Code == "left_out" {
					left = f.Message
				}
			}
			if (c.why == "") != (left == "") || !strings.Contains(left, c.why) {
				t.Errorf("left out: %q, want %q", left, c.why)
			}
		})
	}
}

// Trackers that are alike are used from the first one on.
func TestPlanFillsTheFirstTrackers(t *testing.T) {
	for _, c := range []struct {
		inverter string
		modules  int
		want     []int // trackers of the strings
	}{
		{"demo-inv-7k6", 18, []int{1, 2}}, {"demo-inv-7k6", 9, []int{1}}, {"demo-inv-5k", 6, []int{1}}, {"demo-inv-30k", 12, []int{1}},
	} {
		r := request(t, c.inverter, field("s", 1, c.modules, 30, 180, 0))
		r.Conditions.Family = NEC
		var got []int
		for _, s := range mustPlan(t, r).Strings {
			got = append(got, s.Tracker)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s with %d modules: trackers %v, want %v", c.inverter, c.modules, got, c.want)
		}
	}
}

// 23 fit and 22 wire: an inverter with one tracker of two inputs needs equal
// strings of at most 11. One is named, and another inverter takes it.
func TestPlanNamesTheOneLeftOut(t *testing.T) {
	r := request(t, "demo-inv-8k", field("s", 2, 12, 30, 180, 0)[:23])
	r.Inverter.MPPTs = r.Inverter.MPPTs[:1]
	r.Conditions.Family = NEC // 600 V: at most 14
	plan := mustPlan(t, r)
	checkPlan(t, r, plan)
	if plan.Fits != 23 || plan.Wires != 22 || len(plan.LeftOut) != 1 {
		t.Fatalf("%d fit, %d wire, left out %v", plan.Fits, plan.Wires, plan.LeftOut)
	}
	want := fmt.Sprintf("23 modules fit and 22 wire; module %d is left out.", plan.LeftOut[0]+1)
	found := slices.ContainsFunc(plan.Findings, func(f Finding) bool { return strings.HasPrefix(f.Message, want) })
	if !found {
		t.Errorf("findings %+v do not say %q", plan.Findings, want)
	}
	works := map[string]bool{}
	for _, v := range CompareInverters(r, catalog.DemoInverters()) {
		works[v.ID] = v.Works
		if !v.Works && len(v.Reasons) == 0 {
			t.Errorf("%s does not work, without a reason", v.ID)
		}
	}
	if !works["demo-inv-12k"] || works["demo-inv-3k"] {
		t.Errorf("works: %v; the 12 kW one takes 12 and 11 on two trackers, the 3 kW one has one input", works)
	}
}

// judge is what a test and a property have in common.
type judge interface {
	Helper()
	Fatalf(format string, args ...any)
}

// Cold Vmp is 32.6 V x (1 + 0.0028 x 35) = 35.79 V; 13 are 465.3 V. Strings that
// stay in the window are chosen where they wire as many modules, and only a
// string that leaves it is named.
func TestPlanPrefersTheWindow(t *testing.T) {
	for _, c := range []struct {
		name    string
		modules int
		maxV    float64
		lengths []int
		want    string
	}{
		{"one string stays", 13, 560, []int{13}, ""},
		{"two instead of one", 13, 460, []int{7, 6}, ""},
		{"no way round", 17, 300, []int{9, 8}, "warning window_cold"}, // 9 are 322 V
	} {
		t.Run(c.name, func(t *testing.T) {
			r := request(t, "demo-inv-5k", field("s", 1, c.modules, 30, 180, 0))
			r.Inverter.MPPTMaxV, r.Conditions.Family = c.maxV, NEC
			plan := mustPlan(t, r)
			checkPlan(t, r, plan)
			if got := lengths(plan); !slices.Equal(got, c.lengths) || said(plan.Findings) != c.want {
				t.Errorf("%v, %+v; want %v, %q", got, plan.Findings, c.lengths, c.want)
			}
		})
	}
}

// checkPlan judges a plan by the rules alone.
func checkPlan(t judge, r PlanRequest, plan Plan) {
	t.Helper()
	seen := map[int]int{}
	use := func(m int) {
		if m < 0 || m >= len(r.Placed) {
			t.Fatalf("module %d does not exist", m)
		}
		seen[m]++
	}
	wires, powerW := 0, 0.0
	byTracker := map[int][]PlannedString{}
	for i, s := range plan.Strings {
		if s.Number != i+1 || s.Tracker < 1 || s.Tracker > len(r.Inverter.MPPTs) {
			t.Fatalf("string %+v", s)
		}
		byTracker[s.Tracker] = append(byTracker[s.Tracker], s)
		wires += len(s.Modules)
		powerW += float64(len(s.Modules) * r.Module.PmaxW)
		for _, m := range s.Modules {
			use(m)
		}
		checkString(t, r, s)
	}
	for _, m := range plan.LeftOut {
		use(m)
	}
	for m := range r.Placed {
		if seen[m] != 1 {
			t.Fatalf("module %d stands %d times", m, seen[m])
		}
	}
	if wires != plan.Wires || plan.Fits != len(r.Placed) {
		t.Fatalf("%d wired, said %d of %d", wires, plan.Wires, plan.Fits)
	}
	if r.Inverter.MaxArrayW > 0 && powerW > r.Inverter.MaxArrayW {
		t.Fatalf("%g W on an inverter for %g W", powerW, r.Inverter.MaxArrayW)
	}
	for tracker, list := range byTracker {
		checkTracker(t, r, r.Inverter.MPPTs[tracker-1], list)
	}
}

// checkString tests the voltages and the facing of one string.
func checkString(t judge, r PlanRequest, s PlannedString) {
	t.Helper()
	n := float64(len(s.Modules))
	if r.Optimiser == nil {
		cold := n * r.Module.VocV * (1 + r.Module.BetaVocPctPerK/100*(r.Conditions.ColdC-25))
		if r.Module.BetaVocPctPerK == 0 {
			f, _ := TableFactor(r.Conditions.ColdC)
			cold = n * r.Module.VocV * f
		}
		limit := min(r.Inverter.MaxDCV, r.Module.MaxSystemV, map[Family]float64{NEC: 600, IEC: 1000}[r.Conditions.Family])
		if cold > limit*(1+1e-8) || math.Abs(cold-s.VocColdV) > 1e-6 {
			t.Fatalf("string %d: %g V (said %g) over %g V", s.Number, cold, s.VocColdV, limit)
		}
		if s.VmpHotV < r.Inverter.MPPTMinV*(1-1e-8) {
			t.Fatalf("string %d: %g V hot, below the window", s.Number, s.VmpHotV)
		}
	} else if n < float64(r.Optimiser.MinUnits) || n > float64(r.Optimiser.MaxUnits) || s.PowerW > r.Optimiser.MaxStringW {
		t.Fatalf("string %d: %g optimisers, %g W", s.Number, n, s.PowerW)
	}
	run := 0.0
	for i, m := range s.Modules {
		a, b := r.Placed[m], r.Placed[s.Modules[0]]
		if r.Optimiser == nil && (math.Abs(a.PitchDeg-b.PitchDeg) > 2 || math.Cos((a.AzimuthDeg-b.AzimuthDeg)*math.Pi/180) < math.Cos(2*math.Pi/180)-1e-9) {
			t.Fatalf("string %d mixes facings", s.Number)
		}
		if i > 0 {
			c := r.Placed[s.Modules[i-1]]
			run += math.Sqrt((a.XM-c.XM)*(a.XM-c.XM) + (a.YM-c.YM)*(a.YM-c.YM) + (a.ZM-c.ZM)*(a.ZM-c.ZM))
		}
	}
	if math.Abs(run-s.RunM) > 0.001*n {
		t.Fatalf("string %d runs %g m, said %g", s.Number, run, s.RunM)
	}
}

// checkTracker tests what lies parallel on one tracker.
func checkTracker(t judge, r PlanRequest, tracker catalog.MPPT, list []PlannedString) {
	t.Helper()
	k := float64(len(list))
	if len(list) > tracker.Inputs {
		t.Fatalf("%d strings on %d inputs", len(list), tracker.Inputs)
	}
	shortA := 1.25 * r.Module.IscA * k
	if r.Optimiser != nil {
		shortA = r.Optimiser.MaxOutputA * k
	}
	if shortA > tracker.MaxShortCircuitA*(1+1e-8) {
		t.Fatalf("%g A on an input for %g A", shortA, tracker.MaxShortCircuitA)
	}
	if (k-1)*r.Module.IscA > r.Module.MaxSeriesFuseA && 1.5625*r.Module.IscA > r.Module.MaxSeriesFuseA*(1+1e-8) && r.Optimiser == nil {
		t.Fatalf("%g strings cannot be fused", k)
	}
	for _, s := range list {
		if len(s.Modules) != len(list[0].Modules) {
			t.Fatalf("strings of %d and %d on one tracker", len(s.Modules), len(list[0].Modules))
		}
		a, b := r.Placed[s.Modules[0]], r.Placed[list[0].Modules[0]]
		if !r.MixParallel && r.Optimiser == nil && (math.Abs(a.PitchDeg-b.PitchDeg) > 2 || math.Abs(math.Sin((a.AzimuthDeg-b.AzimuthDeg)*math.Pi/360)) > math.Sin(math.Pi/180)+1e-9) {
			t.Fatalf("strings %d and %d on one tracker face differently", s.Number, list[0].Number)
		}
	}
}

// drawRequest is a roof of up to four fields under any conditions.
func drawRequest(t *rapid.T) PlanRequest {
	modules, inverters := catalog.DemoDatasheets(), catalog.DemoInverters()
	r := PlanRequest{
		Module:   rapid.SampledFrom(modules).Draw(t, "module"),
		Inverter: rapid.SampledFrom(inverters).Draw(t, "inverter"),
		Conditions: Conditions{
			ColdC: rapid.Float64Range(-40, 20).Draw(t, "cold"), HotCellC: rapid.Float64Range(50, 85).Draw(t, "hot"),
			Family: rapid.SampledFrom([]Family{NEC, IEC}).Draw(t, "family"), Place: OnDwelling,
		},
		MixParallel: rapid.Bool().Draw(t, "mix"),
	}
	if rapid.Bool().Draw(t, "optimiser") {
		r.Optimiser = &catalog.DemoOptimisers()[0]
	}
	for i := range rapid.IntRange(1, 4).Draw(t, "planes") {
		r.Placed = append(r.Placed, field(fmt.Sprint("p", i), rapid.IntRange(1, 3).Draw(t, "rows"), rapid.IntRange(1, 7).Draw(t, "columns"),
			rapid.SampledFrom([]float64{20, 20.8, 35}).Draw(t, "pitch"), rapid.SampledFrom([]float64{90, 180, 270, 359.5}).Draw(t, "azimuth"), float64(40*i))...)
	}
	return r
}

// A plan never breaks a limit, and the same request gives the same plan.
func TestPlanNeverBreaksALimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRequest(t)
		plan, err := PlanStrings(r)
		if err != nil {
			t.Fatal(err)
		}
		checkPlan(t, r, plan)
		if plan.Wires > 0 && hasError(plan.Findings) {
			t.Fatalf("wired in spite of %+v", plan.Findings)
		}
		if plan.Wires < plan.Fits && !slices.ContainsFunc(plan.Findings, func(f Finding) bool { return f.Code == "left_out" }) {
			t.Fatal("modules are left out without a finding")
		}
		again, _ := PlanStrings(r)
		if !reflect.DeepEqual(plan, again) {
			t.Fatal("a second plan differs")
		}
	})
}

// The search finds as many modules as trying everything does.
func TestPlanCountIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRequest(t)
		plan, err := PlanStrings(r)
		if err != nil {
			t.Fatal(err)
		}
		if !plan.Exact {
			t.Fatal("the search gave up on a house")
		}
		rules, err := r.rules()
		if err != nil {
			t.Fatal(err)
		}
		left := map[[2]float64]int{}
		var keys [][2]float64
		for _, g := range rules.groups(r.Placed) {
			key := [2]float64{g.pitchDeg, g.azimuthDeg}
			left[key] = len(g.members)
			keys = append(keys, key)
		}
		if want := mostWired(rules, keys, left, 0, rules.mostModules); plan.Wires != want {
			t.Fatalf("%d wired, %d possible", plan.Wires, want)
		}
	})
}

// mostWired tries every length and number of strings on every tracker.
func mostWired(rules planRules, keys [][2]float64, left map[[2]float64]int, tracker, room int) int {
	if tracker == len(rules.parallel) {
		return 0
	}
	best := mostWired(rules, keys, left, tracker+1, room)
	total := 0
	for _, n := range left {
		total += n
	}
	for n := max(1, rules.shortest); n <= rules.longest && best < min(total, room); n++ {
		for _, a := range keys {
			for _, b := range keys {
				for k := 1; k <= rules.parallel[tracker]; k++ {
					for l := 0; k+l <= rules.parallel[tracker] && (l == 0 || rules.mix && a != b); l++ {
						if k*n > left[a] || l*n > left[b] || (k+l)*n > room || l == 0 && a != b {
							continue
						}
						left[a] -= k * n
						left[b] -= l * n
						best = max(best, (k+l)*n+mostWired(rules, keys, left, tracker+1, room-(k+l)*n))
						left[a] += k * n
						left[b] += l * n
					}
				}
			}
		}
	}
	return best
}

// More cold never wires a longer string than the range allows and never
// lengthens that range.
func TestColderPlanHasNoLongerString(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRequest(t)
		r.Optimiser = nil
		colder := r
		colder.Conditions.ColdC = rapid.Float64Range(-40, r.Conditions.ColdC).Draw(t, "colder")
		a, errA := PlanStrings(r)
		b, errB := PlanStrings(colder)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		if b.Longest > a.Longest {
			t.Fatalf("longest %d became %d", a.Longest, b.Longest)
		}
		for _, s := range b.Strings {
			if len(s.Modules) > a.Longest {
				t.Fatalf("a string of %d in more cold, %d at most in less", len(s.Modules), a.Longest)
			}
		}
	})
}

// Reference: from 100 kW on an engineer may set the voltage (NEC 690.7(A)(3)).
// 232 modules of 430 W are 99 760 W, 233 are 100 190 W.
func TestEngineeredDesignIsNamed(t *testing.T) {
	for _, c := range []struct {
		modules int
		family  Family
		want    bool
	}{{232, NEC, false}, {233, NEC, true}, {233, IEC, false}} {
		r := request(t, "demo-inv-30k", field("s", 1, c.modules, 30, 180, 0))
		r.Inverter.MaxArrayW = 0
		r.Inverter.MPPTs = slices.Repeat(r.Inverter.MPPTs, 8)
		r.Conditions.Family, r.Conditions.Place = c.family, OffBuilding
		plan := mustPlan(t, r)
		got := slices.ContainsFunc(plan.Findings, func(f Finding) bool { return f.Code == "engineered" && f.Level == Note })
		if plan.Wires != c.modules || got != c.want {
			t.Errorf("%d modules, %s: %d wired, note %v", c.modules, c.family, plan.Wires, got)
		}
	}
}

func TestPlanRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(*PlanRequest)
		field string
	}{
		{"no module", func(r *PlanRequest) { r.Placed = nil }, "placed"},
		{"too many", func(r *PlanRequest) { r.Placed = make([]PlacedModule, maxPlaced+1) }, "placed"},
		{"no place", func(r *PlanRequest) { r.Placed[3].XM = math.NaN() }, "placed"},
		{"pitch", func(r *PlanRequest) { r.Placed[3].PitchDeg = 91 }, "placed"},
		{"module", func(r *PlanRequest) { r.Module.VocV = 0 }, "voc_v"},
		{"inverter", func(r *PlanRequest) { r.Inverter.Phases = 0 }, "phases"},
		{"optimiser", func(r *PlanRequest) { r.Optimiser = &catalog.Optimiser{} }, "id"},
		{"family", func(r *PlanRequest) { r.Conditions.Family = "" }, "rule_family"},
		{"temperature", func(r *PlanRequest) { r.Conditions.HotCellC = 200 }, "hot_cell_c"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := request(t, "demo-inv-8k", field("s", 1, 10, 30, 180, 0))
			c.edit(&r)
			_, err := PlanStrings(r)
			if bad, ok := errors.AsType[*InputError](err); !ok || bad.Field != c.field {
				t.Errorf("error %v, want one of %s", err, c.field)
			}
		})
	}
}

// The most modules that a plan takes, of four facings, end soon.
func TestLargePlanEnds(t *testing.T) {
	var placed []PlacedModule
	for i, azimuth := range []float64{0, 90, 180, 270} {
		placed = append(placed, field(fmt.Sprint(i), 20, 25, 20, azimuth, float64(100*i))...)
	}
	r := request(t, "demo-inv-30k", placed)
	plan := mustPlan(t, r)
	checkPlan(t, r, plan)
	if plan.Wires == 0 {
		t.Errorf("%+v", plan.Findings)
	}
}

func BenchmarkPlan60(b *testing.B) {
	r := request(b, "demo-inv-30k", append(field("s", 3, 12, 30, 180, 0), field("e", 3, 8, 30, 90, 40)...))
	for b.Loop() {
		mustPlan(b, r)
	}
}
