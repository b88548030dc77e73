//go:build !js

package project

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"rooftally/catalog"
	"rooftally/layout"
	"rooftally/structural"
)

// mustBuild evaluates a document in the drag budget and builds it with the
// inverters of the demo.
func mustBuild(t testing.TB, d Document) BuildResult {
	t.Helper()
	res, err := EvaluateWithin(t.Context(), d, layout.Drag)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Build(t.Context(), d, res, catalog.DemoInverters())
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// demoInverter is an inverter of the demo by its id.
func demoInverter(t testing.TB, id string) *catalog.StringInverter {
	t.Helper()
	list := catalog.DemoInverters()
	i := slices.IndexFunc(list, func(v catalog.StringInverter) bool { return v.ID == id })
	if i < 0 {
		t.Fatalf("the demo has no inverter %q", id)
	}
	return &list[i]
}

// demoSheet is a module of the demo by its id.
func demoSheet(t testing.TB, id string) catalog.Datasheet {
	t.Helper()
	list := catalog.DemoDatasheets()
	i := slices.IndexFunc(list, func(m catalog.Datasheet) bool { return m.ID == id })
	if i < 0 {
		t.Fatalf("the demo has no module %q", id)
	}
	return list[i]
}

// workedShed holds two rows of six modules of 1.08 x 1.75 m on a slope of 30
// degrees: 0.3 m of setback and 0.04 m for clamps leave 6.58 m of a width of 7.26
// m, six modules and five gaps of 20 mm, and 3.6 m of slope hold two rows. One
// rafter lies at the start of the eave, the next every 0.6 m.
func workedShed(t testing.TB) Document {
	t.Helper()
	d := New("Worked shed (invented)")
	p := rectPlane("south", 0, 0, 7.28, 4.2*math.Cos(math.Pi/6))
	p.PitchDeg, p.EaveHeightM = 30, 3
	p.Ring[0].Edge, p.Ring[1].Edge, p.Ring[2].Edge, p.Ring[3].Edge = "eave", "rake", "ridge", "rake"
	d.Planes = []Plane{p}
	d.Candidates = []Candidate{CandidateOf(demoSheet(t, "demo-400-medium"), "m")}
	d.Wiring.Kind, d.Wiring.Inverter = WiringString, demoInverter(t, "demo-inv-5k")
	d.Wiring.ColdC, d.Wiring.HotAirC = new(-10.0), new(35.0)
	d.Wiring.MainBreakerA, d.Wiring.BusbarA = new(200.0), new(225.0)
	d.Wiring.ModuleShutdown = true
	snow := structural.DefaultASCESnow(structural.ASCE716, 1440)
	d.Loads.ASCESnow, d.Loads.TypedWind, d.Loads.SpanM = &snow, &structural.TypedWind{UpPa: 1000, DownPa: 500}, new(1.2)
	d.Cost = Cost{Currency: "units", RestPerModule: new(190.0), RestFixed: new(2600.0)}
	return d
}

// The figures of workedShed by hand; all is arithmetic on the datasheets of the
// demo and the formulas of docs/electrical.md and docs/structural.md.
func TestWorkedShed(t *testing.T) {
	c := mustBuild(t, workedShed(t)).Candidates[0]
	if c.Count != 12 || c.PdcW != 4800 {
		t.Fatalf("%d modules, %d W; want 12 and 4800", c.Count, c.PdcW)
	}
	t.Run("strings", func(t *testing.T) {
		w := c.Wiring
		// 37.8 V x (1 + 0.0025 x 35) = 41.1075 V; 600 V / 41.1075 V = 14.6. Hot:
		// 31.6 V x (1 - 0.0028 x 45) = 27.6184 V; 90 V / 27.6184 V = 3.26. To start:
		// 120 V / (37.8 V x (1 - 0.0025 x 45)) = 3.58.
		if w.Longest != 14 || w.Shortest != 4 || w.Wires != 12 || len(w.Strings) != 1 || w.Strings[0].PowerW != 4800 {
			t.Fatalf("%+v", w)
		}
		if s := w.Strings[0]; !near(s.VocColdV, 12*41.1075, 1e-9) || !near(s.VmpHotV, 12*27.6184, 1e-9) {
			t.Errorf("string %g V cold, %g V hot", s.VocColdV, s.VmpHotV)
		}
		// 1.25 x 21 A + 200 A = 226.25 A, 1.2 x 225 A = 270 A.
		if len(w.AC.Figures) != 1 || !near(w.AC.Figures[0].Value, 226.25, 1e-9) || w.AC.CurrentA != 21 {
			t.Errorf("AC %+v", w.AC)
		}
		if len(w.Trackers) != 1 || !near(w.Trackers[0].ShortCircuitA, 1.25*13.35, 1e-9) {
			t.Errorf("trackers %+v", w.Trackers)
		}
		if !w.Complete || len(w.Open) != 0 || len(w.Marks) != 2 || !w.Marks[0].Met || !w.Marks[1].Met {
			t.Errorf("open %q, marks %+v", w.Open, w.Marks)
		}
	})
	t.Run("inverters", func(t *testing.T) {
		works := map[string]bool{}
		for _, v := range c.Wiring.Inverters {
			works[v.ID] = v.Works
		}
		// 3 kW allows 4500 W, 11 modules; those from 8 kW on are three-phase.
		for id, want := range map[string]bool{"demo-inv-3k": false, "demo-inv-5k": true, "demo-inv-7k6": true, "demo-inv-8k": false, "demo-inv-12k": false, "demo-inv-30k": false} {
			if works[id] != want {
				t.Errorf("%s works: %t, want %t", id, works[id], want)
			}
		}
	})
	t.Run("loads", func(t *testing.T) {
		l := c.Loads
		// Lift 0.6 x 1000 Pa of 1600 Pa. Press: weight 20.8 kg x 9.80665 / 1.89 m2 x
		// cos 30 = 93.5 Pa, snow 0.7 x 1.2 x 1440 x cos2 30 = 907.2 Pa:
		// 93.5 + 680.4 + 225 = 998.9 Pa of 3600 Pa.
		if l.Worst != LoadWithin || l.Words != "12 modules within the design rating." || !near(l.Governing.Ratio, 0.375, 1e-9) {
			t.Errorf("%s, %s, %+v", l.Worst, l.Words, l.Governing)
		}
		press := 0.0
		for _, k := range l.Report.Planes[0].Cases[0].Checks {
			if k.Side == structural.Front {
				press = max(press, k.Pa)
			}
		}
		if want := 20.8*9.80665/1.89*math.Cos(math.Pi/6) + 680.4 + 225; !near(press, want, 1e-6) {
			t.Errorf("presses with %g Pa, want %g", press, want)
		}
		if l.Caution == "" || len(l.Modules) != 12 {
			t.Errorf("caution %q, %d modules", l.Caution, len(l.Modules))
		}
	})
	t.Run("bill", func(t *testing.T) {
		// A rail is 6.58 + 2 x 0.05 = 6.68 m: one stick of 4.2 m and 2.48 m of
		// another, and two such rests do not come out of one stick. Four rails: 8
		// sticks, 4 splices, 4 x 5 mid and 4 x 2 end clamps. Rafters every 0.6 m, one
		// in two used, at most 0.48 m past the last: a rail from 0.29 to 6.97 m, with
		// rafters at 0.6 (0.31 m in) to 6.6 m, takes 0.6, 1.8, 3.0, 4.2, 5.4 and 6.6.
		want := map[string]int{
			"module": 12, "rail_stick": 8, "splice": 4, "mid_clamp": 20, "end_clamp": 8, "attachment": 24,
			"rapid_shutdown": 12, "inverter": 1,
		}
		for _, l := range c.Bill.Total {
			if l.Quantity != want[l.Key] || l.Missing {
				t.Errorf("%+v, want %d", l, want[l.Key])
			}
			delete(want, l.Key)
		}
		if len(want) > 0 {
			t.Errorf("the bill lacks %v", want)
		}
		if !near(c.Rails.railM(), 4*6.68, 1e-9) {
			t.Errorf("%g m of rail", c.Rails.railM())
		}
		// The lower rail lies a quarter of 1.75 m up the lowest row, which begins
		// 0.3 m up the slope; cos 30 of that in plan.
		if l := c.Rails.Lines[0]; len(c.Rails.Lines) != 4 || !near(l.From[0], 0.3, 0.03) || !near(l.From[1], (0.3+0.4375)*math.Cos(math.Pi/6), 0.03) || len(l.Attachments) != 6 {
			t.Errorf("%d rails, the first %+v", len(c.Rails.Lines), l)
		}
		// 12 x 20.8 kg + 26.72 m x 1 kg/m + 24 x 0.5 kg over 12 x 1.89 m2.
		if !near(c.Loads.Dead[1].Value, (249.6+26.72+12)/22.68, 1e-9) {
			t.Errorf("dead load %+v", c.Loads.Dead[1])
		}
	})
	t.Run("warranty and cost", func(t *testing.T) {
		y := c.Warranty.Years
		// 1 % in the first year, 0.4 points in each of 29 more.
		if len(y) != 30 || !near(y[0].Share, 0.99, 1e-12) || !near(y[29].Share, 0.874, 1e-12) || !near(y[29].PdcW, 4195.2, 1e-9) {
			t.Errorf("warranty %+v", y)
		}
		// 12 x 128 + 890 + 12 x 190 + 2600 = 7306, over 4.8 kWdc.
		if k := c.Cost; *k.Total != 7306 || !near(*k.PerKWdc, 7306/4.8, 1e-9) || k.Without != "" || k.Currency != "units" {
			t.Errorf("cost %+v", k)
		}
	})
}

// What is not known is said, and nothing is made up for it.
func TestUnknownsAreSaid(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*Document)
		get  func(CandidateBuild) string
		says string
	}{
		{"no datasheet, wiring", noSheet, wiringWhy, "without a datasheet"},
		{"no datasheet, loads", noSheet, func(c CandidateBuild) string { return c.Loads.Why }, "without a datasheet"},
		{"no datasheet, warranty", noSheet, func(c CandidateBuild) string { return c.Warranty.Why }, "without a datasheet"},
		{"no datasheet, cost", noSheet, func(c CandidateBuild) string { return c.Cost.Why }, "no price"},
		{"no datasheet, rails", noSheet, func(c CandidateBuild) string { return c.Rails.Why }, ""},
		{"no station", func(d *Document) { d.Wiring.ColdC = nil }, wiringWhy, "no weather station was asked for"},
		{"no hot temperature", func(d *Document) { d.Wiring.HotAirC = nil }, wiringWhy, "The hot design temperature is not known"},
		{"station too far", func(d *Document) {
			d.Wiring.ColdC = nil
			d.Wiring.Station = &StationCopy{ID: "1", Label: "Far", DistanceKm: 340, HeightM: -700, Warnings: []string{}}
		}, wiringWhy, "Far, is 340 km away and differs by 700 m in height: it is no guide. Type the lowest expected temperature."},
		{"cold above hot", func(d *Document) { d.Wiring.ColdC, d.Wiring.HotAirC = new(30.0), new(-30.0) }, wiringWhy, "There is no plan"},
		{"no kind", func(d *Document) { d.Wiring.Kind = "" }, wiringWhy, "No way of wiring"},
		{"no inverter", func(d *Document) { d.Wiring.Inverter = nil }, wiringWhy, "No inverter"},
		{"no optimiser", func(d *Document) { d.Wiring.Kind = WiringOptimiser }, wiringWhy, "No optimiser"},
		{"no micro-inverter", func(d *Document) { d.Wiring.Kind = WiringMicro }, wiringWhy, "No micro-inverter"},
		{"no modules", func(d *Document) { d.Planes[0].ModuleLimit = new(0) }, wiringWhy, noModules},
		{"no breaker", func(d *Document) { d.Wiring.MainBreakerA = nil }, func(c CandidateBuild) string { return c.Wiring.AC.Why }, "not typed"},
		{"no phase limit", func(d *Document) { d.Site.RuleFamily = "iec" }, func(c CandidateBuild) string { return c.Wiring.AC.Why }, "operator's limit"},
		{"no snow", func(d *Document) { d.Loads.ASCESnow = nil }, worstWhy, "the snow is not given"},
		{"no wind", func(d *Document) { d.Loads.TypedWind = nil }, worstWhy, "the wind is not given"},
		{"snow of the other family", func(d *Document) { d.Site.RuleFamily = "iec" }, worstWhy, "the snow is not given"},
		{"no span", func(d *Document) { d.Loads.SpanM = nil }, func(c CandidateBuild) string { return c.Rails.Why }, "distance between attachments is not typed"},
		{"span too short", func(d *Document) { d.Loads.SpanM = new(0.3) }, func(c CandidateBuild) string { return c.Rails.Why }, "rafter spacing"},
		{"rails up the slope", func(d *Document) { d.Loads.Rails = "up_slope" }, func(c CandidateBuild) string { return c.Rails.Why }, "up_slope"},
		{"no warranty", func(d *Document) { d.Candidates[0].Datasheet.PerformanceWarrantyYears = 0 }, func(c CandidateBuild) string { return c.Warranty.Why }, "no performance warranty"},
		{"no price of the module", func(d *Document) { d.Candidates[0].Datasheet.Price = 0 }, func(c CandidateBuild) string { return c.Cost.Why }, "no price"},
		{"no price of the inverter", func(d *Document) { d.Wiring.Inverter.Price = 0 }, func(c CandidateBuild) string { return c.Cost.Without }, "for: inverter."},
		{"no other costs", func(d *Document) { d.Cost.RestFixed = nil }, func(c CandidateBuild) string { return c.Cost.Without }, "other costs of the project"},
		{"bill without rails", func(d *Document) { d.Loads.SpanM = nil }, func(c CandidateBuild) string { return strings.Join(c.Bill.Notes, " ") }, "Rails, clamps and attachments are not counted."},
		{"bill without wiring", func(d *Document) { d.Wiring.Kind = "" }, func(c CandidateBuild) string { return strings.Join(c.Bill.Notes, " ") }, "Inverter and shutdown gear are not counted."},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := workedShed(t)
			c.edit(&d)
			got := c.get(mustBuild(t, d).Candidates[0])
			if !strings.Contains(got, c.says) || c.says == "" && got != "" {
				t.Errorf("says %q, want %q", got, c.says)
			}
		})
	}
}

func noSheet(d *Document)                  { d.Candidates[0].Datasheet = nil }
func wiringWhy(c CandidateBuild) string    { return c.Wiring.Why }
func worstWhy(c CandidateBuild) string     { return c.Loads.Modules[0].WhyStatus }
func openOf(c CandidateBuild) string       { return strings.Join(c.Wiring.Open, " ") }
func loadFindings(c CandidateBuild) string { return findingWords(c.Loads.Findings) }

func findingWords(findings []structural.Finding) string {
	var words []string
	for _, f := range findings {
		words = append(words, f.Message)
	}
	return strings.Join(words, " ")
}

// wiringFindings joins the notes on how many inverters it takes.
func wiringFindings(c CandidateBuild) string {
	text := ""
	for _, f := range c.Wiring.Findings {
		if f.Code == "several_inverters" {
			text += f.Message
		}
	}
	return text
}

// What is open is said, and a plan with an open duty is not complete.
func TestOpenPlans(t *testing.T) {
	micro, optimiser := catalog.DemoMicroInverters()[0], catalog.DemoOptimisers()[0]
	for _, c := range []struct {
		name     string
		edit     func(*Document)
		complete bool
		get      func(CandidateBuild) string
		says     string
	}{
		{"as it is", func(*Document) {}, true, openOf, ""},
		{"no shutdown gear", func(d *Document) { d.Wiring.ModuleShutdown = false }, false, openOf, "Needs rapid shutdown"},
		{"hazard control equipment", func(d *Document) { d.Wiring.ModuleShutdown, d.Wiring.HazardControl = false, true }, true, openOf, ""},
		{"no arc-fault protection", func(d *Document) { d.Wiring.Inverter.ArcFault = false }, false, openOf, "Needs DC arc-fault protection"},
		{"arc-fault protection added", func(d *Document) { d.Wiring.Inverter.ArcFault, d.Wiring.ArcFault = false, true }, true, openOf, ""},
		{"ground", func(d *Document) { d.Wiring.Place, d.Wiring.ModuleShutdown = "ground", false }, true, openOf, ""},
		{"small busbar", func(d *Document) { d.Wiring.BusbarA = new(188.0) }, false, openOf, "226.25 A pass 225.6 A"},
		{"busbar not typed", func(d *Document) { d.Wiring.BusbarA = nil }, false, openOf, "not typed"},
		{"one left out", func(d *Document) { d.Wiring.Inverter.MaxArrayW = 4799 }, false,
			func(c CandidateBuild) string { return c.Wiring.LeftOutWords }, "12 modules fit and 11 wire: leave out "},
		{"who would take it", func(d *Document) { d.Wiring.Inverter.MaxArrayW = 4799 }, false,
			func(c CandidateBuild) string { return c.Wiring.InverterWords }, "Of 6 inverters in the catalog 2 can take all 12 modules: Invented 5 kW, two trackers; Invented 7.6 kW, three trackers."},
		// 1.25 x 21 A + 200 A = 226.25 A > 1.2 x 170 A = 204 A, and 7.6 kW more so.
		{"who would have room", func(d *Document) { d.Wiring.BusbarA = new(170.0) }, false,
			func(c CandidateBuild) string { return c.Wiring.InverterWords }, "None of 6 inverters in the catalog can take all 12 modules. Invented 5 kW, two trackers has room for them, but: 226.25 A pass 204 A"},
		// Two strings of four to fourteen; 1.25 x 42 A + 200 A = 252.5 A <= 270 A.
		{"how many of the same", func(d *Document) { d.Wiring.Inverter.MaxArrayW = 4799 }, false, wiringFindings,
			"One of this inverter takes 11 of 12 modules; 2 of the same would take all (6 and 6). This plan, its parts and its cost are for one. 2 give 42 A on the AC side, which the connection allows."},
		{"two are too much for the busbar", func(d *Document) { d.Wiring.Inverter.MaxArrayW, d.Wiring.BusbarA = 4799, new(190.0) }, false, wiringFindings,
			"and there: 252.5 A pass 228 A"},
		{"no number is enough", func(d *Document) { d.Wiring.Inverter.MaxArrayW = 1500 }, false, wiringFindings, ""},
		{"three-phase on one phase", func(d *Document) { *d.Wiring.Inverter = *demoInverter(t, "demo-inv-12k") }, false, openOf, "three-phase"},
		{"three-phase, IEC", func(d *Document) {
			*d.Wiring.Inverter = *demoInverter(t, "demo-inv-12k")
			d.Site.RuleFamily, d.Wiring.SupplyPhases, d.Wiring.PhaseLimitA = "iec", 3, new(19.1)
		}, true, openOf, ""},
		{"over the phase limit", func(d *Document) {
			*d.Wiring.Inverter = *demoInverter(t, "demo-inv-12k")
			d.Site.RuleFamily, d.Wiring.SupplyPhases, d.Wiring.PhaseLimitA = "iec", 3, new(19.0)
		}, false, openOf, "19.1 A pass the 19 A"},
		// 1.25 x 32 A + 200 A = 240 A > 1.2 x 190 A = 228 A, and 226.25 A is not.
		{"who the busbar takes", func(d *Document) { d.Wiring.BusbarA = new(190.0) }, true,
			func(c CandidateBuild) string { return c.Wiring.InverterWords }, "1 can take all 12 modules: Invented 5 kW"},
		{"who three phases take", func(d *Document) { d.Wiring.SupplyPhases = 3 }, true,
			func(c CandidateBuild) string { return c.Wiring.InverterWords }, "5 can take all 12 modules"},
		{"loads of the other family", func(d *Document) { d.Site.RuleFamily = "iec" }, false, loadFindings, "Snow after ASCE 7 is typed and not used"},
		// 1.25 x 9 x 1.67 A = 18.8 A <= 20 A: 12 units take two branches of 6; 12 x
		// 1.67 A on one phase is 20.04 A.
		{"micro-inverters", func(d *Document) { d.Wiring.Kind, d.Wiring.Micro, d.Wiring.ModuleShutdown = WiringMicro, &micro, false }, true, openOf, ""},
		{"micro-inverters on a small breaker", func(d *Document) {
			d.Wiring.Kind, d.Wiring.Micro, d.Wiring.BranchBreakerA = WiringMicro, &micro, new(5.0)
		}, true, openOf, ""},
		// Optimisers hold 380 V; 5700 W / 400 W gives 14 at most.
		{"optimisers", func(d *Document) {
			d.Wiring.Kind, d.Wiring.Optimiser, d.Wiring.ModuleShutdown = WiringOptimiser, &optimiser, false
		}, true, openOf, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := workedShed(t)
			c.edit(&d)
			got := mustBuild(t, d).Candidates[0]
			if got.Wiring.Complete != c.complete {
				t.Errorf("complete: %t, open: %q", got.Wiring.Complete, got.Wiring.Open)
			}
			if text := c.get(got); !strings.Contains(text, c.says) || c.says == "" && text != "" {
				t.Errorf("says %q, want %q", text, c.says)
			}
		})
	}
}

// Gear for each module is counted by the modules that are wired.
func TestUnitsOfEachModule(t *testing.T) {
	micro, optimiser := catalog.DemoMicroInverters()[0], catalog.DemoOptimisers()[0]
	d := workedShed(t)
	d.Wiring.Kind, d.Wiring.Micro = WiringMicro, &micro
	c := mustBuild(t, d).Candidates[0]
	if n := quantityOf(c.Bill, "micro"); n != 12 || len(c.Wiring.Branches) != 2 || c.Wiring.PerBranch != 9 || !near(c.Wiring.AC.CurrentA, 12*1.67, 1e-9) {
		t.Errorf("%d micro-inverters on %d branches of at most %d, %g A", n, len(c.Wiring.Branches), c.Wiring.PerBranch, c.Wiring.AC.CurrentA)
	}
	if quantityOf(c.Bill, "inverter") != 0 || quantityOf(c.Bill, "rapid_shutdown") != 0 {
		t.Errorf("bill %+v", c.Bill.Total)
	}
	d.Wiring.Kind, d.Wiring.Optimiser = WiringOptimiser, &optimiser
	c = mustBuild(t, d).Candidates[0]
	if quantityOf(c.Bill, "optimiser") != 12 || quantityOf(c.Bill, "inverter") != 1 || quantityOf(c.Bill, "rapid_shutdown") != 0 || c.Wiring.Longest != 14 {
		t.Errorf("bill %+v, longest %d", c.Bill.Total, c.Wiring.Longest)
	}
	// 12 x 128 + 890 + 12 x 58 + 12 x 190 + 2600 = 8002.
	if *c.Cost.Total != 8002 {
		t.Errorf("cost %+v", c.Cost)
	}
}

// The flush rule needs room to the edges: twice the height above the roof.
func TestOutsideTheFlushRule(t *testing.T) {
	d := workedShed(t)
	wind := structural.DefaultFlushWind(structural.ASCE716, 45, 4, 7)
	d.Loads.TypedWind, d.Loads.FlushWind = nil, &wind
	c := mustBuild(t, d).Candidates[0]
	if c.Loads.Worst != LoadOutsideRule || c.Loads.Words != "12 modules outside the wind rule, engineer needed." {
		t.Errorf("%s: %s", c.Loads.Worst, c.Loads.Words)
	}
	wind.HeightAboveRoofM = 0.1
	c = mustBuild(t, d).Candidates[0]
	if p := c.Loads.Report.Planes[0]; p.OutsideRule || c.Loads.Worst == LoadOutsideRule {
		t.Errorf("%s: %+v", c.Loads.Words, p.Conditions)
	}
	zones := map[structural.Zone]bool{}
	for _, k := range c.Loads.Report.Planes[0].Cases {
		zones[k.Zone] = true
	}
	if !zones[structural.Zone3R] || !zones[structural.Zone3E] {
		t.Errorf("zones %v lack the corners", zones)
	}
}

func TestSavesAgainstTheMost(t *testing.T) {
	b := mustBuild(t, Demo())
	counts := []int{b.Candidates[0].Count, b.Candidates[1].Count, b.Candidates[2].Count}
	if slices.Max(counts) != counts[0] || counts[2] >= counts[0] {
		t.Fatalf("counts %v; A is wanted to have most", counts)
	}
	if b.Candidates[0].Bill.Saves != "" {
		t.Errorf("A saves %q against itself", b.Candidates[0].Bill.Saves)
	}
	want := plural(counts[0]-counts[2], "module") + ", "
	if s := b.Candidates[2].Bill.Saves; !strings.HasPrefix(s, want) || !strings.Contains(s, "fewer than A") || !strings.Contains(s, " W ") {
		t.Errorf("C saves %q", s)
	}
}

func TestBuildRefuses(t *testing.T) {
	d := workedShed(t)
	res, err := EvaluateWithin(t.Context(), d, layout.Drag)
	if err != nil {
		t.Fatal(err)
	}
	bad := d
	bad.Wiring.Place = "boat"
	if _, err := Build(t.Context(), bad, res, nil); !isProblem(err, "wiring.place") {
		t.Errorf("error %v, want a problem at wiring.place", err)
	}
	other := d
	other.Candidates = append(slices.Clone(d.Candidates), d.Candidates[0])
	other.Candidates[1].ID = "n"
	if _, err := Build(t.Context(), other, res, nil); err == nil || isProblem(err, "") {
		t.Errorf("error %v for a result of another document", err)
	}
	done, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Build(done, d, res, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want that of the context", err)
	}
	b, err := Build(t.Context(), d, res, nil)
	if err != nil || b.Candidates[0].Wiring.InverterWords != "The catalog has no inverters." {
		t.Errorf("%v: %q", err, b.Candidates[0].Wiring.InverterWords)
	}
}

// isProblem reports whether an error is Problems, one of them at the path if it
// is not "".
func isProblem(err error, path string) bool {
	ps, ok := errors.AsType[Problems](err)
	return ok && (path == "" || slices.ContainsFunc(ps, func(p Problem) bool { return p.Path == path }))
}
