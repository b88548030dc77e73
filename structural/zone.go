package structural

import "math"

// EdgeKind says what a piece of a roof plane's outline is.
type EdgeKind string

// The kinds of edges. A break joins two planes of one slope. At a wall a higher
// building stands on the edge; a party wall is the line to the neighbour's roof.
const (
	Eave      EdgeKind = "eave"
	Ridge     EdgeKind = "ridge"
	Rake      EdgeKind = "rake"
	Hip       EdgeKind = "hip"
	Valley    EdgeKind = "valley"
	Break     EdgeKind = "break"
	Wall      EdgeKind = "wall"
	PartyWall EdgeKind = "party_wall"
)

// EdgeKinds lists all kinds.
func EdgeKinds() []EdgeKind {
	return []EdgeKind{Eave, Ridge, Rake, Hip, Valley, Break, Wall, PartyWall}
}

// Edge is one straight piece of a plane's outline in the plane's own frame: U
// metres along the eave, V up the slope.
type Edge struct {
	FromUM, FromVM, ToUM, ToVM float64
	Kind                       EdgeKind
}

// Zone is a part of a roof with one pressure coefficient, named as in ASCE 7-16
// Fig. 30.3-2: 1 inside, 2 along an edge, 3 in a corner; e, n and r tell eave,
// gable end (rake) and ridge apart on roofs steeper than 7 degrees.
type Zone string

// The zones. Zone2 and Zone3 belong to roofs of up to 7 degrees.
const (
	Zone1  Zone = "1"
	Zone2  Zone = "2"
	Zone3  Zone = "3"
	Zone2E Zone = "2e"
	Zone2N Zone = "2n"
	Zone2R Zone = "2r"
	Zone3E Zone = "3e"
	Zone3R Zone = "3r"
)

// Zones lists all zones.
func Zones() []Zone {
	return []Zone{Zone1, Zone2, Zone3, Zone2E, Zone2N, Zone2R, Zone3E, Zone3R}
}

// flatDeg is the pitch up to which ASCE 7 zones a roof like a flat one.
const flatDeg = 7

// ZoneWidthM is how far in plan an edge zone reaches: 10 % of the building's
// smaller side or 0.4 of the mean roof height, whichever is less, but not less
// than 4 % of the side or 3 ft (0.914 m); on roofs of up to 7 degrees 0.6 of the
// mean roof height (ASCE 7-16 Fig. 30.3-2, from memory).
func ZoneWidthM(pitchDeg, buildingWidthM, meanRoofHeightM float64) float64 {
	if pitchDeg <= flatDeg {
		return 0.6 * meanRoofHeightM
	}
	return max(min(0.1*buildingWidthM, 0.4*meanRoofHeightM), 0.04*buildingWidthM, 0.9144)
}

// nearEdges says which kinds of zone edges a module lies within a width of.
type nearEdges struct {
	eave, ridge, hip, side bool
	// pieces counts the edges.
	pieces int
}

// add takes one edge within reach. A wall and a party wall count as a side,
// which is the safe reading.
func (n *nearEdges) add(k EdgeKind) {
	n.pieces++
	switch k {
	case Eave:
		n.eave = true
	case Ridge:
		n.ridge = true
	case Hip:
		n.hip = true
	default:
		n.side = true
	}
}

// zone names the worst zone that is touched. A module near two kinds of edges
// counts as in the corner between them, also where the corner itself is just
// out of reach; a hip is zoned as a ridge, and its ends at an eave or a ridge
// as the ridge's corner. On a roof of up to 7 degrees any two edges make a
// corner, for all of them may be called eaves.
func (n nearEdges) zone(pitchDeg float64) Zone {
	switch {
	case n.pieces == 0:
		return Zone1
	case pitchDeg <= flatDeg && n.pieces > 1:
		return Zone3
	case pitchDeg <= flatDeg:
		return Zone2
	case n.hip && (n.eave || n.ridge || n.side), n.ridge && n.side:
		return Zone3R
	case n.eave && n.side:
		return Zone3E
	case n.ridge || n.hip:
		return Zone2R
	case n.side:
		return Zone2N
	}
	return Zone2E
}

// zoneOf returns the zone of a module and its distance in plan from the nearest
// roof edge or ridge, +Inf where there is none. Valleys and breaks are no edges.
// A module exactly the zone's width away does not touch it.
func zoneOf(m Rect, edges []Edge, pitchDeg, widthM float64) (Zone, float64) {
	cos := math.Cos(pitchDeg * degree)
	plan := m
	plan.VM, plan.HM = float64(m.VM*cos), float64(m.HM*cos)
	var near nearEdges
	nearest := math.Inf(1)
	for _, e := range edges {
		if e.Kind == Valley || e.Kind == Break {
			continue
		}
		d := plan.distanceM(e.FromUM, float64(e.FromVM*cos), e.ToUM, float64(e.ToVM*cos))
		nearest = min(nearest, d)
		if d < widthM {
			near.add(e.Kind)
		}
	}
	return near.zone(pitchDeg), nearest
}

// distanceM is the distance between a rectangle and a piece of a straight line,
// 0 where they touch.
func (r Rect) distanceM(au, av, bu, bv float64) float64 {
	if r.crosses(au, av, bu, bv) {
		return 0
	}
	d := min(r.pointM(au, av), r.pointM(bu, bv))
	for _, c := range r.corners() {
		d = min(d, pieceM(c[0], c[1], au, av, bu, bv))
	}
	return d
}

func (r Rect) corners() [4][2]float64 {
	return [4][2]float64{{r.UM, r.VM}, {r.UM + r.WM, r.VM}, {r.UM + r.WM, r.VM + r.HM}, {r.UM, r.VM + r.HM}}
}

// pointM is the distance of a point from the rectangle, 0 inside.
func (r Rect) pointM(u, v float64) float64 {
	return math.Hypot(max(r.UM-u, 0, u-r.UM-r.WM), max(r.VM-v, 0, v-r.VM-r.HM))
}

// pieceM is the distance of a point from a piece of a straight line.
func pieceM(u, v, au, av, bu, bv float64) float64 {
	du, dv := bu-au, bv-av
	length2 := float64(du*du) + float64(dv*dv)
	t := 0.0
	if length2 > 0 {
		t = min(1, max(0, (float64((u-au)*du)+float64((v-av)*dv))/length2))
	}
	return math.Hypot(u-au-float64(t*du), v-av-float64(t*dv))
}

// crosses reports whether a piece of a straight line meets the rectangle: the
// part of it within the strip in u still reaches into the strip in v.
func (r Rect) crosses(au, av, bu, bv float64) bool {
	t0, t1 := 0.0, 1.0
	for _, strip := range [2][4]float64{{au, bu - au, r.UM, r.UM + r.WM}, {av, bv - av, r.VM, r.VM + r.HM}} {
		from, step, lo, hi := strip[0], strip[1], strip[2], strip[3]
		if step == 0 {
			if from < lo || from > hi {
				return false
			}
			continue
		}
		a, b := (lo-from)/step, (hi-from)/step
		t0, t1 = max(t0, min(a, b)), min(t1, max(a, b))
	}
	return t0 <= t1
}
