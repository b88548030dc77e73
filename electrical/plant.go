package electrical

import (
	"fmt"
	"strconv"
	"strings"

	"rooftally/catalog"
)

// PlantInput asks what it takes to build a rated DC power from whole strings.
type PlantInput struct {
	// PowerW is the size in whole watts, 1 to 1e12.
	PowerW int
	// ModuleW is the rated power of one module, 1 to 2000 W.
	ModuleW int
	// PerString is how many modules stand in a string, 1 to 100.
	PerString int
	// LengthM and WidthM are the module's sides, each 0.2 to 5 m; both 0 are not
	// given, and no area is answered.
	LengthM, WidthM float64
	// Coverage is the modules' area over the ground's, above 0 to 1; 0 is not
	// given, and no ground is answered.
	Coverage float64
}

// Plant is how much it takes to build a given power from whole strings.
type Plant struct {
	// Strings is the least whole number of strings, Modules and PowerW what
	// they hold.
	Strings int `json:"strings"`
	Modules int `json:"modules"`
	PowerW  int `json:"power_w"`
	// ModuleAreaM2 is the area of the modules themselves, nil without their
	// sides; GroundAreaM2 that of the ground under them at the given coverage, nil
	// without one.
	ModuleAreaM2 *float64 `json:"module_area_m2"`
	GroundAreaM2 *float64 `json:"ground_area_m2"`
	// Figures are the same with formula and numbers.
	Figures []Figure `json:"-"`
}

// mostPlantW is the largest plant that is answered for, W.
const mostPlantW = 1_000_000_000_000

// check tests the ranges.
func (in PlantInput) check() error {
	sides := in.LengthM != 0 || in.WidthM != 0
	switch {
	case in.PowerW < 1 || in.PowerW > mostPlantW:
		return bad("power_w", "is %d; it must be 1 to %d W", in.PowerW, mostPlantW)
	case in.ModuleW < catalog.MinPmaxW || in.ModuleW > catalog.MaxPmaxW:
		return bad("module_w", "is %d; it must be a whole number of watts from %d to %d", in.ModuleW, catalog.MinPmaxW, catalog.MaxPmaxW)
	case in.PerString < 1 || in.PerString > 100:
		return bad("per_string", "is %d; it must be 1 to 100", in.PerString)
	case in.Coverage != 0 && !(in.Coverage > 0 && in.Coverage <= 1):
		return bad("coverage", "is %g; it must be above 0 to 1, or not given", in.Coverage)
	case in.Coverage != 0 && !sides:
		return bad("length_m", "is not given; the ground needs the module's sides")
	case !sides:
		return nil
	}
	return checkSpans(span{"length_m", in.LengthM, catalog.MinSideM, catalog.MaxSideM, "m"},
		span{"width_m", in.WidthM, catalog.MinSideM, catalog.MaxSideM, "m"})
}

// PlantOf returns how many strings of so many modules reach a rated DC power:
// ceil(power / (modules x Pmax)), in whole numbers. Values out of range, and a
// coverage or one side without the other sides, give an [*InputError].
func PlantOf(in PlantInput) (Plant, error) {
	if err := in.check(); err != nil {
		return Plant{}, err
	}
	each := in.PerString * in.ModuleW
	p := Plant{Strings: (in.PowerW + each - 1) / each}
	p.Modules = p.Strings * in.PerString
	p.PowerW = p.Modules * in.ModuleW
	const arithmetic = "arithmetic"
	p.Figures = []Figure{
		{"strings", "Strings", "size / (modules in a string x rated power), rounded up to a whole number",
			fmt.Sprintf("%s W / (%d x %d W) = %s: %s", grouped(in.PowerW), in.PerString, in.ModuleW, num(float64(in.PowerW)/float64(each)), grouped(p.Strings)),
			float64(p.Strings), "", arithmetic},
		{"modules", "Modules", "strings x modules in a string",
			fmt.Sprintf("%s x %d = %s", grouped(p.Strings), in.PerString, grouped(p.Modules)), float64(p.Modules), "", arithmetic},
		{"power", "Rated power of them", "modules x rated power",
			fmt.Sprintf("%s x %d W = %s W", grouped(p.Modules), in.ModuleW, grouped(p.PowerW)), float64(p.PowerW), "W", arithmetic},
	}
	if in.LengthM == 0 {
		return p, nil
	}
	area := float64(p.Modules) * in.LengthM * in.WidthM
	p.ModuleAreaM2 = &area
	p.Figures = append(p.Figures, Figure{"module_area", "Area of the modules themselves", "modules x length x width",
		fmt.Sprintf("%s x %s m x %s m = %s m2", grouped(p.Modules), num(in.LengthM), num(in.WidthM), num(area)), area, "m2", arithmetic})
	if in.Coverage > 0 {
		ground := area / in.Coverage
		p.GroundAreaM2 = &ground
		p.Figures = append(p.Figures, Figure{"ground_area", "Ground under them", "area of the modules / coverage",
			fmt.Sprintf("%s m2 / %s = %s m2", num(area), num(in.Coverage), num(ground)), ground, "m2", "coverage as typed"})
	}
	return p, nil
}

// grouped writes a whole number with a space between thousands.
func grouped(n int) string {
	digits := strconv.Itoa(n)
	var out strings.Builder
	for i, d := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			out.WriteByte(' ')
		}
		out.WriteRune(d)
	}
	return out.String()
}
