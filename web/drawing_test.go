package web

import (
	"context"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rooftally/project"
)

func printStyle(imperial bool) drawingStyle {
	return drawingStyle{ID: "plan", WidthU: 170, MaxHeightU: 172, UnitU: 1, Paper: "A4", Imperial: imperial,
		North: true, Bar: true, Dimensions: true, Numbers: true, KeepOutKeys: true}
}

func TestChooseScale(t *testing.T) {
	for _, c := range []struct {
		name         string
		xM, yM       float64
		wMM, hMM     float64
		imperial     bool
		denom        float64
		text         string
		longestOnMap float64 // mm of the longer side at that scale
	}{
		{"10 m house", 10, 8, 146, 140, false, 75, "1:75", 133.33},
		{"exact fit stays", 15, 10, 150, 150, false, 100, "1:100", 150},
		{"a hair too long", 15.001, 10, 150, 150, false, 125, "1:125", 120.008},
		{"height decides", 1, 21, 150, 100, false, 250, "1:250", 84},
		{"shed", 2, 2, 150, 150, false, 20, "1:20", 100},
		{"site of 2 km", 2000, 10, 150, 150, false, 20000, "1:20000", 100},
		{"whole coordinate range", 10000, 10000, 146, 140, false, 100000, "1:100000", 100},
		{"feet", 10, 8, 151, 140, true, 96, "1/8 in = 1 ft (1:96)", 104.17},
		{"feet, whole range", 10000, 10000, 151, 130, true, 120000, "1 in = 10000 ft (1:120000)", 83.33},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := chooseScale(c.xM, c.yM, c.wMM, c.hMM, c.imperial)
			if got.Denom != c.denom || got.Text != c.text {
				t.Errorf("scale %+v, want %v %q", got, c.denom, c.text)
			}
			if mm := math.Max(c.xM, c.yM) * 1000 / got.Denom; math.Abs(mm-c.longestOnMap) > 0.01 {
				t.Errorf("longest side %.3f mm, want %.3f", mm, c.longestOnMap)
			}
		})
	}
}

// The scales in inches to the foot say their own ratio.
func TestImperialScaleTexts(t *testing.T) {
	for _, s := range printScales(true) {
		if !strings.Contains(s.Text, "(1:"+strconv.Itoa(int(s.Denom))+")") {
			t.Errorf("scale 1:%v is called %q", s.Denom, s.Text)
		}
		left, right, _ := strings.Cut(strings.Split(s.Text, " (")[0], " = ")
		inches, feet := strings.TrimSuffix(left, " in"), strings.TrimSuffix(right, " ft")
		over := 1.0
		if top, bottom, found := strings.Cut(inches, "/"); found {
			inches = top
			over = mustFloat(t, bottom)
		}
		if got := mustFloat(t, feet) * 12 * over / mustFloat(t, inches); got != s.Denom {
			t.Errorf("%q is 1:%v", s.Text, got)
		}
	}
}

func mustFloat(t interface{ Fatal(...any) }, s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// On paper a metre is drawn 1000/n millimetres long and the drawing carries
// its size in millimetres.
func TestDrawingIsToScale(t *testing.T) {
	doc := gableDoc()
	s := newSheet(doc, printStyle(false))
	a, b := s.at([2]float64{0, 0}), s.at([2]float64{10, 8})
	if got := b.x - a.x; math.Abs(got-10000.0/75) > 1e-9 {
		t.Errorf("10 m are drawn %.4f mm wide, want %.4f", got, 10000.0/75)
	}
	if got := a.y - b.y; math.Abs(got-8000.0/75) > 1e-9 {
		t.Errorf("8 m are drawn %.4f mm high, north up, want %.4f", got, 8000.0/75)
	}
	d := newDrawing(doc, cannedResult(t, doc), "A", nil, printStyle(false))
	if d.WidthMM != "170mm" || !strings.HasPrefix(d.ViewBox, "0 0 170 ") || d.ScaleText != "1:75 on A4" {
		t.Errorf("width %s, view box %s, scale %s", d.WidthMM, d.ViewBox, d.ScaleText)
	}
	if d.HeightMM != strings.Fields(d.ViewBox)[3]+"mm" {
		t.Errorf("height %s does not fit the view box %s", d.HeightMM, d.ViewBox)
	}
}

func TestDrawingGolden(t *testing.T) {
	doc := gableDoc()
	res := cannedResult(t, doc)
	golden(t, "drawing_print.svg", drawingView(newDrawing(doc, res, "B", &res.Candidates[1].Fill, printStyle(false))))
	golden(t, "drawing_thumb.svg", drawingThumb(doc, res))
	bare := project.New("nothing drawn")
	golden(t, "drawing_thumb_empty.svg", drawingThumb(bare, project.Result{}))
}

// labelBox is where a label of a drawing stands.
func labelBox(t interface{ Fatal(...any) }, l drawnLabel) []xy {
	size := mustFloat(t, l.Size)
	c, turn := xy{mustFloat(t, l.X), mustFloat(t, l.Y) - 0.35*size}, 0.0
	if rest, found := strings.CutPrefix(l.Transform, "rotate("); found {
		turn = mustFloat(t, strings.Fields(rest)[0]) * math.Pi / 180
	}
	// A hundredth less than was asked for, for the rounding of coordinates.
	return box(c, textWidth(l.Text, size)-0.02, size*0.8-0.02, turn)
}

// Labels overlap neither each other nor an edge of a plane or keep-out.
func TestLabelsKeepApart(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		doc := gableDoc()
		doc.Planes = nil
		n := rapid.IntRange(1, 6).Draw(rt, "planes")
		for i := range n {
			x := float64(i%3) * rapid.Float64Range(3, 14).Draw(rt, "step")
			w, h := rapid.Float64Range(0.5, 12).Draw(rt, "w"), rapid.Float64Range(0.5, 8).Draw(rt, "h")
			y := float64(i/3) * 5
			doc.Planes = append(doc.Planes, fixturePlane("p"+strconv.Itoa(i), "", float64(rapid.IntRange(0, 359).Draw(rt, "azimuth")), 30,
				[2]float64{x, y}, [2]float64{x + w, y}, [2]float64{x + w, y + h}, [2]float64{x, y + h}))
		}
		res := cannedResult(t, doc)
		style := printStyle(rapid.Bool().Draw(rt, "imperial"))
		d := newDrawing(doc, res, "A", &res.Candidates[0].Fill, style)
		s := newSheet(doc, style)
		lines := newRoom(style.UnitU)
		for _, ring := range planRings(doc) {
			lines.addRing(lineMark, s.ring(ring))
		}
		for _, k := range res.KeepOuts {
			lines.addRing(lineMark, s.ring(k.Footprint))
		}
		var boxes [][]xy
		for _, l := range d.Labels {
			q := labelBox(rt, l)
			if !lines.free(q) {
				rt.Fatalf("label %q crosses a line", l.Text)
			}
			boxes = append(boxes, q)
		}
		for _, k := range d.Keys {
			r := 2 * mustFloat(rt, k.R)
			boxes = append(boxes, box(xy{mustFloat(rt, k.X), mustFloat(rt, k.Y)}, r, r, 0))
			if k.PitchText != nil {
				boxes = append(boxes, labelBox(rt, *k.PitchText))
			}
		}
		for i := range boxes {
			for j := range i {
				if shapesTouch(boxes[i], boxes[j]) {
					rt.Fatalf("marks %d and %d overlap", i, j)
				}
			}
		}
	})
}

func TestNumbersAllOrNone(t *testing.T) {
	for _, c := range []struct {
		name   string
		doc    project.Document
		hidden bool
	}{
		{"small roof", gableDoc(), false},
		{"a thousand modules", manyDoc(8, 16, 16), true},
	} {
		t.Run(c.name, func(t *testing.T) {
			res := cannedResult(t, c.doc)
			fill := res.Candidates[0].Fill
			d := newDrawing(c.doc, res, "A", &fill, printStyle(false))
			numbers := 0
			for _, l := range d.Labels {
				if l.Class == "number" {
					numbers++
					if size := mustFloat(t, l.Size); size < numberMinU {
						t.Errorf("number %s is %v mm high", l.Text, size)
					}
				}
			}
			if numbers+d.NumbersHidden != fill.Count {
				t.Errorf("%d numbers and %d hidden of %d modules", numbers, d.NumbersHidden, fill.Count)
			}
			if c.hidden != (numbers == 0) {
				t.Errorf("%d numbers at %s", numbers, d.ScaleText)
			}
		})
	}
}

// Every drawing is well-formed XML and free of NaN, whatever the document.
func TestDrawingsAreWellFormed(t *testing.T) {
	sliver := gableDoc()
	sliver.Planes = []project.Plane{fixturePlane("p", "", 180, 0, [2]float64{0, 0}, [2]float64{0.01, 0}, [2]float64{0, 0.01})}
	far := gableDoc()
	for i := range far.Planes[0].Ring {
		far.Planes[0].Ring[i].XM += 4000
	}
	bare := gableDoc()
	bare.Planes = nil
	unknown := gableDoc()
	for _, c := range []struct {
		name string
		doc  project.Document
		res  project.Result
	}{
		{"gable", gableDoc(), cannedResult(t, gableDoc())},
		{"sliver", sliver, cannedResult(t, sliver)},
		{"far apart", far, cannedResult(t, far)},
		{"no planes", bare, project.Result{}},
		{"no result", unknown, project.Result{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			layout := &project.LayoutResult{}
			if len(c.res.Candidates) > 0 {
				layout = &c.res.Candidates[0].Fill
			}
			var b strings.Builder
			if err := drawingView(newDrawing(c.doc, c.res, "E", layout, printStyle(true))).Render(context.Background(), &b); err != nil {
				t.Fatal(err)
			}
			if strings.Contains(b.String(), "NaN") || strings.Contains(b.String(), "Inf") {
				t.Error("a coordinate is not a number")
			}
			for dec := xml.NewDecoder(strings.NewReader(b.String())); ; {
				if _, err := dec.Token(); errors.Is(err, io.EOF) {
					break
				} else if err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}

// An edge that two planes share is drawn once, so that its dashes stay dashes.
func TestSharedEdgeDrawnOnce(t *testing.T) {
	doc := gableDoc()
	d := newDrawing(doc, cannedResult(t, doc), "A", nil, printStyle(false))
	for _, l := range d.Lines {
		if l.Kind == "ridge" && strings.Count(l.Path, "M") != 1 {
			t.Errorf("the ridge is drawn as %s", l.Path)
		}
		if l.Kind == "eave" && strings.Count(l.Path, "M") != 4 {
			t.Errorf("two eaves, drawn double, are %s", l.Path)
		}
	}
}

func TestShapesTouch(t *testing.T) {
	square := box(xy{0, 0}, 2, 2, 0)
	for _, c := range []struct {
		name string
		q    []xy
		want bool
	}{
		{"inside", box(xy{0, 0}, 0.5, 0.5, 1), true},
		{"apart", box(xy{3, 0}, 1, 1, 0), false},
		{"touching", box(xy{2, 0}, 2, 2, 0), true},
		{"corner past a turned side", box(xy{1.8, 1.8}, 2, 2, math.Pi/4), false},
		{"line through", []xy{{-5, 0.3}, {5, 0.3}}, true},
		{"line short of it", []xy{{1.5, 0}, {5, 0}}, false},
		{"line past the corner", []xy{{0, 2.1}, {2.1, 0}}, false},
	} {
		if got := shapesTouch(square, c.q); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		if got := shapesTouch(c.q, square); got != c.want {
			t.Errorf("%s, swapped: %v, want %v", c.name, got, c.want)
		}
	}
}

// A hundred planes and ten thousand modules are within the document's limits.
func BenchmarkDrawingLarge(b *testing.B) {
	doc := manyDoc(100, 12, 12)
	res := cannedResult(b, doc)
	for b.Loop() {
		newDrawing(doc, res, "A", &res.Candidates[0].Fill, printStyle(false))
	}
	b.ReportMetric(float64(res.Candidates[0].Fill.Count), "modules")
}
