package trace

import (
	"slices"

	"airpath/circuit/airflow"
	"airpath/trace/reason"
)

// Two faults at once are listed as hypotheses of their own where both explain something. Engineering judgement, to be taught by a
// casebook: of the vehicles that come in, so many have two faults.
const shareOfPairs = 0.08

// How many pairs of faults are listed, with how many severities of each, and how much better than a healthy vehicle each of the two
// must explain something (as a logarithm).
const (
	mostPaired  = 120
	pairedCells = 2
	leastGain   = 1.1
)

// pairsWorthKeeping are those that explain most of what was found together. One of the two may explain a single finding among many that the other
// explains: it is the two that have to be promising, not each by itself.
func (t *Tracer) pairsWorthKeeping(b *reason.Belief) []reason.Pair {
	var firsts []int
	best := map[int][]int{} // by hypothesis: the cells that explain most
	total := 0.0
	gains := make([]float64, len(t.cells))
	for h := range t.list {
		total += t.list[h].words.Prior
		if h < firstFault {
			continue
		}
		var cells []int
		for c := t.list[h].cell; c < t.list[h].cell+t.list[h].cells; c++ {
			gains[c] = b.Gain(c)
			cells = append(cells, c)
		}
		slices.SortStableFunc(cells, func(x, y int) int { return -compareCoarse(gains[x], gains[y]) })
		if gains[cells[0]] >= leastGain {
			firsts = append(firsts, cells[0])
			best[h] = cells[:min(len(cells), pairedCells)]
		}
	}
	// Every two faults once: the sum over all is about half the square of the sum.
	prior := func(x, y int) float64 {
		return 2 * shareOfPairs * t.space.Cells[x].Prior * t.space.Cells[y].Prior / total
	}
	var out []reason.Pair
	for _, p := range b.Promising(firsts, prior, mostPaired) {
		for _, x := range best[t.cells[p.A].hypothesis] {
			for _, y := range best[t.cells[p.B].hypothesis] {
				out = append(out, reason.Pair{A: x, B: y, Prior: prior(x, y)})
			}
		}
	}
	return out
}

// PairsLeftOut bounds the probability, before any finding, of what is not listed: three faults and more.
func PairsLeftOut() float64 { return shareOfPairs * shareOfPairs }

// What is said of pairs: no more than so many, and only those with some probability. Where the catalogue has most likely no answer,
// the likeliest few are said whatever their probability: two faults are what a workshop thinks of before one that nobody knows.
const (
	mostPairsSaid = 6
	leastPairSaid = 0.02
	fewPairsSaid  = 3
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
		unlikely := weights[t] < leastPairSaid
		if len(v.Pairs) == mostPairsSaid || unlikely && (!v.Unknown() || len(v.Pairs) >= fewPairsSaid) {
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
