package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"github.com/go-chi/chi/v5"

	"rooftally/project"
)

// moment is a time as it is read and as a machine reads it.
type moment struct{ Text, ISO string }

// momentOf shows a time by the clock of the place where the server runs.
func (s *server) momentOf(t time.Time) moment {
	return moment{t.In(s.now().Location()).Format("2 Jan 2006, 15:04"), t.UTC().Format(time.RFC3339)}
}

// getVersions lists the earlier versions of a project. It works without the
// current document too: a broken one is when they are needed most.
func (s *server) getVersions(w http.ResponseWriter, r *http.Request) {
	row, err := s.rowOf(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		s.fail(w, r, err)
		return
	}
	all, err := s.projects.Versions(r.Context(), row.ID)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	view := versionsView{ID: row.ID, Label: row.Label, Now: row.Version}
	for _, v := range all {
		view.Contested = view.Contested || v.Contested
		view.Rows = append(view.Rows, versionView{
			Number: v.Number, Saved: s.momentOf(v.SavedAt), Contested: v.Contested, Unreadable: v.Unreadable,
			Planes:   countOf(len(v.Doc.Planes), "plane", "planes"),
			KeepOuts: countOf(len(v.Doc.KeepOuts), "keep-out", "keep-outs"),
			Thumb:    drawingThumb(v.Doc, project.Result{}),
		})
	}
	s.render(w, r, http.StatusOK, versionsPage(view))
}

// rowOf is what is known of a project whether or not its document can be read.
func (s *server) rowOf(ctx context.Context, id string) (project.Row, error) {
	stored, err := s.projects.Get(ctx, id)
	if broken, is := errors.AsType[*project.UnreadableError](err); is {
		return broken.Row, nil
	}
	if err != nil {
		return project.Row{}, err
	}
	return stored.Row(), nil
}

// postVersionCopy makes a new project of an earlier version and opens it.
func (s *server) postVersionCopy(w http.ResponseWriter, r *http.Request) {
	number, err := strconv.Atoi(chi.URLParam(r, "n"))
	if err != nil {
		s.fail(w, r, fmt.Errorf("%w: version %q is not a whole number", errRequest, chi.URLParam(r, "n")))
		return
	}
	id, err := s.projects.CopyVersion(r.Context(), chi.URLParam(r, "id"), number)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	openProject(w, r, id)
}
