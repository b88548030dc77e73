package electrical

import (
	"fmt"
	"math"
	"slices"

	"rooftally/catalog"
)

// maxPlaced is how many modules one plan may hold.
const maxPlaced = 2000

// SameFacingDeg is how far pitch and azimuth of two modules may differ and still
// count as the same, degrees: planes drawn from measurements are hardly ever
// equal, and 1 degree moves the sun's angle by less than 2 percent of its power
// (common practice, no source).
const SameFacingDeg = 1.0

// jumpFactor: a hop longer than this many module lengths is no step to a
// neighbour any more (common practice, no source).
const jumpFactor = 1.5

// PlacedModule is where a module lies on the roof.
type PlacedModule struct {
	// XM and YM are its centre in plan metres, ZM its height in metres, each
	// -1e5 to 1e5.
	XM, YM, ZM float64
	// PlaneID is the plane it lies on.
	PlaneID string
	// PitchDeg is 0 to 90, AzimuthDeg 0 <= a < 360.
	PitchDeg, AzimuthDeg float64
}

// PlanRequest asks how the modules of a roof are wired to one inverter.
type PlanRequest struct {
	Module   catalog.Datasheet
	Placed   []PlacedModule
	Inverter catalog.StringInverter
	// Optimiser is behind every module, nil for none.
	Optimiser  *catalog.Optimiser
	Conditions Conditions
	// MixParallel allows strings of different pitch or azimuth on one tracker.
	MixParallel bool
	// countOnly asks how many are wired, not which: strings are not laid well.
	countOnly bool
	// atMost bounds the modules that are wired and longestAt those of a string
	// beyond what the inverter does; 0 for none.
	atMost, longestAt int
}

// Plan is how modules are wired. Modules are named by their index in
// PlanRequest.Placed.
type Plan struct {
	// Fits is how many modules lie on the roof, Wires how many of them the plan
	// connects.
	Fits  int `json:"fits"`
	Wires int `json:"wires"`
	// Strings are numbered from 1, in the order of trackers and inputs.
	Strings []PlannedString `json:"strings"`
	// LeftOut are the modules that are not connected, in rising order.
	LeftOut []int `json:"left_out"`
	// Exact says that no plan within the rules connects more modules. It is
	// false where the search gave up, which takes many facings and trackers.
	Exact bool `json:"exact"`
	// RunM is the sum of the strings' RunM.
	RunM float64 `json:"run_m"`
	// Shortest and Longest are the least and most modules of a string.
	Shortest int `json:"shortest"`
	Longest  int `json:"longest"`
	// Figures are the numbers for display, Findings what the user has to know.
	Figures  []Figure  `json:"figures"`
	Findings []Finding `json:"findings"`
}

// PlannedString is one string.
type PlannedString struct {
	// Number counts from 1 over the plan; Tracker and Input from 1 as well.
	Number  int `json:"number"`
	Tracker int `json:"tracker"`
	Input   int `json:"input"`
	// Modules are the string's modules in wiring order.
	Modules []int `json:"modules"`
	// RunM is the length from centre to centre along that order, metres; Jumps
	// counts steps to a module that is not next to it.
	RunM  float64 `json:"run_m"`
	Jumps int     `json:"jumps"`
	// PowerW is the rated power; VocColdV, VmpHotV and VmpColdV are the string's
	// voltages. With optimisers all three are the voltage that they hold.
	PowerW   float64 `json:"power_w"`
	VocColdV float64 `json:"voc_cold_v"`
	VmpHotV  float64 `json:"vmp_hot_v"`
	VmpColdV float64 `json:"vmp_cold_v"`
}

// PlanStrings wires modules to one inverter. Its rules, in this order:
//
//  1. A string keeps the limits of [Limits], or those of the optimiser.
//  2. Modules of one string have the same pitch and azimuth, to SameFacingDeg,
//     unless each has an optimiser. Portrait or landscape does not matter.
//  3. Strings on one tracker have the same number of modules and, unless
//     MixParallel, the same pitch and azimuth.
//  4. A tracker takes no more strings than [MostParallel]; all together keep the
//     inverter's largest array.
//  5. Within these as many modules as possible are wired; then as few as
//     possible in strings that clip or leave the tracking window in the cold;
//     then with as few mixed trackers, as few strings and as equal lengths as
//     possible.
//  6. Strings lie together on the roof with short runs (a good answer, not
//     always the best), which also decides which modules are left out.
//
// A plan that wires nothing is no error: its findings say why. Values out of
// range give an error as [Limits] does, and an [*InputError] of "placed".
func PlanStrings(r PlanRequest) (Plan, error) {
	if err := checkPlaced(r.Placed); err != nil {
		return Plan{}, err
	}
	rules, err := r.rules()
	if err != nil {
		return Plan{}, err
	}
	if r.longestAt > 0 {
		rules.longest = min(rules.longest, r.longestAt)
	}
	plan := Plan{
		Fits: len(r.Placed), Shortest: rules.shortest, Longest: rules.longest,
		Figures: rules.figures, Findings: rules.findings, Strings: []PlannedString{}, LeftOut: []int{},
	}
	groups := rules.groups(r.Placed)
	chosen, exact := choose(rules, groups)
	plan.Exact = exact
	r.lay(&plan, rules, groups, chosen)
	if err := r.judge(&plan, rules, groups, chosen); err != nil {
		return Plan{}, err
	}
	return plan, nil
}

// checkPlaced tests the number and the places of modules.
func checkPlaced(placed []PlacedModule) error {
	if len(placed) < 1 || len(placed) > maxPlaced {
		return bad("placed", "has %d modules; it must have 1 to %d", len(placed), maxPlaced)
	}
	for i, p := range placed {
		if err := checkSpans(span{"x_m", p.XM, -1e5, 1e5, "m"}, span{"y_m", p.YM, -1e5, 1e5, "m"}, span{"z_m", p.ZM, -1e5, 1e5, "m"},
			span{"pitch_deg", p.PitchDeg, 0, 90, "deg"}, span{"azimuth_deg", p.AzimuthDeg, 0, 360, "deg"}); err != nil {
			return bad("placed", "module %d: %v", i, err)
		}
	}
	return nil
}

// group are modules that one string may hold.
type group struct {
	pitchDeg, azimuthDeg float64
	members              []int
}

// groups sorts the modules by facing, or into one group where every module has
// an optimiser. A module joins the first group whose first module faces the same
// way.
func (rules planRules) groups(placed []PlacedModule) []group {
	var out []group
next:
	for i, p := range placed {
		for g := range out {
			if rules.anyFacing || sameFacing(out[g].pitchDeg, out[g].azimuthDeg, p.PitchDeg, p.AzimuthDeg) {
				out[g].members = append(out[g].members, i)
				continue next
			}
		}
		out = append(out, group{p.PitchDeg, p.AzimuthDeg, []int{i}})
	}
	return out
}

// sameFacing reports whether two facings differ by no more than SameFacingDeg.
func sameFacing(pitch1, azimuth1, pitch2, azimuth2 float64) bool {
	turn := math.Mod(math.Abs(azimuth1-azimuth2), 360)
	return math.Abs(pitch1-pitch2) <= SameFacingDeg && min(turn, 360-turn) <= SameFacingDeg
}

// planRules are what the search must keep to.
type planRules struct {
	shortest, longest int
	// inWindow is the longest string that stays in the window in the cold.
	inWindow int
	// parallel is how many strings each tracker takes.
	parallel []int
	// clean is how many strings of n modules tracker t takes without clipping.
	clean func(t, n int) int
	// mostModules is what the inverter's largest array allows.
	mostModules int
	anyFacing   bool
	mix         bool
	// voltages of a string of n modules.
	voltages func(n int) (vocCold, vmpHot, vmpCold float64)
	figures  []Figure
	findings []Finding
}

// rules finds them for strings with or without optimisers.
func (r PlanRequest) rules() (planRules, error) {
	if r.Optimiser != nil {
		return r.optimiserRules()
	}
	l, err := Limits(r.Module, r.Inverter, r.Conditions)
	if err != nil {
		return planRules{}, err
	}
	rules := planRules{
		shortest: l.Shortest, longest: l.Longest, inWindow: l.LongestInWindow, mix: r.MixParallel,
		figures:  l.Figures,
		findings: slices.DeleteFunc(l.Findings, func(f Finding) bool { return f.Code == windowCold }), // judged by string
		voltages: func(n int) (vocCold, vmpHot, vmpCold float64) {
			return float64(n) * l.VocColdV, float64(n) * l.VmpHotV, float64(n) * l.VmpColdV
		},
	}
	for _, t := range r.Inverter.MPPTs {
		rules.parallel = append(rules.parallel, MostParallel(r.Module, t))
	}
	rules.clean = func(t, _ int) int { return most(r.Inverter.MPPTs[t].MaxOperatingA, r.Module.ImpA) }
	rules.mostModules = r.mostModules()
	return rules, nil
}

// mostModules is how many modules the inverter's largest array allows.
func (r PlanRequest) mostModules() int {
	bound := maxPlaced
	if r.atMost > 0 {
		bound = r.atMost
	}
	if r.Inverter.MaxArrayW <= 0 {
		return bound
	}
	return min(bound, most(r.Inverter.MaxArrayW, float64(r.Module.PmaxW)))
}

// facing names a group for a person.
func (g group) facing() string {
	return fmt.Sprintf("pitch %s deg, azimuth %s deg", num(g.pitchDeg), num(g.azimuthDeg))
}
