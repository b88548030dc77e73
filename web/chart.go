package web

import "math"

// chartFrame is what a chart is drawn into. Lengths are in drawing units: CSS
// pixels at full size on the screen, millimetres on paper.
type chartFrame struct {
	// ID prefixes the ids of patterns and titles; unique on its page.
	ID string
	// WidthU and HeightU are the whole drawing's, TextU the height of its text.
	WidthU, HeightU, TextU float64
	// Paper gives the drawing its size in millimetres, so that it prints true.
	Paper bool
}

// chart is a drawing of numbers in plain values with the table behind it. Its
// colours come from chart.css; what tells the options apart in grey (patterns,
// dashes, letters) is in the drawing itself.
type chart struct {
	Frame chartFrame
	// Title names the chart; Words says what it shows to who cannot see it.
	Title, Words string
	Grid         []chartLine
	Shapes       []chartShape
	Marks        []letterMark
	Texts        []chartText
	// Fills are the letters whose patterns the drawing uses.
	Fills []string
	// Key names the options, empty where there is but one.
	Key   []chartKey
	Table chartTable
	// Open shows the table without being asked.
	Open bool
	// Empty says why there is nothing to draw, "" if there is.
	Empty string
}

// chartLine is a straight line of the scales: Class "grid", "base" or "tick".
type chartLine struct{ Class, X1, Y1, X2, Y2 string }

// chartShape is a path in the form of an option.
type chartShape struct {
	Class, Letter, Path string
	// Filled paints it with the letter's pattern.
	Filled bool
	Width  string
	Dash   string
}

// letterMark is a letter in a ring on a line.
type letterMark struct{ Letter, X, Y, R, TextY, Size string }

// chartText is one text; Anchor is "start", "middle" or "end".
type chartText struct{ Class, Anchor, X, Y, Size, Text string }

// chartKey names an option beside its pattern.
type chartKey struct{ Letter, Name string }

// chartTable is the numbers behind a chart: the first column names the row.
type chartTable struct {
	Caption string
	Head    []string
	Rows    [][]string
}

// chartSeries is one option's values.
type chartSeries struct {
	Letter, Name string
	Values       []float64
}

// plot is the place of a chart's data, y down.
type plot struct{ left, top, right, bottom float64 }

func (p plot) width() float64 { return p.right - p.left }

func newChart(f chartFrame, title string) chart {
	return chart{Frame: f, Title: title}
}

func (c *chart) text(class, anchor string, at xy, sizeU float64, text string) {
	c.Texts = append(c.Texts, chartText{class, anchor, num(at.x), num(at.y), num(sizeU), text})
}

func (c *chart) line(class string, a, b xy) {
	c.Grid = append(c.Grid, chartLine{class, num(a.x), num(a.y), num(b.x), num(b.y)})
}

// scaleY draws the lines of an upright axis across a plot with their figures at
// its left, and what they count above them.
func (c *chart) scaleY(p plot, a axis, title string) {
	size := c.Frame.TextU
	for _, v := range a.ticks() {
		y, class := a.at(v, p.bottom, p.top), "grid"
		if v == 0 {
			class = "base"
		}
		c.line(class, xy{p.left, y}, xy{p.right, y})
		c.text("tick", "end", xy{p.left - 0.5*size, y + 0.35*size}, size, a.text(v))
	}
	if title != "" {
		c.text("axis", "start", xy{p.left - a.widthU(size) - 0.5*size, p.top - 0.8*size}, size, title)
	}
}

// widthU is the room that an axis needs for its figures.
func (a axis) widthU(sizeU float64) float64 {
	widest := 0.0
	for _, v := range a.ticks() {
		widest = max(widest, textWidth(a.text(v), sizeU))
	}
	return widest
}

// mark puts a letter in a ring.
func (c *chart) mark(letter string, at xy) {
	r := 0.72 * c.Frame.TextU
	c.Marks = append(c.Marks, letterMark{letter, num(at.x), num(at.y), num(r), num(at.y + 0.33*c.Frame.TextU), num(0.92 * c.Frame.TextU)})
}

// pathLine is a broken line in an option's form.
func (c *chart) pathLine(class, letter string, points []xy) {
	width, dash := optionForm(letter, c.Frame.TextU)
	if class == "promised" {
		width, dash = num(0.11*c.Frame.TextU), num(0.45*c.Frame.TextU)+" "+num(0.3*c.Frame.TextU)
	}
	c.Shapes = append(c.Shapes, chartShape{Class: class, Letter: letter, Path: openPath(points...), Width: width, Dash: dash})
}

// optionForm is what tells an option's line in grey: its dashes and its width.
func optionForm(letter string, textU float64) (width, dash string) {
	w := func(k float64) string { return num(k * textU) }
	switch letter {
	case "B":
		return w(0.17), w(0.75) + " " + w(0.35)
	case "C":
		return w(0.2), w(0.2) + " " + w(0.3)
	case "D":
		return w(0.15), w(0.9) + " " + w(0.3) + " " + w(0.2) + " " + w(0.3)
	case "E":
		return w(0.19), w(1.5) + " " + w(0.9)
	}
	return w(0.17), ""
}

// block is a rectangle as a path; a flat one is left out.
func block(x, y, w, h float64) string {
	if !(w > 0 && h > 0) {
		return ""
	}
	return "M" + num(x) + " " + num(y) + "h" + num(w) + "v" + num(h) + "h" + num(-w) + "Z"
}

// fill adds a letter to the patterns in use.
func (c *chart) fill(letter string) {
	for _, l := range c.Fills {
		if l == letter {
			return
		}
	}
	c.Fills = append(c.Fills, letter)
}

// keyOf names the options where there is more than one.
func keyOf(all []chartSeries) []chartKey {
	if len(all) < 2 {
		return nil
	}
	var out []chartKey
	for _, s := range all {
		out = append(out, chartKey{s.Letter, s.Name})
	}
	return out
}

func monthNames() []string {
	return []string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}
}

// monthTexts are the months' names as wide as a slot allows.
func monthTexts(slotU, sizeU float64) []string {
	out := monthNames()
	if textWidth("May", sizeU) <= slotU {
		return out
	}
	for i, m := range out {
		out[i] = m[:1]
	}
	return out
}

// tallestIndex is the place of the greatest sum over all series.
func tallestIndex(all []chartSeries, n int) int {
	best, most := 0, math.Inf(-1)
	for i := range n {
		sum := 0.0
		for _, s := range all {
			if i < len(s.Values) {
				sum += finite(s.Values[i])
			}
		}
		if sum > most {
			best, most = i, sum
		}
	}
	return best
}

func valueAt(v []float64, i int) float64 {
	if i < len(v) {
		return finite(v[i])
	}
	return 0
}

func (f chartFrame) viewBox() string { return "0 0 " + num(f.WidthU) + " " + num(f.HeightU) }

func (f chartFrame) patternID(letter string) string { return f.ID + "-fill-" + letter }

// onPaper is the frame's size on paper, "" on a screen.
func (f chartFrame) onPaper(v float64) string {
	if !f.Paper {
		return ""
	}
	return num(v) + "mm"
}

func optionWord(letter string) string { return "Option " + letter }
