package electrical

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rooftally/catalog"
)

func said(findings []Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, string(f.Level)+" "+f.Code)
	}
	return strings.Join(out, ", ")
}

// microRequest asks for the demo's micro-inverter: 1.67 A each on 20 A, at most
// 9 on a branch.
func microRequest(t *testing.T, n int) MicroRequest {
	return MicroRequest{
		Module: demoModule(t, "demo-430-n"), Placed: field("s", 2, (n+1)/2, 30, 180, 0)[:n], Micro: catalog.DemoMicroInverters()[0],
		Conditions: Conditions{ColdC: -10, HotCellC: 67, Family: NEC, Place: OnDwelling},
	}
}

// Arithmetic: 20 A / (1.25 x 1.67 A) = 9.58, so 9 units; a 15 A breaker takes 7.
func TestPlanMicro(t *testing.T) {
	for _, c := range []struct {
		name    string
		modules int
		breaker float64
		lengths []int
	}{
		{"one branch", 9, 0, []int{9}},
		{"one more", 10, 0, []int{5, 5}},
		{"three", 20, 0, []int{7, 7, 6}},
		{"smaller breaker", 15, 15, []int{5, 5, 5}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := microRequest(t, c.modules)
			r.BreakerA = c.breaker
			plan, err := PlanMicro(r)
			if err != nil || plan.Wires != c.modules || len(plan.Branches) != len(c.lengths) {
				t.Fatalf("%+v, %v", plan, err)
			}
			seen := make([]int, c.modules)
			for i, b := range plan.Branches {
				if len(b.Modules) != c.lengths[i] || math.Abs(b.CurrentA-1.67*float64(len(b.Modules))) > 1e-9 || 1.25*b.CurrentA > plan.BreakerA || b.Jumps != 0 {
					t.Errorf("%+v", b)
				}
				for _, m := range b.Modules {
					seen[m]++
				}
			}
			if slices.Max(seen) != 1 || slices.Min(seen) != 1 {
				t.Errorf("modules stand %v times", seen)
			}
		})
	}
}

func TestPlanMicroFindings(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*MicroRequest)
		want string
	}{
		{"sound", func(*MicroRequest) {}, ""},
		// 38.9 V x 1.0875 = 42.30 V.
		{"voltage", func(r *MicroRequest) { r.Micro.MaxDCV, r.Micro.MPPTMaxV = 42.3, 42 }, "error unit_voltage"},
		{"voltage fits", func(r *MicroRequest) { r.Micro.MaxDCV, r.Micro.MPPTMaxV = 42.31, 42 }, ""},
		// 1.25 x 14.02 A = 17.525 A.
		{"current", func(r *MicroRequest) { r.Micro.MaxShortCircuitA = 17.5 }, "error unit_short_circuit"},
		{"power", func(r *MicroRequest) { r.Micro.MaxModuleW = 429 }, "error unit_power"},
		// 32.6 V x (1 - 0.0028 x 42) = 28.77 V.
		{"window", func(r *MicroRequest) { r.Micro.MPPTMinV = 28.8 }, "error unit_window"},
		{"start", func(r *MicroRequest) { r.Micro.MPPTMinV, r.Micro.StartV = 28, 35 }, "error unit_window"},
		{"window in the cold", func(r *MicroRequest) { r.Micro.MPPTMaxV = 35 }, "warning window_cold"},
		{"clips", func(r *MicroRequest) { r.Micro.MaxOperatingA = 13 }, "warning input_clips"},
		{"breaker", func(r *MicroRequest) {
			r.Micro.ACCurrentA, r.Micro.ACPowerW, r.Micro.MaxUnitsPerBranch, r.BreakerA = 4.2, 1000, 0, 5
		}, "error branch"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := microRequest(t, 6)
			c.edit(&r)
			plan, err := PlanMicro(r)
			if err != nil {
				t.Fatal(err)
			}
			if got := said(plan.Findings); got != c.want {
				t.Errorf("%+v, want %q", plan.Findings, c.want)
			}
			if wires := plan.Wires == 6; wires == strings.HasPrefix(c.want, "error") {
				t.Errorf("%d wired with %q", plan.Wires, c.want)
			}
		})
	}
	r := microRequest(t, 6)
	r.BreakerA = 4
	if _, err := PlanMicro(r); err == nil || !strings.Contains(err.Error(), "breaker_a is 4") {
		t.Errorf("error %v", err)
	}
}

// The demo's optimiser holds 380 V, 8 to 25 units and 5700 W in a string: 13 of
// 430 W by power. The 5 kW inverter's inputs stand 20 A, one string of 15 A each.
func TestPlanWithOptimisers(t *testing.T) {
	mixed := append(field("e", 1, 6, 30, 90, 0), field("w", 1, 7, 30, 270, 40)...)
	for _, c := range []struct {
		name    string
		placed  []PlacedModule
		edit    func(*PlanRequest)
		wires   int
		lengths []int
		want    string
	}{
		{"one string over two facings", mixed, nil, 13, []int{13}, ""},
		{"too few", mixed[:7], nil, 0, nil, "error left_out"},
		{"two strings", field("s", 2, 8, 30, 180, 0), nil, 16, []int{8, 8}, ""},
		{"held voltage outside the window", mixed, func(r *PlanRequest) { r.Inverter.MPPTMaxV = 370 }, 0, nil, "error held_voltage, error left_out"},
		{"held voltage over the module's", mixed, func(r *PlanRequest) { r.Module.MaxSystemV = 300 }, 0, nil, "error held_voltage, error left_out"},
		{"input too weak", mixed, func(r *PlanRequest) {
			for i := range r.Inverter.MPPTs {
				r.Inverter.MPPTs[i].MaxShortCircuitA, r.Inverter.MPPTs[i].MaxOperatingA = 14, 14
			}
		}, 0, nil, "error left_out"},
		{"module too strong", mixed, func(r *PlanRequest) { r.Optimiser.MaxModuleW = 400 }, 0, nil, "error unit_power, error left_out"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := request(t, "demo-inv-5k", c.placed)
			r.Conditions.Family = NEC
			r.Optimiser = &catalog.DemoOptimisers()[0]
			if c.edit != nil {
				c.edit(&r)
			}
			plan := mustPlan(t, r)
			checkPlan(t, r, plan)
			if plan.Wires != c.wires || !slices.Equal(lengths(plan), c.lengths) || said(plan.Findings) != c.want {
				t.Errorf("wires %d in %v, %+v; want %d in %v, %q", plan.Wires, lengths(plan), plan.Findings, c.wires, c.lengths, c.want)
			}
			for _, s := range plan.Strings {
				if s.VocColdV != 380 || s.VmpHotV != 380 {
					t.Errorf("%+v does not hold 380 V", s)
				}
			}
		})
	}
}

// NEC 705.12, arithmetic: 1.25 x 32 A + 200 A = 240 A = 1.2 x 200 A.
func TestBusbar(t *testing.T) {
	for _, c := range []struct {
		name              string
		inverter, main, b float64
		sum               float64
		want              string
	}{
		{"equal", 32, 200, 200, 240, "note busbar_end"},
		{"over", 32.1, 200, 200, 240.125, "error busbar"},
		{"larger busbar", 48, 200, 225, 260, "note busbar_end"},
	} {
		f, findings, err := Busbar(c.inverter, c.main, c.b)
		if err != nil || math.Abs(f.Value-c.sum) > 1e-9 || said(findings) != c.want || !strings.Contains(f.Source, "705.12") {
			t.Errorf("%s: %+v, %+v, %v", c.name, f, findings, err)
		}
	}
	for _, v := range [][3]float64{{0, 200, 200}, {32, 0, 200}, {32, 200, math.NaN()}, {math.Inf(1), 200, 200}} {
		if _, _, err := Busbar(v[0], v[1], v[2]); err == nil {
			t.Errorf("%v: no error", v)
		}
	}
}

func TestPhaseLimit(t *testing.T) {
	if f, findings, err := PhaseLimit(16, 16); err != nil || len(findings) != 0 || f.Value != 16 {
		t.Errorf("equal: %+v, %v, %v", f, findings, err)
	}
	if _, findings, err := PhaseLimit(16.1, 16); err != nil || said(findings) != "error phase" {
		t.Errorf("over: %v, %v", findings, err)
	}
	if _, _, err := PhaseLimit(16, 0); err == nil {
		t.Error("no limit gives no error")
	}
	for _, c := range []struct {
		units, unitPhases, supply int
		want                      float64
	}{{7, 1, 3, 6}, {7, 1, 1, 14}, {6, 1, 3, 4}, {2, 3, 3, 4}, {0, 1, 3, 0}, {-1, 1, 1, 0}} {
		if got := PhaseCurrentA(c.units, 2, c.unitPhases, c.supply); got != c.want {
			t.Errorf("%+v: %g A", c, got)
		}
	}
}

func TestMarks(t *testing.T) {
	base := SafetyInput{Family: NEC, Place: OnDwelling, Modules: 20, VocColdV: 500}
	for _, c := range []struct {
		name string
		edit func(*SafetyInput)
		want string // code, met, quantity
	}{
		{"bare strings", func(*SafetyInput) {}, "rapid_shutdown false 20, arc_fault false 1"},
		{"inverter with arc-fault protection", func(s *SafetyInput) { s.ArcFault = true }, "rapid_shutdown false 20, arc_fault true 0"},
		{"module shutdown", func(s *SafetyInput) { s.ModuleShutdown, s.ArcFault = true, true }, "rapid_shutdown true 0, arc_fault true 0"},
		{"hazard control", func(s *SafetyInput) { s.HazardControl = true }, "rapid_shutdown true 0, arc_fault false 1"},
		{"micro-inverters", func(s *SafetyInput) { s.MicroInverters = true }, "rapid_shutdown true 0"},
		{"low voltage", func(s *SafetyInput) { s.VocColdV = 79 }, "rapid_shutdown false 20"},
		{"80 V", func(s *SafetyInput) { s.VocColdV = 80 }, "rapid_shutdown false 20, arc_fault false 1"},
		{"on the ground", func(s *SafetyInput) { s.Place = OffBuilding }, ""},
		{"IEC", func(s *SafetyInput) { s.Family = IEC }, ""},
		{"nothing wired", func(s *SafetyInput) { s.Modules = 0 }, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := base
			c.edit(&in)
			var got []string
			for _, m := range Marks(in) {
				got = append(got, m.Code+" "+map[bool]string{true: "true", false: "false"}[m.Met]+" "+num(float64(m.Quantity)))
				if m.Message == "" || m.Source == "" || m.Met != (m.Part == "") {
					t.Errorf("%+v", m)
				}
			}
			if strings.Join(got, ", ") != c.want {
				t.Errorf("%v, want %s", got, c.want)
			}
		})
	}
}

// East and west at 30 deg: the normals are 60 deg apart, cos 0.5, so half the
// rise of 35 K apart; -0.28 %/K x 17.5 K = 4.9 %, half of it beside the best
// voltage. 54 cells: 32.6 V / (0.02827 V x 54) = 21.35; (2 + 21.35) / 2 x
// 0.0245^2 = 0.70 %. Arithmetic on the formula; no published check.
func TestMixLoss(t *testing.T) {
	r := request(t, "demo-inv-8k", append(field("e", 1, 6, 30, 90, 0), field("w", 1, 6, 30, 270, 40)...))
	r.Inverter.MPPTs = r.Inverter.MPPTs[:1]
	if plan := mustPlan(t, r); plan.Wires != 6 {
		t.Errorf("%d wired without mixing", plan.Wires)
	}
	r.MixParallel = true
	plan := mustPlan(t, r)
	checkPlan(t, r, plan)
	at := slices.IndexFunc(plan.Figures, func(f Figure) bool { return f.Key == "mix_loss" })
	if plan.Wires != 12 || at < 0 || math.Abs(plan.Figures[at].Value-0.70) > 0.005 {
		t.Errorf("%d wired, figures %+v", plan.Wires, plan.Figures)
	}
	if !strings.Contains(said(plan.Findings), "warning mixed_tracker") {
		t.Errorf("%+v", plan.Findings)
	}
}

// Every inverter gets a verdict; one that cannot be asked says so.
func TestCompareInverters(t *testing.T) {
	inverters := append(catalog.DemoInverters(), catalog.StringInverter{ID: "broken"})
	r := request(t, "demo-inv-5k", field("s", 2, 8, 30, 180, 0))
	got := CompareInverters(r, inverters)
	if len(got) != len(inverters) {
		t.Fatalf("%d verdicts", len(got))
	}
	for i, v := range got {
		if v.ID != inverters[i].ID || v.Fits != 16 || v.Works != (v.Wires == 16) || !v.Works && len(v.Reasons) == 0 {
			t.Errorf("%+v", v)
		}
	}
	// 16 x 430 W = 6880 W over 5000 W.
	if v := got[1]; !v.Works || v.Strings != 2 || math.Abs(v.DCAC-1.376) > 1e-9 {
		t.Errorf("%+v", v)
	}
	if v := got[6]; v.Works || !strings.Contains(v.Reasons[0], "cannot be planned") {
		t.Errorf("%+v", v)
	}
}
