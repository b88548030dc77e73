package electrical

import (
	"fmt"

	"rooftally/catalog"
)

// optimiserRules are the rules of strings whose modules each have an optimiser:
// the string holds one voltage, so that the modules' cold voltage does not set
// its length; the optimiser's units and power do.
func (r PlanRequest) optimiserRules() (planRules, error) {
	o := *r.Optimiser
	if err := sound("optimiser", o.ID, o.Check()); err != nil {
		return planRules{}, err
	}
	if err := sound("inverter", r.Inverter.ID, r.Inverter.Check()); err != nil {
		return planRules{}, err
	}
	code, err := CodeLimit(r.Conditions.Family, r.Conditions.Place)
	if err != nil {
		return planRules{}, err
	}
	unit, err := fitUnit(r.Module, r.Conditions, unitInput{
		what: "optimiser", maxV: o.MaxInputV, mpptMinV: o.MPPTMinV, mpptMaxV: o.MPPTMaxV, shortA: o.MaxShortCircuitA, moduleW: o.MaxModuleW})
	if err != nil {
		return planRules{}, err
	}
	rules := planRules{
		shortest: o.MinUnits, longest: min(o.MaxUnits, most(o.MaxStringW, float64(r.Module.PmaxW))),
		anyFacing: true, mostModules: r.mostModules(),
		figures: unit.figures, findings: unit.findings,
		voltages: func(int) (vocCold, vmpHot, vmpCold float64) {
			return o.StringVoltageV, o.StringVoltageV, o.StringVoltageV
		},
	}
	rules.inWindow = rules.longest
	rules.figures = append(rules.figures, code, Figure{
		Key: "longest", Label: "Longest string", Value: float64(rules.longest),
		Formula: "less of the most units and most string power / Pmax, rounded down",
		Numbers: fmt.Sprintf("less of %d and %s W / %d W: %d", o.MaxUnits, num(o.MaxStringW), r.Module.PmaxW, rules.longest),
		Source:  "datasheet of the optimiser",
	}, Figure{
		Key: "shortest", Label: "Shortest string", Value: float64(o.MinUnits),
		Formula: "least units", Numbers: fmt.Sprintf("%d", o.MinUnits), Source: "datasheet of the optimiser",
	})
	rules.findings = append(rules.findings, heldVoltage(o, r.Inverter, r.Module, code)...)
	r.optimiserInputs(&rules, o)
	return rules, nil
}

// heldVoltage tests the voltage that the optimisers hold.
func heldVoltage(o catalog.Optimiser, inv catalog.StringInverter, m catalog.Datasheet, code Figure) []Finding {
	var out []Finding
	v := o.StringVoltageV
	if v < inv.MPPTMinV || v > inv.MPPTMaxV {
		out = append(out, Finding{Error, "held_voltage", fmt.Sprintf(
			"The optimisers hold %s V; the inverter tracks %s to %s V.", num(v), num(inv.MPPTMinV), num(inv.MPPTMaxV))})
	}
	if inv.StartV > v {
		out = append(out, Finding{Error, "held_voltage", fmt.Sprintf(
			"The optimisers hold %s V; the inverter starts at %s V.", num(v), num(inv.StartV))})
	}
	for _, limit := range []struct {
		whose string
		v     float64
	}{{"inverter", inv.MaxDCV}, {"module", m.MaxSystemV}, {"code", code.Value}} {
		if v > limit.v {
			out = append(out, Finding{Error, "held_voltage", fmt.Sprintf("The optimisers hold %s V; the %s allows %s V.", num(v), limit.whose, num(limit.v))})
		}
	}
	return out
}

// optimiserInputs says how many strings each tracker takes: by its inputs and by
// the optimisers' most current. Where a finding already forbids the combination
// it is none.
func (r PlanRequest) optimiserInputs(rules *planRules, o catalog.Optimiser) {
	blocked := hasError(rules.findings)
	for _, t := range r.Inverter.MPPTs {
		k := min(t.Inputs, most(t.MaxShortCircuitA, o.MaxOutputA))
		if blocked {
			k = 0
		}
		rules.parallel = append(rules.parallel, k)
	}
	rules.clean = func(t, n int) int {
		return most(r.Inverter.MPPTs[t].MaxOperatingA, float64(n*r.Module.PmaxW)/o.StringVoltageV)
	}
}

// unitInput is the DC side of a micro-inverter or an optimiser.
type unitInput struct {
	what                     string
	maxV, mpptMinV, mpptMaxV float64
	startV, operatingA       float64 // 0 not given
	shortA, moduleW          float64 // moduleW 0 not given
}

// unitFit is whether one module suits one unit.
type unitFit struct {
	figures  []Figure
	findings []Finding
}

// fitUnit tests one module against the input of a unit.
func fitUnit(m catalog.Datasheet, c Conditions, u unitInput) (unitFit, error) {
	in, err := moduleInput(m, c)
	if err != nil {
		return unitFit{}, err
	}
	in.LimitV, in.MPPTMinV, in.MPPTMaxV, in.StartV = max(u.maxV, 10), u.mpptMinV, u.mpptMaxV, u.startV
	r, err := Range(in)
	if err != nil {
		return unitFit{}, err
	}
	fit := unitFit{figures: coldFigures(in, r, c.Family), findings: []Finding{}}
	say := func(level Level, code, format string, args ...any) {
		fit.findings = append(fit.findings, Finding{level, code, fmt.Sprintf(format, args...)})
	}
	if over(r.VocColdV, u.maxV) {
		say(Error, "unit_voltage", "The module has %s V in the cold; the %s stands %s V.", num(r.VocColdV), u.what, num(u.maxV))
	}
	if short := brightSun * m.IscA; over(short, u.shortA) {
		say(Error, "unit_short_circuit", "The module's short-circuit current can be %s A; the %s stands %s A.", num(short), u.what, num(u.shortA))
	}
	if u.moduleW > 0 && over(float64(m.PmaxW), u.moduleW) {
		say(Error, "unit_power", "The module has %d W; the %s allows %s W.", m.PmaxW, u.what, num(u.moduleW))
	}
	if r.Shortest > 1 {
		say(Error, "unit_window", "In the heat the module has %s V at maximum power and %s V open; the %s needs %s V to track and %s V to start.",
			num(r.VmpHotV), num(r.VocHotV), u.what, num(u.mpptMinV), num(max(u.startV, u.mpptMinV)))
	}
	if r.LongestInWindow < 1 {
		say(Warning, windowCold, "In the cold the module has %s V at maximum power; the %s tracks to %s V. Some energy is lost.",
			num(r.VmpColdV), u.what, num(u.mpptMaxV))
	}
	if u.operatingA > 0 && over(m.ImpA, u.operatingA) {
		say(Warning, "input_clips", "The module gives up to %s A; the %s uses %s A. In full sun some energy is lost.", num(m.ImpA), u.what, num(u.operatingA))
	}
	return fit, nil
}
