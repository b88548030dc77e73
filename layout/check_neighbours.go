package layout

import "math"

// neighbours lists rectangles by the strips along u that they reach, so that a
// module is compared with its neighbours alone.
type neighbours struct {
	low, perM float64
	lists     [][]int32
}

// newNeighbours lists the boxes in the order of their indexes. The strips are as wide
// as the boxes are on the mean, at most one strip for each box.
func newNeighbours(boxes []Rect, order []int) *neighbours {
	low, high, width := math.Inf(1), math.Inf(-1), 0.0
	for _, b := range boxes {
		if !isFinite(b.UM) || !isFinite(b.WM) {
			continue
		}
		low, high, width = min(low, b.UM), max(high, b.UM+b.WM), width+b.WM
	}
	n := 1.0
	if width > 0 {
		n = math.Ceil(min((high-low)/width, 1) * float64(len(boxes)))
	}
	s := &neighbours{low: low, perM: n / max(high-low, math.SmallestNonzeroFloat64), lists: make([][]int32, int(n))}
	counts, all := make([]int32, int(n)), int32(0)
	for _, i := range order {
		for k := s.of(boxes[i].UM); k <= s.of(boxes[i].UM+boxes[i].WM); k++ {
			counts[k]++
			all++
		}
	}
	room := make([]int32, all) // of all lists
	for k, n := range counts {
		s.lists[k], room = room[:0:n], room[n:]
	}
	for _, i := range order {
		for k := s.of(boxes[i].UM); k <= s.of(boxes[i].UM+boxes[i].WM); k++ {
			s.lists[k] = append(s.lists[k], int32(i))
		}
	}
	return s
}

// of is the strip that holds u, the first or the last one for u beyond.
func (s *neighbours) of(u float64) int {
	at := float64((u - s.low) * s.perM)
	switch last := len(s.lists) - 1; {
	case !(at > 0):
		return 0
	case at >= float64(last):
		return last
	}
	return int(at)
}

// upTo is the indexes from 0 to n-1.
func upTo(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}
