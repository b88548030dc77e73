//go:build !js

package project

import (
	"rooftally/electrical"
)

// ACResult is what the wiring does to the AC side.
type ACResult struct {
	// Why says why it was not checked, "" where it was.
	Why string `json:"why"`
	// CurrentA is the current of the fullest phase, 0 where nothing is wired.
	CurrentA float64              `json:"current_a"`
	Figures  []electrical.Figure  `json:"figures"`
	Findings []electrical.Finding `json:"findings"`
}

// ac checks the AC side of a plan.
func (b builder) ac(plan WiringResult) ACResult {
	w := b.doc.Wiring
	switch {
	case plan.Wires == 0:
		return ACResult{Why: "Nothing is wired, so that the AC side is not checked.", Figures: []electrical.Figure{}, Findings: []electrical.Finding{}}
	case w.Kind == WiringMicro:
		return b.connection(plan.Wires, w.Micro.ACCurrentA, w.Micro.Phases)
	}
	return b.connection(1, w.Inverter.ACCurrentA, w.Inverter.Phases)
}

// connection checks inverters, units of them, against the supply: the busbar in
// the NEC family, a phase's limit in the IEC family.
func (b builder) connection(units int, unitA float64, phases int) ACResult {
	w := b.doc.Wiring
	out := ACResult{Figures: []electrical.Figure{}, Findings: []electrical.Finding{}}
	out.CurrentA = electrical.PhaseCurrentA(units, unitA, phases, w.SupplyPhases)
	if phases == 3 && w.SupplyPhases != 3 {
		out.Findings = append(out.Findings, electrical.Finding{Level: electrical.Error, Code: "supply_phases",
			Message: "The inverter is three-phase and the supply has one phase."})
	}
	var f electrical.Figure
	var findings []electrical.Finding
	var err error
	switch family := electrical.Family(b.doc.Site.RuleFamily); {
	case family == electrical.NEC && (w.MainBreakerA == nil || w.BusbarA == nil):
		out.Why = "Main breaker and busbar are not typed, so that the connection to the panel board is not checked."
		return out
	case family == electrical.NEC:
		f, findings, err = electrical.Busbar(out.CurrentA, *w.MainBreakerA, *w.BusbarA)
	case w.PhaseLimitA == nil:
		out.Why = "The network operator's limit for a phase is not typed, so that the connection is not checked."
		return out
	default:
		f, findings, err = electrical.PhaseLimit(out.CurrentA, *w.PhaseLimitA)
	}
	if err != nil {
		out.Why = "The AC side is not checked: " + err.Error() + "."
		return out
	}
	out.Figures = append(out.Figures, f)
	out.Findings = append(out.Findings, findings...)
	return out
}
