package electrical

import (
	"fmt"

	"rooftally/catalog"
)

// Conditions are what a site demands of a string.
type Conditions struct {
	// ColdC is the lowest expected air temperature and HotCellC the hottest
	// cell temperature; ranges as in [StringInput].
	ColdC    float64
	HotCellC float64
	// Family and Place decide the code's voltage limit.
	Family Family
	Place  Place
}

// StringLimits is what a string of one module type on one inverter type must
// keep to.
type StringLimits struct {
	StringRange
	// LimitV is the least of three highest voltages and LimitBy says whose:
	// "inverter", "module" or "code".
	LimitV  float64 `json:"limit_v"`
	LimitBy string  `json:"limit_by"`
	// Figures are the numbers for display, in the order of reasoning.
	Figures []Figure `json:"figures"`
	// Findings are errors (no length works), warnings and notes.
	Findings []Finding `json:"findings"`
}

// Limits returns the string limits of a module on an inverter under the site's
// conditions. A module or inverter whose own check fails, a condition out of
// range, or a table that cannot be used gives an error; where it can be blamed
// on one value it is an [*InputError].
func Limits(m catalog.Datasheet, inv catalog.StringInverter, c Conditions) (StringLimits, error) {
	if err := sound("inverter", inv.ID, inv.Check()); err != nil {
		return StringLimits{}, err
	}
	code, err := CodeLimit(c.Family, c.Place)
	if err != nil {
		return StringLimits{}, err
	}
	l := StringLimits{LimitV: inv.MaxDCV, LimitBy: "inverter"}
	if m.MaxSystemV < l.LimitV {
		l.LimitV, l.LimitBy = m.MaxSystemV, "module"
	}
	if code.Value < l.LimitV {
		l.LimitV, l.LimitBy = code.Value, "code"
	}
	in, err := moduleInput(m, c)
	if err != nil {
		return StringLimits{}, err
	}
	in.LimitV, in.MPPTMinV, in.MPPTMaxV, in.StartV = l.LimitV, inv.MPPTMinV, inv.MPPTMaxV, inv.StartV
	if l.StringRange, err = Range(in); err != nil {
		return StringLimits{}, err
	}
	l.Figures = append(coldFigures(in, l.StringRange, c.Family), code, limitFigure(m, inv, code, l))
	l.Figures = append(l.Figures, lengthFigures(in, l.StringRange)...)
	l.Findings = lengthFindings(in, l.StringRange)
	return l, nil
}

// sound returns an error for a catalog entry whose check finds an error.
func sound(what, id string, problems []catalog.Problem) error {
	for _, p := range problems {
		if !p.Doubt {
			return fmt.Errorf("%s %s: %w", what, id, &InputError{Field: p.Field, Message: p.Message})
		}
	}
	return nil
}

// moduleInput fills what the module and the site say; the caller adds the rest.
func moduleInput(m catalog.Datasheet, c Conditions) (StringInput, error) {
	if err := sound("module", m.ID, m.Check()); err != nil {
		return StringInput{}, err
	}
	if m.BetaVocPctPerK == 0 && !m.CellType.CrystallineSilicon() {
		return StringInput{}, fmt.Errorf("module %s: %w", m.ID, bad("beta_voc_pct_per_k",
			"is not given; the voltage table (NEC Table 690.7(A)) holds for crystalline silicon only"))
	}
	return StringInput{
		VocV: m.VocV, VmpV: m.VmpV,
		BetaVocPctPerK: m.BetaVocPctPerK, BetaVmpPctPerK: m.BetaVmpPctPerK, GammaPmaxPctPerK: m.GammaPmaxPctPerK,
		ColdC: c.ColdC, HotCellC: c.HotCellC,
	}, nil
}

// coldFigures shows the open-circuit voltage in the cold.
func coldFigures(in StringInput, r StringRange, family Family) []Figure {
	f := Figure{Key: "voc_cold", Label: "Open-circuit voltage of a module, cold", Unit: "V", Value: r.VocColdV}
	if r.Method == ByCoefficient {
		f.Formula = "Voc x (1 + coefficient x (cold - 25 C))"
		f.Numbers = fmt.Sprintf("%s V x (1 + %s %%/K x (%s C - 25 C)) = %s V x %s = %s V",
			num(in.VocV), num(in.BetaVocPctPerK), num(in.ColdC), num(in.VocV), factor(r.ColdFactor), num(r.VocColdV))
		f.Source = "NEC 690.7(A)(1)"
	} else {
		f.Formula = "Voc x factor of the table for the lowest temperature"
		f.Numbers = fmt.Sprintf("%s V x %s (at %s C) = %s V", num(in.VocV), factor(r.ColdFactor), num(in.ColdC), num(r.VocColdV))
		f.Source = "NEC Table 690.7(A), as the module gives no coefficient"
	}
	if family == IEC {
		f.Source += "; IEC 62548:2016 7.2 has the like, from memory"
	}
	return []Figure{f}
}

// factor writes a factor with four decimals.
func factor(v float64) string { return fmt.Sprintf("%.4f", v) }

// limitFigure shows the least of the three highest voltages.
func limitFigure(m catalog.Datasheet, inv catalog.StringInverter, code Figure, l StringLimits) Figure {
	return Figure{
		Key: "limit", Label: "Highest string voltage", Unit: "V", Value: l.LimitV,
		Formula: "least of inverter, module and code",
		Numbers: fmt.Sprintf("least of %s V (inverter), %s V (module), %s V (code) = %s V, the %s's",
			num(inv.MaxDCV), num(m.MaxSystemV), num(code.Value), num(l.LimitV), l.LimitBy),
		Source: "datasheets; " + code.Source,
	}
}

// lengthFigures shows the shortest and longest string and the voltages they
// rest on.
func lengthFigures(in StringInput, r StringRange) []Figure {
	vmpSource := "datasheet: coefficient of Vmp"
	if in.BetaVmpPctPerK == 0 {
		vmpSource = "datasheet: coefficient of Pmax, as none is given for Vmp"
	}
	vmp := func(key, label string, cellC, v float64) Figure {
		return Figure{
			Key: key, Label: label, Unit: "V", Value: v,
			Formula: "Vmp x (1 + coefficient x (cell - 25 C))",
			Numbers: fmt.Sprintf("%s V x (1 + %s %%/K x (%s C - 25 C)) = %s V", num(in.VmpV), num(in.vmpCoefficient()), num(cellC), num(v)),
			Source:  vmpSource,
		}
	}
	count := func(key, label, formula, source string, limitV, eachV float64, n int) Figure {
		return Figure{
			Key: key, Label: label, Value: float64(n), Formula: formula, Source: source,
			Numbers: fmt.Sprintf("%s V / %s V = %s: %d", num(limitV), num(eachV), num(limitV/eachV), n),
		}
	}
	out := []Figure{
		count("longest", "Longest string", "highest voltage / cold Voc, rounded down", "NEC 690.7(A); IEC 62548:2016 7.2, from memory", in.LimitV, r.VocColdV, r.Longest),
		vmp("vmp_hot", "Voltage of a module at maximum power, hot", in.HotCellC, r.VmpHotV),
		count("shortest_mppt", "Shortest string for the tracking window", "window minimum / hot Vmp, rounded up",
			"common practice, no source", in.MPPTMinV, r.VmpHotV, r.ShortestMPPT),
	}
	if in.StartV > 0 {
		out = append(out, count("shortest_start", "Shortest string for starting", "start voltage / hot Voc, rounded up",
			"common practice, no source", in.StartV, r.VocHotV, r.ShortestStart))
	}
	return append(out,
		vmp("vmp_cold", "Voltage of a module at maximum power, cold", in.ColdC, r.VmpColdV),
		count("longest_in_window", "Longest string that stays in the window when cold", "window maximum / cold Vmp, rounded down",
			"common practice, no source", in.MPPTMaxV, r.VmpColdV, r.LongestInWindow))
}

// windowCold is the code of findings about voltages above the tracking window.
const windowCold = "window_cold"

// lengthFindings says where no length works and where the longest strings leave
// the window.
func lengthFindings(in StringInput, r StringRange) []Finding {
	out := []Finding{}
	switch {
	case !r.Any():
		out = append(out, Finding{Error, "no_length", fmt.Sprintf(
			"No string length works: at least %d modules are needed and at most %d are allowed.", r.Shortest, r.Longest)})
	case r.LongestInWindow < r.Shortest:
		out = append(out, Finding{Warning, windowCold, fmt.Sprintf(
			"Every allowed string is above the tracking window (%s V) in the cold; some energy is lost.", num(in.MPPTMaxV))})
	case r.LongestInWindow < r.Longest:
		out = append(out, Finding{Warning, windowCold, fmt.Sprintf(
			"Strings of more than %d modules are above the tracking window (%s V) in the cold; some energy is lost.", r.LongestInWindow, num(in.MPPTMaxV))})
	}
	return out
}
