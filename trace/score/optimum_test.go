package score

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/trace/reason"
)

// Six states and five tests: Raghavan, Shakeri and Pattipati, IEEE Transactions on Systems, Man and Cybernetics A 29(2), 1999, 153
// (data from memory, optimum recomputed). Greedy information is known to fall into its trap.
func TestTheOptimumOfAPublishedInstance(t *testing.T) {
	in := &instance{weights: []float64{.70, .01, .02, .10, .05, .12}, minutes: [][]float64{{1, 1, 1, 1, 1}}, leaves: make([]int, 5)}
	for _, row := range []string{"00000", "01001", "00110", "10011", "11000", "11110"} {
		for k, c := range row {
			if len(in.outcome) <= k {
				in.outcome = append(in.outcome, nil)
			}
			in.outcome[k] = append(in.outcome[k], int(c-'0'))
		}
	}
	require.InDelta(t, 2.18, in.best(), 1e-12)
	require.InDelta(t, 2.86, in.cost(byInformation), 1e-12)
	require.InDelta(t, 2.18, in.cost(byTracer), 1e-12)
}

// byInformation chooses what tells most per minute, and looks no further.
func byInformation(s *reason.Search) int {
	tests := slices.Clone(s.Tests)
	for t := range tests {
		tests[t].Minutes = s.Minutes[s.State][t]
	}
	best := reason.ByInformation(reason.Expect(s.Weights, tests))
	if best[0].Bits < 1e-9 {
		return -1
	}
	return best[0].Test
}

// Two independent ways to the optimum: over sets of up to 14 as bits, and over sets of any size by their members.
func TestTheOptimumIsTheExactPolicys(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(2, 9).Draw(t, "classes"), rapid.IntRange(1, 5).Draw(t, "tests")
		states := rapid.IntRange(1, 3).Draw(t, "states")
		in := &instance{minutes: make([][]float64, states)}
		for range n {
			in.weights = append(in.weights, rapid.Float64Range(0.01, 1).Draw(t, "weight"))
		}
		for range m {
			for k := range in.minutes {
				in.minutes[k] = append(in.minutes[k], rapid.Float64Range(1, 20).Draw(t, "minutes"))
			}
			in.leaves = append(in.leaves, rapid.IntRange(0, states-1).Draw(t, "leaves"))
			in.outcome = append(in.outcome, rapid.SliceOfN(rapid.IntRange(0, 2), n, n).Draw(t, "outcomes"))
		}
		best := in.best()
		if choices := in.search(in.weights, 0).Choose(); len(choices) > 1 {
			require.True(t, choices[0].Exact)
			require.InDelta(t, choices[0].Left, best, 1e-9*(1+best))
		}
		require.InDelta(t, best, in.cost(byTracer), 1e-9*(1+best))
		require.GreaterOrEqual(t, in.cost(byInformation), best*(1-1e-12))
	})
}

// On the bench board the tracer's way of choosing takes hardly longer than the best possible, and is better than to choose by
// information per minute alone.
func TestTheTracersWayOfChoosingBesideTheOptimum(t *testing.T) {
	w := boardWorld(t, Options{Cases: 1, Faults: 1})
	var err error
	w.typical, err = w.effectsOf(t.Context())
	require.NoError(t, err)
	o := w.optimum(byTracer)
	require.Equal(t, instanceCount, o.Instances)
	require.Greater(t, o.Classes, 10.0, "there is something to tell apart")
	require.GreaterOrEqual(t, o.Mean, 1-1e-12)
	require.LessOrEqual(t, o.Mean, 1.01)
	require.Equal(t, o, w.optimum(byTracer), "the instances hang on the seed alone")
	greedy := w.optimum(byInformation)
	t.Logf("%d instances of %.1f classes: %.4f of the best on average, %.4f at worst; by information alone %.4f and %.4f", o.Instances, o.Classes, o.Mean, o.Worst, greedy.Mean, greedy.Worst)
	require.Less(t, o.Mean, greedy.Mean)
	random := w.dice(1, forStrategy)
	blind := w.optimum(func(s *reason.Search) int {
		var open []int
		for _, x := range reason.Expect(s.Weights, s.Tests) {
			if x.Bits > 1e-9 {
				open = append(open, x.Test)
			}
		}
		if len(open) == 0 {
			return -1
		}
		return open[random.IntN(len(open))]
	})
	require.Greater(t, blind.Mean, o.Mean)
}
