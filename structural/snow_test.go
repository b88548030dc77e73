package structural

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

const psf = 47.88026 // pascals

// table reads a CSV file of testdata: one map of column to number a row.
func table(t *testing.T, name string) []map[string]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(rows), err)
	}
	var out []map[string]float64
	for _, row := range rows[1:] {
		m := map[string]float64{}
		for i, cell := range row {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				t.Fatalf("%s %s: %v", name, rows[0][i], err)
			}
			m[rows[0][i]] = v
		}
		out = append(out, m)
	}
	return out
}

// within fails the test unless got is within tolerance of want.
func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.6g, want %.6g within %g", what, got, want, tolerance)
	}
}

// figure returns one figure by its key.
func figure(t *testing.T, figures []Figure, key string) Figure {
	t.Helper()
	for _, f := range figures {
		if f.Key == key {
			return f
		}
	}
	t.Fatalf("no figure %s in %+v", key, figures)
	return Figure{}
}

// refuses fails the test unless err is an InputError of the field.
func refuses(t *testing.T, what string, err error, field string) {
	t.Helper()
	if bad, ok := errors.AsType[*InputError](err); !ok || bad.Field != field {
		t.Errorf("%s: error %v, want one of %s", what, err, field)
	}
}

// Every row of asce7_cs.csv; testdata/README.md names the source.
func TestSlopeFactorMeetsEveryRow(t *testing.T) {
	rows := table(t, "asce7_cs.csv")
	if len(rows) != 19 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, row := range rows {
		for _, c := range []struct {
			column   string
			curve    Curve
			slippery bool
		}{
			{"warm_slippery", WarmRoof, true}, {"warm_other", WarmRoof, false}, {"ct1.1_slippery", CoolRoof, true},
			{"ct1.1_other", CoolRoof, false}, {"cold_slippery", ColdRoof, true}, {"cold_other", ColdRoof, false},
		} {
			within(t, c.column, SlopeFactor(c.curve, c.slippery, row["slope_deg"]), row[c.column], 1e-4)
		}
	}
}

// Worked in a public copy of ASCE 7: heated shingle roof of 3.6:12, ground snow
// 23.284 psf, flat and sloped snow 16.30 psf, Cs 1.
func TestShingleRoof(t *testing.T) {
	s := DefaultASCESnow(ASCE716, 23.284*psf)
	s.ThermalCt, s.Curve = 1, WarmRoof
	if err := s.Check(); err != nil {
		t.Fatal(err)
	}
	on := s.on(math.Atan(3.6/12) / degree)
	within(t, "pf", s.FlatPa()/psf, 16.30, 0.01)
	within(t, "ps", on.pa/psf, 16.30, 0.01)
	within(t, "pf shown", figure(t, on.figures, "snow_flat").Value/psf, 16.30, 0.01)
	within(t, "Cs", figure(t, on.figures, "snow_slope_factor").Value, 1, 0)
}

// Arithmetic on the formulas; the low-slope minimum is from memory.
func TestASCESnowOnARoof(t *testing.T) {
	for _, c := range []struct {
		name     string
		edit     func(*ASCESnow)
		pitchDeg float64
		want     float64
	}{
		// 0.7 x 1.2 x 2000 = 1680
		{"cold default", func(*ASCESnow) {}, 30, 1680},
		{"cold past 45", func(*ASCESnow) {}, 60, 672},
		{"cold past 70", func(*ASCESnow) {}, 72, 0},
		{"all factors", func(s *ASCESnow) { s.ExposureCe, s.ImportanceIs = 1.1, 1.2 }, 30, 2217.6},
		{"extra", func(s *ASCESnow) { s.ExtraPa = 500 }, 60, 1172},
		{"cold slippery at 42.5: half", func(s *ASCESnow) { s.Slippery = true }, 42.5, 840},
		{"warm slippery without insulation", func(s *ASCESnow) { s.Slippery, s.Curve, s.ThermalCt = true, WarmRoof, 1 }, 30, 1400},
		{"warm slippery, R 30", func(s *ASCESnow) { s.Slippery, s.Curve, s.ThermalCt, s.RoofRM2KPerW = true, WarmRoof, 1, 5.28 }, 37.5, 700},
		{"warm slippery, R 20 unventilated", func(s *ASCESnow) { s.Slippery, s.Curve, s.ThermalCt, s.RoofRM2KPerW = true, WarmRoof, 1, 3.52 }, 37.5, 1137.5},
		{"warm slippery, R 20 ventilated", func(s *ASCESnow) {
			s.Slippery, s.Curve, s.ThermalCt, s.RoofRM2KPerW, s.Ventilated = true, WarmRoof, 1, 3.52, true
		}, 37.5, 700},
		// The least load takes the place of 0.7 x 1.2 x 900 = 756 under 15 degrees.
		{"low slope", func(s *ASCESnow) { s.GroundPa = 900 }, 14.9, 900},
		{"low slope, deep snow", func(s *ASCESnow) {}, 10, 1680},
		{"15 degrees", func(s *ASCESnow) { s.GroundPa = 900 }, 15, 756},
		{"low slope, capped", func(s *ASCESnow) { s.GroundPa, s.ThermalCt, s.Curve = 1100, 1, WarmRoof }, 5, 957.6},
		{"low slope 7-22", func(s *ASCESnow) { *s = DefaultASCESnow(ASCE722, 1400) }, 5, 1400},
	} {
		s := DefaultASCESnow(ASCE716, 2000)
		c.edit(&s)
		if err := s.Check(); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		within(t, c.name, s.on(c.pitchDeg).pa, c.want, 1e-9)
	}
}

func TestASCESnowRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(*ASCESnow)
		field string
	}{
		{"edition", func(s *ASCESnow) { s.Edition = "" }, "edition"},
		{"ground", func(s *ASCESnow) { s.GroundPa = -1 }, "ground_pa"},
		{"not a number", func(s *ASCESnow) { s.GroundPa = math.NaN() }, "ground_pa"},
		{"Ce", func(s *ASCESnow) { s.ExposureCe = 0 }, "exposure_ce"},
		{"Ct", func(s *ASCESnow) { s.ThermalCt = 1.31 }, "thermal_ct"},
		{"Is", func(s *ASCESnow) { s.ImportanceIs = 0.7 }, "importance_is"},
		{"Is in 7-22", func(s *ASCESnow) { s.Edition, s.ImportanceIs = ASCE722, 1.1 }, "importance_is"},
		{"warm curve, cold roof", func(s *ASCESnow) { s.Curve = WarmRoof }, "curve"},
		{"cool curve, cold roof", func(s *ASCESnow) { s.Curve = CoolRoof }, "curve"},
		{"warm curve, cool roof", func(s *ASCESnow) { s.Curve, s.ThermalCt = WarmRoof, 1.1 }, "curve"},
		{"curve", func(s *ASCESnow) { s.Curve = "hot" }, "curve"},
		{"R", func(s *ASCESnow) { s.RoofRM2KPerW = 21 }, "roof_r_m2k_per_w"},
		{"cap", func(s *ASCESnow) { s.LowSlopeCapPa = math.Inf(1) }, "low_slope_cap_pa"},
		{"extra", func(s *ASCESnow) { s.ExtraPa = -5 }, "extra_pa"},
	} {
		s := DefaultASCESnow(ASCE716, 2000)
		c.edit(&s)
		refuses(t, c.name, s.Check(), c.field)
	}
}

// EN 1991-1-3 Table 5.2 for undrifted snow; above 30 degrees from memory.
func TestMu1(t *testing.T) {
	for _, c := range []struct {
		pitchDeg float64
		guards   bool
		want     float64
	}{{0, false, 0.8}, {30, false, 0.8}, {45, false, 0.4}, {60, false, 0}, {75, false, 0}, {60, true, 0.8}, {37.5, false, 0.6}} {
		within(t, "mu1", Mu1(c.pitchDeg, c.guards), c.want, 1e-12)
	}
}

// Steel Buildings in Europe, single-storey part 3, appendix A (2009): sk 0.65
// kN/m2, slopes 8.5 and 5.7 degrees, Ce = Ct = 1 gives 0.52 undrifted, 0.26
// drifted; exceptional 1.30 on the ground and 1.04 on the roof.
func TestEurocodeExample(t *testing.T) {
	s := DefaultENSnow(650)
	s.Exceptional = true
	if err := s.Check(); err != nil {
		t.Fatal(err)
	}
	for _, pitch := range []float64{8.5, 5.7} {
		on := s.on(pitch)
		for key, want := range map[string]float64{"snow_sloped": 520, "snow_drifted": 260, "snow_exceptional_ground": 1300, "snow_exceptional": 1040} {
			within(t, key, figure(t, on.figures, key).Value, want, 1e-9)
		}
		within(t, "undrifted governs", on.pa, 520, 1e-9)
		within(t, "exceptional", on.exceptional, 1040, 1e-9)
	}
	s.ExtraPa = 100
	within(t, "with extra", s.on(5.7).pa, 620, 1e-9)
}

func TestENSnowRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(*ENSnow)
		field string
	}{
		{"ground", func(s *ENSnow) { s.GroundPa = 30001 }, "ground_pa"},
		{"Ce", func(s *ENSnow) { s.ExposureCe = 0.7 }, "exposure_ce"},
		{"Ct", func(s *ENSnow) { s.ThermalCt = math.NaN() }, "thermal_ct"},
		{"exceptional", func(s *ENSnow) { s.ExceptionalFactor = 0 }, "exceptional_factor"},
		{"psi0", func(s *ENSnow) { s.Psi0 = 1.1 }, "psi0"},
		{"extra", func(s *ENSnow) { s.ExtraPa = -1 }, "extra_pa"},
	} {
		s := DefaultENSnow(650)
		c.edit(&s)
		refuses(t, c.name, s.Check(), c.field)
	}
}
