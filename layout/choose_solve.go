package layout

import (
	"cmp"
	"math"
	"slices"
)

// Steps of a choice: one is a cell of a [rowSolver] looked at, some nanoseconds.
// They are estimated from above: a house takes a fraction of what is allowed. An
// array is looked at in less than a step.
const (
	dragChooseSteps, deepChooseSteps = 3_000_000, 120_000_000
	arraysPerStep                    = 4
)

func (b Budget) chooseSteps() int {
	if b == Deep {
		return deepChooseSteps
	}
	return dragChooseSteps
}

// solution is what an aim came to.
type solution struct {
	aim   aim
	found bool
	cell  cell
	alts  []int   // index in sitePlane.alts for each plane
	taken [][]int // positions of each plane
	parts [][][]*part
}

// part is the outcome for one cluster of one alternative.
type part struct {
	cluster *cluster
	n       int // the most positions
	runs    int // the most runs a row of the masks looked at; 0 for none
	// exactTo is up to how many blocks the table is exact; math.MaxInt where it
	// is exact for any number.
	exactTo int
	table   table
	// sets are the masks of each row, nil for all of up to runs runs.
	sets []*maskSet
	// For a part that is not exact: what cells of the table have from other
	// sources than masks, and the best single blocks.
	filled  []filling
	singles []array
}

// altTable is the table of an alternative, and the ways back to its parts.
type altTable struct {
	parts []*part
	sums  []table   // of the parts up to each
	from  [][]taken // what each cell of these takes of the last part
}

func (t altTable) table() table { return t.sums[len(t.sums)-1] }

// planeTable is the best of a plane's alternatives.
type planeTable struct {
	table table
	alt   []int // of each cell
}

// solve finds the best choice of c.n positions for an aim within some steps, as
// far as these allow. When the context ends, nothing is found.
func (c *chooser) solve(a aim, steps int) solution { return c.run(a, c.plan(a.blocks, steps)) }

// run makes the tables of all parts and finds the best choice.
func (c *chooser) run(a aim, parts [][][]*part) solution {
	tables := make([][]altTable, len(c.planes))
	planes := make([]planeTable, len(c.planes))
	for i, p := range c.planes {
		for j := range p.alts {
			for _, pt := range parts[i][j] {
				c.fill(pt, a)
				if c.ctx.Err() != nil {
					return solution{aim: a}
				}
			}
			tables[i] = append(tables[i], sumParts(parts[i][j], min(c.n, p.limit), a))
		}
		planes[i] = bestOf(tables[i], min(c.n, p.limit), a)
	}
	out := c.join(planes, tables, a)
	out.aim, out.parts = a, parts
	return out
}

// plan shares the steps among the clusters: those that need least are served
// first, and what they leave goes to the others.
func (c *chooser) plan(k, left int) [][][]*part {
	out := make([][][]*part, len(c.planes))
	var all []*part
	for i, p := range c.planes {
		out[i] = make([][]*part, len(p.alts))
		for j := range p.alts {
			for l := range p.alts[j].clusters {
				cl := &p.alts[j].clusters[l]
				pt := &part{cluster: cl, n: min(c.n, p.limit, cl.size)}
				out[i][j] = append(out[i][j], pt)
				all = append(all, pt)
			}
		}
	}
	full := make([]int, len(all))
	byCost := make([]int, len(all))
	for i, pt := range all {
		byCost[i], full[i] = i, pt.cost(pt.mostRuns(k), k)
	}
	slices.SortStableFunc(byCost, func(x, y int) int { return cmp.Compare(full[x], full[y]) })
	for i, at := range byCost {
		left -= all[at].afford(left/(len(byCost)-i), k)
	}
	return out
}

// mostRuns is the most runs that a row can have within k blocks.
func (p *part) mostRuns(k int) int {
	most := 0
	for _, r := range p.cluster.rows {
		runs := 0
		for i, last := 0, -2; i < len(r.at); i++ {
			// Every other place, and each at which a run cannot go on.
			if last != i-1 || !r.joined[i] {
				runs++
				last = i
			}
		}
		most = max(most, runs)
	}
	if k > 0 {
		most = min(most, k)
	}
	return most
}

// cost is an upper bound on the steps that masks of up to so many runs take.
func (p *part) cost(runs, k int) int {
	steps := 0
	for _, r := range p.cluster.rows {
		if len(r.at) > maxMaskWidth {
			return math.MaxInt32
		}
		masks, inAll := countMasks(r.joined, runs)
		if masks > maxMasks {
			return math.MaxInt32
		}
		steps += (2*masks + 2*inAll) * (p.n + 1) * (k + 1)
	}
	return steps
}

// afford sets the most runs that the steps allow and returns the steps they take.
func (p *part) afford(steps, k int) int {
	most := p.mostRuns(k)
	for p.runs = most; p.runs > 0; p.runs-- {
		cost := p.cost(p.runs, k)
		if cost > steps {
			continue
		}
		p.exactTo = math.MaxInt
		if p.runs < most {
			p.exactTo = p.runs // so many blocks have no more runs in a row
		}
		return cost
	}
	return 0
}

// isExact reports whether the table is exact for the aim.
func (p *part) isExact(a aim) bool {
	return p.exactTo == math.MaxInt || a.blocks > 0 && p.exactTo >= a.blocks
}

// fill makes the table of a part.
func (c *chooser) fill(p *part, a aim) {
	if p.table.cells != nil {
		return // made before, for the same aim
	}
	p.table = newTable(p.n, a.blocks)
	if p.runs > 0 || p.sets != nil {
		p.table = c.newRowSolver(p, a).solve(c.ctx, false)
	}
	if !p.isExact(a) {
		p.singles = p.cluster.singles(p.n, arraysPerStep*c.steps)
		p.fillOtherwise(a)
	}
}

// sumParts adds up the tables of an alternative's clusters. The ranks have then
// decided what they can and are dropped: they compare within an alternative.
func sumParts(parts []*part, n int, a aim) altTable {
	t := altTable{parts: parts, sums: []table{nothing(a.blocks)}, from: [][]taken{nil}}
	for _, p := range parts {
		s, from := sum(t.table(), p.table, n, a.blocks, a.fewest)
		t.sums, t.from = append(t.sums, s), append(t.from, from)
	}
	for i, c := range t.table().cells {
		if c.ok() {
			t.table().cells[i].minor = c.minor / oneRun * oneRun
		}
	}
	return t
}

func bestOf(alts []altTable, n int, a aim) planeTable {
	k := a.blocks
	p := planeTable{table: newTable(n, k), alt: make([]int, (n+1)*(k+1))}
	if len(alts) == 0 {
		p.table.cells[0] = cell{}
	}
	for i, alt := range alts {
		t := alt.table()
		for kk := 0; kk <= k; kk++ {
			for nn := 0; nn <= t.n; nn++ {
				if p.table.put(nn, kk, t.at(nn, kk), a.fewest) {
					p.alt[p.table.index(nn, kk)] = i
				}
			}
		}
	}
	p.table.thin(a.fewest)
	return p
}

// join adds up the planes and reads the best choice back.
func (c *chooser) join(planes []planeTable, tables [][]altTable, a aim) solution {
	sums := []table{nothing(a.blocks)}
	var from [][]taken
	for _, p := range planes {
		s, f := sum(sums[len(sums)-1], p.table, c.n, a.blocks, a.fewest)
		sums, from = append(sums, s), append(from, f)
	}
	out := solution{alts: make([]int, len(planes)), taken: make([][]int, len(planes))}
	best, at := sums[len(sums)-1].bestOf(c.n, a.fewest)
	if !best.ok() {
		return out
	}
	out.found, out.cell = true, best
	for i := len(planes) - 1; i >= 0; i-- {
		here := from[i][sums[i+1].index(at.n, at.k)]
		at = taken{at.n - here.n, at.k - here.k}
		if len(tables[i]) == 0 {
			continue
		}
		out.alts[i] = planes[i].alt[planes[i].table.index(here.n, here.k)]
		out.taken[i] = c.read(tables[i][out.alts[i]], here, a)
	}
	return out
}

// bestOf is the best cell of n positions with any number of blocks, and where it
// is.
func (t table) bestOf(n int, fewest bool) (cell, taken) {
	best, at := none(), taken{}
	for k := 0; k <= t.k && n <= t.n; k++ {
		if x := t.at(n, k); x.over(best, fewest) {
			best, at = x, taken{n, k}
		}
	}
	return best, at
}

// read lists the positions that a cell of an alternative's table takes.
func (c *chooser) read(t altTable, at taken, a aim) []int {
	var out []int
	for i := len(t.parts) - 1; i >= 0; i-- {
		here := t.from[i+1][t.sums[i+1].index(at.n, at.k)]
		at = taken{at.n - here.n, at.k - here.k}
		out = append(out, c.readPart(t.parts[i], here, a)...)
	}
	return out
}

func (c *chooser) readPart(p *part, at taken, a aim) []int {
	if p.filled != nil {
		if f := p.filled[p.table.index(at.n, at.k)]; f != nil {
			return f.positions(p.cluster, at.n)
		}
	}
	if at.n == 0 {
		return nil
	}
	// The layers of all parts would take much memory: those of the parts in use
	// are made a second time.
	s := c.newRowSolver(p, a)
	s.solve(c.ctx, true)
	if c.ctx.Err() != nil {
		return nil
	}
	var out []int
	for r, mask := range s.trace(at.n, at.k) {
		for i, number := range p.cluster.rows[r].at {
			if has(mask, i) {
				out = append(out, number)
			}
		}
	}
	return out
}
