package energy

// Grid is a lattice of square cells on a plane, for the heat map.
type Grid struct {
	// Plane is the index in [Scene.Planes].
	Plane int
	// UM and VM are the lower left corner, StepM the side of a cell.
	UM, VM, StepM float64
	// Columns run along u, Rows up the slope.
	Columns, Rows int
}

// Cells are the grid's cells as rectangles for [Irradiate], row by row from the
// lower left.
func (g Grid) Cells() []Module {
	out := make([]Module, 0, max(0, g.Columns*g.Rows))
	for r := range g.Rows {
		for c := range g.Columns {
			out = append(out, Module{Plane: g.Plane, UM: g.UM + float64(c)*g.StepM, VM: g.VM + float64(r)*g.StepM, WidthM: g.StepM, HeightM: g.StepM})
		}
	}
	return out
}

// Below returns the outlines of the cells whose value (such as solar access) is
// under a limit: one counter-clockwise ring of slope points for each group of
// cells that share sides, for a shade keep-out to be proposed. values are in
// the order of [Grid.Cells]; a NaN is not under any limit, so that cells off the
// roof are marked by NaN. Good cells that low ones enclose are taken in, and
// where two low cells meet at a corner alone a third joins them, so that no ring
// touches itself. A wrong number of values gives no rings.
func (g Grid) Below(values []float64, limit float64) [][][2]float64 {
	if g.Columns < 1 || g.Rows < 1 || len(values) != g.Columns*g.Rows {
		return nil
	}
	low := newMask(g.Columns, g.Rows)
	for i, v := range values {
		low.set(i%g.Columns, i/g.Columns, v < limit)
	}
	low.closeCorners()
	var rings [][][2]float64
	seen := newMask(g.Columns, g.Rows)
	for r := range g.Rows {
		for c := range g.Columns {
			if low.at(c, r) && !seen.at(c, r) {
				low.flood(c, r, seen)
				rings = append(rings, g.outline(low, c, r))
			}
		}
	}
	return rings
}

// mask marks cells; cells beyond its edges are not marked.
type mask struct {
	columns, rows int
	marked        []bool
}

func newMask(columns, rows int) *mask {
	return &mask{columns, rows, make([]bool, columns*rows)}
}

func (m *mask) at(c, r int) bool {
	return c >= 0 && r >= 0 && c < m.columns && r < m.rows && m.marked[r*m.columns+c]
}

func (m *mask) set(c, r int, to bool) { m.marked[r*m.columns+c] = to }

// closeCorners marks cells until no two marked ones meet at a corner alone. It
// ends, since it only marks.
func (m *mask) closeCorners() {
	for changed := true; changed; {
		changed = false
		for r := range m.rows - 1 {
			for c := range m.columns - 1 {
				a, b, d, e := m.at(c, r), m.at(c+1, r), m.at(c, r+1), m.at(c+1, r+1)
				if a && e && !b && !d {
					m.set(c+1, r, true)
					changed = true
				}
				if b && d && !a && !e {
					m.set(c, r, true)
					changed = true
				}
			}
		}
	}
}

// flood marks in seen the group of cells that holds one.
func (m *mask) flood(c, r int, seen *mask) {
	stack := [][2]int{{c, r}}
	for len(stack) > 0 {
		at := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if !m.at(at[0], at[1]) || seen.at(at[0], at[1]) {
			continue
		}
		seen.set(at[0], at[1], true)
		stack = append(stack, [2]int{at[0] + 1, at[1]}, [2]int{at[0] - 1, at[1]}, [2]int{at[0], at[1] + 1}, [2]int{at[0], at[1] - 1})
	}
}

// outline walks round a group of cells with the group on the left, from the
// lower left corner of its first cell in row order, and keeps the turns.
func (g Grid) outline(m *mask, c, r int) [][2]float64 {
	steps := [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} // east, north, west, south
	// Of a corner (x, y), the cell to the left of a step and the one to the right.
	left := [4][2]int{{0, 0}, {-1, 0}, {-1, -1}, {0, -1}}
	right := [4][2]int{{0, -1}, {0, 0}, {-1, 0}, {-1, -1}}
	x, y, way := c, r, 0
	var ring [][2]float64
	for {
		ring = append(ring, [2]float64{g.UM + float64(x)*g.StepM, g.VM + float64(y)*g.StepM})
		for {
			x, y = x+steps[way][0], y+steps[way][1]
			if m.at(x+right[way][0], y+right[way][1]) {
				way = (way + 3) % 4
				break
			}
			if !m.at(x+left[way][0], y+left[way][1]) {
				way = (way + 1) % 4
				break
			}
		}
		if x == c && y == r {
			return ring
		}
	}
}
