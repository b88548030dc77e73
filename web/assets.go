package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"
)

// asset is one embedded file, ready to be sent.
type asset struct {
	body        []byte
	etag        string
	contentType string
}

// assets are the embedded files by their path under /static/.
type assets map[string]asset

// newAssets reads every file once and marks it with the hash of its content.
// Tests of the scripts are left out.
func newAssets(files fs.FS) (assets, error) {
	all := assets{}
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || strings.HasSuffix(name, ".test.js") {
			return err
		}
		body, err := fs.ReadFile(files, name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(body)
		all[name] = asset{body: body, etag: `"` + hex.EncodeToString(sum[:8]) + `"`, contentType: contentType(name)}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("read the embedded files: %w", err)
	}
	return all, nil
}

// contentType does not ask the machine's own table, which may lack the types
// that a browser insists on.
func contentType(name string) string {
	switch path.Ext(name) {
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".svg":
		return "image/svg+xml"
	case ".woff2":
		return "font/woff2"
	case ".wasm":
		return "application/wasm"
	case ".txt":
		return "text/plain; charset=utf-8"
	}
	if t := mime.TypeByExtension(path.Ext(name)); t != "" {
		return t
	}
	return "application/octet-stream"
}

// serve sends the file its path names. Browsers keep a copy but ask each time
// whether it still holds, so a new program never runs with old scripts.
func (a assets) serve(w http.ResponseWriter, r *http.Request) {
	a.send(w, r, chi.URLParam(r, "*"))
}

func (a assets) favicon(w http.ResponseWriter, r *http.Request) {
	a.send(w, r, "icons/favicon.svg")
}

func (a assets) send(w http.ResponseWriter, r *http.Request, name string) {
	file, ok := a[name]
	if !ok {
		http.Error(w, "no such file", http.StatusNotFound)
		return
	}
	h := w.Header()
	h.Set("Content-Type", file.contentType)
	h.Set("ETag", file.etag)
	h.Set("Cache-Control", "no-cache")
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(file.body))
}
