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
