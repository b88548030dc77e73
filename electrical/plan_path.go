package electrical

import (
	"cmp"
	"math"
	"slices"
)

// Bounds of the search for short runs.
const (
	// mostSearched is the number of modules up to which runs are improved; more
	// keep the order in which they were swept.
	mostSearched = 150
	// mostRotated is the number of modules up to which each order is also begun
	// at other places; larger groups come out short without it.
	mostRotated = 24
	// mostPasses ends the improvement; it usually ends by itself after ten.
	mostPasses = 60
	// mostExact is the length of a string up to which its order is the best one.
	mostExact = 12
	// jumpCostMM is added for a step to a module that is not a neighbour, so
	// that strings hang together first and are short second.
	jumpCostMM = 100_000
)

// laidPath is one string as a way over the roof.
type laidPath struct {
	modules []int
	runM    float64
	jumps   int
}

// router finds short ways over the modules of one group. Distances are whole
// millimetres, so that the same input gives the same answer everywhere.
type router struct {
	placed  []PlacedModule
	members []int
	jumpMM  int64
	// quick takes the first order as it is.
	quick bool
	// steps holds the distances by pairs of places in members; nil where there
	// are too many to be searched, and then they are measured when needed.
	steps []int64
}

// newRouter measures the pairs. lengthM is the module's long side.
func newRouter(placed []PlacedModule, members []int, lengthM float64) *router {
	r := &router{placed: placed, members: members, jumpMM: int64(math.Round(1000 * jumpFactor * lengthM))}
	n := len(members)
	if n > mostSearched {
		return r
	}
	r.steps = make([]int64, n*n)
	for i := range n {
		for j := range i {
			d := r.distanceMM(members[i], members[j])
			r.steps[i*n+j], r.steps[j*n+i] = d, d
		}
	}
	return r
}

// distanceMM is the straight distance between two modules' centres.
func (r *router) distanceMM(a, b int) int64 {
	p, q := r.placed[a], r.placed[b]
	dx, dy, dz := p.XM-q.XM, p.YM-q.YM, p.ZM-q.ZM
	return int64(math.Round(1000 * math.Sqrt(float64(dx*dx)+float64(dy*dy)+float64(dz*dz))))
}

// between is the distance of two members by their places.
func (r *router) between(i, j int) int64 {
	if r.steps == nil {
		return r.distanceMM(r.members[i], r.members[j])
	}
	return r.steps[i*len(r.members)+j]
}

// step is the cost of wiring one member after another.
func (r *router) step(i, j int) int64 {
	d := r.between(i, j)
	if d > r.jumpMM {
		d += jumpCostMM
	}
	return d
}

// paths lays strings of the given lengths over the members; what is over is left
// out. Lengths sum to at most the number of members. The strings come in the
// order of the lengths.
func (r *router) paths(lengths []int) []laidPath {
	n := len(r.members)
	var best []int
	bestCost := int64(math.MaxInt64)
	for _, order := range r.sweeps() {
		w := weave{router: r, order: order, end: cuts(n, lengths)}
		if n <= mostSearched && !r.quick {
			w.improve()
		}
		if cost := w.cost(0, n-1); cost < bestCost {
			best, bestCost = w.order, cost
		}
	}
	out := make([]laidPath, len(lengths))
	at := 0
	for i, length := range lengths {
		part := r.shortest(best[at : at+length])
		out[i] = r.laid(part)
		at += length
	}
	return out
}

// laid measures a string and names its modules as the caller does. The end with
// the lower index comes first.
func (r *router) laid(part []int) laidPath {
	p := laidPath{modules: make([]int, len(part))}
	var mm int64
	for i, m := range part {
		p.modules[i] = r.members[m]
		if i == 0 {
			continue
		}
		d := r.between(part[i-1], m)
		mm += d
		if d > r.jumpMM {
			p.jumps++
		}
	}
	p.runM = float64(mm) / 1000
	if n := len(p.modules); n > 0 && p.modules[0] > p.modules[n-1] {
		slices.Reverse(p.modules)
	}
	return p
}

// sweeps are orders to begin with: to and fro along rows and along columns, from
// each corner, plane by plane; of few modules also begun elsewhere.
func (r *router) sweeps() [][]int {
	var out [][]int
	n := len(r.members)
	if r.quick {
		return [][]int{r.sweep(false, false, false)}
	}
	for turn := range 8 {
		order := r.sweep(turn&1 != 0, turn&2 != 0, turn&4 != 0)
		out = append(out, order)
		if n > mostRotated {
			continue
		}
		apart := max(1, n/8)
		for at := apart; at < n; at += apart {
			out = append(out, slices.Concat(order[at:], order[:at]))
		}
	}
	return out
}

// spot is where a member lies for a sweep: on which plane, in which row of it,
// and where along the row.
type spot struct {
	plane, row  int
	along, line float64
}

// rowM is how far centres of one row may lie apart across it, plan metres: rows
// are level to a few millimetres, and two rows at least 0.4 m apart on all but
// the steepest roofs.
const rowM = 0.3

// sweep is one of them: along columns instead of rows, from the other end of
// each row, from the last row.
func (r *router) sweep(columns, fromRight, fromTop bool) []int {
	spots := r.spots(columns, fromRight, fromTop)
	order := make([]int, len(spots))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(spots[a].plane, spots[b].plane), cmp.Compare(spots[a].line, spots[b].line))
	})
	start := 0
	for at, i := range order {
		s, first := &spots[i], spots[order[start]]
		switch {
		case at == 0:
		case s.plane != first.plane || s.line-first.line > rowM:
			s.row, start = first.row+1, at
		default:
			s.row = first.row
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		byAlong := cmp.Compare(spots[a].along, spots[b].along)
		if spots[a].row%2 != 0 {
			byAlong = -byAlong // every other row runs back
		}
		return cmp.Or(cmp.Compare(spots[a].row, spots[b].row), byAlong)
	})
	return order
}

// spots measures the members along and across the rows of their planes.
func (r *router) spots(columns, fromRight, fromTop bool) []spot {
	var planes []string
	spots := make([]spot, len(r.members))
	for i, m := range r.members {
		p := r.placed[m]
		plane := slices.Index(planes, p.PlaneID)
		if plane < 0 {
			plane = len(planes)
			planes = append(planes, p.PlaneID)
		}
		sin, cos := math.Sincos(p.AzimuthDeg * math.Pi / 180)
		along, line := float64(p.YM*sin)-float64(p.XM*cos), -float64(p.XM*sin)-float64(p.YM*cos)
		if columns {
			along, line = line, along
		}
		if fromRight {
			along = -along
		}
		if fromTop {
			line = -line
		}
		spots[i] = spot{plane: plane, along: along, line: line}
	}
	return spots
}

// cuts says for each place in an order whether no step leads on from it: the
// last of a string, and all that are left out.
func cuts(n int, lengths []int) []bool {
	end := make([]bool, n)
	at := 0
	for _, length := range lengths {
		at += length
		end[at-1] = true
	}
	for i := at; i < n; i++ {
		end[i] = true
	}
	return end
}

// weave is an order of all members, cut into strings.
type weave struct {
	*router
	order []int
	end   []bool
}

// cost sums the steps from the places lo-1 to hi+1.
func (w *weave) cost(lo, hi int) int64 {
	var sum int64
	for i := max(0, lo-1); i <= hi && i+1 < len(w.order); i++ {
		if !w.end[i] {
			sum += w.step(w.order[i], w.order[i+1])
		}
	}
	return sum
}

// improve changes parts of the order as long as that shortens the runs: a part
// is turned round, its first module goes to its end, its last to its start, or
// the two change places. Moves across a cut hand modules from string to string.
func (w *weave) improve() {
	moves := []struct{ do, undo func(part []int) }{
		{slices.Reverse[[]int], slices.Reverse[[]int]},
		{rotateLeft, rotateRight},
		{rotateRight, rotateLeft},
		{swapEnds, swapEnds},
	}
	for range mostPasses {
		better := false
		for lo := range w.order {
			for hi := lo + 1; hi < len(w.order); hi++ {
				part := w.order[lo : hi+1]
				before := w.cost(lo, hi)
				for _, move := range moves {
					move.do(part)
					if after := w.cost(lo, hi); after < before {
						before, better = after, true
						continue
					}
					move.undo(part)
				}
			}
		}
		if !better {
			return
		}
	}
}

func rotateLeft(part []int) {
	first := part[0]
	copy(part, part[1:])
	part[len(part)-1] = first
}

func rotateRight(part []int) {
	last := part[len(part)-1]
	copy(part[1:], part)
	part[0] = last
}

func swapEnds(part []int) { part[0], part[len(part)-1] = part[len(part)-1], part[0] }

// shortest returns the members of a string in the order with the least cost; a
// string of more than mostExact keeps its order. It is the dynamic programme of
// Held and Karp (1962) for a path: the least cost of a set of members that ends
// at one of them.
func (r *router) shortest(part []int) []int {
	n := len(part)
	if n < 3 || n > mostExact || r.quick {
		return slices.Clone(part)
	}
	cost := make([]int64, n<<n)
	from := make([]int8, n<<n)
	for set := 1; set < 1<<n; set++ {
		for last := range n {
			if set&(1<<last) == 0 {
				continue
			}
			at, rest := set*n+last, set&^(1<<last)
			if rest == 0 {
				from[at] = -1
				continue
			}
			cost[at] = math.MaxInt64
			for prev := range n {
				if rest&(1<<prev) == 0 {
					continue
				}
				if c := cost[rest*n+prev] + r.step(part[prev], part[last]); c < cost[at] {
					cost[at], from[at] = c, int8(prev)
				}
			}
		}
	}
	all := 1<<n - 1
	last := 0
	for i := range n {
		if cost[all*n+i] < cost[all*n+last] {
			last = i
		}
	}
	out := make([]int, 0, n)
	for set := all; last >= 0; {
		out = append(out, part[last])
		prev := int(from[set*n+last])
		set &^= 1 << last
		last = prev
	}
	return out
}
