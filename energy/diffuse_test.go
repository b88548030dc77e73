package energy

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

func TestErbs(t *testing.T) {
	// Erbs, Klein and Duffie 1982 (values of section 2 of the reference).
	for kt, want := range map[float64]float64{0.20: 0.982, 0.445: 0.766, 0.60: 0.439, 0.80: 0.165, 0.95: 0.165} {
		near(t, fmt.Sprintf("hourly %g", kt), ErbsHourly(kt), want, 0.002)
	}
	// Duffie and Beckman example 2.11.1: latitude 38.6, 3 September.
	near(t, "daily", ErbsDaily(0.69, SunsetHourAngleDeg(38.6, cooper(246))), 0.26, 0.01)
	// Duffie and Beckman example 2.12.1: latitude 43, June.
	near(t, "monthly", ErbsMonthly(0.55, SunsetHourAngleDeg(43, cooper(162))), 0.38, 0.005)
}

func TestErbsIsAShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kt, ws := rapid.Float64Range(-0.5, 1.5).Draw(t, "kt"), rapid.Float64Range(0, 180).Draw(t, "sunset")
		for name, f := range map[string]float64{"hourly": ErbsHourly(kt), "daily": ErbsDaily(kt, ws), "monthly": ErbsMonthly(kt, ws)} {
			if f < 0 || f > 1.001 {
				t.Fatalf("%s %g", name, f)
			}
		}
	})
}

// Duffie and Beckman example 2.13.1: latitude -38, mean day of January, 8 to 9.
func TestHourShare(t *testing.T) {
	ws := SunsetHourAngleDeg(-38, cooper(17))
	near(t, "sunset", ws, 107.4, 0.2)
	near(t, "r_t", HourShare(-52.5, ws), 0.076, 0.001)
	near(t, "outside the day", HourShare(120, ws), 0, 0)
	near(t, "no day", HourShare(0, 0), 0, 0)
}
