package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"rooftally/catalog"
)

// demoName stands for a file name where the text is that of the demo entries.
const demoName = "the demo entries"

// postProductsUpload shows what an uploaded CSV text would change.
func (s *server) postProductsUpload(w http.ResponseWriter, r *http.Request, list productList) {
	name, data, err := readUpload(w, r)
	switch {
	case errors.Is(err, http.ErrMissingFile):
		err = fault("Choose a CSV file first.")
	case typed[*http.MaxBytesError](err):
		err = fault(fmt.Sprintf("The file is too large: a CSV file may have at most %d KiB.", catalog.MaxCSVBytes>>10))
	}
	if err != nil {
		s.showImport(w, r, importView{Kind: list.kind(), Name: name}, err)
		return
	}
	s.previewImport(w, r, list, importView{Name: name, Text: string(data)})
}

// fault is an import error that is in no row.
func fault(message string) error {
	return &catalog.ImportError{Faults: []catalog.Fault{{Message: message}}}
}

// postProductsDemo shows what putting the demo entries back would change.
func (s *server) postProductsDemo(w http.ResponseWriter, r *http.Request, list productList) {
	s.previewImport(w, r, list, importView{Name: demoName, Text: list.demo()})
}

// previewImport works out a preview and shows it.
func (s *server) previewImport(w http.ResponseWriter, r *http.Request, list productList, view importView) {
	view.Kind = list.kind()
	shown, err := list.preview(r.Context(), view.Text)
	view.Preview = shown
	s.showImport(w, r, view, err)
}

// showImport renders a preview, or the faults that err holds.
func (s *server) showImport(w http.ResponseWriter, r *http.Request, view importView, err error) {
	status := http.StatusOK
	if view.Moved {
		status = http.StatusConflict
	}
	if refused, is := errors.AsType[*catalog.ImportError](err); is {
		view.Faults, status = refused.Faults, http.StatusUnprocessableEntity
	} else if err != nil {
		s.fail(w, r, err)
		return
	}
	view.Head = headView(view.Kind, afterwards(view.Preview.Added))
	s.render(w, r, status, importPage(view))
}

func afterwards(rows []changedEntry) []entry {
	out := make([]entry, len(rows))
	for i, row := range rows {
		out[i] = row.After
	}
	return out
}

// postProductsApply does what a preview showed. If the list has changed since, it
// shows the preview against the list as it is now.
func (s *server) postProductsApply(w http.ResponseWriter, r *http.Request, list productList) {
	base, err := readFormVersion(w, r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	view := importView{Name: r.PostFormValue("name"), Text: r.PostFormValue("text")}
	done, err := list.apply(r.Context(), base, view.Text)
	switch {
	case isMoved(err):
		view.Moved = true
		s.previewImport(w, r, list, view)
	case err != nil:
		view.Kind = list.kind()
		s.showImport(w, r, view, err)
	default:
		query := url.Values{"added": {strconv.Itoa(len(done.Added))}, "changed": {strconv.Itoa(len(done.Changed))}}
		http.Redirect(w, r, list.kind().path("?"+query.Encode()), http.StatusSeeOther)
	}
}

// readFormVersion reads a form and the version of the list that its page showed.
func readFormVersion(w http.ResponseWriter, r *http.Request) (int, error) {
	r.Body = http.MaxBytesReader(w, r.Body, maxBody)
	// A form with a whole CSV text in it comes in parts; others do not.
	if err := r.ParseMultipartForm(maxBody); err != nil && !errors.Is(err, http.ErrNotMultipart) {
		return 0, fmt.Errorf("%w: %w", errRequest, err)
	}
	version, err := strconv.Atoi(r.PostFormValue("version"))
	if err != nil || version < 0 {
		return 0, fmt.Errorf("%w: version is %q; it must be a whole number from 0", errRequest, r.PostFormValue("version"))
	}
	return version, nil
}

func isMoved(err error) bool { return errors.Is(err, errMoved) }
