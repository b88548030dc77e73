package energy

import "fmt"

// Input is everything that a yield is reckoned from.
type Input struct {
	// Year is the weather, from [NewYearOfSun].
	Year  *YearOfSun
	Scene Scene
	// Module is the model of every module of the scene.
	Module ModuleModel
	// Options choose the models of light; see [DefaultOptions].
	Options Options
	// Losses are multiplied in their order; see [DefaultLosses].
	Losses []LossLine
	// Groups are the inverters; [Module.Group] is the index. At least one where
	// there are modules.
	Groups []Group
	// WantHours asks for [Result.Hours].
	WantHours bool
}

// Options choose the models of light.
type Options struct {
	Sky   SkyModel
	Glass Glass
	// Albedo is the ground's reflectance, 0 to 1.
	Albedo float64
	// FileAlbedo takes the weather file's reflectance in the hours that have
	// one.
	FileAlbedo bool
	// ExactShade reckons shadows for every hour instead of drawing them straight
	// between a table's nodes: slower, for checks.
	ExactShade bool
}

// DefaultOptions are the Perez sky, Martin and Ruiz glass and a ground of 0.2
// (Liu and Jordan 1963, as in Duffie and Beckman, for ground without snow).
func DefaultOptions() Options {
	return Options{Sky: Perez, Glass: Glass{Model: MartinRuiz}, Albedo: 0.2}
}

// Group is one inverter, or the micro-inverters of a kind.
type Group struct {
	ID string
	// EfficiencyPct is the weighted efficiency, 50 to 100 %.
	EfficiencyPct float64
	// LimitW is the AC power at which the inverter clips, W; 0 is no limit.
	LimitW float64
	// PerModule makes the limit hold for each module on its own.
	PerModule bool
}

// GenericEfficiencyPct is the inverter efficiency where none is known (common
// practice, no source; datasheets give 95 to 98 % weighted).
const GenericEfficiencyPct = 96

// GenericDCOverAC is DC power over AC limit where no inverter is chosen (common
// practice, no source).
const GenericDCOverAC = 1.2

// Check returns the first error of the input: a *[RangeError] or *[ChoiceError]
// with the field, or an error with the place.
func (in Input) Check() error {
	if in.Year == nil {
		return errMissingYear()
	}
	if err := in.Scene.Check(); err != nil {
		return err
	}
	if err := in.Module.check("Module."); err != nil {
		return err
	}
	if err := in.Options.check(); err != nil {
		return err
	}
	if err := checkLosses(in.Losses); err != nil {
		return err
	}
	for i, g := range in.Groups {
		err := checkSpans(fmt.Sprintf("Groups[%d].", i),
			span{"EfficiencyPct", g.EfficiencyPct, 50, 100},
			span{"LimitW", g.LimitW, 0, 1e9})
		if err != nil {
			return err
		}
	}
	return in.checkStrings()
}

func (o Options) check() error {
	if err := o.Sky.check("Options.Sky"); err != nil {
		return err
	}
	if err := o.Glass.check("Options.Glass"); err != nil {
		return err
	}
	return checkRange("Options.Albedo", o.Albedo, 0, 1)
}

// checkStrings refuses modules without a group and strings over two groups.
func (in Input) checkStrings() error {
	group := map[int]int{}
	for i, m := range in.Scene.Modules {
		if err := checkRange(fmt.Sprintf("Modules[%d].Group", i), float64(m.Group), 0, float64(len(in.Groups)-1)); err != nil {
			return err
		}
		if m.String == 0 {
			continue
		}
		if g, known := group[m.String]; known && g != m.Group {
			return fmt.Errorf("Modules[%d].Group: is %d, but string %d has modules in group %d; a string has one inverter", i, m.Group, m.String, g)
		}
		group[m.String] = m.Group
	}
	return nil
}

// OnePlane is the input for a plane without shade: one module of model m on a
// surface, open to the sky,
// with the generic inverter. [Yield.Scaled] brings it to another size.
func OnePlane(y *YearOfSun, s Surface, mounting Mounting, m ModuleModel) Input {
	return Input{
		Year: y,
		Scene: Scene{
			Planes:  []Plane{{ID: "plane", Surface: s, Mounting: mounting}},
			Modules: []Module{{WidthM: 1, HeightM: 2}},
		},
		Module: m, Options: DefaultOptions(), Losses: DefaultLosses(),
		Groups: []Group{{ID: "generic", EfficiencyPct: GenericEfficiencyPct, LimitW: m.PmaxW / GenericDCOverAC}},
	}
}
