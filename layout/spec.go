package layout

// Turn says which way round a module lies.
type Turn int

// The two turns. A module is described by WidthM and HeightM; AsGiven places
// WidthM along the eave, Turned places HeightM along the eave.
const (
	AsGiven Turn = iota
	Turned
)

// Spec is what is packed and how closely.
type Spec struct {
	// WidthM and HeightM are the module's sides in metres, each 0.01 to 10.
	WidthM, HeightM float64
	// GapUM and GapVM are the least clear distances between two modules along
	// the eave and up the slope, metres, each 0 to 1. Two modules may be
	// neighbours when they keep GapUM in u or GapVM in v.
	GapUM, GapVM float64
	// EndM is kept free on both sides of every module along the eave for end
	// clamp and rail, metres, 0 to 1: the module widened by EndM on its left
	// and right stays inside the region. Between two modules of one run the
	// gap takes its place.
	EndM float64
	// Turns are the turns allowed, in order of preference; empty means both.
	Turns []Turn
}

// Style names a way of laying out modules.
type Style string

// Grid: one lattice of one turn. Rows: rows along the eave, each with its own
// turn, free in u and v. Columns: the same with u and v exchanged. Best: the
// most modules that any style or the search beyond them finds.
const (
	Grid    Style = "grid"
	Rows    Style = "rows"
	Columns Style = "columns"
	Best    Style = "best"
)

// Styles lists all styles.
func Styles() []Style { return []Style{Grid, Rows, Columns, Best} }

// Packing is the outcome of [Pack].
type Packing struct {
	Style Style
	// Modules are listed by VM, then by UM.
	Modules []Rect
	// Bound is an upper bound on the count of any axis-parallel placement of
	// the allowed turns.
	Bound int
	// Proved is len(Modules) == Bound.
	Proved bool
}
