package layout

import (
	"cmp"
	"math"
	"slices"
)

// row is one row of a layout, in ticks.
type row struct {
	m      *module
	y      float64
	places []float64 // left sides of the modules, ascending, whole ticks
}

// count is the number of modules in rows.
func count(rows []row) int {
	n := 0
	for i := range rows {
		n += len(rows[i].places)
	}
	return n
}

// profilesOf is the profiles of modules over f.
func (j *job) profilesOf(f *field, modules []module) []profile {
	out := make([]profile, len(modules))
	for i, m := range modules {
		out[i] = newProfile(f, m, j.stopped)
	}
	return out
}

// packRows finds the best stack of rows.
func (j *job) packRows() []row {
	profiles := j.profilesOf(j.f, j.modules)
	if j.stopped() {
		return nil
	}
	j.profiles = profiles
	s := stacker{queue: queue[queued]{before: (*queued).before}}
	best := s.of(j.modules, profiles).run()
	least := s.most()
	// One turn for all rows is preferred when it holds as many.
	for i := range profiles {
		if len(profiles) == 1 {
			break
		}
		if alone := s.alone(j.modules[i:i+1], profiles[i:i+1], least); alone.count() >= best.count() {
			best = alone
			break
		}
	}
	return j.fill(best)
}

// stacked is a row that ends a stack: n modules of modules[m] at y, so that
// count modules lie in the stack and the next row may start at next. under is
// the index of the stack below it.
type stacked struct {
	y, next  float64
	n, count int
	m, under int32
}

// stacker finds the stack of rows with the most modules.
//
// A stack matters only by how many modules it has and where the next row may
// start. Stacks are taken in the order of that place, so that one is dropped
// when an earlier one has as many modules: whatever may follow the dropped one
// may follow the other. From a stack, a row that follows is worth trying only
// where the profile holds more than everywhere between the stack and it. It keeps
// scratch memory.
type stacker struct {
	modules  []module
	profiles []profile
	stacks   []stacked
	queue    queue[queued]
	lowest   []float64 // by count: the lowest next of a stack with so many
	least    []queued  // what a stack must hold, by place; none when empty
}

// chain is a finished stack, upwards.
type chain struct {
	modules []module
	rows    []stacked
}

func (c chain) count() int {
	if len(c.rows) == 0 {
		return 0
	}
	return c.rows[len(c.rows)-1].count
}

// of sets what stacks are made of.
func (s *stacker) of(modules []module, profiles []profile) *stacker {
	s.modules, s.profiles, s.least = modules, profiles, nil
	s.stacks, s.lowest, s.queue.items = s.stacks[:0], s.lowest[:0], s.queue.items[:0]
	return s
}

// most lists, by place, the most modules of a stack on which a row may start there.
func (s *stacker) most() []queued {
	var out []queued
	for count, next := range s.lowest {
		for len(out) > 0 && out[len(out)-1].next >= next {
			out = out[:len(out)-1]
		}
		if !math.IsInf(next, 1) {
			out = append(out, queued{next: next, count: count})
		}
	}
	return out
}

// alone finds the best stack of one turn, as far as it holds as many modules as
// the best of all turns, whose most is least. A stack that is below it at some place
// cannot: the rest, put on the stack that holds more there, would beat the best.
func (s *stacker) alone(modules []module, profiles []profile, least []queued) chain {
	s.of(modules, profiles).least = least
	return s.run()
}

// behind reports whether a stack holds fewer modules than one of least may have at
// its place.
func (s *stacker) behind(st *stacked) bool {
	at, found := slices.BinarySearchFunc(s.least, st.next, func(q queued, next float64) int { return cmp.Compare(q.next, next) })
	if !found {
		at--
	}
	return at >= 0 && st.count < s.least[at].count
}

func (s *stacker) run() chain {
	start := s.profiles[0][0].y
	for _, p := range s.profiles {
		start = min(start, p[0].y)
	}
	s.add(stacked{next: start, under: -1, m: -1})
	best := int32(-1)
	for len(s.queue.items) > 0 {
		i := s.queue.pop().index
		if best >= 0 && s.stacks[i].count <= s.stacks[best].count {
			continue
		}
		best = i
		s.extend(i)
	}
	rows := 0
	for i := best; s.stacks[i].m >= 0; i = s.stacks[i].under {
		rows++
	}
	out := chain{modules: s.modules, rows: make([]stacked, rows)}
	for i := best; s.stacks[i].m >= 0; i = s.stacks[i].under {
		rows--
		out.rows[rows] = s.stacks[i]
	}
	return out
}

// extend adds every stack with one more row that may be of use.
func (s *stacker) extend(i int32) {
	from := s.stacks[i]
	// A row that leaves room for another row below it is never worth it: with
	// that row the stack has more modules and ends at the same place.
	limit := -1.0
	for k, p := range s.profiles {
		at := p.at(from.next)
		if p[at].n == 0 {
			at = p[at].above
		}
		if at >= 0 {
			if end := max(p[at].y, from.next) + s.modules[k].pitchV; limit < 0 || end < limit {
				limit = end
			}
		}
	}
	for k, p := range s.profiles {
		for at := p.at(from.next); at >= 0; at = p[at].above {
			y := max(p[at].y, from.next)
			if y >= limit {
				break
			}
			if n := p[at].n; n > 0 {
				s.add(stacked{y: y, next: y + s.modules[k].pitchV, n: n, count: from.count + n, m: int32(k), under: i})
			}
		}
	}
}

// add puts a stack in the queue unless another with as many modules ends no
// higher.
func (s *stacker) add(st stacked) {
	for len(s.lowest) <= st.count {
		s.lowest = append(s.lowest, math.Inf(1))
	}
	if st.next >= s.lowest[st.count] || len(s.least) > 0 && s.behind(&st) {
		return
	}
	s.lowest[st.count] = st.next
	s.stacks = append(s.stacks, st)
	s.queue.push(queued{st.next, st.count, int32(len(s.stacks) - 1)})
}

// queued stands for a stack in the queue.
type queued struct {
	next  float64
	count int
	index int32
}

// before puts the lower next first, then the higher count, then the one added
// first.
func (a *queued) before(b *queued) bool {
	if a.next != b.next {
		return a.next < b.next
	}
	if a.count != b.count {
		return a.count > b.count
	}
	return a.index < b.index
}
