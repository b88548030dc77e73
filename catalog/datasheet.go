package catalog

// Datasheet is one module with every figure that its datasheet gives at
// standard test conditions (1000 W/m2, cell 25 C, spectrum AM 1.5), unless the
// field says otherwise. A zero stands for "not given" in every field that says
// so; the other fields are required. [Datasheet.Check] holds the ranges.
//
// The JSON names are also the column names of the CSV text.
type Datasheet struct {
	Module

	// ToleranceMinusW and TolerancePlusW are how far a delivered module's
	// power may lie below and above PmaxW, watts, each 0 to 100.
	ToleranceMinusW float64 `json:"tolerance_minus_w"`
	TolerancePlusW  float64 `json:"tolerance_plus_w"`

	// VocV is the open-circuit voltage, IscA the short-circuit current, VmpV
	// and ImpA voltage and current at maximum power. 1 to 500 V, 0.1 to 50 A.
	VocV float64 `json:"voc_v"`
	IscA float64 `json:"isc_a"`
	VmpV float64 `json:"vmp_v"`
	ImpA float64 `json:"imp_a"`

	// GammaPmaxPctPerK is the temperature coefficient of maximum power,
	// percent of Pmax per kelvin, -1 up to below 0.
	GammaPmaxPctPerK float64 `json:"gamma_pmax_pct_per_k"`
	// BetaVocPctPerK is that of the open-circuit voltage and BetaVmpPctPerK
	// that of the voltage at maximum power, -1 up to below 0; 0 is not given.
	BetaVocPctPerK float64 `json:"beta_voc_pct_per_k"`
	BetaVmpPctPerK float64 `json:"beta_vmp_pct_per_k"`
	// AlphaIscPctPerK is that of the short-circuit current, above 0 to 0.5; 0
	// is not given.
	AlphaIscPctPerK float64 `json:"alpha_isc_pct_per_k"`

	// NMOTC is the nominal module operating temperature (at maximum power) and
	// NOCTC the nominal operating cell temperature (open circuit), both at
	// 800 W/m2, air 20 C, 1 m/s, in C, 30 to 60; 0 is not given. A datasheet
	// gives one of them.
	NMOTC float64 `json:"nmot_c"`
	NOCTC float64 `json:"noct_c"`

	// Cells counts cells, halves of cut cells each as one: 1 to 400.
	Cells int `json:"cells"`
	// HalfCut says that the cells are cut and wired as two halves of the module
	// in parallel. The halves share the bypass diodes.
	HalfCut bool `json:"half_cut"`
	// Substrings counts bypass diodes: 1 to 20.
	Substrings int `json:"substrings"`
	// CellType says what the cells are made of.
	CellType CellType `json:"cell_type"`

	// ThicknessM is the depth of the frame, metres, 0.001 to 0.2.
	ThicknessM float64 `json:"thickness_m"`
	// WeightKg is 0.5 to 100.
	WeightKg float64 `json:"weight_kg"`

	// MaxSystemV is the highest system voltage, 50 to 2000 V, and
	// MaxSeriesFuseA the largest fuse in series, 1 to 100 A.
	MaxSystemV     float64 `json:"max_system_v"`
	MaxSeriesFuseA float64 `json:"max_series_fuse_a"`

	// LongEdge and ShortEdge are the load ratings with the clamps on the long
	// and on the short edges.
	LongEdge  Loads `json:"long_edge"`
	ShortEdge Loads `json:"short_edge"`

	// RelativeEfficiency200 is the efficiency at 200 W/m2 (cell 25 C) over that
	// at 1000 W/m2, as a fraction, 0.7 to 1.1; 0 is not given.
	RelativeEfficiency200 float64 `json:"relative_efficiency_200"`

	// FirstYearLossPct is the guaranteed most loss of power in the first year,
	// 0 to 10 percent of PmaxW; YearlyLossPct that of each further year, 0 to 3.
	FirstYearLossPct float64 `json:"first_year_loss_pct"`
	YearlyLossPct    float64 `json:"yearly_loss_pct"`
	// LossLaw says what the yearly loss is a percentage of.
	LossLaw LossLaw `json:"loss_law"`
	// ProductWarrantyYears and PerformanceWarrantyYears are 0 to 50; 0 is not
	// given.
	ProductWarrantyYears     int `json:"product_warranty_years"`
	PerformanceWarrantyYears int `json:"performance_warranty_years"`

	// Price is that of one module in the user's own currency, 0 to 100 000; 0
	// is not given.
	Price float64 `json:"price"`
}

// Loads are static load ratings for one position of the clamps, pascals, each
// 500 to 20 000; 0 is not given. Front presses on the glass (snow, wind), rear
// lifts (wind). A test value is what the module was loaded with, a design value
// what it may be loaded with; a rating that does not say which it is counts as
// a test value, which is the safe reading.
type Loads struct {
	FrontTestPa   float64 `json:"front_test_pa"`
	FrontDesignPa float64 `json:"front_design_pa"`
	RearTestPa    float64 `json:"rear_test_pa"`
	RearDesignPa  float64 `json:"rear_design_pa"`
}

// CellType says what the cells of a module are made of.
type CellType string

// The cell types. All but OtherCells are crystalline silicon.
const (
	PTypeMono      CellType = "p_mono"
	PTypePoly      CellType = "p_poly"
	NTypeMono      CellType = "n_mono"
	Heterojunction CellType = "heterojunction"
	OtherCells     CellType = "other"
)

// CellTypes returns all cell types in a fixed order.
func CellTypes() []CellType {
	return []CellType{PTypeMono, PTypePoly, NTypeMono, Heterojunction, OtherCells}
}

// CrystallineSilicon reports whether cells of this type are crystalline
// silicon, for which tables of voltage by temperature hold.
func (c CellType) CrystallineSilicon() bool { return c != OtherCells && c != "" }

// LossLaw says what a module's yearly loss of power is a percentage of.
type LossLaw string

// The loss laws.
const (
	// LinearLoss takes the percentage of the rated power: the same watts each year.
	LinearLoss LossLaw = "linear"
	// CompoundLoss takes it of the power of the year before.
	CompoundLoss LossLaw = "compound"
)

// CellsInSeries returns how many cells one path through the module passes: all
// of them, or half of them where the two halves lie in parallel.
func (d Datasheet) CellsInSeries() int {
	if d.HalfCut {
		return d.Cells / 2
	}
	return d.Cells
}

// CellsPerSubstring returns how many cells in series one bypass diode spans, 0
// without substrings. In a half-cut module the diode spans this many in each
// half.
func (d Datasheet) CellsPerSubstring() int {
	if d.Substrings <= 0 {
		return 0
	}
	return d.CellsInSeries() / d.Substrings
}

// FillFactor returns Pmax over Voc x Isc, as a fraction; 0 without them.
func (d Datasheet) FillFactor() float64 {
	if !(d.VocV > 0 && d.IscA > 0) {
		return 0
	}
	return float64(d.PmaxW) / (d.VocV * d.IscA)
}
