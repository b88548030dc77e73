package energy

import "math"

// dayClearness returns the clearness of n days whose mean is kt: the middles
// of n equal parts of the distribution, in an order that mixes clear and dull
// days.
//
// Distribution: P. Bendt, M. Collares-Pereira and A. Rabl, Solar Energy 27
// (1981) 1-5, a formula for the curves of Liu and Jordan 1960: F(K) =
// (exp(g Kmin) - exp(g K)) / (exp(g Kmin) - exp(g Kmax)) with Kmin 0.05; Kmax
// after Hollands and Huget, Solar Energy 30 (1983) 195-209; g after Herzog, as
// in Duffie and Beckman 2.9 (all from memory). g is refined until the mean is kt.
func dayClearness(kt float64, n int) []float64 {
	out := make([]float64, n)
	const kMin = 0.05
	kMax := max(kt+0.01, 0.6313+0.267*kt-11.9*math.Pow(kt-0.75, 8))
	if kt <= kMin+0.01 {
		for i := range out {
			out[i] = kt
		}
		return out
	}
	low, high := -60.0, 60.0
	for range 60 {
		g := (low + high) / 2
		var sum float64
		for i := range out {
			sum += clearnessAt((float64(i)+0.5)/float64(n), g, kMin, kMax)
		}
		if sum/float64(n) < kt {
			low = g
		} else {
			high = g
		}
	}
	for i := range out {
		// A stride without a common divisor with 28 to 31 visits each part once.
		at := (i*strideOf(n) + n/2) % n
		out[i] = clearnessAt((float64(at)+0.5)/float64(n), high, kMin, kMax)
	}
	return out
}

// strideOf is close to n times the golden ratio's share and has no common
// divisor with n.
func strideOf(n int) int {
	for s := n * 618 / 1000; s > 1; s-- {
		if gcd(s, n) == 1 {
			return s
		}
	}
	return 1
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// clearnessAt is the clearness below which a share f of the days lies.
func clearnessAt(f, g, kMin, kMax float64) float64 {
	if math.Abs(g) < 1e-9 {
		return kMin + f*(kMax-kMin)
	}
	// Written from the larger exponential, so that it does not overflow.
	span := g * (kMax - kMin)
	if span > 0 {
		return kMax + math.Log(math.Exp(-span)*(1-f)+f)/g
	}
	return kMin + math.Log((1-f)+f*math.Exp(span))/g
}
