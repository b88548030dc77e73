// Package climate holds a table of weather stations, finds the one nearest to a
// site, and proposes the two temperatures that strings of modules are designed
// for. It also gives the monthly sun, temperature and wind of a station. It is
// pure: the table is part of the program.
//
// The figures are for design estimates: a typical year, not a forecast and not a
// record of any one year. Coverage is uneven: of 1092 stations 891 are in the
// United States, others in Spain, Poland, New Zealand, Egypt, Central America
// and a few more countries. docs/electrical.md says where the figures come from.
package climate

import (
	_ "embed" // puts the table into the program
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Source says where the table's figures come from, for display beside them.
const Source = "Station table computed from public typical-year weather files (TMY3: Wilcox and Marion, NREL/TP-581-43156; " +
	"NIWA, SWEC, IMGW, CSWD, MSI, ETMY, SWERA and earlier US sets). " +
	"Mean yearly extreme and 2 % design temperatures: ASHRAE climatic design data (2009 Handbook; one station 2005)."

// stationsCSV is one row for each station: where it is and its extremes. It is
// kept apart from the monthly figures, so that a program that asks only for
// design temperatures does not carry those.
//
//go:embed stations.csv
var stationsCSV string

// earthRadiusKm is the mean radius of the Earth (IUGG).
const earthRadiusKm = 6371.0088

// Limits of how far a station may be from a site, ends included.
const (
	// Past these a warning is given.
	WarnKm      = 80
	WarnHeightM = 300
	// Past these the station is no guide and nothing is proposed.
	RefuseKm      = 200
	RefuseHeightM = 600
	// metresPerKm: so much difference in height counts as one kilometre of
	// distance when the nearest station is chosen.
	metresPerKm = 10
)

// Station is one weather station.
type Station struct {
	// ID is the WMO station number, six digits.
	ID string `json:"id"`
	// Name, Region (state or province, may be "") and Country (ISO 3166, three
	// letters).
	Name    string `json:"name"`
	Region  string `json:"region"`
	Country string `json:"country"`
	// LatDeg and LonDeg are geographic degrees, north and east positive.
	LatDeg float64 `json:"lat_deg"`
	LonDeg float64 `json:"lon_deg"`
	// ElevationM is metres above sea level.
	ElevationM float64 `json:"elevation_m"`
	// ExtremeMinC is the mean of each year's lowest dry bulb, C; nil where the
	// table has none.
	ExtremeMinC *float64 `json:"extreme_min_c"`
	// DesignMaxC is the dry bulb exceeded in 2 % of the hours of the year, C;
	// nil where the table has none.
	DesignMaxC *float64 `json:"design_max_c"`
	// FileMinC and FileMaxC are the lowest and highest dry bulb of the typical
	// year, C.
	FileMinC float64 `json:"file_min_c"`
	FileMaxC float64 `json:"file_max_c"`
}

// Match is the station nearest to a site.
type Match struct {
	Station Station `json:"station"`
	// DistanceKm is along the surface of a round Earth.
	DistanceKm float64 `json:"distance_km"`
	// HeightM is the station's elevation less the site's, metres.
	HeightM float64 `json:"height_m"`
	// Usable is false past RefuseKm or RefuseHeightM: the station is shown, but
	// no temperature may be taken from it.
	Usable bool `json:"usable"`
	// Warnings are sentences for the user: none, or one for distance and one
	// for height.
	Warnings []string `json:"warnings"`
}

// Nearest returns the station with the least distance in km + |height
// difference in m| / 10; of equal ones the first in the table. The site is
// lat_deg -90 to 90, lon_deg -180 to 180 and elevation_m -500 to 9000; others,
// and NaN, give an error.
func Nearest(latDeg, lonDeg, elevationM float64) (Match, error) {
	for _, f := range []struct {
		name      string
		v, lo, hi float64
	}{{"lat_deg", latDeg, -90, 90}, {"lon_deg", lonDeg, -180, 180}, {"elevation_m", elevationM, -500, 9000}} {
		if !(f.v >= f.lo && f.v <= f.hi) {
			return Match{}, fmt.Errorf("%s is %g; it must be %g to %g", f.name, f.v, f.lo, f.hi)
		}
	}
	var best Match
	score := math.Inf(1)
	err := eachStation(func(s Station) {
		km := DistanceKm(latDeg, lonDeg, s.LatDeg, s.LonDeg)
		height := s.ElevationM - elevationM
		if d := km + math.Abs(height)/metresPerKm; d < score {
			score = d
			best = Match{Station: s, DistanceKm: km, HeightM: height}
		}
	})
	if err != nil {
		return Match{}, err
	}
	best.judge()
	return best, nil
}

// judge sets Usable and Warnings.
func (m *Match) judge() {
	height := math.Abs(m.HeightM)
	m.Usable = m.DistanceKm <= RefuseKm && height <= RefuseHeightM
	m.Warnings = []string{}
	say := func(past bool, refused bool, what string, limit int, unit string) {
		switch {
		case refused:
			m.Warnings = append(m.Warnings, fmt.Sprintf("The nearest station, %s, is %s, past %d %s: no temperature is proposed. Type both.",
				m.Station.Name, what, limit, unit))
		case past:
			m.Warnings = append(m.Warnings, fmt.Sprintf("The nearest station, %s, is %s, past %d %s: check the temperatures with someone who knows the place.",
				m.Station.Name, what, limit, unit))
		}
	}
	limit := func(refused bool, warn, refuse int) int {
		if refused {
			return refuse
		}
		return warn
	}
	far, high := m.DistanceKm > RefuseKm, height > RefuseHeightM
	say(m.DistanceKm > WarnKm, far, fmt.Sprintf("%.0f km away", m.DistanceKm), limit(far, WarnKm, RefuseKm), "km")
	side := "higher"
	if m.HeightM < 0 {
		side = "lower"
	}
	say(height > WarnHeightM, high, fmt.Sprintf("%.0f m %s", height, side), limit(high, WarnHeightM, RefuseHeightM), "m")
}

// DistanceKm is the great-circle distance between two places in geographic
// degrees on a sphere of 6371.0088 km, by the haversine formula, which keeps its
// digits at short range.
func DistanceKm(lat1Deg, lon1Deg, lat2Deg, lon2Deg float64) float64 {
	const rad = math.Pi / 180
	sinLat := math.Sin((lat2Deg - lat1Deg) * rad / 2)
	sinLon := math.Sin((lon2Deg - lon1Deg) * rad / 2)
	h := sinLat*sinLat + math.Cos(lat1Deg*rad)*math.Cos(lat2Deg*rad)*sinLon*sinLon
	return 2 * earthRadiusKm * math.Asin(math.Sqrt(min(h, 1)))
}

// errTable says that the table in the program is broken; a test holds that it
// is not.
var errTable = errors.New("the station table cannot be read")

// eachStation calls f with every station in the order of the table.
func eachStation(f func(Station)) error {
	return eachRow(stationsCSV, func(cells []string) error {
		s, err := stationOf(cells)
		if err == nil {
			f(s)
		}
		return err
	})
}

// eachRow calls f with the cells of every row below the header until f fails.
// The tables hold no quotes and no empty rows.
func eachRow(table string, f func(cells []string) error) error {
	_, rows, _ := strings.Cut(table, "\n")
	for line := range strings.Lines(rows) {
		if err := f(strings.Split(strings.TrimSuffix(line, "\n"), ",")); err != nil {
			return fmt.Errorf("%w: %q: %w", errTable, line, err)
		}
	}
	return nil
}

// stationOf reads one row of stations.csv.
func stationOf(cells []string) (Station, error) {
	const columns = 11
	if len(cells) != columns {
		return Station{}, fmt.Errorf("%d cells, want %d", len(cells), columns)
	}
	var in numbers
	s := Station{
		ID: cells[0], Name: cells[1], Region: cells[2], Country: cells[3],
		LatDeg: in.number(cells[4]), LonDeg: in.number(cells[5]), ElevationM: in.number(cells[6]),
		ExtremeMinC: in.maybe(cells[7]), DesignMaxC: in.maybe(cells[8]),
		FileMinC: in.number(cells[9]), FileMaxC: in.number(cells[10]),
	}
	return s, in.err
}

// numbers reads cells and keeps the first error.
type numbers struct{ err error }

func (n *numbers) number(cell string) float64 {
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil && n.err == nil {
		n.err = err
	}
	return v
}

// maybe returns nil for a blank cell.
func (n *numbers) maybe(cell string) *float64 {
	if cell == "" {
		return nil
	}
	v := n.number(cell)
	return &v
}
