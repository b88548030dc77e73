package electrical

import (
	"fmt"

	"rooftally/catalog"
)

// MicroRequest asks how modules with a micro-inverter each are wired.
type MicroRequest struct {
	Module     catalog.Datasheet
	Placed     []PlacedModule
	Micro      catalog.MicroInverter
	Conditions Conditions
	// BreakerA is the breaker of each AC branch, 5 to 100 A; 0 takes that of the
	// datasheet.
	BreakerA float64
}

// MicroPlan is how the units are wired into AC branches.
type MicroPlan struct {
	// Fits is how many modules lie on the roof. Wires is the same, or 0 where
	// the module does not suit the unit or no unit suits the breaker.
	Fits  int `json:"fits"`
	Wires int `json:"wires"`
	// PerBranch is the most units on a branch with this breaker.
	PerBranch int      `json:"per_branch"`
	BreakerA  float64  `json:"breaker_a"`
	Branches  []Branch `json:"branches"`
	// RunM is the sum of the branches' RunM.
	RunM     float64   `json:"run_m"`
	Figures  []Figure  `json:"figures"`
	Findings []Finding `json:"findings"`
}

// Branch is one AC branch.
type Branch struct {
	// Number counts from 1.
	Number int `json:"number"`
	// Modules are indices of MicroRequest.Placed in wiring order.
	Modules []int `json:"modules"`
	// RunM and Jumps are as in [PlannedString].
	RunM  float64 `json:"run_m"`
	Jumps int     `json:"jumps"`
	// CurrentA is the sum of the units' AC currents.
	CurrentA float64 `json:"current_a"`
}

// PlanMicro wires micro-inverters into as few AC branches as the breaker allows,
// of lengths as alike as possible, which lie together on the roof. Facing does
// not matter. Values out of range give an error as [PlanStrings] does.
func PlanMicro(r MicroRequest) (MicroPlan, error) {
	if err := checkPlaced(r.Placed); err != nil {
		return MicroPlan{}, err
	}
	if err := sound("micro-inverter", r.Micro.ID, r.Micro.Check()); err != nil {
		return MicroPlan{}, err
	}
	if r.BreakerA == 0 {
		r.BreakerA = r.Micro.BranchBreakerA
	}
	if err := checkSpans(span{"breaker_a", r.BreakerA, 5, 100, "A"}); err != nil {
		return MicroPlan{}, err
	}
	m := r.Micro
	fit, err := fitUnit(r.Module, r.Conditions, unitInput{
		what: "micro-inverter", maxV: m.MaxDCV, mpptMinV: m.MPPTMinV, mpptMaxV: m.MPPTMaxV, startV: m.StartV,
		operatingA: m.MaxOperatingA, shortA: m.MaxShortCircuitA, moduleW: m.MaxModuleW,
	})
	if err != nil {
		return MicroPlan{}, err
	}
	plan := MicroPlan{
		Fits: len(r.Placed), PerBranch: m.UnitsPerBranch(r.BreakerA), BreakerA: r.BreakerA, Branches: []Branch{},
		Figures: append(fit.figures, r.branchFigure()), Findings: fit.findings,
	}
	if plan.PerBranch == 0 {
		plan.Findings = append(plan.Findings, Finding{Error, "branch", fmt.Sprintf("A breaker of %s A is too small for one unit.", num(r.BreakerA))})
	}
	if hasError(plan.Findings) {
		return plan, nil
	}
	r.layBranches(&plan)
	return plan, nil
}

// branchFigure shows the units on a branch.
func (r MicroRequest) branchFigure() Figure {
	n := r.Micro.UnitsPerBranch(r.BreakerA)
	f := Figure{
		Key: "units_per_branch", Label: "Most micro-inverters on an AC branch", Value: float64(n),
		Formula: "1.25 x units x AC current <= breaker",
		Numbers: fmt.Sprintf("%s A / (1.25 x %s A) = %s: %d", num(r.BreakerA), num(r.Micro.ACCurrentA),
			num(r.BreakerA/(catalog.ContinuousFactor*r.Micro.ACCurrentA)), n),
		Source: "NEC 690.8(B), 705.12; datasheet",
	}
	if r.Micro.MaxUnitsPerBranch > 0 {
		f.Numbers += fmt.Sprintf(" (the maker allows %d)", r.Micro.MaxUnitsPerBranch)
	}
	return f
}

// layBranches deals the modules out.
func (r MicroRequest) layBranches(plan *MicroPlan) {
	n := len(r.Placed)
	count := (n + plan.PerBranch - 1) / plan.PerBranch
	lengths := make([]int, count)
	members := make([]int, n)
	for i := range members {
		members[i] = i
		lengths[i%count]++
	}
	for i, p := range newRouter(r.Placed, members, r.Module.LengthM).paths(lengths) {
		plan.Branches = append(plan.Branches, Branch{
			Number: i + 1, Modules: p.modules, RunM: p.runM, Jumps: p.jumps,
			CurrentA: float64(len(p.modules)) * r.Micro.ACCurrentA,
		})
		plan.Wires += len(p.modules)
		plan.RunM += p.runM
	}
}
