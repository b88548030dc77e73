package web

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"rooftally/project"
)

// maxBody bounds what a request may carry: the largest project file and the
// few bytes around it.
const maxBody = 4<<20 + 64<<10

// patience is how long one evaluation may take. A house takes milliseconds in
// the drag budget and seconds in the deep one; a file at the format's limits
// could hold a processor for most of a minute in either.
const patience = 60 * time.Second

// apiProject is a stored project as the editor gets it.
type apiProject struct {
	Version  int            `json:"version"`
	Archived bool           `json:"archived"`
	SavedAt  time.Time      `json:"saved_at"`
	Doc      jsontext.Value `json:"doc"`
}

// apiSave is what the editor sends: a document and the version it began from.
type apiSave struct {
	Version int            `json:"version"`
	Doc     jsontext.Value `json:"doc"`
}

type apiSaved struct {
	Version int `json:"version"`
}

// apiGetProject answers with the stored document and its version.
func (s *server) apiGetProject(w http.ResponseWriter, r *http.Request) {
	stored, ok := s.load(w, r)
	if !ok {
		return
	}
	s.writeProject(w, r, http.StatusOK, stored)
}

func (s *server) writeProject(w http.ResponseWriter, r *http.Request, status int, stored project.Stored) {
	doc, err := project.Encode(stored.Doc)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.writeJSON(w, r, status, apiProject{Version: stored.Version, Archived: stored.Archived, SavedAt: stored.UpdatedAt.UTC(), Doc: doc})
}

// apiPutProject saves. A stale save is answered with status 409 and the
// document that is stored now, so that the editor can show both.
func (s *server) apiPutProject(w http.ResponseWriter, r *http.Request) {
	var save apiSave
	doc, err := readSave(w, r, &save)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	id := chi.URLParam(r, "id")
	version, err := s.projects.Save(r.Context(), id, save.Version, doc)
	if stale, ok := errors.AsType[*project.StaleError](err); ok {
		s.writeProject(w, r, http.StatusConflict, stale.Current)
		return
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.results.prepare(project.Stored{ID: id, Version: version, Doc: doc})
	s.writeJSON(w, r, http.StatusOK, apiSaved{Version: version})
}

func readSave(w http.ResponseWriter, r *http.Request, save *apiSave) (project.Document, error) {
	body, err := readBody(w, r)
	if err != nil {
		return project.Document{}, err
	}
	if err := json.Unmarshal(body, save, json.RejectUnknownMembers(true)); err != nil {
		return project.Document{}, fmt.Errorf("%w: %w", errRequest, err)
	}
	if save.Version < 1 {
		return project.Document{}, project.Problems{{Path: "version", Message: fmt.Sprintf("is %d, must be 1 or more", save.Version)}}
	}
	if len(save.Doc) == 0 {
		return project.Document{}, project.Problems{{Path: "doc", Message: "is missing"}}
	}
	return decodeValid(save.Doc)
}

// decodeValid reads a document that somebody sent; everything wrong with it
// comes back as project.Problems.
func decodeValid(data []byte) (project.Document, error) {
	doc, err := project.Decode(data)
	if err != nil {
		return project.Document{}, err
	}
	if problems := doc.Validate(); len(problems) > 0 {
		return project.Document{}, problems
	}
	return doc, nil
}

// apiEvaluate answers what a document would give, without keeping it. The query
// names the budget: "drag", or "deep", which it is when not named; light=1 counts
// with the light on the roof, worked out here.
func (s *server) apiEvaluate(w http.ResponseWriter, r *http.Request) {
	budget, err := budgetOf(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	body, err := readBody(w, r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	doc, err := decodeValid(body)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	ctx, stop := context.WithTimeout(r.Context(), patience)
	defer stop()
	var lit *project.Sunlight
	if r.URL.Query().Get("light") == "1" {
		lit = s.lightToCount(ctx, doc)
	}
	result, err := s.evaluator.EvaluateLit(ctx, doc, budget, lit)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	answer, err := project.EncodeResult(result)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	send(w, http.StatusOK, "application/json", answer)
}

// readBody reads a whole request body up to the limit.
func readBody(w http.ResponseWriter, r *http.Request) ([]byte, error) {
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, maxBody))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", errRequest, err)
	}
	return body, nil
}
