package layout

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestKeepOutCheck(t *testing.T) {
	rect := KeepOut{Kind: Vent, Shape: RectShape, WidthM: 1, DepthM: 2}
	for _, tc := range []struct {
		name  string
		k     KeepOut
		field string // of a RangeError; "shape" for a ShapeError; "?" for another error
	}{
		{"rectangle", rect, ""},
		{"circle", KeepOut{Kind: Pipe, Shape: CircleShape, RadiusM: 0.05, ClearanceM: 0.1}, ""},
		{"polygon", KeepOut{Kind: Shade, Shape: PolygonShape, Points: pts(0, 0, 1, 0, 0, 1)}, ""},
		{"no kind", KeepOut{Shape: RectShape, WidthM: 1, DepthM: 1}, "?"},
		{"no shape", KeepOut{Kind: Vent}, "?"},
		{"clearance below 0", func() KeepOut { k := rect; k.ClearanceM = -0.1; return k }(), "ClearanceM"},
		{"clearance NaN", func() KeepOut { k := rect; k.ClearanceM = math.NaN(); return k }(), "ClearanceM"},
		{"no width", func() KeepOut { k := rect; k.WidthM = 0; return k }(), "WidthM"},
		{"endless depth", func() KeepOut { k := rect; k.DepthM = math.Inf(1); return k }(), "DepthM"},
		{"turn NaN", func() KeepOut { k := rect; k.TurnDeg = math.NaN(); return k }(), "TurnDeg"},
		{"far away", func() KeepOut { k := rect; k.Center.YM = 5001; return k }(), "Center.YM"},
		{"no radius", KeepOut{Kind: Vent, Shape: CircleShape}, "RadiusM"},
		{"two points", KeepOut{Kind: Vent, Shape: PolygonShape, Points: pts(0, 0, 1, 1)}, "shape"},
		{"nothing", KeepOut{}, "?"},
	} {
		err := tc.k.Check()
		var re *RangeError
		var se *ShapeError
		isRange, isShape := errors.As(err, &re), errors.As(err, &se)
		ok := false
		switch tc.field {
		case "":
			ok = err == nil
		case "shape":
			ok = isShape
		case "?":
			ok = err != nil && !isShape && !isRange
		default:
			ok = isRange && re.Field == tc.field
		}
		if !ok {
			t.Errorf("%s: %v", tc.name, err)
		}
		if got := tc.k.Footprint(nil); (got == nil) != (tc.field != "") {
			t.Errorf("%s: footprint %v", tc.name, got)
		}
	}
}

func samePoints(got, want []PlanPt) bool {
	if len(got) != len(want) {
		return false
	}
	for i := range got {
		if !near(got[i].XM, want[i].XM, 1e-9) || !near(got[i].YM, want[i].YM, 1e-9) {
			return false
		}
	}
	return true
}

func TestFootprintRect(t *testing.T) {
	// 60 degrees halves plan lengths up the slope.
	south := plane("s", 60, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4)
	east := plane("e", 60, 90, 3, 0, 0, 10, 0, 10, 4, 0, 4)
	center := PlanPt{5, 2}
	for _, tc := range []struct {
		name   string
		k      KeepOut
		planes []Plane
		want   []PlanPt
	}{
		{"plan kind", KeepOut{Kind: Chimney, WidthM: 2, DepthM: 1}, []Plane{south},
			pts(4, 1.5, 6, 1.5, 6, 2.5, 4, 2.5)},
		{"plan kind, a quarter clockwise", KeepOut{Kind: Chimney, WidthM: 2, DepthM: 1, TurnDeg: 90}, []Plane{south},
			pts(4.5, 3, 4.5, 1, 5.5, 1, 5.5, 3)},
		{"plan kind, 45 degrees clockwise", KeepOut{Kind: Other, WidthM: 2 * math.Sqrt2, DepthM: math.Sqrt2, TurnDeg: 45}, nil,
			pts(3.5, 2.5, 5.5, 0.5, 6.5, 1.5, 4.5, 3.5)},
		{"roof-plane kind on a south slope", KeepOut{Kind: RoofWindow, WidthM: 2, DepthM: 1}, []Plane{south},
			pts(4, 1.75, 6, 1.75, 6, 2.25, 4, 2.25)},
		{"roof-plane kind turned", KeepOut{Kind: RoofWindow, WidthM: 2, DepthM: 1, TurnDeg: 90}, []Plane{south},
			pts(4.5, 2.5, 4.5, 1.5, 5.5, 1.5, 5.5, 2.5)},
		{"roof-plane kind on an east slope", KeepOut{Kind: Shade, WidthM: 2, DepthM: 1}, []Plane{east},
			pts(5.25, 1, 5.25, 3, 4.75, 3, 4.75, 1)},
		{"roof-plane kind on no plane", KeepOut{Kind: Shade, WidthM: 2, DepthM: 1}, nil,
			pts(4, 1.5, 6, 1.5, 6, 2.5, 4, 2.5)},
		{"the higher of two planes", KeepOut{Kind: Shade, WidthM: 2, DepthM: 1},
			[]Plane{south, plane("up", 0, 180, 30, 0, 0, 10, 0, 10, 4, 0, 4)},
			pts(4, 1.5, 6, 1.5, 6, 2.5, 4, 2.5)},
	} {
		k := tc.k
		k.Shape, k.Center = RectShape, center
		if got := k.Footprint(tc.planes); !samePoints(got, tc.want) {
			t.Errorf("%s: %v, want %v", tc.name, got, tc.want)
		}
	}
}

// A roof-plane kind whose center lies on the outline belongs to the plane.
func TestFootprintCenterOnOutline(t *testing.T) {
	s := plane("s", 60, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4)
	k := KeepOut{Kind: RoofWindow, Shape: RectShape, Center: PlanPt{5, 4}, WidthM: 2, DepthM: 1}
	if got, want := k.Footprint([]Plane{s}), pts(4, 3.75, 6, 3.75, 6, 4.25, 4, 4.25); !samePoints(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// A circle's polygon holds the circle, keeps within 1 mm of it and has its
// extent along both axes.
func TestFootprintCircle(t *testing.T) {
	for _, r := range []float64{0.005, 0.05, 0.3, 2, 50} {
		for _, clearance := range []float64{0, 0.3, 10} {
			k := KeepOut{Kind: Pipe, Shape: CircleShape, Center: PlanPt{5, 2}, RadiusM: r, ClearanceM: clearance}
			got := k.Footprint(nil)
			for i, a := range got {
				b := got[(i+1)%len(got)]
				if d := math.Hypot(a.XM-5, a.YM-2); d > r+roundExcessM {
					t.Fatalf("radius %v: corner at %v", r, d)
				}
				if d := pointToSegmentM(PlanPt{5, 2}, a, b); d < r-1e-9 {
					t.Fatalf("radius %v: side at %v", r, d)
				}
			}
			x1 := math.Inf(-1)
			for _, a := range got {
				x1 = max(x1, a.XM)
			}
			if !near(x1, 5+r, 1e-9) {
				t.Errorf("radius %v: reaches to x = %v", r, x1)
			}
		}
	}
}

// Every point of the roof plane nearer to the footprint than the clearance is
// taken; none beyond it by more than the rounding. Concave footprints too.
func TestGrownFootprint(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		k := KeepOut{Kind: Other, Shape: PolygonShape}
		for _, p := range starGen(rt, 1) {
			k.Points = append(k.Points, PlanPt{p.UM, p.VM})
		}
		if rapid.Bool().Draw(rt, "clockwise") {
			slices.Reverse(k.Points)
		}
		k.ClearanceM = rapid.SampledFrom([]float64{0, 0.1, 0.5, 2}).Draw(rt, "clearance")
		p := plane("p", rapid.Float64Range(0, 75).Draw(rt, "pitch"), rapid.Float64Range(0, 359).Draw(rt, "azimuth"), 3,
			0, 0, 20, 0, 20, 20, 0, 20)
		f, err := NewFrame(p)
		if err != nil || k.Check() != nil {
			rt.Skip()
		}
		ring := make(Ring, len(k.Points))
		for i, q := range k.Points {
			ring[i] = f.ToSlope(q)
		}
		zones := k.grownIn(f, k.Footprint([]Plane{p}))
		for range 100 {
			// Around the corners, where zones join.
			c := rapid.SampledFrom(ring).Draw(rt, "corner")
			reach := k.ClearanceM + 0.2
			s := SlopePt{
				c.UM + rapid.Float64Range(-reach, reach).Draw(rt, "du"),
				c.VM + rapid.Float64Range(-reach, reach).Draw(rt, "dv"),
			}
			d := math.Inf(1)
			for i, a := range ring {
				_, di := nearest(s, a, ring[(i+1)%len(ring)])
				d = min(d, di)
			}
			if ring.inside(s) {
				d = 0
			}
			// Zones overlap but at the very corners.
			got := insideAny(zones, s)
			if !got && d > 1e-9 && d < k.ClearanceM-1e-9 || got && d > k.ClearanceM+roundExcessM+1e-9 {
				rt.Fatalf("%v at %v with clearance %v: taken %v", s, d, k.ClearanceM, got)
			}
		}
	})
}
