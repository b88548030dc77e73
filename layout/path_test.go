package layout

import (
	"slices"
	"strings"
	"testing"
)

// street marks edges, by plane and corner, as street side.
func street(planes []Plane, marks ...[2]int) []Plane {
	out := slices.Clone(planes)
	for _, m := range marks {
		out[m[0]].Ring = slices.Clone(out[m[0]].Ring)
		out[m[0]].Ring[m[1]].Street = true
	}
	return out
}

// overridden gives one edge of a plane a kind.
func overridden(p Plane, edge int, kind EdgeKind) Plane {
	p.Ring[edge].Kind = kind
	return p
}

func TestPathSide(t *testing.T) {
	gable := simpleRoofs()[0].planes // s and n; edges of both: south, east, north, west
	hip := simpleRoofs()[1].planes
	shed := simpleRoofs()[2].planes
	const s, n = 0, 1
	for _, tc := range []struct {
		name   string
		planes []Plane
		plane  int
		u      float64 // where the path starts in u
		note   string  // in the notes; "" for none
	}{
		{"no street", gable, s, 10 - 0.914, "No street side picked"},
		{"own rake in the east, right of a south slope", street(gable, [2]int{s, 1}), s, 10 - 0.914, ""},
		{"own rake in the west", street(gable, [2]int{s, 3}), s, 0, ""},
		{"the other plane's rake in the east, left of a north slope", street(gable, [2]int{s, 1}), n, 0, ""},
		{"the other plane's rake in the west", street(gable, [2]int{s, 3}), n, 10 - 0.914, ""},
		{"own rake wins over the other plane's", street(gable, [2]int{s, 1}, [2]int{n, 3}), n, 10 - 0.914, ""},
		{"both own rakes", street(gable, [2]int{s, 1}, [2]int{s, 3}), s, 10 - 0.914, "no left or right"},
		{"own eave", street(gable, [2]int{s, 0}), s, 10 - 0.914, "no left or right"},
		{"own eave, the other plane's rake in the west", street(gable, [2]int{s, 0}, [2]int{n, 3}), s, 0, "no left or right"},
		{"own eave and own rake in the west", street(gable, [2]int{s, 0}, [2]int{s, 3}), s, 0, ""},
		{"the other plane's eave", street(gable, [2]int{s, 0}), n, 10 - 0.914, "equally near"},
		{"shed: at the end of its high edge", street(shed, [2]int{0, 3}), 0, 0, ""},
		{"long hip slope: under the end of the ridge", street(hip, [2]int{0, 1}), 0, 7 - 0.914, ""},
		{"long hip slope: street by the west hip end's eave", street(hip, [2]int{3, 0}), 0, 3, ""},
		{"hip end: centred under its top", hip, 1, 3 - 0.457, ""},
	} {
		for _, w := range worlds() {
			planes := w.planes(tc.planes)
			edges := Edges(planes)
			f := mustFrame(t, planes[tc.plane])
			outer := make(Ring, len(planes[tc.plane].Ring))
			for i, c := range planes[tc.plane].Ring {
				outer[i] = f.ToSlope(c.At)
			}
			zone, notes := pathZone(tc.plane, f, outer, edges, 0.914)
			b := boundsOf(zone.Ring)
			if zone.Why != WhyPath || !near(b.u0, tc.u, 1e-6) || !near(b.u1, tc.u+0.914, 1e-6) {
				t.Errorf("%s, %s: path from u = %v to %v, want from %v", tc.name, w.name, b.u0, b.u1, tc.u)
			}
			if b.v0 > 0 || b.v1 < boundsOf(outer).v1 {
				t.Errorf("%s, %s: path from v = %v to %v", tc.name, w.name, b.v0, b.v1)
			}
			all := strings.Join(notes, "|")
			if tc.note == "" && all != "" || !strings.Contains(all, tc.note) {
				t.Errorf("%s, %s: notes %q, want %q", tc.name, w.name, all, tc.note)
			}
		}
	}
}

func TestPathPlace(t *testing.T) {
	for _, tc := range []struct {
		name   string
		plane  Plane
		u0, u1 float64
	}{
		// The top corner is at the right edge: the path moves inside.
		{"right-angled hip end", plane("p", 30, 180, 3, 0, 0, 6, 0, 6, 3), 6 - 0.914, 6},
		{"right-angled hip end, mirrored", plane("p", 30, 180, 3, 0, 0, 6, 0, 0, 3), 0, 0.914},
		{"high edge shorter than the path", plane("p", 30, 180, 3, 0, 0, 6, 0, 3.2, 3, 2.6, 3), 2.9 - 0.457, 2.9 + 0.457},
		{"plane narrower than the path", plane("p", 30, 180, 3, 0, 0, 0.8, 0, 0.8, 3, 0, 3), 0, 0.914},
		// +---+        two high edges: the higher one leads
		// |   +---+
		// +-------+
		{"stepped", plane("p", 30, 180, 3, 0, 0, 8, 0, 8, 3, 4, 3, 4, 5, 0, 5), 4 - 0.914, 4},
		// The same under a wall: the lower high edge, a ridge, leads.
		{"ridge below the top", overridden(plane("p", 30, 180, 3, 0, 0, 8, 0, 8, 3, 4, 3, 4, 5, 0, 5), 4, Wall), 8 - 0.914, 8},
		// Two ridges at one height, either side of a step down: the longer one.
		{"two ridges", plane("p", 30, 180, 3, 0, 0, 9, 0, 9, 4, 7, 4, 7, 2, 5, 2, 5, 4, 0, 4), 5 - 0.914, 5},
		{"two ridges, mirrored", plane("p", 30, 180, 3, 0, 0, 9, 0, 9, 4, 4, 4, 4, 2, 2, 2, 2, 4, 0, 4), 9 - 0.914, 9},
	} {
		f := mustFrame(t, tc.plane)
		outer := make(Ring, len(tc.plane.Ring))
		for i, c := range tc.plane.Ring {
			outer[i] = f.ToSlope(c.At)
		}
		zone, _ := pathZone(0, f, outer, Edges([]Plane{tc.plane}), 0.914)
		if b := boundsOf(zone.Ring); !near(b.u0, tc.u0, 1e-9) || !near(b.u1, tc.u1, 1e-9) {
			t.Errorf("%s: path from u = %v to %v, want %v to %v", tc.name, b.u0, b.u1, tc.u0, tc.u1)
		}
	}
}

// Whatever edge is marked, a path that can start at an eave does: beside a
// valley the ridge runs on where there is no eave.
func TestPathStartsAtAnEave(t *testing.T) {
	const widthM = 0.914
	for _, r := range joinedRoofs() {
		for from := range r.planes {
			for mark := range r.planes[from].Ring {
				planes := street(r.planes, [2]int{from, mark})
				edges := Edges(planes)
				for i := range planes {
					checkPathOverEave(t, r.name, planes[i], i, edges, widthM)
				}
			}
		}
	}
}

func checkPathOverEave(t *testing.T, name string, p Plane, plane int, edges [][]Edge, widthM float64) {
	t.Helper()
	f := mustFrame(t, p)
	outer := make(Ring, len(p.Ring))
	for i, c := range p.Ring {
		outer[i] = f.ToSlope(c.At)
	}
	r0, r1 := topRun(f, outer, edges[plane])
	zone, _ := pathZone(plane, f, outer, edges, widthM)
	band := boundsOf(zone.Ring)
	room, over := false, false
	for _, e := range edges[plane] {
		if e.Kind != Eave {
			continue
		}
		a, b := f.ToSlope(e.From).UM, f.ToSlope(e.To).UM
		lo, hi := min(a, b), max(a, b)
		room = room || min(hi, r1)-max(lo, r0) >= widthM
		over = over || lo-halfMicroM <= band.u0 && band.u1 <= hi+halfMicroM
	}
	if room && !over {
		t.Errorf("%s, plane %s: the path from u %.3f to %.3f starts at no eave", name, p.ID, band.u0, band.u1)
	}
}
