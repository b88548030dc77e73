package layout

import (
	"cmp"
	"slices"
)

// spotIn is a position of a cluster: its row and its index there.
type spotIn struct{ row, at int }

// filling is an order in which a cluster is filled: taking the first n of it is
// one choice for each n. It is what large clusters have beside masks.
type filling []spotIn

func (f filling) positions(c *cluster, n int) []int {
	out := make([]int, 0, n)
	for _, s := range f[:n] {
		out = append(out, c.rows[s.row].at[s.at])
	}
	return out
}

// fillOtherwise adds choices to a table that masks do not make exact: the most
// valuable positions, row by row, and single blocks.
func (p *part) fillOtherwise(a aim) {
	p.filled = make([]filling, len(p.table.cells))
	offer := func(n int, c cell, f filling) {
		c.value -= c.blocks() * a.price
		at := 0
		if a.blocks > 0 {
			at = int(c.blocks())
		}
		if at <= a.blocks && p.table.put(n, at, c, a.fewest) {
			p.filled[p.table.index(n, at)] = f
		}
	}
	for _, f := range []filling{p.cluster.byValue(), p.cluster.byRow()} {
		for n, c := range p.cluster.cellsOf(f)[:p.n+1] {
			if c.ok() {
				offer(n, c, f)
			}
		}
	}
	fixed := p.cluster.fixedIn(p.cluster.byRow())
	for n, s := range p.singles {
		if s.rows == 0 {
			continue
		}
		if f := s.filling(p.cluster); p.cluster.fixedIn(f) == fixed {
			offer(n, s.cell(p.cluster), f)
		}
	}
}

// byValue starts with what is fixed, then the most valuable, then reading order.
func (c *cluster) byValue() filling {
	f := c.byRow()
	slices.SortStableFunc(f, func(x, y spotIn) int {
		return cmp.Or(c.compareFixed(x, y), cmp.Compare(c.rows[y.row].units[y.at], c.rows[x.row].units[x.at]))
	})
	return f
}

// byRow starts with what is fixed, then goes by reading order.
func (c *cluster) byRow() filling {
	f := make(filling, 0, c.size)
	for r, row := range c.rows {
		for i := range row.at {
			f = append(f, spotIn{r, i})
		}
	}
	slices.SortStableFunc(f, c.compareFixed)
	return f
}

// compareFixed puts fixed positions first.
func (c *cluster) compareFixed(x, y spotIn) int {
	switch fx, fy := c.rows[x.row].fixed[x.at], c.rows[y.row].fixed[y.at]; {
	case fx == fy:
		return 0
	case fx:
		return -1
	}
	return 1
}

// cellsOf is what the first n of a filling are worth, for each n; none where a
// fixed position lacks.
func (c *cluster) cellsOf(f filling) []cell {
	in := make([][]bool, len(c.rows))
	for r, row := range c.rows {
		in[r] = make([]bool, len(row.at))
	}
	fixedLeft := c.fixedIn(f)
	out := slices.Repeat([]cell{none()}, len(f)+1)
	var now cell
	for i := 0; ; i++ {
		if fixedLeft == 0 {
			out[i] = now
		}
		if i == len(f) {
			return out
		}
		r, at := f[i].row, f[i].at
		if c.rows[r].fixed[at] {
			fixedLeft--
		}
		now.minor -= c.rowMinor(in, r) + c.rowMinor(in, r+1)
		in[r][at] = true
		now.minor += c.rowMinor(in, r) + c.rowMinor(in, r+1) + c.rows[r].rank[at]
		now.value += c.rows[r].units[at]
	}
}

// fixedIn is how many positions of a filling are fixed.
func (c *cluster) fixedIn(f filling) int {
	n := 0
	for _, s := range f {
		if c.rows[s.row].fixed[s.at] {
			n++
		}
	}
	return n
}

// rowMinor is the rail runs and the blocks opened in row r, as in a [cell]; 0
// beyond the rows.
func (c *cluster) rowMinor(in [][]bool, r int) int64 {
	if r == len(c.rows) {
		return 0
	}
	row, minor := c.rows[r], int64(0)
	for i := 0; i < len(row.at); {
		if !in[r][i] {
			i++
			continue
		}
		end := row.runEnd(in[r], i)
		minor += oneRun
		if !c.standsOn(in, r, i, end-i) {
			minor += oneBlock
		}
		i = end
	}
	return minor
}

// runEnd is the end of the run that starts at position i.
func (r clusterRow) runEnd(in []bool, i int) int {
	end := i + 1
	for end < len(r.at) && in[end] && r.joined[end] {
		end++
	}
	return end
}

// standsOn reports whether the run of size positions from i of row r goes on from
// an equal run of the row below.
func (c *cluster) standsOn(in [][]bool, r, i, size int) bool {
	start := c.rows[r].below[i]
	if start < 0 || !in[r-1][start] {
		return false
	}
	row := c.rows[r-1]
	opens := start == 0 || !row.joined[start] || !in[r-1][start-1]
	return opens && row.runEnd(in[r-1], start) == start+size
}
