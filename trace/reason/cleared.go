package reason

import (
	"cmp"
	"slices"
)

// Clearing is the word for "not this one": stronger than unlikely. It is for display only and worked out again at every
// change; a cleared hypothesis keeps its place in the list and can come back.
type Clearing struct {
	Hypothesis int
	Odds       float64 // with all findings
	Weakest    float64 // the highest odds with any one finding left out
	Against    []Against
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
}

// DefaultBar is 1 in 1,000, still 1 in 50 with any one finding left out, and lowered by the findings at least threefold.
var DefaultBar = Bar{Odds: 1.0 / 1000, Without: 1.0 / 50, Factor: 1.0 / 3}

// Cleared lists the hypotheses that the evidence rules out, in the order of the list.
func (b *Belief) Cleared(bar Bar) []Clearing {
	if len(b.factors) == 0 {
		return nil
	}
	all := b.Posterior()
	left := make([]Posterior, len(b.factors))
	for i, f := range b.factors {
		left[i] = b.Without(f.key)
	}
	prior := make([]float64, b.space.Hypotheses)
	total := 0.0
	for _, c := range b.space.Cells {
		prior[c.Hypothesis] += c.Prior
		total += c.Prior
	}
	var out []Clearing
	for h, p := range all.Hypotheses {
		c := Clearing{Hypothesis: h, Odds: Odds(p)}
		before := Odds(prior[h] / total)
		if prior[h] == 0 || c.Odds >= bar.Odds || c.Odds > before*bar.Factor {
			continue
		}
		for i, f := range b.factors {
			o := Odds(left[i].Hypotheses[h])
			c.Weakest = max(c.Weakest, o)
			if c.Odds < o {
				c.Against = append(c.Against, Against{Key: f.key, Factor: c.Odds / o})
			}
		}
		if c.Weakest >= bar.Without {
			continue
		}
		sortAgainst(c.Against)
		out = append(out, c)
	}
	return out
}

// sortAgainst puts the finding that did most first.
func sortAgainst(a []Against) {
	slices.SortFunc(a, func(x, y Against) int { return cmp.Or(cmp.Compare(x.Factor, y.Factor), cmp.Compare(x.Key, y.Key)) })
}
