package layout

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"
)

// benchPack packs every region once per round and reports the processor time per
// region.
func benchPack(b *testing.B, files []corpusFile, style Style) {
	ctx := context.Background()
	modules, start := 0, cpuTime()
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
	b.ReportMetric(1000*inMs(cpuTime()-start)/float64(b.N)/float64(len(files)), "cpu-us/plane")
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

// The largest planes of testdata; larger ones are in BenchmarkGrowth.
func BenchmarkPackLarge(b *testing.B) {
	for _, style := range []Style{Rows, Grid} {
		for _, c := range corpus(b, "roofs") {
			if c.ID == "stress-flat2000-01" || c.ID == "stress-noisy-01" {
				b.Run(fmt.Sprintf("%s/%s", style, c.ID), func(b *testing.B) { benchPack(b, []corpusFile{c}, style) })
			}
		}
	}
}

// median is the middle one of times, which other work on the machine moves less than
// their mean.
func median(times []time.Duration) time.Duration {
	slices.Sort(times)
	return times[len(times)/2]
}

func inMs(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

// dragHouse is an invented house: the two faces of a hipped main roof, those of a
// wing, and a lean-to, with eight keep-outs in all; about 60 modules of a candidate.
func dragHouse() []Region {
	return []Region{
		{
			Outer: Ring{{0, 0}, {11.2, 0}, {8.2, 5.3}, {3, 5.3}},
			Holes: []Ring{octagon(SlopePt{3.6, 3.2}, 0.35), rectRing(6.4, 2.3, 7.3, 3.6)},
		},
		{
			Outer: Ring{{0, 0}, {11.2, 0}, {8.4, 5.3}, {3.2, 5.3}},
			Holes: []Ring{rectRing(4.6, 2.7, 5.5, 4), octagon(SlopePt{7.9, 1.4}, 0.3)},
		},
		{
			Outer: Ring{{0, 0}, {6.9, 0}, {4.3, 4.4}, {0, 4.4}},
			Holes: []Ring{octagon(SlopePt{1.1, 3.6}, 0.25), rectRing(3.2, 1.8, 4, 2.4)},
		},
		{
			Outer: Ring{{0, 0}, {6.6, 0}, {6.6, 4.4}, {2.5, 4.4}},
			Holes: []Ring{turnedBy(0.1, rectRing(4.9, 0.4, 5.6, 1.1))},
		},
		{
			Outer: Ring{{0, 0}, {5.3, 0}, {5.3, 2}, {3.6, 2}, {3.6, 3}, {0, 3}},
			Holes: []Ring{octagon(SlopePt{0.7, 2.4}, 0.3)},
		},
	}
}

// BenchmarkDrag is what follows a finger: three candidates on the five planes of
// dragHouse, fifteen packings, one after the other. It reports the median time of
// all fifteen by the clock, and their processor time.
func BenchmarkDrag(b *testing.B) {
	house := dragHouse()
	candidates := [][2]float64{{1.65, 0.99}, {1.72, 1.13}, {1.76, 1.05}}
	for _, style := range []Style{Rows, Best} {
		b.Run(string(style), func(b *testing.B) {
			b.ReportAllocs()
			count, cpu := 0, cpuTime()
			var times []time.Duration
			for b.Loop() {
				start := time.Now()
				count = 0
				for _, c := range candidates {
					s := Spec{WidthM: c[0], HeightM: c[1], GapUM: 0.02, GapVM: 0.02}
					for _, r := range house {
						p, err := PackWithin(context.Background(), r, s, style, Drag)
						if err != nil {
							b.Fatal(err)
						}
						count += len(p.Modules)
					}
				}
				times = append(times, time.Since(start))
			}
			b.ReportMetric(inMs(median(times)), "ms/median")
			b.ReportMetric(inMs(cpuTime()-cpu)/float64(b.N), "cpu-ms/op")
			b.ReportMetric(float64(count)/float64(len(candidates)), "modules/candidate")
		})
	}
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
