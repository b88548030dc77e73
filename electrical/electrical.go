// Package electrical answers what a module's datasheet means for its wiring:
// how many modules may and must stand in a string in the coldest and the hottest
// hour, what an inverter's inputs stand, how the modules of a roof are wired into
// strings, and what the AC side must bear. It is pure: values in, values out.
//
// Each figure carries its formula, the numbers put in and its source. Nothing
// here replaces the local code, the makers' instructions or a licensed
// electrician, who decides. docs/electrical.md says the same in plain words.
//
// It leaves out conductor sizes, voltage drop, earthing and protection devices
// other than string fuses.
package electrical

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// stcCellC is the cell temperature of standard test conditions, C.
const stcCellC = 25

// countSlack lets a whole number of modules equal a limit although their
// voltage, a product of binary fractions, comes out some last digits beside it:
// at most twenty times 2e-16, where a coefficient takes most of a voltage away.
// It is a part of the limit: 1e-12 of 600 V is less than a nanovolt, far below
// the last digit that anybody types.
const countSlack = 1e-12

// Figure is one number shown to a user with where it comes from.
type Figure struct {
	// Key names the figure for a program: "voc_cold" and so on.
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
	// Code names it for a program: "input_short_circuit" and so on.
	Code string `json:"code"`
	// Message is a sentence with the numbers.
	Message string `json:"message"`
}

// Level says how bad a finding is.
type Level string

// The levels.
const (
	// Error: the wiring breaks a limit and must not be built.
	Error Level = "error"
	// Warning: allowed, but energy is lost or something must be added.
	Warning Level = "warning"
	// Note: worth knowing.
	Note Level = "note"
)

// InputError is a value that the caller gave and that is out of range.
type InputError struct {
	// Field is the value's name with its unit, such as "voc_v".
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
			return bad(s.field, "is %g; it must be %g to %g %s", s.v, s.lo, s.hi, s.unit)
		}
	}
	return nil
}

// most returns the largest whole n with n x each <= limit, equality allowed; 0
// where there is none. each must be above 0.
func most(limit, each float64) int {
	return int(math.Floor(limit * (1 + countSlack) / each))
}

// least returns the smallest whole n >= 1 with n x each >= limit, equality
// allowed. each must be above 0.
func least(limit, each float64) int {
	return max(1, int(math.Ceil(limit*(1-countSlack)/each)))
}

// num writes a number with at most three decimals and no trailing zeros.
func num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}
