package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"reflect"
	"strconv"
	"strings"
	"time"

	"rooftally/project"
)

// yieldWait is how long a page waits for the yield before it is shown with the
// word that it is being worked out.
const yieldWait = 500 * time.Millisecond

// getYield shows what the candidates yield.
func (s *server) getYield(w http.ResponseWriter, r *http.Request) {
	stored, ok := s.load(w, r)
	if !ok {
		return
	}
	s.showYield(w, r, http.StatusOK, stored, func(*yieldView) {})
}

// showYield lets the caller add to the page before it is sent.
func (s *server) showYield(w http.ResponseWriter, r *http.Request, status int, stored project.Stored, add func(*yieldView)) {
	res, built, isDeep, err := s.compareBuilt(r, stored)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	view, err := s.yieldView(r, stored, res, built)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	view.Looking = !isDeep
	add(&view)
	s.render(w, r, status, yieldPage(view))
}

// yieldView is the page in plain values, without numbers while those are being
// worked out.
func (s *server) yieldView(r *http.Request, stored project.Stored, res project.Result, built project.BuildResult) (yieldView, error) {
	query := r.URL.Query()
	if missing(stored.Doc) != "" {
		return newYieldView(stored, res, project.YieldResult{}, ""), nil
	}
	yield, ready, err := s.yieldWithin(r, yieldWait, stored.Doc, res, built)
	if err != nil {
		return yieldView{}, err
	}
	if !ready {
		return workingView(stored, r.URL), nil
	}
	worths, ready, err := s.askedWorths(r, stored.Doc, res, built, yield)
	if err != nil {
		return yieldView{}, err
	}
	view := newYieldView(stored, res, yield, query.Get("candidate"))
	view.Detail.addWorths(worths, ready, query.Get("worths") != "", unitsOf(stored.Doc.Site))
	return view, nil
}

// yieldWithin is the yield of a result, for which a page waits so long; ready is
// false where that was too short.
func (s *server) yieldWithin(r *http.Request, wait time.Duration, doc project.Document, res project.Result, built project.BuildResult) (yield project.YieldResult, ready bool, err error) {
	return within(r, wait, func(ctx context.Context) (project.YieldResult, error) {
		return s.yieldOf(ctx, doc, res, built)
	})
}

// askedWorths is what each obstruction costs the candidate in full, nil where the
// address does not ask for it.
func (s *server) askedWorths(r *http.Request, doc project.Document, res project.Result, built project.BuildResult, yield project.YieldResult) (worths []project.WorthResult, ready bool, err error) {
	query := r.URL.Query()
	at := buildIndex(doc, query.Get("candidate"))
	if query.Get("worths") == "" || yield.Why != "" || yield.Candidates[at].Why != "" {
		return nil, true, nil
	}
	return within(r, yieldWait, func(ctx context.Context) ([]project.WorthResult, error) {
		return s.worthsOf(ctx, doc, res, built, at)
	})
}

// workingView is the page while its numbers are being worked out.
func workingView(stored project.Stored, address *url.URL) yieldView {
	query := address.Query()
	query.Set("wait", "long")
	return yieldView{
		ID: stored.ID, Label: stored.Doc.Site.Label, Version: stored.Version, Invented: stored.Doc.Site.Invented,
		Working: true, WaitAddress: "/projects/" + stored.ID + "/yield?" + query.Encode(), Form: newYieldForm(stored.Doc),
	}
}

// bridge is how long work goes on that a page gave up waiting for: until the page
// that is shown instead has asked for it again and waits. With nobody waiting it
// then ends.
const bridge = 10 * time.Second

// within does some work for a page that waits for so long, or with ?wait=long as
// long as any request may; ready is false where that was too short. The work then
// goes on beside the request, see [bridge]; it must be shared by its content, so
// that it is not done twice.
func within[V any](r *http.Request, wait time.Duration, work func(context.Context) (V, error)) (value V, ready bool, err error) {
	if r.URL.Query().Get("wait") == "long" {
		ctx, stop := context.WithTimeout(r.Context(), patience)
		defer stop()
		value, err = work(ctx)
		return value, err == nil, err
	}
	type outcome struct {
		value V
		err   error
	}
	done := make(chan outcome, 1)
	ctx, stop := context.WithTimeout(context.WithoutCancel(r.Context()), wait+bridge)
	go func() {
		defer stop()
		v, err := work(ctx)
		done <- outcome{v, err}
	}()
	late := time.NewTimer(wait)
	defer late.Stop()
	select {
	case o := <-done:
		return o.value, o.err == nil, o.err
	case <-late.C:
		return value, false, nil
	case <-r.Context().Done():
		stop()
		return value, false, r.Context().Err()
	}
}

// yielded is the yield of a result for a page that shows its counts without: ready
// is false while it is being worked out, and a failure is in the log and in words.
func (s *server) yielded(r *http.Request, wait time.Duration, doc project.Document, res project.Result, built project.BuildResult) (project.YieldResult, bool) {
	if missing(doc) != "" {
		return project.YieldResult{}, true
	}
	yield, ready, err := s.yieldWithin(r, wait, doc, res, built)
	if err != nil {
		s.log.WarnContext(r.Context(), "shown without yield", "path", r.URL.Path, "err", err)
		return project.YieldResult{Why: "It could not be worked out; the program’s log says why."}, true
	}
	return yield, ready
}

// postYield saves the models, losses and spreads. A form that was filled in beside
// an older version changes nothing: the page comes back with the typed values.
func (s *server) postYield(w http.ResponseWriter, r *http.Request) {
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
	doc := stored.Doc
	var problems []string
	doc.Yield, problems = readYieldForm(doc.Yield, r.PostForm)
	if len(problems) == 0 {
		problems = yieldProblems(doc)
	}
	if len(problems) > 0 {
		problems = append(problems, notRemoved(stored.Doc, r.PostForm)...)
		s.showYield(w, r, http.StatusUnprocessableEntity, stored, func(v *yieldView) {
			v.Form = v.Form.typedInto(r.PostForm, problems)
		})
		return
	}
	if base != stored.Version && !reflect.DeepEqual(doc.Yield, stored.Doc.Yield) {
		s.showStaleYield(w, r, stored)
		return
	}
	if _, err = s.projects.Save(r.Context(), stored.ID, stored.Version, doc); err != nil {
		if stale, is := errors.AsType[*project.StaleError](err); is {
			s.showStaleYield(w, r, stale.Current)
			return
		}
		s.fail(w, r, err)
		return
	}
	http.Redirect(w, r, yieldAddress(stored.ID, url.QueryEscape(r.PostForm.Get("candidate"))), http.StatusSeeOther)
}

// yieldProblems are what the document has against its yield terms.
func yieldProblems(doc project.Document) []string {
	var out []string
	for _, p := range doc.Validate() {
		out = append(out, p.Path+" "+p.Message+".")
	}
	return out
}

// notRemoved says that a refused form did not remove a line either.
func notRemoved(doc project.Document, form url.Values) []string {
	for _, l := range doc.Yield.Losses {
		if l.ID == form.Get("remove") {
			return []string{l.Label + " was not removed; remove it again."}
		}
	}
	return nil
}

func (s *server) showStaleYield(w http.ResponseWriter, r *http.Request, current project.Stored) {
	s.showYield(w, r, http.StatusConflict, current, func(v *yieldView) {
		v.Stale = "The project was changed since this page was opened, so what you typed is not saved yet. " +
			"The numbers are the newest ones; what you typed still stands in the form. Save again if it still fits. " +
			strings.Join(notRemoved(current.Doc, r.PostForm), " ")
		v.Form = v.Form.typedInto(r.PostForm, nil)
	})
}
