package project

// How much a document may hold. The counts keep an evaluation of the worst
// document bounded; a large house has a tenth of them.
const (
	MaxPlanes     = 100
	MaxKeepOuts   = 500
	MaxCorners    = 500
	MaxCandidates = 5
	MinCorners    = 3
	// MaxHandModules is the most modules set by hand on one plane.
	MaxHandModules = 2000
	// MaxAcrossM is the longest diagonal of one outline's bounding box in
	// plan. At 75 degrees it is just under 1 km up the slope, the span within
	// which the packing engine's whole micrometres are exact.
	MaxAcrossM = 250.0
)

// MaxLabel is the most characters of the label of a part, MaxLossLines the most loss
// lines.
const (
	MaxLabel     = 60
	MaxLossLines = 20
)

// Lengths of texts, in characters, and of ids.
const (
	maxSiteLabel      = 120
	maxCandidateLabel = 80
	maxStationText    = 600
	maxCurrency       = 12
	maxID             = 40
)
