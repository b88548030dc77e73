//go:build !js

package project

import (
	"rooftally/catalog"
	"rooftally/electrical"
	"rooftally/structural"
)

// Demo returns the invented demo house: an L-shaped gable roof, 13.0 m long,
// with a chimney astride the ridge, a vent pipe, a roof window and an area in
// shade, three invented candidates and an invented inverter. Snow, wind, rails,
// breakers, costs and what stands around it are made up for it. Nobody lives there.
//
//	y
//	8.8 +-----------------------------+
//	    |        main, north          |
//	4.4 +----[]-----------------------+  main ridge, chimney []
//	    |   main, south      /\       |
//	0.0 +-----------------+/    \+----+
//	                      | wing |
//	-4.6                  +--+---+
//	    0                6.4 9.4 12.4 13   x
func Demo() Document {
	d := New("Demo house (invented)")
	d.Site.LatDeg, d.Site.LonDeg = 43.05, -89.90
	d.Site.ElevationM, d.Site.UTCOffsetH = 320, -6
	d.Site.Invented = true
	d.Planes = demoPlanes()
	d.KeepOuts = demoKeepOuts()
	d.Target = Target{Mode: "fill", SizeW: 8000, Chosen: "demo-400-medium"}
	d.Wiring, d.Loads = demoWiring(), demoLoads()
	d.Cost = Cost{Currency: "USD", RestPerModule: new(190.0), RestFixed: new(2600.0)}
	d.Surroundings = demoSurroundings()
	return d
}

// demoWiring has an inverter with a tracker for each plane in use, and the
// station that is nearest to the demo's position.
func demoWiring() Wiring {
	w := defaultWiring()
	w.Kind, w.Place = WiringString, string(electrical.OnDwelling)
	for _, v := range catalog.DemoInverters() {
		if v.ID == "demo-inv-7k6" {
			w.Inverter = &v
		}
	}
	w.MainBreakerA, w.BusbarA = new(200.0), new(200.0)
	w.Station = &StationCopy{
		ID: "726416", Label: "Lone Rock, WI, USA", LatDeg: 43.2, LonDeg: -90.18, ElevationM: 219,
		DistanceKm: 28.188265849746934, HeightM: -101,
		ColdC:     new(-33.0),
		ColdBasis: "-33.0 C is the lowest temperature of the typical year at Lone Rock, -26.0 C, less 7 K: the table has no mean yearly extreme for it.",
		HotC:      new(35.0),
		HotBasis:  "35.0 C is the highest temperature of the typical year at Lone Rock: the table has no 2 % design temperature for it.",
		Usable:    true, Warnings: []string{},
		Source: "Station table computed from public typical-year weather files (TMY3: Wilcox and Marion, NREL/TP-581-43156; " +
			"NIWA, SWEC, IMGW, CSWD, MSI, ETMY, SWERA and earlier US sets). " +
			"Mean yearly extreme and 2 % design temperatures: ASHRAE climatic design data (2009 Handbook; one station 2005).",
	}
	return w
}

// demoSurroundings are a tree before the main roof and a house to the east.
func demoSurroundings() Surroundings {
	s := defaultSurroundings()
	s.Trees = append(s.Trees, NewTree("front-tree", "Tree in the front garden", Point{XM: 1.0, YM: -2.4}, 1.5, 2, 7.5))
	s.Buildings = append(s.Buildings, Building{
		ID: "house-east", Label: "House to the east",
		Ring: []Point{{XM: 18, YM: -9}, {XM: 27, YM: -9}, {XM: 27, YM: 1}, {XM: 18, YM: 1}}, TopM: 7,
	})
	return s
}

// demoLoads are loads that such a place could have; nobody looked them up.
func demoLoads() Loads {
	l := defaultLoads()
	snow := structural.DefaultASCESnow(structural.ASCE716, 1440)
	wind := structural.DefaultFlushWind(structural.ASCE716, 48, 4.1, 8.8)
	wind.Exposure, wind.HeightAboveRoofM = structural.ExposureB, 0.12
	wind.GCp = []structural.ZoneGCp{}
	l.ASCESnow, l.FlushWind, l.SpanM = &snow, &wind, new(1.2)
	return l
}

// demoPlanes are two planes of the main gable and two of the wing; the wing
// meets the main roof in two valleys and the planes do not overlap in plan.
func demoPlanes() []Plane {
	plane := func(id, label string, use bool, azimuthDeg float64, corners ...[2]float64) Plane {
		ring := make([]Corner, len(corners))
		for i, c := range corners {
			ring[i] = Corner{XM: c[0], YM: c[1]}
		}
		return Plane{
			ID: id, Label: label, Use: use, Ring: ring,
			PitchDeg: 30, AzimuthDeg: azimuthDeg, EaveHeightM: 2.8,
			Turn: "either", Covering: "asphalt_shingle", RafterSpacingM: DefaultRafterSpacingM,
		}
	}
	return []Plane{
		plane("main-south", "Main, south", true, 180,
			[2]float64{0, 0}, [2]float64{6.4, 0}, [2]float64{9.4, 3}, [2]float64{12.4, 0},
			[2]float64{13, 0}, [2]float64{13, 4.4}, [2]float64{0, 4.4}),
		plane("main-north", "Main, north", false, 0,
			[2]float64{0, 4.4}, [2]float64{13, 4.4}, [2]float64{13, 8.8}, [2]float64{0, 8.8}),
		plane("wing-west", "Wing, west", true, 270,
			[2]float64{6.4, -4.6}, [2]float64{9.4, -4.6}, [2]float64{9.4, 3}, [2]float64{6.4, 0}),
		plane("wing-east", "Wing, east", true, 90,
			[2]float64{9.4, -4.6}, [2]float64{12.4, -4.6}, [2]float64{12.4, 0}, [2]float64{9.4, 3}),
	}
}

// demoKeepOuts has one keep-out of most kinds.
func demoKeepOuts() []KeepOut {
	return []KeepOut{
		{
			ID: "chimney", Label: "Chimney", Kind: "chimney", Shape: "rect",
			Center: &Point{XM: 3.4, YM: 4.4}, WidthM: 0.9, DepthM: 0.6,
			ClearanceM: 0.3, HeightM: 0.9,
		},
		{
			ID: "vent-pipe", Label: "Vent pipe", Kind: "pipe", Shape: "circle",
			Center: &Point{XM: 12.0, YM: -3.9}, RadiusM: 0.055,
			ClearanceM: 0.15, HeightM: 0.4,
		},
		{
			ID: "roof-window", Label: "Roof window", Kind: "roof_window", Shape: "rect",
			Center: &Point{XM: 1.0, YM: 1.1}, WidthM: 0.78, DepthM: 1.18,
			ClearanceM: 0.2, HeightM: 0.1,
		},
		{
			ID: "wing-shade", Label: "Morning shade of the wing", Kind: "shade", Shape: "polygon",
			Points: []Point{{XM: 4.7, YM: 0}, {XM: 6.4, YM: 0}, {XM: 9.0, YM: 2.6}, {XM: 7.4, YM: 3.2}},
			Shade:  "last_resort",
		},
	}
}
