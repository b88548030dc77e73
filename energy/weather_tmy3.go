package energy

import (
	"encoding/csv"
	"math"
	"strings"
)

// parseTMY3 reads the TMY3 CSV layout: a site line, a line of column names,
// then a row an hour. Columns are found by their names.
func parseTMY3(lines []string) (Year, error) {
	head, err := csv.NewReader(strings.NewReader(lines[0])).Read()
	if err != nil || len(head) < 7 {
		return Year{}, weatherErr(1, "", "is not the site line of a TMY3 file (7 entries)")
	}
	site, err := readSite(1, strings.TrimSpace(head[1]), [4]string{head[4], head[5], head[3], head[6]})
	if err != nil {
		return Year{}, err
	}
	columns, err := tmy3Columns(lines[1])
	if err != nil {
		return Year{}, err
	}
	const headerLines = 2
	rows := lines[headerLines:]
	if err := checkRowCount(len(rows)); err != nil {
		return Year{}, err
	}
	b := newYearBuilder(site, FromTMY3, len(rows), columns)
	for i, row := range rows {
		line := headerLines + 1 + i
		fields := strings.Split(row, ",")
		at, err := tmy3Stamp(line, fields)
		if err != nil {
			return Year{}, err
		}
		if err := b.add(line, at, fields); err != nil {
			return Year{}, err
		}
	}
	return b.finish()
}

// tmy3Columns finds the columns used. Missing is -9900 (Wilcox and Marion 2008);
// an albedo of 0 stands in files that hold none.
func tmy3Columns(line string) (weatherColumns, error) {
	names := strings.Split(line, ",")
	above := math.Inf(1)
	const below = -99
	var c weatherColumns
	for _, f := range []struct {
		to     *column
		header string
		as     column
	}{
		{&c.ghi, "GHI (W/m^2)", column{"GHI", 0, above, below, 0, maxIrradianceWM2}},
		{&c.dni, "DNI (W/m^2)", column{"DNI", 0, above, below, 0, maxIrradianceWM2}},
		{&c.dhi, "DHI (W/m^2)", column{"DHI", 0, above, below, 0, maxIrradianceWM2}},
		{&c.air, "Dry-bulb (C)", column{"dry bulb", 0, above, below, minAirC, maxAirC}},
		{&c.wind, "Wspd (m/s)", column{"wind", 0, above, below, 0, maxWindMS}},
		{&c.albedo, "Alb (unitless)", column{"albedo", 0, above, below, 0, 1}},
	} {
		*f.to = f.as
		f.to.index = -1
		for i, n := range names {
			if strings.TrimSpace(n) == f.header {
				f.to.index = i
			}
		}
		if f.to.index < 0 {
			return c, weatherErr(2, "", "has no column %q", f.header)
		}
	}
	return c, nil
}

// tmy3Stamp reads "MM/DD/YYYY" and "HH:MM" (01:00 to 24:00) of a row.
func tmy3Stamp(line int, fields []string) (rowStamp, error) {
	if len(fields) < 2 {
		return rowStamp{}, weatherErr(line, "", "has no date and time")
	}
	date := strings.Split(fields[0], "/")
	hour, minute, ok := strings.Cut(fields[1], ":")
	if len(date) != 3 || !ok {
		return rowStamp{}, weatherErr(line, "date", "%q %q is not MM/DD/YYYY HH:MM", fields[0], fields[1])
	}
	if _, err := readWhole(line, "minute", minute, 0, 0); err != nil {
		return rowStamp{}, err
	}
	return epwStamp(line, []string{date[2], date[0], date[1], hour})
}
