package reason

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Raghavan, Shakeri & Pattipati, IEEE SMC-A 29(2):153, 1999 (data from memory, optimum recomputed): expected cost 2.18,
// test 2 first; if it passes then test 4, if it fails then test 3.
func TestBestPolicy(t *testing.T) {
	tests := sequencingTests()
	minutes, first, ok := BestPolicy(sequencing.prior, tests)
	require.True(t, ok)
	assert.InDelta(t, 2.18, minutes, 1e-9)
	assert.Equal(t, 1, first)
	after := func(outcome int) int {
		w := make([]float64, 6)
		for h, p := range sequencing.prior {
			if sequencing.outcome[h][1] == outcome {
				w[h] = p
			}
		}
		_, next, ok := BestPolicy(w, tests)
		require.True(t, ok)
		return next
	}
	assert.Equal(t, 3, after(0))
	assert.Equal(t, 2, after(1))
}

// Rolling greed out by one step escapes the trap at the first test.
func TestRollOutBeatsGreed(t *testing.T) {
	tests := sequencingTests()
	all := []int{0, 1, 2, 3, 4}
	choose := func(w []float64) int {
		best, at := -1.0, 0
		for i, m := range RollOut(w, tests, all, 0, 10, 1) {
			if best < 0 || m < best-1e-12 {
				best, at = m, i
			}
		}
		return at
	}
	cost := expectedTests(sequencing.prior, tests, choose)
	assert.Less(t, cost, 2.86)
	assert.GreaterOrEqual(t, cost, 2.18-1e-9)
}

func TestBestPolicyDeclinesWhatItCannotDo(t *testing.T) {
	unsure := []Test{{Minutes: 1, Outcomes: 2, Chances: func(_ int, p []float64) { p[0], p[1] = .5, .5 }}}
	_, _, ok := BestPolicy([]float64{1, 1}, unsure)
	assert.False(t, ok)
	_, _, ok = BestPolicy(make([]float64, 20), nil)
	assert.True(t, ok, "no hypothesis at all needs no test")
}
