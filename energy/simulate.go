package energy

import (
	"context"
	"math"
)

// Simulate reckons the yield of the first year, hour by hour. It stops with
// ctx's error when ctx is done, and returns what [Input.Check] finds.
//
// Each hour: light on each plane ([Transpose]); for each module the share of
// beam and circumsolar light kept away (mean over the module) and its sky view
// for the rest of the sky's light, ground light unshaded; glass; heat from the
// shaded irradiance; low light; strings at their best current; loss lines;
// inverter with its limit.
func Simulate(ctx context.Context, in Input) (Result, error) {
	if err := in.Check(); err != nil {
		return Result{}, err
	}
	r := newRun(ctx, in)
	for i := range in.Year.hours {
		// An hour may be the first that asks for shadows about the sun's place,
		// which takes long on a roof with much around it.
		if ctx.Err() != nil {
			return Result{}, ctx.Err()
		}
		r.hour(&in.Year.hours[i])
	}
	return r.result(), nil
}

// run is one simulation under way.
type run struct {
	in      Input
	leafOn  [12]float64
	planes  []planeRun
	modules []moduleRun
	strings []stringRun
	scale   float64     // of the low-light curve
	before  [12]float64 // product of the losses before the inverter
	after   [12]float64
	// energy left after each step of the chain, Wh, by month
	chain  [stepCount][12]float64
	groups []groupRun
	hours  *HourArrays // nil unless asked for
	subs   []substring
}

// The steps of the chain that are reckoned hour by hour.
const (
	stepLight = iota
	stepShade
	stepGlass
	stepHeat
	stepLowLight
	stepString
	stepInverter
	stepClipping
	stepCount
)

// planeRun is one plane's part of a run.
type planeRun struct {
	light   transposer
	pass    diffusePass
	heat    HeatCoefficients
	shade   *shadeTable
	views   []leafPair // by module of the plane
	modules []int      // indices in the scene
	shaded  []float64  // this hour's shade by module and region
	anyDark bool       // shaded holds something this hour
	now     planeHour
	open    [12]float64 // Wh/m2 by month
	acWh    [12]float64
}

// planeHour is the light on an open plane in one hour, W/m2: as it falls in,
// and past the glass.
type planeHour struct {
	beam, sky, ground             float64 // beam holds the circumsolar part
	beamGlass, skyGlass, gndGlass float64
}

type moduleRun struct {
	plane, slot int // slot is the place within the plane
	// This hour: DC power, the light past the glass from the open sun and from
	// the rest, and the power per W/m2 of it.
	dcW, beamGlass, restGlass, perWM2 float64
	lit                               [12]float64 // Wh/m2 by month
	dcWh, acWh                        float64
}

type groupRun struct {
	modules   []int
	acWh      float64
	clippedWh float64
}

// stringRun is the modules of one series string.
type stringRun struct{ modules []int }

func newRun(ctx context.Context, in Input) *run {
	r := &run{in: in, leafOn: in.Scene.leafOn(in.Year.year.Site.LatDeg), scale: in.Module.lowLightScale()}
	r.setLosses()
	r.modules = make([]moduleRun, len(in.Scene.Modules))
	r.groups = make([]groupRun, len(in.Groups))
	bodies := in.Scene.bodies()
	for i, p := range in.Scene.Planes {
		r.planes = append(r.planes, r.newPlaneRun(ctx, i, p, bodies))
	}
	byString := map[int]int{}
	for i, m := range in.Scene.Modules {
		r.groups[m.Group].modules = append(r.groups[m.Group].modules, i)
		at, known := byString[m.String]
		if m.String == 0 || !known {
			at = len(r.strings)
			r.strings = append(r.strings, stringRun{})
			byString[m.String] = at
		}
		r.strings[at].modules = append(r.strings[at].modules, i)
	}
	if in.WantHours {
		r.hours = newHourArrays(len(in.Scene.Planes), in.Year.year.Hours)
	}
	return r
}

func newHourArrays(planes int, hours []Hour) *HourArrays {
	h := &HourArrays{ACW: make([]float64, len(hours)), POAWM2: make([][]float64, planes), CellC: make([][]float64, planes)}
	for i := range planes {
		h.POAWM2[i], h.CellC[i] = make([]float64, len(hours)), make([]float64, len(hours))
		for k, hour := range hours {
			h.CellC[i][k] = hour.AirC
		}
	}
	return h
}

func (r *run) newPlaneRun(ctx context.Context, i int, p Plane, bodies []body) planeRun {
	heat, err := HeatLoss(p.Mounting)
	if err != nil { // Check has refused it before
		heat = HeatCoefficients{ConstantWM2K: 25}
	}
	out := planeRun{
		light: newTransposer(r.in.Options.Sky, p.Surface),
		pass:  newDiffusePass(r.in.Options.Glass, p.Surface),
		heat:  heat.ForNMOT(r.in.Module.NMOTC),
	}
	var rects []box
	var regions [][]box
	for k, m := range r.in.Scene.Modules {
		if m.Plane != i {
			continue
		}
		r.modules[k] = moduleRun{plane: i, slot: len(rects)}
		out.modules = append(out.modules, k)
		rects = append(rects, m.box())
		regions = append(regions, r.in.Module.regions(m.box()))
	}
	if len(rects) == 0 {
		return out
	}
	shade := newPlaneShade(r.in.Scene, bodies, i, rects)
	out.shade = newShadeTable(shade, regions, r.in.Module.cellsPerRegion(), r.in.Year.year.Site.LatDeg)
	out.views = shade.skyViews(ctx, r.in.Scene.Horizon, &out.shade.work)
	out.shaded = make([]float64, len(rects)*out.shade.stride)
	return out
}

// setLosses multiplies the loss lines by month and side.
func (r *run) setLosses() {
	for m := range 12 {
		r.before[m] = 1 - r.in.Module.FirstYearLossPct/100
		r.after[m] = 1
		for _, l := range r.in.Losses {
			if l.Side == BeforeInverter {
				r.before[m] *= 1 - l.MonthlyPct[m]/100
			} else {
				r.after[m] *= 1 - l.MonthlyPct[m]/100
			}
		}
	}
}

// hour reckons one hour.
func (r *run) hour(at *sunHour) {
	h := &r.in.Year.year.Hours[at.index]
	l := at.lightOf(r.in.Options)
	sky := at.sky(r.in.Options.Sky)
	hidden := r.in.Scene.Horizon.hides(at.sun)
	for p := range r.planes {
		r.planeHour(p, at, l, sky, hidden)
	}
	for k := range r.modules {
		r.moduleHour(&r.modules[k], h)
	}
	for k := range r.strings {
		r.stringHour(&r.strings[k], h.Month-1)
	}
	for k := range r.groups {
		r.groupHour(k, at.index, h.Month-1)
	}
}

// planeHour reckons the open plane's light and the shade of its modules.
func (r *run) planeHour(k int, at *sunHour, l Light, sky skyState, hidden bool) {
	p := &r.planes[k]
	h := &r.in.Year.year.Hours[at.index]
	in := p.light.put(l, sky)
	p.now = planeHour{beam: in.Beam + in.Circumsolar, sky: in.Dome + in.HorizonBand, ground: in.Ground}
	direct := r.in.Options.Glass.Pass(p.light.normal.dot(l.Toward))
	p.now.beamGlass = p.now.beam * direct
	p.now.skyGlass = in.Dome*p.pass.dome + in.HorizonBand*p.pass.horizon
	p.now.gndGlass = in.Ground * p.pass.ground
	p.open[h.Month-1] += in.Total()
	if r.hours != nil {
		r.hours.POAWM2[k][at.index] = in.Total()
		r.hours.CellC[k][at.index] = p.heat.CellC(h.AirC, in.Total(), h.WindMS)
	}
	if len(p.modules) == 0 {
		return
	}
	p.anyDark = false
	switch {
	case p.now.beam <= 0:
	case hidden:
		p.anyDark = true
		for i := range p.shaded {
			p.shaded[i] = 1
		}
	case len(p.shade.plane.casters) == 0:
	case r.in.Options.ExactShade:
		p.anyDark = p.shade.exact(at.sun, r.leafOn[h.Month-1], p.shaded)
	default:
		p.anyDark = p.shade.blend(at.sun, r.leafOn[h.Month-1], p.shaded)
	}
}

// moduleHour reckons one module's light, heat and power on its own.
func (r *run) moduleHour(m *moduleRun, h *Hour) {
	p := &r.planes[m.plane]
	month := h.Month - 1
	view := p.views[m.slot].mix(r.leafOn[month])
	var blocked float64
	if p.anyDark {
		blocked = min(1, p.shaded[m.slot*p.shade.stride])
	}
	n := &p.now
	lit := max(0, n.beam*(1-blocked)+n.sky*view+n.ground)
	m.beamGlass, m.restGlass = n.beamGlass, n.skyGlass*view+n.gndGlass
	passed := max(0, m.beamGlass*(1-blocked)+m.restGlass)
	heat := r.in.Module.HeatFactor(p.heat.CellC(h.AirC, lit, h.WindMS))
	low := lowLight(passed, r.scale)
	watts := r.in.Module.PmaxW / 1000
	m.perWM2 = watts * heat * low
	m.dcW = m.perWM2 * passed
	m.lit[month] += lit
	r.chain[stepLight][month] += watts * (n.beam + n.sky + n.ground)
	r.chain[stepShade][month] += watts * lit
	r.chain[stepGlass][month] += watts * passed
	r.chain[stepHeat][month] += watts * passed * heat
	r.chain[stepLowLight][month] += m.dcW
}

// stringHour brings the modules of a string to one current.
func (r *run) stringHour(s *stringRun, month int) {
	r.subs = r.subs[:0]
	var alone float64
	for _, k := range s.modules {
		alone += r.modules[k].dcW
		r.subs = r.appendSubstrings(r.subs, &r.modules[k])
	}
	// The worst cell of a region is a bound, and unequal modules differ in heat:
	// a string is never said to gain from it.
	power := min(alone, stringPower(r.subs))
	r.chain[stepString][month] += power
	if alone > 0 {
		for _, k := range s.modules {
			r.modules[k].dcW *= power / alone
		}
	}
}

// appendSubstrings adds a module's bypassed parts: one for all of them while
// they are equal.
func (r *run) appendSubstrings(subs []substring, m *moduleRun) []substring {
	p := &r.planes[m.plane]
	n := r.in.Module.substrings()
	var row []float64
	if p.anyDark {
		row = p.shaded[m.slot*p.shade.stride:][:p.shade.stride]
	}
	if row == nil || row[0] == 0 || row[0] >= 1 {
		blocked := 0.0
		if row != nil {
			blocked = min(1, row[0])
		}
		light := max(0, m.beamGlass*(1-blocked)+m.restGlass)
		return append(subs, substring{light, m.perWM2})
	}
	for k := range n {
		blocked := row[1+k]
		if r.in.Module.HalfCut { // two halves in parallel add their currents
			blocked = (blocked + row[1+n+k]) / 2
		}
		light := max(0, m.beamGlass*(1-min(1, blocked))+m.restGlass)
		subs = append(subs, substring{light, m.perWM2 / float64(n)})
	}
	return subs
}

// groupHour turns a group's direct current into alternating current.
func (r *run) groupHour(k, hour, month int) {
	g, group := &r.groups[k], r.in.Groups[k]
	eff := group.EfficiencyPct / 100
	limit := group.LimitW
	if limit == 0 {
		limit = math.Inf(1)
	}
	var dc float64
	for _, i := range g.modules {
		dc += r.modules[i].dcW
	}
	if dc <= 0 {
		return
	}
	left := r.before[month] * eff
	var out, ac float64
	share := 1.0
	if !group.PerModule && dc*left > limit {
		share = limit / (dc * left)
	}
	for _, i := range g.modules {
		m := &r.modules[i]
		w := m.dcW * left
		kept := w * share
		if group.PerModule {
			kept = min(w, limit)
		}
		out += w
		ac += kept
		m.dcWh += m.dcW * r.before[month]
		m.acWh += kept * r.after[month]
		r.planes[m.plane].acWh[month] += kept * r.after[month]
	}
	g.clippedWh += out - ac
	g.acWh += ac * r.after[month]
	r.chain[stepInverter][month] += out
	r.chain[stepClipping][month] += ac
	if r.hours != nil {
		r.hours.ACW[hour] += ac * r.after[month]
	}
}
