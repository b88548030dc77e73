package layout

import (
	"context"
	"fmt"
	"math"
	"testing"
)

// benchPack packs every region once per round and reports the time per region.
func benchPack(b *testing.B, files []corpusFile, style Style) {
	ctx := context.Background()
	modules := 0
	for b.Loop() {
		modules = 0
		for _, c := range files {
			p, err := Pack(ctx, c.region(), c.spec(), style)
			if err != nil {
				b.Fatal(err)
			}
			modules += len(p.Modules)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(len(files)), "us/plane")
	b.ReportMetric(float64(modules)/float64(len(files)), "modules/plane")
}

func BenchmarkPack(b *testing.B) {
	for _, style := range []Style{Rows, Grid, Best} {
		for _, dir := range []string{"roofs", "roofs_real"} {
			files := corpus(b, dir)
			b.Run(fmt.Sprintf("%s/%s", style, dir), func(b *testing.B) { benchPack(b, files, style) })
		}
	}
}

// The largest planes of testdata and made ones of up to 20 000 modules.
func BenchmarkPackLarge(b *testing.B) {
	var files []corpusFile
	for _, c := range corpus(b, "roofs") {
		if c.ID == "stress-flat2000-01" || c.ID == "stress-noisy-01" {
			files = append(files, c)
		}
	}
	for _, sideM := range []float64{25, 50, 100, 200} {
		files = append(files, flatRoof(sideM))
	}
	for _, style := range []Style{Rows, Grid} {
		for _, c := range files {
			b.Run(fmt.Sprintf("%s/%s", style, c.ID), func(b *testing.B) { benchPack(b, []corpusFile{c}, style) })
		}
	}
}

// flatRoof is a square turned by a little, with an eight-sided keep-out on
// every 100 m2.
func flatRoof(sideM float64) corpusFile {
	var c corpusFile
	c.ID = fmt.Sprintf("flat-%.0fm", sideM)
	c.Module.W, c.Module.H, c.Gap = 1.72, 1.13, 0.02
	sin, cos := math.Sincos(0.03)
	turned := func(x, y float64) [2]float64 { return [2]float64{x*cos - y*sin, x*sin + y*cos} }
	c.Region.Outer = [][2]float64{turned(0, 0), turned(sideM, 0), turned(sideM, sideM), turned(0, sideM)}
	for x := 5.0; x < sideM; x += 10 {
		for y := 5.0; y < sideM; y += 10 {
			var hole [][2]float64
			for k := range 8 {
				s, co := math.Sincos(float64(k) * math.Pi / 4)
				at := turned(x+math.Mod(7*x+3*y, 4), y+math.Mod(5*x+11*y, 4))
				hole = append(hole, [2]float64{at[0] + 0.6*co, at[1] + 0.6*s})
			}
			c.Region.Holes = append(c.Region.Holes, hole)
		}
	}
	return c
}

// Three candidates on five planes with three or four keep-outs each: the work
// behind one drag of a point.
func BenchmarkPackSitting(b *testing.B) {
	var files []corpusFile
	for _, c := range corpus(b, "roofs") {
		switch c.ID {
		case "roof-gable-05", "roof-gable-08", "roof-sky-02", "roof-sky-03", "roof-shade-03":
			for _, size := range [][2]float64{{1.65, 0.99}, {1.72, 1.13}, {2.09, 1.04}} {
				c.Module.W, c.Module.H = size[0], size[1]
				files = append(files, c)
			}
		}
	}
	for _, style := range []Style{Rows, Grid, Best} {
		b.Run(string(style), func(b *testing.B) { benchPack(b, files, style) })
	}
}
