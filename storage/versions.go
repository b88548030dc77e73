package storage

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"rooftally/project"
)

// Versions returns the earlier versions of a project, the newest first; there
// are none of a project that was saved once, and of an id that is not known.
func (s *Store) Versions(ctx context.Context, id string) ([]project.Version, error) {
	versions := []project.Version{}
	err := s.inRead(ctx, func(tx *sql.Tx) error {
		found, err := tx.QueryContext(ctx, `SELECT version, doc, saved_at, contested FROM project_versions
			WHERE project_id = ? ORDER BY version DESC`, id)
		if err != nil {
			return err
		}
		defer func() { _ = found.Close() }()
		for found.Next() {
			var v project.Version
			var data []byte
			var saved int64
			if err := found.Scan(&v.Number, &data, &saved, &v.Contested); err != nil {
				return err
			}
			v.SavedAt = time.UnixMicro(saved).UTC()
			if v.Doc, err = project.Decode(data); err != nil {
				v.Doc, v.Unreadable = project.Document{}, true
			}
			versions = append(versions, v)
		}
		return found.Err()
	})
	if err != nil {
		return nil, fmt.Errorf("list versions of project %s: %w", id, err)
	}
	return versions, nil
}

// CopyVersion makes a new project at version 1 of an earlier version of a
// project, with " (version N)" after its label. project.ErrNotFound says that
// the version is not kept.
func (s *Store) CopyVersion(ctx context.Context, id string, version int) (string, error) {
	newID := s.newID()
	err := s.inWrite(ctx, func(tx *sql.Tx) error {
		var data []byte
		err := tx.QueryRowContext(ctx, `SELECT doc FROM project_versions WHERE project_id = ? AND version = ?`, id, version).Scan(&data)
		if errors.Is(err, sql.ErrNoRows) {
			return project.ErrNotFound
		}
		if err != nil {
			return err
		}
		doc, err := project.Decode(data)
		if err != nil {
			return fmt.Errorf("the kept document cannot be read: %s", err)
		}
		doc.Site.Label = copyLabel(doc.Site.Label, fmt.Sprintf(" (version %d)", version))
		return s.insert(ctx, tx, newID, doc)
	})
	if err != nil {
		return "", fmt.Errorf("copy version %d of project %s: %w", version, id, err)
	}
	return newID, nil
}
