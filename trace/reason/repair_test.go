package reason

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// After the troubleshooting chapter of Jensen & Nielsen, Bayesian Networks and Decision Graphs (2007); recomputed.
func TestRepairOrder(t *testing.T) {
	repairs := []Repair{
		{Cost: 1, Mends: []float64{1, 0, 0}},
		{Cost: 2, Mends: []float64{0, .95, 0}},
		{Cost: 25, Mends: []float64{.99, .99, 0}},
		{Cost: 500, Mends: []float64{1, 1, 1}},
	}
	order, cost := RepairOrder([]float64{.8, .15, .05}, repairs)
	assert.Equal(t, []int{0, 1, 2, 3}, order)
	assert.InDelta(t, 27.875, cost, 1e-9)
}

// With one cause per action the order by probability over cost is the best of all orders.
func TestRepairOrderIsOptimalForSingleCauses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "n")
		causes := make([]float64, n)
		repairs := make([]Repair, n)
		total := 0.0
		for i := range causes {
			causes[i] = rapid.Float64Range(0.01, 1).Draw(t, "p")
			total += causes[i]
			repairs[i] = Repair{Cost: rapid.Float64Range(0.1, 10).Draw(t, "cost"), Mends: make([]float64, n)}
			repairs[i].Mends[i] = 1
		}
		_, cost := RepairOrder(causes, repairs)
		best := -1.0
		var permute func(left []int, standing, spent float64)
		permute = func(left []int, standing, spent float64) {
			if len(left) == 0 {
				if best < 0 || spent < best {
					best = spent
				}
				return
			}
			for k, i := range left {
				rest := append(append([]int{}, left[:k]...), left[k+1:]...)
				permute(rest, standing-causes[i], spent+standing*repairs[i].Cost)
			}
		}
		all := make([]int, n)
		for i := range all {
			all[i] = i
		}
		permute(all, total, 0)
		if cost > best+1e-9 {
			t.Fatalf("order costs %g, the best %g", cost, best)
		}
	})
}
