package structural

import "math"

// Curve says which family of slope factor curves of ASCE 7 Fig. 7.4-1 a roof
// follows: the colder its surface, the longer snow stays on it.
type Curve string

// The curves, from the one that keeps most snow to the one that keeps least.
const (
	// ColdRoof goes with Ct >= 1.2: unheated space or open air below.
	ColdRoof Curve = "cold"
	// CoolRoof goes with Ct 1.1: well insulated and ventilated.
	CoolRoof Curve = "cool"
	// WarmRoof goes with Ct <= 1.0: heated below.
	WarmRoof Curve = "warm"
)

// Values of the low-slope minimum of ASCE 7 7.3.4, from memory.
const (
	lowSlopeDeg    = 15
	lowSlopeCap716 = 957.6  // 20 psf
	lowSlopeCap722 = 1436.4 // 30 psf, risk category II
)

// ASCESnow is roof snow after ASCE 7. [DefaultASCESnow] gives the defaults;
// every figure must be in its range.
type ASCESnow struct {
	Edition Edition `json:"edition"`
	// GroundPa is the ground snow load pg, 0 to 30 000 Pa, from the code's map
	// or the building official; with edition 7-22 it is at strength level and
	// for the risk category.
	GroundPa float64 `json:"ground_pa"`
	// ExposureCe is 0.7 to 1.2; ThermalCt 0.85 to 1.3.
	ExposureCe float64 `json:"exposure_ce"`
	ThermalCt  float64 `json:"thermal_ct"`
	// ImportanceIs is 0.8 to 1.2 with edition 7-16 and 1 with 7-22, which has no
	// such factor.
	ImportanceIs float64 `json:"importance_is"`
	// Curve picks the slope factor. A curve that holds less snow than ThermalCt
	// goes with is refused.
	Curve Curve `json:"curve"`
	// Slippery says that snow slides off freely: a smooth surface, nothing that
	// holds it, room for it below the eave.
	Slippery bool `json:"slippery"`
	// RoofRM2KPerW is the roof's thermal resistance, 0 to 20 m2 K/W, and
	// Ventilated says whether it is ventilated. Both matter for a warm slippery
	// roof alone (ASCE 7-16 7.4.1).
	RoofRM2KPerW float64 `json:"roof_r_m2k_per_w"`
	Ventilated   bool    `json:"ventilated"`
	// LowSlopeCapPa bounds the minimum load of roofs under 15 degrees, 0 to
	// 3000 Pa, before the importance factor.
	LowSlopeCapPa float64 `json:"low_slope_cap_pa"`
	// ExtraPa is added on the roof for drifting, unbalanced or sliding snow that
	// an engineer has found, 0 to 30 000 Pa of plan area.
	ExtraPa float64 `json:"extra_pa"`
}

// DefaultASCESnow returns the defaults of an edition for a ground snow load: a
// cold, unobstructed but not slippery roof of ordinary exposure and importance,
// which keeps the most snow.
func DefaultASCESnow(e Edition, groundPa float64) ASCESnow {
	s := ASCESnow{
		Edition: e, GroundPa: groundPa, ExposureCe: 1, ThermalCt: 1.2, ImportanceIs: 1,
		Curve: ColdRoof, LowSlopeCapPa: lowSlopeCap716,
	}
	if e == ASCE722 {
		s.LowSlopeCapPa = lowSlopeCap722
	}
	return s
}

// Check returns an [*InputError] for the first figure out of range.
func (s ASCESnow) Check() error {
	if s.Edition != ASCE716 && s.Edition != ASCE722 {
		return bad("edition", "is %q; it must be %q or %q", s.Edition, ASCE716, ASCE722)
	}
	err := checkSpans(
		span{"ground_pa", s.GroundPa, 0, 30000, "Pa"}, span{"exposure_ce", s.ExposureCe, 0.7, 1.2, ""},
		span{"thermal_ct", s.ThermalCt, 0.85, 1.3, ""}, span{"importance_is", s.ImportanceIs, 0.8, 1.2, ""},
		span{"roof_r_m2k_per_w", s.RoofRM2KPerW, 0, 20, "m2 K/W"},
		span{"low_slope_cap_pa", s.LowSlopeCapPa, 0, 3000, "Pa"}, span{"extra_pa", s.ExtraPa, 0, 30000, "Pa"})
	switch {
	case err != nil:
		return err
	case s.Edition == ASCE722 && s.ImportanceIs != 1:
		return bad("importance_is", "is %g; edition 7-22 has no such factor, it must be 1", s.ImportanceIs)
	case s.Curve == WarmRoof && s.ThermalCt > 1, s.Curve == CoolRoof && s.ThermalCt >= 1.2:
		return bad("curve", "is %q with Ct %g; it must be that of a colder roof (warm goes with Ct to 1.0, cool with less than 1.2)", s.Curve, s.ThermalCt)
	case s.Curve != WarmRoof && s.Curve != CoolRoof && s.Curve != ColdRoof:
		return bad("curve", "is %q; it must be %q, %q or %q", s.Curve, ColdRoof, CoolRoof, WarmRoof)
	}
	return nil
}

// slipperyHolds reports whether the slippery curve may be used: on a warm roof
// only where its resistance is at least 30 h ft2 F/Btu, or 20 where it is
// ventilated (ASCE 7-16 7.4.1).
func (s ASCESnow) slipperyHolds() bool {
	const (
		m2KPerWOfR = 0.1761102 // one h ft2 F/Btu
		roundedR   = 1e-3      // 5.28 m2 K/W is R 30 as people write it
	)
	least := 30.0
	if s.Ventilated {
		least = 20
	}
	return s.Slippery && (s.Curve != WarmRoof || s.RoofRM2KPerW/m2KPerWOfR >= least*(1-roundedR))
}

// FlatPa is the flat-roof snow load pf = 0.7 Ce Ct Is pg.
func (s ASCESnow) FlatPa() float64 {
	return 0.7 * s.ExposureCe * s.ThermalCt * s.ImportanceIs * s.GroundPa
}

// SlopeFactor is Cs of ASCE 7 Fig. 7.4-1 for a pitch in degrees: 1 up to where
// the curve starts, 0 from 70 degrees on, straight between. An unknown curve
// counts as ColdRoof.
func SlopeFactor(c Curve, slippery bool, pitchDeg float64) float64 {
	const endDeg = 70
	start, slipperyStart := 45.0, 15.0
	switch c {
	case WarmRoof:
		start, slipperyStart = 30, 5
	case CoolRoof:
		start, slipperyStart = 37.5, 10
	}
	if slippery {
		start = slipperyStart
	}
	return min(1, max(0, (endDeg-pitchDeg)/(endDeg-start)))
}

// roofSnow is snow on one plane: pascals of plan area, and the figures that
// lead to it.
type roofSnow struct {
	pa          float64
	exceptional float64 // EN only; 0 where it is not asked for
	figures     []Figure
}

// on returns the snow on a plane.
func (s ASCESnow) on(pitchDeg float64) roofSnow {
	flat := s.FlatPa()
	cs := SlopeFactor(s.Curve, s.slipperyHolds(), pitchDeg)
	sloped := float64(cs * flat)
	formula, importance, source := "0.7 x Ce x Ct x Is x ground snow", num(s.ImportanceIs)+" x ", "ASCE 7-16 7.3; factors from memory but 0.7"
	if s.Edition == ASCE722 {
		formula, importance, source = "0.7 x Ce x Ct x ground snow", "", "ASCE 7-22 7.3, strength level; from memory"
	}
	out := roofSnow{pa: sloped, figures: []Figure{
		{"snow_flat", "Snow on a flat roof", formula,
			"0.7 x " + num(s.ExposureCe) + " x " + num(s.ThermalCt) + " x " + importance + whole(s.GroundPa) + " Pa = " + whole(flat) + " Pa",
			flat, "Pa", source},
		{"snow_slope_factor", "Slope factor", "1 to where the curve starts, falling to 0 at 70 deg",
			string(s.Curve) + " roof, " + surfaceText(s.slipperyHolds()) + ", " + num(pitchDeg) + " deg: Cs = " + rounded(cs, 4), cs, "",
			"ASCE 7-16 Fig. 7.4-1"},
		{"snow_sloped", "Snow on this roof, of plan area", "Cs x flat roof snow",
			rounded(cs, 4) + " x " + whole(flat) + " Pa = " + whole(sloped) + " Pa", sloped, "Pa", "ASCE 7-16 7.4"},
	}}
	if least := s.lowSlopePa(); pitchDeg < lowSlopeDeg && least > out.pa {
		out.pa = least
		out.figures = append(out.figures, Figure{"snow_low_slope", "Least snow under 15 deg", "Is x the lesser of ground snow and " + whole(s.LowSlopeCapPa) + " Pa",
			num(s.ImportanceIs) + " x " + whole(min(s.GroundPa, s.LowSlopeCapPa)) + " Pa = " + whole(least) + " Pa", least, "Pa", "ASCE 7 7.3.4, from memory"})
	}
	out.pa += s.ExtraPa
	out.figures = append(out.figures, extraFigure(s.ExtraPa, out.pa)...)
	return out
}

// lowSlopePa is the least load of roofs under 15 degrees.
func (s ASCESnow) lowSlopePa() float64 {
	return float64(s.ImportanceIs * min(s.GroundPa, s.LowSlopeCapPa))
}

func surfaceText(slippery bool) string {
	if slippery {
		return "slippery"
	}
	return "not slippery"
}

// extraFigure shows what was typed for drifts, nothing where it is 0.
func extraFigure(extraPa, sumPa float64) []Figure {
	if extraPa == 0 {
		return nil
	}
	return []Figure{{"snow_extra", "Snow with drifts as typed", "snow + typed extra",
		whole(sumPa-extraPa) + " Pa + " + whole(extraPa) + " Pa = " + whole(sumPa) + " Pa", sumPa, "Pa", "typed"}}
}

// ENSnow is roof snow after EN 1991-1-3. [DefaultENSnow] gives the defaults;
// every figure must be in its range.
type ENSnow struct {
	// GroundPa is the characteristic ground snow load sk, 0 to 30 000 Pa, from
	// the national annex.
	GroundPa float64 `json:"ground_pa"`
	// ExposureCe is 0.8 to 1.2; ThermalCt 0.5 to 1.2.
	ExposureCe float64 `json:"exposure_ce"`
	ThermalCt  float64 `json:"thermal_ct"`
	// SnowGuards says that something holds the snow on the roof: mu1 is then
	// 0.8 at least.
	SnowGuards bool `json:"snow_guards"`
	// Exceptional asks for the accidental case of exceptional ground snow too,
	// where the national annex has it; ExceptionalFactor is Cesl, 1 to 3.
	Exceptional       bool    `json:"exceptional"`
	ExceptionalFactor float64 `json:"exceptional_factor"`
	// Psi0 is the combination factor of snow beside leading wind, 0 to 1.
	Psi0 float64 `json:"psi0"`
	// ExtraPa is added on the roof for drifting or sliding snow that an engineer
	// has found, 0 to 30 000 Pa of plan area.
	ExtraPa float64 `json:"extra_pa"`
}

// DefaultENSnow returns the defaults for a ground snow load: Ce and Ct 1, no
// snow guards, psi0 0.5 (sites up to 1000 m; 0.7 above), no exceptional case.
func DefaultENSnow(groundPa float64) ENSnow {
	return ENSnow{GroundPa: groundPa, ExposureCe: 1, ThermalCt: 1, ExceptionalFactor: 2, Psi0: 0.5}
}

// Check returns an [*InputError] for the first figure out of range.
func (s ENSnow) Check() error {
	return checkSpans(
		span{"ground_pa", s.GroundPa, 0, 30000, "Pa"}, span{"exposure_ce", s.ExposureCe, 0.8, 1.2, ""},
		span{"thermal_ct", s.ThermalCt, 0.5, 1.2, ""}, span{"exceptional_factor", s.ExceptionalFactor, 1, 3, ""},
		span{"psi0", s.Psi0, 0, 1, ""}, span{"extra_pa", s.ExtraPa, 0, 30000, "Pa"})
}

// Mu1 is the shape factor of EN 1991-1-3 Table 5.2 for undrifted snow: 0.8 to
// 30 degrees, 0.8 (60 - pitch) / 30 to 60, then 0; with snow guards 0.8.
func Mu1(pitchDeg float64, snowGuards bool) float64 {
	if snowGuards {
		return 0.8
	}
	return 0.8 * min(1, max(0, (60-pitchDeg)/30))
}

// on returns the snow on a plane: the undrifted load governs, for the drifted
// arrangements of EN 1991-1-3 5.3.3 take half of it off one side.
func (s ENSnow) on(pitchDeg float64) roofSnow {
	mu := Mu1(pitchDeg, s.SnowGuards)
	pa := float64(mu * s.ExposureCe * s.ThermalCt * s.GroundPa)
	factors := rounded(mu, 4) + " x " + num(s.ExposureCe) + " x " + num(s.ThermalCt) + " x "
	out := roofSnow{pa: pa + s.ExtraPa, figures: []Figure{
		{"snow_shape_factor", "Shape factor", "0.8 to 30 deg, 0.8 x (60 - pitch) / 30 to 60 deg, then 0; 0.8 with snow guards",
			num(pitchDeg) + " deg: mu1 = " + rounded(mu, 4), mu, "", "EN 1991-1-3 Table 5.2; above 30 deg from memory"},
		{"snow_sloped", "Snow on this roof, of plan area", "mu1 x Ce x Ct x ground snow",
			factors + whole(s.GroundPa) + " Pa = " + whole(pa) + " Pa", pa, "Pa", "EN 1991-1-3 5.2"},
		{"snow_drifted", "Drifted case, the lighter side", "0.5 x snow on this roof",
			"0.5 x " + whole(pa) + " Pa = " + whole(pa/2) + " Pa", pa / 2, "Pa", "EN 1991-1-3 5.3.3"},
	}}
	out.figures = append(out.figures, extraFigure(s.ExtraPa, out.pa)...)
	if s.Exceptional {
		ground := s.ExceptionalFactor * s.GroundPa
		roof := float64(s.ExceptionalFactor * pa)
		out.exceptional = roof + s.ExtraPa
		out.figures = append(out.figures,
			Figure{"snow_exceptional_ground", "Exceptional ground snow", "Cesl x ground snow",
				num(s.ExceptionalFactor) + " x " + whole(s.GroundPa) + " Pa = " + whole(ground) + " Pa", ground, "Pa", "EN 1991-1-3 4.3"},
			Figure{"snow_exceptional", "Exceptional snow on this roof, of plan area", "mu1 x Ce x Ct x exceptional ground snow",
				factors + whole(ground) + " Pa = " + whole(roof) + " Pa", roof, "Pa", "EN 1991-1-3 5.2"})
	}
	return out
}

// normalPart is the share of a vertical load on plan area that presses squarely
// on a plane: the area grows by 1 / cos, and cos of the force is square to it.
func normalPart(pitchDeg float64) float64 {
	c := math.Cos(pitchDeg * degree)
	return c * c
}
