package layout

import (
	"cmp"
	"math"
	"slices"
)

// Tidiness says how a layout looks and how much rail work it takes; less is
// tidier.
type Tidiness struct {
	// RailRuns is the number of rail runs: modules side by side in one row, of
	// one turn, each at GapUM from the one before.
	RailRuns int
	// Blocks is the number of blocks: rail runs of one turn that start and end
	// together, each at GapVM above the one before.
	Blocks int
	// Turns is the number of turns in use, 0 to 2. A square module has one.
	Turns int
}

// TidierThan orders layouts of equal count: fewer blocks first, which is edges
// that line up; then fewer, hence longer, rail runs; then fewer turns.
func (t Tidiness) TidierThan(o Tidiness) bool {
	return cmp.Or(cmp.Compare(t.Blocks, o.Blocks), cmp.Compare(t.RailRuns, o.RailRuns), cmp.Compare(t.Turns, o.Turns)) < 0
}

// railRun is one rail run: its lower-left corner, the size of its modules and
// their number.
type railRun struct{ u, v, w, h, n float64 }

// TidinessOf counts the rail runs, blocks and turns of a valid packing, in any
// order. Places are compared within alignTolM.
func TidinessOf(modules []Rect, s Spec) Tidiness {
	runs := railRuns(modules, s)
	t := Tidiness{RailRuns: len(runs), Blocks: len(runs)}
	for i, a := range runs {
		if i == 0 {
			t.Turns = 1
		} else if !aligned(a.w, runs[0].w) {
			t.Turns = 2
		}
		// Runs are listed upwards: the one that a stands on comes before it.
		for k := i - 1; k >= 0; k-- {
			if b := runs[k]; a.n == b.n && aligned(a.u, b.u) && aligned(a.w, b.w) && aligned(a.v, b.v+b.h+s.GapVM) {
				t.Blocks--
				break
			}
		}
	}
	return t
}

// railRuns lists the rail runs upwards.
func railRuns(modules []Rect, s Spec) []railRun {
	sorted := slices.Clone(modules)
	slices.SortFunc(sorted, func(a, b Rect) int {
		if a.VM != b.VM {
			return order(a.VM < b.VM)
		}
		return cmp.Compare(a.UM, b.UM)
	})
	// Modules of one row may differ by a tolerance in their height.
	for i := 0; i < len(sorted); {
		end := i + 1
		for end < len(sorted) && aligned(sorted[i].VM, sorted[end].VM) {
			end++
		}
		slices.SortFunc(sorted[i:end], func(a, b Rect) int { return cmp.Compare(a.UM, b.UM) })
		i = end
	}
	var runs []railRun
	for i, m := range sorted {
		if i > 0 {
			r := &runs[len(runs)-1]
			if p := sorted[i-1]; aligned(p.VM, m.VM) && aligned(p.WM, m.WM) && aligned(p.UM+p.WM+s.GapUM, m.UM) {
				r.n++
				continue
			}
		}
		runs = append(runs, railRun{m.UM, m.VM, m.WM, m.HM, 1})
	}
	return runs
}

// aligned reports whether two places are the same within alignTolM.
func aligned(a, b float64) bool { return math.Abs(a-b) <= alignTolM }
