package electrical

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Trade facts, common practice, no source: a 1 MW field of 305 W modules in
// strings of 19 takes 173 strings, of 320 W modules in strings of 21 takes 149.
// The rest is arithmetic.
func TestPlant(t *testing.T) {
	for _, c := range []struct {
		name            string
		powerW, moduleW int
		perString       int
		strings         int
		modules, gotW   int
	}{
		{"305 W by 19", 1_000_000, 305, 19, 173, 3287, 1_002_535},
		{"320 W by 21", 1_000_000, 320, 21, 149, 3129, 1_001_280},
		{"exactly", 8000, 400, 10, 2, 20, 8000},
		{"one watt more", 8001, 400, 10, 3, 30, 12000},
		{"less than a string", 1, 400, 10, 1, 10, 4000},
		{"the largest", 1_000_000_000_000, 400, 25, 100_000_000, 2_500_000_000, 1_000_000_000_000},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := PlantOf(PlantInput{c.powerW, c.moduleW, c.perString, 2, 1, 0.5})
			if err != nil || p.Strings != c.strings || p.Modules != c.modules || p.PowerW != c.gotW {
				t.Fatalf("%+v, %v", p, err)
			}
			if *p.ModuleAreaM2 != 2*float64(c.modules) || *p.GroundAreaM2 != 4*float64(c.modules) || len(p.Figures) != 5 {
				t.Errorf("%g m2, %g m2 of ground, %d figures", *p.ModuleAreaM2, *p.GroundAreaM2, len(p.Figures))
			}
		})
	}
	p, err := PlantOf(PlantInput{PowerW: 1_000_000, ModuleW: 305, PerString: 19})
	if err != nil || p.ModuleAreaM2 != nil || p.GroundAreaM2 != nil || len(p.Figures) != 3 {
		t.Errorf("without sides: %+v, %v", p, err)
	}
	if f := p.Figures[0]; f.Numbers != "1 000 000 W / (19 x 305 W) = 172.563: 173" {
		t.Errorf("%+v", f)
	}
}

func TestPlantRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(*PlantInput)
		field string
	}{
		{"power", func(in *PlantInput) { in.PowerW = 0 }, "power_w"},
		{"too much power", func(in *PlantInput) { in.PowerW = 1_000_000_000_001 }, "power_w"},
		{"module", func(in *PlantInput) { in.ModuleW = 2001 }, "module_w"},
		{"string", func(in *PlantInput) { in.PerString = 0 }, "per_string"},
		{"long string", func(in *PlantInput) { in.PerString = 101 }, "per_string"},
		{"one side", func(in *PlantInput) { in.WidthM = 0 }, "width_m"},
		{"not a number", func(in *PlantInput) { in.LengthM = math.NaN() }, "length_m"},
		{"coverage", func(in *PlantInput) { in.Coverage = 1.1 }, "coverage"},
		{"no coverage", func(in *PlantInput) { in.Coverage = math.NaN() }, "coverage"},
		{"ground without sides", func(in *PlantInput) { in.LengthM, in.WidthM, in.Coverage = 0, 0, 0.5 }, "length_m"},
	} {
		in := PlantInput{1000, 400, 10, 2, 1, 0}
		c.edit(&in)
		_, err := PlantOf(in)
		if e, ok := errors.AsType[*InputError](err); !ok || e.Field != c.field {
			t.Errorf("%s: %v, want an error of %s", c.name, err, c.field)
		}
	}
}

// The strings reach the size, and one less would not.
func TestPlantIsTheLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := PlantInput{PowerW: rapid.IntRange(1, 1_000_000_000).Draw(t, "power"), ModuleW: rapid.IntRange(1, 2000).Draw(t, "module"), PerString: rapid.IntRange(1, 100).Draw(t, "string")}
		p, err := PlantOf(in)
		if err != nil {
			t.Fatal(err)
		}
		if p.PowerW < in.PowerW || p.PowerW-in.PerString*in.ModuleW >= in.PowerW || p.Modules != p.Strings*in.PerString {
			t.Fatalf("%+v: %+v", in, p)
		}
	})
}
