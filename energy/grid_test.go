package energy

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestBelow(t *testing.T) {
	for _, c := range []struct {
		name    string
		columns int
		values  string // one letter a cell, upper row last; x is low
		want    string
	}{
		{"none", 2, "....", "[]"},
		{"one", 2, "x...", "[[[0 0] [1 0] [1 1] [0 1]]]"},
		{"row", 2, "xx..", "[[[0 0] [2 0] [2 1] [0 1]]]"},
		{"L", 2, "xxx.", "[[[0 0] [2 0] [2 1] [1 1] [1 2] [0 2]]]"},
		{"two", 3, "x.x", "[[[0 0] [1 0] [1 1] [0 1]] [[2 0] [3 0] [3 1] [2 1]]]"},
		{"corner", 2, "x..x", "[[[0 0] [2 0] [2 2] [1 2] [1 1] [0 1]]]"},
		{"ring with a hole", 3, "xxxx.xxxx", "[[[0 0] [3 0] [3 3] [0 3]]]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := Grid{StepM: 1, Columns: c.columns, Rows: len(c.values) / c.columns}
			values := make([]float64, len(c.values))
			for i, v := range c.values {
				values[i] = map[rune]float64{'x': 0.4, '.': 0.9}[v]
			}
			if got := fmt.Sprint(g.Below(values, 0.5)); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
	if (Grid{StepM: 1, Columns: 2, Rows: 2}).Below([]float64{1}, 2) != nil {
		t.Error("a wrong number of values gives rings")
	}
}

// Every ring is simple, and every low cell lies in one.
func TestBelowCoversTheLowCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Grid{UM: 3, VM: -2, StepM: 0.5, Columns: rapid.IntRange(1, 9).Draw(t, "columns"), Rows: rapid.IntRange(1, 9).Draw(t, "rows")}
		values := make([]float64, g.Columns*g.Rows)
		for i := range values {
			values[i] = rapid.SampledFrom([]float64{0.2, 0.9, math.NaN()}).Draw(t, "value")
		}
		rings := g.Below(values, 0.5)
		for _, ring := range rings {
			corners := map[[2]float64]bool{}
			for _, p := range ring {
				if corners[p] {
					t.Fatalf("a ring meets itself: %v", ring)
				}
				corners[p] = true
			}
		}
		for i, c := range g.Cells() {
			if !(values[i] < 0.5) {
				continue
			}
			inside := 0
			for _, ring := range rings {
				if insideRing(ring, c.UM+0.25, c.VM+0.25) {
					inside++
				}
			}
			if inside == 0 {
				t.Fatalf("cell %d is in no ring", i)
			}
		}
	})
}
