package catalog

import (
	"fmt"
	"strconv"
	"strings"
)

// column is one column of a CSV text: how to show and how to read one figure.
// A read error is the end of a sentence that begins with the column's name.
type column[T any] struct {
	Column
	show func(*T) string
	read func(*T, string) error
	// alias is the name of the column that this one may stand in for; such a
	// column is read and never written.
	alias string
}

// Column describes one column of a CSV text.
type Column struct {
	// Name heads the column.
	Name string `json:"name"`
	// Required columns must be in the header and every cell filled.
	Required bool `json:"required"`
	// About says what the figure is, in which unit.
	About string `json:"about"`
}

// decimal is a column of a number that must be given, maybeDecimal of one that
// may be blank for 0.
func decimal[T any](name, about string, at func(*T) *float64) column[T] {
	return column[T]{
		Column: Column{Name: name, Required: true, About: about},
		show:   func(t *T) string { return strconv.FormatFloat(*at(t), 'f', -1, 64) },
		read: func(t *T, text string) (err error) {
			*at(t), err = parseDecimal(text)
			return err
		},
	}
}

func maybeDecimal[T any](name, about string, at func(*T) *float64) column[T] {
	return optional(decimal(name, about, at), "0")
}

// whole is a column of a whole number that must be given.
func whole[T any](name, about string, at func(*T) *int) column[T] {
	return column[T]{
		Column: Column{Name: name, Required: true, About: about},
		show:   func(t *T) string { return strconv.Itoa(*at(t)) },
		read: func(t *T, text string) error {
			n, err := strconv.Atoi(text)
			if err != nil || strings.HasPrefix(text, "+") {
				return fmt.Errorf("is %q; it must be a whole number in digits", clip(text))
			}
			*at(t) = n
			return nil
		},
	}
}

// yesNo is a column of "yes" or "no".
func yesNo[T any](name, about string, at func(*T) *bool) column[T] {
	return column[T]{
		Column: Column{Name: name, Required: true, About: about},
		show: func(t *T) string {
			if *at(t) {
				return "yes"
			}
			return "no"
		},
		read: func(t *T, text string) error {
			if text != "yes" && text != "no" {
				return fmt.Errorf("is %q; it must be yes or no", clip(text))
			}
			*at(t) = text == "yes"
			return nil
		},
	}
}

// text is a column of text, which the entry's own check judges.
func text[T any, S ~string](name, about string, at func(*T) *S) column[T] {
	return column[T]{
		Column: Column{Name: name, Required: true, About: about},
		show:   func(t *T) string { return string(*at(t)) },
		read: func(t *T, text string) error {
			*at(t) = S(text)
			return nil
		},
	}
}

// optional lets a cell be blank, which then reads as the given text and is
// written for it.
func optional[T any](c column[T], blank string) column[T] {
	show, read := c.show, c.read
	c.Required = false
	c.show = func(t *T) string {
		if s := show(t); s != blank {
			return s
		}
		return ""
	}
	c.read = func(t *T, text string) error {
		if text == "" {
			text = blank
		}
		return read(t, text)
	}
	return c
}

// parseDecimal reads a number of digits, one point and a sign, as spreadsheets
// in English write it. Words such as "nan", powers of ten and hexadecimal
// digits are refused.
func parseDecimal(text string) (float64, error) {
	if strings.Contains(text, ",") {
		return 0, fmt.Errorf("is %q; write a point for decimals and nothing between thousands", clip(text))
	}
	f, err := strconv.ParseFloat(text, 64)
	if err != nil || strings.Trim(text, "0123456789.-") != "" {
		return 0, fmt.Errorf("is %q; it must be a number such as 41.5", clip(text))
	}
	if f == 0 {
		return 0, nil // not the zero with a sign, which would be written as "-0"
	}
	return f, nil
}

// clip shortens a cell for a message.
func clip(text string) string {
	const most = 40
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "..."
	}
	return text
}
