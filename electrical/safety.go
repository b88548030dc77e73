package electrical

import "fmt"

// SafetyInput is what the safety marks of a plan depend on.
type SafetyInput struct {
	Family Family
	Place  Place
	// Modules is how many are wired.
	Modules int
	// MicroInverters says that each module has one: then no DC leaves it.
	MicroInverters bool
	// ModuleShutdown says that each module has listed shutdown gear: an optimiser
	// listed for it, or a device that the user adds.
	ModuleShutdown bool
	// HazardControl says that the array is listed as PV hazard control equipment.
	HazardControl bool
	// ArcFault says that the inverter has listed DC arc-fault protection, or that
	// the user adds some.
	ArcFault bool
	// VocColdV is the highest string voltage; below arcFaultV none is needed.
	VocColdV float64
}

// arcFaultV is the DC voltage from which NEC 690.11 asks for arc-fault protection.
const arcFaultV = 80

// Mark is one safety duty of a plan.
type Mark struct {
	// Code is "rapid_shutdown" or "arc_fault".
	Code string `json:"code"`
	// Met says that the plan has what is needed. A plan with a mark that is not
	// met is never shown as complete.
	Met bool `json:"met"`
	// Message is a sentence for the user.
	Message string `json:"message"`
	// Source is the clause.
	Source string `json:"source"`
	// Part and Quantity are what the bill of materials lists where it is not
	// met, "" and 0 where it is.
	Part     string `json:"part"`
	Quantity int    `json:"quantity"`
}

// Marks returns the safety duties of a plan: none outside the NEC family or off
// buildings. The clauses are from memory; the code in force decides.
func Marks(in SafetyInput) []Mark {
	out := []Mark{}
	if in.Family != NEC || in.Place == OffBuilding || in.Modules <= 0 {
		return out
	}
	out = append(out, in.shutdownMark())
	if !in.MicroInverters && in.VocColdV >= arcFaultV {
		out = append(out, in.arcFaultMark())
	}
	return out
}

// shutdownMark is the duty of rapid shutdown.
func (in SafetyInput) shutdownMark() Mark {
	m := Mark{Code: "rapid_shutdown", Met: true, Source: "NEC 690.12 (2017 and later), from memory"}
	switch {
	case in.MicroInverters:
		m.Message = "Rapid shutdown: the micro-inverters stop with the AC supply, and no DC leaves the modules."
	case in.ModuleShutdown:
		m.Message = "Rapid shutdown: each module has listed shutdown gear."
	case in.HazardControl:
		m.Message = "Rapid shutdown: the array is listed hazard control equipment."
	default:
		m.Met = false
		m.Message = "Needs rapid shutdown: conductors inside the array must fall to 80 V within 30 s. Add listed shutdown gear at each module, or listed hazard control equipment."
		m.Part, m.Quantity = "Rapid shutdown device, one for each module", in.Modules
	}
	return m
}

// arcFaultMark is the duty of arc-fault protection.
func (in SafetyInput) arcFaultMark() Mark {
	m := Mark{Code: "arc_fault", Met: in.ArcFault, Source: "NEC 690.11, from memory", Message: "Arc-fault protection: the inverter has it."}
	if !in.ArcFault {
		m.Message = fmt.Sprintf("Needs DC arc-fault protection: the strings can have %s V, and from %d V on it is required.", num(in.VocColdV), arcFaultV)
		m.Part, m.Quantity = "Listed DC arc-fault protection", 1
	}
	return m
}
