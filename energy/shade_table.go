package energy

import "math"

// The nodes of the table of shadows: declination and hour angle, degrees. The
// shade of an hour is drawn straight between four nodes. Against every hour
// reckoned on its own the yearly light of a module differs by under 0.1 points
// on the roof of TestShadeTableAgainstEveryHour, and the energy in strings reads
// 0.3 % low, since a shadow's edge is smeared over more hours.
const (
	nodeDeclinationStep = 4.0
	nodeDeclinations    = 13 // -24 to 24
	nodeHourStep        = 5.0
	nodeHours           = 72
)

// shadeTable remembers the shadows on one plane by the sun's place. Its nodes
// are filled as they are asked for.
type shadeTable struct {
	plane *planeShade
	// regions holds, per rectangle, the parts that substrings cover; nil to
	// leave them out.
	regions [][]box
	// cells is the number of cells in a region.
	cells          float64
	sinLat, cosLat float64
	nodes          []shadeNode
	work           workspace
	// stride is the count of numbers per rectangle: one for the whole and one
	// for each region, each with and without leaves.
	stride int
}

// shadeNode is the shade at one node.
type shadeNode struct {
	known  bool       // the rest has been worked out
	below  bool       // the sun is down or behind the plane
	values []leafPair // nil when nothing is shaded
}

func newShadeTable(p *planeShade, regions [][]box, cells, latDeg float64) *shadeTable {
	t := &shadeTable{plane: p, regions: regions, cells: cells, stride: 1}
	if len(regions) > 0 {
		t.stride += len(regions[0])
	}
	t.sinLat, t.cosLat = math.Sincos(latDeg * degree)
	t.nodes = make([]shadeNode, nodeDeclinations*nodeHours)
	return t
}

// node returns one node, filled.
func (t *shadeTable) node(at int) *shadeNode {
	n := &t.nodes[at]
	if n.known {
		return n
	}
	n.known = true
	toward := t.nodeSun(at/nodeHours, at%nodeHours)
	n.below = toward.Z < 0.005 || t.plane.frame.overhead.dot(toward) < 2*grazing
	if !n.below {
		n.values = t.valuesAt(toward)
	}
	return n
}

// nodeSun is the way to the sun at a node.
func (t *shadeTable) nodeSun(declination, hour int) Vec3 {
	sinD, cosD := math.Sincos((float64(declination)*nodeDeclinationStep - 24) * degree)
	sinH, cosH := math.Sincos(float64(hour) * nodeHourStep * degree)
	return Vec3{-cosD * sinH, t.cosLat*sinD - t.sinLat*cosD*cosH, t.sinLat*sinD + t.cosLat*cosD*cosH}
}

// valuesAt works out the shade of every rectangle towards a direction; nil when
// nothing is shaded.
func (t *shadeTable) valuesAt(toward Vec3) []leafPair {
	shadows := t.plane.shadowsAt(toward, t.plane.bounds, &t.work)
	if len(shadows) == 0 {
		return nil
	}
	out := make([]leafPair, len(t.plane.rects)*t.stride)
	any := false
	for i, r := range t.plane.rects {
		row := out[i*t.stride : (i+1)*t.stride]
		c := coverOf(r, shadows, &t.work)
		row[0] = c.blocked
		any = any || c.blocked != leafPair{}
		t.fillRegions(row[1:], i, c, shadows)
	}
	if !any {
		return nil
	}
	return out
}

// fillRegions works out the shade of the worst cell of each region of one
// rectangle. All of a region's shade is taken to fall on one cell first, so
// that the worst cell is never shaded less than in truth: a cell's loss decides
// the current of its substring.
func (t *shadeTable) fillRegions(row []leafPair, rect int, whole cover, shadows []shadow) {
	if len(row) == 0 {
		return
	}
	if whole.blocked == (leafPair{}) || whole.blocked == (leafPair{1, 1}) {
		for k := range row {
			row[k] = whole.blocked
		}
		return
	}
	for k, region := range t.regions[rect] {
		c := coverOf(region, shadows, &t.work)
		row[k] = leafPair{min(c.peak.on, c.blocked.on*t.cells), min(c.peak.off, c.blocked.off*t.cells)}
	}
}

// share is one node and its weight.
type share struct {
	node   *shadeNode
	index  int
	weight float64
}

// sharesOf returns the nodes around the sun's place that have sun, and their
// weights, which add up to 1; none where the sun is up here but at no node.
func (t *shadeTable) sharesOf(s Sun) (shares [4]share, n int) {
	d := min(nodeDeclinations-1.000001, max(0, (s.DeclinationDeg+24)/nodeDeclinationStep))
	h := wrap360(s.HourAngleDeg) / nodeHourStep
	di, hi := int(d), int(h)
	df, hf := d-float64(di), h-float64(hi)
	weights := [4]float64{(1 - df) * (1 - hf), df * (1 - hf), (1 - df) * hf, df * hf}
	var sum float64
	for k, w := range weights {
		at := (di+k&1)*nodeHours + (hi+k>>1)%nodeHours
		if w < 1e-9 {
			continue
		}
		if node := t.node(at); !node.below {
			shares[n] = share{node, at, w}
			n++
			sum += w
		}
	}
	for k := range n {
		shares[k].weight /= sum
	}
	return shares, n
}

// blend writes into out the shade of every rectangle for the sun's place and
// reports whether anything is shaded. leafOn weighs the leaves.
func (t *shadeTable) blend(s Sun, leafOn float64, out []float64) bool {
	shares, n := t.sharesOf(s)
	if n == 0 {
		return t.exact(s, leafOn, out)
	}
	any := false
	for _, sh := range shares[:n] {
		any = mixInto(out, sh.node.values, leafOn, sh.weight, any) || any
	}
	return any
}

// mixInto adds weight times values to out, which is cleared first unless add is
// set; it reports whether there were values.
func mixInto(out []float64, values []leafPair, leafOn, weight float64, add bool) bool {
	if values == nil {
		return false
	}
	if !add {
		clear(out)
	}
	for i, v := range values {
		out[i] += weight * v.mix(leafOn)
	}
	return true
}

// exact is blend with every shadow worked out for the sun's very place.
func (t *shadeTable) exact(s Sun, leafOn float64, out []float64) bool {
	return mixInto(out, t.valuesAt(s.Toward), leafOn, 1, false)
}
