package reason

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Findings that come, are replaced and go leave a belief that is to the last bit the one that never had them, whatever it was asked meanwhile.
func TestWhatIsGoneLeavesNothingBehind(t *testing.T) {
	s := benchSpace(60, 3, 8)
	pairs := []Pair{{4, 40, 0.01}, {7, 100, 0.02}, {40, 100, 0.01}}
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 4))
		belief, all := benchBelief(t, s, 12)
		belief.Pair(pairs)
		for range 30 {
			i := r.IntN(len(all))
			switch r.IntN(3) {
			case 0:
				belief.Forget(all[i].Key)
			case 1:
				other := benchFinding(r, all[i].Key, &s)
				require.NoError(t, belief.Weigh(other))
			default:
				belief.Posterior()
			}
		}
		for _, i := range r.Perm(len(all)) {
			if i%3 == 0 {
				belief.Forget(all[i].Key)
			} else {
				require.NoError(t, belief.Weigh(all[i]))
			}
		}
		fresh, err := NewBelief(s)
		require.NoError(t, err)
		fresh.Pair(pairs)
		for i := range slices.Backward(all) {
			if i%3 != 0 {
				require.NoError(t, fresh.Weigh(all[i]))
			}
		}
		assert.Equal(t, fresh.Posterior(), belief.Posterior())
		assert.Equal(t, fresh.Cleared(DefaultBar), belief.Cleared(DefaultBar))
		for c := range s.Cells {
			require.Equal(t, fresh.LogLikelihood(c), belief.LogLikelihood(c))
		}
	}
}

// Draws that the first hypothesis all but rules out may be just those that another one needs: by logarithms, summed the long way.
func TestDrawsThatTheFirstHypothesisRulesOut(t *testing.T) {
	const draws, findings = 6, 80
	b, err := NewBelief(Space{Hypotheses: 2, Draws: draws, Cells: []Cell{{Hypothesis: 0, Prior: 1}, {Hypothesis: 1, Prior: 1}}})
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(3, 1))
	var logs [2][draws]float64
	for i := range findings {
		f := Factor{Key: fmt.Sprint(i), Density: make([]float64, 2*draws)}
		for k := range f.Density {
			likely := k/draws == 0 == (k%draws == 0) // the first hypothesis needs the first draw, the second one of the others
			log := -3 - 20*r.Float64()
			if likely {
				log = -r.Float64()
			}
			f.Density[k] = math.Exp(log)
			logs[k/draws][k%draws] += log
		}
		require.NoError(t, b.Weigh(f))
	}
	for c, sums := range logs {
		best, sum := slices.Max(sums[:]), 0.0
		for _, x := range sums {
			sum += math.Exp(x - best)
		}
		assert.InDelta(t, best+math.Log(sum/draws), b.LogLikelihood(c), 1e-9)
	}
}
