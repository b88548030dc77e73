package layout

import "math"

// upperBound is a number that no axis-parallel placement of the turns exceeds,
// not even one that uses the tolerances of [CheckPacking] to the full. m is
// the part of the region that modules can reach. It is the lesser of two
// quotients of areas; docs/packing.md has the proof.
func upperBound(m measure, s Spec, turns []Turn) float64 {
	// The last half of a tick is for the rounding of the region.
	tol := toTicks(max(insideTolM, gapTolM)) + 0.5
	gapU, gapV, end := s.GapUM*ticksPerM, s.GapVM*ticksPerM, s.EndM*ticksPerM
	cell, bare := math.Inf(1), math.Inf(1)
	for _, t := range turns {
		p := s.placed(t)
		w, h := p.WM*ticksPerM, p.HM*ticksPerM
		cell = min(cell, (w+gapU-float64(2*tol))*(h+gapV-float64(2*tol)))
		bare = min(bare, (w-float64(3*tol))*(h-float64(3*tol)))
	}
	growU, growV := max(0, (gapU+tol)/2-end), (gapV+tol)/2
	grown := m.area + float64(m.alongU*growV) + float64(m.alongV*growU) + float64(2*m.pieces*growU*growV)
	return math.Floor(min(grown/cell, m.area/bare) + 1e-9)
}

// narrowest is the least level stretch of the region that a module covers, in
// ticks, with all tolerances.
func (s Spec) narrowest(turns []Turn) float64 {
	least := math.Inf(1)
	for _, t := range turns {
		least = min(least, s.placed(t).WM)
	}
	return toTicks(least+2*s.EndM-2*insideTolM-gapTolM) - 2
}
