package reason

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Raghavan, Shakeri & Pattipati, IEEE SMC-A 29(2):153, 1999 (data from memory, optimum recomputed): expected cost 2.18,
// test 2 first; if it passes then test 4, if it fails then test 3.
func TestBestPolicy(t *testing.T) {
	search := &Search{Weights: sequencing.prior, Tests: sequencingTests()}
	best := search.Choose()[0]
	assert.True(t, best.Exact)
	assert.InDelta(t, 2.18, best.Left, 1e-9)
	assert.Equal(t, 1, best.Test)
	after := func(outcome int) int {
		w := make([]float64, 6)
		for h, p := range sequencing.prior {
			if sequencing.outcome[h][1] == outcome {
				w[h] = p
			}
		}
		return (&Search{Weights: w, Tests: search.Tests}).Choose()[0].Test
	}
	assert.Equal(t, 3, after(0))
	assert.Equal(t, 2, after(1))
	assert.InDelta(t, 2.18, expectedTests(sequencing.prior, search.Tests, func(w []float64) int {
		return (&Search{Weights: w, Tests: search.Tests}).Choose()[0].Test
	}), 1e-9)
}

// Rolling greed out by one step escapes the trap at the first test.
func TestRollOutBeatsGreed(t *testing.T) {
	tests := sequencingTests()
	choose := func(w []float64) int {
		s := &Search{Weights: w, Tests: tests}
		x := s.compile()
		choices := x.ranked(0)
		x.sure = false // so that no best policy is looked for
		x.rollOut(choices, s)
		best := choices[0]
		for _, c := range choices {
			if c.Left < best.Left-1e-12 {
				best = c
			}
		}
		return best.Test
	}
	cost := expectedTests(sequencing.prior, tests, choose)
	assert.Less(t, cost, 2.86)
	assert.GreaterOrEqual(t, cost, 2.18-1e-9)
}

// drawn is a search with sure outcomes, and set-up that tests share.
func drawn(r *rand.Rand, classes, tests, states int) *Search {
	s := &Search{Minutes: make([][]float64, states), State: r.IntN(states)}
	for range classes {
		s.Weights = append(s.Weights, math.Exp(2*r.NormFloat64()))
	}
	for range tests {
		outcome := make([]int, classes)
		for h := range outcome {
			outcome[h] = max(0, r.IntN(5)-2)
		}
		s.Tests = append(s.Tests, Test{Outcomes: 3, Chances: func(h int, p []float64) {
			clear(p)
			p[outcome[h]] = 1
		}})
		s.Leaves = append(s.Leaves, r.IntN(states))
		for i := range s.Minutes {
			s.Minutes[i] = append(s.Minutes[i], 1+9*r.Float64())
		}
	}
	return s
}

// follow a way of choosing to its end: the expected minutes.
func follow(s *Search, choose func(*Search) int) float64 {
	total := 0.0
	for _, w := range s.Weights {
		total += w
	}
	t := choose(s)
	if t < 0 || total == 0 {
		return 0
	}
	cost := s.Minutes[s.State][t]
	p := make([]float64, s.Tests[t].Outcomes)
	for o := range p {
		part, sum := *s, 0.0
		part.State, part.Weights = s.Leaves[t], make([]float64, len(s.Weights))
		for h, w := range s.Weights {
			s.Tests[t].Chances(h, p)
			part.Weights[h] = w * p[o]
			sum += w * p[o]
		}
		if sum > 0 {
			cost += sum / total * follow(&part, choose)
		}
	}
	return cost
}

// What Choose promises for the best policy is what comes of following it, and less than any other way comes to.
func TestThePromiseOfTheBestPolicyIsKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		s := drawn(r, rapid.IntRange(2, 9).Draw(t, "classes"), rapid.IntRange(1, 6).Draw(t, "tests"), rapid.IntRange(1, 3).Draw(t, "states"))
		first := func(s *Search) int {
			if c := s.Choose(); len(c) > 0 {
				return c[0].Test
			}
			return -1
		}
		choices := s.Choose()
		if len(choices) < 2 {
			return
		}
		require.True(t, choices[0].Exact)
		require.InDelta(t, choices[0].Left, follow(s, first), 1e-9*choices[0].Left)
		random := follow(s, func(s *Search) int {
			if c := s.Choose(); len(c) > 0 {
				return c[r.IntN(len(c))].Test
			}
			return -1
		})
		require.GreaterOrEqual(t, random, choices[0].Left*(1-1e-9))
	})
}

// With outcomes that are not sure, what is promised is what comes of doing that test first and going on by information per minute,
// and the answer is the same each time.
func TestLookingAheadWhereOutcomesAreNotSure(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	s := &Search{Settled: 0.9, Unknown: 7}
	const hypotheses, tests = 6, 4
	for range hypotheses {
		s.Weights = append(s.Weights, r.Float64())
	}
	for range tests {
		yes := make([]float64, hypotheses)
		for h := range yes {
			yes[h] = []float64{0.05, 0.8}[r.IntN(2)] + 0.15*r.Float64()
		}
		s.Tests = append(s.Tests, Test{Minutes: 1 + 5*r.Float64(), Outcomes: 2, Chances: func(h int, p []float64) { p[0], p[1] = 1-yes[h], yes[h] }})
	}
	choices := s.Choose()
	require.NotEmpty(t, choices)
	assert.Equal(t, choices, s.Choose())
	var left func(w []float64, used int) float64
	left = func(w []float64, used int) float64 {
		sum, most := 0.0, 0.0
		for _, x := range w {
			sum += x
			most = max(most, x)
		}
		if most >= s.Settled*sum {
			return 0
		}
		worths := Expect(w, s.Tests)
		best := -1
		for i, x := range worths {
			if used&(1<<i) == 0 && (best < 0 || x.PerMinute > worths[best].PerMinute) {
				best = i
			}
		}
		if best < 0 || worths[best].Bits*s.Unknown < s.Tests[best].Minutes {
			share := make([]float64, len(w))
			for i := range w {
				share[i] = w[i] / sum
			}
			return sum * Entropy(share) * s.Unknown
		}
		return doing(s, w, best, func(part []float64) float64 { return left(part, used|1<<best) })
	}
	for _, c := range choices {
		total := 0.0
		for _, w := range s.Weights {
			total += w
		}
		want := doing(s, s.Weights, c.Test, func(part []float64) float64 { return left(part, 1<<c.Test) }) / total
		assert.InDelta(t, want, c.Left, 1e-9, "test %d", c.Test)
		assert.False(t, c.Exact)
	}
}

// doing a test: its minutes, times the weight, and what comes of each outcome.
func doing(s *Search, w []float64, t int, then func(part []float64) float64) float64 {
	cost, p := 0.0, make([]float64, s.Tests[t].Outcomes)
	for o := range p {
		part := make([]float64, len(w))
		for h, x := range w {
			s.Tests[t].Chances(h, p)
			part[h] = x * p[o]
			cost += part[h] * s.Tests[t].Minutes
		}
		cost += then(part)
	}
	return cost
}

// Set-up that is there already makes a test the better choice.
func TestSharedSetUpCounts(t *testing.T) {
	s := drawn(rand.New(rand.NewPCG(1, 1)), 2, 2, 2)
	halves := Test{Outcomes: 2, Chances: func(h int, p []float64) { clear(p); p[h] = 1 }}
	s.Tests, s.Minutes, s.State = []Test{halves, halves}, [][]float64{{10, 12}, {10, 4}}, 0
	assert.Equal(t, 0, s.Choose()[0].Test)
	s.State = 1
	assert.Equal(t, 1, s.Choose()[0].Test)
	assert.InDelta(t, 4, s.Choose()[0].Left, 1e-12)
}

func TestNothingToChoose(t *testing.T) {
	assert.Empty(t, (&Search{Weights: make([]float64, 20)}).Choose())
	same := Test{Minutes: 1, Outcomes: 2, Chances: func(_ int, p []float64) { p[0], p[1] = .5, .5 }}
	assert.Empty(t, (&Search{Weights: []float64{1, 1}, Tests: []Test{same}}).Choose(), "it tells nothing")
}
