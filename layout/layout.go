// Package layout turns roof planes into places for modules: frames, edges,
// setbacks, keep-outs, and the packing of equal rectangles into what is left.
//
// It is pure: values in, values out; no files, clock, network, logging or
// global random numbers; it builds for js/wasm. It knows nothing of watts,
// documents or pages.
//
// Three frames meet in the product; two of them live here.
//
//   - Plan: metres, x east, y north ([PlanPt]).
//   - Slope: metres in one roof plane, u along the eave to the right when
//     looking up the slope, v up the slope from the plane's lowest point
//     ([SlopePt]). A [Frame] crosses between the two.
//   - The packing engine works in whole quarter micrometres of the slope frame
//     from a local origin, so that rounding never decides what is inside.
package layout

// PlanPt is a point of the plan frame: metres, x east, y north.
type PlanPt struct{ XM, YM float64 }

// SlopePt is a point of one plane's slope frame: metres, u along the eave to
// the right when looking up the slope, v up the slope, v = 0 at the plane's
// lowest point.
type SlopePt struct{ UM, VM float64 }

// Ring is a closed outline in a slope frame, without a repeated first point.
// Either direction is accepted.
type Ring []SlopePt

// Region is where modules may lie: Outer minus the union of Holes. Holes may
// overlap each other, touch or cross the outline, or lie outside it; a hole's
// boundary and the outline itself may be touched by a module.
type Region struct {
	Outer Ring
	Holes []Ring
}

// Rect is one placed module: its lower-left corner and its placed size in the
// slope frame, metres.
type Rect struct{ UM, VM, WM, HM float64 }
