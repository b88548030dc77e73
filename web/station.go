package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"rooftally/climate"
	"rooftally/project"
)

// apiStation answers with the weather station nearest to a place.
func (s *server) apiStation(w http.ResponseWriter, r *http.Request) {
	match, err := stationFor(r.URL.Query())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.writeJSON(w, r, http.StatusOK, copyStation(match))
}

// stationFor reads a place from a query and finds its station; what is wrong with
// the query comes back as project.Problems.
func stationFor(query url.Values) (climate.Match, error) {
	var problems project.Problems
	number := func(field string) float64 {
		text := strings.TrimSpace(query.Get(field))
		v, err := strconv.ParseFloat(text, 64)
		switch {
		case text == "":
			problems = append(problems, project.Problem{Path: field, Message: "is missing"})
		case err != nil:
			problems = append(problems, project.Problem{Path: field, Message: fmt.Sprintf("is %.40q; it must be a number such as 43.05", text)})
		default:
			return v
		}
		return 0
	}
	lat, lon, elevation := number("lat_deg"), number("lon_deg"), number("elevation_m")
	match, err := climate.Nearest(lat, lon, elevation)
	if err == nil && len(problems) == 0 {
		return match, nil
	}
	// One at a time, with zeros for the others, gives all fields out of range.
	for _, only := range [][3]float64{{lat, 0, 0}, {0, lon, 0}, {0, 0, elevation}} {
		if _, err := climate.Nearest(only[0], only[1], only[2]); err != nil {
			field, message, _ := strings.Cut(err.Error(), " ")
			problems = append(problems, project.Problem{Path: field, Message: message})
		}
	}
	return climate.Match{}, problems
}

// copyStation takes from a match what a project keeps.
func copyStation(m climate.Match) project.StationCopy {
	out := project.StationCopy{
		ID: m.Station.ID, Label: placeName(m.Station), LatDeg: m.Station.LatDeg, LonDeg: m.Station.LonDeg, ElevationM: m.Station.ElevationM,
		DistanceKm: m.DistanceKm, HeightM: m.HeightM, Usable: m.Usable, Warnings: m.Warnings, Source: climate.Source,
	}
	if m.Usable {
		t := m.Station.Temperatures()
		out.ColdC, out.ColdBasis, out.HotC, out.HotBasis = &t.ColdC, t.ColdWords, &t.HotC, t.HotWords
	}
	return out
}

// placeName is a station's name, region and country, as far as there are any.
func placeName(s climate.Station) string {
	parts := []string{s.Name}
	for _, more := range []string{s.Region, s.Country} {
		if more != "" {
			parts = append(parts, more)
		}
	}
	return strings.Join(parts, ", ")
}
