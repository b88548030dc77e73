package energy

import "math"

// perezBin is one clearness bin of the Perez model: it holds below epsHigh.
type perezBin struct {
	epsHigh                      float64
	f11, f12, f13, f21, f22, f23 float64
}

// perezBins are the all-sites coefficients of Perez et al. 1990, table 6, in
// the seven-decimal form in which they are distributed. The sign of f23 in bin
// 4 is negative; one public copy has it wrong.
func perezBins() [8]perezBin {
	return [8]perezBin{
		{1.065, -0.0083117, 0.5877285, -0.0620636, -0.0596012, 0.0721249, -0.0220216},
		{1.230, 0.1299457, 0.6825954, -0.1513752, -0.0189325, 0.0659650, -0.0288748},
		{1.500, 0.3296958, 0.4868735, -0.2210958, 0.0554140, -0.0639588, -0.0260542},
		{1.950, 0.5682053, 0.1874525, -0.2951290, 0.1088631, -0.1519229, -0.0139754},
		{2.800, 0.8730280, -0.3920403, -0.3616149, 0.2255647, -0.4620442, 0.0012448},
		{4.500, 1.1326077, -1.2367284, -0.4118494, 0.2877813, -0.8230357, 0.0558651},
		{6.200, 1.0601591, -1.5999137, -0.3589221, 0.2642124, -1.1272340, 0.1310694},
		{math.Inf(1), 0.6777470, -0.3272588, -0.2504286, 0.1561313, -1.3765031, 0.2506212},
	}
}

// perezKappa is the clearness constant for zenith angles in radians.
const perezKappa = 1.041

// perezClearness is the sky's clearness epsilon; 1 without diffuse light.
func perezClearness(zenithRad, dniWM2, dhiWM2 float64) float64 {
	if dhiWM2 <= 0 {
		return 1
	}
	cube := perezKappa * zenithRad * zenithRad * zenithRad
	return ((dhiWM2+dniWM2)/dhiWM2 + cube) / (1 + cube)
}

// perezBrightening returns the circumsolar and horizon brightening F1 (not
// below 0) and F2; both 0 without diffuse light.
func perezBrightening(bins [8]perezBin, zenithRad float64, l Light) (f1, f2 float64) {
	if l.DHIWM2 <= 0 || l.ExtraWM2 <= 0 {
		return 0, 0
	}
	eps := perezClearness(zenithRad, l.DNIWM2, l.DHIWM2)
	i := 0
	for eps >= bins[i].epsHigh && i < len(bins)-1 {
		i++
	}
	b := &bins[i]
	delta := l.DHIWM2 * AirMass(90-zenithRad/degree) / l.ExtraWM2
	return max(0, b.f11+b.f12*delta+b.f13*zenithRad), b.f21 + b.f22*delta + b.f23*zenithRad
}
