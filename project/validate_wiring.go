//go:build !js

package project

import (
	"strings"

	"rooftally/catalog"
	"rooftally/electrical"
)

// wiring checks the wiring section. What the kind does not use is checked too:
// it is part of the file.
func (ps *Problems) wiring(w Wiring) {
	ps.oneOf("wiring.kind", w.Kind, WiringNone, WiringString, WiringMicro, WiringOptimiser)
	if w.Inverter != nil {
		ps.product("wiring.inverter", w.Inverter.Check())
	}
	if w.Micro != nil {
		ps.product("wiring.micro", w.Micro.Check())
	}
	if w.Optimiser != nil {
		ps.product("wiring.optimiser", w.Optimiser.Check())
	}
	ps.oneOf("wiring.place", w.Place, string(electrical.OnDwelling), string(electrical.OnBuilding), string(electrical.OffBuilding))
	ps.oneOf("wiring.mounting", w.Mounting, string(electrical.Flush), string(electrical.OpenRack))
	ps.numberIf("wiring.cell_rise_k", w.CellRiseK, 0, 60, " K")
	ps.numberIf("wiring.cold_c", w.ColdC, -60, 40, " C")
	ps.numberIf("wiring.hot_air_c", w.HotAirC, -40, 60, " C")
	if w.Station != nil {
		ps.station("wiring.station", *w.Station)
	}
	ps.numberIf("wiring.branch_breaker_a", w.BranchBreakerA, 5, 100, " A")
	ps.numberIf("wiring.main_breaker_a", w.MainBreakerA, 15, 1e4, " A")
	ps.numberIf("wiring.busbar_a", w.BusbarA, 15, 1e4, " A")
	ps.numberIf("wiring.phase_limit_a", w.PhaseLimitA, 0.1, 1e4, " A")
	if w.SupplyPhases != 1 && w.SupplyPhases != 3 {
		ps.add("wiring.supply_phases", "is %d; it must be 1 or 3", w.SupplyPhases)
	}
}

func (ps *Problems) station(path string, s StationCopy) {
	ps.label(path+".id", s.ID, 1, maxID)
	ps.label(path+".label", s.Label, 0, maxStationText)
	ps.number(path+".lat_deg", s.LatDeg, -90, 90, " deg")
	ps.number(path+".lon_deg", s.LonDeg, -180, 180, " deg")
	ps.number(path+".elevation_m", s.ElevationM, -500, 9000, " m")
	ps.number(path+".distance_km", s.DistanceKm, 0, 20100, " km")
	ps.number(path+".height_m", s.HeightM, -10000, 10000, " m")
	ps.numberIf(path+".cold_c", s.ColdC, -60, 40, " C")
	ps.label(path+".cold_basis", s.ColdBasis, 0, maxStationText)
	ps.numberIf(path+".hot_c", s.HotC, -40, 60, " C")
	ps.label(path+".hot_basis", s.HotBasis, 0, maxStationText)
	if given := s.ColdC != nil && s.HotC != nil; s.Usable && !given {
		ps.add(path+".usable", "is true without both temperatures")
	}
	if !s.Usable && (s.ColdC != nil || s.HotC != nil) {
		ps.add(path+".usable", "is false; a station too far away gives no temperature")
	}
	ps.count(path+".warnings", len(s.Warnings), 0, 10)
	for _, w := range s.Warnings {
		ps.label(path+".warnings", w, 0, maxStationText)
	}
	ps.label(path+".source", s.Source, 0, maxStationText)
}

// datasheet checks that a candidate's datasheet is sound and is that of the
// candidate.
func (ps *Problems) datasheet(path string, c Candidate) {
	d := c.Datasheet
	if d == nil {
		return
	}
	ps.product(path, d.Check())
	if m := d.Module; m != c.module() {
		ps.add(path, "is of %q, %d W, %s x %s m; id, label, power, sides and mark must be those of the candidate (its catalog_id for the id)",
			clip(m.Label), m.PmaxW, plain(m.LengthM), plain(m.WidthM))
	}
}

// product reports what a catalog entry's own check refuses. The check names
// fields by their CSV columns.
func (ps *Problems) product(path string, found []catalog.Problem) {
	for _, p := range found {
		if !p.Doubt {
			ps.add(path+"."+memberOf(p.Field), "%s", p.Message)
		}
	}
}

// memberOf is where the figure of a CSV column lies in the JSON of its entry.
func memberOf(column string) string {
	switch column {
	case "mppt_inputs", "mppt_max_operating_a", "mppt_max_short_circuit_a":
		return "mppts"
	}
	for _, edge := range []string{"long_edge", "short_edge"} {
		if rest, ok := strings.CutPrefix(column, edge+"_"); ok {
			return edge + "." + rest
		}
	}
	return column
}

// numberIf is number for a value that may be missing.
func (ps *Problems) numberIf(path string, v *float64, min, max float64, unit string) {
	if v != nil {
		ps.number(path, *v, min, max, unit)
	}
}
