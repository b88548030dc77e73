package layout

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestCheckPacking(t *testing.T) {
	r := Region{Outer: rectRing(0, 0, 10, 5), Holes: []Ring{rectRing(4, 2, 5, 3)}}
	s := Spec{WidthM: 2, HeightM: 1, GapUM: 0.1, GapVM: 0.2}
	held := s
	held.EndM = 0.05
	upright := s
	upright.Turns = []Turn{AsGiven}
	nan := math.NaN()
	for _, c := range []struct {
		name    string
		s       Spec
		modules []Rect
		want    string // empty when valid
	}{
		{"none", s, nil, ""},
		{"touching outline and hole", s, []Rect{{0, 0, 2, 1}, {2, 2, 2, 1}, {4.2, 3, 2, 1}, {9, 3, 1, 2}}, ""},
		{"0.9 um outside", s, []Rect{{-9e-7, 0, 2, 1}}, ""},
		{"1.2 um outside", s, []Rect{{3, 3, 2, 1}, {-1.2e-6, 0, 2, 1}}, "module 1 at (-1.2e-06, 0): only"},
		{"above the top", s, []Rect{{0, 4.000002, 2, 1}}, "module 0"},
		{"far away", s, []Rect{{20, 20, 2, 1}}, "module 0"},
		{"1.2 um into the hole", s, []Rect{{2.0000012, 2, 2, 1}}, "overlaps holes[0]"},
		{"around the hole", s, []Rect{{3.5, 2, 2, 1}}, "overlaps holes[0]"},
		{"end allowance into the outline", held, []Rect{{0.04, 0, 2, 1}}, "module 0"},
		{"end allowance kept", held, []Rect{{0.05, 0, 2, 1}, {2.15, 0, 2, 1}}, ""},
		{"end allowance into the hole", held, []Rect{{1.97, 2, 2, 1}}, "overlaps"},
		{"wrong size", s, []Rect{{0, 0, 2, 1.00001}}, "size"},
		{"turn not allowed", upright, []Rect{{0, 0, 1, 2}}, "size"},
		{"not finite", s, []Rect{{nan, 0, 2, 1}}, "finite"},
		{"gap along u kept", s, []Rect{{0, 0, 2, 1}, {2.1, 0.5, 2, 1}}, ""},
		{"gap along u 2 um short", s, []Rect{{2.099998, 0.5, 2, 1}, {0, 0, 2, 1}}, "modules 0 and 1"},
		{"gap along v kept", s, []Rect{{0, 0, 2, 1}, {1, 1.2, 2, 1}}, ""},
		{"gap along v 2 um short", s, []Rect{{0, 0, 2, 1}, {1, 1.199998, 2, 1}}, "modules 0 and 1"},
		{"the same twice", s, []Rect{{0, 0, 2, 1}, {0, 0, 2, 1}}, "modules 0 and 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := CheckPacking(r, c.s, c.modules)
			if got := errText(err); (c.want == "") != (err == nil) || !strings.Contains(got, c.want) {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func errText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

// Comparing near modules and holes alone finds what comparing all pairs does: places
// on a coarse raster, in no order, some of them overlapping.
func TestCheckPackingComparesAllThatMatters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string, top int) float64 { return float64(rapid.IntRange(0, top).Draw(t, name)) / 4 }
		s := Spec{WidthM: 0.5 + at("w", 8), HeightM: 1, GapUM: at("gap u", 4), GapVM: at("gap v", 4)}
		r := Region{Outer: rectRing(-100, -100, 100, 100)}
		var modules []Rect
		for range rapid.IntRange(0, 8).Draw(t, "holes") {
			u, v := at("hole u", 160), at("hole v", 40)
			r.Holes = append(r.Holes, rectRing(u, v, u+0.25+at("hole w", 20), v+0.25))
		}
		valid := true
		for range rapid.IntRange(1, 8).Draw(t, "modules") {
			m := s.placed(rapid.SampledFrom([]Turn{AsGiven, Turned}).Draw(t, "turn"))
			m.UM, m.VM = at("u", 160), at("v", 40)
			for _, h := range r.Holes {
				valid = valid && !(m.UM < h[2].UM && h[0].UM < m.UM+m.WM && m.VM < h[2].VM && h[0].VM < m.VM+m.HM)
			}
			for _, o := range modules {
				apartU := max(o.UM-m.UM-m.WM, m.UM-o.UM-o.WM)
				apartV := max(o.VM-m.VM-m.HM, m.VM-o.VM-o.HM)
				valid = valid && (apartU >= s.GapUM || apartV >= s.GapVM)
			}
			modules = append(modules, m)
		}
		if err := CheckPacking(r, s, modules); (err == nil) != valid {
			t.Fatalf("valid: %t, got %v", valid, err)
		}
	})
}

// Rings that touch, run either way, cross themselves or have no area.
func TestOverlaps(t *testing.T) {
	at := Rect{100, 100, 2, 1}
	for _, c := range []struct {
		name string
		ring Ring
		want bool
	}{
		{"nothing", nil, false},
		{"apart", rectRing(0, 0, 1, 1), false},
		{"touching a side", rectRing(102, 100, 103, 101), false},
		{"touching a corner", rectRing(102, 101, 103, 103), false},
		{"a hair over the side", rectRing(101.99999, 100, 103, 101), true},
		{"half a micrometre over the side", rectRing(101.9999995, 100, 103, 101), false},
		{"inside", rectRing(100.5, 100.5, 100.6, 100.6), true},
		{"clockwise inside", Ring{{100.5, 100.5}, {100.5, 100.6}, {100.6, 100.6}}, true},
		{"around", rectRing(90, 90, 110, 110), true},
		{"needle through", Ring{{90, 100.5}, {110, 100.5001}, {110, 100.5002}}, true},
		{"line through", Ring{{90, 100.5}, {110, 100.6}}, false},
		{"box meets, ring does not", Ring{{101, 103}, {104, 100}, {104, 103}}, false},
		{"corner cut by a slanted edge", Ring{{101, 101.5}, {102.5, 100}, {102.5, 101.5}}, true},
		{"bow tie, equal wings about the centre", Ring{{100.5, 100.25}, {101.5, 100.75}, {101.5, 100.25}, {100.5, 100.75}}, true},
		{"upright bow tie", Ring{{100.5, 100.25}, {101.5, 100.75}, {100.5, 100.75}, {101.5, 100.25}}, true},
	} {
		if got := Overlaps(at, c.ring); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
	}
}

// The area of a ring inside a rectangle, by arithmetic.
func TestRingInRect(t *testing.T) {
	at := Rect{0, 0, 2, 1}
	for _, c := range []struct {
		name string
		ring Ring
		area float64
	}{
		{"the rectangle itself", rectRing(0, 0, 2, 1), 2},
		{"the left half", rectRing(-5, -5, 1, 5), 1},
		{"triangle below the diagonal", Ring{{0, 0}, {2, 0}, {2, 1}}, 1},
		{"diamond about the centre", Ring{{1, -0.5}, {2, 0.5}, {1, 1.5}, {0, 0.5}}, 1.5},
		{"clockwise counts negative", Ring{{0, 0}, {0, 1}, {2, 1}, {2, 0}}, -2},
		{"wound around twice", append(rectRing(0, 0, 1, 1), rectRing(0, 0, 1, 1)...), 2},
	} {
		if got := ringInRect(at, c.ring).area; math.Abs(got-c.area) > 1e-12 {
			t.Errorf("%s: %g, want %g", c.name, got, c.area)
		}
	}
}
