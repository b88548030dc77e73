package catalog

import (
	"errors"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// roundTrip exports, imports into an empty catalog and into itself.
func roundTrip[T any](t *testing.T, c CSV[T], entries []T) {
	t.Helper()
	text := c.Export(entries)
	p, err := c.Import(text, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(p.After, entries) || p.Added != len(entries) {
		t.Errorf("read back %+v, want %+v", p.After, entries)
	}
	p, err = c.Import(text, entries)
	if err != nil || p.Unchanged != len(entries) || p.Added+p.Changed != 0 {
		t.Errorf("into itself: %+v, %v", p, err)
	}
}

func TestCSVRoundTrip(t *testing.T) {
	roundTrip(t, ModuleCSV(), DemoDatasheets())
	roundTrip(t, InverterCSV(), DemoInverters())
	roundTrip(t, MicroInverterCSV(), DemoMicroInverters())
	roundTrip(t, OptimiserCSV(), DemoOptimisers())
}

// demoWith is the demo's CSV text of one module with cells replaced by column.
func demoWith(t *testing.T, cells map[string]string) string {
	t.Helper()
	lines := strings.Split(strings.TrimSpace(ModuleCSV().Export(DemoDatasheets()[:1])), "\n")
	names, row := strings.Split(lines[0], ","), strings.Split(lines[1], ",")
	if len(names) > len(row) { // the label holds a comma
		t.Fatal("names and cells differ")
	}
	row = append(row[:1], append([]string{"Plain"}, row[len(row)-len(names)+2:]...)...)
	for name, cell := range cells {
		i := slices.Index(names, name)
		if i < 0 {
			names, row = append(names, name), append(row, cell)
			continue
		}
		row[i] = cell
	}
	return strings.Join(names, ",") + "\n" + strings.Join(row, ",") + "\n"
}

func TestImportSaysWhatChanges(t *testing.T) {
	present := DemoDatasheets()
	text := demoWith(t, map[string]string{"price": "99.5", "voc_v": "39.95", "nmot_c": "44", "noct_c": ""})
	text += strings.Replace(strings.Split(text, "\n")[1], "demo-300-small", "mine", 1) + "\n"
	p, err := ModuleCSV().Import(text, present)
	if err != nil {
		t.Fatal(err)
	}
	if p.Added != 1 || p.Changed != 1 || p.Unchanged != 0 || len(p.After) != 13 || p.After[12].ID != "mine" {
		t.Fatalf("%+v", p)
	}
	want := []FieldChange{
		{"label", "Invented 300 W, small", "Plain"}, {"voc_v", "39.9", "39.95"},
		{"nmot_c", "", "44"}, {"noct_c", "45", ""}, {"price", "92", "99.5"},
	}
	if got := p.Changes[0]; got.Row != 2 || got.Kind != Changed || !slices.Equal(got.Fields, want) {
		t.Errorf("%+v, want fields %v", got, want)
	}
	if got := p.Changes[1]; got.Row != 3 || got.Kind != Added || len(got.Fields) != 0 {
		t.Errorf("%+v", got)
	}
	if !reflect.DeepEqual(present, DemoDatasheets()) {
		t.Error("the present catalog was changed")
	}
}

// A column left out keeps the figure of an entry that the catalog has.
func TestImportKeepsColumnsLeftOut(t *testing.T) {
	text := demoWith(t, map[string]string{})
	names, row, _ := strings.Cut(text, "\n")
	names, row = names[:strings.LastIndexByte(names, ',')], row[:strings.LastIndexByte(row, ',')]
	p, err := ModuleCSV().Import(names+"\r\n"+row+"\r\n", DemoDatasheets())
	if err != nil || p.After[0].Price != 92 {
		t.Errorf("price %g, %v", p.After[0].Price, err)
	}
	p, err = ModuleCSV().Import(names+"\n"+row+"\n", nil)
	if err != nil || p.After[0].Price != 0 {
		t.Errorf("price of a new entry %g, %v", p.After[0].Price, err)
	}
}

// A rating that does not say what it is counts as test value.
func TestUnmarkedRatingIsTestValue(t *testing.T) {
	p, err := ModuleCSV().Import(demoWith(t, map[string]string{
		"long_edge_front_test_pa": "", "long_edge_front_design_pa": "", "long_edge_front_pa": "6000"}), nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := p.After[0].LongEdge; got.FrontTestPa != 6000 || got.FrontDesignPa != 0 {
		t.Errorf("%+v", got)
	}
}

func TestImportFaults(t *testing.T) {
	good := demoWith(t, nil)
	header, _, _ := strings.Cut(good, "\n")
	for _, c := range []struct {
		name   string
		text   string
		row    int
		column string
		says   string
	}{
		{"empty", "", 0, "", "no rows"},
		{"header only", header + "\n", 0, "", "no rows"},
		{"semicolons", strings.ReplaceAll(header, ",", ";") + "\n1;2\n", 1, "", "commas"},
		{"missing column", strings.Replace(good, "voc_v,", "", 1), 1, "voc_v", "missing"},
		{"unknown column", strings.Replace(good, "voc_v", "volts", 1), 1, "volts", "no column"},
		{"column twice", strings.Replace(good, "nmot_c", "noct_c", 1), 1, "noct_c", "twice"},
		{"short row", good + "mine,Mine\n", 3, "", "has 2 cells"},
		{"same ID", good + strings.Split(good, "\n")[1] + "\n", 3, "id", "row 2"},
		{"open quote", header + "\n\"x\n", 2, "", "cannot be read"},
		{"not UTF-8", good + "\xff", 0, "", "UTF-8"},
		{"too long", strings.Repeat("x", MaxCSVBytes+1), 0, "", "bytes"},
		{"blank", demoWith(t, map[string]string{"voc_v": " "}), 2, "voc_v", "blank"},
		{"decimal comma", strings.Replace(good, "39.9,", "\"39,9\",", 1), 2, "voc_v", "point"},
		{"words", demoWith(t, map[string]string{"voc_v": "nan"}), 2, "voc_v", "a number"},
		{"power of ten", demoWith(t, map[string]string{"voc_v": "4e1"}), 2, "voc_v", "a number"},
		{"hexadecimal", demoWith(t, map[string]string{"voc_v": "0x28"}), 2, "voc_v", "a number"},
		{"unit in the cell", demoWith(t, map[string]string{"voc_v": "40 V"}), 2, "voc_v", "a number"},
		{"half a watt", demoWith(t, map[string]string{"pmax_w": "300.5"}), 2, "pmax_w", "whole number"},
		{"neither yes nor no", demoWith(t, map[string]string{"half_cut": "true"}), 2, "half_cut", "yes or no"},
		{"out of range", demoWith(t, map[string]string{"substrings": "0"}), 2, "substrings", "1 to 20"},
		{"contradiction", demoWith(t, map[string]string{"imp_a": "8.5"}), 2, "pmax_w", "must agree"},
		{"rating twice", demoWith(t, map[string]string{"long_edge_rear_pa": "2400"}), 2, "long_edge_rear_pa", "give one"},
		{"formula", demoWith(t, map[string]string{"label": "=A1"}), 2, "label", "letter or digit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := ModuleCSV().Import(c.text, DemoDatasheets())
			bad, ok := errors.AsType[*ImportError](err)
			if !ok || len(p.After)+len(p.Changes) != 0 {
				t.Fatalf("error %v, preview %+v", err, p)
			}
			f := bad.Faults[0]
			if f.Row != c.row || f.Column != c.column || !strings.Contains(f.Message, c.says) {
				t.Errorf("first fault %+v, want row %d, column %q, %q", f, c.row, c.column, c.says)
			}
		})
	}
}

// One bad row spoils all, and every bad cell is named.
func TestImportIsAllOrNothing(t *testing.T) {
	text := ModuleCSV().Export(DemoDatasheets())
	text = strings.Replace(text, "39.9", "x", 1)  // row 2
	text = strings.Replace(text, "48.6", "-1", 1) // row 6
	_, err := ModuleCSV().Import(text, nil)
	bad, ok := errors.AsType[*ImportError](err)
	if !ok || len(bad.Faults) != 2 || bad.Faults[0].Row != 2 || bad.Faults[1].Row != 6 {
		t.Fatalf("%v", err)
	}
	want := "row 2: voc_v is \"x\"; it must be a number such as 41.5\nrow 6: voc_v is -1; it must be 1 to 500 V"
	if err.Error() != want {
		t.Errorf("%q, want %q", err.Error(), want)
	}
}

// A doubtful figure is imported and said so.
func TestImportDoubts(t *testing.T) {
	p, err := ModuleCSV().Import("\ufeff"+demoWith(t, map[string]string{"weight_kg": "60"}), nil)
	if err != nil || len(p.Changes[0].Doubts) != 1 || p.Changes[0].Doubts[0].Field != "weight_kg" {
		t.Errorf("%+v, %v", p, err)
	}
}

func TestInverterTrackersMustAgree(t *testing.T) {
	text := InverterCSV().Export(DemoInverters()[3:4])
	if !strings.Contains(text, ",2 1,27 13.5,36 18,") {
		t.Fatalf("%q", text)
	}
	_, err := InverterCSV().Import(strings.Replace(text, "27 13.5", "27", 1), nil)
	bad, ok := errors.AsType[*ImportError](err)
	if !ok || bad.Faults[0].Column != "mppt_max_operating_a" || bad.Faults[0].Row != 2 {
		t.Errorf("%v", err)
	}
}

// docs/catalog.md names every column with what the program says of it.
func TestDocsListTheColumns(t *testing.T) {
	doc, err := os.ReadFile("../docs/catalog.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, columns := range [][]Column{ModuleCSV().Columns(), InverterCSV().Columns(), MicroInverterCSV().Columns(), OptimiserCSV().Columns()} {
		at := 0
		for _, c := range columns {
			need := map[bool]string{true: "yes", false: ""}[c.Required]
			line := "| `" + c.Name + "` | " + need + " | " + c.About + " |\n"
			i := strings.Index(string(doc)[at:], line)
			if i < 0 {
				t.Errorf("missing or out of order: %s", line)
				continue
			}
			at += i
		}
	}
}

// Whatever the text is, an import ends in faults or in entries that pass their
// check and survive being written and read again.
func FuzzImportModules(f *testing.F) {
	f.Add(ModuleCSV().Export(DemoDatasheets()))
	f.Add("id,label\nx,\"y\n")
	f.Add("\ufeffid;label\n")
	f.Fuzz(func(t *testing.T, text string) { importsSoundly(t, ModuleCSV(), text, DemoDatasheets()) })
}

func FuzzImportInverters(f *testing.F) {
	f.Add(InverterCSV().Export(DemoInverters()))
	f.Fuzz(func(t *testing.T, text string) { importsSoundly(t, InverterCSV(), text, DemoInverters()) })
}

func FuzzImportMicroInverters(f *testing.F) {
	f.Add(MicroInverterCSV().Export(DemoMicroInverters()))
	f.Fuzz(func(t *testing.T, text string) { importsSoundly(t, MicroInverterCSV(), text, DemoMicroInverters()) })
}

func FuzzImportOptimisers(f *testing.F) {
	f.Add(OptimiserCSV().Export(DemoOptimisers()))
	f.Fuzz(func(t *testing.T, text string) { importsSoundly(t, OptimiserCSV(), text, DemoOptimisers()) })
}

func importsSoundly[T any](t *testing.T, c CSV[T], text string, present []T) {
	before := slices.Clone(present)
	if over, err := c.Import(text, present); err == nil && len(over.After) < len(present) {
		t.Fatalf("an import took entries away: %d of %d are left", len(over.After), len(present))
	}
	if !reflect.DeepEqual(present, before) {
		t.Fatal("an import changed the present list")
	}
	p, err := c.Import(text, nil)
	if err != nil {
		if bad, ok := errors.AsType[*ImportError](err); !ok || len(bad.Faults) == 0 {
			t.Fatalf("%v", err)
		}
		return
	}
	for _, entry := range p.After {
		for _, problem := range c.check(entry) {
			if !problem.Doubt {
				t.Fatalf("imported %+v with %+v", entry, problem)
			}
		}
	}
	again, err := c.Import(c.Export(p.After), nil)
	if err != nil || !reflect.DeepEqual(again.After, p.After) {
		t.Fatalf("%+v read back as %+v, %v", p.After, again.After, err)
	}
}
