package layout

// All tolerances of the package, with the reason for each value.

// Packing engine.
const (
	// ticksPerM is the engine's grid: 1 tick is a quarter of a micrometre.
	// Whole micrometres would be too coarse for slope-frame points, which are
	// quotients: rounding them would use up half of insideTolM.
	ticksPerM = 4e6
	// insideTolM is the contract of a valid packing: a module is inside when
	// it is inside after being reduced by this much on each side.
	insideTolM = 1e-6
	// gapTolM is how much a gap, a size or a turn may be off in a valid packing.
	gapTolM = 1e-6
	// alignTolM is within what two modules count as lined up, or as standing at
	// the gap: a hundredth of what can be seen or measured on a roof, and well
	// above the ticks by which the engine's own rounding parts them.
	alignTolM = 1e-5
	// slackTicks is how much the engine shrinks a module on each side before
	// asking whether it is free. At least 1.5: half a tick for the rounded
	// region, one for the row position rounded down, so that no placement that
	// exists without any tolerance is lost. At most 2: the rest of the four
	// ticks of insideTolM pays for the rounded region (0.5), the rounded place
	// and 3 tieTicks (0.7) or liftV (1), and some for the checker's float64. Half a tick, so that the
	// ends of a row never coincide with a vertex: no case of touching is left.
	slackTicks = 1.5
	// tieTicks is far above the error of a coordinate computed in float64
	// (about 1e-6 ticks on a region of maxExtentM) and far below slackTicks.
	// A condition met within tieTicks holds; once met it is kept while it holds
	// within 2 tieTicks, so that rounding noise cannot make it flicker.
	tieTicks = 1.0 / 16
	// crossTicks is how deep an edge must reach past another to cross it:
	// rounding moves a point by half a tick, so a ring that touches itself may
	// seem to cross itself by less than this.
	crossTicks = 2
	// overlapTolM2 is the area under which a hole's overlap with a module
	// reduced by insideTolM is float64 noise: noise is below 1e-13 m2 for
	// coordinates near the module, and the shallowest overlap that the engine's
	// own slack could miss, a quarter of a tick along 10 mm, is 6e-10 m2.
	overlapTolM2 = 1e-10
	// flatTolM2 is the area up to which a spike thinner than a tick counts as
	// having no width. It must be below overlapTolM2, for what the engine drops
	// the checker must not see, and above the float64 noise of a spike drawn
	// without width and moved 5 km away: 5 m of 1e-12 m.
	flatTolM2 = 1e-11
	// maxExtentM, maxFarM, maxPoints and maxModules bound the input so that the
	// error figures above hold and the work stays finite: the extent of all
	// rings together, the distance of a coordinate from the origin, the points
	// of all rings, and the count that the area would allow.
	maxExtentM = 1000.0
	maxFarM    = 1e7
	maxPoints  = 100_000
	maxModules = 500_000
	// boundInsideTicks is how much a module is shrunk on each side when a bound
	// asks whether it may lie somewhere: 1e-6 m for being inside, 1e-6 m for the
	// size, one tick for the rounded region, one to spare.
	boundInsideTicks = 10
	// boundApartTicks is how much less than module and gap together two modules
	// may be apart: 1e-6 m for the gap, 1e-6 m for the size, two ticks to spare.
	boundApartTicks = 10
	// lineApartTicks is the least distance of two lines, far above the slack so
	// that rounding cannot decide what a line is worth.
	lineApartTicks = 400
)
