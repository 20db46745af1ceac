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
	c.weighCompanions()
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
	cell    int
	log     float64     // of its prior
	alone   float64     // logarithm of its likelihood with nothing beside it
	without []float64   // the same by group, with that left out
	over    [][]float64 // by group: what is divided by, by draw, where that is left out; nil where a number could not hold it
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
				all = append(all, companion{cell: c, log: math.Log(cell.Prior)})
			}
		}
		return all
	}
	order := make([]int, len(p.Cells))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(coarse(p.Cells[y]), coarse(p.Cells[x])) })
	out := []companion{{log: math.Log(b.space.Cells[0].Prior)}}
	for _, c := range order {
		if len(out) == mostCompanions || p.Cells[c] < leastCompanion*p.Cells[order[0]] {
			break
		}
		if c != 0 {
			out = append(out, companion{cell: c, log: math.Log(b.space.Cells[c].Prior)})
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

// sortAgainst puts the finding that did most first.
func sortAgainst(a []Against) {
	slices.SortFunc(a, func(x, y Against) int { return cmp.Or(cmp.Compare(x.Factor, y.Factor), cmp.Compare(x.Key, y.Key)) })
}
