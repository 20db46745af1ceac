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
}

// A Cell is one value of what a hypothesis leaves open.
type Cell struct {
	Hypothesis int
	Prior      float64 // of hypothesis and cell together; need not sum to 1 over the space
}

// A Factor is what one piece of evidence says about every cell under every draw.
type Factor struct {
	// Key names the evidence. A second factor with the same key takes the place of the first: a measurement repeated is
	// not fresh evidence.
	Key string
	// Density of what was observed, in rows of one value for each draw.
	Density []float64
	// Rows says which row is a cell's; nil means that each cell has its own, in order. Many cells may share one: most faults
	// leave most readings alone.
	Rows []int32
	// Flat is the density of what was observed if it has nothing to do with the vehicle's state (a misread gauge, the
	// wrong line written down), and Outliers the share of such findings. With both above zero no single factor can rule
	// out a hypothesis for good.
	Flat, Outliers float64
}

// A Belief holds a space and the evidence so far. It is for one goroutine, and what it hands out is not to be changed.
type Belief struct {
	space   Space
	factors []weighed            // by key
	known   map[string]Posterior // by the key left out, "" for none; until the next factor
	groups  *groups              // of cells that all factors speak of alike; until the next factor
}

type weighed struct {
	key  string
	logs []float64 // log of the density with outliers mixed in, per row and draw
	rows []int32   // by cell
}

// Row of a cell in the factor's density.
func (f *Factor) Row(cell, draws int) []float64 {
	r := cell
	if f.Rows != nil {
		r = int(f.Rows[cell])
	}
	return f.Density[r*draws : (r+1)*draws]
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
	return &Belief{space: s}, nil
}

// Weigh adds a factor, or replaces the one with the same key.
func (b *Belief) Weigh(f Factor) error {
	w := weighed{key: f.Key, logs: make([]float64, len(f.Density)), rows: f.Rows}
	if w.rows == nil {
		w.rows = make([]int32, len(b.space.Cells))
		for i := range w.rows {
			w.rows[i] = int32(i)
		}
	}
	if len(w.rows) != len(b.space.Cells) {
		return fmt.Errorf("reason: factor %q names rows for %d cells; there are %d", f.Key, len(w.rows), len(b.space.Cells))
	}
	rows := len(f.Density) / b.space.Draws
	if len(f.Density)%b.space.Draws != 0 || f.Rows == nil && rows != len(w.rows) {
		return fmt.Errorf("reason: factor %q has %d densities; want %d, one for every cell and draw", f.Key, len(f.Density), len(w.rows)*b.space.Draws)
	}
	for i, r := range w.rows {
		if r < 0 || int(r) >= rows {
			return fmt.Errorf("reason: factor %q gives cell %d row %d; it has %d", f.Key, i, r, rows)
		}
	}
	for i, d := range f.Density {
		if !(d >= 0) {
			return fmt.Errorf("reason: factor %q has density %g at %d; want 0 or more", f.Key, d, i)
		}
		w.logs[i] = math.Log((1-f.Outliers)*d + f.Outliers*f.Flat)
	}
	b.known, b.groups = nil, nil
	at, found := slices.BinarySearchFunc(b.factors, f.Key, func(w weighed, key string) int { return cmp.Compare(w.key, key) })
	if found {
		b.factors[at] = w
	} else {
		b.factors = slices.Insert(b.factors, at, w)
	}
	return nil
}

// Keys of the factors weighed, in order.
func (b *Belief) Keys() []string {
	keys := make([]string, len(b.factors))
	for i, f := range b.factors {
		keys[i] = f.key
	}
	return keys
}

// A Posterior is what a belief comes to.
type Posterior struct {
	Hypotheses []float64 // probabilities, summing to 1
	Cells      []float64 // the same before summing over what the hypotheses leave open
	Evidence   float64   // log of the probability (density) of all findings, prior mean; compares beliefs over one space
}

// Posterior of all the evidence.
func (b *Belief) Posterior() Posterior { return b.without("") }

// Without is the posterior had one factor never come.
func (b *Belief) Without(key string) Posterior { return b.without(key) }

func (b *Belief) without(key string) Posterior {
	if p, ok := b.known[key]; ok {
		return p
	}
	p := b.work(key)
	if b.known == nil {
		b.known = map[string]Posterior{}
	}
	b.known[key] = p
	return p
}

func (b *Belief) work(key string) Posterior {
	s := b.space
	if b.groups == nil {
		b.group()
	}
	likelihood := b.likelihoods(key)
	logs := make([]float64, len(s.Cells))
	best := math.Inf(-1)
	prior := 0.0
	for c, cell := range s.Cells {
		prior += cell.Prior
		logs[c] = math.Log(cell.Prior) + likelihood[b.groups.of[c]]
		best = math.Max(best, logs[c])
	}
	p := Posterior{Hypotheses: make([]float64, s.Hypotheses), Cells: make([]float64, len(s.Cells)), Evidence: math.Inf(-1)}
	if math.IsInf(best, -1) { // nothing on the list can have given this: the list is at fault, the priors stand
		for c, cell := range s.Cells {
			p.Cells[c] = cell.Prior / prior
			p.Hypotheses[cell.Hypothesis] += p.Cells[c]
		}
		return p
	}
	total := 0.0
	for c := range logs {
		p.Cells[c] = math.Exp(logs[c] - best)
		total += p.Cells[c]
	}
	for c, cell := range s.Cells {
		p.Cells[c] /= total
		p.Hypotheses[cell.Hypothesis] += p.Cells[c]
	}
	p.Evidence = best + math.Log(total) - math.Log(prior)
	return p
}

// DrawWeights are the probabilities of the shared draws for one cell, given all factors: what the findings say about
// the unknowns of the vehicle if that cell is the truth.
func (b *Belief) DrawWeights(cell int) []float64 {
	w := make([]float64, b.space.Draws)
	b.sum(w, cell, "")
	best := slices.Max(w)
	total := 0.0
	for d := range w {
		if math.IsInf(best, -1) {
			w[d] = 1
		} else {
			w[d] = math.Exp(w[d] - best)
		}
		total += w[d]
	}
	for d := range w {
		w[d] /= total
	}
	return w
}

// sum the logs of a cell over all factors but one.
func (b *Belief) sum(perDraw []float64, cell int, without string) {
	clear(perDraw)
	n := b.space.Draws
	for _, f := range b.factors {
		if without != "" && f.key == without {
			continue
		}
		r := int(f.rows[cell])
		for d, l := range f.logs[r*n : (r+1)*n] {
			perDraw[d] += l
		}
	}
}

// logMean is log(mean(exp(x))) without overflow.
func logMean(x []float64) float64 {
	best := slices.Max(x)
	if math.IsInf(best, -1) {
		return best
	}
	sum := 0.0
	for _, v := range x {
		sum += math.Exp(v - best)
	}
	return best + math.Log(sum/float64(len(x)))
}

// Odds of a probability.
func Odds(p float64) float64 { return p / (1 - p) }
