package catalog

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// The longest names of catalog entries, in characters.
const (
	maxIDLength    = 40
	maxLabelLength = 80
)

// checker collects problems.
type checker struct{ problems []Problem }

// bad records an error, hardly a doubt.
func (c *checker) bad(field, format string, args ...any) {
	c.problems = append(c.problems, Problem{Field: field, Message: fmt.Sprintf(format, args...)})
}

func (c *checker) hardly(field, format string, args ...any) {
	c.problems = append(c.problems, Problem{Field: field, Doubt: true, Message: fmt.Sprintf(format, args...)})
}

// sound reports whether no error has been recorded, doubts apart.
func (c *checker) sound() bool {
	for _, p := range c.problems {
		if !p.Doubt {
			return false
		}
	}
	return true
}

// span demands lo <= v <= hi; written so that NaN is reported.
func (c *checker) span(field string, v, lo, hi float64, unit string) {
	if !(v >= lo && v <= hi) {
		c.bad(field, "is %g; it must be %g to %g%s", v, lo, hi, unit)
	}
}

// spanOrNone is span for a figure that may be missing.
func (c *checker) spanOrNone(field string, v, lo, hi float64, unit string) {
	if v != 0 && !(v >= lo && v <= hi) {
		c.bad(field, "is %g; it must be %g to %g%s, or not given", v, lo, hi, unit)
	}
}

// whole demands lo <= v <= hi.
func (c *checker) whole(field string, v, lo, hi int) {
	if v < lo || v > hi {
		c.bad(field, "is %d; it must be a whole number from %d to %d", v, lo, hi)
	}
}

// names demands an ID of small letters, digits and hyphens, and a label on one
// line that a spreadsheet does not read as a formula.
func (c *checker) names(id, label string) {
	if !soundID(id) {
		c.bad("id", "is %q; it must be 1 to %d of a-z, 0-9 and '-'", id, maxIDLength)
	}
	if !soundLabel(label) {
		c.bad("label", "is %q; it must be 1 to %d characters on one line and begin with a letter or digit", label, maxLabelLength)
	}
}

func soundID(id string) bool {
	for _, r := range id {
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '-' {
			return false
		}
	}
	return len(id) >= 1 && len(id) <= maxIDLength
}

func soundLabel(label string) bool {
	if !utf8.ValidString(label) || label == "" || utf8.RuneCountInString(label) > maxLabelLength {
		return false
	}
	for i, r := range label {
		if i == 0 && !unicode.IsLetter(r) && !unicode.IsDigit(r) || !unicode.IsPrint(r) {
			return false
		}
	}
	return strings.TrimSpace(label) == label
}
