package storage

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rooftally/migrations"
	"rooftally/project"
)

func putWeather(t *testing.T, s *Store, name string, data []byte) string {
	t.Helper()
	hash, err := s.PutWeatherFile(t.Context(), name, data)
	if err != nil {
		t.Fatal(err)
	}
	return hash
}

func TestWeatherFilesComeBackAsTheyWent(t *testing.T) {
	s := newStore(t)
	for name, data := range map[string][]byte{
		"plain.epw":    []byte(strings.Repeat("1999,1,1,1,60\n", 9000)),
		"bytes.epw.gz": {0x1f, 0x8b, 0, 255, 10, 13, 0},
		"empty":        {},
	} {
		sum := sha256.Sum256(data)
		hash := putWeather(t, s, name, data)
		if want := hex.EncodeToString(sum[:]); hash != want {
			t.Errorf("%s: hash %s, want %s", name, hash, want)
		}
		gotName, got, err := s.WeatherFile(t.Context(), hash)
		if err != nil || gotName != name || !bytes.Equal(got, data) {
			t.Errorf("%s: got %q, %d bytes, %v; want %d bytes", name, gotName, len(got), err, len(data))
		}
	}
}

func TestAWeatherFileIsKeptOnce(t *testing.T) {
	s := newStore(t)
	hash := putWeather(t, s, "first.epw", []byte("hours"))
	if again := putWeather(t, s, "second.epw", []byte("hours")); again != hash {
		t.Errorf("hash %s, then %s", hash, again)
	}
	if name, _, err := s.WeatherFile(t.Context(), hash); err != nil || name != "first.epw" {
		t.Errorf("name %q, %v", name, err)
	}
	var n int
	if err := s.read.QueryRowContext(t.Context(), `SELECT count(*) FROM weather_files`).Scan(&n); err != nil || n != 1 {
		t.Errorf("%d rows, %v", n, err)
	}
	for _, unknown := range []string{"", "x", strings.Repeat("0", 64), hash[:63], strings.ToUpper(hash) + "'"} {
		if _, _, err := s.WeatherFile(t.Context(), unknown); !errors.Is(err, project.ErrNotFound) {
			t.Errorf("%q: %v, want ErrNotFound", unknown, err)
		}
	}
}

// A damaged row is an error and never other hours than those imported.
func TestADamagedWeatherFileIsRefused(t *testing.T) {
	s := newStore(t)
	hash := putWeather(t, s, "a.epw", []byte("hours"))
	other, err := pack([]byte("other hours"))
	if err != nil {
		t.Fatal(err)
	}
	for what, body := range map[string][]byte{"other bytes": other, "no gzip": []byte("hours"), "cut short": other[:len(other)-3]} {
		if _, err := s.write.ExecContext(t.Context(), `UPDATE weather_files SET body_gz = ? WHERE hash = ?`, body, hash); err != nil {
			t.Fatal(err)
		}
		if _, data, err := s.WeatherFile(t.Context(), hash); err == nil || data != nil || errors.Is(err, project.ErrNotFound) {
			t.Errorf("%s: %q, %v", what, data, err)
		}
	}
}

// Copies of a project, and of an earlier version of it, name the same file.
func TestCopiesKeepTheirWeatherFile(t *testing.T) {
	s := newStore(t)
	hash := putWeather(t, s, "a.epw", []byte("hours"))
	id := create(t, s, "House")
	doc := get(t, s, id).Doc
	doc.Weather.Source = project.FromFile
	doc.Weather.File = &project.WeatherFile{
		Hash: hash, Name: "a.epw", Format: "epw", Label: "Invented", UTCOffsetH: 1, Hours: 8760, Notes: []string{},
	}
	if _, err := s.Save(t.Context(), id, 1, doc); err != nil {
		t.Fatal(err)
	}
	saveNext(t, s, id, "House, later")
	if err := s.SetArchived(t.Context(), id, true); err != nil {
		t.Fatal(err)
	}
	twin, err := s.Duplicate(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	earlier, err := s.CopyVersion(t.Context(), id, 2)
	if err != nil {
		t.Fatal(err)
	}
	for _, copied := range []string{id, twin, earlier} {
		w := get(t, s, copied).Doc.Weather
		if w.Source != project.FromFile || w.File == nil || w.File.Hash != hash {
			t.Errorf("%s: weather %+v", copied, w)
			continue
		}
		if _, data, err := s.WeatherFile(t.Context(), w.File.Hash); err != nil || string(data) != "hours" {
			t.Errorf("%s: %q, %v", copied, data, err)
		}
	}
}

// A database from before weather files gets the table, and its projects the
// weather of a new one.
func TestWeatherFilesComeToAnOlderDatabase(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	var older []string
	for _, name := range []string{"0001_projects.sql", "0002_contested_versions.sql", "0003_catalog.sql"} {
		text, err := migrations.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		older = append(older, name, string(text))
	}
	if err := opens(t, path, files(older...)); err != nil {
		t.Fatal(err)
	}
	schema2, err := os.ReadFile(filepath.Join("..", "project", "testdata", "demo-schema2.json"))
	if err != nil {
		t.Fatal(err)
	}
	execIn(t, path, `INSERT INTO projects (id, version, label_folded, doc, created_at, updated_at)
		VALUES ('old', 1, 'kept', x'`+hex.EncodeToString(schema2)+`', 1, 1)`)
	s := openAt(t, path)
	if got := get(t, s, "old"); got.Doc.Schema != project.Schema || got.Doc.Weather.Source != project.FromStation || len(got.Doc.Planes) == 0 {
		t.Errorf("%+v", got.Doc.Weather)
	}
	hash := putWeather(t, s, "a.epw", []byte("hours"))
	if _, data, err := s.WeatherFile(t.Context(), hash); err != nil || string(data) != "hours" {
		t.Errorf("%q, %v", data, err)
	}
}
