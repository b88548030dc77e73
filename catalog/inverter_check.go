package catalog

import (
	"fmt"
	"math"
)

// acMismatch is how far the highest AC current may be below rated power over
// voltage: the two are printed with two or three digits.
const acMismatch = 0.02

// acOver is the highest AC current over rated power / voltage from which it is
// doubted: a reserve for low grid voltage and reactive power is usual (common
// practice, no source).
const acOver = 1.4

// Check is [Datasheet.Check] for a string inverter.
func (v StringInverter) Check() []Problem {
	var c checker
	c.names(v.ID, v.Label)
	c.span("max_dc_v", v.MaxDCV, 50, 2000, " V")
	c.spanOrNone("max_array_w", v.MaxArrayW, 100, 1e7, " W")
	c.window(v.MPPTMinV, v.MPPTMaxV, v.StartV, 10, 2000)
	if len(v.MPPTs) < 1 || len(v.MPPTs) > 24 {
		c.bad("mppt_inputs", "has %d trackers; it must have 1 to 24", len(v.MPPTs))
	}
	for i, m := range v.MPPTs {
		if m.Inputs < 1 || m.Inputs > 24 {
			c.bad("mppt_inputs", "is %d for tracker %d; it must be 1 to 24", m.Inputs, i+1)
		}
		c.currents("mppt_", fmt.Sprintf(" for tracker %d", i+1), m.MaxOperatingA, m.MaxShortCircuitA, 1000)
	}
	c.span("ac_power_w", v.ACPowerW, 100, 1e7, " W")
	c.span("ac_current_a", v.ACCurrentA, 0.1, 1e4, " A")
	c.span("ac_voltage_v", v.ACVoltageV, 100, 1000, " V")
	c.output(v.Phases, v.WeightedEfficiencyPct, v.Price)
	if !c.sound() {
		return c.problems
	}
	if v.MPPTMaxV > v.MaxDCV {
		c.bad("mppt_max_v", "is %g V, above max_dc_v %g V", v.MPPTMaxV, v.MaxDCV)
	}
	c.acCurrent(v.ACPowerW, v.ACCurrentA, v.ACVoltageV, v.Phases)
	if v.MaxArrayW > 0 && v.MaxArrayW < v.ACPowerW {
		c.hardly("max_array_w", "is %g W, below ac_power_w %g W: the inverter could never reach its power", v.MaxArrayW, v.ACPowerW)
	}
	return c.problems
}

// Check is [Datasheet.Check] for a micro-inverter.
func (m MicroInverter) Check() []Problem {
	var c checker
	c.names(m.ID, m.Label)
	c.span("max_dc_v", m.MaxDCV, 5, 200, " V")
	c.window(m.MPPTMinV, m.MPPTMaxV, m.StartV, 5, 200)
	c.currents("", "", m.MaxOperatingA, m.MaxShortCircuitA, 50)
	c.spanOrNone("max_module_w", m.MaxModuleW, 50, 2000, " W")
	c.span("ac_power_w", m.ACPowerW, 50, 2000, " W")
	c.span("ac_current_a", m.ACCurrentA, 0.1, 20, " A")
	c.span("ac_voltage_v", m.ACVoltageV, 100, 500, " V")
	c.output(m.Phases, m.WeightedEfficiencyPct, m.Price)
	c.span("branch_breaker_a", m.BranchBreakerA, 5, 100, " A")
	c.whole("max_units_per_branch", m.MaxUnitsPerBranch, 0, 100)
	if !c.sound() {
		return c.problems
	}
	if m.MPPTMaxV > m.MaxDCV {
		c.bad("mppt_max_v", "is %g V, above max_dc_v %g V", m.MPPTMaxV, m.MaxDCV)
	}
	c.acCurrent(m.ACPowerW, m.ACCurrentA, m.ACVoltageV, m.Phases)
	free := m
	free.MaxUnitsPerBranch = 0
	if most := free.UnitsPerBranch(m.BranchBreakerA); m.MaxUnitsPerBranch > most {
		c.bad("max_units_per_branch", "is %d; %g x %g A allows only %d on a breaker of %g A",
			m.MaxUnitsPerBranch, ContinuousFactor, m.ACCurrentA, most, m.BranchBreakerA)
	}
	return c.problems
}

// Check is [Datasheet.Check] for an optimiser.
func (o Optimiser) Check() []Problem {
	var c checker
	c.names(o.ID, o.Label)
	c.span("max_input_v", o.MaxInputV, 5, 200, " V")
	c.window(o.MPPTMinV, o.MPPTMaxV, 0, 5, 200)
	c.span("max_short_circuit_a", o.MaxShortCircuitA, 1, 50, " A")
	c.span("max_module_w", o.MaxModuleW, 50, 2000, " W")
	c.span("string_voltage_v", o.StringVoltageV, 50, 2000, " V")
	c.span("max_output_a", o.MaxOutputA, 1, 50, " A")
	c.whole("min_units", o.MinUnits, 1, 100)
	c.whole("max_units", o.MaxUnits, 1, 100)
	c.span("max_string_w", o.MaxStringW, 100, 1e5, " W")
	c.span("weighted_efficiency_pct", o.WeightedEfficiencyPct, 80, 100, " %")
	c.span("price", o.Price, 0, 100000, "")
	if !c.sound() {
		return c.problems
	}
	if o.MPPTMaxV > o.MaxInputV {
		c.bad("mppt_max_v", "is %g V, above max_input_v %g V", o.MPPTMaxV, o.MaxInputV)
	}
	if o.MinUnits > o.MaxUnits {
		c.bad("min_units", "is %d, above max_units %d", o.MinUnits, o.MaxUnits)
	}
	if carried := o.StringVoltageV * o.MaxOutputA; o.MaxStringW > carried*(1+acMismatch) {
		c.hardly("max_string_w", "is %g W; string_voltage_v x max_output_a is only %.0f W", o.MaxStringW, carried)
	}
	return c.problems
}

// window tests a voltage window and, where it is given, the start voltage.
func (c *checker) window(minV, maxV, startV, lo, hi float64) {
	c.span("mppt_min_v", minV, lo, hi, " V")
	c.span("mppt_max_v", maxV, lo, hi, " V")
	c.spanOrNone("start_v", startV, lo, hi, " V")
	if minV >= maxV {
		c.bad("mppt_min_v", "is %g V, not below mppt_max_v %g V", minV, maxV)
	}
	if startV > maxV {
		c.bad("start_v", "is %g V, above mppt_max_v %g V: it would never start", startV, maxV)
	}
}

// currents tests the two currents of an input. The prefix goes before the
// fields' names, the words where after the value.
func (c *checker) currents(prefix, where string, operatingA, shortA, most float64) {
	for _, f := range []struct {
		name string
		a    float64
	}{{"max_operating_a", operatingA}, {"max_short_circuit_a", shortA}} {
		if !(f.a >= 1 && f.a <= most) {
			c.bad(prefix+f.name, "is %g%s; it must be 1 to %g A", f.a, where, most)
		}
	}
	if shortA < operatingA {
		c.bad(prefix+"max_short_circuit_a", "is %g A%s, below max_operating_a %g A", shortA, where, operatingA)
	}
}

// output tests what inverters of all kinds have.
func (c *checker) output(phases int, efficiencyPct, price float64) {
	if phases != 1 && phases != 3 {
		c.bad("phases", "is %d; it must be 1 or 3", phases)
	}
	c.span("weighted_efficiency_pct", efficiencyPct, 80, 100, " %")
	c.span("price", price, 0, 100000, "")
}

// acCurrent compares rated AC power with the highest AC current.
func (c *checker) acCurrent(powerW, currentA, voltageV float64, phases int) {
	rated := powerW / voltageV
	if phases == 3 {
		rated /= math.Sqrt(3)
	}
	switch {
	case currentA < rated*(1-acMismatch):
		c.bad("ac_current_a", "is %g A; %g W at %g V and %d phase(s) need %.2f A", currentA, powerW, voltageV, phases, rated)
	case currentA > rated*acOver:
		c.hardly("ac_current_a", "is %g A, much more than the %.2f A of %g W at %g V and %d phase(s)", currentA, rated, powerW, voltageV, phases)
	}
}
