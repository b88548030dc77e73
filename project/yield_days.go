//go:build !js

package project

import (
	"fmt"
	"time"

	"rooftally/energy"
)

// tellingDays are the days and the plane that all candidates are shown on.
type tellingDays struct {
	energy.Days
	// plane is the index in the used planes of that with most modules, of all
	// candidates together; label is its name.
	plane int
	label string
}

// daysOf picks the days and the plane.
func daysOf(d Document, res Result, y YearResult) tellingDays {
	var out tellingDays
	if y.Sun == nil {
		return out
	}
	out.Days = energy.TellingDays(y.Sun)
	most, used := -1, 0
	for _, p := range d.Planes {
		if !p.Use {
			continue
		}
		n := 0
		for _, c := range res.Candidates {
			n += c.Shown().ByPlane[used].Count
		}
		if n > most {
			most, out.plane, out.label = n, used, planeName(p)
		}
		used++
	}
	return out
}

// dayViews fills in the hot and the dull day.
func (w yielder) dayViews(out *CandidateYield, in energy.Input) error {
	var err error
	if out.HotDay, err = w.dayView(in, w.days.Hot, "the warmest of the sunnier half of the days"); err != nil {
		return err
	}
	out.DullDay, err = w.dayView(in, w.days.Dull, "a dull day: a tenth of the days are darker")
	return err
}

func (w yielder) dayView(in energy.Input, day int, what string) (DayResult, error) {
	p := w.scene.Planes[w.days.plane]
	hours, err := energy.DayView(in.Year, day, p.Surface, p.Mounting, in.Module, in.Options)
	if err != nil {
		return DayResult{}, err
	}
	first := in.Year.Year().Hours[24*day]
	out := DayResult{
		Words: fmt.Sprintf("%d %s, %s, on %s without shade", first.Day, time.Month(first.Month), what, w.days.label),
		Hours: make([]DayHour, len(hours)),
	}
	for i, h := range hours {
		out.Hours[i] = DayHour(h)
		out.KWhPerKW += h.WPerKW / 1000
	}
	return out, nil
}
