package energy

// ErbsHourly is the diffuse share of an hour's global irradiation for its
// clearness kT (global over extraterrestrial, level): Erbs, Klein and Duffie,
// Solar Energy 28 (1982) 293-302 (from memory). Clearness below 0 counts as 0.
func ErbsHourly(kt float64) float64 {
	switch {
	case kt <= 0:
		return 1
	case kt <= 0.22:
		return 1 - 0.09*kt
	case kt <= 0.80:
		return 0.9511 + kt*(-0.1604+kt*(4.388+kt*(-16.638+kt*12.336)))
	}
	return 0.165
}

// erbsWinterDeg is the sunset hour angle up to which the winter curves hold.
const erbsWinterDeg = 81.4

// ErbsDaily is the diffuse share of a day's global irradiation for its
// clearness and sunset hour angle: Erbs 1982 in Duffie and Beckman 2.11.1 (from
// memory), held to at most 1.
func ErbsDaily(kt, sunsetDeg float64) float64 {
	kt = max(0, kt)
	if sunsetDeg <= erbsWinterDeg {
		if kt >= 0.715 {
			return 0.143
		}
		return min(1, 1+kt*(-0.2727+kt*(2.4495+kt*(-11.9514+kt*9.3879))))
	}
	if kt >= 0.722 {
		return 0.175
	}
	return min(1, 1+kt*(0.2832+kt*(-2.5557+kt*0.8448)))
}

// ErbsMonthly is the diffuse share of a month's mean global irradiation for its
// mean clearness and the sunset hour angle of the mean day: Erbs 1982 in Duffie
// and Beckman 2.12.1 (from memory). Clearness is held to 0.3 to 0.8, where the
// curves were fitted.
func ErbsMonthly(kt, sunsetDeg float64) float64 {
	kt = min(0.8, max(0.3, kt))
	if sunsetDeg <= erbsWinterDeg {
		return 1.391 + kt*(-3.560+kt*(4.189-kt*2.137))
	}
	return 1.311 + kt*(-3.022+kt*(3.427-kt*1.821))
}
