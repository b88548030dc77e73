package energy

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestGlassModels(t *testing.T) {
	angles := []float64{30, 45, 60, 70, 80}
	for _, c := range []struct {
		name      string
		glass     Glass
		want      [5]float64
		tolerance float64
	}{
		// Souka and Safwat 1966, b 0.05 (section 4 of the reference).
		{"ASHRAE form", Glass{Model: Ashrae}, [5]float64{0.9923, 0.9793, 0.9500, 0.9038, 0.7621}, 1e-4},
		// Martin and Ruiz 2001, a 0.17.
		{"Martin and Ruiz", Glass{Model: MartinRuiz}, [5]float64{0.9966, 0.9871, 0.9498, 0.8687, 0.6417}, 1e-4},
		// De Soto et al. 2006 after Duffie and Beckman chapter 5; no value at 30.
		{"Fresnel", Glass{Model: Fresnel}, [5]float64{math.NaN(), 0.988, 0.946, 0.860, 0.634}, 0.002},
		{"none", Glass{Model: NoGlass}, [5]float64{1, 1, 1, 1, 1}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			for i, a := range angles {
				if !math.IsNaN(c.want[i]) {
					near(t, "", c.glass.Pass(math.Cos(a*degree)), c.want[i], c.tolerance)
				}
			}
			near(t, "head on", c.glass.Pass(1), 1, 1e-12)
			near(t, "edge on", c.glass.Pass(0), 0, 0)
			near(t, "behind", c.glass.Pass(-0.3), 0, 0)
		})
	}
	// Duffie and Beckman example 5.1.1.
	near(t, "reflectance head on", FresnelReflectance(1), 0.0434, 0.0005)
	near(t, "reflectance at 60 degrees", FresnelReflectance(0.5), 0.093, 0.0005)
}

func TestGlassPassFallsWithTheAngle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Glass{Model: rapid.SampledFrom([]GlassModel{MartinRuiz, Ashrae, Fresnel}).Draw(t, "model")}
		a, b := rapid.Float64Range(0, 1).Draw(t, "a"), rapid.Float64Range(0, 1).Draw(t, "b")
		if low, high := g.Pass(min(a, b)), g.Pass(max(a, b)); low > high+1e-9 || low < 0 || high > 1+1e-9 {
			t.Fatalf("%g then %g", low, high)
		}
	})
}

func TestGlassCheck(t *testing.T) {
	for _, g := range []Glass{{Model: MartinRuiz}, {MartinRuiz, 0.15}, {Model: Ashrae}, {Model: Fresnel}, {Model: NoGlass}} {
		if err := g.check("Glass"); err != nil {
			t.Errorf("%+v: %v", g, err)
		}
	}
	var r *RangeError
	if err := (Glass{MartinRuiz, 0.9}).check("Glass"); !errors.As(err, &r) || r.Field != "Glass.Number" {
		t.Errorf("%v", err)
	}
	var choice *ChoiceError
	if err := (Glass{}).check("Glass"); !errors.As(err, &choice) {
		t.Errorf("%v", err)
	}
}

func TestDiffusePass(t *testing.T) {
	// Without glass all passes; arithmetic.
	p := newDiffusePass(Glass{Model: NoGlass}, Surface{30, 180})
	near(t, "none, dome", p.dome, 1, 1e-12)
	// Brandemuehl and Beckman 1980 put the even sky's light at an effective 60
	// degrees for a level surface (Duffie and Beckman 5.4); Martin and Ruiz at 60
	// is 0.9498.
	p = newDiffusePass(Glass{Model: MartinRuiz}, Surface{0, 180})
	near(t, "level, dome", p.dome, 0.9498, 0.01)
	near(t, "level, ground", p.ground, 1, 0)
	// A vertical surface sees half a dome of sky and the same of ground.
	p = newDiffusePass(Glass{Model: MartinRuiz}, Surface{90, 77})
	near(t, "vertical: sky as ground", p.dome, p.ground, 1e-9)
}
