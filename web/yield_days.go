package web

import "rooftally/project"

// yieldDay is one telling day of all candidates.
type yieldDay struct {
	ID, Words    string
	Wide, Narrow chart
	Rows         []yieldDayRow
	Taken        string
}

// yieldDayRow is one candidate's day.
type yieldDayRow struct{ Letter, KWhPerKW, Taken string }

// screenDay is the frames of a day's chart on a screen and on a phone.
func screenDay(id string) (wide, narrow chartFrame) { return wideFrame(id, 400), narrowFrame(id, 400) }

// days are the hot and the dull day, drawn into the frames of an ID.
func (in yieldInput) days(frames func(id string) (wide, narrow chartFrame)) []yieldDay {
	all := in.known()
	if len(all) == 0 {
		return nil
	}
	hot := in.day("hot", "A hot day", "heat", all, func(c project.CandidateYield) project.DayResult { return c.HotDay },
		func(h project.DayHour) float64 { return h.HeatPct }, frames)
	dull := in.day("dull", "A dull day", "low light", all, func(c project.CandidateYield) project.DayResult { return c.DullDay },
		func(h project.DayHour) float64 { return h.LowLightPct }, frames)
	return []yieldDay{hot, dull}
}

func (in yieldInput) day(id, title, taken string, all []project.CandidateYield, of func(project.CandidateYield) project.DayResult, pct func(project.DayHour) float64, frames func(id string) (wide, narrow chartFrame)) yieldDay {
	out := yieldDay{ID: id, Words: closed(of(all[0]).Words), Taken: taken}
	d := dayInput{Taken: taken, Title: title}
	for _, h := range of(all[0]).Hours {
		d.Clock, d.POAWM2, d.AirC = append(d.Clock, h.Clock), append(d.POAWM2, h.POAWM2), append(d.AirC, h.AirC)
	}
	for _, c := range all {
		s := daySeries{Letter: c.Letter, Name: in.nameOf(c.Letter)}
		made, could := 0.0, 0.0
		for _, h := range of(c).Hours {
			s.WPerKW, s.TakenPct, s.CellC = append(s.WPerKW, h.WPerKW), append(s.TakenPct, pct(h)), append(s.CellC, h.CellC)
			made += h.WPerKW
			if left := 1 - pct(h)/100; left > 0 {
				could += h.WPerKW / left
			}
		}
		row := yieldDayRow{Letter: c.Letter, KWhPerKW: fixed(of(c).KWhPerKW, 2), Taken: "–"}
		if could > 0 {
			row.Taken = fixed(100*(1-made/could), 1)
		}
		out.Rows = append(out.Rows, row)
		d.All = append(d.All, s)
	}
	wide, narrow := frames("day-" + id)
	out.Wide, out.Narrow = dayChart(wide, d), dayChart(narrow, d)
	return out
}
