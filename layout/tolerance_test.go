package layout

import (
	"math"
	"math/big"
	"math/rand"
	"testing"
)

// The sums in the comments of slackTicks: nothing that exists is lost, nothing
// that is placed is more than insideTolM outside.
func TestSlackBudget(t *testing.T) {
	const (
		rounding  = 0.5 // of a point to whole ticks
		rowDown   = 1.0 // of a row position to whole ticks
		placement = 0.5 + 3*tieTicks
	)
	if slackTicks < rounding+rowDown {
		t.Error("a placement without tolerance may be lost")
	}
	if most := slackTicks + rounding + max(placement, liftV); most > insideTolM*ticksPerM-0.5 {
		t.Errorf("a module may be %g ticks outside", most)
	}
	if _, frac := math.Modf(slackTicks); frac != 0.5 {
		t.Error("the ends of a slab may coincide with a vertex")
	}
}

// The float64 error of an edge's reach, against exact fractions, on the largest
// region allowed.
func TestReachErrorIsFarBelowTie(t *testing.T) {
	random := rand.New(rand.NewSource(1))
	extent := int64(maxExtentM * ticksPerM)
	worst := 0.0
	for range 20000 {
		x0, x1 := random.Int63n(extent), random.Int63n(extent)
		y0 := random.Int63n(extent - 1)
		y1 := y0 + 1 + random.Int63n(extent-y0)
		f := &field{}
		f.addRing([]tickPt{{x: x0, y: y0}, {x: x1, y: y1}}, 0)
		y := y0 + random.Int63n(y1-y0)
		got := extentOf(&f.edges[0], 0, float64(y)+0.5, float64(y1)+1)
		exact := big.NewRat(2*(y-y0)+1, 2*(y1-y0))
		exact.Mul(exact, big.NewRat(x1-x0, 1)).Add(exact, big.NewRat(x0, 1))
		want, _ := exact.Float64()
		at := got.lo
		if x1 < x0 {
			at = got.hi
		}
		worst = max(worst, math.Abs(at-want))
	}
	if worst > tieTicks/1000 {
		t.Errorf("the error is up to %g ticks", worst)
	}
}

// Noise of the checker's areas on rectangles far from the origin is below
// overlapTolM2, and an overlap as deep as the engine could cause is above.
func TestOverlapTolerance(t *testing.T) {
	at := Rect{812.345678, 456.789012, 2, 1}
	slanted := Ring{{at.UM, at.VM}, {at.UM - 3, at.VM + 7}, {at.UM - 9, at.VM - 3.3}}
	if m := ringInRect(at, slanted); m.any() {
		t.Errorf("touching makes %v", m)
	}
	if deep := 0.25 / ticksPerM * minSideM; deep < 5*overlapTolM2 {
		t.Errorf("a quarter of a tick along the least side is only %g m2", deep)
	}
}

// What the engine drops as flat, the checker does not see; a spike drawn
// without width stays flat far from the origin.
func TestFlatTolerance(t *testing.T) {
	if flatTolM2 > overlapTolM2/5 {
		t.Errorf("flatTolM2 %g is not far below overlapTolM2 %g", flatTolM2, overlapTolM2)
	}
	const far = 5000
	flat := Ring{{far + 0.1, far + 0.1}, {far + 3.1, far + 4.1}, {far + 1.6, far + 2.1}}
	if flat.hasArea() {
		t.Error("a flat spike 5 km away has area")
	}
	if thin := (Ring{{0, 0}, {1, 0}, {1, 1e-9}}); !thin.hasArea() {
		t.Error("a spike of a nanometre by a metre has none")
	}
}

// The sums in the comments of the bound's tolerances: what a valid packing may
// lack never lets one of its boxes fall out of sight or two of them overlap.
func TestBoundTolerances(t *testing.T) {
	const contractTicks = 1e-6 * ticksPerM // of a side, a size, or a gap
	if boundInsideTicks < 2*contractTicks+1 {
		t.Error("a module that counts as inside may be left out of the bound")
	}
	if boundApartTicks < 2*contractTicks {
		t.Error("the boxes of two modules that keep their gap may overlap")
	}
	if lineApartTicks < 10*max(boundApartTicks, boundInsideTicks) {
		t.Error("the slack may decide what a line is worth")
	}
}
