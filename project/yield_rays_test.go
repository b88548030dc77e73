//go:build !js

package project

import (
	"cmp"
	"math"
	"slices"
	"testing"
	"time"

	"rooftally/energy"
)

// This file reckons the light on modules a second time, by walking along rays
// through the drawing. It shares no code with the reckoning but the hours of
// the year: its own frames, heights, sun and sky.

type spot struct{ x, y, z float64 }

// slab is something that fills the space under a top: a roof plane down to the
// ground, a chimney, a house.
type slab struct {
	ring [][2]float64
	top  func(x, y float64) float64
}

func (s slab) holds(p spot) bool {
	odd := false
	for i, a := range s.ring {
		b := s.ring[(i+1)%len(s.ring)]
		if (a[1] > p.y) != (b[1] > p.y) && p.x < a[0]+(p.y-a[1])*(b[0]-a[0])/(b[1]-a[1]) {
			odd = !odd
		}
	}
	return odd && p.z < s.top(p.x, p.y)
}

// steep is the height of a plane: its eave at its lowest corner, rising against
// the way it faces.
func steep(p Plane) func(x, y float64) float64 {
	a, rise := p.AzimuthDeg*math.Pi/180, math.Tan(p.PitchDeg*math.Pi/180)
	down := func(x, y float64) float64 { return x*math.Sin(a) + y*math.Cos(a) }
	lowest := math.Inf(-1)
	for _, c := range p.Ring {
		lowest = max(lowest, down(c.XM, c.YM))
	}
	return func(x, y float64) float64 { return p.EaveHeightM + rise*(lowest-down(x, y)) }
}

func flat(heightM float64) func(x, y float64) float64 {
	return func(float64, float64) float64 { return heightM }
}

// slabs are everything in a drawing that blocks light. Its keep-outs stand with
// their middle over their first plane.
func slabs(d Document) []slab {
	var out []slab
	for _, p := range d.Planes {
		s := slab{top: steep(p)}
		for _, c := range p.Ring {
			s.ring = append(s.ring, [2]float64{c.XM, c.YM})
		}
		out = append(out, s)
	}
	on := steep(d.Planes[0])
	for _, k := range d.KeepOuts {
		s := slab{top: flat(on(k.Center.XM, k.Center.YM) + k.HeightM)}
		turn := k.TurnDeg * math.Pi / 180
		for _, c := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			right, ahead := c[0]*k.WidthM/2, c[1]*k.DepthM/2
			s.ring = append(s.ring, [2]float64{
				k.Center.XM + right*math.Cos(turn) + ahead*math.Sin(turn), k.Center.YM - right*math.Sin(turn) + ahead*math.Cos(turn),
			})
		}
		out = append(out, s)
	}
	for _, b := range d.Surroundings.Buildings {
		s := slab{top: flat(b.TopM)}
		for _, p := range b.Ring {
			s.ring = append(s.ring, [2]float64{p.XM, p.YM})
		}
		out = append(out, s)
	}
	return out
}

// open walks from a point towards a direction, a step at a time, until it is
// over everything.
func open(from, toward spot, all []slab, highestM float64) bool {
	const step = 0.08
	for t := 0.05; ; t += step {
		p := spot{from.x + t*toward.x, from.y + t*toward.y, from.z + t*toward.z}
		if p.z > highestM || t > 40 {
			return true
		}
		for _, s := range all {
			if s.holds(p) {
				return false
			}
		}
	}
}

// roughSun is the way to the sun to some tenths of a degree: declination and
// equation of time after Spencer, Search 2 (1971) 172 (from memory).
func roughSun(unixS, latDeg, lonDeg float64) spot {
	at := time.Unix(int64(unixS), 0).UTC()
	g := 2 * math.Pi * (float64(at.YearDay()-1) + float64(at.Hour()-12)/24) / 365
	decl := 0.006918 - 0.399912*math.Cos(g) + 0.070257*math.Sin(g) - 0.006758*math.Cos(2*g) + 0.000907*math.Sin(2*g)
	minutes := 229.18 * (0.000075 + 0.001868*math.Cos(g) - 0.032077*math.Sin(g) - 0.014615*math.Cos(2*g) - 0.040849*math.Sin(2*g))
	hour := float64(at.Hour()*60+at.Minute()) + float64(at.Second())/60 + minutes + 4*lonDeg
	w, lat := (hour/4-180)*math.Pi/180, latDeg*math.Pi/180
	return spot{
		-math.Cos(decl) * math.Sin(w),
		math.Cos(lat)*math.Sin(decl) - math.Sin(lat)*math.Cos(decl)*math.Cos(w),
		math.Sin(lat)*math.Sin(decl) + math.Cos(lat)*math.Cos(decl)*math.Cos(w),
	}
}

// tower is a south-west slope of a gable that stands askew, with a turned
// chimney on it, a higher flat roof along its right end and a house before it.
// Even sky, so that the diffuse light is the share of sky seen.
func tower() Document {
	d := openRoof(35)
	const a = 215 * math.Pi / 180
	at := func(right, up float64) Corner { // along the eave and up the slope, in plan
		return Corner{XM: 40 - right*math.Cos(a) - up*math.Sin(a), YM: -20 + right*math.Sin(a) - up*math.Cos(a)}
	}
	ring := func(corners ...Corner) []Corner { return corners }
	front := d.Planes[0]
	front.AzimuthDeg, front.Ring = 215, ring(at(0, 0), at(10, 0), at(10, 5), at(0, 5))
	back := front
	back.ID, back.AzimuthDeg, back.Ring = "back", 35, ring(at(0, 5), at(10, 5), at(10, 10), at(0, 10))
	block := front
	block.ID, block.Use, block.PitchDeg, block.EaveHeightM, block.Ring = "block", false, 0, 8, ring(at(10, 1), at(14, 1), at(14, 7), at(10, 7))
	d.Planes = []Plane{front, back, block}
	on := at(4.5, 2.2)
	d.KeepOuts = []KeepOut{{
		ID: "chimney", Kind: "chimney", Shape: "rect", Center: &Point{XM: on.XM, YM: on.YM}, WidthM: 0.5, DepthM: 0.9, TurnDeg: 20, HeightM: 1.4,
	}}
	house := Building{ID: "house", TopM: 7}
	for _, c := range ring(at(-2, -9), at(5, -9), at(5, -6), at(-2, -6)) {
		house.Ring = append(house.Ring, Point{XM: c.XM, YM: c.YM})
	}
	d.Surroundings.Buildings = []Building{house}
	d.Yield.Sky = string(energy.Isotropic)
	d.Candidates = d.Candidates[:1]
	return d
}

// lightByRays is a module's light over the open plane's.
func lightByRays(d Document, y energy.Year, plane Plane, m Module) float64 {
	all, a, pitch := slabs(d), plane.AzimuthDeg*math.Pi/180, plane.PitchDeg*math.Pi/180
	right := spot{-math.Cos(a), math.Sin(a), 0}
	normal := spot{math.Sin(a) * math.Sin(pitch), math.Cos(a) * math.Sin(pitch), math.Cos(pitch)}
	dot := func(p, q spot) float64 { return p.x*q.x + p.y*q.y + p.z*q.z }
	// The leftmost and the lowest corner, as plan distances along and against the fall.
	left, low := math.Inf(1), math.Inf(1)
	for _, c := range plane.Ring {
		left = min(left, c.XM*right.x+c.YM*right.y)
		low = min(low, -c.XM*math.Sin(a)-c.YM*math.Cos(a))
	}
	var points []spot
	const n = 3
	for i := range n * n {
		u, v := m.UM+m.WM*(float64(i%n)+0.5)/n, m.VM+m.HM*(float64(i/n)+0.5)/n
		along, against := left+u, low+v*math.Cos(pitch)
		points = append(points, spot{
			along*right.x - against*math.Sin(a), along*right.y - against*math.Cos(a), plane.EaveHeightM + v*math.Sin(pitch),
		})
	}
	const highestM = 9
	share := func(toward spot) float64 {
		free := 0
		for _, p := range points {
			if open(p, toward, all, highestM) {
				free++
			}
		}
		return float64(free) / float64(len(points))
	}
	var seen, sky float64
	for e := 3.0; e < 90; e += 6 {
		for b := 3.0; b < 360; b += 6 {
			sinE, cosE := math.Sincos(e * math.Pi / 180)
			sinB, cosB := math.Sincos(b * math.Pi / 180)
			toward := spot{cosE * sinB, cosE * cosB, sinE}
			if w := cosE * dot(normal, toward); w > 0 {
				sky += w
				seen += w * share(toward)
			}
		}
	}
	var lit, whole float64
	const everyDay = 5
	for i, h := range y.Hours {
		if i/24%everyDay != 0 {
			continue
		}
		diffuse, ground := h.DHIWM2*(1+math.Cos(pitch))/2, d.Yield.Albedo*h.GHIWM2*(1-math.Cos(pitch))/2
		lit += diffuse*seen/sky + ground
		whole += diffuse + ground
		toward := roughSun(h.MidUnixS, y.Site.LatDeg, y.Site.LonDeg)
		if beam := h.DNIWM2 * dot(normal, toward); beam > 0 && toward.z > 0 {
			lit += beam * share(toward)
			whole += beam
		}
	}
	return lit / whole
}

// Solar access is what rays find: on a slope that stands askew, with its frame,
// the height of a chimney and of the roof next to it, the sun and the sky; and
// in the valleys of a house with a wing.
func TestAccessAgainstRays(t *testing.T) {
	wing := Demo()
	wing.KeepOuts, wing.Surroundings, wing.Candidates = nil, defaultSurroundings(), wing.Candidates[:1]
	wing.Wiring, wing.Target.Chosen = defaultWiring(), ""
	wing.Yield.Sky = string(energy.Isotropic)
	for _, c := range []struct {
		name    string
		doc     Document
		darkest float64 // at most
	}{{"askew", tower(), 0.7}, {"valleys", wing, 0.985}} {
		t.Run(c.name, func(t *testing.T) {
			if ps := c.doc.Validate(); ps != nil {
				t.Fatal(ps)
			}
			got, y := yieldOf(t, c.doc).Candidates[0].Modules, yearOf(t, c.doc).Sun.Year()
			placed := mustEvaluate(t, c.doc).Candidates[0].Fill.ByPlane
			slices.SortFunc(got, func(a, b ModuleYieldResult) int { return cmp.Compare(a.Access, b.Access) })
			if got[0].Access > c.darkest || got[len(got)-1].Access < 0.95 {
				t.Fatalf("access %.3f to %.3f", got[0].Access, got[len(got)-1].Access)
			}
			for _, m := range []ModuleYieldResult{got[0], got[1], got[len(got)/3]} {
				plane := c.doc.Planes[slices.IndexFunc(c.doc.Planes, func(p Plane) bool { return p.ID == m.PlaneID })]
				on := placed[slices.IndexFunc(placed, func(p PlaneLayoutResult) bool { return p.PlaneID == m.PlaneID })]
				want := lightByRays(c.doc, y, plane, on.Modules[m.Index])
				if !near(m.Access, want, 0.015) {
					t.Errorf("module %d: access %.4f, by rays %.4f", m.Number, m.Access, want)
				}
				t.Logf("module %d on %s: access %.4f, by rays %.4f", m.Number, m.PlaneID, m.Access, want)
			}
		})
	}
}

// The two slopes of a gable in open country do not shade each other, however it
// stands: in corners to the millimetre, as people draw, their common edge differs
// by some millimetres of height.
func TestNoHairlinesOnTurnedGables(t *testing.T) {
	for i := range 12 {
		bearing, pitch := float64(i)*31+7, 15+float64(i)*4
		a := bearing * math.Pi / 180
		at := func(right, up float64) Corner {
			mm := func(v float64) float64 { return math.Round(v*1000) / 1000 }
			return Corner{XM: mm(3 - right*math.Cos(a) - up*math.Sin(a)), YM: mm(7 + right*math.Sin(a) - up*math.Cos(a))}
		}
		d := openRoof(pitch)
		front := d.Planes[0]
		front.AzimuthDeg, front.Ring = bearing, []Corner{at(0, 0), at(9, 0), at(9, 4.2), at(0, 4.2)}
		back := front
		back.ID, back.AzimuthDeg = "back", math.Mod(bearing+180, 360)
		back.Ring = []Corner{at(0, 4.2), at(9, 4.2), at(9, 8.4), at(0, 8.4)}
		d.Planes = []Plane{front, back}
		for _, p := range lightOf(t, d).Planes {
			for k, v := range p.KWhM2 {
				if v >= 0 && v < 0.995*p.OpenKWhM2 {
					t.Errorf("bearing %g, pitch %g, %s: cell %d has %g of %g kWh/m2", bearing, pitch, p.PlaneID, k, v, p.OpenKWhM2)
				}
			}
		}
	}
}
