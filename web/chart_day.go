package web

import "strconv"

// daySeries is one option on one day, an hour after the other: the power of 1 kW
// of its modules, and what heat or low light takes of it.
type daySeries struct {
	Letter, Name    string
	WPerKW          []float64
	TakenPct        []float64
	CellC           []float64
	KWhPerKW, Share float64 // of the whole day; Share is percent taken, weighted by energy
}

// dayInput is a telling day: the hours' starts, the light on the plane and the
// air, and the options.
type dayInput struct {
	// Taken is "heat" or "low light": what the lower panel shows.
	Taken  string
	Title  string
	Clock  []int
	POAWM2 []float64
	AirC   []float64
	All    []daySeries
}

// lit is the first and the last hour with light, widened by one.
func (d dayInput) lit() (from, to int) {
	from, to = -1, -1
	for i, v := range d.POAWM2 {
		if v > 0 {
			if from < 0 {
				from = i
			}
			to = i
		}
	}
	if from < 0 {
		return 0, -1
	}
	return max(0, from-1), min(len(d.POAWM2)-1, to+1)
}

// Room above, between and below the panels of a day, in heights of the text.
const (
	dayTop  = 1.9
	dayGap  = 2.3
	dayFoot = 3
)

// dayChart draws three panels over the hours of one day: the light, the power of
// 1 kW of each option, and what heat or low light takes of it.
func dayChart(f chartFrame, d dayInput) chart {
	c := newChart(f, d.Title)
	c.Table = dayTable(d)
	from, to := d.lit()
	if to < from || len(d.All) == 0 {
		c.Empty = "There is no light on this day to draw."
		return c
	}
	size := f.TextU
	var power, taken [][]float64
	low := 0.0
	for _, s := range d.All {
		power, taken = append(power, s.WPerKW), append(taken, s.TakenPct)
		for i := from; i <= to; i++ {
			low = min(low, valueAt(s.TakenPct, i))
		}
	}
	free := f.HeightU - (dayTop+2*dayGap+dayFoot)*size
	tops := []float64{dayTop * size, 0, 0}
	heights := []float64{free * 0.19, free * 0.36, free * 0.45}
	for i := 1; i < 3; i++ {
		tops[i] = tops[i-1] + heights[i-1] + dayGap*size
	}
	light, kw := newAxis(0, mostOf(d.POAWM2), stepsIn(heights[0], size, 3)), newAxis(0, mostOf(power...), stepsIn(heights[1], size, 4))
	pct := newAxis(low, mostOf(taken...), stepsIn(heights[2], size, 5))
	left := max(light.widthU(size), kw.widthU(size), pct.widthU(size)) + 0.7*size
	right := f.WidthU - 0.6*size
	panel := func(i int) plot { return plot{left, tops[i], right, tops[i] + heights[i]} }
	x := func(i int) float64 {
		return left + (float64(i-from)+0.5)/float64(to-from+1)*(right-left)
	}
	c.dayScale(panel(0), light, "Light on the plane, W/m²", left)
	c.dayScale(panel(1), kw, "Power of 1 kW of modules, W", left)
	c.dayScale(panel(2), pct, takenTitle(d.Taken), left)
	c.dayLight(panel(0), light, d, from, to, x)
	for n, s := range d.All {
		c.dayLine(panel(1), kw, s.Letter, s.WPerKW, from, to, n, len(d.All), x)
		c.dayLine(panel(2), pct, s.Letter, s.TakenPct, from, to, n, len(d.All), x)
	}
	c.dayHours(panel(2), d, from, to, x)
	var series []chartSeries
	for _, s := range d.All {
		series = append(series, chartSeries{Letter: s.Letter, Name: s.Name})
	}
	c.Key = keyOf(series)
	c.Words = "Three panels over the hours of the day: the light on the plane, the power of 1 kW of modules of each option, and what " +
		d.Taken + " takes of it. All numbers are in the table behind the chart."
	return c
}

// stepsIn is how many steps of an axis have room for their figures, at most so many
// and at least 2, which a scale on both sides of 0 needs.
func stepsIn(heightU, sizeU float64, most int) int {
	return max(2, min(most, int(heightU/(1.5*sizeU))))
}

func takenTitle(taken string) string { return "What " + taken + " takes, %" }

func (c *chart) dayScale(p plot, a axis, title string, left float64) {
	c.scaleY(p, a, "")
	c.text("axis", "start", xy{0, p.top - 0.75*c.Frame.TextU}, c.Frame.TextU, title)
}

func (c *chart) dayLight(p plot, a axis, d dayInput, from, to int, x func(int) float64) {
	area := []xy{{x(from), p.bottom}}
	for i := from; i <= to; i++ {
		area = append(area, xy{x(i), a.at(valueAt(d.POAWM2, i), p.bottom, p.top)})
	}
	c.Shapes = append(c.Shapes, chartShape{Class: "light", Path: closedPath(append(area, xy{x(to), p.bottom})), Width: num(0.08 * c.Frame.TextU)})
}

// dayLine draws an option's line with its letter on it. The letters of the
// options stand at different hours, so that none hides another.
func (c *chart) dayLine(p plot, a axis, letter string, values []float64, from, to, n, all int, x func(int) float64) {
	var points []xy
	for i := from; i <= to; i++ {
		points = append(points, xy{x(i), a.at(valueAt(values, i), p.bottom, p.top)})
	}
	c.pathLine("power", letter, points)
	at := (to - from + 1) * (n + 1) / (all + 1)
	c.mark(letter, points[min(at, len(points)-1)])
}

// dayHours writes the clock and the air below the panels.
func (c *chart) dayHours(p plot, d dayInput, from, to int, x func(int) float64) {
	size := c.Frame.TextU
	slot := p.width() / float64(to-from+1)
	every := 1
	for float64(every)*slot < textWidth("00", size)+0.9*size {
		every++
	}
	for i := from; i <= to; i++ {
		if (i-from)%every != 0 || i >= len(d.Clock) {
			continue
		}
		c.text("tick", "middle", xy{x(i), p.bottom + 1.3*size}, size, strconv.Itoa(d.Clock[i]))
		c.text("tick", "middle", xy{x(i), p.bottom + 2.6*size}, size, fixed(valueAt(d.AirC, i), 0))
	}
	c.text("axis", "end", xy{p.left - 0.5*size, p.bottom + 1.3*size}, size, "h")
	c.text("axis", "end", xy{p.left - 0.5*size, p.bottom + 2.6*size}, size, "°C")
}

func dayTable(d dayInput) chartTable {
	t := chartTable{Caption: d.Title + ", hour by hour", Head: []string{"From", "Light W/m²", "Air °C"}}
	for _, s := range d.All {
		t.Head = append(t.Head, s.Letter+" cell °C", s.Letter+" W/kW", s.Letter+" "+d.Taken+" %")
	}
	from, to := d.lit()
	for i := from; i <= to && i < len(d.Clock); i++ {
		row := []string{strconv.Itoa(d.Clock[i]) + ":00", fixed(valueAt(d.POAWM2, i), 0), fixed(valueAt(d.AirC, i), 1)}
		for _, s := range d.All {
			row = append(row, fixed(valueAt(s.CellC, i), 1), fixed(valueAt(s.WPerKW, i), 0), fixed(valueAt(s.TakenPct, i), 1))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
