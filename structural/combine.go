package structural

import "math"

// term is one load of a combination with its factor: weight, snow or wind.
type term struct {
	load   byte // 'D', 'S', 'A' (exceptional snow), 'W'
	factor float64
}

// combination is a sum of loads that act together.
type combination struct {
	key     string
	side    Side
	formula string
	terms   []term
	source  string
}

// combinations lists what is compared with the ratings. They are of service
// level: what a design rating is meant for.
func (r LoadRequest) combinations() []combination {
	if r.Family == EN {
		return r.combinationsEN()
	}
	const wind = 0.6
	snow, alone, beside, source := 1.0, "1.0 S", "0.75 S", "ASCE 7-16 2.4.1, from memory"
	if r.ASCESnow != nil && r.ASCESnow.Edition == ASCE722 {
		snow, alone, beside, source = 0.7, "0.7 S", "0.75 x 0.7 S", "ASCE 7-22 2.4.1, from memory"
	}
	return []combination{
		{"wind_down", Front, "0.6 W", []term{{'W', wind}}, source},
		{"snow", Front, alone, []term{{'S', snow}}, source},
		{"weight_snow_wind", Front, "D + " + beside + " + 0.75 x 0.6 W", []term{{'D', 1}, {'S', 0.75 * snow}, {'W', 0.75 * wind}}, source},
		{"wind_up", Rear, "0.6 W", []term{{'W', wind}}, source},
		{"weight_wind_up", Rear, "0.6 D - 0.6 W", []term{{'W', wind}, {'D', -0.6}}, source},
	}
}

// combinationsEN are characteristic combinations, EN 1990 6.5.3: each variable
// load leads once, the other with its psi0, 0.6 for wind.
func (r LoadRequest) combinationsEN() []combination {
	const source = "EN 1990 6.5.3, from memory"
	const windPsi0 = 0.6
	psi0 := 0.5
	if r.ENSnow != nil {
		psi0 = r.ENSnow.Psi0
	}
	out := []combination{
		{"wind_down", Front, "W", []term{{'W', 1}}, source},
		{"snow", Front, "S", []term{{'S', 1}}, source},
		{"weight_snow_wind", Front, "D + S + 0.6 W", []term{{'D', 1}, {'S', 1}, {'W', windPsi0}}, source},
		{"weight_wind_snow", Front, "D + W + " + num(psi0) + " S", []term{{'D', 1}, {'W', 1}, {'S', psi0}}, source},
		{"wind_up", Rear, "W", []term{{'W', 1}}, source},
		{"weight_wind_up", Rear, "D - W", []term{{'W', 1}, {'D', -1}}, source},
	}
	if r.ENSnow != nil && r.ENSnow.Exceptional {
		out = append(out, combination{"exceptional_snow", Front, "D + exceptional S", []term{{'D', 1}, {'A', 1}}, "EN 1990 6.4.3.3 and EN 1991-1-3 4.3, from memory"})
	}
	return out
}

// loads are what acts on one module, square to it, pascals; nil is not known.
type loads struct {
	weight                  float64
	snow, exceptional       *float64
	windDown, windUp        *float64
	frontRating, rearRating float64
}

// Check is one combination on one module.
type Check struct {
	// Key names the combination, Side the face it acts on, Formula its terms:
	// D weight, S snow, W wind, all square to the module.
	Key     string `json:"key"`
	Side    Side   `json:"side"`
	Formula string `json:"formula"`
	// Numbers is the formula with the numbers put in.
	Numbers string `json:"numbers"`
	// Pa is the pressure on the side, at least 0; RatingPa the design rating, 0
	// where none is given; Ratio Pa / RatingPa, 0 without a rating.
	Pa       float64 `json:"pa"`
	RatingPa float64 `json:"rating_pa"`
	Ratio    float64 `json:"ratio"`
	Source   string  `json:"source"`
}

// of returns a load by its letter.
func (l loads) of(letter byte, side Side) *float64 {
	switch {
	case letter == 'D':
		return &l.weight
	case letter == 'S':
		return l.snow
	case letter == 'A':
		return l.exceptional
	case side == Rear:
		return l.windUp
	}
	return l.windDown
}

// check works out one combination; false where a load is not known.
func (l loads) check(c combination) (Check, bool) {
	out := Check{Key: c.key, Side: c.side, Formula: c.formula, RatingPa: l.frontRating, Source: c.source}
	if c.side == Rear {
		out.RatingPa = l.rearRating
	}
	for i, t := range c.terms {
		v := l.of(t.load, c.side)
		if v == nil {
			return Check{}, false
		}
		out.Pa += float64(t.factor * *v)
		switch {
		case t.factor < 0:
			out.Numbers += " - "
		case i > 0:
			out.Numbers += " + "
		}
		out.Numbers += rounded(math.Abs(t.factor), 3) + " x " + whole(*v)
	}
	out.Pa = max(0, out.Pa)
	out.Numbers += " = " + whole(out.Pa) + " Pa"
	if out.RatingPa > 0 {
		out.Ratio = out.Pa / out.RatingPa
		out.Numbers += " of " + whole(out.RatingPa) + " Pa"
	}
	return out, true
}
