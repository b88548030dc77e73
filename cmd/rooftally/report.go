package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"

	"rooftally/catalog"
	"rooftally/project"
)

const reportUsage = `usage: rooftally report [-inverters INVERTERS.csv] PROJECT.json

Prints all results of a project file as JSON; "-" reads standard input. Its
member "build" has strings, loads, rails, parts, warranty and cost; there the
inverters of a file, as the catalog's pages export it, are compared, or the
invented ones that a new catalog starts with.
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
	name := flags.Arg(0)
	out, err := report(name, stdin, inverters)
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

// report reads, evaluates and builds one project file.
func report(name string, stdin io.Reader, inverters []catalog.StringInverter) ([]byte, error) {
	data, err := readInput(name, stdin, project.MaxFileBytes)
	if err != nil {
		return nil, project.Problems{{Message: err.Error()}}
	}
	doc, err := project.Decode(data)
	if err != nil {
		return nil, err
	}
	ctx := context.Background()
	res, err := project.Evaluate(ctx, doc)
	if err != nil {
		return nil, err
	}
	build, err := project.Build(ctx, doc, res, inverters)
	if err != nil {
		return nil, err
	}
	return project.EncodeReport(res, build)
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
