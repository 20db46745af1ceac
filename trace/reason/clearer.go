package reason

import (
	"math"
	"slices"
)

// Whether the findings speak against a hypothesis even if something else is there too is asked of each hypothesis with each of the companions, and
// once more with each group of findings left out.

type clearer struct {
	*Belief
	bar        Bar
	companions []companion
	groups     [][]*Taken
	effects    *Effects
	terms      []term
	memory     []memory
	sums       []int64
}

// mostOver is how large a number may be that shares of draws are multiplied with, so that a share that is rounded to zero is not missed.
const mostOver = 1e100

// weighCompanions by themselves, which are the same whatever is asked about.
func (c *clearer) weighCompanions() {
	var sums []int64
	for i := range c.companions {
		s := &c.companions[i]
		sums = c.classes.sums(sums, c.classes.of[s.cell])
		s.alone = logMean(sums)
		for _, factors := range c.groups {
			c.sums = append(c.sums[:0], sums...)
			c.takeOff(c.sums, factors, s.cell, -1)
			s.without, s.over = append(s.without, logMean(c.sums)), append(s.over, c.overOf(factors, s.cell))
		}
	}
}

// overOf some factors, of a cell: the inverse of their product, by draw; nil where that is too large.
func (c *clearer) overOf(factors []*Taken, cell int) []float64 {
	n := c.space.Draws
	out := slices.Clone(factors[0].inverse(factors[0].rows[cell], n))
	for _, f := range factors[1:] {
		for d, x := range f.inverse(f.rows[cell], n) {
			out[d] *= x
		}
	}
	if !(slices.Max(out) < mostOver) {
		return nil
	}
	return out
}

// lookedFor tells whether the findings speak against a hypothesis even if something else is there too.
func (c *clearer) lookedFor(h int, cells []int) bool {
	if !c.touches(c.factors, cells) {
		return false
	}
	if !c.prepare(h, cells) {
		return false
	}
	for g, factors := range c.groups {
		if c.touches(factors, cells) && !(c.ratio(h, g) < c.bar.SecondWithout) {
			return false
		}
	}
	return true
}

// touches tells whether some factor says anything of some cell.
func (c *clearer) touches(factors []*Taken, cells []int) bool {
	for _, f := range factors {
		for _, x := range cells {
			if !c.space.Together || f.rows[x] != f.rest {
				return true
			}
		}
	}
	return false
}

// A term is one companion with one class of a hypothesis's cells.
type term struct {
	s    *companion
	x    int // a cell; -1: the companion, which is one of the hypothesis's cells itself
	log  float64
	best int64 // of the sums
	memory
}

// memory of a term, by draw.
type memory struct {
	sums   []int64
	shares []float64 // of the likeliest draw
}

// prepare the terms of a hypothesis, the likeliest companions first. It goes no further, and is false, once it is known that with all findings the hypothesis
// does not fall under the bar.
func (c *clearer) prepare(h int, cells []int) bool {
	c.terms = c.terms[:0]
	total, rest := 0.0, 0.0
	for _, x := range cells {
		total += c.space.Cells[x].Prior
	}
	with, without := newLogSum(), newLogSum()
	for i := range c.companions {
		if s := &c.companions[i]; c.space.Cells[s.cell].Hypothesis != h {
			rest += c.space.Cells[s.cell].Prior
			without.add(s.log + s.alone)
		}
	}
	if without.empty() {
		return false
	}
	below := func() bool { return with.empty() || math.Exp(with.log()-without.log()) < c.bar.Second }
	for i := range c.companions {
		s := &c.companions[i]
		switch own := c.space.Cells[s.cell].Hypothesis == h; {
		case own && !c.space.Together && slices.Contains(cells, s.cell): // a hypothesis of a list of which only one holds is its own companion
			with.add(c.term(s, -1, math.Log(rest/total)+s.log))
		case own || !c.space.Together:
		default:
			for k, x := range cells { // cells of one class have one likelihood
				class := c.classes.of[x]
				if slices.ContainsFunc(cells[:k], func(y int) bool { return c.classes.of[y] == class }) {
					continue
				}
				prior := 0.0
				for _, y := range cells[k:] {
					if c.classes.of[y] == class {
						prior += c.space.Cells[y].Prior
					}
				}
				with.add(c.term(s, x, s.log+math.Log(prior/total)))
				if !below() {
					return false
				}
			}
		}
	}
	return below()
}

// term is prepared, and the logarithm of its likelihood returned.
func (c *clearer) term(s *companion, x int, log float64) float64 {
	n := len(c.terms)
	if len(c.memory) == n {
		c.memory = append(c.memory, memory{nil, make([]float64, c.space.Draws)})
	}
	t := term{s: s, x: x, log: log, memory: c.memory[n]}
	if x >= 0 {
		t.sums = c.together(t.sums, s.cell, x)
	} else {
		t.sums = c.classes.sums(t.sums, c.classes.of[s.cell])
	}
	t.best = sharesOf(t.shares, t.sums)
	c.terms, c.memory[n] = append(c.terms, t), t.memory
	return log + float64(t.best)/unit + math.Log(meanOf(t.shares))
}

func meanOf(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// ratio of the likelihoods with a hypothesis and without it, a group of factors left out. It may stop above the bar.
func (c *clearer) ratio(h, group int) float64 {
	with, without := newLogSum(), newLogSum()
	for i := range c.companions {
		if s := &c.companions[i]; c.space.Cells[s.cell].Hypothesis != h {
			without.add(s.log + s.without[group])
		}
	}
	for i := range c.terms {
		with.add(c.terms[i].log + c.without(&c.terms[i], group))
		if ratio := math.Exp(with.log() - without.log()); ratio >= c.bar.SecondWithout {
			return ratio
		}
	}
	return math.Exp(with.log() - without.log())
}

// without a group of factors: the logarithm of a term's likelihood.
func (c *clearer) without(t *term, group int) float64 {
	if t.x < 0 {
		return t.s.without[group]
	}
	// What the hypothesis leaves alone is the companion's.
	if over := t.s.over[group]; over != nil && !slices.ContainsFunc(c.groups[group], func(f *Taken) bool { return f.rows[t.x] != f.rest }) {
		if mean := dot(t.shares, over) / float64(len(over)); mean > leastMean*mostOver {
			return float64(t.best)/unit + math.Log(mean)
		}
	}
	c.sums = append(c.sums[:0], t.sums...)
	c.takeOff(c.sums, c.groups[group], t.s.cell, t.x)
	return logMean(c.sums)
}

// logSum adds numbers that are given by their logarithms.
type logSum struct{ best, sum float64 }

func newLogSum() logSum { return logSum{best: math.Inf(-1)} }

func (s *logSum) add(x float64) {
	switch {
	case math.IsInf(x, -1):
	case x <= s.best:
		s.sum += math.Exp(x - s.best)
	default:
		s.sum = s.sum*math.Exp(s.best-x) + 1
		s.best = x
	}
}

func (s *logSum) log() float64 { return s.best + math.Log(s.sum) }

func (s *logSum) empty() bool { return s.sum == 0 }
