// Rooftally draws a roof, compares modules on it and prints the page. This
// program serves the pages and has commands for files.
package main

import (
	"context"
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
        serve the pages; serve -h lists the flags
  rooftally pack [-style rows|grid|best] FILE...
        pack modules into roof files and print one JSON line for each
  rooftally report PROJECT.json
        print all results of a project file as JSON
  rooftally help
        print this
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
	case "help":
		_, _ = io.WriteString(stdout, usage)
		return exitOK
	}
	_, _ = fmt.Fprintf(stderr, "rooftally: there is no command %q\n\n%s", command, usage)
	return exitUsage
}
