// Command join makes a WebAssembly program smaller by gzip: it reads the
// program on standard input and writes it with the data segments joined that
// lie near each other in memory.
//
// The linker leaves zeros out of the data, since memory starts as zeros, and
// begins a new segment after every few of them. A table of the runtime by which
// it finds the function of an address is so spread out that it becomes some
// 70 000 segments of one or two bytes, each with its address, which nothing can
// compress. Written out with its zeros it all but vanishes.
package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
)

func main() {
	if err := run(os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "join:", err)
		os.Exit(1)
	}
}

func run(from io.Reader, to io.Writer) error {
	program, err := io.ReadAll(from)
	if err != nil {
		return err
	}
	joined, err := joinData(program)
	if err != nil {
		return err
	}
	out := bufio.NewWriter(to)
	if _, err := out.Write(joined); err != nil {
		return err
	}
	return out.Flush()
}
