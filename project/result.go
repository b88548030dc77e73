package project

// Result is the evaluation of a document: everything the pages, the editor and
// the report command show. Lengths are metres, areas square metres.
type Result struct {
	Planes     []PlaneResult     `json:"planes"`
	KeepOuts   []KeepOutResult   `json:"keep_outs"`
	Candidates []CandidateResult `json:"candidates"`
	// PlanAreaM2 is the total plan area of all planes, used or not.
	PlanAreaM2 float64 `json:"plan_area_m2"`
	// Rules is the rule set in force, in words.
	Rules RulesResult `json:"rules"`
	// Findings are warnings about the drawing that do not stop evaluation.
	Findings []Finding `json:"findings"`
	// SunlightKey is the key of the light that the result was made with, ""
	// without.
	SunlightKey string `json:"sunlight_key"`
}

// RulesResult tells a reader which rule set was applied.
type RulesResult struct {
	ID    string   `json:"id"`
	Title string   `json:"title"`
	Notes []string `json:"notes"`
}

// Finding is one remark on the drawing with the field it is about.
type Finding struct {
	Path    string `json:"path"`
	Message string `json:"message"`
}

// KeepOutResult is where a keep-out lies in plan.
type KeepOutResult struct {
	ID string `json:"id"`
	// Footprint is its outline in plan, [x, y] metres, without clearance.
	Footprint [][2]float64 `json:"footprint"`
}

// PlaneResult is what geometry alone says of a plane.
type PlaneResult struct {
	ID          string  `json:"id"`
	Label       string  `json:"label"`
	Use         bool    `json:"use"`
	PitchDeg    float64 `json:"pitch_deg"`
	AzimuthDeg  float64 `json:"azimuth_deg"`
	PlanAreaM2  float64 `json:"plan_area_m2"`
	SlopeAreaM2 float64 `json:"slope_area_m2"`
	// UsableAreaM2 is the slope area left after setbacks, paths and keep-outs
	// (last-resort shade counts as usable), with the narrower ridge setback
	// where the rule set has two.
	UsableAreaM2 float64      `json:"usable_area_m2"`
	RidgeHeightM float64      `json:"ridge_height_m"`
	Edges        []EdgeResult `json:"edges"`
	// Zones are the parts taken away, in plan, for drawing.
	Zones []ZoneResult `json:"zones"`
	// WideZones are the zones with the wider ridge setback, for drawing a
	// layout that keeps it; empty where no candidate's layout does.
	WideZones []ZoneResult `json:"wide_zones"`
}

// ZonesFor are the zones that a candidate's shown layout stays out of.
func (p PlaneResult) ZonesFor(c CandidateResult) []ZoneResult {
	if c.Widened() {
		return p.WideZones
	}
	return p.Zones
}

// EdgeResult is one classified piece of a plane's outline.
type EdgeResult struct {
	// Index is the ring corner the edge leaves; an edge split where its kind
	// changes has several pieces with one index.
	Index int        `json:"index"`
	From  [2]float64 `json:"from"`
	To    [2]float64 `json:"to"`
	// LengthM is the true length in the roof plane.
	LengthM float64 `json:"length_m"`
	Kind    string  `json:"kind"`
	Guessed bool    `json:"guessed"`
	Street  bool    `json:"street"`
}

// ZoneResult is one outline in plan that modules stay out of. It may reach
// beyond the plane; draw it clipped to the ring.
type ZoneResult struct {
	// Why is "setback", "path", "keep_out", "shade_off_limits",
	// "shade_last_resort" or "dark" (under Target.MinAccessPct).
	Why  string       `json:"why"`
	Ring [][2]float64 `json:"ring"`
}

// CandidateResult is what one candidate module does on the roof.
type CandidateResult struct {
	ID     string `json:"id"`
	Letter string `json:"letter"`
	Label  string `json:"label"`
	PmaxW  int    `json:"pmax_w"`
	// ModuleAreaM2 is length x width.
	ModuleAreaM2 float64 `json:"module_area_m2"`
	// Fill answers "how much fits".
	Fill LayoutResult `json:"fill"`
	// Size answers "meet a size"; nil while the target mode is "fill".
	Size *SizeResult `json:"size"`
	// Offer is what style "best" would add to the count of the layout shown;
	// nil where it adds nothing, where the style is "best", and in the drag
	// budget.
	Offer *OfferResult `json:"offer"`
	// RidgeWidened is true where the module area passed the rule set's
	// coverage limit and the roof was packed again with the wider ridge
	// setback; Coverage is module plan area over total plan area, before that.
	RidgeWidened bool    `json:"ridge_widened"`
	Coverage     float64 `json:"coverage"`
}

// Shown is the layout that answers the document's question: the one that meets
// the size in mode "size", else the one that fills the roof.
func (c CandidateResult) Shown() LayoutResult {
	if c.Size != nil {
		return c.Size.Layout
	}
	return c.Fill
}

// Widened reports whether the layout that answers the document's question
// keeps the wider ridge setback.
func (c CandidateResult) Widened() bool {
	if c.Size != nil {
		return c.Size.RidgeWidened
	}
	return c.RidgeWidened
}

// LayoutResult is one layout over all used planes.
type LayoutResult struct {
	Count int `json:"count"`
	// InShade is how many of Count lie in last-resort shade.
	InShade int     `json:"in_shade"`
	PdcW    int     `json:"pdc_w"`
	KWdc    float64 `json:"kwdc"`
	// WPerM2 is W per m2 of roof used: W / (n (w+gap)(h+gap)).
	WPerM2 float64 `json:"w_per_m2"`
	// FreeAreaM2 is the usable slope area of the used planes less the area
	// used, n (w+gap)(h+gap), plane by plane and not below 0 on any: the outer
	// modules of a full plane need no gap, so that it can use more than it has.
	// With the wider ridge setback, the area usable with that counts.
	FreeAreaM2 float64 `json:"free_area_m2"`
	// Tidiness is the sum over the planes of rail runs and of blocks, and how
	// many turns are in use over the roof.
	Tidiness Tidiness `json:"tidiness"`
	// Gained is the sum over the planes.
	Gained int `json:"gained"`
	// LeftDark is how many fewer modules there are than without
	// Target.MinAccessPct.
	LeftDark int `json:"left_dark"`
	// ByPlane has one entry per used plane, in document order.
	ByPlane []PlaneLayoutResult `json:"by_plane"`
}

// PlaneLayoutResult is a layout's part on one plane.
type PlaneLayoutResult struct {
	PlaneID    string  `json:"plane_id"`
	Count      int     `json:"count"`
	InShade    int     `json:"in_shade"`
	PdcW       int     `json:"pdc_w"`
	KWdc       float64 `json:"kwdc"`
	FreeAreaM2 float64 `json:"free_area_m2"`
	// Bound is an upper bound on the count of any layout of the plane, and
	// Proved is true when filling the plane reaches it. Both leave out a
	// module limit and a wanted size: with those, Count can be below a proved
	// Bound.
	Bound   int      `json:"bound"`
	Proved  bool     `json:"proved"`
	Modules []Module `json:"modules"`
	// Tidiness is that of Modules.
	Tidiness Tidiness `json:"tidiness"`
	// Hand is "" where the engine laid the plane out, "by_hand" where it holds
	// what a person set and no more, "around" where the engine filled it around
	// locked modules.
	Hand string `json:"hand"`
	// Refused are the modules set by hand that the roof does not allow; they
	// are not counted.
	Refused []RefusedModule `json:"refused"`
	// Gained is how many of Count the deep budget found beyond the drag one; 0
	// in the drag budget.
	Gained int `json:"gained"`
}

// Tidiness says how a layout looks and how much rail work it takes; see
// layout.Tidiness.
type Tidiness struct {
	RailRuns int `json:"rail_runs"`
	Blocks   int `json:"blocks"`
	// Turns is how many turns are in use, 0 to 2.
	Turns int `json:"turns"`
}

// RefusedModule is a module set by hand where the roof does not allow it.
type RefusedModule struct {
	// Index is its place in HandLayout.Modules.
	Index int           `json:"index"`
	Plan  [4][2]float64 `json:"plan"`
	// Why is the first that holds of "outside" (beyond the plane's edge),
	// "setback", "path", "keep_out", "shade_off_limits", "end" (its end
	// allowance reaches into one of those), "overlap" (another module, or too
	// small a gap to it) and "limit" (the plane's module limit).
	Why string `json:"why"`
	// With is the keep-out's ID, or the Index of the other module as text, or "".
	With   string `json:"with"`
	Locked bool   `json:"locked"`
}

// OfferResult is what style "best" would add to the layout shown. Planes laid
// out by hand stay as they are in it.
type OfferResult struct {
	// Style is "best".
	Style string `json:"style"`
	// More is how many modules more, PdcW the watts of the whole offered layout.
	More int `json:"more"`
	PdcW int `json:"pdc_w"`
	// RailRuns and Blocks are how many more of each, below 0 for fewer.
	RailRuns int `json:"rail_runs"`
	Blocks   int `json:"blocks"`
	// Turns is how many turns the offered layout uses.
	Turns int `json:"turns"`
}

// Module is one placed module: slope-frame position and placed size, and its
// four corners in plan.
type Module struct {
	UM      float64       `json:"u_m"`
	VM      float64       `json:"v_m"`
	WM      float64       `json:"w_m"`
	HM      float64       `json:"h_m"`
	Plan    [4][2]float64 `json:"plan"`
	InShade bool          `json:"in_shade"`
	// Turn is "portrait" (long side up the slope) or "landscape".
	Turn string `json:"turn"`
	// Hand says that a person set it there, Locked that it stays there when the
	// rest is filled anew.
	Hand   bool `json:"hand"`
	Locked bool `json:"locked"`
}

// SizeResult answers "meet a size" for one candidate.
type SizeResult struct {
	// Need is the number of modules that reaches the size: (size + Pmax - 1) / Pmax.
	Need int `json:"need"`
	// Fits is whether Need modules fit the roof.
	Fits bool `json:"fits"`
	// RidgeWidened is true where these modules pass the rule set's coverage
	// limit and so keep the wider ridge setback. It can be false while the
	// filled roof's is true.
	RidgeWidened bool `json:"ridge_widened"`
	// Value is what the chosen places are worth together and ValueBound what no
	// choice of as many can pass; ValueProved says that they are equal within
	// rounding. ValueWords says what the value is.
	Value       float64 `json:"value"`
	ValueBound  float64 `json:"value_bound"`
	ValueProved bool    `json:"value_proved"`
	ValueWords  string  `json:"value_words"`
	// Layout has min(Need, what fits) modules, last-resort places taken last.
	Layout LayoutResult `json:"layout"`
}
