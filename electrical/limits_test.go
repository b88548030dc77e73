package electrical

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"rooftally/catalog"
)

// demoModule and demoInverter are invented entries of the demo by ID.
func demoModule(t testing.TB, id string) catalog.Datasheet {
	t.Helper()
	for _, m := range catalog.DemoDatasheets() {
		if m.ID == id {
			return m
		}
	}
	t.Fatalf("no module %s", id)
	return catalog.Datasheet{}
}

func demoInverter(t testing.TB, id string) catalog.StringInverter {
	t.Helper()
	for _, v := range catalog.DemoInverters() {
		if v.ID == id {
			return v
		}
	}
	t.Fatalf("no inverter %s", id)
	return catalog.StringInverter{}
}

// Reference: 600 V on one- and two-family dwellings, 1000 on other buildings,
// 1500 not on buildings (NEC 690.7, 2017 and later). The IEC rows are from memory.
func TestCodeLimit(t *testing.T) {
	for _, c := range []struct {
		family Family
		place  Place
		want   float64
		source string
	}{
		{NEC, OnDwelling, 600, "NEC 690.7"},
		{NEC, OnBuilding, 1000, "NEC 690.7"},
		{NEC, OffBuilding, 1500, "NEC 690.7"},
		{IEC, OnDwelling, 1000, "from memory"},
		{IEC, OnBuilding, 1000, "from memory"},
		{IEC, OffBuilding, 1500, "from memory"},
	} {
		f, err := CodeLimit(c.family, c.place)
		if err != nil || f.Value != c.want || !strings.Contains(f.Source, c.source) {
			t.Errorf("%s %s: %+v, %v", c.family, c.place, f, err)
		}
	}
	for _, c := range [][2]string{{"xyz", "dwelling"}, {"nec", "boat"}, {"", ""}} {
		if _, err := CodeLimit(Family(c[0]), Place(c[1])); err == nil {
			t.Errorf("%v: no error", c)
		}
	}
}

// 35 K flush and 30 K on an open rack are common practice, no source.
func TestHotCell(t *testing.T) {
	if f := HotCell(32, CellRiseK(Flush)); f.Value != 67 || f.Numbers != "32 C + 35 K = 67 C" {
		t.Errorf("%+v", f)
	}
	if got := CellRiseK(OpenRack); got != 30 {
		t.Errorf("open rack: %g K", got)
	}
}

func TestLimitIsTheLeastOfThree(t *testing.T) {
	module := demoModule(t, "demo-430-n") // 1500 V
	for _, c := range []struct {
		name     string
		edit     func(*catalog.Datasheet)
		inverter string
		cond     Conditions
		want     float64
		by       string
	}{
		{"code", nil, "demo-inv-30k", Conditions{-10, 70, NEC, OnDwelling}, 600, "code"},
		{"inverter", nil, "demo-inv-8k", Conditions{-10, 70, NEC, OffBuilding}, 1000, "inverter"},
		{"module", func(m *catalog.Datasheet) { m.MaxSystemV = 800 }, "demo-inv-8k", Conditions{-10, 70, IEC, OnDwelling}, 800, "module"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := module
			if c.edit != nil {
				c.edit(&m)
			}
			l, err := Limits(m, demoInverter(t, c.inverter), c.cond)
			if err != nil || l.LimitV != c.want || l.LimitBy != c.by {
				t.Errorf("%g by %s, %v", l.LimitV, l.LimitBy, err)
			}
		})
	}
}

// Every figure shows its formula, numbers and source, and the value is that of
// the range.
func TestLimitsShowTheirFigures(t *testing.T) {
	l, err := Limits(demoModule(t, "demo-340-long"), demoInverter(t, "demo-inv-5k"), Conditions{-10, 67, NEC, OnDwelling})
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]float64{
		"voc_cold": l.VocColdV, "code_limit": 600, "limit": 600, "longest": float64(l.Longest), "vmp_hot": l.VmpHotV,
		"shortest_mppt": float64(l.ShortestMPPT), "shortest_start": float64(l.ShortestStart),
		"vmp_cold": l.VmpColdV, "longest_in_window": float64(l.LongestInWindow),
	}
	var keys []string
	for _, f := range l.Figures {
		keys = append(keys, f.Key)
		if f.Label == "" || f.Formula == "" || f.Numbers == "" || f.Source == "" || f.Value != want[f.Key] {
			t.Errorf("%+v, want %g", f, want[f.Key])
		}
	}
	if len(keys) != len(want) {
		t.Errorf("figures %v", keys)
	}
	// 46.4 V x 1.14 = 52.896 V; 600 / 52.896 = 11.343.
	if f := l.Figures[0]; f.Numbers != "46.4 V x 1.1400 (at -10 C) = 52.896 V" || !strings.Contains(f.Source, "Table 690.7(A)") {
		t.Errorf("%+v", f)
	}
	at := slices.Index(keys, "longest")
	if f := l.Figures[at]; f.Numbers != "600 V / 52.896 V = 11.343: 11" {
		t.Errorf("%+v", f)
	}
}

func TestLimitsFindings(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*catalog.StringInverter)
		want string // "" for none
	}{
		{"sound", func(*catalog.StringInverter) {}, ""},
		{"no length", func(v *catalog.StringInverter) { v.MPPTMinV, v.StartV = 559, 0 }, "error no_length"},
		{"window cold", func(v *catalog.StringInverter) { v.MPPTMaxV, v.StartV = 400, 0 }, "warning window_cold"},
		{"window cold at any length", func(v *catalog.StringInverter) { v.MPPTMinV, v.MPPTMaxV, v.StartV = 200, 210, 0 }, "warning window_cold"},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := demoInverter(t, "demo-inv-5k")
			c.edit(&v)
			l, err := Limits(demoModule(t, "demo-400-medium"), v, Conditions{-10, 67, NEC, OnDwelling})
			if err != nil {
				t.Fatal(err)
			}
			got := ""
			for _, f := range l.Findings {
				got += string(f.Level) + " " + f.Code
			}
			if got != c.want {
				t.Errorf("findings %+v, want %q", l.Findings, c.want)
			}
		})
	}
}

func TestLimitsRefuses(t *testing.T) {
	good := Conditions{-10, 67, NEC, OnDwelling}
	for _, c := range []struct {
		name  string
		edit  func(*catalog.Datasheet, *catalog.StringInverter, *Conditions)
		field string
	}{
		{"module", func(m *catalog.Datasheet, _ *catalog.StringInverter, _ *Conditions) { m.VmpV = 60 }, "vmp_v"},
		{"inverter", func(_ *catalog.Datasheet, v *catalog.StringInverter, _ *Conditions) { v.Phases = 2 }, "phases"},
		{"family", func(_ *catalog.Datasheet, _ *catalog.StringInverter, c *Conditions) { c.Family = "" }, "rule_family"},
		{"temperature", func(_ *catalog.Datasheet, _ *catalog.StringInverter, c *Conditions) { c.ColdC = math.NaN() }, "cold_c"},
		{"table for other cells", func(m *catalog.Datasheet, _ *catalog.StringInverter, _ *Conditions) {
			m.CellType, m.BetaVocPctPerK = catalog.OtherCells, 0
		}, "beta_voc_pct_per_k"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m, v, cond := demoModule(t, "demo-400-medium"), demoInverter(t, "demo-inv-5k"), good
			c.edit(&m, &v, &cond)
			_, err := Limits(m, v, cond)
			if bad, ok := errors.AsType[*InputError](err); !ok || bad.Field != c.field {
				t.Errorf("error %v, want one of %s", err, c.field)
			}
		})
	}
}

// Reference: 1.25 Isc for the circuit, 1.5625 Isc for conductor and fuse (NEC
// 690.8, 690.9). The rest is arithmetic on 10 A / 9 A modules with a 20 A fuse.
func TestCurrents(t *testing.T) {
	m := catalog.Datasheet{IscA: 10, ImpA: 9, MaxSeriesFuseA: 20}
	for _, c := range []struct {
		name     string
		tracker  catalog.MPPT
		parallel int
		shortA   float64
		fuses    bool
		want     string
	}{
		{"one", catalog.MPPT{Inputs: 1, MaxOperatingA: 9, MaxShortCircuitA: 12.5}, 1, 12.5, false, ""},
		{"over the short-circuit rating", catalog.MPPT{Inputs: 1, MaxOperatingA: 9, MaxShortCircuitA: 12.4}, 1, 12.5, false, "error input_short_circuit"},
		{"clips only", catalog.MPPT{Inputs: 1, MaxOperatingA: 8.9, MaxShortCircuitA: 12.5}, 1, 12.5, false, "warning input_clips"},
		{"two need no fuse", catalog.MPPT{Inputs: 2, MaxOperatingA: 20, MaxShortCircuitA: 30}, 2, 25, false, ""},
		{"three: 2 x 10 A is the fuse", catalog.MPPT{Inputs: 3, MaxOperatingA: 30, MaxShortCircuitA: 40}, 3, 37.5, false, ""},
		{"four need fuses", catalog.MPPT{Inputs: 4, MaxOperatingA: 40, MaxShortCircuitA: 50}, 4, 50, true, "warning fuses"},
		{"too few inputs", catalog.MPPT{Inputs: 1, MaxOperatingA: 40, MaxShortCircuitA: 50}, 2, 25, false, "error inputs"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Currents(m, c.tracker, c.parallel)
			if err != nil {
				t.Fatal(err)
			}
			said := ""
			for _, f := range got.Findings {
				said += string(f.Level) + " " + f.Code
			}
			if got.ShortCircuitA != c.shortA || got.FuseMinA != 15.625 || got.Fuses != c.fuses || said != c.want {
				t.Errorf("%+v, want %g A, fuses %v, %q", got, c.shortA, c.fuses, c.want)
			}
			for _, f := range got.Figures {
				if f.Formula == "" || f.Numbers == "" || f.Source == "" {
					t.Errorf("%+v", f)
				}
			}
		})
	}
	if _, err := Currents(m, catalog.MPPT{}, 0); err == nil {
		t.Error("no string gives no error")
	}
}

// 1.5625 x 10 A = 15.625 A is over a 15 A fuse: three strings cannot be
// protected, two need no fuse.
func TestFuseThatCannotBe(t *testing.T) {
	m := catalog.Datasheet{IscA: 10, ImpA: 9, MaxSeriesFuseA: 15}
	tracker := catalog.MPPT{Inputs: 3, MaxOperatingA: 40, MaxShortCircuitA: 60}
	c, err := Currents(m, tracker, 3)
	if err != nil || len(c.Findings) != 1 || c.Findings[0].Code != "fuse" || c.Findings[0].Level != Error {
		t.Errorf("%+v, %v", c, err)
	}
	if n := MostParallel(m, tracker); n != 2 {
		t.Errorf("%d strings, want 2", n)
	}
	tracker.MaxShortCircuitA = 12
	if n := MostParallel(m, tracker); n != 0 {
		t.Errorf("%d strings on an input that stands none", n)
	}
}

func TestDCAC(t *testing.T) {
	v := catalog.StringInverter{ACPowerW: 5000, MaxArrayW: 8000}
	for _, c := range []struct {
		modulesW float64
		ratio    float64
		want     string
	}{
		{6000, 1.2, ""},
		{4000, 0.8, ""},
		{3900, 0.78, "note dc_ac_low"},
		{7600, 1.52, "note dc_ac_high"},
		{8001, 1.6002, "note dc_ac_high, error max_array"},
	} {
		f, findings, err := DCAC(c.modulesW, v)
		var said []string
		for _, f := range findings {
			said = append(said, string(f.Level)+" "+f.Code)
		}
		if err != nil || math.Abs(f.Value-c.ratio) > 1e-12 || strings.Join(said, ", ") != c.want {
			t.Errorf("%g W: %g, %v, %v", c.modulesW, f.Value, said, err)
		}
	}
	if _, _, err := DCAC(5000, catalog.StringInverter{}); err == nil {
		t.Error("no error without AC power")
	}
}
