package structural

import "math"

// railTipM is how far a rail that is made longer reaches past the rafter's
// centre, for the attachment to hold (common practice, no source).
const railTipM = 0.05

// placeSlackM lets a cantilever equal its limit although both are sums of
// binary fractions: a nanometre.
const placeSlackM = 1e-9

// rafterLine is the rafters that a rail crosses, and how attachments may lie on
// them, metres.
type rafterLine struct {
	phaseM, spacingM float64
	stepM            float64 // between attachments, a multiple of spacingM
	cantileverM      float64
}

// at is the place of a rafter by its number.
func (l rafterLine) at(k int) float64 { return l.phaseM + float64(float64(k)*l.spacingM) }

// attached is a rail with its attachments.
type attached struct {
	fromM, toM float64
	atM        []float64
}

// attach chooses attachments for a rail: as few as the step allows, from the
// left end on. A rail that no rafter holds near enough to an end is made longer
// there, to the next rafter; one with a single rafter is made longer on the
// side whose next rafter is nearer.
func (l rafterLine) attach(fromM, toM float64) attached {
	first := int(math.Ceil((fromM-l.phaseM)/l.spacingM - roundSlack))
	last := int(math.Floor((toM-l.phaseM)/l.spacingM + roundSlack))
	reach := l.cantileverM + placeSlackM
	if l.at(first)-fromM > reach {
		first--
	}
	if toM-l.at(last) > reach {
		last++
	}
	for last <= first {
		if fromM-l.at(first-1) < l.at(last+1)-toM {
			first--
		} else {
			last++
		}
	}
	out := attached{fromM: fromM, toM: toM}
	if l.at(first) < fromM {
		out.fromM = l.at(first) - min(railTipM, l.cantileverM)
	}
	if l.at(last) > toM {
		out.toM = l.at(last) + min(railTipM, l.cantileverM)
	}
	// The attachment furthest in that still holds the left end saves most.
	k := first
	for k+1 < last && l.at(k+1)-out.fromM <= reach {
		k++
	}
	stride := int(math.Round(l.stepM / l.spacingM))
	out.atM = append(out.atM, l.at(k))
	for k < last && (len(out.atM) < 2 || out.toM-l.at(k) > reach) {
		k = min(k+stride, last)
		out.atM = append(out.atM, l.at(k))
	}
	return out
}
