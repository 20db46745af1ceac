package trace

import (
	"slices"

	"airpath/trace/reason"
)

// Two faults together are looked at as one is: what they make of a reading that both disturb adds up (see joined), and each has one severity
// in all readings. That is not simulated, so that a glance is all that they get; but for their severities, which lie where they are
// for each by itself.
const (
	mostPairsGlanced  = 12
	leastPairsGlanced = 1e-6 // of the likeliest of all hypotheses
	pairNear          = 1e-2 // of the likeliest two severities of two faults
)

// glanceOverPairs that may lead.
func (l *looker) glanceOverPairs(p reason.Posterior) {
	pairs := l.belief.Pairs()
	best := slices.Max(p.Alone)
	var which []int
	for _, same := range l.likeliestPairs(p, leastPairsGlanced*best) {
		top := 0.0
		for _, i := range same {
			top = max(top, p.Pairs[i])
		}
		for _, i := range same {
			if p.Pairs[i] >= pairNear*top {
				which = append(which, i)
			}
		}
	}
	found := l.evidences(len(which), func(i int) float64 {
		x, y := pairs[which[i]].A, pairs[which[i]].B
		return l.glance.evidence(l.glance.glance(x), l.glance.glance(y))
	})
	for k, i := range which {
		x, y := pairs[i].A, pairs[i].B
		rest := l.belief.LogMeansTogether(x, y, func(key string) bool { return l.glance.keys[key] == 0 })
		l.together[i] = found[k] + rest - l.belief.LogLikelihoodTogether(x, y)
	}
}

// likeliestPairs of faults, each with its places in the belief's list, the likeliest first.
func (l *looker) likeliestPairs(p reason.Posterior, least float64) [][]int {
	type two struct{ a, b int }
	at := map[two]int{}
	var out [][]int
	var weights []float64
	for i, pair := range l.belief.Pairs() {
		t := two{l.cells[pair.A].hypothesis, l.cells[pair.B].hypothesis}
		k, ok := at[t]
		if !ok {
			k = len(out)
			at[t] = k
			out, weights = append(out, nil), append(weights, 0)
		}
		out[k] = append(out[k], i)
		weights[k] += p.Pairs[i]
	}
	order := make([]int, len(out))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int { return -compareCoarse(weights[x], weights[y]) })
	var likeliest [][]int
	for _, k := range order {
		if len(likeliest) == mostPairsGlanced || weights[k] < least {
			break
		}
		likeliest = append(likeliest, out[k])
	}
	return likeliest
}
