//go:build !js

package project

// StationCopy is a weather station as it was copied into a document, so that no
// result changes because the table of stations did.
type StationCopy struct {
	// ID is the WMO station number, Label its name, region and country.
	ID    string `json:"id"`
	Label string `json:"label"`
	// LatDeg, LonDeg and ElevationM say where it stands, degrees and metres.
	LatDeg     float64 `json:"lat_deg"`
	LonDeg     float64 `json:"lon_deg"`
	ElevationM float64 `json:"elevation_m"`
	// DistanceKm is from the site, HeightM the station's elevation less the
	// site's, metres.
	DistanceKm float64 `json:"distance_km"`
	HeightM    float64 `json:"height_m"`
	// ColdC and HotC are its design air temperatures, C, and nil where the
	// station is too far away to tell; ColdBasis and HotBasis say in a sentence
	// what they are.
	ColdC     *float64 `json:"cold_c"`
	ColdBasis string   `json:"cold_basis"`
	HotC      *float64 `json:"hot_c"`
	HotBasis  string   `json:"hot_basis"`
	// Usable is false for a station too far away to take a temperature from.
	Usable bool `json:"usable"`
	// Warnings are sentences on distance and height.
	Warnings []string `json:"warnings"`
	// Source says where the figures come from.
	Source string `json:"source"`
}
