package layout

import (
	"fmt"
	"slices"
)

// AreaM2 is the area of the outline less the union of the holes, in square
// metres, exact but for the rounding of the points to a quarter of a
// micrometre. Errors are those of [Pack] for a bad region.
func (r Region) AreaM2() (float64, error) {
	f, err := newField(r)
	if err != nil {
		return 0, err
	}
	m, err := f.measure(0)
	return m.area / (ticksPerM * ticksPerM), err
}

// measure is what the region's area grows with, in ticks: its area, the length
// of its boundary along u and along v, and the number of straight pieces that
// the boundary has at most.
type measure struct{ area, alongU, alongV, pieces float64 }

// chord is a level stretch of the region between two edges, at the lower and
// at the upper end of a slice.
type chord struct{ l0, r0, l1, r1 float64 }

// slicer cuts the region by level lines through all vertices and crossings;
// between two of them it is a row of trapezoids.
type slicer struct {
	f      *field
	narrow float64
	sum    measure
	active []crossing
	chords []chord
	below  []interval // the region just below the line
	above  []interval // and just above it
	spare  []interval
	wind   winding
}

// crossing is an active edge and its place in the current slice.
type crossing struct {
	mid  float64
	edge int32
}

// measure measures the part of the region that level chords of at least narrow
// cover. A module lies in that part when narrow is no more than its width.
func (f *field) measure(narrow float64) (measure, error) {
	levels, crossings, err := f.levels()
	if err != nil {
		return measure{}, err
	}
	s := &slicer{f: f, narrow: narrow, wind: winding{turns: make([]int32, f.rings)}}
	s.sum.pieces = float64(len(f.edges) + 2*crossings)
	entered := 0
	for i, y := range levels {
		s.above = s.above[:0]
		s.chords = s.chords[:0]
		if i+1 < len(levels) {
			entered = s.update(y, levels[i+1], entered)
			s.findChords(y, levels[i+1])
		}
		height := 0.0
		if i+1 < len(levels) {
			height = levels[i+1] - y
		}
		top := s.cut(height)
		s.sum.alongU += difference(s.below, s.above)
		s.below, s.spare = top, s.below
	}
	return s.sum, nil
}

// levels is the ascending list of the heights of all vertices and crossings.
func (f *field) levels() (levels []float64, crossings int, err error) {
	limit := 1000 + 20*len(f.edges)
	levels = append(levels, f.heights...)
	for i := range f.edges {
		a := &f.edges[i]
		for k := i + 1; k < len(f.edges) && f.edges[k].y0 < a.y1; k++ {
			y, ok := crossingHeight(a, &f.edges[k])
			if !ok {
				continue
			}
			levels = append(levels, y)
			if crossings++; crossings > limit {
				return nil, 0, &ShapeError{Ring: "outer", Vertex: -1, Rule: fmt.Sprintf("the rings cross each other more than %d times", limit)}
			}
		}
	}
	if crossings > 0 {
		slices.Sort(levels)
		levels = slices.Compact(levels)
	}
	return levels, crossings, nil
}

// crossingHeight is where two edges pass through each other by more than
// tieTicks; level edges do not count, as their height is a vertex's.
func crossingHeight(a, b *edge) (y float64, ok bool) {
	if a.dir == 0 || b.dir == 0 || max(a.x0, a.x1) < min(b.x0, b.x1) || max(b.x0, b.x1) < min(a.x0, a.x1) {
		return 0, false
	}
	y0, y1 := max(a.y0, b.y0), min(a.y1, b.y1)
	d0, d1 := b.at(y0)-a.at(y0), b.at(y1)-a.at(y1)
	if min(d0, d1) >= -tieTicks || max(d0, d1) <= tieTicks {
		return 0, false
	}
	return y0 + float64((y1-y0)*(d0/(d0-d1))), true
}

// at is the edge's place at height y.
func (e *edge) at(y float64) float64 { return e.x0 + float64(e.slope*(y-e.y0)) }

// update makes the list of edges that span the slice.
func (s *slicer) update(y0, y1 float64, entered int) int {
	mid := (y0 + y1) / 2
	kept := s.active[:0]
	for _, a := range s.active {
		if e := &s.f.edges[a.edge]; e.y1 > y0 {
			kept = append(kept, crossing{e.at(mid), a.edge})
		}
	}
	for ; entered < len(s.f.edges) && s.f.edges[entered].y0 <= y0; entered++ {
		if e := &s.f.edges[entered]; e.y1 > y0 {
			kept = append(kept, crossing{e.at(mid), int32(entered)})
		}
	}
	// Nearly in order from the slice before.
	for i := 1; i < len(kept); i++ {
		for k := i; k > 0 && kept[k].mid < kept[k-1].mid; k-- {
			kept[k], kept[k-1] = kept[k-1], kept[k]
		}
	}
	s.active = kept
	return entered
}

// findChords lists the region's stretches in the slice, joining those that
// touch, which a cut without width may have parted.
func (s *slicer) findChords(y0, y1 float64) {
	mid := (y0 + y1) / 2
	for i, a := range s.active {
		if i > 0 && s.wind.inside() {
			l, r := &s.f.edges[s.active[i-1].edge], &s.f.edges[a.edge]
			c := chord{l.at(y0), r.at(y0), l.at(y1), r.at(y1)}
			if n := len(s.chords); n > 0 && abs(s.chords[n-1].r0-c.l0) < 1 && abs(s.chords[n-1].r1-c.l1) < 1 {
				s.chords[n-1].r0, s.chords[n-1].r1 = c.r0, c.r1
			} else {
				s.chords = append(s.chords, c)
			}
		}
		s.wind.pass(&s.f.edges[a.edge], mid)
	}
}

// cut adds up the slice without the parts narrower than narrow, sets above,
// and returns the region just below the slice's upper end.
func (s *slicer) cut(height float64) (top []interval) {
	top = s.spare[:0]
	for _, c := range s.chords {
		w0, w1 := c.r0-c.l0, c.r1-c.l1
		if max(w0, w1) < s.narrow || max(w0, w1) <= 0 {
			continue
		}
		share := 1.0
		if low := min(w0, w1); low < s.narrow {
			share = (max(w0, w1) - s.narrow) / (max(w0, w1) - low)
			s.sum.alongU += s.narrow
			s.sum.pieces += 3
			low = s.narrow
			s.sum.area += float64(float64(share*height) * (max(w0, w1) + low) / 2)
		} else {
			s.sum.area += float64(height * (w0 + w1) / 2)
		}
		s.sum.alongV += float64(2 * share * height)
		s.sum.alongU += float64(share * (abs(c.l1-c.l0) + abs(c.r1-c.r0)))
		if w0 >= s.narrow {
			s.above = append(s.above, interval{c.l0, c.r0})
		}
		if w1 >= s.narrow {
			top = append(top, interval{c.l1, c.r1})
		}
	}
	return top
}

// difference is the length that exactly one of two ascending lists covers.
func difference(a, b []interval) float64 {
	length, i, k := 0.0, 0, 0
	for _, v := range a {
		length += v.b - v.a
	}
	for _, v := range b {
		length += v.b - v.a
	}
	for i < len(a) && k < len(b) {
		length -= 2 * max(0, min(a[i].b, b[k].b)-max(a[i].a, b[k].a))
		if a[i].b < b[k].b {
			i++
		} else {
			k++
		}
	}
	return max(length, 0)
}
