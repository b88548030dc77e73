package web

// barRow is one lying bar in a table: what is left after a step, and, hatched,
// what the step took, both as shares of the longest bar, 0 to 1. A gain has
// Lost below 0.
type barRow struct {
	ID, Label, Source string
	Value, Change     string
	Left, Lost        float64
	Editable          bool
}

// Sizes of a bar in a table, in its own drawing units.
const (
	barWideU = 240
	barHighU = 14
)

// leftPath is the solid part of a bar.
func (b barRow) leftPath() string {
	return block(0, 1, barWideU*share(b.Left), barHighU-2)
}

// lostPath is the hatched part of a bar behind the solid one.
func (b barRow) lostPath() string {
	from := share(b.Left)
	return block(barWideU*from, 1, barWideU*(share(b.Left+b.Lost)-from), barHighU-2)
}

// share holds a number between 0 and 1.
func share(v float64) float64 { return min(1, max(0, finite(v))) }
