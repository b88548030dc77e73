package web

import (
	"math"
	"strconv"
	"strings"

	"rooftally/project"
)

// Conversions, exact by definition: the international mile and the degree of
// Fahrenheit.
const (
	mileKm     = 1.609344
	mileHourMS = 0.44704
)

// weatherUnits are the units of a project's weather: irradiation is kWh/m2
// everywhere.
type weatherUnits struct{ imperial bool }

func weatherUnitsOf(site project.Site) weatherUnits { return weatherUnits{site.Units == "imperial"} }

// Temp and Wind are the units' names.
func (u weatherUnits) Temp() string {
	if u.imperial {
		return "°F"
	}
	return "°C"
}

func (u weatherUnits) Wind() string {
	if u.imperial {
		return "mph"
	}
	return "m/s"
}

func (u weatherUnits) temp(c float64) float64 {
	if u.imperial {
		return 32 + 1.8*c
	}
	return c
}

func (u weatherUnits) celsius(shown float64) float64 {
	if u.imperial {
		return (shown - 32) / 1.8
	}
	return shown
}

func (u weatherUnits) wind(ms float64) float64 {
	if u.imperial {
		return ms / mileHourMS
	}
	return ms
}

func (u weatherUnits) metresPerSecond(shown float64) float64 {
	if u.imperial {
		return shown * mileHourMS
	}
	return shown
}

// distance shows kilometres, height metres, each with its unit.
func (u weatherUnits) distance(km float64) string {
	if u.imperial {
		return fixed(km/mileKm, 0) + " mi"
	}
	return fixed(km, 0) + " km"
}

func (u weatherUnits) height(m float64) string {
	if u.imperial {
		return fixed(m/footM, 0) + " ft"
	}
	return fixed(m, 0) + " m"
}

// numberTyped reads a number as people type it: with a comma for a point, a minus
// sign of any kind, and spaces around.
func numberTyped(text string) (v float64, ok bool) {
	text = strings.NewReplacer(",", ".", "−", "-", "–", "-", "\u00a0", "", "\u202f", "").Replace(strings.TrimSpace(text))
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(text, "xXpP_") {
		return 0, false
	}
	return v, true
}

// numberShown writes a number for a field, without zeros at its end.
func numberShown(v float64, decimals int) string {
	t := fixed(v, decimals)
	if strings.Contains(t, ".") {
		t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	}
	return t
}
