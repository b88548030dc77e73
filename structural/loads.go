package structural

import (
	"fmt"
	"slices"
)

// Bounds of one request.
const (
	maxPlanes  = 200
	maxModules = 2000
	maxEdges   = 1000
)

// Shares of a rating that part the statuses.
const (
	nearFrom = 0.85
	overFrom = 1.0
)

// Status says how a module's load stands to its design rating.
type Status string

// The statuses: up to 85 % of the rating, above that to 100 %, over it; unknown
// where a load or the rating it meets is not known and nothing known is over.
const (
	Within  Status = "within"
	Near    Status = "near"
	Over    Status = "over"
	Unknown Status = "unknown"
)

// ModuleBuild is a module's size, weight and ratings.
type ModuleBuild struct {
	// LengthM is the longer, WidthM the shorter side, each 0.1 to 5 m.
	LengthM, WidthM float64
	// WeightKg is 0.5 to 100.
	WeightKg float64
	// LongEdge and ShortEdge are the ratings by clamp position.
	LongEdge, ShortEdge Ratings
}

// check tests the ranges.
func (m ModuleBuild) check() error {
	err := checkSpans(span{"length_m", m.LengthM, 0.1, 5, "m"}, span{"width_m", m.WidthM, 0.1, m.LengthM, "m"},
		span{"weight_kg", m.WeightKg, 0.5, 100, "kg"})
	if err != nil {
		return err
	}
	if err := m.LongEdge.check(LongEdge); err != nil {
		return err
	}
	return m.ShortEdge.check(ShortEdge)
}

// ratings returns those of a clamp position.
func (m ModuleBuild) ratings(at ClampEdge) Ratings {
	if at == LongEdge {
		return m.LongEdge
	}
	return m.ShortEdge
}

// weightPa is the module's own weight on its area.
func (m ModuleBuild) weightPa() float64 {
	return m.WeightKg * gravity / (m.LengthM * m.WidthM)
}

// PlaneArray is the modules of one roof plane.
type PlaneArray struct {
	// ID names the plane in the report.
	ID string
	// PitchDeg is 0 to 75.
	PitchDeg float64
	// Edges is the plane's whole outline. The flush rule needs it.
	Edges []Edge
	// Modules lie in the plane's frame, each of the module's size in either turn.
	Modules []Rect
	// Rails says how they run; "" is AlongEave.
	Rails RailDirection
}

// LoadRequest asks what snow, wind and weight do to the modules of a roof. Loads
// that are nil are not known.
type LoadRequest struct {
	Family Family
	// ASCESnow and FlushWind go with family ASCE alone, ENSnow with EN alone;
	// TypedWind with either, in the place of FlushWind.
	ASCESnow  *ASCESnow
	ENSnow    *ENSnow
	FlushWind *FlushWind
	TypedWind *TypedWind
	Module    ModuleBuild
	Planes    []PlaneArray
}

// LoadReport is the answer of [CheckLoads].
type LoadReport struct {
	// Caution is the text [Caution], for every page that shows the report.
	Caution string `json:"caution"`
	// Combinations are the sums of loads that were compared, as text.
	Combinations []string `json:"combinations"`
	// Figures are those of the whole roof, Planes follow the request.
	Figures  []Figure    `json:"figures"`
	Planes   []PlaneLoad `json:"planes"`
	Findings []Finding   `json:"findings"`
	Counts   Counts      `json:"counts"`
}

// Counts says how many modules have each status.
type Counts struct {
	Within  int `json:"within"`
	Near    int `json:"near"`
	Over    int `json:"over"`
	Unknown int `json:"unknown"`
}

// add counts one module.
func (c *Counts) add(s Status) {
	switch s {
	case Within:
		c.Within++
	case Near:
		c.Near++
	case Over:
		c.Over++
	default:
		c.Unknown++
	}
}

// PlaneLoad is the loads on one plane.
type PlaneLoad struct {
	ID string `json:"id"`
	// Figures are snow and weight on this plane.
	Figures []Figure `json:"figures"`
	// Conditions are those of the flush rule, empty where it was not asked;
	// OutsideRule says that one is not met: no wind pressure is given then.
	Conditions  []FlushCondition `json:"conditions"`
	OutsideRule bool             `json:"outside_rule"`
	// Cases are the different situations that modules of the plane are in.
	Cases []LoadCase `json:"cases"`
	// Modules follow the request.
	Modules []ModuleLoad `json:"modules"`
	Counts  Counts       `json:"counts"`
}

// ModuleLoad is the result for one module.
type ModuleLoad struct {
	// Case is the index in PlaneLoad.Cases, which holds the numbers.
	Case int `json:"case"`
	// Status, Ratio and Governing are those of the case.
	Status    Status  `json:"status"`
	Ratio     float64 `json:"ratio"`
	Governing string  `json:"governing"`
}

// LoadCase is a situation that several modules share: roof zone, edge of the
// array, turn.
type LoadCase struct {
	// Zone is "" without the flush rule; Exposed says that the edge factor for
	// suction applies.
	Zone    Zone      `json:"zone"`
	Exposed bool      `json:"exposed"`
	Turn    Turn      `json:"turn"`
	Clamps  ClampEdge `json:"clamps"`
	// WindDownPa and WindUpPa press on and lift the module, before the factors of
	// the combinations; nil is not known.
	WindDownPa *float64 `json:"wind_down_pa"`
	WindUpPa   *float64 `json:"wind_up_pa"`
	// Figures are wind and ratings, Checks all combinations that are known.
	Figures []Figure `json:"figures"`
	Checks  []Check  `json:"checks"`
	Status  Status   `json:"status"`
	// Ratio is the greatest load over its design rating, 0 where no rating is
	// given, and Governing the formula of that combination, "" likewise.
	Ratio     float64 `json:"ratio"`
	Governing string  `json:"governing"`
	// Why is a sentence: the numbers, or what is missing.
	Why string `json:"why"`
}

// CheckLoads compares the pressure on every module with its design rating. Its
// rules:
//
//  1. Snow and weight act straight down, snow on plan area; what counts is the
//     part square to the module: snow x cos2, weight x cos of the pitch. Wind is
//     square to the module already.
//  2. The combinations are those of the family. The weight is the module's own.
//  3. Flush wind needs every condition of the rule; where one is not met, no wind
//     pressure of that plane is given.
//  4. A module is within its rating up to 85 % of it, near up to 100 %, over
//     above that; unknown where a load or a rating that it meets is missing,
//     unless what is known is over already.
//
// More snow, more wind or a lower rating never betters a status.
//
// Values out of range, and loads of one family with those of the other, give an
// [*InputError].
func CheckLoads(r LoadRequest) (LoadReport, error) {
	turns, err := r.check()
	if err != nil {
		return LoadReport{}, err
	}
	out := LoadReport{Caution: Caution, Planes: []PlaneLoad{}, Findings: []Finding{}, Combinations: []string{}}
	combos := r.combinations()
	for _, c := range combos {
		out.Combinations = append(out.Combinations, string(c.side)+": "+c.formula)
	}
	wind := r.sharedWind(&out)
	w := r.Module.weightPa()
	out.Figures = append(out.Figures, Figure{"module_weight", "Weight of the module, D", "mass x 9.80665 / (length x width)",
		num(r.Module.WeightKg) + " kg x 9.80665 / (" + num(r.Module.LengthM) + " m x " + num(r.Module.WidthM) + " m) = " + num(w) + " Pa", w, "Pa", "datasheet"})
	for i, p := range r.Planes {
		pl := r.plane(p, turns[i], wind, combos)
		out.Planes = append(out.Planes, pl)
		out.Counts.Within += pl.Counts.Within
		out.Counts.Near += pl.Counts.Near
		out.Counts.Over += pl.Counts.Over
		out.Counts.Unknown += pl.Counts.Unknown
	}
	r.say(&out)
	return out, nil
}

// check tests a request and returns the turns of each plane's modules.
func (r LoadRequest) check() ([][]Turn, error) {
	if err := r.checkFamily(); err != nil {
		return nil, err
	}
	if err := r.Module.check(); err != nil {
		return nil, err
	}
	if len(r.Planes) > maxPlanes {
		return nil, bad("planes", "are %d; there may be 0 to %d", len(r.Planes), maxPlanes)
	}
	turns := make([][]Turn, len(r.Planes))
	count := 0
	for i, p := range r.Planes {
		if count += len(p.Modules); count > maxModules {
			return nil, bad("modules", "are more than %d", maxModules)
		}
		var err error
		if turns[i], err = p.check(r.Module); err != nil {
			return nil, fmt.Errorf("plane %s: %w", p.ID, err)
		}
	}
	return turns, nil
}

// check tests one plane and returns the turns of its modules.
func (p PlaneArray) check(m ModuleBuild) ([]Turn, error) {
	if err := checkSpans(span{"pitch_deg", p.PitchDeg, 0, 75, "deg"}); err != nil {
		return nil, err
	}
	if p.Rails != "" && p.Rails != AlongEave && p.Rails != UpSlope {
		return nil, bad("rails", "is %q; it must be %q or %q", p.Rails, AlongEave, UpSlope)
	}
	if len(p.Edges) > maxEdges {
		return nil, bad("edges", "are %d; there may be 0 to %d", len(p.Edges), maxEdges)
	}
	for _, e := range p.Edges {
		if !slices.Contains(EdgeKinds(), e.Kind) {
			return nil, bad("edges", "has kind %q; it must be one of %v", e.Kind, EdgeKinds())
		}
		if err := checkSpans(span{"edge from_u_m", e.FromUM, -1e4, 1e4, "m"}, span{"edge from_v_m", e.FromVM, -1e4, 1e4, "m"},
			span{"edge to_u_m", e.ToUM, -1e4, 1e4, "m"}, span{"edge to_v_m", e.ToVM, -1e4, 1e4, "m"}); err != nil {
			return nil, err
		}
	}
	return checkRects(p.Modules, m.LengthM, m.WidthM)
}

// checkFamily tests that loads are of one family and in range.
func (r LoadRequest) checkFamily() error {
	const mixed = "is given; loads of the two families must not be mixed"
	switch {
	case r.Family != ASCE && r.Family != EN:
		return bad("family", "is %q; it must be %q or %q", r.Family, ASCE, EN)
	case r.Family == ASCE && r.ENSnow != nil:
		return bad("en_snow", "%s: family %q takes snow after ASCE 7", mixed, ASCE)
	case r.Family == EN && r.ASCESnow != nil:
		return bad("asce_snow", "%s: family %q takes snow after EN 1991-1-3", mixed, EN)
	case r.Family == EN && r.FlushWind != nil:
		return bad("flush_wind", "%s: family %q takes a typed wind pressure", mixed, EN)
	case r.FlushWind != nil && r.TypedWind != nil:
		return bad("typed_wind", "is given beside flush wind; only one of them may be")
	case r.ASCESnow != nil && r.FlushWind != nil && r.ASCESnow.Edition != r.FlushWind.Edition:
		return bad("edition", "of snow is %q and of wind %q; both must be one", r.ASCESnow.Edition, r.FlushWind.Edition)
	}
	for _, check := range []func() error{
		func() error { return checkIf(r.ASCESnow) }, func() error { return checkIf(r.ENSnow) },
		func() error { return checkIf(r.FlushWind) }, func() error { return checkIf(r.TypedWind) },
	} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

// checkIf checks a load that is given.
func checkIf[T interface{ Check() error }](v *T) error {
	if v == nil {
		return nil
	}
	return (*v).Check()
}
