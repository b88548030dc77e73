package layout

import "math"

// aim is what a search is for.
type aim struct {
	// fewest puts fewer blocks before more value.
	fewest bool
	// blocks is the most that are allowed, 0 for no limit.
	blocks int
	// price is taken off the value for each block, in units. It steers a search
	// without a limit to fewer blocks.
	price int64
}

// cell is the best known way to take some number of positions in some number of
// blocks: its value in units less what its blocks cost, and in one number, to be compared and added, its
// blocks, its rail runs and the sum of its positions' ranks in reading order.
type cell struct{ value, minor int64 }

// The parts of cell.minor. maxModules is below 2^19, and the ranks of maxRanked
// positions add up to less than 2^24.
const (
	oneBlock = int64(1) << 44
	oneRun   = int64(1) << 24
)

// none is the cell for what cannot be had. No value is as low.
func none() cell { return cell{value: math.MinInt64} }

func (c cell) ok() bool      { return c.value != math.MinInt64 }
func (c cell) blocks() int64 { return c.minor / oneBlock }

// plus adds what is taken elsewhere; both must be ok.
func (c cell) plus(o cell) cell { return cell{c.value + o.value, c.minor + o.minor} }

// blockCell is what opening a block adds, blockCells what opening n does.
func (a aim) blockCell() cell       { return a.blockCells(1) }
func (a aim) blockCells(n int) cell { return cell{-int64(n) * a.price, int64(n) * oneBlock} }

// over reports whether c is better than o, of which either may be none.
func (c cell) over(o cell, fewest bool) bool {
	if fewest && c.ok() && o.ok() && c.blocks() != o.blocks() {
		return c.blocks() < o.blocks()
	}
	return c.value > o.value || c.value == o.value && c.minor < o.minor
}

// table holds a cell for each number of positions, 0 to n, and of blocks, 0 to
// k: of exactly so many, unless k is 0 and blocks are not limited.
type table struct {
	n, k  int
	cells []cell // k+1 rows of n+1
}

// newTable makes a table of which nothing can be had.
func newTable(n, k int) table {
	t := table{n: n, k: k, cells: make([]cell, (n+1)*(k+1))}
	for i := range t.cells {
		t.cells[i] = none()
	}
	return t
}

// nothing is the table of a place without positions.
func nothing(k int) table {
	t := newTable(0, k)
	t.cells[0] = cell{}
	return t
}

func (t table) index(n, k int) int { return k*(t.n+1) + n }
func (t table) at(n, k int) cell   { return t.cells[t.index(n, k)] }

// put keeps the better of a cell and c, and reports whether that is c.
func (t table) put(n, k int, c cell, fewest bool) bool {
	p := &t.cells[t.index(n, k)]
	if !c.over(*p, fewest) {
		return false
	}
	*p = c
	return true
}

// thin drops cells that a cell of fewer blocks makes useless.
func (t table) thin(fewest bool) {
	for n := 0; n <= t.n; n++ {
		best := none()
		for k := 0; k <= t.k; k++ {
			if p := &t.cells[t.index(n, k)]; p.over(best, fewest) {
				best = *p
			} else {
				*p = none()
			}
		}
	}
}

// taken is a number of positions and of blocks.
type taken struct{ n, k int }

// sum is the table of what two tables allow together, up to n positions and k
// blocks, and what each of its cells takes of the second. Of equal cells, the one
// that takes fewest positions of the second stays.
func sum(x, y table, n, k int, fewest bool) (table, []taken) {
	out := newTable(min(n, x.n+y.n), k)
	from := make([]taken, len(out.cells))
	for ny := 0; ny <= min(y.n, out.n); ny++ {
		for ky := 0; ky <= min(y.k, k); ky++ {
			cy := y.at(ny, ky)
			if !cy.ok() {
				continue
			}
			for kx := 0; kx <= min(x.k, k-ky); kx++ {
				row := x.cells[x.index(0, kx):][:min(x.n, out.n-ny)+1]
				to := out.index(ny, kx+ky)
				for i, cx := range row {
					if cx.ok() && cx.plus(cy).over(out.cells[to+i], fewest) {
						out.cells[to+i], from[to+i] = cx.plus(cy), taken{ny, ky}
					}
				}
			}
		}
	}
	return out, from
}
