package catalog

import "math"

// StringInverter is an inverter that strings of modules are wired to. A zero
// stands for "not given" in every field that says so.
type StringInverter struct {
	// ID, Label and Invented are as in [Module].
	ID       string `json:"id"`
	Label    string `json:"label"`
	Invented bool   `json:"invented"`

	// MaxDCV is the highest DC voltage it stands, 50 to 2000 V.
	MaxDCV float64 `json:"max_dc_v"`
	// MaxArrayW is the largest array by rated power that its maker allows,
	// 100 to 10 000 000 W; 0 is not given.
	MaxArrayW float64 `json:"max_array_w"`
	// MPPTMinV and MPPTMaxV are the ends of the voltage window in which it
	// finds the maximum power point, 10 to 2000 V.
	MPPTMinV float64 `json:"mppt_min_v"`
	MPPTMaxV float64 `json:"mppt_max_v"`
	// StartV is the voltage at which it starts, 10 to 2000 V; 0 is not given.
	StartV float64 `json:"start_v"`
	// MPPTs are its maximum power point trackers, 1 to 24.
	MPPTs []MPPT `json:"mppts"`

	// ACPowerW is the rated AC power, 100 to 10 000 000 W, ACCurrentA the
	// highest AC current of one phase, 0.1 to 10 000 A, and ACVoltageV the
	// nominal voltage between its lines, 100 to 1000 V.
	ACPowerW   float64 `json:"ac_power_w"`
	ACCurrentA float64 `json:"ac_current_a"`
	ACVoltageV float64 `json:"ac_voltage_v"`
	// Phases is 1 (split phase is 1 too) or 3.
	Phases int `json:"phases"`
	// WeightedEfficiencyPct is the weighted efficiency, 80 to 100 percent.
	WeightedEfficiencyPct float64 `json:"weighted_efficiency_pct"`
	// ArcFault says that it has listed DC arc-fault protection.
	ArcFault bool `json:"arc_fault"`
	// Price is as in [Datasheet].
	Price float64 `json:"price"`
}

// MPPT is one maximum power point tracker.
type MPPT struct {
	// Inputs is how many strings can be plugged in, 1 to 24.
	Inputs int `json:"inputs"`
	// MaxOperatingA is the current it can use, all inputs together, above
	// which it clips; MaxShortCircuitA the short-circuit current it stands.
	// 1 to 1000 A.
	MaxOperatingA    float64 `json:"max_operating_a"`
	MaxShortCircuitA float64 `json:"max_short_circuit_a"`
}

// MicroInverter is an inverter for one module.
type MicroInverter struct {
	// ID, Label and Invented are as in [Module].
	ID       string `json:"id"`
	Label    string `json:"label"`
	Invented bool   `json:"invented"`

	// MaxDCV, MPPTMinV, MPPTMaxV and StartV are as in [StringInverter], 5 to
	// 200 V, for one module; StartV 0 is not given.
	MaxDCV   float64 `json:"max_dc_v"`
	MPPTMinV float64 `json:"mppt_min_v"`
	MPPTMaxV float64 `json:"mppt_max_v"`
	StartV   float64 `json:"start_v"`
	// MaxOperatingA is the current above which it clips, MaxShortCircuitA what
	// its input stands, 1 to 50 A.
	MaxOperatingA    float64 `json:"max_operating_a"`
	MaxShortCircuitA float64 `json:"max_short_circuit_a"`
	// MaxModuleW is the largest module that its maker allows, 50 to 2000 W; 0
	// is not given.
	MaxModuleW float64 `json:"max_module_w"`

	// ACPowerW 50 to 2000, ACCurrentA 0.1 to 20, ACVoltageV 100 to 500, Phases
	// and WeightedEfficiencyPct are as in [StringInverter].
	ACPowerW              float64 `json:"ac_power_w"`
	ACCurrentA            float64 `json:"ac_current_a"`
	ACVoltageV            float64 `json:"ac_voltage_v"`
	Phases                int     `json:"phases"`
	WeightedEfficiencyPct float64 `json:"weighted_efficiency_pct"`
	// BranchBreakerA is the breaker of one AC branch, 5 to 100 A, and
	// MaxUnitsPerBranch what the maker allows on it, 1 to 100; 0 is not given.
	BranchBreakerA    float64 `json:"branch_breaker_a"`
	MaxUnitsPerBranch int     `json:"max_units_per_branch"`
	// Price is as in [Datasheet].
	Price float64 `json:"price"`
}

// Optimiser is a DC converter behind one module. A string of them holds one
// voltage, whatever the modules do; the inverter must accept that voltage.
type Optimiser struct {
	// ID, Label and Invented are as in [Module].
	ID       string `json:"id"`
	Label    string `json:"label"`
	Invented bool   `json:"invented"`

	// MaxInputV is the highest voltage of the module, MPPTMinV and MPPTMaxV the
	// window in which it finds the maximum power point, 5 to 200 V.
	MaxInputV float64 `json:"max_input_v"`
	MPPTMinV  float64 `json:"mppt_min_v"`
	MPPTMaxV  float64 `json:"mppt_max_v"`
	// MaxShortCircuitA is the short-circuit current that the input stands, 1
	// to 50 A, and MaxModuleW the largest module, 50 to 2000 W.
	MaxShortCircuitA float64 `json:"max_short_circuit_a"`
	MaxModuleW       float64 `json:"max_module_w"`

	// StringVoltageV is the voltage that a string holds, 50 to 2000 V, and
	// MaxOutputA the most current in it, 1 to 50 A.
	StringVoltageV float64 `json:"string_voltage_v"`
	MaxOutputA     float64 `json:"max_output_a"`
	// MinUnits and MaxUnits are the least and most units in a string, 1 to 100.
	MinUnits int `json:"min_units"`
	MaxUnits int `json:"max_units"`
	// MaxStringW is the most rated module power in a string, 100 to 100 000 W.
	MaxStringW float64 `json:"max_string_w"`
	// RapidShutdown says that it is listed for rapid shutdown of its module.
	RapidShutdown bool `json:"rapid_shutdown"`
	// WeightedEfficiencyPct is as in [StringInverter].
	WeightedEfficiencyPct float64 `json:"weighted_efficiency_pct"`
	// Price is as in [Datasheet].
	Price float64 `json:"price"`
}

// ContinuousFactor is the factor on a continuous current that a conductor or
// breaker must carry (NEC 690.8(B) and 705.12).
const ContinuousFactor = 1.25

// branchSlack lets 1.25 times a sum of printed currents equal the breaker
// although the product of binary fractions is a last digit over it.
const branchSlack = 1e-9

// UnitsPerBranch returns how many units one AC branch with this breaker may
// hold: the most with 1.25 x units x ACCurrentA <= breaker, equality allowed,
// and no more than MaxUnitsPerBranch where that is given. It is 0 for a breaker
// or current that is not above 0.
func (m MicroInverter) UnitsPerBranch(breakerA float64) int {
	if !(breakerA > 0 && m.ACCurrentA > 0) || math.IsInf(breakerA, 1) {
		return 0
	}
	n := int(breakerA * (1 + branchSlack) / (ContinuousFactor * m.ACCurrentA))
	if m.MaxUnitsPerBranch > 0 {
		n = min(n, m.MaxUnitsPerBranch)
	}
	return n
}
