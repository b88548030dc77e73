package electrical

import "slices"

// mostSame is how many inverters of one type [PlanSeveral] tries.
const mostSame = 8

// Several is how many inverters of one type take all modules of a roof.
type Several struct {
	// Takes is how many modules each inverter takes, the first first; empty where
	// no number of them that was tried takes all.
	Takes []int `json:"takes"`
	// Tried is the most inverters that were tried.
	Tried int `json:"tried"`
}

// PlanSeveral looks for the fewest inverters, 2 to 8 of the request's own type,
// that take every module; each keeps to the rules of [PlanStrings] by itself.
// Which modules go where is not laid out. It answers with a number that works; a
// smaller one may be missed where the largest array of an inverter binds. A
// request that [PlanStrings] refuses gives its error.
func PlanSeveral(r PlanRequest) (Several, error) {
	r.countOnly = true
	out := Several{Takes: []int{}}
	one, err := PlanStrings(r)
	if err != nil {
		return Several{}, err
	}
	for k := 2; k <= mostSame && k*len(r.Inverter.MPPTs) <= 24; k++ {
		out.Tried = k
		if one.Exact && k*one.Wires < one.Fits {
			continue // even as full as can be they take too few
		}
		takes, err := r.several(k)
		if err != nil {
			return Several{}, err
		}
		if takes != nil {
			out.Takes = takes
			return out, nil
		}
	}
	return out, nil
}

// several says how many modules each of k inverters takes, nil for none found:
// planned as one, or one after the other, each as full as it gets or with about
// its part of all.
func (r PlanRequest) several(k int) ([]int, error) {
	if takes, err := r.shared(k); err != nil || takes != nil {
		return takes, err
	}
	part := (len(r.Placed) + k - 1) / k
	for _, atMost := range []int{0, part, part + 1, part + 2} {
		r.atMost = atMost
		if takes, err := r.inTurn(k); err != nil || takes != nil {
			return takes, err
		}
	}
	return nil, nil
}

// shared plans k inverters as one with all their trackers and says how many
// modules each takes; nil where that leaves modules out or gives one inverter a
// larger array than it allows.
func (r PlanRequest) shared(k int) ([]int, error) {
	one := r.Inverter
	r.longestAt = r.mostModules()
	all := one
	all.MPPTs = slices.Repeat(one.MPPTs, k)
	all.MaxArrayW *= float64(k)
	all.ACPowerW *= float64(k)
	all.ACCurrentA *= float64(k)
	r.Inverter = all
	if len(all.Check()) > 0 {
		return nil, nil // too large to be described as one
	}
	plan, err := PlanStrings(r)
	if err != nil || plan.Wires < plan.Fits || hasError(plan.Findings) {
		return nil, err
	}
	takes := dealt(plan.Strings, len(one.MPPTs), k)
	for _, n := range takes {
		if n == 0 || one.MaxArrayW > 0 && over(float64(n*r.Module.PmaxW), one.MaxArrayW) {
			return nil, nil
		}
	}
	return takes, nil
}

// dealt deals the loads of k times so many trackers to k inverters: those of one
// place in the inverter are alike, and the largest goes to the inverter that has
// least yet.
func dealt(all []PlannedString, trackers, k int) []int {
	takes := make([]int, k)
	for place := range trackers {
		loads := make([]int, k)
		for _, s := range all {
			if at := s.Tracker - 1; at%trackers == place {
				loads[at/trackers] += len(s.Modules)
			}
		}
		slices.SortFunc(loads, func(a, b int) int { return b - a })
		slices.Sort(takes)
		for i, n := range loads {
			takes[i] += n
		}
	}
	slices.SortFunc(takes, func(a, b int) int { return b - a })
	return takes
}

// inTurn gives each of k inverters what those before it leave; nil where some
// modules are left in the end.
func (r PlanRequest) inTurn(k int) ([]int, error) {
	var takes []int
	for range k {
		plan, err := PlanStrings(r)
		if err != nil || plan.Wires == 0 || hasError(plan.Findings) {
			return nil, err
		}
		takes = append(takes, plan.Wires)
		if len(plan.LeftOut) == 0 {
			return takes, nil
		}
		rest := make([]PlacedModule, len(plan.LeftOut))
		for i, m := range plan.LeftOut {
			rest[i] = r.Placed[m]
		}
		r.Placed = rest
	}
	return nil, nil
}
