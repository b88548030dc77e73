package web

import (
	"math"
	"strconv"
)

// axis is a linear scale from Lo to Hi with a tick at every Step, both ends
// included. Step is 1, 2, 2.5 or 5 times a power of ten.
type axis struct{ Lo, Hi, Step float64 }

// newAxis spans lo to hi, and 0, by at most the given number of steps: one or
// more, and with values on both sides of 0 two or more. Values that are no numbers
// count as 0; where all are 0, or as good as, it spans 0 to 1.
func newAxis(lo, hi float64, steps int) axis {
	lo, hi = max(min(0, finite(lo)), -mostDrawn), min(max(0, finite(hi)), mostDrawn)
	if hi-lo < leastDrawn {
		return axis{0, 1, 1}
	}
	steps = max(steps, 1)
	if lo < 0 && hi > 0 {
		steps = max(steps, 2)
	}
	step := niceStep((hi - lo) / float64(steps))
	for {
		a := axis{math.Floor(lo/step+stepSlack) * step, math.Ceil(hi/step-stepSlack) * step, step}
		if math.Round((a.Hi-a.Lo)/step) <= float64(steps) {
			return a
		}
		step = niceStep(step * (1 + 2*stepSlack))
	}
}

// leastDrawn and mostDrawn bound what an axis tells from 0 and how far it reaches,
// so that no step is lost in rounding.
const (
	leastDrawn = 1e-12
	mostDrawn  = 1e300
)

// stepSlack keeps an end that is a whole number of steps from taking one more
// by rounding.
const stepSlack = 1e-9

// niceStep is the least 1, 2, 2.5 or 5 times a power of ten that is not below v.
func niceStep(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, f := range []float64{1, 2, 2.5, 5} {
		if f*power >= v*(1-stepSlack) {
			return f * power
		}
	}
	return 10 * power
}

func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

// ticks are the values from Lo to Hi at every step.
func (a axis) ticks() []float64 {
	n := int(math.Round((a.Hi - a.Lo) / a.Step))
	out := make([]float64, 0, n+1)
	for i := range n + 1 {
		out = append(out, a.Lo+float64(i)*a.Step)
	}
	return out
}

// at maps v to the line from the place of Lo to that of Hi.
func (a axis) at(v, from, to float64) float64 {
	return from + (finite(v)-a.Lo)/(a.Hi-a.Lo)*(to-from)
}

// text writes a tick with as many decimals as its step needs.
func (a axis) text(v float64) string {
	decimals := 0
	for s := a.Step; decimals < 6 && math.Abs(s-math.Round(s)) > stepSlack*s; s *= 10 {
		decimals++
	}
	return groupedTo(v, decimals)
}

// groupedTo writes a number with so many decimals, in groups of three digits.
func groupedTo(v float64, decimals int) string {
	t := fixed(v, decimals)
	whole, part := t, ""
	if decimals > 0 {
		whole, part = t[:len(t)-decimals-1], t[len(t)-decimals-1:]
	}
	n, err := strconv.ParseFloat(whole, 64)
	if err != nil {
		return t
	}
	out := grouped(math.Abs(n))
	if t[0] == '-' {
		out = "-" + out
	}
	return out + part
}

// energyText writes kWh: whole ones from 100 on, else with as many decimals as
// leave three figures, two at most. What is no number is a dash.
func energyText(kwh float64) string {
	switch v := math.Abs(kwh); {
	case finite(kwh) != kwh:
		return "–"
	case v >= 99.95 || v == 0:
		return groupedTo(kwh, 0)
	case v >= 9.995:
		return groupedTo(kwh, 1)
	}
	return groupedTo(kwh, 2)
}

// bigEnergy is from where a chart counts in MWh.
const bigEnergyKWh = 1e5

// energyUnit is the unit of a chart whose largest value is given, and what to
// divide kWh by.
func energyUnit(mostKWh float64) (unit string, by float64) {
	if mostKWh >= bigEnergyKWh {
		return "MWh", 1000
	}
	return "kWh", 1
}

// mostOf is the largest finite value of some lists, 0 without any.
func mostOf(lists ...[]float64) float64 {
	most := 0.0
	for _, l := range lists {
		for _, v := range l {
			most = max(most, finite(v))
		}
	}
	return most
}
