package energy

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// The sizes that [ParseWeather] accepts; a year of either format is under 3 MB.
const (
	MaxWeatherFileBytes     = 8 << 20
	MaxWeatherUnpackedBytes = 24 << 20
	maxWeatherLineBytes     = 1 << 16
)

// WeatherError says what is wrong with a weather file and where.
type WeatherError struct {
	// Line counts from 1; 0 when the file as a whole is meant.
	Line int
	// Field is the column's name, "" when the whole line is meant.
	Field   string
	Message string
}

// Error is "line 12, dry bulb: \"x\" is not a number".
func (e *WeatherError) Error() string {
	var b strings.Builder
	if e.Line > 0 {
		fmt.Fprintf(&b, "line %d", e.Line)
	} else {
		b.WriteString("weather file")
	}
	if e.Field != "" {
		b.WriteString(", " + e.Field)
	}
	return b.String() + ": " + e.Message
}

func weatherErr(line int, field, format string, args ...any) error {
	return &WeatherError{Line: line, Field: field, Message: fmt.Sprintf(format, args...)}
}

// ParseWeather reads a typical-year file in the EPW or the TMY3 CSV layout,
// plain or gzipped, told apart by its first bytes. The hour numbers of both
// layouts name the hour's end, so that hour 1 is 0:00 to 1:00 and its middle is
// 0:30 standard time (EnergyPlus Auxiliary Programs; Wilcox and Marion 2008,
// NREL/TP-581-43156).
//
// Each row keeps its own calendar year, of which the sun's place is reckoned.
// Missing values: a third of GHI, DNI and DHI follows from the other two; with
// GHI alone, the diffuse part follows Erbs 1982; irradiance in the dark is 0;
// dry bulb and wind are drawn straight over gaps of up to 24 hours; a file
// without any wind gets 1 m/s. [Year.Filled] counts each. Everything else that
// is missing or out of range is a *[WeatherError].
func ParseWeather(data []byte) (Year, error) {
	if len(data) > MaxWeatherFileBytes {
		return Year{}, weatherErr(0, "", "is %d bytes; at most %d are read", len(data), MaxWeatherFileBytes)
	}
	text, err := unpack(data)
	if err != nil {
		return Year{}, err
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	lines, err := splitLines(text)
	if err != nil {
		return Year{}, err
	}
	if len(lines) < 3 {
		return Year{}, weatherErr(0, "", "has fewer than 3 lines; it is neither an EPW nor a TMY3 CSV file")
	}
	if strings.HasPrefix(strings.ToUpper(lines[0]), "LOCATION,") {
		return parseEPW(lines)
	}
	if strings.HasPrefix(lines[1], "Date (MM/DD/YYYY),") {
		return parseTMY3(lines)
	}
	return Year{}, weatherErr(1, "", "neither starts with LOCATION (EPW) nor is followed by a TMY3 column line")
}

// unpack gunzips data that starts like a gzip file, within the size limit.
func unpack(data []byte) ([]byte, error) {
	if !bytes.HasPrefix(data, []byte{0x1f, 0x8b}) {
		return data, nil
	}
	r, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, weatherErr(0, "", "looks like gzip but cannot be unpacked: %v", err)
	}
	text, err := io.ReadAll(io.LimitReader(r, MaxWeatherUnpackedBytes+1))
	if err != nil {
		return nil, weatherErr(0, "", "looks like gzip but cannot be unpacked: %v", err)
	}
	if len(text) > MaxWeatherUnpackedBytes {
		return nil, weatherErr(0, "", "unpacks to more than %d bytes", MaxWeatherUnpackedBytes)
	}
	return text, nil
}

// splitLines cuts text into lines without their ends; empty lines at the end
// are dropped.
func splitLines(text []byte) ([]string, error) {
	lines := strings.Split(strings.ToValidUTF8(string(text), "?"), "\n")
	for i, l := range lines {
		if len(l) > maxWeatherLineBytes {
			return nil, weatherErr(i+1, "", "is %d bytes long; at most %d are read", len(l), maxWeatherLineBytes)
		}
		lines[i] = strings.TrimRight(l, " \t\r")
	}
	for len(lines) > 0 && lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	return lines, nil
}

// column is one number to be read from each row of a weather file.
type column struct {
	name  string
	index int
	// Values of at least above, or at most below, are codes for "missing".
	above, below float64
	lo, hi       float64
}

// read returns a row's number, NaN where it is missing.
func (c column) read(line int, fields []string) (float64, error) {
	if c.index >= len(fields) {
		return 0, weatherErr(line, c.name, "the row ends after %d columns", len(fields))
	}
	text := strings.TrimSpace(fields[c.index])
	if text == "" {
		return math.NaN(), nil
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, weatherErr(line, c.name, "%q is not a number", text)
	}
	if v >= c.above || v <= c.below {
		return math.NaN(), nil
	}
	if v < c.lo || v > c.hi {
		return 0, weatherErr(line, c.name, "%g is outside %g to %g", v, c.lo, c.hi)
	}
	return v, nil
}

// siteNumber reads a number of the header line.
func siteNumber(line int, field, text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		return 0, weatherErr(line, field, "%q is not a number", text)
	}
	return v, nil
}

// readSite reads latitude, longitude, time zone and elevation, in this order,
// from a header line's fields.
func readSite(line int, name string, fields [4]string) (Site, error) {
	var v [4]float64
	for i, field := range [4]string{"latitude", "longitude", "time zone", "elevation"} {
		var err error
		if v[i], err = siteNumber(line, field, fields[i]); err != nil {
			return Site{}, err
		}
	}
	s := Site{Name: name, LatDeg: v[0], LonDeg: v[1], UTCOffsetH: v[2], ElevationM: v[3]}
	if err := s.Check(); err != nil {
		return Site{}, weatherErr(line, "", "%v", err)
	}
	return s, nil
}

// readWhole reads a whole number of a row's time stamp.
func readWhole(line int, field, text string, lo, hi int) (int, error) {
	v, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || v < lo || v > hi {
		return 0, weatherErr(line, field, "%q is not a whole number from %d to %d", text, lo, hi)
	}
	return v, nil
}

// checkRowCount returns an error unless rows make a whole year.
func checkRowCount(rows int) error {
	if rows == HoursInYear || rows == HoursInLeapYear {
		return nil
	}
	return weatherErr(0, "", "has %d hourly rows; a year has %d or %d", rows, HoursInYear, HoursInLeapYear)
}
