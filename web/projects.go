package web

import (
	"context"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"net/url"
	"runtime"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"
	"golang.org/x/sync/errgroup"

	"rooftally/project"
)

// countingTime is how long the list waits for counts. A row that is not ready
// then is shown without them.
const countingTime = 2 * time.Second

// getProjects shows the list, or with archived=1 the archive.
func (s *server) getProjects(w http.ResponseWriter, r *http.Request) {
	s.showProjects(w, r, http.StatusOK, projectsForm{})
}

// projectsForm is what the reader has typed or chosen and what is wrong with it.
type projectsForm struct {
	Label          string
	LabelProblem   string
	UploadName     string
	UploadProblems project.Problems
}

// showProjects renders the list with the forms as the reader left them.
func (s *server) showProjects(w http.ResponseWriter, r *http.Request, status int, form projectsForm) {
	query := r.URL.Query()
	view := projectsView{
		Form:     form,
		Query:    strings.TrimSpace(query.Get("q")),
		Archived: query.Get("archived") == "1",
	}
	rows, err := s.projects.List(r.Context(), project.ListQuery{Search: view.Query, Archived: view.Archived})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	if view.Rows, err = s.rowViews(r.Context(), rows); err != nil {
		s.fail(w, r, err)
		return
	}
	if view.Moved, err = s.movedNotice(r.Context(), query.Get("moved")); err != nil {
		s.fail(w, r, err)
		return
	}
	s.render(w, r, status, projectsPage(view))
}

// movedNotice names the project that was just archived or restored, so that
// the page can offer the way back. An unknown ID gives no notice.
func (s *server) movedNotice(ctx context.Context, id string) (*movedView, error) {
	if id == "" {
		return nil, nil
	}
	row, err := s.rowOf(ctx, id)
	if errors.Is(err, project.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return &movedView{ID: row.ID, Label: row.Label, Archived: row.Archived}, nil
}

// rowViews fills the rows, several at a time.
func (s *server) rowViews(ctx context.Context, rows []project.Row) ([]rowView, error) {
	counting, cancel := context.WithTimeout(ctx, countingTime)
	defer cancel()
	views := make([]rowView, len(rows))
	var group errgroup.Group
	group.SetLimit(max(2, runtime.GOMAXPROCS(0)))
	for i, row := range rows {
		group.Go(func() error {
			view, err := s.rowView(ctx, counting, row)
			views[i] = view
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	return views, nil
}

// rowView is one row. A project that cannot be counted, or not be read at all,
// stays in the list and says so.
func (s *server) rowView(ctx, counting context.Context, row project.Row) (rowView, error) {
	view := rowView{
		ID: row.ID, Label: row.Label, Changed: s.momentOf(row.UpdatedAt),
		Versions: row.Version > 1, Unreadable: row.Unreadable,
	}
	if row.Unreadable {
		view.Planes, view.Thumb = "cannot be read", drawingThumb(project.Document{}, project.Result{})
		view.Note = "Damaged, or saved by a newer program. The file is still here."
		return view, nil
	}
	stored, err := s.projects.Get(ctx, row.ID)
	if err != nil {
		return rowView{}, err
	}
	view.Planes = countOf(len(stored.Doc.Planes), "plane", "planes")
	view.Invented = stored.Doc.Site.Invented
	view.Unit = powerUnit(stored.Doc.Site.RuleFamily)
	view.Thumb = drawingThumb(stored.Doc, project.Result{})
	if len(stored.Doc.Planes) == 0 {
		view.Planes = "nothing drawn yet"
		return view, nil
	}
	result, err := s.evaluateQuick(counting, stored)
	switch {
	case errors.Is(err, context.DeadlineExceeded):
		view.Note = "Open it for the counts"
		return view, nil
	case err != nil:
		view.Note = "No counts: open it to see why"
		return view, nil
	}
	view.Thumb = drawingThumb(stored.Doc, result)
	watts := make([]int, len(result.Candidates))
	for i, c := range result.Candidates {
		watts[i] = c.Shown().PdcW
	}
	for i, kw := range kwColumn(watts) {
		c := result.Candidates[i]
		view.Counts = append(view.Counts, countView{Letter: c.Letter, Modules: c.Shown().Count, Power: kw})
	}
	return view, nil
}

// powerUnit is how the rule family writes rated power of a whole roof.
func powerUnit(family string) string {
	if family == "iec" {
		return "kWp"
	}
	return "kWdc"
}

func countOf(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// postProject begins an empty project.
func (s *server) postProject(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, maxBody)
	if err := r.ParseForm(); err != nil {
		s.fail(w, r, fmt.Errorf("%w: %w", errRequest, err))
		return
	}
	label := strings.TrimSpace(r.PostForm.Get("label"))
	doc := project.New(label)
	if problems := doc.Validate(); len(problems) > 0 {
		s.showProjects(w, r, http.StatusUnprocessableEntity, projectsForm{Label: label, LabelProblem: labelProblem(label, problems)})
		return
	}
	s.create(w, r, doc)
}

// labelProblem says in the words of the form what is wrong with a name.
func labelProblem(label string, problems project.Problems) string {
	if label == "" {
		return "Type a name first, such as the street and number."
	}
	return "This name cannot be used: it " + problems[0].Message + "."
}

// postUpload makes a new project of an uploaded project file.
func (s *server) postUpload(w http.ResponseWriter, r *http.Request) {
	name, data, err := readUpload(w, r)
	if err == nil {
		var doc project.Document
		if doc, err = decodeValid(data); err == nil {
			s.create(w, r, doc)
			return
		}
	}
	kind := kindOf(err)
	if kind.status >= http.StatusInternalServerError {
		s.fail(w, r, err)
		return
	}
	problems := problemsOf(err)
	if problems == nil {
		problems = project.Problems{{Message: kind.title + ". " + kind.help}}
	}
	if errors.Is(err, http.ErrMissingFile) {
		problems = project.Problems{{Message: "Choose a file first."}}
	}
	// The name field is in the same form, so that what was typed there stays.
	s.showProjects(w, r, kind.status, projectsForm{Label: r.PostFormValue("label"), UploadName: name, UploadProblems: problems})
}

// readUpload returns the name and content of the form's file.
func readUpload(w http.ResponseWriter, r *http.Request) (name string, data []byte, err error) {
	r.Body = http.MaxBytesReader(w, r.Body, maxBody)
	file, header, err := r.FormFile("file")
	if err != nil {
		return "", nil, fmt.Errorf("%w: %w", errRequest, err)
	}
	defer file.Close()
	data, err = io.ReadAll(file)
	if err != nil {
		return header.Filename, nil, fmt.Errorf("%w: %w", errRequest, err)
	}
	return header.Filename, data, nil
}

// create keeps a document and leads to its editor.
func (s *server) create(w http.ResponseWriter, r *http.Request, doc project.Document) {
	id, err := s.projects.Create(r.Context(), doc)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	openProject(w, r, id)
}

// openProject leads to a project's editor.
func openProject(w http.ResponseWriter, r *http.Request, id string) {
	http.Redirect(w, r, "/projects/"+url.PathEscape(id), http.StatusSeeOther)
}

// postDuplicate copies a project and leads back to the list, the copy on top.
func (s *server) postDuplicate(w http.ResponseWriter, r *http.Request) {
	if _, err := s.projects.Duplicate(r.Context(), chi.URLParam(r, "id")); err != nil {
		s.fail(w, r, err)
		return
	}
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

func (s *server) postArchive(w http.ResponseWriter, r *http.Request) { s.move(w, r, true) }

func (s *server) postRestore(w http.ResponseWriter, r *http.Request) { s.move(w, r, false) }

// move puts a project in or out of the archive and leads back to the list the
// reader came from, which says what happened.
func (s *server) move(w http.ResponseWriter, r *http.Request, archived bool) {
	id := chi.URLParam(r, "id")
	if err := s.projects.SetArchived(r.Context(), id, archived); err != nil {
		s.fail(w, r, err)
		return
	}
	back := url.Values{"moved": {id}}
	if !archived {
		back.Set("archived", "1")
	}
	http.Redirect(w, r, "/?"+back.Encode(), http.StatusSeeOther)
}

// getDownload sends the project file; of a document that cannot be read, what
// is kept of it.
func (s *server) getDownload(w http.ResponseWriter, r *http.Request) {
	stored, err := s.projects.Get(r.Context(), chi.URLParam(r, "id"))
	if broken, is := errors.AsType[*project.UnreadableError](err); is {
		sendFile(w, broken.Row.Label, broken.Data)
		return
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	data, err := project.Encode(stored.Doc)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	sendFile(w, stored.Doc.Site.Label, data)
}

// sendFile sends a project file to be kept under the project's name.
func sendFile(w http.ResponseWriter, label string, data []byte) {
	w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": fileName(label)}))
	send(w, http.StatusOK, "application/json", data)
}

// fileName makes a file name that every system takes out of a project name:
// letters a-z, digits and single hyphens, at most 60 of them.
func fileName(label string) string {
	var b strings.Builder
	for _, c := range strings.ToLower(label) {
		switch {
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
			b.WriteRune(c)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
		if b.Len() == 60 {
			break
		}
	}
	name := strings.Trim(b.String(), "-")
	if name == "" {
		name = "project"
	}
	return name + ".json"
}
