package energy

import "math"

// SkyModel is how diffuse light is spread over the sky.
type SkyModel string

// The sky models.
const (
	// Perez is R. Perez et al., Solar Energy 44 (1990) 271-289, with the
	// all-sites coefficients of its table 6.
	Perez SkyModel = "perez"
	// Isotropic is the same from everywhere: Liu and Jordan 1962, as in Duffie
	// and Beckman 2.15.
	Isotropic SkyModel = "isotropic"
	// HayDavies adds light from around the sun in proportion to the beam: Hay
	// and Davies 1980, as in Duffie and Beckman 2.16.
	HayDavies SkyModel = "hay_davies"
)

func (m SkyModel) check(field string) error {
	switch m {
	case Perez, Isotropic, HayDavies:
		return nil
	}
	return &ChoiceError{field, string(m), []string{string(Perez), string(Isotropic), string(HayDavies)}}
}

// Surface is how a plane lies: PitchDeg 0 (level) to 180, AzimuthDeg the
// bearing it faces.
type Surface struct{ PitchDeg, AzimuthDeg float64 }

// Normal is the unit vector that leaves the surface at right angles.
func (s Surface) Normal() Vec3 { return direction(90-s.PitchDeg, s.AzimuthDeg) }

// Light is what an hour's sun and sky are before they meet a surface.
type Light struct {
	// Toward points to the sun; Toward.Z is the sine of its elevation.
	Toward Vec3
	// GHIWM2, DNIWM2 and DHIWM2 are as in [Hour].
	GHIWM2, DNIWM2, DHIWM2 float64
	// ExtraWM2 is [ExtraterrestrialWM2] of the day.
	ExtraWM2 float64
	// Albedo is the ground's reflectance, 0 to 1.
	Albedo float64
}

// Incoming is plane irradiance by where it comes from, W/m2, before incidence
// losses.
type Incoming struct {
	// Beam comes from the sun's disc and Circumsolar from close around it.
	Beam, Circumsolar float64
	// Dome is the even part of the sky. HorizonBand comes from along the
	// horizon and can be negative, since the Perez model takes light from there
	// under bright overcast.
	Dome, HorizonBand float64
	// Ground is reflected by the ground in front.
	Ground float64
}

// Total is the sum of all parts.
func (p Incoming) Total() float64 {
	return p.Beam + p.Circumsolar + p.Dome + p.HorizonBand + p.Ground
}

// transposer puts light on one surface.
type transposer struct {
	model      SkyModel
	normal     Vec3
	cosB, sinB float64
}

func newTransposer(model SkyModel, s Surface) transposer {
	sinB, cosB := math.Sincos(s.PitchDeg * degree)
	return transposer{model: model, normal: s.Normal(), cosB: cosB, sinB: sinB}
}

// Transpose returns the irradiance of a surface. There is no beam with the sun
// below the horizon or behind the surface. The ground reflects GHI times albedo
// evenly: Duffie and Beckman 2.15.1, (1 - cos pitch) / 2.
func Transpose(model SkyModel, s Surface, l Light) Incoming {
	t := newTransposer(model, s)
	return t.put(l, skyOf(model, l))
}

// zenithCapDeg keeps the Perez air mass and clearness within their range.
const zenithCapDeg = 89.9

// skyState is what of an hour's sky does not depend on the surface.
type skyState struct {
	sinE, zenithRad float64
	f1, f2          float64 // Perez
	anisotropy      float64 // Hay and Davies: beam over extraterrestrial
}

// skyOf works out the state of the sky for a model.
func skyOf(model SkyModel, l Light) skyState {
	sinE := min(1, max(-1, l.Toward.Z))
	s := skyState{sinE: sinE, zenithRad: min(zenithCapDeg*degree, math.Acos(sinE))}
	switch model {
	case Perez:
		s.f1, s.f2 = perezBrightening(perezBins(), s.zenithRad, l)
	case HayDavies:
		if l.ExtraWM2 > 0 && sinE > 0 {
			s.anisotropy = min(1, l.DNIWM2/l.ExtraWM2)
		}
	}
	return s
}

// put returns the irradiance of the surface under a sky.
func (t *transposer) put(l Light, s skyState) Incoming {
	cosT := max(0, t.normal.dot(l.Toward))
	var p Incoming
	if s.sinE > 0 {
		p.Beam = l.DNIWM2 * cosT
	}
	p.Ground = l.GHIWM2 * l.Albedo * (1 - t.cosB) / 2
	dome := (1 + t.cosB) / 2
	switch t.model {
	case Perez:
		// cos 85 degrees bounds the ratio at sunset (Perez 1990).
		ratio := cosT / max(cos85, math.Cos(s.zenithRad))
		p.Circumsolar = l.DHIWM2 * s.f1 * ratio
		p.Dome = l.DHIWM2 * (1 - s.f1) * dome
		p.HorizonBand = l.DHIWM2 * s.f2 * t.sinB
		if p.Dome+p.HorizonBand+p.Circumsolar < 0 {
			p.HorizonBand = -p.Dome - p.Circumsolar
		}
	case HayDavies:
		// The same bound keeps the ratio finite.
		p.Circumsolar = l.DHIWM2 * s.anisotropy * cosT / max(cos85, s.sinE)
		p.Dome = l.DHIWM2 * (1 - s.anisotropy) * dome
	default:
		p.Dome = l.DHIWM2 * dome
	}
	return p
}

// cos85 is the cosine of 85 degrees.
const cos85 = 0.08715574274765817
