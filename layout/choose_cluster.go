package layout

import (
	"cmp"
	"math"
	"slices"
)

// alternative is one layout of a plane, taken apart into clusters.
type alternative struct {
	index    int // in Site.Alternatives
	rects    []Rect
	units    []int64 // values
	fixed    []bool  // nil for none
	fixedN   int
	clusters []cluster
}

// cluster is a set of positions whose runs and blocks do not depend on other
// positions: none of it stands beside or on one of another cluster. All have one
// turn. Its rows are listed upwards, each stands on the one before.
type cluster struct {
	rows []clusterRow
	size int
}

// clusterRow is a row of positions from left to right.
type clusterRow struct {
	at    []int   // position numbers in the alternative
	rank  []int64 // what they count in the reading order
	units []int64
	fixed []bool
	// joined says that a position continues the run of the one before it.
	joined []bool
	// above and below are the indices, in the next row and in the one before, of
	// the position that stands on this one and of the one it stands on; -1 for
	// none.
	above, below []int
}

// maxRanked is up to how many positions of an alternative the reading order
// decides ties: their sum then fits its part of a [cell].
const maxRanked = 4096

// same reports whether alternative a of s offers just what o does.
func (o alternative) same(s Site, a int) bool {
	if !slices.Equal(o.rects, s.Alternatives[a]) {
		return false
	}
	for i, v := range s.Values[a] {
		held := s.Fixed != nil && s.Fixed[a] != nil && s.Fixed[a][i]
		if unitsOf(v) != o.units[i] || held != o.isFixed(i) {
			return false
		}
	}
	return true
}

func (o alternative) isFixed(i int) bool { return o.fixed != nil && o.fixed[i] }

// unitsOf rounds a value to whole units.
func unitsOf(v float64) int64 { return int64(math.Round(v * unitsPerValue)) }

func newAlternative(s Site, a int) alternative {
	alt := alternative{index: a, rects: s.Alternatives[a], units: make([]int64, len(s.Values[a]))}
	for i, v := range s.Values[a] {
		alt.units[i] = unitsOf(v)
	}
	if s.Fixed != nil {
		alt.fixed = s.Fixed[a]
	}
	for i := range alt.rects {
		if alt.isFixed(i) {
			alt.fixedN++
		}
	}
	alt.clusters = newLinks(alt.rects, s.Spec).clusters(&alt)
	return alt
}

// links says how the positions of a layout stand to each other, as [TidinessOf]
// sees it. Numbers are places in order, -1 is none.
type links struct {
	rects []Rect
	order []int // position numbers, row by row upwards, each from the left
	rowOf []int // the row of each: one height and one turn
	left  []int // what it continues as a rail run
	below []int // what it stands on
}

func newLinks(rects []Rect, s Spec) *links {
	n := len(rects)
	l := &links{rects: rects, order: make([]int, n), rowOf: make([]int, n), left: make([]int, n), below: make([]int, n)}
	for i := range l.order {
		l.order[i] = i
	}
	slices.SortFunc(l.order, func(a, b int) int {
		return cmp.Or(cmp.Compare(rects[a].VM, rects[b].VM), cmp.Compare(rects[a].UM, rects[b].UM), cmp.Compare(a, b))
	})
	var rows [][2]int // first and end of rows, upwards
	for i := 0; i < n; {
		end := i + 1
		for end < n && aligned(l.at(i).VM, l.at(end).VM) {
			end++
		}
		rows = l.addLevel(rows, i, end, s)
		i = end
	}
	for k, row := range rows {
		for i := row[0]; i < row[1]; i++ {
			l.below[i] = l.under(rows[:k], i, s)
		}
	}
	return l
}

func (l *links) at(i int) Rect { return l.rects[l.order[i]] }

// addLevel parts positions of one height by turn, the wider first.
func (l *links) addLevel(rows [][2]int, from, end int, s Spec) [][2]int {
	slices.SortFunc(l.order[from:end], func(a, b int) int {
		x, y := l.rects[a], l.rects[b]
		if !aligned(x.WM, y.WM) {
			return cmp.Compare(y.WM, x.WM)
		}
		return cmp.Or(cmp.Compare(x.UM, y.UM), cmp.Compare(a, b))
	})
	for i := from; i < end; i++ {
		l.left[i] = -1
		if i == from || !aligned(l.at(i-1).WM, l.at(i).WM) {
			rows = append(rows, [2]int{i, i})
		} else if p := l.at(i - 1); aligned(p.UM+p.WM+s.GapUM, l.at(i).UM) {
			l.left[i] = i - 1
		}
		rows[len(rows)-1][1] = i + 1
		l.rowOf[i] = len(rows) - 1
	}
	return rows
}

// under looks for what place i stands on in the rows before its own.
func (l *links) under(rows [][2]int, i int, s Spec) int {
	m := l.at(i)
	for k := len(rows) - 1; k >= 0; k-- {
		from, end := rows[k][0], rows[k][1]
		first := l.at(from)
		if !aligned(first.WM, m.WM) {
			continue
		}
		if first.VM+first.HM+s.GapVM < m.VM-2*alignTolM {
			break // rows of this turn further down are further away
		}
		at, _ := slices.BinarySearchFunc(l.order[from:end], m.UM-alignTolM, func(p int, u float64) int { return cmp.Compare(l.rects[p].UM, u) })
		if at += from; at < end {
			if p := l.at(at); aligned(p.UM, m.UM) && aligned(p.WM, m.WM) && aligned(p.VM+p.HM+s.GapVM, m.VM) {
				return at
			}
		}
	}
	return -1
}

// clusters groups what is linked. They are listed by their first position.
func (l *links) clusters(alt *alternative) []cluster {
	root := l.roots()
	var out []cluster
	number := make([]int, len(root)) // of the cluster, by root
	place := make([]int, len(root))  // index in its cluster's row
	var lastRows [][2]int            // row numbers of the cluster's last row and the one before
	for i, r := range root {
		if r == i {
			number[i] = len(out)
			out = append(out, cluster{})
			lastRows = append(lastRows, [2]int{-1, -1})
		}
		c := number[r]
		if lastRows[c][0] != l.rowOf[i] {
			lastRows[c] = [2]int{l.rowOf[i], lastRows[c][0]}
			out[c].rows = append(out[c].rows, clusterRow{})
		}
		place[i] = out[c].add(l, alt, i)
		// Rows that drift apart by tolerances could leave a row between.
		if below := l.below[i]; below >= 0 && l.rowOf[below] == lastRows[c][1] {
			rows := out[c].rows
			rows[len(rows)-2].above[place[below]] = place[i]
			rows[len(rows)-1].below[place[i]] = place[below]
		}
	}
	return out
}

// roots gives each place the first place that it is linked to.
func (l *links) roots() []int {
	parent := make([]int, len(l.order))
	for i := range parent {
		parent[i] = i
	}
	find := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for i := range parent {
		for _, to := range [2]int{l.left[i], l.below[i]} {
			if to >= 0 {
				a, b := find(i), find(to)
				parent[max(a, b)] = min(a, b)
			}
		}
	}
	for i := range parent {
		parent[i] = find(i)
	}
	return parent
}

// add puts place i of the order at the end of the last row and returns its index
// there.
func (c *cluster) add(l *links, alt *alternative, i int) int {
	r := &c.rows[len(c.rows)-1]
	at, rank := l.order[i], int64(i)
	if len(l.order) > maxRanked {
		rank = 0
	}
	r.at = append(r.at, at)
	r.rank = append(r.rank, rank)
	r.units = append(r.units, alt.units[at])
	r.fixed = append(r.fixed, alt.isFixed(at))
	r.joined = append(r.joined, l.left[i] >= 0 && len(r.joined) > 0)
	r.above = append(r.above, -1)
	r.below = append(r.below, -1)
	c.size++
	return len(r.at) - 1
}
