package reason

import "math"

// Effects says how each factor changes the odds of hypotheses: by which factor, when it is counted beside all others. It is exact:
// the probability of one finding given the others is the harmonic mean of its density over what all of them leave of the draws.
type Effects struct {
	belief  *Belief
	post    Posterior
	total   []float64 // by factor: of the probability over the density
	known   map[int32][]float64
	weights []float64
}

// Probabilities of a cell and of a pair below which it does not count in what all others make of a finding.
const (
	leastCell = 1e-9
	leastPair = 1e-5
)

// Effects of the factors, in the order of Keys.
func (b *Belief) Effects() *Effects {
	e := &Effects{belief: b, post: b.Posterior(), total: make([]float64, len(b.factors)), known: map[int32][]float64{}, weights: make([]float64, b.space.Draws)}
	for c := range b.space.Cells {
		p := e.post.Cells[c]
		if p > leastCell {
			for f, x := range e.cell(c) {
				e.total[f] += e.post.Singles[c] * x
			}
		}
	}
	for i := range b.pairs {
		if p := e.post.Pairs[i]; p > leastPair {
			for f, x := range e.pair(i) {
				e.total[f] += p * x
			}
		}
	}
	return e
}

// cell by cell: what is left of the draws over the density of each factor.
func (e *Effects) cell(c int) []float64 {
	b := e.belief
	k := b.classes.of[c]
	if x, ok := e.known[k]; ok {
		return x
	}
	x := e.over(b.classes.sums(nil, k), c, -1)
	e.known[k] = x
	return x
}

func (e *Effects) pair(i int) []float64 {
	b := e.belief
	pr := &b.pairs[i]
	return e.over(b.together(nil, pr.A, pr.B), pr.A, pr.B)
}

func (e *Effects) over(sums []int64, x, y int) []float64 {
	b := e.belief
	weights(e.weights, sums)
	out := make([]float64, len(b.factors))
	for f, factor := range b.factors {
		if y < 0 || factor.rows[x] == factor.rest || factor.rows[y] == factor.rest {
			at := x
			if y >= 0 && factor.rows[x] == factor.rest {
				at = y
			}
			out[f] = dot(e.weights, factor.inverse(factor.rows[at], len(e.weights)))
			continue
		}
		row := b.rowFor(factor, x, y)
		for d, w := range e.weights {
			out[f] += w * math.Exp(-float64(row[d])/unit)
		}
	}
	return out
}

// Of a hypothesis: by factor, the odds that it holds with the factor over the odds without.
func (e *Effects) Of(h int) []float64 {
	b := e.belief
	out := make([]float64, len(b.factors))
	for c := range b.space.Cells {
		if b.space.Cells[c].Hypothesis != h {
			continue
		}
		alone := e.post.Singles[c]
		for f, x := range e.cell(c) {
			out[f] += alone * x
		}
	}
	for i := range b.pairs {
		p := e.post.Pairs[i]
		if pr := &b.pairs[i]; p > leastPair && (b.space.Cells[pr.A].Hypothesis == h || b.space.Cells[pr.B].Hypothesis == h) {
			for f, x := range e.pair(i) {
				out[f] += p * x
			}
		}
	}
	with := Odds(e.post.Hypotheses[h])
	for f := range out {
		out[f] = with / Odds(math.Min(out[f]/e.total[f], 1-1e-15))
	}
	return out
}

// inverse of a row's densities, kept.
func (f *Taken) inverse(row int32, draws int) []float64 {
	if f.over == nil {
		f.over = make([]float64, len(f.logs))
		for i, l := range f.logs {
			f.over[i] = math.Exp(-float64(l) / unit)
		}
	}
	return f.over[int(row)*draws : (int(row)+1)*draws]
}
