package energy

import (
	"context"
	"fmt"
	"math"
	"testing"
)

// house is an invented roof: planes of rows of modules around a house, with
// chimneys, trees, a neighbour and the roof itself casting shadows.
func house(planes, modules, obstructions int) Scene {
	s := Scene{}
	azimuths := []float64{180, 0, 90, 270}
	for i := range planes {
		a := azimuths[i%4]
		down := direction(0, a)
		s.Planes = append(s.Planes, Plane{
			ID: fmt.Sprintf("plane-%d", i), Surface: Surface{30, a}, Mounting: FlushOnRoof,
			Origin: Vec3{down.X*5 + down.Y*6, down.Y*5 - down.X*6, 3},
		})
	}
	for i := range modules {
		plane := i % planes
		k := i / planes
		s.Modules = append(s.Modules, Module{Plane: plane, UM: 0.4 + 1.1*float64(k%10), VM: 0.4 + 1.8*float64(k/10), WidthM: 1.08, HeightM: 1.75, String: plane + 1})
	}
	for i := range obstructions {
		x, y := 4*math.Cos(float64(i)), 4*math.Sin(float64(i)*1.7)
		switch i % 4 {
		case 0, 1:
			s.Obstructions = append(s.Obstructions, Obstruction{ID: fmt.Sprintf("chimney-%d", i), Kind: Prism,
				Footprint: [][2]float64{{x, y}, {x + 0.6, y}, {x + 0.6, y + 0.6}, {x, y + 0.6}}, TopM: 7.5})
		case 2:
			s.Obstructions = append(s.Obstructions, Obstruction{ID: fmt.Sprintf("tree-%d", i), Kind: Tree, Crown: RoundCrown,
				CenterX: 3 * x, CenterY: -12, RadiusM: 2.5, BaseM: 2, TopM: 9, LeafOnPass: 0.2, LeafOffPass: 0.6})
		case 3:
			s.Obstructions = append(s.Obstructions, Obstruction{ID: fmt.Sprintf("house-%d", i), Kind: Prism,
				Footprint: [][2]float64{{20, -6}, {30, -6}, {30, 6}, {20, 6}}, TopM: 9})
		}
	}
	return s
}

func houseInput(b testing.TB, planes, modules, obstructions int) Input {
	site := Site{LatDeg: 42.37, LonDeg: -71.02, UTCOffsetH: -5}
	y, err := SyntheticYear(site, means())
	if err != nil {
		b.Fatal(err)
	}
	sun, err := NewYearOfSun(y)
	if err != nil {
		b.Fatal(err)
	}
	return Input{
		Year: sun, Scene: house(planes, modules, obstructions), Options: DefaultOptions(), Losses: DefaultLosses(),
		Module: ModuleModel{PmaxW: 400, GammaPctPerK: -0.35, FirstYearLossPct: 2, YearlyLossPct: 0.5, HalfCut: true},
		Groups: []Group{{ID: "inverter", EfficiencyPct: 96, LimitW: 20000}},
	}
}

func BenchmarkYearOfSun(b *testing.B) {
	y := houseInput(b, 1, 1, 0).Year.Year()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewYearOfSun(y); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSimulate(b *testing.B) {
	for _, c := range []struct{ planes, modules, obstructions int }{{4, 30, 8}, {4, 60, 10}, {1, 1, 0}} {
		in := houseInput(b, c.planes, c.modules, c.obstructions)
		b.Run(fmt.Sprintf("%dplanes/%dmodules/%dobstructions", c.planes, c.modules, c.obstructions), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Simulate(context.Background(), in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
