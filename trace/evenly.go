package trace

import (
	"math"
	"slices"
)

// evenly are the nuisances, from the first to before the last, that lie evenly between bounds: the root of 3 of their own spreads to either side.
// They are drawn as normals like all others, and are what lies as far along between the bounds.
type evenly struct{ first, last int }

// along is how far off, in its own spreads, a nuisance is that is drawn as z.
func (evenly) along(z float64) float64 { return math.Sqrt(3) * math.Erf(z/math.Sqrt2) }

// slope of along.
func (evenly) slope(z float64) float64 { return math.Sqrt(6/math.Pi) * math.Exp(-z*z/2) }

// of one draw: what the nuisances are.
func (e evenly) of(draw []float64) []float64 {
	if e.first == e.last {
		return draw
	}
	out := slices.Clone(draw)
	for k := e.first; k < e.last; k++ {
		out[k] = e.along(draw[k])
	}
	return out
}

func (e evenly) all(draws [][]float64) [][]float64 {
	out := make([][]float64, len(draws))
	for i, draw := range draws {
		out[i] = e.of(draw)
	}
	return out
}

// slopes by the draw, from those by what the nuisances are.
func (e evenly) slopes(draw, slopes []float64) {
	for k := e.first; k < e.last; k++ {
		slopes[k] *= e.slope(draw[k])
	}
}
