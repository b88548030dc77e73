package layout

import (
	"math"
	"math/bits"
	"math/rand/v2"
)

// What the search draws by lot. Chosen on the planes of testdata; no result
// depends on them for being valid.
const (
	// searchSeed starts the pseudo-random numbers, the same on every call.
	searchSeed = 3
	// buildShare of the windows are built up module by module, the others row
	// by row.
	buildShare = 0.03
	// turnShare of the windows change the corner that modules are pushed to.
	// It is kept for a while, so that free room gathers at the far side.
	turnShare = 0.05
	// reachLeast and reachMost are half a window's sides in longer module sides;
	// reachShare is the most of it for the root of the count, so that the largest
	// window of a small plane leaves some of it.
	reachLeast, reachMost, reachShare = 0.3, 2.0, 0.3
	// spellSteps is the work of a spell for each module and for 10 more.
	spellSteps = 50_000
	// tidySteps is the work of judging how tidy a layout is, for each module.
	tidySteps = 10
	// windowSteps is the work of a window beside what its rows take.
	windowSteps = 20
)

// searcher improves a layout by solving windows of it anew. A window's result
// is kept when it holds at least as many modules as were taken out: ties let
// the layout drift to places from which it can be improved.
type searcher struct {
	j       *job
	windows [8]*windower
	rng     *rand.Rand
	long    float64 // a module's longer side
	corner  int     // what modules are pushed to
	spots   []spot  // the layout
	rects   []area  // and its modules' rectangles
	best    []spot
	work    int

	// Scratch memory of a window.
	keep  []int
	fixed []area
	got   []spot
}

func newSearcher(j *job) *searcher {
	s := &searcher{j: j, rng: rand.New(rand.NewPCG(searchSeed, searchSeed))}
	size := s.window(0).v.sizes[0]
	s.long = max(size[0], size[1])
	return s
}

// columnsView is the view whose rows are columns.
const columnsView = 4

// window makes the windower of view o when it is first needed: bits 0 and 1
// mirror along u and v, bit 2 exchanges the axes.
func (s *searcher) window(o int) *windower {
	if s.windows[o] == nil {
		s.windows[o] = newWindower(newView(s.j.f, s.j.s, s.j.modules, o&1 != 0, o&2 != 0, o&columnsView != 0))
	}
	return s.windows[o]
}

// whole is the best layout in rows of view o, one turn preferred.
func (s *searcher) whole(o int) []spot {
	w := s.window(o)
	const beyond = 16 // the slack of a row, and more
	all := w.v.see(area{-beyond, -beyond, s.j.f.width + beyond, s.j.f.height + beyond})
	before := w.work
	got := w.solve(nil, all, nil, true)
	s.work += w.work - before
	if w.whole == nil {
		w.whole, w.profiles = w.profiles, make([]profile, len(w.profiles))
	}
	w.v.toRegion(got)
	return got
}

// profiles is the profiles of rows of view o from side to side.
func (s *searcher) profiles(o int) []profile {
	w := s.window(o)
	if o == 0 {
		return s.j.profiles
	}
	if w.whole == nil {
		w.whole = s.j.profilesOf(w.v.f, w.v.modules)
	}
	return w.whole
}

// set makes spots the layout.
func (s *searcher) set(spots []spot) {
	s.spots = append(s.spots[:0], spots...)
	s.measure()
}

func (s *searcher) measure() {
	s.rects = s.rects[:0]
	for _, b := range s.spots {
		s.rects = append(s.rects, s.windows[0].v.rect(b))
	}
}

// run improves the layout start until it holds target modules or the work is
// used up, and returns the best. In turns it goes on from the best layout and
// starts again from another one, in spells that grow.
func (s *searcher) run(start []spot, target, work int) []spot {
	s.best = append(s.best[:0], start...)
	spell := spellSteps * (10 + len(start))
	for round := 0; ; round++ {
		if round%2 == 1 {
			s.restart(round / 2 % 4)
		} else {
			s.set(s.best)
		}
		length := spell << bits.TrailingZeros(uint(round/2+1))
		for end := s.work + length; s.work < end; {
			if s.work >= work || len(s.best) >= target || s.j.stopped() {
				return s.best
			}
			s.step(s.rng.Float64() < buildShare, 0)
			if len(s.spots) > len(s.best) {
				s.best = append(s.best[:0], s.spots...)
			}
		}
	}
}

// tidy makes the layout start tidier without losing a module: windows are solved
// anew, and what comes out is kept unless it is less tidy.
func (s *searcher) tidy(start []spot, work int) []spot {
	s.best = append(s.best[:0], start...)
	s.set(s.best)
	now := TidinessOf(s.j.spotRects(s.best), s.j.s)
	for end := s.work + work; s.work < end && !s.j.stopped(); {
		s.step(false, 0)
		s.work += tidySteps * len(s.spots)
		next := TidinessOf(s.j.spotRects(s.spots), s.j.s)
		if len(s.spots) == len(s.best) && now.TidierThan(next) {
			s.set(s.best)
			continue
		}
		s.best, now = append(s.best[:0], s.spots...), next
	}
	return s.best
}

// restart sets a layout of rows or columns, shaken the more the higher by.
func (s *searcher) restart(by int) {
	s.set(s.whole(s.rng.IntN(8)))
	for range by * (2 + len(s.spots)/4) {
		s.step(true, 2)
	}
}

// step solves one window. Its result is kept when it lacks at most loss.
func (s *searcher) step(build bool, loss int) {
	if s.rng.Float64() < turnShare {
		s.corner = s.rng.IntN(4)
	}
	w := s.window(s.corner + columnsView*s.rng.IntN(2))
	before := w.work
	in := w.v.see(s.clear(s.draw()))
	for i, a := range s.fixed {
		s.fixed[i] = w.v.see(a)
	}
	s.got = s.got[:0]
	if build {
		s.build(w, in)
	}
	s.got = w.solve(s.got, in, s.fixed, false)
	s.work += w.work - before + windowSteps + len(s.rects)/2
	if len(s.got)+loss < len(s.spots)-len(s.keep) {
		return
	}
	w.v.toRegion(s.got)
	for at, i := range s.keep {
		s.spots[at] = s.spots[i]
	}
	s.spots = append(s.spots[:len(s.keep)], s.got...)
	s.measure()
}

// draw is a random window.
func (s *searcher) draw() area {
	most := max(reachLeast, min(reachMost, reachShare*math.Sqrt(float64(len(s.spots)))))
	half := func() float64 {
		return float64(s.long * (reachLeast + float64((most-reachLeast)*s.rng.Float64())))
	}
	x, y := float64(s.rng.Float64()*s.j.f.width), float64(s.rng.Float64()*s.j.f.height)
	rx, ry := half(), half()
	return area{x - rx, y - ry, x + rx, y + ry}
}

// clear lists the modules that a window does not meet in keep, and in fixed
// those of them that are near, and returns the window widened to hold the
// others and what may be free beside them.
func (s *searcher) clear(win area) area {
	s.keep, s.fixed = s.keep[:0], s.fixed[:0]
	in := win
	for i, r := range s.rects {
		if r.meets(win) {
			in = area{min(in.x0, r.x0), min(in.y0, r.y0), max(in.x1, r.x1), max(in.y1, r.y1)}
		} else {
			s.keep = append(s.keep, i)
		}
	}
	in = in.wider(s.long / 2)
	near := in.wider(gapReach * ticksPerM)
	for _, i := range s.keep {
		if r := s.rects[i]; r.meets(near) {
			s.fixed = append(s.fixed, r)
		}
	}
	return in
}

// gapReach is farther than a gap or an end allowance reaches, metres.
const gapReach = maxGapM + maxEndM

// build places modules of random turns as low as they go, one or several, and
// makes them part of got and fixed.
func (s *searcher) build(w *windower, in area) {
	for range 1 + 20*s.rng.IntN(2) {
		b, ok := w.lowest(in, s.fixed, s.rng.IntN(len(w.v.modules)))
		if !ok {
			return
		}
		s.got = append(s.got, b)
		s.fixed = append(s.fixed, w.v.rect(b))
	}
}
