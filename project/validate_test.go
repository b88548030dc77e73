//go:build !js

package project

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestNewAndDemoAreValid(t *testing.T) {
	if ps := New("Small barn").Validate(); ps != nil {
		t.Errorf("New: %v", ps)
	}
	if ps := Demo().Validate(); ps != nil {
		t.Errorf("Demo: %v", ps)
	}
	if !Demo().Site.Invented || !strings.Contains(Demo().Site.Label, "invented") {
		t.Error("the demo is not marked as invented")
	}
}

// typed edits the first candidate as one that was typed, without a datasheet.
func typed(edit func(*Candidate)) func(*Document) {
	return func(d *Document) {
		d.Candidates[0].Datasheet = nil
		edit(&d.Candidates[0])
	}
}

// Each row spoils one value of the demo; the wanted path must be reported, and
// nothing else. The limits themselves are allowed.
func TestValidate(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name string
		edit func(*Document)
		path string // "" for sound
		says string
	}{
		{"schema", func(d *Document) { d.Schema = 1 }, "schema", "must be 3"},
		{"label empty", func(d *Document) { d.Site.Label = "" }, "site.label", "from 1 to 120"},
		{"label of 120 characters", func(d *Document) { d.Site.Label = strings.Repeat("é", 120) }, "", ""},
		{"label of 121 characters", func(d *Document) { d.Site.Label = strings.Repeat("é", 121) }, "site.label", "has 121 characters"},
		{"label with tab", func(d *Document) { d.Site.Label = "a\tb" }, "site.label", "U+0009"},
		{"label with line separator", func(d *Document) { d.Site.Label = "a\u2028b" }, "site.label", "U+2028"},
		{"label not UTF-8", func(d *Document) { d.Site.Label = "a\xff" }, "site.label", "UTF-8"},
		{"pole", func(d *Document) { d.Site.LatDeg = -90 }, "", ""},
		{"beyond the pole", func(d *Document) { d.Site.LatDeg = -90.1 }, "site.lat_deg", "is -90.1; it must be from -90 to 90 deg"},
		{"longitude", func(d *Document) { d.Site.LonDeg = 181 }, "site.lon_deg", "180"},
		{"elevation", func(d *Document) { d.Site.ElevationM = 6001 }, "site.elevation_m", "6000 m"},
		{"offset", func(d *Document) { d.Site.UTCOffsetH = 15 }, "site.utc_offset_h", "14 h"},
		{"units", func(d *Document) { d.Site.Units = "Metric" }, "site.units", `"metric", "imperial"`},
		{"family", func(d *Document) { d.Site.RuleFamily = "" }, "site.rule_family", `"nec", "iec"`},

		{"plane id", func(d *Document) { d.Planes[0].ID = "South" }, "planes[0].id", "a-z"},
		{"plane id empty", func(d *Document) { d.Planes[0].ID = "" }, "planes[0].id", "1 to 40"},
		{"plane id of 40", func(d *Document) { d.Planes[0].ID = strings.Repeat("a", 40) }, "", ""},
		{"plane id of 41", func(d *Document) { d.Planes[0].ID = strings.Repeat("a", 41) }, "planes[0].id", "1 to 40"},
		{"plane id twice", func(d *Document) { d.Planes[2].ID = "main-south" }, "planes[2].id", "ids must differ"},
		{"pitch 75", func(d *Document) { d.Planes[1].PitchDeg = 75 }, "", ""},
		{"pitch over 75", func(d *Document) { d.Planes[1].PitchDeg = 75.01 }, "planes[1].pitch_deg", "is 75.01; it must be from 0 to 75 deg"},
		{"pitch not a number", func(d *Document) { d.Planes[1].PitchDeg = nan }, "planes[1].pitch_deg", "is NaN"},
		{"azimuth 0", func(d *Document) { d.Planes[0].AzimuthDeg = 0 }, "", ""},
		{"azimuth 360", func(d *Document) { d.Planes[0].AzimuthDeg = 360 }, "planes[0].azimuth_deg", "less than 360"},
		{"eave height", func(d *Document) { d.Planes[0].EaveHeightM = -0.1 }, "planes[0].eave_height_m", "from 0 to 200 m"},
		{"limit 0", func(d *Document) { d.Planes[0].ModuleLimit = new(0) }, "", ""},
		{"limit negative", func(d *Document) { d.Planes[0].ModuleLimit = new(-1) }, "planes[0].module_limit", "from 0 to 10000"},
		{"turn", func(d *Document) { d.Planes[0].Turn = "" }, "planes[0].turn", `"portrait"`},
		{"covering", func(d *Document) { d.Planes[0].Covering = "thatch" }, "planes[0].covering", `"slate"`},
		{"rafters", func(d *Document) { d.Planes[0].RafterSpacingM = 0.19 }, "planes[0].rafter_spacing_m", "from 0.2 to 2 m"},
		{"edge kind", func(d *Document) { d.Planes[0].Ring[3].Edge = "Eave" }, "planes[0].ring[3].edge", `"party_wall"`},
		{"two corners", func(d *Document) { d.Planes[0].Ring = d.Planes[0].Ring[:2] }, "planes[0].ring", "has 2 entries"},
		{"501 corners", func(d *Document) { d.Planes[0].Ring = make([]Corner, 501) }, "planes[0].ring", "from 3 to 500"},
		{"coordinate", func(d *Document) { d.Planes[0].Ring[5].XM = 5000.5 }, "planes[0].ring[5].x_m", "is 5000.5; it must be from -5000 to 5000 m"},
		{"coordinate infinite", func(d *Document) { d.Planes[0].Ring[5].YM = math.Inf(1) }, "planes[0].ring[5].y_m", "is +Inf"},
		{"crossing ring", func(d *Document) { r := d.Planes[1].Ring; r[2], r[3] = r[3], r[2] }, "planes[1].ring[1]", "crosses"},
		{"corner twice", func(d *Document) { r := d.Planes[1].Ring; r[1] = r[0] }, "planes[1].ring[1]", "repeats"},
		{"too wide", func(d *Document) { d.Planes[1].Ring[2].XM = 300 }, "planes[1].ring", "at most 250 m"},

		{"keep-out id twice", func(d *Document) { d.KeepOuts[1].ID = "chimney" }, "keep_outs[1].id", "ids must differ"},
		{"keep-out named like a plane", func(d *Document) { d.KeepOuts[1].ID = "main-south" }, "", ""},
		{"keep-out kind", func(d *Document) { d.KeepOuts[0].Kind = "tree" }, "keep_outs[0].kind", `"roof_window"`},
		{"keep-out shape", func(d *Document) { d.KeepOuts[0].Shape = "square" }, "keep_outs[0].shape", `"circle"`},
		{"rect without center", func(d *Document) { d.KeepOuts[0].Center = nil }, "keep_outs[0].center", "is missing"},
		{"rect width", func(d *Document) { d.KeepOuts[0].WidthM = 0 }, "keep_outs[0].width_m", "from 0.01 to 100 m"},
		{"rect with points", func(d *Document) { d.KeepOuts[0].Points = []Point{{}} }, "keep_outs[0].points", "another shape"},
		{"rect with radius", func(d *Document) { d.KeepOuts[0].RadiusM = 1 }, "keep_outs[0].radius_m", "another shape"},
		{"rect turn", func(d *Document) { d.KeepOuts[0].TurnDeg = 360 }, "keep_outs[0].turn_deg", "less than 360"},
		{"circle radius", func(d *Document) { d.KeepOuts[1].RadiusM = 51 }, "keep_outs[1].radius_m", "from 0.005 to 50 m"},
		{"circle with width", func(d *Document) { d.KeepOuts[1].WidthM = 1 }, "keep_outs[1].width_m", "another shape"},
		{"circle center", func(d *Document) { d.KeepOuts[1].Center = &Point{XM: 6000} }, "keep_outs[1].center.x_m", "5000"},
		{"polygon with center", func(d *Document) { d.KeepOuts[3].Center = &Point{} }, "keep_outs[3].center", "another shape"},
		{"polygon crossing", func(d *Document) { p := d.KeepOuts[3].Points; p[0], p[1] = p[1], p[0] }, "keep_outs[3].points[1]", "crosses"},
		{"clearance", func(d *Document) { d.KeepOuts[0].ClearanceM = 11 }, "keep_outs[0].clearance_m", "from 0 to 10 m"},
		{"height", func(d *Document) { d.KeepOuts[0].HeightM = -1 }, "keep_outs[0].height_m", "from 0 to 100 m"},
		{"shade kind without value", func(d *Document) { d.KeepOuts[3].Shade = "" }, "keep_outs[3].shade", `"last_resort"`},
		{"chimney with shade value", func(d *Document) { d.KeepOuts[0].Shade = "off_limits" }, "keep_outs[0].shade", "leave it"},

		{"set", func(d *Document) { d.Rules.Set = "local" }, "rules.set", `"irc_r324"`},
		{"distance", func(d *Document) { d.Rules.Distances.ValleyM = 10.1 }, "rules.distances.valley_m", "from 0 to 10 m"},
		{"style", func(d *Document) { d.Rules.Style = "blocks" }, "rules.style", `"rows", "columns", "grid", "best"`},
		{"gap", func(d *Document) { d.Rules.GapSlopeM = -0.01 }, "rules.gap_slope_m", "from 0 to 1 m"},
		{"end allowance", func(d *Document) { d.Rules.EndAllowanceM = 1.5 }, "rules.end_allowance_m", "from 0 to 1 m"},

		{"candidate id twice", func(d *Document) { d.Candidates[2].ID = d.Candidates[1].ID }, "candidates[2].id", "ids must differ"},
		{"typed candidate", typed(func(c *Candidate) { c.CatalogID = "" }), "", ""},
		{"catalog id", typed(func(c *Candidate) { c.CatalogID = "A B" }), "candidates[0].catalog_id", "a-z"},
		{"power", typed(func(c *Candidate) { c.PmaxW = 0 }), "candidates[0].pmax_w", "from 1 to 2000"},
		{"sides swapped", typed(func(c *Candidate) { c.WidthM, c.LengthM = c.LengthM, c.WidthM }), "candidates[0].width_m", "short side"},
		{"doubtful power", typed(func(c *Candidate) { c.PmaxW = 100 }), "", ""},
		{"six candidates", func(d *Document) {
			for _, id := range []string{"d", "e", "f"} {
				c := d.Candidates[0]
				c.ID = id
				d.Candidates = append(d.Candidates, c)
			}
		}, "candidates", "from 0 to 5"},

		{"mode", func(d *Document) { d.Target.Mode = "both" }, "target.mode", `"fill", "size"`},
		{"no size in mode fill", func(d *Document) { d.Target.SizeW = 0 }, "", ""},
		{"no size in mode size", func(d *Document) { d.Target.Mode, d.Target.SizeW = "size", 0 }, "target.size_w", "from 1 to 10000000 W"},
		{"chosen", func(d *Document) { d.Target.Chosen = "nobody" }, "target.chosen", "id of a candidate"},
		{"none chosen", func(d *Document) { d.Target.Chosen = "" }, "", ""},
		{"blocks", func(d *Document) { d.Target.MaxBlocks = -1 }, "target.max_blocks", "from 0 to 100"},
		{"tidiness", func(d *Document) { d.Rules.TidyCostModules = 101 }, "rules.tidy_cost_modules", "from 0 to 100"},
		{"either turn", func(d *Document) { d.Planes[0].Turn = "either" }, "", ""},
		{"every style", func(d *Document) { d.Rules.Style = "columns" }, "", ""},

		{"hand", func(d *Document) { d.Hand = byHand(false, false) }, "", ""},
		{"hand filled around", func(d *Document) { d.Hand = byHand(true, true) }, "", ""},
		{"hand without modules", func(d *Document) { d.Hand = byHand(true, true); d.Hand[0].Modules = nil }, "", ""},
		{"hand of nobody", func(d *Document) { d.Hand = byHand(false, false); d.Hand[0].CandidateID = "x" }, "hand[0].candidate_id", "id of a candidate"},
		{"hand on nothing", func(d *Document) { d.Hand = byHand(false, false); d.Hand[0].PlaneID = "x" }, "hand[0].plane_id", "id of a plane"},
		{"hand twice", func(d *Document) { d.Hand = append(byHand(false, false), byHand(true, true)...) }, "hand[1]", "entry 0"},
		{"hand filled around loose ones", func(d *Document) { d.Hand = byHand(true, false) }, "hand[0].modules[0].locked", "only locked"},
		{"hand turn", func(d *Document) { d.Hand = byHand(false, true); d.Hand[0].Modules[0].Turn = "mixed" }, "hand[0].modules[0].turn", `"landscape"`},
		{"hand place", func(d *Document) { d.Hand = byHand(false, true); d.Hand[0].Modules[0].YM = nan }, "hand[0].modules[0].y_m", "is NaN"},
		{"2001 by hand", func(d *Document) {
			d.Hand = byHand(false, true)
			d.Hand[0].Modules = slices.Repeat(d.Hand[0].Modules, 2001)
		}, "hand[0].modules", "from 0 to 2000"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := Demo()
			c.edit(&d)
			expectProblem(t, d, c.path, c.says)
		})
	}
}

// byHand is one module on the demo's main plane, for its first candidate.
func byHand(fill, locked bool) []HandLayout {
	return []HandLayout{{
		CandidateID: "demo-330-small", PlaneID: "main-south", Fill: fill,
		Modules: []HandModule{{XM: 3, YM: 1, Turn: "portrait", Locked: locked}},
	}}
}

func TestValidateReportsEverything(t *testing.T) {
	d := Demo()
	d.Site.LatDeg = 99
	d.Planes[1].Ring[0].XM = math.NaN()
	d.Planes[3].Turn = "upright"
	d.KeepOuts[0].ClearanceM = -1
	d.Rules.Style = ""
	d.Candidates[1].LengthM, d.Candidates[1].Datasheet = 9, nil
	var paths []string
	for _, p := range d.Validate() {
		paths = append(paths, p.Path)
	}
	want := []string{"site.lat_deg", "planes[1].ring[0].x_m", "planes[3].turn",
		"keep_outs[0].clearance_m", "rules.style", "candidates[1].length_m"}
	if !slices.Equal(paths, want) {
		t.Fatalf("paths %q, want %q", paths, want)
	}
}

func TestValidateZeroDocument(t *testing.T) {
	if ps := (Document{}).Validate(); len(ps) == 0 {
		t.Fatal("the zero document passed")
	}
}

// Any values at all: Validate returns, and what it calls sound can be written
// and read again.
func TestValidateNeverPanics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Make[Document]().Draw(t, "doc")
		if d.Validate() != nil {
			return
		}
		if _, err := Encode(d); err != nil {
			t.Fatalf("sound but not writable: %v", err)
		}
	})
}

// expectProblem wants one problem of a document, at a path and with words in it,
// or none where the path is "".
func expectProblem(t *testing.T, d Document, path, says string) {
	t.Helper()
	ps := d.Validate()
	if path == "" {
		if ps != nil {
			t.Fatalf("problems %v, want none", ps)
		}
		return
	}
	if len(ps) != 1 || ps[0].Path != path || !strings.Contains(ps[0].Message, says) {
		t.Fatalf("problems %q, want one at %s saying %q", ps, path, says)
	}
}
