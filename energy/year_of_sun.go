package energy

import "errors"

// YearOfSun is a checked year with the sun's place in each hour, worked out once
// for all that is reckoned from it. It does not change and may be shared. The
// sun is that of the weather's own site: a station's hours go with its sun, not
// with that of a house some way off.
type YearOfSun struct {
	year  Year
	hours []sunHour
}

// sunHour is one hour with light; hours in the dark are left out.
type sunHour struct {
	index      int // in Year.Hours
	sun        Sun
	light      Light    // with albedo 0
	perez      skyState // of the light, whatever the ground
	fileAlbedo float64
}

// NewYearOfSun checks a year and works out its sun. The errors are those of
// [Year.Check]. It keeps y.Hours, which must not be changed afterwards.
func NewYearOfSun(y Year) (*YearOfSun, error) {
	if err := y.Check(); err != nil {
		return nil, err
	}
	out := &YearOfSun{year: y, hours: make([]sunHour, 0, len(y.Hours)/2+500)}
	for i, h := range y.Hours {
		if h.GHIWM2 <= 0 && h.DNIWM2 <= 0 && h.DHIWM2 <= 0 {
			continue
		}
		sun := SunAt(h.MidUnixS, y.Site.LatDeg, y.Site.LonDeg)
		l := Light{
			Toward: sun.Toward, GHIWM2: h.GHIWM2, DNIWM2: h.DNIWM2, DHIWM2: h.DHIWM2,
			ExtraWM2: ExtraterrestrialWM2(dayOfYear(h.MidUnixS)),
		}
		out.hours = append(out.hours, sunHour{index: i, sun: sun, light: l, perez: skyOf(Perez, l), fileAlbedo: h.Albedo})
	}
	return out, nil
}

// Year is the weather it was made from.
func (y *YearOfSun) Year() Year { return y.year }

// lightOf is an hour's light with the ground of the options.
func (h *sunHour) lightOf(o Options) Light {
	l := h.light
	l.Albedo = o.Albedo
	if o.FileAlbedo && h.fileAlbedo > 0 {
		l.Albedo = h.fileAlbedo
	}
	return l
}

// sky is the state of the hour's sky for a model.
func (h *sunHour) sky(m SkyModel) skyState {
	if m == Perez {
		return h.perez
	}
	return skyOf(m, h.light)
}

// errMissingYear is the error of a nil year.
func errMissingYear() error { return errors.New("field Year is missing") }
