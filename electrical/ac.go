package electrical

import (
	"fmt"
	"math"

	"rooftally/catalog"
)

// busbarFactor is how much of a busbar's rating supply breakers at its two ends
// may come to together (NEC 705.12).
const busbarFactor = 1.2

// Busbar tests the connection of inverters to a panel board under NEC rules:
// 1.25 x inverter current + main breaker <= 1.2 x busbar, equality allowed, with
// the inverter's breaker at the other end of the busbar. Past it the finding is
// an error. inverterA is the sum of the inverters' AC currents, 0.1 to 1e4 A;
// mainA and busbarA are 15 to 1e4 A; others give an [*InputError].
func Busbar(inverterA, mainA, busbarA float64) (Figure, []Finding, error) {
	err := checkSpans(span{"inverter_a", inverterA, 0.1, 1e4, "A"}, span{"main_breaker_a", mainA, 15, 1e4, "A"}, span{"busbar_a", busbarA, 15, 1e4, "A"})
	if err != nil {
		return Figure{}, nil, err
	}
	sum, limit := catalog.ContinuousFactor*inverterA+mainA, busbarFactor*busbarA
	f := Figure{
		Key: "busbar", Label: "Supply current at the busbar", Unit: "A", Value: sum,
		Formula: "1.25 x inverter current + main breaker <= 1.2 x busbar",
		Numbers: fmt.Sprintf("1.25 x %s A + %s A = %s A; 1.2 x %s A = %s A", num(inverterA), num(mainA), num(sum), num(busbarA), num(limit)),
		Source:  "NEC 705.12 (2017: (B)(2)(3)(b); 2020: (B)(3)(2); 2023: (B)(2)); clauses from memory",
	}
	if !over(sum, limit) {
		return f, []Finding{{Note, "busbar_end", "The inverter's breaker must stand at the opposite end of the busbar from the main breaker."}}, nil
	}
	return f, []Finding{{Error, "busbar", fmt.Sprintf(
		"%s A pass %s A: use a smaller inverter or main breaker, a larger busbar, or another connection that an electrician chooses.", num(sum), num(limit))}}, nil
}

// PhaseLimit tests the current of one phase against what the network operator
// allows (IEC family): phaseA <= limitA, equality allowed. Past it the finding
// is an error. Both are 0.1 to 1e4 A; others give an [*InputError].
func PhaseLimit(phaseA, limitA float64) (Figure, []Finding, error) {
	if err := checkSpans(span{"phase_a", phaseA, 0.1, 1e4, "A"}, span{"phase_limit_a", limitA, 0.1, 1e4, "A"}); err != nil {
		return Figure{}, nil, err
	}
	f := Figure{
		Key: "phase", Label: "Current of one phase", Unit: "A", Value: phaseA,
		Formula: "sum of the inverters' AC current on the phase <= limit",
		Numbers: fmt.Sprintf("%s A; limit %s A", num(phaseA), num(limitA)),
		Source:  "limit as typed, from the network operator",
	}
	if !over(phaseA, limitA) {
		return f, []Finding{}, nil
	}
	return f, []Finding{{Error, "phase", fmt.Sprintf("%s A pass the %s A allowed on a phase.", num(phaseA), num(limitA))}}, nil
}

// PhaseCurrentA returns the AC current of the fullest phase when units of one
// current are spread as evenly as possible over the phases of the supply. A
// three-phase unit loads all phases alike. It is 0 for no units; supplyPhases
// other than 3 counts as 1.
func PhaseCurrentA(units int, unitA float64, unitPhases, supplyPhases int) float64 {
	if units <= 0 {
		return 0
	}
	if unitPhases == 3 || supplyPhases != 3 {
		return float64(units) * unitA
	}
	return math.Ceil(float64(units)/3) * unitA
}
