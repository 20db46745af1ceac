package reason

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// A Space is an explicit list of hypotheses. A hypothesis may have several cells: values of something that it leaves
// open (a severity), which are summed out. Draws are values of what all hypotheses share and nobody knows (the bias of a
// gauge, the size of a tank); each is equally likely, holds for the whole case, and is summed out last, because a bias
// that explains one reading must then explain all of them.
type Space struct {
	Hypotheses int
	Cells      []Cell
	Draws      int // at least 1
	// Together says that hypotheses other than the first may hold at once; the first is then that none does. What of them is
	// listed together is told by [Belief.Pair].
	Together bool
}

// A Cell is one value of what a hypothesis leaves open.
type Cell struct {
	Hypothesis int
	Prior      float64 // of hypothesis and cell together; need not sum to 1 over the space
	Slight     bool    // so slight that it would not have been noticed: it is not asked about when a hypothesis is cleared
}

// A Factor is what one piece of evidence says about every cell under every draw.
type Factor struct {
	// Key names the evidence. A second factor with the same key takes the place of the first: a measurement repeated is
	// not fresh evidence.
	Key string
	// Group names what the evidence was got by: one mistake in it may have spoilt all of the group. "" is a group of its own.
	Group string
	// Density of what was observed, in rows of one value for each draw.
	Density []float64
	// Rows says which row is a cell's; nil means that each cell has its own, in order. Many cells may share one: most faults
	// leave most readings alone.
	Rows []int32
	// Flat is the density of what was observed if it has nothing to do with the vehicle's state (a misread gauge, the
	// wrong line written down), and Outliers the share of such findings. With both above zero no single factor can rule
	// out a hypothesis for good.
	Flat, Outliers float64
	// Joint gives the densities where two cells hold together that both have other rows than the first hypothesis; of two of
	// which only one has, that one's row holds. Nil: the mean of the two rows.
	Joint func(rowA, rowB int32) []float64
}

// A Belief holds a space and the evidence so far. It is for one goroutine, and what it hands out is not to be changed.
//
// Logarithms of densities are summed as whole numbers of 2^-46: such sums are the same to the last bit in whatever order the
// evidence came, and a factor that is taken away leaves nothing behind.
type Belief struct {
	space   Space
	factors []*Taken // by key
	pairs   []Pair
	logs    []float64 // of the pairs' priors
	priors  []float64 // logarithms, by cell
	stale   bool      // classes are to be worked out anew
	classes classes
	spare   []int64

	touch   []uint64 // by cell: see touchedBy
	asked   []bool   // by cell: it is there
	touched bool     // so are these two

	like       []float64 // log likelihood by class; NaN where it has not been asked for
	close      []float64 // by cell: see LookCloser; nil for none
	closePairs []float64
	known      *Posterior
}

// Taken is a factor that has been looked over for a space and may be added to many beliefs over it, by one goroutine at a time.
type Taken struct {
	key, group string
	logs       []int64 // with outliers mixed in, per row and draw
	rows       []int32 // by cell
	rest       int32   // the first hypothesis's row
	factor     Factor
	joint      map[uint64][]int64
	gains      []float64 // by row; see Gain
	means      []float64 // by row; see Mean
	over       []float64 // inverse densities, per row and draw
}

const (
	unit  = 1 << 46 // of the logarithms
	least = -300.0  // logarithm that stands for zero
)

func fixed(density float64) int64 {
	return int64(math.Round(math.Max(math.Log(density), least) * unit))
}

// Row of a cell in the factor's density.
func (f *Factor) Row(cell, draws int) []float64 {
	r := cell
	if f.Rows != nil {
		r = int(f.Rows[cell])
	}
	return f.Density[r*draws : (r+1)*draws]
}

// row of logarithms, one for each draw.
func (f *Taken) row(r int32, draws int) []int64 { return f.logs[int(r)*draws:][:draws:draws] }

// LogLikelihood of a cell by all factors, the draws summed out, without what a closer look found.
func (b *Belief) LogLikelihood(cell int) float64 {
	b.build()
	return b.classes.logMean(b.classes.of[cell])
}

// LogMeans of a cell over some factors: what each makes of it by itself, the draws summed out one factor at a time.
func (b *Belief) LogMeans(cell int, counts func(key string) bool) float64 {
	sum := 0.0
	for _, f := range b.factors {
		if counts(f.key) {
			sum += math.Log(f.Mean(cell, b.space.Draws))
		}
	}
	return sum
}

// LogLikelihoodTogether is the same of two cells that hold together.
func (b *Belief) LogLikelihoodTogether(x, y int) float64 {
	b.build()
	return logMean(b.together(nil, x, y))
}

// LogMeansTogether is LogMeans of two cells that hold together.
func (b *Belief) LogMeansTogether(x, y int, counts func(key string) bool) float64 {
	sum := 0.0
	for _, f := range b.factors {
		if counts(f.key) {
			sum += logMean(b.rowFor(f, x, y))
		}
	}
	return sum
}

// LookCloser tells how much likelier some cells make the evidence, each by itself, than the draws that all hypotheses share can tell: a
// logarithm by cell, to be added; and the same of pairs, by their place in the list. It holds until a factor is added or taken away, or other pairs are
// listed.
func (b *Belief) LookCloser(cells, pairs map[int]float64) {
	b.close, b.closePairs, b.known = make([]float64, len(b.space.Cells)), make([]float64, len(b.pairs)), nil
	for c, x := range cells {
		b.close[c] = x
	}
	for i, x := range pairs {
		b.closePairs[i] = x
	}
}

// NewBelief starts from the priors alone.
func NewBelief(s Space) (*Belief, error) {
	if s.Draws < 1 {
		return nil, fmt.Errorf("reason: a space needs at least one draw, not %d", s.Draws)
	}
	total := 0.0
	for i, c := range s.Cells {
		if c.Hypothesis < 0 || c.Hypothesis >= s.Hypotheses {
			return nil, fmt.Errorf("reason: cell %d belongs to hypothesis %d; there are %d", i, c.Hypothesis, s.Hypotheses)
		}
		if !(c.Prior >= 0) || math.IsInf(c.Prior, 0) {
			return nil, fmt.Errorf("reason: cell %d has prior %g; want a finite number of 0 or more", i, c.Prior)
		}
		total += c.Prior
	}
	if total <= 0 {
		return nil, fmt.Errorf("reason: no hypothesis has a prior above zero")
	}
	b := &Belief{space: s, stale: true, priors: make([]float64, len(s.Cells))}
	for i, c := range s.Cells {
		b.priors[i] = math.Log(c.Prior)
	}
	return b, nil
}

// Weigh adds a factor, or replaces the one with the same key. The belief keeps the factor.
func (b *Belief) Weigh(f Factor) error {
	w, err := b.space.Take(f)
	if err != nil {
		return err
	}
	b.Add(w)
	return nil
}

// Add is Weigh with a factor that has been taken for a like space.
func (b *Belief) Add(w *Taken) {
	at, found := slices.BinarySearchFunc(b.factors, w.key, func(w *Taken, key string) int { return cmp.Compare(w.key, key) })
	b.changed()
	if found {
		b.takeAway(b.factors[at])
		b.factors[at] = w
	} else {
		b.factors = slices.Insert(b.factors, at, w)
	}
	if !b.stale {
		b.classes.refine(w)
	}
}

// changed evidence: what was worked out from it is of no use any more.
func (b *Belief) changed() { b.known, b.close, b.closePairs, b.touched = nil, nil, nil, false }

// takeAway what a factor brought.
func (b *Belief) takeAway(w *Taken) {
	if !b.stale {
		b.classes.remove(w)
	}
}

// Take looks a factor over and turns its densities into logarithms.
func (s *Space) Take(f Factor) (*Taken, error) {
	w := &Taken{key: f.Key, group: cmp.Or(f.Group, f.Key), logs: make([]int64, len(f.Density)), rows: f.Rows, factor: f}
	if w.rows == nil {
		w.rows = make([]int32, len(s.Cells))
		for i := range w.rows {
			w.rows[i] = int32(i)
		}
	}
	if len(w.rows) != len(s.Cells) {
		return nil, fmt.Errorf("reason: factor %q names rows for %d cells; there are %d", f.Key, len(w.rows), len(s.Cells))
	}
	rows := len(f.Density) / s.Draws
	if len(f.Density)%s.Draws != 0 || f.Rows == nil && rows != len(w.rows) {
		return nil, fmt.Errorf("reason: factor %q has %d densities; want %d, one for every cell and draw", f.Key, len(f.Density), len(w.rows)*s.Draws)
	}
	for i, r := range w.rows {
		if r < 0 || int(r) >= rows {
			return nil, fmt.Errorf("reason: factor %q gives cell %d row %d; it has %d", f.Key, i, r, rows)
		}
	}
	for i, d := range f.Density {
		if !(d >= 0) {
			return nil, fmt.Errorf("reason: factor %q has density %g at %d; want 0 or more", f.Key, d, i)
		}
		w.logs[i] = fixed((1-f.Outliers)*d + f.Outliers*f.Flat)
	}
	w.rest = w.rows[0]
	return w, nil
}

// Forget the factor of a key.
func (b *Belief) Forget(key string) {
	at, found := slices.BinarySearchFunc(b.factors, key, func(w *Taken, key string) int { return cmp.Compare(w.key, key) })
	if found {
		b.takeAway(b.factors[at])
		b.factors = slices.Delete(b.factors, at, at+1)
		b.changed()
	}
}

// Keys of the factors weighed, in order.
func (b *Belief) Keys() []string {
	keys := make([]string, len(b.factors))
	for i, f := range b.factors {
		keys[i] = f.key
	}
	return keys
}

// build the classes anew.
func (b *Belief) build() {
	if !b.stale {
		return
	}
	b.stale = false
	b.classes.begin(len(b.space.Cells), b.space.Draws)
	for _, f := range b.factors {
		b.classes.refine(f)
	}
}

// resized slice of a length, with its memory kept where it is large enough.
func resized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// logMean is log(mean(exp(x))) of sums, without overflow.
func logMean(x []int64) float64 {
	if len(x) == 1 {
		return float64(x[0]) / unit
	}
	best := slices.Max(x)
	sum := 0.0
	for _, v := range x {
		if z := v - best; z > negligible {
			sum += math.Exp(float64(z) / unit)
		}
	}
	return float64(best)/unit + math.Log(sum/float64(len(x)))
}

// negligible is the logarithm of a share that changes nothing any more.
const negligible = -40 * unit

// DrawWeights are the probabilities of the shared draws for one cell, given all factors: what the findings say about
// the unknowns of the vehicle if that cell is the truth.
func (b *Belief) DrawWeights(cell int) []float64 {
	b.build()
	w := make([]float64, b.space.Draws)
	weights(w, b.classes.sums(nil, b.classes.of[cell]))
	return w
}

// weights of draws that sum to 1.
func weights(w []float64, sums []int64) {
	best := slices.Max(sums)
	total := 0.0
	for d, v := range sums {
		w[d] = math.Exp(float64(v-best) / unit)
		total += w[d]
	}
	for d := range w {
		w[d] /= total
	}
}

// Odds of a probability.
func Odds(p float64) float64 { return p / (1 - p) }
