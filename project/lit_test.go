//go:build !js

package project

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rooftally/layout"
)

func mustEvaluateLit(t testing.TB, d Document, s *Sunlight) Result {
	t.Helper()
	res, err := NewEvaluator().EvaluateLit(t.Context(), d, layout.Drag, s)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// typedLight is light on level planes of square cells of 1 m, row by row from
// the lower left; the open plane has 1000 kWh/m2.
func typedLight(d Document, columns int, kwhM2 ...[]float64) *Sunlight {
	s := &Sunlight{Key: "typed"}
	for i, v := range kwhM2 {
		p := d.Planes[i]
		s.Planes = append(s.Planes, PlaneSunlight{
			PlaneID: p.ID, OriginXM: p.Ring[0].XM, OriginYM: p.Ring[0].YM, AzimuthDeg: p.AzimuthDeg, PitchDeg: p.PitchDeg,
			StepM: 1, Columns: columns, Rows: len(v) / columns, OpenKWhM2: 1000, KWhM2: v,
		})
	}
	return s
}

// A row of five places of 1 m by 2 m. The light of each is the mean of its two
// cells; the sunniest are taken.
//
//	cells above  900 700 500 1000 800
//	cells below  900 900 500  800 800
//	mean         900 800 500  900 800
func TestSizeTakesTheSunniest(t *testing.T) {
	d := shed(5, 2)
	light := typedLight(d, 5, []float64{900, 900, 500, 800, 800, 900, 700, 500, 1000, 800})
	for n, want := range map[int]struct {
		value float64
		us    []float64
	}{1: {1800, nil}, 2: {3600, []float64{0, 3}}, 4: {6800, []float64{0, 1, 3, 4}}, 5: {7800, []float64{0, 1, 2, 3, 4}}} {
		d.Target = Target{Mode: "size", SizeW: 400 * n}
		res := mustEvaluateLit(t, d, light)
		s := res.Candidates[0].Size
		if !near(s.Value, want.value, 1e-6) || !s.ValueProved || s.ValueWords != litWords || res.SunlightKey != "typed" {
			t.Errorf("%d modules: %g %s, proved %v; want %g", n, s.Value, s.ValueWords, s.ValueProved, want.value)
		}
		var us []float64
		for _, m := range s.Layout.ByPlane[0].Modules {
			us = append(us, math.Round(m.UM))
		}
		if want.us != nil && !slices.Equal(us, want.us) {
			t.Errorf("%d modules at %v, want %v", n, us, want.us)
		}
	}
	// Last-resort shade comes after any light.
	d.KeepOuts = []KeepOut{shadeOver(0, 0, 1, 2)}
	d.Target = Target{Mode: "size", SizeW: 400 * 5}
	if s := mustEvaluateLit(t, d, light).Candidates[0].Size; !near(s.Value, 7800-100_000, 1e-6) {
		t.Errorf("value %g", s.Value)
	}
}

// Of the demo's places a size takes sunnier ones with light than without.
func TestSizeIsSunnierWithLight(t *testing.T) {
	d := Demo()
	d.Target = Target{Mode: "size", SizeW: 4000}
	light := lightOf(t, d)
	total := func(res Result) float64 {
		var sum float64
		for _, by := range res.Candidates[1].Size.Layout.ByPlane {
			for _, m := range by.Modules {
				sum += lightOn(t, d, light, by.PlaneID, m)
			}
		}
		return sum
	}
	lit, dark := mustEvaluateLit(t, d, &light), mustEvaluate(t, d)
	if a, b := total(lit), total(dark); a <= b {
		t.Errorf("%g kWh/m2 with light, %g without", a, b)
	}
	if lit.Candidates[1].Size.Layout.Count != dark.Candidates[1].Size.Layout.Count {
		t.Error("light changes how many modules there are")
	}
}

// lightOn is the light on a module, kWh/m2.
func lightOn(t testing.TB, d Document, s Sunlight, planeID string, m Module) float64 {
	t.Helper()
	l := planeLightOf(t, d, s, planeID)
	return l.of(layout.Rect{UM: m.UM, VM: m.VM, WM: m.WM, HM: m.HM})
}

func planeLightOf(t testing.TB, d Document, s Sunlight, planeID string) *planeLight {
	t.Helper()
	p := d.Planes[slices.IndexFunc(d.Planes, func(p Plane) bool { return p.ID == planeID })]
	frame, err := layout.NewFrame(p.layout())
	if err != nil {
		t.Fatal(err)
	}
	return newPlaneLight(s.Planes[slices.IndexFunc(s.Planes, func(l PlaneSunlight) bool { return l.PlaneID == planeID })], p, frame)
}

// A higher limit never raises the count, every module that is left has at least
// the limit, and what is missing is said.
func TestMinAccessIsKept(t *testing.T) {
	for _, style := range []string{"rows", "best"} {
		d := Demo()
		d.Rules.Style = style
		light := lightOf(t, d)
		all := mustEvaluateLit(t, d, &light)
		last := []int{math.MaxInt, math.MaxInt, math.MaxInt}
		for _, limit := range []float64{0, 70, 80, 85, 90, 92, 94, 96, 98, 100} {
			d.Target.MinAccessPct = limit
			res := mustEvaluateLit(t, d, &light)
			for i, c := range res.Candidates {
				if c.Fill.Count > last[i] {
					t.Errorf("%s %s: %d modules at %g %%, %d at less", style, c.Letter, c.Fill.Count, limit, last[i])
				}
				last[i] = c.Fill.Count
				if want := all.Candidates[i].Fill.Count - c.Fill.Count; c.Fill.LeftDark != want {
					t.Errorf("%s %s: %d left dark at %g %%, want %d", style, c.Letter, c.Fill.LeftDark, limit, want)
				}
				for _, by := range c.Fill.ByPlane {
					open := planeLightOf(t, d, light, by.PlaneID).OpenKWhM2
					if by.Count > by.Bound || by.Proved && by.Count < by.Bound && by.Hand == "" {
						t.Errorf("%s %s %s: %d of %d, proved %v", style, c.Letter, by.PlaneID, by.Count, by.Bound, by.Proved)
					}
					for _, m := range by.Modules {
						if got := 100 * lightOn(t, d, light, by.PlaneID, m) / open; got < limit-1e-9 {
							t.Errorf("%s %s: a module with %g %% of the light at a limit of %g %%", style, c.Letter, got, limit)
						}
					}
				}
			}
			dark := 0
			for _, p := range res.Planes {
				for _, z := range p.Zones {
					if z.Why == whyDark {
						dark++
					}
				}
			}
			if (dark > 0) != (limit >= 70) { // under the chimney it is always dark
				t.Errorf("%s: %d dark zones at %g %%", style, dark, limit)
			}
		}
		if last[0] != 0 {
			t.Errorf("%s: %d modules with all of the light on a roof with a tree", style, last[0])
		}
	}
}

// Packing around the dark holds more than dropping dark places where the rows do
// not fall right: a strip of 0.5 m without light costs two rows of places when
// dropped, none when packed around.
//
//	0   1.5 2    4        places of 1 m; dark from 1.5 to 2
func TestDarkPartsArePackedAround(t *testing.T) {
	d := shed(4.5, 2)
	row := []float64{1000, 1000, 1000, 0, 1000, 1000, 1000, 1000, 1000}
	light := typedLight(d, 9, slices.Concat(row, row, row, row))
	light.Planes[0].StepM = 0.5
	d.Target.MinAccessPct = 90
	// Places at 0, 1, 2, 3: the second is dark. Around it: 0 and 2, 3.
	if c := mustEvaluateLit(t, d, light).Candidates[0].Fill; c.Count != 3 || c.LeftDark != 1 {
		t.Errorf("%d modules, %d left dark", c.Count, c.LeftDark)
	}
	// A strip from 0 to 0.5 instead: dropping leaves 3 of 4, packing around it 4.
	row = []float64{0, 1000, 1000, 1000, 1000, 1000, 1000, 1000, 1000}
	light.Planes[0].KWhM2 = slices.Concat(row, row, row, row)
	if c := mustEvaluateLit(t, d, light).Candidates[0].Fill; c.Count != 4 || c.LeftDark != 0 {
		t.Errorf("%d modules, %d left dark", c.Count, c.LeftDark)
	}
	// Modules that a person set stay where they are.
	d.Hand = []HandLayout{{CandidateID: "m", PlaneID: "shed", Modules: []HandModule{{XM: 0, YM: 0, Turn: "portrait"}}}}
	light.Planes[0].KWhM2 = make([]float64, 36)
	if c := mustEvaluateLit(t, d, light).Candidates[0].Fill; c.Count != 1 || c.ByPlane[0].Hand != handAlone {
		t.Errorf("%d modules by hand", c.Count)
	}
}

// Without the light of every used plane nothing is left out, and it is said.
func TestLightThatIsNotKnown(t *testing.T) {
	d := Demo()
	d.Target.MinAccessPct = 90
	light := lightOf(t, d)
	less := light
	less.Planes = light.Planes[:2]
	for name, s := range map[string]*Sunlight{"none": nil, "not of every plane": &less} {
		res := mustEvaluateLit(t, d, s)
		said := slices.ContainsFunc(res.Findings, func(f Finding) bool {
			return f.Path == "target.min_access_pct" && strings.Contains(f.Message, "not known yet")
		})
		if !said || res.SunlightKey != "" || res.Candidates[1].Fill.LeftDark != 0 {
			t.Errorf("%s: %v %q", name, res.Findings, res.SunlightKey)
		}
		d.Target.MinAccessPct = 0
		if got, want := mustEvaluateLit(t, d, s), mustEvaluate(t, d); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: the result differs from that without light", name)
		}
		d.Target.MinAccessPct = 90
	}
	for name, p := range map[string]PlaneSunlight{
		"no cells": {}, "a cell short": {StepM: 1, Columns: 2, Rows: 2, KWhM2: make([]float64, 3)},
		"too many": {StepM: 1, Columns: math.MaxInt / 2, Rows: 4}, "no width": {StepM: math.NaN(), Columns: 1, Rows: 1, KWhM2: []float64{1}},
	} {
		if _, err := NewEvaluator().EvaluateLit(t.Context(), d, layout.Drag, &Sunlight{Planes: []PlaneSunlight{p}}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// An evaluator gives with memory what a new one gives, whatever light it had
// before.
func TestMemoryKeepsLightsApart(t *testing.T) {
	d := Demo()
	light := lightOf(t, d)
	darker := light
	darker.Planes = slices.Clone(light.Planes)
	for i := range darker.Planes {
		darker.Planes[i].KWhM2 = slices.Clone(light.Planes[i].KWhM2)
		for k := range darker.Planes[i].KWhM2[:len(darker.Planes[i].KWhM2)/2] {
			darker.Planes[i].KWhM2[k] = min(darker.Planes[i].KWhM2[k], 400)
		}
	}
	d.Target.MinAccessPct = 85
	e := NewEvaluator()
	for _, s := range []*Sunlight{&light, &darker, nil, &light, &darker} {
		got, err := e.EvaluateLit(t.Context(), d, layout.Drag, s)
		if err != nil {
			t.Fatal(err)
		}
		if want := mustEvaluateLit(t, d, s); !reflect.DeepEqual(got, want) {
			t.Error("memory changes the result")
		}
	}
}

// While a plane is moved its light is that of the nearest cell of where it was:
// the mean within what neighbouring cells differ by.
func TestLightOfAMovedPlane(t *testing.T) {
	d := Demo()
	light := lightOf(t, d)
	moved := d
	moved.Planes = slices.Clone(d.Planes)
	moved.Planes[0].PitchDeg = 30.5
	l := planeLightOf(t, moved, light, "main-south")
	if l.fresh {
		t.Fatal("light of a plane that has changed is fresh")
	}
	at := layout.Rect{UM: 8, VM: 3, WM: 1.1, HM: 1.7}
	if got, want := l.of(at), planeLightOf(t, d, light, "main-south").of(at); !near(got, want, 0.02*want) {
		t.Errorf("%g kWh/m2 on the moved plane, %g before", got, want)
	}
	// Far off the plane the nearest cell counts too.
	if got := l.of(layout.Rect{UM: 900, VM: 900, WM: 1, HM: 1}); got <= 0 || got > l.OpenKWhM2 {
		t.Errorf("%g kWh/m2 beside the plane", got)
	}
	moved.Target.MinAccessPct = 85
	if res := mustEvaluateLit(t, moved, &light); res.SunlightKey == "" || res.Candidates[0].Fill.Count == 0 {
		t.Error("nothing is laid out while a plane moves")
	}
	// To the frame of the light and back.
	rapid.Check(t, func(t *rapid.T) {
		l := planeLight{PlaneSunlight: PlaneSunlight{
			OriginXM: rapid.Float64Range(-100, 100).Draw(t, "x"), OriginYM: rapid.Float64Range(-100, 100).Draw(t, "y"),
			AzimuthDeg: rapid.Float64Range(0, 359).Draw(t, "azimuth"), PitchDeg: rapid.Float64Range(0, 75).Draw(t, "pitch"),
		}}
		s := layout.SlopePt{UM: rapid.Float64Range(-50, 50).Draw(t, "u"), VM: rapid.Float64Range(-50, 50).Draw(t, "v")}
		back := l.toSlope(l.toPlan(s))
		if !near(back.UM, s.UM, 1e-9) || !near(back.VM, s.VM, 1e-9) {
			t.Fatalf("%v comes back as %v", s, back)
		}
	})
}

// The mean over a rectangle is that of many points in it.
func TestMeanOfCells(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	d := shed(6, 4)
	values := make([]float64, 24)
	for i := range values {
		values[i] = float64(random.IntN(1000))
		if random.IntN(6) == 0 {
			values[i] = -1
		}
	}
	s := typedLight(d, 6, values)
	l := planeLightOf(t, d, *s, "shed")
	for range 50 {
		m := layout.Rect{UM: random.Float64() * 4, VM: random.Float64() * 2, WM: 0.5 + random.Float64()*1.5, HM: 0.5 + random.Float64()*1.5}
		var sum float64
		n := 0
		const steps = 400
		for i := range steps * steps {
			u, v := m.UM+m.WM*(float64(i%steps)+0.5)/steps, m.VM+m.HM*(float64(i/steps)+0.5)/steps
			if c := values[int(v)*6+int(u)]; c >= 0 {
				sum += c
				n++
			}
		}
		if n == 0 {
			continue
		}
		if got, want := l.of(m), sum/float64(n); !near(got, want, 4) {
			t.Errorf("%+v: %g, by points %g", m, got, want)
		}
	}
}

func TestDecodeSunlight(t *testing.T) {
	s := lightOf(t, Demo())
	text, err := EncodeSunlight(s)
	if err != nil {
		t.Fatal(err)
	}
	got, err := DecodeSunlight(text)
	if err != nil || !reflect.DeepEqual(got, s) {
		t.Errorf("%v: light does not come back as it was", err)
	}
	for _, bad := range []string{"", "[", `{"planes":[{"columns":"3"}]}`, `{"planes":3}`} {
		if _, err := DecodeSunlight([]byte(bad)); err == nil {
			t.Errorf("%q was read", bad)
		}
	}
	t.Logf("%d bytes", len(text))
}

func FuzzDecodeSunlight(f *testing.F) {
	f.Add([]byte(`{"key":"k","words":"","planes":[{"plane_id":"shed","step_m":1,"columns":2,"rows":2,"open_kwh_m2":9,"kwh_m2":[1,2,-1,1e300]}]}`))
	f.Add([]byte(`{"planes":[{"columns":-1,"rows":-1}]}`))
	d := shed(2, 2)
	d.Target.MinAccessPct = 50
	f.Fuzz(func(t *testing.T, text []byte) {
		if s, err := DecodeSunlight(text); err == nil {
			_, _ = NewEvaluator().EvaluateLit(t.Context(), d, layout.Drag, &s)
			ShadeProposal(s, 50)
		}
	})
}
