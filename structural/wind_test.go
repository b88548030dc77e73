package structural

import (
	"math"
	"slices"
	"strings"
	"testing"
)

const mph = 0.44704 // m/s

// Every row of asce7_kz.csv: the table of 7-16 as printed, the formula of 7-22;
// testdata/README.md names the sources.
func TestKzMeetsEveryRow(t *testing.T) {
	rows := table(t, "asce7_kz.csv")
	if len(rows) != 7 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, row := range rows {
		for x, letter := range map[Exposure]string{ExposureB: "B", ExposureC: "C", ExposureD: "D"} {
			for e, c := range map[Edition]struct {
				column    string
				tolerance float64
			}{ASCE716: {"_7_16_table", 1e-9}, ASCE722: {"_7_22_formula", 0.00051}} {
				got, err := Kz(e, x, row["z_ft"]*0.3048)
				if err != nil {
					t.Error(err)
				}
				within(t, letter+c.column, got, row[letter+c.column], c.tolerance)
			}
		}
	}
}

func TestKzBetweenAndOutside(t *testing.T) {
	for _, c := range []struct{ heightM, want float64 }{{0, 0.85}, {3, 0.85}, {35 * 0.3048, 1.01}, {17.5 * 0.3048, 0.875}} {
		got, err := Kz(ASCE716, ExposureC, c.heightM)
		if err != nil {
			t.Error(err)
		}
		within(t, "Kz", got, c.want, 1e-9)
	}
	for _, h := range []float64{18.29, -1, math.NaN(), math.Inf(1)} {
		_, err := Kz(ASCE716, ExposureC, h)
		refuses(t, "height", err, "mean_roof_height_m")
	}
	_, err := Kz(ASCE716, "a", 5)
	refuses(t, "exposure", err, "exposure")
}

// ASCE 7 arithmetic: 115 mph, 15 ft, exposure C, Kd 0.85 is 24.46 psf = 1171 Pa.
// The constant 0.613 of the metric form is rounded, which gives 24.45.
func TestVelocityPressureExample(t *testing.T) {
	q := VelocityPressurePa(0.85, 1, 0.85, 1, 115*mph)
	within(t, "psf", q/psf, 24.46, 0.02)
	within(t, "Pa", q, 1171, 1)
}

func TestVelocityPressureOfARoof(t *testing.T) {
	w := DefaultFlushWind(ASCE716, 115*mph, 15*0.3048, 10)
	q, figures, err := w.velocityPressure()
	if err != nil {
		t.Fatal(err)
	}
	within(t, "C", q/psf, 24.46, 0.02)
	within(t, "shown", figure(t, figures, "velocity_pressure").Value, q, 0)
	w.Exposure = ExposureB
	q, _, _ = w.velocityPressure()
	within(t, "B raised to 0.70", q/psf, 24.46*0.70/0.85, 0.02)
	w.LowB070 = false
	q, _, _ = w.velocityPressure()
	within(t, "B as tabled", q/psf, 24.46*0.57/0.85, 0.02)
	w.HillKzt, w.ElevationKe = 1.5, 0.9
	q2, _, _ := w.velocityPressure()
	within(t, "hill and elevation", q2/q, 1.35, 1e-12)
}

// ASCE 7-16 Fig. 29.4-8: 0.8 to 10 ft2, 0.4 from 100 ft2 on, 0.68 at 20 ft2.
func TestPressureEqualisation(t *testing.T) {
	for _, c := range []struct{ ft2, want float64 }{{1, 0.8}, {10, 0.8}, {20, 0.68}, {100, 0.4}, {500, 0.4}} {
		got := PressureEqualisation(c.ft2 * 0.3048 * 0.3048)
		within(t, "gamma_a", got, c.want, 0.01)
		// ASCE 7-16 29.4.4: the product with the edge factor is 0.4 to 1.2.
		if got < 0.4 || got*exposedEdgeFactor > 1.2+1e-12 {
			t.Errorf("%g ft2: %g", c.ft2, got)
		}
	}
}

func TestFlushWindRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(*FlushWind)
		field string
	}{
		{"edition", func(w *FlushWind) { w.Edition = "7-05" }, "edition"},
		{"exposure", func(w *FlushWind) { w.Exposure = "" }, "exposure"},
		{"speed", func(w *FlushWind) { w.SpeedMPS = 121 }, "speed_mps"},
		{"not a number", func(w *FlushWind) { w.SpeedMPS = math.NaN() }, "speed_mps"},
		{"height", func(w *FlushWind) { w.MeanRoofHeightM = 0 }, "mean_roof_height_m"},
		{"width", func(w *FlushWind) { w.BuildingWidthM = 1 }, "building_width_m"},
		{"Kd", func(w *FlushWind) { w.DirectionKd = 0.8 }, "direction_kd"},
		{"Kzt", func(w *FlushWind) { w.HillKzt = 0.9 }, "hill_kzt"},
		{"Ke", func(w *FlushWind) { w.ElevationKe = 1.2 }, "elevation_ke"},
		{"tilt", func(w *FlushWind) { w.TiltToRoofDeg = -1 }, "tilt_to_roof_deg"},
		{"above roof", func(w *FlushWind) { w.HeightAboveRoofM = 4 }, "height_above_roof_m"},
		{"least", func(w *FlushWind) { w.LeastPa = -1 }, "least_pa"},
		{"zone", func(w *FlushWind) { w.GCp = []ZoneGCp{{"9", 1, 1}} }, "gcp"},
		{"zone twice", func(w *FlushWind) { w.GCp = []ZoneGCp{{Zone1, 1, 1}, {Zone1, 2, 1}} }, "gcp"},
		{"coefficient", func(w *FlushWind) { w.GCp = []ZoneGCp{{Zone1, -1, 1}} }, "gcp up of zone 1"},
	} {
		w := DefaultFlushWind(ASCE716, 50, 6, 10)
		c.edit(&w)
		refuses(t, c.name, w.Check(), c.field)
	}
	refuses(t, "typed", TypedWind{UpPa: -1}.Check(), "up_pa")
	refuses(t, "typed", TypedWind{DownPa: math.NaN()}.Check(), "down_pa")
}

// The zone widths of ASCE 7-16 Fig. 30.3-2, from memory; arithmetic.
func TestZoneWidth(t *testing.T) {
	for _, c := range []struct{ pitch, width, height, want float64 }{
		{20, 12, 6, 1.2}, // 10 % of the side
		{20, 30, 5, 2},   // 0.4 of the height
		{20, 8, 6, 0.9144},
		{20, 100, 5, 4}, // 4 % of the side
		{7, 12, 6, 3.6}, // flat: 0.6 of the height
		{7.01, 12, 6, 1.2},
	} {
		within(t, "width", ZoneWidthM(c.pitch, c.width, c.height), c.want, 1e-12)
	}
}

// gable is a plane of 10 x 5 m: eave below, ridge above, rakes at the sides.
func gable() []Edge { return outline(10, 5, Eave, Rake, Ridge, Rake) }

// outline is a rectangular plane; its edges from the bottom, then right, top, left.
func outline(w, h float64, kinds ...EdgeKind) []Edge {
	return []Edge{{0, 0, w, 0, kinds[0]}, {w, 0, w, h, kinds[1]}, {w, h, 0, h, kinds[2]}, {0, h, 0, 0, kinds[3]}}
}

// v
// 5 3r----2r----3r
//
//	2n     1    2n
//
// 0 3e----2e----3e   zone width 1 m
func TestZoneOfAModuleIsTheWorstItTouches(t *testing.T) {
	for _, c := range []struct {
		name  string
		m     Rect
		edges []Edge
		pitch float64
		zone  Zone
		nearM float64
	}{
		{"inside", Rect{4, 2, 1, 1}, gable(), 20, Zone1, 2 * math.Cos(20*degree)},
		{"just inside", Rect{1, 1.1, 1, 1}, gable(), 20, Zone1, 1},
		{"just touching", Rect{0.999, 1.1, 1, 1}, gable(), 20, Zone2N, 0.999},
		{"eave", Rect{4, 0.5, 1, 1}, gable(), 20, Zone2E, 0.5 * math.Cos(20*degree)},
		// 1.05 m up the slope of 20 degrees is 0.987 m in plan.
		{"in plan, not along the slope", Rect{4, 1.05, 1, 1}, gable(), 20, Zone2E, 1.05 * math.Cos(20*degree)},
		{"ridge", Rect{4, 3.5, 1, 1}, gable(), 20, Zone2R, 0.5 * math.Cos(20*degree)},
		{"eave corner", Rect{0.5, 0.5, 1, 1}, gable(), 20, Zone3E, 0.5 * math.Cos(20*degree)},
		{"ridge corner", Rect{8.5, 3.5, 1, 1}, gable(), 20, Zone3R, 0.5 * math.Cos(20*degree)},
		{"touching the edge", Rect{0, 2, 1, 1}, gable(), 20, Zone2N, 0},
		{"over the edge", Rect{-0.5, 2, 1, 1}, gable(), 20, Zone2N, 0},
		{"wall counts as side", Rect{0.5, 2, 1, 1}, outline(10, 5, Eave, Rake, Ridge, Wall), 20, Zone2N, 0.5},
		{"valley is no edge", Rect{0.5, 2, 1, 1}, outline(10, 5, Eave, Rake, Ridge, Valley), 20, Zone1, 2 * math.Cos(20*degree)},
		{"break is no edge", Rect{4, 3.5, 1, 1}, outline(10, 5, Eave, Rake, Break, Rake), 20, Zone1, 3.5 * math.Cos(20*degree)},
		{"hip", Rect{0.5, 2, 1, 1}, outline(10, 5, Eave, Rake, Ridge, Hip), 20, Zone2R, 0.5},
		{"hip at the eave", Rect{0.5, 0.5, 1, 1}, outline(10, 5, Eave, Rake, Ridge, Hip), 20, Zone3R, 0.5 * math.Cos(20*degree)},
		{"flat inside", Rect{4, 2, 1, 1}, outline(10, 5, Eave, Eave, Eave, Eave), 0, Zone1, 2},
		{"flat edge", Rect{0.5, 2, 1, 1}, outline(10, 5, Eave, Eave, Eave, Eave), 0, Zone2, 0.5},
		{"flat corner", Rect{0.5, 0.5, 1, 1}, outline(10, 5, Eave, Eave, Eave, Eave), 0, Zone3, 0.5},
		{"no edges", Rect{0.5, 0.5, 1, 1}, nil, 20, Zone1, math.Inf(1)},
	} {
		zone, nearM := zoneOf(c.m, c.edges, c.pitch, 1)
		if zone != c.zone || !(nearM == c.nearM || math.Abs(nearM-c.nearM) < 1e-9) {
			t.Errorf("%s: zone %s at %g m, want %s at %g m", c.name, zone, nearM, c.zone, c.nearM)
		}
	}
}

// A slow search over points judges the distance of rectangle and line.
func TestDistanceOfRectangleAndLine(t *testing.T) {
	r := Rect{0, 0, 2, 1}
	for _, c := range []struct {
		name                 string
		au, av, bu, bv, want float64
	}{
		{"through", -1, -1, 3, 2, 0},
		{"inside", 0.5, 0.5, 1, 0.6, 0},
		{"beside", 3, -5, 3, 5, 1},
		{"end beside", 3, 2, 5, 5, math.Sqrt2},
		{"corner to a slanted line", 1, 3, 3, 1, math.Sqrt2 / 2},
		{"a point", 2, 2, 2, 2, 1},
		{"along its side", 0, 1, 2, 1, 0},
		{"level, above", -5, 1.5, 5, 1.5, 0.5},
	} {
		got := r.distanceM(c.au, c.av, c.bu, c.bv)
		slow := math.Inf(1)
		const steps = 400
		for i := range steps + 1 {
			f := float64(i) / steps
			slow = min(slow, r.pointM(c.au+f*(c.bu-c.au), c.av+f*(c.bv-c.av)))
		}
		within(t, c.name, got, c.want, 1e-12)
		within(t, c.name+", slowly", got, slow, 0.02)
	}
}

func TestTableGCp(t *testing.T) {
	for _, c := range []struct {
		zone     Zone
		pitch    float64
		hips     bool
		up, down float64
		ok       bool
	}{
		{Zone1, 5, false, 1.7, 0.3, true}, {Zone3, 7, false, 3.2, 0.3, true}, {Zone2E, 20, false, 2.0, 0.7, true},
		{Zone2E, 20, true, 3.0, 0.7, true}, {Zone3R, 20, false, 3.6, 0.7, true}, {Zone1, 30, false, 1.8, 0.9, true},
		{Zone1, 45, false, 1.8, 0.9, true}, {Zone1, 45.1, false, 0, 0, false}, {Zone2, 20, false, 0, 0, false},
		{Zone2E, 5, false, 0, 0, false}, {"9", 20, false, 0, 0, false}, {Zone1, math.NaN(), false, 0, 0, false},
	} {
		g, ok := TableGCp(c.zone, c.pitch, c.hips)
		if ok != c.ok || g.Up != c.up || g.Down != c.down {
			t.Errorf("zone %s at %g deg, hips %v: %+v, %v", c.zone, c.pitch, c.hips, g, ok)
		}
	}
	// A worse zone never has less suction, and every zone that a pitch can have
	// is in the table up to 45 degrees.
	for pitch := 0.0; pitch <= 45; pitch += 0.5 {
		order := []Zone{Zone1, Zone2E, Zone2N, Zone3E, Zone3R}
		if pitch <= 7 {
			order = []Zone{Zone1, Zone2, Zone3}
		}
		last := 0.0
		for _, z := range order {
			g, ok := TableGCp(z, pitch, false)
			if !ok || g.Up < last {
				t.Errorf("zone %s at %g deg: %+v, %v", z, pitch, g, ok)
			}
			last = g.Up
		}
	}
}

// grid is modules of w x h, gap apart, from a corner.
func grid(columns, rows int, u, v, w, h, gapM float64) []Rect {
	var out []Rect
	for j := range rows {
		for i := range columns {
			out = append(out, Rect{u + float64(i)*(w+gapM), v + float64(j)*(h+gapM), w, h})
		}
	}
	return out
}

func TestExposedModules(t *testing.T) {
	for _, c := range []struct {
		name    string
		modules []Rect
		want    string // x exposed, . not
	}{
		{"one", grid(1, 1, 0, 0, 1, 1.7, 0.02), "x"},
		{"five by five: the second is within 1.5 sides", grid(5, 5, 0, 0, 1, 1.7, 0.02), "xxxxxxxxxxxx.xxxxxxxxxxxx"},
		{"two blocks 1 m apart face each other", append(grid(3, 5, 0, 0, 1, 1, 0), grid(3, 5, 4, 0, 1, 1, 0)...), "xxxxxxxx.xxxxxx" + "xxxxxx.xxxxxxxx"},
		{"a missing module 1 m wide opens nothing", slices.Delete(grid(7, 7, 0, 0, 1, 1, 0), 24, 25), "xxxxxxx" + "xxxxxxx" + "xx...xx" + "xx..xx" + "xx...xx" + "xxxxxxx" + "xxxxxxx"},
		{"a missing module 1.3 m wide does", slices.Delete(grid(7, 7, 0, 0, 1.3, 1.3, 0), 24, 25), "xxxxxxx" + "xxxxxxx" + "xx.x.xx" + "xxxxxx" + "xx.x.xx" + "xxxxxxx" + "xxxxxxx"},
	} {
		var got strings.Builder
		for _, e := range exposed(c.modules, exposedReachM) {
			got.WriteByte(map[bool]byte{true: 'x', false: '.'}[e])
		}
		if got.String() != c.want {
			t.Errorf("%s: %s, want %s", c.name, got.String(), c.want)
		}
	}
}

func TestLeastGap(t *testing.T) {
	for _, c := range []struct {
		name    string
		modules []Rect
		want    float64
	}{
		{"one", grid(1, 1, 0, 0, 1, 1, 0), math.Inf(1)},
		{"row", grid(3, 1, 0, 0, 1, 1, 0.02), 0.02},
		{"rows closer", append(grid(2, 1, 0, 0, 1, 1, 0.02), Rect{0.5, 1.005, 1, 1}), 0.005},
		{"only a corner", []Rect{{0, 0, 1, 1}, {1, 1, 1, 1}}, math.Inf(1)},
		{"touching", grid(2, 1, 0, 0, 1, 1, 0), 0},
	} {
		if got := leastGapM(c.modules); !(got == c.want || math.Abs(got-c.want) < 1e-12) {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
}

// On a plane with a hip the eave zone has the suction of an edge, 2.5 for 1.8.
func TestEaveBelowAHip(t *testing.T) {
	at := func(kind EdgeKind) float64 {
		out := mustCheck(t, request(func(r *LoadRequest) {
			r.Planes[0].Edges = outline(12, 6, Eave, kind, Ridge, Rake)
			r.Planes[0].Modules = grid(1, 1, 5, 0.5, 1, 1.7, 0.02)
		}))
		c := out.Planes[0].Cases[0]
		if c.Zone != Zone2E {
			t.Fatalf("zone %s", c.Zone)
		}
		return *c.WindUpPa
	}
	within(t, "ratio", at(Hip)/at(Rake), 2.5/1.8, 1e-12)
}
