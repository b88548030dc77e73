//go:build !js

package project

import (
	"slices"
	"testing"
)

// The demo's edges come out as a roofer would name them, without overrides.
func TestDemoEdges(t *testing.T) {
	res := mustEvaluate(t, Demo())
	want := map[string][]string{
		"main-south": {"eave", "valley", "valley", "eave", "rake", "ridge", "rake"},
		"main-north": {"ridge", "rake", "eave", "rake"},
		"wing-west":  {"rake", "ridge", "valley", "eave"},
		"wing-east":  {"rake", "eave", "valley", "ridge"},
	}
	for _, p := range res.Planes {
		var kinds []string
		for _, e := range p.Edges {
			kinds = append(kinds, e.Kind)
			if !e.Guessed {
				t.Errorf("%s: edge %d is not guessed", p.ID, e.Index)
			}
		}
		if !slices.Equal(kinds, want[p.ID]) {
			t.Errorf("%s: edges %q, want %q", p.ID, kinds, want[p.ID])
		}
	}
}

// The demo shows what the pages are about: no warnings, modules on every used
// plane, some of them in shade, and candidates that differ.
func TestDemoIsConvincing(t *testing.T) {
	res := mustEvaluate(t, Demo())
	if len(res.Findings) != 0 {
		t.Errorf("findings: %v", res.Findings)
	}
	counts := map[int]bool{}
	for _, c := range res.Candidates {
		counts[c.Fill.Count] = true
		t.Logf("%s %s: %d modules, %d in shade, %.2f kWdc, %.0f W/m2, %.1f m2 free",
			c.Letter, c.Label, c.Fill.Count, c.Fill.InShade, c.Fill.KWdc, c.Fill.WPerM2, c.Fill.FreeAreaM2)
		if c.Fill.InShade == 0 {
			t.Errorf("%s: none in shade", c.ID)
		}
		for _, p := range c.Fill.ByPlane {
			t.Logf("  %s: %d of at most %d, %d in shade", p.PlaneID, p.Count, p.Bound, p.InShade)
			if p.Count == 0 {
				t.Errorf("%s: none on %s", c.ID, p.PlaneID)
			}
		}
	}
	if len(counts) != 3 {
		t.Errorf("counts %v do not differ", counts)
	}
	// The chimney astride the ridge acts on both planes.
	for _, p := range res.Planes[:2] {
		if !slices.ContainsFunc(p.Zones, func(z ZoneResult) bool { return z.Why == "keep_out" }) {
			t.Errorf("%s: the chimney does not act", p.ID)
		}
	}
}
