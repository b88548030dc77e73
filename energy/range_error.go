package energy

import "fmt"

// RangeError says that a number is outside its allowed range, whose ends are
// allowed; NaN is outside every range.
type RangeError struct {
	// Field is the Go field's name, with its unit and, where it stands in a
	// list, its place: "LatDeg", "Modules[3].WidthM".
	Field           string
	Value, Min, Max float64
}

// Error is "LatDeg: 95 is outside -90 to 90".
func (e *RangeError) Error() string {
	return fmt.Sprintf("%s: %g is outside %g to %g", e.Field, e.Value, e.Min, e.Max)
}

// ChoiceError says that a word is none of the allowed ones.
type ChoiceError struct {
	Field, Value string
	Allowed      []string
}

// Error is `Sky: "x" is none of [perez isotropic hay_davies]`.
func (e *ChoiceError) Error() string {
	return fmt.Sprintf("%s: %q is none of %v", e.Field, e.Value, e.Allowed)
}

// span is a named number with its allowed range.
type span struct {
	field         string
	value, lo, hi float64
}

// checkRange returns a *[RangeError] unless lo <= value <= hi.
func checkRange(field string, value, lo, hi float64) error {
	if value >= lo && value <= hi {
		return nil
	}
	return &RangeError{Field: field, Value: value, Min: lo, Max: hi}
}

// checkSpans returns the first error of several ranges, each field named below
// prefix.
func checkSpans(prefix string, spans ...span) error {
	for _, s := range spans {
		if !(s.value >= s.lo && s.value <= s.hi) {
			return &RangeError{Field: prefix + s.field, Value: s.value, Min: s.lo, Max: s.hi}
		}
	}
	return nil
}
