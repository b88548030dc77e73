package energy

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// wm2 turns an hour's MJ/m2 into its mean W/m2 and back.
const wm2 = 1e6 / 3600

// handbookHour is the hour of Duffie and Beckman example 2.15.1: latitude 40,
// 20 February, 9 to 10 solar time, I 1.04 MJ/m2, diffuse 0.796, albedo 0.6.
func handbookHour() Light {
	sun := handbookSun(40, cooper(51), -37.5)
	return Light{
		Toward: sun, GHIWM2: 1.04 * wm2, DHIWM2: 0.796 * wm2, DNIWM2: 0.244 * wm2 / sun.Z,
		ExtraWM2: ExtraterrestrialWM2(51), Albedo: 0.6,
	}
}

func TestHandbookHourGeometry(t *testing.T) {
	l := handbookHour()
	near(t, "zenith", math.Acos(l.Toward.Z)/degree, 62.2, 0.1)
	cosT := Surface{60, 180}.Normal().dot(l.Toward)
	near(t, "incidence", math.Acos(cosT)/degree, 37.0, 0.1)
	near(t, "beam ratio", cosT/l.Toward.Z, 1.71, 0.01)
	const kt = 1.04 / 2.34
	near(t, "diffuse by Erbs", 1.04*ErbsHourly(kt), 0.796, 0.01)
}

func TestHandbookHourOnTheTilt(t *testing.T) {
	for _, c := range []struct {
		name      string
		model     SkyModel
		total     float64 // MJ/m2
		tolerance float64
	}{
		{"isotropic, example 2.15.1", Isotropic, 1.17, 0.01},
		{"Hay and Davies, computed on the same data", HayDavies, 1.251, 0.005},
		{"Perez, example 2.16.2", Perez, 1.37, 0.01},
	} {
		t.Run(c.name, func(t *testing.T) {
			near(t, "total", Transpose(c.model, Surface{60, 180}, handbookHour()).Total()/wm2, c.total, c.tolerance)
		})
	}
	p := Transpose(Perez, Surface{60, 180}, handbookHour())
	// The three parts of that example: F1 0.256 of 0.796 MJ is 0.204, times 1.71
	// is 0.349 from around the sun; the rest of 0.592, times 0.75, is 0.444.
	near(t, "Perez circumsolar", p.Circumsolar/wm2, 0.349, 0.005)
	near(t, "Perez dome", p.Dome/wm2, 0.444, 0.005)
	near(t, "Perez horizon band", p.HorizonBand/wm2, 0.003, 0.002)
	near(t, "Perez diffuse, example 2.16.2", (p.Circumsolar+p.Dome+p.HorizonBand)/wm2, 0.797, 0.01)
	near(t, "ground", p.Ground/wm2, 0.156, 0.005)
}

// Duffie and Beckman example 2.16.2.
func TestHandbookPerezState(t *testing.T) {
	l := handbookHour()
	zenith := math.Acos(l.Toward.Z)
	near(t, "clearness", perezClearness(zenith, l.DNIWM2, l.DHIWM2), 1.28, 0.01)
	f1, f2 := perezBrightening(perezBins(), zenith, l)
	near(t, "F1", f1, 0.256, 0.005)
	near(t, "F2", f2, 0.005, 0.002)
}

// perez1990.csv: Perez et al. 1990, table 6.
func TestPerezCoefficients(t *testing.T) {
	bins := perezBins()
	for i, row := range table(t, "perez1990.csv") {
		b := bins[i]
		if want := number(t, row, "eps_high"); b.epsHigh != want {
			t.Errorf("bin %d ends at %g, want %g", i+1, b.epsHigh, want)
		}
		for name, got := range map[string]float64{"f11": b.f11, "f12": b.f12, "f13": b.f13, "f21": b.f21, "f22": b.f22, "f23": b.f23} {
			near(t, row["bin"]+" "+name, got, number(t, row, name+"_full"), 0)
			near(t, row["bin"]+" "+name+" as printed", got, number(t, row, name), 0.00061)
		}
	}
}

// A level surface gets the horizontal diffuse back, in every bin, for zenith up
// to 85 degrees (section 3 of the reference).
func TestLevelSurfaceGivesTheDiffuseBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		toward := direction(rapid.Float64Range(5, 90).Draw(t, "elevation"), rapid.Float64Range(0, 360).Draw(t, "azimuth"))
		l := Light{
			Toward: toward, DHIWM2: rapid.Float64Range(0.1, 600).Draw(t, "dhi"),
			DNIWM2: rapid.Float64Range(0, 1100).Draw(t, "dni"), ExtraWM2: 1367, Albedo: 0.2,
		}
		l.GHIWM2 = l.DHIWM2 + l.DNIWM2*toward.Z
		for _, model := range []SkyModel{Perez, Isotropic, HayDavies} {
			p := Transpose(model, Surface{0, rapid.Float64Range(0, 359).Draw(t, "facing")}, l)
			if math.Abs(p.Total()-l.GHIWM2) > 1e-9*l.GHIWM2+1e-9 {
				t.Fatalf("%s: %g on the level, GHI %g", model, p.Total(), l.GHIWM2)
			}
		}
	})
}

func TestTransposeIsNeverNegative(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Light{
			Toward: direction(rapid.Float64Range(-20, 90).Draw(t, "elevation"), rapid.Float64Range(0, 360).Draw(t, "azimuth")),
			GHIWM2: rapid.Float64Range(0, 1200).Draw(t, "ghi"), DHIWM2: rapid.Float64Range(0, 600).Draw(t, "dhi"),
			DNIWM2: rapid.Float64Range(0, 1100).Draw(t, "dni"), ExtraWM2: 1367, Albedo: rapid.Float64Range(0, 1).Draw(t, "albedo"),
		}
		s := Surface{rapid.Float64Range(0, 90).Draw(t, "pitch"), rapid.Float64Range(0, 360).Draw(t, "facing")}
		for _, model := range []SkyModel{Perez, Isotropic, HayDavies} {
			p := Transpose(model, s, l)
			// F1 can pass 1 with the sun low: then the dome alone is negative.
			if p.Beam < 0 || p.Circumsolar < 0 || p.Ground < 0 || p.Total() < -1e-9 || math.IsNaN(p.Total()) {
				t.Fatalf("%s: %+v", model, p)
			}
			if l.Toward.Z <= 0 && p.Beam != 0 {
				t.Fatalf("%s: beam %g with the sun down", model, p.Beam)
			}
		}
	})
}

// tilt_madison_60deg.csv: Duffie and Beckman example 2.19.1 (Liu and Jordan
// 1962, Klein 1977), a check of the isotropic model and Erbs's monthly curve.
// Klein's mean beam ratio stands here; the product works hour by hour.
func TestMadisonMonths(t *testing.T) {
	const lat, tilt = 43, 60
	for _, row := range table(t, "tilt_madison_60deg.csv") {
		n := int(number(t, row, "mean_day_n"))
		h, h0 := number(t, row, "H_MJ_m2"), number(t, row, "H0_MJ_m2")
		ws := SunsetHourAngleDeg(lat, cooper(n))
		diffuse := h * ErbsMonthly(h/h0, ws)
		tilted := Transpose(Isotropic, Surface{tilt, 180}, Light{GHIWM2: h, DHIWM2: diffuse, Albedo: number(t, row, "albedo")}).Total()
		tilted += (h - diffuse) * kleinRatio(lat, tilt, cooper(n), ws)
		near(t, "month "+row["month"], tilted, number(t, row, "HT_published_MJ_m2"), 0.06)
	}
}

// kleinRatio is the monthly mean beam ratio of a surface that faces south:
// Klein 1977, Duffie and Beckman 2.19.3.
func kleinRatio(lat, tilt, declination, ws float64) float64 {
	wsTilted := min(ws, SunsetHourAngleDeg(lat-tilt, declination))
	on := func(lat, w float64) float64 {
		return math.Cos(lat*degree)*math.Cos(declination*degree)*math.Sin(w*degree) +
			w*degree*math.Sin(lat*degree)*math.Sin(declination*degree)
	}
	return on(lat-tilt, wsTilted) / on(lat, ws)
}

func TestSkyModelNames(t *testing.T) {
	for _, m := range []SkyModel{Perez, Isotropic, HayDavies} {
		if err := m.check("Sky"); err != nil {
			t.Error(err)
		}
	}
	if err := SkyModel("clear").check("Sky"); err == nil {
		t.Error("an unknown model passes")
	}
}
