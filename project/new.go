//go:build !js

package project

import (
	"rooftally/catalog"
	"rooftally/layout"
)

// Defaults of a new document. The gaps and the end allowance are common
// practice, no source; they are what a fitter is asked to confirm, not limits.
const (
	DefaultGapM           = 0.020
	DefaultEndAllowanceM  = 0.040
	DefaultRafterSpacingM = 0.600
)

// New returns an empty, valid document: no planes, metric units, the NEC rule
// family, the preset distance from every edge, rows, three invented candidates
// with datasheets, no inverter, no loads, no prices but those of the datasheets,
// the weather of the nearest station, and nothing around the roof. An empty label is not valid; the caller sees to that.
func New(label string) Document {
	return Document{
		Schema:     Schema,
		Site:       Site{Label: label, Units: "metric", RuleFamily: "nec"},
		Planes:     []Plane{},
		KeepOuts:   []KeepOut{},
		Rules:      defaultRules(),
		Candidates: demoCandidates(),
		Target:     Target{Mode: "fill"},
		Hand:       []HandLayout{},
		Wiring:     defaultWiring(),
		Loads:      defaultLoads(),
		Cost:       defaultCost(),

		Weather: defaultWeather(), Surroundings: defaultSurroundings(), Yield: defaultYieldTerms(),
	}
}

// defaultRules are the rules of a new document; the distances are the preset
// of their rule set.
func defaultRules() Rules {
	const set = "distances"
	preset, _ := layout.RuleSetByID(set) // a test holds that it is there
	return Rules{
		Set: set, Distances: Distances(preset.Distances), Style: "rows",
		GapEaveM: DefaultGapM, GapSlopeM: DefaultGapM, EndAllowanceM: DefaultEndAllowanceM,
	}
}

// demoCandidates are three invented modules that differ in power and size.
func demoCandidates() []Candidate {
	ids := []string{"demo-330-small", "demo-400-medium", "demo-450-large"}
	out := make([]Candidate, 0, len(ids))
	for _, id := range ids {
		for _, m := range catalog.DemoDatasheets() {
			if m.ID == id {
				out = append(out, CandidateOf(m, m.ID))
			}
		}
	}
	return out
}

// CandidateOf copies a catalog module into a candidate of the given id.
func CandidateOf(m catalog.Datasheet, id string) Candidate {
	return Candidate{
		ID: id, CatalogID: m.ID, Label: m.Label,
		PmaxW: m.PmaxW, LengthM: m.LengthM, WidthM: m.WidthM, Invented: m.Invented, Datasheet: &m,
	}
}
