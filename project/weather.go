//go:build !js

package project

// The sources of weather.
const (
	// FromStation takes the typical year of the nearest station of the table,
	// looked up when it is reckoned.
	FromStation = "station"
	// FromMonthly takes the twelve values that somebody typed.
	FromMonthly = "monthly"
	// FromFile takes an imported hourly file.
	FromFile = "file"
)

// Weather says which typical year yields are reckoned with. What another source
// than the one in use needs is kept.
type Weather struct {
	// Source is [FromStation], [FromMonthly] or [FromFile].
	Source string `json:"source"`
	// Monthly are typed values, nil for none.
	Monthly *MonthlyWeather `json:"monthly"`
	// File names an imported file, nil for none.
	File *WeatherFile `json:"file"`
}

// MonthlyWeather are twelve typed monthly values, January first.
type MonthlyWeather struct {
	// Label says where they are from, 0 to 120 characters.
	Label string `json:"label"`
	// GHIKWhM2Day is the mean daily global horizontal irradiation, 0 to 15
	// kWh/m2/day.
	GHIKWhM2Day [12]float64 `json:"ghi_kwh_m2_day"`
	// DHIKWhM2Day is the diffuse part of it; nil is not known, and it is reckoned
	// after Erbs.
	DHIKWhM2Day *[12]float64 `json:"dhi_kwh_m2_day"`
	// AirC is the mean dry bulb, -90 to 60 C.
	AirC [12]float64 `json:"air_c"`
	// WindMS is the yearly mean wind speed, 0 to 75 m/s; 0 is not known.
	WindMS float64 `json:"wind_ms"`
}

// WeatherFile names an imported file. Its hours are kept apart, under its hash.
type WeatherFile struct {
	// Hash is the SHA-256 of the file's bytes as they were imported, 64
	// hexadecimal digits in lower case.
	Hash string `json:"hash"`
	// Name is the file's name, 1 to 200 characters.
	Name string `json:"name"`
	// Format is "epw" or "tmy3".
	Format string `json:"format"`
	// Label is the place that the file names, 0 to 120 characters.
	Label string `json:"label"`
	// LatDeg, LonDeg, UTCOffsetH and ElevationM are that place's, in the units
	// and ranges of [Site] but for an elevation of up to 9000 m.
	LatDeg     float64 `json:"lat_deg"`
	LonDeg     float64 `json:"lon_deg"`
	UTCOffsetH float64 `json:"utc_offset_h"`
	ElevationM float64 `json:"elevation_m"`
	// Hours is 8760 or 8784.
	Hours int `json:"hours"`
	// Notes say in sentences what was filled in on reading: 0 to 20.
	Notes []string `json:"notes"`
}

// defaultWeather is that of a new document: the nearest station.
func defaultWeather() Weather { return Weather{Source: FromStation} }
