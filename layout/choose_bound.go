package layout

import "slices"

// array is a block: rows runs of size positions, the lowest from position at of
// row row on.
type array struct {
	row, at, size, rows int
	value               int64
}

// filling lists the positions of an array.
func (a array) filling(c *cluster) filling {
	f := make(filling, 0, a.size*a.rows)
	start := a.at
	for r := a.row; r < a.row+a.rows; r++ {
		for i := start; i < start+a.size; i++ {
			f = append(f, spotIn{r, i})
		}
		start = c.rows[r].above[start]
	}
	return f
}

// cell is what an array is worth by itself.
func (a array) cell(c *cluster) cell {
	out := cell{a.value, oneBlock + int64(a.rows)*oneRun}
	for _, s := range a.filling(c) {
		out.minor += c.rows[s.row].rank[s.at]
	}
	return out
}

// singles finds for each number of positions up to n the array of the highest
// value, rows 0 where there is none. It returns nil when looking at all arrays
// could take more than so many arrays.
func (c *cluster) singles(n, most int) []array {
	if c.countArrays(n) > most {
		return nil
	}
	s := arraySearch{c: c, best: make([]array, n+1)}
	for _, row := range c.rows {
		sums, ends := make([]int64, len(row.at)+1), make([]int, len(row.at))
		for i, u := range row.units {
			sums[i+1] = sums[i] + u
		}
		for i := len(ends) - 1; i >= 0; i-- {
			if ends[i] = i + 1; i+1 < len(ends) && row.joined[i+1] {
				ends[i] = ends[i+1]
			}
		}
		s.sums, s.ends = append(s.sums, sums), append(s.ends, ends)
	}
	for r, row := range c.rows {
		for at := range row.at {
			for size := 1; size <= min(n, s.ends[r][at]-at); size++ {
				s.stack(array{row: r, at: at, size: size})
			}
		}
	}
	return s.best
}

// countArrays is at least the number of arrays of up to n positions.
func (c *cluster) countArrays(n int) int {
	count := 0
	for r, row := range c.rows {
		for size := 1; size <= min(n, len(row.at)); size++ {
			count += (len(row.at) - size + 1) * min(len(c.rows)-r, n/size)
		}
	}
	return count
}

// arraySearch looks at all arrays of a cluster.
type arraySearch struct {
	c    *cluster
	sums [][]int64 // in each row, the values before each position
	ends [][]int   // and the end of the longest run from it
	best []array
}

// stack tries the arrays that start with the run of a.
func (s *arraySearch) stack(a array) {
	start := a.at
	for r := a.row; (a.rows+1)*a.size < len(s.best); r++ {
		a.value += s.sums[r][start+a.size] - s.sums[r][start]
		a.rows++
		if b := &s.best[a.rows*a.size]; b.rows == 0 || a.value > b.value {
			*b = a
		}
		if start = s.c.rows[r].above[start]; start < 0 || s.ends[r+1][start] < start+a.size {
			return
		}
	}
}

// bound is at least the value of every choice of c.n positions in at most limit
// blocks, which is that of the solution's aim where it has one. With a price for
// a block, it is the dual bound: a choice of so many blocks is worth no more than
// the best choice less what its blocks cost, plus what limit blocks cost.
func (c *chooser) bound(got solution, limit int) int64 {
	all := nothing(got.aim.blocks)
	a := aim{blocks: got.aim.blocks}
	for i, p := range c.planes {
		tables := make([]altTable, len(p.alts))
		for j := range p.alts {
			t := nothing(a.blocks)
			for _, pt := range got.parts[i][j] {
				t, _ = sum(t, pt.upper(got.aim), min(c.n, p.limit), a.blocks, false)
			}
			tables[j].sums = []table{t}
		}
		all, _ = sum(all, bestOf(tables, min(c.n, p.limit), a).table, c.n, a.blocks, false)
	}
	best, _ := all.bestOf(c.n, false)
	return best.value + int64(limit)*got.aim.price
}

// isExact reports whether all tables of a solution are.
func (s solution) isExact() bool {
	for _, plane := range s.parts {
		for _, alt := range plane {
			for _, p := range alt {
				if !p.isExact(s.aim) {
					return false
				}
			}
		}
	}
	return true
}

// upper is a table whose cells, the best of those with as many blocks or fewer,
// are at least the value of every choice. There are three reasons for one: the
// table itself as far as it is exact; no choice of n is worth more than the n
// highest values; and a choice of k blocks is k arrays, so that it is worth no more
// than k arrays which may overlap. The aim is not that of fewest blocks.
func (p *part) upper(a aim) table {
	if p.isExact(a) {
		return p.table
	}
	out := newTable(p.n, a.blocks)
	top := p.cluster.topValues()
	arrays := slices.Repeat([]cell{none()}, p.n+1)
	arrays[0] = cell{}
	for k := 0; k <= a.blocks; k++ {
		for n := 0; n <= p.n; n++ {
			c := cell{value: top[n]}
			switch {
			case a.blocks == 0 && n > 0:
				c.value -= a.price
			case a.blocks > 0 && k <= p.exactTo:
				c.value = p.table.at(n, k).value
			case a.blocks > 0 && p.singles != nil:
				c.value = min(c.value, arrays[n].value)
			}
			out.cells[out.index(n, k)] = c
		}
		if a.blocks > 0 && p.singles != nil {
			arrays = p.withArray(arrays)
		}
	}
	return out
}

// withArray adds up to one array to what sums of arrays are worth.
func (p *part) withArray(sums []cell) []cell {
	out := slices.Clone(sums)
	for m, s := range p.singles {
		if s.rows == 0 {
			continue
		}
		for n, c := range sums[:p.n+1-m] {
			if c.ok() && (!out[n+m].ok() || c.value+s.value > out[n+m].value) {
				out[n+m] = cell{value: c.value + s.value}
			}
		}
	}
	return out
}

// topValues is for each n the sum of the n highest values, all fixed ones among
// them: of fewer than these there is no choice.
func (c *cluster) topValues() []int64 {
	sums := []int64{0}
	for _, s := range c.byValue() {
		sums = append(sums, sums[len(sums)-1]+c.rows[s.row].units[s.at])
	}
	return sums
}
