//go:build !js

package project

import (
	"fmt"
	"slices"
	"strings"

	"rooftally/catalog"
	"rooftally/electrical"
)

// WiringResult is how a candidate's modules are wired.
type WiringResult struct {
	// Kind is that of the document's wiring.
	Kind string `json:"kind"`
	// Why says why there is no plan, "" where there is one.
	Why string `json:"why"`
	// Fits is how many modules lie on the roof, Wires how many of them the plan
	// connects. LeftOut are the others, and LeftOutWords names them, "" for none.
	Fits         int         `json:"fits"`
	Wires        int         `json:"wires"`
	LeftOut      []ModuleRef `json:"left_out"`
	LeftOutWords string      `json:"left_out_words"`
	// Exact says that no plan within the rules connects more modules.
	Exact bool `json:"exact"`
	// Strings are of modules or of optimisers, Branches of micro-inverters.
	Strings  []StringResult `json:"strings"`
	Branches []BranchResult `json:"branches"`
	// Shortest and Longest are the least and most modules of a string; PerBranch
	// is the most units on a branch with a breaker of BreakerA.
	Shortest  int     `json:"shortest"`
	Longest   int     `json:"longest"`
	PerBranch int     `json:"per_branch"`
	BreakerA  float64 `json:"breaker_a"`
	// RunM is the length of all strings or branches from module to module.
	RunM float64 `json:"run_m"`
	// Figures are the limits and currents for display, Findings what the user has
	// to know.
	Figures  []electrical.Figure  `json:"figures"`
	Findings []electrical.Finding `json:"findings"`
	// Trackers are the currents of each tracker in use, without optimisers.
	Trackers []TrackerResult `json:"trackers"`
	AC       ACResult        `json:"ac"`
	// Marks are the safety duties of the plan.
	Marks []electrical.Mark `json:"marks"`
	// Complete says that nothing is open; Open says in sentences what is.
	Complete bool     `json:"complete"`
	Open     []string `json:"open"`
	// Inverters says of each inverter of the catalog whether it would work and
	// why not, and InverterWords sums that up. Both are empty with
	// micro-inverters.
	Inverters     []electrical.InverterVerdict `json:"inverters"`
	InverterWords string                       `json:"inverter_words"`
}

// StringResult is one string; see electrical.PlannedString.
type StringResult struct {
	Number   int         `json:"number"`
	Tracker  int         `json:"tracker"`
	Input    int         `json:"input"`
	Modules  []ModuleRef `json:"modules"`
	RunM     float64     `json:"run_m"`
	Jumps    int         `json:"jumps"`
	PowerW   float64     `json:"power_w"`
	VocColdV float64     `json:"voc_cold_v"`
	VmpHotV  float64     `json:"vmp_hot_v"`
	VmpColdV float64     `json:"vmp_cold_v"`
}

// BranchResult is one AC branch of micro-inverters; see electrical.Branch.
type BranchResult struct {
	Number   int         `json:"number"`
	Modules  []ModuleRef `json:"modules"`
	RunM     float64     `json:"run_m"`
	Jumps    int         `json:"jumps"`
	CurrentA float64     `json:"current_a"`
}

// TrackerResult is the strings on one tracker and their currents.
type TrackerResult struct {
	// Tracker counts from 1, Strings are their numbers.
	Tracker int   `json:"tracker"`
	Strings []int `json:"strings"`
	electrical.InputCurrents
}

// wiring plans a candidate's wiring.
func (b builder) wiring() WiringResult {
	w := b.doc.Wiring
	out := WiringResult{
		Kind: w.Kind, Fits: b.lay.Count, LeftOut: []ModuleRef{}, Strings: []StringResult{}, Branches: []BranchResult{},
		Figures: []electrical.Figure{}, Findings: []electrical.Finding{}, Trackers: []TrackerResult{}, Marks: []electrical.Mark{},
		AC:   ACResult{Figures: []electrical.Figure{}, Findings: []electrical.Finding{}},
		Open: []string{}, Inverters: []electrical.InverterVerdict{},
	}
	conditions, why := b.conditions()
	if why == "" && w.Kind != WiringMicro {
		b.compare(&out, conditions)
	}
	if why == "" {
		why = w.missing()
	}
	if why == "" {
		why = b.plan(&out, conditions)
	}
	out.Why = why
	if why != "" {
		out.Open = append(out.Open, why)
		out.AC.Why = "There is no wiring plan."
		return out
	}
	out.AC = b.ac(out)
	out.Marks = b.marks(out)
	out.close()
	return out
}

// conditions are what the site demands, or why there can be no plan.
func (b builder) conditions() (electrical.Conditions, string) {
	switch {
	case b.lay.Count == 0:
		return electrical.Conditions{}, noModules
	case b.candidate.Datasheet == nil:
		return electrical.Conditions{}, noDatasheet + " Its voltages and currents are not known."
	case b.site.ColdC == nil:
		return electrical.Conditions{}, b.site.ColdWords
	case b.site.HotCellC == nil:
		return electrical.Conditions{}, b.site.HotWords
	}
	return electrical.Conditions{
		ColdC: *b.site.ColdC, HotCellC: *b.site.HotCellC,
		Family: electrical.Family(b.doc.Site.RuleFamily), Place: electrical.Place(b.doc.Wiring.Place),
	}, ""
}

// missing says what has not been chosen, "" where all is.
func (w Wiring) missing() string {
	inverter := w.Kind == WiringString || w.Kind == WiringOptimiser
	switch {
	case w.Kind == WiringNone:
		return "No way of wiring is chosen."
	case inverter && w.Inverter == nil:
		return "No inverter is chosen."
	case w.Kind == WiringOptimiser && w.Optimiser == nil:
		return "No optimiser is chosen."
	case w.Kind == WiringMicro && w.Micro == nil:
		return "No micro-inverter is chosen."
	}
	return ""
}

// request asks for strings.
func (b builder) request(c electrical.Conditions) electrical.PlanRequest {
	r := electrical.PlanRequest{Module: *b.candidate.Datasheet, Placed: b.placed(), Conditions: c, MixParallel: b.doc.Wiring.MixParallel}
	if b.doc.Wiring.Kind == WiringOptimiser {
		r.Optimiser = b.doc.Wiring.Optimiser
	}
	if v := b.doc.Wiring.Inverter; v != nil {
		r.Inverter = *v
	}
	return r
}

// plan fills in the plan of the kind and returns why there is none, or "".
func (b builder) plan(out *WiringResult, c electrical.Conditions) string {
	if out.Kind == WiringMicro {
		return b.planMicro(out, c)
	}
	plan, err := electrical.PlanStrings(b.request(c))
	if err != nil {
		return noPlan(err)
	}
	refs := b.refs()
	out.Wires, out.Exact, out.RunM = plan.Wires, plan.Exact, plan.RunM
	out.Shortest, out.Longest = plan.Shortest, plan.Longest
	out.Figures, out.Findings = plan.Figures, plan.Findings
	for _, s := range plan.Strings {
		out.Strings = append(out.Strings, StringResult{
			Number: s.Number, Tracker: s.Tracker, Input: s.Input, Modules: pick(refs, s.Modules), RunM: s.RunM, Jumps: s.Jumps,
			PowerW: s.PowerW, VocColdV: s.VocColdV, VmpHotV: s.VmpHotV, VmpColdV: s.VmpColdV,
		})
	}
	out.LeftOut = pick(refs, plan.LeftOut)
	out.LeftOutWords = b.leftOutWords(out.LeftOut)
	if len(out.LeftOut) > 0 {
		out.Findings = append(out.Findings, b.several(c, out.Wires)...)
	}
	if out.Kind == WiringString {
		return b.trackers(out)
	}
	return ""
}

// planMicro plans branches of micro-inverters.
func (b builder) planMicro(out *WiringResult, c electrical.Conditions) string {
	r := electrical.MicroRequest{Module: *b.candidate.Datasheet, Placed: b.placed(), Micro: *b.doc.Wiring.Micro, Conditions: c}
	if a := b.doc.Wiring.BranchBreakerA; a != nil {
		r.BreakerA = *a
	}
	plan, err := electrical.PlanMicro(r)
	if err != nil {
		return noPlan(err)
	}
	refs := b.refs()
	out.Wires, out.Exact, out.RunM, out.PerBranch, out.BreakerA = plan.Wires, true, plan.RunM, plan.PerBranch, plan.BreakerA
	out.Figures, out.Findings = plan.Figures, plan.Findings
	for _, s := range plan.Branches {
		out.Branches = append(out.Branches, BranchResult{s.Number, pick(refs, s.Modules), s.RunM, s.Jumps, s.CurrentA})
	}
	if plan.Wires == 0 {
		out.LeftOut, out.LeftOutWords = refs, b.leftOutWords(refs)
	}
	return ""
}

func noPlan(err error) string { return fmt.Sprintf("There is no plan: %v.", err) }

// pick is the modules of some indices.
func pick(refs []ModuleRef, indices []int) []ModuleRef {
	out := make([]ModuleRef, len(indices))
	for i, at := range indices {
		out[i] = refs[at]
	}
	return out
}

// leftOutWords says which modules to leave out.
func (b builder) leftOutWords(left []ModuleRef) string {
	if len(left) == 0 {
		return ""
	}
	if len(left) == b.lay.Count {
		return "No module is wired."
	}
	var parts []string
	for _, p := range b.planes {
		var numbers []string
		for _, m := range left {
			if m.PlaneID == p.plane.ID {
				numbers = append(numbers, fmt.Sprint(m.Number))
			}
		}
		if len(numbers) > 0 {
			parts = append(parts, fmt.Sprintf("%s on %s", strings.Join(numbers, ", "), planeName(p.plane)))
		}
	}
	return fmt.Sprintf("%s fit and %d wire: leave out %s.", plural(b.lay.Count, "module"), b.lay.Count-len(left), strings.Join(parts, "; "))
}

// trackers adds the currents of each tracker in use.
func (b builder) trackers(out *WiringResult) string {
	for t, tracker := range b.doc.Wiring.Inverter.MPPTs {
		var numbers []int
		for _, s := range out.Strings {
			if s.Tracker == t+1 {
				numbers = append(numbers, s.Number)
			}
		}
		if len(numbers) == 0 {
			continue
		}
		currents, err := electrical.Currents(*b.candidate.Datasheet, tracker, len(numbers))
		if err != nil {
			return noPlan(err)
		}
		out.Trackers = append(out.Trackers, TrackerResult{t + 1, numbers, currents})
	}
	return ""
}

// compare asks which inverters of the catalog would work, on the AC side too as
// far as that is known.
func (b builder) compare(out *WiringResult, c electrical.Conditions) {
	if out.Kind == WiringOptimiser && b.doc.Wiring.Optimiser == nil {
		return
	}
	out.Inverters = electrical.CompareInverters(b.request(c), b.inverters)
	for i, v := range b.inverters {
		for _, f := range b.connection(1, v.ACCurrentA, v.Phases).Findings {
			if f.Level == electrical.Error {
				out.Inverters[i].Works = false
				out.Inverters[i].Reasons = append(out.Inverters[i].Reasons, f.Message)
			}
		}
	}
	out.InverterWords = inverterWords(out.Inverters, b.lay.Count)
}

// inverterWords sums up the verdicts on inverters.
func inverterWords(verdicts []electrical.InverterVerdict, modules int) string {
	if len(verdicts) == 0 {
		return "The catalog has no inverters."
	}
	var work []string
	best := verdicts[0]
	for _, v := range verdicts {
		if v.Works {
			work = append(work, v.Label)
		}
		if v.Wires > best.Wires {
			best = v
		}
	}
	if len(work) > 0 {
		return fmt.Sprintf("Of %s in the catalog %d can take all %s: %s.",
			plural(len(verdicts), "inverter"), len(work), plural(modules, "module"), strings.Join(work, "; "))
	}
	if best.Wires == 0 {
		return fmt.Sprintf("None of %s in the catalog can take these modules.", plural(len(verdicts), "inverter"))
	}
	text := fmt.Sprintf("None of %s in the catalog can take all %s.", plural(len(verdicts), "inverter"), plural(modules, "module"))
	if best.Wires == modules && len(best.Reasons) > 0 {
		return fmt.Sprintf("%s %s has room for them, but: %s", text, best.Label, best.Reasons[len(best.Reasons)-1])
	}
	return fmt.Sprintf("%s The most are %d, with %s.", text, best.Wires, best.Label)
}

// marks are the safety duties of a plan.
func (b builder) marks(out WiringResult) []electrical.Mark {
	w := b.doc.Wiring
	in := electrical.SafetyInput{
		Family: electrical.Family(b.doc.Site.RuleFamily), Place: electrical.Place(w.Place), Modules: out.Wires,
		MicroInverters: w.Kind == WiringMicro,
		ModuleShutdown: w.ModuleShutdown || w.Kind == WiringOptimiser && w.Optimiser.RapidShutdown,
		HazardControl:  w.HazardControl,
		ArcFault:       w.ArcFault || w.Kind != WiringMicro && w.Inverter.ArcFault,
	}
	for _, s := range out.Strings {
		in.VocColdV = max(in.VocColdV, s.VocColdV)
	}
	return electrical.Marks(in)
}

// close says what is open in a plan.
func (out *WiringResult) close() {
	if len(out.LeftOut) > 0 {
		out.Open = append(out.Open, fmt.Sprintf("%d modules fit and %d wire.", out.Fits, out.Wires))
	}
	for _, f := range slices.Concat(out.Findings, out.AC.Findings) {
		if f.Level == electrical.Error {
			out.Open = append(out.Open, f.Message)
		}
	}
	if out.AC.Why != "" {
		out.Open = append(out.Open, out.AC.Why)
	}
	for _, m := range out.Marks {
		if !m.Met {
			out.Open = append(out.Open, m.Message)
		}
	}
	out.Complete = len(out.Open) == 0
}

// plural writes "1 module" or "2 modules".
func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// gear is what the wiring adds to the modules, by the catalog.
type gear struct {
	inverter  *catalog.StringInverter
	micro     *catalog.MicroInverter
	optimiser *catalog.Optimiser
}

// gear is what the kind uses of what was chosen.
func (w Wiring) gear() gear {
	switch w.Kind {
	case WiringString:
		return gear{inverter: w.Inverter}
	case WiringOptimiser:
		return gear{inverter: w.Inverter, optimiser: w.Optimiser}
	case WiringMicro:
		return gear{micro: w.Micro}
	}
	return gear{}
}
