package energy

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The axes of docs/roof.md: u along (-cos a, sin a), v up the slope.
func TestSlopeFrame(t *testing.T) {
	for _, c := range []struct {
		azimuth  float64
		u        Vec3
		upX, upY float64 // of v in plan
	}{
		{180, Vec3{1, 0, 0}, 0, 1}, // faces south: u east, v climbs north
		{90, Vec3{0, 1, 0}, -1, 0}, // faces east: u north, v climbs west
		{0, Vec3{-1, 0, 0}, 0, -1},
		{270, Vec3{0, -1, 0}, 1, 0},
	} {
		f := newSlopeFrame(Plane{Surface: Surface{60, c.azimuth}, Origin: Vec3{10, 20, 3}})
		p := f.world(pt{2, 4})
		near(t, "x", p.X, 10+2*c.u.X+4*0.5*c.upX, 1e-9)
		near(t, "y", p.Y, 20+2*c.u.Y+4*0.5*c.upY, 1e-9)
		near(t, "z", p.Z, 3+4*math.Sqrt(3)/2, 1e-9)
		back := f.place(p.plus(f.overhead.times(7)))
		near(t, "back u", back.X, 2, 1e-9)
		near(t, "back v", back.Y, 4, 1e-9)
		near(t, "over the plane", back.Z, 7, 1e-9)
		near(t, "normal looks up and downslope", f.overhead.dot(Vec3{-c.upX, -c.upY, 0}), math.Sqrt(3)/2, 1e-9)
	}
}

// A pole's shadow on level ground is height / tan(elevation) long and points
// away from the sun (arithmetic).
func TestPoleShadow(t *testing.T) {
	for _, elevation := range []float64{10, 30, 45, 60} {
		for _, azimuth := range []float64{90, 180, 200, 315} {
			s := Scene{
				Planes: []Plane{{ID: "ground", Surface: Surface{0, 180}, Mounting: OpenRack}},
				Obstructions: []Obstruction{{ID: "pole", Kind: Prism, TopM: 5,
					Footprint: [][2]float64{{-0.01, -0.01}, {0.01, -0.01}, {0.01, 0.01}, {-0.01, 0.01}}}},
			}
			out, err := ShadowOutlines(s, direction(elevation, azimuth))
			if err != nil || len(out) != 1 {
				t.Fatalf("%v %v", out, err)
			}
			far, tip := 0.0, [2]float64{}
			for _, p := range out[0].Plan {
				if l := math.Hypot(p[0], p[1]); l > far {
					far, tip = l, p
				}
			}
			name := fmt.Sprintf("elevation %g azimuth %g", elevation, azimuth)
			near(t, name, far, 5/math.Tan(elevation*degree), 0.03)
			near(t, name+" bearing", wrap180(math.Atan2(tip[0], tip[1])/degree-azimuth-180), 0, 0.5)
		}
	}
}

func TestShadowOutlinesOnASlope(t *testing.T) {
	// A 1 m pole on a roof that faces south at 30 degrees, the sun in the south
	// at 60: square to the roof. The shadow's tip lies where the line from the
	// pole's top meets the plane: cos 30 off it, so that its foot is sin 30 up
	// the slope (arithmetic).
	s := Scene{
		Planes: []Plane{{ID: "roof", Surface: Surface{30, 180}, Mounting: FlushOnRoof}},
		Obstructions: []Obstruction{{ID: "pole", Kind: Prism, BaseM: -1, TopM: 1,
			Footprint: [][2]float64{{-0.001, -0.001}, {0.001, -0.001}, {0.001, 0.001}, {-0.001, 0.001}}}},
	}
	out, err := ShadowOutlines(s, direction(60, 180))
	if err != nil || len(out) != 1 {
		t.Fatalf("%v %v", out, err)
	}
	far := 0.0
	for _, p := range out[0].Slope {
		far = max(far, p[1])
	}
	near(t, "up the slope", far, 0.5, 0.005)
	if out, err := ShadowOutlines(s, direction(20, 0)); err != nil || len(out) != 0 {
		t.Errorf("sun behind the roof: %v %v", out, err)
	}
	if out, err := ShadowOutlines(s, direction(-5, 180)); err != nil || len(out) != 0 {
		t.Errorf("sun down: %v %v", out, err)
	}
}

// A level strip before an endless wall of height h at distance d sees (1 + cos
// a) / 2 of the sky's light, with tan a = h / d (view factor of an endless strip
// by crossed strings, Hottel 1954).
func TestSkyViewOfALongWall(t *testing.T) {
	for _, c := range []struct{ height, distance float64 }{{1, 3}, {3, 3}, {6, 2}, {3, 9}} {
		s := Scene{
			Planes:  []Plane{{ID: "p", Surface: Surface{0, 180}, Mounting: OpenRack}},
			Modules: []Module{{UM: -0.05, VM: -0.05, WidthM: 0.1, HeightM: 0.1}},
			Obstructions: []Obstruction{{Kind: Prism, TopM: c.height,
				Footprint: [][2]float64{{-3000, -c.distance}, {3000, -c.distance}, {3000, -c.distance - 1}, {-3000, -c.distance - 1}}}},
		}
		p := newPlaneShade(s, s.bodies(), 0, []box{s.Modules[0].box()})
		got := p.skyViews(t.Context(), nil, &workspace{})[0]
		want := (1 + math.Cos(math.Atan2(c.height, c.distance))) / 2
		near(t, fmt.Sprintf("%g m wall at %g m", c.height, c.distance), got.on, want, 0.008)
	}
}

// An even horizon of elevation e all round leaves a level module cos^2 e of the
// sky's light (integral of sin x cos x).
func TestSkyViewUnderAHorizon(t *testing.T) {
	s := Scene{Planes: []Plane{{ID: "p", Surface: Surface{0, 180}, Mounting: OpenRack}}}
	p := newPlaneShade(s, s.bodies(), 0, []box{{0, 0, 1, 1}})
	for _, e := range []float64{0, 15, 30, 60} {
		got := p.skyViews(t.Context(), Horizon{{0, e}}, &workspace{})[0]
		near(t, fmt.Sprintf("horizon %g", e), got.off, math.Pow(math.Cos(e*degree), 2), 0.003)
	}
}

// drawScene is a random roof with everything that can cast a shadow.
func drawScene(t *rapid.T) Scene {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	s := Scene{Planes: []Plane{{
		ID: "p", Surface: Surface{f("pitch", 0, 60), f("facing", 0, 359)},
		Origin: Vec3{f("x", -3, 3), f("y", -3, 3), f("z", 2, 6)}, Mounting: FlushOnRoof,
	}}}
	for range rapid.IntRange(1, 3).Draw(t, "modules") {
		s.Modules = append(s.Modules, Module{UM: f("u", -4, 4), VM: f("v", -4, 4), WidthM: f("w", 0.5, 2), HeightM: f("h", 0.5, 2)})
	}
	for range rapid.IntRange(1, 5).Draw(t, "obstructions") {
		s.Obstructions = append(s.Obstructions, drawObstruction(t, f))
	}
	return s
}

func drawObstruction(t *rapid.T, f func(string, float64, float64) float64) Obstruction {
	x, y := f("ox", -8, 8), f("oy", -8, 8)
	w, d := f("ow", 0.4, 4), f("od", 0.4, 4)
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
		return Obstruction{Kind: Prism, BaseM: f("base", 0, 3), TopM: f("top", 3, 12),
			Footprint: [][2]float64{{x, y}, {x + w, y}, {x + w, y + d}, {x, y + d}}}
	case 1: // an L
		return Obstruction{Kind: Prism, TopM: f("top", 3, 12),
			Footprint: [][2]float64{{x, y}, {x + w, y}, {x + w, y + d/3}, {x + w/3, y + d/3}, {x + w/3, y + d}, {x, y + d}}}
	case 2: // a shed roof
		low, high := f("low", 3, 6), f("high", 6, 9)
		return Obstruction{Kind: RoofPart, PlaneID: "other", TopsM: []float64{low, low, high, high},
			Footprint: [][2]float64{{x, y}, {x + w, y}, {x + w, y + d}, {x, y + d}}}
	}
	return Obstruction{Kind: Tree, Crown: ColumnCrown,
		CenterX: x, CenterY: y, RadiusM: f("r", 0.5, 3), BaseM: f("base", 0, 5), TopM: f("top", 6, 12),
		LeafOnPass: f("on", 0, 0.4), LeafOffPass: f("off", 0.4, 0.9)}
}

// withinGrace reports whether a solid stands so little out of the plane that it
// casts no shadow by intent.
func withinGrace(s Scene) bool {
	f := newSlopeFrame(s.Planes[0])
	for _, o := range s.Obstructions {
		highest := -1.0
		for _, b := range bodiesOf(o, 0) {
			for _, c := range b.corners {
				highest = max(highest, f.place(c).Z)
			}
		}
		if highest > 0 && highest <= graceM {
			return true
		}
	}
	return false
}

// The shade of every module agrees with rays sent one by one.
func TestShadeAgainstRays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		if err := s.Check(); err != nil {
			t.Fatal(err)
		}
		toward := direction(rapid.Float64Range(8, 80).Draw(t, "elevation"), rapid.Float64Range(0, 359).Draw(t, "azimuth"))
		plane := s.Planes[0]
		if plane.Normal().dot(toward) < 0.05 || withinGrace(s) {
			return
		}
		var rects []box
		for _, m := range s.Modules {
			rects = append(rects, m.box())
		}
		p := newPlaneShade(s, s.bodies(), 0, rects)
		w := &workspace{}
		shadows := p.shadowsAt(toward, p.bounds, w)
		trees := slices.ContainsFunc(s.Obstructions, func(o Obstruction) bool { return o.Kind == Tree })
		for _, r := range rects {
			c := coverOf(r, shadows, w)
			for _, leaves := range []bool{true, false} {
				got := c.blocked.off
				if leaves {
					got = c.blocked.on
				}
				const rays = 30
				want := oracle{s}.blocked(plane, r, toward, leaves, rays)
				// A straight edge across n x n rays errs by up to about 1/n. A crown's
				// polygon reaches up to 2.3 % of 3 m over its circle: 7 cm of a module
				// that is 0.5 m wide or more.
				tolerance := 0.06
				if trees {
					tolerance += 0.15
				}
				if math.Abs(got-want) > tolerance {
					t.Fatalf("leaves %v: %.4f, rays %.4f", leaves, got, want)
				}
			}
		}
	})
}

// Over many scenes the error has no bias: what rays and polygons miss cancels.
func TestShadeHasNoBias(t *testing.T) {
	var sum, shaded float64
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		toward := direction(rapid.Float64Range(15, 70).Draw(t, "elevation"), rapid.Float64Range(0, 359).Draw(t, "azimuth"))
		if s.Planes[0].Normal().dot(toward) < 0.1 {
			return
		}
		r := s.Modules[0].box()
		p := newPlaneShade(s, s.bodies(), 0, []box{r})
		w := &workspace{}
		got := coverOf(r, p.shadowsAt(toward, p.bounds, w), w).blocked.on
		want := oracle{s}.blocked(s.Planes[0], r, toward, true, 12)
		sum += got - want
		shaded += want
		n++
	})
	if n < 20 || shaded == 0 {
		t.Fatalf("%d scenes, %g shaded: nothing was tested", n, shaded)
	}
	near(t, "mean error", sum/float64(n), 0, 0.01)
}

// A round crown's shadow on level ground is an ellipse: half axes r across and
// sqrt(r^2 + (h / tan elevation)^2) along, h half the crown's height
// (arithmetic). The engine's outline has that area within 7 %.
func TestRoundCrownShadow(t *testing.T) {
	const r, h = 2.0, 3.5
	s := Scene{
		Planes:       []Plane{{ID: "ground", Surface: Surface{0, 180}, Mounting: OpenRack}},
		Obstructions: []Obstruction{{Kind: Tree, Crown: RoundCrown, RadiusM: r, BaseM: 2, TopM: 2 + 2*h}},
	}
	for _, elevation := range []float64{15, 30, 45, 60, 85} {
		out, err := ShadowOutlines(s, direction(elevation, 200))
		if err != nil || len(out) != 1 {
			t.Fatalf("%v %v", out, err)
		}
		var ring []pt
		for _, p := range out[0].Slope {
			ring = append(ring, pt{p[0], p[1]})
		}
		want := math.Pi * r * math.Hypot(r, h/math.Tan(elevation*degree))
		near(t, fmt.Sprintf("elevation %g", elevation), areaOf(ring)/want, 1, 0.07)
	}
}

// Where many shadows overlap, points are counted; both ways agree.
func TestManyShadowsByPoints(t *testing.T) {
	rect := box{0, 0, 2, 1}
	var few []shadow
	for i := range 5 {
		b := box{float64(i) * 0.3, -1, float64(i)*0.3 + 0.5, 0.8}
		ring := b.ring()
		few = append(few, shadow{ring: ring[:], box: b, pass: leafPair{0.3, 0.7}})
	}
	exact := coverOf(rect, few, &workspace{})
	points := coverByPoints(rect, few)
	near(t, "with leaves", points.blocked.on, exact.blocked.on, 0.03)
	near(t, "without", points.blocked.off, exact.blocked.off, 0.03)
	near(t, "peak", points.peak.on, exact.peak.on, 1e-9)
	many := append(append([]shadow{}, few...), few...)
	near(t, "ten", coverOf(rect, many, &workspace{}).blocked.on, coverByPoints(rect, many).blocked.on, 1e-9)
}

func TestCoverArithmetic(t *testing.T) {
	ringOf := func(b box, pass leafPair) shadow {
		r := b.ring()
		return shadow{ring: r[:], box: b, pass: pass}
	}
	rect := box{0, 0, 1, 1}
	opaque := leafPair{}
	half := leafPair{0.5, 1}
	for _, c := range []struct {
		name    string
		shadows []shadow
		on, off float64
		peakOn  float64
	}{
		{"none", nil, 0, 0, 0},
		{"beside", []shadow{ringOf(box{1, 0, 2, 1}, opaque)}, 0, 0, 0},
		{"left half", []shadow{ringOf(box{-1, -1, 0.5, 2}, opaque)}, 0.5, 0.5, 1},
		{"all", []shadow{ringOf(box{-1, -1, 2, 2}, opaque)}, 1, 1, 1},
		{"twice the same", []shadow{ringOf(box{-1, -1, 0.5, 2}, opaque), ringOf(box{-1, -1, 0.5, 2}, opaque)}, 0.5, 0.5, 1},
		{"overlapping", []shadow{ringOf(box{0, 0, 0.6, 1}, opaque), ringOf(box{0.4, 0, 0.8, 1}, opaque)}, 0.8, 0.8, 1},
		{"crown", []shadow{ringOf(box{-1, -1, 2, 2}, half)}, 0.5, 0, 0.5},
		{"two crowns", []shadow{ringOf(box{-1, -1, 2, 2}, half), ringOf(box{-1, -1, 2, 2}, half)}, 0.75, 0, 0.75},
		{"crown behind a wall", []shadow{ringOf(box{-1, -1, 2, 2}, half), ringOf(box{0, 0, 1, 0.5}, opaque)}, 0.75, 0.5, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := coverOf(rect, c.shadows, &workspace{})
			near(t, "with leaves", got.blocked.on, c.on, 1e-12)
			near(t, "without", got.blocked.off, c.off, 1e-12)
			near(t, "peak", got.peak.on, c.peakOn, 1e-12)
		})
	}
}

// The table of shadows against every hour on its own, over a year.
func TestShadeTableAgainstEveryHour(t *testing.T) {
	in := houseInput(t, 4, 24, 8)
	fast, err := Simulate(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	in.Options.ExactShade = true
	exact, err := Simulate(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	var worst, lowest float64 = 0, 1
	for i := range fast.Modules {
		worst = max(worst, math.Abs(fast.Modules[i].Access-exact.Modules[i].Access))
		lowest = min(lowest, exact.Modules[i].Access)
	}
	if lowest > 0.95 {
		t.Fatalf("the lowest access is %.3f: hardly any shade was tested", lowest)
	}
	near(t, "solar access, worst module", worst, 0, 0.004)
	near(t, "energy", fast.Total.ACYear/exact.Total.ACYear, 1, 0.005)
	t.Logf("worst access error %.4f, lowest access %.3f, energy ratio %.4f", worst, lowest, fast.Total.ACYear/exact.Total.ACYear)
}

// The heat map's sums are those of the hourly simulation.
func TestIrradiateAgreesWithSimulate(t *testing.T) {
	in := houseInput(t, 4, 16, 8)
	in.Scene.Horizon = Horizon{{90, 5}, {180, 12}, {270, 0}}
	r, err := Simulate(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	cells, err := Irradiate(context.Background(), in.Year, in.Scene, in.Options)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range cells {
		near(t, fmt.Sprintf("module %d", i), c.POAYear, r.Modules[i].POAYear, 1e-6*c.POAYear)
		near(t, fmt.Sprintf("module %d access", i), c.Access, r.Modules[i].Access, 1e-9)
		near(t, fmt.Sprintf("module %d July", i), c.MonthlyAccess[6], r.Modules[i].MonthlyAccess[6], 1e-9)
	}
}

// The solid under a plane is drawn a little over it here; it shades others, not
// its own.
func TestAPlaneDoesNotShadeItself(t *testing.T) {
	s := Scene{
		Planes:  []Plane{{ID: "south", Surface: Surface{0, 180}, Mounting: FlatRoof}},
		Modules: []Module{{UM: 1, VM: 1, WidthM: 1, HeightM: 2}},
		Obstructions: []Obstruction{{Kind: RoofPart, PlaneID: "south", TopsM: []float64{0.5, 0.5, 0.5, 0.5},
			Footprint: [][2]float64{{0, 0}, {5, 0}, {5, 5}, {0, 5}}}},
	}
	for id, want := range map[string]float64{"south": 1, "north": 0} {
		s.Obstructions[0].PlaneID = id
		cells, err := Irradiate(context.Background(), mildYear(t), s, DefaultOptions())
		if err != nil {
			t.Fatal(err)
		}
		near(t, id, cells[0].Access, want, 1e-9)
	}
}

func TestLeafMonths(t *testing.T) {
	north, south := LeafMonths(48), LeafMonths(-35)
	for i := range 12 {
		near(t, fmt.Sprintf("month %d", i+1), south[i], north[(i+6)%12], 0)
	}
	if north[6] != 1 || north[0] != 0 || LeafMonths(10)[0] != 1 {
		t.Error("leaves at the wrong time")
	}
}

// comb is an outline of 4 corners a tooth.
func comb(teeth int) [][2]float64 {
	var out [][2]float64
	for i := range teeth {
		x := float64(i)
		out = append(out, [2]float64{x, 0}, [2]float64{x + 0.5, 0}, [2]float64{x + 0.5, 4}, [2]float64{x + 1, 4})
	}
	// The last corner closes the back; the others stay.
	out[len(out)-1] = [2]float64{float64(teeth), 5}
	out[0] = [2]float64{-1, 5}
	return out
}

func TestSceneCheckNamesTheField(t *testing.T) {
	good := func() Scene { return house(2, 4, 4) }
	if err := good().Check(); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		want string
		edit func(*Scene)
	}{
		{"Planes[1].PitchDeg: 95 is outside 0 to 90", func(s *Scene) { s.Planes[1].PitchDeg = 95 }},
		{`Planes[0].Mounting: "x" is none of [open_rack flat_roof flush facade]`, func(s *Scene) { s.Planes[0].Mounting = "x" }},
		{"Modules[2].Plane: 7 is outside 0 to 1", func(s *Scene) { s.Modules[2].Plane = 7 }},
		{"Modules[2].WidthM: NaN is outside 0.05 to 20", func(s *Scene) { s.Modules[2].WidthM = math.NaN() }},
		{"Obstructions[0].Footprint corners: 2 is outside 3 to 500", func(s *Scene) { s.Obstructions[0].Footprint = [][2]float64{{0, 0}, {1, 1}} }},
		{"Obstructions[0].Footprint: the outline has no area or crosses itself", func(s *Scene) {
			s.Obstructions[0].Footprint = [][2]float64{{0, 0}, {2, 2}, {2, 0}, {0, 2}}
		}},
		{"Obstructions[2].LeafOnPass: 1.5 is outside 0 to 1", func(s *Scene) { s.Obstructions[2].LeafOnPass = 1.5 }},
		{`Obstructions[1].Kind: "x" is none of [prism tree roof]`, func(s *Scene) { s.Obstructions[1].Kind = "x" }},
		{"Obstructions[1].TopsM heights: 0 is outside 4 to 4", func(s *Scene) { s.Obstructions[1].Kind = RoofPart }},
		{"Horizon[0].ElevationDeg: 91 is outside 0 to 90", func(s *Scene) { s.Horizon = Horizon{{0, 91}} }},
		{"Obstructions corners in all: 5120 is outside 0 to 5000", func(s *Scene) {
			s.Obstructions = nil
			for range 16 {
				s.Obstructions = append(s.Obstructions, Obstruction{Kind: Prism, TopM: 1, Footprint: comb(80)})
			}
		}},
		{"Scene.LeafOn[3]: 2 is outside 0 to 1", func(s *Scene) { s.LeafOn[3] = 2 }},
	} {
		s := good()
		c.edit(&s)
		if err := s.Check(); err == nil || err.Error() != c.want {
			t.Errorf("%v, want %s", err, c.want)
		}
	}
}
