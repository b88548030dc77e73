//go:build !js

package project

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rooftally/structural"
)

// Bill is the parts that a candidate's layout takes.
type Bill struct {
	// Planes are the parts of each plane with modules, in the order of
	// LayoutResult.ByPlane; Project those of no plane, such as the inverter.
	Planes  []PlaneBill `json:"planes"`
	Project []BillLine  `json:"project"`
	// Total is their sum, line by line.
	Total []BillLine `json:"total"`
	// Notes say what is not counted, and why.
	Notes []string `json:"notes"`
	// Saves says what the candidate takes less than the one with most modules,
	// "" for that one.
	Saves string `json:"saves"`
}

// PlaneBill is the parts of one plane.
type PlaneBill struct {
	PlaneID string     `json:"plane_id"`
	Label   string     `json:"label"`
	Lines   []BillLine `json:"lines"`
}

// BillLine is one kind of part.
type BillLine struct {
	// Key names the part for a program: those of package structural, and
	// "inverter", "micro", "optimiser", "rapid_shutdown" and "arc_fault".
	Key string `json:"key"`
	// Label names it for a person.
	Label string `json:"label"`
	// Quantity is how many, in Unit.
	Quantity int    `json:"quantity"`
	Unit     string `json:"unit"`
	// LengthM is the length of one piece, metres; 0 where it has none.
	LengthM float64 `json:"length_m"`
	// Missing says that a safety duty needs the part and the plan has nothing for
	// it yet.
	Missing bool `json:"missing"`
}

// bill lists the parts of a candidate.
func (b builder) bill(w WiringResult, rails RailsResult) Bill {
	out := Bill{Planes: []PlaneBill{}, Project: b.projectLines(w), Notes: billNotes(w, rails)}
	lists := [][]BillLine{}
	for i, p := range b.planes {
		if len(p.lay.Modules) == 0 {
			continue
		}
		lines := []BillLine{{Key: "module", Label: cmp.Or(b.candidate.Label, "Modules"), Quantity: len(p.lay.Modules), Unit: "piece"}}
		lines = append(lines, b.unitLines(w, p.plane.ID)...)
		if rails.Why == "" {
			for _, l := range rails.Plan.Planes[i].Bill {
				if l.Key != "module" {
					lines = append(lines, railLine(l))
				}
			}
		}
		out.Planes = append(out.Planes, PlaneBill{p.plane.ID, planeName(p.plane), lines})
		lists = append(lists, lines)
	}
	out.Total = sumLines(append(lists, out.Project)...)
	return out
}

func railLine(l structural.BillLine) BillLine {
	return BillLine{Key: l.Key, Label: l.Label, Quantity: l.Quantity, Unit: l.Unit, LengthM: l.LengthM}
}

// unitLines are the parts of which each wired module of a plane has one.
func (b builder) unitLines(w WiringResult, planeID string) []BillLine {
	wired := 0
	for _, s := range w.Strings {
		wired += countOn(s.Modules, planeID)
	}
	for _, s := range w.Branches {
		wired += countOn(s.Modules, planeID)
	}
	if wired == 0 {
		return nil
	}
	var out []BillLine
	perModule := func(key, label string, missing bool) {
		out = append(out, BillLine{Key: key, Label: label, Quantity: wired, Unit: "piece", Missing: missing})
	}
	g := b.doc.Wiring.gear()
	if g.micro != nil {
		perModule("micro", g.micro.Label, false)
	}
	if g.optimiser != nil {
		perModule("optimiser", g.optimiser.Label, false)
	}
	for _, m := range w.Marks {
		if m.Code == "rapid_shutdown" && !m.Met {
			perModule(m.Code, m.Part, true)
		}
	}
	if b.doc.Wiring.ModuleShutdown && g.inverter != nil && (g.optimiser == nil || !g.optimiser.RapidShutdown) {
		perModule("rapid_shutdown", "Rapid shutdown device, one for each module", false)
	}
	return out
}

// countOn is how many of some modules lie on a plane.
func countOn(modules []ModuleRef, planeID string) int {
	n := 0
	for _, m := range modules {
		if m.PlaneID == planeID {
			n++
		}
	}
	return n
}

// projectLines are the parts of no plane.
func (b builder) projectLines(w WiringResult) []BillLine {
	out := []BillLine{}
	if w.Why != "" {
		return out
	}
	if g := b.doc.Wiring.gear(); g.inverter != nil {
		out = append(out, BillLine{Key: "inverter", Label: g.inverter.Label, Quantity: 1, Unit: "piece"})
	}
	for _, m := range w.Marks {
		switch {
		case m.Code == "arc_fault" && !m.Met:
			out = append(out, BillLine{Key: m.Code, Label: m.Part, Quantity: m.Quantity, Unit: "piece", Missing: true})
		case m.Code == "arc_fault" && b.doc.Wiring.ArcFault && !b.doc.Wiring.Inverter.ArcFault:
			out = append(out, BillLine{Key: m.Code, Label: "Listed DC arc-fault protection", Quantity: 1, Unit: "piece"})
		}
	}
	return out
}

// billNotes say what is not counted.
func billNotes(w WiringResult, rails RailsResult) []string {
	out := []string{}
	if w.Why != "" {
		out = append(out, "Inverter and shutdown gear are not counted. "+w.Why)
	}
	if rails.Why != "" {
		out = append(out, "Rails, clamps and attachments are not counted. "+rails.Why)
	}
	return append(out, "Cables, breakers, string fuses, earthing and bonding parts, flashings and screws are not counted.")
}

// sumLines adds lists line by line: lines of the same part become one, in the
// order in which they first appear.
func sumLines(lists ...[]BillLine) []BillLine {
	sum := []BillLine{}
	for _, list := range lists {
		for _, line := range list {
			if at := slices.IndexFunc(sum, line.samePart); at >= 0 {
				sum[at].Quantity += line.Quantity
			} else {
				sum = append(sum, line)
			}
		}
	}
	return sum
}

// samePart reports whether two lines differ by no more than their quantity.
func (l BillLine) samePart(o BillLine) bool {
	l.Quantity = o.Quantity
	return l == o
}

// saveWords says of each candidate what it takes less than the one with most
// modules, the first of those.
func saveWords(all []CandidateBuild) {
	if len(all) == 0 {
		return
	}
	most := slices.MaxFunc(all, func(a, b CandidateBuild) int { return a.Count - b.Count })
	for i := range all {
		if all[i].Count < most.Count {
			all[i].Bill.Saves = savesAgainst(all[i], most)
		}
	}
}

// savesAgainst compares two bills by kind of part.
func savesAgainst(c, most CandidateBuild) string {
	var fewer, more []string
	for _, part := range []struct{ key, one string }{
		{"module", "module"}, {"optimiser", "optimiser"}, {"micro", "micro-inverter"}, {"rapid_shutdown", "shutdown device"},
		{"rail_stick", "rail stick"}, {"splice", "splice"}, {"mid_clamp", "mid clamp"}, {"end_clamp", "end clamp"}, {"attachment", "attachment"},
	} {
		switch d := quantityOf(most.Bill, part.key) - quantityOf(c.Bill, part.key); {
		case d > 0:
			fewer = append(fewer, plural(d, part.one))
		case d < 0:
			more = append(more, plural(-d, part.one))
		}
	}
	text := fmt.Sprintf("%s fewer than %s", andList(fewer), most.Letter)
	if len(more) > 0 {
		text += ", but " + andList(more) + " more"
	}
	switch d := c.PdcW - most.PdcW; {
	case d > 0:
		text += fmt.Sprintf(", for %d W more", d)
	case d < 0:
		text += fmt.Sprintf(", for %d W less", -d)
	default:
		text += ", for the same power"
	}
	return text + "."
}

// quantityOf is how many of a part a bill has.
func quantityOf(b Bill, key string) int {
	n := 0
	for _, l := range b.Total {
		if l.Key == key {
			n += l.Quantity
		}
	}
	return n
}

// andList joins words with commas and a last "and".
func andList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}
