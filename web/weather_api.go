package web

import (
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"net/url"
	"strconv"

	"github.com/go-chi/chi/v5"

	"rooftally/energy"
	"rooftally/project"
)

// fileNameHeader names an uploaded weather file, percent-encoded.
const fileNameHeader = "X-File-Name"

// apiPostWeatherFile keeps a weather file, whose bytes are the body, and answers
// with what a document keeps of it. No project changes.
func (s *server) apiPostWeatherFile(w http.ResponseWriter, r *http.Request) {
	name, err := url.PathUnescape(r.Header.Get(fileNameHeader))
	if err != nil {
		s.fail(w, r, fmt.Errorf("%w: %s: %w", errRequest, fileNameHeader, err))
		return
	}
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, energy.MaxWeatherFileBytes))
	if err != nil {
		s.fail(w, r, fmt.Errorf("%w: %w", errRequest, weatherTooLarge(err)))
		return
	}
	file, err := s.importWeather(r, name, data)
	if fault, is := errors.AsType[*energy.WeatherError](err); is {
		err = project.Problems{{Path: weatherPlace(fault), Message: fault.Message}}
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.writeJSON(w, r, http.StatusOK, file)
}

// importWeather reads a weather file and keeps it. What is wrong with it is an
// *energy.WeatherError, and nothing is kept.
func (s *server) importWeather(r *http.Request, name string, data []byte) (project.WeatherFile, error) {
	file, _, err := project.ReadWeatherFile(name, data)
	if err != nil {
		return project.WeatherFile{}, err
	}
	hash, err := s.weather.PutWeatherFile(r.Context(), file.Name, data)
	if err == nil && hash != file.Hash {
		err = fmt.Errorf("weather file %s was kept as %s", file.Hash, hash)
	}
	return file, err
}

// weatherTooLarge puts the limit of weather files into a message about size.
func weatherTooLarge(err error) error {
	if typed[*http.MaxBytesError](err) {
		return fmt.Errorf("%w: %w", err, project.Problems{{Message: tooLargeFault().Text}})
	}
	return err
}

// weatherPlace is where in a file a fault is: "line 12, dry bulb".
func weatherPlace(e *energy.WeatherError) string {
	place := ""
	if e.Line > 0 {
		place = "line " + strconv.Itoa(e.Line)
	}
	if e.Field != "" && place != "" {
		place += ", "
	}
	return place + e.Field
}

// apiGetWeatherFile sends a kept weather file as it was imported.
func (s *server) apiGetWeatherFile(w http.ResponseWriter, r *http.Request) {
	name, data, err := s.weatherBytes(r.Context(), chi.URLParam(r, "hash"))
	if err != nil {
		s.fail(w, r, err)
		return
	}
	w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
	send(w, http.StatusOK, "application/octet-stream", data)
}
