//go:build !js

package project

import (
	"strings"
	"testing"

	"rooftally/energy"
)

// Each kind of weather, and what is said where there is none.
func TestWeatherOf(t *testing.T) {
	means := MonthlyWeather{
		Label:       "a table of an invented town",
		GHIKWhM2Day: [12]float64{1.8, 2.7, 3.9, 4.8, 5.7, 6.3, 6.2, 5.4, 4.2, 2.9, 1.8, 1.4},
		AirC:        [12]float64{-8, -5, 1, 8, 14, 20, 22, 21, 16, 10, 2, -5},
	}
	file := &WeatherFile{Hash: strings.Repeat("a", 64), Name: "town.epw", Format: "epw", Label: "Town", LatDeg: 43, LonDeg: -89, UTCOffsetH: -6, Hours: 8760, Notes: []string{"Two hours of wind were filled in."}}
	sun := yearOf(t, openRoof(30)).Sun.Year()
	with := func(edit func(*Document)) Document { d := openRoof(30); edit(&d); return d }
	for _, c := range []struct {
		name string
		doc  Document
		file *energy.Year
		why  string // "" for a year
		says string // in words or warnings
	}{
		{"station", openRoof(30), nil, "", "Lone Rock"},
		{"no place", with(func(d *Document) { d.Site.LatDeg, d.Site.LonDeg = 0, 0 }), nil, "no place", ""},
		{"far from any station", with(func(d *Document) { d.Site.LatDeg, d.Site.LonDeg = -48, 70 }), nil, "no guide", ""},
		{"monthly", with(func(d *Document) { d.Weather.Source, d.Weather.Monthly = FromMonthly, &means }), nil, "", "invented town"},
		{"monthly, no wind", with(func(d *Document) { d.Weather.Source, d.Weather.Monthly = FromMonthly, &means }), nil, "", "1 m/s"},
		{"monthly, none typed", with(func(d *Document) { d.Weather.Source = FromMonthly }), nil, "No monthly values", ""},
		{"brighter than the sun", with(func(d *Document) {
			m := means
			m.GHIKWhM2Day[0] = 15
			d.Weather.Source, d.Weather.Monthly = FromMonthly, &m
		}), nil, "No typical year can be made", ""},
		{"monthly, clock of another place", with(func(d *Document) { d.Weather.Source, d.Weather.Monthly = FromMonthly, &means; d.Site.UTCOffsetH = 0 }), nil, "", "does not fit the longitude"},
		{"file", with(func(d *Document) { d.Weather.Source, d.Weather.File = FromFile, file }), &sun, "", "town.epw"},
		{"file's notes", with(func(d *Document) { d.Weather.Source, d.Weather.File = FromFile, file }), &sun, "", "filled in"},
		{"far file", with(func(d *Document) { f := *file; f.LatDeg = 20; d.Weather.Source, d.Weather.File = FromFile, &f }), &sun, "", "km away"},
		{"file not at hand", with(func(d *Document) { d.Weather.Source, d.Weather.File = FromFile, file }), nil, "Import it again", ""},
		{"no file", with(func(d *Document) { d.Weather.Source = FromFile }), nil, "No weather file", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := WeatherOf(c.doc, c.file)
			if err != nil {
				t.Fatal(err)
			}
			said := got.Words + strings.Join(got.Warnings, " ")
			if (c.why == "") != (got.Why == "") || !strings.Contains(got.Why, c.why) || !strings.Contains(said, c.says) {
				t.Errorf("why %q, words %q", got.Why, said)
			}
			if (got.Sun == nil) != (c.why != "") || (got.Key == "") != (c.why != "") {
				t.Errorf("sun %v, key %q", got.Sun != nil, got.Key)
			}
			res := mustEvaluate(t, c.doc)
			y, err := YieldOf(t.Context(), c.doc, res, mustBuild(t, c.doc), got)
			if err != nil || y.Why != got.Why || y.Weather.Words != got.Words {
				t.Errorf("%v %q", err, y.Why)
			}
		})
	}
	if _, err := WeatherOf(Document{}, nil); err == nil {
		t.Error("a broken document was taken")
	}
}

// A limit proposes the cells under it and no others.
func TestShadeProposal(t *testing.T) {
	d := openRoof(0)
	tree := NewTree("tree", "", Point{-3, 2.5}, 2.5, 0, 14)
	d.Surroundings.Trees = []Tree{tree}
	s := lightOf(t, d)
	if got := ShadeProposal(s, 0); len(got) != 0 {
		t.Errorf("%d areas without a limit", len(got))
	}
	got := ShadeProposal(s, 90)
	if len(got) != 1 || got[0].PlaneID != "roof" {
		t.Fatalf("%+v", got)
	}
	d.KeepOuts = []KeepOut{{ID: "dark", Kind: "shade", Shape: "polygon", Points: got[0].Ring, Shade: "off_limits"}}
	if ps := d.Validate(); ps != nil {
		t.Fatalf("the proposal is no keep-out: %v", ps)
	}
	p := s.Planes[0]
	ring := make([][2]float64, len(got[0].Ring))
	for i, q := range got[0].Ring {
		ring[i] = [2]float64{q.XM, q.YM}
	}
	wrong := 0
	for i, v := range p.KWhM2 {
		x, y := (float64(i%p.Columns)+0.5)*p.StepM, (float64(i/p.Columns)+0.5)*p.StepM
		inside := insideRing(ringOf(ring), x, y)
		if v >= 0 && inside != (v < 0.9*p.OpenKWhM2) {
			wrong++
		}
	}
	// Cells that meet at a corner alone are joined by a third.
	if wrong > 2 {
		t.Errorf("%d cells are on the wrong side of the outline", wrong)
	}
	if got := ShadeProposal(Sunlight{Planes: []PlaneSunlight{{StepM: 1, Columns: 3, Rows: 3}}}, 50); len(got) != 0 {
		t.Errorf("broken light gives %+v", got)
	}
}
