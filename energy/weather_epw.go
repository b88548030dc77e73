package energy

import (
	"math"
	"strings"
)

// epwHeaderLines is the number of lines before the first hour.
const epwHeaderLines = 8

// epwColumns are the columns used, with the codes for "missing" of the
// EnergyPlus Auxiliary Programs, EPW data dictionary (from memory).
func epwColumns() weatherColumns {
	none := math.Inf(-1)
	return weatherColumns{
		ghi:    column{"GHI", 13, 9999, -1, 0, maxIrradianceWM2},
		dni:    column{"DNI", 14, 9999, -1, 0, maxIrradianceWM2},
		dhi:    column{"DHI", 15, 9999, -1, 0, maxIrradianceWM2},
		air:    column{"dry bulb", 6, 99.9, -99.9, minAirC, maxAirC},
		wind:   column{"wind", 21, 999, -1, 0, maxWindMS},
		albedo: column{"albedo", 32, 1.0001, none, 0, 1},
	}
}

// parseEPW reads the EPW layout: eight header lines, then a row an hour.
func parseEPW(lines []string) (Year, error) {
	head := strings.Split(lines[0], ",")
	if len(head) < 10 {
		return Year{}, weatherErr(1, "", "LOCATION has %d entries; 10 are needed", len(head))
	}
	site, err := readSite(1, strings.TrimSpace(head[1]), [4]string(head[6:10]))
	if err != nil {
		return Year{}, err
	}
	if len(lines) < epwHeaderLines {
		return Year{}, weatherErr(0, "", "has %d lines; %d header lines are needed", len(lines), epwHeaderLines)
	}
	if err := checkEPWPeriods(lines[epwHeaderLines-1]); err != nil {
		return Year{}, err
	}
	rows := lines[epwHeaderLines:]
	if err := checkRowCount(len(rows)); err != nil {
		return Year{}, err
	}
	b := newYearBuilder(site, FromEPW, len(rows), epwColumns())
	for i, row := range rows {
		line := epwHeaderLines + 1 + i
		fields := strings.Split(row, ",")
		if len(fields) < 22 {
			return Year{}, weatherErr(line, "", "has %d columns; at least 22 are needed", len(fields))
		}
		at, err := epwStamp(line, fields)
		if err != nil {
			return Year{}, err
		}
		if err := b.add(line, at, fields); err != nil {
			return Year{}, err
		}
	}
	return b.finish()
}

// checkEPWPeriods refuses files with several records an hour or several
// periods.
func checkEPWPeriods(line string) error {
	fields := strings.Split(line, ",")
	if len(fields) < 3 || !strings.EqualFold(strings.TrimSpace(fields[0]), "DATA PERIODS") {
		return weatherErr(epwHeaderLines, "", "is not the DATA PERIODS line")
	}
	if _, err := readWhole(epwHeaderLines, "number of data periods", fields[1], 1, 1); err != nil {
		return err
	}
	_, err := readWhole(epwHeaderLines, "records per hour", fields[2], 1, 1)
	return err
}

// rowStamp is a row's own date; hour counts 1 to 24 and names the hour's end.
type rowStamp struct{ year, month, day, hour int }

func epwStamp(line int, fields []string) (rowStamp, error) {
	var s rowStamp
	for i, f := range []struct {
		to     *int
		name   string
		lo, hi int
	}{{&s.year, "year", 1900, 2099}, {&s.month, "month", 1, 12}, {&s.day, "day", 1, 31}, {&s.hour, "hour", 1, 24}} {
		v, err := readWhole(line, f.name, fields[i], f.lo, f.hi)
		if err != nil {
			return rowStamp{}, err
		}
		*f.to = v
	}
	return s, nil
}
