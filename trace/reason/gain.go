package reason

import "math"

// Gain is how much better a cell explains what was found than the first hypothesis does, as a logarithm, by those findings alone that
// it explains better: what it is worth as one of several.
func (b *Belief) Gain(cell int) float64 {
	b.build()
	gain := 0.0
	for _, f := range b.factors {
		if r := f.rows[cell]; r != f.rest {
			gain += math.Max(0, f.gain(r, b.space.Draws))
		}
	}
	return gain
}

// gain of a row over the first hypothesis's.
func (f *Taken) gain(row int32, draws int) float64 {
	if f.gains == nil {
		n := len(f.logs) / draws
		f.gains = make([]float64, n)
		rest := logMean(f.logs[int(f.rest)*draws : (int(f.rest)+1)*draws])
		for r := range n {
			f.gains[r] = logMean(f.logs[r*draws:(r+1)*draws]) - rest
		}
	}
	return f.gains[row]
}

// Taken is the factor of a key; nil where there is none.
func (b *Belief) Taken(key string) *Taken {
	for _, f := range b.factors {
		if f.key == key {
			return f
		}
	}
	return nil
}

// MeanRatio is how much more likely the finding is with a cell, over draws that weigh so much, than with the first hypothesis over all.
func (f *Taken) MeanRatio(cell int, weights []float64) float64 {
	n := len(weights)
	with, rest := 0.0, 0.0
	for d, w := range weights {
		with += w * math.Exp(float64(f.logs[int(f.rows[cell])*n+d])/unit)
		rest += math.Exp(float64(f.logs[int(f.rest)*n+d])/unit) / float64(n)
	}
	return with / rest
}

// Mean density of the finding with a cell over n draws, strays mixed in.
func (f *Taken) Mean(cell, n int) float64 {
	if f.means == nil {
		f.means = make([]float64, len(f.logs)/n)
		for r := range f.means {
			f.means[r] = math.Exp(logMean(f.logs[r*n : (r+1)*n]))
		}
	}
	return f.means[f.rows[cell]]
}

// Stray is the density of the finding as one that has nothing to do with the vehicle.
func (f *Taken) Stray() float64 { return f.factor.Outliers * f.factor.Flat }
