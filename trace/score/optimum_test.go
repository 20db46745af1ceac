package score

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/trace/reason"
)

// Six states and five tests: Raghavan, Shakeri and Pattipati, IEEE Transactions on Systems, Man and Cybernetics A 29(2), 1999, 153
// (data from memory, optimum recomputed). Greedy information is known to fall into its trap.
func TestTheOptimumOfAPublishedInstance(t *testing.T) {
	in := &instance{weights: []float64{.70, .01, .02, .10, .05, .12}, minutes: []float64{1, 1, 1, 1, 1}}
	for _, row := range []string{"00000", "01001", "00110", "10011", "11000", "11110"} {
		for k, c := range row {
			if len(in.outcome) <= k {
				in.outcome = append(in.outcome, nil)
			}
			in.outcome[k] = append(in.outcome[k], int(c-'0'))
		}
	}
	require.InDelta(t, 2.18, in.best(), 1e-12)
	require.InDelta(t, 2.86, in.cost(func(w []float64, tests []reason.Test) int {
		best := reason.ByInformation(reason.Expect(w, tests))
		if best[0].Bits < 1e-9 {
			return -1
		}
		return best[0].Test
	}), 1e-12)
}

// Two independent ways to the optimum: over sets of up to 14 as bits, and over sets of any size by their members.
func TestTheOptimumIsTheExactPolicys(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(2, 9).Draw(t, "classes"), rapid.IntRange(1, 5).Draw(t, "tests")
		in := &instance{}
		for range n {
			in.weights = append(in.weights, rapid.Float64Range(0.01, 1).Draw(t, "weight"))
		}
		for range m {
			in.minutes = append(in.minutes, rapid.Float64Range(1, 20).Draw(t, "minutes"))
			in.outcome = append(in.outcome, rapid.SliceOfN(rapid.IntRange(0, 2), n, n).Draw(t, "outcomes"))
		}
		minutes, _, ok := reason.BestPolicy(in.weights, in.tests())
		require.True(t, ok)
		require.InDelta(t, minutes, in.best(), 1e-9*(1+minutes))
		require.GreaterOrEqual(t, in.cost(byTracer), in.best()*(1-1e-12))
	})
}

// On the bench board the tracer's way of choosing is no worse than it is published to be on random instances.
func TestTheTracersWayOfChoosingBesideTheOptimum(t *testing.T) {
	w := boardWorld(t, Options{Cases: 1, Faults: 1})
	var err error
	w.typical, err = w.effectsOf(t.Context())
	require.NoError(t, err)
	o := w.optimum(byTracer)
	require.Equal(t, instanceCount, o.Instances)
	require.Greater(t, o.Classes, 10.0, "there is something to tell apart")
	require.GreaterOrEqual(t, o.Mean, 1.0)
	require.LessOrEqual(t, o.Mean, 1.05)
	require.Equal(t, o, w.optimum(byTracer), "the instances hang on the seed alone")
	random := w.dice(1, forStrategy)
	blind := w.optimum(func(weights []float64, tests []reason.Test) int {
		var open []int
		for _, x := range reason.Expect(weights, tests) {
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
