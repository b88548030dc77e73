package energy

import (
	"math"
	"slices"
)

// The current-voltage curve of a substring, in parts of its own short-circuit
// current and open-circuit voltage: v = 1 + curveKnee ln(1 - i), the ideal
// diode. A knee of 0.05 gives a fill factor of 0.81 (arithmetic), that of a good
// silicon module.
const (
	curveKnee = 0.05
	// At the best point of that curve (found by halving its derivative).
	curveBestI = 0.9447632038697787
	curveBestV = 0.8551937024393044
	// bypassDropShare is a conducting bypass diode's voltage, 0.5 V, over a
	// substring's open-circuit voltage, about 13 V (common practice, no source).
	bypassDropShare = 0.04
)

// substring is one bypassed part of a string, or several equal ones: its current
// in parts of full sun and its power at its best, alone, W per part of current.
type substring struct{ current, wattPerCurrent float64 }

// sameCurrent is how far apart, relative, currents count as one: a curve is
// flat within 0.1 % of its power that close to its best point.
const sameCurrent = 0.005

// stringPower is the most power of substrings in series with a bypass diode
// each: over all current levels at which one of them is at its best, the sum of
// what each gives at that current; a substring that cannot carry the current is
// bypassed and costs its diode's drop. Equal substrings give exactly the sum of
// their powers. It sorts and joins subs in place.
func stringPower(subs []substring) float64 {
	subs = joinEqual(subs)
	if len(subs) == 1 {
		return subs[0].current * subs[0].wattPerCurrent
	}
	var best float64
	for _, level := range subs {
		if level.current <= 0 {
			continue
		}
		var sum float64
		for _, s := range subs {
			sum += s.powerAt(level.current)
		}
		best = max(best, sum)
	}
	return best
}

// joinEqual sorts substrings by current and joins those within 0.5 % of the
// first of a group; their power alone is kept.
func joinEqual(subs []substring) []substring {
	slices.SortFunc(subs, func(a, b substring) int {
		switch {
		case a.current < b.current:
			return -1
		case a.current > b.current:
			return 1
		}
		return 0
	})
	kept, first := subs[:1], subs[0].current
	for _, s := range subs[1:] {
		last := &kept[len(kept)-1]
		if s.current > first*(1+sameCurrent) {
			kept, first = append(kept, s), s.current
			continue
		}
		watts := last.current*last.wattPerCurrent + s.current*s.wattPerCurrent
		last.wattPerCurrent += s.wattPerCurrent
		if last.wattPerCurrent > 0 {
			last.current = watts / last.wattPerCurrent
		}
	}
	return kept
}

// powerAt is the power of one substring while the string carries curveBestI
// times level. A substring without light still costs the drop of its diode.
func (s substring) powerAt(level float64) float64 {
	volt := -bypassDropShare
	if i := curveBestI * level / s.current; i < 1 {
		volt = max(volt, 1+curveKnee*math.Log(1-i))
	}
	return s.wattPerCurrent * level * volt / curveBestV
}
