package storage

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/go-json-experiment/json"
)

// table is where one kind of entry is kept. Its name stands in statements and
// never comes from outside.
type table[T any] struct {
	name string
	id   func(T) string
}

// readList reads a whole list. An entry that cannot be read is an error: a list
// without it would sooner or later be written back without it.
func readList[T any](ctx context.Context, s *Store, t table[T]) (list []T, version int, err error) {
	list = []T{}
	err = s.inRead(ctx, func(tx *sql.Tx) error {
		if version, err = listVersion(ctx, tx, t.name); err != nil {
			return err
		}
		rows, err := tx.QueryContext(ctx, `SELECT id, body FROM `+t.name+` ORDER BY position, id`)
		if err != nil {
			return err
		}
		defer func() { _ = rows.Close() }()
		for rows.Next() {
			var id string
			var data []byte
			var entry T
			if err := rows.Scan(&id, &data); err != nil {
				return err
			}
			if err := json.Unmarshal(data, &entry, json.RejectUnknownMembers(true)); err != nil {
				return fmt.Errorf("entry %q cannot be read: %w", id, err)
			}
			list = append(list, entry)
		}
		return rows.Err()
	})
	if err != nil {
		return nil, 0, fmt.Errorf("read the list %s: %w", t.name, err)
	}
	return list, version, nil
}

// listVersion is the version of a list, 0 where it was never filled.
func listVersion(ctx context.Context, tx *sql.Tx, name string) (version int, err error) {
	err = tx.QueryRowContext(ctx, `SELECT version FROM catalog_lists WHERE name = ?`, name).Scan(&version)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	return version, err
}

// replaceList writes a list over the one that is there if that is at version
// base, and tells whether it did.
func replaceList[T any](ctx context.Context, s *Store, t table[T], base int, list []T) (replaced bool, err error) {
	err = s.inWrite(ctx, func(tx *sql.Tx) error {
		version, err := listVersion(ctx, tx, t.name)
		if err != nil || version != base {
			return err
		}
		replaced = true
		if err := rewrite(ctx, tx, t, list, s.now().UnixMicro()); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO catalog_lists (name, version) VALUES (?, ?)
			ON CONFLICT (name) DO UPDATE SET version = excluded.version`, t.name, base+1)
		return err
	})
	if err != nil {
		return false, fmt.Errorf("replace the list %s: %w", t.name, err)
	}
	return replaced, nil
}

// rewrite puts all rows of a list anew. An entry that stays as it was keeps the
// time of its last change.
func rewrite[T any](ctx context.Context, tx *sql.Tx, t table[T], list []T, now int64) error {
	before, err := bodies(ctx, tx, t.name)
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `DELETE FROM `+t.name); err != nil {
		return err
	}
	for i, entry := range list {
		id := t.id(entry)
		data, err := json.Marshal(entry, json.Deterministic(true))
		if err != nil {
			return fmt.Errorf("write entry %q: %w", id, err)
		}
		changed := now
		if old := before[id]; bytes.Equal(old.data, data) {
			changed = old.changed
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO `+t.name+` (id, position, body, updated_at) VALUES (?, ?, ?, ?)`, id, i, data, changed)
		if err != nil {
			return fmt.Errorf("keep entry %q: %w", id, err)
		}
	}
	return nil
}

// body is an entry in JSON and when it was last changed.
type body struct {
	data    []byte
	changed int64
}

// bodies reads what is kept of a list, by ID.
func bodies(ctx context.Context, tx *sql.Tx, name string) (map[string]body, error) {
	rows, err := tx.QueryContext(ctx, `SELECT id, body, updated_at FROM `+name)
	if err != nil {
		return nil, err
	}
	defer func() { _ = rows.Close() }()
	found := map[string]body{}
	for rows.Next() {
		var id string
		var b body
		if err := rows.Scan(&id, &b.data, &b.changed); err != nil {
			return nil, err
		}
		found[id] = b
	}
	return found, rows.Err()
}
