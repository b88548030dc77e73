package energy

import (
	"testing"

	"pgregory.net/rapid"
)

func TestHorizonAt(t *testing.T) {
	h := Horizon{{90, 10}, {180, 20}, {270, 0}}
	for azimuth, want := range map[float64]float64{90: 10, 135: 15, 180: 20, 225: 10, 270: 0, 0: 5, 45: 7.5, 315: 2.5, 360: 5, -90: 0} {
		near(t, "", h.At(azimuth), want, 1e-9)
	}
	near(t, "no points", Horizon(nil).At(12), 0, 0)
	near(t, "one point", Horizon{{90, 7}}.At(300), 7, 0)
	step := Horizon{{100, 0}, {100, 30}, {200, 30}, {200, 0}}
	near(t, "a step, before", step.At(99.999), 0, 0.001)
	near(t, "a step, after", step.At(100), 30, 0)
	near(t, "a step, end", step.At(201), 0, 0.001)
}

func TestHorizonCheck(t *testing.T) {
	if err := (Horizon{{0, 1}, {0, 2}, {350, 90}}).Check(); err != nil {
		t.Error(err)
	}
	for name, h := range map[string]Horizon{
		"falling": {{20, 1}, {10, 1}}, "too high": {{20, 91}}, "under": {{20, -1}},
		"full turn": {{360, 1}}, "too many": make(Horizon, MaxHorizonPoints+1),
	} {
		if h.Check() == nil {
			t.Errorf("%s passes", name)
		}
	}
}

// A level module behind a horizon of nearly 90 degrees gets neither beam nor sky;
// one behind a level horizon keeps the sky's light of a sun just set.
func TestHorizonHidesTheSun(t *testing.T) {
	in := OnePlane(mildYear(t), Surface{0, 180}, FlatRoof, ModuleModel{PmaxW: 400})
	in.Scene.Horizon = Horizon{{0, 89.9}}
	near(t, "access", simulate(t, in).Modules[0].Access, 0, 1e-3)
	h := Horizon{{90, 10}, {180, 0}}
	for _, c := range []struct {
		elevation, azimuth float64
		want               bool
	}{{9, 90, true}, {11, 90, false}, {4, 135, true}, {6, 135, false}, {-1, 180, false}} {
		if got := h.hides(Sun{RefractedDeg: c.elevation, AzimuthDeg: c.azimuth}); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

func TestHorizonStaysBetweenItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var h Horizon
		a, low, high := 0.0, 90.0, 0.0
		for range rapid.IntRange(1, 8).Draw(t, "n") {
			a += rapid.Float64Range(0, 40).Draw(t, "step")
			e := rapid.Float64Range(0, 90).Draw(t, "elevation")
			h = append(h, HorizonPoint{a, e})
			low, high = min(low, e), max(high, e)
		}
		if err := h.Check(); err != nil {
			t.Fatal(err)
		}
		if e := h.At(rapid.Float64Range(-720, 720).Draw(t, "azimuth")); e < low-1e-9 || e > high+1e-9 {
			t.Fatalf("%g is outside %g to %g", e, low, high)
		}
	})
}
