// Rooftally draws a roof, compares modules on it and prints the page. This
// program serves the pages and has commands for files.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
)

// Exit statuses of every command.
const (
	exitOK     = 0
	exitFailed = 1
	exitUsage  = 2
)

const usage = `rooftally draws roofs and compares solar modules on them.

  rooftally [serve] [-db FILE] [-listen ADDRESS] [-allow-host NAMES]
        serve the pages; without flags on http://127.0.0.1:8787 and from
        rooftally.db in the user's data directory; serve -h explains the flags
  rooftally pack [-style best|rows|grid|columns] [-budget deep|drag] FILE...
        pack modules into roof files and print one JSON line for each; without
        flags the most modules that a deep search finds; "-" reads standard input
  rooftally report [-inverters INVERTERS.csv] PROJECT.json
        print all results of a project file as JSON; "-" reads standard input
  rooftally strings -voc V -vmp V [-beta-voc PERCENT_PER_K] -gamma PERCENT_PER_K
        -tmin C -tcell-hot C -vmax V -mppt-min V -mppt-max V
        print how many modules a string may hold as JSON
  rooftally plant -kw SIZE -module-w WATTS -per-string N [-length M -width M]
        print how many whole strings and modules a size takes, and their area
  rooftally yield -weather FILE -tilt DEG -azimuth DEG [-module ID] [-kw N]
        print what a plane without shade yields in a typical year as JSON
  rooftally help
        print this

Exit status: 0 done, 1 a failure, 2 bad arguments or a bad file (yield: 1 for a
bad file).
`

func main() {
	os.Exit(run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run picks the command and returns the exit status. The server also stops,
// cleanly, when ctx ends.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	command := "serve"
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		command, args = args[0], args[1:]
	}
	switch command {
	case "serve":
		// After the first signal the second one ends the program at once.
		ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
		defer stop()
		context.AfterFunc(ctx, stop)
		return runServe(ctx, args, stdout, stderr)
	case "pack":
		return runPack(args, stdin, stdout, stderr)
	case "report":
		return runReport(args, stdin, stdout, stderr)
	case "strings":
		return runStrings(args, stdout, stderr)
	case "plant":
		return runPlant(args, stdout, stderr)
	case "yield":
		return runYield(args, stdin, stdout, stderr)
	case "help":
		_, _ = io.WriteString(stdout, usage)
		return exitOK
	}
	_, _ = fmt.Fprintf(stderr, "rooftally: there is no command %q\n\n%s", command, usage)
	return exitUsage
}

// readInput reads a command's file, or standard input for "-", up to one byte
// more than limit, so that an endless file ends in its decoder's message. The
// error does not name the file: the caller does.
func readInput(name string, stdin io.Reader, limit int64) ([]byte, error) {
	r := stdin
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, cause(err)
		}
		defer f.Close()
		r = f
	}
	data, err := io.ReadAll(io.LimitReader(r, limit+1))
	return data, cause(err)
}

// cause strips the file's name from an error of the file system.
func cause(err error) error {
	if pe, ok := errors.AsType[*os.PathError](err); ok {
		return fmt.Errorf("cannot be read: %w", pe.Err)
	}
	return err
}
