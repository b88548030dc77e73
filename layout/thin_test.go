package layout

import (
	"slices"
	"testing"
)

func TestThin(t *testing.T) {
	// Row by row: 3 below, 2 in the middle, 2 on top.
	//   5 6
	//   3 4
	//   0 1 2
	modules := []Rect{
		{0, 0, 1, 1}, {1, 0, 1, 1}, {2, 0, 1, 1},
		{0, 1, 1, 1}, {1, 1, 1, 1},
		{0, 2, 1, 1}, {1, 2, 1, 1},
	}
	last := make([]bool, 7)
	last[0], last[3] = true, true
	for _, c := range []struct {
		name string
		last []bool
		n    int
		want []int
	}{
		{"all", nil, 7, []int{0, 1, 2, 3, 4, 5, 6}},
		{"more than there are", nil, 9, []int{0, 1, 2, 3, 4, 5, 6}},
		{"right end of the upper of the shortest rows", nil, 6, []int{0, 1, 2, 3, 4, 5}},
		{"the same row goes on", nil, 5, []int{0, 1, 2, 3, 4}},
		{"then the next", nil, 3, []int{0, 1, 2}},
		{"last resort first, from the shorter row", last, 6, []int{0, 1, 2, 4, 5, 6}},
		{"then the other", last, 5, []int{1, 2, 4, 5, 6}},
		{"then the shortest row", last, 4, []int{1, 2, 5, 6}},
		{"marks may be fewer", []bool{true}, 6, []int{1, 2, 3, 4, 5, 6}},
		{"none", nil, 0, []int{}},
		{"below none", nil, -3, []int{}},
	} {
		if got := Thin(modules, c.last, c.n); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	if got := Thin(nil, nil, 3); len(got) != 0 {
		t.Errorf("of nothing: %v", got)
	}
}
