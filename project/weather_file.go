//go:build !js

package project

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"unicode"

	"rooftally/energy"
)

// ReadWeatherFile reads the bytes of a typical-year file (see
// energy.ParseWeather) and says what a document keeps of it. name is what the file
// is called; a path before it is dropped, and what a name may not have. The
// error is an *energy.WeatherError with line and column.
func ReadWeatherFile(name string, data []byte) (WeatherFile, energy.Year, error) {
	year, err := energy.ParseWeather(data)
	if err != nil {
		return WeatherFile{}, energy.Year{}, err
	}
	sum := sha256.Sum256(data)
	f := WeatherFile{
		Hash: hex.EncodeToString(sum[:]), Name: fileLabel(name), Format: string(year.Source),
		Label:  clean(year.Site.Name, maxWeatherLabel),
		LatDeg: year.Site.LatDeg, LonDeg: year.Site.LonDeg, UTCOffsetH: year.Site.UTCOffsetH, ElevationM: year.Site.ElevationM,
		Hours: len(year.Hours), Notes: []string{},
	}
	for _, m := range year.Filled {
		hours := "hours"
		if m.Hours == 1 {
			hours = "hour"
		}
		f.Notes = append(f.Notes, fmt.Sprintf("%s was missing in %d %s: %s.", m.Field, m.Hours, hours, m.How))
	}
	return f, year, nil
}

// fileLabel is a file's name without the folders before it.
func fileLabel(name string) string {
	if name = clean(name[strings.LastIndexAny(name, `/\`)+1:], maxFileName); name == "" {
		return "weather file"
	}
	return name
}

// clean makes a text fit to be a label of so many characters.
func clean(s string, most int) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, " "))
	s = strings.Join(strings.Fields(s), " ")
	if runes := []rune(s); len(runes) > most {
		s = strings.TrimSpace(string(runes[:most]))
	}
	return s
}
