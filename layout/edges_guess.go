package layout

import (
	"cmp"
	"math"
	"slices"
)

// run is a stretch of one side along which it meets another side.
type run struct {
	t0, t1 float64 // metres in plan from the start of the side
	kind   EdgeKind
	joined bool // same height: shared; else the lower edge at a wall
	other  int  // plane across
	// missM is the larger of the distances in plan and in height between the
	// two, at the middle of the run.
	missM float64
}

// runsAlong lists the runs that side i makes with side j: at most one joined
// run, and walls where j is higher.
func runsAlong(sides []side, i, j int) []run {
	s, o := sides[i], sides[j]
	a, b := s.project(o.from), s.project(o.to)
	a.h, b.h = o.fromH-s.heightAt(a.t), o.toH-s.heightAt(b.t)
	if a.t > b.t {
		a, b = b, a
	}
	if b.t-a.t < shareLengthM {
		return nil
	}
	near := span{max(0, a.t), min(s.lengthM, b.t)}
	near = near.where(a.t, a.off, b.t, b.off, -shareDistM, shareDistM)
	var out []run
	add := func(sp span, kind EdgeKind, joined bool) {
		if sp.hi-sp.lo < shareLengthM {
			return
		}
		mid := ((sp.lo+sp.hi)/2 - a.t) / (b.t - a.t)
		miss := max(math.Abs(a.off+float64(mid*(b.off-a.off))), math.Abs(a.h+float64(mid*(b.h-a.h))))
		out = append(out, run{sp.lo, sp.hi, kind, joined, o.plane, miss})
	}
	// A low step all along is a drawing slip. One that grows beyond it is a wall
	// right to where it tapers out.
	step := float64(stepHeightM)
	if whole := near.where(a.t, a.h, b.t, b.h, -step, step); whole != near {
		step = shareDistM
	}
	add(near.where(a.t, a.h, b.t, b.h, -step, step), sharedKind(s, o), true)
	add(near.where(a.t, a.h, b.t, b.h, step, math.Inf(1)), Wall, false)
	return out
}

// mark is a point seen from a side: t along it, off its line by off (positive
// into the plane), h above it.
type mark struct{ t, off, h float64 }

func (s side) project(p PlanPt) mark {
	d := PlanPt{p.XM - s.from.XM, p.YM - s.from.YM}
	return mark{t: dot(d, s.dir), off: dot(d, s.in)}
}

// heightAt is the height of the side, carried on straight, t metres along.
func (s side) heightAt(t float64) float64 {
	return s.fromH + float64(t/s.lengthM*(s.toH-s.fromH))
}

// span is a stretch of a side; empty when hi <= lo.
type span struct{ lo, hi float64 }

// where cuts the span down to where the straight line through (t0, y0) and
// (t1, y1), t0 < t1, stays within lo and hi.
func (s span) where(t0, y0, t1, y1, lo, hi float64) span {
	if y0 == y1 {
		if y0 < lo || y0 > hi {
			return span{}
		}
		return s
	}
	at := func(y float64) float64 { return t0 + float64((y-y0)/(y1-y0)*(t1-t0)) }
	in, out := at(lo), at(hi)
	if in > out {
		in, out = out, in
	}
	return span{max(s.lo, in), min(s.hi, out)}
}

// fall says which way a plane falls, seen from one of its edges.
type fall int

const (
	towards fall = iota - 1
	along
	away
)

func (s side) fall() fall {
	switch limit := math.Sin(alongFallDeg * math.Pi / 180); {
	case s.inFall > limit:
		return away
	case s.inFall < -limit:
		return towards
	}
	return along
}

// sharedKind is the kind of an edge that two planes share; the same seen from
// both.
func sharedKind(s, o side) EdgeKind {
	if s.level || o.level {
		return Break
	}
	switch a, b := s.fall(), o.fall(); {
	case a+b == 0:
		return Break // one each, or both along
	case a+b < 0:
		return Valley
	}
	rise := (s.toH - s.fromH) / s.lengthM
	other := (o.toH - o.fromH) / o.lengthM
	if dot(s.dir, o.dir) < 0 {
		other = -other
	}
	if math.Abs(rise+other)/2 <= math.Tan(levelEdgeDeg*math.Pi/180) {
		return Ridge
	}
	return Hip
}

// freeKind is the kind of an edge that no other plane shares.
func (s side) freeKind() EdgeKind {
	switch {
	case s.level:
		return Eave
	case math.Abs(s.dirFall) > math.Sin(alongEaveDeg*math.Pi/180):
		return Rake
	case s.inFall < 0:
		return Eave
	}
	return Ridge
}

// piece is a stretch of a side with one kind.
type piece struct {
	t0, t1 float64
	kind   EdgeKind
	across []across
}

// across is how much of a piece lies along which plane; -1 for none.
type across struct {
	plane int
	runM  float64
}

// partner is the plane along most of the piece, -1 for none.
func (p piece) partner() int {
	best := across{plane: -1}
	for _, a := range p.across {
		if a.runM > best.runM {
			best = a
		}
	}
	return best.plane
}

// pieces cuts the side where its kind changes.
func (s side) pieces(sides []side, met []run) []piece {
	cuts := []float64{0, s.lengthM}
	for _, r := range met {
		cuts = append(cuts, r.t0, r.t1)
	}
	slices.Sort(cuts)
	var out []piece
	for i := 1; i < len(cuts); i++ {
		t0, t1 := cuts[i-1], cuts[i]
		if t1 <= t0 {
			continue
		}
		kind, plane := s.freeKind(), -1
		if r, ok := bestRun(met, (t0+t1)/2); ok {
			kind, plane = r.kind, r.other
		}
		out = append(out, piece{t0, t1, kind, []across{{plane, t1 - t0}}})
	}
	return absorbShort(mergeEqual(out))
}

// bestRun picks the run that decides at t: a joined one before a wall, then the
// closest, then the first plane.
func bestRun(met []run, t float64) (run, bool) {
	var best run
	found := false
	for _, r := range met {
		if t < r.t0 || t > r.t1 {
			continue
		}
		if !found || r.before(best) {
			best, found = r, true
		}
	}
	return best, found
}

func (r run) before(o run) bool {
	if r.joined != o.joined {
		return r.joined
	}
	return cmp.Or(cmp.Compare(r.missM, o.missM), r.other-o.other) < 0
}

// mergeEqual joins neighbours of one kind.
func mergeEqual(pieces []piece) []piece {
	var out []piece
	for _, p := range pieces {
		if n := len(out); n > 0 && out[n-1].kind == p.kind {
			out[n-1] = joinPieces([]piece{out[n-1], p})
			continue
		}
		out = append(out, p)
	}
	return out
}

// absorbShort gives every piece under 100 mm to its longer neighbour, the
// shortest first.
func absorbShort(pieces []piece) []piece {
	for len(pieces) > 1 {
		short := 0
		for i, p := range pieces {
			if p.t1-p.t0 < pieces[short].t1-pieces[short].t0 {
				short = i
			}
		}
		if pieces[short].t1-pieces[short].t0 >= shareLengthM {
			break
		}
		into := short - 1
		if into < 0 || short+1 < len(pieces) &&
			pieces[short+1].t1-pieces[short+1].t0 > pieces[into].t1-pieces[into].t0 {
			into = short + 1
		}
		lo, hi := min(short, into), max(short, into)
		joined := joinPieces(pieces[lo : hi+1])
		joined.kind = pieces[into].kind
		pieces = mergeEqual(slices.Replace(pieces, lo, hi+1, joined))
	}
	return pieces
}

// joinPieces makes one piece of neighbours, with the first one's kind and the
// run along each plane added up.
func joinPieces(pieces []piece) piece {
	out := piece{t0: pieces[0].t0, t1: pieces[len(pieces)-1].t1, kind: pieces[0].kind}
	for _, p := range pieces {
		for _, a := range p.across {
			i := slices.IndexFunc(out.across, func(b across) bool { return b.plane == a.plane })
			if i < 0 {
				out.across = append(out.across, a)
				continue
			}
			out.across[i].runM += a.runM
		}
	}
	return out
}
