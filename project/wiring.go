//go:build !js

package project

import (
	"rooftally/catalog"
	"rooftally/electrical"
)

// Datasheet is a module with every figure of its datasheet.
type Datasheet = catalog.Datasheet

// The ways of wiring modules.
const (
	// WiringNone: nobody has said yet.
	WiringNone = ""
	// WiringString: strings of modules on one inverter.
	WiringString = "string"
	// WiringMicro: an inverter behind each module.
	WiringMicro = "micro"
	// WiringOptimiser: strings of DC optimisers, one behind each module.
	WiringOptimiser = "optimiser"
)

// Wiring says how the modules are to be wired and what the site demands of the
// wiring. Products are copies of catalog entries, so that a later change of the
// catalog changes no result; one that the kind does not use is kept and ignored.
type Wiring struct {
	// Kind is [WiringNone], [WiringString], [WiringMicro] or [WiringOptimiser].
	Kind string `json:"kind"`
	// Inverter is for strings with or without optimisers, Micro and Optimiser for
	// their kinds; nil where none is chosen.
	Inverter  *catalog.StringInverter `json:"inverter"`
	Micro     *catalog.MicroInverter  `json:"micro"`
	Optimiser *catalog.Optimiser      `json:"optimiser"`
	// Place is "dwelling" (one- or two-family), "building" or "ground".
	Place string `json:"place"`
	// Mounting is "flush" or "open_rack"; it sets how much warmer than the air
	// the cells get where CellRiseK is nil. CellRiseK is 0 to 60.
	Mounting  string   `json:"mounting"`
	CellRiseK *float64 `json:"cell_rise_k"`
	// ColdC is the lowest expected air temperature, -60 to 40 C, and HotAirC the
	// hot design air temperature, -40 to 60 C; nil takes that of Station.
	ColdC   *float64 `json:"cold_c"`
	HotAirC *float64 `json:"hot_air_c"`
	// Station is the weather station nearest to the site when it was asked for.
	Station *StationCopy `json:"station"`
	// MixParallel allows strings of different facing on one tracker.
	MixParallel bool `json:"mix_parallel"`
	// BranchBreakerA is the breaker of each AC branch of micro-inverters, 5 to
	// 100 A; nil takes that of the datasheet.
	BranchBreakerA *float64 `json:"branch_breaker_a"`
	// ModuleShutdown says that each module gets a listed device for rapid
	// shutdown, HazardControl that the array is listed as PV hazard control
	// equipment, ArcFault that listed DC arc-fault protection is added.
	ModuleShutdown bool `json:"module_shutdown"`
	HazardControl  bool `json:"hazard_control"`
	ArcFault       bool `json:"arc_fault"`
	// MainBreakerA and BusbarA are those of the panel board, 15 to 10 000 A (NEC
	// family); PhaseLimitA is the most current of one phase that the network
	// operator allows, 0.1 to 10 000 A (IEC family). SupplyPhases is 1 (split
	// phase too) or 3. nil is not known.
	MainBreakerA *float64 `json:"main_breaker_a"`
	BusbarA      *float64 `json:"busbar_a"`
	PhaseLimitA  *float64 `json:"phase_limit_a"`
	SupplyPhases int      `json:"supply_phases"`
}

// defaultWiring is that of a new document: nothing chosen, flush on a dwelling.
func defaultWiring() Wiring {
	return Wiring{Place: string(electrical.OnDwelling), Mounting: string(electrical.Flush), SupplyPhases: 1}
}

// cellRiseK is how much warmer than the air the cells get, K.
func (w Wiring) cellRiseK() float64 {
	if w.CellRiseK != nil {
		return *w.CellRiseK
	}
	return electrical.CellRiseK(electrical.Mounting(w.Mounting))
}
