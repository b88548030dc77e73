package storage

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"rooftally/project"
)

const (
	// versionsKept is how many earlier versions of each document are kept,
	// beside those that a save was refused for.
	versionsKept = 50
	// labelLimit is the most characters a label may have.
	labelLimit = 120
)

// columns are what scanRecord reads, in its order.
const columns = `id, version, archived, label_folded, doc, created_at, updated_at`

// scanner is a row of a result.
type scanner interface{ Scan(dest ...any) error }

// record is a stored project and the very bytes of its document.
type record struct {
	project.Stored
	doc []byte
}

// scanRecord reads one project. A document that cannot be read is a
// *project.UnreadableError.
func scanRecord(row scanner) (record, error) {
	var r record
	var folded string
	var created, updated int64
	if err := row.Scan(&r.ID, &r.Version, &r.Archived, &folded, &r.doc, &created, &updated); err != nil {
		return record{}, err
	}
	r.CreatedAt = time.UnixMicro(created).UTC()
	r.UpdatedAt = time.UnixMicro(updated).UTC()
	doc, err := project.Decode(r.doc)
	if err != nil {
		return record{}, &project.UnreadableError{Row: project.Row{
			ID: r.ID, Label: folded, Version: r.Version, Archived: r.Archived,
			CreatedAt: r.CreatedAt, UpdatedAt: r.UpdatedAt, Unreadable: true,
		}, Data: r.doc, Reason: err.Error()}
	}
	r.Doc = doc
	return r, nil
}

// getRecord reads one project in a transaction.
func getRecord(ctx context.Context, tx *sql.Tx, id string) (record, error) {
	r, err := scanRecord(tx.QueryRowContext(ctx, `SELECT `+columns+` FROM projects WHERE id = ?`, id))
	if errors.Is(err, sql.ErrNoRows) {
		return record{}, project.ErrNotFound
	}
	return r, err
}

// insert adds a new project at version 1.
func (s *Store) insert(ctx context.Context, tx *sql.Tx, id string, doc project.Document) error {
	data, err := project.Encode(doc)
	if err != nil {
		return err
	}
	now := s.now().UnixMicro()
	_, err = tx.ExecContext(ctx, `INSERT INTO projects (id, version, label_folded, doc, created_at, updated_at) VALUES (?, 1, ?, ?, ?, ?)`,
		id, fold(doc.Site.Label), data, now, now)
	return err
}

// fold makes labels comparable without regard to case, beyond ASCII too.
func fold(s string) string { return strings.ToLower(s) }

// List returns the projects that match, the last changed first. One whose
// document cannot be read is among them and says so.
func (s *Store) List(ctx context.Context, q project.ListQuery) ([]project.Row, error) {
	rows := []project.Row{}
	err := s.inRead(ctx, func(tx *sql.Tx) error {
		found, err := tx.QueryContext(ctx, `SELECT `+columns+` FROM projects
			WHERE archived = ? AND label_folded LIKE ? ESCAPE '\' ORDER BY updated_at DESC, id`,
			q.Archived, "%"+escapeLike(fold(q.Search))+"%")
		if err != nil {
			return err
		}
		defer func() { _ = found.Close() }()
		for found.Next() {
			r, err := scanRecord(found)
			if broken, is := errors.AsType[*project.UnreadableError](err); is {
				rows = append(rows, broken.Row)
				continue
			}
			if err != nil {
				return err
			}
			rows = append(rows, r.Row())
		}
		return found.Err()
	})
	if err != nil {
		return nil, fmt.Errorf("list projects: %w", err)
	}
	return rows, nil
}

// escapeLike takes the special meaning from what a user types into a search.
func escapeLike(s string) string {
	return strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`).Replace(s)
}

// Get returns one project; project.ErrNotFound if there is none, and
// *project.UnreadableError if its document cannot be read.
func (s *Store) Get(ctx context.Context, id string) (project.Stored, error) {
	var r record
	err := s.inRead(ctx, func(tx *sql.Tx) (err error) {
		r, err = getRecord(ctx, tx, id)
		return err
	})
	if err != nil {
		return project.Stored{}, fmt.Errorf("get project %s: %w", id, err)
	}
	return r.Stored, nil
}

// Create keeps a document as a new project at version 1 and returns its ID.
func (s *Store) Create(ctx context.Context, doc project.Document) (string, error) {
	id := s.newID()
	err := s.inWrite(ctx, func(tx *sql.Tx) error { return s.insert(ctx, tx, id, doc) })
	if err != nil {
		return "", fmt.Errorf("create project: %w", err)
	}
	return id, nil
}

// CreateFirst keeps a document as a new project if there is none at all,
// archived ones counted, and tells whether it did.
func (s *Store) CreateFirst(ctx context.Context, doc project.Document) (created bool, err error) {
	err = s.inWrite(ctx, func(tx *sql.Tx) error {
		var n int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM projects`).Scan(&n); err != nil {
			return err
		}
		if created = n == 0; !created {
			return nil
		}
		return s.insert(ctx, tx, s.newID(), doc)
	})
	if err != nil {
		return false, fmt.Errorf("create the first project: %w", err)
	}
	return created, nil
}

// Save replaces the document of a project that is still at version base and
// returns the new version. The replaced one is kept among the earlier versions.
//
// Saving exactly what is stored changes nothing and returns the stored
// version, whatever base is: a save whose answer was lost may be repeated.
// Otherwise a base that is not the stored version is a *project.StaleError,
// and an unknown id project.ErrNotFound. The version that a stale save met is
// marked, so that it stays among the earlier ones whatever is saved next.
func (s *Store) Save(ctx context.Context, id string, base int, doc project.Document) (int, error) {
	data, err := project.Encode(doc)
	if err != nil {
		return 0, fmt.Errorf("save project %s: %w", id, err)
	}
	version := 0
	// stale is not returned from the transaction, which would undo the mark.
	var stale *project.StaleError
	err = s.inWrite(ctx, func(tx *sql.Tx) error {
		current, err := getRecord(ctx, tx, id)
		if err != nil {
			return err
		}
		version = current.Version
		if bytes.Equal(data, current.doc) {
			return nil
		}
		if base != current.Version {
			stale = &project.StaleError{Current: current.Stored}
			_, err = tx.ExecContext(ctx, `UPDATE projects SET contested = 1 WHERE id = ?`, id)
			return err
		}
		version++
		return s.replace(ctx, tx, current, fold(doc.Site.Label), data)
	})
	if err == nil && stale != nil {
		err = stale
	}
	if err != nil {
		return 0, fmt.Errorf("save project %s: %w", id, err)
	}
	return version, nil
}

// replace puts the next version in place of the current one, which moves to
// the earlier versions; the earliest beyond the limit go, but for contested ones.
func (s *Store) replace(ctx context.Context, tx *sql.Tx, current record, folded string, data []byte) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO project_versions (project_id, version, doc, saved_at, contested)
		SELECT id, version, doc, updated_at, contested FROM projects WHERE id = ?`, current.ID)
	if err != nil {
		return fmt.Errorf("keep version %d: %w", current.Version, err)
	}
	_, err = tx.ExecContext(ctx, `DELETE FROM project_versions WHERE project_id = ? AND version <= ? AND contested = 0`,
		current.ID, current.Version-versionsKept)
	if err != nil {
		return fmt.Errorf("drop old versions: %w", err)
	}
	_, err = tx.ExecContext(ctx, `UPDATE projects SET version = ?, label_folded = ?, doc = ?, updated_at = ?, contested = 0 WHERE id = ?`,
		current.Version+1, folded, data, s.now().UnixMicro(), current.ID)
	return err
}

// Duplicate copies a project under a new ID, at version 1 and out of the
// archive, with " (copy)" after its label; project.ErrNotFound if there is none.
func (s *Store) Duplicate(ctx context.Context, id string) (string, error) {
	newID := s.newID()
	err := s.inWrite(ctx, func(tx *sql.Tx) error {
		r, err := getRecord(ctx, tx, id)
		if err != nil {
			return err
		}
		doc := r.Doc
		doc.Site.Label = copyLabel(doc.Site.Label, " (copy)")
		return s.insert(ctx, tx, newID, doc)
	})
	if err != nil {
		return "", fmt.Errorf("duplicate project %s: %w", id, err)
	}
	return newID, nil
}

// copyLabel appends the mark of a copy, shortening the label if it must.
func copyLabel(label, mark string) string {
	runes := []rune(label)
	if room := labelLimit - len([]rune(mark)); len(runes) > room {
		runes = runes[:room]
	}
	return strings.TrimRight(string(runes), " ") + mark
}

// SetArchived moves a project in or out of the archive; project.ErrNotFound if
// there is none. Its time of last change stays.
func (s *Store) SetArchived(ctx context.Context, id string, archived bool) error {
	err := s.inWrite(ctx, func(tx *sql.Tx) error {
		result, err := tx.ExecContext(ctx, `UPDATE projects SET archived = ? WHERE id = ?`, archived, id)
		if err != nil {
			return err
		}
		n, err := result.RowsAffected()
		if err == nil && n == 0 {
			err = project.ErrNotFound
		}
		return err
	})
	if err != nil {
		return fmt.Errorf("archive project %s: %w", id, err)
	}
	return nil
}
