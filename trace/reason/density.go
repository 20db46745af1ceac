package reason

import "math"

// The densities here are of a normal error with spread sigma around a value that is itself known only to lie, evenly,
// between two bounds: a severity between two simulated ones gives a reading between two simulated ones. With equal bounds
// they are the plain normal.

// DensityOver is the density of reading y.
func DensityOver(y, low, high, sigma float64) float64 {
	if high < low {
		low, high = high, low
	}
	if high-low < 1e-3*sigma {
		z := (y - (low+high)/2) / sigma
		return math.Exp(-z*z/2) / (sigma * math.Sqrt(2*math.Pi))
	}
	return (normal((y-low)/sigma) - normal((y-high)/sigma)) / (high - low)
}

// ChanceBelow is the chance that a reading is at most y.
func ChanceBelow(y, low, high, sigma float64) float64 {
	if high < low {
		low, high = high, low
	}
	if high-low < 1e-3*sigma {
		return normal((y - (low+high)/2) / sigma)
	}
	a, b := (y-high)/sigma, (y-low)/sigma
	return sigma * (normalIntegral(b) - normalIntegral(a)) / (high - low)
}

// normal is the distribution function of the standard normal.
func normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// normalIntegral is its integral from minus infinity.
func normalIntegral(z float64) float64 {
	return z*normal(z) + math.Exp(-z*z/2)/math.Sqrt(2*math.Pi)
}
