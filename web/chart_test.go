package web

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestAxis(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		steps  int
		want   axis
		texts  string
	}{
		{0, 993, 4, axis{0, 1000, 250}, "0 250 500 750 1\u202f000"},
		{0, 1000, 4, axis{0, 1000, 250}, "0 250 500 750 1\u202f000"},
		{0, 8600, 4, axis{0, 10000, 2500}, "0 2\u202f500 5\u202f000 7\u202f500 10\u202f000"},
		{0, 0.013, 3, axis{0, 0.015, 0.005}, "0.000 0.005 0.010 0.015"},
		{-1.5, 11, 5, axis{-5, 15, 5}, "-5 0 5 10 15"},
		{-3, -1, 3, axis{-3, 0, 1}, "-3 -2 -1 0"},
		{0, 0, 4, axis{0, 1, 1}, "0 1"},
		{math.NaN(), math.Inf(1), 4, axis{0, 1, 1}, "0 1"},
		{0, math.SmallestNonzeroFloat64, 4, axis{0, 1, 1}, "0 1"},
		{-1, 1, 1, axis{-1, 1, 1}, "-1 0 1"},
		{0, 3, 0, axis{0, 5, 5}, "0 5"},
	} {
		a := newAxis(c.lo, c.hi, c.steps)
		if math.Abs(a.Lo-c.want.Lo) > 1e-9 || math.Abs(a.Hi-c.want.Hi) > 1e-9 || math.Abs(a.Step-c.want.Step) > 1e-9 {
			t.Errorf("%g to %g in %d steps: %+v, want %+v", c.lo, c.hi, c.steps, a, c.want)
		}
		var texts []string
		for _, v := range a.ticks() {
			texts = append(texts, a.text(v))
		}
		if got := strings.Join(texts, " "); got != c.texts {
			t.Errorf("%g to %g: ticks %q, want %q", c.lo, c.hi, got, c.texts)
		}
	}
}

// An axis holds its values and 0 in at most the steps asked for, and each step is
// 1, 2, 2.5 or 5 times a power of ten.
func TestAxisHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scale := math.Pow(10, float64(rapid.IntRange(-9, 15).Draw(t, "power")))
		hi := rapid.Float64Range(0, 1).Draw(t, "hi") * scale
		lo := -rapid.Float64Range(0, 1).Draw(t, "lo") * scale * float64(rapid.IntRange(0, 1).Draw(t, "below"))
		steps := rapid.IntRange(1, 8).Draw(t, "steps")
		a := newAxis(lo, hi, steps)
		if lo < 0 {
			steps = max(steps, 2)
		}
		slack := 1e-6 * a.Step
		if a.Lo > lo+slack || a.Hi < hi-slack || a.Lo > 0 || a.Hi < 0 {
			t.Fatalf("%+v does not hold %g to %g", a, lo, hi)
		}
		if n := len(a.ticks()) - 1; n < 1 || n > steps {
			t.Fatalf("%d steps of %+v, want 1 to %d", n, a, steps)
		}
		digits := strings.TrimRight(strings.SplitN(strconv.FormatFloat(a.Step, 'e', 6, 64), "e", 2)[0], ".0")
		if !strings.Contains(" 1 2 2.5 5 ", " "+digits+" ") {
			t.Fatalf("step %g is not round", a.Step)
		}
	})
}

func TestEnergyText(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", 0.004: "0.00", 0.51: "0.51", 9.99: "9.99", 9.999: "10.0", 17.24: "17.2", 99.94: "99.9", 99.96: "100",
		8615.4: "8\u202f615", 242010: "242\u202f010", -12.34: "-12.3", 1e9: "1\u202f000\u202f000\u202f000",
	} {
		if got := energyText(v); got != want {
			t.Errorf("%g is %q, want %q", v, got, want)
		}
	}
}

// fixtureSeries are n options whose months differ.
func fixtureSeries(n int, scale float64) []chartSeries {
	var out []chartSeries
	for i := range n {
		s := chartSeries{Letter: string(rune('A' + i)), Name: "Invented module of sixty characters, as long as names may be"}
		for m := range 12 {
			s.Values = append(s.Values, scale*(1+float64(i)/10)*float64(100+50*m))
		}
		out = append(out, s)
	}
	return out
}

func fixtureYears(n int, scale float64, guaranteed int) []yearsSeries {
	var out []yearsSeries
	for _, s := range fixtureSeries(n, 1) {
		y := yearsSeries{Letter: s.Letter, Name: s.Name}
		for k := range 30 {
			y.Expected = append(y.Expected, scale*1000*math.Pow(0.995, float64(k)))
			if k < guaranteed {
				y.Promised = append(y.Promised, scale*1000*(1-0.006*float64(k)))
			}
		}
		out = append(out, y)
	}
	return out
}

func fixtureDay(n int, light float64) dayInput {
	d := dayInput{Taken: "heat", Title: "A hot day"}
	for h := range 24 {
		d.Clock = append(d.Clock, h)
		d.AirC = append(d.AirC, 20)
		if h < 6 || h > 18 {
			d.POAWM2 = append(d.POAWM2, 0)
		} else {
			d.POAWM2 = append(d.POAWM2, light*(1-math.Abs(float64(h)-12)/7))
		}
	}
	for _, s := range fixtureSeries(n, 1) {
		o := daySeries{Letter: s.Letter, Name: s.Name}
		for h := range 24 {
			o.WPerKW = append(o.WPerKW, d.POAWM2[h]*0.9)
			o.TakenPct = append(o.TakenPct, d.POAWM2[h]/100-1)
			o.CellC = append(o.CellC, 20+d.POAWM2[h]/30)
		}
		d.All = append(d.All, o)
	}
	return d
}

// fixtureCharts are all kinds of charts with 0, 1 and 5 options, small and large
// values, in every frame that the pages use.
func fixtureCharts() map[string]chart {
	out := map[string]chart{}
	frames := map[string]chartFrame{
		"wide": wideFrame("w", 250), "narrow": narrowFrame("n", 430), "paper": {ID: "p", WidthU: 170, HeightU: 60, TextU: paperTextMM, Paper: true},
	}
	for name, f := range frames {
		for _, n := range []int{0, 1, 2, 3, 5} {
			for _, scale := range []float64{0, 1e-6, 1, 1e6, math.NaN(), math.Inf(1)} {
				at := fmt.Sprintf(" of %d in %s by %g", n, name, scale)
				out["months"+at] = monthlyChart(f, fixtureSeries(n, scale))
				out["years"+at] = yearsChart(f, fixtureYears(n, scale, 25))
				out["day"+at] = dayChart(f, fixtureDay(n, min(scale, 1000)))
			}
		}
	}
	return out
}

var pathNumber = regexp.MustCompile(`[MLhvZ]|-?[0-9.]+`)

// pathPoints reads the corners of a path of the charts.
func pathPoints(t *testing.T, path string) []xy {
	t.Helper()
	var out []xy
	var at xy
	parts := pathNumber.FindAllString(path, -1)
	number := func(i int) float64 {
		v, err := strconv.ParseFloat(parts[i], 64)
		if err != nil {
			t.Fatalf("path %q: %v", path, err)
		}
		return v
	}
	for i := 0; i < len(parts); {
		switch parts[i] {
		case "M", "L":
			at = xy{number(i + 1), number(i + 2)}
			i += 3
		case "h":
			at.x += number(i + 1)
			i += 2
		case "v":
			at.y += number(i + 1)
			i += 2
		default:
			i++
			continue
		}
		out = append(out, at)
	}
	return out
}

// Whatever the numbers, a chart stays in its frame and writes none that is none;
// without a chart it says why.
func TestChartsStayInTheirFrame(t *testing.T) {
	for name, c := range fixtureCharts() {
		if c.Empty != "" {
			if len(c.Shapes) > 0 {
				t.Errorf("%s says %q and draws", name, c.Empty)
			}
			continue
		}
		var out bytes.Buffer
		if err := chartView(c, "x").Render(t.Context(), &out); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(out.String(), "NaN") || strings.Contains(out.String(), "Inf") {
			t.Errorf("%s has a number that is none", name)
		}
		if !strings.Contains(out.String(), `role="img"`) || !strings.Contains(out.String(), "<desc") {
			t.Errorf("%s has no words for who cannot see it", name)
		}
		inside := func(x, y float64) bool {
			return x >= -0.01 && y >= -0.01 && x <= c.Frame.WidthU+0.01 && y <= c.Frame.HeightU+0.01
		}
		for _, s := range c.Shapes {
			for _, p := range pathPoints(t, s.Path) {
				if !inside(p.x, p.y) {
					t.Errorf("%s: a %s of %s leaves the frame at %.1f, %.1f", name, s.Class, s.Letter, p.x, p.y)
					break
				}
			}
		}
		for _, l := range c.Texts {
			x, y, size := float(t, l.X), float(t, l.Y), float(t, l.Size)
			w := 0.8 * textWidth(l.Text, size) // the reckoned width is at most so much too large
			left, right := x, x+w
			switch l.Anchor {
			case "middle":
				left, right = x-w/2, x+w/2
			case "end":
				left, right = x-w, x
			}
			if !inside(max(0, left), y-0.7*size) || !inside(right-size/2, y) || left < -size {
				t.Errorf("%s: %q leaves the frame", name, l.Text)
			}
		}
	}
}

func float(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// The bars of a month are as high as their values, side by side and not over each
// other.
func TestMonthlyBars(t *testing.T) {
	all := fixtureSeries(3, 1)
	c := monthlyChart(wideFrame("m", 280), all)
	if len(c.Shapes) != 36 {
		t.Fatalf("%d bars, want 36", len(c.Shapes))
	}
	lastRight := 0.0
	perUnit := 0.0
	for i, s := range c.Shapes {
		p := pathPoints(t, s.Path)
		left, right, high := p[0].x, p[1].x, p[2].y-p[1].y
		if left < lastRight {
			t.Errorf("bar %d begins at %g, within the one before", i, left)
		}
		lastRight = right
		value := all[i%3].Values[i/3]
		if s.Letter != all[i%3].Letter {
			t.Errorf("bar %d is of %s", i, s.Letter)
		}
		if k := math.Abs(high) / value; perUnit == 0 {
			perUnit = k
		} else if math.Abs(k/perUnit-1) > 0.01 {
			t.Errorf("bar %d is %.3f high for %g, others %.5f for each kWh", i, math.Abs(high), value, perUnit)
		}
	}
	if c.Table.Rows[1][1] != "110" || c.Table.Rows[0][13] != "4\u202f500" {
		t.Errorf("table %q", c.Table.Rows)
	}
}

// The guaranteed line ends with the guarantee, and each panel has its letter.
func TestYearsPanels(t *testing.T) {
	c := yearsChart(wideFrame("y", 250), fixtureYears(5, 8, 25))
	var promised, expected int
	for _, s := range c.Shapes {
		switch s.Class {
		case "promised":
			promised++
			if n := len(pathPoints(t, s.Path)); n != 25 || s.Dash == "" {
				t.Errorf("guaranteed line of %s: %d years, dash %q", s.Letter, n, s.Dash)
			}
		case "expected":
			expected++
			if n := len(pathPoints(t, s.Path)); n != 30 || s.Dash != "" {
				t.Errorf("expected line of %s: %d years, dash %q", s.Letter, n, s.Dash)
			}
		}
	}
	if promised != 5 || expected != 5 || len(c.Marks) != 5 {
		t.Errorf("%d guaranteed, %d expected lines and %d letters, want 5 of each", promised, expected, len(c.Marks))
	}
	if got := c.Table.Rows[29]; got[0] != "30" || got[2] != "–" {
		t.Errorf("last row %q: the guarantee is over", got)
	}
	if none := yearsChart(wideFrame("y", 250), fixtureYears(1, 8, 0)); len(none.Shapes) != 2 {
		t.Errorf("%d shapes without a guarantee, want area and line", len(none.Shapes))
	}
}

// In grey, options differ by the dashes and widths of their lines and by their
// patterns, and no letter on a day's lines hides another.
func TestOptionsDifferInGrey(t *testing.T) {
	forms := map[string]string{}
	for _, l := range []string{"A", "B", "C", "D", "E"} {
		width, dash := optionForm(l, 13)
		if other, ok := forms[width+"/"+dash]; ok {
			t.Errorf("%s looks like %s", l, other)
		}
		forms[width+"/"+dash] = l
	}
	c := dayChart(wideFrame("d", 400), fixtureDay(5, 900))
	for i, a := range c.Marks {
		for _, b := range c.Marks[i+1:] {
			if math.Hypot(float(t, a.X)-float(t, b.X), float(t, a.Y)-float(t, b.Y)) < 2*float(t, a.R) {
				t.Errorf("letter %s stands on %s", b.Letter, a.Letter)
			}
		}
	}
	if dark := dayChart(wideFrame("d", 400), fixtureDay(2, 0)); dark.Empty == "" {
		t.Error("a day without light is drawn")
	}
}

func TestBarsOfShares(t *testing.T) {
	for _, c := range []struct {
		left, lost         float64
		wantLeft, wantLost string
	}{
		{1, 0, "M0 1h240v12h-240Z", ""},
		{0.75, 0.25, "M0 1h180v12h-180Z", "M180 1h60v12h-60Z"},
		{0, 0.5, "", "M0 1h120v12h-120Z"},
		{1.2, 0.5, "M0 1h240v12h-240Z", ""},
		{math.NaN(), 0, "", ""},
	} {
		b := barRow{Left: c.left, Lost: c.lost}
		if b.leftPath() != c.wantLeft || b.lostPath() != c.wantLost {
			t.Errorf("%g and %g: %q, %q", c.left, c.lost, b.leftPath(), b.lostPath())
		}
	}
}

func TestChartGolden(t *testing.T) {
	golden(t, "chart_monthly.svg", chartView(monthlyChart(wideFrame("monthly", 280), fixtureSeries(2, 1)), "graph-svg"))
	golden(t, "chart_years.svg", chartView(yearsChart(wideFrame("years", 250), fixtureYears(2, 8, 25)), "graph-svg"))
	golden(t, "chart_day.svg", chartView(dayChart(wideFrame("day", 400), fixtureDay(2, 900)), "graph-svg"))
}
