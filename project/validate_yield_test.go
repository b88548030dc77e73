//go:build !js

package project

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// Each row spoils one value of the sections on yield; the wanted path must be
// reported, and nothing else.
func TestValidateYieldSections(t *testing.T) {
	tree := func(edit func(*Tree)) func(*Document) {
		return func(d *Document) {
			d.Surroundings.Trees = slices.Clone(d.Surroundings.Trees)
			edit(&d.Surroundings.Trees[0])
		}
	}
	building := func(edit func(*Building)) func(*Document) {
		return func(d *Document) {
			d.Surroundings.Buildings = slices.Clone(d.Surroundings.Buildings)
			edit(&d.Surroundings.Buildings[0])
		}
	}
	horizon := func(points ...HorizonPoint) func(*Document) {
		return func(d *Document) { d.Surroundings.Horizon = points }
	}
	monthly := func(edit func(*MonthlyWeather)) func(*Document) {
		return func(d *Document) { m := MonthlyWeather{}; edit(&m); d.Weather.Monthly = &m }
	}
	file := func(edit func(*WeatherFile)) func(*Document) {
		return func(d *Document) {
			f := WeatherFile{Hash: strings.Repeat("0f", 32), Name: "town.epw", Format: "epw", Hours: 8760}
			edit(&f)
			d.Weather.File = &f
		}
	}
	loss := func(edit func(*LossLine)) func(*Document) {
		return func(d *Document) { d.Yield.Losses = slices.Clone(d.Yield.Losses); edit(&d.Yield.Losses[1]) }
	}
	for _, c := range []struct {
		name string
		edit func(*Document)
		path string // "" for sound
		says string
	}{
		{"least light", func(d *Document) { d.Target.MinAccessPct = 100.5 }, "target.min_access_pct", "0 to 100 %"},
		{"least light at its limit", func(d *Document) { d.Target.MinAccessPct = 100 }, "", ""},

		{"source", func(d *Document) { d.Weather.Source = "" }, "weather.source", `"station"`},
		{"monthly without values", func(d *Document) { d.Weather.Source = "monthly" }, "", ""},
		{"file without file", func(d *Document) { d.Weather.Source = "file" }, "", ""},
		{"no sun at all", monthly(func(*MonthlyWeather) {}), "", ""},
		{"global", monthly(func(m *MonthlyWeather) { m.GHIKWhM2Day[11] = 15.1 }), "weather.monthly.ghi_kwh_m2_day[11]", "0 to 15"},
		{"diffuse", monthly(func(m *MonthlyWeather) { m.DHIKWhM2Day = &[12]float64{3: -1} }), "weather.monthly.dhi_kwh_m2_day[3]", "0 to 15"},
		{"air", monthly(func(m *MonthlyWeather) { m.AirC[0] = math.NaN() }), "weather.monthly.air_c[0]", "NaN"},
		{"wind", monthly(func(m *MonthlyWeather) { m.WindMS = 76 }), "weather.monthly.wind_ms", "0 to 75"},
		{"label", monthly(func(m *MonthlyWeather) { m.Label = strings.Repeat("x", 121) }), "weather.monthly.label", "120"},
		{"sound file", file(func(*WeatherFile) {}), "", ""},
		{"hash", file(func(f *WeatherFile) { f.Hash = strings.Repeat("0F", 32) }), "weather.file.hash", "64"},
		{"short hash", file(func(f *WeatherFile) { f.Hash = "0f" }), "weather.file.hash", "64"},
		{"name", file(func(f *WeatherFile) { f.Name = "" }), "weather.file.name", "1 to 200"},
		{"format", file(func(f *WeatherFile) { f.Format = "csv" }), "weather.file.format", `"tmy3"`},
		{"hours", file(func(f *WeatherFile) { f.Hours = 8761 }), "weather.file.hours", "8784"},
		{"place", file(func(f *WeatherFile) { f.LonDeg = 181 }), "weather.file.lon_deg", "180"},
		{"notes", file(func(f *WeatherFile) { f.Notes = make([]string, 21) }), "weather.file.notes", "0 to 20"},

		{"tree's id", tree(func(t *Tree) { t.ID = "Tree" }), "surroundings.trees[0].id", "a-z"},
		{"tree's id is a keep-out's", tree(func(t *Tree) { t.ID = "chimney" }), "surroundings.trees[0].id", "keep_outs[0]"},
		{"building's id is a tree's", building(func(b *Building) { b.ID = "front-tree" }), "surroundings.buildings[0].id", "trees[0]"},
		{"tree's id is a plane's", tree(func(t *Tree) { t.ID = "main-south" }), "", ""},
		{"radius", tree(func(t *Tree) { t.RadiusM = 0 }), "surroundings.trees[0].radius_m", "0.1 to 50"},
		{"no crown", tree(func(t *Tree) { t.TopM = t.BaseM }), "surroundings.trees[0].top_m", "above base_m"},
		{"crown", tree(func(t *Tree) { t.Crown = "cone" }), "surroundings.trees[0].crown", `"column"`},
		{"light through it", tree(func(t *Tree) { t.LeafOffPass = 1.1 }), "surroundings.trees[0].leaf_off_pass", "0 to 1"},
		{"far tree", tree(func(t *Tree) { t.XM = 5001 }), "surroundings.trees[0].x_m", "5000"},
		{"too many trees", func(d *Document) { d.Surroundings.Trees = manyTrees(51) }, "surroundings.trees", "0 to 50"},
		{"fifty trees", func(d *Document) { d.Surroundings.Trees = manyTrees(50) }, "", ""},
		{"outline", building(func(b *Building) { b.Ring = []Point{{0, 0}, {1, 1}, {1, 0}, {0, 1}} }), "surroundings.buildings[0].ring[0]", "cross"},
		{"corners", building(func(b *Building) { b.Ring = b.Ring[:2] }), "surroundings.buildings[0].ring", "3 to 500"},
		{"top", building(func(b *Building) { b.TopM = 151 }), "surroundings.buildings[0].top_m", "150"},
		{"horizon", horizon(HorizonPoint{0, 0}, HorizonPoint{90, 90}), "", ""},
		{"horizon's bearing", horizon(HorizonPoint{360, 0}), "surroundings.horizon[0].azimuth_deg", "less than 360"},
		{"horizon's height", horizon(HorizonPoint{0, 91}), "surroundings.horizon[0].elevation_deg", "0 to 90"},
		{"horizon turns back", horizon(HorizonPoint{90, 1}, HorizonPoint{90, 2}), "surroundings.horizon[1].azimuth_deg", "rise"},

		{"sky", func(d *Document) { d.Yield.Sky = "clear" }, "yield.sky", `"perez"`},
		{"glass", func(d *Document) { d.Yield.Glass = "" }, "yield.glass", `"martin_ruiz"`},
		{"ground", func(d *Document) { d.Yield.Albedo = -0.1 }, "yield.albedo", "0 to 1"},
		{"no losses", func(d *Document) { d.Yield.Losses = nil }, "", ""},
		{"too many losses", func(d *Document) { d.Yield.Losses = manyLosses(21) }, "yield.losses", "0 to 20"},
		{"loss twice", loss(func(l *LossLine) { l.ID = "soiling" }), "yield.losses[1].id", "entry 0"},
		{"a loss that is reckoned", loss(func(l *LossLine) { l.ID = "clipping" }), "yield.losses[1].id", "reckoned"},
		{"loss without a name", loss(func(l *LossLine) { l.Label = "" }), "yield.losses[1].label", "1 to 60"},
		{"side", loss(func(l *LossLine) { l.Side = "grid" }), "yield.losses[1].side", `"ac"`},
		{"a loss of everything", loss(func(l *LossLine) { l.MonthlyPct[0] = 100 }), "", ""},
		{"more than everything", loss(func(l *LossLine) { l.MonthlyPct[2] = 101 }), "yield.losses[1].monthly_pct[2]", "-10 to 100"},
		{"spread", func(d *Document) { d.Yield.ModelSigmaPct = 31 }, "yield.model_sigma_pct", "0 to 30"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := Demo()
			c.edit(&d)
			expectProblem(t, d, c.path, c.says)
		})
	}
}

func manyTrees(n int) []Tree {
	out := make([]Tree, n)
	for i := range out {
		out[i] = NewTree("tree-"+strings.Repeat("x", i%30)+string(rune('a'+i/30)), "", Point{}, 1, 1, 2)
	}
	return out
}

func manyLosses(n int) []LossLine {
	out := make([]LossLine, n)
	for i := range out {
		out[i] = LossLine{ID: "loss_" + string(rune('a'+i)), Label: "A loss", Side: "dc"}
	}
	return out
}
