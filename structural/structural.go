// Package structural answers what snow, wind and weight mean for the modules of a
// roof and what it takes to hold them: the pressure on each module against its
// design rating, the dead load, rail runs, attachments on rafters and the parts
// they take. It is pure: values in, values out.
//
// [CheckLoads] judges modules, [LayRails] lays rails. Each figure carries its
// formula, the numbers put in and its source. Nothing here replaces the local
// code, the makers' instructions or a licensed engineer, who decides; [Caution]
// stands beside every result. docs/structural.md says the same in plain words.
//
// It leaves out the strength of rails, clamps, attachments, rafters and roof,
// snow that drifts or slides (it can be typed), earthquake, and everything that
// is not parallel to the roof.
package structural

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Caution stands beside every result of this package.
const Caution = "This checks the module only, not clamps, rafters or roof. A licensed engineer decides."

// gravity is the standard acceleration of free fall, m/s2.
const gravity = 9.80665

// degree is one degree in radians.
const degree = math.Pi / 180

// roundSlack lets a load equal a limit although both, made of binary fractions,
// differ in a last digit. It is a part of the limit: of 3600 Pa it is 4 uPa.
const roundSlack = 1e-9

// Figure is one number shown to a user with where it comes from. Its fields are
// those of the figures of package electrical, so that one converts to the other.
type Figure struct {
	// Key names the figure for a program: "snow_flat" and so on.
	Key string `json:"key"`
	// Label names it for a person.
	Label string `json:"label"`
	// Formula is the rule in words and signs, Numbers the same with the numbers
	// put in and the result.
	Formula string `json:"formula"`
	Numbers string `json:"numbers"`
	// Value is the result in Unit, which is "" for a count or a ratio.
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	// Source is the clause or publication; "common practice, no source" where
	// there is none, "from memory" where it was not looked up.
	Source string `json:"source"`
}

// Finding is something the user has to know.
type Finding struct {
	// Level is how bad it is.
	Level Level `json:"level"`
	// Code names it for a program: "over_rating" and so on.
	Code string `json:"code"`
	// Message is a sentence with the numbers.
	Message string `json:"message"`
}

// Level says how bad a finding is.
type Level string

// The levels.
const (
	// Error: a load passes a rating.
	Error Level = "error"
	// Warning: something could not be checked, or has to be changed or added.
	Warning Level = "warning"
	// Note: worth knowing.
	Note Level = "note"
)

// InputError is a value that the caller gave and that is out of range, or that
// contradicts another one.
type InputError struct {
	// Field is the value's name with its unit, such as "ground_snow_pa".
	Field string
	// Message is the rest of the sentence: the value and the allowed range.
	Message string
}

// Error returns the sentence.
func (e *InputError) Error() string { return e.Field + " " + e.Message }

// bad makes an InputError.
func bad(field, format string, args ...any) error {
	return &InputError{Field: field, Message: fmt.Sprintf(format, args...)}
}

// span is a value that must lie within bounds, ends included.
type span struct {
	field     string
	v, lo, hi float64
	unit      string
}

// checkSpans returns an error for the first value out of its bounds; NaN is
// out of all bounds.
func checkSpans(spans ...span) error {
	for _, s := range spans {
		if !(s.v >= s.lo && s.v <= s.hi) {
			return bad(s.field, "is %g; it must be %g to %g%s", s.v, s.lo, s.hi, unitText(s.unit))
		}
	}
	return nil
}

// unitText puts a space before a unit; "" stays "".
func unitText(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// Family is the set of standards that loads are taken from.
type Family string

// The families.
const (
	// ASCE is ASCE/SEI 7, used with the NEC, IBC and IRC.
	ASCE Family = "asce"
	// EN is the Eurocodes, EN 1990 and EN 1991, used with the IEC rules.
	EN Family = "en"
)

// Edition is an edition of ASCE 7.
type Edition string

// The editions. 7-16 has snow of the allowable level; 7-22 gives ground snow and
// wind both at strength level.
const (
	ASCE716 Edition = "7-16"
	ASCE722 Edition = "7-22"
)

// num writes a number with at most three decimals and no trailing zeros.
func num(v float64) string { return rounded(v, 3) }

// whole writes a pressure in whole pascals.
func whole(v float64) string { return rounded(v, 0) }

// rounded writes a number with at most so many decimals.
func rounded(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
