package web

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"

	"rooftally/catalog"
)

var (
	errNoEntry = errors.New("there is no such entry in the catalog")
	// errMoved says that a list is no longer at the version a change began from.
	errMoved = errors.New("the list has changed meanwhile")
)

// productList is the list of one kind, whatever its type. Everything that changes
// a list goes through CSV text, so that there is one set of rules for what may
// stand in it.
type productList interface {
	// kind says how the products are called.
	kind() productKind
	// columns describes the CSV columns that an export has, in its order.
	columns() []catalog.Column
	// described does so for all columns that an import takes.
	described() []catalog.Column
	// read returns the entries and the version of the list.
	read(ctx context.Context) (shelf, error)
	// preview says what an import of the text would do; *catalog.ImportError if it
	// cannot be taken.
	preview(ctx context.Context, text string) (importPreview, error)
	// apply does it if the list is at version base, and fails with errMoved if not.
	apply(ctx context.Context, base int, text string) (importPreview, error)
	// drop deletes an entry; errMoved as apply, errNoEntry if it is not there.
	drop(ctx context.Context, base int, id string) error
	// demo is the CSV text of the invented entries.
	demo() string
}

// shelf is a list as the pages show it.
type shelf struct {
	Version int
	Entries []entry
	// CSV is the whole list as text.
	CSV string
}

// find returns an entry by its ID.
func (s shelf) find(id string) (entry, error) {
	i := slices.IndexFunc(s.Entries, func(e entry) bool { return e.ID() == id })
	if i < 0 {
		return entry{}, fmt.Errorf("%w: %q", errNoEntry, id)
	}
	return s.Entries[i], nil
}

// entry is one product by the cells of its CSV row.
type entry struct {
	cells map[string]string
	// Doubts are figures that are allowed but hardly right.
	Doubts []catalog.Problem
}

// Cell is the text of one CSV column, "" for not given.
func (e entry) Cell(column string) string { return e.cells[column] }

// ID is unique in the list.
func (e entry) ID() string { return e.cells["id"] }

// Label is what people call it.
func (e entry) Label() string { return e.cells["label"] }

// Invented marks what nobody makes.
func (e entry) Invented() bool { return e.cells["invented"] == "yes" }

// importPreview is what an import does to a list.
type importPreview struct {
	Version int
	Added   []changedEntry
	Changed []changedEntry
	// Unchanged are in the text and stay as they are.
	Unchanged []changedEntry
	// Untouched counts the entries that the text does not name.
	Untouched int
}

// Empty tells whether the import changes nothing.
func (p importPreview) Empty() bool { return len(p.Added)+len(p.Changed) == 0 }

// changedEntry is one row of the text with the entry as it will be.
type changedEntry struct {
	catalog.Change
	After entry
}

// products is the list of one kind of product.
type products[T any] struct {
	about   productKind
	csv     catalog.CSV[T]
	id      func(T) string
	check   func(T) []catalog.Problem
	load    func(context.Context) ([]T, int, error)
	replace func(context.Context, int, []T) (bool, error)
	demos   func() []T
}

// productsOf finds the list that stands under a slug; nil if there is none.
func productsOf(c Catalog, slug string) productList {
	switch slug {
	case slugModules:
		return products[catalog.Datasheet]{moduleKind(), catalog.ModuleCSV(),
			func(d catalog.Datasheet) string { return d.ID }, catalog.Datasheet.Check, c.Modules, c.ReplaceModules, catalog.DemoDatasheets}
	case slugInverters:
		return products[catalog.StringInverter]{inverterKind(), catalog.InverterCSV(),
			func(v catalog.StringInverter) string { return v.ID }, catalog.StringInverter.Check, c.Inverters, c.ReplaceInverters, catalog.DemoInverters}
	case slugMicros:
		return products[catalog.MicroInverter]{microKind(), catalog.MicroInverterCSV(),
			func(m catalog.MicroInverter) string { return m.ID }, catalog.MicroInverter.Check, c.MicroInverters, c.ReplaceMicroInverters, catalog.DemoMicroInverters}
	case slugOptimisers:
		return products[catalog.Optimiser]{optimiserKind(), catalog.OptimiserCSV(),
			func(o catalog.Optimiser) string { return o.ID }, catalog.Optimiser.Check, c.Optimisers, c.ReplaceOptimisers, catalog.DemoOptimisers}
	}
	return nil
}

func (p products[T]) kind() productKind { return p.about }

func (p products[T]) demo() string { return p.csv.Export(p.demos()) }

func (p products[T]) described() []catalog.Column { return p.csv.Columns() }

func (p products[T]) columns() []catalog.Column {
	names := headerOf(p.csv.Export(nil))
	return slices.DeleteFunc(p.csv.Columns(), func(c catalog.Column) bool { return !slices.Contains(names, c.Name) })
}

// headerOf are the column names of CSV text that an export wrote.
func headerOf(text string) []string {
	header, _, _ := strings.Cut(text, "\n")
	return strings.Split(header, ",")
}

func (p products[T]) read(ctx context.Context) (shelf, error) {
	list, version, err := p.load(ctx)
	if err != nil {
		return shelf{}, err
	}
	out := shelf{Version: version, CSV: p.csv.Export(list)}
	out.Entries, err = p.entries(out.CSV, list)
	return out, err
}

// entries takes the text that an export of the list wrote apart again.
func (p products[T]) entries(text string, list []T) ([]entry, error) {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("read the exported list of %s: %w", p.about.Many, err)
	}
	out := make([]entry, 0, len(list))
	for i, row := range rows[1:] {
		e := entry{cells: make(map[string]string, len(row)), Doubts: p.check(list[i])}
		for j, name := range rows[0] {
			e.cells[name] = row[j]
		}
		out = append(out, e)
	}
	return out, nil
}

func (p products[T]) preview(ctx context.Context, text string) (importPreview, error) {
	shown, _, err := p.plan(ctx, text)
	return shown, err
}

func (p products[T]) apply(ctx context.Context, base int, text string) (importPreview, error) {
	shown, after, err := p.plan(ctx, text)
	if err != nil {
		return importPreview{}, err
	}
	return shown, p.put(ctx, base, shown.Version, after)
}

// put replaces the list if base, read from the page, and version, of the list
// that the change was worked out from, are both what is kept.
func (p products[T]) put(ctx context.Context, base, version int, list []T) error {
	if base != version {
		return errMoved
	}
	replaced, err := p.replace(ctx, base, list)
	if err == nil && !replaced {
		return errMoved
	}
	return err
}

// plan works out what the text would make of the list.
func (p products[T]) plan(ctx context.Context, text string) (importPreview, []T, error) {
	present, version, err := p.load(ctx)
	if err != nil {
		return importPreview{}, nil, err
	}
	result, err := p.csv.Import(text, present)
	if err != nil {
		return importPreview{}, nil, err
	}
	whole := p.csv.Export(result.After)
	if err := p.fits(len(result.After), len(whole)); err != nil {
		return importPreview{}, nil, err
	}
	entries, err := p.entries(whole, result.After)
	if err != nil {
		return importPreview{}, nil, err
	}
	byID := make(map[string]entry, len(entries))
	for _, e := range entries {
		byID[e.ID()] = e
	}
	shown := importPreview{Version: version, Untouched: len(present) - result.Changed - result.Unchanged}
	for _, c := range result.Changes {
		row := changedEntry{Change: c, After: byID[c.ID]}
		switch c.Kind {
		case catalog.Added:
			shown.Added = append(shown.Added, row)
		case catalog.Changed:
			shown.Changed = append(shown.Changed, row)
		case catalog.Unchanged:
			shown.Unchanged = append(shown.Unchanged, row)
		}
	}
	return shown, result.After, nil
}

// fits refuses a list that its own download could not bring back.
func (p products[T]) fits(entries, bytes int) error {
	message := ""
	switch {
	case entries > catalog.MaxCSVRows:
		message = fmt.Sprintf("with this the list would have %d %s; it can hold %d", entries, p.about.Many, catalog.MaxCSVRows)
	case bytes > catalog.MaxCSVBytes:
		message = fmt.Sprintf("with this the list would be %d bytes long as CSV; it can hold %d", bytes, catalog.MaxCSVBytes)
	default:
		return nil
	}
	return &catalog.ImportError{Faults: []catalog.Fault{{Message: message}}}
}

func (p products[T]) drop(ctx context.Context, base int, id string) error {
	present, version, err := p.load(ctx)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(present, func(t T) bool { return p.id(t) == id })
	if i < 0 {
		return fmt.Errorf("%w: %q", errNoEntry, id)
	}
	return p.put(ctx, base, version, slices.Delete(present, i, i+1))
}
