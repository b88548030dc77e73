package layout

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// CheckPacking returns an error that names the first module, in order, that is
// not valid: not finite, not of the size of an allowed turn within 1e-6 m, not
// inside the region when reduced by 1e-6 m on each side and widened by s.EndM,
// or nearer to another than the gaps by more than 1e-6 m in both directions. A
// module may touch the outline and holes.
//
// It shares no code with the engine: it works in metres and measures areas
// instead of asking on which side things lie. Its time grows with the number
// of modules times the number of points of the outline and of near holes.
func CheckPacking(r Region, s Spec, modules []Rect) error {
	near := newHoleBoxes(r.Holes)
	for i, m := range modules {
		if err := checkModule(r, near, s, m); err != nil {
			return fmt.Errorf("module %d at (%g, %g): %w", i, m.UM, m.VM, err)
		}
	}
	return checkGaps(s, modules)
}

// holeBoxes are the boxes around holes, by strips.
type holeBoxes struct {
	*neighbours
	boxes []Rect
}

func newHoleBoxes(holes []Ring) *holeBoxes {
	boxes := make([]Rect, len(holes))
	for i, h := range holes {
		boxes[i] = boxOfRing(h)
	}
	return &holeBoxes{newNeighbours(boxes, upTo(len(boxes))), boxes}
}

// checkModule judges one module by itself; near are the holes, nil for none.
func checkModule(r Region, near *holeBoxes, s Spec, m Rect) error {
	if !isFinite(m.UM) || !isFinite(m.VM) {
		return fmt.Errorf("its place is not finite")
	}
	if !hasAllowedSize(s, m) {
		return fmt.Errorf("its size %g x %g is not that of an allowed turn", m.WM, m.HM)
	}
	held := Rect{UM: m.UM - s.EndM, VM: m.VM, WM: m.WM + 2*s.EndM, HM: m.HM}.shrunk(insideTolM)
	want := held.WM * held.HM
	if got := math.Abs(ringInRect(held, r.Outer).area); got < want-overlapTolM2 {
		return fmt.Errorf("only %g of its %g m2 are inside the outline", got, want)
	}
	if near == nil {
		return nil
	}
	for at := near.of(held.UM); at <= near.of(held.UM+held.WM); at++ {
		for _, k := range near.lists[at] {
			if boxesMeet(held, near.boxes[k]) && ringInRect(held, r.Holes[k]).any() {
				return fmt.Errorf("it overlaps holes[%d]", k)
			}
		}
	}
	return nil
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func hasAllowedSize(s Spec, m Rect) bool {
	allowed := func(t Turn) bool { return len(s.Turns) == 0 || slices.Contains(s.Turns, t) }
	near := func(a, b float64) bool { return math.Abs(a-b) <= gapTolM }
	return allowed(AsGiven) && near(m.WM, s.WidthM) && near(m.HM, s.HeightM) ||
		allowed(Turned) && near(m.WM, s.HeightM) && near(m.HM, s.WidthM) ||
		s.WidthM == s.HeightM && near(m.WM, s.WidthM) && near(m.HM, s.HeightM)
}

// checkGaps compares each module with the near ones that start at its lower side
// or above, below its upper side.
func checkGaps(s Spec, modules []Rect) error {
	byFoot := upTo(len(modules))
	slices.SortStableFunc(byFoot, func(i, k int) int { return cmp.Compare(modules[i].VM, modules[k].VM) })
	near := newNeighbours(modules, byFoot)
	for _, i := range byFoot {
		a := modules[i]
		// Modules leave their lists in the order of their lower sides.
		for at := near.of(a.UM); at <= near.of(a.UM+a.WM); at++ {
			near.lists[at] = near.lists[at][1:]
		}
		for at := near.of(a.UM - s.GapUM); at <= near.of(a.UM+a.WM+s.GapUM); at++ {
			for _, k := range near.lists[at] {
				b := modules[k]
				if b.VM >= a.VM+a.HM+s.GapVM-gapTolM {
					break
				}
				if clear := max(b.UM-(a.UM+a.WM), a.UM-(b.UM+b.WM)); clear < s.GapUM-gapTolM {
					return fmt.Errorf("modules %d and %d are %g m apart along u, want %g, and less than %g along v", min(i, int(k)), max(i, int(k)), clear, s.GapUM, s.GapVM)
				}
			}
		}
	}
	return nil
}

// Overlaps reports whether the interiors of a module and of a ring have a
// common part, after the module has been reduced by 1e-6 m on each side, so
// that touching is no overlap. The inside of a ring that crosses itself is
// what it winds around. A ring without area overlaps nothing.
func Overlaps(r Rect, ring Ring) bool {
	held := r.shrunk(insideTolM)
	return boxesMeet(held, boxOfRing(ring)) && ringInRect(held, ring).any()
}

func (r Rect) shrunk(by float64) Rect {
	return Rect{UM: r.UM + by, VM: r.VM + by, WM: r.WM - 2*by, HM: r.HM - 2*by}
}

func boxOfRing(ring Ring) Rect {
	if len(ring) == 0 {
		return Rect{}
	}
	low, high := ring[0], ring[0]
	for _, p := range ring {
		low = SlopePt{min(low.UM, p.UM), min(low.VM, p.VM)}
		high = SlopePt{max(high.UM, p.UM), max(high.VM, p.VM)}
	}
	return Rect{UM: low.UM, VM: low.VM, WM: high.UM - low.UM, HM: high.VM - low.VM}
}

func boxesMeet(a, b Rect) bool {
	return a.UM < b.UM+b.WM && b.UM < a.UM+a.WM && a.VM < b.VM+b.HM && b.VM < a.VM+a.HM
}

// moments are the area that a ring winds around inside a rectangle and its
// first moments about the rectangle's centre, in half sides. Where a ring
// winds clockwise they count as negative.
type moments struct{ area, aboutU, aboutV float64 }

// any reports whether the ring winds around any part of the rectangle. Where a
// ring that crosses itself winds around equal parts both ways, the areas
// cancel, and the moments do not.
func (m moments) any() bool {
	return math.Abs(m.area) > overlapTolM2 || math.Abs(m.aboutU) > overlapTolM2 || math.Abs(m.aboutV) > overlapTolM2
}

// ringInRect sums over the ring's edges the part of the rectangle below each.
// Cut where it passes the rectangle's lines, an edge is below, above or
// straight across, and the part below it is a trapezoid.
func ringInRect(r Rect, ring Ring) moments {
	var sum moments
	a, b := r.WM/2, r.HM/2
	cu, cv := r.UM+a, r.VM+b
	for i, q := range ring {
		p := ring[(i+len(ring)-1)%len(ring)]
		p, q := SlopePt{p.UM - cu, p.VM - cv}, SlopePt{q.UM - cu, q.VM - cv}
		if p.UM <= -a && q.UM <= -a || p.UM >= a && q.UM >= a || p.VM <= -b && q.VM <= -b || p.UM == q.UM {
			continue
		}
		sum.addEdge(p, q, a, b)
	}
	return moments{-sum.area, -sum.aboutU / a, -sum.aboutV / b}
}

// addEdge adds the part below the edge from p to q of the rectangle from
// (-a, -b) to (a, b).
func (m *moments) addEdge(p, q SlopePt, a, b float64) {
	rise := (q.VM - p.VM) / (q.UM - p.UM)
	at := func(u float64) float64 { return p.VM + float64(rise*(u-p.UM)) }
	u0, u1 := min(max(p.UM, -a), a), min(max(q.UM, -a), a)
	cuts := [4]float64{u0, u0, u1, u1}
	if rise != 0 {
		lo, hi := min(u0, u1), max(u0, u1)
		for i, v := range [2]float64{-b, b} {
			cuts[i+1] = min(max(p.UM+(v-p.VM)/rise, lo), hi)
		}
		if (cuts[1] > cuts[2]) == (u0 < u1) {
			cuts[1], cuts[2] = cuts[2], cuts[1]
		}
	}
	for i := 0; i < 3; i++ {
		s, t := cuts[i], cuts[i+1]
		vs, vt := min(max(at(s), -b), b), min(max(at(t), -b), b)
		du := t - s
		m.area += float64(du * ((vs+vt)/2 + b))
		// Integrals of u (v + b) and of (v^2 - b^2) / 2 for v linear in u.
		m.aboutU += float64(du * (float64(s*(2*vs+vt)) + float64(t*(vs+2*vt)) + float64(3*b*(s+t))) / 6)
		m.aboutV += float64(du * ((float64(vs*vs)+float64(vs*vt)+float64(vt*vt))/3 - float64(b*b)) / 2)
	}
}
