package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"iter"
	"runtime"
	"slices"
	"sync/atomic"
	"time"

	"rooftally/layout"
)

const packUsage = `usage: rooftally pack [-style best|rows|grid|columns] [-budget deep|drag] FILE...

Packs modules into roof files and prints one JSON line for each; "-" reads
standard input. The budget matters to style best: drag takes milliseconds a
file, deep seconds where the count cannot be proved sooner. Exit status: 0 done, 1 a fault of the program, 2 bad arguments
or a bad file; the other files are still done.
`

// packLine is one line of output.
type packLine struct {
	ID        string       `json:"id"`
	Style     layout.Style `json:"style"`
	Count     int          `json:"count"`
	Bound     int          `json:"bound"`
	Proved    bool         `json:"proved"`
	ElapsedMS float64      `json:"elapsed_ms"`
	Modules   []packModule `json:"modules"`
}

// packModule is a placed module: its lower-left corner and placed size, metres.
type packModule struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	W float64 `json:"w"`
	H float64 `json:"h"`
}

// runPack is the pack command. It prints a line for every file that can be
// packed and a message on stderr, naming file and field, for every other one,
// and returns the exit status: 2 when an argument or a file was bad, 1 when
// the program failed otherwise.
func runPack(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("pack", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.Usage = func() { fmt.Fprint(stderr, packUsage) }
	styleName := flags.String("style", string(layout.Best), "")
	budgetName := flags.String("budget", "deep", "")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return exitOK
		}
		return exitUsage
	}
	style := layout.Style(*styleName)
	if !slices.Contains(layout.Styles(), style) {
		fmt.Fprintf(stderr, "pack: -style %q is not best, rows, grid or columns\n", *styleName)
		return exitUsage
	}
	budget, known := map[string]layout.Budget{"deep": layout.Deep, "drag": layout.Drag}[*budgetName]
	if !known {
		fmt.Fprintf(stderr, "pack: -budget %q is not deep or drag\n", *budgetName)
		return exitUsage
	}
	if flags.NArg() == 0 {
		fmt.Fprint(stderr, packUsage)
		return exitUsage
	}
	if i := slices.Index(flags.Args(), "-"); i >= 0 && slices.Contains(flags.Args()[i+1:], "-") {
		fmt.Fprintln(stderr, "pack: \"-\" is given twice, and standard input can be read once")
		return exitUsage
	}
	status := exitOK
	encoder := json.NewEncoder(stdout)
	for result := range packFiles(flags.Args(), func(name string) (packLine, error) {
		return packFile(name, stdin, style, budget)
	}) {
		if result.err != nil {
			fmt.Fprintf(stderr, "%s: %v\n", result.name, result.err)
			status = max(status, packStatus(result.err))
			continue
		}
		if err := encoder.Encode(result.line); err != nil {
			fmt.Fprintf(stderr, "pack: writing the result of %s: %v\n", result.name, err)
			return exitFailed
		}
	}
	return status
}

// packResult is what became of one file.
type packResult struct {
	name string
	line packLine
	err  error
}

// packFiles packs files on all processors and yields the results in the order
// of the names.
func packFiles(names []string, pack func(name string) (packLine, error)) iter.Seq[packResult] {
	return func(yield func(packResult) bool) {
		results := make([]chan packResult, len(names))
		for i := range results {
			results[i] = make(chan packResult, 1)
		}
		var next atomic.Int64
		stop := make(chan struct{})
		defer close(stop)
		work := func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(names) {
					return
				}
				select {
				case <-stop:
					return
				default:
				}
				line, err := pack(names[i])
				results[i] <- packResult{names[i], line, err}
			}
		}
		for range min(runtime.GOMAXPROCS(0), len(names)) {
			go work()
		}
		for _, r := range results {
			if !yield(<-r) {
				return
			}
		}
	}
}

// packStatus is exitUsage for a file that is bad, else exitFailed.
func packStatus(err error) int {
	if _, bad := errors.AsType[*roofFileError](err); bad {
		return exitUsage
	}
	return exitFailed
}

// packFile reads and packs one file.
func packFile(name string, stdin io.Reader, style layout.Style, budget layout.Budget) (packLine, error) {
	data, err := readInput(name, stdin, maxRoofFileBytes)
	if err != nil {
		return packLine{}, &roofFileError{problem: err.Error()}
	}
	roof, err := decodeRoofFile(data)
	if err != nil {
		return packLine{}, err
	}
	start := time.Now()
	packing, err := layout.PackWithin(context.Background(), roof.region, roof.spec, style, budget)
	elapsed := time.Since(start)
	if err != nil {
		return packLine{}, asRoofFileError(err)
	}
	line := packLine{
		ID: roof.id, Style: style, Count: len(packing.Modules), Bound: packing.Bound, Proved: packing.Proved,
		ElapsedMS: float64(elapsed.Microseconds()) / 1000,
		Modules:   make([]packModule, len(packing.Modules)),
	}
	for i, m := range packing.Modules {
		line.Modules[i] = packModule{X: m.UM, Y: m.VM, W: m.WM, H: m.HM}
	}
	return line, nil
}
