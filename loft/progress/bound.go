package progress

import "math"

// bound95 is the distance, mm, from its estimate within which a quantity lies in 95 %
// of cases, given its variance, mm², and the part of that due to the rounding of one
// reading: this is uniformly distributed over a division of the rule, the rest
// normally. For rounding alone it is 0.95·√3 standard deviations, for none 1.96.
func bound95(variance, rounded float64) float64 {
	rounded = min(rounded, variance)
	even, normal := math.Sqrt(3*rounded), math.Sqrt(variance-rounded)
	if even < 1e-3*normal || normal == 0 && even == 0 {
		return certain * math.Sqrt(variance)
	}
	if normal < 1e-6*even {
		return 0.95 * even
	}
	low, high := 0.0, even+5*normal
	for range 40 {
		middle := (low + high) / 2
		if within(middle, even, normal) < 0.95 {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// within is the probability that the sum of a variable uniformly distributed over ±even
// and a normal one lies within ±q. It follows by integrating the density of the sum,
// with F(x) = x·Φ(x) + φ(x), whose derivative is Φ.
func within(q, even, normal float64) float64 {
	f := func(x float64) float64 {
		x /= normal
		return normal * (x*phi(x) + math.Exp(-x*x/2)/math.Sqrt(2*math.Pi))
	}
	return (f(q+even) - f(q-even) - f(-q+even) + f(-q-even)) / (2 * even)
}

// phi is the normal distribution function.
func phi(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

// certain is the number of standard deviations of a normal distribution that contain 95
// % of cases.
const certain = 1.959964
