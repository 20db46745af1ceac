package reason

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Where nothing is shared and no finding is disturbed by two, what a pair is worth at a glance is what it is worth exactly, so that the
// most promising are the most probable of all pairs.
func TestThePromisingAreTheMostProbable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const hypotheses, findings = 8, 14
		s := Space{Hypotheses: hypotheses, Draws: 1, Together: true}
		for h := range hypotheses {
			s.Cells = append(s.Cells, Cell{Hypothesis: h, Prior: rapid.Float64Range(0.1, 1).Draw(t, "prior")})
		}
		b, err := NewBelief(s)
		require.NoError(t, err)
		for k := range findings { // each disturbed by one of them
			f := Factor{Key: fmt.Sprint(k), Rows: make([]int32, hypotheses), Density: []float64{rapid.Float64Range(0.01, 1).Draw(t, "rest"), rapid.Float64Range(0.01, 1).Draw(t, "own")}}
			f.Rows[1+k%(hypotheses-1)] = 1
			require.NoError(t, b.Weigh(f))
		}
		prior := func(x, y int) float64 { return s.Cells[x].Prior * s.Cells[y].Prior }
		var cells []int
		var all []Pair
		for x := 1; x < hypotheses; x++ {
			cells = append(cells, x)
			for y := x + 1; y < hypotheses; y++ {
				all = append(all, Pair{x, y, prior(x, y)})
			}
		}
		b.Pair(all)
		p := b.Posterior()
		order := make([]int, len(all))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(p.Pairs[j], p.Pairs[i]) })

		most := rapid.IntRange(1, 5).Draw(t, "most") // few, so that what falls behind is dropped on the way
		got := b.Promising(cells, prior, most)
		require.Len(t, got, most)
		for i, g := range got {
			want := p.Pairs[order[i]]
			at := slices.IndexFunc(all, func(x Pair) bool { return x.A == g.A && x.B == g.B })
			require.GreaterOrEqual(t, at, 0)
			assert.InEpsilon(t, want, p.Pairs[at], 1e-9)
			assert.InDelta(t, math.Log(want)-math.Log(p.Pairs[order[0]]), g.Worth-got[0].Worth, 1e-9)
		}
	})
}

// Of a finding that both disturb the better explanation holds, and counts once.
func TestAFindingCountsOnceForTwo(t *testing.T) {
	b, err := NewBelief(Space{Hypotheses: 3, Draws: 1, Together: true, Cells: []Cell{{0, 1, false}, {1, 1, false}, {2, 1, false}}})
	require.NoError(t, err)
	require.NoError(t, b.Weigh(Factor{Key: "f", Density: []float64{0.1, 0.4, 0.2}}))
	got := b.Promising([]int{1, 2}, func(int, int) float64 { return 1 }, 5)
	require.Len(t, got, 1)
	assert.InDelta(t, math.Log(4), got[0].Worth, 1e-9)
}
