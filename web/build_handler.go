package web

import (
	"context"
	"mime"
	"net/http"
	"strings"

	"rooftally/project"
)

// getBuild shows what it takes to build one candidate's layout: the one that
// ?candidate= names, else the chosen one.
func (s *server) getBuild(w http.ResponseWriter, r *http.Request) {
	stored, ok := s.load(w, r)
	if !ok {
		return
	}
	res, built, isDeep, err := s.compareBuilt(r, stored)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	view := newBuildView(stored, res, built, r.URL.Query().Get("candidate"))
	view.Looking = !isDeep
	if view.NoLight, err = s.noLight(r.Context(), stored.ID, stored.Doc); err != nil {
		s.fail(w, r, err)
		return
	}
	s.render(w, r, http.StatusOK, buildPage(view))
}

// getBuildCSV sends one candidate's parts as a file.
func (s *server) getBuildCSV(w http.ResponseWriter, r *http.Request) {
	stored, ok := s.load(w, r)
	if !ok {
		return
	}
	if missing(stored.Doc) != "" {
		s.fail(w, r, errNoPage)
		return
	}
	_, built, _, err := s.compareBuilt(r, stored)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	c := built.Candidates[buildIndex(stored.Doc, r.URL.Query().Get("candidate"))]
	text, err := project.BillCSV(c.Bill)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	name := strings.TrimSuffix(fileName(stored.Doc.Site.Label), ".json") + "-parts-" + c.Letter + ".csv"
	w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
	send(w, http.StatusOK, "text/csv; charset=utf-8", []byte(text))
}

// compareBuilt is the result of a project with what it takes to build it; both
// are the zero value while there is nothing to compare.
func (s *server) compareBuilt(r *http.Request, stored project.Stored) (project.Result, project.BuildResult, bool, error) {
	res, isDeep, err := s.compared(r, stored)
	if err != nil || missing(stored.Doc) != "" {
		return res, project.BuildResult{}, isDeep, err
	}
	built, err := s.build(r.Context(), stored.Doc, res)
	return res, built, isDeep, err
}

// build asks for what it takes to build a result, with the catalog's inverters.
func (s *server) build(ctx context.Context, doc project.Document, res project.Result) (project.BuildResult, error) {
	ctx, stop := context.WithTimeout(ctx, patience)
	defer stop()
	inverters, _, err := s.catalog.Inverters(ctx)
	if err != nil {
		return project.BuildResult{}, err
	}
	return project.Build(ctx, doc, res, inverters)
}
