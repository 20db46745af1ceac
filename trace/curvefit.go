package trace

import (
	"math"
	"slices"

	"airpath/circuit"

	"gonum.org/v1/gonum/mat"
)

// How a recorded curve is weighed. What is wrong with one sample is wrong with its neighbours too: a logger at ten readings a
// second knows no more than one at one reading in ten seconds (see the package's tests for what that comes to).
const (
	independentEvery = 10.0              // s from one independent reading to the next; engineering judgement
	leastNoise       = 0.5 * circuit.PSI // of a reading, 1 σ, however smooth the curve
	startUnsure      = 2.0               // s, 1 σ: when the first step was begun
)

// A fit is the least squares of recorded curves, with what is not known of the vehicle left free within its prior: the own
// error of each gauge, when the first step was begun, and the scatter of the vehicle. All of it is linear around one simulated
// curve, so that it is summed out in closed form.
type fit struct {
	measured []float64 // Pa, gauge after gauge
	weight   []float64 // 1/σ² of each sample
	free     [][]float64
	solver   mat.Cholesky // of I + JᵀWJ
}

// newFit with the columns of what is free, each scaled to its own σ.
func newFit(measured, weight []float64, free [][]float64) *fit {
	f := &fit{measured: measured, weight: weight, free: free}
	n := len(free)
	if n == 0 {
		return f
	}
	a := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			a.SetSym(i, j, f.dot(free[i], free[j]))
		}
		a.SetSym(i, i, a.At(i, i)+1)
	}
	f.solver.Factorize(a) // I + JᵀWJ is always positive definite
	return f
}

func (f *fit) dot(a, b []float64) float64 {
	s := 0.0
	for i, w := range f.weight {
		s += w * a[i] * b[i]
	}
	return s
}

// project is the part of a·b that nothing free could explain: aᵀWb − (JᵀWa)ᵀ(I+JᵀWJ)⁻¹(JᵀWb).
func (f *fit) project(a, b []float64) float64 {
	n := len(f.free)
	whole := f.dot(a, b)
	if n == 0 {
		return whole
	}
	x, y := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		x.SetVec(i, f.dot(f.free[i], a))
		y.SetVec(i, f.dot(f.free[i], b))
	}
	var z mat.VecDense
	if err := f.solver.SolveVecTo(&z, y); err != nil {
		return whole
	}
	return whole - mat.Dot(x, &z)
}

// explained is a curve with what is free set to what fits best.
func (f *fit) explained(curve []float64) []float64 {
	n := len(f.free)
	out := slices.Clone(curve)
	if n == 0 {
		return out
	}
	r := f.residual(curve)
	y := mat.NewVecDense(n, nil)
	for i := range n {
		y.SetVec(i, f.dot(f.free[i], r))
	}
	var z mat.VecDense
	if err := f.solver.SolveVecTo(&z, y); err != nil {
		return out
	}
	for i := range n {
		for k := range out {
			out[k] += z.AtVec(i) * f.free[i][k]
		}
	}
	return out
}

func (f *fit) residual(curve []float64) []float64 {
	out := make([]float64, len(curve))
	for i := range out {
		out[i] = f.measured[i] - curve[i]
	}
	return out
}

// misfit of a curve: χ², what is free summed out.
func (f *fit) misfit(curve []float64) float64 {
	r := f.residual(curve)
	return max(0, f.project(r, r))
}

// along is the misfit between two curves as a parabola of the share of the way: c0 − 2·c1·u + c2·u².
func (f *fit) along(from, to []float64) (c0, c1, c2 float64) {
	r := f.residual(from)
	d := make([]float64, len(from))
	for i := range d {
		d[i] = to[i] - from[i]
	}
	return max(0, f.project(r, r)), f.project(d, r), max(0, f.project(d, d))
}

// over is the log of exp(−χ²/2) averaged over a stretch from share a to share b of the way between two curves, with χ² scaled down.
func (f *fit) over(from, to []float64, a, b, scale float64) float64 {
	c0, c1, c2 := f.along(from, to)
	c0, c1, c2 = c0/scale, c1/scale, c2/scale
	if c2*(b-a)*(b-a) < 1e-9 {
		u := (a + b) / 2
		return -(c0 - 2*c1*u + c2*u*u) / 2
	}
	sd := 1 / math.Sqrt(c2)
	u := c1 / c2
	lowest := c0 - c1*c1/c2
	at := min(max(u, a), b) // the best in the stretch: the tails are worked out from there, so that nothing underflows
	best := lowest + (at-u)*(at-u)*c2
	const steps = 64
	low, high := max(a, at-8*sd), min(b, at+8*sd)
	sum := 0.0
	for k := range steps {
		x := low + (high-low)*(float64(k)+0.5)/steps
		sum += math.Exp(-(lowest + (x-u)*(x-u)*c2 - best) / 2)
	}
	return -best/2 + math.Log(max(sum*(high-low)/steps/(b-a), 1e-300))
}

// noiseOf evenly taken samples, from second differences, which a smooth curve hardly has; robust against jumps.
func noiseOf(p []float64) float64 {
	var d []float64
	for i := 2; i < len(p); i++ {
		if x := p[i] - 2*p[i-1] + p[i-2]; !math.IsNaN(x) {
			d = append(d, math.Abs(x))
		}
	}
	if len(d) < 8 {
		return 0
	}
	slices.Sort(d)
	return d[len(d)/2] / 0.6745 / math.Sqrt(6)
}
