package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// roof is a test roof and what its edges are: for each plane, kind, true
// length and the plane across, in any order.
type roof struct {
	name   string
	planes []Plane
	want   map[string][]string
}

// tan30 and the true length of 1 m of plan up a slope of 30 degrees.
var (
	tan30 = math.Tan(math.Pi / 6)
	sec30 = 1 / math.Cos(math.Pi/6)
)

func piecef(kind EdgeKind, lengthM float64, across ...string) string {
	return strings.TrimSpace(fmt.Sprintf("%s %.3f %s", kind, lengthM, strings.Join(across, "")))
}

// slant is the true length of an edge with plan distances du along the eave
// and dw up the slope at a pitch.
func slant(du, dw, pitchDeg float64) float64 {
	return math.Hypot(du, dw/math.Cos(pitchDeg*math.Pi/180))
}

func tanDeg(deg float64) float64 { return math.Tan(deg * math.Pi / 180) }

func simpleRoofs() []roof {
	return []roof{
		{
			// +--------+
			// |   n    |
			// +========+ ridge
			// |   s    |
			// +--------+
			name: "gable",
			planes: []Plane{
				plane("s", 30, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4),
				plane("n", 30, 0, 3, 0, 4, 10, 4, 10, 8, 0, 8),
			},
			want: map[string][]string{
				"s": {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Ridge, 10, "n"), piecef(Rake, 4*sec30)},
				"n": {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Ridge, 10, "s"), piecef(Rake, 4*sec30)},
			},
		},
		{
			// +--------+
			// |\  n   /|
			// |w====== e|
			// |/  s   \|
			// +--------+
			name: "hip",
			planes: []Plane{
				plane("s", 30, 180, 3, 0, 0, 10, 0, 7, 3, 3, 3),
				plane("e", 30, 90, 3, 10, 0, 10, 6, 7, 3),
				plane("n", 30, 0, 3, 10, 6, 0, 6, 3, 3, 7, 3),
				plane("w", 30, 270, 3, 0, 6, 0, 0, 3, 3),
			},
			want: map[string][]string{
				"s": {piecef(Eave, 10), piecef(Hip, slant(3, 3, 30), "e"), piecef(Ridge, 4, "n"), piecef(Hip, slant(3, 3, 30), "w")},
				"e": {piecef(Eave, 6), piecef(Hip, slant(3, 3, 30), "s"), piecef(Hip, slant(3, 3, 30), "n")},
				"n": {piecef(Eave, 10), piecef(Hip, slant(3, 3, 30), "e"), piecef(Ridge, 4, "s"), piecef(Hip, slant(3, 3, 30), "w")},
				"w": {piecef(Eave, 6), piecef(Hip, slant(3, 3, 30), "s"), piecef(Hip, slant(3, 3, 30), "n")},
			},
		},
		{
			// One plane, high edge in the north.
			name:   "shed",
			planes: []Plane{plane("s", 30, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4)},
			want: map[string][]string{
				"s": {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Ridge, 10), piecef(Rake, 4*sec30)},
			},
		},
		{
			// A hip end drawn alone: the slanting edges are free.
			name:   "hip end alone",
			planes: []Plane{plane("s", 30, 180, 3, 0, 0, 6, 0, 3, 3)},
			want: map[string][]string{
				"s": {piecef(Eave, 6), piecef(Rake, slant(3, 3, 30)), piecef(Rake, slant(3, 3, 30))},
			},
		},
		{
			// One slope drawn as two planes side by side.
			name: "side by side",
			planes: []Plane{
				plane("l", 30, 180, 3, 0, 0, 5, 0, 5, 4, 0, 4),
				plane("r", 30, 180, 3, 5, 0, 9, 0, 9, 4, 5, 4),
			},
			want: map[string][]string{
				"l": {piecef(Eave, 5), piecef(Break, 4*sec30, "r"), piecef(Ridge, 5), piecef(Rake, 4*sec30)},
				"r": {piecef(Eave, 4), piecef(Rake, 4*sec30), piecef(Ridge, 4), piecef(Break, 4*sec30, "l")},
			},
		},
		{
			// Two planes that fall towards each other: a butterfly roof.
			name: "butterfly",
			planes: []Plane{
				plane("s", 30, 0, 3, 0, 0, 10, 0, 10, 4, 0, 4),
				plane("n", 30, 180, 3, 0, 4, 10, 4, 10, 8, 0, 8),
			},
			want: map[string][]string{
				"s": {piecef(Ridge, 10), piecef(Rake, 4*sec30), piecef(Valley, 10, "n"), piecef(Rake, 4*sec30)},
				"n": {piecef(Ridge, 10), piecef(Rake, 4*sec30), piecef(Valley, 10, "s"), piecef(Rake, 4*sec30)},
			},
		},
		{
			// A level deck with a slope up to it.
			name: "level deck",
			planes: []Plane{
				plane("deck", 1.9, 77, 3+2*tan30, 0, 2, 8, 2, 8, 6, 0, 6),
				plane("s", 30, 180, 3, 0, 0, 8, 0, 8, 2, 0, 2),
			},
			want: map[string][]string{
				"deck": {piecef(Break, slant(8*math.Cos(77*math.Pi/180), 8*math.Sin(77*math.Pi/180), 1.9), "s"),
					piecef(Eave, slant(4*math.Sin(77*math.Pi/180), 4*math.Cos(77*math.Pi/180), 1.9)),
					piecef(Eave, slant(8*math.Cos(77*math.Pi/180), 8*math.Sin(77*math.Pi/180), 1.9)),
					piecef(Eave, slant(4*math.Sin(77*math.Pi/180), 4*math.Cos(77*math.Pi/180), 1.9))},
				"s": {piecef(Eave, 8), piecef(Rake, 2*sec30), piecef(Break, 8, "deck"), piecef(Rake, 2*sec30)},
			},
		},
	}
}

func joinedRoofs() []roof {
	c40 := 1 / math.Cos(40*math.Pi/180)
	t40 := tanDeg(40)
	return []roof{
		{
			// Two gables of one width meet at the corner of an L.
			//
			// +------------+
			// |\     n     |
			// | \==========+
			// |  #\   s    |
			// |  # \-------+
			// |w # e|
			// |  #  |
			// +--+--+
			name: "L gable, equal arms",
			planes: []Plane{
				plane("n", 30, 0, 3, 0, 6, 3, 3, 12, 3, 12, 6),
				plane("s", 30, 180, 3, 6, 0, 12, 0, 12, 3, 3, 3),
				plane("w", 30, 270, 3, 0, -6, 3, -6, 3, 3, 0, 6),
				plane("e", 30, 90, 3, 3, -6, 6, -6, 6, 0, 3, 3),
			},
			want: map[string][]string{
				"n": {piecef(Hip, slant(3, 3, 30), "w"), piecef(Ridge, 9, "s"), piecef(Rake, 3*sec30), piecef(Eave, 12)},
				"s": {piecef(Eave, 6), piecef(Rake, 3*sec30), piecef(Ridge, 9, "n"), piecef(Valley, slant(3, 3, 30), "e")},
				"w": {piecef(Rake, 3*sec30), piecef(Ridge, 9, "e"), piecef(Hip, slant(3, 3, 30), "n"), piecef(Eave, 12)},
				"e": {piecef(Rake, 3*sec30), piecef(Eave, 6), piecef(Valley, slant(3, 3, 30), "s"), piecef(Ridge, 9, "w")},
			},
		},
		{
			// A lower wing runs into the long slope.
			//
			// +----------------+
			// |        n       |
			// +================+
			// |   s   /\       |
			// +------/# \------+
			//        |#  |
			//      w |#  | e
			//        +---+
			name: "L gable, lower wing",
			planes: []Plane{
				plane("s", 30, 180, 3, 0, 0, 2, 0, 5, 3, 8, 0, 12, 0, 12, 4, 0, 4),
				plane("n", 30, 0, 3, 0, 4, 12, 4, 12, 8, 0, 8),
				plane("w", 30, 270, 3, 2, -5, 5, -5, 5, 3, 2, 0),
				plane("e", 30, 90, 3, 5, -5, 8, -5, 8, 0, 5, 3),
			},
			want: map[string][]string{
				"s": {piecef(Eave, 2), piecef(Valley, slant(3, 3, 30), "w"), piecef(Valley, slant(3, 3, 30), "e"), piecef(Eave, 4),
					piecef(Rake, 4*sec30), piecef(Ridge, 12, "n"), piecef(Rake, 4*sec30)},
				"n": {piecef(Ridge, 12, "s"), piecef(Rake, 4*sec30), piecef(Eave, 12), piecef(Rake, 4*sec30)},
				"w": {piecef(Rake, 3*sec30), piecef(Ridge, 8, "e"), piecef(Valley, slant(3, 3, 30), "s"), piecef(Eave, 5)},
				"e": {piecef(Rake, 3*sec30), piecef(Eave, 5), piecef(Valley, slant(3, 3, 30), "s"), piecef(Ridge, 8, "w")},
			},
		},
		{
			// Steep below, gentle above.
			name: "gambrel",
			planes: []Plane{
				plane("lower", 60, 180, 3, 0, 0, 10, 0, 10, 2, 0, 2),
				plane("upper", 25, 180, 3+2*tanDeg(60), 0, 2, 10, 2, 10, 5, 0, 5),
				plane("back", 25, 0, 3+2*tanDeg(60), 0, 5, 10, 5, 10, 8, 0, 8),
			},
			want: map[string][]string{
				"lower": {piecef(Eave, 10), piecef(Rake, 4), piecef(Break, 10, "upper"), piecef(Rake, 4)},
				"upper": {piecef(Break, 10, "lower"), piecef(Rake, slant(0, 3, 25)), piecef(Ridge, 10, "back"), piecef(Rake, slant(0, 3, 25))},
				"back":  {piecef(Ridge, 10, "upper"), piecef(Rake, slant(0, 3, 25)), piecef(Eave, 10), piecef(Rake, slant(0, 3, 25))},
			},
		},
		{
			// A gabled dormer whose front stands on the eave, with cheeks 2.5 m
			// deep and valleys from there to its ridge.
			//
			// +------------------+
			// |  main   /\       |
			// |        /  \      |
			// |       |l r|      |
			// +-------+----+-----+
			name: "dormer notch",
			planes: []Plane{
				plane("main", 40, 180, 3, 0, 0, 5, 0, 5, 2.5, 6, 3.5, 7, 2.5, 7, 0, 12, 0, 12, 6, 0, 6),
				plane("l", 40, 270, 3+2.5*t40, 5, 0, 6, 0, 6, 3.5, 5, 2.5),
				plane("r", 40, 90, 3+2.5*t40, 7, 0, 7, 2.5, 6, 3.5, 6, 0),
			},
			want: map[string][]string{
				"main": {piecef(Eave, 5), piecef(Wall, 2.5*c40, "l"), piecef(Valley, slant(1, 1, 40), "l"),
					piecef(Valley, slant(1, 1, 40), "r"), piecef(Wall, 2.5*c40, "r"), piecef(Eave, 5),
					piecef(Rake, 6*c40), piecef(Ridge, 12), piecef(Rake, 6*c40)},
				"l": {piecef(Rake, 1*c40), piecef(Ridge, 3.5, "r"), piecef(Valley, slant(1, 1, 40), "main"), piecef(Eave, 2.5)},
				"r": {piecef(Rake, 1*c40), piecef(Ridge, 3.5, "l"), piecef(Valley, slant(1, 1, 40), "main"), piecef(Eave, 2.5)},
			},
		},
		{
			// The same dormer 1 m up the slope; the main slope is drawn as two
			// planes, left and right of the dormer's ridge.
			name: "dormer in mid slope",
			planes: []Plane{
				plane("a", 40, 180, 3, 0, 0, 6, 0, 6, 1, 5, 1, 5, 2.5, 6, 3.5, 6, 6, 0, 6),
				plane("b", 40, 180, 3, 6, 0, 12, 0, 12, 6, 6, 6, 6, 3.5, 7, 2.5, 7, 1, 6, 1),
				plane("l", 40, 270, 3+2.5*t40, 5, 1, 6, 1, 6, 3.5, 5, 2.5),
				plane("r", 40, 90, 3+2.5*t40, 7, 1, 7, 2.5, 6, 3.5, 6, 1),
			},
			want: map[string][]string{
				"a": {piecef(Eave, 6), piecef(Break, 1*c40, "b"), piecef(Wall, 1, "l"), piecef(Wall, 1.5*c40, "l"),
					piecef(Valley, slant(1, 1, 40), "l"), piecef(Break, 2.5*c40, "b"), piecef(Ridge, 6), piecef(Rake, 6*c40)},
				"b": {piecef(Eave, 6), piecef(Break, 1*c40, "a"), piecef(Wall, 1, "r"), piecef(Wall, 1.5*c40, "r"),
					piecef(Valley, slant(1, 1, 40), "r"), piecef(Break, 2.5*c40, "a"), piecef(Ridge, 6), piecef(Rake, 6*c40)},
				"l": {piecef(Rake, 1*c40), piecef(Ridge, 2.5, "r"), piecef(Valley, slant(1, 1, 40), "a"), piecef(Eave, 1.5)},
				"r": {piecef(Rake, 1*c40), piecef(Ridge, 2.5, "l"), piecef(Valley, slant(1, 1, 40), "b"), piecef(Eave, 1.5)},
			},
		},
	}
}

func wallRoofs() []roof {
	return []roof{
		{
			// A lean-to under the middle of a higher eave:
			//
			//    +-----+
			//    | hi  |
			// +--+=====+---+
			// |     lo     |
			// +------------+
			name: "offset-height wall",
			planes: []Plane{
				plane("lo", 30, 180, 2, 0, 0, 10, 0, 10, 3, 0, 3),
				plane("hi", 30, 180, 6, 2, 3, 7, 3, 7, 8, 2, 8),
			},
			want: map[string][]string{
				"lo": {piecef(Eave, 10), piecef(Rake, 3*sec30), piecef(Ridge, 3), piecef(Wall, 5, "hi"), piecef(Ridge, 2), piecef(Rake, 3*sec30)},
				"hi": {piecef(Eave, 5), piecef(Rake, 5*sec30), piecef(Ridge, 5), piecef(Rake, 5*sec30)},
			},
		},
		{
			// Two slopes back to back at different heights.
			name: "clerestory",
			planes: []Plane{
				plane("s", 30, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4),
				plane("n", 30, 0, 4, 0, 4, 10, 4, 10, 9, 0, 9),
			},
			want: map[string][]string{
				"s": {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Wall, 10, "n"), piecef(Rake, 4*sec30)},
				"n": {piecef(Ridge, 10), piecef(Rake, 5*sec30), piecef(Eave, 10), piecef(Rake, 5*sec30)},
			},
		},
		{
			// Three sheds in a row, the foot of each at the head of the last,
			// 1 m lower.
			name: "sawtooth",
			planes: []Plane{
				plane("a", 30, 180, 3, 0, 0, 8, 0, 8, 3, 0, 3),
				plane("b", 30, 180, 3+3*tan30-1, 0, 3, 8, 3, 8, 6, 0, 6),
				plane("c", 30, 180, 3+6*tan30-2, 0, 6, 8, 6, 8, 9, 0, 9),
			},
			want: map[string][]string{
				"a": {piecef(Eave, 8), piecef(Rake, 3*sec30), piecef(Ridge, 8), piecef(Rake, 3*sec30)},
				"b": {piecef(Wall, 8, "a"), piecef(Rake, 3*sec30), piecef(Ridge, 8), piecef(Rake, 3*sec30)},
				"c": {piecef(Wall, 8, "b"), piecef(Rake, 3*sec30), piecef(Ridge, 8), piecef(Rake, 3*sec30)},
			},
		},
		{
			// A gentle and a steep slope side by side, whose heights cross at
			// y = 2 / (1 - tan 20): within 20 mm for 63 mm of plan either
			// way of it, too short a run to be shared, so the crossing goes to
			// the free stretch.
			name: "heights cross",
			planes: []Plane{
				plane("l", 20, 180, 3, 0, 0, 4, 0, 4, 6, 0, 6),
				plane("r", 45, 180, 1, 4, 0, 8, 0, 8, 6, 4, 6),
			},
			want: map[string][]string{
				"l": {piecef(Eave, 4), piecef(Rake, slant(0, 6, 20)), piecef(Ridge, 4),
					piecef(Rake, slant(0, crossY+crossBand, 20)), piecef(Wall, slant(0, 6-crossY-crossBand, 20), "r")},
				"r": {piecef(Eave, 4), piecef(Rake, slant(0, 6, 45)), piecef(Ridge, 4),
					piecef(Wall, slant(0, crossY-crossBand, 45), "l"), piecef(Rake, slant(0, 6-crossY+crossBand, 45))},
			},
		},
		{
			// The same fall on both, one directly above the other's eave:
			// they face the same way, so nothing meets.
			name: "one above the other",
			planes: []Plane{
				plane("lo", 30, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4),
				plane("hi", 30, 180, 6, 0, 0, 10, 0, 10, 4, 0, 4),
			},
			want: map[string][]string{
				"lo": {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Ridge, 10), piecef(Rake, 4*sec30)},
				"hi": {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Ridge, 10), piecef(Rake, 4*sec30)},
			},
		},
		{
			// A gable with a higher roof over its north slope: at the gable's
			// ridge the slopes meet, whatever hangs above.
			name: "roof above a shared ridge",
			planes: []Plane{
				plane("s", 30, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4),
				plane("hi", 30, 0, 8, 0, 4, 10, 4, 10, 8, 0, 8),
				plane("n", 30, 0, 3, 0, 4, 10, 4, 10, 8, 0, 8),
			},
			want: map[string][]string{
				"s":  {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Ridge, 10, "n"), piecef(Rake, 4*sec30)},
				"n":  {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Ridge, 10, "s"), piecef(Rake, 4*sec30)},
				"hi": {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Ridge, 10), piecef(Rake, 4*sec30)},
			},
		},
		{
			// Two slopes meet a third: one exactly, one 15 mm off. The closer
			// one is across.
			name: "the closer of two",
			planes: []Plane{
				plane("s", 30, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4),
				plane("off", 45, 0, 3+4*tan30+0.015-3, 0, 4, 10, 4, 10, 7, 0, 7),
				plane("n", 30, 0, 3, 0, 4, 10, 4, 10, 8, 0, 8),
			},
			want: map[string][]string{
				"s":   {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Ridge, 10, "n"), piecef(Rake, 4*sec30)},
				"n":   {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Ridge, 10, "s"), piecef(Rake, 4*sec30)},
				"off": {piecef(Eave, 10), piecef(Rake, 3*math.Sqrt2), piecef(Ridge, 10, "s"), piecef(Rake, 3*math.Sqrt2)},
			},
		},
		{
			// A lean-to that ends in the middle of a slope touches no edge.
			name: "against the inside of a plane",
			planes: []Plane{
				plane("main", 30, 180, 6, 0, 0, 10, 0, 10, 4, 0, 4),
				plane("lean", 30, 180, 2, 2, -2, 8, -2, 8, 1, 2, 1),
			},
			want: map[string][]string{
				"main": {piecef(Eave, 10), piecef(Rake, 4*sec30), piecef(Ridge, 10), piecef(Rake, 4*sec30)},
				"lean": {piecef(Eave, 6), piecef(Rake, 3*sec30), piecef(Ridge, 6), piecef(Rake, 3*sec30)},
			},
		},
	}
}

var (
	crossY    = 2 / (1 - tanDeg(20))
	crossBand = 0.020 / (1 - tanDeg(20))
)

func allRoofs() []roof {
	return slices.Concat(simpleRoofs(), joinedRoofs(), wallRoofs())
}

func TestEdgeKinds(t *testing.T) {
	for _, r := range allRoofs() {
		for _, w := range worlds() {
			t.Run(r.name+"/"+w.name, func(t *testing.T) {
				planes := w.planes(r.planes)
				for i, edges := range Edges(planes) {
					checkPieces(t, planes[i], edges, r.want[planes[i].ID])
				}
			})
		}
	}
}

// checkPieces compares the pieces of a plane with what is wanted and checks
// that they run once around it.
func checkPieces(t *testing.T, p Plane, edges []Edge, want []string) {
	t.Helper()
	var got []string
	for k, e := range edges {
		got = append(got, piecef(e.Kind, e.LengthM, e.SharedWith))
		next := edges[(k+1)%len(edges)]
		if e.To != next.From {
			t.Errorf("plane %s: piece %d ends at %v, the next starts at %v", p.ID, k, e.To, next.From)
		}
		if !e.Guessed || e.Street {
			t.Errorf("plane %s: piece %d: guessed %v, street %v", p.ID, k, e.Guessed, e.Street)
		}
		if next.Index != e.Index && e.To != p.Ring[next.Index].At {
			t.Errorf("plane %s: piece %d does not end at corner %d", p.ID, k, next.Index)
		}
	}
	slices.Sort(got)
	want = slices.Sorted(slices.Values(want))
	if !slices.Equal(got, want) {
		t.Errorf("plane %s:\ngot  %q\nwant %q", p.ID, got, want)
	}
}

// Any world, not only those of the table.
func TestEdgeKindsAnyWorld(t *testing.T) {
	roofs := allRoofs()
	rapid.Check(t, func(rt *rapid.T) {
		r := rapid.SampledFrom(roofs).Draw(rt, "roof")
		w := world{
			dx:       rapid.Float64Range(-4900, 4900).Draw(rt, "dx"),
			dy:       rapid.Float64Range(-4900, 4900).Draw(rt, "dy"),
			turnDeg:  rapid.Float64Range(0, 359.99).Draw(rt, "turn"),
			reversed: rapid.Bool().Draw(rt, "reversed"),
			first:    rapid.IntRange(0, 3).Draw(rt, "first"),
		}
		for i, edges := range Edges(w.planes(r.planes)) {
			var got []string
			for _, e := range edges {
				got = append(got, piecef(e.Kind, e.LengthM, e.SharedWith))
			}
			slices.Sort(got)
			if want := slices.Sorted(slices.Values(r.want[r.planes[i].ID])); !slices.Equal(got, want) {
				rt.Fatalf("%s, plane %s:\ngot  %q\nwant %q", r.name, r.planes[i].ID, got, want)
			}
		}
	})
}

// The order of the planes does not matter.
func TestEdgesIgnorePlaneOrder(t *testing.T) {
	for _, r := range allRoofs() {
		planes := slices.Clone(r.planes)
		slices.Reverse(planes)
		for i, edges := range Edges(planes) {
			checkPieces(t, planes[i], edges, r.want[planes[i].ID])
		}
	}
}

func TestEdgeOverrideAndStreet(t *testing.T) {
	roofs := wallRoofs()
	planes := slices.Clone(roofs[0].planes)
	ring := slices.Clone(planes[0].Ring)
	ring[2].Kind = PartyWall // the edge split into ridge, wall, ridge
	ring[1].Street = true
	planes[0].Ring = ring
	edges := Edges(planes)[0]
	if len(edges) != 4 {
		t.Fatalf("%d pieces, want 4: %+v", len(edges), edges)
	}
	if e := edges[2]; e.Kind != PartyWall || e.Guessed || e.Index != 2 || !near(e.LengthM, 10, 1e-9) {
		t.Errorf("overridden edge: %+v", e)
	}
	for i, e := range edges {
		if e.Street != (i == 1) {
			t.Errorf("edge %d: street %v", i, e.Street)
		}
	}
	if e := edges[1]; !near(e.FromHeightM, 2, 1e-9) || !near(e.ToHeightM, 2+3*tan30, 1e-9) {
		t.Errorf("heights of the rake: %+v", e)
	}
}

// A street edge that is split keeps its flag on every piece.
func TestStreetOnEveryPiece(t *testing.T) {
	planes := slices.Clone(wallRoofs()[0].planes)
	ring := slices.Clone(planes[0].Ring)
	ring[2].Street = true
	planes[0].Ring = ring
	n := 0
	for _, e := range Edges(planes)[0] {
		if e.Street != (e.Index == 2) {
			t.Errorf("%+v", e)
		}
		if e.Street {
			n++
		}
	}
	if n != 3 {
		t.Errorf("%d street pieces, want 3", n)
	}
}

// A level plane's azimuth only turns its rows: the kinds stay.
func TestLevelPlaneKindsIgnoreAzimuth(t *testing.T) {
	for az := 0.0; az < 360; az += 15 {
		planes := []Plane{
			plane("a", 1.5, az, 3, 0, 0, 10, 0, 10, 4, 0, 4),
			plane("b", 1, 0, 3, 10, 0, 20, 0, 20, 4, 10, 4),
		}
		var kinds []EdgeKind
		for _, e := range Edges(planes)[0] {
			kinds = append(kinds, e.Kind)
		}
		if want := []EdgeKind{Eave, Break, Eave, Eave}; !slices.Equal(kinds, want) {
			t.Errorf("azimuth %v: %v, want %v", az, kinds, want)
		}
	}
}

// An eave along the fall of one plane: the neighbour decides.
func TestNeutralCombinations(t *testing.T) {
	// r falls east or west, l falls north along the common edge x = 5; their
	// heights agree along it because r's edge climbs as l's does.
	mk := func(fall, across float64) side {
		return side{inFall: fall, fromH: 3, toH: 3 + across, lengthM: 5, dir: PlanPt{0, 1}}
	}
	for _, tc := range []struct {
		name string
		a, b side
		want EdgeKind
	}{
		{"away, away, level", mk(1, 0), mk(1, 0), Ridge},
		{"away, away, climbing", mk(0.7, 1), mk(0.7, 1), Hip},
		{"towards, towards", mk(-0.7, 1), mk(-0.7, 1), Valley},
		{"towards, towards, level", mk(-1, 0), mk(-1, 0), Valley},
		{"away, towards", mk(1, 0), mk(-1, 0), Break},
		{"along, along", mk(0, 1), mk(0, 1), Break},
		{"along, away", mk(0, 1), mk(0.5, 1), Hip},
		{"along, towards", mk(0, 1), mk(-0.5, 1), Valley},
		{"level plane, away", side{level: true, lengthM: 5}, mk(1, 0), Break},
		{"level plane, towards", side{level: true, lengthM: 5}, mk(-1, 0), Break},
	} {
		if got := sharedKind(tc.a, tc.b); got != tc.want {
			t.Errorf("%s: %s, want %s", tc.name, got, tc.want)
		}
		if got := sharedKind(tc.b, tc.a); got != tc.want {
			t.Errorf("%s, the other way: %s, want %s", tc.name, got, tc.want)
		}
	}
}

// Whatever the numbers, nothing panics and a bad plane takes no part.
func TestRoofGeometryNeverPanics(t *testing.T) {
	number := rapid.SampledFrom([]float64{0, 1, -1, 4, 30, 89, 90, 360, 1e-9, 4999.9999, 5001, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)})
	rapid.Check(t, func(rt *rapid.T) {
		point := func() PlanPt { return PlanPt{number.Draw(rt, "x"), number.Draw(rt, "y")} }
		var planes []Plane
		for range rapid.IntRange(0, 3).Draw(rt, "planes") {
			p := plane("p", number.Draw(rt, "pitch"), number.Draw(rt, "azimuth"), number.Draw(rt, "height"))
			for range rapid.IntRange(0, 4).Draw(rt, "corners") {
				p.Ring = append(p.Ring, Corner{At: point()})
			}
			planes = append(planes, p)
		}
		k := KeepOut{
			Kind: RoofWindow, Shape: rapid.SampledFrom([]ShapeKind{RectShape, CircleShape, PolygonShape}).Draw(rt, "shape"),
			Center: point(), WidthM: number.Draw(rt, "width"), DepthM: number.Draw(rt, "depth"),
			RadiusM: number.Draw(rt, "radius"), TurnDeg: number.Draw(rt, "turn"), ClearanceM: number.Draw(rt, "clearance"),
			Points: []PlanPt{point(), point(), point()},
		}
		edges := Edges(planes)
		k.Footprint(planes)
		for i, p := range planes {
			_, bad := NewFrame(p)
			if (bad != nil) != (len(edges[i]) == 0) {
				rt.Fatalf("plane %+v (%v) has edges %+v", p, bad, edges[i])
			}
			for _, rules := range RuleSets() {
				_, err := Usable(i, planes, edges, []KeepOut{k}, rules, true)
				if (err != nil) != (bad != nil || k.Check() != nil) {
					rt.Fatalf("plane %+v, keep-out %+v: %v", p, k, err)
				}
			}
			p.RidgeHeightM()
			p.SlopeAreaM2()
		}
	})
}

func TestEdgesOfBadPlanes(t *testing.T) {
	planes := []Plane{
		plane("bow tie", 30, 180, 3, 0, 0, 2, 2, 2, 0, 0, 2),
		plane("good", 30, 180, 3, 0, 0, 10, 0, 10, 4, 0, 4),
		{},
	}
	edges := Edges(planes)
	if len(edges) != 3 || len(edges[0]) != 0 || len(edges[1]) != 4 || len(edges[2]) != 0 {
		t.Errorf("%+v", edges)
	}
	if got := Edges(nil); len(got) != 0 {
		t.Errorf("no planes: %+v", got)
	}
}
