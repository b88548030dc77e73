package layout

import "math"

// The engine looks for rows and modules from the lowest and leftmost place
// that its slack allows. These lifts, in ticks, bring a module that is flush
// with an eave or a wall back to it. They leave the result valid: see
// slackTicks.
const (
	liftV = 1
	liftU = 2
)

// fill gives the rows of a stack their modules, each row from the left.
func (j *job) fill(c chain) []row {
	if len(c.rows) == 0 {
		return nil
	}
	rows := make([]row, 0, len(c.rows))
	places := make([]float64, 0, c.count())
	var free []interval
	var ends []float64
	sl := newSlab(j.f, c.modules[0].h)
	for _, st := range c.rows {
		m := &c.modules[st.m]
		bot, top := m.slabAt(st.y)
		free = sl.free(free[:0], bot, top, m.w)
		from := len(places)
		next := math.Inf(-1)
		ends = ends[:0]
		for _, g := range free {
			// The place is rounded once per run; a whole pitch keeps it whole.
			at, end := max(m.roundedLeft(g.a), next), m.latest(g.b)
			for ; at <= end && len(ends) < st.n; at += m.pitchU {
				places, ends = append(places, at), append(ends, end)
				next = at + m.pitchU
			}
		}
		r := row{m: m, y: st.y, places: places[from:len(places):len(places)]}
		r.lift(ends)
		rows = append(rows, r)
	}
	return rows
}

// roundedLeft is the whole left side of a module that starts a run at a, and
// latest the last whole one that an interval up to b allows.
func (m *module) roundedLeft(a float64) float64 { return math.Ceil(a + m.left - 0.5) }
func (m *module) latest(b float64) float64      { return math.Floor(b + m.left + 0.5 + 3*tieTicks) }

// lift moves modules right by liftU as far as ends, the latest places, allow.
func (r *row) lift(ends []float64) {
	limit := math.Inf(1)
	for i := len(r.places) - 1; i >= 0; i-- {
		r.places[i] = min(r.places[i]+liftU, ends[i], limit)
		limit = r.places[i] - r.m.pitchU
	}
}

// fill places a lattice's modules.
func (g *gridSearch) fill(l lattice) []row {
	m := g.m
	at := m.roundedLeft(l.u)
	lift := float64(liftU)
	var rows []row
	for y := g.lowest + l.v; y <= g.highest; y += m.pitchV {
		bot, top := m.slabAt(y)
		g.free = g.sl.free(g.free[:0], bot, top, m.w)
		r := row{m: m, y: y}
		for _, iv := range g.free {
			end := m.latest(iv.b)
			k := math.Ceil((m.roundedLeft(iv.a-3*tieTicks) - at) / m.pitchU)
			for x := at + float64(k*m.pitchU); x <= end; x += m.pitchU {
				r.places = append(r.places, x)
				lift = min(lift, end-x)
			}
		}
		if len(r.places) > 0 {
			rows = append(rows, r)
		}
	}
	for i := range rows {
		for k := range rows[i].places {
			rows[i].places[k] += lift
		}
	}
	return rows
}

// rects moves a layout back to metres.
func (j *job) rects(rows []row) []Rect {
	out := make([]Rect, 0, count(rows))
	for i := range rows {
		r := &rows[i]
		rect := j.s.placed(r.m.turn)
		rect.VM = (j.f.originV + r.y + liftV) / ticksPerM
		for _, x := range r.places {
			rect.UM = (j.f.originU + x) / ticksPerM
			out = append(out, rect)
		}
	}
	return out
}
