package web

import (
	"math"
	"testing"

	"rooftally/energy"
	"rooftally/project"
)

// cannedYield is a yield of the right shape that owes nothing to the engine: a
// year of invented light, with each option's energy in proportion to its power.
func cannedYield(t testing.TB, d project.Document, res project.Result) project.YieldResult {
	t.Helper()
	out := project.YieldResult{
		Weather: project.YieldWeather{Source: "station", Label: "Invented airfield", Words: "Typical year of the invented airfield, 12 km away.",
			Warnings: []string{"The station lies 310 m higher than the house."}, GHIYear: 1480},
		Best: -1, Notes: []string{"Hourly means understate clipping: a cloud’s edge is brighter than its hour."},
	}
	for i, c := range res.Candidates {
		y := cannedCandidateYield(d, c, 0.996-0.0005*float64(i))
		out.Candidates = append(out.Candidates, y)
		if out.Best < 0 || y.Total.ACYear > out.Candidates[out.Best].Total.ACYear {
			out.Best = i
		}
	}
	for i, a := range out.Candidates {
		for _, b := range out.Candidates[i+1:] {
			if a.Why == "" && b.Why == "" && energy.Tie(a.Total.ACYear, b.Total.ACYear, energy.TieBandPct) {
				out.Ties = append(out.Ties, project.YieldTie{A: a.Letter, B: b.Letter, Words: a.Letter + " and " + b.Letter + " differ by less than the model can tell."})
				out.TieWords = "Two options tie where they differ by less than 2 %."
			}
		}
	}
	return out
}

// cannedMonths is an invented year of light on a plane, kWh/m2, brighter in
// summer and to the south.
func cannedMonths(p project.Plane) (out [12]float64) {
	south := 1 - 0.25*(1+math.Cos(p.AzimuthDeg*math.Pi/180))
	for m := range out {
		out[m] = south * (120 - 55*math.Cos(2*math.Pi*(float64(m)+0.5)/12))
	}
	return out
}

func cannedCandidateYield(d project.Document, c project.CandidateResult, keeps float64) project.CandidateYield {
	l := c.Shown()
	y := project.CandidateYield{ID: c.ID, Letter: c.Letter, Label: c.Label, Count: l.Count, PdcW: l.PdcW}
	if l.Count == 0 {
		y.Why = "No module fits on the roof."
		return y
	}
	const access, ratio = 0.94, 0.78
	add := func(to *project.PlaneYield, light [12]float64, kw float64) {
		for m, g := range light {
			to.ACKWh[m] += g * kw * access * ratio
			to.ACYear += g * kw * access * ratio
			to.POAKWhM2[m] += g
			to.POAYear += g
		}
	}
	number := 0
	for _, b := range l.ByPlane {
		if b.Count == 0 {
			continue
		}
		var p project.Plane
		for _, q := range d.Planes {
			if q.ID == b.PlaneID {
				p = q
			}
		}
		row := project.PlaneYield{PlaneID: p.ID, Label: p.Label, Modules: b.Count, KWp: float64(b.PdcW) / 1000, Access: access}
		add(&row, cannedMonths(p), row.KWp)
		row.KWhPerKW, row.PerformanceRatio = row.ACYear/row.KWp, row.ACYear/row.POAYear/row.KWp
		y.Planes = append(y.Planes, row)
		y.Total.Modules += row.Modules
		y.Total.KWp += row.KWp
		for m := range 12 {
			y.Total.ACKWh[m] += row.ACKWh[m]
			y.Total.POAKWhM2[m] += row.POAKWhM2[m] * row.KWp
		}
		y.Total.ACYear += row.ACYear
		y.Total.POAYear += row.POAYear * row.KWp
		for i := range b.Modules {
			number++
			m := project.ModuleYieldResult{ModuleRef: project.ModuleRef{PlaneID: p.ID, Index: i, Number: number}, Access: access, Wired: true,
				String: 1 + i%2, ACKWh: row.ACYear / float64(b.Count)}
			for k := range 12 {
				m.MonthlyAccess[k] = access - 0.05*float64(i%7)*math.Cos(2*math.Pi*(float64(k)+0.5)/12)
			}
			y.Modules = append(y.Modules, m)
		}
	}
	y.Total.Access = access
	y.Total.POAYear /= y.Total.KWp
	y.Total.KWhPerKW = y.Total.ACYear / y.Total.KWp
	y.Total.PerformanceRatio = y.Total.KWhPerKW / y.Total.POAYear
	y.Chain = cannedChain(y.Total)
	y.ClippedKWh, y.ClippedPct = 0.002*y.Total.ACYear, 0.2
	y.InverterWords = "No inverter is chosen: 96 % efficiency and a limit of the direct current over 1.2 are taken."
	cannedYears(&y, keeps)
	y.P50KWh, y.P90OneKWh, y.P90TenKWh = y.Total.ACYear, 0.909*y.Total.ACYear, 0.933*y.Total.ACYear
	y.SpreadWords = "Spread: 5 % for one year’s weather and 5 % for the model, normal distribution."
	y.HotDay, y.DullDay = cannedDay("12 July: the warmest of the sunnier days.", 900, 33, keeps), cannedDay("3 February: a tenth of the days are darker.", 140, 2, keeps)
	return y
}

func cannedChain(total project.PlaneYield) []project.ChainBar {
	left := total.POAYear * total.KWp
	out := []project.ChainBar{{ID: "poa", Label: "Light on the open planes", KWh: left, Source: "weather and sky model"}}
	for _, s := range []struct {
		id, label, source string
		pct               float64
	}{{"shade", "Shade", "reckoned from the drawing", 6}, {"heat", "Heat", "Faiman 2008", 7.5}, {"low_light", "Low light", "Huld et al. 2010", -0.2},
		{"soiling", "Dirt on the glass", "common practice, no source", 2}, {"snow", "Snow cover", "common practice, no source", 0},
		{"inverter", "Inverter", "common practice, no source", 4}} {
		left *= 1 - s.pct/100
		out = append(out, project.ChainBar{ID: s.id, Label: s.label, KWh: left, LossPct: s.pct, Source: s.source})
	}
	return append(out, project.ChainBar{ID: "wiring_ac", Label: "Wiring, AC", KWh: total.ACYear, LossPct: 100 * (1 - total.ACYear/left), Source: "common practice, no source"})
}

func cannedYears(y *project.CandidateYield, keeps float64) {
	sum := 0.0
	for n := range 30 {
		line := project.YearLine{Year: n + 1, KWh: y.Total.ACYear * math.Pow(keeps, float64(n)), ExpectedShare: 0.98 * math.Pow(keeps, float64(n))}
		if n < 25 {
			line.PromisedShare = 0.98 * math.Pow(keeps-0.002, float64(n))
		}
		sum += line.KWh
		line.SumKWh = sum
		y.Years = append(y.Years, line)
	}
	y.KWh25, y.KWh30 = y.Years[24].SumKWh, sum
}

func cannedDay(words string, noonWM2, airC, keeps float64) project.DayResult {
	out := project.DayResult{Words: words}
	for h := range 24 {
		light := noonWM2 * max(0, math.Sin(math.Pi*float64(h-5)/14))
		if h < 5 || h > 19 {
			light = 0
		}
		row := project.DayHour{Clock: h, POAWM2: light, AirC: airC + light/300, CellC: airC + light/30}
		if light > 0 {
			row.HeatPct = (row.CellC - 25) * 0.35 / keeps
			row.LowLightPct = 3 * (1 - light/1000) / keeps
		}
		row.WPerKW = light * (1 - row.HeatPct/100) * (1 - row.LowLightPct/100)
		out.KWhPerKW += row.WPerKW / 1000
		out.Hours = append(out.Hours, row)
	}
	return out
}

// cannedWorths are the worths of a tree and a chimney.
func cannedWorths() []project.WorthResult {
	return []project.WorthResult{
		{ID: "chimney", Label: "Chimney", Kind: "chimney", RemovedKWh: 43},
		{ID: "oak", Label: "", Kind: "tree", RemovedKWh: 212, TrimmedToM: 7, TrimmedKWh: 120},
	}
}
