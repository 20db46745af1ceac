package trace

import (
	"math"
	"slices"

	"airpath/circuit"
	"airpath/trace/reason"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// A gaze is one hypothesis looked at closely, over all observations.
type gaze struct {
	t      *Tracer
	dims   int
	normal [][]float64
	seen   []lookedAt
	keys   map[string]int // how often each key was observed
}

// lookedAt is one observation, and how its reading moves on a vehicle with the fault.
type lookedAt struct {
	*likelihood
	bend
	count float64 // repeats of one measurement count as one together
}

func (t *Tracer) gazeAt(observations []observation, base int, normal [][]float64) *gaze {
	k := &gaze{t: t, dims: t.nuisances.dims(), normal: normal, keys: map[string]int{}}
	for i := range observations {
		k.keys[observations[i].key]++
	}
	for i := range observations {
		o := &observations[i]
		l := &likelihood{o: o, sigma: o.e.Sigma, healthy: t.healthy(o.procedure, o.reading)}
		l.outliers, l.flat = l.background()
		b := t.nuisances.aside(t.table, base, o.procedure, o.reading, o.r, o.e.Gauge)
		k.seen = append(k.seen, lookedAt{likelihood: l, bend: b, count: float64(k.keys[o.key])})
	}
	return k
}

// at a cell, taken in steps: the logarithm of the density of all observations, with everything else summed out.
func (k *gaze) at(c *steps) float64 { return k.evidence(k.over(c), c) }

func (k *gaze) evidence(over [][]step, c *steps) float64 {
	m := k.mode(over, c)
	shares, draws, logs := m.draw(k.normal)
	row, blurred := make([]float64, len(draws)), make([]float64, len(draws))
	for i := range k.seen {
		s := &k.seen[i]
		s.moves = s.shifts(draws)
		for j := range over[i] {
			step := &over[i][j]
			if !step.sure() {
				s.fill(blurred, step.stretch)
			}
			for d, share := range shares {
				switch {
				case c.at(share) != j:
				case step.sure():
					row[d] = s.density(d, step, c.along(share, j))
				default:
					row[d] = blurred[d]
				}
			}
		}
		for d, p := range row {
			logs[d] += math.Log(math.Max((1-s.outliers)*p+s.outliers*s.flat, 1e-300)) / s.count
		}
	}
	return floats.LogSumExp(logs) - math.Log(float64(len(logs)))
}

// at a share of the cell: in which step it lies.
func (s *steps) at(share float64) int {
	i := 0
	for i < len(s.shares)-2 && share >= s.shares[i+1] {
		i++
	}
	return i
}

// along is where in a step a share of the cell lies, from 0 to 1.
func (s *steps) along(share float64, i int) float64 {
	return (share - s.shares[i]) / (s.shares[i+1] - s.shares[i])
}

// A step lies between two simulated vehicles.
type step struct {
	stretch
	falls bool // a reading falls as the severity grows
}

// over all steps of a cell, by observation.
func (k *gaze) over(c *steps) [][]step {
	out := make([][]step, len(k.seen))
	for i := range k.seen {
		o := k.seen[i].o
		for j := range len(c.vehicles) - 1 {
			from, to := k.t.table.values(o.procedure, c.vehicles[j]), k.t.table.values(o.procedure, c.vehicles[j+1])
			if from == nil || to == nil {
				out[i] = append(out[i], step{stretch: stretch{unknown: true}})
				continue
			}
			a, b := from[o.reading], to[o.reading]
			out[i] = append(out[i], step{k.t.stretchOver(o.procedure, o.reading, a, b, &cell{from: c.vehicles[j], to: c.vehicles[j+1], b: 1}), a > b})
		}
	}
	return out
}

// sure tells whether a stretch has a figure at each severity.
func (s stretch) sure() bool { return !s.unknown && s.lost == 0 }

// along a step: the value at a share of the way from the milder to the worse end.
func (s *step) along(share float64) float64 {
	if s.falls {
		share = 1 - share
	}
	if s.slow {
		return 1 / (1/s.low + (1/s.high-1/s.low)*share)
	}
	return s.low + (s.high-s.low)*share
}

// density of an observation under a draw, at a severity in a step.
func (s *lookedAt) density(d int, over *step, share float64) float64 {
	x := over.along(share)
	moved := x*s.moves.times[d] + s.moves.plus[d]
	switch s.o.e.Kind {
	case circuit.Yes:
		return (1-over.vague)*s.o.e.Judge.Says(moved) + over.vague*oddYes
	case circuit.No:
		return 1 - (1-over.vague)*s.o.e.Judge.Says(moved) - over.vague*oddYes
	case circuit.Never:
		return neverWhen
	case circuit.Number:
		return (1-over.vague)*reason.DensityOver(s.o.e.Low, moved, moved, s.sigmaOf(x)) + over.vague*s.flat
	}
	return (1-over.vague)*between(s.o.e.Low, s.o.e.High, moved, moved, s.sigmaOf(x)) + over.vague*s.flat
}

// A crest is a normal around where the findings put severity and nuisances together.
type crest struct {
	center []float64 // of the nuisances, and last of the share of the severity
	along  []float64 // how the nuisances' center moves with the share
	root   *mat.TriDense
	logDet float64 // of the precision of the nuisances
	k      *gaze
}

// mode of a cell by its figures.
func (k *gaze) mode(over [][]step, c *steps) *crest {
	n := k.dims + 1
	x := make([]float64, n)
	x[n-1] = 0.5
	gradient, precision := make([]float64, n), mat.NewSymDense(n, nil)
	slope := make([]float64, n)
	var factor mat.Cholesky
	move := mat.NewVecDense(n, nil)
	for range modeSteps {
		precision.Zero()
		for i := range k.dims {
			gradient[i] = -x[i]
			precision.SetSym(i, i, 1)
		}
		gradient[n-1] = -(x[n-1] - 0.5) * 12 // as wide as what is even between 0 and 1
		precision.SetSym(n-1, n-1, 12)
		for i := range k.seen {
			s := &k.seen[i]
			j := c.at(x[n-1])
			part := &over[i][j]
			if s.o.e.Kind != circuit.Number || !part.sure() {
				continue
			}
			value := part.along(c.along(x[n-1], j))
			l, a := s.at(x[:k.dims])
			times := math.Exp(l)
			s.moves = &shifts{rough: s.rough}
			sigma := s.sigmaOf(value)
			off := (s.o.e.Low - value*times - a) / sigma
			in := (1 - s.outliers) * math.Exp(-off*off/2) / (sigma * math.Sqrt(2*math.Pi))
			trust := math.Max(in/(in+s.outliers*s.flat), 1e-3) / s.count
			s.slopes(x[:k.dims], value*times, slope)
			for j := range k.dims {
				slope[j] /= sigma
			}
			slope[n-1] = (part.along(1) - part.along(0)) / (c.shares[j+1] - c.shares[j]) * times / sigma
			for p := range n {
				if slope[p] == 0 {
					continue
				}
				gradient[p] += trust * off * slope[p]
				for q := p; q < n; q++ {
					if slope[q] != 0 {
						precision.SetSym(p, q, precision.At(p, q)+trust*slope[p]*slope[q])
					}
				}
			}
		}
		if !factor.Factorize(precision) {
			break
		}
		if err := factor.SolveVecTo(move, mat.NewVecDense(n, gradient)); err != nil {
			break
		}
		for i := range n {
			x[i] += math.Max(-2, math.Min(2, move.AtVec(i)))
		}
		x[n-1] = math.Max(0, math.Min(1, x[n-1]))
	}
	return k.crestAt(x, precision)
}

func (k *gaze) crestAt(x []float64, precision *mat.SymDense) *crest {
	m := &crest{center: x, along: make([]float64, k.dims), k: k}
	own := mat.NewSymDense(k.dims, nil)
	cross := mat.NewVecDense(k.dims, nil)
	for i := range k.dims {
		cross.SetVec(i, -precision.At(i, k.dims))
		for j := i; j < k.dims; j++ {
			own.SetSym(i, j, precision.At(i, j))
		}
	}
	var factor mat.Cholesky
	if !factor.Factorize(own) { // never with a prior on each; else as without findings
		own = mat.NewSymDense(k.dims, nil)
		for i := range k.dims {
			own.SetSym(i, i, 1)
		}
		factor.Factorize(own)
	}
	m.logDet = factor.LogDet()
	m.root = mat.NewTriDense(k.dims, mat.Upper, nil)
	factor.UTo(m.root)
	var along mat.VecDense
	if err := factor.SolveVecTo(&along, cross); err == nil {
		copy(m.along, along.RawVector().Data)
	}
	return m
}

// draw shares of the severity, evenly, and nuisances for each, with the logarithm of how much each counts.
func (m *crest) draw(normal [][]float64) (shares []float64, draws [][]float64, logs []float64) {
	n := len(normal)
	shares, draws, logs = make([]float64, n), make([][]float64, n), make([]float64, n)
	dims := m.k.dims
	plain := int(fromPrior * float64(n))
	center := make([]float64, dims)
	z := mat.NewVecDense(dims, nil)
	for d, e := range normal {
		shares[d] = math.Mod(0.5+float64(d)*math.Phi, 1) // evenly, and not in step with the normals
		for i := range center {
			center[i] = m.center[i] + m.along[i]*(shares[d]-m.center[dims])
		}
		draws[d] = slices.Clone(e)
		if d >= plain { // the precision is UᵀU: z = center + U⁻¹e
			if err := z.SolveVec(m.root, mat.NewVecDense(dims, e)); err == nil {
				for i := range dims {
					draws[d][i] = center[i] + wider*z.AtVec(i)
				}
			}
		}
		// All constants of the normals but these are the same.
		square, fromMode := 0.0, 0.0
		for i, x := range draws[d] {
			square += x * x
			row := 0.0
			for j := i; j < dims; j++ {
				row += m.root.At(i, j) * (draws[d][j] - center[j])
			}
			fromMode += row * row
		}
		share := float64(plain) / float64(n)
		mode := math.Log(1-share) - fromMode/(2*wider*wider) + m.logDet/2 - float64(dims)*math.Log(wider)
		prior := math.Log(share) - square/2
		logs[d] = -square/2 - floats.LogSumExp([]float64{mode, prior})
	}
	return shares, draws, logs
}
