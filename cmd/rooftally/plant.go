package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"strings"

	"rooftally/electrical"
)

const plantUsage = `usage: rooftally plant -kw SIZE -module-w WATTS -per-string N
    [-length M -width M [-coverage SHARE]]

Prints as JSON how many strings of N modules reach a rated DC power, rounded up
to whole strings, how many modules these are, and their area.

  -kw           size, kW; at most three decimals
  -module-w     rated power of one module, whole watts
  -per-string   modules in a string
  -length, -width  sides of a module, m; without them no area is answered
  -coverage     area of the modules over that of the ground, above 0 to 1;
                without it no ground is answered

It counts rated power only. What a string may hold is the business of
"rooftally strings". Exit status: 0 done, 2 bad arguments.
`

// runPlant is the plant command. It prints one JSON line, or a message that names
// the flag on stderr, and returns the exit status.
func runPlant(args []string, stdout, stderr io.Writer) int {
	in, err := parsePlant(args, stderr)
	if errors.Is(err, flag.ErrHelp) {
		return exitOK
	}
	var p electrical.Plant
	if err == nil {
		p, err = electrical.PlantOf(in)
	}
	if err != nil {
		fmt.Fprintf(stderr, "plant: %s\n", plantWords(err.Error()))
		return exitUsage
	}
	if err := json.NewEncoder(stdout).Encode(p); err != nil {
		fmt.Fprintf(stderr, "plant: writing the result: %v\n", err)
		return exitFailed
	}
	return exitOK
}

// parsePlant reads the flags. A flag that is missing, unknown or no number is an
// error; flag.ErrHelp says that the usage was asked for and printed.
func parsePlant(args []string, stderr io.Writer) (electrical.PlantInput, error) {
	var in electrical.PlantInput
	flags := flag.NewFlagSet("plant", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	kw := flags.Float64("kw", 0, "")
	flags.IntVar(&in.ModuleW, "module-w", 0, "")
	flags.IntVar(&in.PerString, "per-string", 0, "")
	flags.Float64Var(&in.LengthM, "length", 0, "")
	flags.Float64Var(&in.WidthM, "width", 0, "")
	flags.Float64Var(&in.Coverage, "coverage", 0, "")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			fmt.Fprint(stderr, plantUsage)
		}
		return in, err
	}
	if flags.NArg() > 0 {
		return in, fmt.Errorf("%q is no flag", flags.Arg(0))
	}
	given := map[string]bool{}
	flags.Visit(func(f *flag.Flag) { given[f.Name] = true })
	for _, name := range []string{"kw", "module-w", "per-string"} {
		if !given[name] {
			return in, fmt.Errorf("-%s is missing", name)
		}
	}
	for _, name := range []string{"length", "width", "coverage"} {
		if given[name] && flags.Lookup(name).Value.String() == "0" {
			return in, fmt.Errorf("-%s is 0; it must be above 0, or left out", name)
		}
	}
	var err error
	in.PowerW, err = wattsOf(*kw)
	return in, err
}

// wattsOf turns kilowatts into whole watts.
func wattsOf(kw float64) (int, error) {
	const mostKW = 1e9
	if !(kw >= 0.001 && kw <= mostKW) {
		return 0, fmt.Errorf("-kw is %g; it must be 0.001 to %g kW", kw, mostKW)
	}
	w := math.Round(kw * 1000)
	if math.Abs(kw-w/1000) > 1e-9*kw {
		return 0, fmt.Errorf("-kw is %g; it may have at most three decimals, for whole watts", kw)
	}
	return int(w), nil
}

// plantWords puts the flags' names into a message about fields.
func plantWords(message string) string {
	return strings.NewReplacer("module_w", "-module-w", "per_string", "-per-string", "length_m", "-length", "width_m", "-width", "coverage is", "-coverage is").Replace(message)
}
