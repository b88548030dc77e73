package layout

import "math"

// Thin chooses n of the modules of a packing and returns their indices,
// ascending. Modules marked in last are given up first, as far as needed; of
// those that may go, one in the row with the fewest modules left goes first,
// the upper row when rows are equal, and the rightmost in its row. Modules of
// one row have the same VM and HM within 1e-6 m. last may be shorter than
// modules; what it does not mark is kept longer. An n beyond the number of
// modules keeps all, an n below zero none. The arguments are not changed.
func Thin(modules []Rect, last []bool, n int) []int {
	t := newThinning(modules, last)
	for left := len(modules); left > max(n, 0); left-- {
		t.drop(modules)
	}
	kept := make([]int, 0, max(0, min(n, len(modules))))
	for i, gone := range t.gone {
		if !gone {
			kept = append(kept, i)
		}
	}
	return kept
}

// thinning is what is left of a packing while [Thin] takes modules away.
type thinning struct {
	rowOf   []int
	rowSize []int
	last    []bool
	lastN   int // marked modules that are left
	gone    []bool
}

func newThinning(modules []Rect, last []bool) *thinning {
	t := &thinning{rowOf: make([]int, len(modules)), last: make([]bool, len(modules)), gone: make([]bool, len(modules))}
	t.lastN = 0
	var first []int // module that stands for each row
	for i, m := range modules {
		if i < len(last) && last[i] {
			t.last[i] = true
			t.lastN++
		}
		row := len(first) - 1
		for row >= 0 && !sameRow(modules[first[row]], m) {
			row--
		}
		if row < 0 {
			row = len(first)
			first = append(first, i)
			t.rowSize = append(t.rowSize, 0)
		}
		t.rowOf[i] = row
		t.rowSize[row]++
	}
	return t
}

func sameRow(a, b Rect) bool {
	return math.Abs(a.VM-b.VM) <= gapTolM && math.Abs(a.HM-b.HM) <= gapTolM
}

// drop takes one module away.
func (t *thinning) drop(modules []Rect) {
	pick := -1
	for i := range modules {
		if t.gone[i] || t.lastN > 0 && !t.last[i] {
			continue
		}
		if pick < 0 || t.goesBefore(modules, i, pick) {
			pick = i
		}
	}
	t.gone[pick] = true
	t.rowSize[t.rowOf[pick]]--
	if t.lastN > 0 {
		t.lastN--
	}
}

func (t *thinning) goesBefore(modules []Rect, i, k int) bool {
	a, b := t.rowOf[i], t.rowOf[k]
	switch {
	case t.rowSize[a] != t.rowSize[b]:
		return t.rowSize[a] < t.rowSize[b]
	case a != b && modules[i].VM != modules[k].VM:
		return modules[i].VM > modules[k].VM
	case a != b:
		return a > b
	}
	return modules[i].UM > modules[k].UM
}
