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
	switch {
	case a > certain:
		return 1
	case b < -certain:
		return 0
	}
	return sigma * (normalIntegral(b) - normalIntegral(a)) / (high - low)
}

// certain is how many spreads away a normal leaves nothing that a number could hold beside 1.
const certain = 9

// normal is the distribution function of the standard normal.
func normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// normalIntegral is its integral from minus infinity.
func normalIntegral(z float64) float64 {
	return z*normal(z) + math.Exp(-z*z/2)/math.Sqrt(2*math.Pi)
}

// RoughlyBelow is ChanceBelow to some seven digits, in a fraction of the time: for choices, where many are held against one another.
func RoughlyBelow(y, low, high, sigma float64) float64 {
	if high < low {
		low, high = high, low
	}
	a, b := (y-high)/sigma, (y-low)/sigma
	switch {
	case a > reach:
		return 1
	case b < -reach:
		return 0
	case b-a < 0.01:
		return between(&roughNormal, (a+b)/2)
	}
	return (between(&roughIntegral, b) - between(&roughIntegral, a)) / (b - a)
}

// Tables of the normal and its integral within reach, with their slopes, for cubics between the entries.
const (
	reach   = 6.0
	perUnit = 32
)

type cubics [2*reach*perUnit + 1][2]float64

var roughNormal, roughIntegral = func() (n, i cubics) {
	for k := range n {
		z := float64(k)/perUnit - reach
		n[k] = [2]float64{normal(z), math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)}
		i[k] = [2]float64{normalIntegral(z), normal(z)}
	}
	return n, i
}()

func between(c *cubics, z float64) float64 {
	switch {
	case z <= -reach:
		return 0
	case z >= reach: // both tables end on a straight line
		end := c[len(c)-1]
		return end[0] + end[1]*(z-reach)
	}
	at := (z + reach) * perUnit
	k := int(at)
	t := at - float64(k)
	p, q := &c[k], &c[k+1]
	s := 1 - t
	return s*s*((1+2*t)*p[0]+t*p[1]/perUnit) + t*t*((3-2*t)*q[0]-s*q[1]/perUnit)
}
