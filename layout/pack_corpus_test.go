package layout

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// corpusFile is one plane of testdata/roofs or testdata/roofs_real; the first
// one's README describes the format and where the numbers come from.
type corpusFile struct {
	ID     string
	Module struct{ W, H float64 }
	Gap    float64
	Region struct {
		Outer [][2]float64
		Holes [][][2]float64
	}
	Truth struct {
		Rows, Lattice, Planted int
		AnyLower               int `json:"any_lower"`
		AnyUpper               int `json:"any_upper"`
		Exact                  *struct{ Rows, Lattice bool }
	}
}

func (c corpusFile) region() Region {
	r := Region{Outer: ringOf(c.Region.Outer)}
	for _, h := range c.Region.Holes {
		r.Holes = append(r.Holes, ringOf(h))
	}
	return r
}

func (c corpusFile) spec() Spec {
	return Spec{WidthM: c.Module.W, HeightM: c.Module.H, GapUM: c.Gap, GapVM: c.Gap}
}

func ringOf(points [][2]float64) Ring {
	var out Ring
	for _, p := range points {
		out = append(out, SlopePt{p[0], p[1]})
	}
	return out
}

func corpus(t testing.TB, dir string) []corpusFile {
	t.Helper()
	names, err := filepath.Glob(filepath.Join("testdata", dir, "*.json"))
	if err != nil || len(names) == 0 {
		t.Fatalf("no files in testdata/%s: %v", dir, err)
	}
	var out []corpusFile
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var c corpusFile
		if err := json.Unmarshal(data, &c); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out = append(out, c)
	}
	return out
}

// Rows and grids hold exactly the proven number of modules, never more than
// any placement can; the bound never excludes a placement known to exist.
func TestPackReachesTruth(t *testing.T) {
	for _, dir := range []string{"roofs", "roofs_real"} {
		for _, c := range corpus(t, dir) {
			t.Run(c.ID, func(t *testing.T) {
				rows := mustPack(t, c.region(), c.spec(), Rows)
				grid := mustPack(t, c.region(), c.spec(), Grid)
				best := mustPack(t, c.region(), c.spec(), Best)
				exact := c.Truth.Exact
				if got := len(rows.Modules); got > c.Truth.Rows || got != c.Truth.Rows && (exact == nil || exact.Rows) {
					t.Errorf("rows hold %d, truth %d", got, c.Truth.Rows)
				}
				if got := len(grid.Modules); got > c.Truth.Lattice || got != c.Truth.Lattice && (exact == nil || exact.Lattice) {
					t.Errorf("grid holds %d, truth %d", got, c.Truth.Lattice)
				}
				if got := len(best.Modules); got < max(len(rows.Modules), len(grid.Modules)) {
					t.Errorf("best holds %d", got)
				}
				if rows.Bound < max(c.Truth.AnyLower, c.Truth.Planted, c.Truth.Rows) {
					t.Errorf("bound %d is below a known placement of %d", rows.Bound, c.Truth.AnyLower)
				}
				if c.Truth.AnyUpper > 0 && len(best.Modules) > c.Truth.AnyUpper {
					t.Errorf("best holds %d, impossible above %d", len(best.Modules), c.Truth.AnyUpper)
				}
			})
		}
	}
}

func mustPack(t testing.TB, r Region, s Spec, style Style) Packing {
	t.Helper()
	p, err := Pack(context.Background(), r, s, style)
	if err != nil {
		t.Fatalf("Pack %s: %v", style, err)
	}
	return p
}

// Pallet loading instances, gap 0, from testdata/pallet (sources in its
// columns): the grid of one orientation is known exactly, and no style exceeds
// the optimum nor the bound falls below it.
func TestPackPallets(t *testing.T) {
	file, err := os.Open("testdata/pallet/pallet_loading.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range lines[1:] {
		var n [6]float64
		for i := range n {
			if n[i], err = strconv.ParseFloat(line[i], 64); err != nil {
				t.Fatalf("%v: %v", line, err)
			}
		}
		// Scaled so that the longer side of a module is 1 m.
		k := 1 / n[2]
		r := Region{Outer: Ring{{0, 0}, {n[0] * k, 0}, {n[0] * k, n[1] * k}, {0, n[1] * k}}}
		s := Spec{WidthM: n[2] * k, HeightM: n[3] * k}
		grid, rows := mustPack(t, r, s, Grid), mustPack(t, r, s, Rows)
		if len(grid.Modules) != int(n[5]) {
			t.Errorf("%v: grid %d, want %v", line[:4], len(grid.Modules), n[5])
		}
		if len(rows.Modules) > int(n[4]) || rows.Bound < int(n[4]) {
			t.Errorf("%v: rows %d, bound %d, optimum %v", line[:4], len(rows.Modules), rows.Bound, n[4])
		}
	}
}
