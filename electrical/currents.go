package electrical

import (
	"fmt"

	"rooftally/catalog"
)

// Factors on the short-circuit current, fractions of Isc.
const (
	// brightSun: irradiance can pass 1000 W/m2 (NEC 690.8(A)(1)).
	brightSun = 1.25
	// conductorFactor is brightSun times 1.25 for continuous current (NEC
	// 690.8(B), 690.9(B)): for conductors and fuses, not for inverter inputs.
	conductorFactor = brightSun * catalog.ContinuousFactor
)

// InputCurrents is what parallel strings of one module do to one tracker.
type InputCurrents struct {
	Parallel int `json:"parallel"`
	// ShortCircuitA is 1.25 x Isc x Parallel, OperatingA is Imp x Parallel.
	ShortCircuitA float64 `json:"short_circuit_a"`
	OperatingA    float64 `json:"operating_a"`
	// Fuses says that each string needs one, of at least FuseMinA and at most
	// FuseMaxA (the module's largest). Where no fuse is needed the two are what
	// one would have to be.
	Fuses    bool      `json:"fuses"`
	FuseMinA float64   `json:"fuse_min_a"`
	FuseMaxA float64   `json:"fuse_max_a"`
	Figures  []Figure  `json:"figures"`
	Findings []Finding `json:"findings"`
}

// Currents returns what parallel strings do to a tracker: more strings than
// inputs, or 1.25 x Isc above its short-circuit rating, is an error; Imp above
// its operating current only clips, a warning. Fuses are needed where
// (parallel - 1) x Isc passes the module's largest fuse; where then no fuse is
// both large enough for the string and small enough for the module, that is an
// error too. parallel is 1 to 24, else an [*InputError].
func Currents(m catalog.Datasheet, tracker catalog.MPPT, parallel int) (InputCurrents, error) {
	if parallel < 1 || parallel > 24 {
		return InputCurrents{}, bad("parallel", "is %d; it must be 1 to 24", parallel)
	}
	k := float64(parallel)
	c := InputCurrents{
		Parallel:      parallel,
		ShortCircuitA: brightSun * m.IscA * k,
		OperatingA:    m.ImpA * k,
		Fuses:         over((k-1)*m.IscA, m.MaxSeriesFuseA),
		FuseMinA:      conductorFactor * m.IscA,
		FuseMaxA:      m.MaxSeriesFuseA,
		Findings:      []Finding{},
	}
	c.Figures = c.figures(m, tracker)
	if parallel > tracker.Inputs {
		c.say(Error, "inputs", "%d strings, but the tracker has %d inputs.", parallel, tracker.Inputs)
	}
	if over(c.ShortCircuitA, tracker.MaxShortCircuitA) {
		c.say(Error, "input_short_circuit", "The short-circuit current can be %s A; the input stands %s A.",
			num(c.ShortCircuitA), num(tracker.MaxShortCircuitA))
	}
	if over(c.OperatingA, tracker.MaxOperatingA) {
		c.say(Warning, "input_clips", "The modules give up to %s A; the input uses %s A. In full sun some energy is lost.",
			num(c.OperatingA), num(tracker.MaxOperatingA))
	}
	switch {
	case c.Fuses && over(c.FuseMinA, c.FuseMaxA):
		c.say(Error, "fuse", "Each string needs a fuse of at least %s A, and the module allows at most %s A.", num(c.FuseMinA), num(c.FuseMaxA))
	case c.Fuses:
		c.say(Warning, "fuses", "Each string needs a fuse of %s to %s A.", num(c.FuseMinA), num(c.FuseMaxA))
	}
	return c, nil
}

// over reports whether a current is above a limit; see countSlack.
func over(a, limitA float64) bool { return a > limitA*(1+countSlack) }

func (c *InputCurrents) say(level Level, code, format string, args ...any) {
	c.Findings = append(c.Findings, Finding{level, code, fmt.Sprintf(format, args...)})
}

// figures shows the currents.
func (c InputCurrents) figures(m catalog.Datasheet, tracker catalog.MPPT) []Figure {
	return []Figure{
		{
			Key: "input_short_circuit", Label: "Short-circuit current at the input", Unit: "A", Value: c.ShortCircuitA,
			Formula: "1.25 x Isc x strings <= short-circuit rating of the input",
			Numbers: fmt.Sprintf("1.25 x %s A x %d = %s A; rating %s A", num(m.IscA), c.Parallel, num(c.ShortCircuitA), num(tracker.MaxShortCircuitA)),
			Source:  "NEC 690.8(A)(1); datasheets",
		},
		{
			Key: "input_operating", Label: "Current at maximum power", Unit: "A", Value: c.OperatingA,
			Formula: "Imp x strings; above the input's operating current the inverter clips",
			Numbers: fmt.Sprintf("%s A x %d = %s A; usable %s A", num(m.ImpA), c.Parallel, num(c.OperatingA), num(tracker.MaxOperatingA)),
			Source:  "datasheets",
		},
		{
			Key: "backfeed", Label: "Current that the other strings can push into one", Unit: "A", Value: float64(c.Parallel-1) * m.IscA,
			Formula: "(strings - 1) x Isc; above the module's largest fuse each string needs a fuse",
			Numbers: fmt.Sprintf("%d x %s A = %s A; largest fuse %s A", c.Parallel-1, num(m.IscA), num(float64(c.Parallel-1)*m.IscA), num(m.MaxSeriesFuseA)),
			Source:  "NEC 690.9(A); IEC 62548, from memory",
		},
		{
			Key: "conductor", Label: "Least rating of a string's conductor and fuse", Unit: "A", Value: c.FuseMinA,
			Formula: "1.25 x 1.25 x Isc",
			Numbers: fmt.Sprintf("1.5625 x %s A = %s A", num(m.IscA), num(c.FuseMinA)),
			Source:  "NEC 690.8(B), 690.9(B); IEC rules use other factors",
		},
	}
}

// MostParallel returns how many strings one tracker may take: no more than it
// has inputs, and no finding of level Error from [Currents].
func MostParallel(m catalog.Datasheet, tracker catalog.MPPT) int {
	for n := min(tracker.Inputs, 24); n > 0; n-- {
		c, err := Currents(m, tracker, n)
		if err == nil && !hasError(c.Findings) {
			return n
		}
	}
	return 0
}

// hasError reports whether one of the findings is an error.
func hasError(findings []Finding) bool {
	for _, f := range findings {
		if f.Level == Error {
			return true
		}
	}
	return false
}

// Ratios of module power to inverter power outside which a note is given
// (common practice, no source).
const (
	lowDCAC  = 0.8
	highDCAC = 1.5
)

// DCAC returns the ratio of module power to rated AC power, with a note outside
// 0.8 to 1.5 and an error where the modules pass the inverter's largest array.
// acW must be above 0, else an [*InputError].
func DCAC(modulesW float64, inv catalog.StringInverter) (Figure, []Finding, error) {
	if !(inv.ACPowerW > 0) {
		return Figure{}, nil, bad("ac_power_w", "is %g; it must be above 0", inv.ACPowerW)
	}
	ratio := modulesW / inv.ACPowerW
	f := Figure{
		Key: "dc_ac", Label: "Module power to inverter power", Value: ratio,
		Formula: "sum of Pmax / rated AC power",
		Numbers: fmt.Sprintf("%s W / %s W = %s", num(modulesW), num(inv.ACPowerW), num(ratio)),
		Source:  "datasheets",
	}
	findings := []Finding{}
	switch {
	case ratio > highDCAC:
		findings = append(findings, Finding{Note, "dc_ac_high", fmt.Sprintf("The ratio %.2f is above %g: expect clipping around noon.", ratio, highDCAC)})
	case ratio < lowDCAC:
		findings = append(findings, Finding{Note, "dc_ac_low", fmt.Sprintf("The ratio %.2f is below %g: the inverter is larger than the modules need.", ratio, lowDCAC)})
	}
	if inv.MaxArrayW > 0 && over(modulesW, inv.MaxArrayW) {
		findings = append(findings, Finding{Error, "max_array", fmt.Sprintf("%s W of modules pass the %s W that the inverter's maker allows.", num(modulesW), num(inv.MaxArrayW))})
	}
	return f, findings, nil
}
