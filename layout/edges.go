package layout

import (
	"cmp"
	"math"
	"slices"
)

// Edge is one piece of a plane's outline with one kind.
type Edge struct {
	// Index is the ring corner that the edge leaves. An edge split where its
	// kind changes has several pieces with one index.
	Index int
	// From and To follow the direction of the ring. A piece ends exactly where
	// the next one starts.
	From, To PlanPt
	// FromHeightM and ToHeightM are heights above ground; LengthM is the true
	// length in the roof plane.
	FromHeightM, ToHeightM, LengthM float64
	Kind                            EdgeKind
	// Guessed is false where the user gave the kind.
	Guessed bool
	// Street is the corner's street flag.
	Street bool
	// SharedWith is the ID of the plane across the edge: the one it is shared
	// with or, for a lower edge at a wall, the higher one; the one along the
	// longest run if there are several; "" for a free edge.
	SharedWith string
}

// Edges says what each edge of each plane is, one list a plane, in ring order.
// A plane that [NewFrame] refuses gets an empty list and takes no part.
//
// A ring edge whose corner has a Kind is one piece of that kind. The others
// are guessed. Two edges of different planes that lie on opposite sides of
// their common line and run together for at least 100 mm, within 20 mm in
// plan, make:
//
//   - at the same height, that is within 150 mm all along the run: a ridge where
//     both planes fall away from it and it is level, a hip where it is not, a valley where both fall towards it,
//     a break where one does each. Where the edge runs along the fall of one
//     plane it is a hip or valley by the other's fall; along the fall of both,
//     as between two pieces of one slope, a break. So is any edge of a plane
//     under 2 degrees, whose fall has no direction.
//   - apart in height: a wall for the lower edge, up to where a growing step is
//     down to 20 mm. The higher one is free there.
//
// A free edge that lies along the eave is an eave where the plane falls
// towards it and a ridge where it falls away, as at the top of a shed; the
// rest are rakes. Every free edge of a plane under 2 degrees is an eave. Edges
// that face the same way, one above the other, and edges that meet another
// plane in the middle are free.
//
// An edge is split where the kind changes; pieces under 100 mm join the longer
// neighbour.
func Edges(planes []Plane) [][]Edge {
	frames := make([]Frame, len(planes))
	var sides []side
	for i, p := range planes {
		f, err := NewFrame(p)
		if err != nil {
			continue
		}
		frames[i] = f
		sides = append(sides, planeSides(i, p, f)...)
	}
	met := meetings(sides)
	out := make([][]Edge, len(planes))
	for i, s := range sides {
		out[s.plane] = append(out[s.plane], s.edges(planes, sides, met[i], frames[s.plane])...)
	}
	return out
}

// side is one ring edge made ready for comparison.
type side struct {
	plane, index int
	from, to     PlanPt
	lengthM      float64 // in plan
	dir, in      PlanPt  // unit vectors in plan: along the edge, into the plane
	// fromH and toH are heights; both the eave height for a level plane.
	fromH, toH float64
	level      bool
	// inFall and dirFall are the cosines between the fall and in or dir; 0 for
	// a level plane.
	inFall, dirFall float64
}

func planeSides(plane int, p Plane, f Frame) []side {
	ring := p.planRing()
	turn := 1.0
	if signedAreaM2(ring) < 0 {
		turn = -1
	}
	level := p.PitchDeg < levelPitchDeg
	sides := make([]side, len(ring))
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		l := math.Hypot(b.XM-a.XM, b.YM-a.YM)
		dir := PlanPt{(b.XM - a.XM) / l, (b.YM - a.YM) / l}
		s := side{
			plane: plane, index: i, from: a, to: b, lengthM: l,
			dir: dir, in: PlanPt{-turn * dir.YM, turn * dir.XM},
			fromH: p.EaveHeightM, toH: p.EaveHeightM, level: level,
		}
		if !level {
			fall := PlanPt{f.sinA, f.cosA}
			s.fromH, s.toH = f.HeightM(a), f.HeightM(b)
			s.inFall, s.dirFall = dot(s.in, fall), dot(s.dir, fall)
		}
		sides[i] = s
	}
	return sides
}

func dot(a, b PlanPt) float64 { return float64(a.XM*b.XM) + float64(a.YM*b.YM) }

// at is the point of the side t metres from its start.
func (s side) at(t float64) PlanPt {
	return PlanPt{s.from.XM + float64(t*s.dir.XM), s.from.YM + float64(t*s.dir.YM)}
}

// meetings lists, for every side, the runs along which it meets other sides.
// A sweep over x leaves only the pairs whose boxes meet.
func meetings(sides []side) [][]run {
	met := make([][]run, len(sides))
	order := make([]int, 0, len(sides))
	for i, s := range sides {
		if s.lengthM >= shareLengthM {
			order = append(order, i)
		}
	}
	left := func(i int) float64 { return min(sides[i].from.XM, sides[i].to.XM) }
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(left(a), left(b)), a-b)
	})
	for k, i := range order {
		right := max(sides[i].from.XM, sides[i].to.XM) + shareDistM
		for _, j := range order[k+1:] {
			if left(j) > right {
				break
			}
			if sides[i].plane != sides[j].plane && sides[i].couldMeet(sides[j]) {
				met[i] = append(met[i], runsAlong(sides, i, j)...)
				met[j] = append(met[j], runsAlong(sides, j, i)...)
			}
		}
	}
	return met
}

// couldMeet is a quick test before [runsAlong]: boxes meet in y, the edges are
// near parallel, and the planes lie on opposite sides.
func (s side) couldMeet(o side) bool {
	if max(s.from.YM, s.to.YM)+shareDistM < min(o.from.YM, o.to.YM) ||
		max(o.from.YM, o.to.YM)+shareDistM < min(s.from.YM, s.to.YM) {
		return false
	}
	return dot(s.in, o.in) <= -math.Cos(shareAngleDeg*(math.Pi/180))
}

// edges cuts one side into pieces of one kind each.
func (s side) edges(planes []Plane, sides []side, met []run, f Frame) []Edge {
	corner := planes[s.plane].Ring[s.index]
	pieces := s.pieces(sides, met)
	if corner.Kind != Auto {
		whole := joinPieces(pieces)
		whole.kind = corner.Kind
		pieces = []piece{whole}
	}
	out := make([]Edge, len(pieces))
	from := s.from
	for i, p := range pieces {
		to := s.to
		if i+1 < len(pieces) {
			to = s.at(p.t1)
		}
		a, b := f.ToSlope(from), f.ToSlope(to)
		out[i] = Edge{
			Index: s.index, From: from, To: to,
			FromHeightM: f.HeightM(from), ToHeightM: f.HeightM(to),
			LengthM: math.Hypot(b.UM-a.UM, b.VM-a.VM),
			Kind:    p.kind, Guessed: corner.Kind == Auto, Street: corner.Street,
		}
		if other := p.partner(); other >= 0 {
			out[i].SharedWith = planes[other].ID
		}
		from = to
	}
	return out
}
