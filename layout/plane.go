package layout

// EdgeKind is what an edge of a plane is to a roofer.
type EdgeKind string

// The edge kinds. Auto asks for the kind to be guessed from geometry.
const (
	Auto      EdgeKind = ""
	Eave      EdgeKind = "eave"
	Ridge     EdgeKind = "ridge"
	Rake      EdgeKind = "rake"
	Hip       EdgeKind = "hip"
	Valley    EdgeKind = "valley"
	Break     EdgeKind = "break" // same fall on both sides, other pitch
	Wall      EdgeKind = "wall"
	PartyWall EdgeKind = "party_wall" // only by the user's word, never guessed
)

// Corner is one point of a plane's outline and the edge that leaves it for
// the next corner.
type Corner struct {
	At PlanPt
	// Kind overrides the guess for the leaving edge; Auto keeps the guess.
	Kind EdgeKind
	// Street marks the leaving edge as lying on the side from which the fire
	// service would come; see [RuleSet].
	Street bool
}

// Plane is one flat piece of roof. Its ring is the outer edge of the covering
// in plan, overhang included: simple, 3 corners or more, either direction, no
// repeated first point.
type Plane struct {
	ID   string
	Ring []Corner
	// PitchDeg is the angle to the horizontal, 0 to 75.
	PitchDeg float64
	// AzimuthDeg is the true bearing the plane faces (downslope): 0 north,
	// clockwise, 0 <= a < 360. Under 2 degrees of pitch it only turns the rows.
	AzimuthDeg float64
	// EaveHeightM is the height above ground of the ring's lowest point.
	EaveHeightM float64
}
