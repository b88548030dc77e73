package layout

import (
	"context"
	"encoding/csv"
	"os"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The search reaches, within the steps of the deep budget, the count of every
// layout that is known to exist on the invented planes, and never one that is
// known not to.
func TestBestReachesKnownLayouts(t *testing.T) {
	for _, c := range corpus(t, "roofs") {
		t.Run(c.ID, func(t *testing.T) {
			t.Parallel()
			want := c.Truth.AnyLower
			j, err := newJob(context.Background(), c.region(), c.spec())
			if err != nil {
				t.Fatal(err)
			}
			// What follows the count, the proof, is left out: it takes longer.
			j.bound = want
			got := j.packBest(Deep)
			if len(got) < want || len(got) > c.Truth.AnyUpper {
				t.Errorf("%d modules, known %d, impossible above %d", len(got), c.Truth.AnyLower, c.Truth.AnyUpper)
			}
			if err := CheckPacking(c.region(), c.spec(), got); err != nil {
				t.Error(err)
			}
		})
	}
}

// The steps of a drag reach the best layouts known of the residential planes, but for
// two on which they lack one module.
func TestDragReachesKnownLayouts(t *testing.T) {
	lacks := map[string]int{"roof-turned-03": 1, "roof-valley-02": 1}
	for _, c := range corpus(t, "roofs") {
		if !strings.HasPrefix(c.ID, "roof-") {
			continue
		}
		p, err := PackWithin(t.Context(), c.region(), c.spec(), Best, Drag)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(p.Modules); n < c.Truth.AnyLower-lacks[c.ID] {
			t.Errorf("%s: %d modules, known %d", c.ID, n, c.Truth.AnyLower)
		}
	}
}

// palletRow is an instance of testdata/pallet.
type palletRow struct {
	region              Region
	spec                Spec
	optimum, fiveBlocks int
}

func palletRows(t testing.TB) []palletRow {
	t.Helper()
	file, err := os.Open("testdata/pallet/pallet_loading.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []palletRow
	for _, line := range lines[1:] {
		var n [7]float64
		for i := range n {
			if n[i], err = strconv.ParseFloat(line[i], 64); err != nil {
				t.Fatalf("%v: %v", line, err)
			}
		}
		k := 1 / n[2] // the longer side of a module is 1 m
		out = append(out, palletRow{
			region:  Region{Outer: rectRing(0, 0, n[0]*k, n[1]*k)},
			spec:    Spec{WidthM: n[2] * k, HeightM: n[3] * k},
			optimum: int(n[4]), fiveBlocks: int(n[6]),
		})
	}
	return out
}

// Blocks alone hold exactly the published five-block count of every pallet
// (column five_block_count), in either direction.
func TestBlocksMeetFiveBlockCounts(t *testing.T) {
	for _, c := range palletRows(t) {
		turned := Region{Outer: rectRing(0, 0, c.region.Outer[2].VM, c.region.Outer[2].UM)}
		for _, r := range []Region{c.region, turned} {
			j, err := newJob(context.Background(), r, c.spec)
			if err != nil {
				t.Fatal(err)
			}
			steps := Deep.effort().blocks
			got := j.spotRects(j.packBlocks(steps, 0))
			if len(got) != c.fiveBlocks {
				t.Errorf("%v of %v: %d, published %d", r, c.spec, len(got), c.fiveBlocks)
			}
			if err := CheckPacking(r, c.spec, got); err != nil {
				t.Errorf("%v of %v: %v", r, c.spec, err)
			}
		}
	}
}

// Blocks keep gaps that differ and end allowances: four modules of 1.6 x 1 m
// stand around a middle that is too small for one more in exactly 1.6 + 0.05 + 1 by
// 1.6 + 0.02 + 1 m, and 0.1 m wider on either side; a millimetre less holds three.
func TestBlocksKeepGapsAndEnds(t *testing.T) {
	s := Spec{WidthM: 1.6, HeightM: 1, GapUM: 0.05, GapVM: 0.02, EndM: 0.1}
	r := Region{Outer: rectRing(3, 4, 3+2.65+0.2, 4+2.62)}
	j, err := newJob(context.Background(), r, s)
	if err != nil {
		t.Fatal(err)
	}
	got := j.spotRects(j.packBlocks(1000, 0))
	if len(got) != 4 {
		t.Errorf("%d modules, want 4", len(got))
	}
	if err := CheckPacking(r, s, got); err != nil {
		t.Error(err)
	}
	r.Outer[1].UM -= 1e-3
	r.Outer[2].UM -= 1e-3
	if j, err = newJob(context.Background(), r, s); err != nil {
		t.Fatal(err)
	}
	if got := j.packBlocks(1000, 0); len(got) != 3 {
		t.Errorf("a millimetre less: %d modules, want 3", len(got))
	}
	r.Holes = []Ring{rectRing(4, 4, 5, 5)}
	if j, err = newJob(context.Background(), r, s); err != nil {
		t.Fatal(err)
	}
	if got := j.packBlocks(1000, 0); got != nil {
		t.Errorf("a rectangle with a hole: %v", got)
	}
}

// Best holds no less than any style, is valid, and comes out the same again.
func TestBestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := smallRoof(t)
		best := rapidPack(t, r, s, Best)
		for _, style := range Styles() {
			if p := rapidPack(t, r, s, style); len(p.Modules) > len(best.Modules) {
				t.Fatalf("best %d, %s %d", len(best.Modules), style, len(p.Modules))
			}
		}
		if again := rapidPack(t, r, s, Best); !reflect.DeepEqual(best, again) {
			t.Fatal("another result on the second run")
		}
	})
}

// Without end allowances columns are the rows of the region with u and v
// exchanged, and mirrors change neither count.
func TestColumnsAreRowsExchanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := smallRoof(t)
		s.EndM = 0
		want := len(rapidPack(t, r, s, Rows).Modules)
		s.GapUM, s.GapVM = s.GapVM, s.GapUM
		s.WidthM, s.HeightM = s.HeightM, s.WidthM
		turned := moved(r, func(p SlopePt) SlopePt { return SlopePt{p.VM, p.UM} })
		mirrored := moved(turned, func(p SlopePt) SlopePt { return SlopePt{-p.UM, p.VM} })
		for _, r := range []Region{turned, mirrored} {
			if got := len(rapidPack(t, r, s, Columns).Modules); got != want {
				t.Fatalf("rows %d, columns of the exchanged region %d", want, got)
			}
		}
	})
}

func TestBestStopsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for _, style := range Styles() {
		if _, err := PackWithin(ctx, Region{Outer: rectRing(0, 0, 20, 11)}, Spec{WidthM: 1.7, HeightM: 1.1}, style, Deep); err != context.Canceled {
			t.Errorf("%s: %v", style, err)
		}
	}
}

func TestUnknownBudget(t *testing.T) {
	if _, err := PackWithin(context.Background(), Region{Outer: rectRing(0, 0, 2, 2)}, Spec{WidthM: 1, HeightM: 1}, Best, Deep+1); err == nil {
		t.Error("an unknown budget is taken")
	}
}

// TestPalletsAreProved holds Deep against every row of the pallet table: the
// optimum of the literature is reached, and the bound of this package proves it.
func TestPalletsAreProved(t *testing.T) {
	for _, c := range palletRows(t) {
		p, err := PackWithin(t.Context(), c.region, c.spec, Best, Deep)
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Modules) != c.optimum || !p.Proved {
			t.Errorf("%v of %v: %d, bound %d, optimum %d", c.region, c.spec, len(p.Modules), p.Bound, c.optimum)
		}
	}
}
