package electrical

import (
	"fmt"

	"rooftally/catalog"
)

// InverterVerdict says what one inverter does with the modules of a roof.
type InverterVerdict struct {
	// ID and Label are the inverter's.
	ID    string `json:"id"`
	Label string `json:"label"`
	// Works says that every module is wired and no finding is an error.
	Works bool `json:"works"`
	// Fits, Wires and Exact are as in [Plan].
	Fits  int  `json:"fits"`
	Wires int  `json:"wires"`
	Exact bool `json:"exact"`
	// Strings is how many there are, DCAC the ratio of wired module power to AC
	// power.
	Strings int     `json:"strings"`
	DCAC    float64 `json:"dc_ac"`
	// Reasons say why it does not work, or what it costs: the messages of errors,
	// then of warnings.
	Reasons []string `json:"reasons"`
}

// CompareInverters asks [PlanStrings] of every inverter, in their order; the
// request's own inverter is not used. An inverter that cannot be asked, because
// its figures or the module's are not sound, gets the reason and does not work.
func CompareInverters(r PlanRequest, inverters []catalog.StringInverter) []InverterVerdict {
	out := make([]InverterVerdict, 0, len(inverters))
	r.countOnly = true
	for _, inv := range inverters {
		r.Inverter = inv
		out = append(out, r.verdict())
	}
	return out
}

// verdict asks of one.
func (r PlanRequest) verdict() InverterVerdict {
	v := InverterVerdict{ID: r.Inverter.ID, Label: r.Inverter.Label, Fits: len(r.Placed), Reasons: []string{}}
	plan, err := PlanStrings(r)
	if err != nil {
		v.Reasons = append(v.Reasons, fmt.Sprintf("It cannot be planned: %v.", err))
		return v
	}
	v.Wires, v.Exact, v.Strings = plan.Wires, plan.Exact, len(plan.Strings)
	v.DCAC = float64(plan.Wires*r.Module.PmaxW) / r.Inverter.ACPowerW
	v.Works = plan.Wires == plan.Fits && !hasError(plan.Findings)
	for _, level := range []Level{Error, Warning} {
		for _, f := range plan.Findings {
			if f.Level == level {
				v.Reasons = append(v.Reasons, f.Message)
			}
		}
	}
	return v
}
