package project

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Validate returns every problem of a document, field by field, mostly in the order
// of the format; nil for a sound one. A document under edit may have no planes
// and no candidates. Validate changes nothing and never panics. In the browser's
// program it leaves out datasheets, wiring, loads, cost, weather, surroundings and
// yield, which it does not read; the server checks them when it saves.
func (d Document) Validate() Problems {
	var ps Problems
	if d.Schema != Schema {
		ps.add("schema", "is %d; it must be %d", d.Schema, Schema)
	}
	ps.site(d.Site)
	ps.planes(d.Planes)
	ps.keepOuts(d.KeepOuts)
	ps.rules(d.Rules)
	ps.candidates(d.Candidates)
	ps.target(d.Target, d.Candidates)
	ps.hand(d)
	ps.uncounted(d)
	return ps
}

func (ps *Problems) site(s Site) {
	ps.label("site.label", s.Label, 1, maxSiteLabel)
	ps.number("site.lat_deg", s.LatDeg, -90, 90, " deg")
	ps.number("site.lon_deg", s.LonDeg, -180, 180, " deg")
	ps.number("site.elevation_m", s.ElevationM, -450, 6000, " m")
	ps.number("site.utc_offset_h", s.UTCOffsetH, -12, 14, " h")
	ps.oneOf("site.units", s.Units, "metric", "imperial")
	ps.oneOf("site.rule_family", s.RuleFamily, "nec", "iec")
}

func (ps *Problems) planes(planes []Plane) {
	ps.count("planes", len(planes), 0, MaxPlanes)
	ids := make(map[string]int, len(planes))
	for i, p := range planes {
		path := fmt.Sprintf("planes[%d]", i)
		ps.id(path+".id", p.ID, ids, i)
		ps.label(path+".label", p.Label, 0, MaxLabel)
		ps.ring(path+".ring", p.Ring)
		ps.number(path+".pitch_deg", p.PitchDeg, 0, 75, " deg")
		ps.bearing(path+".azimuth_deg", p.AzimuthDeg)
		ps.number(path+".eave_height_m", p.EaveHeightM, 0, 200, " m")
		if p.ModuleLimit != nil {
			ps.number(path+".module_limit", float64(*p.ModuleLimit), 0, 10000, "")
		}
		ps.oneOf(path+".turn", p.Turn, "portrait", "landscape", "either", "mixed")
		ps.oneOf(path+".covering", p.Covering, "asphalt_shingle", "tile", "slate", "metal_seam", "membrane")
		ps.number(path+".rafter_spacing_m", p.RafterSpacingM, 0.2, 2, " m")
	}
}

func (ps *Problems) ring(path string, ring []Corner) {
	points := make([]Point, len(ring))
	for i, c := range ring {
		points[i] = Point{XM: c.XM, YM: c.YM}
		ps.oneOf(fmt.Sprintf("%s[%d].edge", path, i), c.Edge,
			"", "eave", "ridge", "rake", "hip", "valley", "break", "wall", "party_wall")
	}
	ps.outline(path, points)
}

func (ps *Problems) rules(r Rules) {
	ps.oneOf("rules.set", r.Set, "none", "distances", "irc_r324")
	for _, f := range []struct {
		name string
		m    float64
	}{
		{"eave_m", r.Distances.EaveM}, {"ridge_m", r.Distances.RidgeM}, {"rake_m", r.Distances.RakeM},
		{"hip_m", r.Distances.HipM}, {"valley_m", r.Distances.ValleyM}, {"break_m", r.Distances.BreakM},
		{"wall_m", r.Distances.WallM}, {"party_wall_m", r.Distances.PartyWallM},
	} {
		ps.number("rules.distances."+f.name, f.m, 0, 10, " m")
	}
	ps.oneOf("rules.style", r.Style, "rows", "columns", "grid", "best")
	ps.number("rules.tidy_cost_modules", float64(r.TidyCostModules), 0, 100, "")
	ps.number("rules.gap_eave_m", r.GapEaveM, 0, 1, " m")
	ps.number("rules.gap_slope_m", r.GapSlopeM, 0, 1, " m")
	ps.number("rules.end_allowance_m", r.EndAllowanceM, 0, 1, " m")
}

func (ps *Problems) candidates(candidates []Candidate) {
	ps.count("candidates", len(candidates), 0, MaxCandidates)
	ids := make(map[string]int, len(candidates))
	for i, c := range candidates {
		path := fmt.Sprintf("candidates[%d]", i)
		ps.id(path+".id", c.ID, ids, i)
		if c.CatalogID != "" {
			ps.id(path+".catalog_id", c.CatalogID, nil, i)
		}
		ps.label(path+".label", c.Label, 0, maxCandidateLabel)
		for _, p := range c.module().Check() {
			if !p.Doubt {
				ps.add(path+"."+p.Field, "%s", p.Message)
			}
		}
	}
}

func (ps *Problems) target(t Target, candidates []Candidate) {
	ps.oneOf("target.mode", t.Mode, "fill", "size")
	least := 0.0 // a size not asked for yet may be left at 0
	if t.Mode == "size" {
		least = 1
	}
	ps.number("target.size_w", float64(t.SizeW), least, 10_000_000, " W")
	ps.number("target.max_blocks", float64(t.MaxBlocks), 0, 100, "")
	ps.number("target.min_access_pct", t.MinAccessPct, 0, 100, " %")
	known := func(c Candidate) bool { return c.ID == t.Chosen }
	if t.Chosen != "" && !slices.ContainsFunc(candidates, known) {
		ps.add("target.chosen", "is %q; it must be the id of a candidate, or \"\" for the first", clip(t.Chosen))
	}
}

// number reports a value outside min to max, ends included. It is written so
// that NaN is outside every range. The unit follows a number and may be empty.
func (ps *Problems) number(path string, v, min, max float64, unit string) {
	if v >= min && v <= max {
		return
	}
	ps.add(path, "is %s; it must be from %s to %s%s", plain(v), plain(min), plain(max), unit)
}

// bearing reports a value that is not 0 <= v < 360.
func (ps *Problems) bearing(path string, v float64) {
	if v >= 0 && v < 360 {
		return
	}
	ps.add(path, "is %s; it must be from 0 to less than 360 deg", plain(v))
}

// plain writes a number without an exponent where it is of ordinary size.
func plain(v float64) string {
	if a := math.Abs(v); a == 0 || a >= 1e-9 && a < 1e15 {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// count reports a list with too few or too many entries.
func (ps *Problems) count(path string, n, min, max int) {
	if n < min || n > max {
		ps.add(path, "has %d entries; it must have from %d to %d", n, min, max)
	}
}

// oneOf reports a value that is not in a list of words.
func (ps *Problems) oneOf(path, v string, words ...string) {
	if slices.Contains(words, v) {
		return
	}
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = fmt.Sprintf("%q", w)
	}
	ps.add(path, "is %q; it must be one of %s", clip(v), strings.Join(quoted, ", "))
}

// label reports a text that is too short or long, counted in characters, that
// is not UTF-8, or that holds a control character or line separator.
func (ps *Problems) label(path, v string, min, max int) {
	if n := utf8.RuneCountInString(v); n < min || n > max {
		ps.add(path, "has %d characters; it must have from %d to %d", n, min, max)
	}
	if !utf8.ValidString(v) {
		ps.add(path, "is not valid UTF-8 text")
	}
	for i, r := range v {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' {
			ps.add(path, "has the control character U+%04X at byte %d; a label is one line of text", r, i)
			return
		}
	}
}

// id reports a badly formed id and, with seen, one that came before. seen maps
// ids to positions and is added to; nil checks the form alone.
func (ps *Problems) id(path, v string, seen map[string]int, at int) {
	if !isID(v) {
		ps.add(path, "is %q; it must be 1 to %d of a-z, 0-9 and '-'", clip(v), maxID)
	}
	if seen == nil {
		return
	}
	if first, ok := seen[v]; ok {
		ps.add(path, "is %q, as entry %d of the list already is; ids must differ", clip(v), first)
		return
	}
	seen[v] = at
}

func isID(v string) bool {
	if len(v) < 1 || len(v) > maxID {
		return false
	}
	for _, c := range []byte(v) {
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '-' {
			return false
		}
	}
	return true
}
