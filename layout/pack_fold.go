package layout

import (
	"math"
	"slices"
)

// fold is the places of all rows laid over each other: on one pitch, which is a
// circle, or on the range of offsets in u that a part is about.
type fold struct {
	pitch, from  float64
	circle       bool
	sure         int // modules at every offset
	open         int // places on the circle that hold offset 0 and start before it
	starts, ends []float64
	bins         []int32
	dealt        []float64
}

// set folds the pieces of p.
func (f *fold) set(p *gridPart, pieces []remnant, pitch float64) {
	f.pitch, f.from, f.circle = pitch, p.from, p.all()
	f.sure, f.open = p.sure, 0
	f.starts, f.ends = f.starts[:0], f.ends[:0]
	for i := range pieces {
		v := &pieces[i]
		length := max(v.b-v.a, 0) + tieTicks
		if !f.circle {
			// Exact: pitch and from are whole.
			start := v.a - float64(v.site*pitch) - f.from
			f.starts, f.ends = append(f.starts, start), append(f.ends, start+length)
			continue
		}
		// An interval meets every offset once per whole pitch, and those
		// from start to end once more.
		turns := math.Floor(length / pitch)
		f.sure += int(turns)
		start := residue(v.a, pitch)
		end := start + length - float64(turns*pitch)
		if end >= pitch {
			end -= pitch
			f.open++
		}
		f.starts, f.ends = append(f.starts, start), append(f.ends, end)
	}
	f.sort(f.starts)
	f.sort(f.ends)
}

// sort puts a long list nearly in order by dealing it out to as many bins as it has
// numbers, and then in order by insertion: in linear time, when they are spread.
func (f *fold) sort(list []float64) {
	if len(list) < dealFrom {
		slices.Sort(list)
		return
	}
	low, high := slices.Min(list), slices.Max(list)
	n := len(list)
	perTick := float64(n-1) / max(high-low, 1)
	f.bins = append(f.bins[:0], make([]int32, n+1)...)
	for _, v := range list {
		f.bins[int((v-low)*perTick)+1]++
	}
	for i := range n {
		f.bins[i+1] += f.bins[i]
	}
	f.dealt = append(f.dealt[:0], list...)
	for _, v := range f.dealt {
		bin := int((v - low) * perTick)
		list[f.bins[bin]] = v
		f.bins[bin]++
	}
	for i, v := range list {
		k := i
		for ; k > 0 && list[k-1] > v && i-k < mostShifts; k-- {
			list[k] = list[k-1]
		}
		list[k] = v
		if k > 0 && list[k-1] > v {
			slices.Sort(list) // too many in one bin
			return
		}
	}
}

// dealFrom is the length from which dealing out is quicker than sorting, and
// mostShifts how far one number may be moved by insertion.
const dealFrom, mostShifts = 48, 64

// deepest is the offset in u that the most places hold, the least of these, and
// the count there.
func (f *fold) deepest() (u float64, n int) {
	most, ended := f.open, 0
	if !f.circle {
		u = residue(f.from, f.pitch)
	}
	for i, start := range f.starts {
		for ended < len(f.ends) && f.ends[ended] < start {
			ended++
		}
		here, at := f.open+i+1-ended, start
		if !f.circle {
			if at += f.from; at >= f.pitch {
				at -= f.pitch
			} else if f.from+f.ends[ended] >= f.pitch {
				at = 0 // so many hold it too
			}
		}
		if here > most || here == most && at < u {
			most, u = here, at
		}
	}
	return u, f.sure + most
}

// above is the greatest count and the range of offsets outside which no count
// exceeds best; it may go beyond the circle's end.
func (f *fold) above(best int) (most int, from, to float64) {
	depth := f.sure + f.open
	most = depth
	cold, first, gap := math.Inf(-1), math.Inf(1), 0.0 // cold: since where the count is best or less
	if depth > best {
		cold, first = math.Inf(1), 0
	}
	for i, k := 0, 0; i < len(f.starts) || k < len(f.ends); {
		if i < len(f.starts) && (k == len(f.ends) || f.starts[i] <= f.ends[k]) {
			if depth++; depth-1 == best {
				at := f.starts[i]
				first = min(first, at)
				if at-cold > gap && !math.IsInf(cold, 0) {
					gap, from, to = at-cold, at, cold
				}
				cold = math.Inf(1)
			}
			most = max(most, depth)
			i++
			continue
		}
		if depth-1 == best {
			cold = f.ends[k]
		}
		depth--
		k++
	}
	switch {
	case !f.circle:
		return most, first, cold
	case math.IsInf(first, 1):
		return most, 0, 0
	}
	if around := first + f.pitch - cold; around > gap {
		return most, first, cold
	}
	return most, from, to + f.pitch
}
