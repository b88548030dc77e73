package energy_test

import (
	"context"
	"fmt"

	"rooftally/energy"
)

// A year from twelve invented monthly values on one open plane.
func ExampleSimulate() {
	m := energy.MonthlyMeans{WindMS: 2.5}
	for i, ghi := range []float64{1.5, 2.4, 3.6, 4.8, 5.7, 6.2, 6.1, 5.3, 4.1, 2.7, 1.7, 1.3} {
		m.GHIKWhM2Day[i] = ghi
		m.AirC[i] = 10
	}
	year, err := energy.SyntheticYear(energy.Site{LatDeg: 45, LonDeg: 7.5, UTCOffsetH: 1}, m)
	if err != nil {
		fmt.Println(err)
		return
	}
	sun, err := energy.NewYearOfSun(year)
	if err != nil {
		fmt.Println(err)
		return
	}
	module := energy.ModuleModel{PmaxW: 400, GammaPctPerK: -0.35, FirstYearLossPct: 2}
	in := energy.OnePlane(sun, energy.Surface{PitchDeg: 30, AzimuthDeg: 180}, energy.FlushOnRoof, module)
	result, err := energy.Simulate(context.Background(), in)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f kWh/m2, %.0f kWh/kW\n", result.Total.POAYear, result.Total.KWhPerKW)
	// Output: 1663 kWh/m2, 1354 kWh/kW
}
