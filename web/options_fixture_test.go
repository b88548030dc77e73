package web

import (
	"fmt"
	"math"
	"strconv"
	"testing"
	"time"

	"rooftally/layout"
	"rooftally/project"
)

// fixtureNow is the clock of the page tests.
func fixtureNow() time.Time { return time.Date(2026, 3, 14, 21, 30, 0, 0, time.UTC) }

// gableDoc is an invented house 10 m long with two planes of 30 degrees, a
// chimney astride the ridge, a vent pipe and a shade area.
//
//	+--------------------+ 8.0
//	|       north        |
//	+------[]------------+ 4.0 ridge
//	|  o    south   (shade)
//	+--------------------+ 0
func gableDoc() project.Document {
	d := project.New("Corner house (invented)")
	d.Site.Invented, d.Site.LatDeg, d.Site.LonDeg, d.Site.ElevationM, d.Site.UTCOffsetH = true, 43.05, -89.9, 320, -6
	d.Planes = []project.Plane{
		fixturePlane("south", "Garden side", 180, 30, [2]float64{0, 0}, [2]float64{10, 0}, [2]float64{10, 4}, [2]float64{0, 4}),
		fixturePlane("north", "Street side", 0, 30, [2]float64{0, 4}, [2]float64{10, 4}, [2]float64{10, 8}, [2]float64{0, 8}),
	}
	d.KeepOuts = []project.KeepOut{
		{ID: "chimney", Label: "Chimney", Kind: "chimney", Shape: "rect", Center: &project.Point{XM: 3.5, YM: 4}, WidthM: 0.8, DepthM: 0.6, ClearanceM: 0.3, HeightM: 1},
		{ID: "pipe", Label: "Vent pipe", Kind: "pipe", Shape: "circle", Center: &project.Point{XM: 8.2, YM: 3.3}, RadiusM: 0.06, ClearanceM: 0.15, HeightM: 0.4},
		{ID: "tree", Label: "Shade of the tree", Kind: "shade", Shape: "polygon", Shade: "last_resort",
			Points: []project.Point{{XM: 8.4, YM: 0}, {XM: 10, YM: 0}, {XM: 10, YM: 2}}},
	}
	d.Candidates = []project.Candidate{
		{ID: "a", Label: "Compact 340 (invented)", PmaxW: 340, LengthM: 1.69, WidthM: 1.05, Invented: true},
		{ID: "b", Label: "Medium 400 (invented)", PmaxW: 400, LengthM: 1.722, WidthM: 1.134, Invented: true},
		{ID: "c", Label: "Large 445 (invented)", PmaxW: 445, LengthM: 1.9, WidthM: 1.134, Invented: true},
	}
	return d
}

func fixturePlane(id, label string, azimuthDeg, pitchDeg float64, ring ...[2]float64) project.Plane {
	p := project.Plane{ID: id, Label: label, Use: true, PitchDeg: pitchDeg, AzimuthDeg: azimuthDeg, EaveHeightM: 3,
		Turn: "portrait", Covering: "asphalt_shingle", RafterSpacingM: 0.6}
	for _, c := range ring {
		p.Ring = append(p.Ring, project.Corner{XM: c[0], YM: c[1]})
	}
	return p
}

// manyDoc has n strips of roof side by side, each wM by hM in plan.
func manyDoc(n int, wM, hM float64) project.Document {
	d := gableDoc()
	d.Planes, d.KeepOuts = nil, nil
	for i := range n {
		x, y := float64(i%4)*(wM+1), float64(i/4)*(hM+1)
		label := fmt.Sprintf("Long wing %d towards the old orchard, lower roof over the st", i+1)
		d.Planes = append(d.Planes, fixturePlane("p"+strconv.Itoa(i+1), label, float64(i*30%360), 25,
			[2]float64{x, y}, [2]float64{x + wM, y}, [2]float64{x + wM, y + hM}, [2]float64{x, y + hM}))
	}
	return d
}

func layoutPlanes(d project.Document) []layout.Plane {
	var out []layout.Plane
	for _, p := range d.Planes {
		lp := layout.Plane{ID: p.ID, PitchDeg: p.PitchDeg, AzimuthDeg: p.AzimuthDeg, EaveHeightM: p.EaveHeightM}
		for _, c := range p.Ring {
			lp.Ring = append(lp.Ring, layout.Corner{At: layout.PlanPt{XM: c.XM, YM: c.YM}})
		}
		out = append(out, lp)
	}
	return out
}

// cannedResult is a result of the right shape that owes nothing to the
// engine: true edges and areas, and a plain raster of modules in portrait that
// keeps 300 mm from the box around each plane. Keep-outs take no module away.
func cannedResult(t testing.TB, d project.Document) project.Result {
	t.Helper()
	planes := layoutPlanes(d)
	res := project.Result{Rules: project.RulesResult{ID: "distances", Title: "typed distances",
		Notes: []string{"The local code governs."}}}
	for i, edges := range layout.Edges(planes) {
		p := d.Planes[i]
		pr := project.PlaneResult{ID: p.ID, Label: p.Label, Use: p.Use, PitchDeg: p.PitchDeg, AzimuthDeg: p.AzimuthDeg,
			PlanAreaM2: planes[i].PlanAreaM2(), SlopeAreaM2: planes[i].SlopeAreaM2(), UsableAreaM2: planes[i].SlopeAreaM2() * 0.8,
			RidgeHeightM: planes[i].RidgeHeightM()}
		for _, e := range edges {
			from, to := [2]float64{e.From.XM, e.From.YM}, [2]float64{e.To.XM, e.To.YM}
			pr.Edges = append(pr.Edges, project.EdgeResult{Index: e.Index, From: from, To: to, LengthM: e.LengthM, Kind: string(e.Kind), Guessed: e.Guessed})
			pr.Zones = append(pr.Zones, project.ZoneResult{Why: "setback", Ring: [][2]float64{
				{min(from[0], to[0]) - 0.3, min(from[1], to[1]) - 0.3}, {max(from[0], to[0]) + 0.3, min(from[1], to[1]) - 0.3},
				{max(from[0], to[0]) + 0.3, max(from[1], to[1]) + 0.3}, {min(from[0], to[0]) - 0.3, max(from[1], to[1]) + 0.3}}})
		}
		res.Planes = append(res.Planes, pr)
		res.PlanAreaM2 += pr.PlanAreaM2
	}
	for _, k := range d.KeepOuts {
		res.KeepOuts = append(res.KeepOuts, project.KeepOutResult{ID: k.ID, Footprint: cannedFootprint(k)})
	}
	for i, c := range d.Candidates {
		res.Candidates = append(res.Candidates, cannedCandidate(t, d, planes, i, c))
	}
	return res
}

func cannedFootprint(k project.KeepOut) [][2]float64 {
	var out [][2]float64
	for _, p := range k.Points {
		out = append(out, [2]float64{p.XM, p.YM})
	}
	if k.Center == nil {
		return out
	}
	w, h := max(k.WidthM/2, k.RadiusM), max(k.DepthM/2, k.RadiusM)
	for i := range 4 {
		x, y := w, h
		if i == 0 || i == 3 {
			x = -w
		}
		if i < 2 {
			y = -h
		}
		out = append(out, [2]float64{k.Center.XM + x, k.Center.YM + y})
	}
	return out
}

func cannedCandidate(t testing.TB, d project.Document, planes []layout.Plane, i int, c project.Candidate) project.CandidateResult {
	t.Helper()
	out := project.CandidateResult{ID: c.ID, Letter: string(rune('A' + i)), Label: c.Label, PmaxW: c.PmaxW, ModuleAreaM2: c.LengthM * c.WidthM}
	var all []project.PlaneLayoutResult
	for j, p := range d.Planes {
		if p.Use {
			all = append(all, cannedPlane(t, d, planes[j], c))
		}
	}
	out.Fill = cannedTotals(d, c, all)
	if d.Target.Mode == "size" {
		need := (d.Target.SizeW + c.PmaxW - 1) / c.PmaxW
		left := need
		for j := range all {
			n := min(left, len(all[j].Modules))
			all[j].Modules, left = all[j].Modules[:n], left-n
		}
		out.Size = &project.SizeResult{Need: need, Fits: out.Fill.Count >= need, Layout: cannedTotals(d, c, all)}
	}
	return out
}

func cannedTotals(d project.Document, c project.Candidate, all []project.PlaneLayoutResult) project.LayoutResult {
	each := (c.WidthM + d.Rules.GapEaveM) * (c.LengthM + d.Rules.GapSlopeM)
	out := project.LayoutResult{WPerM2: float64(c.PmaxW) / each}
	for _, b := range all {
		b.Count, b.InShade = len(b.Modules), 0
		for _, m := range b.Modules {
			if m.InShade {
				b.InShade++
			}
		}
		b.PdcW = b.Count * c.PmaxW
		b.KWdc, b.FreeAreaM2 = float64(b.PdcW)/1000, max(0, b.FreeAreaM2-float64(b.Count)*each)
		out.Count, out.InShade, out.PdcW = out.Count+b.Count, out.InShade+b.InShade, out.PdcW+b.PdcW
		out.FreeAreaM2 += b.FreeAreaM2
		out.Tidiness.RailRuns += b.Tidiness.RailRuns
		out.Tidiness.Blocks += b.Tidiness.Blocks
		out.Tidiness.Turns = max(out.Tidiness.Turns, b.Tidiness.Turns)
		out.ByPlane = append(out.ByPlane, b)
	}
	out.KWdc = float64(out.PdcW) / 1000
	return out
}

// inBox tells whether a module is within the box of a rectangular plane.
func inBox(plan [4][2]float64, ring []layout.Corner) bool {
	lo, hi := ring[0].At, ring[0].At
	for _, c := range ring {
		lo = layout.PlanPt{XM: min(lo.XM, c.At.XM), YM: min(lo.YM, c.At.YM)}
		hi = layout.PlanPt{XM: max(hi.XM, c.At.XM), YM: max(hi.YM, c.At.YM)}
	}
	for _, q := range plan {
		if q[0] < lo.XM || q[0] > hi.XM || q[1] < lo.YM || q[1] > hi.YM {
			return false
		}
	}
	return true
}

func cannedPlane(t testing.TB, d project.Document, p layout.Plane, c project.Candidate) project.PlaneLayoutResult {
	t.Helper()
	f, err := layout.NewFrame(p)
	if err != nil {
		t.Fatal(err)
	}
	loU, loV, hiU, hiV := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, corner := range p.Ring {
		s := f.ToSlope(corner.At)
		loU, hiU, loV, hiV = min(loU, s.UM), max(hiU, s.UM), min(loV, s.VM), max(hiV, s.VM)
	}
	out := project.PlaneLayoutResult{PlaneID: p.ID, FreeAreaM2: p.SlopeAreaM2() * 0.8}
	for v := loV + 0.3; v+c.LengthM <= hiV-0.3; v += c.LengthM + d.Rules.GapSlopeM {
		for u := loU + 0.3; u+c.WidthM <= hiU-0.3; u += c.WidthM + d.Rules.GapEaveM {
			m := project.Module{UM: u, VM: v, WM: c.WidthM, HM: c.LengthM, Turn: "portrait"}
			for k, s := range []layout.SlopePt{{UM: u, VM: v}, {UM: u + c.WidthM, VM: v}, {UM: u + c.WidthM, VM: v + c.LengthM}, {UM: u, VM: v + c.LengthM}} {
				q := f.ToPlan(s)
				m.Plan[k] = [2]float64{q.XM, q.YM}
			}
			if !inBox(m.Plan, p.Ring) {
				continue
			}
			m.InShade = m.Plan[1][0] > 9 && m.Plan[1][1] < 2 && len(d.KeepOuts) > 2
			out.Modules = append(out.Modules, m)
		}
	}
	rows := map[float64]bool{}
	for _, m := range out.Modules {
		rows[m.VM] = true
	}
	if len(rows) > 0 {
		out.Tidiness = project.Tidiness{RailRuns: len(rows), Blocks: 1, Turns: 1}
	}
	out.Bound, out.Proved = len(out.Modules), c.ID == "a"
	if !out.Proved {
		out.Bound += 2
	}
	return out
}
