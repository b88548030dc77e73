package climate

import "fmt"

// ColdMarginK is taken off the lowest temperature of the typical year where the
// mean yearly extreme is not known: a typical year can be that much milder.
const ColdMarginK = 7

// Temperatures are the air temperatures that strings are designed for, and what
// they are.
type Temperatures struct {
	// ColdC is the lowest temperature to be expected, C, and ColdBasis what it is.
	ColdC     float64   `json:"cold_c"`
	ColdBasis ColdBasis `json:"cold_basis"`
	// HotC is the hot design air temperature, C, and HotBasis what it is. The
	// cells get warmer than the air; see package electrical.
	HotC     float64  `json:"hot_c"`
	HotBasis HotBasis `json:"hot_basis"`
	// ColdWords and HotWords say the same in a sentence for the user.
	ColdWords string `json:"cold_words"`
	HotWords  string `json:"hot_words"`
}

// ColdBasis says what a cold design temperature is.
type ColdBasis string

// The cold bases.
const (
	// ExtremeMean is the mean of each year's lowest dry bulb.
	ExtremeMean ColdBasis = "extreme_mean"
	// FileMinLessMargin is the lowest dry bulb of the typical year less ColdMarginK.
	FileMinLessMargin ColdBasis = "file_min_less_margin"
)

// HotBasis says what a hot design temperature is.
type HotBasis string

// The hot bases.
const (
	// Design2Pct is the dry bulb exceeded in 2 % of the hours of the year.
	Design2Pct HotBasis = "design_2_pct"
	// FileMax is the highest dry bulb of the typical year.
	FileMax HotBasis = "file_max"
)

// Temperatures returns the station's design temperatures: cold the mean yearly
// extreme minimum or, where the table has none, the lowest of the typical year
// less ColdMarginK; hot the 2 % annual design dry bulb or, where there is none,
// the highest of the typical year. The words say when one stood in.
func (s Station) Temperatures() Temperatures {
	t := Temperatures{
		ColdC: s.FileMinC - ColdMarginK, ColdBasis: FileMinLessMargin,
		HotC: s.FileMaxC, HotBasis: FileMax,
	}
	if s.ExtremeMinC != nil {
		t.ColdC, t.ColdBasis = *s.ExtremeMinC, ExtremeMean
		t.ColdWords = fmt.Sprintf("%.1f C is the mean of each year's lowest temperature at %s (ASHRAE).", t.ColdC, s.Name)
	} else {
		t.ColdWords = fmt.Sprintf("%.1f C is the lowest temperature of the typical year at %s, %.1f C, less %d K: the table has no mean yearly extreme for it.",
			t.ColdC, s.Name, s.FileMinC, ColdMarginK)
	}
	if s.DesignMaxC != nil {
		t.HotC, t.HotBasis = *s.DesignMaxC, Design2Pct
		t.HotWords = fmt.Sprintf("%.1f C is exceeded in 2 %% of the hours of a year at %s (ASHRAE).", t.HotC, s.Name)
	} else {
		t.HotWords = fmt.Sprintf("%.1f C is the highest temperature of the typical year at %s: the table has no 2 %% design temperature for it.",
			t.HotC, s.Name)
	}
	return t
}
