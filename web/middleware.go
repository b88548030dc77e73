package web

import (
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"runtime/debug"
	"strings"

	"github.com/go-chi/chi/v5/middleware"
)

// contentPolicy lets a page load what this server embeds and nothing else. It
// allows no inline style or script; the editor's data block is not a script.
const contentPolicy = "default-src 'self'; img-src 'self' data:; object-src 'none'; " +
	"base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// The script that evaluates in the browser is the one place that may compile
// WebAssembly, and may do little else. A worker has the policy its own script
// came with.
const (
	workerScript = "js/sync/worker.js"
	workerPolicy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'"
)

// secureHeaders sets what every answer carries.
func secureHeaders(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		next.ServeHTTP(w, r)
	})
}

// checkOrigin refuses changing requests that another site's page makes.
func (s *server) checkOrigin(next http.Handler) http.Handler {
	protection := http.NewCrossOriginProtection()
	protection.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.fail(w, r, errOrigin)
	}))
	return protection.Handler(next)
}

// hostSet turns names into a set of lower-case names.
func hostSet(names []string) map[string]bool {
	set := map[string]bool{"localhost": true}
	for _, name := range names {
		set[strings.ToLower(strings.TrimSpace(name))] = true
	}
	return set
}

// checkHost refuses requests for names this server was not told of. A page of
// another site whose name is made to point here would otherwise count as our
// own. An IP address cannot be made to point elsewhere, so all are allowed.
func (s *server) checkHost(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !s.hostAllowed(r.Host) {
			s.fail(w, r, errHost)
			return
		}
		next.ServeHTTP(w, r)
	})
}

func (s *server) hostAllowed(hostPort string) bool {
	host := hostPort
	if h, _, err := net.SplitHostPort(hostPort); err == nil {
		host = h
	}
	host = strings.TrimSuffix(strings.TrimPrefix(host, "["), "]")
	if _, err := netip.ParseAddr(host); err == nil {
		return true
	}
	return s.hosts[strings.ToLower(host)]
}

// recoverPanics turns a programmer's mistake into an error page and a log
// record instead of a dropped connection.
func (s *server) recoverPanics(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			switch p := recover(); p {
			case nil:
			case http.ErrAbortHandler:
				panic(p)
			default:
				s.fail(w, r, fmt.Errorf("panic: %v\n%s", p, debug.Stack()))
			}
		}()
		next.ServeHTTP(w, r)
	})
}

// logRequests writes one record a request. Health checks are left out: they
// come every few seconds and say nothing.
func (s *server) logRequests(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		start := s.now()
		seen := middleware.NewWrapResponseWriter(w, r.ProtoMajor)
		next.ServeHTTP(seen, r)
		if r.URL.Path == "/healthz" {
			return
		}
		s.log.InfoContext(r.Context(), "request",
			"method", r.Method, "path", r.URL.Path, "status", seen.Status(),
			"bytes", seen.BytesWritten(), "ms", float64(s.now().Sub(start).Microseconds())/1000)
	})
}
