package web

import (
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"rooftally/energy"
	"rooftally/project"
)

// yieldForm is the models, losses and spreads a yield is reckoned with, to edit.
type yieldForm struct {
	Sky, Glass []choice
	Fields     []yieldField
	Losses     []lossField
	// Own is a line of the user's own, to add.
	Own      ownLossField
	Problems []string
}

// choice is one of a list to choose from.
type choice struct {
	Value, Label string
	Chosen       bool
}

// yieldField is one number with its usual range and source.
type yieldField struct {
	Name, Label, Unit, Value string
	Usual, Source            string
	Wrong                    bool
}

// lossField is one loss line: a value for the whole year, or twelve.
type lossField struct {
	ID, Label, Side string
	// Value is empty where the months differ.
	Value         string
	Months        []string
	Usual, Source string
	// Default is what a new project has, "" for a line of one's own; Changed
	// says that the line differs from it.
	Default string
	Changed bool
	Wrong   bool
}

// ownLossField is what is typed to add a loss line.
type ownLossField struct {
	Label, Value           string
	Sides                  []choice
	LabelWrong, ValueWrong bool
}

func skyChoices() []choice {
	return []choice{
		{Value: string(energy.Perez), Label: "Perez, all sites (usual)"},
		{Value: string(energy.HayDavies), Label: "Hay and Davies"},
		{Value: string(energy.Isotropic), Label: "Even sky (isotropic)"},
	}
}

func glassChoices() []choice {
	return []choice{
		{Value: string(energy.MartinRuiz), Label: "Martin and Ruiz (usual)"},
		{Value: string(energy.Ashrae), Label: "Souka and Safwat (ASHRAE)"},
		{Value: string(energy.Fresnel), Label: "Fresnel, plain glass"},
		{Value: string(energy.NoGlass), Label: "No loss at the glass"},
	}
}

func sideChoices() []choice {
	return []choice{
		{Value: string(energy.BeforeInverter), Label: sideText(string(energy.BeforeInverter))},
		{Value: string(energy.AfterInverter), Label: sideText(string(energy.AfterInverter))},
	}
}

// chosenOf marks the value in use.
func chosenOf(all []choice, value string) []choice {
	for i := range all {
		all[i].Chosen = all[i].Value == value
	}
	return all
}

func newYieldForm(doc project.Document) yieldForm {
	y := doc.Yield
	f := yieldForm{
		Sky: chosenOf(skyChoices(), y.Sky), Glass: chosenOf(glassChoices(), y.Glass),
		Own: ownLossField{Sides: chosenOf(sideChoices(), string(energy.BeforeInverter))},
	}
	for _, n := range yieldNumbers() {
		f.Fields = append(f.Fields, yieldField{Name: n.name, Label: n.label, Unit: n.unit, Value: plainNumber(*n.at(&y)), Usual: n.usual, Source: n.source})
	}
	for _, l := range y.Losses {
		f.Losses = append(f.Losses, newLossField(l))
	}
	return f
}

// yieldNumber is one of the numbers of the yield terms.
type yieldNumber struct {
	name, label, unit string
	usual, source     string
	low, high         float64
	at                func(*project.YieldTerms) *float64
}

func yieldNumbers() []yieldNumber {
	const practice = "common practice, no source"
	return []yieldNumber{
		{"albedo", "Light thrown back by the ground", "0 to 1", "0.2; fresh snow about 0.7", "Liu and Jordan 1963, from memory", 0, 1,
			func(y *project.YieldTerms) *float64 { return &y.Albedo }},
		{"weather_sigma_pct", "Spread of one year's weather", "%", "3 to 7", practice, 0, 30,
			func(y *project.YieldTerms) *float64 { return &y.WeatherSigmaPct }},
		{"model_sigma_pct", "Spread of the reckoning", "%", "3 to 8", practice, 0, 30,
			func(y *project.YieldTerms) *float64 { return &y.ModelSigmaPct }},
	}
}

func newLossField(l project.LossLine) lossField {
	f := lossField{ID: l.ID, Label: l.Label, Side: sideText(l.Side), Source: "typed for this project"}
	for _, v := range l.MonthlyPct {
		f.Months = append(f.Months, plainNumber(v))
	}
	if evenMonths(l.MonthlyPct) {
		f.Value = f.Months[0]
	}
	if d, ok := defaultLoss(l.ID); ok {
		f.Usual = plainNumber(d.UsualLowPct) + " to " + plainNumber(d.UsualHighPct) + " %"
		f.Source = d.Source
		f.Default, f.Changed = plainNumber(d.MonthlyPct[0]), d.MonthlyPct != l.MonthlyPct
	}
	return f
}

func sideText(side string) string {
	if side == string(energy.AfterInverter) {
		return "After the inverter, AC"
	}
	return "Before the inverter, DC"
}

func evenMonths(m [12]float64) bool {
	for _, v := range m {
		if v != m[0] {
			return false
		}
	}
	return true
}

// defaultLoss is the loss line of a new project with an ID.
func defaultLoss(id string) (energy.LossLine, bool) {
	for _, l := range energy.DefaultLosses() {
		if l.ID == id {
			return l, true
		}
	}
	return energy.LossLine{}, false
}

// plainNumber is a number as it is typed.
func plainNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

var errNotANumber = errors.New("is not a plain number, such as 1.5")

// parseNumber reads a typed number; a comma counts as the decimal point.
func parseNumber(typed string) (float64, error) {
	t := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(typed), "%"))
	t = strings.NewReplacer(",", ".", "−", "-").Replace(t)
	// Exponents, hexadecimals and "inf" are numbers to the library and not here.
	if t == "" || strings.Trim(t, "0123456789.-") != "" {
		return 0, errNotANumber
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil {
		return 0, errNotANumber
	}
	return v, nil
}

// maxLossPct and minLossPct are the range of a loss of project.LossLine.
const (
	minLossPct = -10
	maxLossPct = 100
)

// rangedNumber reads a typed number within a range and says in a sentence what is
// wrong with it.
func rangedNumber(what, typed string, low, high float64) (float64, string) {
	v, err := parseNumber(typed)
	if err != nil {
		return 0, what + ": “" + clipText(typed, 20) + "” " + err.Error() + "."
	}
	if v < low || v > high {
		return 0, fmt.Sprintf("%s: is %s; it must be from %s to %s.", what, plainNumber(v), plainNumber(low), plainNumber(high))
	}
	return v, ""
}

// readYieldForm is the yield terms with what a form says changed, and what is
// wrong with the form; with problems the terms are as they were. A name that the
// form does not have leaves its part as it is.
func readYieldForm(y project.YieldTerms, form url.Values) (project.YieldTerms, []string) {
	out, problems := y, []string(nil)
	out.Losses = slices.Clone(y.Losses)
	if form.Get("reset") == "all" {
		return project.New("x").Yield, nil
	}
	if form.Has("sky") {
		out.Sky = form.Get("sky")
	}
	if form.Has("glass") {
		out.Glass = form.Get("glass")
	}
	for _, n := range yieldNumbers() {
		if !form.Has(n.name) {
			continue
		}
		v, wrong := rangedNumber(n.label, form.Get(n.name), n.low, n.high)
		if wrong != "" {
			problems = append(problems, wrong)
			continue
		}
		*n.at(&out) = v
	}
	if _, usual := defaultLoss(form.Get("remove")); !usual {
		out.Losses = slices.DeleteFunc(out.Losses, func(l project.LossLine) bool { return l.ID == form.Get("remove") })
	}
	for i := range out.Losses {
		l := &out.Losses[i]
		if d, ok := defaultLoss(l.ID); ok && form.Get("reset") == l.ID {
			l.MonthlyPct = d.MonthlyPct
			continue
		}
		months, wrong := readLoss(*l, form)
		problems = append(problems, wrong...)
		l.MonthlyPct = months
	}
	own, wrong := readOwnLoss(out.Losses, form)
	problems = append(problems, wrong...)
	out.Losses = append(out.Losses, own...)
	if len(problems) > 0 {
		return y, problems
	}
	return out, nil
}

// What a line of one's own is called in problems: its name and its value.
const (
	ownLabelName = "A loss of your own"
	ownValueName = "A loss of your own, all year"
)

// readOwnLoss reads the line that a form adds to others, none where nothing is typed.
func readOwnLoss(others []project.LossLine, form url.Values) ([]project.LossLine, []string) {
	label, typed := strings.TrimSpace(form.Get("own-label")), strings.TrimSpace(form.Get("own-pct"))
	if label == "" && typed == "" {
		return nil, nil
	}
	same := func(l project.LossLine) bool { return strings.EqualFold(l.Label, label) }
	var problems []string
	switch n := utf8.RuneCountInString(label); {
	case len(others) >= project.MaxLossLines:
		problems = append(problems, fmt.Sprintf("%s: there are %d lines, as many as there may be. Remove one first.", ownLabelName, len(others)))
	case n == 0 || n > project.MaxLabel:
		problems = append(problems, fmt.Sprintf("%s: what is lost has %d characters; it must have from 1 to %d.", ownLabelName, n, project.MaxLabel))
	case slices.ContainsFunc(others, same):
		problems = append(problems, fmt.Sprintf("%s: “%s” is a line already; change its value there.", ownLabelName, label))
	}
	v := 0.0
	if typed == "" {
		problems = append(problems, fmt.Sprintf("%s: type a number from %d to %d.", ownValueName, minLossPct, maxLossPct))
	} else if n, wrong := rangedNumber(ownValueName, typed, minLossPct, maxLossPct); wrong != "" {
		problems = append(problems, wrong)
	} else {
		v = n
	}
	if len(problems) > 0 {
		return nil, problems
	}
	out := project.LossLine{Label: label, Side: form.Get("own-side")}
	for i := range out.MonthlyPct {
		out.MonthlyPct[i] = v
	}
	for n := 1; out.ID == ""; n++ {
		id := "own_" + strconv.Itoa(n)
		if !slices.ContainsFunc(others, func(l project.LossLine) bool { return l.ID == id }) {
			out.ID = id
		}
	}
	return []project.LossLine{out}, nil
}

// readLoss reads one line: months that were edited count, else a value for the
// whole year. Both at once contradict each other.
func readLoss(l project.LossLine, form url.Values) ([12]float64, []string) {
	months, edited := l.MonthlyPct, false
	var problems []string
	for m, name := range monthNames() {
		key := lossName(l.ID, m)
		if !form.Has(key) || form.Get(key) == plainNumber(l.MonthlyPct[m]) {
			continue
		}
		v, wrong := rangedNumber(l.Label+", "+name, form.Get(key), minLossPct, maxLossPct)
		if wrong != "" {
			problems = append(problems, wrong)
			continue
		}
		months[m], edited = v, edited || v != l.MonthlyPct[m]
	}
	year, shown := strings.TrimSpace(form.Get("loss-"+l.ID)), newLossField(l).Value
	if year == "" || year == shown {
		return months, problems
	}
	v, wrong := rangedNumber(l.Label, year, minLossPct, maxLossPct)
	switch {
	case wrong != "":
		return months, append(problems, wrong)
	case edited:
		return months, append(problems, l.Label+": type either one value for the year or the months, not both.")
	}
	for m := range months {
		months[m] = v
	}
	return months, problems
}

// lossName is the form's name of one month of a line: a point is in no line's id.
func lossName(id string, month int) string { return "loss-" + id + "." + strconv.Itoa(month+1) }

// typedInto puts what was typed back into a form that was refused.
func (f yieldForm) typedInto(form url.Values, problems []string) yieldForm {
	f.Problems = problems
	f.Sky, f.Glass = chosenOf(f.Sky, form.Get("sky")), chosenOf(f.Glass, form.Get("glass"))
	wrong := func(label string) bool {
		return slices.ContainsFunc(problems, func(p string) bool { return strings.HasPrefix(p, label) })
	}
	for i := range f.Fields {
		if field := &f.Fields[i]; form.Has(field.Name) {
			field.Value, field.Wrong = form.Get(field.Name), wrong(field.Label+":")
		}
	}
	for i := range f.Losses {
		l := &f.Losses[i]
		if form.Has("loss-" + l.ID) {
			l.Value = form.Get("loss-" + l.ID)
		}
		for m := range l.Months {
			if key := lossName(l.ID, m); form.Has(key) {
				l.Months[m] = form.Get(key)
			}
		}
		l.Wrong = wrong(l.Label+":") || wrong(l.Label+",")
	}
	f.Own.Label, f.Own.LabelWrong = form.Get("own-label"), wrong(ownLabelName+":")
	f.Own.Value, f.Own.ValueWrong = form.Get("own-pct"), wrong(ownValueName+":")
	f.Own.Sides = chosenOf(f.Own.Sides, form.Get("own-side"))
	return f
}
