package catalog

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestDemoDatasheets(t *testing.T) {
	sheets := DemoDatasheets()
	if len(sheets) != 12 {
		t.Fatalf("%d modules, want 12", len(sheets))
	}
	for i, m := range Demo() {
		if sheets[i].Module != m {
			t.Errorf("%d: %+v is not the module %+v", i, sheets[i].Module, m)
		}
	}
	var ids, kinds []string
	for _, d := range sheets {
		if p := d.Check(); p != nil {
			t.Errorf("%s: %+v", d.ID, p)
		}
		if !d.Invented || !strings.HasPrefix(d.Label, "Invented") {
			t.Errorf("%s is not marked as invented", d.ID)
		}
		if slices.Contains(ids, d.ID) {
			t.Errorf("%s stands twice", d.ID)
		}
		ids = append(ids, d.ID)
		kinds = append(kinds, kind(d))
	}
	for _, want := range []string{"60 full", "72 full", "108 half", "120 half", "144 half"} {
		if !slices.Contains(kinds, want) {
			t.Errorf("no module of %s cells", want)
		}
	}
	for _, want := range CellTypes()[:4] {
		if !slices.ContainsFunc(sheets, func(d Datasheet) bool { return d.CellType == want }) {
			t.Errorf("no module of %s cells", want)
		}
	}
	if !slices.ContainsFunc(sheets, func(d Datasheet) bool { return d.BetaVocPctPerK == 0 }) {
		t.Error("every module gives a voltage coefficient; one should not")
	}
}

func kind(d Datasheet) string {
	full := map[bool]string{true: "half", false: "full"}[d.HalfCut]
	return map[int]string{60: "60 ", 72: "72 ", 108: "108 ", 120: "120 ", 144: "144 "}[d.Cells] + full
}

func TestDemoInverters(t *testing.T) {
	check := func(id, label string, invented bool, problems []Problem) {
		t.Helper()
		if problems != nil {
			t.Errorf("%s: %+v", id, problems)
		}
		if !invented || !strings.HasPrefix(label, "Invented") {
			t.Errorf("%s is not marked as invented", id)
		}
	}
	for _, v := range DemoInverters() {
		check(v.ID, v.Label, v.Invented, v.Check())
	}
	for _, m := range DemoMicroInverters() {
		check(m.ID, m.Label, m.Invented, m.Check())
	}
	for _, o := range DemoOptimisers() {
		check(o.ID, o.Label, o.Invented, o.Check())
	}
	if a, b, c := len(DemoInverters()), len(DemoMicroInverters()), len(DemoOptimisers()); a != 6 || b != 1 || c != 1 {
		t.Errorf("%d inverters, %d micro-inverters, %d optimisers; want 6, 1, 1", a, b, c)
	}
}

// 144 half cells are two halves of 72 in series; three diodes span 24 of them.
func TestSubstrings(t *testing.T) {
	for _, c := range []struct {
		cells      int
		half       bool
		substrings int
		series     int
		each       int
	}{
		{60, false, 3, 60, 20},
		{72, false, 3, 72, 24},
		{108, true, 3, 54, 18},
		{120, true, 3, 60, 20},
		{144, true, 3, 72, 24},
		{60, false, 0, 60, 0},
	} {
		d := Datasheet{Cells: c.cells, HalfCut: c.half, Substrings: c.substrings}
		if s, e := d.CellsInSeries(), d.CellsPerSubstring(); s != c.series || e != c.each {
			t.Errorf("%+v: %d in series, %d a substring", c, s, e)
		}
	}
}

// sound is a datasheet without a problem: 40 x 10 V A is 400 W on 2 m2.
func sound() Datasheet {
	return Datasheet{
		Module: Module{ID: "x", Label: "X", PmaxW: 400, LengthM: 2, WidthM: 1},
		VocV:   48, IscA: 10.5, VmpV: 40, ImpA: 10, GammaPmaxPctPerK: -0.35, BetaVocPctPerK: -0.27, BetaVmpPctPerK: -0.33, AlphaIscPctPerK: 0.05,
		NMOTC: 45, Cells: 144, HalfCut: true, Substrings: 3, CellType: NTypeMono, ThicknessM: 0.035, WeightKg: 22,
		MaxSystemV: 1000, MaxSeriesFuseA: 20, LongEdge: Loads{FrontTestPa: 5400, FrontDesignPa: 3600},
		RelativeEfficiency200: 0.97, FirstYearLossPct: 2, YearlyLossPct: 0.5, LossLaw: LinearLoss,
	}
}

func TestDatasheetCheck(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(*Datasheet)
		field string // "" for sound
		doubt bool
		says  string
	}{
		{"sound", func(*Datasheet) {}, "", false, ""},
		{"not given", func(d *Datasheet) {
			d.BetaVocPctPerK, d.BetaVmpPctPerK, d.AlphaIscPctPerK, d.NMOTC, d.RelativeEfficiency200 = 0, 0, 0, 0, 0
			d.LongEdge = Loads{}
		}, "", false, ""},
		{"id", func(d *Datasheet) { d.ID = "Big One" }, "id", false, "Big One"},
		{"formula", func(d *Datasheet) { d.Label = "=1+1" }, "label", false, "letter or digit"},
		{"two lines", func(d *Datasheet) { d.Label = "a\nb" }, "label", false, "one line"},
		{"outline", func(d *Datasheet) { d.LengthM = 9 }, "length_m", false, "0.2 to 5"},
		{"voltage", func(d *Datasheet) { d.VocV = 0 }, "voc_v", false, "1 to 500"},
		{"not a number", func(d *Datasheet) { d.IscA = math.NaN() }, "isc_a", false, "0.1 to 50"},
		{"infinite", func(d *Datasheet) { d.Price = math.Inf(1) }, "price", false, "0 to 100000"},
		{"sign of gamma", func(d *Datasheet) { d.GammaPmaxPctPerK = 0.35 }, "gamma_pmax_pct_per_k", false, "below 0"},
		{"gamma left out", func(d *Datasheet) { d.GammaPmaxPctPerK = 0 }, "gamma_pmax_pct_per_k", false, "below 0"},
		{"sign of beta", func(d *Datasheet) { d.BetaVocPctPerK = 0.27 }, "beta_voc_pct_per_k", false, "below 0"},
		{"sign of beta at maximum power", func(d *Datasheet) { d.BetaVmpPctPerK = 0.3 }, "beta_vmp_pct_per_k", false, "below 0"},
		{"sign of alpha", func(d *Datasheet) { d.AlphaIscPctPerK = -0.05 }, "alpha_isc_pct_per_k", false, "above 0"},
		{"coefficients exchanged", func(d *Datasheet) { d.GammaPmaxPctPerK, d.BetaVocPctPerK = -0.27, -0.35; d.BetaVmpPctPerK = 0 }, "beta_voc_pct_per_k", true, "exchanged"},
		{"flat voltage at maximum power", func(d *Datasheet) { d.BetaVmpPctPerK = -0.1 }, "beta_vmp_pct_per_k", true, "flatter"},
		{"vmp over voc", func(d *Datasheet) { d.VmpV, d.ImpA = 50, 8 }, "vmp_v", false, "not below voc_v 48"},
		{"imp over isc", func(d *Datasheet) { d.VmpV, d.ImpA = 36.36, 11 }, "imp_a", false, "not below isc_a 10.5"},
		{"power 1 percent off", func(d *Datasheet) { d.ImpA = 10.1 }, "", false, ""},
		{"power 1.1 percent off", func(d *Datasheet) { d.ImpA = 10.11 }, "pmax_w", false, "404.4 W"},
		{"fill factor", func(d *Datasheet) { d.IscA, d.MaxSeriesFuseA = 12, 25 }, "voc_v", true, "0.694"},
		{"efficiency", func(d *Datasheet) { d.WidthM = 0.7; d.WeightKg = 16 }, "pmax_w", true, "28.6 %"},
		{"tolerance", func(d *Datasheet) { d.ToleranceMinusW = -5 }, "tolerance_minus_w", false, "0 to 100"},
		{"substrings", func(d *Datasheet) { d.Substrings = 5 }, "substrings", false, "5 equal"},
		{"substrings of halves", func(d *Datasheet) { d.Substrings = 16 }, "substrings", false, "two halves of 144"},
		{"full cells", func(d *Datasheet) { d.HalfCut = false }, "cells", true, "0.333 V each"},
		{"cell type", func(d *Datasheet) { d.CellType = "wood" }, "cell_type", false, "p_mono"},
		{"fuse under Isc", func(d *Datasheet) { d.MaxSeriesFuseA = 10 }, "max_series_fuse_a", false, "not above isc_a"},
		{"fuse under 1.25 Isc", func(d *Datasheet) { d.MaxSeriesFuseA = 13 }, "max_series_fuse_a", true, "13.12 A"},
		{"weight", func(d *Datasheet) { d.WeightKg = 60 }, "weight_kg", true, "30.0 kg/m2"},
		{"load", func(d *Datasheet) { d.ShortEdge.RearTestPa = 100 }, "short_edge_rear_test_pa", false, "500 to 20000"},
		{"design over test", func(d *Datasheet) { d.LongEdge.FrontDesignPa = 6000 }, "long_edge_front_design_pa", false, "above the test value"},
		{"design alone", func(d *Datasheet) { d.LongEdge.FrontTestPa = 0 }, "", false, ""},
		{"low light", func(d *Datasheet) { d.RelativeEfficiency200 = 97 }, "relative_efficiency_200", false, "0.7 to 1.1"},
		{"loss law", func(d *Datasheet) { d.LossLaw = "" }, "loss_law", false, "compound"},
		{"loss", func(d *Datasheet) { d.YearlyLossPct = 4 }, "yearly_loss_pct", false, "0 to 3"},
		{"warranty", func(d *Datasheet) { d.ProductWarrantyYears = 51 }, "product_warranty_years", false, "0 to 50"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := sound()
			c.edit(&d)
			wantOne(t, d.Check(), c.field, c.doubt, c.says)
		})
	}
}

// wantOne demands exactly one problem, of the field, that says the words; none
// where the field is "".
func wantOne(t *testing.T, got []Problem, field string, doubt bool, says string) {
	t.Helper()
	if field == "" {
		if got != nil {
			t.Fatalf("problems %+v, want none", got)
		}
		return
	}
	if len(got) != 1 || got[0].Field != field || got[0].Doubt != doubt || !strings.Contains(got[0].Message, says) {
		t.Fatalf("problems %+v, want one of %s (doubt %v) that says %q", got, field, doubt, says)
	}
}

func TestInverterCheck(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(*StringInverter)
		field string
		doubt bool
		says  string
	}{
		{"sound", func(*StringInverter) {}, "", false, ""},
		{"window", func(v *StringInverter) { v.MPPTMinV = 600 }, "mppt_min_v", false, "not below"},
		{"window over the maximum", func(v *StringInverter) { v.MPPTMaxV = 601 }, "mppt_max_v", false, "above max_dc_v"},
		{"start", func(v *StringInverter) { v.StartV = 570 }, "start_v", false, "never start"},
		{"no tracker", func(v *StringInverter) { v.MPPTs = nil }, "mppt_inputs", false, "1 to 24"},
		{"no input", func(v *StringInverter) { v.MPPTs[1].Inputs = 0 }, "mppt_inputs", false, "tracker 2"},
		{"currents", func(v *StringInverter) { v.MPPTs[0].MaxShortCircuitA = 15 }, "mppt_max_short_circuit_a", false, "tracker 1"},
		{"operating current", func(v *StringInverter) { v.MPPTs[0].MaxOperatingA = 0 }, "mppt_max_operating_a", false, "1 to 1000"},
		{"phases", func(v *StringInverter) { v.Phases = 2 }, "phases", false, "1 or 3"},
		{"efficiency", func(v *StringInverter) { v.WeightedEfficiencyPct = 0.97 }, "weighted_efficiency_pct", false, "80 to 100"},
		{"AC current low", func(v *StringInverter) { v.ACCurrentA = 20 }, "ac_current_a", false, "20.83 A"},
		{"AC current high", func(v *StringInverter) { v.ACCurrentA = 40 }, "ac_current_a", true, "much more"},
		{"small array", func(v *StringInverter) { v.MaxArrayW = 4000 }, "max_array_w", true, "never reach"},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := DemoInverters()[1]
			c.edit(&v)
			wantOne(t, v.Check(), c.field, c.doubt, c.says)
		})
	}
}

func TestMicroInverterCheck(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(*MicroInverter)
		field string
		says  string
	}{
		{"sound", func(*MicroInverter) {}, "", ""},
		{"window", func(m *MicroInverter) { m.MPPTMaxV = 61 }, "mppt_max_v", "above max_dc_v"},
		{"currents", func(m *MicroInverter) { m.MaxShortCircuitA = 14 }, "max_short_circuit_a", "below max_operating_a"},
		{"branch", func(m *MicroInverter) { m.MaxUnitsPerBranch = 10 }, "max_units_per_branch", "allows only 9"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := DemoMicroInverters()[0]
			c.edit(&m)
			wantOne(t, m.Check(), c.field, false, c.says)
		})
	}
}

func TestOptimiserCheck(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(*Optimiser)
		field string
		doubt bool
		says  string
	}{
		{"sound", func(*Optimiser) {}, "", false, ""},
		{"window", func(o *Optimiser) { o.MPPTMaxV = 81 }, "mppt_max_v", false, "above max_input_v"},
		{"units", func(o *Optimiser) { o.MinUnits = 26 }, "min_units", false, "above max_units"},
		{"string power", func(o *Optimiser) { o.MaxStringW = 6000 }, "max_string_w", true, "5700 W"},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := DemoOptimisers()[0]
			c.edit(&o)
			wantOne(t, o.Check(), c.field, c.doubt, c.says)
		})
	}
}

// Arithmetic: 20 A / (1.25 x 1.6 A) is 10 exactly.
func TestUnitsPerBranch(t *testing.T) {
	for _, c := range []struct {
		name    string
		a       float64
		most    int
		breaker float64
		want    int
	}{
		{"equal to the breaker", 1.6, 0, 20, 10},
		{"just over", 1.61, 0, 20, 9},
		{"equal in tenths", 1.2, 0, 15, 10},
		{"what the maker allows", 1.6, 7, 20, 7},
		{"no breaker", 1.6, 0, 0, 0},
		{"no current", 0, 0, 20, 0},
		{"not a number", 1.6, 0, math.NaN(), 0},
		{"infinite", 1.6, 0, math.Inf(1), 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := MicroInverter{ACCurrentA: c.a, MaxUnitsPerBranch: c.most}
			if got := m.UnitsPerBranch(c.breaker); got != c.want {
				t.Errorf("%d units, want %d", got, c.want)
			}
		})
	}
}

// Bad figures give problems, never a panic.
func TestDatasheetCheckNeverPanics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := sound()
		d.VocV, d.IscA = rapid.Float64().Draw(t, "voc"), rapid.Float64().Draw(t, "isc")
		d.Cells, d.Substrings = rapid.IntRange(-5, 500).Draw(t, "cells"), rapid.IntRange(-5, 30).Draw(t, "substrings")
		d.ID, d.Label = rapid.String().Draw(t, "id"), rapid.String().Draw(t, "label")
		d.Check()
		if n := d.CellsPerSubstring(); d.Substrings <= 0 && n != 0 {
			t.Fatalf("%d cells a substring without substrings", n)
		}
		if ff := d.FillFactor(); ff < 0 {
			t.Fatalf("fill factor %g", ff)
		}
	})
}
