package web

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// What one of a customary unit is, exact by definition (the pascals of a pound on
// a square foot to seven digits).
const (
	psfPa         = 47.88026
	poundKg       = 0.45359237
	mileM         = 1609.344
	mphMPS        = 0.44704
	rValueM2KPerW = 0.1761102 // one h ft2 F/Btu
)

// quantity is a number, or two sides of something, with a metric unit.
var quantity = regexp.MustCompile(`(-?\d+(?:\.\d+)?)(?: x (\d+(?:\.\d+)?))? (m2 K/W|kg/m2|m/s|m2|m²|mm|km|kg|m|Pa|C)\b`)

// converted follows a figure that has its customary units already.
var converted = regexp.MustCompile(`^ \((R )?\d`)

// prose is a sentence in the project's units: with customary units it has them
// after each metric figure that does not have them already.
func (u units) prose(text string) string {
	if !u.imperial {
		return text
	}
	var out strings.Builder
	at := 0
	for _, m := range quantity.FindAllStringSubmatchIndex(text, -1) {
		if converted.MatchString(text[m[1]:]) || m[0] > 0 && isWordEnd(text[m[0]-1]) {
			continue
		}
		unit := text[m[6]:m[7]]
		said := customary(text[m[2]:m[3]], unit)
		if m[4] >= 0 {
			second := customary(text[m[4]:m[5]], unit)
			if unit != "m" && unit != "mm" {
				said = second // the first is a factor
			} else {
				said += " x " + second
			}
		}
		out.WriteString(text[at:m[1]] + " (" + said + ")")
		at = m[1]
	}
	return out.String() + text[at:]
}

// isWordEnd reports whether a character before a number makes it part of a name.
func isWordEnd(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '.'
}

// From roughM metres on a whole number of them is a figure in the large, such as a
// height above the sea, and not one to build by; from roughKm on a mile more or less
// is nothing.
const roughM, roughKm = 20, 20

// customary is a metric figure in customary units: lengths to the eighth of an inch,
// whole metres in the large to the foot, whole kilometres to the mile.
func customary(number, unit string) string {
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return number + " " + unit
	}
	switch unit {
	case "m":
		if !strings.Contains(number, ".") && math.Abs(v) >= roughM {
			return fixed(v/footM, 0) + " ft"
		}
		return lengthText(v, true)
	case "mm":
		return inchText(v/1000) + " in"
	case "km":
		if !strings.Contains(number, ".") && v >= roughKm {
			return fixed(v*1000/mileM, 0) + " mi"
		}
		return fixed(v*1000/mileM, 1) + " mi"
	case "m2", "m²":
		return fixed(v/(footM*footM), 1) + " ft²"
	case "m2 K/W":
		return "R " + fixed(v/rValueM2KPerW, 0)
	case "kg":
		return fixed(v/poundKg, 1) + " lb"
	case "kg/m2":
		return fixed(v/poundKg*footM*footM, 2) + " lb/ft²"
	case "Pa":
		return fixed(v/psfPa, 1) + " psf"
	case "m/s":
		return fixed(v/mphMPS, 1) + " mph"
	}
	return fixed(v*1.8+32, 0) + " °F" // C
}

// pressureUnit and pressure are how loads stand in tables.
func (u units) pressureUnit() string {
	if u.imperial {
		return "psf"
	}
	return "Pa"
}

func (u units) pressure(pa float64) string {
	if u.imperial {
		return fixed(pa/psfPa, 1)
	}
	return fixed(pa, 0)
}

// weightUnit and weight are how the weight of an array on its area is written.
func (u units) weightUnit() string {
	if u.imperial {
		return "lb/ft²"
	}
	return "kg/m²"
}

func (u units) weight(kgPerM2 float64) string {
	if u.imperial {
		return fixed(kgPerM2/poundKg*footM*footM, 2)
	}
	return fixed(kgPerM2, 1)
}

// temperature shows C in the project's unit, with it.
func (u units) temperature(c float64) string {
	if u.imperial {
		return strings.Replace(fixed(c*1.8+32, 0), "-", "−", 1) + " °F"
	}
	return strings.Replace(trimZeros(fixed(c, 1)), "-", "−", 1) + " °C"
}
