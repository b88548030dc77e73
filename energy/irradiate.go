package energy

import "context"

// Cell is the light on one rectangle over the year.
type Cell struct {
	// POAKWhM2 is the irradiation by month past obstructions and horizon.
	POAKWhM2 [12]float64
	POAYear  float64
	// Access is POAYear over the open plane's; MonthlyAccess by month.
	Access        float64
	MonthlyAccess [12]float64
}

// Irradiate returns the light on every rectangle of a scene, without modules,
// heat or strings: for the heat map of a roof and the value of places. The
// rectangles are [Scene.Modules], of which only Plane and the sides are used.
// It is linear in the light, and so sums the sun's hours by its place before it
// looks at the rectangles.
func Irradiate(ctx context.Context, y *YearOfSun, s Scene, o Options) ([]Cell, error) {
	if y == nil {
		return nil, errMissingYear()
	}
	if err := s.Check(); err != nil {
		return nil, err
	}
	if err := o.check(); err != nil {
		return nil, err
	}
	out := make([]Cell, len(s.Modules))
	bodies := s.bodies()
	for i := range s.Planes {
		irradiatePlane(ctx, y, s, o, bodies, i, out)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
	}
	return out, ctx.Err()
}

// irradiatePlane fills the cells of one plane; they mean nothing once ctx is done.
func irradiatePlane(ctx context.Context, y *YearOfSun, s Scene, o Options, bodies []body, plane int, out []Cell) {
	var rects []box
	var at []int
	for k, m := range s.Modules {
		if m.Plane == plane {
			rects = append(rects, m.box())
			at = append(at, k)
		}
	}
	if len(rects) == 0 {
		return
	}
	shade := newPlaneShade(s, bodies, plane, rects)
	table := newShadeTable(shade, nil, 1, y.year.Site.LatDeg)
	views := shade.skyViews(ctx, s.Horizon, &table.work)
	sum := sumPlane(ctx, y, s, o, plane, table)
	leafOn := s.leafOn(y.year.Site.LatDeg)
	for i, k := range at {
		c := &out[k]
		var open float64
		for m := range 12 {
			c.POAKWhM2[m] = max(0, sum.total[m]-sum.hidden[m]-sum.sky[m]*(1-views[i].mix(leafOn[m]))-sum.blocked[i][m]) / 1000
			open += sum.total[m] / 1000
			if sum.total[m] > 0 {
				c.MonthlyAccess[m] = c.POAKWhM2[m] * 1000 / sum.total[m]
			}
		}
		c.POAYear = sum12(c.POAKWhM2)
		if open > 0 {
			c.Access = c.POAYear / open
		}
	}
}

// planeSum is a plane's light by month, Wh/m2.
type planeSum struct {
	total, sky [12]float64
	// hidden is beam that the far horizon keeps from all cells, blocked what
	// obstructions keep from each.
	hidden  [12]float64
	blocked [][12]float64
}

// sumPlane adds up the hours of a plane, or some of them once ctx is done.
func sumPlane(ctx context.Context, y *YearOfSun, s Scene, o Options, plane int, table *shadeTable) planeSum {
	sum := planeSum{blocked: make([][12]float64, len(table.plane.rects))}
	light := newTransposer(o.Sky, s.Planes[plane].Surface)
	leafOn := s.leafOn(y.year.Site.LatDeg)
	atNode := make([][12]float64, len(table.nodes))
	shaded := make([]float64, len(table.plane.rects))
	for i := range y.hours {
		if ctx.Err() != nil {
			return sum
		}
		h := &y.hours[i]
		month := y.year.Hours[h.index].Month - 1
		l := h.lightOf(o)
		in := light.put(l, h.sky(o.Sky))
		sum.total[month] += in.Total()
		sum.sky[month] += in.Dome + in.HorizonBand
		beam := in.Beam + in.Circumsolar
		switch {
		case beam <= 0:
		case s.Horizon.hides(h.sun):
			sum.hidden[month] += beam
		case o.ExactShade:
			addBlocked(sum.blocked, month, beam, shaded, table.exact(h.sun, leafOn[month], shaded))
		default:
			shares, n := table.sharesOf(h.sun)
			if n == 0 {
				addBlocked(sum.blocked, month, beam, shaded, table.exact(h.sun, leafOn[month], shaded))
			}
			for _, sh := range shares[:n] {
				atNode[sh.index][month] += beam * sh.weight
			}
		}
	}
	for k := range table.nodes {
		for i, v := range table.nodes[k].values {
			if v == (leafPair{}) {
				continue
			}
			for m := range 12 {
				sum.blocked[i][m] += atNode[k][m] * v.mix(leafOn[m])
			}
		}
	}
	return sum
}

func addBlocked(blocked [][12]float64, month int, beam float64, shaded []float64, any bool) {
	if !any {
		return
	}
	for i, s := range shaded {
		blocked[i][month] += beam * s
	}
}
