package storage

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"strconv"
	"time"
)

// ErrForeign says that a file is a database, but not one of this program's.
var ErrForeign = errors.New("the file holds tables of another program; choose another file")

// ChangedError says that a migration was applied in another form than the
// program has now.
type ChangedError struct {
	Number int
	// Applied and Have are the names of the file then and now.
	Applied, Have string
}

// Error names the migration.
func (e *ChangedError) Error() string {
	if e.Applied != e.Have {
		return fmt.Sprintf("migration %d was applied as %s, but this program has %s: use the program that made the database", e.Number, e.Applied, e.Have)
	}
	return fmt.Sprintf("migration %d (%s) has changed since it was applied: use the program that made the database", e.Number, e.Have)
}

// NewerError says that a newer program has migrated the database.
type NewerError struct {
	// Database and Program are the last migrations each knows.
	Database, Program int
}

// Error names both numbers.
func (e *NewerError) Error() string {
	return fmt.Sprintf("the database is at migration %d, newer than this program, which knows %d: use a newer program", e.Database, e.Program)
}

// step is one migration.
type step struct {
	number int
	name   string
	hash   string
	sql    string
}

var stepName = regexp.MustCompile(`^(\d{4})_[a-z0-9_]+\.sql$`)

// readSteps reads the migrations in order. Every .sql file must be numbered,
// from 0001 without gaps.
func readSteps(files fs.FS) ([]step, error) {
	names, err := fs.Glob(files, "*.sql")
	if err != nil {
		return nil, fmt.Errorf("read migrations: %w", err)
	}
	steps := make([]step, 0, len(names))
	for i, name := range names {
		match := stepName.FindStringSubmatch(name)
		if match == nil {
			return nil, fmt.Errorf("migration %s: the name must be like 0001_what.sql", name)
		}
		number, err := strconv.Atoi(match[1])
		if err != nil || number != i+1 {
			return nil, fmt.Errorf("migration %s: number %d was expected", name, i+1)
		}
		text, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, fmt.Errorf("read migrations: %w", err)
		}
		sum := sha256.Sum256(text)
		steps = append(steps, step{number: number, name: name, hash: hex.EncodeToString(sum[:]), sql: string(text)})
	}
	return steps, nil
}

// migrate brings the database up to the program, one transaction a migration.
func migrate(ctx context.Context, db *sql.DB, steps []step, now time.Time) error {
	if err := inTx(ctx, db, func(tx *sql.Tx) error { return prepare(ctx, tx) }); err != nil {
		return err
	}
	for {
		done := false
		err := inTx(ctx, db, func(tx *sql.Tx) error {
			applied, err := checkApplied(ctx, tx, steps)
			if err != nil || applied == len(steps) {
				done = true
				return err
			}
			return apply(ctx, tx, steps[applied], now)
		})
		if err != nil || done {
			return err
		}
	}
}

// prepare makes the table that records migrations, unless the file belongs to
// some other program.
func prepare(ctx context.Context, tx *sql.Tx) error {
	var tables, ours int
	err := tx.QueryRowContext(ctx, `SELECT count(*), coalesce(sum(name = 'schema_migrations'), 0)
		FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\_%' ESCAPE '\'`).Scan(&tables, &ours)
	if err != nil {
		return fmt.Errorf("read the list of tables: %w", err)
	}
	if ours == 1 {
		return nil
	}
	if tables > 0 {
		return ErrForeign
	}
	_, err = tx.ExecContext(ctx, `CREATE TABLE schema_migrations (
		number     INTEGER NOT NULL PRIMARY KEY,
		name       TEXT    NOT NULL,
		sha256     TEXT    NOT NULL,
		applied_at INTEGER NOT NULL
	) STRICT`)
	if err != nil {
		return fmt.Errorf("create the table of migrations: %w", err)
	}
	return nil
}

// checkApplied compares the recorded migrations with the program's and returns
// how many there are.
func checkApplied(ctx context.Context, tx *sql.Tx, steps []step) (int, error) {
	rows, err := tx.QueryContext(ctx, `SELECT number, name, sha256 FROM schema_migrations ORDER BY number`)
	if err != nil {
		return 0, fmt.Errorf("read the applied migrations: %w", err)
	}
	defer func() { _ = rows.Close() }()
	applied := 0
	last := 0
	for rows.Next() {
		var number int
		var name, hash string
		if err := rows.Scan(&number, &name, &hash); err != nil {
			return 0, fmt.Errorf("read the applied migrations: %w", err)
		}
		applied++
		last = number
		if number != applied {
			return 0, fmt.Errorf("the database lacks migration %d, though %d is applied: the file is damaged", applied, number)
		}
		if applied > len(steps) {
			continue
		}
		if have := steps[applied-1]; name != have.name || hash != have.hash {
			return 0, &ChangedError{Number: number, Applied: name, Have: have.name}
		}
	}
	if err := rows.Err(); err != nil {
		return 0, fmt.Errorf("read the applied migrations: %w", err)
	}
	if applied > len(steps) {
		return 0, &NewerError{Database: last, Program: len(steps)}
	}
	return applied, nil
}

// apply runs one migration and records it.
func apply(ctx context.Context, tx *sql.Tx, s step, now time.Time) error {
	if _, err := tx.ExecContext(ctx, s.sql); err != nil {
		return fmt.Errorf("migration %s: %w", s.name, err)
	}
	if err := checkForeignKeys(ctx, tx); err != nil {
		return fmt.Errorf("migration %s: %w", s.name, err)
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO schema_migrations (number, name, sha256, applied_at) VALUES (?, ?, ?, ?)`,
		s.number, s.name, s.hash, now.UnixMicro())
	if err != nil {
		return fmt.Errorf("record migration %s: %w", s.name, err)
	}
	return nil
}

// checkForeignKeys fails if a row points to one that is not there.
func checkForeignKeys(ctx context.Context, tx *sql.Tx) error {
	var table string
	err := tx.QueryRowContext(ctx, `SELECT "table" FROM pragma_foreign_key_check LIMIT 1`).Scan(&table)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return nil
	case err != nil:
		return fmt.Errorf("check foreign keys: %w", err)
	}
	return fmt.Errorf("a row of table %s points to a row that is not there", table)
}
