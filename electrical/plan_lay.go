package electrical

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// lay puts the chosen strings on the roof and fills the plan's strings.
func (r PlanRequest) lay(plan *Plan, rules planRules, groups []group, chosen []choice) {
	paths := make([][]laidPath, len(groups)) // by group, in the order of trackers
	for g := range groups {
		var lengths []int
		for _, c := range chosen {
			for _, s := range c.parallel {
				if s.group == g {
					lengths = append(lengths, slices.Repeat([]int{c.n}, s.strings)...)
				}
			}
		}
		if len(lengths) > 0 {
			router := newRouter(r.Placed, groups[g].members, r.Module.LengthM)
			router.quick = r.countOnly
			paths[g] = router.paths(lengths)
		}
	}
	wired := make([]bool, len(r.Placed))
	for t, c := range chosen {
		input := 0
		for _, s := range c.parallel {
			for _, p := range paths[s.group][:s.strings] {
				input++
				plan.add(r.stringOf(rules, p, t+1, input))
				for _, m := range p.modules {
					wired[m] = true
				}
			}
			paths[s.group] = paths[s.group][s.strings:]
		}
	}
	for m, is := range wired {
		if !is {
			plan.LeftOut = append(plan.LeftOut, m)
		}
	}
}

// add numbers a string and counts it.
func (plan *Plan) add(s PlannedString) {
	s.Number = len(plan.Strings) + 1
	plan.Strings = append(plan.Strings, s)
	plan.Wires += len(s.Modules)
	plan.RunM += s.RunM
}

// stringOf describes a laid string.
func (r PlanRequest) stringOf(rules planRules, p laidPath, tracker, input int) PlannedString {
	n := len(p.modules)
	s := PlannedString{
		Tracker: tracker, Input: input, Modules: p.modules, RunM: p.runM, Jumps: p.jumps,
		PowerW: float64(n * r.Module.PmaxW),
	}
	s.VocColdV, s.VmpHotV, s.VmpColdV = rules.voltages(n)
	return s
}

// judge adds what the plan as a whole gives to know.
func (r PlanRequest) judge(plan *Plan, rules planRules, groups []group, chosen []choice) error {
	power := float64(plan.Wires * r.Module.PmaxW)
	ratio, findings, err := DCAC(power, r.Inverter)
	if err != nil {
		return err
	}
	if plan.Wires > 0 {
		plan.Figures = append(plan.Figures, ratio)
		plan.Findings = append(plan.Findings, findings...)
	}
	if r.Optimiser == nil {
		if err := r.judgeTrackers(plan, chosen); err != nil {
			return err
		}
		r.judgeMixed(plan, groups, chosen)
		r.judgeWindow(plan, rules)
	}
	r.judgeLeftOut(plan, rules, groups)
	if power >= engineeredW && r.Conditions.Family == NEC {
		plan.Findings = append(plan.Findings, Finding{Note, "engineered", fmt.Sprintf(
			"From %d kW on NEC 690.7(A)(3) lets a licensed engineer set the highest voltage.", engineeredW/1000)})
	}
	return nil
}

// engineeredW is the power from which NEC 690.7(A)(3) allows an engineered design.
const engineeredW = 100_000

// judgeTrackers adds the currents of the trackers: figures of the one with the
// most strings, findings once each.
func (r PlanRequest) judgeTrackers(plan *Plan, chosen []choice) error {
	var busiest InputCurrents
	for t, c := range chosen {
		parallel := 0
		for _, s := range c.parallel {
			parallel += s.strings
		}
		if parallel == 0 {
			continue
		}
		currents, err := Currents(r.Module, r.Inverter.MPPTs[t], parallel)
		if err != nil {
			return err
		}
		if parallel > busiest.Parallel {
			busiest = currents
		}
		for _, f := range currents.Findings {
			f.Message = fmt.Sprintf("Tracker %d: %s", t+1, f.Message)
			plan.Findings = append(plan.Findings, f)
		}
	}
	plan.Figures = append(plan.Figures, busiest.Figures...)
	return nil
}

// judgeWindow names the strings that leave the tracking window in the cold.
func (r PlanRequest) judgeWindow(plan *Plan, rules planRules) {
	var numbers []int
	highV := 0.0
	for _, s := range plan.Strings {
		if len(s.Modules) > rules.inWindow {
			numbers = append(numbers, s.Number)
			highV = max(highV, s.VmpColdV)
		}
	}
	if len(numbers) > 0 {
		plan.Findings = append(plan.Findings, Finding{Warning, windowCold, fmt.Sprintf(
			"String %s: up to %s V at maximum power in the cold, above the tracking window (%s V). Some energy is lost.",
			listed(numbers), num(highV), num(r.Inverter.MPPTMaxV))})
	}
}

// judgeLeftOut says how many modules are not wired, which, and why.
func (r PlanRequest) judgeLeftOut(plan *Plan, rules planRules, groups []group) {
	if len(plan.LeftOut) == 0 {
		return
	}
	level := Warning
	if plan.Wires == 0 {
		level = Error
	}
	which := ""
	if !r.countOnly {
		which = fmt.Sprintf("; %s left out", moduleNames(plan.LeftOut))
	}
	plan.Findings = append(plan.Findings, Finding{level, "left_out", fmt.Sprintf("%d modules fit and %d wire%s. %s",
		plan.Fits, plan.Wires, which, r.whyLeftOut(plan, rules, groups))})
}

// moduleNames lists modules as a person counts them, from 1.
func moduleNames(indices []int) string {
	numbers := make([]int, len(indices))
	for i, m := range indices {
		numbers[i] = m + 1
	}
	if len(numbers) == 1 {
		return "module " + listed(numbers) + " is"
	}
	return "modules " + listed(numbers) + " are"
}

// listed writes at most ten numbers with commas and says how many more there are.
func listed(numbers []int) string {
	const shown = 10
	words := make([]string, 0, shown)
	for _, n := range numbers[:min(shown, len(numbers))] {
		words = append(words, strconv.Itoa(n))
	}
	text := strings.Join(words, ", ")
	if more := len(numbers) - shown; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

// whyLeftOut is a sentence with the first reason that applies.
func (r PlanRequest) whyLeftOut(plan *Plan, rules planRules, groups []group) string {
	capacity, strings := 0, 0
	for _, k := range rules.parallel {
		strings += k
		capacity += k * max(0, rules.longest)
	}
	switch {
	case rules.shortest > rules.longest:
		return fmt.Sprintf("A string needs at least %d modules and may have at most %d.", rules.shortest, rules.longest)
	case strings == 0:
		return fmt.Sprintf("No input stands the current of one string, 1.25 x %s A.", num(r.Module.IscA))
	case rules.mostModules < plan.Fits && rules.mostModules <= capacity:
		return fmt.Sprintf("The inverter allows %s W, %d modules.", num(r.Inverter.MaxArrayW), rules.mostModules)
	case capacity < plan.Fits:
		return fmt.Sprintf("The inverter takes at most %d strings of %d, %d modules.", strings, rules.longest, capacity)
	}
	for _, g := range groups {
		if len(g.members) < rules.shortest {
			return fmt.Sprintf("Only %d face this way (%s), and a string needs at least %d.", len(g.members), g.facing(), rules.shortest)
		}
	}
	return fmt.Sprintf("Strings of %d to %d modules, of one facing each and equal on a tracker, cannot hold all on this inverter.",
		rules.shortest, rules.longest)
}

// judgeMixed says what strings of different facing on one tracker cost.
func (r PlanRequest) judgeMixed(plan *Plan, groups []group, chosen []choice) {
	for t, c := range chosen {
		if len(c.parallel) < 2 {
			continue
		}
		a, b := groups[c.parallel[0].group], groups[c.parallel[1].group]
		loss := r.mixLoss(a, b)
		plan.Figures = append(plan.Figures, loss)
		plan.Findings = append(plan.Findings, Finding{Warning, "mixed_tracker", fmt.Sprintf(
			"Tracker %d has strings of different facing (%s; %s): about %.1f %% of their power is lost when the sun faces one of them.",
			t+1, a.facing(), b.facing(), loss.Value)})
	}
}

// mixLoss estimates what parallel strings of two facings lose by sharing one
// voltage in the hour when the sun faces one of them squarely.
//
// The other one then gets cos(angle) of the beam, its cells are cooler by that
// part of the full rise, and its best voltage is higher by the coefficient. Both
// run half the difference d beside their best voltage. Near it the power of a
// module with I = Isc - I0 exp(V/a) falls by (2 + Vmp/a) / 2 of the square of
// the relative distance; a is 1.1 x 25.7 mV for each cell in series.
func (r PlanRequest) mixLoss(a, b group) Figure {
	cosine := max(0, facingCosine(a, b))
	riseK := CellRiseK(Flush) * (1 - cosine)
	in := StringInput{BetaVmpPctPerK: r.Module.BetaVmpPctPerK, GammaPmaxPctPerK: r.Module.GammaPmaxPctPerK}
	apart := math.Abs(in.vmpCoefficient()) / 100 * riseK
	const thermalV = 1.1 * 0.0257
	steep := (2 + r.Module.VmpV/(thermalV*float64(r.Module.CellsInSeries()))) / 2
	lossPct := 100 * steep * (apart / 2) * (apart / 2)
	return Figure{
		Key: "mix_loss", Label: "Loss of parallel strings of different facing, estimated", Unit: "%", Value: lossPct,
		Formula: "(2 + Vmp / (1.1 x 25.7 mV x cells)) / 2 x (half the relative difference of best voltages)^2",
		Numbers: fmt.Sprintf("%s x (%s / 2)^2 = %s %%", num(steep), num(apart), num(lossPct)),
		Source:  "own arithmetic on the one-diode curve; an estimate, no published check",
	}
}

// facingCosine is the cosine of the angle between two groups' outward normals.
func facingCosine(a, b group) float64 {
	const rad = math.Pi / 180
	sa, ca := math.Sincos(a.pitchDeg * rad)
	sb, cb := math.Sincos(b.pitchDeg * rad)
	return float64(sa*sb*math.Cos((a.azimuthDeg-b.azimuthDeg)*rad)) + float64(ca*cb)
}
