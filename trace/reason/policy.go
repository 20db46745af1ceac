package reason

import "math/bits"

// MostForExact is how many hypotheses [BestPolicy] takes: it looks at every set of them.
const MostForExact = 14

// BestPolicy is the least expected minutes until one hypothesis is left, or a group that no test splits, for tests whose
// outcome is sure under every hypothesis, and the test to begin with (-1 if none is needed). ok is false with too many
// hypotheses or with a test whose outcome is not sure.
func BestPolicy(weights []float64, tests []Test) (minutes float64, first int, ok bool) {
	outcome, live, ok := certain(weights, tests)
	if !ok || len(live) > MostForExact {
		return 0, -1, false
	}
	total := 0.0
	for _, h := range live {
		total += weights[h]
	}
	type plan struct {
		cost float64 // times the weight of the set
		test int
	}
	known := map[uint32]plan{}
	var solve func(set uint32) plan
	solve = func(set uint32) plan {
		if bits.OnesCount32(set) <= 1 {
			return plan{0, -1}
		}
		if p, ok := known[set]; ok {
			return p
		}
		mass := 0.0
		for i, h := range live {
			if set&(1<<i) != 0 {
				mass += weights[h]
			}
		}
		best := plan{0, -1}
		for t := range tests {
			parts := splitSet(set, outcome[t])
			if len(parts) < 2 {
				continue
			}
			cost := mass * tests[t].Minutes
			for _, part := range parts {
				cost += solve(part).cost
			}
			if best.test < 0 || cost < best.cost-1e-12*best.cost {
				best = plan{cost, t}
			}
		}
		known[set] = best
		return best
	}
	p := solve(1<<len(live) - 1)
	return p.cost / total, p.test, true
}

// splitSet lists the parts of a set of live hypotheses by outcome, in order of outcome.
func splitSet(set uint32, outcome []int) []uint32 {
	var parts []uint32
	var of []int
	for i, o := range outcome {
		if set&(1<<i) == 0 {
			continue
		}
		k := 0
		for k < len(of) && of[k] != o {
			k++
		}
		if k == len(of) {
			of, parts = append(of, o), append(parts, 0)
		}
		parts[k] |= 1 << i
	}
	return parts
}

// certain tabulates the outcome of each test under each hypothesis with weight.
func certain(weights []float64, tests []Test) (outcome [][]int, live []int, ok bool) {
	for h, w := range weights {
		if w > 0 {
			live = append(live, h)
		}
	}
	outcome = make([][]int, len(tests))
	for t, test := range tests {
		p := make([]float64, test.Outcomes)
		outcome[t] = make([]int, len(live))
		for i, h := range live {
			test.Chances(h, p)
			outcome[t][i] = -1
			for o, x := range p {
				if x == 1 {
					outcome[t][i] = o
				}
			}
			if outcome[t][i] < 0 {
				return nil, nil, false
			}
		}
	}
	return outcome, live, true
}

// RollOut improves on a greedy choice: for each of the candidates it works out the expected minutes if that test comes
// first and the greedy rule chooses from there on, until one hypothesis has all but a share rest of the probability or
// nothing tells more. It returns the candidates' expected minutes. Depth bounds how far the greedy rule is followed; what is
// not settled by then is charged unsettled minutes times its entropy in bits.
func RollOut(weights []float64, tests []Test, candidates []int, rest float64, depth int, unsettled float64) []float64 {
	total := 0.0
	for _, w := range weights {
		total += w
	}
	r := rollOut{tests: tests, rest: rest, unsettled: unsettled}
	out := make([]float64, len(candidates))
	for i, c := range candidates {
		out[i] = r.after(weights, c, depth) / total
	}
	return out
}

type rollOut struct {
	tests     []Test
	rest      float64
	unsettled float64
}

// after is the expected cost, times the weight, of doing a test and going on greedily.
func (r *rollOut) after(weights []float64, test, depth int) float64 {
	t := r.tests[test]
	mass := 0.0
	for _, w := range weights {
		mass += w
	}
	cost := mass * t.Minutes
	p := make([]float64, t.Outcomes)
	parts := make([][]float64, t.Outcomes)
	for o := range parts {
		parts[o] = make([]float64, len(weights))
	}
	for h, w := range weights {
		if w == 0 {
			continue
		}
		t.Chances(h, p)
		for o, x := range p {
			parts[o][h] = w * x
		}
	}
	for _, part := range parts {
		cost += r.greedy(part, depth-1)
	}
	return cost
}

func (r *rollOut) greedy(weights []float64, depth int) float64 {
	mass, most := 0.0, 0.0
	for _, w := range weights {
		mass += w
		most = max(most, w)
	}
	if mass <= 1e-12 || most >= (1-r.rest)*mass {
		return 0
	}
	best := ByInformation(Expect(weights, r.tests))
	if len(best) == 0 || best[0].Bits < 1e-9 {
		return 0 // one group
	}
	if depth <= 0 {
		share := make([]float64, len(weights))
		for i, w := range weights {
			share[i] = w / mass
		}
		return mass * r.unsettled * Entropy(share)
	}
	return r.after(weights, best[0].Test, depth)
}
