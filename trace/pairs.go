package trace

import (
	"cmp"
	"math"
	"slices"

	"airpath/circuit/airflow"
	"airpath/trace/reason"
)

// Two faults at once are listed as hypotheses of their own where both explain something. Engineering judgement, to be taught by a
// casebook: of the vehicles that come in, so many have two faults.
const shareOfPairs = 0.08

// How many faults are paired with one another, with how many of their severities each, and how much better than a healthy vehicle
// each must explain something (as a logarithm).
const (
	mostPaired  = 16
	pairedCells = 2
	leastGain   = 1.1
)

// A paired fault with the severities at which it explains most.
type paired struct {
	hypothesis int
	gain       float64
	cells      []int
}

// pairsWorthKeeping of the faults that explain most of what was found.
func (t *Tracer) pairsWorthKeeping(b *reason.Belief) []reason.Pair {
	var worth []paired
	total := 0.0
	gains := make([]float64, len(t.cells))
	for h := range t.list {
		total += t.list[h].words.Prior
		if h < firstFault {
			continue
		}
		p := paired{hypothesis: h}
		for c := t.list[h].cell; c < t.list[h].cell+t.list[h].cells; c++ {
			gains[c] = b.Gain(c)
			p.gain = max(p.gain, gains[c])
			p.cells = append(p.cells, c)
		}
		if p.gain < leastGain {
			continue
		}
		slices.SortStableFunc(p.cells, func(x, y int) int { return -compareCoarse(gains[x], gains[y]) })
		p.cells = p.cells[:min(len(p.cells), pairedCells)]
		p.gain += math.Log(t.list[h].words.Prior)
		worth = append(worth, p)
	}
	slices.SortStableFunc(worth, func(x, y paired) int {
		return cmp.Or(-compareCoarse(x.gain, y.gain), cmp.Compare(x.hypothesis, y.hypothesis))
	})
	worth = worth[:min(len(worth), mostPaired)]
	slices.SortFunc(worth, func(x, y paired) int { return cmp.Compare(x.hypothesis, y.hypothesis) })
	var out []reason.Pair
	for i := range worth {
		for j := range i {
			for _, x := range worth[j].cells {
				for _, y := range worth[i].cells {
					// Every two faults once: the sum over all is about half the square of the sum.
					prior := 2 * shareOfPairs * t.space.Cells[x].Prior * t.space.Cells[y].Prior / total
					out = append(out, reason.Pair{A: x, B: y, Prior: prior})
				}
			}
		}
	}
	return out
}

// PairsLeftOut bounds the probability, before any finding, of what is not listed: three faults and more.
func PairsLeftOut() float64 { return shareOfPairs * shareOfPairs }

// What is said of pairs: no more than so many, and only those with some probability.
const (
	mostPairsSaid = 6
	leastPairSaid = 0.02
)

// pairs that explain the findings together.
func (a *analysis) pairs(v *Verdict) {
	type two struct{ a, b int }
	weights := map[two]float64{}
	var order []two
	for i, p := range a.belief.Pairs() {
		t := two{a.cells[p.A].hypothesis, a.cells[p.B].hypothesis}
		if _, ok := weights[t]; !ok {
			order = append(order, t)
		}
		weights[t] += a.posterior.Pairs[i]
	}
	slices.SortStableFunc(order, func(x, y two) int { return -compareCoarse(weights[x], weights[y]) })
	for _, t := range order {
		if len(v.Pairs) == mostPairsSaid || weights[t] < leastPairSaid {
			break
		}
		first, second := t.a, t.b
		if a.posterior.Hypotheses[second] > a.posterior.Hypotheses[first] {
			first, second = second, first
		}
		v.Pairs = append(v.Pairs, Pair{
			Faults: [2]airflow.Fault{a.faultOf(first), a.faultOf(second)}, Titles: [2]string{a.list[first].title(a.circuit), a.list[second].title(a.circuit)},
			Probability: weights[t],
		})
	}
}
