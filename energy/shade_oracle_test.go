package energy

import "math"

// oracle is a slow judge of shade: it sends a ray from points of a rectangle
// towards the sun and asks each obstruction whether the ray meets it. It shares
// no geometry with the engine: solids are not cut up, projected or made convex.
type oracle struct{ scene Scene }

// through is the share of light that reaches a world point.
func (o oracle) through(from, toward Vec3, plane Plane, leaves bool) float64 {
	pass := 1.0
	for _, ob := range o.scene.Obstructions {
		switch {
		case ob.Kind == RoofPart && ob.PlaneID == plane.ID:
		case ob.Kind == Tree:
			if rayMeetsCrown(from, toward, ob) {
				if leaves {
					pass *= ob.LeafOnPass
				} else {
					pass *= ob.LeafOffPass
				}
			}
		case rayMeetsPrism(from, toward, ob, plane):
			pass = 0
		}
	}
	return pass
}

// rayMeetsPrism cuts the ray where it crosses the footprint's edges in plan and
// compares its height with the solid's at the ends of each piece and on the way.
func rayMeetsPrism(from, toward Vec3, ob Obstruction, plane Plane) bool {
	cuts := []float64{0}
	n := len(ob.Footprint)
	for i, a := range ob.Footprint {
		b := ob.Footprint[(i+1)%n]
		ex, ey := b[0]-a[0], b[1]-a[1]
		det := toward.X*ey - toward.Y*ex
		if math.Abs(det) < 1e-12 {
			continue
		}
		dx, dy := a[0]-from.X, a[1]-from.Y
		t := (dx*ey - dy*ex) / det
		s := (dx*toward.Y - dy*toward.X) / det
		if t > 0 && s >= 0 && s <= 1 {
			cuts = append(cuts, t)
		}
	}
	cuts = append(cuts, 1e4)
	for i := range cuts { // insertion sort
		for k := i; k > 0 && cuts[k] < cuts[k-1]; k-- {
			cuts[k], cuts[k-1] = cuts[k-1], cuts[k]
		}
	}
	for i := 1; i < len(cuts); i++ {
		const steps = 64
		for k := range steps {
			// From one end to the other, a hair inside both: near a ridge the ray
			// is in the solid only at its very end.
			t := cuts[i-1] + (cuts[i]-cuts[i-1])*(1e-9+(1-2e-9)*float64(k)/(steps-1))
			x, y, z := from.X+t*toward.X, from.Y+t*toward.Y, from.Z+t*toward.Z
			if insideRing(ob.Footprint, x, y) && z > ob.BaseM && z < topOver(ob, x, y) {
				return true
			}
		}
	}
	return false
}

// insideRing is the even-odd rule.
func insideRing(ring [][2]float64, x, y float64) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a[1] > y) != (b[1] > y) && x < a[0]+(b[0]-a[0])*(y-a[1])/(b[1]-a[1]) {
			in = !in
		}
	}
	return in
}

// topOver is the top's height over a plan point: level, or the plane through
// the first three corners of a roof part.
func topOver(ob Obstruction, x, y float64) float64 {
	if ob.Kind != RoofPart {
		return ob.TopM
	}
	a, b, c := ob.Footprint[0], ob.Footprint[1], ob.Footprint[2]
	p := Vec3{b[0] - a[0], b[1] - a[1], ob.TopsM[1] - ob.TopsM[0]}
	q := Vec3{c[0] - a[0], c[1] - a[1], ob.TopsM[2] - ob.TopsM[0]}
	nx, ny, nz := p.Y*q.Z-p.Z*q.Y, p.Z*q.X-p.X*q.Z, p.X*q.Y-p.Y*q.X
	return ob.TopsM[0] - (nx*(x-a[0])+ny*(y-a[1]))/nz
}

// rayMeetsCrown solves the ray with the true ellipsoid or cylinder.
func rayMeetsCrown(from, toward Vec3, ob Obstruction) bool {
	half := (ob.TopM - ob.BaseM) / 2
	c := Vec3{from.X - ob.CenterX, from.Y - ob.CenterY, from.Z - (ob.TopM+ob.BaseM)/2}
	if ob.Crown == RoundCrown {
		p := Vec3{c.X / ob.RadiusM, c.Y / ob.RadiusM, c.Z / half}
		d := Vec3{toward.X / ob.RadiusM, toward.Y / ob.RadiusM, toward.Z / half}
		a, b := d.dot(d), p.dot(d)
		disc := b*b - a*(p.dot(p)-1)
		return disc > 0 && -b+math.Sqrt(disc) > 0
	}
	a := toward.X*toward.X + toward.Y*toward.Y
	b := c.X*toward.X + c.Y*toward.Y
	disc := b*b - a*(c.X*c.X+c.Y*c.Y-ob.RadiusM*ob.RadiusM)
	if disc <= 0 || a == 0 {
		return false
	}
	in, out := (-b-math.Sqrt(disc))/a, (-b+math.Sqrt(disc))/a
	in = max(0, in)
	// The part inside the cylinder must pass between base and top.
	low, high := c.Z+in*toward.Z, c.Z+out*toward.Z
	return out > in && max(low, high) > -half && min(low, high) < half
}

// blocked is the mean share of light kept from a rectangle by n x n rays.
func (o oracle) blocked(plane Plane, rect box, toward Vec3, leaves bool, n int) float64 {
	f := newSlopeFrame(plane)
	var sum float64
	for i := range n {
		for k := range n {
			p := f.world(pt{
				rect.lowU + (rect.highU-rect.lowU)*(float64(i)+0.5)/float64(n),
				rect.lowV + (rect.highV-rect.lowV)*(float64(k)+0.5)/float64(n),
			})
			sum += 1 - o.through(p.plus(f.overhead.times(1e-6)), toward, plane, leaves)
		}
	}
	return sum / float64(n*n)
}
