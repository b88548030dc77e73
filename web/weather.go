package web

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"

	"github.com/go-json-experiment/json"

	"rooftally/energy"
	"rooftally/project"
)

// WeatherFiles is what the pages need of the place where imported weather files
// are kept: each once, under the SHA-256 of its bytes.
type WeatherFiles interface {
	// PutWeatherFile keeps a file and returns its hash, 64 hexadecimal digits in
	// lower case. A file that is kept already stays as it is.
	PutWeatherFile(ctx context.Context, name string, data []byte) (hash string, err error)
	// WeatherFile returns a kept file; project.ErrNotFound if there is none under
	// that hash.
	WeatherFile(ctx context.Context, hash string) (name string, data []byte, err error)
}

// errNoWeatherFile says that the hours of a file are not kept here.
var errNoWeatherFile = errors.New("no such weather file is kept here")

// The most that is kept in memory: years and parsed files by their number (some
// two megabytes each), light and yields by their bytes, about.
const (
	yearsKept       = 12
	filesKept       = 6
	lightBytesKept  = 32 << 20
	yieldBytesKept  = 32 << 20
	reckoningAtOnce = 2
)

// reckoner remembers what pages and API reckon about light and yield.
type reckoner struct {
	files  *memo[*energy.Year]
	years  *memo[project.YearResult]
	lights *memo[project.Sunlight]
	yields *memo[project.YieldResult]
	worths *memo[[]project.WorthResult]
}

func newReckoner() *reckoner {
	return &reckoner{
		files:  newMemo(filesKept, reckoningAtOnce, func(*energy.Year) int { return 1 }),
		years:  newMemo(yearsKept, reckoningAtOnce, func(project.YearResult) int { return 1 }),
		lights: newMemo(lightBytesKept, reckoningAtOnce, lightBytes),
		yields: newMemo(yieldBytesKept, reckoningAtOnce, yieldBytes),
		worths: newMemo(yieldBytesKept, 1, func(w []project.WorthResult) int { return 200 * (1 + len(w)) }),
	}
}

// weatherBytes returns the bytes of a kept weather file.
func (s *server) weatherBytes(ctx context.Context, hash string) (name string, data []byte, err error) {
	name, data, err = s.weather.WeatherFile(ctx, hash)
	if errors.Is(err, project.ErrNotFound) {
		return "", nil, errNoWeatherFile
	}
	return name, data, err
}

// weatherHours returns the hours of a document's weather file, nil where it names
// none or it is not kept here.
func (s *server) weatherHours(ctx context.Context, w project.Weather) (*energy.Year, error) {
	if w.File == nil {
		return nil, nil
	}
	year, err := s.reckoner.files.get(ctx, w.File.Hash, func(ctx context.Context) (*energy.Year, error) {
		_, data, err := s.weatherBytes(ctx, w.File.Hash)
		if err != nil {
			return nil, err
		}
		year, err := energy.ParseWeather(data)
		if err != nil {
			return nil, fmt.Errorf("weather file %s: %w", w.File.Hash, err)
		}
		return &year, nil
	})
	if errors.Is(err, errNoWeatherFile) {
		return nil, nil
	}
	return year, err
}

// yearOf is the typical year of a document, from its file where that is the
// source and kept here. Where there is none, its Why says what is missing.
func (s *server) yearOf(ctx context.Context, doc project.Document) (project.YearResult, error) {
	var file *energy.Year
	if doc.Weather.Source == project.FromFile {
		var err error
		if file, err = s.weatherHours(ctx, doc.Weather); err != nil {
			return project.YearResult{}, err
		}
	}
	key, err := contentKey(doc.Weather, doc.Site, file != nil)
	if err != nil {
		return project.YearResult{}, err
	}
	return s.reckoner.years.get(ctx, key, func(context.Context) (project.YearResult, error) {
		return project.WeatherOf(doc, file)
	})
}

// contentKey names the content of some values.
func contentKey(parts ...any) (string, error) {
	data, err := json.Marshal(parts, json.Deterministic(true))
	if err != nil {
		return "", fmt.Errorf("name the content: %w", err)
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:]), nil
}
