package structural

// Hardware is what holds modules, by weight.
type Hardware struct {
	// RailKgPerM is 0 to 20, AttachmentKg 0 to 20 for each attachment with its
	// share of clamps and splices.
	RailKgPerM   float64 `json:"rail_kg_per_m"`
	AttachmentKg float64 `json:"attachment_kg"`
}

// DefaultHardware is 1 kg/m of rail and 0.5 kg an attachment (common practice,
// no source).
func DefaultHardware() Hardware { return Hardware{RailKgPerM: 1, AttachmentKg: 0.5} }

// DeadLoad returns the weight of an array on each square metre of its modules,
// in the roof's slope: kg/m2 and pascals. modules is 1 to 2000, railM 0 to 1e5,
// attachments 0 to 1e5, else an [*InputError].
func DeadLoad(m ModuleBuild, modules int, railM float64, attachments int, h Hardware) ([]Figure, error) {
	if err := m.check(); err != nil {
		return nil, err
	}
	err := checkSpans(span{"modules", float64(modules), 1, maxModules, ""}, span{"rail_m", railM, 0, 1e5, "m"},
		span{"attachments", float64(attachments), 0, 1e5, ""}, span{"rail_kg_per_m", h.RailKgPerM, 0, 20, "kg/m"},
		span{"attachment_kg", h.AttachmentKg, 0, 20, "kg"})
	if err != nil {
		return nil, err
	}
	n, k := float64(modules), float64(attachments)
	kg := float64(n*m.WeightKg) + float64(railM*h.RailKgPerM) + float64(k*h.AttachmentKg)
	area := n * m.LengthM * m.WidthM
	return []Figure{
		{"array_mass", "Mass of the array", "modules + rails + attachments",
			num(n) + " x " + num(m.WeightKg) + " kg + " + num(railM) + " m x " + num(h.RailKgPerM) + " kg/m + " + num(k) + " x " + num(h.AttachmentKg) + " kg = " + num(kg) + " kg",
			kg, "kg", "datasheet; rails and attachments as typed"},
		{"dead_load", "Dead load on each square metre of modules", "mass / area",
			num(kg) + " kg / " + num(area) + " m2 = " + num(kg/area) + " kg/m2", kg / area, "kg/m2", "arithmetic"},
		{"dead_load_pa", "The same as pressure", "kg/m2 x 9.80665",
			num(kg/area) + " x 9.80665 = " + num(kg/area*gravity) + " Pa", kg / area * gravity, "Pa", "arithmetic"},
	}, nil
}
