//go:build !js

package project

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rooftally/layout"
)

// modulesInside checks every module of a layout with the independent checker
// of package layout, against the region that the layout was made for.
func modulesInside(t *rapid.T, d Document, lay LayoutResult, c Candidate, wide bool) {
	r, err := newRoof(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	surfaces := r.narrow
	if wide {
		if surfaces, err = r.wideSurfaces(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	for _, by := range lay.ByPlane {
		i := slices.IndexFunc(d.Planes, func(p Plane) bool { return p.ID == by.PlaneID })
		modules := make([]layout.Rect, len(by.Modules))
		for j, m := range by.Modules {
			modules[j] = layout.Rect{UM: m.UM, VM: m.VM, WM: m.WM, HM: m.HM}
		}
		if err := layout.CheckPacking(surfaces[i].Region, specOf(r, c, d.Planes[i], by), modules); err != nil {
			t.Fatalf("plane %s: %v", by.PlaneID, err)
		}
		if limit := d.Planes[i].ModuleLimit; limit != nil && by.Count > *limit || by.Count != len(by.Modules) || by.Count > by.Bound {
			t.Fatalf("plane %s: %d modules, %d listed, limit %v, bound %d", by.PlaneID, by.Count, len(by.Modules), limit, by.Bound)
		}
	}
}

// specOf is what may lie on a plane: a person may set either turn, the engine
// keeps to those of the plane.
func specOf(r *roof, c Candidate, p Plane, by PlaneLayoutResult) layout.Spec {
	if by.Hand == "" {
		return r.spec(c, p)
	}
	return r.freeSpec(c)
}

func TestEvaluateProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDocument().Draw(t, "doc")
		res, err := EvaluateWithin(context.Background(), d, layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		again, err := EvaluateWithin(context.Background(), d, layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		a, _ := EncodeResult(res)
		b, _ := EncodeResult(again)
		if string(a) != string(b) {
			t.Fatal("the same document gave another result")
		}
		for i, r := range res.Candidates {
			c := d.Candidates[i]
			modulesInside(t, d, r.Fill, c, r.RidgeWidened)
			if r.Size == nil {
				continue
			}
			modulesInside(t, d, r.Size.Layout, c, r.Size.RidgeWidened)
			checkSize(t, d, r)
		}
	})
}

// checkSize holds the promises of meeting a size.
func checkSize(t *rapid.T, d Document, r CandidateResult) {
	s := r.Size
	if s.Need*r.PmaxW < d.Target.SizeW || (s.Need-1)*r.PmaxW >= d.Target.SizeW {
		t.Fatalf("%d modules of %d W for %d W", s.Need, r.PmaxW, d.Target.SizeW)
	}
	if s.Layout.Count > s.Need || s.Fits != (s.Layout.Count == s.Need) {
		t.Fatalf("need %d, %d laid out, fits %v", s.Need, s.Layout.Count, s.Fits)
	}
	given := 0 // modules that the filled roof may lack for being tidy
	if d.Rules.Style == "best" {
		given = d.Rules.TidyCostModules
	}
	if s.RidgeWidened == r.RidgeWidened && (s.Layout.Count < min(s.Need, r.Fill.Count) || s.Layout.Count > min(s.Need, r.Fill.Count+given)) {
		t.Fatalf("need %d, %d laid out, %d fit, %d for tidiness", s.Need, s.Layout.Count, r.Fill.Count, given)
	}
	// Thinning the filled roof and leaving the shade empty are two plain ways
	// to get as many; neither has fewer modules in shade.
	if s.RidgeWidened == r.RidgeWidened && given == 0 {
		inSun := r.Fill.Count - r.Fill.InShade
		if s.Layout.InShade > lockedInShade(s.Layout)+max(0, s.Layout.Count-inSun) {
			t.Fatalf("%d of %d in shade although %d places lie in the sun", s.Layout.InShade, s.Layout.Count, inSun)
		}
	}
	empty := d
	empty.KeepOuts = slices.Clone(d.KeepOuts)
	for i := range empty.KeepOuts {
		if empty.KeepOuts[i].Shade == "last_resort" {
			empty.KeepOuts[i].Shade = "off_limits"
		}
	}
	res, err := EvaluateWithin(context.Background(), empty, layout.Drag)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range res.Candidates {
		// A locked module stays even where it lies in shade.
		if e.ID == r.ID && e.Size.Fits && e.Size.RidgeWidened == s.RidgeWidened && s.Layout.InShade > lockedInShade(s.Layout) {
			t.Fatalf("%d in shade although all %d fit outside it", s.Layout.InShade, s.Need)
		}
	}
}

func lockedInShade(lay LayoutResult) int {
	n := 0
	for _, p := range lay.ByPlane {
		for _, m := range p.Modules {
			if m.Locked && m.InShade {
				n++
			}
		}
	}
	return n
}

// Removing a keep-out never loses a module with style rows.
func TestRemovingKeepOutLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDocument().Draw(t, "doc")
		d.Rules.Style, d.Rules.Set = "rows", "distances"
		d.KeepOuts = append(d.KeepOuts, anyKeepOut(t, 7))
		before, err := EvaluateWithin(context.Background(), d, layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		gone := rapid.IntRange(0, len(d.KeepOuts)-1).Draw(t, "gone")
		d.KeepOuts = slices.Delete(slices.Clone(d.KeepOuts), gone, gone+1)
		after, err := EvaluateWithin(context.Background(), d, layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		for i := range before.Candidates {
			if b, a := before.Candidates[i].Fill.Count, after.Candidates[i].Fill.Count; a < b {
				t.Fatalf("candidate %d: %d modules, %d before", i, a, b)
			}
		}
	})
}

// Turning the whole plan with its azimuths keeps the counts. The outlines are
// whole centimetres and the modules whole millimetres plus a third, so that no
// row fits to within 5 um. Circles stay out: they become polygons that do not
// turn with the plan. So do roof windows beside the roof, which lie as if on a
// level plane; one on the roof is put in.
func TestTurningThePlanKeepsCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDocument().Draw(t, "doc")
		d.Rules.GapEaveM, d.Rules.GapSlopeM = 0.0201, 0.0203
		for i := range d.Planes {
			// Slopes of odd length, and no edge near a side of the module.
			d.Planes[i].PitchDeg, d.Planes[i].AzimuthDeg = 31.7, 180
		}
		d.KeepOuts = slices.DeleteFunc(d.KeepOuts, func(k KeepOut) bool {
			return k.Shape == "circle" || k.Shape == "rect" && (k.Kind == "roof_window" || k.Kind == "shade")
		})
		d.KeepOuts = append(d.KeepOuts, KeepOut{
			ID: "window", Kind: "roof_window", Shape: "rect",
			Center: &Point{0.9, 0.6}, WidthM: 0.5, DepthM: 0.7, TurnDeg: 12, ClearanceM: 0.1,
		})
		for i := range d.Candidates {
			d.Candidates[i].LengthM += 1.0 / 3000
			d.Candidates[i].WidthM += 1.0 / 3100
			d.Candidates[i].Datasheet = nil
		}
		deg := rapid.SampledFrom([]float64{90, 180, 270, 17.3, 333.1}).Draw(t, "deg")
		before, err := EvaluateWithin(context.Background(), d, layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		after, err := EvaluateWithin(context.Background(), turned(d, deg), layout.Drag)
		if err != nil {
			t.Fatal(err)
		}
		for i := range before.Candidates {
			b, a := before.Candidates[i].Fill, after.Candidates[i].Fill
			if b.Count != a.Count || b.InShade != a.InShade {
				t.Fatalf("candidate %d: %d (%d in shade) before, %d (%d) after", i, b.Count, b.InShade, a.Count, a.InShade)
			}
		}
	})
}
