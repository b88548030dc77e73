//go:build !js

package project

import (
	"rooftally/climate"
	"rooftally/energy"
)

// YearResult is the typical year that a document's yields are reckoned with.
type YearResult struct {
	// Sun is nil where there is none; Why then says what is missing.
	Sun *energy.YearOfSun
	Why string
	// Source is that of the document's weather, Label names the place and Words
	// say in a sentence whose weather it is.
	Source, Label, Words string
	// Warnings are sentences: a far station, values that were filled in.
	Warnings []string
	// Station is the nearest station where that is the source, nil otherwise.
	Station *climate.Match
	// Key names the content: equal keys, equal years.
	Key string
}

// YieldResult is what the candidates' layouts yield in a typical year.
type YieldResult struct {
	// Why says why nothing can be said, "" otherwise. A candidate has its own.
	Why     string       `json:"why"`
	Weather YieldWeather `json:"weather"`
	// Candidates follow the document.
	Candidates []CandidateYield `json:"candidates"`
	// Best is the index of the candidate with the most energy, -1 where none has
	// a yield. It says no more than that: see Ties.
	Best int `json:"best"`
	// Ties are pairs of candidates that the model cannot tell apart, and TieWords
	// say what that means, "" without ties.
	Ties     []YieldTie `json:"ties"`
	TieWords string     `json:"tie_words"`
	// Notes are sentences on what the figures are and are not.
	Notes []string `json:"notes"`
}

// YieldWeather is the weather of a [YieldResult].
type YieldWeather struct {
	// Source is "station", "monthly" or "file"; Label the place.
	Source   string   `json:"source"`
	Label    string   `json:"label"`
	Words    string   `json:"words"`
	Warnings []string `json:"warnings"`
	// GHIYear is the year's global horizontal irradiation, kWh/m2, and
	// GHIKWhM2 that of each month.
	GHIYear  float64     `json:"ghi_year"`
	GHIKWhM2 [12]float64 `json:"ghi_kwh_m2"`
	// AirC is the mean dry bulb of each month.
	AirC [12]float64 `json:"air_c"`
}

// YieldTie is a pair of candidates whose yields differ by less than the model
// can tell.
type YieldTie struct {
	// A and B are letters, A's before B's.
	A string `json:"a"`
	B string `json:"b"`
	// DifferencePct is how much less the lower one yields.
	DifferencePct float64 `json:"difference_pct"`
	Words         string  `json:"words"`
}

// CandidateYield is what one candidate's layout yields, the one that answers the
// document's question. Energies are AC kWh of the first year where no other is
// named.
type CandidateYield struct {
	ID     string `json:"id"`
	Letter string `json:"letter"`
	Label  string `json:"label"`
	// Why says why there is no yield, "" where there is one; the other members
	// are then empty but for Count and PdcW, which are those of the layout.
	Why   string `json:"why"`
	Count int    `json:"count"`
	PdcW  int    `json:"pdc_w"`
	// Total is the whole roof (PlaneID is ""), Planes its parts, planes with
	// modules only, in document order.
	Total  PlaneYield   `json:"total"`
	Planes []PlaneYield `json:"planes"`
	// Modules has one entry per module of the layout, plane by plane.
	Modules []ModuleYieldResult `json:"modules"`
	// Chain leads from the light on the open planes to AC.
	Chain []ChainBar `json:"chain"`
	// ClippedKWh is what the inverter cuts off at its limit, and ClippedPct its
	// share of what would be without.
	ClippedKWh float64 `json:"clipped_kwh"`
	ClippedPct float64 `json:"clipped_pct"`
	// InverterWords say what the wiring was taken to be, UnwiredWords which
	// modules make nothing since the plan leaves them out ("" for none), Assumed
	// what the datasheet does not say.
	InverterWords string   `json:"inverter_words"`
	UnwiredWords  string   `json:"unwired_words"`
	Assumed       []string `json:"assumed"`
	// Years are years 1 to 30; KWh25 and KWh30 the sums.
	Years []YearLine `json:"years"`
	KWh25 float64    `json:"kwh_25"`
	KWh30 float64    `json:"kwh_30"`
	// P50KWh is the estimate, P90OneKWh what one year exceeds with a chance of 90
	// % and P90TenKWh what the mean of ten years does. SpreadWords say how.
	P50KWh      float64 `json:"p50"`
	P90OneKWh   float64 `json:"p90_1"`
	P90TenKWh   float64 `json:"p90_10"`
	SpreadWords string  `json:"spread_words"`
	// HotDay and DullDay are two telling days on the plane with most modules,
	// without shade.
	HotDay  DayResult `json:"hot_day"`
	DullDay DayResult `json:"dull_day"`
	// Worths is empty unless [WorthsOf] has been asked.
	Worths []WorthResult `json:"worths"`
}

// PlaneYield is what a plane, or the whole roof, yields.
type PlaneYield struct {
	PlaneID string `json:"plane_id"`
	Label   string `json:"label"`
	// Modules are those that are wired.
	Modules int     `json:"modules"`
	KWp     float64 `json:"kwp"`
	// POAKWhM2 is the irradiation of the open plane by month, POAYear of the
	// year; over several planes the mean weighted by power.
	POAKWhM2 [12]float64 `json:"poa_kwh_m2"`
	POAYear  float64     `json:"poa_year"`
	// Access is the share of POAYear that reaches the modules, 0 to 1.
	Access float64     `json:"access"`
	ACKWh  [12]float64 `json:"ac_kwh"`
	ACYear float64     `json:"ac_year"`
	// KWhPerKW is ACYear / KWp and PerformanceRatio ACYear / (POAYear x KWp).
	KWhPerKW         float64 `json:"kwh_per_kw"`
	PerformanceRatio float64 `json:"performance_ratio"`
}

// ModuleYieldResult is one module's part.
type ModuleYieldResult struct {
	ModuleRef
	// Access is the share of the open plane's light that reaches the module, 0 to
	// 1, of the year and of each month.
	Access        float64     `json:"access"`
	MonthlyAccess [12]float64 `json:"monthly_access"`
	// POAKWhM2 is the year's irradiation past shade.
	POAKWhM2 float64 `json:"poa_kwh_m2"`
	// SkyView is the share of the even sky's light that reaches the module.
	SkyView float64 `json:"sky_view"`
	// Wired is false for a module that the wiring plan leaves out: it makes
	// nothing.
	Wired bool `json:"wired"`
	// String is the number of its string, 0 where it stands alone.
	String int     `json:"string"`
	ACKWh  float64 `json:"ac_kwh"`
}

// ChainBar is one step from sunlight to AC; see energy.ChainStep.
type ChainBar struct {
	ID    string `json:"id"`
	Label string `json:"label"`
	// KWh is what is left after the step, LossPct what it takes of what came in.
	KWh     float64 `json:"kwh"`
	LossPct float64 `json:"loss_pct"`
	// Source says where the figure is from.
	Source string `json:"source"`
}

// YearLine is one year of a life.
type YearLine struct {
	Year   int     `json:"year"`
	KWh    float64 `json:"kwh"`
	SumKWh float64 `json:"sum_kwh"`
	// ExpectedShare and PromisedShare are shares of the label's power, expected
	// and guaranteed by the datasheet; PromisedShare is 0 past the warranty's
	// years.
	ExpectedShare float64 `json:"expected_share"`
	PromisedShare float64 `json:"promised_share"`
}

// DayResult is what heat and low light do to a candidate on one day.
type DayResult struct {
	// Words name the day and say what it stands for.
	Words string    `json:"words"`
	Hours []DayHour `json:"hours"`
	// KWhPerKW is the day's DC energy of 1 kW before the loss lines.
	KWhPerKW float64 `json:"kwh_per_kw"`
}

// DayHour is one hour of a [DayResult]; see energy.DayHour.
type DayHour struct {
	Clock       int     `json:"clock"`
	POAWM2      float64 `json:"poa_w_m2"`
	AirC        float64 `json:"air_c"`
	CellC       float64 `json:"cell_c"`
	WPerKW      float64 `json:"w_per_kw"`
	HeatPct     float64 `json:"heat_pct"`
	LowLightPct float64 `json:"low_light_pct"`
}

// WorthResult is what one obstruction costs a candidate in a year.
type WorthResult struct {
	// ID is that of the keep-out, tree or building, Kind its kind: that of the
	// keep-out, "tree" or "building".
	ID    string `json:"id"`
	Label string `json:"label"`
	Kind  string `json:"kind"`
	// RemovedKWh is the energy gained without it.
	RemovedKWh float64 `json:"removed_kwh"`
	// TrimmedToM is the height that a tree would be cut to, above ground, and
	// TrimmedKWh the energy gained by that; both 0 for anything else.
	TrimmedToM float64 `json:"trimmed_to_m"`
	TrimmedKWh float64 `json:"trimmed_kwh"`
}

// LocalTime is a moment in a site's standard time, in a year without a 29th of
// February.
type LocalTime struct {
	// Month is 1 to 12 and Day 1 to 31; ClockH is hours after midnight, 0 to 24.
	Month  int     `json:"month"`
	Day    int     `json:"day"`
	ClockH float64 `json:"clock_h"`
}

// Shadows are the shadows on a roof at one moment.
type Shadows struct {
	Sun SunPlace `json:"sun"`
	// Rises, Noon and Sets are hours of standard time; Day is "ordinary",
	// "polar_day" or "polar_night", and only an ordinary day has the first and
	// the last.
	Day    string  `json:"day"`
	RisesH float64 `json:"rises_h"`
	NoonH  float64 `json:"noon_h"`
	SetsH  float64 `json:"sets_h"`
	// Dark is true with the sun below a level horizon or behind the far one: the
	// whole roof then has no direct light.
	Dark bool `json:"dark"`
	// BehindPlanes are the planes that the sun does not reach for their own
	// slope.
	BehindPlanes []string       `json:"behind_planes"`
	Outlines     []ShadowOnRoof `json:"outlines"`
}

// SunPlace is where the sun stands, as it is seen.
type SunPlace struct {
	// AzimuthDeg is the bearing, 0 <= a < 360; ElevationDeg is 0 at a level
	// horizon.
	AzimuthDeg   float64 `json:"azimuth_deg"`
	ElevationDeg float64 `json:"elevation_deg"`
}

// ShadowOnRoof is the shadow of one thing on one plane; one thing may have
// several. The view cuts it to the plane.
type ShadowOnRoof struct {
	PlaneID string `json:"plane_id"`
	// ObstructionID is the id of a keep-out, tree or building, or that of another
	// plane, whose Kind is "plane".
	ObstructionID string `json:"obstruction_id"`
	Kind          string `json:"kind"`
	// Pass is the share of light that passes, above 0 for trees.
	Pass float64 `json:"pass"`
	// Plan is the outline in plan, metres.
	Plan [][2]float64 `json:"plan"`
}

// ShadeArea is a part of a plane with little light, proposed as a keep-out of
// kind "shade".
type ShadeArea struct {
	PlaneID string `json:"plane_id"`
	// Ring is its outline in plan, counter-clockwise as seen looking up the slope.
	Ring []Point `json:"ring"`
}
