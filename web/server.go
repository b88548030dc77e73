// Package web is the HTTP side: routes, handlers, views and the JSON API the
// editor talks to. It reads and writes projects through the Projects interface
// and computes results with package project; it knows nothing of SQL.
package web

import (
	"context"
	"errors"
	"io/fs"
	"log/slog"
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"

	"rooftally/project"
	"rooftally/static"
)

// Projects is what the pages need of the place where projects are kept.
type Projects interface {
	// List returns the projects that match, the last changed first. One whose
	// document cannot be read is among them and says so.
	List(ctx context.Context, q project.ListQuery) ([]project.Row, error)
	// Get returns one project; project.ErrNotFound if there is none, and
	// *project.UnreadableError if its document cannot be read.
	Get(ctx context.Context, id string) (project.Stored, error)
	// Create keeps a document as a new project at version 1 and returns its ID.
	Create(ctx context.Context, doc project.Document) (id string, err error)
	// Save replaces the document of a project that is still at version base
	// and returns the new version. Saving what is already stored returns the
	// stored version unchanged, whatever base is. It fails with
	// *project.StaleError if somebody saved something else meanwhile, and with
	// project.ErrNotFound if there is no such project.
	Save(ctx context.Context, id string, base int, doc project.Document) (version int, err error)
	// Duplicate copies a project under a new ID; project.ErrNotFound if there is none.
	Duplicate(ctx context.Context, id string) (newID string, err error)
	// SetArchived moves a project in or out of the archive; project.ErrNotFound if there is none.
	SetArchived(ctx context.Context, id string, archived bool) error
	// Versions returns the earlier versions of a project, the newest first.
	Versions(ctx context.Context, id string) ([]project.Version, error)
	// CopyVersion makes a new project of an earlier version; project.ErrNotFound
	// if that version is not kept.
	CopyVersion(ctx context.Context, id string, version int) (newID string, err error)
}

// Config is what a server is made of.
type Config struct {
	// Projects is where projects are kept; it must not be nil.
	Projects Projects
	// Catalog is where the lists of products are kept; it must not be nil.
	Catalog Catalog
	// Weather is where imported weather files are kept; it must not be nil.
	Weather WeatherFiles
	// Log gets one record a request and one per failure; nil discards them.
	Log *slog.Logger
	// Now is the clock; nil is time.Now.
	Now func() time.Time
	// Until ends what goes on beside the requests: searches for more modules. Nil
	// lets them go on for as long as the program runs.
	Until context.Context
	// Hosts are names the pages may be asked for under, apart from localhost
	// and IP addresses, which are always allowed.
	Hosts []string
}

// server answers every request. Its fields do not change after New.
type server struct {
	projects Projects
	catalog  Catalog
	weather  WeatherFiles
	log      *slog.Logger
	now      func() time.Time
	hosts    map[string]bool
	assets   assets
	// evaluator serves what the API is asked; results work with it too, so
	// that both share what it remembers.
	evaluator *project.Evaluator
	results   *resultCache
	reckoner  *reckoner
	// pageWait is how long a page waits for the longer search before it is shown
	// with the quick counts.
	pageWait time.Duration
}

// usualPageWait is long enough for most houses and short enough for a page.
const usualPageWait = 3 * time.Second

// New returns the handler for every page, the API and the static files. It
// fails only if the embedded files cannot be read.
func New(c Config) (http.Handler, error) {
	if c.Log == nil {
		c.Log = slog.New(slog.DiscardHandler)
	}
	if c.Now == nil {
		c.Now = time.Now
	}
	files, err := newAssets(fs.FS(static.Files))
	if err != nil {
		return nil, err
	}
	evaluator := project.NewEvaluator()
	s := &server{
		projects:  c.Projects,
		catalog:   c.Catalog,
		weather:   c.Weather,
		log:       c.Log,
		now:       c.Now,
		hosts:     hostSet(c.Hosts),
		assets:    files,
		evaluator: evaluator,
		results:   newResultCache(evaluator),
		reckoner:  newReckoner(),
		pageWait:  usualPageWait,
	}
	s.results.light = s.lightToCount
	if c.Until != nil {
		s.results.until = c.Until
	}
	return s.routes(), nil
}

// routes is the one list of everything the server answers.
func (s *server) routes() http.Handler {
	r := chi.NewRouter()
	r.Use(s.logRequests, s.recoverPanics, secureHeaders, s.checkHost, s.checkOrigin, middleware.GetHead)
	r.NotFound(func(w http.ResponseWriter, r *http.Request) { s.fail(w, r, errNoPage) })
	r.MethodNotAllowed(func(w http.ResponseWriter, r *http.Request) { s.fail(w, r, errMethod) })

	r.Get("/healthz", getHealth)
	r.Get("/static/*", s.assets.serve)
	r.Get("/favicon.ico", s.assets.favicon)

	r.Get("/", s.getProjects)
	r.Route("/projects", func(r chi.Router) {
		r.Post("/", s.postProject)
		r.Post("/upload", s.postUpload)
		r.Get("/{id}", s.getEditor)
		r.Get("/{id}/options", s.getOptions)
		r.Post("/{id}/options", s.postTarget)
		r.Get("/{id}/weather", s.getWeather)
		r.Post("/{id}/weather", s.postWeather)
		r.Get("/{id}/yield", s.getYield)
		r.Post("/{id}/yield", s.postYield)
		r.Get("/{id}/build", s.getBuild)
		r.Get("/{id}/build.csv", s.getBuildCSV)
		r.Get("/{id}/proposal", s.getProposal)
		r.Get("/{id}/proposal.css", s.getProposalStyle)
		r.Get("/{id}/project.json", s.getDownload)
		r.Post("/{id}/duplicate", s.postDuplicate)
		r.Post("/{id}/archive", s.postArchive)
		r.Post("/{id}/restore", s.postRestore)
		r.Get("/{id}/versions", s.getVersions)
		r.Post("/{id}/versions/{n}/copy", s.postVersionCopy)
	})

	r.Route("/catalog", s.catalogRoutes)
	r.Get("/plant", s.getPlant)

	r.Get("/api/projects/{id}", s.apiGetProject)
	r.Put("/api/projects/{id}", s.apiPutProject)
	r.Post("/api/evaluate", s.apiEvaluate)
	r.Get("/api/catalog", s.apiCatalog)
	r.Get("/api/inverters", apiList(s, Catalog.Inverters))
	r.Get("/api/micro-inverters", apiList(s, Catalog.MicroInverters))
	r.Get("/api/optimisers", apiList(s, Catalog.Optimisers))
	r.Get("/api/station", s.apiStation)
	r.Post("/api/weather-files", s.apiPostWeatherFile)
	r.Get("/api/weather-files/{hash}", s.apiGetWeatherFile)
	r.Post("/api/light", s.apiLight)
	r.Post("/api/shadows", s.apiShadows)
	r.Post("/api/yield", s.apiYield)
	r.Post("/api/worths", s.apiWorthsOf)
	return r
}

// load reads the project a request's path names. If it cannot, it has answered
// with the fitting error page and ok is false.
func (s *server) load(w http.ResponseWriter, r *http.Request) (p project.Stored, ok bool) {
	p, err := s.projects.Get(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		s.fail(w, r, err)
		return project.Stored{}, false
	}
	return p, true
}

// evaluate is the result of a stored project. It waits for the deep one so
// long and then gives the quick one; isDeep says which it is.
func (s *server) evaluate(ctx context.Context, p project.Stored, wait time.Duration) (res project.Result, isDeep bool, err error) {
	waiting, stop := context.WithTimeout(ctx, wait)
	defer stop()
	res, err = s.results.get(waiting, p)
	late := errors.Is(err, context.DeadlineExceeded) || errors.Is(err, context.Canceled)
	if !late || ctx.Err() != nil {
		return res, err == nil, err
	}
	res, err = s.evaluateQuick(ctx, p)
	return res, false, err
}

// evaluateQuick is the result of a stored project within the drag budget, or
// the deep one where that is known.
func (s *server) evaluateQuick(ctx context.Context, p project.Stored) (project.Result, error) {
	ctx, stop := context.WithTimeout(ctx, patience)
	defer stop()
	return s.results.quick(ctx, p)
}

func getHealth(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	_, _ = w.Write([]byte("ok\n"))
}
