package web

import (
	"math"
	"strconv"
)

// yearsSeries is one option's energy over the years, year 1 first: as expected,
// and with the power that the maker guarantees, nil where nothing is.
type yearsSeries struct {
	Letter, Name       string
	Expected, Promised []float64
}

// markedYear is the year whose energy is written beside the lines.
const markedYear = 25

// panelGap and panelLeast are the distance between panels and their least
// width, in heights of the text.
const (
	panelGap   = 1.4
	panelLeast = 9.5
)

// yearsChart draws a panel for each option, all to one scale: the expected
// energy of every year over the one with the guaranteed power.
func yearsChart(f chartFrame, all []yearsSeries) chart {
	c := newChart(f, "Energy of each year, expected and guaranteed")
	c.Table = yearsTable(all)
	lists, years := [][]float64{}, 0
	for _, s := range all {
		lists = append(lists, s.Expected, s.Promised)
		years = max(years, len(s.Expected))
	}
	if years == 0 {
		c.Empty = "There is no yield to draw yet."
		return c
	}
	most := mostOf(lists...)
	unit, by := energyUnit(most)
	a := newAxis(0, most/by, 4)
	size := f.TextU
	left := a.widthU(size) + 0.7*size
	columns := max(1, min(len(all), int((f.WidthU-left+panelGap*size)/((panelLeast+panelGap)*size))))
	rows := (len(all) + columns - 1) / columns
	high := (f.HeightU - 1.4*size) / float64(rows)
	wide := (f.WidthU - left - 0.3*size - panelGap*size*float64(columns-1)) / float64(columns)
	for i, s := range all {
		x, y := left+float64(i%columns)*(wide+panelGap*size), 1.4*size+float64(i/columns)*high
		p := plot{left: x, top: y + 1.6*size, right: x + wide, bottom: y + high - 1.8*size}
		c.yearsPanel(p, a, by, s, years, yearsPanelOptions{figures: i%columns == 0, letter: len(all) > 1, words: wide >= 15*size})
	}
	c.text("axis", "start", xy{0, size}, size, unit+" a year; below: years of use")
	c.Words = "A panel for each option. The solid line is the expected energy of each year, the dashed one the energy with the guaranteed power. " +
		"All numbers are in the table behind the chart."
	return c
}

type yearsPanelOptions struct{ figures, letter, words bool }

func (c *chart) yearsPanel(p plot, a axis, by float64, s yearsSeries, years int, o yearsPanelOptions) {
	size := c.Frame.TextU
	for _, v := range a.ticks() {
		y, class := a.at(v, p.bottom, p.top), "grid"
		if v == 0 {
			class = "base"
		}
		c.line(class, xy{p.left, y}, xy{p.right, y})
		if o.figures {
			c.text("tick", "end", xy{p.left - 0.5*size, y + 0.35*size}, size, a.text(v))
		}
	}
	x := func(year int) float64 {
		return p.left + (float64(year)-0.5)/float64(years)*p.width()
	}
	at := func(list []float64, year int) xy {
		return xy{x(year), a.at(valueAt(list, year-1)/by, p.bottom, p.top)}
	}
	for _, year := range yearTicks(years) {
		c.line("tick", xy{x(year), p.bottom}, xy{x(year), p.bottom + 0.3*size})
		c.text("tick", "middle", xy{x(year), p.bottom + 1.3*size}, size, strconv.Itoa(year))
	}
	if o.letter {
		c.mark(s.Letter, xy{p.left + 0.75*size, p.top - 0.75*size})
		c.text("value", "start", xy{p.left + 1.8*size, p.top - 0.45*size}, size, fitText(s.Name, p.width()-1.8*size, size))
	}
	if len(s.Expected) == 0 {
		c.text("value", "middle", xy{(p.left + p.right) / 2, (p.top + p.bottom) / 2}, size, "not known")
		return
	}
	area := []xy{{x(1), p.bottom}}
	for year := range s.Expected {
		area = append(area, at(s.Expected, year+1))
	}
	last := xy{x(len(s.Expected)), p.bottom}
	c.Shapes = append(c.Shapes, chartShape{Class: "area", Letter: s.Letter, Path: closedPath(append(area, last))})
	c.Shapes = append(c.Shapes, chartShape{Class: "expected", Letter: s.Letter, Path: openPath(area[1 : len(s.Expected)+1]...), Width: num(0.17 * size)})
	c.yearsLabels(p, at, s, o.words)
}

// yearsLabels writes the first and the marked year beside the lines.
func (c *chart) yearsLabels(p plot, at func([]float64, int) xy, s yearsSeries, words bool) {
	size := c.Frame.TextU
	year := min(markedYear, len(s.Expected))
	lowest := at(s.Expected, year).y
	if len(s.Promised) > 0 {
		var line []xy
		for n := range s.Promised {
			line = append(line, at(s.Promised, n+1))
			lowest = max(lowest, line[n].y)
		}
		c.pathLine("promised", s.Letter, line)
	}
	label := func(on xy, y float64, text string) {
		w := textWidth(text, size)
		c.text("value", "middle", xy{math.Min(math.Max(on.x, p.left+w/2), p.right-w/2), y}, size, text)
	}
	first := at(s.Expected, 1)
	if year < 2 {
		label(first, first.y-0.5*size, energyText(s.Expected[0]))
		return
	}
	prefix := func(word string) string {
		if words {
			return word + " "
		}
		return ""
	}
	// The lines lie high: their figures stand below both.
	below := min(lowest+1.4*size, p.bottom-2.2*size)
	label(at(s.Expected, year), below, prefix("expected")+energyText(s.Expected[year-1]))
	if len(s.Promised) >= year {
		label(at(s.Expected, year), below+1.25*size, prefix("guaranteed")+energyText(s.Promised[year-1]))
	}
	if p.width() > 12*size {
		label(first, below, energyText(s.Expected[0]))
	}
	c.line("tick", xy{at(s.Expected, year).x, lowest + 0.2*size}, xy{at(s.Expected, year).x, below - 0.85*size})
}

// yearTicks are the years written below a panel.
func yearTicks(years int) []int {
	out := []int{1}
	for y := 5; y <= years; y += 5 {
		if years <= 10 || y%10 == 0 || y == markedYear {
			out = append(out, y)
		}
	}
	if n := len(out); years > markedYear && years < markedYear+6 && n > 3 && out[n-1] == 30 {
		return append(out[:1], 10, markedYear)
	}
	return out
}

// fitText cuts a text to the room there is.
func fitText(text string, roomU, sizeU float64) string {
	return clipText(text, max(1, int(roomU/(advanceEm*sizeU))))
}

func yearsTable(all []yearsSeries) chartTable {
	t := chartTable{Caption: "Energy of each year, kWh AC", Head: []string{"Year"}}
	years := 0
	for _, s := range all {
		t.Head = append(t.Head, s.Letter+" expected", s.Letter+" guaranteed")
		years = max(years, len(s.Expected))
	}
	for n := range years {
		row := []string{strconv.Itoa(n + 1)}
		for _, s := range all {
			row = append(row, knownEnergy(s.Expected, n), knownEnergy(s.Promised, n))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// knownEnergy is a dash where a list does not reach.
func knownEnergy(list []float64, i int) string {
	if i >= len(list) {
		return "–"
	}
	return energyText(list[i])
}
