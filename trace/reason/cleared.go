package reason

import (
	"cmp"
	"math"
	"slices"
)

// Clearing is the word for "not this one": stronger than unlikely. It is for display only and worked out again at every
// change; a cleared hypothesis keeps its place in the list and can come back.
type Clearing struct {
	Hypothesis int
	Odds       float64 // with all findings
	Weakest    float64 // the highest of these with any one finding left out
	// Beside says that the hypothesis is only cleared of having given what was found by itself: it may be there besides something else,
	// where nobody has looked.
	Beside  bool
	Against []Against
}

// Against is how strongly one finding speaks against a hypothesis: the odds are multiplied by Factor when it is counted.
type Against struct {
	Key    string
	Factor float64
}

// A Bar is how far odds must fall before a hypothesis is called cleared.
type Bar struct {
	Odds    float64 // with everything counted
	Without float64 // with any one finding left out: one misread gauge must not be enough
	Factor  float64 // odds after over odds before: a rare fault that nothing speaks against isn't cleared, only rare
	// Beside what else may be there, a hypothesis is only cleared of having given what was found, and that takes more: these bounds.
	Alone, AloneWithout float64
	// The same for its being there besides what else may be, from even odds; there a whole group of findings is left out, because one
	// test begun wrongly must not be enough to stop looking.
	Second, SecondWithout float64
}

// DefaultBar is 1 in 1,000, still 1 in 50 with something left out, and lowered by the findings at least threefold. The bounds for what nobody
// has looked for are measured: hidden vehicles differ from their file, and beyond 1 in 1,000 a true fault was ruled out now and then.
var DefaultBar = Bar{Odds: 1.0 / 1000, Without: 1.0 / 50, Factor: 1.0 / 3, Alone: 1e-4, AloneWithout: 1e-2, Second: 1.0 / 1000, SecondWithout: 1.0 / 50}

// Cleared lists the hypotheses that the evidence rules out, in the order of the list.
//
// Two questions are asked. Did it, by itself or as one of a pair that is listed, give what was found? Something else that explains everything answers that.
// And where hypotheses may hold together: may it be there besides what else may be? That another explains everything is no answer
// here, because it leaves as much reason as before to think that it is not alone; only findings that would have been otherwise are. There the odds start
// even, whatever the priors: a rare fault that nothing speaks against isn't cleared, only rare.
// What is too slight to be noticed is no second fault that anybody would look for, and only asked the first: nobody can have looked for what shows nowhere, so
// that it is never cleared altogether.
func (b *Belief) Cleared(bar Bar) []Clearing {
	if len(b.factors) == 0 {
		return nil
	}
	b.stale = b.stale || b.classes.finer // what was there and is gone leaves nothing behind
	b.build()
	c := &clearer{Belief: b, bar: bar, companions: b.companions(), groups: b.groups(), effects: b.Effects()}
	var out []Clearing
	for h := range b.space.Hypotheses {
		if b.space.Together && h == 0 {
			continue
		}
		if cl, ok := c.clear(h); ok {
			out = append(out, cl)
		}
	}
	return out
}

// cellsOf a hypothesis that would be noticed, and whether it has any at all.
func (b *Belief) cellsOf(h int) (plain []int, some bool) {
	for c, cell := range b.space.Cells {
		if cell.Hypothesis != h || cell.Prior == 0 {
			continue
		}
		some = true
		if !cell.Slight {
			plain = append(plain, c)
		}
	}
	return plain, some
}

// A companion is something else that may be the matter, whether or not a hypothesis is.
type companion struct {
	cell int
	log  float64 // of its prior
}

// How many companions are looked at, and which share of the likeliest they must have.
const (
	mostCompanions = 8
	leastCompanion = 1e-3
)

// companions are nothing at all and the likeliest cells.
func (b *Belief) companions() []companion {
	p := b.Posterior()
	if !b.space.Together {
		var all []companion
		for c, cell := range b.space.Cells {
			if cell.Prior > 0 {
				all = append(all, companion{c, math.Log(cell.Prior)})
			}
		}
		return all
	}
	order := make([]int, len(p.Cells))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(coarse(p.Cells[y]), coarse(p.Cells[x])) })
	out := []companion{{0, math.Log(b.space.Cells[0].Prior)}}
	for _, c := range order {
		if len(out) == mostCompanions || p.Cells[c] < leastCompanion*p.Cells[order[0]] {
			break
		}
		if c != 0 {
			out = append(out, companion{c, math.Log(b.space.Cells[c].Prior)})
		}
	}
	return out
}

// groups of factors, each in the order of keys.
func (b *Belief) groups() [][]*Taken {
	var out [][]*Taken
	at := map[string]int{}
	for _, f := range b.factors {
		k, ok := at[f.group]
		if !ok {
			k = len(out)
			at[f.group] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], f)
	}
	return out
}

type clearer struct {
	*Belief
	bar        Bar
	companions []companion
	groups     [][]*Taken
	effects    *Effects
	terms      []term
	memory     [][]int64
	sums       []int64
}

func (c *clearer) clear(h int) (Clearing, bool) {
	out := Clearing{Hypothesis: h}
	plain, some := c.cellsOf(h)
	if !some {
		return out, false
	}
	prior, total := 0.0, 0.0
	for _, cell := range c.space.Cells {
		total += cell.Prior
		if cell.Hypothesis == h {
			prior += cell.Prior
		}
	}
	out.Odds = Odds(c.Posterior().Hypotheses[h])
	if !(out.Odds < c.bar.Odds) || out.Odds > c.bar.Factor*Odds(prior/total) {
		return out, false
	}
	out.Weakest = out.Odds
	effects := c.effects.Of(h)
	for i, e := range effects {
		out.Weakest = max(out.Weakest, out.Odds/e)
		if e < 0.99 {
			out.Against = append(out.Against, Against{Key: c.factors[i].key, Factor: e})
		}
	}
	if !(out.Weakest < c.bar.Without) {
		return out, false
	}
	out.Beside = c.space.Together && (len(plain) == 0 || !c.lookedFor(h, plain))
	if out.Beside && !(out.Odds < c.bar.Alone && out.Weakest < c.bar.AloneWithout) {
		return out, false
	}
	sortAgainst(out.Against)
	return out, true
}

// lookedFor tells whether the findings speak against a hypothesis even if something else is there too.
func (c *clearer) lookedFor(h int, cells []int) bool {
	if !c.touches(c.factors, cells) {
		return false
	}
	c.prepare(h, cells)
	if !(c.ratio(nil) < c.bar.Second) {
		return false
	}
	for _, factors := range c.groups {
		if c.touches(factors, cells) && !(c.ratio(factors) < c.bar.SecondWithout) {
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

// A term is one companion with one class of a hypothesis's cells, or with none of them.
type term struct {
	s, x int // cells; x is -1 for the companion alone
	log  float64
	sums []int64
}

// prepare the terms of a hypothesis.
func (c *clearer) prepare(h int, cells []int) {
	c.terms = c.terms[:0]
	total, rest := 0.0, 0.0
	for _, x := range cells {
		total += c.space.Cells[x].Prior
	}
	for _, s := range c.companions {
		if c.space.Cells[s.cell].Hypothesis == h {
			continue
		}
		rest += c.space.Cells[s.cell].Prior
		c.term(s.cell, -1, s.log)
		if !c.space.Together {
			continue
		}
		for i, x := range cells { // cells of one class have one likelihood
			k := c.classes.of[x]
			if slices.ContainsFunc(cells[:i], func(y int) bool { return c.classes.of[y] == k }) {
				continue
			}
			prior := 0.0
			for _, y := range cells[i:] {
				if c.classes.of[y] == k {
					prior += c.space.Cells[y].Prior
				}
			}
			c.term(s.cell, x, s.log+math.Log(prior/total))
		}
	}
	if !c.space.Together { // a hypothesis of a list of which only one holds is its own companion
		for _, x := range cells {
			c.term(x, -2, math.Log(rest*c.space.Cells[x].Prior/total))
		}
	}
}

func (c *clearer) term(s, x int, log float64) {
	c.terms = append(c.terms, term{})
	t := &c.terms[len(c.terms)-1]
	t.s, t.x, t.log = s, x, log
	if cap(c.memory) < len(c.terms) {
		c.memory = append(c.memory[:cap(c.memory)], make([]int64, c.space.Draws))
	}
	t.sums = c.memory[:cap(c.memory)][len(c.terms)-1]
	if x >= 0 {
		t.sums = c.together(t.sums, s, x)
	} else {
		t.sums = c.classes.sums(t.sums, c.classes.of[s])
	}
	c.memory[:cap(c.memory)][len(c.terms)-1] = t.sums
}

// ratio of the likelihoods with a hypothesis and without it, some factors left out.
func (c *clearer) ratio(out []*Taken) float64 {
	with, without := newLogSum(), newLogSum()
	for i := range c.terms {
		t := &c.terms[i]
		c.sums = append(c.sums[:0], t.sums...)
		c.takeOff(c.sums, out, t.s, max(t.x, -1))
		x := t.log + logMean(c.sums)
		if t.x == -1 {
			without.add(x)
		} else {
			with.add(x)
		}
	}
	if without.empty() {
		return math.Inf(1)
	}
	return math.Exp(with.log() - without.log())
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

// sortAgainst puts the finding that did most first.
func sortAgainst(a []Against) {
	slices.SortFunc(a, func(x, y Against) int { return cmp.Or(cmp.Compare(x.Factor, y.Factor), cmp.Compare(x.Key, y.Key)) })
}
