package layout

import (
	"cmp"
	"context"
	"slices"
)

// Variants packs a region in each of the styles, and once more in its mirror
// images along u, along v and along both: the same styles pushed to the other
// ends. Layouts that repeat an earlier one within 1e-5 m are left out. They are alternatives
// for [Choose], the upright ones first; the work is that of four packings in the
// Drag budget for each style. Errors are those of [Pack].
func Variants(ctx context.Context, r Region, s Spec, styles []Style) ([][]Rect, error) {
	var out [][]Rect
	for _, m := range []mirror{{}, {u: true}, {v: true}, {u: true, v: true}} {
		for _, style := range styles {
			p, err := PackWithin(ctx, m.region(r), s, style, Drag)
			if err != nil {
				return nil, err
			}
			rects := m.rects(p.Modules)
			if !slices.ContainsFunc(out, func(o []Rect) bool { return slices.EqualFunc(o, rects, samePlace) }) {
				out = append(out, rects)
			}
		}
	}
	return out, nil
}

// mirror says along which axes a region is mirrored, about the origin.
type mirror struct{ u, v bool }

func (m mirror) region(r Region) Region {
	out := Region{Outer: m.ring(r.Outer), Holes: make([]Ring, len(r.Holes))}
	for i, h := range r.Holes {
		out.Holes[i] = m.ring(h)
	}
	return out
}

func (m mirror) ring(r Ring) Ring {
	out := slices.Clone(r)
	for i := range out {
		if m.u {
			out[i].UM = -out[i].UM
		}
		if m.v {
			out[i].VM = -out[i].VM
		}
	}
	return out
}

// rects brings modules of the mirror image back, listed by VM, then by UM.
func (m mirror) rects(modules []Rect) []Rect {
	out := slices.Clone(modules)
	for i, r := range out {
		if m.u {
			out[i].UM = -(r.UM + r.WM)
		}
		if m.v {
			out[i].VM = -(r.VM + r.HM)
		}
	}
	slices.SortFunc(out, func(a, b Rect) int {
		return cmp.Or(cmp.Compare(a.VM, b.VM), cmp.Compare(a.UM, b.UM))
	})
	return out
}

// samePlace compares two modules within alignTolM.
func samePlace(a, b Rect) bool {
	return aligned(a.UM, b.UM) && aligned(a.VM, b.VM) && aligned(a.WM, b.WM) && aligned(a.HM, b.HM)
}
