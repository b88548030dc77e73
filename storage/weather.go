package storage

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io"

	"rooftally/project"
)

// PutWeatherFile keeps the bytes of a weather file under the SHA-256 of them and
// returns that as 64 hexadecimal digits in lower case. A file that is kept
// already stays as it is, with the name that it first had. What is in the file
// is the caller's to check.
func (s *Store) PutWeatherFile(ctx context.Context, name string, data []byte) (hash string, err error) {
	sum := sha256.Sum256(data)
	hash = hex.EncodeToString(sum[:])
	packed, err := pack(data)
	if err != nil {
		return "", fmt.Errorf("keep weather file %s: %w", hash, err)
	}
	err = s.inWrite(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO weather_files (hash, name, body_gz, created_at) VALUES (?, ?, ?, ?)
			ON CONFLICT (hash) DO NOTHING`, hash, name, packed, s.now().UnixMicro())
		return err
	})
	if err != nil {
		return "", fmt.Errorf("keep weather file %s: %w", hash, err)
	}
	return hash, nil
}

// WeatherFile returns the name and the bytes of a kept weather file;
// project.ErrNotFound if there is none under that hash. Bytes that no longer
// have the hash are an error.
func (s *Store) WeatherFile(ctx context.Context, hash string) (name string, data []byte, err error) {
	var packed []byte
	err = s.inRead(ctx, func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, `SELECT name, body_gz FROM weather_files WHERE hash = ?`, hash).Scan(&name, &packed)
	})
	if errors.Is(err, sql.ErrNoRows) {
		err = project.ErrNotFound
	}
	if err == nil {
		data, err = unpack(packed)
	}
	if sum := sha256.Sum256(data); err == nil && hex.EncodeToString(sum[:]) != hash {
		err = errors.New("what is kept has another hash: the database is damaged")
	}
	if err != nil {
		return "", nil, fmt.Errorf("weather file %.64s: %w", hash, err)
	}
	return name, data, nil
}

func pack(data []byte) ([]byte, error) {
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	_, err := w.Write(data)
	err = errors.Join(err, w.Close())
	return out.Bytes(), err
}

func unpack(packed []byte) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	data, err := io.ReadAll(r)
	return data, errors.Join(err, r.Close())
}
