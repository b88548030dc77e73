package web

import "strings"

// monthlyChart draws the energy of every month as upright bars, those of the
// options side by side. Lists may be shorter than a year; what is missing is 0.
func monthlyChart(f chartFrame, all []chartSeries) chart {
	c := newChart(f, "Energy of each month")
	c.Table = monthlyTable(all)
	if len(all) == 0 {
		c.Empty = "There is no yield to draw yet."
		return c
	}
	size := f.TextU
	lists := make([][]float64, len(all))
	for i, s := range all {
		lists[i] = s.Values
	}
	most := mostOf(lists...)
	unit, by := energyUnit(most)
	a := newAxis(0, most/by, 4)
	p := plot{left: a.widthU(size) + 0.7*size, top: 2.9 * size, right: f.WidthU - 0.3*size, bottom: f.HeightU - 1.7*size}
	c.scaleY(p, a, unit+" a month")
	slot := p.width() / 12
	group := slot * 0.8
	bar := group / float64(len(all))
	months := monthTexts(slot, size)
	tall := tallestIndex(all, 12)
	for m := range 12 {
		x0 := p.left + slot*float64(m) + (slot-group)/2
		c.text("tick", "middle", xy{x0 + group/2, p.bottom + 1.25*size}, size, months[m])
		for i, s := range all {
			v := valueAt(s.Values, m)
			y := a.at(v/by, p.bottom, p.top)
			if path := block(x0+bar*float64(i), min(y, p.bottom), bar*0.94, max(y-p.bottom, p.bottom-y)); path != "" {
				c.fill(s.Letter)
				c.Shapes = append(c.Shapes, chartShape{Class: "bar", Letter: s.Letter, Path: path, Filled: true, Width: num(0.06 * size)})
			}
			at := xy{x0 + bar*(float64(i)+0.47), y - 0.4*size}
			switch text := energyText(v); {
			case len(all) == 1 && textWidth(text, 0.9*size) <= slot:
				c.text("value", "middle", at, 0.9*size, text)
			case len(all) > 1 && m == tall && bar >= 0.72*size:
				c.text("letter", "middle", at, size, s.Letter)
			}
		}
	}
	c.Key = keyOf(all)
	c.Words = "Upright bars, one for each month" + eachOption(all) + ". " + yearWords(all) + " All numbers are in the table behind the chart."
	return c
}

// eachOption is " and option" where options are compared.
func eachOption(all []chartSeries) string {
	if len(all) < 2 {
		return ""
	}
	return " and option"
}

// yearWords are the options' years in a sentence.
func yearWords(all []chartSeries) string {
	var parts []string
	for _, s := range all {
		parts = append(parts, optionWord(s.Letter)+" makes "+energyText(sumOf(s.Values))+" kWh in the year")
	}
	return strings.Join(parts, "; ") + "."
}

func sumOf(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += finite(v)
	}
	return sum
}

func monthlyTable(all []chartSeries) chartTable {
	t := chartTable{Caption: "Energy of each month, kWh AC", Head: append(append([]string{"Option"}, monthNames()...), "Year")}
	for _, s := range all {
		row := []string{s.Letter}
		for m := range 12 {
			row = append(row, energyText(valueAt(s.Values, m)))
		}
		t.Rows = append(t.Rows, append(row, energyText(sumOf(s.Values))))
	}
	return t
}
