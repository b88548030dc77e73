package web

import "testing"

// Arithmetic on the definitions of foot, pound, mile and degree.
func TestProseInCustomaryUnits(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"It is 0.15 m.", `It is 0.15 m (0'-5 7/8").`},
		{"they are 1.75 x 1.08 m", `they are 1.75 x 1.08 m (5'-8 7/8" x 3'-6 1/2")`},
		{"at most 0.254 m (10 in) above", "at most 0.254 m (10 in) above"},
		{"Gaps are at least 6.35 mm (1/4 in); the smallest is 20 mm.", "Gaps are at least 6.35 mm (1/4 in); the smallest is 20 mm (3/4 in)."},
		{"Front 3600 Pa of 3600 Pa, 100 %", "Front 3600 Pa (75.2 psf) of 3600 Pa (75.2 psf), 100 %"},
		{"-20.0 C is the mean", "-20.0 C (-4 °F) is the mean"},
		{"35 K, 600 V and 12 A", "35 K, 600 V and 12 A"},
		{"a speed of 51.4 m/s", "a speed of 51.4 m/s (115.0 mph)"},
		{"is 90 km away, 310 m higher", "is 90 km (56 mi) away, 310 m (1017 ft) higher"},
		{"1 km, 19 km, 20 km", "1 km (0.6 mi), 19 km (11.8 mi), 20 km (12 mi)"},
		{"is 7.5 km away, 20 m lower, 19 m wide", `is 7.5 km (4.7 mi) away, 20 m (66 ft) lower, 19 m (62'-4") wide`},
		{"20.5 kg on 1.9 m2 is 10.8 kg/m2", "20.5 kg (45.2 lb) on 1.9 m2 (20.5 ft²) is 10.8 kg/m2 (2.21 lb/ft²)"},
		{"needs 5.28 m2 K/W (R 30), or 3.52 (R 20)", "needs 5.28 m2 K/W (R 30), or 3.52 (R 20)"},
		{"Rails, 4.2 m sticks", `Rails, 4.2 m (13'-9 3/8") sticks`},
		{"0.6 x 1000 Pa is 600 Pa", "0.6 x 1000 Pa (20.9 psf) is 600 Pa (12.5 psf)"},
		{"model Mark3 m", "model Mark3 m"},
		{"15 modules, 3 more", "15 modules, 3 more"},
		{"1 Metre", "1 Metre"},
		{"", ""},
	} {
		if got := (units{imperial: true}).prose(c.text); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
		if got := (units{}).prose(c.text); got != c.text {
			t.Errorf("metric: %q became %q", c.text, got)
		}
	}
}
