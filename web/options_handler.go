package web

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"rooftally/project"
)

// getOptions shows the candidates side by side.
func (s *server) getOptions(w http.ResponseWriter, r *http.Request) {
	stored, ok := s.load(w, r)
	if !ok {
		return
	}
	s.showOptions(w, r, http.StatusOK, stored, func(v *optionsView) {
		if before := r.URL.Query().Get("before"); isStyle(before) && before != "best" {
			v.Before = before
		}
	})
}

// showOptions lets the caller add a message to the comparison.
func (s *server) showOptions(w http.ResponseWriter, r *http.Request, status int, stored project.Stored, add func(*optionsView)) {
	res, built, isDeep, err := s.compareBuilt(r, stored)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	yield, ready := s.yielded(r, yieldWait, stored.Doc, res, built)
	view := newOptionsView(stored, res, built)
	view.addYield(stored, res, yield, ready)
	view.Looking = !isDeep
	add(&view)
	s.render(w, r, status, optionsPage(view))
}

// compared is the result of a project, the zero value while it has nothing to
// compare. isDeep is false for the quick counts that stand in for the longer
// search while that goes on. With ?wait=long it waits for it as long as any
// request may.
func (s *server) compared(r *http.Request, stored project.Stored) (res project.Result, isDeep bool, err error) {
	if missing(stored.Doc) != "" {
		return project.Result{}, true, nil
	}
	wait := s.pageWait
	if r.URL.Query().Get("wait") == "long" {
		wait = patience
	}
	return s.evaluate(r.Context(), stored, wait)
}

// postTarget saves the question, the style or the chosen candidate. A form that was
// filled in beside an older version changes nothing: the page comes back with
// the newest version and the typed values.
func (s *server) postTarget(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, maxBody)
	if err := r.ParseForm(); err != nil {
		s.fail(w, r, fmt.Errorf("%w: %w", errRequest, err))
		return
	}
	base, err := strconv.Atoi(r.PostForm.Get("version"))
	if err != nil {
		s.fail(w, r, fmt.Errorf("%w: version %q is not a whole number", errRequest, r.PostForm.Get("version")))
		return
	}
	stored, ok := s.load(w, r)
	if !ok {
		return
	}
	typed := r.PostForm.Get("size_kw")
	style := r.PostForm.Get("style")
	target, err := newTarget(stored.Doc, r.PostForm.Get("mode"), typed, r.PostForm.Get("chosen"))
	if err == nil && style != "" && !isStyle(style) {
		err = errStyle
	}
	if err != nil {
		s.showOptions(w, r, http.StatusUnprocessableEntity, stored, func(v *optionsView) {
			v.Problem, v.SizeText = sentence(err), typed
		})
		return
	}
	doc := stored.Doc
	doc.Target = target
	address := "/projects/" + stored.ID + "/options"
	if style != "" {
		doc.Rules.Style = style
	}
	if style == "best" {
		// The page that follows remembers what to go back to.
		address += "?before=" + stored.Doc.Rules.Style
	}
	if base != stored.Version && (doc.Target != stored.Doc.Target || doc.Rules != stored.Doc.Rules) {
		s.showStale(w, r, stored, typed)
		return
	}
	if _, err = s.projects.Save(r.Context(), stored.ID, stored.Version, doc); err != nil {
		if stale, is := errors.AsType[*project.StaleError](err); is {
			s.showStale(w, r, stale.Current, typed)
			return
		}
		s.fail(w, r, err)
		return
	}
	http.Redirect(w, r, address, http.StatusSeeOther)
}

// isStyle reports whether a form or an address names a style of the rules.
func isStyle(style string) bool {
	return slices.Contains([]string{"rows", "columns", "grid", "best"}, style)
}

func (s *server) showStale(w http.ResponseWriter, r *http.Request, current project.Stored, typed string) {
	s.showOptions(w, r, http.StatusConflict, current, func(v *optionsView) {
		v.Stale = "The project was changed since this page was opened, so your choice is not saved yet. " +
			"The numbers below are the newest ones, version " + strconv.Itoa(current.Version) + ". Choose again if it still fits."
		if typed != "" {
			v.SizeText = typed
		}
	})
}

var (
	errMode   = errors.New("choose to fill the roof or to meet a size")
	errStyle  = errors.New("choose rows, columns, one grid or most modules")
	errChosen = errors.New("the option that was chosen is no longer in the project")
)

// newTarget is the document's target with what a form says changed; "" leaves
// a part as it is.
func newTarget(doc project.Document, mode, typedKW, chosen string) (project.Target, error) {
	t := doc.Target
	switch mode {
	case "", "fill":
	case "size":
		watts, err := parseKW(typedKW)
		if err != nil {
			return t, err
		}
		t.SizeW = watts
	default:
		return t, errMode
	}
	if mode != "" {
		t.Mode = mode
	}
	if chosen == "" {
		return t, nil
	}
	for _, c := range doc.Candidates {
		if c.ID == chosen {
			t.Chosen = chosen
			return t, nil
		}
	}
	return t, errChosen
}
