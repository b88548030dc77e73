package layout

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

// chart reads positions and their values from a drawing, the uppermost row
// first: a digit is the value of a position of 2 m x 1 m, a dot a missing one.
// Capital letters are fixed positions: A is worth 1.
func chart(rows ...string) Site {
	s := Site{Spec: Spec{WidthM: 2, HeightM: 1, GapUM: 0.1, GapVM: 0.2}}
	return s.or(rows...)
}

// or adds a drawing as one more alternative.
func (s Site) or(rows ...string) Site {
	var rects []Rect
	var values []float64
	var fixed []bool
	for r := range rows {
		for c, x := range rows[len(rows)-1-r] {
			if x == '.' {
				continue
			}
			rects = append(rects, Rect{2.1 * float64(c), 1.2 * float64(r), 2, 1})
			held := x >= 'A'
			if fixed = append(fixed, held); held {
				x += '1' - 'A'
			}
			values = append(values, float64(x-'0'))
		}
	}
	s.Alternatives, s.Values, s.Fixed = append(s.Alternatives, rects), append(s.Values, values), append(s.Fixed, fixed)
	return s
}

// upTo limits the positions of a plane.
func (s Site) upTo(n int) Site {
	s.Limit = &n
	return s
}

func TestChoose(t *testing.T) {
	row := chart("12345")
	for _, c := range []struct {
		name   string
		planes []Site
		n, k   int
		// want is the alternative and what is taken on each plane.
		alts   []int
		want   [][]int
		value  float64
		blocks int
		over   bool
	}{
		{"no planes", nil, 3, 1, []int{}, [][]int{}, 0, 0, false},
		{"a plane without positions", []Site{{}, row}, 1, 1, []int{-1, 0}, [][]int{{}, {4}}, 5, 1, false},
		{"none wanted", []Site{row}, 0, 2, []int{0}, [][]int{{}}, 0, 0, false},
		{"fewer than none", []Site{row}, -4, 2, []int{0}, [][]int{{}}, 0, 0, false},
		{"more than there are", []Site{row}, 9, 1, []int{0}, [][]int{{0, 1, 2, 3, 4}}, 15, 1, false},
		{"the highest values, no limit", []Site{chart("19191")}, 2, 0, []int{0}, [][]int{{1, 3}}, 18, 2, false},
		{"one block", []Site{chart("19291")}, 2, 1, []int{0}, [][]int{{1, 2}}, 11, 1, false},
		{"values below zero are no reason to take fewer", []Site{{
			Spec: row.Spec, Alternatives: row.Alternatives, Values: [][]float64{{-5, -1, -4, -2, -3}},
		}}, 2, 0, []int{0}, [][]int{{1, 3}}, -3, 2, false},
		// The square of 4 beats the row of 4.
		{"an array of rows", []Site{chart(
			"188",
			"188",
			"555",
			"955",
		)}, 4, 1, []int{0}, [][]int{{7, 8, 10, 11}}, 32, 1, false},
		{"a block cannot have a hole", []Site{chart(
			"99",
			"9.",
			"99",
		)}, 4, 1, []int{0}, [][]int{{0, 1, 3, 4}}, 36, 2, true},
		{"around a hole", []Site{chart(
			"111",
			"1.1",
			"111",
		)}, 8, 4, []int{0}, [][]int{{0, 1, 2, 3, 4, 5, 6, 7}}, 8, 4, false},
		// 5 in one row; two rows of 5 wide would be 10.
		{"seven of ten need two blocks", []Site{chart(
			"11111",
			"11111",
		)}, 7, 1, []int{0}, [][]int{{0, 1, 2, 3, 4, 5, 6}}, 7, 2, true},
		{"equal values go to fewer blocks", []Site{chart(
			"5.5",
			"55.",
		)}, 2, 0, []int{0}, [][]int{{0, 1}}, 10, 1, false},
		{"then to fewer rail runs", []Site{chart(
			"33",
			"33",
		)}, 2, 0, []int{0}, [][]int{{0, 1}}, 6, 1, false},
		{"then lower and to the left", []Site{chart(
			"333",
			"333",
		)}, 2, 1, []int{0}, [][]int{{0, 1}}, 6, 1, false},
		{"then to fewer positions on the last plane", []Site{row, row}, 1, 1, []int{0, 0}, [][]int{{4}, {}}, 5, 1, false},
		{"then to the earlier alternative", []Site{row.or("12345")}, 1, 1, []int{0}, [][]int{{4}}, 5, 1, false},
		{"the better alternative", []Site{chart("99.99").or("9999")}, 4, 1, []int{1}, [][]int{{0, 1, 2, 3}}, 36, 1, false},
		{"another alternative where blocks are plenty", []Site{chart("99.99").or("9919")}, 4, 2, []int{0}, [][]int{{0, 1, 2, 3}}, 36, 2, false},
		{"the fewest blocks, then value", []Site{chart("9.1"), chart("8.7"), chart("6.5")}, 3, 2, []int{0, 0, 0}, [][]int{{0}, {0, 1}, {}}, 24, 3, true},
		{"blocks go where they are worth most", []Site{chart("9.1"), chart("88.77"), chart("66")}, 4, 2, []int{0, 0, 0}, [][]int{{}, {0, 1, 2, 3}, {}}, 30, 2, false},
		{"a limit of a plane", []Site{chart("999").upTo(1), chart("11")}, 3, 2, []int{0, 0}, [][]int{{0}, {0, 1}}, 11, 2, false},
		{"a limit of none", []Site{chart("999").upTo(0), chart("11")}, 3, 2, []int{0, 0}, [][]int{{}, {0, 1}}, 2, 1, false},
		{"fixed positions stay", []Site{chart("A2399")}, 2, 0, []int{0}, [][]int{{0, 3}}, 10, 2, false},
		{"fixed positions are built on", []Site{chart("A2399")}, 2, 1, []int{0}, [][]int{{0, 1}}, 3, 1, false},
		{"fixed positions alone are too many", []Site{chart("A2A99")}, 1, 1, []int{0}, [][]int{{0, 2}}, 2, 2, true},
	} {
		for _, b := range []Budget{Drag, Deep} {
			got, err := Choose(context.Background(), c.planes, c.n, c.k, b)
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
				continue
			}
			if !slices.Equal(got.Alternative, c.alts) || !slices.EqualFunc(got.Taken, c.want, slices.Equal) {
				t.Errorf("%s: alternatives %v of %v, want %v of %v", c.name, got.Taken, got.Alternative, c.want, c.alts)
			}
			if got.Value != c.value || got.Tidiness.Blocks != c.blocks || got.Over != c.over || !got.Proved || got.Bound != c.value {
				t.Errorf("%s: %+v, want value %g in %d blocks, over %v", c.name, got, c.value, c.blocks, c.over)
			}
		}
	}
}

func TestChooseStates(t *testing.T) {
	turned := chart("1")
	turned.Alternatives[0][0].WM, turned.Alternatives[0][0].HM = 1, 2
	got, err := Choose(context.Background(), []Site{chart("22", "22"), turned}, 5, 1, Drag)
	if err != nil {
		t.Fatal(err)
	}
	if want := (Tidiness{RailRuns: 3, Blocks: 2, Turns: 2}); got.Tidiness != want || got.Count != 5 || got.BlockLimit != 2 || !got.Over {
		t.Errorf("%+v, want %+v, 5 positions, over the limit, which becomes 2", got, want)
	}
}

func TestChooseErrors(t *testing.T) {
	bad := func(change func(*Site)) []Site {
		s := chart("12")
		change(&s)
		return []Site{chart("1"), s}
	}
	for _, c := range []struct {
		name   string
		planes []Site
		blocks int
		want   string
	}{
		{"blocks below zero", nil, -1, "maxBlocks: -1 is outside 0 to"},
		{"no values", bad(func(s *Site) { s.Values = nil }), 0, "planes[1]: 0 lists of Values for 1 alternatives"},
		{"a value missing", bad(func(s *Site) { s.Values[0] = s.Values[0][:1] }), 0, "planes[1]: alternative 0: 1 Values for 2 positions"},
		{"not a number", bad(func(s *Site) { s.Values[0][1] = math.NaN() }), 0, "planes[1]: alternative 0: position 1: Values: NaN is outside -1e+06 to 1e+06"},
		{"a value too high", bad(func(s *Site) { s.Values[0][1] = 2e6 }), 0, "Values: 2e+06 is outside"},
		{"a place without end", bad(func(s *Site) { s.Alternatives[0][1].UM = math.Inf(1) }), 0, "position 1: its place is not finite"},
		{"marks missing", bad(func(s *Site) { s.Fixed[0] = s.Fixed[0][:1] }), 0, "1 marks Fixed for 2 positions"},
		{"lists of marks missing", bad(func(s *Site) { s.Fixed = [][]bool{} }), 0, "0 lists of Fixed for 1 alternatives"},
		{"unlike marks", []Site{chart("AA").or("AB1").or("A11")}, 0, "1 positions Fixed of alternative 2 and 2 of alternative 0, want as many"},
		{"a limit below zero", bad(func(s *Site) { *s = s.upTo(-1) }), 0, "planes[1]: Limit: -1 is outside 0 to"},
		{"a limit below what is fixed", []Site{chart("AA1").upTo(1)}, 0, "planes[0]: Limit: 1 is outside 2 to"},
	} {
		_, err := Choose(context.Background(), c.planes, 1, c.blocks, Drag)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
		var r *RangeError
		if strings.Contains(c.want, "outside") && !errors.As(err, &r) {
			t.Errorf("%s: %T is no RangeError", c.name, err)
		}
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Choose(stopped, []Site{chart("12")}, 1, 1, Drag); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// Values that differ by rounding alone do not cost a block.
func TestChooseRoundsValues(t *testing.T) {
	s := chart("5.55")
	s.Values[0][0] += 1e-12
	got, err := Choose(context.Background(), []Site{s}, 2, 0, Drag)
	if err != nil || !slices.Equal(got.Taken[0], []int{1, 2}) {
		t.Errorf("%+v, %v: want the two side by side", got, err)
	}
}

// Rows too wide for masks: three stretches of 9 far apart, ones between. Nine
// positions in two blocks are two stretches and three more: 57. One block has
// one stretch: 33.
func TestChooseFromWideRows(t *testing.T) {
	row := []byte(strings.Repeat("1", 90))
	for _, at := range []int{5, 40, 80} {
		copy(row[at:], "999")
	}
	for _, c := range []struct {
		k    int
		want float64
	}{{1, 33}, {2, 57}, {3, 81}} {
		for _, b := range []Budget{Drag, Deep} {
			got, err := Choose(context.Background(), []Site{chart(string(row))}, 9, c.k, b)
			if err != nil || got.Value > c.want || got.Bound < c.want || got.Tidiness.Blocks > c.k || got.Proved && got.Value != c.want {
				t.Errorf("%d blocks: %+v, %v; the best is %g", c.k, got, err, c.want)
			}
			if c.k != 2 && !got.Proved {
				t.Errorf("%d blocks: not proved: %+v", c.k, got)
			}
		}
	}
}

// Their masks do not fit a word: prices must keep off them, however many
// positions and blocks there are.
func TestSettleKeepsOffWideRows(t *testing.T) {
	c, err := newChooser(context.Background(), []Site{chart(strings.Repeat("1", 99))}, 90, 9, deepChooseSteps)
	if err != nil {
		t.Fatal(err)
	}
	if s := c.newSettler(c.plan(9, 0), 9); s != nil {
		t.Errorf("it would look at %d masks", len(s.all[0][0][0].sets[0].masks))
	}
}
