package trace

import (
	"math"
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"

	"github.com/stretchr/testify/assert"
)

// gazeOf readings of one gauge that should stand at a level, moved by one nuisance and read with an error, all in Pa.
func gazeOf(level, moves, sigma float64, read ...float64) (*gaze, *face) {
	const dims = 3
	k := &gaze{dims: dims, normal: reason.Draws(512, dims+mostFaces), keys: map[string]int{}}
	f := &face{steps: &steps{shares: []float64{0, 1}}}
	for _, y := range read {
		o := &observation{r: &procedure.Reading{Dimension: circuit.Pressure, Sigma: sigma}, e: procedure.Evidence{Kind: circuit.Number, Low: y, High: y}}
		l := &likelihood{o: o, sigma: sigma, healthy: level, outliers: 0, flat: 1e-6}
		k.seen = append(k.seen, lookedAt{likelihood: l, bend: bend{up: []float64{0, moves, 0}, down: []float64{0, -moves, 0}, ratio: make([]bool, dims)}, count: 1})
		f.add([]step{{stretch: stretch{low: level, high: level}}}, nil, level)
	}
	return k, f
}

// What the draws are weighted by sums to one: without findings nothing is learnt.
func TestACloserLookAtNothingLearnsNothing(t *testing.T) {
	k, f := gazeOf(8e5, 3e4, 7e3)
	assert.InDelta(t, 0, k.evidence(f), 0.02)
}

// Of normal readings that share one normal error the density is known in closed form (the multivariate normal): with n readings of
// error s that share an error of spread m, the covariance is s² on the diagonal and m² everywhere. Where the draws that all
// hypotheses share would have one in the right place or none, a closer look goes where the findings are.
func TestACloserLookHasTheDensityOfNormalReadings(t *testing.T) {
	const level, m, s = 8e5, 3.3e4, 6.9e3
	for _, read := range [][]float64{{level}, {level + 4e4}, {level - 6e4, level - 5.5e4}, {level + 5e4, level + 5.2e4, level + 4.5e4, level + 5.6e4}} {
		k, f := gazeOf(level, m, s, read...)
		n, sum, squares := float64(len(read)), 0.0, 0.0
		for _, y := range read {
			sum += y - level
			squares += (y - level) * (y - level)
		}
		// Inverse and determinant of s²I + m²11ᵀ (Sherman and Morrison).
		inverse := (squares - m*m/(s*s+n*m*m)*sum*sum) / (s * s)
		logDet := (n-1)*math.Log(s*s) + math.Log(s*s+n*m*m)
		want := -(n*math.Log(2*math.Pi) + logDet + inverse) / 2
		assert.InDelta(t, want, k.evidence(f), 0.05, "%v", read)
	}
}

// A severity is one number in all readings: two that want different ones are no more likely together than the worse fit says.
func TestACloserLookTakesOneSeverityForAllReadings(t *testing.T) {
	const level, s = 8e5, 5e3
	evidence := func(first, second float64) float64 {
		k, f := gazeOf(level, 0, s, first, second)
		for i := range f.over {
			k.seen[i].healthy = math.NaN()
			f.over[i][0].low, f.over[i][0].high, f.own[i] = level, level+1e5, true
		}
		return k.evidence(f)
	}
	assert.Greater(t, evidence(level+5e4, level+5e4), evidence(level+2e4, level+8e4)+10)
}
