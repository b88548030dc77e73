package web

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"

	"rooftally/energy"
	"rooftally/project"
)

// maxWeatherBody bounds the form: the largest weather file and the few bytes
// around it.
const maxWeatherBody = energy.MaxWeatherFileBytes + 64<<10

// errWeatherAction says that a form is none of the page's.
var errWeatherAction = errors.New("the form names nothing that can be done with weather")

// postWeather takes a source into use, with what it needs. A form filled in
// beside another choice changes nothing: the page comes back with what was typed.
func (s *server) postWeather(w http.ResponseWriter, r *http.Request) {
	stored, ok := s.load(w, r)
	if !ok {
		return
	}
	r.Body = http.MaxBytesReader(w, r.Body, maxWeatherBody)
	if err := r.ParseMultipartForm(1 << 20); err != nil && !errors.Is(err, http.ErrNotMultipart) {
		if typed[*http.MaxBytesError](err) {
			s.refuseFile(w, r, stored, "", tooLargeFault())
			return
		}
		s.fail(w, r, fmt.Errorf("%w: %w", errRequest, err))
		return
	}
	if r.MultipartForm != nil {
		defer func() { _ = r.MultipartForm.RemoveAll() }()
	}
	switch action := r.PostForm.Get("action"); action {
	case project.FromStation, "use-monthly", "use-file":
		s.postSource(w, r, stored, action)
	case project.FromMonthly:
		s.postMonthly(w, r, stored)
	case project.FromFile:
		s.postFile(w, r, stored)
	default:
		s.fail(w, r, fmt.Errorf("%w: %w", errRequest, errWeatherAction))
	}
}

// postSource takes what is kept already into use.
func (s *server) postSource(w http.ResponseWriter, r *http.Request, stored project.Stored, action string) {
	source := map[string]string{"use-monthly": project.FromMonthly, "use-file": project.FromFile}[action]
	if source == "" {
		source = project.FromStation
	}
	if weather := stored.Doc.Weather; source == project.FromMonthly && weather.Monthly == nil || source == project.FromFile && weather.File == nil {
		s.fail(w, r, fmt.Errorf("%w: there is nothing to use yet", errRequest))
		return
	}
	s.saveWeather(w, r, stored, source, func(weather *project.Weather) { weather.Source = source }, func(*weatherView) {})
}

// postMonthly takes twelve values into use, if they make a year.
func (s *server) postMonthly(w http.ResponseWriter, r *http.Request, stored project.Stored) {
	units := weatherUnitsOf(stored.Doc.Site)
	values, form := readMonthly(r.PostForm, monthlyShown(stored.Doc, r.PostForm.Get("filled")), units)
	if len(form.Problems) == 0 {
		doc := stored.Doc
		doc.Weather.Source, doc.Weather.Monthly = project.FromMonthly, &values
		for _, p := range doc.Validate() {
			form.Problems = append(form.Problems, formProblem{Text: p.String() + "."})
		}
		if len(form.Problems) == 0 {
			year, err := s.yearOf(r.Context(), doc)
			if err != nil {
				s.fail(w, r, err)
				return
			}
			if year.Sun == nil {
				form.Problems = append(form.Problems, formProblem{Text: year.Why})
			}
		}
	}
	keepTyped := func(v *weatherView) { v.Monthly = form }
	if len(form.Problems) > 0 {
		s.showWeather(w, r, http.StatusUnprocessableEntity, stored, keepTyped)
		return
	}
	s.saveWeather(w, r, stored, project.FromMonthly, func(weather *project.Weather) {
		weather.Source, weather.Monthly = project.FromMonthly, &values
	}, keepTyped)
}

// monthlyShown are the values that the form showed before it was edited.
func monthlyShown(doc project.Document, filled string) *project.MonthlyWeather {
	if filled != "station" {
		return doc.Weather.Monthly
	}
	match, err := nearestTo(doc.Site)
	if err != nil {
		return nil
	}
	return stationMonthly(match.Station)
}

// postFile imports a file and takes it into use.
func (s *server) postFile(w http.ResponseWriter, r *http.Request, stored project.Stored) {
	upload, header, err := r.FormFile("file")
	if errors.Is(err, http.ErrMissingFile) {
		s.refuseFile(w, r, stored, "", weatherFault{Text: "Choose a file first."})
		return
	}
	if err != nil {
		s.fail(w, r, fmt.Errorf("%w: %w", errRequest, err))
		return
	}
	defer upload.Close()
	data, err := io.ReadAll(upload)
	if err != nil {
		s.fail(w, r, fmt.Errorf("%w: %w", errRequest, err))
		return
	}
	file, err := s.importWeather(r, header.Filename, data)
	if fault, is := errors.AsType[*energy.WeatherError](err); is {
		s.refuseFile(w, r, stored, header.Filename, faultOf(fault))
		return
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.saveWeather(w, r, stored, project.FromFile, func(weather *project.Weather) {
		weather.Source, weather.File = project.FromFile, &file
	}, func(*weatherView) {})
}

func tooLargeFault() weatherFault {
	return weatherFault{Text: fmt.Sprintf("The file is too large: a weather file may have at most %d MiB.", energy.MaxWeatherFileBytes>>20)}
}

// faultOf is a reader's error in the cells of a table.
func faultOf(e *energy.WeatherError) weatherFault {
	f := weatherFault{Column: e.Field, Text: e.Message}
	if e.Line > 0 {
		f.Line = countText(e.Line)
	}
	return f
}

func (s *server) refuseFile(w http.ResponseWriter, r *http.Request, stored project.Stored, name string, fault weatherFault) {
	s.showWeather(w, r, http.StatusUnprocessableEntity, stored, func(v *weatherView) {
		v.File.UploadName, v.File.Fault = name, &fault
	})
}

// saveWeather changes the weather of a project, and nothing else of it, if it
// still is what the form's page showed; otherwise the page comes back.
func (s *server) saveWeather(w http.ResponseWriter, r *http.Request, stored project.Stored, done string,
	change func(*project.Weather), keepTyped func(*weatherView)) {
	const tries = 3
	for range tries {
		is, err := contentKey(stored.Doc.Weather)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		if is != r.PostForm.Get("was") {
			s.showWeather(w, r, http.StatusConflict, stored, func(v *weatherView) {
				keepTyped(v)
				v.Stale = "Somebody chose other weather since this page was opened, so your choice is not saved yet. Choose again if it still fits."
			})
			return
		}
		doc := stored.Doc
		change(&doc.Weather)
		version, err := s.projects.Save(r.Context(), stored.ID, stored.Version, doc)
		if stale, changed := errors.AsType[*project.StaleError](err); changed {
			// Somebody drew meanwhile: the drawing of now gets the weather.
			stored = stale.Current
			continue
		}
		if err != nil {
			s.fail(w, r, err)
			return
		}
		s.results.prepare(project.Stored{ID: stored.ID, Version: version, Doc: doc})
		http.Redirect(w, r, "/projects/"+url.PathEscape(stored.ID)+"/weather?done="+done, http.StatusSeeOther)
		return
	}
	s.fail(w, r, &project.StaleError{Current: stored})
}
