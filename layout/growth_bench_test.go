package layout

import (
	"context"
	"fmt"
	"math"
	"testing"
)

// growthSizes are about how many modules the growth roofs hold.
var growthSizes = [...]float64{50, 150, 500, 1500, 5000, 20000}

// growthShapes are outlines of about one unit of area each, by name, and by how
// much the whole roof is turned.
var growthShapes = []growthShape{
	{"flat", Ring{{0, 0}, {1.25, 0}, {1.25, 0.8}, {0, 0.8}}, 0},
	{"gable", Ring{{0, 0}, {1.6, 0}, {1.15, 0.73}, {0, 0.73}}, 0},
	{"ell", Ring{{0, 0}, {1.2, 0}, {1.2, 0.55}, {0.68, 0.55}, {0.68, 1.2}, {0, 1.2}}, 0},
	{"turned", Ring{{0, 0}, {1, 0}, {1, 1}, {0, 1}}, 0.03},
}

type growthShape struct {
	name    string
	outline Ring
	turnRad float64
}

// growthSpec is the module of the growth roofs, both turns.
var growthSpec = Spec{WidthM: 1.72, HeightM: 1.13, GapUM: 0.02, GapVM: 0.02}

// growthRoof scales a shape to hold about n modules and puts an eight-sided
// keep-out, 1.2 m across, on about every 100 m2.
func growthRoof(shape growthShape, n float64) Region {
	const roofPerModuleM2, everyM = 2.1, 10.0
	side := math.Sqrt(n * roofPerModuleM2)
	var r Region
	var high SlopePt
	for _, p := range shape.outline {
		p = SlopePt{p.UM * side, p.VM * side}
		r.Outer = append(r.Outer, p)
		high = SlopePt{max(high.UM, p.UM), max(high.VM, p.VM)}
	}
	for x := 3.0; x < high.UM; x += everyM {
		for y := 2.0; y < high.VM; y += everyM {
			at := SlopePt{x + math.Mod(7*x+3*y, 4), y + math.Mod(5*x+11*y, 4)}
			if r.covers(rectRing(at.UM-1, at.VM-1, at.UM+1, at.VM+1)) {
				r.Holes = append(r.Holes, turnedBy(shape.turnRad, octagon(at, 0.6)))
			}
		}
	}
	r.Outer = turnedBy(shape.turnRad, r.Outer)
	return r
}

// covers reports whether all points of a ring are inside the outline.
func (r Region) covers(ring Ring) bool {
	for _, p := range ring {
		if ringWinding(r.Outer, p) == 0 {
			return false
		}
	}
	return true
}

// ringWinding is how often a ring winds around p.
func ringWinding(ring Ring, p SlopePt) int {
	n := 0
	for i, b := range ring {
		a := ring[(i+len(ring)-1)%len(ring)]
		if side := (b.UM-a.UM)*(p.VM-a.VM) - (b.VM-a.VM)*(p.UM-a.UM); a.VM <= p.VM && b.VM > p.VM && side > 0 {
			n++
		} else if a.VM > p.VM && b.VM <= p.VM && side < 0 {
			n--
		}
	}
	return n
}

// turnedBy turns a ring about the origin.
func turnedBy(rad float64, ring Ring) Ring {
	sin, cos := math.Sincos(rad)
	var out Ring
	for _, p := range ring {
		out = append(out, SlopePt{p.UM*cos - p.VM*sin, p.UM*sin + p.VM*cos})
	}
	return out
}

// octagon is an eight-sided ring with two sides along u.
func octagon(at SlopePt, radiusM float64) Ring {
	var out Ring
	for k := range 8 {
		s, c := math.Sincos((float64(k) + 0.5) * math.Pi / 4)
		out = append(out, SlopePt{at.UM + radiusM*c, at.VM + radiusM*s})
	}
	return out
}

// BenchmarkGrowth reports the processor time per module from about 50 to about 20 000
// modules; TestGrowthPlot draws it.
func BenchmarkGrowth(b *testing.B) {
	for _, style := range []Style{Rows, Grid} {
		for _, shape := range growthShapes {
			for _, n := range growthSizes {
				r := growthRoof(shape, n)
				b.Run(fmt.Sprintf("%s/%s/%.0f", style, shape.name, n), func(b *testing.B) {
					b.ReportAllocs()
					count, start := 0, cpuTime()
					for b.Loop() {
						p, err := Pack(context.Background(), r, growthSpec, style)
						if err != nil {
							b.Fatal(err)
						}
						count = len(p.Modules)
					}
					b.ReportMetric(float64(cpuTime()-start)/float64(b.N)/float64(count), "ns/module")
					b.ReportMetric(float64(count), "modules")
				})
			}
		}
	}
}
