package energy

import "math"

// body is a convex solid given by its corners and the edges between them, and
// the share of light it passes with and without leaves.
type body struct {
	corners []Vec3
	edges   [][2]int
	pass    leafPair
	index   int // of the obstruction
}

// leafPair is a number with leaves on the trees and one without.
type leafPair struct{ on, off float64 }

// mix weighs the two by the share of the time with leaves.
func (p leafPair) mix(leafOn float64) float64 { return leafOn*p.on + (1-leafOn)*p.off }

// bodies cuts all obstructions into convex solids.
func (s Scene) bodies() []body {
	var out []body
	for i, o := range s.Obstructions {
		out = append(out, bodiesOf(o, i)...)
	}
	return out
}

// bodiesOf cuts an obstruction into convex solids. An obstruction whose top is
// not above its base has none.
func bodiesOf(o Obstruction, index int) []body {
	if o.Kind == Tree {
		return treeBody(o, index)
	}
	var out []body
	for _, part := range convexParts(o.ring()) {
		n := len(part)
		b := body{index: index, corners: make([]Vec3, 2*n)}
		solid := false
		for i, p := range part {
			top := o.topAt(p)
			solid = solid || top > o.BaseM
			b.corners[i] = Vec3{p.u, p.v, o.BaseM}
			b.corners[n+i] = Vec3{p.u, p.v, max(o.BaseM, top)}
			b.edges = append(b.edges, [2]int{i, (i + 1) % n}, [2]int{n + i, n + (i+1)%n}, [2]int{i, n + i})
		}
		if solid {
			out = append(out, b)
		}
	}
	return out
}

// topAt is the height of an obstruction's top at a corner of its footprint.
func (o Obstruction) topAt(p pt) float64 {
	if o.Kind != RoofPart {
		return o.TopM
	}
	for i, c := range o.Footprint {
		if c[0] == p.u && c[1] == p.v {
			return o.TopsM[i]
		}
	}
	return o.BaseM
}

// treeSides is the number of sides that stand for a round crown in plan. The
// polygon has the circle's area: its corners lie 2.3 % outside the radius.
const treeSides = 12

// crownRing is one ring of corners of a crown: its height over the middle in
// parts of half the crown's height, and its radius in parts of the crown's.
type crownRing struct{ level, radius float64 }

// crownRings are the rings of a crown. An ellipsoid is cut to an octagon from
// the side, with corners at 22.5 and 67.5 degrees, swollen so that its outlines
// from above and from the side have the true areas.
func crownRings(c Crown) []crownRing {
	swell := math.Sqrt(math.Pi / (treeSides / 2 * math.Sin(2*math.Pi/treeSides)))
	if c == ColumnCrown {
		return []crownRing{{-1, swell}, {1, swell}}
	}
	sin, cos := math.Sincos(22.5 * degree)
	wide := swell / cos // the widest rings, at 22.5 degrees, have the area of the circle
	tall := math.Pi / (2 * math.Sqrt2 * wide)
	return []crownRing{{-cos * tall, sin * wide}, {-sin * tall, cos * wide}, {sin * tall, cos * wide}, {cos * tall, sin * wide}}
}

// treeBody is a crown: rings of corners one above the other.
func treeBody(o Obstruction, index int) []body {
	if !(o.TopM > o.BaseM) {
		return nil
	}
	b := body{index: index, pass: leafPair{o.LeafOnPass, o.LeafOffPass}}
	middle, half := (o.TopM+o.BaseM)/2, (o.TopM-o.BaseM)/2
	for k, ring := range crownRings(o.Crown) {
		for i := range treeSides {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / treeSides)
			r := o.RadiusM * ring.radius
			b.corners = append(b.corners, Vec3{o.CenterX + r*cos, o.CenterY + r*sin, middle + ring.level*half})
			at := k*treeSides + i
			b.edges = append(b.edges, [2]int{at, k*treeSides + (i+1)%treeSides})
			if k > 0 {
				b.edges = append(b.edges, [2]int{at - treeSides, at})
			}
		}
	}
	return []body{b}
}

// slopeFrame turns world points and directions into a plane's slope frame with
// the height over the plane as third number.
type slopeFrame struct {
	origin              Vec3
	along, up, overhead Vec3
}

func newSlopeFrame(p Plane) slopeFrame {
	sinA, cosA := math.Sincos(p.AzimuthDeg * degree)
	sinP, cosP := math.Sincos(p.PitchDeg * degree)
	return slopeFrame{
		origin:   p.Origin,
		along:    Vec3{-cosA, sinA, 0},
		up:       Vec3{-sinA * cosP, -cosA * cosP, sinP},
		overhead: p.Normal(),
	}
}

// turn returns a direction's parts along u, v and off the plane.
func (f slopeFrame) turn(d Vec3) Vec3 {
	return Vec3{d.dot(f.along), d.dot(f.up), d.dot(f.overhead)}
}

// place returns a point's u, v and height over the plane.
func (f slopeFrame) place(p Vec3) Vec3 { return f.turn(p.minus(f.origin)) }

// world undoes place for a point of the plane.
func (f slopeFrame) world(p pt) Vec3 {
	return f.origin.plus(f.along.times(p.u)).plus(f.up.times(p.v))
}

// caster is the part of a body in front of a plane, in the plane's frame. The
// sun moves its shadow but not itself.
type caster struct {
	points []Vec3 // u, v, height over the plane
	pass   leafPair
	index  int
}

// graceM is how far a solid may stand out of a plane and still cast no shadow
// on it: neighbouring planes are drawn to 20 mm, see docs/roof.md.
const graceM = 0.02

// casterOf cuts a body off at a plane. It returns false when nothing of it
// stands out in front.
func casterOf(b body, f slopeFrame) (caster, bool) {
	placed := make([]Vec3, len(b.corners))
	highest := math.Inf(-1)
	for i, c := range b.corners {
		placed[i] = f.place(c)
		highest = max(highest, placed[i].Z)
	}
	if highest <= graceM {
		return caster{}, false
	}
	out := caster{pass: b.pass, index: b.index}
	for _, p := range placed {
		if p.Z >= 0 {
			out.points = append(out.points, p)
		}
	}
	for _, e := range b.edges {
		p, q := placed[e[0]], placed[e[1]]
		if (p.Z < 0) != (q.Z < 0) {
			k := p.Z / (p.Z - q.Z)
			cut := p.plus(q.minus(p).times(k))
			cut.Z = 0
			out.points = append(out.points, cut)
		}
	}
	return out, true
}
