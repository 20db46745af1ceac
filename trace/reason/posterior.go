package reason

import (
	"math"
	"math/bits"
	"slices"
)

// A Pair is two cells of different hypotheses that hold together.
type Pair struct {
	A, B  int
	Prior float64 // on the scale of the cells' priors
}

// Pair lists what may hold together. It takes the place of an earlier list. The likelihood of a pair is worked out exactly
// from the same factors and draws.
func (b *Belief) Pair(pairs []Pair) {
	b.pairs, b.known, b.closePairs = pairs, nil, nil
	b.logs = resized(b.logs, len(pairs))
	for i := range pairs {
		b.logs[i] = math.Log(pairs[i].Prior)
	}
}

// Pairs that are listed.
func (b *Belief) Pairs() []Pair { return b.pairs }

// A Posterior is what a belief comes to.
type Posterior struct {
	// Hypotheses are the probabilities that each holds, alone or with another: without pairs they sum to 1, with pairs to 1
	// and once more what the pairs have.
	Hypotheses []float64
	Alone      []float64 // that it alone holds; with Pairs these sum to 1
	Pairs      []float64 // of the pairs, in their order
	Cells      []float64 // the same as Hypotheses before summing over what they leave open
	Singles    []float64 // the same as Alone
	Evidence   float64   // log of the probability (density) of all findings, prior mean; compares beliefs over one space
}

// Posterior of all the evidence.
func (b *Belief) Posterior() Posterior {
	if b.known == nil {
		b.known = &Posterior{}
		b.PosteriorInto(b.known)
	}
	return *b.known
}

// PosteriorInto is Posterior without new memory where there is enough.
func (b *Belief) PosteriorInto(p *Posterior) {
	b.build()
	sums := b.spare
	b.posterior(p, b.classes.logMean, func(pair *Pair) float64 {
		sums = b.together(sums, pair.A, pair.B)
		return logMean(sums)
	})
	b.spare = sums
}

// Without is the posterior had one factor never come.
func (b *Belief) Without(key string) Posterior {
	return b.without(func(f *Taken) bool { return f.key == key })
}

// WithoutGroup is the posterior had no factor of a group come.
func (b *Belief) WithoutGroup(group string) Posterior {
	return b.without(func(f *Taken) bool { return f.group == group })
}

func (b *Belief) without(left func(*Taken) bool) Posterior {
	b.build()
	var out []*Taken
	for _, f := range b.factors {
		if left(f) {
			out = append(out, f)
		}
	}
	k := &b.classes
	base, shares, parts := slices.Clone(k.base), make([]float64, k.draws), make([]float64, k.draws)
	for _, f := range out {
		for d, l := range f.row(f.rest, k.draws) {
			base[d] -= l
		}
	}
	top := sharesOf(shares, base)
	first := make([]int, len(k.count)) // cells of the classes
	for c, class := range slices.Backward(k.of) {
		first[class] = c
	}
	sums := make([]int64, k.draws)
	var p Posterior
	b.posterior(&p, func(class int32) float64 {
		copy(sums, k.overOf(class))
		for _, f := range out {
			if r := f.rows[first[class]]; r != f.rest {
				addOver(sums, f.row(f.rest, k.draws), f.row(r, k.draws))
			}
		}
		return logMeanOf(base, shares, top, sums, parts, sharesOf(parts, sums))
	}, func(pair *Pair) float64 {
		sums = b.together(sums, pair.A, pair.B)
		b.takeOff(sums, out, pair.A, pair.B)
		return logMean(sums)
	})
	return p
}

// posterior from the log likelihoods of classes and pairs.
func (b *Belief) posterior(p *Posterior, class func(int32) float64, pair func(*Pair) float64) {
	s := &b.space
	b.like = resized(b.like, len(b.classes.count))
	for k := range b.like {
		b.like[k] = math.NaN()
	}
	p.Hypotheses, p.Alone = resized(p.Hypotheses, s.Hypotheses), resized(p.Alone, s.Hypotheses)
	p.Cells, p.Pairs = resized(p.Cells, len(s.Cells)), resized(p.Pairs, len(b.pairs))
	clear(p.Hypotheses)
	clear(p.Alone)
	best, prior := math.Inf(-1), 0.0
	for c := range s.Cells {
		prior += s.Cells[c].Prior
		k := b.classes.of[c]
		if math.IsNaN(b.like[k]) {
			b.like[k] = class(k)
		}
		p.Cells[c] = b.priors[c] + b.like[k]
		if b.close != nil {
			p.Cells[c] += b.close[c]
		}
		best = math.Max(best, p.Cells[c])
	}
	for i := range b.pairs {
		prior += b.pairs[i].Prior
		p.Pairs[i] = b.logs[i] + pair(&b.pairs[i])
		if b.closePairs != nil {
			p.Pairs[i] += b.closePairs[i]
		}
		best = math.Max(best, p.Pairs[i])
	}
	total := 0.0
	for c := range p.Cells {
		p.Cells[c] = share(p.Cells[c] - best)
		total += p.Cells[c]
	}
	for i := range p.Pairs {
		p.Pairs[i] = share(p.Pairs[i] - best)
		total += p.Pairs[i]
	}
	for c := range p.Cells {
		p.Cells[c] /= total
		p.Alone[s.Cells[c].Hypothesis] += p.Cells[c]
	}
	copy(p.Hypotheses, p.Alone)
	p.Singles = append(p.Singles[:0], p.Cells...)
	for i, pr := range b.pairs {
		p.Pairs[i] /= total
		p.Cells[pr.A] += p.Pairs[i]
		p.Cells[pr.B] += p.Pairs[i]
		p.Hypotheses[s.Cells[pr.A].Hypothesis] += p.Pairs[i]
		p.Hypotheses[s.Cells[pr.B].Hypothesis] += p.Pairs[i]
	}
	p.Evidence = best + math.Log(total) - math.Log(prior)
}

// share of the likeliest, from its logarithm. What lies this far down was given a density of zero somewhere.
func share(log float64) float64 {
	if log < least+50 {
		return 0
	}
	return math.Exp(log)
}

// together sums the logs of two cells that hold together, over all factors.
func (b *Belief) together(sums []int64, x, y int) []int64 {
	n := b.space.Draws
	k := &b.classes
	sums = resized(sums, n)
	ox, oy := k.overOf(k.of[x]), k.overOf(k.of[y])
	for d, l := range k.base {
		sums[d] = l + ox[d] + oy[d]
	}
	tx, ty := b.touchedBy(x), b.touchedBy(y)
	for i := range tx {
		for both := tx[i] & ty[i]; both != 0; both &= both - 1 {
			f := b.factors[64*i+bits.TrailingZeros64(both)]
			rx, ry := f.rows[x], f.rows[y]
			lx, ly, lr := f.row(rx, n), f.row(ry, n), f.row(f.rest, n)
			for d, l := range b.jointRow(f, rx, ry) {
				sums[d] += l - lx[d] - ly[d] + lr[d]
			}
		}
	}
	return sums
}

// touchedBy a cell are the factors in which it has another row than the first hypothesis, by their bits.
func (b *Belief) touchedBy(cell int) []uint64 {
	words := (len(b.factors) + 63) / 64
	if !b.touched {
		b.touched = true
		b.touch, b.asked = resized(b.touch, words*len(b.space.Cells)), resized(b.asked, len(b.space.Cells))
		clear(b.asked)
	}
	out := b.touch[words*cell:][:words:words]
	if !b.asked[cell] {
		b.asked[cell] = true
		clear(out)
		for i, f := range b.factors {
			if f.rows[cell] != f.rest {
				out[i/64] |= 1 << (i % 64)
			}
		}
	}
	return out
}

// rowFor a cell, or for two that hold together; y is -1 for one alone.
func (b *Belief) rowFor(f *Taken, x, y int) []int64 {
	n := b.space.Draws
	r := f.rows[x]
	if y >= 0 {
		switch ry := f.rows[y]; {
		case r == f.rest:
			r = ry
		case ry != f.rest:
			return b.jointRow(f, r, ry)
		}
	}
	return f.logs[int(r)*n : (int(r)+1)*n]
}

// takeOff subtracts what some factors brought.
func (b *Belief) takeOff(sums []int64, out []*Taken, x, y int) {
	for _, f := range out {
		for d, l := range b.rowFor(f, x, y) {
			sums[d] -= l
		}
	}
}

// mostJoint rows are kept of a factor.
const mostJoint = 1 << 12

// jointRow of two rows, kept.
func (b *Belief) jointRow(f *Taken, x, y int32) []int64 {
	if x > y {
		x, y = y, x
	}
	key := uint64(x)<<32 | uint64(y)
	if row, ok := f.joint[key]; ok {
		return row
	}
	n := b.space.Draws
	var density []float64
	if f.factor.Joint != nil {
		density = f.factor.Joint(x, y)
	} else {
		density = slices.Clone(f.factor.Density[int(x)*n : (int(x)+1)*n])
		for d, p := range f.factor.Density[int(y)*n : (int(y)+1)*n] {
			density[d] = (density[d] + p) / 2
		}
	}
	row := make([]int64, n)
	for d, p := range density {
		row[d] = fixed((1-f.factor.Outliers)*p + f.factor.Outliers*f.factor.Flat)
	}
	if f.joint == nil || len(f.joint) >= mostJoint {
		f.joint = map[uint64][]int64{}
	}
	f.joint[key] = row
	return row
}
