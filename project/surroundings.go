//go:build !js

package project

import "rooftally/energy"

// Surroundings are what stands around the roof and casts shadows on it. What
// stands on the roof is a [KeepOut]. Heights are above the ground that
// [Plane.EaveHeightM] counts from.
type Surroundings struct {
	// Trees and Buildings are at most 50 each.
	Trees     []Tree     `json:"trees"`
	Buildings []Building `json:"buildings"`
	// Horizon is the profile of the far horizon, at most 72 points in rising
	// bearing, drawn straight between neighbours and round through north; none
	// is a level horizon.
	Horizon []HorizonPoint `json:"horizon"`
}

// Tree is a tree near the roof. Its trunk casts no shadow.
type Tree struct {
	// ID is 1 to 40 of a-z 0-9 and '-', unlike that of any other tree, building
	// or keep-out.
	ID string `json:"id"`
	// Label is what people call it: 0 to 60 characters.
	Label string `json:"label"`
	// XM and YM are the middle of its crown in plan, each -5000 to 5000 m, and
	// RadiusM the crown's radius, 0.1 to 50 m.
	XM      float64 `json:"x_m"`
	YM      float64 `json:"y_m"`
	RadiusM float64 `json:"radius_m"`
	// BaseM is where the crown begins, 0 to 100 m, and TopM where it ends, above
	// BaseM up to 150 m.
	BaseM float64 `json:"base_m"`
	TopM  float64 `json:"top_m"`
	// Crown is "round" or "column".
	Crown string `json:"crown"`
	// Evergreen takes LeafOnPass all year.
	Evergreen bool `json:"evergreen"`
	// LeafOnPass and LeafOffPass are the share of light that the crown passes
	// with leaves and without, 0 to 1.
	LeafOnPass  float64 `json:"leaf_on_pass"`
	LeafOffPass float64 `json:"leaf_off_pass"`
}

// Building is a neighbouring building or another upright solid.
type Building struct {
	// ID and Label are as in [Tree].
	ID    string `json:"id"`
	Label string `json:"label"`
	// Ring is its outline in plan, 3 to 500 corners, simple, either direction.
	Ring []Point `json:"ring"`
	// BaseM is where it begins, 0 to 100 m, and TopM where it ends, above BaseM
	// up to 150 m.
	BaseM float64 `json:"base_m"`
	TopM  float64 `json:"top_m"`
}

// HorizonPoint is the height of hills or distant buildings in one direction.
type HorizonPoint struct {
	// AzimuthDeg is the bearing, 0 <= a < 360; ElevationDeg 0 to 90.
	AzimuthDeg   float64 `json:"azimuth_deg"`
	ElevationDeg float64 `json:"elevation_deg"`
}

// defaultSurroundings is that of a new document: open country.
func defaultSurroundings() Surroundings {
	return Surroundings{Trees: []Tree{}, Buildings: []Building{}, Horizon: []HorizonPoint{}}
}

// NewTree is a broad-leaved tree with the usual light through its crown.
func NewTree(id, label string, at Point, radiusM, baseM, topM float64) Tree {
	return Tree{
		ID: id, Label: label, XM: at.XM, YM: at.YM, RadiusM: radiusM, BaseM: baseM, TopM: topM,
		Crown: string(energy.RoundCrown), LeafOnPass: energy.DefaultLeafOnPass, LeafOffPass: energy.DefaultLeafOffPass,
	}
}
