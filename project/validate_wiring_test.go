//go:build !js

package project

import (
	"math"
	"strings"
	"testing"

	"rooftally/catalog"
	"rooftally/structural"
)

// Each row spoils one value of the sections that no count depends on; the wanted
// path must be reported, and nothing else.
func TestValidateUncounted(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*Document)
		path string // "" for sound
		says string
	}{
		{"datasheet of another module", func(d *Document) { d.Candidates[1].Datasheet = d.Candidates[0].Datasheet }, "candidates[1].datasheet", "must be those of the candidate"},
		{"datasheet of another power", func(d *Document) { d.Candidates[0].PmaxW++ }, "candidates[0].datasheet", "330 W"},
		{"renamed", func(d *Document) { d.Candidates[0].Label = "x" }, "candidates[0].datasheet", "label"},
		{"figure out of range", sheet(func(s *catalog.Datasheet) { s.VocV = 0 }), "candidates[0].datasheet.voc_v", "1 to 500 V"},
		{"rating out of range", sheet(func(s *catalog.Datasheet) { s.LongEdge.FrontTestPa = 1 }), "candidates[0].datasheet.long_edge.front_test_pa", "500"},
		{"contradiction", sheet(func(s *catalog.Datasheet) { s.ImpA = 5 }), "candidates[0].datasheet.pmax_w", "x"},
		{"doubt", sheet(func(s *catalog.Datasheet) { s.WeightKg = 45 }), "", ""},
		{"no datasheet", sheet(nil), "", ""},

		{"kind", func(d *Document) { d.Wiring.Kind = "strings" }, "wiring.kind", `"optimiser"`},
		{"inverter", func(d *Document) { v := *d.Wiring.Inverter; v.MaxDCV = 0; d.Wiring.Inverter = &v }, "wiring.inverter.max_dc_v", "50 to 2000"},
		{"tracker", func(d *Document) { v := *d.Wiring.Inverter; v.MPPTs = nil; d.Wiring.Inverter = &v }, "wiring.inverter.mppts", "1 to 24"},
		{"micro-inverter", func(d *Document) { v := catalog.DemoMicroInverters()[0]; v.Phases = 2; d.Wiring.Micro = &v }, "wiring.micro.phases", "1 or 3"},
		{"optimiser", func(d *Document) { v := catalog.DemoOptimisers()[0]; v.MinUnits = 0; d.Wiring.Optimiser = &v }, "wiring.optimiser.min_units", "1"},
		{"place", func(d *Document) { d.Wiring.Place = "" }, "wiring.place", `"dwelling"`},
		{"mounting", func(d *Document) { d.Wiring.Mounting = "tilted" }, "wiring.mounting", `"open_rack"`},
		{"rise", func(d *Document) { d.Wiring.CellRiseK = new(61.0) }, "wiring.cell_rise_k", "0 to 60 K"},
		{"cold", func(d *Document) { d.Wiring.ColdC = new(-60.5) }, "wiring.cold_c", "from -60 to 40 C"},
		{"cold at its limit", func(d *Document) { d.Wiring.ColdC = new(-60.0) }, "", ""},
		{"hot", func(d *Document) { d.Wiring.HotAirC = new(math.NaN()) }, "wiring.hot_air_c", "NaN"},
		{"station", station(func(s *StationCopy) { s.LatDeg = 91 }), "wiring.station.lat_deg", "90 deg"},
		{"station without a temperature", station(func(s *StationCopy) { s.ColdC = nil }), "wiring.station.usable", "both temperatures"},
		{"station too far with one", station(func(s *StationCopy) { s.Usable = false }), "wiring.station.usable", "gives no temperature"},
		{"station too far", station(func(s *StationCopy) { s.Usable, s.ColdC, s.HotC = false, nil, nil }), "", ""},
		{"station's warnings", station(func(s *StationCopy) { s.Warnings = make([]string, 11) }), "wiring.station.warnings", "0 to 10"},
		{"no station", func(d *Document) { d.Wiring.Station = nil }, "", ""},
		{"branch breaker", func(d *Document) { d.Wiring.BranchBreakerA = new(4.0) }, "wiring.branch_breaker_a", "5 to 100 A"},
		{"main breaker", func(d *Document) { d.Wiring.MainBreakerA = new(14.0) }, "wiring.main_breaker_a", "15 to 10000 A"},
		{"busbar", func(d *Document) { d.Wiring.BusbarA = new(0.0) }, "wiring.busbar_a", "15 to 10000 A"},
		{"phase limit", func(d *Document) { d.Wiring.PhaseLimitA = new(0.0) }, "wiring.phase_limit_a", "0.1 to 10000 A"},
		{"phases", func(d *Document) { d.Wiring.SupplyPhases = 2 }, "wiring.supply_phases", "1 or 3"},

		{"snow", func(d *Document) { s := *d.Loads.ASCESnow; s.ExposureCe = 2; d.Loads.ASCESnow = &s }, "loads.asce_snow.exposure_ce", "0.7 to 1.2"},
		{"EN snow beside it", func(d *Document) { d.Loads.ENSnow = new(structural.DefaultENSnow(900)) }, "", ""},
		{"EN snow", func(d *Document) { d.Loads.ENSnow = new(structural.DefaultENSnow(-1)) }, "loads.en_snow.ground_pa", "0 to 30000"},
		{"wind", func(d *Document) { w := *d.Loads.FlushWind; w.SpeedMPS = 19; d.Loads.FlushWind = &w }, "loads.flush_wind.speed_mps", "20 to 120"},
		{"two winds", func(d *Document) { d.Loads.TypedWind = &structural.TypedWind{} }, "loads.typed_wind", "only one"},
		{"two editions", func(d *Document) {
			w := *d.Loads.FlushWind
			w.Edition = structural.ASCE722
			d.Loads.FlushWind = &w
		}, "loads.flush_wind.edition", "both must be one"},
		{"typed wind", func(d *Document) { d.Loads.FlushWind, d.Loads.TypedWind = nil, &structural.TypedWind{UpPa: -1} }, "loads.typed_wind.up_pa", "0 to 20000"},
		{"rails", func(d *Document) { d.Loads.Rails = "" }, "loads.rails", `"along_eave"`},
		{"span", func(d *Document) { d.Loads.SpanM = new(0.1) }, "loads.span_m", "0.2 to 5 m"},
		{"cantilever", func(d *Document) { d.Loads.CantileverShare = 0.41 }, "loads.cantilever_share", "0 to 0.4"},
		{"stick", func(d *Document) { d.Loads.StickM = 13 }, "loads.stick_m", "0.5 to 12 m"},
		{"end", func(d *Document) { d.Loads.EndM = -0.1 }, "loads.end_m", "0 to 0.5 m"},
		{"inset", func(d *Document) { d.Loads.ClampInset = 0.5 }, "loads.clamp_inset", "0.05 to 0.45"},
		{"rail weight", func(d *Document) { d.Loads.RailKgPerM = 21 }, "loads.rail_kg_per_m", "20 kg/m"},
		{"attachment weight", func(d *Document) { d.Loads.AttachmentKg = 21 }, "loads.attachment_kg", "20 kg"},

		{"currency", func(d *Document) { d.Cost.Currency = strings.Repeat("x", 13) }, "cost.currency", "from 0 to 12"},
		{"rest of a module", func(d *Document) { d.Cost.RestPerModule = new(-1.0) }, "cost.rest_per_module", "from 0"},
		{"rest of the project", func(d *Document) { d.Cost.RestFixed = new(math.Inf(1)) }, "cost.rest_fixed", "+Inf"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := Demo()
			c.edit(&d)
			expectProblem(t, d, c.path, c.says)
		})
	}
}

// sheet edits the datasheet of the first candidate; nil takes it away.
func sheet(edit func(*catalog.Datasheet)) func(*Document) {
	return func(d *Document) {
		s := d.Candidates[0].Datasheet
		d.Candidates[0].Datasheet = nil
		if edit != nil {
			edit(s)
			d.Candidates[0].Datasheet = s
		}
	}
}

// station edits the station.
func station(edit func(*StationCopy)) func(*Document) {
	return func(d *Document) { edit(d.Wiring.Station) }
}
