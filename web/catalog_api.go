package web

import (
	"context"
	"net/http"

	"rooftally/catalog"
)

// apiModule is a module of the catalog: what a count needs of it, and beside
// that its whole datasheet.
type apiModule struct {
	ID        string            `json:"id"`
	Label     string            `json:"label"`
	PmaxW     int               `json:"pmax_w"`
	LengthM   float64           `json:"length_m"`
	WidthM    float64           `json:"width_m"`
	Invented  bool              `json:"invented"`
	Datasheet catalog.Datasheet `json:"datasheet"`
}

// apiCatalog lists the modules that can be copied into a project.
func (s *server) apiCatalog(w http.ResponseWriter, r *http.Request) {
	modules, err := s.catalogModules(r.Context())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.writeJSON(w, r, http.StatusOK, modules)
}

func (s *server) catalogModules(ctx context.Context) ([]apiModule, error) {
	modules, _, err := s.catalog.Modules(ctx)
	if err != nil {
		return nil, err
	}
	list := make([]apiModule, 0, len(modules))
	for _, m := range modules {
		list = append(list, apiModule{
			ID: m.ID, Label: m.Label, PmaxW: m.PmaxW, LengthM: m.LengthM, WidthM: m.WidthM, Invented: m.Invented, Datasheet: m,
		})
	}
	return list, nil
}

// bootModules are the modules for the editor. A catalog that cannot be read must
// not keep a project from being opened; the editor then has none to copy.
func (s *server) bootModules(ctx context.Context) []apiModule {
	modules, err := s.catalogModules(ctx)
	if err != nil {
		s.log.ErrorContext(ctx, "the editor opens without the catalog", "err", err)
	}
	return modules
}

// apiList answers with a list of products, every figure of each.
func apiList[T any](s *server, load func(Catalog, context.Context) ([]T, int, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		list, _, err := load(s.catalog, r.Context())
		if err != nil {
			s.fail(w, r, err)
			return
		}
		s.writeJSON(w, r, http.StatusOK, list)
	}
}
