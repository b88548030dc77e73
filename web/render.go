package web

import (
	"bytes"
	"context"
	"errors"
	"net/http"
	"strconv"
	"strings"

	"github.com/a-h/templ"
	"github.com/go-json-experiment/json"

	"rooftally/project"
)

// render draws a view into memory and sends it only if that succeeded, so that
// a failure is a clean error page and never half a page.
func (s *server) render(w http.ResponseWriter, r *http.Request, status int, view templ.Component) {
	var page bytes.Buffer
	if err := view.Render(r.Context(), &page); err != nil {
		s.fail(w, r, err)
		return
	}
	send(w, status, "text/html; charset=utf-8", page.Bytes())
}

// writeJSON sends v in the same way; nil slices become [].
func (s *server) writeJSON(w http.ResponseWriter, r *http.Request, status int, v any) {
	body, err := json.Marshal(v, json.Deterministic(true))
	if err != nil {
		s.fail(w, r, err)
		return
	}
	send(w, status, "application/json", append(body, '\n'))
}

// send writes a whole answer. A write error means that the reader has gone,
// which nobody is left to be told.
func send(w http.ResponseWriter, status int, contentType string, body []byte) {
	h := w.Header()
	h.Set("Content-Type", contentType)
	h.Set("Content-Length", strconv.Itoa(len(body)))
	h.Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write(body)
}

var (
	errNoPage  = errors.New("there is no page at this address")
	errMethod  = errors.New("this address does not take such a request")
	errHost    = errors.New("the server does not answer under this name")
	errOrigin  = errors.New("the request came from another site")
	errRequest = errors.New("the request cannot be read")
)

// errorKind says how one kind of error is told to the reader.
type errorKind struct {
	is     func(error) bool
	status int
	title  string
	help   string
}

func sentinel(target error) func(error) bool {
	return func(err error) bool { return errors.Is(err, target) }
}

func typed[E error](err error) bool {
	_, ok := errors.AsType[E](err)
	return ok
}

// errorKinds is the one table from kinds of errors to HTTP status; the first
// that fits counts, and an error of no kind is the server's own fault.
func errorKinds() []errorKind {
	return []errorKind{
		{sentinel(project.ErrNotFound), http.StatusNotFound, "No such project",
			"It may have been on another computer or in another database file."},
		{typed[*project.UnreadableError], http.StatusInternalServerError, "This project cannot be read",
			"Its file is damaged, or a newer program has saved it. The list of projects offers the file as it is kept, and the project’s earlier versions."},
		{sentinel(errNoEntry), http.StatusNotFound, "No such entry",
			"It may have been deleted from the catalog meanwhile."},
		{sentinel(errNoWeatherFile), http.StatusNotFound, "No such weather file",
			"Its hours are not kept in this database. Import the file again."},
		{sentinel(errNoPage), http.StatusNotFound, "No such page",
			"The address may be mistyped."},
		{sentinel(errMethod), http.StatusMethodNotAllowed, "Not possible here",
			"Go back and use the buttons on the page."},
		{sentinel(errHost), http.StatusMisdirectedRequest, "Wrong address",
			"Use the address that the program printed when it started, or start it with -allow-host and this name."},
		{sentinel(errOrigin), http.StatusForbidden, "Refused",
			"Changes are taken from Rooftally's own pages only."},
		{typed[*http.MaxBytesError], http.StatusRequestEntityTooLarge, "Too large",
			"A project file may have at most 4 MiB."},
		{typed[*project.StaleError], http.StatusConflict, "Changed meanwhile",
			"Somebody else saved this project. Reload the page to see both versions."},
		{typed[project.Problems], http.StatusUnprocessableEntity, "The project has problems",
			"Correct these in the roof editor or in the file."},
		{sentinel(context.DeadlineExceeded), http.StatusServiceUnavailable, "Too much to count",
			"The roof has more planes, corners or keep-outs than can be counted in the time allowed. The drawing is kept; draw it with fewer."},
		{sentinel(errRequest), http.StatusBadRequest, "Not understood",
			"Go back and try again."},
	}
}

// kindOf finds the kind of an error; the last resort is status 500.
func kindOf(err error) errorKind {
	for _, k := range errorKinds() {
		if k.is(err) {
			return k
		}
	}
	return errorKind{
		status: http.StatusInternalServerError,
		title:  "Something went wrong",
		help:   "Your saved work is safe. Try again; if it stays, look at the program's log.",
	}
}

// problemsOf are the fields an error complains about, nil if it names none.
func problemsOf(err error) project.Problems {
	problems, _ := errors.AsType[project.Problems](err)
	return problems
}

// fail answers with the page, or under /api the JSON, that fits the error and
// logs what the server is to blame for.
func (s *server) fail(w http.ResponseWriter, r *http.Request, err error) {
	kind := kindOf(err)
	if kind.status >= http.StatusInternalServerError {
		s.log.ErrorContext(r.Context(), "request failed", "method", r.Method, "path", r.URL.Path, "err", err)
	}
	if strings.HasPrefix(r.URL.Path, "/api/") {
		s.failJSON(w, r, kind, err)
		return
	}
	var page bytes.Buffer
	if renderErr := errorPage(kind, problemsOf(err)).Render(r.Context(), &page); renderErr != nil {
		s.log.ErrorContext(r.Context(), "error page failed", "err", renderErr)
		http.Error(w, kind.title, kind.status)
		return
	}
	send(w, kind.status, "text/html; charset=utf-8", page.Bytes())
}

// failJSON answers an API request. The text of an error that is the server's
// fault stays in the log.
func (s *server) failJSON(w http.ResponseWriter, r *http.Request, kind errorKind, err error) {
	problems := problemsOf(err)
	if problems == nil {
		message := kind.title
		if kind.status < http.StatusInternalServerError {
			message = err.Error()
		}
		problems = project.Problems{{Message: message}}
	}
	body, err := json.Marshal(problemList(problems))
	if err != nil {
		s.log.ErrorContext(r.Context(), "error answer failed", "err", err)
	}
	send(w, kind.status, "application/json", append(body, '\n'))
}

// apiProblems is the body of every API answer that is a refusal.
type apiProblems struct {
	Problems []apiProblem `json:"problems"`
}

type apiProblem struct {
	Path    string `json:"path"`
	Message string `json:"message"`
}

func problemList(problems project.Problems) apiProblems {
	list := apiProblems{Problems: make([]apiProblem, 0, len(problems))}
	for _, p := range problems {
		list.Problems = append(list.Problems, apiProblem{Path: p.Path, Message: p.Message})
	}
	return list
}
