package layout

import (
	"fmt"
	"math"
	"sort"
	"testing"

	"pgregory.net/rapid"
)

// The oracle is a slow way to the same counts, in float64 metres, with other
// geometry: a place is free when no edge, clipped to the module, passes through
// it and its centre is inside by ray casting. It scans row positions instead of
// solving for them, so that its counts are lower bounds.

// oracleFree lists the free intervals of the module's left side in a row at v.
func oracleFree(r Region, v, w, h float64) [][2]float64 {
	const shave = 5e-7
	type cut struct{ a, b float64 }
	var cuts []cut
	for _, ring := range append([]Ring{r.Outer}, r.Holes...) {
		for i := range ring {
			p, q := ring[i], ring[(i+1)%len(ring)]
			t0, t1 := 0.0, 1.0
			if p.VM == q.VM {
				if p.VM <= v+shave || p.VM >= v+h-shave {
					continue
				}
			} else {
				a, b := (v+shave-p.VM)/(q.VM-p.VM), (v+h-shave-p.VM)/(q.VM-p.VM)
				t0, t1 = math.Max(0, math.Min(a, b)), math.Min(1, math.Max(a, b))
				if t0 >= t1 {
					continue
				}
			}
			a, b := p.UM+t0*(q.UM-p.UM), p.UM+t1*(q.UM-p.UM)
			cuts = append(cuts, cut{math.Min(a, b) - w + shave, math.Max(a, b) - shave})
		}
	}
	sort.Slice(cuts, func(i, k int) bool { return cuts[i].a < cuts[k].a })
	var free [][2]float64
	end := math.Inf(-1)
	for _, c := range cuts {
		if c.a >= end && !math.IsInf(end, -1) && oracleInside(r, (end+c.a)/2+w/2, v+h/2) {
			free = append(free, [2]float64{end, c.a})
		}
		end = math.Max(end, c.b)
	}
	return free
}

func oracleInside(r Region, u, v float64) bool {
	in := func(ring Ring) bool {
		odd := false
		for i := range ring {
			p, q := ring[i], ring[(i+1)%len(ring)]
			if (p.VM > v) != (q.VM > v) && u < p.UM+(v-p.VM)/(q.VM-p.VM)*(q.UM-p.UM) {
				odd = !odd
			}
		}
		return odd
	}
	if !in(r.Outer) {
		return false
	}
	for _, h := range r.Holes {
		if in(h) {
			return false
		}
	}
	return true
}

func oracleRow(free [][2]float64, pitch float64) int {
	n, next := 0, math.Inf(-1)
	for _, f := range free {
		for at := math.Max(f[0], next); at <= f[1]+1e-9; at += pitch {
			n++
			next = at + pitch
		}
	}
	return n
}

// oraclePositions are row positions worth a look: a scan, every position at
// which the row's lower or upper edge meets a vertex, and that position with up
// to four more rows of either pitch below.
func oraclePositions(r Region, s Spec, h, stepM float64) []float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	var out []float64
	for _, ring := range append([]Ring{r.Outer}, r.Holes...) {
		for _, p := range ring {
			for i := range 25 {
				up := float64(i%5)*(s.WidthM+s.GapVM) + float64(i/5)*(s.HeightM+s.GapVM)
				out = append(out, p.VM+up, p.VM-h+up)
			}
		}
	}
	for _, p := range r.Outer {
		lo, hi = math.Min(lo, p.VM), math.Max(hi, p.VM)
	}
	for v := lo; v <= hi; v += stepM {
		out = append(out, v)
	}
	sort.Float64s(out)
	return out
}

// oracleRows is the count of the best stack of rows over the positions. After
// each row, the lowest place for the next is a position too.
func oracleRows(r Region, s Spec, stepM float64) int {
	type at struct {
		v, next float64
		n       int
	}
	var ats []at
	for _, size := range []Rect{{WM: s.WidthM, HM: s.HeightM}, {WM: s.HeightM, HM: s.WidthM}} {
		for _, v := range oraclePositions(r, s, size.HM, stepM) {
			free := oracleFree(r, v, size.WM+2*s.EndM, size.HM)
			if n := oracleRow(free, size.WM+s.GapUM); n > 0 {
				ats = append(ats, at{v, v + size.HM + s.GapVM, n})
			}
		}
	}
	sort.Slice(ats, func(i, k int) bool { return ats[i].next < ats[k].next })
	best := make([]int, len(ats)+1)
	for i, a := range ats {
		k := sort.Search(i, func(k int) bool { return ats[k].next > a.v+1e-9 })
		best[i+1] = max(best[i], best[k]+a.n)
	}
	return best[len(ats)]
}

// oracleGrid is the best count of a lattice over scanned offsets in v; offsets
// in u are those that start a free interval.
func oracleGrid(r Region, s Spec, stepM float64) int {
	best := 0
	for _, size := range []Rect{{WM: s.WidthM, HM: s.HeightM}, {WM: s.HeightM, HM: s.WidthM}} {
		pu, pv := size.WM+s.GapUM, size.HM+s.GapVM
		positions := oraclePositions(r, s, size.HM, stepM)
		top := positions[len(positions)-1]
		for _, v0 := range positions {
			v0 = positions[0] + math.Mod(v0-positions[0], pv)
			var free [][2]float64
			for v := v0; v <= top; v += pv {
				free = append(free, oracleFree(r, v, size.WM+2*s.EndM, size.HM)...)
			}
			for _, f := range free {
				n := 0
				for _, g := range free {
					n += int(math.Floor((g[1]-f[0])/pu+1e-9)) - int(math.Ceil((g[0]-f[0])/pu-1e-9)) + 1
				}
				best = max(best, n)
			}
		}
	}
	return best
}

// smallRoof draws a roof of a few modules with slanted edges and keep-outs.
func smallRoof(t *rapid.T) (Region, Spec) {
	mm := func(label string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, label)) / 1000 }
	w, h := mm("width", 3000, 9000), mm("height", 2000, 6000)
	var r Region
	switch rapid.IntRange(0, 4).Draw(t, "shape") {
	case 0: // hip
		a, b := mm("a", 0, 1400), mm("b", 0, 1400)
		r.Outer = Ring{{0, 0}, {w, 0}, {w - b, h}, {a, h}}
	case 1: // ell
		a, b := mm("a", 500, 2500), mm("b", 500, 1500)
		r.Outer = Ring{{0, 0}, {w, 0}, {w, h - b}, {w - a, h - b}, {w - a, h}, {0, h}}
	case 2: // valley and dormer notch
		a, b := mm("a", 300, 1500), mm("b", 300, 1400)
		r.Outer = Ring{{0, 0}, {w/2 - a, 0}, {w / 2, b}, {w/2 + a, 0}, {w, 0}, {w + a, h}, {-b, h}}
	case 3: // turned
		turn := float64(rapid.IntRange(-40, 40).Draw(t, "deg")) * math.Pi / 180
		sin, cos := math.Sincos(turn)
		for _, p := range [][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}} {
			r.Outer = append(r.Outer, SlopePt{p[0]*cos - p[1]*sin, p[0]*sin + p[1]*cos})
		}
	case 4: // any convex-ish outline
		n := rapid.IntRange(3, 9).Draw(t, "corners")
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			k := mm("radius", 500, 1000)
			r.Outer = append(r.Outer, SlopePt{w / 2 * (1 + k*cos), h / 2 * (1 + k*sin)})
		}
	}
	for range rapid.IntRange(0, 3).Draw(t, "holes") {
		u, v, a, b := mm("u", 0, 9000), mm("v", 0, 6000), mm("hw", 20, 1200), mm("hh", 20, 1200)
		if rapid.Bool().Draw(t, "diamond") {
			r.Holes = append(r.Holes, Ring{{u - a, v}, {u, v - b}, {u + a, v}, {u, v + b}})
		} else {
			r.Holes = append(r.Holes, Ring{{u, v}, {u, v + b}, {u + a, v + b}, {u + a, v}})
		}
	}
	s := Spec{WidthM: mm("mw", 900, 2100), HeightM: mm("mh", 500, 1200)}
	s.GapUM, s.GapVM, s.EndM = mm("gapU", 0, 60), mm("gapV", 0, 60), mm("end", 0, 80)
	if rapid.IntRange(0, 4).Draw(t, "wide gaps") == 0 {
		s.GapUM = mm("wide gapU", 0, 1000) // wider than a keep-out
	}
	return r, s
}

// Both styles against the oracle. Nothing is lost: neither holds fewer than
// the oracle finds. Nothing is invented: every module passed CheckPacking, and
// the layout has the form of its style.
func TestPackAgreesWithOracle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := smallRoof(t)
		rows, grid := rapidPack(t, r, s, Rows), rapidPack(t, r, s, Grid)
		for _, stepM := range []float64{0.02, 0.002} {
			if want := oracleRows(r, s, stepM); len(rows.Modules) < want {
				t.Fatalf("rows hold %d, the oracle found %d", len(rows.Modules), want)
			}
			if want := oracleGrid(r, s, stepM); len(grid.Modules) < want {
				t.Fatalf("the grid holds %d, the oracle found %d", len(grid.Modules), want)
			}
		}
		if why := notRows(rows.Modules, s); why != "" {
			t.Fatalf("not rows: %s", why)
		}
		if why := notGrid(grid.Modules, s); why != "" {
			t.Fatalf("not a grid: %s", why)
		}
	})
}

// notRows says why modules are not rows, from below and from the left: one
// turn and one v in a row, the gap in v between rows.
func notRows(modules []Rect, s Spec) string {
	for i := 1; i < len(modules); i++ {
		a, b := modules[i-1], modules[i]
		switch {
		case a.VM == b.VM && (a.WM != b.WM || b.UM < a.UM+a.WM+s.GapUM-gapTolM):
			return fmt.Sprintf("module %d and the one before it in its row", i)
		case a.VM != b.VM && b.VM < a.VM+a.HM+s.GapVM-gapTolM:
			return fmt.Sprintf("module %d and the row below it", i)
		}
	}
	return ""
}

// notGrid says why modules are not on one lattice of one turn.
func notGrid(modules []Rect, s Spec) string {
	for i, m := range modules {
		a := modules[0]
		if m.WM != a.WM || m.HM != a.HM {
			return fmt.Sprintf("module %d is turned", i)
		}
		ku, kv := (m.UM-a.UM)/(m.WM+s.GapUM), (m.VM-a.VM)/(m.HM+s.GapVM)
		if math.Abs(ku-math.Round(ku)) > 1e-6 || math.Abs(kv-math.Round(kv)) > 1e-6 {
			return fmt.Sprintf("module %d is %g, %g pitches away from the first", i, ku, kv)
		}
	}
	return ""
}

func rapidPack(t *rapid.T, r Region, s Spec, style Style) Packing {
	t.Helper()
	p, err := Pack(t.Context(), r, s, style)
	if err != nil {
		t.Fatalf("Pack %s: %v", style, err)
	}
	return p
}
