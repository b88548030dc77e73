package energy

import "math"

// fillAir sets dry bulb and wind of a year from monthly means; kt is each
// month's mean clearness.
func fillAir(y *Year, m MonthlyMeans, kt [12]float64) {
	wind := m.WindMS
	if wind == 0 {
		wind = noFileWindMS
		y.Filled = append(y.Filled, Filled{Field: "wind", Hours: len(y.Hours), How: "1 m/s, the yearly mean is not known"})
	}
	for i := range y.Hours {
		h := &y.Hours[i]
		h.WindMS = wind
		swing := max(0, 25.8*kt[h.Month-1]-5.21)
		h.AirC = min(maxAirC, max(minAirC, m.AirC[h.Month-1]+swing*airCourse(float64(h.Clock)+0.5)))
	}
}

// airCourse is the dry bulb's daily course about its mean in parts of the daily
// swing, for an hour of the day: lowest before sunrise, highest in mid
// afternoon. Erbs, Klein and Beckman, ASHRAE Journal, June 1983; the swing is
// 25.8 KT - 5.21 K for a month's mean clearness KT (both from memory).
func airCourse(hour float64) float64 {
	t := 2 * math.Pi * (hour - 1) / 24
	return 0.4632*math.Cos(t-3.805) + 0.0984*math.Cos(2*t-0.360) +
		0.0168*math.Cos(3*t-0.822) + 0.0138*math.Cos(4*t-3.513)
}
