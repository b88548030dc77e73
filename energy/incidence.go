package energy

import "math"

// GlassModel is how glass passes light that does not meet it head on.
type GlassModel string

// The glass models.
const (
	// MartinRuiz is 1 - exp(-cos t / a) over 1 - exp(-1 / a): Martin and Ruiz,
	// Sol. Energy Mater. Sol. Cells 70 (2001) 25-38; a = 0.17 for plain silicon
	// modules (from memory), about 0.15 for coated glass (common practice, no
	// source).
	MartinRuiz GlassModel = "martin_ruiz"
	// Ashrae is 1 - b (1 / cos t - 1): Souka and Safwat 1966; b = 0.05 for flat
	// glass (from memory).
	Ashrae GlassModel = "ashrae"
	// Fresnel is reflection at a surface of refractive index 1.526 and
	// absorption KL = 0.008 in the cover: De Soto, Klein and Beckman 2006 after
	// Duffie and Beckman chapter 5.
	Fresnel GlassModel = "fresnel"
	// NoGlass passes everything.
	NoGlass GlassModel = "none"
)

// Glass is a glass model with its number.
type Glass struct {
	Model GlassModel
	// Number is a of MartinRuiz, 0.05 to 0.5, or b of Ashrae, 0 to 0.2. 0 takes
	// the default, 0.17 or 0.05; b = 0 is the model "none". The others use none.
	Number float64
}

func (g Glass) check(field string) error {
	switch g.Model {
	case MartinRuiz:
		if g.Number == 0 {
			return nil
		}
		return checkRange(field+".Number", g.Number, 0.05, 0.5)
	case Ashrae:
		return checkRange(field+".Number", g.Number, 0, 0.2)
	case Fresnel, NoGlass:
		return nil
	}
	return &ChoiceError{field + ".Model", string(g.Model),
		[]string{string(MartinRuiz), string(Ashrae), string(Fresnel), string(NoGlass)}}
}

// Pass is the share of light that passes at an angle of incidence with this
// cosine, against light that meets the glass head on: 1 there, 0 from 90
// degrees on.
func (g Glass) Pass(cosIncidence float64) float64 {
	c := min(1, cosIncidence)
	if !(c > 0) {
		return 0
	}
	switch g.Model {
	case MartinRuiz:
		a := g.Number
		if a == 0 {
			a = 0.17
		}
		return (1 - math.Exp(-c/a)) / (1 - math.Exp(-1/a))
	case Ashrae:
		b := g.Number
		if b == 0 {
			b = 0.05
		}
		return max(0, 1-b*(1/c-1))
	case Fresnel:
		return fresnelPass(c) / fresnelPass(1)
	}
	return 1
}

// fresnelIndex is the refractive index of glass and fresnelKL its extinction
// times thickness (Duffie and Beckman chapter 5).
const (
	fresnelIndex = 1.526
	fresnelKL    = 0.008
)

// FresnelReflectance is what one glass surface reflects of unpolarised light at
// an angle of incidence with this cosine, 0 to 1. Duffie and Beckman 5.1.
func FresnelReflectance(cosIncidence float64) float64 {
	if cosIncidence > 1-1e-9 {
		r := (fresnelIndex - 1) / (fresnelIndex + 1)
		return r * r
	}
	in := math.Acos(max(0, cosIncidence))
	out := math.Asin(math.Sin(in) / fresnelIndex)
	across := math.Sin(out-in) / math.Sin(out+in)
	along := math.Tan(out-in) / math.Tan(out+in)
	return (across*across + along*along) / 2
}

func fresnelPass(cosIncidence float64) float64 {
	sinOut := math.Sqrt(1-cosIncidence*cosIncidence) / fresnelIndex
	return math.Exp(-fresnelKL/math.Sqrt(1-sinOut*sinOut)) * (1 - FresnelReflectance(cosIncidence))
}

// diffusePass is the share of diffuse light that passes the glass of a surface,
// from the even sky, from along the horizon and from the ground.
type diffusePass struct{ dome, horizon, ground float64 }

// newDiffusePass adds up the glass over the directions that each kind of light
// comes from, weighted by the cosine of incidence, in steps of 3 degrees. Left
// and right of the surface's bearing are alike, so that half a turn is enough.
func newDiffusePass(g Glass, s Surface) diffusePass {
	normal := s.Normal()
	over := func(fromDeg, toDeg float64) float64 {
		const step = 3
		var passed, all float64
		for e := fromDeg + step/2.0; e < toDeg; e += step {
			for a := step / 2.0; a < 180; a += step {
				c := normal.dot(direction(e, s.AzimuthDeg+a))
				if c <= 0 {
					continue
				}
				w := c * math.Cos(e*degree)
				passed += w * g.Pass(c)
				all += w
			}
		}
		if all == 0 { // a level surface sees no ground
			return 1
		}
		return passed / all
	}
	return diffusePass{dome: over(0, 90), horizon: over(0, 12), ground: over(-90, 0)}
}
