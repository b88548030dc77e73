package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"

	"rooftally/project"
)

const reportUsage = `usage: rooftally report PROJECT.json

Prints all results of a project file as JSON; "-" reads standard input.
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
	name := flags.Arg(0)
	out, err := report(name, stdin)
	if err == nil {
		_, err = stdout.Write(out)
	}
	return reportExit(name, err, stderr)
}

// report reads and evaluates one project file.
func report(name string, stdin io.Reader) ([]byte, error) {
	data, err := readInput(name, stdin, project.MaxFileBytes)
	if err != nil {
		return nil, project.Problems{{Message: err.Error()}}
	}
	doc, err := project.Decode(data)
	if err != nil {
		return nil, err
	}
	res, err := project.Evaluate(context.Background(), doc)
	if err != nil {
		return nil, err
	}
	return project.EncodeResult(res)
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
