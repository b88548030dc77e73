package energy

import "math"

// CellType is the kind of cell, which tells the loss of the first weeks in light.
type CellType string

// The cell types.
const (
	PType CellType = "p_type"
	NType CellType = "n_type"
)

// AgeForm is how the yearly loss adds up.
type AgeForm string

// The forms: Linear takes the same points of the first year each year, Compound
// the same share of the year before.
const (
	Linear   AgeForm = "linear"
	Compound AgeForm = "compound"
)

// ModuleModel is one module's behaviour.
type ModuleModel struct {
	// PmaxW is the rated power at standard test conditions, 1 to 2000.
	PmaxW float64
	// GammaPctPerK is the temperature coefficient of power, -1 to 0 %/K.
	GammaPctPerK float64
	// NMOTC is the nominal module operating temperature, 30 to 65 C; 0 if not
	// known.
	NMOTC float64
	// LowLight is the efficiency at 200 W/m2 over that at 1000, 0.8 to 1.05; 0
	// takes [DefaultLowLight].
	LowLight float64
	// Substrings is the number of bypass diodes, 1 to 6, and Cells the number of
	// cells (half cells counted each), 1 to 400; 0 takes 3 and 60, or 120 where
	// HalfCut.
	Substrings, Cells int
	// HalfCut is a module of two halves in parallel, one above the other along
	// the long edge, which share their bypass diodes.
	HalfCut bool
	// FirstYearLossPct is the loss of the first year, 0 to 10 %; see
	// [FirstYearLoss].
	FirstYearLossPct float64
	// YearlyLossPct is the loss of each further year, 0 to 5 %.
	YearlyLossPct float64
	// YearlyForm is Linear or Compound; "" is Compound.
	YearlyForm AgeForm
}

// DefaultLowLight is the relative efficiency at 200 W/m2 where the datasheet
// has none (common practice, no source; datasheets give 0.94 to 0.99).
const DefaultLowLight = 0.97

// DefaultYearlyLossPct is the median of about 2000 published rates: Jordan and
// Kurtz, Prog. Photovolt. 21 (2013) 12-29.
const DefaultYearlyLossPct = 0.5

// FirstYearLoss is the usual loss of the first year: 2 % for p-type, the upper
// end of 0.5 to 2 % for stabilised modules (IEA-PVPS T13 reports, from memory),
// and 1 % for n-type, whose cells should lose nothing to light (Lindroos and
// Savin, SOLMAT 147 (2016) 115, from memory) but whose datasheets promise no
// less (common practice, no source). Any other cell type counts as p-type.
func FirstYearLoss(t CellType) (percent float64) {
	if t == NType {
		return 1
	}
	return 2
}

// Check returns a *[RangeError] or *[ChoiceError] for a bad number.
func (m ModuleModel) Check() error { return m.check("") }

// check is Check with a word before each field's name.
func (m ModuleModel) check(prefix string) error {
	err := checkSpans(prefix,
		span{"PmaxW", m.PmaxW, 1, 2000},
		span{"GammaPctPerK", m.GammaPctPerK, -1, 0},
		span{"Substrings", float64(m.Substrings), 0, maxSubstrings},
		span{"Cells", float64(m.Cells), 0, 400},
		span{"FirstYearLossPct", m.FirstYearLossPct, 0, 10},
		span{"YearlyLossPct", m.YearlyLossPct, 0, 5})
	if err != nil {
		return err
	}
	if m.NMOTC != 0 {
		err = checkRange(prefix+"NMOTC", m.NMOTC, 30, 65)
	}
	if err == nil && m.LowLight != 0 {
		err = checkRange(prefix+"LowLight", m.LowLight, 0.8, 1.05)
	}
	if err == nil && m.YearlyForm != "" && m.YearlyForm != Linear && m.YearlyForm != Compound {
		err = &ChoiceError{prefix + "YearlyForm", string(m.YearlyForm), []string{string(Linear), string(Compound)}}
	}
	return err
}

// maxSubstrings is the most bypass diodes of a module.
const maxSubstrings = 6

func (m ModuleModel) substrings() int {
	if m.Substrings == 0 {
		return 3
	}
	return m.Substrings
}

func (m ModuleModel) cells() int {
	switch {
	case m.Cells != 0:
		return m.Cells
	case m.HalfCut:
		return 120
	}
	return 60
}

// The light part of the relative efficiency of crystalline silicon, 1 + k1 ln G'
// + k2 ln^2 G' with G' = G / 1000 W/m2: Huld, Gottschalg, Beyer and Topic, Solar
// Energy 84 (2010) 324-338, set A.
const (
	huldK1 = -0.017162
	huldK2 = -0.040289
	// huldLossAt200 is what that curve loses at 200 W/m2.
	huldLossAt200 = 0.07673903622987563
)

// LowLightFactor is the efficiency at an irradiance over that at 1000 W/m2, not
// below 0: Huld's curve, its departure from 1 scaled so that the datasheet's
// figure holds at 200 W/m2.
func (m ModuleModel) LowLightFactor(wm2 float64) float64 {
	return lowLight(wm2, m.lowLightScale())
}

func lowLight(wm2, scale float64) float64 {
	if wm2 <= 0 {
		return 0
	}
	l := math.Log(wm2 / 1000)
	return max(0, 1+scale*(huldK1+huldK2*l)*l)
}

// lowLightScale is how strongly the module's efficiency falls against Huld's.
func (m ModuleModel) lowLightScale() float64 {
	at200 := m.LowLight
	if at200 == 0 {
		at200 = DefaultLowLight
	}
	return (1 - at200) / huldLossAt200
}

// HeatFactor is 1 + gamma (T - 25 C), not below 0.
func (m ModuleModel) HeatFactor(cellC float64) float64 {
	return max(0, 1+m.GammaPctPerK/100*(cellC-25))
}

// PowerW is the power of a new module under an irradiance that has passed the
// glass and a cell temperature, before all other losses.
func (m ModuleModel) PowerW(wm2, cellC float64) float64 {
	return m.PmaxW * max(0, wm2) / 1000 * m.HeatFactor(cellC) * m.LowLightFactor(wm2)
}

// regions cuts a module's rectangle into the parts that its substrings cover:
// strips along the long edge, and for a half-cut module each strip in two
// halves of the long edge. Strip k of n has regions k and, half-cut, n + k. A
// square counts as upright.
func (m ModuleModel) regions(r box) []box {
	n, halves := m.substrings(), 1
	if m.HalfCut {
		halves = 2
	}
	width, height := r.highU-r.lowU, r.highV-r.lowV
	out := make([]box, 0, n*halves)
	for half := range halves {
		for k := range n {
			a, b := float64(k)/float64(n), float64(k+1)/float64(n)
			c, d := float64(half)/float64(halves), float64(half+1)/float64(halves)
			if width > height { // landscape: the long edge runs along u
				a, b, c, d = c, d, a, b
			}
			out = append(out, box{r.lowU + a*width, r.lowV + c*height, r.lowU + b*width, r.lowV + d*height})
		}
	}
	return out
}

// cellsPerRegion is the number of cells in one region.
func (m ModuleModel) cellsPerRegion() float64 {
	n := float64(m.cells()) / float64(m.substrings())
	if m.HalfCut {
		n /= 2
	}
	return max(1, n)
}
