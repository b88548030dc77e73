package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"rooftally/catalog"
	"rooftally/electrical"
)

// plantView is the page of the plant question.
type plantView struct {
	// Modules are those of the catalog to pick from; "" is typed figures.
	Modules []plantModule
	// Size, Picked and so on are the fields as typed.
	Size, Picked, Watts, PerString, Length, Width, Coverage string
	// Problem says what is wrong with them and Field in which, "" for nothing.
	Problem, Field string
	// Answer is nil while nothing was asked.
	Answer *plantAnswer
}

// plantModule is a module to pick.
type plantModule struct{ ID, Name string }

// plantAnswer is the answer in plain values.
type plantAnswer struct {
	Strings, Modules, Power, Over string
	// Area and Ground are "" where they are not known.
	Area, Ground string
	// Of names the module.
	Of      string
	Figures []figure
}

// plantProblem is a field of the form that cannot be used.
type plantProblem struct{ field, message string }

func (p *plantProblem) Error() string { return p.message }

// maxPlantKW is the largest size of the plant question in kilowatts.
const maxPlantKW = 1_000_000_000

// getPlant answers how many strings, modules and how much room a size takes.
func (s *server) getPlant(w http.ResponseWriter, r *http.Request) {
	modules, _, err := s.catalog.Modules(r.Context())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	view := newPlantView(r.URL.Query(), modules)
	status := http.StatusOK
	if view.Problem != "" {
		status = http.StatusUnprocessableEntity
	}
	s.render(w, r, status, plantPage(view))
}

// newPlantView reads the form and answers it; without a size it only shows it.
func newPlantView(form url.Values, modules []catalog.Datasheet) plantView {
	field := func(name string) string { return strings.TrimSpace(form.Get(name)) }
	v := plantView{
		Size: field("kw"), Picked: field("module"), Watts: field("watts"), PerString: field("per_string"),
		Length: field("length_m"), Width: field("width_m"), Coverage: field("coverage"),
	}
	for _, m := range modules {
		v.Modules = append(v.Modules, plantModule{m.ID, m.Label})
	}
	if !form.Has("kw") {
		return v
	}
	in, of, err := v.input(modules)
	if err == nil {
		err = v.answer(in, of)
	}
	if err != nil {
		v.Problem = firstUpper(err.Error()) + "."
		if p, is := errors.AsType[*plantProblem](err); is {
			v.Field = p.field
		}
	}
	return v
}

// input is the question that the fields ask, and the name of the module.
func (v plantView) input(modules []catalog.Datasheet) (in electrical.PlantInput, of string, err error) {
	if in.PowerW, err = parseKWUpTo(v.Size, maxPlantKW); err != nil {
		return in, "", &plantProblem{"kw", err.Error()}
	}
	read := func(name, label, typed string, to *float64) {
		if err == nil && typed != "" {
			*to, err = plantNumber(name, label, typed)
		}
	}
	whole := func(name, label, typed string) int {
		if err != nil {
			return 0
		}
		n, failed := strconv.Atoi(typed)
		if failed != nil {
			err = &plantProblem{name, fmt.Sprintf("%s is %q; it must be a whole number", label, typed)}
		}
		return n
	}
	in.PerString = whole("per_string", "the number of modules in a string", v.PerString)
	read("coverage", "the coverage", v.Coverage, &in.Coverage)
	if v.Picked == "" {
		in.ModuleW = whole("watts", "the rated power of the module", v.Watts)
		read("length_m", "the length", v.Length, &in.LengthM)
		read("width_m", "the width", v.Width, &in.WidthM)
		return in, v.Watts + " W", err
	}
	for _, m := range modules {
		if m.ID == v.Picked {
			in.ModuleW, in.LengthM, in.WidthM = m.PmaxW, m.LengthM, m.WidthM
			return in, "“" + m.Label + "”", err
		}
	}
	return in, "", &plantProblem{"module", "the catalog has no such module any more: pick another one"}
}

// plantNumber reads a plain decimal number; a comma counts as the point. A zero
// is refused, for it would count as not given.
func plantNumber(name, label, typed string) (float64, error) {
	f, err := strconv.ParseFloat(strings.ReplaceAll(typed, ",", "."), 64)
	if err != nil || f == 0 {
		return 0, &plantProblem{name, fmt.Sprintf("%s is %q; it must be a number above 0, or blank", label, typed)}
	}
	return f, nil
}

// plantFields are the form's fields by what package electrical calls them.
func plantFields() map[string][2]string {
	return map[string][2]string{
		"power_w": {"kw", "the size"}, "module_w": {"watts", "the rated power of the module"}, "per_string": {"per_string", "the number of modules in a string"},
		"length_m": {"length_m", "the length of the module"}, "width_m": {"width_m", "the width of the module"}, "coverage": {"coverage", "the coverage"},
	}
}

// answer fills in the answer.
func (v *plantView) answer(in electrical.PlantInput, of string) error {
	p, err := electrical.PlantOf(in)
	if bad, is := errors.AsType[*electrical.InputError](err); is {
		field := plantFields()[bad.Field]
		return &plantProblem{field[0], field[1] + " " + bad.Message}
	}
	if err != nil {
		return err
	}
	a := plantAnswer{
		Strings: grouped(float64(p.Strings)), Modules: grouped(float64(p.Modules)), Of: of, Figures: units{}.electricalFigures(p.Figures),
		Power: wattsText(p.PowerW), Over: "exactly as asked",
	}
	if more := p.PowerW - in.PowerW; more > 0 {
		a.Over = wattsText(more) + " more than asked"
	}
	if p.ModuleAreaM2 != nil {
		a.Area = fieldArea(*p.ModuleAreaM2)
	}
	if p.GroundAreaM2 != nil {
		a.Ground = fieldArea(*p.GroundAreaM2)
	}
	v.Answer = &a
	return nil
}

// wattsText writes watts as kilowatts, exactly.
func wattsText(watts int) string {
	t := grouped(float64(watts / 1000))
	if rest := watts % 1000; rest > 0 {
		t += strings.TrimRight(fmt.Sprintf(".%03d", rest), "0")
	}
	return t + " kW"
}

// fieldArea writes an area in square metres and square feet.
func fieldArea(m2 float64) string {
	return grouped(m2) + " m² (" + grouped(m2/(footM*footM)) + " ft²)"
}
