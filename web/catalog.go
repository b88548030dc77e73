package web

import (
	"context"
	"strings"
	"unicode/utf8"

	"rooftally/catalog"
)

// Catalog is what the pages need of the place where the lists of products are
// kept. Each list has a version that goes up with every change. A Replace puts a
// list in place of the one at version base, all of it or nothing, and tells
// whether that was still the version.
type Catalog interface {
	Modules(ctx context.Context) (list []catalog.Datasheet, version int, err error)
	ReplaceModules(ctx context.Context, base int, list []catalog.Datasheet) (replaced bool, err error)
	Inverters(ctx context.Context) (list []catalog.StringInverter, version int, err error)
	ReplaceInverters(ctx context.Context, base int, list []catalog.StringInverter) (replaced bool, err error)
	MicroInverters(ctx context.Context) (list []catalog.MicroInverter, version int, err error)
	ReplaceMicroInverters(ctx context.Context, base int, list []catalog.MicroInverter) (replaced bool, err error)
	Optimisers(ctx context.Context) (list []catalog.Optimiser, version int, err error)
	ReplaceOptimisers(ctx context.Context, base int, list []catalog.Optimiser) (replaced bool, err error)
}

// productKind says how one kind of product is called and laid out.
type productKind struct {
	// Slug stands in addresses.
	Slug string
	// Title heads the page; One and Many stand in sentences.
	Title, One, Many string
	// Head are the figures in the table.
	Head []headColumn
	// Parts divide the columns of the CSV text into groups under a heading.
	Parts []part
}

// Article is "a" or "an", to stand before One.
func (k productKind) Article() string {
	if k.Slug == slugOptimisers {
		return "an"
	}
	return "a"
}

// path is an address of the kind's pages.
func (k productKind) path(rest string) string { return "/catalog/" + k.Slug + rest }

// headColumn is one column of the table: one CSV column, or two joined by a word.
type headColumn struct {
	Label, Unit string
	Names       []string
	Join        string
	// Wide columns are left out on a phone; they are among all figures.
	Wide bool
}

// part is a group of CSV columns that begins with the column From.
type part struct{ From, Title string }

const (
	slugModules    = "modules"
	slugInverters  = "inverters"
	slugMicros     = "micro-inverters"
	slugOptimisers = "optimisers"
)

// productKinds lists the kinds in the order of the pages.
func productKinds() []productKind {
	return []productKind{moduleKind(), inverterKind(), microKind(), optimiserKind()}
}

func moduleKind() productKind {
	return productKind{
		Slug: slugModules, Title: "Modules", One: "module", Many: "modules",
		Head: []headColumn{
			{Label: "Power", Unit: "W", Names: []string{"pmax_w"}},
			{Label: "Size", Unit: "m", Names: []string{"length_m", "width_m"}, Join: " × "},
			{Label: "Voc", Unit: "V", Names: []string{"voc_v"}, Wide: true},
			{Label: "Isc", Unit: "A", Names: []string{"isc_a"}, Wide: true},
			{Label: "Pmax coefficient", Unit: "%/K", Names: []string{"gamma_pmax_pct_per_k"}, Wide: true},
			{Label: "Cells", Names: []string{"cells"}, Wide: true},
			{Label: "Weight", Unit: "kg", Names: []string{"weight_kg"}, Wide: true},
			{Label: "Price", Names: []string{"price"}, Wide: true},
		},
		Parts: []part{
			{"id", "Name"}, {"pmax_w", "Electrical, at standard test conditions"}, {"nmot_c", "Temperature and cells"},
			{"length_m", "Size and limits"}, {"long_edge_front_test_pa", "Load ratings"},
			{"relative_efficiency_200", "Low light, warranty, price"},
		},
	}
}

func inverterKind() productKind {
	return productKind{
		Slug: slugInverters, Title: "String inverters", One: "string inverter", Many: "string inverters",
		Head: []headColumn{
			{Label: "AC power", Unit: "W", Names: []string{"ac_power_w"}},
			{Label: "Phases", Names: []string{"phases"}, Wide: true},
			{Label: "Highest DC", Unit: "V", Names: []string{"max_dc_v"}},
			{Label: "Tracking window", Unit: "V", Names: []string{"mppt_min_v", "mppt_max_v"}, Join: " to ", Wide: true},
			{Label: "Strings by tracker", Names: []string{"mppt_inputs"}, Wide: true},
			{Label: "Efficiency", Unit: "%", Names: []string{"weighted_efficiency_pct"}, Wide: true},
			{Label: "Price", Names: []string{"price"}, Wide: true},
		},
		Parts: []part{{"id", "Name"}, {"max_dc_v", "DC side"}, {"ac_power_w", "AC side"}, {"arc_fault", "Protection and price"}},
	}
}

func microKind() productKind {
	return productKind{
		Slug: slugMicros, Title: "Micro-inverters", One: "micro-inverter", Many: "micro-inverters",
		Head: []headColumn{
			{Label: "AC power", Unit: "W", Names: []string{"ac_power_w"}},
			{Label: "Largest module", Unit: "W", Names: []string{"max_module_w"}},
			{Label: "Highest DC", Unit: "V", Names: []string{"max_dc_v"}, Wide: true},
			{Label: "Tracking window", Unit: "V", Names: []string{"mppt_min_v", "mppt_max_v"}, Join: " to ", Wide: true},
			{Label: "AC current", Unit: "A", Names: []string{"ac_current_a"}, Wide: true},
			{Label: "Units by branch", Names: []string{"max_units_per_branch"}, Wide: true},
			{Label: "Price", Names: []string{"price"}, Wide: true},
		},
		Parts: []part{{"id", "Name"}, {"max_dc_v", "DC side"}, {"ac_power_w", "AC side"}, {"price", "Price"}},
	}
}

func optimiserKind() productKind {
	return productKind{
		Slug: slugOptimisers, Title: "DC optimisers", One: "optimiser", Many: "optimisers",
		Head: []headColumn{
			{Label: "Largest module", Unit: "W", Names: []string{"max_module_w"}},
			{Label: "Highest module voltage", Unit: "V", Names: []string{"max_input_v"}, Wide: true},
			{Label: "String voltage", Unit: "V", Names: []string{"string_voltage_v"}},
			{Label: "Units in a string", Names: []string{"min_units", "max_units"}, Join: " to ", Wide: true},
			{Label: "Most in a string", Unit: "W", Names: []string{"max_string_w"}, Wide: true},
			{Label: "Price", Names: []string{"price"}, Wide: true},
		},
		Parts: []part{{"id", "Name"}, {"max_input_v", "Module side"}, {"string_voltage_v", "String side"}, {"rapid_shutdown", "Protection, efficiency, price"}},
	}
}

// columnChoices are the words that a column of the CSV text takes, nil for
// columns that take others.
func columnChoices(column string) []string {
	switch column {
	case "half_cut":
		return []string{"yes", "no"}
	case "invented", "arc_fault", "rapid_shutdown":
		return []string{"no", "yes"}
	case "cell_type":
		var out []string
		for _, c := range catalog.CellTypes() {
			out = append(out, string(c))
		}
		return out
	case "loss_law":
		return []string{string(catalog.LinearLoss), string(catalog.CompoundLoss)}
	case "phases":
		return []string{"1", "3"}
	}
	return nil
}

// columnLabel is what a column holds in words that can stand before a field or a
// figure: for most what the CSV text's own description says.
func columnLabel(c catalog.Column) string {
	switch c.Name {
	case "id":
		return "ID: 1 to 40 of a-z, 0-9 and '-', in no other entry"
	case "label":
		return "Name, 1 to 80 characters"
	case "invented":
		return "Invented: nobody makes it"
	case "tolerance_minus_w":
		return "Tolerance below rated power, W"
	case "tolerance_plus_w":
		return "Tolerance above rated power, W"
	case "half_cut":
		return "Half-cut cells, the halves in parallel"
	case "cell_type":
		return "Cell type"
	case "loss_law":
		return "Yearly loss: linear (of rated power) or compound (of the year before)"
	case "product_warranty_years":
		return "Product warranty, years"
	case "performance_warranty_years":
		return "Performance warranty, years"
	case "phases":
		return "Phases: 1 (split phase too) or 3"
	case "arc_fault":
		return "Listed DC arc-fault protection"
	case "rapid_shutdown":
		return "Listed for rapid shutdown of its module"
	}
	first, size := utf8.DecodeRuneInString(c.About)
	return strings.ToUpper(string(first)) + c.About[size:]
}
