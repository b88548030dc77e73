package structural

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rooftally/catalog"
	"rooftally/electrical"
)

// panel is an invented module of 1.7 x 1.0 m and 20 kg, test values of 5400 Pa
// front and 2400 Pa rear at the long edges, none at the short ones.
func panel() ModuleBuild {
	return ModuleBuild{LengthM: 1.7, WidthM: 1, WeightKg: 20, LongEdge: Ratings{FrontTestPa: 5400, RearTestPa: 2400}}
}

// request is a sound one: six portrait modules in the middle of a gable plane.
func request(edit func(*LoadRequest)) LoadRequest {
	snow := DefaultASCESnow(ASCE716, 2000)
	wind := DefaultFlushWind(ASCE716, 45, 6, 10)
	r := LoadRequest{
		Family: ASCE, ASCESnow: &snow, FlushWind: &wind, Module: panel(),
		Planes: []PlaneArray{{ID: "south", PitchDeg: 30, Edges: outline(12, 6, Eave, Rake, Ridge, Rake), Modules: grid(3, 2, 4, 1.2, 1, 1.7, 0.02)}},
	}
	if edit != nil {
		edit(&r)
	}
	return r
}

func mustCheck(t testing.TB, r LoadRequest) LoadReport {
	t.Helper()
	out, err := CheckLoads(r)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Types of two packages that must convert, which keeps the packages apart.
var (
	_ = Ratings(catalog.Loads{})
	_ = Figure(electrical.Figure{})
	_ = electrical.Figure(Figure{})
)

// IEC 61215-2 MQT 16: test value / 1.5; 5400 Pa gives 3600, 2400 Pa 1600. 6000
// gives 4000 (arithmetic). An unmarked rating is a test value.
func TestDesignRating(t *testing.T) {
	for _, c := range []struct {
		name string
		r    Ratings
		side Side
		want float64
	}{
		{"5400 front", Ratings{FrontTestPa: 5400}, Front, 3600},
		{"6000 front", Ratings{FrontTestPa: 6000}, Front, 4000},
		{"2400 rear", Ratings{RearTestPa: 2400}, Rear, 1600},
		{"design given", Ratings{FrontTestPa: 5400, FrontDesignPa: 3000}, Front, 3000},
		{"design alone", Ratings{RearDesignPa: 1500}, Rear, 1500},
		{"the other side", Ratings{FrontTestPa: 5400}, Rear, 0},
		{"none", Ratings{}, Front, 0},
	} {
		if got := c.r.DesignPa(c.side); got != c.want {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
	figures := Ratings{FrontTestPa: 5400, RearDesignPa: 1600}.figures(LongEdge)
	if len(figures) != 2 || figures[0].Numbers != "5400 Pa / 1.5 = 3600 Pa" || figures[1].Numbers != "1600 Pa" {
		t.Errorf("%+v", figures)
	}
}

func TestClampsFollowTurnAndRails(t *testing.T) {
	for _, c := range []struct {
		turn  Turn
		rails RailDirection
		want  ClampEdge
	}{{Portrait, AlongEave, LongEdge}, {Landscape, AlongEave, ShortEdge}, {Portrait, UpSlope, ShortEdge}, {Landscape, UpSlope, LongEdge}} {
		if got := ClampsAt(c.turn, c.rails); got != c.want {
			t.Errorf("%s, rails %s: %s, want %s", c.turn, c.rails, got, c.want)
		}
	}
}

// Arithmetic by hand, 30 degrees: snow 0.7 x 1.2 x 2000 = 1680 Pa of plan area,
// x cos2 = 1260; weight 20 x 9.80665 / 1.7 = 115.37 Pa, x cos = 99.92. Wind: q =
// 0.613 x 0.85 x 0.85 x 45^2 at 4.5 m, gamma_a of 1.7 m2 = 18.30 ft2 is 0.695.
func TestLoadsByHand(t *testing.T) {
	r := request(func(r *LoadRequest) { r.FlushWind.MeanRoofHeightM = 4.5 })
	out := mustCheck(t, r)
	if out.Caution != "This checks the module only, not clamps, rafters or roof. A licensed engineer decides." {
		t.Errorf("caution %q", out.Caution)
	}
	p := out.Planes[0]
	within(t, "snow square", figure(t, p.Figures, "snow_square").Value, 1260, 1e-9)
	within(t, "weight", figure(t, out.Figures, "module_weight").Value, 115.3724, 1e-3)
	weight := 115.372353 * math.Cos(30*degree)
	within(t, "weight square", figure(t, p.Figures, "weight_square").Value, weight, 1e-5)
	q := 0.613 * 0.85 * 0.85 * 45 * 45
	gamma := 0.8 - 0.4*math.Log10(1.7*10.7639104/10)
	up, down := q*1.8*1.5*gamma, math.Max(766, q*0.9*gamma)
	if len(p.Cases) != 1 || p.OutsideRule || p.Cases[0].Zone != Zone1 || !p.Cases[0].Exposed || p.Cases[0].Clamps != LongEdge {
		t.Fatalf("%+v", p)
	}
	c := p.Cases[0]
	within(t, "up", *c.WindUpPa, up, 1e-6)
	within(t, "down", *c.WindDownPa, down, 1e-6)
	want := map[string]float64{
		"wind_down": 0.6 * down, "snow": 1260, "weight_snow_wind": weight + 0.75*1260 + 0.75*0.6*down,
		"wind_up": 0.6 * up, "weight_wind_up": 0.6*up - 0.6*weight,
	}
	if len(c.Checks) != len(want) {
		t.Fatalf("%+v", c.Checks)
	}
	for _, k := range c.Checks {
		within(t, k.Key, k.Pa, want[k.Key], 1e-4)
		rating := 3600.0
		if k.Side == Rear {
			rating = 1600
		}
		within(t, k.Key+" ratio", k.Ratio, want[k.Key]/rating, 1e-6)
		if k.Numbers == "" || !strings.Contains(k.Source, "from memory") {
			t.Errorf("%+v", k)
		}
	}
	if c.Governing != "0.6 W" || c.Status != Within || out.Counts != (Counts{Within: 6}) {
		t.Errorf("governed by %q, %s, %+v", c.Governing, c.Status, out.Counts)
	}
	if got := strings.Join(out.Combinations, "; "); got != "front: 0.6 W; front: 1.0 S; front: D + 0.75 S + 0.75 x 0.6 W; rear: 0.6 W; rear: 0.6 D - 0.6 W" {
		t.Errorf("combinations %s", got)
	}
}

// On a level roof cos is 1, so that the limits come out whole: 85 % of 3600 is
// 3060, and ratings are met exactly.
func TestStatusAtItsLimits(t *testing.T) {
	for _, c := range []struct {
		snowPa float64
		want   Status
	}{{3060, Within}, {3060.01, Near}, {3600, Near}, {3600.01, Over}, {0, Within}} {
		r := LoadRequest{Family: EN, Module: panel(), ENSnow: &ENSnow{GroundPa: c.snowPa / 0.8, ExposureCe: 1, ThermalCt: 1, ExceptionalFactor: 1},
			TypedWind: &TypedWind{}, Planes: []PlaneArray{{Modules: grid(1, 1, 0, 0, 1, 1.7, 0)}}}
		r.Module.WeightKg = 0.5
		out := mustCheck(t, r)
		k := out.Planes[0].Cases[0]
		// The weight of 2.9 Pa governs with it; look at the snow alone.
		for _, check := range k.Checks {
			if check.Key == "snow" && statusOf(check.Ratio) != c.want {
				t.Errorf("%g Pa: %s, want %s", c.snowPa, statusOf(check.Ratio), c.want)
			}
		}
	}
}

func TestStatusOfACase(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*LoadRequest)
		want Status
		why  string
	}{
		{"within", nil, Within, "Rear "},
		{"near", func(r *LoadRequest) { r.ASCESnow.GroundPa = 5000 }, Near, "by 1.0 S"},
		{"over by snow", func(r *LoadRequest) { r.ASCESnow.GroundPa = 6000 }, Over, "by 1.0 S"},
		{"over by wind", func(r *LoadRequest) { r.FlushWind.SpeedMPS = 70 }, Over, "Rear "},
		{"no rating for the clamps", func(r *LoadRequest) { r.Planes[0].Rails = UpSlope }, Unknown, "No front rating is given for clamps on the short edges; no rear"},
		{"no rear rating", func(r *LoadRequest) { r.Module.LongEdge.RearTestPa = 0 }, Unknown, "no rear rating"},
		{"no rear rating, front over", func(r *LoadRequest) { r.Module.LongEdge.RearTestPa, r.ASCESnow.GroundPa = 0, 6000 }, Over, "no rear rating"},
		{"no rear load", func(r *LoadRequest) {
			r.Module.LongEdge.RearTestPa, r.FlushWind, r.TypedWind = 0, nil, &TypedWind{DownPa: 500}
		}, Within, "Front 1270 Pa of 3600 Pa, 35.3 %, by D + 0.75 S + 0.75 x 0.6 W."},
		{"no wind", func(r *LoadRequest) { r.FlushWind = nil }, Unknown, "the wind is not given"},
		{"no snow", func(r *LoadRequest) { r.ASCESnow = nil }, Unknown, "the snow is not given"},
		{"nothing", func(r *LoadRequest) { r.ASCESnow, r.FlushWind = nil, nil }, Unknown, "The snow is not given; the wind is not given."},
		{"outside the rule, snow over", func(r *LoadRequest) { r.FlushWind.TiltToRoofDeg, r.ASCESnow.GroundPa = 10, 6000 }, Over, "outside this rule, engineer needed"},
		{"typed coefficient for another zone", func(r *LoadRequest) { r.FlushWind.GCp = []ZoneGCp{{Zone3R, 2, 1}} }, Unknown, "no pressure coefficient is typed for zone 1"},
		{"too steep for the table", func(r *LoadRequest) { r.Planes[0].PitchDeg = 50 }, Unknown, "engineer needed"},
		{"too steep, typed", func(r *LoadRequest) {
			r.Planes[0].PitchDeg, r.FlushWind.GCp = 50, []ZoneGCp{{Zone1, 1, 1}, {Zone2E, 1, 1}, {Zone2R, 1, 1}}
		}, Within, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			out := mustCheck(t, request(c.edit))
			k := out.Planes[0].Cases[0]
			if k.Status != c.want || !strings.Contains(k.Why, c.why) {
				t.Errorf("%s: %s; want %s, %q", k.Status, k.Why, c.want, c.why)
			}
		})
	}
}

// Each condition of the flush rule fails by itself, and no wind pressure is
// given then.
func TestFlushConditionsOneByOne(t *testing.T) {
	long := func(r *LoadRequest) {
		r.Module.LengthM = 2.05
		r.Planes[0].Modules = grid(3, 1, 4, 1.2, 1, 2.05, 0.02)
	}
	for _, c := range []struct {
		key  string
		pass func(*LoadRequest)
		fail func(*LoadRequest)
	}{
		{"enclosed", nil, func(r *LoadRequest) { r.FlushWind.Enclosed = false }},
		{"parallel", func(r *LoadRequest) { r.FlushWind.TiltToRoofDeg = 2 }, func(r *LoadRequest) { r.FlushWind.TiltToRoofDeg = 2.01 }},
		{"height", func(r *LoadRequest) { r.FlushWind.HeightAboveRoofM = 0.254 }, func(r *LoadRequest) { r.FlushWind.HeightAboveRoofM = 0.255 }},
		{"gap", func(r *LoadRequest) { r.Planes[0].Modules = grid(3, 2, 4, 1.2, 1, 1.7, 0.00635) },
			func(r *LoadRequest) { r.Planes[0].Modules = grid(3, 2, 4, 1.2, 1, 1.7, 0.006) }},
		{"panel_size", func(r *LoadRequest) {
			r.Module.LengthM = 2.04
			r.Planes[0].Modules = grid(3, 1, 4, 1.2, 1, 2.04, 0.02)
		}, long},
		{"edge_distance", func(r *LoadRequest) { r.Planes[0].Modules[0].UM = 0.3 }, func(r *LoadRequest) { r.Planes[0].Modules[0].UM = 0.299 }},
		{"edge_distance", nil, func(r *LoadRequest) { r.Planes[0].Edges = nil }},
		{"edge_distance", func(r *LoadRequest) { // 0.35 m up 30 degrees is 0.303 m in plan
			r.Planes[0].Modules = grid(3, 1, 4, 0.35, 1, 1.7, 0.02)
		}, func(r *LoadRequest) { r.Planes[0].Modules = grid(3, 1, 4, 0.34, 1, 1.7, 0.02) }},
		{"roof_height", func(r *LoadRequest) { r.FlushWind.MeanRoofHeightM = 18.288 }, func(r *LoadRequest) { r.FlushWind.MeanRoofHeightM = 18.3 }},
	} {
		t.Run(c.key, func(t *testing.T) {
			passed := mustCheck(t, request(c.pass)).Planes[0]
			for _, cond := range passed.Conditions {
				if !cond.Met {
					t.Errorf("%s is not met: %s", cond.Key, cond.Message)
				}
			}
			if passed.OutsideRule || passed.Cases[0].WindUpPa == nil {
				t.Error("outside the rule")
			}
			out := mustCheck(t, request(c.fail))
			failed := out.Planes[0]
			for _, cond := range failed.Conditions {
				if cond.Met == (cond.Key == c.key) {
					t.Errorf("%s met: %v", cond.Key, cond.Met)
				}
			}
			if !failed.OutsideRule || out.Counts != (Counts{Unknown: len(failed.Modules)}) {
				t.Errorf("%v, %+v", failed.OutsideRule, out.Counts)
			}
			for _, k := range failed.Cases {
				if k.WindUpPa != nil || k.WindDownPa != nil || !strings.Contains(k.Why, "outside this rule, engineer needed") {
					t.Errorf("%+v", k)
				}
				for _, check := range k.Checks {
					if strings.Contains(check.Formula, "W") {
						t.Errorf("a number for %s", check.Formula)
					}
				}
			}
			said := false
			for _, f := range out.Findings {
				said = said || f.Code == "outside_flush_rule" && strings.Contains(f.Message, "outside this rule, engineer needed")
			}
			if !said {
				t.Errorf("findings %+v", out.Findings)
			}
		})
	}
}

// EN 1990 6.5.3 from memory: each variable load leads once. 30 degrees: snow 0.8
// x 1500 x cos2 = 900; weight 99.915.
func TestENCombinations(t *testing.T) {
	snow := DefaultENSnow(1500)
	snow.Exceptional = true
	out := mustCheck(t, request(func(r *LoadRequest) {
		r.Family, r.ASCESnow, r.FlushWind = EN, nil, nil
		r.ENSnow, r.TypedWind = &snow, &TypedWind{UpPa: 1000, DownPa: 600}
	}))
	want := map[string]float64{
		"wind_down": 600, "snow": 900, "weight_snow_wind": 99.9154 + 900 + 360, "weight_wind_snow": 99.9154 + 600 + 450,
		"wind_up": 1000, "weight_wind_up": 900.0846, "exceptional_snow": 99.9154 + 1800,
	}
	checks := out.Planes[0].Cases[0].Checks
	if len(checks) != len(want) {
		t.Errorf("%+v", checks)
	}
	for _, k := range checks {
		within(t, k.Key, k.Pa, want[k.Key], 1e-3)
	}
	if got := checks[len(checks)-2].Numbers; got != "1 x 1000 - 1 x 100 = 900 Pa of 1600 Pa" {
		t.Errorf("numbers %q", got)
	}
}

// ASCE 7-22, from memory: ground snow is at strength level, of which 0.7 counts.
func TestStrengthLevelSnow(t *testing.T) {
	out := mustCheck(t, request(func(r *LoadRequest) {
		*r.ASCESnow = DefaultASCESnow(ASCE722, 2000)
		r.FlushWind.Edition = ASCE722
	}))
	for _, k := range out.Planes[0].Cases[0].Checks {
		if k.Key == "snow" {
			within(t, k.Formula, k.Pa, 0.7*1260, 1e-9)
		}
	}
	if out.Combinations[2] != "front: D + 0.75 x 0.7 S + 0.75 x 0.6 W" {
		t.Error(out.Combinations)
	}
}

// Modules of one plane in different zones and turns are different cases.
func TestCasesOfAPlane(t *testing.T) {
	r := request(func(r *LoadRequest) {
		r.Planes[0].Modules = []Rect{{0.4, 0.4, 1, 1.7}, {5, 2, 1, 1.7}, {9, 0.4, 1.7, 1}, {0.4, 3.9, 1, 1.7}, {5, 3.8, 1, 1.7}, {3, 2, 1, 1.7}}
		r.Module.ShortEdge = Ratings{FrontTestPa: 3600}
	})
	p := mustCheck(t, r).Planes[0]
	var got []string
	for _, m := range p.Modules {
		c := p.Cases[m.Case]
		got = append(got, string(c.Zone)+" "+string(c.Clamps))
		if m.Status != c.Status || m.Ratio != c.Ratio || m.Governing != c.Governing {
			t.Errorf("%+v, case %+v", m, c)
		}
	}
	if s := strings.Join(got, ", "); s != "3e long_edge, 1 long_edge, 2e short_edge, 3r long_edge, 2r long_edge, 1 long_edge" {
		t.Error(s)
	}
	if p.Modules[1].Case != p.Modules[5].Case {
		t.Error("two modules of one situation are two cases")
	}
}

func TestLoadRequestRefuses(t *testing.T) {
	en := DefaultENSnow(1000)
	for _, c := range []struct {
		name  string
		edit  func(*LoadRequest)
		field string
	}{
		{"family", func(r *LoadRequest) { r.Family = "" }, "family"},
		{"EN snow in ASCE", func(r *LoadRequest) { r.ASCESnow, r.ENSnow = nil, &en }, "en_snow"},
		{"ASCE snow in EN", func(r *LoadRequest) { r.Family, r.FlushWind = EN, nil }, "asce_snow"},
		{"ASCE wind with EN snow", func(r *LoadRequest) { r.Family, r.ASCESnow, r.ENSnow = EN, nil, &en }, "flush_wind"},
		{"two winds", func(r *LoadRequest) { r.TypedWind = &TypedWind{} }, "typed_wind"},
		{"two editions", func(r *LoadRequest) { r.FlushWind.Edition = ASCE722 }, "edition"},
		{"snow", func(r *LoadRequest) { r.ASCESnow.GroundPa = -1 }, "ground_pa"},
		{"wind", func(r *LoadRequest) { r.FlushWind.SpeedMPS = 0 }, "speed_mps"},
		{"length", func(r *LoadRequest) { r.Module.LengthM = math.NaN() }, "length_m"},
		{"width above length", func(r *LoadRequest) { r.Module.WidthM = 1.8 }, "width_m"},
		{"weight", func(r *LoadRequest) { r.Module.WeightKg = 0 }, "weight_kg"},
		{"rating", func(r *LoadRequest) { r.Module.ShortEdge.RearTestPa = 499 }, "short_edge rear_test_pa"},
		{"pitch", func(r *LoadRequest) { r.Planes[0].PitchDeg = 76 }, "pitch_deg"},
		{"rails", func(r *LoadRequest) { r.Planes[0].Rails = "across" }, "rails"},
		{"edge kind", func(r *LoadRequest) { r.Planes[0].Edges[0].Kind = "" }, "edges"},
		{"edge place", func(r *LoadRequest) { r.Planes[0].Edges[0].ToUM = math.NaN() }, "edge to_u_m"},
		{"module size", func(r *LoadRequest) { r.Planes[0].Modules[2].WM = 1.1 }, "modules"},
		{"module place", func(r *LoadRequest) { r.Planes[0].Modules[2].UM = math.Inf(1) }, "modules"},
		{"overlap", func(r *LoadRequest) { r.Planes[0].Modules[2].UM -= 0.1 }, "modules"},
		{"too many", func(r *LoadRequest) { r.Planes[0].Modules = grid(2001, 1, 0, 0, 1, 1.7, 0) }, "modules"},
		{"too many planes", func(r *LoadRequest) { r.Planes = make([]PlaneArray, 201) }, "planes"},
	} {
		_, err := CheckLoads(request(c.edit))
		refuses(t, c.name, err, c.field)
	}
}

func TestFindings(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*LoadRequest)
		want string
	}{
		{"table from memory", nil, "note drifts, warning gcp_from_memory"},
		{"typed", func(r *LoadRequest) { r.FlushWind.GCp = []ZoneGCp{{Zone1, 2, 1}} }, "note drifts"},
		{"over", func(r *LoadRequest) { r.ASCESnow.GroundPa = 9000 }, "error over_rating, note drifts, warning gcp_from_memory"},
		{"slippery", func(r *LoadRequest) { r.ASCESnow.Slippery = true }, "note slippery, note drifts, warning gcp_from_memory"},
		{"slippery refused", func(r *LoadRequest) { r.ASCESnow.Slippery, r.ASCESnow.Curve, r.ASCESnow.ThermalCt = true, WarmRoof, 1 },
			"warning slippery_refused, note drifts, warning gcp_from_memory"},
		{"no snow", func(r *LoadRequest) { r.ASCESnow = nil }, "warning unknown_load, warning gcp_from_memory"},
	} {
		var said []string
		for _, f := range mustCheck(t, request(c.edit)).Findings {
			said = append(said, string(f.Level)+" "+f.Code)
		}
		if got := strings.Join(said, ", "); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// Every figure says where it comes from, and the report survives JSON.
func TestEveryFigureHasItsSource(t *testing.T) {
	r := request(func(r *LoadRequest) { r.ASCESnow.ExtraPa = 100 })
	out := mustCheck(t, r)
	figures := append(out.Figures, out.Planes[0].Figures...)
	for _, c := range out.Planes[0].Cases {
		figures = append(figures, c.Figures...)
	}
	for _, f := range figures {
		if f.Key == "" || f.Label == "" || f.Formula == "" || f.Numbers == "" || f.Source == "" || math.IsNaN(f.Value) {
			t.Errorf("%+v", f)
		}
	}
	if len(figures) < 12 {
		t.Errorf("%d figures", len(figures))
	}
	text, err := json.Marshal(out)
	if err != nil || strings.Contains(string(text), "null") {
		t.Errorf("%s, %v", text, err)
	}
}

func TestNoModules(t *testing.T) {
	out := mustCheck(t, request(func(r *LoadRequest) { r.Planes[0].Modules = nil }))
	if out.Counts != (Counts{}) || len(out.Planes[0].Modules) != 0 || out.Planes[0].OutsideRule {
		t.Errorf("%+v", out)
	}
	if out = mustCheck(t, request(func(r *LoadRequest) { r.Planes = nil })); len(out.Planes) != 0 {
		t.Errorf("%+v", out)
	}
}

// Arithmetic: 10 x 20 kg + 20 m x 1 kg/m + 16 x 0.5 kg on 17 m2.
func TestDeadLoad(t *testing.T) {
	figures, err := DeadLoad(panel(), 10, 20, 16, DefaultHardware())
	if err != nil {
		t.Fatal(err)
	}
	within(t, "mass", figure(t, figures, "array_mass").Value, 228, 1e-9)
	within(t, "kg/m2", figure(t, figures, "dead_load").Value, 228.0/17, 1e-9)
	within(t, "Pa", figure(t, figures, "dead_load_pa").Value, 131.524, 1e-3)
	for _, c := range []struct {
		name    string
		n, a    int
		railM   float64
		railKgM float64
		kg      float64
		field   string
	}{
		{"modules", 0, 1, 1, 1, 1, "modules"}, {"rails", 1, 1, math.NaN(), 1, 1, "rail_m"}, {"attachments", 1, -1, 1, 1, 1, "attachments"},
		{"rail weight", 1, 1, 1, 21, 1, "rail_kg_per_m"}, {"attachment weight", 1, 1, 1, 1, -1, "attachment_kg"},
	} {
		_, err := DeadLoad(panel(), c.n, c.railM, c.a, Hardware{c.railKgM, c.kg})
		refuses(t, c.name, err, c.field)
	}
	_, err = DeadLoad(ModuleBuild{}, 1, 1, 1, DefaultHardware())
	refuses(t, "module", err, "length_m")
}

// anyRequest draws a sound request.
func anyRequest(t *rapid.T) LoadRequest {
	r := request(nil)
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	r.Planes[0].PitchDeg = f(0, 75, "pitch")
	r.Planes[0].Modules = grid(rapid.IntRange(1, 6).Draw(t, "columns"), 2, f(0, 5, "u"), f(0, 2.5, "v"), 1, 1.7, 0.02)
	rating := func(label string) float64 {
		if rapid.Bool().Draw(t, label+" given") {
			return f(500, 8000, label)
		}
		return 0
	}
	r.Module.LongEdge = Ratings{rating("front test"), rating("front design"), rating("rear test"), rating("rear design")}
	up, down := f(0, 5000, "up"), f(0, 5000, "down")
	if rapid.Bool().Draw(t, "EN") {
		snow := DefaultENSnow(f(0, 8000, "sk"))
		snow.Exceptional = rapid.Bool().Draw(t, "exceptional")
		r.Family, r.ASCESnow, r.FlushWind, r.ENSnow, r.TypedWind = EN, nil, nil, &snow, &TypedWind{up, down}
		return r
	}
	e := rapid.SampledFrom([]Edition{ASCE716, ASCE722}).Draw(t, "edition")
	snow := DefaultASCESnow(e, f(0, 8000, "pg"))
	snow.Slippery = rapid.Bool().Draw(t, "slippery")
	wind := DefaultFlushWind(e, f(20, 80, "speed"), f(2, 18, "height"), f(5, 30, "width"))
	r.ASCESnow, r.FlushWind = &snow, &wind
	if rapid.Bool().Draw(t, "typed") {
		r.FlushWind, r.TypedWind = nil, &TypedWind{up, down}
	}
	return r
}

// rank orders statuses from good to bad.
func rank(s Status) int { return map[Status]int{Within: 0, Near: 1, Unknown: 2, Over: 3}[s] }

// notBetter fails if a module stands better in b than in a.
func notBetter(t *rapid.T, what string, a, b LoadReport) {
	for i, m := range a.Planes[0].Modules {
		if o := b.Planes[0].Modules[i]; rank(o.Status) < rank(m.Status) || o.Ratio < m.Ratio {
			t.Fatalf("%s turns module %d from %s (%g) into %s (%g)", what, i, m.Status, m.Ratio, o.Status, o.Ratio)
		}
	}
}

func TestMoreLoadIsNeverBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		before, err := CheckLoads(r)
		if err != nil {
			t.Fatal(err)
		}
		more := rapid.Float64Range(0, 4000).Draw(t, "more")
		switch {
		case r.ENSnow != nil:
			s := *r.ENSnow
			s.GroundPa += more
			r.ENSnow = &s
		default:
			s := *r.ASCESnow
			s.GroundPa += more
			r.ASCESnow = &s
		}
		after, err := CheckLoads(r)
		if err != nil {
			t.Fatal(err)
		}
		notBetter(t, "more snow", before, after)
		if r.FlushWind != nil {
			w := *r.FlushWind
			w.SpeedMPS += more / 100
			r.FlushWind = &w
		} else {
			r.TypedWind = &TypedWind{r.TypedWind.UpPa + more, r.TypedWind.DownPa + more}
		}
		windy, err := CheckLoads(r)
		if err != nil {
			t.Fatal(err)
		}
		notBetter(t, "more wind", after, windy)
	})
}

func TestHigherRatingIsNeverWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		before, err := CheckLoads(r)
		if err != nil {
			t.Fatal(err)
		}
		more := rapid.Float64Range(0, 4000).Draw(t, "more")
		for _, v := range []*float64{&r.Module.LongEdge.FrontTestPa, &r.Module.LongEdge.FrontDesignPa, &r.Module.LongEdge.RearTestPa, &r.Module.LongEdge.RearDesignPa} {
			if *v > 0 {
				*v += more
			}
		}
		after, err := CheckLoads(r)
		if err != nil {
			t.Fatal(err)
		}
		notBetter(t, "a lower rating", after, before)
	})
}

// Moved along the eave together with its outline, a plane keeps its loads.
func TestLoadsMoveWithTheRoof(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		before, err := CheckLoads(r)
		if err != nil {
			t.Fatal(err)
		}
		by := float64(rapid.IntRange(-64, 64).Draw(t, "by"))
		p := r.Planes[0]
		p.Edges, p.Modules = append([]Edge{}, p.Edges...), append([]Rect{}, p.Modules...)
		for i := range p.Edges {
			p.Edges[i].FromUM += by
			p.Edges[i].ToUM += by
		}
		for i := range p.Modules {
			p.Modules[i].UM += by
		}
		r.Planes = []PlaneArray{p}
		after, err := CheckLoads(r)
		if err != nil {
			t.Fatal(err)
		}
		for i, m := range before.Planes[0].Modules {
			// A module within rounding of a zone's edge may change sides.
			if o := after.Planes[0].Modules[i]; o.Status != m.Status && !zoneEdge(before.Planes[0], after.Planes[0], i) {
				t.Fatalf("module %d: %+v, moved %+v", i, m, o)
			}
		}
	})
}

// zoneEdge reports whether a module's zone differs between two reports.
func zoneEdge(a, b PlaneLoad, i int) bool {
	return a.Cases[a.Modules[i].Case].Zone != b.Cases[b.Modules[i].Case].Zone
}

// BenchmarkLoads judges 60 modules of one plane.
func BenchmarkLoads(b *testing.B) {
	r := request(func(r *LoadRequest) {
		r.Planes[0].Edges = outline(16, 10.5, Eave, Rake, Ridge, Rake)
		r.Planes[0].Modules = grid(12, 5, 1, 0.8, 1, 1.7, 0.02)
	})
	for b.Loop() {
		if _, err := CheckLoads(r); err != nil {
			b.Fatal(err)
		}
	}
}
