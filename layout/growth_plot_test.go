package layout

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var (
	growthFrom = flag.String("growth.from", "", "output of BenchmarkGrowth to draw")
	growthTo   = flag.String("growth.to", "", "SVG file to write the drawing to")
)

// growthSample is output of BenchmarkGrowth in short, with a second run of one
// benchmark that took longer.
const growthSample = `goos: linux
BenchmarkGrowth/rows/flat/50-2     100   9 ns/op   50.00 modules   1000 ns/module   3 B/op
BenchmarkGrowth/rows/flat/50-2     100   9 ns/op   50.00 modules   1500 ns/module   3 B/op
BenchmarkGrowth/rows/flat/20000      1   9 ns/op   20000 modules   2000 ns/module   3 B/op
BenchmarkGrowth/grid/turned/50     100   9 ns/op   40.00 modules   500.0 ns/module   3 B/op
`

// TestGrowthPlot draws the output of BenchmarkGrowth, the least of several runs:
//
//	go test ./layout -run none -bench Growth -cpu 1 -count 5 > growth.txt
//	go test ./layout -run TestGrowthPlot -args -growth.from=$PWD/growth.txt -growth.to=$PWD/docs/pictures/growth.svg
//
// Without these flags it draws a sample. The drawing must hold every point at its
// place and be made of the colours of the style sheet.
func TestGrowthPlot(t *testing.T) {
	var in io.Reader = strings.NewReader(growthSample)
	if *growthFrom != "" {
		file, err := os.Open(*growthFrom)
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		in = file
	}
	lines, err := readGrowth(in)
	if err != nil {
		t.Fatal(err)
	}
	css, err := os.ReadFile("../static/css/base.css")
	if err != nil {
		t.Fatal(err)
	}
	svg, err := drawGrowth(lines, string(css))
	if err != nil {
		t.Fatal(err)
	}
	if *growthTo != "" {
		if err := os.WriteFile(*growthTo, []byte(svg), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if *growthFrom != "" {
		return
	}
	if len(lines) != 2 || len(lines[0].points) != 2 || lines[0].points[0] != (growthPoint{50, 1000}) {
		t.Fatalf("read %+v", lines)
	}
	// 50 modules are at the left end, 20 000 at the right one, and twice the time
	// per module is as far up everywhere.
	for _, want := range []string{fmt.Sprintf("%.1f,", plotX(50)), fmt.Sprintf("%.1f,", plotX(20000)), fmt.Sprintf(",%.1f", plotY(1)), fmt.Sprintf(",%.1f", plotY(2))} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s in the drawing", want)
		}
	}
	if up := plotY(1) - plotY(2); math.Abs(up-(plotY(2)-plotY(3))) > 1e-9 || plotX(50) != plotLeft || math.Abs(plotX(20000)-plotRight) > 1e-9 {
		t.Error("the axes are not what they are said to be")
	}
}

// growthPoint is one roof's count and time per module.
type growthPoint struct{ modules, ns float64 }

type growthLine struct {
	style, shape string
	points       []growthPoint
}

var growthOutput = regexp.MustCompile(`^BenchmarkGrowth/(\w+)/(\w+)/(\d+)(?:-\d+)?\s`)

// readGrowth collects the least time of every roof, by style and shape.
func readGrowth(in io.Reader) ([]growthLine, error) {
	var lines []growthLine
	scan := bufio.NewScanner(in)
	for scan.Scan() {
		m := growthOutput.FindStringSubmatch(scan.Text())
		if m == nil {
			continue
		}
		var p growthPoint
		fields := strings.Fields(scan.Text())
		for i, unit := range fields {
			if unit != "modules" && unit != "ns/module" {
				continue
			}
			v, err := strconv.ParseFloat(fields[i-1], 64)
			if err != nil {
				return nil, fmt.Errorf("%q: %w", scan.Text(), err)
			}
			if unit == "modules" {
				p.modules = v
			} else {
				p.ns = v
			}
		}
		at := slices.IndexFunc(lines, func(l growthLine) bool { return l.style == m[1] && l.shape == m[2] })
		if at < 0 {
			at, lines = len(lines), append(lines, growthLine{style: m[1], shape: m[2]})
		}
		l := &lines[at]
		if k := slices.IndexFunc(l.points, func(o growthPoint) bool { return o.modules == p.modules }); k < 0 {
			l.points = append(l.points, p)
		} else {
			l.points[k].ns = min(l.points[k].ns, p.ns)
		}
	}
	if len(lines) == 0 {
		return nil, fmt.Errorf("no BenchmarkGrowth in the input")
	}
	return lines, scan.Err()
}

// The frame of the drawing, in its pixels, and what its axes reach to: modules are on
// a logarithmic one, the time per module beside that of the smallest roof on an even one.
const (
	plotWidth, plotHeight            = 720, 400
	plotLeft, plotRight              = 64.0, 560.0
	plotTop, plotBottom              = 24.0, 340.0
	plotLeast, plotMost, plotHighest = 50.0, 20000.0, 4.0
)

func plotX(modules float64) float64 {
	return plotLeft + (plotRight-plotLeft)*math.Log(modules/plotLeast)/math.Log(plotMost/plotLeast)
}

func plotY(ratio float64) float64 {
	return plotBottom - (plotBottom-plotTop)*min(ratio, plotHighest)/plotHighest
}

// drawGrowth draws the time per module as a multiple of that of the smallest roof. The
// colours are the tokens of the style sheet.
func drawGrowth(lines []growthLine, css string) (string, error) {
	colors := map[string]string{}
	for _, name := range []string{"paper", "ink", "ink-2", "hair", "warn", "cand-a", "cand-b", "cand-c", "cand-d"} {
		m := regexp.MustCompile(`--` + name + `:\s*(#[0-9a-f]{6})`).FindStringSubmatch(css)
		if m == nil {
			return "", fmt.Errorf("the style sheet has no colour --%s", name)
		}
		colors[name] = m[1]
	}
	var b strings.Builder
	text := func(x, y float64, color, anchor, s string) {
		fmt.Fprintf(&b, "<text x=\"%.1f\" y=\"%.1f\" fill=\"%s\" text-anchor=\"%s\">%s</text>\n", x, y, colors[color], anchor, s)
	}
	level := func(ratio float64, color, dash string) {
		fmt.Fprintf(&b, "<path d=\"M%.1f,%.1f H%.1f\" stroke=\"%s\"%s/>\n", plotLeft, plotY(ratio), plotRight, colors[color], dash)
	}
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" font-family=\"sans-serif\" font-size=\"13\" fill=\"none\" role=\"img\">\n", plotWidth, plotHeight)
	b.WriteString("<title>Time per module as the roof grows, as a multiple of the time at 50 modules</title>\n")
	fmt.Fprintf(&b, "<rect width=\"%d\" height=\"%d\" fill=\"%s\"/>\n", plotWidth, plotHeight, colors["paper"])
	for ratio := 0.0; ratio <= plotHighest; ratio++ {
		level(ratio, "hair", "")
		text(plotLeft-8, plotY(ratio)+4, "ink-2", "end", fmt.Sprintf("%.0f x", ratio))
	}
	level(3, "warn", ` stroke-dasharray="6 4"`)
	text(plotRight-4, plotY(3)-6, "warn", "end", "3 times the value at 50 modules")
	for _, n := range growthSizes {
		text(plotX(n), plotBottom+20, "ink-2", "middle", fmt.Sprintf("%.0f", n))
	}
	text((plotLeft+plotRight)/2, plotBottom+44, "ink", "middle", "modules (about)")
	for i, shape := range growthShapes {
		color := []string{"cand-a", "cand-b", "cand-c", "cand-d"}[i%4]
		for _, l := range lines {
			if l.shape == shape.name {
				drawLine(&b, l, colors[color])
			}
		}
		text(plotRight+44, plotTop+16+22*float64(i), "ink", "start", shape.name)
		fmt.Fprintf(&b, "<path d=\"M%.1f,%.1f h24\" stroke=\"%s\" stroke-width=\"3\"/>\n", plotRight+12, plotTop+12+22*float64(i), colors[color])
	}
	text(plotRight+12, plotTop+120, "ink-2", "start", "full line: rows")
	text(plotRight+12, plotTop+140, "ink-2", "start", "dashed: grid")
	b.WriteString("</svg>\n")
	return b.String(), nil
}

func drawLine(b *strings.Builder, l growthLine, color string) {
	dash := ""
	if l.style == string(Grid) {
		dash = ` stroke-dasharray="8 4"`
	}
	fmt.Fprintf(b, "<polyline stroke=\"%s\" stroke-width=\"2\"%s points=\"", color, dash)
	for i, p := range l.points {
		at := p.modules
		if len(l.points) == len(growthSizes) {
			at = growthSizes[i] // the smallest roofs hold a few less
		}
		fmt.Fprintf(b, "%.1f,%.1f ", plotX(at), plotY(p.ns/l.points[0].ns))
	}
	b.WriteString("\"/>\n")
}
