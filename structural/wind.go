package structural

import (
	"math"
	"slices"
)

// feetPerM turns metres into feet.
const feetPerM = 1 / 0.3048

// Exposure is the roughness of the ground around a building, ASCE 7 26.7.
type Exposure string

// The exposures.
const (
	// ExposureB: suburbs and woods. C: open country. D: flat, by open water.
	ExposureB Exposure = "b"
	ExposureC Exposure = "c"
	ExposureD Exposure = "d"
)

// FlushWind is wind after ASCE 7 on modules that lie parallel to the roof (29.4.4
// in 7-16). [DefaultFlushWind] gives the defaults; every figure must be in its
// range.
type FlushWind struct {
	Edition Edition `json:"edition"`
	// SpeedMPS is the basic wind speed, 3-second gust at strength level, 20 to
	// 120 m/s.
	SpeedMPS float64  `json:"speed_mps"`
	Exposure Exposure `json:"exposure"`
	// MeanRoofHeightM is the height of the roof's middle above ground, 1 to
	// 200 m; past 18.3 m (60 ft) no pressure is given.
	MeanRoofHeightM float64 `json:"mean_roof_height_m"`
	// BuildingWidthM is the building's smaller side in plan, 2 to 200 m. It
	// sets the width of the roof zones.
	BuildingWidthM float64 `json:"building_width_m"`
	// DirectionKd is 0.85 to 1, HillKzt 1 to 3, ElevationKe 0.45 to 1.1.
	DirectionKd float64 `json:"direction_kd"`
	HillKzt     float64 `json:"hill_kzt"`
	ElevationKe float64 `json:"elevation_ke"`
	// LowB070 raises Kz of exposure B to 0.70 below 30 ft, as some procedures of
	// the standard require.
	LowB070 bool `json:"low_b_070"`
	// Enclosed says that the building is enclosed or partially enclosed.
	Enclosed bool `json:"enclosed"`
	// TiltToRoofDeg is the angle between modules and roof, 0 to 90.
	TiltToRoofDeg float64 `json:"tilt_to_roof_deg"`
	// HeightAboveRoofM is from the roof to the top of the modules, 0 to 3 m.
	HeightAboveRoofM float64 `json:"height_above_roof_m"`
	// AllExposed gives every module the edge factor, whatever its neighbours.
	AllExposed bool `json:"all_exposed"`
	// GCp are pressure coefficients by roof zone, at most one a zone; empty
	// takes the table of this package, which is from memory.
	GCp []ZoneGCp `json:"gcp"`
	// LeastPa is the least wind pressure of either direction, 0 to 2000 Pa.
	LeastPa float64 `json:"least_pa"`
}

// ZoneGCp is the pressure coefficient of one roof zone: Up, the suction, as a
// number of 0 to 6 without its sign, Down 0 to 3.
type ZoneGCp struct {
	Zone Zone    `json:"zone"`
	Up   float64 `json:"up"`
	Down float64 `json:"down"`
}

// DefaultFlushWind returns the defaults: exposure C, Kd 0.85, Kzt and Ke 1, an
// enclosed building, modules parallel to the roof with their top 0.15 m above
// it, 766 Pa (16 psf) at least. Speed, height and width of the building have no
// default that is safe everywhere and are passed in.
func DefaultFlushWind(e Edition, speedMPS, meanRoofHeightM, buildingWidthM float64) FlushWind {
	return FlushWind{
		Edition: e, SpeedMPS: speedMPS, Exposure: ExposureC, MeanRoofHeightM: meanRoofHeightM, BuildingWidthM: buildingWidthM,
		DirectionKd: 0.85, HillKzt: 1, ElevationKe: 1, LowB070: true, Enclosed: true, HeightAboveRoofM: 0.15, LeastPa: 766,
	}
}

// Check returns an [*InputError] for the first figure out of range. A condition
// of the rule that is not met is no error.
func (w FlushWind) Check() error {
	if w.Edition != ASCE716 && w.Edition != ASCE722 {
		return bad("edition", "is %q; it must be %q or %q", w.Edition, ASCE716, ASCE722)
	}
	if w.Exposure != ExposureB && w.Exposure != ExposureC && w.Exposure != ExposureD {
		return bad("exposure", "is %q; it must be %q, %q or %q", w.Exposure, ExposureB, ExposureC, ExposureD)
	}
	err := checkSpans(
		span{"speed_mps", w.SpeedMPS, 20, 120, "m/s"}, span{"mean_roof_height_m", w.MeanRoofHeightM, 1, 200, "m"},
		span{"building_width_m", w.BuildingWidthM, 2, 200, "m"}, span{"direction_kd", w.DirectionKd, 0.85, 1, ""},
		span{"hill_kzt", w.HillKzt, 1, 3, ""}, span{"elevation_ke", w.ElevationKe, 0.45, 1.1, ""},
		span{"tilt_to_roof_deg", w.TiltToRoofDeg, 0, 90, "deg"}, span{"height_above_roof_m", w.HeightAboveRoofM, 0, 3, "m"},
		span{"least_pa", w.LeastPa, 0, 2000, "Pa"})
	if err != nil {
		return err
	}
	for i, g := range w.GCp {
		if !slices.Contains(Zones(), g.Zone) {
			return bad("gcp", "names zone %q; it must be one of %v", g.Zone, Zones())
		}
		if slices.ContainsFunc(w.GCp[:i], func(o ZoneGCp) bool { return o.Zone == g.Zone }) {
			return bad("gcp", "names zone %q twice", g.Zone)
		}
		if err := checkSpans(span{"gcp up of zone " + string(g.Zone), g.Up, 0, 6, ""}, span{"gcp down of zone " + string(g.Zone), g.Down, 0, 3, ""}); err != nil {
			return err
		}
	}
	return nil
}

// TypedWind is wind pressure square to the modules that somebody else has found:
// at strength level in the ASCE family, characteristic in the EN family. Each
// 0 to 20 000 Pa, without sign.
type TypedWind struct {
	UpPa   float64 `json:"up_pa"`
	DownPa float64 `json:"down_pa"`
}

// Check returns an [*InputError] for a pressure out of range.
func (w TypedWind) Check() error {
	return checkSpans(span{"up_pa", w.UpPa, 0, 20000, "Pa"}, span{"down_pa", w.DownPa, 0, 20000, "Pa"})
}

// Kz is the velocity pressure exposure coefficient at a height of at most 18.3 m
// (60 ft); below 15 ft it is that of 15 ft. Edition 7-16 takes straight lines
// between the rows of Table 26.10-1, 7-22 the formula 2.41 (z / zg) ^ (2 / alpha)
// of Table 26.11-1. An unknown exposure or a greater height gives an
// [*InputError].
func Kz(e Edition, x Exposure, heightM float64) (float64, error) {
	const lowestFt, highestFt = 15, 60
	at := slices.Index([]Exposure{ExposureB, ExposureC, ExposureD}, x)
	if at < 0 {
		return 0, bad("exposure", "is %q; it must be %q, %q or %q", x, ExposureB, ExposureC, ExposureD)
	}
	if !(heightM >= 0 && heightM*feetPerM <= highestFt*(1+roundSlack)) {
		return 0, bad("mean_roof_height_m", "is %g; it must be 0 to 18.288 m (60 ft)", heightM)
	}
	ft := min(highestFt, max(lowestFt, heightM*feetPerM))
	if e == ASCE722 {
		alpha := [3]float64{7.5, 9.8, 11.5}[at]
		zg := [3]float64{3280, 2460, 1935}[at]
		return 2.41 * math.Pow(ft/zg, 2/alpha), nil
	}
	return kzTable(at, ft), nil
}

// kzTable reads ASCE 7-16 Table 26.10-1 for 15 to 60 ft; column 0 to 2 is
// exposure B to D.
func kzTable(column int, ft float64) float64 {
	rows := [...]struct {
		ft float64
		kz [3]float64
	}{
		{15, [3]float64{0.57, 0.85, 1.03}}, {20, [3]float64{0.62, 0.90, 1.08}}, {25, [3]float64{0.66, 0.94, 1.12}},
		{30, [3]float64{0.70, 0.98, 1.16}}, {40, [3]float64{0.76, 1.04, 1.22}}, {50, [3]float64{0.81, 1.09, 1.27}},
		{60, [3]float64{0.85, 1.13, 1.31}},
	}
	for i, hi := range rows[1:] {
		if lo := rows[i]; ft <= hi.ft {
			share := (ft - lo.ft) / (hi.ft - lo.ft)
			return float64(lo.kz[column]*(1-share)) + float64(hi.kz[column]*share)
		}
	}
	return rows[len(rows)-1].kz[column]
}

// VelocityPressurePa is 0.613 Kz Kzt Kd Ke V2, V in m/s (ASCE 7-16 26.10).
// Edition 7-22 moves Kd to the pressure; the product is the same.
func VelocityPressurePa(kz, kzt, kd, ke, speedMPS float64) float64 {
	return 0.613 * kz * kzt * kd * ke * speedMPS * speedMPS
}

// velocityPressure returns qh of a sound input whose height is in the table.
func (w FlushWind) velocityPressure() (float64, []Figure, error) {
	kz, err := Kz(w.Edition, w.Exposure, w.MeanRoofHeightM)
	if err != nil {
		return 0, nil, err
	}
	source := "ASCE 7-16 Table 26.10-1"
	if w.Edition == ASCE722 {
		source = "ASCE 7-22 Table 26.11-1, from memory"
	}
	numbers := num(w.MeanRoofHeightM) + " m, exposure " + string(w.Exposure) + ": Kz = " + num(kz)
	if least := 0.70; w.LowB070 && w.Exposure == ExposureB && kz < least {
		numbers += ", raised to " + num(least)
		source += "; 0.70 below 30 ft in exposure B, from memory"
		kz = least
	}
	q := VelocityPressurePa(kz, w.HillKzt, w.DirectionKd, w.ElevationKe, w.SpeedMPS)
	return q, []Figure{
		{"kz", "Height and exposure factor", "by mean roof height, at least that of 15 ft", numbers, kz, "", source},
		{"velocity_pressure", "Velocity pressure", "0.613 x Kz x Kzt x Kd x Ke x speed squared",
			"0.613 x " + num(kz) + " x " + num(w.HillKzt) + " x " + num(w.DirectionKd) + " x " + num(w.ElevationKe) + " x (" + num(w.SpeedMPS) + " m/s)2 = " + whole(q) + " Pa",
			q, "Pa", "ASCE 7-16 26.10; Kd, Kzt and Ke from memory"},
	}, nil
}

// PressureEqualisation is gamma_a of the flush rule for a module's area: 0.8 to
// 10 ft2 (0.929 m2), 0.4 from 100 ft2 on, straight over the logarithm between
// (ASCE 7-16 Fig. 29.4-8).
func PressureEqualisation(areaM2 float64) float64 {
	ft2 := areaM2 * feetPerM * feetPerM
	return min(0.8, max(0.4, 0.8-float64(0.4*math.Log10(ft2/10))))
}

// Edge factors gamma_E of the flush rule, for suction.
const (
	exposedEdgeFactor = 1.5
	innerEdgeFactor   = 1.0
)
