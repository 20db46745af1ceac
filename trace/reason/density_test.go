package reason

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Against the trapezium rule over the bounds and over the readings.
func TestDensitiesAgainstQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-5, 5).Draw(t, "low")
		high := low + rapid.Float64Range(0, 20).Draw(t, "width")
		sigma := rapid.Float64Range(0.1, 3).Draw(t, "sigma")
		y := rapid.Float64Range(-10, 30).Draw(t, "y")
		const n = 4000
		density, below := 0.0, 0.0
		for i := range n {
			z := (y - (low + (high-low)*(float64(i)+0.5)/n)) / sigma
			density += math.Exp(-z*z/2) / (sigma * math.Sqrt(2*math.Pi)) / n
			below += normal(z) / n
		}
		if d := DensityOver(y, low, high, sigma); math.Abs(d-density) > 1e-4/sigma {
			t.Fatalf("density %g, by quadrature %g", d, density)
		}
		if p := ChanceBelow(y, high, low, sigma); math.Abs(p-below) > 1e-4 {
			t.Fatalf("chance %g, by quadrature %g", p, below)
		}
	})
}

func TestDrawsAreStandardNormal(t *testing.T) {
	draws := Draws(512, 10)
	for k := range 10 {
		mean, square := 0.0, 0.0
		for _, d := range draws {
			mean += d[k] / 512
			square += d[k] * d[k] / 512
		}
		assert.InDelta(t, 0, mean, 1e-12)
		assert.InDelta(t, 1, square, 0.05, "dimension %d", k)
		for j := range k {
			cross := 0.0
			for _, d := range draws {
				cross += d[k] * d[j] / 512
			}
			assert.InDelta(t, 0, cross, 0.12, "dimensions %d and %d", j, k)
		}
	}
	assert.Equal(t, draws, Draws(512, 10))
}

func TestRoughlyBelowIsRoughlyChanceBelow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-50, 50).Draw(t, "low")
		high := low + rapid.Float64Range(0, 30).Draw(t, "width")
		sigma := rapid.Float64Range(0.1, 20).Draw(t, "sigma")
		y := rapid.Float64Range(-80, 120).Draw(t, "y")
		assert.InDelta(t, ChanceBelow(y, low, high, sigma), RoughlyBelow(y, low, high, sigma), 2e-6)
	})
}
