package structural

import (
	"cmp"
	"slices"
)

// BillLine is one kind of part in a bill of materials.
type BillLine struct {
	// Key names the part for a program: "module", "rail_stick", "splice",
	// "mid_clamp", "end_clamp", "attachment".
	Key string `json:"key"`
	// Label names it for a person.
	Label string `json:"label"`
	// Quantity is how many, in Unit.
	Quantity int    `json:"quantity"`
	Unit     string `json:"unit"`
	// LengthM is the length of one piece, metres; 0 where it has none.
	LengthM float64 `json:"length_m"`
}

// bill lists the parts of a plane in the order of keys; parts that are not
// needed are left out. Offcuts are used up within the plane.
func (p PlaneRails) bill(modules int, stickM float64) []BillLine {
	var splices, mids, ends int
	var lengths []float64
	for _, r := range p.Runs {
		splices += railsPerRun * r.Splices
		mids += r.MidClamps
		ends += r.EndClamps
		for range railsPerRun {
			lengths = append(lengths, r.LengthM())
		}
	}
	lines := []BillLine{
		{"module", "Modules", modules, "piece", 0},
		{"rail_stick", "Rails, " + num(stickM) + " m sticks", SticksFor(lengths, stickM), "piece", stickM},
		{"splice", "Rail splices", splices, "piece", 0},
		{"mid_clamp", "Mid clamps", mids, "piece", 0},
		{"end_clamp", "End clamps", ends, "piece", 0},
		{"attachment", "Attachments", p.Attachments, "piece", 0},
	}
	return slices.DeleteFunc(lines, func(l BillLine) bool { return l.Quantity == 0 })
}

// SticksFor is how many sticks of a length, above 0, rails of other lengths take:
// whole sticks as far as they go, the rest of each rail from an offcut where one
// is long enough, longest first. It is a good answer, not always the least. The
// width of saw cuts is not counted.
func SticksFor(railsM []float64, stickM float64) int {
	var rests []float64
	count := 0
	for _, l := range railsM {
		n := sticks(l, stickM)
		count += n - 1
		rests = append(rests, l-float64(float64(n-1)*stickM))
	}
	slices.SortFunc(rests, func(a, b float64) int { return cmp.Compare(b, a) })
	var left []float64 // of each stick that rests are cut from
	for _, rest := range rests {
		at := slices.IndexFunc(left, func(l float64) bool { return rest <= l*(1+roundSlack) })
		if at < 0 {
			at = len(left)
			left = append(left, stickM)
		}
		left[at] -= rest
	}
	return count + len(left)
}

// SumBills adds bills line by line: lines of one key and length become one, in
// the order in which they first appear.
func SumBills(bills ...[]BillLine) []BillLine {
	sum := []BillLine{}
	for _, bill := range bills {
		for _, line := range bill {
			same := func(l BillLine) bool { return l.Key == line.Key && l.LengthM == line.LengthM && l.Unit == line.Unit }
			if at := slices.IndexFunc(sum, same); at >= 0 {
				sum[at].Quantity += line.Quantity
			} else {
				sum = append(sum, line)
			}
		}
	}
	return sum
}
