package layout

import (
	"context"
	"errors"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func rectRing(u0, v0, u1, v1 float64) Ring { return Ring{{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}} }

func TestPackCounts(t *testing.T) {
	module := Spec{WidthM: 1.1, HeightM: 1.7, GapUM: 0.02, GapVM: 0.03}
	only := func(s Spec, turns ...Turn) Spec { s.Turns = turns; return s }
	end := func(s Spec, m float64) Spec { s.EndM = m; return s }
	for _, c := range []struct {
		name       string
		r          Region
		s          Spec
		rows, grid int
	}{
		{"one module fits exactly", Region{Outer: rectRing(0, 0, 1.1, 1.7)}, module, 1, 1},
		{"5 um too narrow for either turn", Region{Outer: rectRing(0, 0, 1.099995, 1.7)}, module, 0, 0},
		// 3 x 1.1 + 2 x 0.02 and 2 x 1.7 + 0.03.
		{"three by two exactly", Region{Outer: rectRing(0, 0, 3.34, 3.43)}, module, 6, 6},
		{"the gap up the slope is its own", Region{Outer: rectRing(0, 0, 3.34, 3.42)}, only(module, AsGiven), 3, 3},
		{"the gap along the eave is its own", Region{Outer: rectRing(0, 0, 3.33, 3.43)}, only(module, AsGiven), 4, 4},
		// Between modules of a run the gap takes the allowance's place.
		{"end allowance outside only", Region{Outer: rectRing(0, 0, 3.42, 1.7)}, end(only(module, AsGiven), 0.04), 3, 3},
		{"end allowance 5 um short", Region{Outer: rectRing(0, 0, 3.419995, 1.7)}, end(only(module, AsGiven), 0.04), 2, 2},
		{"allowance at a keep-out", Region{Outer: rectRing(0, 0, 4.36, 1.7), Holes: []Ring{rectRing(1.18, 0, 3.18, 1)}}, end(only(module, AsGiven), 0.04), 2, 1},
		{"turned only", Region{Outer: rectRing(0, 0, 1.1, 1.7)}, only(module, Turned), 0, 0},
		// 1.7 + 1.1 + 0.03 up, 3.42 along: 3 upright, 2 lying.
		{"mixed rows", Region{Outer: rectRing(0, 0, 3.42, 2.83)}, module, 5, 4},
		{"hole covers all", Region{Outer: rectRing(0, 0, 5, 5), Holes: []Ring{rectRing(-1, -1, 6, 6)}}, module, 0, 0},
		{"hole without area", Region{Outer: rectRing(0, 0, 1.1, 1.7), Holes: []Ring{{{0.5, -1}, {0.5, 3}}}}, module, 1, 1},
		{"hole outside", Region{Outer: rectRing(0, 0, 1.1, 1.7), Holes: []Ring{rectRing(2, 0, 3, 1)}}, module, 1, 1},
		{"hole along the outline", Region{Outer: rectRing(0, 0, 2, 1.7), Holes: []Ring{rectRing(1.1, 0, 2, 1.7)}}, module, 1, 1},
		{"hole 10 um wide", Region{Outer: rectRing(0, 0, 1.1, 1.7), Holes: []Ring{rectRing(0.5, 0, 0.50001, 1.7)}}, module, 0, 0},
		{"twice the same hole", Region{Outer: rectRing(0, 0, 2, 1.7), Holes: []Ring{rectRing(1.1, 0, 2, 1.7), rectRing(1.1, 0, 2, 1.7)}}, module, 1, 1},
		{"spike without width", Region{Outer: Ring{{0, 0}, {0.5, 0}, {0.5, 1}, {0.5, 0}, {1.1, 0}, {1.1, 1.7}, {0, 1.7}, {0, 0}}}, module, 1, 1},
		{"bow tie hole covers both wings", Region{Outer: rectRing(0, 0, 6, 1.7), Holes: []Ring{{{1, 0}, {5, 1.7}, {5, 0}, {1, 1.7}}}}, only(module, AsGiven), 0, 0},
		{"module larger than the region", Region{Outer: rectRing(0, 0, 0.5, 0.5)}, module, 0, 0},
		{"square module has one turn", Region{Outer: rectRing(0, 0, 2.02, 1)}, Spec{WidthM: 1, HeightM: 1, GapUM: 0.02}, 2, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			rows, grid := mustPack(t, c.r, c.s, Rows), mustPack(t, c.r, c.s, Grid)
			if len(rows.Modules) != c.rows || len(grid.Modules) != c.grid {
				t.Errorf("rows %d, grid %d; want %d, %d", len(rows.Modules), len(grid.Modules), c.rows, c.grid)
			}
		})
	}
}

// Flush modules lie exactly on the eave and at the wall, and a proved count is
// marked as such.
func TestPackFlush(t *testing.T) {
	r := Region{Outer: rectRing(250, 100, 253.34, 103.43)}
	s := Spec{WidthM: 1.1, HeightM: 1.7, GapUM: 0.02, GapVM: 0.03, Turns: []Turn{AsGiven}}
	for _, style := range []Style{Rows, Grid, Best} {
		p := mustPack(t, r, s, style)
		if first := p.Modules[0]; first != (Rect{250, 100, 1.1, 1.7}) {
			t.Errorf("%s: first module %v", style, first)
		}
		if p.Style != style || p.Bound != 6 || !p.Proved {
			t.Errorf("%s: style %s, bound %d, proved %t", style, p.Style, p.Bound, p.Proved)
		}
	}
}

func TestPackPreferences(t *testing.T) {
	square := Region{Outer: rectRing(0, 0, 2, 2)}
	s := Spec{WidthM: 1, HeightM: 2}
	for _, c := range []struct {
		turns []Turn
		want  float64
	}{{nil, 1}, {[]Turn{AsGiven, Turned}, 1}, {[]Turn{Turned, AsGiven}, 2}} {
		s.Turns = c.turns
		for _, style := range []Style{Rows, Grid, Best} {
			if p := mustPack(t, square, s, style); len(p.Modules) != 2 || p.Modules[0].WM != c.want {
				t.Errorf("turns %v, %s: %v", c.turns, style, p.Modules)
			}
		}
	}
	// A slanted side lets rows hold as many as the grid in other places; best
	// then takes the grid.
	slanted := Region{Outer: Ring{{0, 0}, {4.5, 0}, {4, 4.1}, {0.3, 4.1}}}
	best, grid := mustPack(t, slanted, s, Best), mustPack(t, slanted, s, Grid)
	if len(best.Modules) == len(grid.Modules) && !reflect.DeepEqual(best.Modules, grid.Modules) {
		t.Error("best is as good as the grid but is not the grid")
	}
}

func TestPackErrors(t *testing.T) {
	ok := Spec{WidthM: 1, HeightM: 2}
	square := rectRing(0, 0, 10, 10)
	nan := math.NaN()
	many := make(Ring, maxPoints+1)
	for _, c := range []struct {
		name string
		r    Region
		s    Spec
		want error
	}{
		{"no outline", Region{}, ok, &ShapeError{Ring: "outer", Vertex: -1}},
		{"flat outline", Region{Outer: Ring{{0, 0}, {5, 0}, {9, 0}}}, ok, &ShapeError{Ring: "outer", Vertex: -1}},
		{"bow tie", Region{Outer: Ring{{0, 0}, {5, 5}, {5, 0}, {0, 5}}}, ok, &ShapeError{Ring: "outer", Vertex: 0}},
		{"NaN", Region{Outer: Ring{{0, 0}, {5, nan}, {5, 5}}}, ok, &ShapeError{Ring: "outer", Vertex: 1}},
		{"infinite hole", Region{Outer: square, Holes: []Ring{square, {{0, 0}, {1, 1}, {math.Inf(1), 0}}}}, ok, &ShapeError{Ring: "holes[1]", Vertex: 2}},
		{"too wide", Region{Outer: rectRing(0, 0, 1001, 1)}, ok, &ShapeError{Ring: "outer", Vertex: -1}},
		{"too many points", Region{Outer: many}, ok, &ShapeError{Ring: "outer", Vertex: -1}},
		{"too many modules", Region{Outer: rectRing(0, 0, 900, 900)}, Spec{WidthM: 0.5, HeightM: 0.5}, &ShapeError{Ring: "outer", Vertex: -1}},
		{"width", Region{Outer: square}, Spec{WidthM: 0, HeightM: 1}, &RangeError{Field: "WidthM"}},
		{"height", Region{Outer: square}, Spec{WidthM: 1, HeightM: nan}, &RangeError{Field: "HeightM"}},
		{"gap along u", Region{Outer: square}, Spec{WidthM: 1, HeightM: 1, GapUM: -0.1}, &RangeError{Field: "GapUM"}},
		{"gap along v", Region{Outer: square}, Spec{WidthM: 1, HeightM: 1, GapVM: 1.1}, &RangeError{Field: "GapVM"}},
		{"end", Region{Outer: square}, Spec{WidthM: 1, HeightM: 1, EndM: 2}, &RangeError{Field: "EndM"}},
		{"turn", Region{Outer: square}, Spec{WidthM: 1, HeightM: 1, Turns: []Turn{7}}, &RangeError{Field: "Turns"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Pack(context.Background(), c.r, c.s, Best)
			switch want := c.want.(type) {
			case *ShapeError:
				got, ok := errors.AsType[*ShapeError](err)
				if !ok || got.Ring != want.Ring || got.Vertex != want.Vertex || got.Rule == "" {
					t.Errorf("got %v, want ring %s, vertex %d", err, want.Ring, want.Vertex)
				}
			case *RangeError:
				if got, ok := errors.AsType[*RangeError](err); !ok || got.Field != want.Field {
					t.Errorf("got %v, want field %s", err, want.Field)
				}
			}
		})
	}
	if _, err := Pack(context.Background(), Region{Outer: square}, ok, "heap"); err == nil {
		t.Error("an unknown style is accepted")
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Pack(stopped, Region{Outer: square}, ok, Best); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

func TestErrorTexts(t *testing.T) {
	for want, err := range map[string]error{
		"holes[2][5]: is odd":             &ShapeError{Ring: "holes[2]", Vertex: 5, Rule: "is odd"},
		"outer: has no area":              &ShapeError{Ring: "outer", Vertex: -1, Rule: "has no area"},
		"WidthM: 0 is outside 0.01 to 10": &RangeError{"WidthM", 0, 0.01, 10},
	} {
		if err.Error() != want {
			t.Errorf("got %q, want %q", err.Error(), want)
		}
	}
}

// moved maps every point of a region.
func moved(r Region, f func(SlopePt) SlopePt) Region {
	each := func(ring Ring) Ring {
		out := make(Ring, len(ring))
		for i, p := range ring {
			out[i] = f(p)
		}
		return out
	}
	out := Region{Outer: each(r.Outer)}
	for _, h := range r.Holes {
		out.Holes = append(out.Holes, each(h))
	}
	return out
}

// restarted begins every ring at another point, and runs it the other way.
func restarted(r Region, by int) Region {
	each := func(ring Ring) Ring {
		k := by % len(ring)
		out := append(append(Ring{}, ring[k:]...), ring[:k]...)
		slices.Reverse(out)
		return out
	}
	out := Region{Outer: each(r.Outer)}
	for _, h := range r.Holes {
		out.Holes = append(out.Holes, each(h))
	}
	return out
}

func TestPackProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := smallRoof(t)
		style := rapid.SampledFrom([]Style{Rows, Grid}).Draw(t, "style")
		p := rapidPack(t, r, s, style)
		n := len(p.Modules)
		if again := rapidPack(t, r, s, style); !reflect.DeepEqual(again, p) {
			t.Fatal("a second run differs")
		}
		if other := rapidPack(t, restarted(r, rapid.IntRange(0, 8).Draw(t, "start")), s, style); !reflect.DeepEqual(other, p) {
			t.Fatal("the same rings from another point and the other way give another result")
		}
		// Whole millimetres keep the points exact, so that even exact fits stay.
		du := float64(rapid.IntRange(100_000, 500_000).Draw(t, "du")) / 1000
		if far := rapidPack(t, moved(r, func(q SlopePt) SlopePt { return SlopePt{q.UM + du, q.VM - du} }), s, style); len(far.Modules) != n {
			t.Fatalf("moved by %g m: %d instead of %d", du, len(far.Modules), n)
		}
		if left := rapidPack(t, moved(r, func(q SlopePt) SlopePt { return SlopePt{-q.UM, q.VM} }), s, style); len(left.Modules) != n {
			t.Fatalf("mirrored in u: %d instead of %d", len(left.Modules), n)
		}
		if down := rapidPack(t, moved(r, func(q SlopePt) SlopePt { return SlopePt{q.UM, -q.VM} }), s, style); len(down.Modules) != n {
			t.Fatalf("mirrored in v: %d instead of %d", len(down.Modules), n)
		}
		for i := range r.Holes {
			fewer := Region{Outer: r.Outer, Holes: slices.Delete(slices.Clone(r.Holes), i, i+1)}
			if more := rapidPack(t, fewer, s, style); len(more.Modules) < n {
				t.Fatalf("without holes[%d] %d instead of %d", i, len(more.Modules), n)
			}
		}
	})
}

// A quarter turn of the region with the turns of the module swapped keeps the
// count of a grid, which does not care for rows.
func TestGridQuarterTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := smallRoof(t)
		s.EndM = 0
		q := s
		q.WidthM, q.HeightM, q.GapUM, q.GapVM = s.HeightM, s.WidthM, s.GapVM, s.GapUM
		a := rapidPack(t, r, s, Grid)
		b := rapidPack(t, moved(r, func(p SlopePt) SlopePt { return SlopePt{-p.VM, p.UM} }), q, Grid)
		if len(a.Modules) != len(b.Modules) {
			t.Fatalf("%d upright, %d after a quarter turn", len(a.Modules), len(b.Modules))
		}
	})
}

// Points finer than the engine's grid must not cost validity: Pack's own
// check, against the points as given, would fail.
func TestPackFinePoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := smallRoof(t)
		k := 1 / math.Cos(float64(rapid.IntRange(0, 75).Draw(t, "pitch"))*math.Pi/180)
		fine := moved(r, func(p SlopePt) SlopePt { return SlopePt{p.UM * (1 + 1e-7), p.VM * k} })
		s.WidthM *= k / 2
		if s.WidthM > maxSideM {
			t.Skip("module too large")
		}
		rapidPack(t, fine, s, Best)
	})
}

// FuzzPack decodes a module and rings from bytes and lets CheckPacking judge what comes out. No input may make Pack fail its own check.
func FuzzPack(f *testing.F) {
	f.Add([]byte{100, 60, 4, 0, 0, 0, 0, 0, 40, 0, 0, 0, 40, 0, 30, 0, 0, 0, 30, 255, 255, 0, 10, 0, 10, 0, 12, 0, 10, 0, 12, 0, 14})
	f.Add([]byte{80, 80, 0, 9, 0, 0, 0, 0, 60, 0, 1, 0, 20, 0, 50, 0, 20, 0, 1})
	f.Fuzz(func(t *testing.T, data []byte) {
		r, s, ok := fuzzInput(data)
		if !ok {
			return
		}
		counts := map[Style]int{}
		for _, style := range Styles() {
			p, err := Pack(context.Background(), r, s, style)
			if _, bad := errors.AsType[*ShapeError](err); bad {
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if err := CheckPacking(r, s, p.Modules); err != nil {
				t.Fatal(err)
			}
			counts[style] = len(p.Modules)
		}
		if counts[Best] < max(counts[Rows], counts[Grid], counts[Columns]) {
			t.Fatalf("%v", counts)
		}
		if why := r.whyAreaIsOff(); why != "" {
			t.Fatal(why)
		}
	})
}

// fuzzInput is a module and rings, two bytes a coordinate.
func fuzzInput(data []byte) (r Region, s Spec, ok bool) {
	if len(data) < 4 || len(data) > 400 {
		return r, s, false
	}
	s = Spec{WidthM: 0.2 + float64(data[0])/100, HeightM: 0.2 + float64(data[1])/100, GapUM: float64(data[2]) / 1000, GapVM: float64(data[3]&15) / 100, EndM: float64(data[3]>>4) / 100}
	rings := []Ring{nil}
	for d := data[4:]; len(d) >= 4; d = d[4:] {
		if d[0] == 255 && d[1] == 255 {
			rings = append(rings, nil)
			d = d[2:]
			if len(d) < 4 {
				break
			}
		}
		u, v := int16(d[0])<<8|int16(d[1]), int16(d[2])<<8|int16(d[3])
		last := len(rings) - 1
		rings[last] = append(rings[last], SlopePt{float64(u) * 0.0011, float64(v) / 3000})
	}
	return Region{Outer: rings[0], Holes: rings[1:]}, s, true
}

// whyAreaIsOff checks what holds for any area.
func (r Region) whyAreaIsOff() string {
	whole, err := Region{Outer: r.Outer}.AreaM2()
	if err != nil {
		return err.Error()
	}
	rest, err := r.AreaM2()
	if err != nil {
		return ""
	}
	if !(rest >= -1e-9 && rest <= whole+1e-6) {
		return "the region is larger than its outline or less than nothing"
	}
	return ""
}

// Holes and slits thinner than a tick cannot be covered, yet no module may lie
// across them.
func TestPackThinnerThanATick(t *testing.T) {
	spec := Spec{WidthM: 1.72, HeightM: 1.13, GapUM: 0.02, GapVM: 0.02}
	for _, thinM := range []float64{1e-9, 1e-8, 5e-8, 1.2e-7, 2.5e-7, 4e-7} {
		for _, deg := range []float64{0, 17, 45, 90, 133} {
			s, c := math.Sincos(deg * math.Pi / 180)
			foot, tip := SlopePt{4, 2}, SlopePt{4 + 2*c, 2 + 2*s}
			side := SlopePt{foot.UM - thinM*s, foot.VM + thinM*c}
			tipSide := SlopePt{tip.UM - thinM*s, tip.VM + thinM*c}
			for name, r := range map[string]Region{
				"triangle": {Outer: rectRing(0, 0, 9, 5), Holes: []Ring{{foot, tip, side}}},
				"strip":    {Outer: rectRing(0, 0, 9, 5), Holes: []Ring{{tipSide, side, foot, tip}}},
				"slit":     {Outer: Ring{{0, 0}, {4, 0}, {4, 3}, {4 + thinM, 0}, {9, 0}, {9, 5}, {0, 5}}},
				"spike":    {Outer: Ring{{0, 0}, {9, 0}, {9, 5}, {9 - thinM, 7}, {9 - thinM, 5}, {0, 5}}},
			} {
				for _, style := range []Style{Rows, Grid} {
					if _, err := Pack(t.Context(), r, spec, style); err != nil {
						t.Errorf("%s of %g m at %g deg, %s: %v", name, thinM, deg, style, err)
					}
				}
			}
		}
	}
}
