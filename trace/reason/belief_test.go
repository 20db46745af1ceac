package reason

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Lauritzen & Spiegelhalter, J. R. Statist. Soc. B 50 (1988): the chest clinic, as 256 listed hypotheses.
func TestAsia(t *testing.T) {
	const asia, smoke, tub, lung, bronc, either, xray, dysp = 0, 1, 2, 3, 4, 5, 6, 7
	at := func(h, v int) bool { return h&(1<<v) != 0 }
	chance := func(yes bool, p float64) float64 {
		if yes {
			return p
		}
		return 1 - p
	}
	pick := func(c bool, a, b float64) float64 {
		if c {
			return a
		}
		return b
	}
	space := Space{Hypotheses: 256, Draws: 1}
	for h := range 256 {
		p := chance(at(h, asia), .01) * chance(at(h, smoke), .5)
		p *= chance(at(h, tub), pick(at(h, asia), .05, .01))
		p *= chance(at(h, lung), pick(at(h, smoke), .1, .01))
		p *= chance(at(h, bronc), pick(at(h, smoke), .6, .3))
		p *= chance(at(h, either), pick(at(h, tub) || at(h, lung), 1, 0))
		p *= chance(at(h, xray), pick(at(h, either), .98, .05))
		d := pick(at(h, bronc), pick(at(h, either), .9, .8), pick(at(h, either), .7, .1))
		p *= chance(at(h, dysp), d)
		space.Cells = append(space.Cells, Cell{Hypothesis: h, Prior: p})
	}
	seen := func(v int) Factor {
		f := Factor{Key: string(rune('a' + v)), Density: make([]float64, 256)}
		for h := range f.Density {
			f.Density[h] = pick(at(h, v), 1, 0)
		}
		return f
	}
	tests := []struct {
		name     string
		evidence []int
		want     map[int]float64
	}{
		{"nothing seen", nil, map[int]float64{tub: .0104, lung: .055, either: .064828, xray: .11029004, dysp: .4359706}},
		{"x-ray", []int{xray}, map[int]float64{tub: .0924108832, lung: .4887114013, either: .5760396859, bronc: .506326156}},
		{"asia and dyspnoea", []int{dysp, asia}, map[int]float64{lung: .0995251451, bronc: .8114020716}},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			b, err := NewBelief(space)
			require.NoError(t, err)
			for _, v := range c.evidence {
				require.NoError(t, b.Weigh(seen(v)))
			}
			p := b.Posterior()
			for v, want := range c.want {
				got := 0.0
				for h, x := range p.Hypotheses {
					if at(h, v) {
						got += x
					}
				}
				assert.InDelta(t, want, got, 1e-10)
			}
		})
	}
}

// The posterior is what enumeration by plain products gives, and the order of the factors changes not one bit.
func TestPosteriorAgainstEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hypotheses := rapid.IntRange(1, 6).Draw(t, "hypotheses")
		draws := rapid.IntRange(1, 4).Draw(t, "draws")
		space := Space{Hypotheses: hypotheses, Draws: draws}
		for h := range hypotheses {
			for range rapid.IntRange(1, 3).Draw(t, "cells") {
				space.Cells = append(space.Cells, Cell{Hypothesis: h, Prior: rapid.Float64Range(1e-4, 1).Draw(t, "prior")})
			}
		}
		var factors []Factor
		cellsOf := len(space.Cells)
		for i := range rapid.IntRange(0, 5).Draw(t, "factors") {
			f := Factor{Key: string(rune('a' + i)), Flat: rapid.Float64Range(0.01, 1).Draw(t, "flat"), Outliers: rapid.Float64Range(0, 0.2).Draw(t, "outliers")}
			rows := cellsOf
			if rapid.Bool().Draw(t, "shared rows") {
				rows = rapid.IntRange(1, 2).Draw(t, "rows")
				for range cellsOf {
					f.Rows = append(f.Rows, int32(rapid.IntRange(0, rows-1).Draw(t, "row")))
				}
			}
			for range rows * draws {
				f.Density = append(f.Density, rapid.Float64Range(1e-6, 5).Draw(t, "density"))
			}
			if rapid.Bool().Draw(t, "joint") || f.Rows == nil {
				f.Joint = func(x, y int32) []float64 {
					p := make([]float64, draws)
					for d := range p {
						p[d] = math.Sqrt(f.Density[int(x)*draws+d] * f.Density[int(y)*draws+d])
					}
					return p
				}
			} else {
				f.Joint = func(x, y int32) []float64 {
					p := make([]float64, draws)
					for d := range p {
						p[d] = 0.25*f.Density[int(x)*draws+d] + 0.75*f.Density[int(y)*draws+d]
					}
					return p
				}
			}
			factors = append(factors, f)
		}
		var pairs []Pair
		for range rapid.IntRange(0, 4).Draw(t, "pairs") {
			x, y := rapid.IntRange(0, cellsOf-1).Draw(t, "x"), rapid.IntRange(0, cellsOf-1).Draw(t, "y")
			if space.Cells[x].Hypothesis != space.Cells[y].Hypothesis {
				pairs = append(pairs, Pair{x, y, rapid.Float64Range(1e-4, 1).Draw(t, "pair prior")})
			}
		}
		row := func(f *Factor, c int) int32 {
			if f.Rows == nil {
				return int32(c)
			}
			return f.Rows[c]
		}
		at := func(f *Factor, r int32, d int) float64 {
			return (1-f.Outliers)*f.Density[int(r)*draws+d] + f.Outliers*f.Flat
		}
		// Of two cells together: the row of the one that differs from the first hypothesis's, or what Joint says.
		both := func(f *Factor, p Pair, d int) float64 {
			x, y, rest := row(f, p.A), row(f, p.B), row(f, 0)
			switch {
			case x == rest:
				return at(f, y, d)
			case y == rest:
				return at(f, x, d)
			}
			return (1-f.Outliers)*f.Joint(min(x, y), max(x, y))[d] + f.Outliers*f.Flat
		}
		want := make([]float64, hypotheses)
		total := 0.0
		for _, pair := range pairs {
			for d := range draws {
				p := pair.Prior / float64(draws)
				for i := range factors {
					p *= both(&factors[i], pair, d)
				}
				want[space.Cells[pair.A].Hypothesis] += p
				want[space.Cells[pair.B].Hypothesis] += p
				total += p
			}
		}
		for c, cell := range space.Cells {
			for d := range draws {
				p := cell.Prior / float64(draws)
				for _, f := range factors {
					p *= (1-f.Outliers)*f.Row(c, draws)[d] + f.Outliers*f.Flat
				}
				want[cell.Hypothesis] += p
				total += p
			}
		}
		posterior := func(order []Factor) Posterior {
			b, err := NewBelief(space)
			if err != nil {
				t.Fatal(err)
			}
			b.Pair(pairs)
			for i, f := range order {
				if err := b.Weigh(f); err != nil {
					t.Fatal(err)
				}
				if i == len(order)/2 { // looked at on the way, with something that is taken back again
					stray := f
					stray.Key = "stray"
					if err := b.Weigh(stray); err != nil {
						t.Fatal(err)
					}
					b.Posterior()
					b.Forget("stray")
				}
			}
			return b.Posterior()
		}
		got := posterior(factors)
		for h := range want {
			if math.Abs(got.Hypotheses[h]-want[h]/total) > 1e-12 {
				t.Fatalf("hypothesis %d: %g, by enumeration %g", h, got.Hypotheses[h], want[h]/total)
			}
		}
		if len(factors) > 0 { // one left out is as if it had never come
			b, _ := NewBelief(space)
			b.Pair(pairs)
			for _, f := range factors {
				if err := b.Weigh(f); err != nil {
					t.Fatal(err)
				}
			}
			left, rest := b.Without("a"), posterior(factors[1:])
			for h := range want {
				if left.Hypotheses[h] != rest.Hypotheses[h] {
					t.Fatalf("hypothesis %d without the first factor: %g, never given it %g", h, left.Hypotheses[h], rest.Hypotheses[h])
				}
			}
		}
		again := posterior(rapid.Permutation(factors).Draw(t, "order"))
		for h := range want {
			if again.Hypotheses[h] != got.Hypotheses[h] {
				t.Fatalf("the order of the evidence changes hypothesis %d", h)
			}
		}
	})
}

func flatSpace(n int) Space {
	s := Space{Hypotheses: n, Draws: 1}
	for h := range n {
		s.Cells = append(s.Cells, Cell{Hypothesis: h, Prior: 1})
	}
	return s
}

// against is evidence that makes hypothesis 0 this many times less likely than the rest.
func against(key string, factor float64, n int) Factor {
	f := Factor{Key: key, Density: make([]float64, n)}
	for i := range f.Density {
		f.Density[i] = 1
	}
	f.Density[0] = 1 / factor
	return f
}

func TestClearedNeedsTwoFindings(t *testing.T) {
	tests := []struct {
		name    string
		factors []float64
		cleared bool
	}{
		{"nothing against it", []float64{1, 1}, false},
		{"one strong finding alone", []float64{1e9, 1}, false},
		{"two middling ones, too weak together", []float64{6, 6}, false},
		{"two that hold without each other", []float64{40, 40}, true},
		{"three where any two do", []float64{9, 9, 9}, true},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			b, err := NewBelief(flatSpace(4))
			require.NoError(t, err)
			for i, f := range c.factors {
				require.NoError(t, b.Weigh(against(string(rune('a'+i)), f, 4)))
			}
			cleared := b.Cleared(DefaultBar)
			assert.Equal(t, c.cleared, len(cleared) == 1)
		})
	}
}

// Rare is not cleared: without evidence against it a small prior stays a suspect.
func TestRareIsNotCleared(t *testing.T) {
	s := flatSpace(3)
	s.Cells[0].Prior = 1e-6
	b, err := NewBelief(s)
	require.NoError(t, err)
	require.NoError(t, b.Weigh(against("a", 1.1, 3)))
	assert.Empty(t, b.Cleared(DefaultBar))
}

func TestClearedNamesTheFindingThatDidIt(t *testing.T) {
	b, err := NewBelief(flatSpace(5))
	require.NoError(t, err)
	require.NoError(t, b.Weigh(against("gauge", 50, 5)))
	require.NoError(t, b.Weigh(against("soap", 500, 5)))
	require.NoError(t, b.Weigh(against("lamp", 1, 5)))
	cleared := b.Cleared(DefaultBar)
	require.Len(t, cleared, 1)
	require.Len(t, cleared[0].Against, 2)
	assert.Equal(t, "soap", cleared[0].Against[0].Key)
	assert.InDelta(t, 1.0/500, cleared[0].Against[0].Factor, 1e-12)
}

// With a share of outliers no single finding is fatal, however impossible it makes the truth.
func TestOutliersKeepHypothesesAlive(t *testing.T) {
	b, err := NewBelief(flatSpace(2))
	require.NoError(t, err)
	require.NoError(t, b.Weigh(Factor{Key: "a", Density: []float64{0, 1}, Flat: 0.2, Outliers: 0.01}))
	assert.InDelta(t, 0.002/(0.002+0.992), b.Posterior().Hypotheses[0], 1e-12)
}

// A bias shared over the case can't be used twice in opposite directions: two readings that need opposite biases are
// less likely than independent biases would make them.
func TestSharedDrawsBindReadingsTogether(t *testing.T) {
	s := Space{Hypotheses: 1, Cells: []Cell{{Hypothesis: 0, Prior: 1}}, Draws: 2}
	b, err := NewBelief(s)
	require.NoError(t, err)
	require.NoError(t, b.Weigh(Factor{Key: "a", Density: []float64{1, 0.01}}))
	require.NoError(t, b.Weigh(Factor{Key: "b", Density: []float64{0.01, 1}}))
	assert.InDelta(t, math.Log(0.01), b.Posterior().Evidence, 1e-12)
}

func TestBadInputIsSaid(t *testing.T) {
	_, err := NewBelief(Space{Hypotheses: 1, Cells: []Cell{{Hypothesis: 0, Prior: 1}}})
	assert.ErrorContains(t, err, "at least one draw")
	_, err = NewBelief(Space{Hypotheses: 1, Draws: 1, Cells: []Cell{{Hypothesis: 3, Prior: 1}}})
	assert.ErrorContains(t, err, "belongs to hypothesis 3")
	_, err = NewBelief(Space{Hypotheses: 1, Draws: 1, Cells: []Cell{{Hypothesis: 0, Prior: math.NaN()}}})
	assert.ErrorContains(t, err, "prior NaN")
	b, err := NewBelief(flatSpace(2))
	require.NoError(t, err)
	assert.ErrorContains(t, b.Weigh(Factor{Key: "x", Density: []float64{1}}), "want 2")
	assert.ErrorContains(t, b.Weigh(Factor{Key: "x", Density: []float64{1, math.NaN()}}), "density NaN")
	assert.ErrorContains(t, b.Weigh(Factor{Key: "x", Density: []float64{1}, Rows: []int32{0, 1}}), "row 1")
	assert.ErrorContains(t, b.Weigh(Factor{Key: "x", Density: []float64{1}, Rows: []int32{0}}), "1 cells")
}
