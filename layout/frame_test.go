package layout

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// plane is a test roof plane: pairs of x and y, metres.
func plane(id string, pitchDeg, azimuthDeg, eaveHeightM float64, xy ...float64) Plane {
	p := Plane{ID: id, PitchDeg: pitchDeg, AzimuthDeg: azimuthDeg, EaveHeightM: eaveHeightM}
	for i := 0; i+1 < len(xy); i += 2 {
		p.Ring = append(p.Ring, Corner{At: PlanPt{xy[i], xy[i+1]}})
	}
	return p
}

func mustFrame(t testing.TB, p Plane) Frame {
	t.Helper()
	f, err := NewFrame(p)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// world is a way of drawing the same roof differently.
type world struct {
	name     string
	dx, dy   float64
	turnDeg  float64 // clockwise
	reversed bool
	first    int
}

// worlds are the ways every roof of a table is drawn in.
func worlds() []world {
	ws := []world{
		{name: "as drawn"},
		{name: "far away", dx: 4000, dy: -4500},
		{name: "reversed", reversed: true},
		{name: "first corner moved", first: 1},
		{name: "reversed, first corner moved", reversed: true, first: 2},
	}
	for _, deg := range []float64{90, 180, 270, 7, 45, 123.4, 359.9} {
		ws = append(ws, world{name: fmt.Sprintf("turned %v", deg), turnDeg: deg})
	}
	return append(ws, world{name: "everything", dx: -1234.5678, dy: 987.6543, turnDeg: 211.7, reversed: true, first: 1})
}

func (w world) point(p PlanPt) PlanPt {
	s, c := sincosDeg(w.turnDeg)
	return PlanPt{c*p.XM + s*p.YM + w.dx, -s*p.XM + c*p.YM + w.dy}
}

func (w world) plane(p Plane) Plane {
	n := len(p.Ring)
	ring := make([]Corner, n)
	for i := range ring {
		from, edge := (i+w.first)%n, (i+w.first)%n
		if w.reversed {
			from = (2*n - 1 - i - w.first%n) % n
			edge = (from + n - 1) % n
		}
		ring[i] = p.Ring[edge]
		ring[i].At = w.point(p.Ring[from].At)
	}
	p.Ring = ring
	p.AzimuthDeg = math.Mod(p.AzimuthDeg+w.turnDeg, 360)
	return p
}

func (w world) planes(planes []Plane) []Plane {
	out := make([]Plane, len(planes))
	for i, p := range planes {
		out[i] = w.plane(p)
	}
	return out
}

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// Arithmetic: 60 m2 / cos 30 = 69.282 m2.
func TestSlopeArea(t *testing.T) {
	p := plane("a", 30, 180, 3, 0, 0, 10, 0, 10, 6, 0, 6)
	for _, w := range worlds() {
		q := w.plane(p)
		if got := q.SlopeAreaM2(); !near(got, 69.2820323, 1e-6) {
			t.Errorf("%s: slope area %v, want 69.282", w.name, got)
		}
		if got := q.PlanAreaM2(); !near(got, 60, 1e-6) {
			t.Errorf("%s: plan area %v, want 60", w.name, got)
		}
		if got, want := q.RidgeHeightM(), 3+6*math.Tan(math.Pi/6); !near(got, want, 1e-9) {
			t.Errorf("%s: ridge height %v, want %v", w.name, got, want)
		}
	}
}

// Arithmetic: atan(rise/12).
func TestRiseIn12(t *testing.T) {
	for _, tc := range []struct{ rise, deg float64 }{
		{0, 0}, {2, 9.46}, {4, 18.43}, {6, 26.57}, {8, 33.69}, {12, 45.00},
	} {
		if got := RiseIn12ToDeg(tc.rise); !near(got, tc.deg, 0.005) {
			t.Errorf("%v in 12 is %v deg, want %v", tc.rise, got, tc.deg)
		}
		if got := DegToRiseIn12(RiseIn12ToDeg(tc.rise)); !near(got, tc.rise, 1e-12) {
			t.Errorf("%v in 12 came back as %v", tc.rise, got)
		}
	}
}

// The frame's axes on the four sides of a square house, 10 m x 10 m, 45 deg:
// v is plan distance times the square root of 2.
func TestFrameAxes(t *testing.T) {
	r2 := math.Sqrt2
	for _, tc := range []struct {
		azimuth float64
		x, y    float64
		u, v    float64
	}{
		{180, 1, 2, 1, 2 * r2}, // faces south: right is east, up is north
		{0, 1, 2, 9, 8 * r2},   // faces north: right is west, up is south
		{90, 1, 2, 2, 9 * r2},  // faces east: right is north, up is west
		{270, 1, 2, 8, 1 * r2}, // faces west: right is south, up is east
	} {
		f := mustFrame(t, plane("a", 45, tc.azimuth, 3, 0, 0, 10, 0, 10, 10, 0, 10))
		s := f.ToSlope(PlanPt{tc.x, tc.y})
		if !near(s.UM, tc.u, 1e-12) || !near(s.VM, tc.v, 1e-12) {
			t.Errorf("azimuth %v: (%v, %v) is at %v, want (%v, %v)", tc.azimuth, tc.x, tc.y, s, tc.u, tc.v)
		}
		if got, want := f.HeightM(PlanPt{tc.x, tc.y}), 3+tc.v/r2; !near(got, want, 1e-12) {
			t.Errorf("azimuth %v: height %v, want %v", tc.azimuth, got, want)
		}
	}
}

func TestFrameStartsAtLowestAndLeftmost(t *testing.T) {
	// A triangle that points down: its lowest corner is not its leftmost.
	p := plane("a", 30, 180, 3, 0, 4, 3, 0, 8, 4)
	for _, w := range worlds() {
		q := w.plane(p)
		f := mustFrame(t, q)
		uMin, vMin := math.Inf(1), math.Inf(1)
		for _, c := range q.Ring {
			s := f.ToSlope(c.At)
			uMin, vMin = min(uMin, s.UM), min(vMin, s.VM)
		}
		if uMin != 0 || vMin != 0 {
			t.Errorf("%s: smallest u %v, smallest v %v, want 0 and 0", w.name, uMin, vMin)
		}
	}
}

// Changing the pitch keeps the plan: u stays, v grows as 1/cos(pitch).
func TestPitchKeepsPlan(t *testing.T) {
	flat := mustFrame(t, plane("a", 0, 200, 3, 0, 0, 10, 1, 9, 7, 0, 5))
	steep := mustFrame(t, plane("a", 60, 200, 3, 0, 0, 10, 1, 9, 7, 0, 5))
	a, b := flat.ToSlope(PlanPt{4, 3}), steep.ToSlope(PlanPt{4, 3})
	if a.UM != b.UM || !near(b.VM, 2*a.VM, 1e-12) {
		t.Errorf("at 60 deg %v, at 0 deg %v", b, a)
	}
}

func TestNewFrameRefuses(t *testing.T) {
	good := plane("a", 30, 180, 3, 0, 0, 10, 0, 10, 6)
	for _, tc := range []struct {
		name   string
		change func(*Plane)
		field  string // of a RangeError; "" for a ShapeError
	}{
		{"pitch 75.1", func(p *Plane) { p.PitchDeg = 75.1 }, "PitchDeg"},
		{"pitch below 0", func(p *Plane) { p.PitchDeg = -0.1 }, "PitchDeg"},
		{"pitch NaN", func(p *Plane) { p.PitchDeg = math.NaN() }, "PitchDeg"},
		{"azimuth 360", func(p *Plane) { p.AzimuthDeg = 360 }, "AzimuthDeg"},
		{"azimuth below 0", func(p *Plane) { p.AzimuthDeg = -1 }, "AzimuthDeg"},
		{"height infinite", func(p *Plane) { p.EaveHeightM = math.Inf(1) }, "EaveHeightM"},
		{"no corners", func(p *Plane) { p.Ring = nil }, ""},
	} {
		p := good
		tc.change(&p)
		_, err := NewFrame(p)
		var re *RangeError
		var se *ShapeError
		switch {
		case tc.field == "" && !errors.As(err, &se):
			t.Errorf("%s: %v, want a shape error", tc.name, err)
		case tc.field != "" && (!errors.As(err, &re) || re.Field != tc.field):
			t.Errorf("%s: %v, want a range error of %s", tc.name, err, tc.field)
		}
	}
	for _, pitch := range []float64{0, 75} {
		p := good
		p.PitchDeg = pitch
		if _, err := NewFrame(p); err != nil {
			t.Errorf("pitch %v: %v", pitch, err)
		}
	}
}

// planeGen draws a convex quadrilateral plane of house size, anywhere on the
// site.
func planeGen(rt *rapid.T) Plane {
	w := rapid.Float64Range(1, 30).Draw(rt, "w")
	d := rapid.Float64Range(1, 20).Draw(rt, "d")
	skew := rapid.Float64Range(0, 0.9).Draw(rt, "skew")
	p := plane("p", rapid.Float64Range(0, 75).Draw(rt, "pitch"), 180, 3,
		0, 0, w, 0, w, d, skew*w, d)
	return world{
		dx:      rapid.Float64Range(-4900, 4900).Draw(rt, "dx"),
		dy:      rapid.Float64Range(-4900, 4900).Draw(rt, "dy"),
		turnDeg: rapid.Float64Range(0, 359).Draw(rt, "turn"),
	}.plane(p)
}

func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := planeGen(rt)
		f, err := NewFrame(p)
		if err != nil {
			rt.Fatal(err)
		}
		q := PlanPt{
			p.Ring[0].At.XM + rapid.Float64Range(-100, 100).Draw(rt, "x"),
			p.Ring[0].At.YM + rapid.Float64Range(-100, 100).Draw(rt, "y"),
		}
		back := f.ToPlan(f.ToSlope(q))
		if math.Hypot(back.XM-q.XM, back.YM-q.YM) > 1e-9 {
			rt.Fatalf("%v came back as %v", q, back)
		}
		s := SlopePt{q.XM - p.Ring[0].At.XM, q.YM - p.Ring[0].At.YM}
		there := f.ToSlope(f.ToPlan(s))
		if math.Hypot(there.UM-s.UM, there.VM-s.VM) > 1e-9 {
			rt.Fatalf("%v came back as %v", s, there)
		}
	})
}

// The frame is the same bit for bit whichever corner comes first and whichever
// way the ring runs.
func TestFrameIgnoresStartAndDirection(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := planeGen(rt)
		q := world{reversed: rapid.Bool().Draw(rt, "reversed"), first: rapid.IntRange(0, 3).Draw(rt, "first")}.plane(p)
		f, err1 := NewFrame(p)
		g, err2 := NewFrame(q)
		if err1 != nil || err2 != nil || f != g {
			rt.Fatalf("%+v (%v) and %+v (%v)", f, err1, g, err2)
		}
	})
}
