// Package storage keeps projects in a SQLite file. It turns rows into
// documents and back; it decides nothing about roofs and knows no HTTP.
//
// Every exported method of Store is one transaction. Writers take turns on one
// connection; readers have several and never wait for them.
package storage

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"path/filepath"
	"time"

	// The driver registers itself under the name "sqlite3".
	_ "github.com/mattn/go-sqlite3"

	"rooftally/migrations"
)

const (
	readers = 4
	// busyTimeoutMS is how long a connection waits for another process.
	busyTimeoutMS = "10000"
)

// Config is what a store is made of. All fields are needed.
type Config struct {
	// Path is the database file. It is created if it is not there; its folder
	// must be.
	Path string
	// Now is the clock.
	Now func() time.Time
	// NewID makes an identity that was never used: letters, digits and '-'.
	NewID func() string
}

// Store is an open database. It is safe for concurrent use.
type Store struct {
	write *sql.DB
	read  *sql.DB
	now   func() time.Time
	newID func() string
}

// Open opens or creates the database and applies the migrations it lacks. It
// fails with *ChangedError if an applied migration differs from the program's,
// with *NewerError if a newer program has written the file, and with
// ErrForeign if the file holds some other program's tables.
func Open(ctx context.Context, c Config) (*Store, error) {
	return open(ctx, c, migrations.Files)
}

// open is Open with the migrations given.
func open(ctx context.Context, c Config, files fs.FS) (*Store, error) {
	steps, err := readSteps(files)
	if err != nil {
		return nil, err
	}
	path, err := filepath.Abs(c.Path)
	if err != nil {
		return nil, fmt.Errorf("open database %s: %w", c.Path, err)
	}
	s := &Store{now: c.Now, newID: c.NewID}
	if s.write, err = connect(path, 1, url.Values{"_txlock": {"immediate"}}); err != nil {
		return nil, err
	}
	if err := migrate(ctx, s.write, steps, c.Now()); err != nil {
		return nil, errors.Join(fmt.Errorf("database %s: %w", path, err), s.write.Close())
	}
	if s.read, err = connect(path, readers, url.Values{"_txlock": {"deferred"}, "_query_only": {"on"}}); err != nil {
		return nil, errors.Join(err, s.write.Close())
	}
	return s, nil
}

// connect opens a pool. The settings are part of the connection string so that
// every connection has them, whenever the pool makes it.
func connect(path string, size int, settings url.Values) (*sql.DB, error) {
	settings.Set("_journal_mode", "WAL")
	settings.Set("_foreign_keys", "on")
	settings.Set("_busy_timeout", busyTimeoutMS)
	// An acknowledged save survives a power failure.
	settings.Set("_synchronous", "FULL")
	file := url.URL{Path: filepath.ToSlash(path)}
	db, err := sql.Open("sqlite3", "file:"+file.EscapedPath()+"?"+settings.Encode())
	if err != nil {
		return nil, fmt.Errorf("open database %s: %w", path, err)
	}
	db.SetMaxOpenConns(size)
	db.SetMaxIdleConns(size)
	return db, nil
}

// Close waits for running statements and closes the file.
func (s *Store) Close() error {
	return errors.Join(s.read.Close(), s.write.Close())
}

// inWrite runs f in one writing transaction and commits it if f succeeds.
func (s *Store) inWrite(ctx context.Context, f func(tx *sql.Tx) error) error {
	return inTx(ctx, s.write, f)
}

// inRead runs f in one reading transaction, which sees one state throughout.
func (s *Store) inRead(ctx context.Context, f func(tx *sql.Tx) error) error {
	return inTx(ctx, s.read, f)
}

func inTx(ctx context.Context, db *sql.DB, f func(tx *sql.Tx) error) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("begin: %w", err)
	}
	// After a commit this does nothing.
	defer func() { _ = tx.Rollback() }()
	if err := f(tx); err != nil {
		return err
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("commit: %w", err)
	}
	return nil
}
