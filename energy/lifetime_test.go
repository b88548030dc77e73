package energy

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Output after 25 years at 0.5 % a year: 0.8822 compound, 0.8750 linear
// (arithmetic, section 4 of the reference).
func TestAgeing(t *testing.T) {
	near(t, "compound", Ageing{0, 0.5, Compound}.PowerShare(26), 0.8822, 1e-4)
	near(t, "linear", Ageing{0, 0.5, Linear}.PowerShare(26), 0.8750, 1e-9)
	near(t, "first year", Ageing{2, 0.5, Linear}.PowerShare(1), 0.98, 1e-12)
	near(t, "no form is compound", Ageing{2, 0.5, ""}.PowerShare(9), Ageing{2, 0.5, Compound}.PowerShare(9), 0)
	near(t, "not below 0", Ageing{10, 5, Linear}.PowerShare(50), 0, 0)
	// 24 further years at 0.7 and 0.6 points are 16.8 and 14.4 points
	// (arithmetic).
	near(t, "0.7 points", Ageing{2, 0.7, Linear}.PowerShare(1)-Ageing{2, 0.7, Linear}.PowerShare(25), 0.168, 1e-9)
	near(t, "0.6 points", Ageing{2, 0.6, Linear}.PowerShare(1)-Ageing{2, 0.6, Linear}.PowerShare(25), 0.144, 1e-9)
}

func TestLifetime(t *testing.T) {
	l, err := LifetimeOf(1000, Ageing{2, 0.5, Linear}, Ageing{3, 0.7, Linear}, 25)
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Years) != 25 || l.Years[0].KWh != 1000 || l.Years[24].Year != 25 {
		t.Fatalf("%+v", l.Years)
	}
	// Sum of 1000 (0.98 - 0.005 n) / 0.98 for n = 0 to 24 (arithmetic).
	near(t, "25 years", l.Years[24].SumKWh, 25000-1000*0.005*300/0.98, 1e-6)
	near(t, "promised in year 25", l.Years[24].PromisedShare, 0.97-24*0.007, 1e-9)
	var r *RangeError
	if _, err := LifetimeOf(1000, Ageing{}, Ageing{}, 51); !errors.As(err, &r) {
		t.Errorf("%v", err)
	}
	if _, err := LifetimeOf(1000, Ageing{20, 0, Linear}, Ageing{}, 25); !errors.As(err, &r) || r.Field != "FirstYearPct" {
		t.Errorf("%v", err)
	}
	if _, err := LifetimeOf(1000, Ageing{}, Ageing{0, 0, "x"}, 25); err == nil {
		t.Error("an unknown form passes")
	}
}

func TestLifetimeFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Ageing{rapid.Float64Range(0, 10).Draw(t, "first"), rapid.Float64Range(0, 5).Draw(t, "yearly"), rapid.SampledFrom([]AgeForm{Linear, Compound}).Draw(t, "form")}
		l, err := LifetimeOf(5000, a, a, 30)
		if err != nil {
			t.Fatal(err)
		}
		var sum float64
		for i, y := range l.Years {
			sum += y.KWh
			if i > 0 && y.KWh > l.Years[i-1].KWh || math.Abs(y.SumKWh-sum) > 1e-6 || y.ExpectedShare != y.PromisedShare {
				t.Fatalf("%+v", y)
			}
		}
	})
}

func TestExceeded(t *testing.T) {
	// Standard normal: 90 % lies above the mean less 1.2816 sigma.
	p50, p90 := Spread{WeatherPct: 3, ModelPct: 4}.Exceeded(1000, 1)
	near(t, "P50", p50, 1000, 0)
	near(t, "P90 of a year", p90, 1000*(1-1.2816*0.05), 0.01)
	_, p90 = Spread{WeatherPct: 5, ModelPct: 0}.Exceeded(1000, 25)
	near(t, "P90 of 25 years", p90, 1000*(1-1.2816*0.01), 0.01)
	near(t, "years below 1 count as 1", Spread{5, 0}.SigmaPct(0), 5, 0)
}

func TestTie(t *testing.T) {
	for _, c := range []struct {
		a, b float64
		want bool
	}{{100, 100, true}, {100, 98, true}, {98, 100, true}, {100, 97.9, false}, {0, 0, true}, {0, 1, false}} {
		if got := Tie(c.a, c.b, TieBandPct); got != c.want {
			t.Errorf("%g and %g: %v", c.a, c.b, got)
		}
	}
}

// The code-rule list of the California Energy Commission 2019 multiplies to
// 14.13 % (section 4 of the reference); a check of the arithmetic only.
func TestCombinedPct(t *testing.T) {
	near(t, "code rule", CombinedPct(2, 2, 0.5, 1.5, 1, 5, 3), 14.13, 0.01)
	near(t, "nothing", CombinedPct(), 0, 0)
}

func TestDefaultLosses(t *testing.T) {
	lines := DefaultLosses()
	if err := checkLosses(lines); err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		if p := l.MonthlyPct[0]; l.Source == "" || l.Label == "" || p < l.UsualLowPct || p > l.UsualHighPct {
			t.Errorf("%+v", l)
		}
	}
	lines[0].MonthlyPct[0] = 50
	if DefaultLosses()[0].MonthlyPct[0] == 50 {
		t.Error("a caller changed the defaults")
	}
}

func TestDayViews(t *testing.T) {
	y := mildYear(t)
	d := TellingDays(y)
	hours := y.Year().Hours
	if m := hours[24*d.Hot].Month; m < 5 || m > 9 {
		t.Errorf("the hot day is in month %d", m)
	}
	sum := func(day int) (s float64) {
		for _, h := range hours[24*day : 24*day+24] {
			s += h.GHIWM2
		}
		return s
	}
	if sum(d.Dull) > 0.5*sum(d.Hot) {
		t.Errorf("the dull day has %g of %g", sum(d.Dull), sum(d.Hot))
	}
	darker := 0
	for day := range 365 {
		if sum(day) < sum(d.Dull) {
			darker++
		}
	}
	near(t, "days darker than the dull one", float64(darker), 36, 1)
	view := func(day int, m ModuleModel) (heat, low, energy float64) {
		out, err := DayView(y, day, Surface{30, 180}, FlushOnRoof, m, DefaultOptions())
		if err != nil || len(out) != 24 {
			t.Fatalf("%v", err)
		}
		for _, h := range out {
			heat, low = max(heat, h.HeatPct), max(low, h.LowLightPct)
			energy += h.WPerKW
		}
		return
	}
	steady := ModuleModel{PmaxW: 400, GammaPctPerK: -0.25, LowLight: 0.99}
	weak := ModuleModel{PmaxW: 400, GammaPctPerK: -0.45, LowLight: 0.93}
	hotA, _, eA := view(d.Hot, steady)
	hotB, _, eB := view(d.Hot, weak)
	if !(hotB > hotA && hotA > 0 && eA > eB) {
		t.Errorf("hot day: %g and %g %% lost", hotA, hotB)
	}
	_, lowA, eA := view(d.Dull, steady)
	_, lowB, eB := view(d.Dull, weak)
	if !(lowB > lowA && lowA > 0 && eA > eB) {
		t.Errorf("dull day: %g and %g %% lost", lowA, lowB)
	}
	if _, err := DayView(y, 365, Surface{30, 180}, FlushOnRoof, steady, DefaultOptions()); err == nil {
		t.Error("day 365 of a year of 365 days passes")
	}
	if _, err := DayView(y, 3, Surface{30, 180}, "x", steady, DefaultOptions()); err == nil {
		t.Error("an unknown mounting passes")
	}
	near(t, "dark", func() float64 {
		out, _ := DayView(y, 0, Surface{30, 180}, FlushOnRoof, steady, DefaultOptions())
		return out[0].WPerKW + out[0].LowLightPct
	}(), 0, 0)
}
