package catalog

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// The most that one CSV text may hold.
const (
	MaxCSVBytes = 1 << 20
	MaxCSVRows  = 2000
	// maxFaults is how many faults an import names before it stops looking.
	maxFaults = 50
)

// CSV reads and writes the entries of one kind as comma-separated text: a header
// row with column names, then a row for each entry (RFC 4180). The columns may
// come in any order. Make one with [ModuleCSV], [InverterCSV],
// [MicroInverterCSV] or [OptimiserCSV]. docs/catalog.md describes the columns.
type CSV[T any] struct {
	columns []column[T]
	id      func(*T) string
	check   func(T) []Problem
}

// Columns describes the columns in the order in which they are written; those
// that are only read come where their figure does.
func (c CSV[T]) Columns() []Column {
	out := make([]Column, len(c.columns))
	for i, col := range c.columns {
		out[i] = col.Column
	}
	return out
}

// Export writes entries as CSV text with all columns. What it writes,
// [CSV.Import] reads back as the same entries if each passes its check.
func (c CSV[T]) Export(entries []T) string {
	var out strings.Builder
	w := csv.NewWriter(&out)
	row := func(cell func(column[T]) string) {
		var cells []string
		for _, col := range c.columns {
			if col.alias == "" {
				cells = append(cells, cell(col))
			}
		}
		_ = w.Write(cells) // a strings.Builder takes everything
	}
	row(func(col column[T]) string { return col.Name })
	for i := range entries {
		row(func(col column[T]) string { return col.show(&entries[i]) })
	}
	w.Flush()
	return out.String()
}

// Preview is what an import would do to a catalog.
type Preview[T any] struct {
	// Changes has one element for each row, in the order of the rows.
	Changes []Change `json:"changes"`
	// Added, Changed and Unchanged count the rows of each kind.
	Added     int `json:"added"`
	Changed   int `json:"changed"`
	Unchanged int `json:"unchanged"`
	// After is the whole catalog after the import: the present entries in
	// their order, changed ones in place, then the added ones.
	After []T `json:"after"`
}

// Change is what one row does.
type Change struct {
	// Row is the row's number as a spreadsheet shows it; the header is row 1.
	Row int    `json:"row"`
	ID  string `json:"id"`
	// Kind is "added", "changed" or "unchanged".
	Kind ChangeKind `json:"kind"`
	// Fields are what changes, in the order of the columns; empty unless Kind
	// is "changed".
	Fields []FieldChange `json:"fields"`
	// Doubts are figures that are allowed but hardly right.
	Doubts []Problem `json:"doubts"`
}

// ChangeKind says what an import does to one entry.
type ChangeKind string

// The kinds of change.
const (
	Added     ChangeKind = "added"
	Changed   ChangeKind = "changed"
	Unchanged ChangeKind = "unchanged"
)

// FieldChange is one figure before and after, as text; "" is not given.
type FieldChange struct {
	Field string `json:"field"`
	From  string `json:"from"`
	To    string `json:"to"`
}

// Fault is one thing wrong with a CSV text.
type Fault struct {
	// Row is as in [Change]; 0 where the fault is in no row.
	Row int `json:"row"`
	// Column is the column's name, "" where the fault is in the whole row.
	Column string `json:"column"`
	// Message is the rest of the sentence, with the value and what is allowed.
	Message string `json:"message"`
}

// ImportError holds everything found wrong with a CSV text, in the order of the
// rows, at most 50 faults.
type ImportError struct {
	Faults []Fault `json:"faults"`
}

// Error lists the faults, one a line.
func (e *ImportError) Error() string {
	var out strings.Builder
	for i, f := range e.Faults {
		if i > 0 {
			out.WriteByte('\n')
		}
		if f.Row > 0 {
			fmt.Fprintf(&out, "row %d: ", f.Row)
		}
		if f.Column != "" {
			out.WriteString(f.Column + " ")
		}
		out.WriteString(f.Message)
	}
	return out.String()
}

// Import reads CSV text against the present catalog and says what it would
// change. Nothing is changed: the caller keeps Preview.After or drops it. Any
// fault in any row gives an [*ImportError] and no preview.
//
// An ID that the catalog has changes that entry: a column left out of the header
// keeps the figure, a blank cell makes it "not given". Entries that the text
// does not name stay as they are. A byte order mark at the start is skipped.
func (c CSV[T]) Import(text string, present []T) (Preview[T], error) {
	in := reading[T]{CSV: c, present: present, after: slices.Clone(present), seen: map[string]int{}}
	in.read(text)
	if len(in.faults) > 0 {
		return Preview[T]{}, &ImportError{Faults: in.faults[:min(len(in.faults), maxFaults)]}
	}
	in.preview.After = in.after
	return in.preview, nil
}

// reading is the state of one import.
type reading[T any] struct {
	CSV[T]
	present, after []T
	// at is where each of the columns stands in a row, -1 for left out.
	at      []int
	seen    map[string]int // ID to row
	preview Preview[T]
	faults  []Fault
}

func (in *reading[T]) fault(row int, column, format string, args ...any) {
	in.faults = append(in.faults, Fault{Row: row, Column: column, Message: fmt.Sprintf(format, args...)})
}

// read goes through the text until the end or until there are faults enough.
func (in *reading[T]) read(text string) {
	if len(text) > MaxCSVBytes {
		in.fault(0, "", "the text has %d bytes; at most %d are read", len(text), MaxCSVBytes)
		return
	}
	if !utf8.ValidString(text) {
		in.fault(0, "", "the text is not UTF-8; save the file as CSV UTF-8")
		return
	}
	r := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff")))
	r.FieldsPerRecord = -1
	width := 0
	for rows := 0; len(in.faults) < maxFaults; rows++ {
		cells, err := r.Read()
		switch {
		case err == io.EOF:
			if rows < 2 {
				in.fault(0, "", "the text has no rows below a header")
			}
			return
		case err != nil:
			in.syntax(err)
			return
		case rows == 0:
			if width = len(cells); !in.header(cells) {
				return
			}
			continue
		case rows > MaxCSVRows:
			in.fault(0, "", "the text has more than %d rows below the header", MaxCSVRows)
			return
		}
		row, _ := r.FieldPos(0)
		if len(cells) != width {
			in.fault(row, "", "has %d cells; the header has %d", len(cells), width)
			continue
		}
		in.row(row, cells)
	}
}

// syntax reports text that is not CSV.
func (in *reading[T]) syntax(err error) {
	if pe, ok := errors.AsType[*csv.ParseError](err); ok {
		in.fault(pe.StartLine, "", "cannot be read: %v", pe.Err)
		return
	}
	in.fault(0, "", "cannot be read: %v", err)
}

// header finds the columns and reports whether the rows can be read.
func (in *reading[T]) header(cells []string) bool {
	if len(cells) == 1 && strings.ContainsAny(cells[0], ";\t") {
		in.fault(1, "", "holds no comma; the cells must have commas between them")
		return false
	}
	names := make([]string, len(cells))
	for i, cell := range cells {
		names[i] = strings.TrimSpace(cell)
		known := slices.ContainsFunc(in.columns, func(col column[T]) bool { return col.Name == names[i] })
		switch {
		case !known:
			in.fault(1, clip(names[i]), "is no column of this list (column %d)", i+1)
		case slices.Contains(names[:i], names[i]):
			in.fault(1, names[i], "stands twice in the header")
		}
	}
	in.at = make([]int, len(in.columns))
	for i, col := range in.columns {
		in.at[i] = slices.Index(names, col.Name)
		if col.Required && in.at[i] < 0 {
			in.fault(1, col.Name, "is missing from the header")
		}
	}
	return len(in.faults) == 0
}

// row reads one entry and notes what it changes.
func (in *reading[T]) row(row int, cells []string) {
	before := len(in.faults)
	id := strings.TrimSpace(cells[in.at[0]]) // the first column is the ID
	if first, twice := in.seen[id]; twice {
		in.fault(row, in.columns[0].Name, "is %q, as in row %d; an entry may stand once", clip(id), first)
		return
	}
	in.seen[id] = row
	old := slices.IndexFunc(in.present, func(t T) bool { return in.id(&t) == id })
	var entry T
	if old >= 0 {
		entry = in.present[old]
	}
	for i := range in.columns {
		in.cell(row, i, cells, &entry)
	}
	if len(in.faults) > before {
		return
	}
	change := Change{Row: row, ID: id, Kind: Added, Fields: []FieldChange{}, Doubts: []Problem{}}
	for _, p := range in.check(entry) {
		if p.Doubt {
			change.Doubts = append(change.Doubts, p)
			continue
		}
		in.fault(row, in.written(p.Field), "%s", p.Message)
	}
	in.note(change, old, entry)
}

// cell reads the cell of column i into the entry.
func (in *reading[T]) cell(row, i int, cells []string, entry *T) {
	col := in.columns[i]
	if in.at[i] < 0 {
		return
	}
	cell := strings.TrimSpace(cells[in.at[i]])
	if col.alias != "" {
		if main := in.place(col.alias); main >= 0 {
			if cell != "" && strings.TrimSpace(cells[main]) != "" {
				in.fault(row, col.Name, "is %q, and %s is given too; give one of them", clip(cell), col.alias)
			}
			if cell == "" {
				return
			}
		}
	}
	if cell == "" && col.Required {
		in.fault(row, col.Name, "is blank; it must be given")
		return
	}
	if err := col.read(entry, cell); err != nil {
		in.fault(row, col.Name, "%v", err)
	}
}

// place returns where a column stands in a row, -1 for left out.
func (in *reading[T]) place(name string) int {
	for i, col := range in.columns {
		if col.Name == name {
			return in.at[i]
		}
	}
	return -1
}

// written returns the column of the text that a field was read from: itself, or
// the column that stands in for it.
func (in *reading[T]) written(field string) string {
	if in.place(field) >= 0 {
		return field
	}
	for i, col := range in.columns {
		if col.alias == field && in.at[i] >= 0 {
			return col.Name
		}
	}
	return field
}

// note puts a sound entry into the preview. old is its place in the present
// catalog, -1 for none.
func (in *reading[T]) note(change Change, old int, entry T) {
	switch {
	case old < 0:
		in.after = append(in.after, entry)
		in.preview.Added++
	default:
		change.Fields = in.differences(&in.present[old], &entry)
		in.after[old] = entry
		if change.Kind = Changed; len(change.Fields) == 0 {
			change.Kind = Unchanged
			in.preview.Unchanged++
		} else {
			in.preview.Changed++
		}
	}
	in.preview.Changes = append(in.preview.Changes, change)
}

// differences lists the figures that differ.
func (in *reading[T]) differences(from, to *T) []FieldChange {
	out := []FieldChange{}
	for _, col := range in.columns {
		if col.alias != "" {
			continue
		}
		if a, b := col.show(from), col.show(to); a != b {
			out = append(out, FieldChange{Field: col.Name, From: a, To: b})
		}
	}
	return out
}
