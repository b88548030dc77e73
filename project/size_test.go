//go:build !js

package project

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"rooftally/layout"
)

// A row of nine places, 0 to 8 m from a shade that is off limits: the farthest
// are taken, side by side.
//
//	|shade| 0 | 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 |   distance, m
func TestSizeIsMetFarFromShade(t *testing.T) {
	d := shed(10, 2)
	shade := shadeOver(0, 0, 1, 2)
	shade.Shade = "off_limits"
	d.KeepOuts = []KeepOut{shade}
	for n, value := range []float64{1: 8, 2: 15, 3: 21, 9: 36} {
		if value == 0 {
			continue
		}
		d.Target = Target{Mode: "size", SizeW: 400 * n}
		s := mustEvaluate(t, d).Candidates[0].Size
		if !near(s.Value, value, 1e-6) || !near(s.ValueBound, value, 1e-6) || !s.ValueProved {
			t.Errorf("%d modules: value %g, bound %g, proved %v; want %g", n, s.Value, s.ValueBound, s.ValueProved, value)
		}
		for i, m := range s.Layout.ByPlane[0].Modules {
			if !near(m.UM, float64(10-n+i), 1e-5) {
				t.Errorf("%d modules: number %d at %g m", n, i, m.UM)
			}
		}
		if s.Layout.Tidiness != (Tidiness{RailRuns: 1, Blocks: 1, Turns: 1}) {
			t.Errorf("%d modules: %+v", n, s.Layout.Tidiness)
		}
	}
}

// What places are worth is told with the sun only where the site says where it stands.
func TestWordsOnValueKnowTheSite(t *testing.T) {
	d := shed(10, 2)
	d.Target = Target{Mode: "size", SizeW: 400}
	for lat, sun := range map[float64]bool{0: false, 43: true} {
		d.Site.LatDeg = lat
		if s := mustEvaluate(t, d).Candidates[0].Size; strings.Contains(s.ValueWords, "sun") != sun {
			t.Errorf("latitude %g: %s", lat, s.ValueWords)
		}
	}
}

// The same in last-resort shade: its places are taken when all others are.
func TestSizeValuesLastResort(t *testing.T) {
	d := shed(4, 2)
	d.KeepOuts = []KeepOut{shadeOver(0, 0, 2, 2)}
	for n, want := range []struct {
		value float64
		shade int
	}{1: {1, 0}, 2: {1, 0}, 3: {1 - 100_000, 1}, 4: {1 - 200_000, 2}} {
		if n == 0 {
			continue
		}
		d.Target = Target{Mode: "size", SizeW: 400 * n}
		s := mustEvaluate(t, d).Candidates[0].Size
		if !near(s.Value, want.value, 1e-6) || s.Layout.InShade != want.shade {
			t.Errorf("%d modules: value %g with %d in shade, want %g with %d", n, s.Value, s.Layout.InShade, want.value, want.shade)
		}
	}
}

// Six and four places: eight modules need two blocks, five need one.
func TestSizeKeepsToABlockLimit(t *testing.T) {
	d := shed(6, 2)
	d.Planes = append(d.Planes, rectPlane("short", 10, 0, 4, 2))
	for _, c := range []struct{ need, limit, blocks int }{
		{8, 0, 2}, {8, 2, 2}, {8, 1, 2}, {5, 1, 1}, {10, 1, 2},
	} {
		d.Target = Target{Mode: "size", SizeW: 400 * c.need, MaxBlocks: c.limit}
		res := mustEvaluate(t, d)
		s := res.Candidates[0].Size
		if !s.Fits || s.Layout.Tidiness.Blocks != c.blocks {
			t.Errorf("%+v: %d modules in %d blocks", c, s.Layout.Count, s.Layout.Tidiness.Blocks)
		}
		said := hasFinding(res, "target.max_blocks", fmt.Sprintf("%d modules of option A form %d blocks", c.need, c.blocks))
		if want := c.limit > 0 && c.blocks > c.limit; said != want {
			t.Errorf("%+v: findings %v", c, res.Findings)
		}
	}
	// Two candidates that need more blocks are named in one remark.
	d.Candidates = append(d.Candidates, d.Candidates[0])
	d.Candidates[1].ID = "n"
	d.Target = Target{Mode: "size", SizeW: 400 * 8, MaxBlocks: 1}
	if res := mustEvaluate(t, d); len(res.Findings) != 1 || !hasFinding(res, "target.max_blocks", "of option A form 2 blocks, the 8 modules of option B form 2 blocks") {
		t.Errorf("findings %v, want one that names both", res.Findings)
	}
	// Something parts a row of six in two and four; on the long plane five stand
	// together, but near shade.
	d = shed(7, 2)
	d.KeepOuts = []KeepOut{{ID: "pipe", Kind: "other", Shape: "rect", Center: &Point{2.5, 1}, WidthM: 1, DepthM: 2}}
	d.Planes = append(d.Planes, rectPlane("long", 10, 0, 6, 2))
	shade := shadeOver(15.5, 0, 0.5, 2)
	shade.Shade = "off_limits"
	d.KeepOuts = append(d.KeepOuts, shade)
	free := func(limit int) *SizeResult {
		d.Target = Target{Mode: "size", SizeW: 400 * 5, MaxBlocks: limit}
		return mustEvaluate(t, d).Candidates[0].Size
	}
	two, one := free(2), free(1)
	if two.Layout.Tidiness.Blocks != 2 || one.Layout.Tidiness.Blocks != 1 || two.Value <= one.Value || !one.ValueProved {
		t.Errorf("two blocks %+v worth %g, one %+v worth %g, proved %v", two.Layout.Tidiness, two.Value, one.Layout.Tidiness, one.Value, one.ValueProved)
	}
}

// A sum of values beyond what is taken is scaled, and scaled back.
func TestValuesAreScaled(t *testing.T) {
	sites := []layout.Site{{Values: [][]float64{{8, -4}, {2}}}}
	if by := scaled(sites, valueTotalMax); by != 1 {
		t.Errorf("scaled by %g although the sum is allowed", by)
	}
	if by := scaled(sites, 3*valueTotalMax); by != 4 || !slices.Equal(sites[0].Values[0], []float64{2, -1}) || sites[0].Values[1][0] != 0.5 {
		t.Errorf("scaled by %g: %v", by, sites[0].Values)
	}
}
