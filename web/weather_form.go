package web

import (
	"fmt"
	"net/url"
	"strconv"

	"rooftally/climate"
	"rooftally/project"
)

// monthlyForm is the form of twelve monthly values as it is shown: what somebody
// typed, or what is kept.
type monthlyForm struct {
	Label string
	// Filled is "station" where the form shows a station's values, else "".
	Filled string
	Rows   [12]monthRow
	Wind   formField
	// Problems are what is wrong, each with the id of its field, "" for none.
	Problems []formProblem
}

// monthRow are the fields of one month.
type monthRow struct {
	Month         string
	GHI, DHI, Air formField
}

// formField is a field with its text; Bad marks one that cannot be taken.
type formField struct {
	ID, Text string
	Bad      bool
}

type formProblem struct{ ID, Text string }

// The columns of the form, by the beginning of their fields' names.
const (
	ghiField = "ghi"
	dhiField = "dhi"
	airField = "air"
)

func fieldID(column string, month int) string { return column + "_" + strconv.Itoa(month+1) }

// emptyMonthly is the form with nothing in it.
func emptyMonthly() monthlyForm {
	f := monthlyForm{Wind: formField{ID: "wind"}}
	for m, name := range monthNames() {
		f.Rows[m] = monthRow{name, formField{ID: fieldID(ghiField, m)}, formField{ID: fieldID(dhiField, m)}, formField{ID: fieldID(airField, m)}}
	}
	return f
}

// The decimals of fields; what is typed is kept as it is typed.
const (
	irradiationDecimals = 3
	tempDecimals        = 1
	windDecimals        = 2
)

// monthlyFormOf shows kept values, none for nil.
func monthlyFormOf(w *project.MonthlyWeather, u weatherUnits) monthlyForm {
	f := emptyMonthly()
	if w == nil {
		return f
	}
	f.Label = w.Label
	for m := range f.Rows {
		row := &f.Rows[m]
		row.GHI.Text = numberShown(w.GHIKWhM2Day[m], irradiationDecimals)
		if w.DHIKWhM2Day != nil {
			row.DHI.Text = numberShown(w.DHIKWhM2Day[m], irradiationDecimals)
		}
		row.Air.Text = numberShown(u.temp(w.AirC[m]), tempDecimals)
	}
	if w.WindMS > 0 {
		f.Wind.Text = numberShown(u.wind(w.WindMS), windDecimals)
	}
	return f
}

// stationMonthly are a station's monthly values, to begin from; nil for a station
// that the table has no year of.
func stationMonthly(s climate.Station) *project.MonthlyWeather {
	year, ok := climate.YearOf(s.ID)
	if !ok {
		return nil
	}
	w := &project.MonthlyWeather{Label: placeName(s), GHIKWhM2Day: year.GHI, DHIKWhM2Day: &year.DHI, AirC: year.TempC}
	if year.WindMS != nil {
		w.WindMS = *year.WindMS
	}
	return w
}

// readMonthly reads the form. Where something is wrong the form comes back with
// its problems and what was typed. before are the values that the form showed: a
// field that was left as it was keeps its value to the last digit.
func readMonthly(form url.Values, before *project.MonthlyWeather, u weatherUnits) (project.MonthlyWeather, monthlyForm) {
	r := monthlyReader{form: form, shown: monthlyFormOf(before, u), out: emptyMonthly()}
	r.out.Label, r.out.Filled = form.Get("label"), form.Get("filled")
	w := project.MonthlyWeather{Label: r.out.Label}
	old := project.MonthlyWeather{}
	if before != nil {
		old = *before
	}
	var diffuse [12]float64
	typed := 0
	for m := range r.out.Rows {
		row, shown := &r.out.Rows[m], r.shown.Rows[m]
		w.GHIKWhM2Day[m] = r.number(&row.GHI, shown.GHI, old.GHIKWhM2Day[m], row.Month+": sunlight", span{0, 15, " kWh/m²"})
		if form.Get(row.DHI.ID) != "" {
			typed++
			kept := 0.0
			if old.DHIKWhM2Day != nil {
				kept = old.DHIKWhM2Day[m]
			}
			diffuse[m] = r.number(&row.DHI, shown.DHI, kept, row.Month+": diffuse", span{0, 15, " kWh/m²"})
		}
		air := span{u.temp(-90), u.temp(60), " " + u.Temp()}
		w.AirC[m] = r.turned(&row.Air, shown.Air, old.AirC[m], row.Month+": temperature", air, u.celsius)
	}
	switch typed {
	case 0:
	case len(diffuse):
		w.DHIKWhM2Day = &diffuse
	default:
		for m := range r.out.Rows {
			if row := &r.out.Rows[m]; row.DHI.Text == "" {
				r.fault(&row.DHI, row.Month+": diffuse is empty; type all twelve, or none and it is reckoned.")
				break
			}
		}
	}
	if form.Get("wind") != "" {
		w.WindMS = r.turned(&r.out.Wind, r.shown.Wind, old.WindMS, "Wind", span{0, u.wind(75), " " + u.Wind()}, u.metresPerSecond)
	}
	return w, r.out
}

// span is an allowed range with its unit.
type span struct {
	lo, hi float64
	unit   string
}

// monthlyReader reads the fields of a form.
type monthlyReader struct {
	form       url.Values
	shown, out monthlyForm
}

func (r *monthlyReader) fault(f *formField, text string) {
	f.Bad = true
	r.out.Problems = append(r.out.Problems, formProblem{f.ID, text})
}

// number reads one field.
func (r *monthlyReader) number(f *formField, shown formField, kept float64, what string, s span) float64 {
	return r.turned(f, shown, kept, what, s, func(v float64) float64 { return v })
}

// turned is number with a way from the unit shown to the unit kept.
func (r *monthlyReader) turned(f *formField, shown formField, kept float64, what string, s span, keep func(float64) float64) float64 {
	f.Text = r.form.Get(f.ID)
	if f.Text != "" && f.Text == shown.Text {
		return kept
	}
	v, ok := numberTyped(f.Text)
	switch {
	case f.Text == "":
		r.fault(f, what+" is empty.")
	case !ok:
		r.fault(f, fmt.Sprintf("%s is %.20q; type a number.", what, f.Text))
	case v < s.lo || v > s.hi:
		r.fault(f, fmt.Sprintf("%s is %s; it must be %s to %s%s.", what, numberShown(v, 3), numberShown(s.lo, 1), numberShown(s.hi, 1), s.unit))
	default:
		return keep(v)
	}
	return 0
}
