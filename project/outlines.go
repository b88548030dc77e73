package project

// outlinesOf are the outlines of marked cells of a lattice, in whole cells from
// its lower left corner: one counter-clockwise ring of corners for each group of
// cells that share sides, in the order of their first cells, row by row. Cells
// that a group encloses are taken in, and where two marked cells meet at a corner
// alone a third joins them, so that no ring touches itself. marked is changed.
func outlinesOf(marked []bool, columns int) [][][2]int {
	rows := len(marked) / columns
	joinCorners(marked, columns)
	at := func(c, r int) bool { return c >= 0 && r >= 0 && c < columns && r < rows && marked[r*columns+c] }
	wide := columns + 1
	// From each corner at most one edge leaves that has a marked cell on its left.
	next := make([]int, wide*(rows+1))
	for i := range next {
		next[i] = -1
	}
	for r := range rows {
		for c := range columns {
			if !at(c, r) {
				continue
			}
			corner := r*wide + c
			if !at(c, r-1) {
				next[corner] = corner + 1
			}
			if !at(c+1, r) {
				next[corner+1] = corner + 1 + wide
			}
			if !at(c, r+1) {
				next[corner+1+wide] = corner + wide
			}
			if !at(c-1, r) {
				next[corner+wide] = corner
			}
		}
	}
	var out [][][2]int
	for i := range next {
		if next[i] >= 0 {
			if ring, outer := walk(next, i, wide); outer {
				out = append(out, ring)
			}
		}
	}
	return out
}

// joinCorners marks cells until no two marked ones meet at a corner alone.
func joinCorners(marked []bool, columns int) {
	for again := true; again; {
		again = false
		for i := 0; i+columns+1 < len(marked); i++ {
			if i%columns == columns-1 {
				continue
			}
			a, b, c, d := &marked[i], &marked[i+1], &marked[i+columns], &marked[i+columns+1]
			if *a == *d && *b == *c && *a != *b {
				*a, *b = true, true
				again = true
			}
		}
	}
}

// walk follows edges round from a corner, takes them out and returns the corners
// at which they turn; outer is false for the edge of a hole.
func walk(next []int, from, wide int) (ring [][2]int, outer bool) {
	twice, came := 0, 0
	for at := from; next[at] >= 0; {
		to := next[at]
		next[at] = -1
		x, y := at%wide, at/wide
		if to-at != came {
			ring = append(ring, [2]int{x, y})
			came = to - at
		}
		twice += x*(to/wide) - (to%wide)*y
		at = to
	}
	return ring, twice > 0
}
