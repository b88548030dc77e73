package project

import (
	"fmt"
	"strings"
)

// Problem is one thing wrong with a document.
type Problem struct {
	// Path is where, from the root of the JSON: planes[2].ring[5].x_m. It is
	// empty for the document as a whole.
	Path string `json:"path"`
	// Message says what is wrong and what is allowed.
	Message string `json:"message"`
}

// String joins path and message.
func (p Problem) String() string {
	if p.Path == "" {
		return p.Message
	}
	return p.Path + ": " + p.Message
}

// Problems is everything wrong with a document, in document order. As an error
// it prints one problem a line. A nil list means a sound document; never
// return an empty list as an error.
type Problems []Problem

// Error prints one problem a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// add appends a formatted problem.
func (ps *Problems) add(path, format string, args ...any) {
	*ps = append(*ps, Problem{Path: path, Message: fmt.Sprintf(format, args...)})
}
