package energy

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func simulate(t testing.TB, in Input) Result {
	t.Helper()
	r, err := Simulate(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// mildYear is a year of an invented mild climate.
func mildYear(t testing.TB) *YearOfSun {
	t.Helper()
	y, err := SyntheticYear(Site{LatDeg: 42.37, LonDeg: -71.02, UTCOffsetH: -5}, means())
	if err != nil {
		t.Fatal(err)
	}
	sun, err := NewYearOfSun(y)
	if err != nil {
		t.Fatal(err)
	}
	return sun
}

// A lone module in the open is the product of its parts, hour by hour, worked
// out here without the simulation.
func TestOnePlaneIsTheProductOfItsParts(t *testing.T) {
	sun := mildYear(t)
	m := ModuleModel{PmaxW: 400, GammaPctPerK: -0.35, LowLight: 0.97, FirstYearLossPct: 2}
	surface := Surface{30, 200}
	in := OnePlane(sun, surface, OpenRack, m)
	r := simulate(t, in)
	pass := newDiffusePass(in.Options.Glass, surface)
	var poa, ac float64
	for _, h := range sun.Year().Hours {
		place := SunAt(h.MidUnixS, 42.37, -71.02)
		p := Transpose(Perez, surface, Light{Toward: place.Toward, GHIWM2: h.GHIWM2, DNIWM2: h.DNIWM2, DHIWM2: h.DHIWM2,
			ExtraWM2: ExtraterrestrialWM2(dayOfYear(h.MidUnixS)), Albedo: 0.2})
		poa += p.Total() / 1000
		g := (p.Beam+p.Circumsolar)*in.Options.Glass.Pass(surface.Normal().dot(place.Toward)) +
			p.Dome*pass.dome + p.HorizonBand*pass.horizon + p.Ground*pass.ground
		cell := h.AirC + p.Total()/(25+6.84*h.WindMS)
		dc := m.PowerW(g, cell) * 0.98 * (1 - CombinedPct(2, 0, 0, 1, 1.5)/100)
		ac += min(400/GenericDCOverAC, dc*0.96) * 0.995 * 0.995 / 1000
	}
	near(t, "POA", r.Total.POAYear, poa, 1e-6*poa)
	near(t, "AC", r.Total.ACYear, ac, 1e-6*ac)
	near(t, "access", r.Modules[0].Access, 1, 1e-12)
	near(t, "performance ratio", r.Total.PerformanceRatio, ac/(poa*0.4), 1e-6)
	near(t, "kWh per kW", r.Total.KWhPerKW, ac/0.4, 1e-6*ac)
	ten := r.Total.Scaled(10)
	near(t, "ten times", ten.ACYear, 10*ac, 1e-5*ac)
	near(t, "ten times, ratio", ten.PerformanceRatio, r.Total.PerformanceRatio, 0)
}

// What goes in and comes out adds up, however it is cut.
func TestSimulateAddsUp(t *testing.T) {
	in := houseInput(t, 4, 24, 8)
	in.Groups = []Group{{ID: "a", EfficiencyPct: 96, LimitW: 2000}, {ID: "b", EfficiencyPct: 97, LimitW: 290, PerModule: true}}
	for i := range in.Scene.Modules {
		if in.Scene.Modules[i].Plane >= 2 {
			in.Scene.Modules[i].Group, in.Scene.Modules[i].String = 1, 0
		}
	}
	in.Losses[1].MonthlyPct = [12]float64{20, 15, 5, 0, 0, 0, 0, 0, 0, 0, 2, 15}
	in.WantHours = true
	r := simulate(t, in)
	var planes, modules, groups, hours float64
	for _, p := range r.Planes {
		planes += p.ACYear
	}
	for _, m := range r.Modules {
		modules += m.ACKWh
	}
	for _, g := range r.Groups {
		groups += g.ACYear
	}
	for _, w := range r.Hours.ACW {
		hours += w / 1000
	}
	want := r.Total.ACYear
	for name, got := range map[string]float64{"planes": planes, "modules": modules, "groups": groups, "hours": hours, "chain": r.Chain[len(r.Chain)-1].KWh} {
		near(t, name, got, want, 1e-6*want)
	}
	near(t, "chain starts with the light", r.Chain[0].KWh, r.Total.POAYear*r.Total.KWp, 1e-6*want)
	left := r.Chain[0].KWh
	for _, s := range r.Chain {
		near(t, s.ID, s.KWh, left*(1-s.LossPct/100), 1e-6*want)
		left = s.KWh
	}
	if r.Groups[0].ClippedKWh <= 0 || r.Groups[1].ClippedKWh <= 0 {
		t.Errorf("nothing was clipped: %+v", r.Groups)
	}
	for i, w := range r.Hours.ACW {
		if w > 2000+12*290 {
			t.Fatalf("hour %d: %g W is over both limits", i, w)
		}
	}
	var poa float64
	for _, w := range r.Hours.POAWM2[0] {
		poa += w / 1000
	}
	near(t, "hours of plane 0", poa, r.Planes[0].POAYear, 1e-6*poa)
}

func TestSimulateIsTheSameTwice(t *testing.T) {
	in := houseInput(t, 4, 12, 8)
	a, b := simulate(t, in), simulate(t, in)
	if fmt.Sprintf("%v", a) != fmt.Sprintf("%v", b) {
		t.Error("two runs differ")
	}
}

// More in the way never yields more; nor does less horizon yield less.
func TestMoreShadeNeverYieldsMore(t *testing.T) {
	base := houseInput(t, 4, 12, 0)
	full := house(4, 12, 8).Obstructions
	last := simulate(t, base)
	open := last.Total.ACYear
	for n := 1; n <= len(full); n++ {
		in := base
		in.Scene.Obstructions = full[:n]
		r := simulate(t, in)
		for i := range r.Modules {
			if r.Modules[i].POAYear > last.Modules[i].POAYear+1e-9 {
				t.Errorf("obstruction %d gives module %d light", n, i)
			}
		}
		if r.Total.ACYear > last.Total.ACYear*(1+1e-4) {
			t.Errorf("obstruction %d gives %g kWh after %g", n, r.Total.ACYear, last.Total.ACYear)
		}
		last = r
	}
	if last.Total.ACYear > 0.97*open {
		t.Errorf("eight obstructions cost %g of %g: hardly anything was tested", open-last.Total.ACYear, open)
	}
	in := base
	for _, e := range []float64{0, 5, 15, 40} {
		in.Scene.Horizon = Horizon{{90, e}, {270, e}}
		r := simulate(t, in)
		if r.Total.ACYear > open+1e-9 {
			t.Errorf("a horizon of %g gives %g after %g", e, r.Total.ACYear, open)
		}
		open = r.Total.ACYear
	}
}

// Module-level electronics lose no more to shade than a string does.
func TestStandingAloneLosesLess(t *testing.T) {
	in := houseInput(t, 4, 24, 8)
	strings := simulate(t, in)
	for i := range in.Scene.Modules {
		in.Scene.Modules[i].String = 0
	}
	alone := simulate(t, in)
	if alone.Total.ACYear <= strings.Total.ACYear {
		t.Errorf("alone %g, in strings %g", alone.Total.ACYear, strings.Total.ACYear)
	}
	in.Module.Substrings = 1
	one := simulate(t, in)
	if one.Total.ACYear > alone.Total.ACYear {
		t.Errorf("one bypass diode gives %g, three %g", one.Total.ACYear, alone.Total.ACYear)
	}
}

// A wall that shades the lowest row of cells: a half-cut module upright keeps
// its upper half, a full-cell one upright loses all its strings, and one lying
// loses one in three. Sun square from the south; arithmetic of substrings.
func TestSubstringsTurnWithTheModule(t *testing.T) {
	run := func(m ModuleModel, width, height float64) float64 {
		r := &run{in: Input{Module: m}}
		table := newShadeTable(&planeShade{rects: []box{{0, 0, width, height}}}, [][]box{m.regions(box{0, 0, width, height})}, m.cellsPerRegion(), 0)
		wall := box{-1, -1, width + 1, 0.1 * min(width, height)}
		ring := wall.ring()
		row := make([]leafPair, table.stride)
		shadows := []shadow{{ring: ring[:], box: wall}}
		c := coverOf(table.plane.rects[0], shadows, &table.work)
		row[0] = c.blocked
		table.fillRegions(row[1:], 0, c, shadows)
		shaded := make([]float64, table.stride)
		for i := range row {
			shaded[i] = row[i].on
		}
		r.planes = []planeRun{{shade: table, shaded: shaded, anyDark: true}}
		subs := r.appendSubstrings(nil, &moduleRun{beamGlass: 900, restGlass: 100, perWM2: 0.4})
		w := stringPower(slices.Clone(subs))
		return w / 400
	}
	full, half := ModuleModel{}, ModuleModel{HalfCut: true}
	near(t, "full cells, upright", run(full, 1, 1.7), 0.1, 0.02)
	near(t, "full cells, lying", run(full, 1.7, 1), 0.667, 0.03)
	near(t, "half-cut, upright", run(half, 1, 1.7), 0.55, 0.02)
	near(t, "half-cut, lying", run(half, 1.7, 1), 0.667, 0.03)
}

func TestInputCheck(t *testing.T) {
	for _, c := range []struct {
		want string
		edit func(*Input)
	}{
		{"field Year is missing", func(in *Input) { in.Year = nil }},
		{"Module.PmaxW: 0 is outside 1 to 2000", func(in *Input) { in.Module.PmaxW = 0 }},
		{"Options.Albedo: 2 is outside 0 to 1", func(in *Input) { in.Options.Albedo = 2 }},
		{`Options.Sky: "" is none of [perez isotropic hay_davies]`, func(in *Input) { in.Options.Sky = "" }},
		{"Groups[0].EfficiencyPct: 0.96 is outside 50 to 100", func(in *Input) { in.Groups[0].EfficiencyPct = 0.96 }},
		{"Modules[0].Group: 3 is outside 0 to 0", func(in *Input) { in.Scene.Modules[0].Group = 3 }},
		{"Modules[0].Group: 0 is outside 0 to -1", func(in *Input) { in.Groups = nil }},
		{"Losses[2].MonthlyPct[1]: 101 is outside -10 to 100", func(in *Input) { in.Losses[2].MonthlyPct[1] = 101 }},
		{`Losses[3].ID: "soiling" stands twice`, func(in *Input) { in.Losses[3].ID = "soiling" }},
		{"Losses[0].ID: is empty", func(in *Input) { in.Losses[0].ID = "" }},
		{`Losses[0].Side: "x" is none of [dc ac]`, func(in *Input) { in.Losses[0].Side = "x" }},
		{"Modules[4].Group: is 1, but string 1 has modules in group 0; a string has one inverter", func(in *Input) {
			in.Groups = append(in.Groups, in.Groups[0])
			in.Scene.Modules[4].Group = 1
		}},
	} {
		in := houseInput(t, 4, 8, 4)
		c.edit(&in)
		if _, err := Simulate(context.Background(), in); err == nil || err.Error() != c.want {
			t.Errorf("%v, want %s", err, c.want)
		}
	}
}

func TestSimulateStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Simulate(ctx, houseInput(t, 1, 1, 0)); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	in := houseInput(t, 1, 1, 0)
	if _, err := Irradiate(ctx, in.Year, in.Scene, in.Options); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// Under a sky without beam an even horizon of 30 degrees leaves a level module
// cos^2 30 = 0.75 of its light, before the glass and after it (integral).
func TestSkyViewScalesTheDiffuse(t *testing.T) {
	y := mildYear(t).Year()
	y.Hours = append([]Hour{}, y.Hours...)
	for i := range y.Hours {
		y.Hours[i].DNIWM2, y.Hours[i].GHIWM2 = 0, y.Hours[i].DHIWM2
	}
	sun, err := NewYearOfSun(y)
	if err != nil {
		t.Fatal(err)
	}
	in := OnePlane(sun, Surface{0, 180}, FlatRoof, ModuleModel{PmaxW: 400})
	in.Options.Sky = Isotropic
	open := simulate(t, in)
	in.Scene.Horizon = Horizon{{0, 30}}
	r := simulate(t, in)
	near(t, "sky view", r.Modules[0].SkyView, 0.75, 0.003)
	near(t, "access", r.Modules[0].Access, 0.75, 0.003)
	for i, id := range map[int]string{1: "shade", 2: "glass"} {
		if r.Chain[i].ID != id {
			t.Fatalf("step %d is %s", i, r.Chain[i].ID)
		}
		near(t, id, r.Chain[i].KWh/open.Chain[i].KWh, 0.75, 0.003)
	}
}

// The ground's light on a tilted plane is GHI x albedo x (1 - cos pitch) / 2:
// twice the albedo, twice the light (arithmetic). A file's albedo counts only
// when asked for, and only in the hours that have one.
func TestAlbedo(t *testing.T) {
	y := mildYear(t).Year()
	y.Hours = append([]Hour{}, y.Hours...)
	for i := range y.Hours {
		y.Hours[i].Albedo = 0.4
	}
	sun, err := NewYearOfSun(y)
	if err != nil {
		t.Fatal(err)
	}
	in := OnePlane(sun, Surface{90, 180}, Facade, ModuleModel{PmaxW: 400})
	poa := func(albedo float64, file bool) float64 {
		in.Options.Albedo, in.Options.FileAlbedo = albedo, file
		return simulate(t, in).Total.POAYear
	}
	ground := poa(0.2, false) - poa(0, false)
	var ghi float64
	for _, h := range y.Hours {
		ghi += h.GHIWM2 / 1000
	}
	near(t, "ground", ground, ghi*0.2/2, 1e-6*ghi)
	near(t, "twice", poa(0.4, false)-poa(0, false), 2*ground, 1e-6*ghi)
	near(t, "from the file", poa(0.2, true), poa(0.4, false), 1e-6*ghi)
}

func TestSimulateWithoutModules(t *testing.T) {
	in := houseInput(t, 2, 2, 2)
	in.Scene.Modules = nil
	r := simulate(t, in)
	if r.Total.KWp != 0 || r.Total.ACYear != 0 || r.Total.PerformanceRatio != 0 || r.Planes[0].POAYear < 500 {
		t.Errorf("%+v", r.Total)
	}
}

func TestWorths(t *testing.T) {
	in := houseInput(t, 1, 6, 0)
	in.Scene.Obstructions = []Obstruction{
		{ID: "far", Kind: Prism, TopM: 3, Footprint: [][2]float64{{50, 50}, {51, 50}, {51, 51}, {50, 51}}},
		{ID: "tree", Kind: Tree, Crown: RoundCrown, CenterX: -5, CenterY: -8, RadiusM: 3, BaseM: 2, TopM: 12, LeafOnPass: 0.2, LeafOffPass: 0.6},
		{ID: "own", Kind: RoofPart, PlaneID: "plane-0", TopsM: []float64{3, 3, 6}, Footprint: [][2]float64{{0, 0}, {1, 0}, {0, 1}}},
	}
	calls := 0
	w, err := Worths(context.Background(), in, 6, func(done, all int) {
		calls++
		if all != 3 || done != calls {
			t.Errorf("progress %d of %d", done, all)
		}
	})
	if err != nil || len(w) != 2 || calls != 3 {
		t.Fatalf("%+v %v, %d calls", w, err, calls)
	}
	near(t, "far away", w[0].RemovedKWh, 0, 1e-9)
	felled, err := Worths(context.Background(), in, 1.5, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cut below its crown", felled[1].TrimmedKWh, w[1].RemovedKWh, 1e-9)
	if !(w[1].RemovedKWh > w[1].TrimmedKWh && w[1].TrimmedKWh > 0) {
		t.Errorf("%+v", w[1])
	}
}

// Whatever stands around, results are finite and within their ranges.
func TestSimulateProperties(t *testing.T) {
	sun := mildYear(t)
	rapid.Check(t, func(t *rapid.T) {
		in := Input{Year: sun, Scene: drawScene(t), Options: DefaultOptions(), Losses: DefaultLosses(),
			Module: ModuleModel{PmaxW: 400, GammaPctPerK: -0.4, HalfCut: rapid.Bool().Draw(t, "half-cut")},
			Groups: []Group{{EfficiencyPct: 96}}}
		for i := range in.Scene.Modules {
			in.Scene.Modules[i].String = rapid.IntRange(0, 1).Draw(t, "string")
		}
		r, err := Simulate(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range r.Modules {
			if !(m.Access >= 0 && m.Access <= 1+1e-9 && m.SkyView >= 0 && m.SkyView <= 1+1e-9 && m.ACKWh >= 0) {
				t.Fatalf("%+v", m)
			}
		}
		if pr := r.Total.PerformanceRatio; !(pr >= 0 && pr < 1) {
			t.Fatalf("performance ratio %g", pr)
		}
		for _, s := range r.Chain {
			if math.IsNaN(s.KWh) || s.KWh < 0 {
				t.Fatalf("%+v", s)
			}
		}
	})
}
