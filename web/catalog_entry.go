package web

import (
	"cmp"
	"encoding/csv"
	"errors"
	"net/http"
	"strconv"
	"strings"

	"github.com/a-h/templ"

	"rooftally/catalog"
)

// getEntryForm shows an entry to be changed, or an empty form for a new one.
func (s *server) getEntryForm(w http.ResponseWriter, r *http.Request, list productList) {
	kept, err := list.read(r.Context())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	view := entryView{Kind: list.kind(), ID: r.URL.Query().Get("id"), Version: kept.Version}
	e := entry{}
	if view.ID != "" {
		if e, err = kept.find(view.ID); err != nil {
			s.fail(w, r, err)
			return
		}
	}
	s.showEntryForm(w, r, list, http.StatusOK, view, e.Cell)
}

// showEntryForm renders the form with the given text in each field.
func (s *server) showEntryForm(w http.ResponseWriter, r *http.Request, list productList, status int, view entryView, value func(column string) string) {
	for _, p := range partsOf(view.Kind, list.columns()) {
		group := fieldGroup{Title: p.Title}
		for _, c := range p.Columns {
			group.Fields = append(group.Fields, entryField{
				Column: c, Value: value(c.Name), Problem: view.problem(c.Name), Choices: columnChoices(c.Name),
				Fixed: view.ID != "" && c.Name == "id",
			})
		}
		view.Groups = append(view.Groups, group)
	}
	s.render(w, r, status, entryPage(view))
}

// postEntry keeps what was typed as one row of an import, with the rules of one.
func (s *server) postEntry(w http.ResponseWriter, r *http.Request, list productList) {
	base, err := readFormVersion(w, r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	view := entryView{Kind: list.kind(), ID: r.URL.Query().Get("id"), Version: base}
	kept, err := list.read(r.Context())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	if view.ID != "" {
		if _, err := kept.find(view.ID); err != nil {
			s.fail(w, r, err)
			return
		}
	}
	typedIn := typedEntry(r, list, view.ID)
	done, err := importPreview{}, error(nil)
	if _, absent := kept.find(typedIn.ID()); view.ID == "" && absent == nil {
		err = &catalog.ImportError{Faults: []catalog.Fault{{Column: "id", Message: "is in the list already; edit that entry, or type another ID"}}}
	} else {
		done, err = list.apply(r.Context(), base, rowText(list, typedIn))
	}
	refused, isRefused := errors.AsType[*catalog.ImportError](err)
	switch {
	case isRefused:
		view.Faults = refused.Faults
		s.showEntryForm(w, r, list, http.StatusUnprocessableEntity, view, typedIn.Cell)
	case isMoved(err):
		view.Moved, view.Version = true, kept.Version
		s.showEntryForm(w, r, list, http.StatusConflict, view, typedIn.Cell)
	case err != nil:
		s.fail(w, r, err)
	default:
		counts := "?added=" + strconv.Itoa(len(done.Added)) + "&changed=" + strconv.Itoa(len(done.Changed))
		http.Redirect(w, r, view.Kind.path(counts), http.StatusSeeOther)
	}
}

// typedEntry is what the form's fields hold. The ID of an entry that is there
// cannot be typed over.
func typedEntry(r *http.Request, list productList, id string) entry {
	e := entry{cells: map[string]string{}}
	for _, c := range list.columns() {
		e.cells[c.Name] = strings.TrimSpace(r.PostFormValue(c.Name))
	}
	e.cells["id"] = cmp.Or(id, e.cells["id"])
	return e
}

// rowText is CSV text of one entry.
func rowText(list productList, e entry) string {
	var names, cells []string
	for _, c := range list.columns() {
		names, cells = append(names, c.Name), append(cells, e.Cell(c.Name))
	}
	var out strings.Builder
	w := csv.NewWriter(&out)
	_ = w.WriteAll([][]string{names, cells}) // a strings.Builder takes everything
	return out.String()
}

// entryFormPath is the address of the form of an entry, or with an ID "" of a new
// one.
func entryFormPath(kind productKind, id string) string {
	if id == "" {
		return kind.path("/entry")
	}
	return entryPath(kind, "entry", entry{cells: map[string]string{"id": id}})
}

// invalidAttrs mark a field that needs another look.
func invalidAttrs(f entryField) templ.Attributes {
	if f.Problem == "" {
		return nil
	}
	return templ.Attributes{"aria-invalid": "true", "aria-describedby": f.describedBy()}
}
