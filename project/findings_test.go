//go:build !js

package project

import (
	"strings"
	"testing"
)

func hasFinding(res Result, path, says string) bool {
	for _, f := range res.Findings {
		if f.Path == path && strings.Contains(f.Message, says) {
			return true
		}
	}
	return false
}

func TestFindings(t *testing.T) {
	chimney := func(x, y float64) []KeepOut {
		return []KeepOut{{ID: "c", Kind: "chimney", Shape: "rect", Center: &Point{x, y}, WidthM: 0.5, DepthM: 0.5}}
	}
	for _, c := range []struct {
		name string
		edit func(*Document)
		path string // "" for no finding
		says string
	}{
		{"nothing", func(*Document) {}, "", ""},
		{"planes side by side", func(d *Document) { d.Planes = append(d.Planes, rectPlane("b", 5, 0, 5, 4)) }, "", ""},
		{"planes overlapping by 0.08 m2", func(d *Document) { d.Planes = append(d.Planes, rectPlane("b", 4.98, 0, 5, 4)) }, "", ""},
		{"planes overlapping by 2 m2", func(d *Document) { d.Planes = append(d.Planes, rectPlane("b", 4.5, 0, 5, 4)) }, "planes[1].ring", `"shed" by 2.0 m2`},
		{"overlap with an unused plane", func(d *Document) {
			d.Planes = append(d.Planes, rectPlane("b", 4, 0, 5, 4))
			d.Planes[1].Use = false
		}, "", ""},
		{"overlap of an unused plane", func(d *Document) {
			d.Planes = append(d.Planes, rectPlane("b", 4, 0, 5, 4))
			d.Planes[0].Use = false
		}, "", ""},
		{"chimney on the plane", func(d *Document) { d.KeepOuts = chimney(2, 2) }, "", ""},
		{"chimney half off the plane", func(d *Document) { d.KeepOuts = chimney(0, 2) }, "", ""},
		{"chimney beside the plane", func(d *Document) { d.KeepOuts = chimney(9, 2) }, "keep_outs[0]", "no plane"},
		{"chimney touching the plane", func(d *Document) { d.KeepOuts = chimney(-0.25, 2) }, "keep_outs[0]", "no plane"},
		{"street side without paths", func(d *Document) { d.Planes[0].Ring[2].Street = true }, "planes[0].ring[2].street", "changes nothing"},
		{"street side with paths", func(d *Document) {
			d.Rules.Set, d.Planes[0].PitchDeg = "irc_r324", 30
			d.Planes[0].Ring[1].Street = true
		}, "", ""},
		{"paths without street side", func(d *Document) { d.Rules.Set, d.Planes[0].PitchDeg = "irc_r324", 30 }, "planes[0]", "shed: "},
		{"fall square to the eave", func(d *Document) { d.Planes[0].PitchDeg = 30 }, "", ""},
		{"fall 4 degrees off", func(d *Document) { d.Planes[0].PitchDeg, d.Planes[0].AzimuthDeg = 30, 176 }, "", ""},
		{"fall 6 degrees off", func(d *Document) { d.Planes[0].PitchDeg, d.Planes[0].AzimuthDeg = 30, 186 }, "planes[0].azimuth_deg", "faces 180 deg, 6 deg off"},
		{"fall off, ring clockwise", func(d *Document) {
			p := &d.Planes[0]
			p.PitchDeg, p.AzimuthDeg = 30, 186
			p.Ring[1], p.Ring[3] = p.Ring[3], p.Ring[1]
		}, "planes[0].azimuth_deg", "faces 180 deg"},
		{"level plane off", func(d *Document) { d.Planes[0].PitchDeg, d.Planes[0].AzimuthDeg = 1, 200 }, "", ""},
		{"north over the wrap", func(d *Document) { d.Planes[0].PitchDeg, d.Planes[0].AzimuthDeg = 30, 357 }, "", ""},
		{"plane too small", func(d *Document) { d.Planes = append(d.Planes, rectPlane("b", 9, 0, 0.9, 4)) }, "planes[1]", "no room"},
		{"doubtful module", func(d *Document) { d.Candidates[0].PmaxW, d.Candidates[0].Datasheet = 100, nil }, "candidates[0].pmax_w", "5.0 %"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := shed(5, 4)
			c.edit(&d)
			res := mustEvaluate(t, d)
			if c.path == "" {
				if len(res.Findings) != 0 {
					t.Fatalf("findings %q, want none", res.Findings)
				}
				return
			}
			if len(res.Findings) != 1 || !hasFinding(res, c.path, c.says) {
				t.Fatalf("findings %q, want one at %s saying %q", res.Findings, c.path, c.says)
			}
		})
	}
}

// The remark of a rule set on several planes is made once and names them.
func TestNotesAreGathered(t *testing.T) {
	d := gable("portrait")
	d.Rules.Set = "irc_r324"
	res := mustEvaluate(t, d)
	if len(res.Findings) != 1 || !hasFinding(res, "planes[0]", "shed, north: ") {
		t.Fatalf("findings %q, want one naming both planes", res.Findings)
	}
}

// Two crossing bars have the square of their crossing in common.
//
//	   +-+
//	+--+-+--+
//	+--+-+--+
//	   +-+
func TestSharedArea(t *testing.T) {
	bar := func(x, y, w, h float64) [][2]float64 {
		return [][2]float64{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
	}
	for _, c := range []struct {
		name string
		a, b [][2]float64
		want float64
	}{
		{"crossing", bar(0, 2, 6, 1), bar(2, 0, 1, 6), 1},
		{"same", bar(0, 0, 2, 3), bar(0, 0, 2, 3), 6},
		{"inside", bar(0, 0, 4, 4), bar(1, 1, 1, 1), 1},
		{"around", bar(1, 1, 1, 1), bar(0, 0, 4, 4), 1},
		{"touching", bar(0, 0, 1, 1), bar(1, 0, 1, 1), 0},
		{"apart", bar(0, 0, 1, 1), bar(3, 3, 1, 1), 0},
		{"far from the origin", bar(4000, -4000, 6, 2), bar(4004, -4001, 6, 2), 2},
		{"empty", nil, bar(0, 0, 1, 1), 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := sharedAreaM2(c.a, c.b)
			if err != nil || !near(got, c.want, 1e-6) {
				t.Fatalf("%g, %v; want %g", got, err, c.want)
			}
		})
	}
}
