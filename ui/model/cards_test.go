package model

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestRanksPutGroupsTogether(t *testing.T) {
	a := &Answer{Suspects: []Suspect{{Probability: 0.4}, {Probability: 0.3}, {Probability: 0.2}, {Probability: 0.05}},
		Alike: []Alike{{Suspects: []int{2, 1}, Separable: true}, {Suspects: []int{1, 3}}}}
	r := a.Ranks()
	require.Len(t, r, 3)
	assert.Equal(t, []int{1, 2}, r[0].Suspects, "together they are the likeliest")
	assert.True(t, r[0].Separable)
	assert.Equal(t, []int{0}, r[1].Suspects)
	assert.Equal(t, []int{3}, r[2].Suspects, "nobody is in two groups")
}

// Each suspect is in exactly one rank, and the ranks add up.
func TestRanksLoseNobody(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := &Answer{}
		n := rapid.IntRange(0, 9).Draw(t, "n")
		for range n {
			a.Suspects = append(a.Suspects, Suspect{Probability: rapid.Float64Range(0, 1).Draw(t, "p")})
		}
		for range rapid.IntRange(0, 3).Draw(t, "groups") {
			a.Alike = append(a.Alike, Alike{Suspects: rapid.SliceOf(rapid.IntRange(-1, 10)).Draw(t, "g")})
		}
		var seen []int
		last := 1e9
		for _, r := range a.Ranks() {
			seen = append(seen, r.Suspects...)
			if r.Probability > last {
				t.Fatalf("ranks out of order")
			}
			last = r.Probability
		}
		slices.Sort(seen)
		for i := range n {
			if i >= len(seen) || seen[i] != i {
				t.Fatalf("%d suspects, ranked %v", n, seen)
			}
		}
	})
}
