package catalog

import (
	"fmt"
	"strconv"
	"strings"
)

// ModuleCSV is the CSV text of modules.
func ModuleCSV() CSV[Datasheet] {
	type d = Datasheet
	columns := []column[d]{
		text("id", "unique: 1 to 40 of a-z, 0-9 and '-'", func(d *d) *string { return &d.ID }),
		text("label", "what people call it, 1 to 80 characters", func(d *d) *string { return &d.Label }),
		optional(yesNo("invented", "yes for a module that nobody makes; blank is no", func(d *d) *bool { return &d.Invented }), "no"),
		whole("pmax_w", "rated power at standard test conditions, W", func(d *d) *int { return &d.PmaxW }),
		maybeDecimal("tolerance_minus_w", "how far the power may lie below, W", func(d *d) *float64 { return &d.ToleranceMinusW }),
		maybeDecimal("tolerance_plus_w", "how far the power may lie above, W", func(d *d) *float64 { return &d.TolerancePlusW }),
		decimal("voc_v", "open-circuit voltage, V", func(d *d) *float64 { return &d.VocV }),
		decimal("isc_a", "short-circuit current, A", func(d *d) *float64 { return &d.IscA }),
		decimal("vmp_v", "voltage at maximum power, V", func(d *d) *float64 { return &d.VmpV }),
		decimal("imp_a", "current at maximum power, A", func(d *d) *float64 { return &d.ImpA }),
		decimal("gamma_pmax_pct_per_k", "temperature coefficient of maximum power, %/K, below 0", func(d *d) *float64 { return &d.GammaPmaxPctPerK }),
		maybeDecimal("beta_voc_pct_per_k", "temperature coefficient of open-circuit voltage, %/K, below 0", func(d *d) *float64 { return &d.BetaVocPctPerK }),
		maybeDecimal("beta_vmp_pct_per_k", "temperature coefficient of the voltage at maximum power, %/K, below 0", func(d *d) *float64 { return &d.BetaVmpPctPerK }),
		maybeDecimal("alpha_isc_pct_per_k", "temperature coefficient of short-circuit current, %/K, above 0", func(d *d) *float64 { return &d.AlphaIscPctPerK }),
		maybeDecimal("nmot_c", "nominal module operating temperature, C", func(d *d) *float64 { return &d.NMOTC }),
		maybeDecimal("noct_c", "nominal operating cell temperature, C", func(d *d) *float64 { return &d.NOCTC }),
		whole("cells", "number of cells, each half of a cut cell as one", func(d *d) *int { return &d.Cells }),
		yesNo("half_cut", "yes where two halves of cut cells lie in parallel", func(d *d) *bool { return &d.HalfCut }),
		whole("substrings", "number of bypass diodes", func(d *d) *int { return &d.Substrings }),
		text("cell_type", "p_mono, p_poly, n_mono, heterojunction or other", func(d *d) *CellType { return &d.CellType }),
		decimal("length_m", "long side, m", func(d *d) *float64 { return &d.LengthM }),
		decimal("width_m", "short side, m", func(d *d) *float64 { return &d.WidthM }),
		decimal("thickness_m", "depth of the frame, m", func(d *d) *float64 { return &d.ThicknessM }),
		decimal("weight_kg", "weight, kg", func(d *d) *float64 { return &d.WeightKg }),
		decimal("max_system_v", "highest system voltage, V", func(d *d) *float64 { return &d.MaxSystemV }),
		decimal("max_series_fuse_a", "largest series fuse, A", func(d *d) *float64 { return &d.MaxSeriesFuseA }),
	}
	columns = append(columns, loadColumns("long_edge", func(d *d) *Loads { return &d.LongEdge })...)
	columns = append(columns, loadColumns("short_edge", func(d *d) *Loads { return &d.ShortEdge })...)
	columns = append(columns,
		maybeDecimal("relative_efficiency_200", "efficiency at 200 W/m2 over that at 1000 W/m2, a fraction", func(d *d) *float64 { return &d.RelativeEfficiency200 }),
		decimal("first_year_loss_pct", "guaranteed most loss in the first year, % of rated power", func(d *d) *float64 { return &d.FirstYearLossPct }),
		decimal("yearly_loss_pct", "loss in each further year, %", func(d *d) *float64 { return &d.YearlyLossPct }),
		text("loss_law", "linear (% of rated power) or compound (% of the year before)", func(d *d) *LossLaw { return &d.LossLaw }),
		optional(whole("product_warranty_years", "years", func(d *d) *int { return &d.ProductWarrantyYears }), "0"),
		optional(whole("performance_warranty_years", "years", func(d *d) *int { return &d.PerformanceWarrantyYears }), "0"),
		maybeDecimal("price", "price of one module, in your own currency", func(d *d) *float64 { return &d.Price }),
	)
	return CSV[d]{columns: columns, id: func(d *d) string { return d.ID }, check: d.Check}
}

// loadColumns are the ratings of one clamp position. The two without "test" or
// "design" in their name are read, as test values, and never written.
func loadColumns(edge string, at func(*Datasheet) *Loads) []column[Datasheet] {
	type d = Datasheet
	position := "clamps on the " + strings.ReplaceAll(edge, "_", " ") + "s"
	unmarked := func(side string, value func(*d) *float64) column[d] {
		c := maybeDecimal(edge+"_"+side+"_pa", side+" rating not said to be test or design, "+position+", Pa; read as test value", value)
		c.alias = edge + "_" + side + "_test_pa"
		return c
	}
	frontTest := func(d *d) *float64 { return &at(d).FrontTestPa }
	rearTest := func(d *d) *float64 { return &at(d).RearTestPa }
	return []column[d]{
		maybeDecimal(edge+"_front_test_pa", "front load it was tested with, "+position+", Pa", frontTest),
		maybeDecimal(edge+"_front_design_pa", "front load it is designed for, "+position+", Pa", func(d *d) *float64 { return &at(d).FrontDesignPa }),
		maybeDecimal(edge+"_rear_test_pa", "rear load it was tested with, "+position+", Pa", rearTest),
		maybeDecimal(edge+"_rear_design_pa", "rear load it is designed for, "+position+", Pa", func(d *d) *float64 { return &at(d).RearDesignPa }),
		unmarked("front", frontTest),
		unmarked("rear", rearTest),
	}
}

// InverterCSV is the CSV text of string inverters.
func InverterCSV() CSV[StringInverter] {
	type v = StringInverter
	columns := []column[v]{
		text("id", "unique: 1 to 40 of a-z, 0-9 and '-'", func(v *v) *string { return &v.ID }),
		text("label", "what people call it, 1 to 80 characters", func(v *v) *string { return &v.Label }),
		optional(yesNo("invented", "yes for an inverter that nobody makes; blank is no", func(v *v) *bool { return &v.Invented }), "no"),
		decimal("max_dc_v", "highest DC voltage, V", func(v *v) *float64 { return &v.MaxDCV }),
		maybeDecimal("max_array_w", "largest array by rated power, W", func(v *v) *float64 { return &v.MaxArrayW }),
		decimal("mppt_min_v", "lower end of the tracking window, V", func(v *v) *float64 { return &v.MPPTMinV }),
		decimal("mppt_max_v", "upper end of the tracking window, V", func(v *v) *float64 { return &v.MPPTMaxV }),
		maybeDecimal("start_v", "voltage at which it starts, V", func(v *v) *float64 { return &v.StartV }),
		trackerColumn("mppt_inputs", "strings that fit each tracker, spaces between trackers: 2 2 1",
			func(m *MPPT) string { return strconv.Itoa(m.Inputs) },
			func(m *MPPT, s string) (err error) {
				if m.Inputs, err = strconv.Atoi(s); err != nil {
					return fmt.Errorf("has %q; each must be a whole number", clip(s))
				}
				return nil
			}),
		trackerColumn("mppt_max_operating_a", "current that each tracker can use, A, spaces between trackers",
			func(m *MPPT) string { return strconv.FormatFloat(m.MaxOperatingA, 'f', -1, 64) },
			func(m *MPPT, s string) (err error) { m.MaxOperatingA, err = parseDecimal(s); return err }),
		trackerColumn("mppt_max_short_circuit_a", "short-circuit current that each tracker stands, A, spaces between trackers",
			func(m *MPPT) string { return strconv.FormatFloat(m.MaxShortCircuitA, 'f', -1, 64) },
			func(m *MPPT, s string) (err error) { m.MaxShortCircuitA, err = parseDecimal(s); return err }),
		decimal("ac_power_w", "rated AC power, W", func(v *v) *float64 { return &v.ACPowerW }),
		decimal("ac_current_a", "highest AC current of one phase, A", func(v *v) *float64 { return &v.ACCurrentA }),
		decimal("ac_voltage_v", "AC voltage between lines, V", func(v *v) *float64 { return &v.ACVoltageV }),
		whole("phases", "1 (split phase too) or 3", func(v *v) *int { return &v.Phases }),
		decimal("weighted_efficiency_pct", "weighted efficiency, %", func(v *v) *float64 { return &v.WeightedEfficiencyPct }),
		optional(yesNo("arc_fault", "yes with listed DC arc-fault protection; blank is no", func(v *v) *bool { return &v.ArcFault }), "no"),
		maybeDecimal("price", "price of one inverter, in your own currency", func(v *v) *float64 { return &v.Price }),
	}
	return CSV[v]{columns: columns, id: func(v *v) string { return v.ID }, check: v.Check}
}

// trackerColumn is a column that holds one figure of every tracker. The first
// such column in the text sets how many there are; the others must agree.
func trackerColumn(name, about string, show func(*MPPT) string, read func(*MPPT, string) error) column[StringInverter] {
	return column[StringInverter]{
		Column: Column{Name: name, Required: true, About: about},
		show: func(v *StringInverter) string {
			parts := make([]string, len(v.MPPTs))
			for i := range v.MPPTs {
				parts[i] = show(&v.MPPTs[i])
			}
			return strings.Join(parts, " ")
		},
		read: func(v *StringInverter, text string) error {
			parts := strings.Fields(text)
			if name == trackersFirst {
				v.MPPTs = make([]MPPT, len(parts))
			}
			if len(parts) != len(v.MPPTs) {
				return fmt.Errorf("has %d figures; %s has %d", len(parts), trackersFirst, len(v.MPPTs))
			}
			for i, part := range parts {
				if err := read(&v.MPPTs[i], part); err != nil {
					return err
				}
			}
			return nil
		},
	}
}

// trackersFirst is the column that says how many trackers there are.
const trackersFirst = "mppt_inputs"

// MicroInverterCSV is the CSV text of micro-inverters.
func MicroInverterCSV() CSV[MicroInverter] {
	type m = MicroInverter
	columns := []column[m]{
		text("id", "unique: 1 to 40 of a-z, 0-9 and '-'", func(m *m) *string { return &m.ID }),
		text("label", "what people call it, 1 to 80 characters", func(m *m) *string { return &m.Label }),
		optional(yesNo("invented", "yes for a micro-inverter that nobody makes; blank is no", func(m *m) *bool { return &m.Invented }), "no"),
		decimal("max_dc_v", "highest voltage of its module, V", func(m *m) *float64 { return &m.MaxDCV }),
		decimal("mppt_min_v", "lower end of the tracking window, V", func(m *m) *float64 { return &m.MPPTMinV }),
		decimal("mppt_max_v", "upper end of the tracking window, V", func(m *m) *float64 { return &m.MPPTMaxV }),
		maybeDecimal("start_v", "voltage at which it starts, V", func(m *m) *float64 { return &m.StartV }),
		decimal("max_operating_a", "current that it can use, A", func(m *m) *float64 { return &m.MaxOperatingA }),
		decimal("max_short_circuit_a", "short-circuit current that its input stands, A", func(m *m) *float64 { return &m.MaxShortCircuitA }),
		maybeDecimal("max_module_w", "largest module, W", func(m *m) *float64 { return &m.MaxModuleW }),
		decimal("ac_power_w", "rated AC power, W", func(m *m) *float64 { return &m.ACPowerW }),
		decimal("ac_current_a", "highest AC current, A", func(m *m) *float64 { return &m.ACCurrentA }),
		decimal("ac_voltage_v", "AC voltage between lines, V", func(m *m) *float64 { return &m.ACVoltageV }),
		whole("phases", "1 (split phase too) or 3", func(m *m) *int { return &m.Phases }),
		decimal("weighted_efficiency_pct", "weighted efficiency, %", func(m *m) *float64 { return &m.WeightedEfficiencyPct }),
		decimal("branch_breaker_a", "breaker of one AC branch, A", func(m *m) *float64 { return &m.BranchBreakerA }),
		optional(whole("max_units_per_branch", "most units that the maker allows on a branch", func(m *m) *int { return &m.MaxUnitsPerBranch }), "0"),
		maybeDecimal("price", "price of one unit, in your own currency", func(m *m) *float64 { return &m.Price }),
	}
	return CSV[m]{columns: columns, id: func(m *m) string { return m.ID }, check: m.Check}
}

// OptimiserCSV is the CSV text of DC optimisers.
func OptimiserCSV() CSV[Optimiser] {
	type o = Optimiser
	columns := []column[o]{
		text("id", "unique: 1 to 40 of a-z, 0-9 and '-'", func(o *o) *string { return &o.ID }),
		text("label", "what people call it, 1 to 80 characters", func(o *o) *string { return &o.Label }),
		optional(yesNo("invented", "yes for an optimiser that nobody makes; blank is no", func(o *o) *bool { return &o.Invented }), "no"),
		decimal("max_input_v", "highest voltage of its module, V", func(o *o) *float64 { return &o.MaxInputV }),
		decimal("mppt_min_v", "lower end of the tracking window, V", func(o *o) *float64 { return &o.MPPTMinV }),
		decimal("mppt_max_v", "upper end of the tracking window, V", func(o *o) *float64 { return &o.MPPTMaxV }),
		decimal("max_short_circuit_a", "short-circuit current that its input stands, A", func(o *o) *float64 { return &o.MaxShortCircuitA }),
		decimal("max_module_w", "largest module, W", func(o *o) *float64 { return &o.MaxModuleW }),
		decimal("string_voltage_v", "voltage that a string of them holds, V", func(o *o) *float64 { return &o.StringVoltageV }),
		decimal("max_output_a", "most current in a string, A", func(o *o) *float64 { return &o.MaxOutputA }),
		whole("min_units", "least units in a string", func(o *o) *int { return &o.MinUnits }),
		whole("max_units", "most units in a string", func(o *o) *int { return &o.MaxUnits }),
		decimal("max_string_w", "most rated module power in a string, W", func(o *o) *float64 { return &o.MaxStringW }),
		optional(yesNo("rapid_shutdown", "yes where listed for rapid shutdown of its module; blank is no", func(o *o) *bool { return &o.RapidShutdown }), "no"),
		decimal("weighted_efficiency_pct", "weighted efficiency, %", func(o *o) *float64 { return &o.WeightedEfficiencyPct }),
		maybeDecimal("price", "price of one unit, in your own currency", func(o *o) *float64 { return &o.Price }),
	}
	return CSV[o]{columns: columns, id: func(o *o) string { return o.ID }, check: o.Check}
}
