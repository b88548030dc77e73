//go:build !js

package project

import (
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
)

// BillCSV is a bill as comma-separated text (RFC 4180) with a header row: the
// parts of each plane, those of the project, then the total.
func BillCSV(b Bill) (string, error) {
	var text strings.Builder
	w := csv.NewWriter(&text)
	w.UseCRLF = true
	rows := [][]string{{"where", "part", "label", "quantity", "unit", "length_m", "missing"}}
	add := func(where string, lines []BillLine) {
		for _, l := range lines {
			length, missing := "", "no"
			if l.LengthM > 0 {
				length = strconv.FormatFloat(l.LengthM, 'f', -1, 64)
			}
			if l.Missing {
				missing = "yes"
			}
			rows = append(rows, []string{plainCell(where), l.Key, plainCell(l.Label), strconv.Itoa(l.Quantity), l.Unit, length, missing})
		}
	}
	for _, p := range b.Planes {
		add(p.Label, p.Lines)
	}
	add("project", b.Project)
	add("total", b.Total)
	if err := w.WriteAll(rows); err != nil {
		return "", fmt.Errorf("writing the bill: %w", err)
	}
	return text.String(), nil
}

// plainCell keeps a spreadsheet from reading a text as a formula.
func plainCell(s string) string {
	if strings.HasPrefix(s, "=") || strings.HasPrefix(s, "+") || strings.HasPrefix(s, "-") || strings.HasPrefix(s, "@") {
		return "'" + s
	}
	return s
}
