package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"rooftally/catalog"
	"rooftally/energy"
	"rooftally/layout"
	"rooftally/project"
	"rooftally/web"
)

const reportUsage = `usage: rooftally report [-inverters INVERTERS.csv] [-weather FILE] [-charts FILE.html]
       PROJECT.json

Prints all results of a project file as JSON; "-" reads standard input. Its
member "build" has strings, loads, rails, parts, warranty and cost; there the
inverters of a file, as the catalog's pages export it, are compared, or the
invented ones that a new catalog starts with. Its member "yield" has the energy
of a typical year: that of -weather (EPW or TMY3 CSV, plain or gzipped), which
then counts for the modules' places too, or without it the project's nearest
station or monthly values. The hours of a weather file that a project names are
not in the project file: bring them with -weather. With -charts the charts of the
yield are written too, as a page that stands alone, with the table behind each.
Exit status: 0 done, 1 a fault of the program, 2 bad arguments or file.
`

// runReport is the report command: it evaluates one project file and prints
// the result as indented JSON. It returns the exit status: 2 with the file and
// field on stderr for a file that cannot be read or is not valid, 1 for any
// other failure. Nothing is printed on stdout unless the result is whole.
func runReport(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("report", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.Usage = func() { fmt.Fprint(stderr, reportUsage) }
	list := flags.String("inverters", "", "")
	weather := flags.String("weather", "", "")
	charts := flags.String("charts", "", "")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return exitOK
		}
		return exitUsage
	}
	if flags.NArg() != 1 {
		fmt.Fprint(stderr, reportUsage)
		return exitUsage
	}
	inverters, err := reportInverters(*list)
	if err != nil {
		fmt.Fprintf(stderr, "rooftally report: %s: %v\n", *list, err)
		return exitUsage
	}
	file, err := reportWeather(*weather)
	if err != nil {
		fmt.Fprintf(stderr, "rooftally report: %s: %v\n", *weather, err)
		return exitUsage
	}
	name := flags.Arg(0)
	out, page, err := report(name, stdin, inverters, file)
	if err == nil && *charts != "" {
		err = os.WriteFile(*charts, page, 0o644)
	}
	if err == nil {
		_, err = stdout.Write(out)
	}
	return reportExit(name, err, stderr)
}

// reportInverters reads the inverters of a CSV file; no name gives those of the
// demo.
func reportInverters(name string) ([]catalog.StringInverter, error) {
	if name == "" {
		return catalog.DemoInverters(), nil
	}
	// Standard input is the project's.
	text, err := readInput(name, strings.NewReader(""), catalog.MaxCSVBytes)
	if err != nil {
		return nil, err
	}
	read, err := catalog.InverterCSV().Import(string(text), nil)
	if err != nil {
		return nil, err
	}
	return read.After, nil
}

// broughtWeather is a weather file that was brought along: its hours and what a
// document keeps of it.
type broughtWeather struct {
	file project.WeatherFile
	year energy.Year
}

// reportWeather reads a weather file; no name gives nil.
func reportWeather(name string) (*broughtWeather, error) {
	if name == "" {
		return nil, nil
	}
	// Standard input is the project's.
	data, err := readInput(name, strings.NewReader(""), energy.MaxWeatherFileBytes)
	if err != nil {
		return nil, err
	}
	file, year, err := project.ReadWeatherFile(name, data)
	if err != nil {
		return nil, err
	}
	return &broughtWeather{file, year}, nil
}

// report reads, evaluates and builds one project file and reckons its yield,
// with the weather that was brought along where some was. charts is a page of its
// own.
func report(name string, stdin io.Reader, inverters []catalog.StringInverter, weather *broughtWeather) (out, charts []byte, err error) {
	data, err := readInput(name, stdin, project.MaxFileBytes)
	if err != nil {
		return nil, nil, project.Problems{{Message: err.Error()}}
	}
	doc, err := project.Decode(data)
	if err != nil {
		return nil, nil, err
	}
	var hours *energy.Year
	if weather != nil {
		doc.Weather.Source, doc.Weather.File, hours = project.FromFile, &weather.file, &weather.year
	}
	if ps := doc.Validate(); len(ps) > 0 {
		return nil, nil, ps
	}
	return reportOf(context.Background(), doc, hours, inverters)
}

// reportOf works out all results of a sound document.
func reportOf(ctx context.Context, doc project.Document, hours *energy.Year, inverters []catalog.StringInverter) (out, charts []byte, err error) {
	year, err := project.WeatherOf(doc, hours)
	if err != nil {
		return nil, nil, err
	}
	res, err := project.NewEvaluator().EvaluateLit(ctx, doc, layout.Deep, reportLight(ctx, doc, year))
	if err != nil {
		return nil, nil, err
	}
	build, err := project.Build(ctx, doc, res, inverters)
	if err != nil {
		return nil, nil, err
	}
	yield, err := project.YieldOf(ctx, doc, res, build, year)
	if err != nil {
		return nil, nil, err
	}
	if charts, err = web.ChartsPage(ctx, doc, res, yield); err != nil {
		return nil, nil, err
	}
	out, err = project.EncodeReport(res, build, yield)
	return out, charts, err
}

// reportLight is the light to count with, nil where there is none: the yield then
// says why.
func reportLight(ctx context.Context, doc project.Document, year project.YearResult) *project.Sunlight {
	if year.Sun == nil {
		return nil
	}
	lit, err := project.LightOf(ctx, doc, year)
	if err != nil {
		return nil
	}
	return &lit
}

// reportExit writes an error, one line a problem with the file's name in
// front, and returns the exit status.
func reportExit(name string, err error, stderr io.Writer) int {
	if err == nil {
		return exitOK
	}
	if problems, ok := errors.AsType[project.Problems](err); ok {
		for _, p := range problems {
			fmt.Fprintf(stderr, "rooftally report: %s: %s\n", name, p)
		}
		return exitUsage
	}
	fmt.Fprintf(stderr, "rooftally report: %s: %v\n", name, err)
	return exitFailed
}
