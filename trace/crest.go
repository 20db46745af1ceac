package trace

import (
	"math"
	"slices"

	"airpath/circuit"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// A crest is a normal around where the findings put severities and nuisances together, found by Gauss and Newton.
type crest struct {
	dims   int
	center []float64     // of the nuisances, and after them of the share of each severity
	along  [][]float64   // by face: how the nuisances' center moves with its share
	ends   []ending      // by face
	root   []float64     // of the precision of the nuisances, which is its transpose times itself: upper triangular, by rows
	logDet float64       // of that precision
	spread *mat.SymDense // of all
}

const (
	modeSteps  = 5
	shareSlack = 12 // the precision of what is even between 0 and 1
)

// crest of faces by their figures.
func (k *gaze) crest(faces []*face) *crest {
	n := k.dims + len(faces)
	x := make([]float64, n)
	for f := range faces {
		x[k.dims+f] = 0.5
	}
	gradient, slope := make([]float64, n), make([]float64, n)
	precision := mat.NewSymDense(n, nil)
	var factor mat.Cholesky
	move := mat.NewVecDense(n, nil)
	for range modeSteps {
		precision.Zero()
		for i := range n {
			slack, middle := 1.0, 0.0
			if i >= k.dims {
				slack, middle = shareSlack, 0.5
			}
			gradient[i] = -(x[i] - middle) * slack
			precision.SetSym(i, i, slack)
		}
		is := k.even.of(x[:k.dims])
		for i := range k.seen {
			k.pull(x, is, faces, i, slope, gradient, precision)
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
		for f := range faces {
			x[k.dims+f] = math.Max(0, math.Min(1, x[k.dims+f]))
		}
	}
	return crestAt(x, precision, k.dims)
}

// pull of one observation at a point, the nuisances of which are given: what it adds to gradient and precision.
func (k *gaze) pull(x, is []float64, faces []*face, i int, slope, gradient []float64, precision *mat.SymDense) {
	dims := k.dims
	if k.seen[i].o.e.Kind != circuit.Number {
		return
	}
	var own likelihood
	s := k.seen[i].moving(&own, &shifts{rough: k.seen[i].rough})
	clear(slope)
	value, rough, ok := s.valueAt(x[dims:], faces, i, slope[dims:])
	if !ok {
		return
	}
	log, plus := s.at(is)
	times := math.Exp(log)
	sigma := math.Hypot(s.sigmaOf(value), rough)
	off := (s.o.e.Low - value*times - plus) / sigma
	in := (1 - s.outliers) * math.Exp(-off*off/2) / (sigma * math.Sqrt(2*math.Pi))
	trust := math.Max(in/(in+s.outliers*s.flat), 1e-3) / s.count
	s.slopes(is, value*times, slope[:dims])
	k.even.slopes(x, slope)
	for f := range faces {
		slope[dims+f] *= times
	}
	floats.Scale(1/sigma, slope)
	for p, g := range slope {
		if g == 0 {
			continue
		}
		gradient[p] += trust * off * g
		for q := p; q < len(slope); q++ {
			if slope[q] != 0 {
				precision.SetSym(p, q, precision.At(p, q)+trust*g*slope[q])
			}
		}
	}
}

// valueAt shares of the severities, and how it moves with each; ok is false where there is no figure.
func (s *lookedAt) valueAt(shares []float64, faces []*face, i int, slope []float64) (value, rough float64, ok bool) {
	own := owners(faces, i)
	values := make([]float64, len(own))
	for j, f := range own {
		k := slices.Index(faces, f)
		at := f.at(shares[k])
		part := &f.over[i][at]
		if !part.sure() {
			return 0, 0, false
		}
		rough = math.Hypot(rough, part.rough)
		values[j] = part.along(f.steps.along(shares[k], at))
		slope[k] = (part.along(1) - part.along(0)) / (f.shares[at+1] - f.shares[at])
	}
	if len(own) == 1 {
		return values[0], rough, true
	}
	both := joined(exactly(values[0]), exactly(values[1]), s.healthy, s.o.r)
	return both.middle(), rough, both.sure() && !math.IsNaN(s.healthy)
}

func crestAt(x []float64, precision *mat.SymDense, dims int) *crest {
	n := len(x)
	m := &crest{dims: dims, center: x}
	own := mat.NewSymDense(dims, nil)
	for i := range dims {
		for j := i; j < dims; j++ {
			own.SetSym(i, j, precision.At(i, j))
		}
	}
	var factor, whole mat.Cholesky
	if !factor.Factorize(own) || !whole.Factorize(precision) { // never with a prior on each; else as without findings
		for i := range n {
			for j := i; j < n; j++ {
				precision.SetSym(i, j, 0)
			}
			precision.SetSym(i, i, 1)
		}
		whole.Factorize(precision)
		factor.Factorize(precision.SliceSym(0, dims).(*mat.SymDense))
	}
	m.logDet = factor.LogDet()
	var root mat.TriDense
	factor.UTo(&root)
	for i := range dims {
		for j := range dims {
			m.root = append(m.root, root.At(i, j))
		}
	}
	m.spread = mat.NewSymDense(n, nil)
	if err := whole.InverseTo(m.spread); err != nil { // nearly singular: as good as it gets
		for i := range n {
			m.spread.SetSym(i, i, 1)
		}
	}
	for f := dims; f < n; f++ {
		cross := mat.NewVecDense(dims, nil)
		for i := range dims {
			cross.SetVec(i, -precision.At(i, f))
		}
		var along mat.VecDense
		moved := make([]float64, dims)
		if err := factor.SolveVecTo(&along, cross); err == nil {
			copy(moved, along.RawVector().Data)
		}
		m.along = append(m.along, moved)
		m.ends = append(m.ends, endingOf(x[f], wider*math.Sqrt(m.spread.At(f, f))))
	}
	return m
}
