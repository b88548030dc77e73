package web

import (
	"context"
	"fmt"
	"net/http"

	"rooftally/climate"
	"rooftally/energy"
	"rooftally/project"
)

// weatherView is everything the weather page shows.
type weatherView struct {
	ID, Label string
	Invented  bool
	// Was names the weather that the page shows; a form brings it back.
	Was    string
	Source string
	// Why says why there is no year, "" where there is one. Words and Warnings
	// are of the year in use.
	Why, Words string
	Warnings   []string
	// Done says what a form has done, "" for nothing; Stale why it has not.
	Done, Stale string
	Units       weatherUnits
	// Year is nil where there is none.
	Year    *weatherYear
	Station stationView
	Monthly monthlyForm
	// HasMonthly says that twelve values are kept.
	HasMonthly bool
	File       weatherFileView
}

// stationView is the nearest station of the table.
type stationView struct {
	// Problem says why there is none; the others are then empty.
	Problem string
	// Placeless says that the house has no place yet; the others are then empty.
	Placeless               bool
	Name, Distance, Height  string
	Latitude, Set           string
	Usable                  bool
	Why                     string
	Warnings                []string
	Source                  string
	LimitKm, LimitM, WarnKm string
}

// weatherFileView is the imported file and what was wrong with another.
type weatherFileView struct {
	// Kept is nil where no file was imported; Here is false where its hours are
	// not in this database.
	Kept *project.WeatherFile
	Here bool
	// Place says in words where it is from.
	Place string
	// UploadName and the Fault of a file that could not be taken.
	UploadName string
	Fault      *weatherFault
}

type weatherFault struct{ Line, Column, Text string }

// getWeather shows which typical year a project is reckoned with.
func (s *server) getWeather(w http.ResponseWriter, r *http.Request) {
	stored, ok := s.load(w, r)
	if !ok {
		return
	}
	s.showWeather(w, r, http.StatusOK, stored, func(v *weatherView) {
		v.Done = weatherDone(r.URL.Query().Get("done"), v.File.Kept)
		if r.URL.Query().Get("fill") != "station" {
			return
		}
		if match, err := nearestTo(stored.Doc.Site); err == nil && match.Usable {
			v.Monthly = monthlyFormOf(stationMonthly(match.Station), v.Units)
			v.Monthly.Filled = "station"
		}
	})
}

// weatherDone is what a form did, in words.
func weatherDone(what string, file *project.WeatherFile) string {
	switch {
	case what == "station":
		return "The nearest station is in use."
	case what == "monthly":
		return "Your twelve values are kept and in use."
	case what == "file" && file != nil:
		return file.Name + " is in use."
	}
	return ""
}

// showWeather lets the caller change the page before it is shown.
func (s *server) showWeather(w http.ResponseWriter, r *http.Request, status int, stored project.Stored, change func(*weatherView)) {
	view, err := s.weatherPageView(r.Context(), stored)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	change(&view)
	s.render(w, r, status, weatherPage(view))
}

// weatherPageView gathers the page.
func (s *server) weatherPageView(ctx context.Context, stored project.Stored) (weatherView, error) {
	doc := stored.Doc
	v := weatherView{
		ID: stored.ID, Label: doc.Site.Label, Invented: doc.Site.Invented, Source: doc.Weather.Source,
		Units: weatherUnitsOf(doc.Site), HasMonthly: doc.Weather.Monthly != nil,
	}
	var err error
	if v.Was, err = contentKey(doc.Weather); err != nil {
		return v, err
	}
	year, err := s.yearOf(ctx, doc)
	if err != nil {
		return v, err
	}
	v.Why, v.Words, v.Warnings = year.Why, year.Words, year.Warnings
	if year.Sun != nil {
		v.Year = newWeatherYear(year.Sun.Year(), v.Units)
	}
	if v.Station, err = s.stationView(ctx, doc, v.Units); err != nil {
		return v, err
	}
	v.Monthly = monthlyFormOf(doc.Weather.Monthly, v.Units)
	if v.File.Kept = doc.Weather.File; v.File.Kept == nil {
		return v, nil
	}
	v.File.Place = filePlace(*v.File.Kept, v.Units)
	hours, err := s.weatherHours(ctx, doc.Weather)
	v.File.Here = hours != nil
	return v, err
}

func nearestTo(site project.Site) (climate.Match, error) {
	return climate.Nearest(site.LatDeg, site.LonDeg, site.ElevationM)
}

// stationView is the station as the source, whichever is in use.
func (s *server) stationView(ctx context.Context, doc project.Document, u weatherUnits) (stationView, error) {
	v := stationView{Source: climate.Source, LimitKm: u.distance(climate.RefuseKm), LimitM: u.height(climate.RefuseHeightM), WarnKm: u.distance(climate.WarnKm)}
	if v.Placeless = doc.Site.Unset(); v.Placeless {
		return v, nil
	}
	match, err := nearestTo(doc.Site)
	if err != nil {
		v.Problem = sentence(err)
		return v, nil
	}
	doc.Weather.Source = project.FromStation
	year, err := s.yearOf(ctx, doc)
	if err != nil {
		return v, err
	}
	v.Name, v.Distance = placeName(match.Station), u.distance(match.DistanceKm)
	v.Height = heightWords(match.HeightM, u)
	v.Latitude = latitudeText(match.Station.LatDeg, match.Station.LonDeg)
	v.Usable, v.Why, v.Warnings = year.Sun != nil, year.Why, year.Warnings
	if set, ok := climate.YearOf(match.Station.ID); ok {
		v.Set = set.Set
	}
	return v, nil
}

// heightWords says how much higher or lower something is than the house.
func heightWords(m float64, u weatherUnits) string {
	switch {
	case m >= 0.5:
		return u.height(m) + " higher than the house"
	case m <= -0.5:
		return u.height(-m) + " lower than the house"
	}
	return "as high as the house"
}

// latitudeText is a place in degrees.
func latitudeText(latDeg, lonDeg float64) string {
	ns, ew := "N", "E"
	if latDeg < 0 {
		ns, latDeg = "S", -latDeg
	}
	if lonDeg < 0 {
		ew, lonDeg = "W", -lonDeg
	}
	return fixed(latDeg, 2) + "° " + ns + ", " + fixed(lonDeg, 2) + "° " + ew
}

func filePlace(f project.WeatherFile, u weatherUnits) string {
	format := "EPW"
	if f.Format == string(energy.FromTMY3) {
		format = "TMY3 CSV"
	}
	place := f.Label
	if place == "" {
		place = "a place without a name"
	}
	return fmt.Sprintf("%s of %s, %s, %s above the sea, %d hours", format, place, latitudeText(f.LatDeg, f.LonDeg), u.height(f.ElevationM), f.Hours)
}
