//go:build !js

package project

import (
	"fmt"
	"slices"
	"strings"

	"rooftally/energy"
)

// How much the sections on yield may hold.
const (
	maxTrees         = 50
	maxBuildings     = 50
	maxHorizonPoints = 72
	maxNotes         = 20
	maxWeatherLabel  = 120
	maxFileName      = 200
	hashDigits       = 64
)

// weather checks the weather section. Whether the hours of a file are at hand
// and twelve values make a possible year is said when they are reckoned with.
func (ps *Problems) weather(w Weather) {
	ps.oneOf("weather.source", w.Source, FromStation, FromMonthly, FromFile)
	if w.Monthly != nil {
		ps.monthly("weather.monthly", *w.Monthly)
	}
	if w.File != nil {
		ps.weatherFile("weather.file", *w.File)
	}
}

func (ps *Problems) monthly(path string, m MonthlyWeather) {
	ps.label(path+".label", m.Label, 0, maxWeatherLabel)
	for i := range 12 {
		ps.number(fmt.Sprintf("%s.ghi_kwh_m2_day[%d]", path, i), m.GHIKWhM2Day[i], 0, 15, " kWh/m2/day")
		if m.DHIKWhM2Day != nil {
			ps.number(fmt.Sprintf("%s.dhi_kwh_m2_day[%d]", path, i), m.DHIKWhM2Day[i], 0, 15, " kWh/m2/day")
		}
		ps.number(fmt.Sprintf("%s.air_c[%d]", path, i), m.AirC[i], -90, 60, " C")
	}
	ps.number(path+".wind_ms", m.WindMS, 0, 75, " m/s")
}

func (ps *Problems) weatherFile(path string, f WeatherFile) {
	if len(f.Hash) != hashDigits || strings.Trim(f.Hash, "0123456789abcdef") != "" {
		ps.add(path+".hash", "is %q; it must be %d digits of 0-9 and a-f", clip(f.Hash), hashDigits)
	}
	ps.label(path+".name", f.Name, 1, maxFileName)
	ps.oneOf(path+".format", f.Format, string(energy.FromEPW), string(energy.FromTMY3))
	ps.label(path+".label", f.Label, 0, maxWeatherLabel)
	ps.number(path+".lat_deg", f.LatDeg, -90, 90, " deg")
	ps.number(path+".lon_deg", f.LonDeg, -180, 180, " deg")
	ps.number(path+".utc_offset_h", f.UTCOffsetH, -12, 14, " h")
	ps.number(path+".elevation_m", f.ElevationM, -450, 9000, " m")
	if f.Hours != energy.HoursInYear && f.Hours != energy.HoursInLeapYear {
		ps.add(path+".hours", "is %d; it must be %d or %d", f.Hours, energy.HoursInYear, energy.HoursInLeapYear)
	}
	ps.count(path+".notes", len(f.Notes), 0, maxNotes)
	for i, note := range f.Notes {
		ps.label(fmt.Sprintf("%s.notes[%d]", path, i), note, 0, maxStationText)
	}
}

// surroundings checks the surroundings section. Trees, buildings and keep-outs
// share one set of ids: all of them cast shadows and are named by them.
func (ps *Problems) surroundings(s Surroundings, keepOuts []KeepOut) {
	taken := make(map[string]string, len(keepOuts)+len(s.Trees)+len(s.Buildings))
	for i, k := range keepOuts {
		taken[k.ID] = fmt.Sprintf("keep_outs[%d]", i)
	}
	ps.count("surroundings.trees", len(s.Trees), 0, maxTrees)
	for i, t := range s.Trees {
		path := fmt.Sprintf("surroundings.trees[%d]", i)
		ps.sharedID(path, t.ID, taken)
		ps.tree(path, t)
	}
	ps.count("surroundings.buildings", len(s.Buildings), 0, maxBuildings)
	for i, b := range s.Buildings {
		path := fmt.Sprintf("surroundings.buildings[%d]", i)
		ps.sharedID(path, b.ID, taken)
		ps.label(path+".label", b.Label, 0, MaxLabel)
		ps.outline(path+".ring", b.Ring)
		ps.heights(path, b.BaseM, b.TopM)
	}
	ps.horizon("surroundings.horizon", s.Horizon)
}

// sharedID reports a badly formed id and one that something else has.
func (ps *Problems) sharedID(path, id string, taken map[string]string) {
	ps.id(path+".id", id, nil, 0)
	if other, ok := taken[id]; ok {
		ps.add(path+".id", "is %q, as that of %s already is; trees, buildings and keep-outs must have different ids", clip(id), other)
		return
	}
	taken[id] = path
}

func (ps *Problems) tree(path string, t Tree) {
	ps.label(path+".label", t.Label, 0, MaxLabel)
	ps.point(path, Point{t.XM, t.YM})
	ps.number(path+".radius_m", t.RadiusM, 0.1, 50, " m")
	ps.heights(path, t.BaseM, t.TopM)
	ps.oneOf(path+".crown", t.Crown, string(energy.RoundCrown), string(energy.ColumnCrown))
	ps.number(path+".leaf_on_pass", t.LeafOnPass, 0, 1, "")
	ps.number(path+".leaf_off_pass", t.LeafOffPass, 0, 1, "")
}

// heights checks where a solid begins and ends.
func (ps *Problems) heights(path string, baseM, topM float64) {
	ps.number(path+".base_m", baseM, 0, 100, " m")
	ps.number(path+".top_m", topM, 0, 150, " m")
	if topM <= baseM {
		ps.add(path+".top_m", "is %s; it must be above base_m, %s m", plain(topM), plain(baseM))
	}
}

func (ps *Problems) horizon(path string, points []HorizonPoint) {
	ps.count(path, len(points), 0, maxHorizonPoints)
	for i, p := range points {
		at := fmt.Sprintf("%s[%d]", path, i)
		ps.bearing(at+".azimuth_deg", p.AzimuthDeg)
		ps.number(at+".elevation_deg", p.ElevationDeg, 0, 90, " deg")
		if i > 0 && p.AzimuthDeg <= points[i-1].AzimuthDeg {
			ps.add(at+".azimuth_deg", "is %s after %s; bearings must rise", plain(p.AzimuthDeg), plain(points[i-1].AzimuthDeg))
		}
	}
}

// reckonedLosses are the steps of energy.ChainStep that are no loss lines.
var reckonedLosses = []string{"light", "shade", "glass", "heat", "low_light", "string_shade", "first_year", "inverter", "clipping"}

// yieldTerms checks the yield section.
func (ps *Problems) yieldTerms(y YieldTerms) {
	ps.oneOf("yield.sky", y.Sky, string(energy.Perez), string(energy.Isotropic), string(energy.HayDavies))
	ps.oneOf("yield.glass", y.Glass, string(energy.MartinRuiz), string(energy.Ashrae), string(energy.Fresnel), string(energy.NoGlass))
	ps.number("yield.albedo", y.Albedo, 0, 1, "")
	ps.count("yield.losses", len(y.Losses), 0, MaxLossLines)
	seen := make(map[string]int, len(y.Losses))
	for i, l := range y.Losses {
		path := fmt.Sprintf("yield.losses[%d]", i)
		ps.lossID(path+".id", l.ID, seen, i)
		ps.label(path+".label", l.Label, 1, MaxLabel)
		ps.oneOf(path+".side", l.Side, string(energy.BeforeInverter), string(energy.AfterInverter))
		for m, pct := range l.MonthlyPct {
			ps.number(fmt.Sprintf("%s.monthly_pct[%d]", path, m), pct, -10, 100, " %")
		}
	}
	ps.number("yield.weather_sigma_pct", y.WeatherSigmaPct, 0, 30, " %")
	ps.number("yield.model_sigma_pct", y.ModelSigmaPct, 0, 30, " %")
}

// lossID is [Problems.id] for loss lines, whose ids may have underscores.
func (ps *Problems) lossID(path, id string, seen map[string]int, at int) {
	if !isID(strings.ReplaceAll(id, "_", "-")) {
		ps.add(path, "is %q; it must be 1 to %d of a-z, 0-9, '-' and '_'", clip(id), maxID)
	}
	if slices.Contains(reckonedLosses, id) {
		ps.add(path, "is %q, a loss that is reckoned; take another id", id)
	}
	if first, ok := seen[id]; ok {
		ps.add(path, "is %q, as entry %d of the list already is; ids must differ", clip(id), first)
		return
	}
	seen[id] = at
}
