//go:build !js

package project

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestOutlines(t *testing.T) {
	for _, c := range []struct {
		name    string
		columns int
		cells   string // one letter a cell, upper row last; x is marked
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
			marked := make([]bool, len(c.cells))
			for i, cell := range c.cells {
				marked[i] = cell == 'x'
			}
			if got := fmt.Sprint(outlinesOf(marked, c.columns)); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

// enclosed are the marked cells, those that join two at a corner, and those that
// nobody reaches from outside: found by flooding, without outlines.
func enclosed(marked []bool, columns int) []bool {
	rows := len(marked) / columns
	in := slices.Clone(marked)
	for again := true; again; {
		again = false
		for r := range rows - 1 {
			for c := range columns - 1 {
				low, high := r*columns+c, (r+1)*columns+c
				if in[low] == in[high+1] && in[low+1] == in[high] && in[low] != in[low+1] {
					in[low], in[low+1], again = true, true, true
				}
			}
		}
	}
	// A margin of one cell around, from whose corner the flood begins.
	wide, reached := columns+2, make([]bool, (columns+2)*(rows+2))
	for todo := []int{0}; len(todo) > 0; {
		at := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		c, r := at%wide-1, at/wide-1
		inside := c >= 0 && r >= 0 && c < columns && r < rows
		if reached[at] || inside && in[r*columns+c] {
			continue
		}
		reached[at] = true
		for _, step := range [][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			if x, y := c+1+step[0], r+1+step[1]; x >= 0 && y >= 0 && x < wide && y < rows+2 {
				todo = append(todo, y*wide+x)
			}
		}
	}
	for i := range in {
		in[i] = !reached[(i/columns+1)*wide+i%columns+1]
	}
	return in
}

// No ring meets itself, and the rings together hold the cells that belong to them
// and no others.
func TestOutlinesHoldTheirCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		columns, rows := rapid.IntRange(1, 9).Draw(t, "columns"), rapid.IntRange(1, 9).Draw(t, "rows")
		marked := rapid.SliceOfN(rapid.Bool(), columns*rows, columns*rows).Draw(t, "marked")
		want := enclosed(marked, columns)
		rings := outlinesOf(slices.Clone(marked), columns)
		for _, ring := range rings {
			corners := map[[2]int]bool{}
			for _, p := range ring {
				if corners[p] {
					t.Fatalf("a ring meets itself: %v", ring)
				}
				corners[p] = true
			}
		}
		for i := range marked {
			times := 0
			for _, ring := range rings {
				points := make([][2]float64, len(ring))
				for k, p := range ring {
					points[k] = [2]float64{float64(p[0]), float64(p[1])}
				}
				if insideRing(ringOf(points), float64(i%columns)+0.5, float64(i/columns)+0.5) {
					times++
				}
			}
			if (times > 0) != want[i] {
				t.Fatalf("cell %d lies in %d rings of %v", i, times, rings)
			}
		}
	})
}
