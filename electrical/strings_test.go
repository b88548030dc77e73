package electrical

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// input is a sound one; a test changes what it is about.
func input(edit func(*StringInput)) StringInput {
	in := StringInput{
		VocV: 49.5, VmpV: 41, BetaVocPctPerK: -0.27, GammaPmaxPctPerK: -0.35,
		ColdC: -10, HotCellC: 70, LimitV: 600, MPPTMinV: 90, MPPTMaxV: 560,
	}
	if edit != nil {
		edit(&in)
	}
	return in
}

func mustRange(t *testing.T, in StringInput) StringRange {
	t.Helper()
	r, err := Range(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Every row of NEC Table 690.7(A), at both ends of its band and half a degree
// below its warm end; testdata/README.md names the source.
func TestTableFactorMeetsEveryRow(t *testing.T) {
	file, err := os.Open("testdata/nec690_7.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil || len(rows) != 14 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for _, row := range rows[1:] {
		var v [3]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		for _, c := range []float64{v[0], v[1], v[0] - 0.5} {
			if got, err := TableFactor(c); err != nil || got != v[2] {
				t.Errorf("%g C: %g, %v; want %g", c, got, err, v[2])
			}
		}
	}
}

// Between two bands the colder one counts; outside the table there is no factor.
func TestTableFactorEdges(t *testing.T) {
	for _, c := range []struct{ cold, want float64 }{{24, 1.02}, {23.9, 1.02}, {19.9, 1.04}, {-0.1, 1.12}, {-39.9, 1.25}} {
		if got, err := TableFactor(c.cold); err != nil || got != c.want {
			t.Errorf("%g C: %g, %v; want %g", c.cold, got, err, c.want)
		}
	}
	for _, c := range []float64{25, 24.1, -40.1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got, err := TableFactor(c); err == nil {
			t.Errorf("%g C: %g, want an error", c, got)
		}
	}
}

// Constructed arithmetic of NEC 690.7(A)(1), no published example: 49.5 V,
// -0.27 %/K, -10 C gives 1.0945, and 14 in series 758.5 V, over 600.
func TestCoefficientMethod(t *testing.T) {
	r := mustRange(t, input(nil))
	if r.Method != ByCoefficient || math.Abs(r.ColdFactor-1.0945) > 1e-12 || math.Abs(14*r.VocColdV-758.5) > 0.1 {
		t.Errorf("%+v", r)
	}
	if r.Works(14) || !r.Works(11) || r.Longest != 11 {
		t.Errorf("longest %d; 14 is over 600 V, 11 are 595.96 V", r.Longest)
	}
}

// Constructed from the table, no published example: 40.0 V, -10 C, 600 V gives
// 45.6 V each; 13 modules are 592.8 V, 14 are over.
func TestTableMethod(t *testing.T) {
	r := mustRange(t, input(func(in *StringInput) { in.VocV, in.VmpV, in.BetaVocPctPerK = 40, 33, 0 }))
	if r.Method != ByTable || math.Abs(r.VocColdV-45.6) > 1e-9 || r.Longest != 13 || math.Abs(13*r.VocColdV-592.8) > 1e-9 {
		t.Errorf("%+v", r)
	}
}

// Arithmetic: the limits may be met exactly.
func TestEqualityIsAllowed(t *testing.T) {
	for _, c := range []struct {
		name              string
		edit              func(*StringInput)
		longest, shortest int
	}{
		// 40 V x 1.25 = 50 V; 12 are 600 V.
		{"cold voltage equals the limit", func(in *StringInput) { in.VocV, in.BetaVocPctPerK, in.ColdC = 40, 0, -40; in.VmpV = 30 }, 12, 4},
		// 40 V x (1 + 0.002 x 35) = 42.8 V; 10 are 428 V, a sum that is not exact in binary.
		{"limit of ten", func(in *StringInput) { in.VocV, in.BetaVocPctPerK, in.LimitV = 40, -0.2, 428; in.VmpV = 33 }, 10, 4},
		{"just under", func(in *StringInput) { in.VocV, in.BetaVocPctPerK, in.LimitV = 40, -0.2, 427.999; in.VmpV = 33 }, 9, 4},
		// At 25 C the cold voltage is Voc itself: 12 x 41.66666667 V is 0.00000004 V
		// over 500 V, 12 x 41.666666666666664 V is 500 V to the last digit.
		{"a hair over the limit", func(in *StringInput) { in.VocV, in.VmpV, in.ColdC, in.LimitV = 41.66666667, 35, 25, 500 }, 11, 4},
		{"the limit to the last digit", func(in *StringInput) { in.VocV, in.VmpV, in.ColdC, in.LimitV = 500.0/12, 35, 25, 500 }, 12, 4},
		{"600 over 50", func(in *StringInput) { in.VocV, in.ColdC = 50, 25 }, 12, 3},
		// 40 V x (1 - 0.005 x 50) = 30 V; 3 are 90 V.
		{"hot voltage equals the window", func(in *StringInput) { in.VmpV, in.GammaPmaxPctPerK, in.HotCellC = 40, -0.5, 75 }, 11, 3},
		{"just over", func(in *StringInput) { in.VmpV, in.GammaPmaxPctPerK, in.HotCellC = 40, -0.5, 75; in.MPPTMinV = 90.001 }, 11, 4},
		{"one module over the limit", func(in *StringInput) { in.LimitV = 50 }, 0, 3},
		{"one module is enough", func(in *StringInput) { in.MPPTMinV = 20 }, 11, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			if r := mustRange(t, input(c.edit)); r.Longest != c.longest || r.Shortest != c.shortest {
				t.Errorf("%d to %d, want %d to %d", r.Shortest, r.Longest, c.shortest, c.longest)
			}
		})
	}
}

// Vmp's own coefficient is used where it is given, else that of Pmax. 41 V x (1
// - 0.0030 x 45) = 35.465 V; 41 V x (1 - 0.0035 x 45) = 34.5425 V.
func TestHotVmp(t *testing.T) {
	if r := mustRange(t, input(func(in *StringInput) { in.BetaVmpPctPerK = -0.30 })); math.Abs(r.VmpHotV-35.465) > 1e-9 {
		t.Errorf("own coefficient: %g V", r.VmpHotV)
	}
	if r := mustRange(t, input(nil)); math.Abs(r.VmpHotV-34.5425) > 1e-9 {
		t.Errorf("coefficient of power: %g V", r.VmpHotV)
	}
}

// The hot open-circuit voltage is 49.5 V x (1 - 0.0027 x 45) = 43.48575 V: 5
// modules reach 200 V. At 90 V the window asks for 3.
func TestStartVoltage(t *testing.T) {
	r := mustRange(t, input(func(in *StringInput) { in.StartV = 200 }))
	if math.Abs(r.VocHotV-43.48575) > 1e-9 || r.ShortestStart != 5 || r.ShortestMPPT != 3 || r.Shortest != 5 {
		t.Errorf("%+v", r)
	}
}

// Cold Vmp is 41 V x (1 + 0.0035 x 35) = 46.0225 V: 10 modules stay within
// 480 V, 11 would not.
func TestColdVmpAboveWindow(t *testing.T) {
	if r := mustRange(t, input(func(in *StringInput) { in.MPPTMaxV = 480 })); r.LongestInWindow != 10 || r.Longest != 11 {
		t.Errorf("%+v", r)
	}
}

func TestRangeRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(*StringInput)
		field string
	}{
		{"voc", func(in *StringInput) { in.VocV = 0 }, "voc_v"},
		{"voc not a number", func(in *StringInput) { in.VocV = math.NaN() }, "voc_v"},
		{"vmp", func(in *StringInput) { in.VmpV = 501 }, "vmp_v"},
		{"vmp over voc", func(in *StringInput) { in.VmpV = 49.5 }, "vmp_v"},
		{"cold", func(in *StringInput) { in.ColdC = -60.1 }, "cold_c"},
		{"hot", func(in *StringInput) { in.HotCellC = 121 }, "hot_cell_c"},
		{"hot below cold", func(in *StringInput) { in.ColdC, in.HotCellC = 20, 20 }, "hot_cell_c"},
		{"limit", func(in *StringInput) { in.LimitV = math.Inf(1) }, "limit_v"},
		{"window", func(in *StringInput) { in.MPPTMinV = 560 }, "mppt_min_v"},
		{"window top", func(in *StringInput) { in.MPPTMaxV = 0 }, "mppt_max_v"},
		{"start", func(in *StringInput) { in.StartV = -1 }, "start_v"},
		{"gamma", func(in *StringInput) { in.GammaPmaxPctPerK = 0 }, "gamma_pmax_pct_per_k"},
		{"beta", func(in *StringInput) { in.BetaVocPctPerK = 0.27 }, "beta_voc_pct_per_k"},
		{"beta of vmp", func(in *StringInput) { in.BetaVmpPctPerK = -1.1 }, "beta_vmp_pct_per_k"},
		{"outside the table", func(in *StringInput) { in.BetaVocPctPerK, in.ColdC = 0, 30 }, "cold_c"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Range(input(c.edit))
			bad, ok := errors.AsType[*InputError](err)
			if !ok || bad.Field != c.field || !strings.HasPrefix(err.Error(), c.field+" is ") {
				t.Errorf("error %v, want one of %s", err, c.field)
			}
		})
	}
}

func drawInput(t *rapid.T) StringInput {
	voc := rapid.Float64Range(10, 100).Draw(t, "voc")
	in := StringInput{
		VocV: voc, VmpV: voc * rapid.Float64Range(0.6, 0.95).Draw(t, "vmp"),
		GammaPmaxPctPerK: -rapid.Float64Range(0.1, 0.6).Draw(t, "gamma"),
		ColdC:            rapid.Float64Range(-40, 24).Draw(t, "cold"),
		HotCellC:         rapid.Float64Range(30, 90).Draw(t, "hot"),
		LimitV:           rapid.SampledFrom([]float64{60, 428, 600, 1000, 1500}).Draw(t, "limit"),
		MPPTMinV:         rapid.Float64Range(10, 300).Draw(t, "low"),
		MPPTMaxV:         rapid.Float64Range(301, 1500).Draw(t, "high"),
	}
	if rapid.Bool().Draw(t, "coefficient") {
		in.BetaVocPctPerK = -rapid.Float64Range(0.1, 0.5).Draw(t, "beta")
	}
	return in
}

// The longest string keeps the limit and one more breaks it; the shortest
// reaches the window and one less does not.
func TestRangeIsTight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		r, err := Range(in)
		if err != nil {
			t.Fatal(err)
		}
		const slack = 1 + 1e-11
		if float64(r.Longest)*r.VocColdV > in.LimitV*slack || float64(r.Longest+1)*r.VocColdV <= in.LimitV {
			t.Fatalf("longest %d x %g V against %g V", r.Longest, r.VocColdV, in.LimitV)
		}
		if n := float64(r.Shortest); n*r.VmpHotV*slack < in.MPPTMinV || n > 1 && (n-1)*r.VmpHotV >= in.MPPTMinV {
			t.Fatalf("shortest %d x %g V against %g V", r.Shortest, r.VmpHotV, in.MPPTMinV)
		}
	})
}

// More cold never lengthens a string, more heat never shortens the shortest.
func TestMoreColdNeverLengthens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		colder := in
		colder.ColdC = rapid.Float64Range(-40, in.ColdC).Draw(t, "colder")
		colder.HotCellC = rapid.Float64Range(in.HotCellC, 120).Draw(t, "hotter")
		a, errA := Range(in)
		b, errB := Range(colder)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		if b.Longest > a.Longest || b.LongestInWindow > a.LongestInWindow || b.Shortest < a.Shortest {
			t.Fatalf("%+v became %+v", a, b)
		}
	})
}
