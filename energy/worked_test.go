package energy

import (
	"fmt"
	"testing"
)

// TestWorkedExample holds the worked example of docs/energy.md: Phoenix, 30
// degrees to the south, flush on the roof, an invented 400 W module. The plane
// irradiation was also worked out by a second program, written apart, with its
// own sun: these are its figures. -v prints the example.
func TestWorkedExample(t *testing.T) {
	sun, err := NewYearOfSun(sharedYear(t, "phoenix.epw.gz"))
	if err != nil {
		t.Fatal(err)
	}
	m := ModuleModel{PmaxW: 400, GammaPctPerK: -0.35, LowLight: 0.97, FirstYearLossPct: 2}
	r := simulate(t, OnePlane(sun, Surface{30, 180}, FlushOnRoof, m))
	apart := [12]float64{159.00, 160.35, 197.39, 224.73, 229.98, 225.66, 220.36, 223.89, 217.57, 196.81, 172.60, 156.93}
	for i, want := range apart {
		near(t, fmt.Sprintf("month %d", i+1), r.Total.POAKWhM2[i], want, 0.005*want)
	}
	near(t, "year", r.Total.POAYear, 2385.3, 0.002*2385.3)
	t.Logf("POA by month, kWh/m2: %.1f", r.Total.POAKWhM2)
	t.Logf("AC by month, kWh of 0.4 kW: %.1f", r.Total.ACKWh)
	t.Logf("POA %.1f kWh/m2, %.0f kWh/kW, performance ratio %.3f", r.Total.POAYear, r.Total.KWhPerKW, r.Total.PerformanceRatio)
	for _, s := range r.Chain {
		t.Logf("| %s | %.1f | %.1f |", s.Label, s.KWh, s.LossPct)
	}
	seattle, err := NewYearOfSun(sharedYear(t, "seattle.epw.gz"))
	if err != nil {
		t.Fatal(err)
	}
	r = simulate(t, OnePlane(seattle, Surface{45, 60}, FlushOnRoof, m))
	near(t, "Seattle, 45 degrees to 60", r.Total.POAYear, 876.4, 0.002*876.4)
}
