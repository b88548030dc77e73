package layout

// spot is a placed module in ticks: its lower-left corner and its turn.
type spot struct {
	x, y float64
	turn int8 // index into job.modules
}

// view is one of the eight ways to look at the region: mirrored along u,
// along v, and with u and v exchanged. Rows of a view with exchanged axes are
// columns of the region. Everything that looks for rows looks through a view,
// so that rows and columns, from either end, are found by the same code.
type view struct {
	f                   *field
	flipX, flipY, turns bool
	width, height       float64  // of the region's spot, in the region's own frame
	modules             []module // by turn, sizes along the view's axes
	// padX and padY are what a placed module takes beyond its sides, in terms of
	// what a row must find free.
	padX, padY float64
	// foot is from the lower side of what a row must find free to the module's.
	foot float64
	// sizes are the modules' sides along the view's axes.
	sizes [2][2]float64
}

// newView looks at f, of modules in the frame of the region.
func newView(f *field, s Spec, modules []module, flipX, flipY, turns bool) *view {
	v := &view{flipX: flipX, flipY: flipY, turns: turns, width: f.width, height: f.height}
	gapU, gapV, end := toTicks(s.GapUM), toTicks(s.GapVM), toTicks(s.EndM)
	for i, m := range modules {
		w, h := m.pitchU-gapU, m.h
		v.sizes[i] = [2]float64{w, h}
		if turns {
			v.sizes[i] = [2]float64{h, w}
			m = module{turn: m.turn, w: h - 2*slackTicks, h: w + 2*end, pitchU: h + gapV, pitchV: w + gapU, left: -slackTicks}
		}
		v.modules = append(v.modules, m)
	}
	v.padX, v.padY = gapU-end, gapV
	if turns {
		v.padX, v.padY, v.foot = gapV, gapU-end, end
	}
	if !flipX && !flipY && !turns {
		v.f = f
		return v
	}
	g := &field{originU: f.originU, originV: f.originV, width: f.width, height: f.height}
	if turns {
		g.width, g.height = f.height, f.width
	}
	var corners [][]tickPt
	for _, ring := range f.corners {
		var moved []tickPt
		for _, p := range ring {
			if flipX {
				p.x = int64(f.width) - p.x
			}
			if flipY {
				p.y = int64(f.height) - p.y
			}
			if turns {
				p.x, p.y = p.y, p.x
			}
			moved = append(moved, p)
		}
		corners = append(corners, moved)
	}
	g.setRings(corners)
	v.f = g
	return v
}

// area is a rectangle in ticks.
type area struct{ x0, y0, x1, y1 float64 }

// see moves a rectangle from the region's frame to the view's.
func (v *view) see(a area) area {
	if v.flipX {
		a.x0, a.x1 = v.width-a.x1, v.width-a.x0
	}
	if v.flipY {
		a.y0, a.y1 = v.height-a.y1, v.height-a.y0
	}
	if v.turns {
		a = area{a.y0, a.x0, a.y1, a.x1}
	}
	return a
}

// back is the inverse of see.
func (v *view) back(a area) area {
	if v.turns {
		a = area{a.y0, a.x0, a.y1, a.x1}
	}
	if v.flipX {
		a.x0, a.x1 = v.width-a.x1, v.width-a.x0
	}
	if v.flipY {
		a.y0, a.y1 = v.height-a.y1, v.height-a.y0
	}
	return a
}

// size is the module's rectangle of a spot of the view.
func (v *view) rect(b spot) area {
	s := v.sizes[b.turn]
	return area{b.x, b.y, b.x + s[0], b.y + s[1]}
}

// toRegion moves spots of the view to the region's frame.
func (v *view) toRegion(spots []spot) {
	for i, b := range spots {
		r := v.back(v.rect(b))
		spots[i] = spot{r.x0, r.y0, b.turn}
	}
}

// meets reports whether the inner parts of two rectangles have a common part.
func (a area) meets(b area) bool {
	return a.x0 < b.x1 && a.x1 > b.x0 && a.y0 < b.y1 && a.y1 > b.y0
}

func (a area) wider(by float64) area {
	return area{a.x0 - by, a.y0 - by, a.x1 + by, a.y1 + by}
}
