package reason

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Sizes that are held against the goals: a heavy vehicle has some 500 faults and 60 procedures, and of its pairs some 45,000 are worth
// keeping. Draws as production has them; findings share most rows, since most faults leave most readings alone.
const (
	benchSingles = 500
	benchCells   = 5 // severities of each
	benchPairs   = 45_000
	benchDraws   = 64
	benchRows    = 40 // distinct of one finding
)

func benchSpace(singles, cells, draws int) Space {
	s := Space{Hypotheses: singles, Draws: draws, Together: true}
	for h := range singles {
		for range cells {
			s.Cells = append(s.Cells, Cell{Hypothesis: h, Prior: 1 / float64(1+h)})
		}
	}
	return s
}

// benchFinding is a finding on a reading that one fault in eight disturbs.
func benchFinding(r *rand.Rand, key string, s *Space) Factor {
	f := Factor{Key: key, Flat: 0.1, Outliers: 0.005, Rows: make([]int32, len(s.Cells)), Density: make([]float64, benchRows*s.Draws)}
	for i := range f.Density {
		f.Density[i] = math.Exp(-3 * r.Float64())
	}
	for c := range f.Rows {
		if c > 0 && r.IntN(8) == 0 {
			f.Rows[c] = int32(r.IntN(benchRows))
		}
	}
	return f
}

func benchBelief(tb testing.TB, s Space, findings int) (*Belief, []Factor) {
	tb.Helper()
	b, err := NewBelief(s)
	require.NoError(tb, err)
	r := rand.New(rand.NewPCG(1, 2))
	var all []Factor
	for i := range findings {
		all = append(all, benchFinding(r, fmt.Sprintf("f%02d", i), &s))
		require.NoError(tb, b.Weigh(all[i]))
	}
	return b, all
}

// times of a benchmark's rounds; the slowest of a hundred is told beside the mean.
type times []float64

func (t *times) add(began time.Time) { *t = append(*t, time.Since(began).Seconds()) }

func (t times) report(b *testing.B) {
	slices.Sort(t)
	b.ReportMetric(1000*t[len(t)/2], "p50-ms")
	b.ReportMetric(1000*t[min(len(t)-1, len(t)*99/100)], "p99-ms")
}

// A new finding with 59 of other procedures there: looked over, weighed, and all faults ranked anew.
func BenchmarkNewFinding(b *testing.B) {
	for _, c := range []struct {
		name         string
		cells, draws int
	}{{"one cell, one draw", 1, 1}, {"as production has it", benchCells, benchDraws}} {
		b.Run(c.name, func(b *testing.B) {
			s := benchSpace(benchSingles, c.cells, c.draws)
			belief, _ := benchBelief(b, s, 59)
			fresh := make([]Factor, 16)
			for i := range fresh {
				fresh[i] = benchFinding(rand.New(rand.NewPCG(9, uint64(i))), "new", &s)
			}
			var p Posterior
			belief.PosteriorInto(&p)
			order := make([]int, s.Hypotheses)
			var t times
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				b.StopTimer()
				belief.Forget("new")
				belief.PosteriorInto(&p)
				b.StartTimer()
				began := time.Now()
				if err := belief.Weigh(fresh[i%len(fresh)]); err != nil {
					b.Fatal(err)
				}
				belief.PosteriorInto(&p)
				rank(order, p.Hypotheses)
				t.add(began)
			}
			t.report(b)
		})
	}
}

// rank hypotheses, the most probable first.
func rank(order []int, p []float64) {
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(x, y int) int {
		if p[x] != p[y] {
			if p[x] > p[y] {
				return -1
			}
			return 1
		}
		return x - y
	})
}

// All pairs at once: 30 findings, and the likelihood of each of 45,000 pairs worked out anew.
func BenchmarkAllPairs(b *testing.B) {
	belief := benchPaired(b)
	var p Posterior
	belief.PosteriorInto(&p)
	var t times
	b.ReportAllocs()
	for b.Loop() {
		began := time.Now()
		belief.PosteriorInto(&p)
		t.add(began)
	}
	t.report(b)
}

func benchPaired(tb testing.TB) *Belief {
	s := benchSpace(benchSingles, 1, 1)
	belief, _ := benchBelief(tb, s, 30)
	var pairs []Pair
	for x := 1; x < benchSingles; x++ {
		for y := x + 1; y < benchSingles && len(pairs) < benchPairs; y++ {
			pairs = append(pairs, Pair{x, y, s.Cells[x].Prior * s.Cells[y].Prior})
		}
	}
	belief.Pair(pairs)
	return belief
}

// Once it has run, an update takes no new memory: a finding that is replaced by another that has been looked over, and the posterior
// after it.
func TestAnUpdateTakesNoMemory(t *testing.T) {
	s := benchSpace(100, 3, 16)
	belief, all := benchBelief(t, s, 20)
	belief.Pair([]Pair{{1, 40, 0.01}, {7, 200, 0.01}})
	other := all[3]
	other.Density = slices.Clone(other.Density)
	for i := range other.Density {
		other.Density[i] *= 0.9
	}
	var taken [2]*Taken
	for i, f := range []Factor{all[3], other} {
		var err error
		taken[i], err = s.Take(f)
		require.NoError(t, err)
	}
	var p Posterior
	update := 0
	step := func() {
		belief.Add(taken[update%2])
		belief.PosteriorInto(&p)
		update++
	}
	for range 4 {
		step()
	}
	assert.Zero(t, testing.AllocsPerRun(20, step))
}

// A choice among some 40 tests over 60 hypotheses, with outcomes that are not sure.
func BenchmarkChoose(b *testing.B) {
	s := unsure(rand.New(rand.NewPCG(5, 1)), 60, 40)
	var t times
	for b.Loop() {
		began := time.Now()
		s.Choose()
		t.add(began)
	}
	t.report(b)
}

func unsure(r *rand.Rand, hypotheses, tests int) *Search {
	s := &Search{Settled: 0.95, Unknown: 20}
	for range hypotheses {
		s.Weights = append(s.Weights, math.Exp(2*r.NormFloat64()))
	}
	for range tests {
		n := 4 << r.IntN(5)
		chances := make([][]float64, hypotheses)
		for h := range chances {
			likely := 0
			if r.IntN(4) == 0 {
				likely = r.IntN(n)
			}
			chances[h] = make([]float64, n)
			for o := range n {
				chances[h][o] = 0.1 / float64(n)
			}
			chances[h][likely] += 0.9
		}
		s.Tests = append(s.Tests, Test{Minutes: 5 + 15*r.Float64(), Outcomes: n, Chances: func(h int, p []float64) { copy(p, chances[h]) }})
	}
	return s
}
