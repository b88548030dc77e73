package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"time"

	"rooftally/layout"
)

const packUsage = `usage: rooftally pack [-style rows|grid|best] FILE...

Packs modules into roof files and prints one JSON line for each; "-" reads
standard input. Exit status: 0 done, 1 a fault of the program, 2 bad arguments
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
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return exitOK
		}
		return exitUsage
	}
	style := layout.Style(*styleName)
	if style != layout.Grid && style != layout.Rows && style != layout.Best {
		fmt.Fprintf(stderr, "pack: -style %q is not rows, grid or best\n", *styleName)
		return exitUsage
	}
	if flags.NArg() == 0 {
		fmt.Fprint(stderr, packUsage)
		return exitUsage
	}
	status := exitOK
	encoder := json.NewEncoder(stdout)
	for _, name := range flags.Args() {
		line, err := packFile(name, stdin, style)
		if err != nil {
			fmt.Fprintf(stderr, "%s: %v\n", name, err)
			status = max(status, packStatus(err))
			continue
		}
		if err := encoder.Encode(line); err != nil {
			fmt.Fprintf(stderr, "pack: writing the result of %s: %v\n", name, err)
			return exitFailed
		}
	}
	return status
}

// packStatus is exitUsage for a file that is bad, else exitFailed.
func packStatus(err error) int {
	if _, bad := errors.AsType[*roofFileError](err); bad {
		return exitUsage
	}
	return exitFailed
}

// packFile reads and packs one file.
func packFile(name string, stdin io.Reader, style layout.Style) (packLine, error) {
	data, err := readInput(name, stdin, maxRoofFileBytes)
	if err != nil {
		return packLine{}, &roofFileError{problem: err.Error()}
	}
	roof, err := decodeRoofFile(data)
	if err != nil {
		return packLine{}, err
	}
	start := time.Now()
	packing, err := layout.Pack(context.Background(), roof.region, roof.spec, style)
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
