//go:build !js

package project

import (
	"fmt"

	"rooftally/layout"
	"rooftally/structural"
)

// RailsResult is what holds a candidate's modules.
type RailsResult struct {
	// Why says why no rails are laid, "" where they are.
	Why string `json:"why"`
	// Plan has the rail runs; its planes follow LayoutResult.ByPlane.
	Plan structural.RailPlan `json:"plan"`
	// Lines are all rails for drawing, two for each run; without attachments
	// where only the span is missing.
	Lines []RailLine `json:"lines"`
}

// RailLine is one rail in plan, metres.
type RailLine struct {
	PlaneID string `json:"plane_id"`
	// Run is the number of its run in the plane.
	Run  int        `json:"run"`
	From [2]float64 `json:"from"`
	To   [2]float64 `json:"to"`
	// Attachments are where it is held, Splices where two sticks meet.
	Attachments [][2]float64 `json:"attachments"`
	Splices     [][2]float64 `json:"splices"`
}

// rails lays rails under a candidate's modules. They need no datasheet.
func (b builder) rails() RailsResult {
	l := b.doc.Loads
	empty := structural.RailPlan{Caution: structural.Caution}
	if b.lay.Count == 0 {
		return RailsResult{Why: noModules, Plan: empty}
	}
	r := structural.RailRequest{LengthM: b.candidate.LengthM, WidthM: b.candidate.WidthM}
	for _, p := range b.planes {
		r.Planes = append(r.Planes, structural.RailPlane{ID: planeName(p.plane), Modules: p.rects(), RafterSpacingM: p.plane.RafterSpacingM})
	}
	if l.SpanM == nil {
		r.Mounting = l.mounting(0, b.doc.Rules.GapEaveM)
		return RailsResult{
			Why:  "The greatest distance between attachments is not typed; the rail's maker gives it for the site's snow and wind.",
			Plan: empty, Lines: b.bareLines(r),
		}
	}
	r.Mounting = l.mounting(*l.SpanM, b.doc.Rules.GapEaveM)
	plan, err := structural.LayRails(r)
	if err != nil {
		return RailsResult{Why: fmt.Sprintf("No rails are laid: %v.", err), Plan: empty}
	}
	out := RailsResult{Plan: plan, Lines: []RailLine{}}
	for i, p := range b.planes {
		plan.Planes[i].ID = p.plane.ID // its name was for the findings
		for _, run := range plan.Planes[i].Runs {
			out.Lines = append(out.Lines, p.railLines(run)...)
		}
	}
	return out
}

// bareLines are the rails of the runs where no span is known; none where they
// cannot be laid.
func (b builder) bareLines(r structural.RailRequest) []RailLine {
	out := []RailLine{}
	runs, err := structural.BareRuns(r)
	if err != nil {
		return out
	}
	for i, p := range b.planes {
		for _, run := range runs[i] {
			out = append(out, p.railLines(run)...)
		}
	}
	return out
}

// railLines are the rails of a run in plan.
func (p builtPlane) railLines(run structural.RailRun) []RailLine {
	var out []RailLine
	for _, vM := range run.RailVM {
		at := func(uM float64) [2]float64 { return xy(p.frame.ToPlan(layout.SlopePt{UM: uM, VM: vM})) }
		l := RailLine{PlaneID: p.plane.ID, Run: run.Number, From: at(run.FromUM), To: at(run.ToUM), Attachments: [][2]float64{}, Splices: [][2]float64{}}
		for _, uM := range run.AttachUM {
			l.Attachments = append(l.Attachments, at(uM))
		}
		for _, uM := range run.SpliceUM {
			l.Splices = append(l.Splices, at(uM))
		}
		out = append(out, l)
	}
	return out
}

// railM is the length of all rails.
func (r RailsResult) railM() float64 {
	var m float64
	for _, p := range r.Plan.Planes {
		m += p.RailM
	}
	return m
}

// attachments is their number.
func (r RailsResult) attachments() int {
	n := 0
	for _, p := range r.Plan.Planes {
		n += p.Attachments
	}
	return n
}
