package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"

	"rooftally/electrical"
)

const stringsUsage = `usage: rooftally strings -voc V -vmp V [-beta-voc PERCENT_PER_K] -gamma PERCENT_PER_K
    -tmin C -tcell-hot C -vmax V -mppt-min V -mppt-max V

Prints as JSON how many modules a string may hold: the longest from the cold
open-circuit voltage and -vmax (the least of what inverter, module and code
allow), the shortest from the hot voltage at maximum power and -mppt-min.

  -voc, -vmp    open-circuit voltage and voltage at maximum power of one module, V
  -beta-voc     temperature coefficient of -voc, below 0; without it the cold
                voltage is taken from NEC Table 690.7(A), 24 to -40 C
  -gamma        temperature coefficient of maximum power, below 0
  -tmin         lowest air temperature, C
  -tcell-hot    hottest cell temperature, C
  -mppt-min, -mppt-max  the inverter's tracking window, V

A licensed electrician decides what is built. Exit status: 0 done, 2 bad arguments.
`

// stringsAnswer is what the command prints; voltages are of one module.
type stringsAnswer struct {
	Method   electrical.Method `json:"method"`
	VocColdV float64           `json:"voc_cold_v"`
	VmpHotV  float64           `json:"vmp_hot_v"`
	Longest  int               `json:"longest"`
	Shortest int               `json:"shortest"`
}

// stringsFlag is one flag of the command, what package electrical calls its
// field, and where its value goes.
type stringsFlag struct {
	name, field string
	value       *float64
	optional    bool
}

// runStrings is the strings command. It prints one JSON line, or a message that
// names the flag on stderr, and returns the exit status.
func runStrings(args []string, stdout, stderr io.Writer) int {
	in, err := parseStrings(args, stderr)
	if errors.Is(err, flag.ErrHelp) {
		return exitOK
	}
	if err != nil {
		fmt.Fprintf(stderr, "strings: %v\n", err)
		return exitUsage
	}
	r, err := electrical.Range(in)
	if err != nil {
		fmt.Fprintf(stderr, "strings: %s\n", flagWords(err.Error()))
		return exitUsage
	}
	if !r.Any() {
		fmt.Fprintf(stderr, "strings: no length works: at least %d modules are needed and at most %d are allowed\n", r.Shortest, r.Longest)
	}
	if err := json.NewEncoder(stdout).Encode(stringsAnswer{r.Method, r.VocColdV, r.VmpHotV, r.Longest, r.Shortest}); err != nil {
		fmt.Fprintf(stderr, "strings: writing the result: %v\n", err)
		return exitFailed
	}
	return exitOK
}

// stringsFlags lists the flags that fill the input.
func stringsFlags(in *electrical.StringInput) []stringsFlag {
	return []stringsFlag{
		{"voc", "voc_v", &in.VocV, false},
		{"vmp", "vmp_v", &in.VmpV, false},
		{"beta-voc", "beta_voc_pct_per_k", &in.BetaVocPctPerK, true},
		{"gamma", "gamma_pmax_pct_per_k", &in.GammaPmaxPctPerK, false},
		{"tmin", "cold_c", &in.ColdC, false},
		{"tcell-hot", "hot_cell_c", &in.HotCellC, false},
		{"vmax", "limit_v", &in.LimitV, false},
		{"mppt-min", "mppt_min_v", &in.MPPTMinV, false},
		{"mppt-max", "mppt_max_v", &in.MPPTMaxV, false},
	}
}

// parseStrings reads the flags. A flag that is missing, unknown or no number is
// an error; flag.ErrHelp says that the usage was asked for and printed.
func parseStrings(args []string, stderr io.Writer) (electrical.StringInput, error) {
	var in electrical.StringInput
	flags := flag.NewFlagSet("strings", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	all := stringsFlags(&in)
	for _, f := range all {
		flags.Float64Var(f.value, f.name, 0, "")
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			fmt.Fprint(stderr, stringsUsage)
		}
		return in, err
	}
	if flags.NArg() > 0 {
		return in, fmt.Errorf("%q is no flag", flags.Arg(0))
	}
	given := map[string]bool{}
	flags.Visit(func(f *flag.Flag) { given[f.Name] = true })
	for _, f := range all {
		if !given[f.name] && !f.optional {
			return in, fmt.Errorf("-%s is missing", f.name)
		}
		if given[f.name] && f.optional && *f.value == 0 {
			return in, fmt.Errorf("-%s is 0; it must be -1 up to below 0 %%/K, or left out", f.name)
		}
	}
	return in, nil
}

// flagWords puts the flags' names into a message about fields.
func flagWords(message string) string {
	for _, f := range stringsFlags(new(electrical.StringInput)) {
		message = strings.ReplaceAll(message, f.field, "-"+f.name)
	}
	return strings.Replace(message, "give the module's voltage coefficient instead", "give the module's voltage coefficient, -beta-voc, instead", 1)
}
