//go:build !js

package project

import (
	"context"
	"fmt"
	"slices"

	"rooftally/catalog"
	"rooftally/energy"
)

// yielder reckons one candidate.
type yielder struct {
	doc   Document
	sheet *catalog.Datasheet
	lay   LayoutResult
	plan  WiringResult
	scene energy.Scene // without modules; its planes are those of lay.ByPlane
	year  YearResult
	days  tellingDays
	refs  []ModuleRef
}

func newYielder(d Document, res Result, build BuildResult, i int, scene energy.Scene, y YearResult) (yielder, error) {
	b, err := newBuilder(d, res, i, build.Site, nil)
	if err != nil {
		return yielder{}, err
	}
	return yielder{
		doc: d, sheet: d.Candidates[i].Datasheet, lay: b.lay, plan: build.Candidates[i].Wiring, scene: scene, year: y, refs: b.refs(),
	}, nil
}

// missing says why a candidate has no yield, "" where it has one.
func (w yielder) missing() string {
	switch {
	case w.lay.Count == 0:
		return noModules
	case w.sheet == nil:
		return noDatasheet + " Its behaviour in heat, in low light and with age is not known."
	case w.lay.Count > energy.MaxModules:
		return fmt.Sprintf("The layout has %d modules; the yield of at most %d is reckoned.", w.lay.Count, energy.MaxModules)
	case w.plan.Why == "" && w.plan.Wires == 0:
		return "The wiring plan connects no module, so that nothing is made."
	}
	return ""
}

// yield fills in a candidate's yield.
func (w yielder) yield(ctx context.Context, out *CandidateYield) error {
	if out.Why = w.missing(); out.Why != "" {
		return nil
	}
	in, gear := w.input()
	got, err := energy.Simulate(ctx, in)
	if err != nil {
		return err
	}
	out.InverterWords, out.UnwiredWords, out.Assumed = gear.words, w.unwiredWords(), assumed(*w.sheet)
	w.planes(out, in, got)
	if err := w.modules(ctx, out, in, got, gear); err != nil {
		return err
	}
	for _, s := range got.Chain {
		if s.ID == "clipping" {
			out.ClippedPct = s.LossPct
		}
		out.Chain = append(out.Chain, ChainBar{ID: s.ID, Label: s.Label, KWh: s.KWh, LossPct: s.LossPct, Source: w.chainSource(s.ID, gear)})
	}
	for _, g := range got.Groups {
		out.ClippedKWh += g.ClippedKWh
	}
	w.spread(out)
	if err := w.life(out, in.Module); err != nil {
		return err
	}
	return w.dayViews(out, in)
}

// input is what package energy is asked, and what the wiring was taken to be.
// Planes without modules that are wired are left out.
func (w yielder) input() (energy.Input, gearing) {
	gear := w.gearing()
	in := energy.Input{
		Year: w.year.Sun, Scene: w.scene, Module: ModuleModelOf(*w.sheet), Options: w.doc.Yield.options(),
		Losses: w.losses(gear), Groups: gear.groups,
	}
	in.Scene.Planes, in.Scene.Modules = nil, nil
	at := 0
	for i, by := range w.lay.ByPlane {
		first := true
		for _, m := range by.Modules {
			if k := gear.modules[at]; k.wired {
				if first {
					in.Scene.Planes = append(in.Scene.Planes, w.scene.Planes[i])
					first = false
				}
				in.Scene.Modules = append(in.Scene.Modules, energy.Module{
					Plane: len(in.Scene.Planes) - 1, UM: m.UM, VM: m.VM, WidthM: m.WM, HeightM: m.HM, Group: k.group, String: k.series,
				})
			}
			at++
		}
	}
	return in, gear
}

// losses are the document's loss lines. Modules that work alone do not hold each
// other back.
func (w yielder) losses(gear gearing) []energy.LossLine {
	out := make([]energy.LossLine, len(w.doc.Yield.Losses))
	for i, l := range w.doc.Yield.Losses {
		out[i] = energy.LossLine{ID: l.ID, Label: l.Label, Side: energy.Side(l.Side), MonthlyPct: l.MonthlyPct}
		if l.ID == mismatchLine && gear.alone {
			out[i].MonthlyPct = [12]float64{}
		}
	}
	return out
}

// mismatchLine is the loss of unequal modules in a string; see
// energy.DefaultLosses.
const mismatchLine = "mismatch"

// planes fills in the total and the planes.
func (w yielder) planes(out *CandidateYield, in energy.Input, got energy.Result) {
	out.Total = planeYield(got.Total)
	for i, y := range got.Planes {
		p := planeYield(y)
		p.PlaneID = in.Scene.Planes[i].ID
		if at := slices.IndexFunc(w.doc.Planes, func(q Plane) bool { return q.ID == p.PlaneID }); at >= 0 {
			p.Label = planeName(w.doc.Planes[at])
		}
		out.Planes = append(out.Planes, p)
	}
}

func planeYield(y energy.Yield) PlaneYield {
	p := PlaneYield{
		Modules: y.Modules, KWp: y.KWp, POAKWhM2: y.POAKWhM2, POAYear: y.POAYear, ACKWh: y.ACKWh, ACYear: y.ACYear,
		KWhPerKW: y.KWhPerKW, PerformanceRatio: y.PerformanceRatio,
	}
	if y.POAYear > 0 {
		p.Access = y.ShadedYear / y.POAYear
	}
	return p
}

// modules fills in every module of the layout; those that the plan leaves out
// get light and make nothing.
func (w yielder) modules(ctx context.Context, out *CandidateYield, in energy.Input, got energy.Result, gear gearing) error {
	left, err := w.unwiredLight(ctx, in, gear)
	if err != nil {
		return err
	}
	wired := 0
	for i, ref := range w.refs {
		m := ModuleYieldResult{ModuleRef: ref, Wired: gear.modules[i].wired, String: gear.modules[i].series}
		if m.Wired {
			y := got.Modules[wired]
			wired++
			m.Access, m.MonthlyAccess, m.POAKWhM2, m.ACKWh, m.SkyView = y.Access, y.MonthlyAccess, y.POAYear, y.ACKWh, y.SkyView
		} else {
			c := left[0]
			left = left[1:]
			m.Access, m.MonthlyAccess, m.POAKWhM2 = c.Access, c.MonthlyAccess, c.POAYear
		}
		out.Modules = append(out.Modules, m)
	}
	return nil
}

// unwiredLight is the light on the modules that the plan leaves out, in order.
func (w yielder) unwiredLight(ctx context.Context, in energy.Input, gear gearing) ([]energy.Cell, error) {
	scene := w.scene
	at := 0
	for i, by := range w.lay.ByPlane {
		for _, m := range by.Modules {
			if !gear.modules[at].wired {
				scene.Modules = append(scene.Modules, energy.Module{Plane: i, UM: m.UM, VM: m.VM, WidthM: m.WM, HeightM: m.HM})
			}
			at++
		}
	}
	if len(scene.Modules) == 0 {
		return nil, nil
	}
	return energy.Irradiate(ctx, in.Year, scene, in.Options)
}

// spread fills in what may be more or less.
func (w yielder) spread(out *CandidateYield) {
	s := energy.Spread{WeatherPct: w.doc.Yield.WeatherSigmaPct, ModelPct: w.doc.Yield.ModelSigmaPct}
	const years = 10
	out.P50KWh, out.P90OneKWh = s.Exceeded(out.Total.ACYear, 1)
	_, out.P90TenKWh = s.Exceeded(out.Total.ACYear, years)
	out.SpreadWords = fmt.Sprintf("P50 is the estimate. One year exceeds P90 nine times in ten: weather varies by %.3g %% from year to year and the model may be off by %.3g %% "+
		"(standard deviations; together %.2g %% for one year, %.2g %% for the mean of %d years; normal distribution).",
		s.WeatherPct, s.ModelPct, s.SigmaPct(1), s.SigmaPct(years), years)
}

// lifeYears are the years of a life that are shown.
const lifeYears = 30

// life fills in the years.
func (w yielder) life(out *CandidateYield, m energy.ModuleModel) error {
	promised := energy.Ageing{FirstYearPct: w.sheet.FirstYearLossPct, YearlyPct: w.sheet.YearlyLossPct, Form: energy.AgeForm(w.sheet.LossLaw)}
	life, err := energy.LifetimeOf(out.Total.ACYear, m.Ageing(), promised, lifeYears)
	if err != nil {
		return err
	}
	for _, y := range life.Years {
		line := YearLine{Year: y.Year, KWh: y.KWh, SumKWh: y.SumKWh, ExpectedShare: y.ExpectedShare}
		if y.Year <= w.sheet.PerformanceWarrantyYears {
			line.PromisedShare = y.PromisedShare
		}
		out.Years = append(out.Years, line)
		switch y.Year {
		case 25:
			out.KWh25 = y.SumKWh
		case lifeYears:
			out.KWh30 = y.SumKWh
		}
	}
	return nil
}

// ModuleModelOf is how a module of a datasheet behaves. What the datasheet does
// not give is the usual value of package energy, and a figure past what that
// takes counts as its limit. The expected ageing is that of the cell type; the
// datasheet's own figures are the guarantee.
func ModuleModelOf(d catalog.Datasheet) energy.ModuleModel {
	cell := energy.PType
	if d.CellType == catalog.NTypeMono || d.CellType == catalog.Heterojunction {
		cell = energy.NType
	}
	m := energy.ModuleModel{
		PmaxW: float64(d.PmaxW), GammaPctPerK: d.GammaPmaxPctPerK, Substrings: min(d.Substrings, 6), Cells: d.Cells, HalfCut: d.HalfCut,
		FirstYearLossPct: energy.FirstYearLoss(cell), YearlyLossPct: energy.DefaultYearlyLossPct, YearlyForm: energy.Compound,
	}
	if d.NMOTC != 0 {
		m.NMOTC = min(65, max(30, d.NMOTC))
	}
	if d.RelativeEfficiency200 != 0 {
		m.LowLight = min(1.05, max(0.8, d.RelativeEfficiency200))
	}
	return m
}

// assumed says what a datasheet does not give and what was taken.
func assumed(d catalog.Datasheet) []string {
	out := []string{}
	if d.NMOTC == 0 {
		out = append(out, "The datasheet gives no nominal module operating temperature: cells get as warm as is usual for the mounting.")
	}
	if d.RelativeEfficiency200 == 0 {
		out = append(out, fmt.Sprintf("The datasheet gives no efficiency at 200 W/m2: %g of that at 1000 W/m2 is taken (common practice, no source).", energy.DefaultLowLight))
	}
	m := ModuleModelOf(d)
	usual := "the cell type"
	if d.CellType == catalog.OtherCells {
		usual = "p-type silicon, for want of anything closer"
	}
	return append(out, fmt.Sprintf("Expected ageing: %g %% in the first year and %g %% of the rest in each further one, as is usual for %s; the guarantee is shown beside it.",
		m.FirstYearLossPct, m.YearlyLossPct, usual))
}
