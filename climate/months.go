package climate

import (
	_ "embed" // puts the table into the program
	"errors"
	"fmt"
)

// monthsCSV is one row for each station with its monthly figures.
//
//go:embed months.csv
var monthsCSV string

// Year is the typical year of a station, month by month, January first.
type Year struct {
	// Set is the code of the weather data set: "TMY3", "SWEC" and so on.
	Set string `json:"set"`
	// UTCOffsetH is standard time, hours from UTC.
	UTCOffsetH float64 `json:"utc_offset_h"`
	// GHI and DHI are the mean daily global and diffuse horizontal irradiation,
	// kWh/m2.
	GHI [12]float64 `json:"ghi_kwh_m2"`
	DHI [12]float64 `json:"dhi_kwh_m2"`
	// TempC is the mean dry bulb, C.
	TempC [12]float64 `json:"temp_c"`
	// WindMS is the annual mean wind speed, m/s; nil where it is not known.
	WindMS *float64 `json:"wind_m_s"`
}

// errFound ends a search.
var errFound = errors.New("found")

// YearOf returns the typical year of a station. The bool is false for an ID
// that the table does not have.
func YearOf(stationID string) (Year, bool) {
	var year Year
	err := eachRow(monthsCSV, func(cells []string) (err error) {
		if cells[0] != stationID {
			return nil
		}
		if year, err = yearOf(cells); err != nil {
			return err
		}
		return errFound
	})
	return year, errors.Is(err, errFound)
}

// yearOf reads one row of months.csv.
func yearOf(cells []string) (Year, error) {
	const (
		ghi     = 3
		dhi     = ghi + 12
		temp    = dhi + 12
		columns = temp + 12 + 1
	)
	if len(cells) != columns {
		return Year{}, fmt.Errorf("%d cells, want %d", len(cells), columns)
	}
	var in numbers
	y := Year{Set: cells[1], UTCOffsetH: in.number(cells[2]), WindMS: in.maybe(cells[columns-1])}
	for m := range 12 {
		y.GHI[m] = in.number(cells[ghi+m])
		y.DHI[m] = in.number(cells[dhi+m])
		y.TempC[m] = in.number(cells[temp+m])
	}
	return y, in.err
}
