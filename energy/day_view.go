package energy

import "slices"

// Days are two telling days of a year, counted from 0.
type Days struct {
	// Hot is the warmest of the sunnier half of the days (mean dry bulb of the
	// hours with light, weighted with their global irradiance). Dull is the day
	// with the tenth of the days below it in global irradiation.
	Hot, Dull int
}

// TellingDays picks the hot and the dull day of a year.
func TellingDays(y *YearOfSun) Days {
	hours := y.year.Hours
	days := len(hours) / 24
	light, warm := make([]float64, days), make([]float64, days)
	for i, h := range hours {
		light[i/24] += h.GHIWM2
		warm[i/24] += h.GHIWM2 * h.AirC
	}
	order := make([]int, days)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case light[a] < light[b]:
			return -1
		case light[a] > light[b]:
			return 1
		}
		return 0
	})
	d := Days{Hot: order[days-1], Dull: order[days/10]}
	for _, i := range order[days/2:] {
		if light[i] > 0 && warm[i]*light[d.Hot] > warm[d.Hot]*light[i] {
			d.Hot = i
		}
	}
	return d
}

// DayHour is one hour of a candidate's day.
type DayHour struct {
	// Clock is the hour's start in standard time, 0 to 23.
	Clock int
	// POAWM2 is the open plane's irradiance, AirC and CellC the temperatures.
	POAWM2, AirC, CellC float64
	// WPerKW is the DC power of 1 kW before loss lines.
	WPerKW float64
	// HeatPct and LowLightPct are what heat and low light take of the power, %;
	// below 0 is a gain. 0 in the dark.
	HeatPct, LowLightPct float64
}

// DayView is what heat and low light do to a candidate on one day, 24 hours, on
// an open surface. It returns an error for a day that the year does not have or
// a bad model, mounting or option.
func DayView(y *YearOfSun, day int, s Surface, mounting Mounting, m ModuleModel, o Options) ([]DayHour, error) {
	if err := checkRange("day", float64(day), 0, float64(len(y.year.Hours)/24-1)); err != nil {
		return nil, err
	}
	if err := m.check("Module."); err != nil {
		return nil, err
	}
	if err := o.check(); err != nil {
		return nil, err
	}
	heat, err := HeatLoss(mounting)
	if err != nil {
		return nil, err
	}
	heat = heat.ForNMOT(m.NMOTC)
	light, pass := newTransposer(o.Sky, s), newDiffusePass(o.Glass, s)
	out := make([]DayHour, 24)
	for k := range out {
		h := y.year.Hours[24*day+k]
		out[k] = DayHour{Clock: h.Clock, AirC: h.AirC, CellC: h.AirC}
	}
	for i := range y.hours {
		h := &y.hours[i]
		if h.index/24 != day {
			continue
		}
		d := &out[h.index%24]
		l := h.lightOf(o)
		in := light.put(l, h.sky(o.Sky))
		d.POAWM2 = in.Total()
		d.CellC = heat.CellC(d.AirC, d.POAWM2, y.year.Hours[h.index].WindMS)
		passed := max(0, (in.Beam+in.Circumsolar)*o.Glass.Pass(light.normal.dot(l.Toward))+
			in.Dome*pass.dome+in.HorizonBand*pass.horizon+in.Ground*pass.ground)
		d.WPerKW = m.PowerW(passed, d.CellC) / m.PmaxW * 1000
		d.HeatPct = 100 * (1 - m.HeatFactor(d.CellC))
		if passed > 0 {
			d.LowLightPct = 100 * (1 - m.LowLightFactor(passed))
		}
	}
	return out, nil
}
