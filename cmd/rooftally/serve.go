package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"

	"github.com/google/uuid"

	"rooftally/catalog"
	"rooftally/project"
	"rooftally/storage"
	"rooftally/web"
)

const (
	defaultListen = "127.0.0.1:8787"
	// finishTime is how long requests under way may take after a stop.
	finishTime = 20 * time.Second
)

// serveConfig is what the flags of serve say.
type serveConfig struct {
	dbPath string
	listen string
	hosts  []string
}

// runServe is the serve command: it prints the address and serves until ctx ends.
func runServe(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	config, err := parseServe(args, stderr)
	switch {
	case errors.Is(err, flag.ErrHelp):
		return exitOK
	case err != nil:
		return exitUsage
	}
	log := slog.New(slog.NewTextHandler(stderr, nil))
	a, err := newApp(ctx, config, log)
	if err != nil {
		_, _ = fmt.Fprintf(stderr, "rooftally: %v\n", err)
		return exitFailed
	}
	_, _ = fmt.Fprintln(stdout, a.url())
	if err := a.serve(ctx); err != nil {
		_, _ = fmt.Fprintf(stderr, "rooftally: %v\n", err)
		return exitFailed
	}
	return exitOK
}

// parseServe reads the flags. What is wrong with them has been printed.
func parseServe(args []string, stderr io.Writer) (serveConfig, error) {
	var config serveConfig
	var hosts string
	flags := flag.NewFlagSet("serve", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&config.dbPath, "db", "", "database `file` (default rooftally.db in the user's data directory)")
	flags.StringVar(&config.listen, "listen", defaultListen, "`address` to listen on; port 0 picks a free one")
	flags.StringVar(&hosts, "allow-host", "", "further `names`, separated by commas, that the pages may be asked for under")
	if err := flags.Parse(args); err != nil {
		return serveConfig{}, err
	}
	if flags.NArg() > 0 {
		err := fmt.Errorf("unexpected argument %q", flags.Arg(0))
		_, _ = fmt.Fprintf(stderr, "rooftally serve: %v\n", err)
		return serveConfig{}, err
	}
	if hosts != "" {
		config.hosts = strings.Split(hosts, ",")
	}
	return config, nil
}

// app is the running program: an open database and a server on a port.
type app struct {
	store    *storage.Store
	listener net.Listener
	server   *http.Server
	log      *slog.Logger
}

// newApp takes the port, opens the database and puts the demo project into an
// empty one. Nothing is left open when it fails.
func newApp(ctx context.Context, config serveConfig, log *slog.Logger) (*app, error) {
	path, err := databasePath(config.dbPath)
	if err != nil {
		return nil, err
	}
	listener, err := listen(ctx, config.listen)
	if err != nil {
		return nil, err
	}
	store, err := openStore(ctx, path)
	if err != nil {
		return nil, errors.Join(err, listener.Close())
	}
	hosts := config.hosts
	if host, _, err := net.SplitHostPort(config.listen); err == nil && host != "" {
		hosts = append(hosts, host)
	}
	handler, err := web.New(web.Config{Projects: store, Catalog: store, Weather: store, Log: log, Hosts: hosts, Until: ctx})
	if err != nil {
		return nil, errors.Join(err, store.Close(), listener.Close())
	}
	log.InfoContext(ctx, "started", "address", listener.Addr().String(), "database", path)
	return &app{store: store, listener: listener, log: log, server: &http.Server{
		Handler:           handler,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       30 * time.Second,
		WriteTimeout:      90 * time.Second, // an evaluation may take 60
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    64 << 10,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}}, nil
}

// listen takes the port and says plainly when somebody else has it.
func listen(ctx context.Context, address string) (net.Listener, error) {
	var config net.ListenConfig
	listener, err := config.Listen(ctx, "tcp", address)
	if errors.Is(err, syscall.EADDRINUSE) {
		return nil, fmt.Errorf("the address %s is taken by another program, perhaps by a Rooftally that is already running: "+
			"stop it or choose another address with -listen (port 0 picks a free one)", address)
	}
	if err != nil {
		return nil, fmt.Errorf("cannot listen on %q: %w", address, err)
	}
	return listener, nil
}

// openStore opens the database, adds the demo project if it is the first, and
// fills the lists of the catalog that were never filled.
func openStore(ctx context.Context, path string) (*storage.Store, error) {
	store, err := storage.Open(ctx, storage.Config{Path: path, Now: time.Now, NewID: uuid.NewString})
	if err != nil {
		return nil, err
	}
	_, err = store.CreateFirst(ctx, project.Demo())
	if err = errors.Join(err, fillCatalog(ctx, store)); err != nil {
		return nil, errors.Join(err, store.Close())
	}
	return store, nil
}

// fillCatalog puts the invented products into lists that never were filled. A
// list that somebody has changed or emptied stays as it is.
func fillCatalog(ctx context.Context, store *storage.Store) error {
	const never = 0
	_, modules := store.ReplaceModules(ctx, never, catalog.DemoDatasheets())
	_, inverters := store.ReplaceInverters(ctx, never, catalog.DemoInverters())
	_, micros := store.ReplaceMicroInverters(ctx, never, catalog.DemoMicroInverters())
	_, optimisers := store.ReplaceOptimisers(ctx, never, catalog.DemoOptimisers())
	return errors.Join(modules, inverters, micros, optimisers)
}

// url is the address a browser on this machine can use.
func (a *app) url() string {
	address := a.listener.Addr().String()
	if at, err := netip.ParseAddrPort(address); err == nil && at.Addr().IsUnspecified() {
		address = fmt.Sprintf("localhost:%d", at.Port())
	}
	return "http://" + address
}

// serve answers until ctx ends. Then it takes no more requests, lets those
// under way finish, and closes the database.
func (a *app) serve(ctx context.Context) error {
	served := make(chan error, 1)
	go func() { served <- a.server.Serve(a.listener) }()
	var err error
	select {
	case err = <-served:
		err = fmt.Errorf("the server stopped: %w", err)
	case <-ctx.Done():
		a.log.Info("stopping")
		finish, cancel := context.WithTimeout(context.WithoutCancel(ctx), finishTime)
		defer cancel()
		if err = a.server.Shutdown(finish); err != nil {
			err = errors.Join(fmt.Errorf("some requests did not finish: %w", err), a.server.Close())
		}
	}
	if err = errors.Join(err, a.store.Close()); err == nil {
		a.log.Info("stopped")
	}
	return err
}

// databasePath is the file to use: the one asked for, in a folder that is
// there, or one in the user's data directory, which is made if need be.
func databasePath(asked string) (string, error) {
	if asked != "" {
		folder := filepath.Dir(asked)
		if info, err := os.Stat(folder); err != nil || !info.IsDir() {
			return "", fmt.Errorf("database %s: there is no folder %s", asked, folder)
		}
		return asked, nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		home = ""
	}
	folder, err := dataFolder(runtime.GOOS, home, os.Getenv)
	if err != nil {
		return "", err
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", fmt.Errorf("make the data folder: %w", err)
	}
	return filepath.Join(folder, "rooftally.db"), nil
}

// dataFolder is this program's folder in the user's data directory, by the
// custom of the operating system. home may be "" when nobody knows it.
func dataFolder(goos, home string, getenv func(string) string) (string, error) {
	base := getenv("XDG_DATA_HOME")
	if filepath.IsAbs(base) {
		return filepath.Join(base, "rooftally"), nil
	}
	if goos == "windows" {
		if base := getenv("LocalAppData"); base != "" {
			return filepath.Join(base, "rooftally"), nil
		}
	}
	switch {
	case home == "":
		return "", errors.New("the user's data directory is not known: say where the database is with -db FILE")
	case goos == "darwin":
		return filepath.Join(home, "Library", "Application Support", "rooftally"), nil
	case goos == "windows":
		return filepath.Join(home, "AppData", "Local", "rooftally"), nil
	}
	return filepath.Join(home, ".local", "share", "rooftally"), nil
}
