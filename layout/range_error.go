package layout

import "fmt"

// RangeError says that a number of a [Plane], a [KeepOut] or a [Spec] is
// outside its allowed range, whose ends are allowed; NaN is outside every range.
type RangeError struct {
	// Field is the Go field's name, with its unit: "PitchDeg", "GapUM".
	Field           string
	Value, Min, Max float64
}

// Error is "PitchDeg: 80 is outside 0 to 75".
func (e *RangeError) Error() string {
	return fmt.Sprintf("%s: %g is outside %g to %g", e.Field, e.Value, e.Min, e.Max)
}

// checkRange returns a *[RangeError] unless lo <= value <= hi.
func checkRange(field string, value, lo, hi float64) error {
	if value >= lo && value <= hi {
		return nil
	}
	return &RangeError{Field: field, Value: value, Min: lo, Max: hi}
}
