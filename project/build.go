//go:build !js

// What is built stays on the server: the browser's program counts, and no part
// of this, nor of package energy below it, is in it.

package project

import (
	"context"
	"fmt"
	"slices"

	"rooftally/catalog"
	"rooftally/electrical"
	"rooftally/layout"
)

// BuildResult is what it takes to build each candidate's layout. What is not
// known is said in words: each part has a field Why, "" where there is a result.
type BuildResult struct {
	// Site is what all candidates share.
	Site BuildSite `json:"site"`
	// Candidates follow the document.
	Candidates []CandidateBuild `json:"candidates"`
}

// CandidateBuild is one candidate's layout, the one that answers the document's
// question, as something to build.
type CandidateBuild struct {
	ID     string `json:"id"`
	Letter string `json:"letter"`
	Label  string `json:"label"`
	// Count and PdcW are those of the layout.
	Count    int            `json:"count"`
	PdcW     int            `json:"pdc_w"`
	Wiring   WiringResult   `json:"wiring"`
	Loads    LoadsResult    `json:"loads"`
	Rails    RailsResult    `json:"rails"`
	Bill     Bill           `json:"bill"`
	Warranty WarrantyResult `json:"warranty"`
	Cost     CostResult     `json:"cost"`
}

// ModuleRef names one module of a candidate's layout.
type ModuleRef struct {
	// PlaneID and Index say where it is in LayoutResult.ByPlane.
	PlaneID string `json:"plane_id"`
	Index   int    `json:"index"`
	// Number counts from 1 over the layout, plane by plane; findings use it.
	Number int `json:"number"`
}

// Build works out how the modules of each candidate's layout are wired, what
// snow and wind do to them, what holds them, the parts, the guaranteed output
// and the cost. res is the evaluation of the document; the inverters are those
// of the catalog, of which it says which would work. It changes neither, and the
// same values give the same result.
//
// A document that [Document.Validate] does not pass gives [Problems]. A result
// of another document, or a cancelled context, gives an error.
func Build(ctx context.Context, d Document, res Result, inverters []catalog.StringInverter) (BuildResult, error) {
	if ps := d.Validate(); len(ps) > 0 {
		return BuildResult{}, ps
	}
	if len(res.Candidates) != len(d.Candidates) || len(res.Planes) != len(d.Planes) {
		return BuildResult{}, fmt.Errorf("build: the result has %d candidates and %d planes, the document %d and %d",
			len(res.Candidates), len(res.Planes), len(d.Candidates), len(d.Planes))
	}
	out := BuildResult{Site: buildSite(d), Candidates: make([]CandidateBuild, len(d.Candidates))}
	err := each(len(d.Candidates), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		b, err := newBuilder(d, res, i, out.Site, inverters)
		if err != nil {
			return fmt.Errorf("build: candidate %s: %w", d.Candidates[i].ID, err)
		}
		out.Candidates[i] = b.build()
		return nil
	})
	if err != nil {
		return BuildResult{}, err
	}
	saveWords(out.Candidates)
	return out, nil
}

// builder works on one candidate.
type builder struct {
	doc       Document
	candidate Candidate
	letter    string
	lay       LayoutResult
	site      BuildSite
	inverters []catalog.StringInverter
	// planes are those of lay.ByPlane.
	planes []builtPlane
}

// builtPlane is a plane with modules of a layout.
type builtPlane struct {
	plane Plane
	frame layout.Frame
	edges []EdgeResult
	lay   PlaneLayoutResult
}

// newBuilder finds the planes that a candidate's layout names.
func newBuilder(d Document, res Result, i int, site BuildSite, inverters []catalog.StringInverter) (builder, error) {
	c := res.Candidates[i]
	if c.ID != d.Candidates[i].ID {
		return builder{}, fmt.Errorf("the result has %q in its place", c.ID)
	}
	b := builder{doc: d, candidate: d.Candidates[i], letter: Letter(i), lay: c.Shown(), site: site, inverters: inverters}
	for _, by := range b.lay.ByPlane {
		at := slices.IndexFunc(d.Planes, func(p Plane) bool { return p.ID == by.PlaneID })
		if at < 0 || res.Planes[at].ID != by.PlaneID {
			return builder{}, fmt.Errorf("the result has a plane %q that the document has not", by.PlaneID)
		}
		frame, err := layout.NewFrame(d.Planes[at].layout())
		if err != nil {
			return builder{}, fmt.Errorf("plane %s: %w", by.PlaneID, err)
		}
		b.planes = append(b.planes, builtPlane{d.Planes[at], frame, res.Planes[at].Edges, by})
	}
	return b, nil
}

func (b builder) build() CandidateBuild {
	out := CandidateBuild{
		ID: b.candidate.ID, Letter: b.letter, Label: b.candidate.Label, Count: b.lay.Count, PdcW: b.lay.PdcW,
	}
	out.Wiring = b.wiring()
	out.Rails = b.rails()
	out.Loads = b.loads(out.Rails)
	out.Bill = b.bill(out.Wiring, out.Rails)
	out.Warranty = b.warranty()
	out.Cost = b.cost(out.Wiring)
	return out
}

// refs names every module of the layout, in the order of placed.
func (b builder) refs() []ModuleRef {
	var out []ModuleRef
	for _, p := range b.planes {
		for i := range p.lay.Modules {
			out = append(out, ModuleRef{PlaneID: p.plane.ID, Index: i, Number: len(out) + 1})
		}
	}
	return out
}

// placed is where the middle of every module lies.
func (b builder) placed() []electrical.PlacedModule {
	var out []electrical.PlacedModule
	for _, p := range b.planes {
		for _, m := range p.lay.Modules {
			at := p.frame.ToPlan(layout.SlopePt{UM: m.UM + m.WM/2, VM: m.VM + m.HM/2})
			out = append(out, electrical.PlacedModule{
				XM: at.XM, YM: at.YM, ZM: p.frame.HeightM(at),
				PlaneID: p.plane.ID, PitchDeg: p.plane.PitchDeg, AzimuthDeg: p.plane.AzimuthDeg,
			})
		}
	}
	return out
}

// noModules and noDatasheet say why a part has no result.
const (
	noModules   = "There are no modules."
	noDatasheet = "The module was typed without a datasheet."
)

// planeName is what people call a plane.
func planeName(p Plane) string {
	if p.Label != "" {
		return p.Label
	}
	return p.ID
}

// EncodeReport writes what the report command prints: the result with two more
// members, "build" and "yield".
func EncodeReport(r Result, b BuildResult, y YieldResult) ([]byte, error) {
	out, err := marshal(Report{r, b, y})
	if err != nil {
		return nil, fmt.Errorf("encode report: %w", err)
	}
	return out, nil
}

// Report is everything that the program works out of a document.
type Report struct {
	Result
	Build BuildResult `json:"build"`
	Yield YieldResult `json:"yield"`
}
