package energy

import (
	"math"
)

// weatherColumns are the numbers read from each row.
type weatherColumns struct{ ghi, dni, dhi, air, wind, albedo column }

// The longest gap that is drawn straight, and the wind of a file without any.
const (
	maxGapHours   = 24
	noFileWindMS  = 1.0
	sunUpForBeam  = 0.02 // sine of the elevation: 1.1 degrees
	howOtherTwo   = "from the other two"
	howErbs       = "by Erbs 1982"
	howDark       = "0, the sun is down"
	howStraight   = "drawn straight over the gap"
	howNoFileWind = "1 m/s, the file has no wind"
)

// yearBuilder collects the rows of a weather file. Missing numbers are NaN
// until finish.
type yearBuilder struct {
	year      Year
	columns   weatherColumns
	stamps    []stamp
	firstLine int
	counts    map[Filled]int // keys have Hours 0
}

func newYearBuilder(site Site, source Source, rows int, c weatherColumns) *yearBuilder {
	return &yearBuilder{
		year:    Year{Site: site, Source: source, Hours: make([]Hour, 0, rows)},
		columns: c, stamps: calendar(rows), counts: map[Filled]int{},
	}
}

// add appends one row, which must be the calendar's next hour.
func (b *yearBuilder) add(line int, at rowStamp, fields []string) error {
	i := len(b.year.Hours)
	if i == 0 {
		b.firstLine = line
	}
	want := b.stamps[i]
	if at.month != want.month || at.day != want.day || at.hour != want.clock+1 {
		return weatherErr(line, "date", "is month %d day %d hour %d; month %d day %d hour %d comes next in a year of %d hours",
			at.month, at.day, at.hour, want.month, want.day, want.clock+1, len(b.stamps))
	}
	h := Hour{MidUnixS: midUnixS(at.year, want, b.year.Site.UTCOffsetH), Month: want.month, Day: want.day, Clock: want.clock}
	for _, f := range []struct {
		to *float64
		c  column
	}{{&h.GHIWM2, b.columns.ghi}, {&h.DNIWM2, b.columns.dni}, {&h.DHIWM2, b.columns.dhi},
		{&h.AirC, b.columns.air}, {&h.WindMS, b.columns.wind}} {
		v, err := f.c.read(line, fields)
		if err != nil {
			return err
		}
		*f.to = v
	}
	if b.columns.albedo.index < len(fields) { // the last columns may be left out
		v, err := b.columns.albedo.read(line, fields)
		if err != nil {
			return err
		}
		h.Albedo = v
	}
	if math.IsNaN(h.Albedo) {
		h.Albedo = 0
	}
	b.year.Hours = append(b.year.Hours, h)
	return nil
}

// finish fills the gaps and returns the year.
func (b *yearBuilder) finish() (Year, error) {
	for i := range b.year.Hours {
		if err := b.fillLight(i); err != nil {
			return Year{}, err
		}
	}
	if err := b.fillGaps("dry bulb", func(h *Hour) *float64 { return &h.AirC }); err != nil {
		return Year{}, err
	}
	b.fillAllWind()
	if err := b.fillGaps("wind", func(h *Hour) *float64 { return &h.WindMS }); err != nil {
		return Year{}, err
	}
	b.report()
	return b.year, nil
}

func (b *yearBuilder) count(field, how string) { b.counts[Filled{Field: field, How: how}]++ }

// report lists the counts in a fixed order.
func (b *yearBuilder) report() {
	for _, field := range []string{"GHI", "DNI", "DHI", "dry bulb", "wind"} {
		for _, how := range []string{howOtherTwo, howErbs, howDark, howStraight, howNoFileWind} {
			if n := b.counts[Filled{Field: field, How: how}]; n > 0 {
				b.year.Filled = append(b.year.Filled, Filled{Field: field, Hours: n, How: how})
			}
		}
	}
}

// fillLight replaces missing irradiance of one hour.
func (b *yearBuilder) fillLight(i int) error {
	h := &b.year.Hours[i]
	noGHI, noDNI, noDHI := math.IsNaN(h.GHIWM2), math.IsNaN(h.DNIWM2), math.IsNaN(h.DHIWM2)
	if !noGHI && !noDNI && !noDHI {
		return nil
	}
	sinE := SunAt(h.MidUnixS, b.year.Site.LatDeg, b.year.Site.LonDeg).Toward.Z
	most := ExtraterrestrialWM2(dayOfYear(h.MidUnixS))
	switch {
	case noGHI && !noDNI && !noDHI:
		h.GHIWM2 = h.DHIWM2 + h.DNIWM2*max(0, sinE)
		b.count("GHI", howOtherTwo)
	case noDHI && !noGHI && !noDNI:
		h.DHIWM2 = max(0, h.GHIWM2-h.DNIWM2*max(0, sinE))
		b.count("DHI", howOtherTwo)
	case noDNI && !noGHI && !noDHI:
		h.DNIWM2 = beamNormal(h.GHIWM2-h.DHIWM2, sinE, most)
		b.count("DNI", howOtherTwo)
	case sinE <= 0:
		for _, v := range []struct {
			field string
			value *float64
		}{{"GHI", &h.GHIWM2}, {"DNI", &h.DNIWM2}, {"DHI", &h.DHIWM2}} {
			if math.IsNaN(*v.value) {
				*v.value = 0
				b.count(v.field, howDark)
			}
		}
	case !noGHI:
		h.DHIWM2 = h.GHIWM2 * ErbsHourly(h.GHIWM2/(most*sinE))
		h.DNIWM2 = beamNormal(h.GHIWM2-h.DHIWM2, sinE, most)
		b.count("DNI", howErbs)
		b.count("DHI", howErbs)
	default:
		return weatherErr(b.firstLine+i, "GHI", "is missing with the sun up, and DNI and DHI do not make up for it")
	}
	return nil
}

// beamNormal is the direct normal irradiance of a horizontal beam irradiance,
// 0 with the sun lower than 1.1 degrees, at most what arrives above the air.
func beamNormal(beamWM2, sinE, mostWM2 float64) float64 {
	if sinE < sunUpForBeam {
		return 0
	}
	return min(mostWM2, max(0, beamWM2)/sinE)
}

// fillAllWind gives a file without any wind its fixed wind.
func (b *yearBuilder) fillAllWind() {
	for _, h := range b.year.Hours {
		if !math.IsNaN(h.WindMS) {
			return
		}
	}
	for i := range b.year.Hours {
		b.year.Hours[i].WindMS = noFileWindMS
		b.count("wind", howNoFileWind)
	}
}

// fillGaps draws a number straight over its gaps; at either end of the year the
// nearest value holds.
func (b *yearBuilder) fillGaps(field string, of func(*Hour) *float64) error {
	hours := b.year.Hours
	for i := 0; i < len(hours); i++ {
		if !math.IsNaN(*of(&hours[i])) {
			continue
		}
		end := i
		for end < len(hours) && math.IsNaN(*of(&hours[end])) {
			end++
		}
		if end-i > maxGapHours {
			return weatherErr(b.firstLine+i, field, "is missing for %d hours; gaps of up to %d hours are filled", end-i, maxGapHours)
		}
		for k := i; k < end; k++ {
			*of(&hours[k]) = acrossGap(hours, of, i, end, k)
			b.count(field, howStraight)
		}
		i = end
	}
	return nil
}

func acrossGap(hours []Hour, of func(*Hour) *float64, start, end, k int) float64 {
	switch {
	case start == 0:
		return *of(&hours[end])
	case end == len(hours):
		return *of(&hours[start-1])
	}
	before, after := *of(&hours[start-1]), *of(&hours[end])
	return before + (after-before)*float64(k-start+1)/float64(end-start+1)
}
