//go:build !js

package project

import (
	"math"
	"slices"
	"strings"

	"pgregory.net/rapid"

	"rooftally/catalog"
	"rooftally/structural"
)

// anyDocument draws a sound document: up to three rectangular or L-shaped
// planes side by side, keep-outs of every kind and shape, any rules.
func anyDocument() *rapid.Generator[Document] {
	return rapid.Custom(func(t *rapid.T) Document {
		d := New("House " + rapid.StringMatching(`[A-Za-zÀ-ÿ0-9 ]{0,20}`).Draw(t, "label"))
		d.Site.LatDeg = rapid.Float64Range(-90, 90).Draw(t, "lat")
		d.Site.Units = rapid.SampledFrom([]string{"metric", "imperial"}).Draw(t, "units")
		for i := range rapid.IntRange(1, 3).Draw(t, "planes") {
			d.Planes = append(d.Planes, anyPlane(t, i))
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "keep_outs") {
			d.KeepOuts = append(d.KeepOuts, anyKeepOut(t, i))
		}
		d.Rules.Set = rapid.SampledFrom([]string{"none", "distances", "irc_r324"}).Draw(t, "set")
		d.Rules.Style = rapid.SampledFrom([]string{"rows", "columns", "grid", "best"}).Draw(t, "style")
		d.Rules.GapEaveM = rapid.SampledFrom([]float64{0, 0.02, 0.05}).Draw(t, "gap")
		d.Candidates = d.Candidates[:rapid.IntRange(0, 3).Draw(t, "candidates")]
		if rapid.Bool().Draw(t, "meet a size") {
			d.Target = Target{
				Mode: "size", SizeW: rapid.IntRange(1, 12000).Draw(t, "size"),
				MaxBlocks: rapid.IntRange(0, 4).Draw(t, "blocks"),
			}
		}
		d.Rules.TidyCostModules = max(0, rapid.IntRange(-4, 4).Draw(t, "tidy"))
		d.Hand = anyHand(t, d)
		if rapid.Bool().Draw(t, "sections") {
			d.Wiring, d.Loads = anyWiring(t), anyLoads(t)
			d.Cost = Cost{Currency: "units", RestFixed: new(100.0)}
			d.Weather, d.Surroundings, d.Yield = anyWeather(t), anySurroundings(t), anyYieldTerms(t)
			d.Target.MinAccessPct = float64(rapid.IntRange(0, 1000).Draw(t, "least light")) / 10
		}
		return d
	})
}

// anyHand draws a layout set by hand for some candidates and planes, with
// modules on, beside and over each other.
func anyHand(t *rapid.T, d Document) []HandLayout {
	out := []HandLayout{}
	for _, c := range d.Candidates {
		for _, p := range d.Planes {
			if rapid.IntRange(0, 5).Draw(t, "hand") > 0 {
				continue
			}
			h := HandLayout{CandidateID: c.ID, PlaneID: p.ID, Fill: rapid.Bool().Draw(t, "fill"), Modules: []HandModule{}}
			for range rapid.IntRange(0, 6).Draw(t, "modules") {
				from := p.Ring[0]
				h.Modules = append(h.Modules, HandModule{
					XM:     from.XM + float64(rapid.IntRange(0, 900).Draw(t, "x"))/100,
					YM:     from.YM + float64(rapid.IntRange(0, 600).Draw(t, "y"))/100,
					Turn:   rapid.SampledFrom([]string{"portrait", "landscape"}).Draw(t, "turn"),
					Locked: h.Fill || rapid.Bool().Draw(t, "locked"),
				})
			}
			out = append(out, h)
		}
	}
	return out
}

// anyPlane draws a plane 20 m east of the one before.
func anyPlane(t *rapid.T, i int) Plane {
	cm := func(lo, hi int, label string) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, label)) / 100 }
	x, w, h := float64(20*i), cm(150, 1200, "w"), cm(150, 700, "h")
	ring := []Corner{{XM: x}, {XM: x + w}, {XM: x + w, YM: h}, {XM: x, YM: h}}
	if rapid.Bool().Draw(t, "L") {
		ring = []Corner{{XM: x}, {XM: x + w}, {XM: x + w, YM: h / 2}, {XM: x + w/2, YM: h / 2}, {XM: x + w/2, YM: h}, {XM: x, YM: h}}
	}
	ring[rapid.IntRange(0, len(ring)-1).Draw(t, "street")].Street = rapid.Bool().Draw(t, "flag")
	p := Plane{
		ID: "p" + string(rune('1'+i)), Use: rapid.IntRange(0, 3).Draw(t, "use") > 0, Ring: ring,
		PitchDeg:    rapid.SampledFrom([]float64{0, 1.5, 5, 9.46, 30, 45, 75}).Draw(t, "pitch"),
		AzimuthDeg:  rapid.SampledFrom([]float64{0, 90, 180, 270, 171.5}).Draw(t, "azimuth"),
		EaveHeightM: cm(0, 900, "eave"),
		Turn:        rapid.SampledFrom([]string{"portrait", "landscape", "either", "mixed"}).Draw(t, "turn"),
		Covering:    "tile", RafterSpacingM: 0.6,
	}
	if rapid.Bool().Draw(t, "limited") {
		p.ModuleLimit = new(rapid.IntRange(0, 12).Draw(t, "limit"))
	}
	return p
}

func anyKeepOut(t *rapid.T, i int) KeepOut {
	at := func(label string) float64 { return float64(rapid.IntRange(-100, 1200).Draw(t, label)) / 100 }
	k := KeepOut{
		ID:         "k" + string(rune('1'+i)),
		Kind:       rapid.SampledFrom([]string{"chimney", "vent", "pipe", "roof_window", "shade", "other"}).Draw(t, "kind"),
		Shape:      rapid.SampledFrom([]string{"polygon", "rect", "circle"}).Draw(t, "shape"),
		ClearanceM: rapid.SampledFrom([]float64{0, 0.1, 0.5}).Draw(t, "clearance"),
	}
	x, y := at("x"), at("y")
	switch k.Shape {
	case "polygon":
		k.Points = []Point{{x, y}, {x + 1.5, y + 0.2}, {x + 0.4, y + 1.1}}
	case "rect":
		k.Center = &Point{x, y}
		k.WidthM, k.DepthM = 0.8, 0.5
		k.TurnDeg = rapid.SampledFrom([]float64{0, 30, 90}).Draw(t, "turn")
	case "circle":
		k.Center = &Point{x, y}
		k.RadiusM = 0.3
	}
	if k.Kind == "shade" {
		k.Shade = rapid.SampledFrom([]string{"off_limits", "last_resort"}).Draw(t, "shade")
	}
	return k
}

// turned turns the whole plan clockwise about the origin by deg, azimuths and
// turns of keep-outs measured from north with it.
func turned(d Document, deg float64) Document {
	sin, cos := math.Sincos(deg * (math.Pi / 180))
	at := func(p Point) Point { return Point{p.XM*cos + p.YM*sin, p.YM*cos - p.XM*sin} }
	bearing := func(b float64) float64 { return math.Mod(b+deg, 360) }
	out := d
	out.Planes = make([]Plane, len(d.Planes))
	for i, p := range d.Planes {
		ring := make([]Corner, len(p.Ring))
		for j, c := range p.Ring {
			q := at(Point{c.XM, c.YM})
			c.XM, c.YM = q.XM, q.YM
			ring[j] = c
		}
		p.Ring, p.AzimuthDeg = ring, bearing(p.AzimuthDeg)
		out.Planes[i] = p
	}
	out.Hand = make([]HandLayout, len(d.Hand))
	for i, h := range d.Hand {
		h.Modules = slices.Clone(h.Modules)
		for j := range h.Modules {
			m := &h.Modules[j]
			q := at(Point{m.XM, m.YM})
			m.XM, m.YM = q.XM, q.YM
		}
		out.Hand[i] = h
	}
	out.KeepOuts = make([]KeepOut, len(d.KeepOuts))
	for i, k := range d.KeepOuts {
		points := make([]Point, len(k.Points))
		for j, p := range k.Points {
			points[j] = at(p)
		}
		k.Points = points
		if k.Center != nil {
			k.Center = new(at(*k.Center))
		}
		// A rectangle in the roof plane is turned from the upslope direction,
		// which turns with the plan.
		if k.Shape == "rect" && !strings.Contains("roof_window shade", k.Kind) {
			k.TurnDeg = bearing(k.TurnDeg)
		}
		out.KeepOuts[i] = k
	}
	return out
}

// anyWiring draws a wiring section.
func anyWiring(t *rapid.T) Wiring {
	w := defaultWiring()
	w.Kind = rapid.SampledFrom([]string{"", "string", "micro", "optimiser"}).Draw(t, "kind")
	maybe := func(label string) bool { return rapid.IntRange(0, 3).Draw(t, label) > 0 }
	if maybe("inverter") {
		w.Inverter = new(rapid.SampledFrom(catalog.DemoInverters()).Draw(t, "which"))
	}
	if maybe("micro") {
		w.Micro = &catalog.DemoMicroInverters()[0]
	}
	if maybe("optimiser") {
		w.Optimiser = &catalog.DemoOptimisers()[0]
	}
	w.Place = rapid.SampledFrom([]string{"dwelling", "building", "ground"}).Draw(t, "place")
	w.MixParallel, w.ModuleShutdown = rapid.Bool().Draw(t, "mix"), rapid.Bool().Draw(t, "shutdown")
	if maybe("typed") {
		w.ColdC = new(float64(rapid.IntRange(-40, 10).Draw(t, "cold")))
		w.HotAirC = new(float64(rapid.IntRange(20, 45).Draw(t, "hot")))
	}
	if maybe("station") {
		w.Station = Demo().Wiring.Station
	}
	if maybe("board") {
		w.MainBreakerA, w.BusbarA, w.PhaseLimitA = new(200.0), new(225.0), new(16.0)
	}
	w.SupplyPhases = rapid.SampledFrom([]int{1, 3}).Draw(t, "phases")
	return w
}

// anyLoads draws a loads section.
func anyLoads(t *rapid.T) Loads {
	l := defaultLoads()
	if rapid.Bool().Draw(t, "snow") {
		asce := structural.DefaultASCESnow(structural.ASCE716, float64(rapid.IntRange(0, 9000).Draw(t, "ground")))
		en := structural.DefaultENSnow(asce.GroundPa)
		l.ASCESnow, l.ENSnow = &asce, &en
	}
	switch rapid.IntRange(0, 2).Draw(t, "wind") {
	case 1:
		w := structural.DefaultFlushWind(structural.ASCE716, float64(rapid.IntRange(30, 70).Draw(t, "speed")), 5, 8)
		l.FlushWind = &w
	case 2:
		l.TypedWind = &structural.TypedWind{UpPa: float64(rapid.IntRange(0, 5000).Draw(t, "up")), DownPa: 700}
	}
	if rapid.Bool().Draw(t, "span") {
		l.SpanM = new(float64(rapid.IntRange(4, 20).Draw(t, "span_dm")) / 10)
	}
	l.Rails = rapid.SampledFrom([]string{"along_eave", "along_eave", "up_slope"}).Draw(t, "rails")
	return l
}

// anyWeather draws a weather section.
func anyWeather(t *rapid.T) Weather {
	w := Weather{Source: rapid.SampledFrom([]string{"station", "monthly", "file"}).Draw(t, "source")}
	if rapid.Bool().Draw(t, "monthly") {
		m := MonthlyWeather{Label: "typed", WindMS: float64(rapid.IntRange(0, 9).Draw(t, "wind"))}
		for i := range 12 {
			m.GHIKWhM2Day[i] = float64(rapid.IntRange(0, 60).Draw(t, "ghi")) / 10
			m.AirC[i] = float64(rapid.IntRange(-20, 35).Draw(t, "air"))
		}
		if rapid.Bool().Draw(t, "diffuse") {
			m.DHIKWhM2Day = &[12]float64{1, 1, 1, 2, 2, 2, 2, 2, 2, 1, 1, 1}
		}
		w.Monthly = &m
	}
	if rapid.Bool().Draw(t, "file") {
		w.File = &WeatherFile{
			Hash: strings.Repeat("0123456789abcdef", 4), Name: "a.epw", Format: rapid.SampledFrom([]string{"epw", "tmy3"}).Draw(t, "format"),
			LatDeg: 43, LonDeg: -89, UTCOffsetH: -6, Hours: 8760, Notes: []string{},
		}
	}
	return w
}

// anySurroundings draws a surroundings section.
func anySurroundings(t *rapid.T) Surroundings {
	s := defaultSurroundings()
	at := func() Point {
		return Point{float64(rapid.IntRange(-20, 40).Draw(t, "x")), float64(rapid.IntRange(-20, 20).Draw(t, "y"))}
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "trees") {
		tree := NewTree("tree-"+string(rune('a'+i)), "", at(), 2, 1, float64(rapid.IntRange(2, 15).Draw(t, "top")))
		tree.Crown, tree.Evergreen = rapid.SampledFrom([]string{"round", "column"}).Draw(t, "crown"), rapid.Bool().Draw(t, "evergreen")
		s.Trees = append(s.Trees, tree)
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "buildings") {
		p := at()
		s.Buildings = append(s.Buildings, Building{
			ID: "building-" + string(rune('a'+i)), Ring: []Point{p, {p.XM + 8, p.YM}, {p.XM + 6, p.YM + 7}}, TopM: 7.5,
		})
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "horizon") {
		s.Horizon = append(s.Horizon, HorizonPoint{float64(i * 100), float64(rapid.IntRange(0, 20).Draw(t, "height"))})
	}
	return s
}

// anyYieldTerms draws a yield section.
func anyYieldTerms(t *rapid.T) YieldTerms {
	y := defaultYieldTerms()
	y.Sky = rapid.SampledFrom([]string{"perez", "isotropic", "hay_davies"}).Draw(t, "sky")
	y.Glass = rapid.SampledFrom([]string{"martin_ruiz", "ashrae", "fresnel", "none"}).Draw(t, "glass")
	y.Losses = y.Losses[:rapid.IntRange(0, len(y.Losses)).Draw(t, "losses")]
	return y
}
