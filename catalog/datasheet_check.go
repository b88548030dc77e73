package catalog

import (
	"math"
	"slices"
)

// Bounds of what figures may say about each other. They are common practice, no
// source, unless the comment names one.
const (
	// pmaxMismatch is how far Vmp x Imp may be from Pmax: one rounded digit in
	// each of the three is 0.8 percent at most on a small module.
	pmaxMismatch = 0.01
	// Fill factors outside these are doubted, for crystalline silicon and for
	// other cells.
	minFillFactor      = 0.70
	minFillFactorOther = 0.55
	maxFillFactor      = 0.87
	// Open-circuit volts of one silicon cell outside these are doubted.
	minCellVocV = 0.55
	maxCellVocV = 0.78
	// A fuse below this many times Isc could blow in bright sun (NEC 690.8(A)
	// has 1.25 for the circuit current).
	fuseOverIsc = 1.25
	// Kilograms a square metre outside these are doubted.
	minKgPerM2 = 4
	maxKgPerM2 = 25
)

// Check returns what is wrong with a datasheet: first each figure out of its
// range; where there is none, figures that contradict each other. A sound
// datasheet gives nil. NaN and infinities are out of range.
func (d Datasheet) Check() []Problem {
	var c checker
	c.names(d.ID, d.Label)
	c.problems = append(c.problems, d.Module.Check()...)
	d.checkElectrical(&c)
	d.checkBuild(&c)
	d.checkWarranty(&c)
	if c.sound() {
		d.checkPower(&c)
		d.checkCells(&c)
		d.checkCoefficients(&c)
		d.checkRatings(&c)
	}
	return c.problems
}

// checkElectrical tests each electrical figure by itself.
func (d Datasheet) checkElectrical(c *checker) {
	c.span("tolerance_minus_w", d.ToleranceMinusW, 0, 100, " W")
	c.span("tolerance_plus_w", d.TolerancePlusW, 0, 100, " W")
	c.span("voc_v", d.VocV, 1, 500, " V")
	c.span("isc_a", d.IscA, 0.1, 50, " A")
	c.span("vmp_v", d.VmpV, 1, 500, " V")
	c.span("imp_a", d.ImpA, 0.1, 50, " A")
	falls := func(field string, v float64, required bool) {
		if required && !(v >= -1 && v < 0) {
			c.bad(field, "is %g; it must be -1 up to below 0 %%/K: power and voltage fall as cells warm", v)
		}
		if !required && v != 0 && !(v >= -1 && v < 0) {
			c.bad(field, "is %g; it must be -1 up to below 0 %%/K (power and voltage fall as cells warm), or not given", v)
		}
	}
	falls("gamma_pmax_pct_per_k", d.GammaPmaxPctPerK, true)
	falls("beta_voc_pct_per_k", d.BetaVocPctPerK, false)
	falls("beta_vmp_pct_per_k", d.BetaVmpPctPerK, false)
	if v := d.AlphaIscPctPerK; v != 0 && !(v > 0 && v <= 0.5) {
		c.bad("alpha_isc_pct_per_k", "is %g; it must be above 0 to 0.5 %%/K (current rises as cells warm), or not given", v)
	}
	c.span("max_system_v", d.MaxSystemV, 50, 2000, " V")
	c.span("max_series_fuse_a", d.MaxSeriesFuseA, 1, 100, " A")
}

// checkBuild tests each thermal and mechanical figure by itself.
func (d Datasheet) checkBuild(c *checker) {
	c.spanOrNone("nmot_c", d.NMOTC, 30, 60, " C")
	c.spanOrNone("noct_c", d.NOCTC, 30, 60, " C")
	c.whole("cells", d.Cells, 1, 400)
	c.whole("substrings", d.Substrings, 1, 20)
	if !slices.Contains(CellTypes(), d.CellType) {
		c.bad("cell_type", "is %q; it must be one of %v", d.CellType, CellTypes())
	}
	c.span("thickness_m", d.ThicknessM, 0.001, 0.2, " m")
	c.span("weight_kg", d.WeightKg, 0.5, 100, " kg")
	c.spanOrNone("relative_efficiency_200", d.RelativeEfficiency200, 0.7, 1.1, "")
	for _, l := range d.ratings() {
		c.spanOrNone(l.field, l.pa, 500, 20000, " Pa")
	}
}

// checkWarranty tests each figure of the warranty, and the price.
func (d Datasheet) checkWarranty(c *checker) {
	c.span("first_year_loss_pct", d.FirstYearLossPct, 0, 10, " %")
	c.span("yearly_loss_pct", d.YearlyLossPct, 0, 3, " %")
	if d.LossLaw != LinearLoss && d.LossLaw != CompoundLoss {
		c.bad("loss_law", "is %q; it must be %q or %q", d.LossLaw, LinearLoss, CompoundLoss)
	}
	c.whole("product_warranty_years", d.ProductWarrantyYears, 0, 50)
	c.whole("performance_warranty_years", d.PerformanceWarrantyYears, 0, 50)
	c.span("price", d.Price, 0, 100000, "")
}

// checkPower compares power, voltages and currents.
func (d Datasheet) checkPower(c *checker) {
	if d.VmpV >= d.VocV {
		c.bad("vmp_v", "is %g V, not below voc_v %g V", d.VmpV, d.VocV)
	}
	if d.ImpA >= d.IscA {
		c.bad("imp_a", "is %g A, not below isc_a %g A", d.ImpA, d.IscA)
	}
	product := d.VmpV * d.ImpA
	if math.Abs(product-float64(d.PmaxW)) > pmaxMismatch*float64(d.PmaxW) {
		c.bad("pmax_w", "is %d W, but vmp_v x imp_a is %.1f W; they must agree to %g %%", d.PmaxW, product, 100*pmaxMismatch)
	}
	if !c.sound() {
		return
	}
	least := minFillFactor
	if !d.CellType.CrystallineSilicon() {
		least = minFillFactorOther
	}
	if ff := d.FillFactor(); ff < least || ff > maxFillFactor {
		c.hardly("voc_v", "the fill factor, pmax_w / (voc_v x isc_a), is %.3f; %.2f to %.2f is usual: check voc_v and isc_a",
			ff, least, maxFillFactor)
	}
	if d.ToleranceMinusW >= float64(d.PmaxW) {
		c.bad("tolerance_minus_w", "is %g W, not below pmax_w %d W", d.ToleranceMinusW, d.PmaxW)
	}
}

// checkCells compares cells, substrings and voltage.
func (d Datasheet) checkCells(c *checker) {
	switch parts := d.Substrings; {
	case d.HalfCut && d.Cells%(2*parts) != 0:
		c.bad("substrings", "is %d; the two halves of %d cells do not divide into %d equal substrings", parts, d.Cells, parts)
	case !d.HalfCut && d.Cells%parts != 0:
		c.bad("substrings", "is %d; %d cells do not divide into %d equal substrings", parts, d.Cells, parts)
	case d.CellType.CrystallineSilicon():
		if each := d.VocV / float64(d.CellsInSeries()); each < minCellVocV || each > maxCellVocV {
			c.hardly("cells", "voc_v %g V over %d cells in series is %.3f V each; %.2f to %.2f V is usual: check cells, half_cut and voc_v",
				d.VocV, d.CellsInSeries(), each, minCellVocV, maxCellVocV)
		}
	}
}

// checkCoefficients compares the temperature coefficients.
func (d Datasheet) checkCoefficients(c *checker) {
	if b := d.BetaVocPctPerK; b != 0 && b < d.GammaPmaxPctPerK {
		c.hardly("beta_voc_pct_per_k", "is %g %%/K, steeper than gamma_pmax_pct_per_k %g %%/K; usually power falls faster than open-circuit voltage: check that they are not exchanged",
			b, d.GammaPmaxPctPerK)
	}
	if v := d.BetaVmpPctPerK; v != 0 && d.BetaVocPctPerK != 0 && v > d.BetaVocPctPerK {
		c.hardly("beta_vmp_pct_per_k", "is %g %%/K, flatter than beta_voc_pct_per_k %g %%/K; usually it is steeper", v, d.BetaVocPctPerK)
	}
}

// checkRatings compares fuse and current, weight and area, design and test loads.
func (d Datasheet) checkRatings(c *checker) {
	switch fuse := d.MaxSeriesFuseA; {
	case fuse <= d.IscA:
		c.bad("max_series_fuse_a", "is %g A, not above isc_a %g A: it would blow in normal sun", fuse, d.IscA)
	case fuse < fuseOverIsc*d.IscA:
		c.hardly("max_series_fuse_a", "is %g A, below %g x isc_a = %.2f A: it may blow in bright sun", fuse, fuseOverIsc, fuseOverIsc*d.IscA)
	}
	if per := d.WeightKg / d.AreaM2(); per < minKgPerM2 || per > maxKgPerM2 {
		c.hardly("weight_kg", "%g kg on %.3f m2 is %.1f kg/m2; %d to %d is usual", d.WeightKg, d.AreaM2(), per, minKgPerM2, maxKgPerM2)
	}
	ratings := d.ratings()
	for i := 0; i < len(ratings); i += 2 {
		test, design := ratings[i], ratings[i+1]
		if test.pa > 0 && design.pa > test.pa {
			c.bad(design.field, "is %g Pa, above the test value %s %g Pa; the design value is the smaller one", design.pa, test.field, test.pa)
		}
	}
}

// rating is one load rating by its column name.
type rating struct {
	field string
	pa    float64
}

// ratings lists the load ratings, each test value followed by its design value.
func (d Datasheet) ratings() []rating {
	var out []rating
	for _, edge := range []struct {
		name string
		Loads
	}{{"long_edge", d.LongEdge}, {"short_edge", d.ShortEdge}} {
		out = append(out,
			rating{edge.name + "_front_test_pa", edge.FrontTestPa}, rating{edge.name + "_front_design_pa", edge.FrontDesignPa},
			rating{edge.name + "_rear_test_pa", edge.RearTestPa}, rating{edge.name + "_rear_design_pa", edge.RearDesignPa})
	}
	return out
}
