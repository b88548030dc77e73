package layout

// Distances are setbacks by edge kind: how far modules stay from such an edge,
// metres measured in the roof plane, each 0 to 10. The zero value keeps no
// distance.
type Distances struct {
	EaveM, RidgeM, RakeM, HipM, ValleyM, BreakM, WallM, PartyWallM float64
}

// Of returns the distance for an edge kind; 0 for Auto and unknown kinds.
func (d Distances) Of(kind EdgeKind) float64 {
	switch kind {
	case Eave:
		return d.EaveM
	case Ridge:
		return d.RidgeM
	case Rake:
		return d.RakeM
	case Hip:
		return d.HipM
	case Valley:
		return d.ValleyM
	case Break:
		return d.BreakM
	case Wall:
		return d.WallM
	case PartyWall:
		return d.PartyWallM
	}
	return 0
}

// RuleSet is one set of rules for keeping edges and paths free: data, so that
// a page can show what was applied. The local code governs whatever a set
// says, and the Notes of every set say so.
type RuleSet struct {
	// ID is "none", "distances" or "irc_r324".
	ID, Title string
	// Notes are sentences for the person who relies on the layout.
	Notes []string
	// Distances are the setbacks. A caller replaces those of the set whose
	// Typed is true by what the user typed.
	Distances Distances
	Typed     bool
	// WideRidgeM takes the place of Distances.RidgeM where module plan area
	// passes CoverageLimit of the total plan roof area; 0 where the set has
	// one ridge distance only. Coverage is reckoned by the caller, who then
	// packs once more.
	WideRidgeM, CoverageLimit float64
	// PathM is the width of the path kept free from eave to ridge on every
	// used plane, metres in the roof plane; 0 for none.
	PathM float64
	// ExemptPitchDeg is the pitch up to which the set asks for nothing; 0 for
	// no such pitch.
	ExemptPitchDeg float64
}

// Exempts reports whether the set asks nothing of a plane of this pitch.
func (r RuleSet) Exempts(pitchDeg float64) bool {
	return r.ExemptPitchDeg > 0 && pitchDeg <= r.ExemptPitchDeg+exemptSlackDeg
}

// localCodeNote is part of every rule set.
const localCodeNote = "The local code and its official govern; ask before relying on this layout."

// RuleSets returns the rule sets in the order in which they are offered. Each
// call returns values of its own.
func RuleSets() []RuleSet {
	return []RuleSet{
		{
			ID:    "none",
			Title: "No setbacks",
			Notes: []string{
				"No distance is kept from any edge and no path is kept free.",
				localCodeNote,
			},
		},
		{
			ID:    "distances",
			Title: "Distances from each kind of edge",
			Notes: []string{
				"The distances are those typed for each kind of edge, measured in the roof plane. The preset of 300 mm all round is common practice, no source.",
				localCodeNote,
			},
			Distances: Distances{
				EaveM: 0.3, RidgeM: 0.3, RakeM: 0.3, HipM: 0.3,
				ValleyM: 0.3, BreakM: 0.3, WallM: 0.3, PartyWallM: 0.3,
			},
			Typed: true,
		},
		ircR324(),
	}
}

// ircR324 is the set after IRC 2018 R324.6: paths and ridge distances for fire
// access. 18 in is 457 mm, 36 in is 914 mm.
func ircR324() RuleSet {
	return RuleSet{
		ID:    "irc_r324",
		Title: "Fire access after IRC 2018 R324.6",
		Notes: []string{
			"After IRC 2018 R324.6: 457 mm (18 in) kept free below a ridge, or 914 mm (36 in) where the plan area of the modules passes 33 % of the total plan area of the roof; a path 914 mm (36 in) wide from eave to ridge on every plane with modules, on the side of the edge marked as street side. Slopes of 2:12 or less are exempt.",
			"Not judged here: sprinklered dwellings (another limit), whether two paths lie on separate planes, free ways below and beside escape openings, things that stand in a path, and detached buildings.",
			localCodeNote,
		},
		Distances:      Distances{RidgeM: 0.457},
		WideRidgeM:     0.914,
		CoverageLimit:  0.33,
		PathM:          0.914,
		ExemptPitchDeg: RiseIn12ToDeg(2),
	}
}

// RuleSetByID finds a rule set; false for an unknown ID.
func RuleSetByID(id string) (RuleSet, bool) {
	for _, r := range RuleSets() {
		if r.ID == id {
			return r, true
		}
	}
	return RuleSet{}, false
}
