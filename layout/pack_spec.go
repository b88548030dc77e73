package layout

import "slices"

// The allowed ranges of a [Spec].
const (
	minSideM, maxSideM = 0.01, 10.0
	maxGapM            = 1.0
	maxEndM            = 1.0
)

// check returns a *[RangeError] for the first number out of range, else the
// turns to try: in order, each once, and one only when the module is square.
func (s Spec) check() ([]Turn, error) {
	for _, c := range []struct {
		field           string
		value, low, top float64
	}{
		{"WidthM", s.WidthM, minSideM, maxSideM},
		{"HeightM", s.HeightM, minSideM, maxSideM},
		{"GapUM", s.GapUM, 0, maxGapM},
		{"GapVM", s.GapVM, 0, maxGapM},
		{"EndM", s.EndM, 0, maxEndM},
	} {
		if err := checkRange(c.field, c.value, c.low, c.top); err != nil {
			return nil, err
		}
	}
	asked := s.Turns
	if len(asked) == 0 {
		asked = []Turn{AsGiven, Turned}
	}
	var turns []Turn
	for _, t := range asked {
		if t != AsGiven && t != Turned {
			return nil, &RangeError{Field: "Turns", Value: float64(t), Min: float64(AsGiven), Max: float64(Turned)}
		}
		if !slices.Contains(turns, t) && (len(turns) == 0 || s.WidthM != s.HeightM) {
			turns = append(turns, t)
		}
	}
	return turns, nil
}

// placed is the size of a module of turn t, at the origin.
func (s Spec) placed(t Turn) Rect {
	if t == Turned {
		return Rect{WM: s.HeightM, HM: s.WidthM}
	}
	return Rect{WM: s.WidthM, HM: s.HeightM}
}
