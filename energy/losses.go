package energy

import "fmt"

// Side is where on the way from light to grid a loss falls.
type Side string

// The sides: on the light or the direct current before the inverter, or on the
// alternating current after it.
const (
	BeforeInverter Side = "dc"
	AfterInverter  Side = "ac"
)

// LossLine is one loss, which multiplies what is left by 1 - percent/100.
type LossLine struct {
	// ID is unique in a list: "soiling", "snow", ...
	ID    string
	Label string
	Side  Side
	// MonthlyPct is the loss of each month, January first, -10 to 100 %; a loss
	// below 0 is a gain.
	MonthlyPct [12]float64
	// UsualLowPct and UsualHighPct are the usual range of the yearly mean.
	UsualLowPct, UsualHighPct float64
	// Source says where default and range come from.
	Source string
}

// DefaultLosses returns the loss lines in their order, each call a fresh list.
// Irradiance, glass, heat, low light, shade, first-year loss, inverter and
// clipping are reckoned and not lines here. Snow is 0 until the user sets it:
// it hangs on pitch and place.
func DefaultLosses() []LossLine {
	const practice = "common practice, no source"
	line := func(id, label string, side Side, percent, low, high float64, source string) LossLine {
		l := LossLine{ID: id, Label: label, Side: side, UsualLowPct: low, UsualHighPct: high, Source: source}
		for i := range l.MonthlyPct {
			l.MonthlyPct[i] = percent
		}
		return l
	}
	return []LossLine{
		line("soiling", "Dirt on the glass", BeforeInverter, 2, 0, 7,
			"2 % as in the code-rule list of the California Energy Commission 2019; range "+practice),
		line("snow", "Snow cover", BeforeInverter, 0, 0, 20, practice+"; by month, snowy places only"),
		line("tolerance", "Power below the label", BeforeInverter, 0, -2, 1, practice+"; most labels promise 0 to +3 %"),
		line("mismatch", "Unequal modules in a string", BeforeInverter, 1, 0.3, 2, practice+"; 0 with module-level electronics"),
		line("wiring_dc", "Wiring and connectors, DC", BeforeInverter, 1.5, 0.5, 2.5, practice),
		line("wiring_ac", "Wiring, AC", AfterInverter, 0.5, 0.2, 1.5, practice),
		line("availability", "Standing still", AfterInverter, 0.5, 0, 3,
			"range to 3 % of the same code-rule list; default "+practice),
	}
}

// maxLossLines is the most loss lines of a list.
const maxLossLines = 30

// checkLosses returns the first error of a list.
func checkLosses(lines []LossLine) error {
	if err := checkRange("Losses", float64(len(lines)), 0, maxLossLines); err != nil {
		return err
	}
	for i, l := range lines {
		at := fmt.Sprintf("Losses[%d].", i)
		if l.ID == "" {
			return fmt.Errorf("%sID: is empty", at)
		}
		for _, before := range lines[:i] {
			if before.ID == l.ID {
				return fmt.Errorf("%sID: %q stands twice", at, l.ID)
			}
		}
		if l.Side != BeforeInverter && l.Side != AfterInverter {
			return &ChoiceError{at + "Side", string(l.Side), []string{string(BeforeInverter), string(AfterInverter)}}
		}
		for m, p := range l.MonthlyPct {
			if err := checkRange(fmt.Sprintf("%sMonthlyPct[%d]", at, m), p, -10, 100); err != nil {
				return err
			}
		}
	}
	return nil
}

// CombinedPct multiplies losses in percent: 1 - product of (1 - p/100).
func CombinedPct(percents ...float64) float64 {
	left := 1.0
	for _, p := range percents {
		left *= 1 - p/100
	}
	return 100 * (1 - left)
}
