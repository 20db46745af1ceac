package reason

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestAlike(t *testing.T) {
	nan := math.NaN()
	columns := [][]float64{{70, 0}, {70.4, 0}, {90, 0}, {70.2, 1}, {nan, 0}, {nan, 0.05}, {89.5, 0.02}}
	assert.Equal(t, [][]int{{0, 1}, {2, 6}, {3}, {4, 5}}, Alike(columns, []float64{1, 0.1}))
	assert.Equal(t, [][]int{{0, 1, 2}}, Alike([][]float64{{}, {}, {}}, nil), "without a row nothing tells anything apart")
}

// No pair within a step in every row is torn apart, and no pair in one group has a gap in its row that shows.
func TestAlikeHasNoGridBoundaries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		columns := make([][]float64, n)
		for i := range columns {
			columns[i] = []float64{rapid.Float64Range(0, 10).Draw(t, "x"), rapid.Float64Range(0, 10).Draw(t, "y")}
		}
		groups := Alike(columns, []float64{1, 1})
		group := make([]int, n)
		seen := 0
		for g, members := range groups {
			for _, m := range members {
				group[m] = g
				seen++
			}
		}
		if seen != n {
			t.Fatalf("%d of %d columns in groups", seen, n)
		}
		for i := range n {
			for j := range n {
				if math.Abs(columns[i][0]-columns[j][0]) <= 1 && math.Abs(columns[i][1]-columns[j][1]) <= 1 && group[i] != group[j] {
					t.Fatalf("%v and %v are torn apart", columns[i], columns[j])
				}
			}
		}
	})
}
