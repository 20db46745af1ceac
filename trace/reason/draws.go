package reason

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// Draws are n points (an even number) of a standard normal in dims dimensions, spread evenly instead of at random: a
// scrambled Halton sequence mapped through the inverse of the normal. They come in opposite pairs, so that every mean is
// zero. Equal arguments give equal points.
func Draws(n, dims int) [][]float64 {
	half := (n + 1) / 2
	points := mat.NewDense(half, dims, nil)
	source := rand.NewPCG(7, uint64(dims))
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(dims, source), Src: source}.Sample(points)
	out := make([][]float64, 0, 2*half)
	for i := range half {
		z, opposite := make([]float64, dims), make([]float64, dims)
		for k := range dims {
			z[k] = math.Sqrt2 * math.Erfinv(2*min(max(points.At(i, k), 1e-9), 1-1e-9)-1)
			opposite[k] = -z[k]
		}
		out = append(out, z, opposite)
	}
	return out[:n]
}
