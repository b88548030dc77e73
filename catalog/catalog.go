// Package catalog describes photovoltaic modules, inverters, micro-inverters
// and DC optimisers as their datasheets do, checks that the figures agree, and
// reads and writes them as CSV text. It is pure: no files, no clock, no pages.
//
// A [Module] is what a count needs, rated power and outline; a [Datasheet] is a
// module with every other figure. The catalog holds no real product: the only
// entries are invented ones for the demo. What the figures mean for a string
// of modules is the business of package electrical.
package catalog

import "fmt"

// Module is one photovoltaic module.
type Module struct {
	// ID is unique in a catalog: 1 to 40 of a-z 0-9 and '-'.
	ID string `json:"id"`
	// Label is what people call it.
	Label string `json:"label"`
	// PmaxW is the rated power at standard test conditions in whole watts,
	// MinPmaxW to MaxPmaxW.
	PmaxW int `json:"pmax_w"`
	// LengthM is the long side and WidthM the short one, metres, each
	// MinSideM to MaxSideM.
	LengthM float64 `json:"length_m"`
	WidthM  float64 `json:"width_m"`
	// Invented marks a module that nobody makes.
	Invented bool `json:"invented"`
}

// The ranges that [Module.Check] enforces, ends included.
const (
	MinPmaxW = 1
	MaxPmaxW = 2000
	MinSideM = 0.2
	MaxSideM = 5.0
)

// The efficiencies at standard test conditions (1000 W/m2) outside which a
// module is doubted: below, an outline typed in the wrong unit is likelier
// than a real module; above, no silicon module on a roof is that good (common
// practice, no source).
const (
	doubtBelow = 0.10
	doubtAbove = 0.26
)

// stcIrradianceWM2 is the irradiance of standard test conditions, W per m2.
const stcIrradianceWM2 = 1000

// Problem is one thing wrong with a catalog entry.
type Problem struct {
	// Field is the entry's field by its CSV column, such as "pmax_w".
	Field string `json:"field"`
	// Message is a sentence that names the value and the allowed range.
	Message string `json:"message"`
	// Doubt is true for a value that is allowed but hardly right; the entry
	// can still be used.
	Doubt bool `json:"doubt"`
}

// AreaM2 returns length times width.
func (m Module) AreaM2() float64 { return m.LengthM * m.WidthM }

// Efficiency returns rated power over area times 1000 W/m2, as a fraction. It
// is 0 for a module without area.
func (m Module) Efficiency() float64 {
	if !(m.AreaM2() > 0) {
		return 0
	}
	return float64(m.PmaxW) / (m.AreaM2() * stcIrradianceWM2)
}

// Check returns what is wrong with the numbers of a module: values out of
// range, a width over the length, and (as a doubt) an efficiency outside 10 to
// 26 percent. A sound module gives nil. NaN and infinities are out of range.
func (m Module) Check() []Problem {
	var out []Problem
	if m.PmaxW < MinPmaxW || m.PmaxW > MaxPmaxW {
		out = append(out, Problem{Field: "pmax_w",
			Message: fmt.Sprintf("is %d; it must be a whole number of watts from %d to %d", m.PmaxW, MinPmaxW, MaxPmaxW)})
	}
	out = appendSide(out, "length_m", m.LengthM)
	out = appendSide(out, "width_m", m.WidthM)
	if m.WidthM > m.LengthM {
		out = append(out, Problem{Field: "width_m",
			Message: fmt.Sprintf("is %g, more than length_m %g; the width is the short side", m.WidthM, m.LengthM)})
	}
	if len(out) > 0 {
		return out
	}
	if e := m.Efficiency(); e < doubtBelow || e > doubtAbove {
		out = append(out, Problem{Field: "pmax_w", Doubt: true,
			Message: fmt.Sprintf("%d W on %.3f m2 is an efficiency of %.1f %%; %.0f to %.0f %% is usual: check the power and the sides",
				m.PmaxW, m.AreaM2(), 100*e, 100*doubtBelow, 100*doubtAbove)})
	}
	return out
}

// appendSide reports a side out of range; written so that NaN is reported.
func appendSide(out []Problem, field string, m float64) []Problem {
	if m >= MinSideM && m <= MaxSideM {
		return out
	}
	return append(out, Problem{Field: field,
		Message: fmt.Sprintf("is %g; it must be %g to %g m", m, MinSideM, MaxSideM)})
}

// Demo returns the invented modules of the demo: six of them, 300 to 450 W, in
// three sizes. Nobody makes them. Each call returns a fresh slice.
func Demo() []Module {
	const (
		smallL, smallW   = 1.650, 0.990
		mediumL, mediumW = 1.750, 1.080
		largeL, largeW   = 1.950, 1.120
	)
	return []Module{
		{"demo-300-small", "Invented 300 W, small", 300, smallL, smallW, true},
		{"demo-330-small", "Invented 330 W, small", 330, smallL, smallW, true},
		{"demo-360-medium", "Invented 360 W, medium", 360, mediumL, mediumW, true},
		{"demo-400-medium", "Invented 400 W, medium", 400, mediumL, mediumW, true},
		{"demo-420-large", "Invented 420 W, large", 420, largeL, largeW, true},
		{"demo-450-large", "Invented 450 W, large", 450, largeL, largeW, true},
	}
}
