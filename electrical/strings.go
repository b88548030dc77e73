package electrical

// StringInput is what the length of a string depends on.
type StringInput struct {
	// VocV and VmpV are the module's open-circuit voltage and its voltage at
	// maximum power, at standard test conditions. 1 to 500 V, VmpV below VocV.
	VocV, VmpV float64
	// BetaVocPctPerK and BetaVmpPctPerK are their temperature coefficients, -1
	// up to below 0 percent per kelvin; 0 is not given. GammaPmaxPctPerK, that
	// of maximum power, is required.
	BetaVocPctPerK, BetaVmpPctPerK, GammaPmaxPctPerK float64
	// ColdC is the lowest expected air temperature, which the cells have at
	// sunrise, -60 to 40 C. HotCellC is the hottest cell temperature, 0 to
	// 120 C and above ColdC.
	ColdC, HotCellC float64
	// LimitV is the highest voltage that everything in the string stands, 10 to
	// 2000 V.
	LimitV float64
	// MPPTMinV and MPPTMaxV are the inverter's tracking window, 1 to 2000 V.
	MPPTMinV, MPPTMaxV float64
	// StartV is the voltage at which it starts, 1 to 2000 V; 0 is not given.
	StartV float64
}

// StringRange is how many modules a string may hold, and why. Voltages are of
// one module.
type StringRange struct {
	Method Method `json:"method"`
	// ColdFactor is VocColdV over the rated open-circuit voltage.
	ColdFactor float64 `json:"cold_factor"`
	// VocColdV and VmpColdV are at ColdC, VocHotV and VmpHotV at HotCellC.
	VocColdV float64 `json:"voc_cold_v"`
	VmpColdV float64 `json:"vmp_cold_v"`
	VocHotV  float64 `json:"voc_hot_v"`
	VmpHotV  float64 `json:"vmp_hot_v"`
	// Longest is the most modules whose cold open-circuit voltages stay within
	// the limit, equality allowed; 0 where one module is over it.
	Longest int `json:"longest"`
	// ShortestMPPT is the least number whose hot voltage at maximum power
	// reaches the window, ShortestStart the least whose hot open-circuit voltage
	// reaches the start voltage (1 where none is given), Shortest the greater.
	ShortestMPPT  int `json:"shortest_mppt"`
	ShortestStart int `json:"shortest_start"`
	Shortest      int `json:"shortest"`
	// LongestInWindow is the most modules whose cold voltage at maximum power
	// stays in the window. A longer string works, but not at its best in the
	// cold.
	LongestInWindow int `json:"longest_in_window"`
}

// check tests the ranges of the input.
func (in StringInput) check() error {
	err := checkSpans(
		span{"voc_v", in.VocV, 1, 500, "V"}, span{"vmp_v", in.VmpV, 1, 500, "V"},
		span{"cold_c", in.ColdC, -60, 40, "C"}, span{"hot_cell_c", in.HotCellC, 0, 120, "C"},
		span{"limit_v", in.LimitV, 10, 2000, "V"},
		span{"mppt_min_v", in.MPPTMinV, 1, 2000, "V"}, span{"mppt_max_v", in.MPPTMaxV, 1, 2000, "V"},
	)
	if err != nil {
		return err
	}
	for _, c := range []struct {
		field    string
		pct      float64
		optional bool
	}{
		{"gamma_pmax_pct_per_k", in.GammaPmaxPctPerK, false},
		{"beta_voc_pct_per_k", in.BetaVocPctPerK, true},
		{"beta_vmp_pct_per_k", in.BetaVmpPctPerK, true},
	} {
		if !(c.pct >= -1 && c.pct < 0) && !(c.optional && c.pct == 0) {
			return bad(c.field, "is %g; it must be -1 up to below 0 %%/K", c.pct)
		}
	}
	switch {
	case in.VmpV >= in.VocV:
		return bad("vmp_v", "is %g V, not below voc_v %g V", in.VmpV, in.VocV)
	case in.HotCellC <= in.ColdC:
		return bad("hot_cell_c", "is %g C, not above cold_c %g C", in.HotCellC, in.ColdC)
	case in.MPPTMinV >= in.MPPTMaxV:
		return bad("mppt_min_v", "is %g V, not below mppt_max_v %g V", in.MPPTMinV, in.MPPTMaxV)
	case in.StartV != 0:
		return checkSpans(span{"start_v", in.StartV, 1, 2000, "V"})
	}
	return nil
}

// Range returns how many modules a string may hold. Values out of range give an
// [*InputError]; so does a temperature outside the table where the table is
// used. Shortest may come out above Longest: then no length works.
//
// Where a coefficient is not given, the hot open-circuit voltage and both
// voltages at maximum power use that of maximum power, which is the steeper one.
func Range(in StringInput) (StringRange, error) {
	if err := in.check(); err != nil {
		return StringRange{}, err
	}
	r := StringRange{Method: ByCoefficient}
	betaVmp, betaVoc := in.vmpCoefficient(), in.BetaVocPctPerK
	if betaVoc != 0 {
		r.ColdFactor = atCell(1, betaVoc, in.ColdC)
	} else {
		factor, err := TableFactor(in.ColdC)
		if err != nil {
			return StringRange{}, err
		}
		r.Method, r.ColdFactor = ByTable, factor
		betaVoc = in.GammaPmaxPctPerK
	}
	r.VocColdV = in.VocV * r.ColdFactor
	r.VocHotV = atCell(in.VocV, betaVoc, in.HotCellC)
	r.VmpColdV = atCell(in.VmpV, betaVmp, in.ColdC)
	r.VmpHotV = atCell(in.VmpV, betaVmp, in.HotCellC)

	r.Longest = most(in.LimitV, r.VocColdV)
	r.LongestInWindow = most(in.MPPTMaxV, r.VmpColdV)
	r.ShortestMPPT = least(in.MPPTMinV, r.VmpHotV)
	r.ShortestStart = 1
	if in.StartV > 0 {
		r.ShortestStart = least(in.StartV, r.VocHotV)
	}
	r.Shortest = max(r.ShortestMPPT, r.ShortestStart)
	return r, nil
}

// vmpCoefficient is the coefficient of the voltage at maximum power, or that of
// the power where it is not given.
func (in StringInput) vmpCoefficient() float64 {
	if in.BetaVmpPctPerK != 0 {
		return in.BetaVmpPctPerK
	}
	return in.GammaPmaxPctPerK
}

// Works reports whether a string of n modules stays within the limits.
func (r StringRange) Works(n int) bool { return n >= r.Shortest && n <= r.Longest && n > 0 }

// Any reports whether some length works.
func (r StringRange) Any() bool { return r.Works(max(1, r.Shortest)) }
