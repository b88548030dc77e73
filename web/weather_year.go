package web

import (
	"fmt"

	"rooftally/energy"
)

// weatherYear is a typical year month by month.
type weatherYear struct {
	Rows []weatherMonth
	// Sun and Diffuse are the year's sums, kWh/m2; Share of diffuse in percent;
	// Air the mean.
	Sun, Diffuse, Share, Air string
	Chart, Narrow            chart
}

// weatherMonth is one month: the mean day, kWh/m2, and the month's sum.
type weatherMonth struct{ Month, Day, DiffuseDay, Share, Sum, Air string }

func newWeatherYear(y energy.Year, u weatherUnits) *weatherYear {
	means := y.MonthlyMeans()
	var days [12]float64
	for _, h := range y.Hours {
		days[h.Month-1] += 1.0 / 24
	}
	out := &weatherYear{}
	var sun, diffuse, air, all float64
	for m, name := range monthNames() {
		sum, low := means.GHIKWhM2Day[m]*days[m], means.DHIKWhM2Day[m]*days[m]
		sun, diffuse, all = sun+sum, diffuse+low, all+days[m]
		air += means.AirC[m] * days[m]
		out.Rows = append(out.Rows, weatherMonth{
			Month: name, Day: fixed(means.GHIKWhM2Day[m], 2), DiffuseDay: fixed(means.DHIKWhM2Day[m], 2),
			Share: shareText(low, sum), Sum: fixed(sum, 0), Air: minusSign(fixed(u.temp(means.AirC[m]), 1)),
		})
	}
	out.Sun, out.Diffuse, out.Share = groupedTo(sun, 0), groupedTo(diffuse, 0), shareText(diffuse, sun)
	out.Air = minusSign(fixed(u.temp(air/all), 1))
	out.Chart = sunChart(chartFrame{ID: "sun", WidthU: 720, HeightU: 250, TextU: 13}, means)
	out.Narrow = sunChart(chartFrame{ID: "sun-narrow", WidthU: 358, HeightU: 230, TextU: 13}, means)
	return out
}

// shareText is a part in percent of the whole, "–" of nothing.
func shareText(part, whole float64) string {
	if !(whole > 0) {
		return "–"
	}
	return fixed(100*part/whole, 0)
}

// sunChart draws the mean day of each month as an upright bar: diffuse light
// below, direct light above it.
func sunChart(f chartFrame, means energy.MonthlyMeans) chart {
	c := newChart(f, "Sunlight on level ground, a mean day of each month")
	size := f.TextU
	a := newAxis(0, mostOf(means.GHIKWhM2Day[:]), 4)
	p := plot{left: a.widthU(size) + 0.7*size, top: 2.9 * size, right: f.WidthU - 0.3*size, bottom: f.HeightU - 1.7*size}
	c.scaleY(p, a, "kWh/m² a day")
	slot := p.width() / 12
	bar := slot * 0.66
	months := monthTexts(slot, size)
	for m := range 12 {
		x := p.left + slot*(float64(m)+0.5) - bar/2
		all, low := a.at(means.GHIKWhM2Day[m], p.bottom, p.top), a.at(means.DHIKWhM2Day[m], p.bottom, p.top)
		for _, part := range []struct {
			class    string
			from, to float64
		}{{"haze", p.bottom, low}, {"beam", low, all}} {
			if path := block(x, part.to, bar, part.from-part.to); path != "" {
				c.Shapes = append(c.Shapes, chartShape{Class: part.class, Path: path, Width: num(0.06 * size)})
			}
		}
		c.text("tick", "middle", xy{x + bar/2, p.bottom + 1.25*size}, size, months[m])
		if text := fixed(means.GHIKWhM2Day[m], 1); textWidth(text, size) <= slot {
			c.text("value", "middle", xy{x + bar/2, all - 0.4*size}, size, text)
		}
	}
	c.Words = fmt.Sprintf("Upright bars, one for each month: the lower part is diffuse light, the upper part direct light. "+
		"A mean day of January has %s kWh/m², one of July %s. All numbers are in the table.",
		fixed(means.GHIKWhM2Day[0], 1), fixed(means.GHIKWhM2Day[6], 1))
	return c
}
