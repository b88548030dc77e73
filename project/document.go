// Package project holds the document a user edits (one house, its roof planes,
// keep-outs, rules and candidate modules) and its evaluation, which puts the
// pure packages together. It does no I/O.
//
// The file format is described in docs/project-file.md.
package project

import "rooftally/catalog"

// Schema is the version of the document format written by this program.
const Schema = 3

// Document is everything a user says about one roof and the modules proposed
// for it. A value is treated as immutable once decoded.
type Document struct {
	Schema     int         `json:"schema"`
	Site       Site        `json:"site"`
	Planes     []Plane     `json:"planes"`
	KeepOuts   []KeepOut   `json:"keep_outs"`
	Rules      Rules       `json:"rules"`
	Candidates []Candidate `json:"candidates"`
	Target     Target      `json:"target"`
	// Hand are the layouts that a person set, at most one for each candidate
	// and plane.
	Hand []HandLayout `json:"hand"`
	// Wiring, Loads and Cost are what [Build] asks beyond the count.
	Wiring Wiring `json:"wiring"`
	Loads  Loads  `json:"loads"`
	Cost   Cost   `json:"cost"`
	// Weather, Surroundings and Yield are what [YieldOf] asks.
	Weather      Weather      `json:"weather"`
	Surroundings Surroundings `json:"surroundings"`
	Yield        YieldTerms   `json:"yield"`
}

// Site is the house and the conventions its document is read in.
type Site struct {
	// Label names the project: 1 to 120 characters.
	Label string `json:"label"`
	// LatDeg and LonDeg are geographic degrees, north and east positive.
	LatDeg float64 `json:"lat_deg"`
	LonDeg float64 `json:"lon_deg"`
	// ElevationM is metres above sea level, -450 to 6000.
	ElevationM float64 `json:"elevation_m"`
	// UTCOffsetH is standard time in hours from UTC, -12 to 14.
	UTCOffsetH float64 `json:"utc_offset_h"`
	// Units is how lengths are shown: "metric" or "imperial" (feet-inches).
	// The document itself is always metric.
	Units string `json:"units"`
	// RuleFamily is "nec" (NEC, ASCE, IRC) or "iec" (IEC, EN).
	RuleFamily string `json:"rule_family"`
	// Invented marks demo data; the pages say so.
	Invented bool `json:"invented"`
}

// Plane is one roof plane; see layout.Plane for the geometry.
type Plane struct {
	// ID is unique among the planes: 1 to 40 of a-z 0-9 and '-'.
	ID string `json:"id"`
	// Label is what people call it: 0 to 60 characters.
	Label string `json:"label"`
	// Use says whether modules may be put on the plane. An unused plane still
	// takes part in guessing edge kinds.
	Use bool `json:"use"`
	// Ring is the outer edge of the covering in plan: 3 to 500 corners, simple,
	// either direction, its bounding box at most 250 m from corner to corner.
	Ring []Corner `json:"ring"`
	// PitchDeg 0 to 75; AzimuthDeg 0 <= a < 360; EaveHeightM 0 to 200.
	PitchDeg    float64 `json:"pitch_deg"`
	AzimuthDeg  float64 `json:"azimuth_deg"`
	EaveHeightM float64 `json:"eave_height_m"`
	// ModuleLimit caps the count on this plane; nil is no cap. 0 to 10000.
	ModuleLimit *int `json:"module_limit"`
	// Turn is "portrait" (long side up the slope), "landscape", "either"
	// (whichever of the two holds more on this plane) or "mixed" (each row, or
	// column, of its own turn). Style "best" mixes turns where it is "either" too.
	Turn string `json:"turn"`
	// Covering is "asphalt_shingle", "tile", "slate", "metal_seam" or "membrane".
	Covering string `json:"covering"`
	// RafterSpacingM is the distance between rafter centres, 0.2 to 2.
	RafterSpacingM float64 `json:"rafter_spacing_m"`
}

// Corner is a ring point in plan metres and the edge that leaves it.
type Corner struct {
	XM float64 `json:"x_m"`
	YM float64 `json:"y_m"`
	// Edge overrides the guessed edge kind: "", "eave", "ridge", "rake",
	// "hip", "valley", "break", "wall" or "party_wall".
	Edge string `json:"edge"`
	// Street marks the edge's side for the fire access path.
	Street bool `json:"street"`
}

// KeepOut is something on the roof that modules must avoid. It belongs to the
// site and acts on every plane it covers.
type KeepOut struct {
	// ID is unique among the keep-outs: 1 to 40 of a-z 0-9 and '-'.
	ID string `json:"id"`
	// Label is what people call it: 0 to 60 characters.
	Label string `json:"label"`
	// Kind is "chimney", "vent", "pipe", "roof_window", "shade" or "other".
	// Roof windows and shade areas are measured in the roof plane, the others
	// are vertical prisms measured in plan.
	Kind string `json:"kind"`
	// Shape is "polygon" (Points), "rect" (Center, WidthM, DepthM, TurnDeg)
	// or "circle" (Center, RadiusM). Fields of the other shapes are empty.
	Shape  string  `json:"shape"`
	Points []Point `json:"points,omitempty"`
	Center *Point  `json:"center,omitzero"`
	// WidthM runs along the eave for roof-plane kinds and, at TurnDeg 0, east
	// for plan kinds; DepthM up the slope or north. Each 0.01 to 100.
	WidthM float64 `json:"width_m,omitzero"`
	DepthM float64 `json:"depth_m,omitzero"`
	// RadiusM 0.005 to 50.
	RadiusM float64 `json:"radius_m,omitzero"`
	// TurnDeg turns a rectangle clockwise seen from above, 0 <= t < 360:
	// from north for plan kinds, from the upslope direction of the plane that
	// holds Center for roof-plane kinds.
	TurnDeg float64 `json:"turn_deg,omitzero"`
	// ClearanceM is kept free around it, measured in the roof plane, 0 to 10.
	ClearanceM float64 `json:"clearance_m"`
	// HeightM is its top above the roof at its centre, 0 to 100. With 0 it casts
	// no shadow, and roof windows and shade areas never do. It does not change
	// where modules fit.
	HeightM float64 `json:"height_m"`
	// Shade is "off_limits" or "last_resort" for kind "shade", else "".
	Shade string `json:"shade"`
}

// Point is a plan point in metres, x east, y north, each -5000 to 5000.
type Point struct {
	XM float64 `json:"x_m"`
	YM float64 `json:"y_m"`
}

// Rules say how closely modules may be set.
type Rules struct {
	// Set is "none", "distances" or "irc_r324"; see layout.RuleSets.
	Set string `json:"set"`
	// Distances are used by set "distances"; each 0 to 10.
	Distances Distances `json:"distances"`
	// Style is "rows", "columns", "grid" or "best"; see layout.Style.
	Style string `json:"style"`
	// TidyCostModules is how many modules of the whole roof style "best" may
	// give up for a tidier layout, 0 to 100. The other styles give up none.
	TidyCostModules int `json:"tidy_cost_modules"`
	// GapEaveM and GapSlopeM are the gaps between modules, 0 to 1.
	GapEaveM  float64 `json:"gap_eave_m"`
	GapSlopeM float64 `json:"gap_slope_m"`
	// EndAllowanceM is kept beyond the outer modules of a run for clamp and
	// rail, 0 to 1.
	EndAllowanceM float64 `json:"end_allowance_m"`
}

// Distances are setbacks from each kind of edge, metres in the roof plane.
type Distances struct {
	EaveM      float64 `json:"eave_m"`
	RidgeM     float64 `json:"ridge_m"`
	RakeM      float64 `json:"rake_m"`
	HipM       float64 `json:"hip_m"`
	ValleyM    float64 `json:"valley_m"`
	BreakM     float64 `json:"break_m"`
	WallM      float64 `json:"wall_m"`
	PartyWallM float64 `json:"party_wall_m"`
}

// Candidate is one module under comparison, copied into the document so that a
// later change of the catalog changes no result. Its letter is its position:
// the first is A.
type Candidate struct {
	// ID is unique among the candidates: 1 to 40 of a-z 0-9 and '-'.
	ID string `json:"id"`
	// CatalogID is the catalog entry it was copied from, "" if typed.
	CatalogID string `json:"catalog_id"`
	// Label is what people call it: 0 to 80 characters.
	Label string `json:"label"`
	// PmaxW is the rated power at standard test conditions, whole watts, 1 to 2000.
	PmaxW int `json:"pmax_w"`
	// LengthM is the long side, WidthM the short one, 0.2 to 5.
	LengthM float64 `json:"length_m"`
	WidthM  float64 `json:"width_m"`
	// Invented marks demo data.
	Invented bool `json:"invented"`
	// Datasheet is every other figure of the module, nil where it was typed
	// without one. Its id is CatalogID, and the figures that the candidate has
	// too are the same.
	Datasheet *Datasheet `json:"datasheet"`
}

// Target is the question asked of every candidate.
type Target struct {
	// Mode is "fill" (how much fits) or "size" (meet SizeW).
	Mode string `json:"mode"`
	// SizeW is the wanted size in whole watts DC, 1 to 10 000 000; 0 too in
	// mode "fill", which does not ask for it.
	SizeW int `json:"size_w"`
	// MaxBlocks is the most blocks that the modules chosen for a size may form
	// over the whole roof, 0 to 100; 0 is no limit. It never costs a module:
	// where so few blocks do not do, the fewest that do are used.
	MaxBlocks int `json:"max_blocks"`
	// MinAccessPct leaves out the places whose yearly light is under this share
	// of the open plane's, percent, 0 to 100; 0 leaves none out. It acts once
	// the light on the roof is known; see [Evaluator.EvaluateLit].
	MinAccessPct float64 `json:"min_access_pct"`
	// Chosen is the ID of the candidate the proposal is for, "" for the first.
	Chosen string `json:"chosen"`
}

// HandLayout is what a person set on one plane for one candidate.
type HandLayout struct {
	// CandidateID and PlaneID name one of the candidates and planes.
	CandidateID string `json:"candidate_id"`
	PlaneID     string `json:"plane_id"`
	// Fill says that the engine sets further modules around these, which then
	// are all locked. Without it the plane holds these and no others.
	Fill bool `json:"fill"`
	// Modules are 0 to 2000.
	Modules []HandModule `json:"modules"`
}

// HandModule is one module that a person set. It stays where it is in plan
// when the pitch changes.
type HandModule struct {
	// XM and YM are its lower left corner seen looking up the slope, plan
	// metres, each -5000 to 5000.
	XM float64 `json:"x_m"`
	YM float64 `json:"y_m"`
	// Turn is "portrait" (long side up the slope) or "landscape".
	Turn string `json:"turn"`
	// Locked keeps the module when the rest of the plane is filled anew.
	Locked bool `json:"locked"`
}

// module is the candidate as the catalog describes modules.
func (c Candidate) module() catalog.Module {
	return catalog.Module{
		ID: c.CatalogID, Label: c.Label,
		PmaxW: c.PmaxW, LengthM: c.LengthM, WidthM: c.WidthM, Invented: c.Invented,
	}
}
