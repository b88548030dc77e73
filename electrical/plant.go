package electrical

import "rooftally/catalog"

// Plant is how much it takes to build a given power from whole strings.
type Plant struct {
	// Strings is the least whole number of strings, Modules and PowerW what
	// they hold.
	Strings int `json:"strings"`
	Modules int `json:"modules"`
	PowerW  int `json:"power_w"`
	// ModuleAreaM2 is the area of the modules themselves; GroundAreaM2 that of
	// the ground under them at the given coverage, 0 where none was given.
	ModuleAreaM2 float64 `json:"module_area_m2"`
	GroundAreaM2 float64 `json:"ground_area_m2"`
}

// PlantOf returns how many strings of so many modules reach a rated DC power:
// ceil(power / (modules x Pmax)). powerW is 1 to 1e12, perString 1 to 100, and
// coverage, the modules' area over the ground's, above 0 to 1, or 0 for not
// given. Values out of range give an [*InputError].
func PlantOf(powerW int, m catalog.Module, perString int, coverage float64) (Plant, error) {
	const mostW = 1_000_000_000_000
	switch {
	case powerW < 1 || powerW > mostW:
		return Plant{}, bad("power_w", "is %d; it must be 1 to %d W", powerW, mostW)
	case perString < 1 || perString > 100:
		return Plant{}, bad("modules_per_string", "is %d; it must be 1 to 100", perString)
	case coverage != 0 && !(coverage > 0 && coverage <= 1):
		return Plant{}, bad("coverage", "is %g; it must be above 0 to 1, or not given", coverage)
	}
	if err := sound("module", m.ID, m.Check()); err != nil {
		return Plant{}, err
	}
	each := perString * m.PmaxW
	p := Plant{Strings: (powerW + each - 1) / each}
	p.Modules = p.Strings * perString
	p.PowerW = p.Modules * m.PmaxW
	p.ModuleAreaM2 = float64(p.Modules) * m.AreaM2()
	if coverage > 0 {
		p.GroundAreaM2 = p.ModuleAreaM2 / coverage
	}
	return p, nil
}
