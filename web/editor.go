package web

import (
	"fmt"
	"net/http"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"rooftally/project"
)

// boot is what the editor's scripts begin with.
type boot struct {
	ID      string         `json:"id"`
	Version int            `json:"version"`
	Doc     jsontext.Value `json:"doc"`
	Catalog []apiModule    `json:"catalog"`
	// SavedAt is when Version was saved.
	SavedAt time.Time `json:"saved_at"`
	// Evaluator is the address of the WebAssembly program that evaluates, Loader
	// and Worker those of the scripts that run it. A browser keeps what they lead
	// to, so that a worker can begin without the network.
	Evaluator string `json:"evaluator"`
	Loader    string `json:"loader"`
	Worker    string `json:"worker"`
}

// getEditor shows the roof page of a project.
func (s *server) getEditor(w http.ResponseWriter, r *http.Request) {
	stored, ok := s.load(w, r)
	if !ok {
		return
	}
	doc, err := project.Encode(stored.Doc)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.render(w, r, http.StatusOK, editorPage(stored.Doc.Site.Label, boot{
		ID:        stored.ID,
		Version:   stored.Version,
		Doc:       doc,
		Catalog:   s.bootModules(r.Context()),
		SavedAt:   stored.UpdatedAt.UTC(),
		Evaluator: s.assets.lasting("wasm/rooftally.wasm"),
		Loader:    s.assets.lasting("wasm/wasm_exec.js"),
		Worker:    s.assets.lasting(workerScript),
	}))
}

// bootElement writes b as a data block in which no "<" can end the element.
func bootElement(b boot) (string, error) {
	data, err := json.Marshal(b, jsontext.EscapeForHTML(true))
	if err != nil {
		return "", fmt.Errorf("write the editor's data: %w", err)
	}
	return `<script type="application/json" id="boot">` + string(data) + `</script>`, nil
}
