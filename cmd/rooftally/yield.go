package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"strconv"
	"strings"

	"rooftally/catalog"
	"rooftally/energy"
	"rooftally/project"
)

const yieldUsage = `usage: rooftally yield -weather FILE -tilt DEG -azimuth DEG [-module ID] [-kw N]

Prints as JSON what a plane without shade yields in a typical year: the light on
it (kWh/m2, before glass and dirt) and the alternating current (kWh) by month,
January first, and for the year; kWh per kW; and the performance ratio, which is
ac_year / (poa_year x kW).

  -weather  typical-year file in the EPW or the TMY3 CSV layout, plain or
            gzipped; "-" reads standard input
  -tilt     degrees from level, 0 to 90
  -azimuth  bearing that the plane faces, degrees clockwise from north, 0 up to
            below 360; 180 is south
  -module   one of the catalog's invented modules; without it the first,
            %s
  -kw       rated power of all modules, above 0 to 100000 kW; without it 1

Taken as given: modules flush on a sloped roof whatever the tilt, Perez sky,
ground 0.2, Martin and Ruiz glass, an inverter of %d %% that clips at the rated
power over %g, and the usual loss lines. docs/energy.md has every formula. A
design estimate for a typical year, not a promise for any one.
Exit status: 0 done, 1 a bad file or a fault of the program, 2 bad arguments.
`

// maxYieldKW is the largest -kw.
const maxYieldKW = 1e5

// yieldAsked is what the flags of yield say.
type yieldAsked struct {
	weather string
	surface energy.Surface
	sheet   catalog.Datasheet
	kw      float64
}

// yieldAnswer is what the command prints, each number to six figures.
type yieldAnswer struct {
	POAKWhM2         [12]sixFigures `json:"poa_kwh_m2"`
	POAYear          sixFigures     `json:"poa_year"`
	ACKWh            [12]sixFigures `json:"ac_kwh"`
	ACYear           sixFigures     `json:"ac_year"`
	KWhPerKW         sixFigures     `json:"kwh_per_kw"`
	PerformanceRatio sixFigures     `json:"performance_ratio"`
}

// sixFigures is a number that is printed with six significant figures: more
// than the weather is good for, and enough for sums of months to be the year.
type sixFigures float64

// MarshalJSON is a plain decimal number.
func (n sixFigures) MarshalJSON() ([]byte, error) {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(float64(n), 'e', 5, 64), 64)
	if err != nil {
		return nil, err
	}
	return json.Marshal(rounded)
}

// runYield is the yield command. It prints one JSON line, or a message on
// stderr that names the flag, or the file with the line, and returns the exit
// status.
func runYield(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	asked, err := parseYield(args, stderr)
	if errors.Is(err, flag.ErrHelp) {
		return exitOK
	}
	if err != nil {
		fmt.Fprintf(stderr, "yield: %v\n", err)
		return exitUsage
	}
	year, err := readWeather(asked.weather, stdin)
	if err != nil {
		fmt.Fprintf(stderr, "yield: %s: %v\n", asked.weather, err)
		return exitFailed
	}
	answer, err := yieldOf(asked, year)
	if err == nil {
		err = json.NewEncoder(stdout).Encode(answer)
	}
	if err != nil {
		fmt.Fprintf(stderr, "yield: %v\n", err)
		return exitFailed
	}
	return exitOK
}

// parseYield reads the flags. One that is missing, unknown or out of range is an
// error; flag.ErrHelp says that the usage was asked for and printed.
func parseYield(args []string, stderr io.Writer) (yieldAsked, error) {
	asked := yieldAsked{kw: 1}
	flags := flag.NewFlagSet("yield", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.StringVar(&asked.weather, "weather", "", "")
	flags.Float64Var(&asked.surface.PitchDeg, "tilt", 0, "")
	flags.Float64Var(&asked.surface.AzimuthDeg, "azimuth", 0, "")
	flags.Float64Var(&asked.kw, "kw", 1, "")
	module := flags.String("module", catalog.DemoDatasheets()[0].ID, "")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			fmt.Fprintf(stderr, yieldUsage, *module, energy.GenericEfficiencyPct, energy.GenericDCOverAC)
		}
		return asked, err
	}
	if flags.NArg() > 0 {
		return asked, fmt.Errorf("%q is no flag", flags.Arg(0))
	}
	given := map[string]bool{}
	flags.Visit(func(f *flag.Flag) { given[f.Name] = true })
	for _, name := range []string{"weather", "tilt", "azimuth"} {
		if !given[name] {
			return asked, fmt.Errorf("-%s is missing", name)
		}
	}
	var err error
	if asked.sheet, err = demoModule(*module); err != nil {
		return asked, err
	}
	return asked, asked.check()
}

// check returns an error for a number out of range; NaN is out of every range.
func (a yieldAsked) check() error {
	tilt, azimuth := a.surface.PitchDeg, a.surface.AzimuthDeg
	switch {
	case a.weather == "":
		return errors.New("-weather is empty; it names a file")
	case !(tilt >= 0 && tilt <= 90):
		return fmt.Errorf("-tilt is %g; it must be 0 to 90 degrees", tilt)
	case !(azimuth >= 0 && azimuth < 360):
		return fmt.Errorf("-azimuth is %g; it must be 0 up to below 360 degrees", azimuth)
	case !(a.kw > 0 && a.kw <= maxYieldKW):
		return fmt.Errorf("-kw is %g; it must be above 0, up to 100000 kW", a.kw)
	}
	return nil
}

// demoModule finds one of the catalog's invented modules.
func demoModule(id string) (catalog.Datasheet, error) {
	var known []string
	for _, d := range catalog.DemoDatasheets() {
		if d.ID == id {
			return d, nil
		}
		known = append(known, d.ID)
	}
	return catalog.Datasheet{}, fmt.Errorf("-module %q is none of %s", id, strings.Join(known, ", "))
}

// readWeather reads a typical-year file; an error of what is in it names the
// line.
func readWeather(name string, stdin io.Reader) (energy.Year, error) {
	data, err := readInput(name, stdin, energy.MaxWeatherFileBytes)
	if err != nil {
		return energy.Year{}, err
	}
	return energy.ParseWeather(data)
}

// yieldOf reckons the year for one module and brings it to the power asked for.
func yieldOf(asked yieldAsked, year energy.Year) (yieldAnswer, error) {
	sun, err := energy.NewYearOfSun(year)
	if err != nil {
		return yieldAnswer{}, err
	}
	model := project.ModuleModelOf(asked.sheet)
	result, err := energy.Simulate(context.Background(), energy.OnePlane(sun, asked.surface, energy.FlushOnRoof, model))
	if err != nil {
		return yieldAnswer{}, err
	}
	y := result.Total.Scaled(asked.kw / (model.PmaxW / 1000))
	out := yieldAnswer{
		POAYear: sixFigures(y.POAYear), ACYear: sixFigures(y.ACYear),
		KWhPerKW: sixFigures(y.KWhPerKW), PerformanceRatio: sixFigures(y.PerformanceRatio),
	}
	for m := range 12 {
		out.POAKWhM2[m], out.ACKWh[m] = sixFigures(y.POAKWhM2[m]), sixFigures(y.ACKWh[m])
	}
	return out, nil
}
