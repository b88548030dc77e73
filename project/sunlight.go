package project

import (
	"fmt"
	"math"

	"github.com/go-json-experiment/json"

	"rooftally/layout"
)

// Sunlight is the light of a typical year on a roof, past everything that casts
// shadows on it, by square cells of each used plane. It is worked out beforehand
// by [LightOf] and is plain numbers, so that the program in the browser can count
// with it.
type Sunlight struct {
	// Key names the content that it was worked out from: equal keys, equal light.
	Key string `json:"key"`
	// Words say whose weather it is, for display.
	Words string `json:"words"`
	// Planes are the used planes in document order.
	Planes []PlaneSunlight `json:"planes"`
}

// PlaneSunlight is the light on one plane. The cells lie in the slope frame that
// the plane had when the light was worked out: u along the eave, v up the slope,
// from the plan point OriginXM, OriginYM.
type PlaneSunlight struct {
	PlaneID    string  `json:"plane_id"`
	OriginXM   float64 `json:"origin_x_m"`
	OriginYM   float64 `json:"origin_y_m"`
	AzimuthDeg float64 `json:"azimuth_deg"`
	PitchDeg   float64 `json:"pitch_deg"`
	// UM and VM are the lower left corner of the first cell and StepM the side
	// of a cell; Columns run along u, Rows up the slope.
	UM      float64 `json:"u_m"`
	VM      float64 `json:"v_m"`
	StepM   float64 `json:"step_m"`
	Columns int     `json:"columns"`
	Rows    int     `json:"rows"`
	// OpenKWhM2 is the year's irradiation of the plane without any shade.
	OpenKWhM2 float64 `json:"open_kwh_m2"`
	// KWhM2 is that of each cell with it, in tenths, row by row from the lower
	// left; -1 where a cell does not touch the plane.
	KWhM2 []float64 `json:"kwh_m2"`
}

// DecodeSunlight reads the text of a [Sunlight]. Whether its numbers fit together
// is said when it is evaluated with.
func DecodeSunlight(text []byte) (Sunlight, error) {
	var s Sunlight
	if err := json.Unmarshal(text, &s); err != nil {
		return Sunlight{}, fmt.Errorf("the light on the roof: %w", err)
	}
	return s, nil
}

// maxSunlightCells is the most cells of a plane's light: a plane at the limits
// of the format with the coarsest cells.
const maxSunlightCells = 1_000_000

// check returns an error for light that nobody worked out: it may come from a
// browser.
func (s Sunlight) check() error {
	for i, p := range s.Planes {
		sound := p.StepM > 0 && p.Columns > 0 && p.Rows > 0 && p.Columns <= maxSunlightCells && p.Rows <= maxSunlightCells/p.Columns &&
			len(p.KWhM2) == p.Columns*p.Rows && p.PitchDeg >= 0 && p.PitchDeg <= 75
		if !sound {
			return fmt.Errorf("planes[%d] of the light: %d columns and %d rows of %g m have %d values", i, p.Columns, p.Rows, p.StepM, len(p.KWhM2))
		}
	}
	return nil
}

// planeLight answers what light falls on a rectangle of a plane.
type planeLight struct {
	PlaneSunlight
	frame layout.Frame
	// fresh says that the plane's frame is the one of the light.
	fresh bool
	// sums are integrals from the lower left corner, in cells: of the light and
	// of what is on the plane. They have one column and row more than the cells.
	sums, cover []float64
}

// newPlaneLight takes in the light of a plane that now has a frame.
func newPlaneLight(p PlaneSunlight, now Plane, frame layout.Frame) *planeLight {
	l := &planeLight{PlaneSunlight: p, frame: frame}
	origin := frame.ToPlan(layout.SlopePt{})
	l.fresh = origin.XM == p.OriginXM && origin.YM == p.OriginYM && now.AzimuthDeg == p.AzimuthDeg && now.PitchDeg == p.PitchDeg
	wide := p.Columns + 1
	l.sums, l.cover = make([]float64, wide*(p.Rows+1)), make([]float64, wide*(p.Rows+1))
	for r := range p.Rows {
		for c := range p.Columns {
			at := (r+1)*wide + c + 1
			l.sums[at] = l.sums[at-1] + l.sums[at-wide] - l.sums[at-wide-1]
			l.cover[at] = l.cover[at-1] + l.cover[at-wide] - l.cover[at-wide-1]
			if v := p.KWhM2[r*p.Columns+c]; v >= 0 {
				l.sums[at] += v
				l.cover[at]++
			}
		}
	}
	return l
}

// of is the mean light on a module, kWh/m2 a year: that of the cells it covers,
// by area, those off the plane left out. Where the plane has moved since, and
// where it covers no cell of the plane, it is that of the cell nearest to its
// middle.
func (l *planeLight) of(m layout.Rect) float64 {
	if l.fresh {
		left, low := (m.UM-l.UM)/l.StepM, (m.VM-l.VM)/l.StepM
		right, top := left+m.WM/l.StepM, low+m.HM/l.StepM
		over := func(table []float64) float64 {
			return l.integral(table, right, top) - l.integral(table, left, top) - l.integral(table, right, low) + l.integral(table, left, low)
		}
		const sliver = 1e-6 // of a cell
		if covered := over(l.cover); covered > sliver {
			return over(l.sums) / covered
		}
	}
	return l.nearest(l.frame.ToPlan(layout.SlopePt{UM: m.UM + m.WM/2, VM: m.VM + m.HM/2}))
}

// integral is the sum of a table's cells to the left of x and below y, in cells;
// within a cell it grows evenly.
func (l *planeLight) integral(table []float64, x, y float64) float64 {
	x, y = min(max(x, 0), float64(l.Columns)), min(max(y, 0), float64(l.Rows))
	c, r := min(int(x), l.Columns-1), min(int(y), l.Rows-1)
	fx, fy := x-float64(c), y-float64(r)
	wide := l.Columns + 1
	at := r*wide + c
	low := table[at] + float64(fx*(table[at+1]-table[at]))
	high := table[at+wide] + float64(fx*(table[at+wide+1]-table[at+wide]))
	return low + float64(fy*(high-low))
}

// nearest is the light of the plane's cell nearest to a plan point, and that of
// the open plane where no cell is on it.
func (l *planeLight) nearest(p layout.PlanPt) float64 {
	at := l.toSlope(p)
	x, y := (at.UM-l.UM)/l.StepM-0.5, (at.VM-l.VM)/l.StepM-0.5
	best, light := math.Inf(1), l.OpenKWhM2
	for i, v := range l.KWhM2 {
		dx, dy := float64(i%l.Columns)-x, float64(i/l.Columns)-y
		if d := float64(dx*dx) + float64(dy*dy); v >= 0 && d < best {
			best, light = d, v
		}
	}
	return light
}

// turn is the sine and cosine of the azimuth and the cosine of the pitch that
// the light has.
func (l *planeLight) turn() (sinA, cosA, cosP float64) {
	const deg = math.Pi / 180
	sinA, cosA = math.Sincos(l.AzimuthDeg * deg)
	return sinA, cosA, math.Cos(l.PitchDeg * deg)
}

// toSlope maps a plan point to the slope frame of the light, and toPlan back; see
// layout.Frame.
func (l *planeLight) toSlope(p layout.PlanPt) layout.SlopePt {
	sinA, cosA, cosP := l.turn()
	dx, dy := p.XM-l.OriginXM, p.YM-l.OriginYM
	return layout.SlopePt{
		UM: float64(sinA*dy) - float64(cosA*dx),
		VM: (-float64(sinA*dx) - float64(cosA*dy)) / cosP,
	}
}

func (l *planeLight) toPlan(s layout.SlopePt) layout.PlanPt {
	sinA, cosA, cosP := l.turn()
	up := s.VM * cosP
	return layout.PlanPt{
		XM: l.OriginXM - float64(cosA*s.UM) - float64(sinA*up),
		YM: l.OriginYM + float64(sinA*s.UM) - float64(cosA*up),
	}
}

// darkerThan are the outlines, in the slope frame of the light, of the cells
// under a share of the open plane's light; see [outlinesOf].
func (l *planeLight) darkerThan(percent float64) []layout.Ring {
	marked := make([]bool, len(l.KWhM2))
	for i, v := range l.KWhM2 {
		marked[i] = v >= 0 && l.dark(v, percent)
	}
	rings := outlinesOf(marked, l.Columns)
	out := make([]layout.Ring, len(rings))
	for i, ring := range rings {
		out[i] = make(layout.Ring, len(ring))
		for j, p := range ring {
			out[i][j] = layout.SlopePt{UM: l.UM + float64(float64(p[0])*l.StepM), VM: l.VM + float64(float64(p[1])*l.StepM)}
		}
	}
	return out
}

// dark reports whether a light is under a share of the open plane's.
func (l *planeLight) dark(kwhM2, percent float64) bool {
	return kwhM2*100 < percent*l.OpenKWhM2
}
