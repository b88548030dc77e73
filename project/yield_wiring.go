//go:build !js

package project

import (
	"fmt"

	"rooftally/energy"
)

// gearing is what the wiring was taken to be.
type gearing struct {
	groups []energy.Group
	// modules runs along the layout, plane by plane.
	modules []wiredModule
	// alone says that each module works at its own best.
	alone bool
	words string
	// limitWords and efficiencyWords say where the inverter's figures are from.
	limitWords, efficiencyWords string
}

// wiredModule is one module's part in the wiring: its inverter, and its string,
// 0 where it works alone.
type wiredModule struct {
	wired         bool
	group, series int
}

// gearing takes strings and inverter from the plan as far as there is one.
func (w yielder) gearing() gearing {
	out := gearing{modules: make([]wiredModule, len(w.refs))}
	chosen := w.doc.Wiring.gear()
	switch {
	case chosen.micro != nil:
		out.alone = true
		out.inverter("micro-inverter", chosen.micro.WeightedEfficiencyPct, chosen.micro.ACPowerW, true)
		out.words = fmt.Sprintf("%s behind each module, %g %% weighted efficiency, at most %g W each.",
			chosen.micro.Label, chosen.micro.WeightedEfficiencyPct, chosen.micro.ACPowerW)
	case chosen.inverter != nil:
		efficiency := chosen.inverter.WeightedEfficiencyPct
		out.words = fmt.Sprintf("%s, %g %% weighted efficiency, at most %g W.", chosen.inverter.Label, efficiency, chosen.inverter.ACPowerW)
		if chosen.optimiser != nil {
			out.alone = true
			efficiency *= chosen.optimiser.WeightedEfficiencyPct / 100
			out.words += fmt.Sprintf(" %s behind each module, %g %%.", chosen.optimiser.Label, chosen.optimiser.WeightedEfficiencyPct)
		}
		out.inverter("inverter", efficiency, chosen.inverter.ACPowerW, false)
	default:
		limitW := float64(w.lay.PdcW) / energy.GenericDCOverAC
		out.inverter("inverter", energy.GenericEfficiencyPct, limitW, false)
		out.efficiencyWords = "no inverter chosen; common practice, no source"
		out.limitWords = fmt.Sprintf("no inverter chosen: DC power over %g; common practice, no source", energy.GenericDCOverAC)
		out.words = fmt.Sprintf("No inverter is chosen: %d %% efficiency and at most %.0f W, the DC power over %g, are assumed (common practice, no source).",
			energy.GenericEfficiencyPct, limitW, energy.GenericDCOverAC)
	}
	if w.plan.Why == "" {
		w.planned(&out)
	} else {
		w.unplanned(&out)
	}
	return out
}

// inverter is the one group of the wiring.
func (g *gearing) inverter(id string, efficiencyPct, limitW float64, perModule bool) {
	g.groups = []energy.Group{{ID: id, EfficiencyPct: efficiencyPct, LimitW: limitW, PerModule: perModule}}
	g.efficiencyWords, g.limitWords = "weighted efficiency of the datasheet", "AC power of the datasheet"
}

// planned takes each module's string from the plan. A module in none is left out.
func (w yielder) planned(out *gearing) {
	put := func(refs []ModuleRef, series int) {
		for _, ref := range refs {
			if i := ref.Number - 1; i >= 0 && i < len(w.refs) && w.refs[i] == ref {
				out.modules[i] = wiredModule{wired: true, series: series}
			}
		}
	}
	for _, s := range w.plan.Strings {
		series := s.Number
		if out.alone {
			series = 0
		}
		put(s.Modules, series)
	}
	for _, b := range w.plan.Branches {
		put(b.Modules, 0)
	}
}

// unplanned takes all modules as wired, those of one plane in one string unless
// they work alone.
func (w yielder) unplanned(out *gearing) {
	i := 0
	for p, by := range w.lay.ByPlane {
		for range by.Modules {
			out.modules[i].wired = true
			if !out.alone {
				out.modules[i].series = p + 1
			}
			i++
		}
	}
	if out.alone {
		out.words += " There is no wiring plan: every module is taken to be connected."
	} else {
		out.words += " There is no wiring plan: the modules of each plane are taken as one string."
	}
}

// unwiredWords names the modules that make nothing.
func (w yielder) unwiredWords() string {
	if w.plan.Why != "" || len(w.plan.LeftOut) == 0 {
		return ""
	}
	return w.plan.LeftOutWords + " A module that is not wired makes nothing."
}

// chainSource says where a step's figure is from.
func (w yielder) chainSource(id string, gear gearing) string {
	switch id {
	case "light":
		return fmt.Sprintf("%s sky, ground reflecting %g; the label's efficiency", skyNames[w.doc.Yield.Sky], w.doc.Yield.Albedo)
	case "shade":
		return "keep-outs with a height, other roof planes, trees, buildings and the far horizon, hour by hour"
	case "glass":
		return glassNames[w.doc.Yield.Glass]
	case "heat":
		return fmt.Sprintf("Faiman's cell temperature; %g %%/K of the datasheet", w.sheet.GammaPmaxPctPerK)
	case "low_light":
		return "Huld's curve through the efficiency at 200 W/m2"
	case "string_shade":
		if gear.alone {
			return "each module at its best current, with bypass diodes"
		}
		return "each string at its best current, with bypass diodes"
	case "first_year":
		return "usual for the cell type"
	case "inverter":
		return gear.efficiencyWords
	case "clipping":
		return gear.limitWords + "; hourly means understate it"
	case mismatchLine:
		if gear.alone {
			return "none: each module works alone"
		}
	}
	return w.lossSource(id)
}

// lossSource is that of a default that was kept.
func (w yielder) lossSource(id string) string {
	for _, l := range w.doc.Yield.Losses {
		for _, usual := range energy.DefaultLosses() {
			if l.ID == id && usual.ID == id && l.MonthlyPct == usual.MonthlyPct {
				return usual.Source
			}
		}
	}
	return "typed"
}

// skyNames and glassNames are the models in words.
var (
	skyNames = map[string]string{
		string(energy.Perez): "Perez", string(energy.Isotropic): "even", string(energy.HayDavies): "Hay and Davies",
	}
	glassNames = map[string]string{
		string(energy.MartinRuiz): "Martin and Ruiz", string(energy.Ashrae): "Souka and Safwat (ASHRAE)",
		string(energy.Fresnel): "Fresnel, two surfaces", string(energy.NoGlass): "glass is not reckoned",
	}
)
