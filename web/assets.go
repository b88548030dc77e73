package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
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
	hash        string
	contentType string
	// packed says that body is compressed by gzip.
	packed bool
}

// assets are the embedded files by their path under /static/.
type assets map[string]asset

// newAssets reads every file once and marks it with the hash of its content.
// Tests of the scripts and what only the type checker reads are left out. A
// file name.gz is sent as name.
func newAssets(files fs.FS) (assets, error) {
	all := assets{}
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || strings.HasSuffix(name, ".test.js") || strings.HasSuffix(name, ".d.ts") {
			return err
		}
		body, err := fs.ReadFile(files, name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(body)
		name, packed := strings.CutSuffix(name, ".gz")
		all[name] = asset{body: body, hash: hex.EncodeToString(sum[:8]), contentType: contentType(name), packed: packed}
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

// versionParam names the query parameter of an address that always means the
// same bytes.
const versionParam = "v"

// lasting is the address of a file under which a browser may keep its copy for
// good: other content has another address. It is "" for a file that is not there.
func (a assets) lasting(name string) string {
	file, ok := a[name]
	if !ok {
		return ""
	}
	return "/static/" + name + "?" + versionParam + "=" + file.hash
}

// serve sends the file its path names. Unless the address says which content
// is meant, browsers keep a copy but ask each time whether it still holds, so
// a new program never runs with old scripts.
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
	h.Set("ETag", `"`+file.hash+`"`)
	h.Set("Cache-Control", "no-cache")
	if r.URL.Query().Get(versionParam) == file.hash {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	if name == workerScript {
		h.Set("Content-Security-Policy", workerPolicy)
	}
	body := file.body
	if file.packed {
		h.Set("Vary", "Accept-Encoding")
		if takesGzip(r) {
			h.Set("Content-Encoding", "gzip")
		} else {
			var err error
			if body, err = unpack(body); err != nil {
				http.Error(w, "the file cannot be unpacked", http.StatusInternalServerError)
				return
			}
			h.Set("ETag", `"`+file.hash+`-plain"`)
		}
	}
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(body))
}

// takesGzip reports whether an answer may be compressed, as every browser
// says. "gzip;q=0" is a refusal.
func takesGzip(r *http.Request) bool {
	for offer := range strings.SplitSeq(r.Header.Get("Accept-Encoding"), ",") {
		name, weight, _ := strings.Cut(strings.ReplaceAll(offer, " ", ""), ";")
		if strings.EqualFold(name, "gzip") {
			return weight == "" || strings.Trim(weight, "q=0.") != ""
		}
	}
	return false
}

func unpack(packed []byte) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}
