package layout

import (
	"context"
	"fmt"
	"math"
	"testing"
)

// houseSites are five planes of an invented house with some 60 places in all, a
// chimney's shade on each, laid out in rows, on a grid, in columns and from both
// ends.
func houseSites(tb testing.TB) []Site {
	tb.Helper()
	s := Spec{WidthM: 1.13, HeightM: 1.76, GapUM: 0.02, GapVM: 0.02}
	var sites []Site
	for i, outer := range []Ring{
		{{0, 0}, {11.4, 0}, {8.2, 4.2}, {3.2, 4.2}},
		{{0, 0}, {9.6, 0}, {9.6, 5.5}, {0, 5.5}},
		{{0, 0}, {7.6, 0}, {3.8, 5.6}},
		{{0, 0}, {6.9, 0}, {6.9, 3.8}, {1.4, 3.8}},
		{{0, 0}, {8.3, 0}, {8.3, 4}, {0, 4}},
	} {
		chimney := box{3 + 0.1*float64(i), 1.6, 3.6 + 0.1*float64(i), 2.3}.ring()
		alts, err := Variants(context.Background(), Region{Outer: outer, Holes: []Ring{chimney}}, s, Styles())
		if err != nil {
			tb.Fatal(err)
		}
		site := Site{Spec: s, Alternatives: alts}
		for _, a := range alts {
			values := make([]float64, len(a))
			for k, m := range a {
				values[k] = PlaceValue(DistanceFrom(m, []Ring{chimney}), i%3, false)
			}
			site.Values = append(site.Values, values)
		}
		sites = append(sites, site)
	}
	return sites
}

// planeSite is one rectangle of places without gaps, less those around one
// obstacle; a second one shades from beyond.
func planeSite(rows, columns int) Site {
	var rects []Rect
	var values []float64
	for r := range rows {
		for c := range columns {
			away := func(u, v float64) float64 {
				return math.Hypot(float64(c)-u*float64(columns), 2*(float64(r)-v*float64(rows)))
			}
			if away(0.4, 0.6) < 1.5 {
				continue
			}
			rects = append(rects, Rect{float64(c), 2 * float64(r), 1, 2})
			values = append(values, PlaceValue(min(away(0.4, 0.6), away(0.9, 0.9)), 0, false))
		}
	}
	return Site{Spec: Spec{WidthM: 1, HeightM: 2}, Alternatives: [][]Rect{rects}, Values: [][]float64{values}}
}

// BenchmarkChoosePlane takes a third of the places of larger planes, and reports
// by how many per cent the bound is above the value.
func BenchmarkChoosePlane(b *testing.B) {
	for _, size := range [][2]int{{5, 12}, {8, 15}, {10, 20}, {20, 50}} {
		sites := []Site{planeSite(size[0], size[1])}
		for _, k := range []int{1, 2, 3, 4, 6} {
			for _, budget := range []Budget{Drag, Deep} {
				b.Run(fmt.Sprintf("rows=%d/columns=%d/blocks=%d/budget=%d", size[0], size[1], k, budget), func(b *testing.B) {
					var c Choice
					for b.Loop() {
						var err error
						if c, err = Choose(context.Background(), sites, len(sites[0].Values[0])/3, k, budget); err != nil {
							b.Fatal(err)
						}
					}
					b.ReportMetric(100*(c.Bound/c.Value-1), "%open")
					b.ReportMetric(float64(c.Tidiness.Blocks), "got-blocks")
				})
			}
		}
	}
}

func BenchmarkChooseHouse(b *testing.B) {
	sites := houseSites(b)
	places, alts := 0, 0
	for _, s := range sites {
		places += len(s.Alternatives[0])
		alts += len(s.Alternatives)
	}
	for _, k := range []int{0, 1, 2, 3, 4, 5, 6} {
		for _, budget := range []Budget{Drag, Deep} {
			b.Run(fmt.Sprintf("blocks=%d/budget=%d", k, budget), func(b *testing.B) {
				b.ReportAllocs()
				var c Choice
				for b.Loop() {
					var err error
					if c, err = Choose(context.Background(), sites, 20, k, budget); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(places), "places")
				b.ReportMetric(float64(alts), "layouts")
				b.ReportMetric(c.Value, "value")
				b.ReportMetric(c.Bound-c.Value, "open")
				b.ReportMetric(float64(c.Tidiness.Blocks), "got-blocks")
			})
		}
	}
}
