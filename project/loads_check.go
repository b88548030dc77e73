//go:build !js

package project

import (
	"fmt"

	"rooftally/catalog"
	"rooftally/layout"
	"rooftally/structural"
)

// The statuses of a module under load: those of package structural, and one
// more where the wind on its plane is outside the flush rule and nothing known
// is over its rating.
const (
	LoadWithin      = string(structural.Within)
	LoadNear        = string(structural.Near)
	LoadOver        = string(structural.Over)
	LoadUnknown     = string(structural.Unknown)
	LoadOutsideRule = "outside_rule"
)

// LoadsResult is what snow, wind and weight do to a candidate's modules.
type LoadsResult struct {
	// Why says why nothing was checked, "" where it was.
	Why string `json:"why"`
	// Caution stands beside the result, whatever it is.
	Caution string `json:"caution"`
	// Worst is the worst status of a module: over, then outside_rule, unknown,
	// near, within; "" where nothing was checked. Words sum up the modules.
	Worst string `json:"worst"`
	Words string `json:"words"`
	// Governing is the module with the greatest load over its rating, nil where
	// no such ratio is known.
	Governing *ModuleLoadResult `json:"governing"`
	// Modules has every module of the layout, by Number.
	Modules []ModuleLoadResult `json:"modules"`
	// Report has the numbers; its planes and their modules follow
	// LayoutResult.ByPlane.
	Report structural.LoadReport `json:"report"`
	// Dead is the weight of modules, and of rails where these are laid.
	Dead []structural.Figure `json:"dead"`
	// Findings are about what was given and is not used.
	Findings []structural.Finding `json:"findings"`
}

// ModuleLoadResult is one module under load.
type ModuleLoadResult struct {
	ModuleRef
	// Status is LoadWithin and so on, Ratio the greatest load over its design
	// rating (0 where none is known), Governing the formula of that combination
	// and WhyStatus a sentence with the numbers or what is missing.
	Status    string  `json:"status"`
	Ratio     float64 `json:"ratio"`
	Governing string  `json:"governing"`
	WhyStatus string  `json:"why_status"`
}

// loads checks a candidate's modules.
func (b builder) loads(rails RailsResult) LoadsResult {
	out := LoadsResult{
		Caution: structural.Caution, Modules: []ModuleLoadResult{}, Dead: []structural.Figure{}, Findings: []structural.Finding{},
		Report: structural.LoadReport{Caution: structural.Caution},
	}
	switch {
	case b.lay.Count == 0:
		out.Why = noModules
		return out
	case b.candidate.Datasheet == nil:
		out.Why = noDatasheet + " Its load ratings and weight are not known."
		return out
	}
	r, findings := b.loadRequest()
	out.Findings = append(out.Findings, findings...)
	report, err := structural.CheckLoads(r)
	if err == nil {
		out.Dead, err = structural.DeadLoad(r.Module, b.lay.Count, rails.railM(), rails.attachments(), structural.Hardware{
			RailKgPerM: b.doc.Loads.RailKgPerM, AttachmentKg: b.doc.Loads.AttachmentKg})
	}
	if err != nil {
		out.Why = fmt.Sprintf("The loads are not checked: %v.", err)
		return out
	}
	for i, p := range b.planes {
		report.Planes[i].ID = p.plane.ID // its name was for the findings
	}
	out.Report = report
	out.sum(b.refs())
	return out
}

// loadRequest asks for the loads of the site's rule family; the findings name
// what is given for the other one.
func (b builder) loadRequest() (structural.LoadRequest, []structural.Finding) {
	l := b.doc.Loads
	r := structural.LoadRequest{Family: structural.ASCE, TypedWind: l.TypedWind, Module: moduleBuild(*b.candidate.Datasheet)}
	var findings []structural.Finding
	unused := func(given bool, what string) {
		if given {
			findings = append(findings, structural.Finding{Level: structural.Warning, Code: "other_family",
				Message: fmt.Sprintf("%s is typed and not used: the project follows the rule family %s, and the two are never mixed.", what, b.doc.Site.RuleFamily)})
		}
	}
	if b.doc.Site.RuleFamily == "iec" {
		r.Family, r.ENSnow = structural.EN, l.ENSnow
		unused(l.ASCESnow != nil, "Snow after ASCE 7")
		unused(l.FlushWind != nil, "Wind after ASCE 7")
	} else {
		r.ASCESnow, r.FlushWind = l.ASCESnow, l.FlushWind
		unused(l.ENSnow != nil, "Snow after EN 1991-1-3")
	}
	for _, p := range b.planes {
		r.Planes = append(r.Planes, structural.PlaneArray{
			ID: planeName(p.plane), PitchDeg: p.plane.PitchDeg, Edges: p.slopeEdges(), Modules: p.rects(), Rails: structural.RailDirection(l.Rails),
		})
	}
	return r, findings
}

// moduleBuild is a datasheet as package structural has it.
func moduleBuild(d catalog.Datasheet) structural.ModuleBuild {
	return structural.ModuleBuild{
		LengthM: d.LengthM, WidthM: d.WidthM, WeightKg: d.WeightKg,
		LongEdge: structural.Ratings(d.LongEdge), ShortEdge: structural.Ratings(d.ShortEdge),
	}
}

// slopeEdges are the plane's classified edges in its own frame.
func (p builtPlane) slopeEdges() []structural.Edge {
	out := make([]structural.Edge, len(p.edges))
	for i, e := range p.edges {
		from := p.frame.ToSlope(layout.PlanPt{XM: e.From[0], YM: e.From[1]})
		to := p.frame.ToSlope(layout.PlanPt{XM: e.To[0], YM: e.To[1]})
		out[i] = structural.Edge{FromUM: from.UM, FromVM: from.VM, ToUM: to.UM, ToVM: to.VM, Kind: structural.EdgeKind(e.Kind)}
	}
	return out
}

// rects are the plane's modules in its own frame.
func (p builtPlane) rects() []structural.Rect {
	out := make([]structural.Rect, len(p.lay.Modules))
	for i, m := range p.lay.Modules {
		out[i] = structural.Rect{UM: m.UM, VM: m.VM, WM: m.WM, HM: m.HM}
	}
	return out
}

// sum names every module's status and finds the worst. refs follow the report.
func (out *LoadsResult) sum(refs []ModuleRef) {
	counts := map[string]int{}
	for _, p := range out.Report.Planes {
		for _, m := range p.Modules {
			status := string(m.Status)
			if m.Status == structural.Unknown && p.OutsideRule {
				status = LoadOutsideRule
			}
			counts[status]++
			out.Modules = append(out.Modules, ModuleLoadResult{
				ModuleRef: refs[len(out.Modules)], Status: status, Ratio: m.Ratio, Governing: m.Governing, WhyStatus: p.Cases[m.Case].Why,
			})
		}
	}
	for i, m := range out.Modules {
		if m.Ratio > 0 && (out.Governing == nil || m.Ratio > out.Governing.Ratio) {
			out.Governing = &out.Modules[i]
		}
	}
	for _, s := range []struct{ status, words string }{
		{LoadOver, "over the design rating"},
		{LoadOutsideRule, "outside the wind rule, engineer needed"},
		{LoadUnknown, "not judged"},
		{LoadNear, "near the design rating (above 85 %)"},
		{LoadWithin, "within the design rating"},
	} {
		n := counts[s.status]
		if n == 0 {
			continue
		}
		if out.Worst == "" {
			out.Worst = s.status
		} else {
			out.Words += "; "
		}
		out.Words += plural(n, "module") + " " + s.words
	}
	out.Words += "."
}
