package trace

import (
	"math"
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow"
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

// Where the density is not at the crest, because the figures that lead there are outvoted by outcomes that have no slope, the draws are drawn again
// until enough of them count, and the density is what summing over a fine grid gives.
func TestDrawsFollowTheDensity(t *testing.T) {
	const level, m, s = 8e5, 3.3e4, 6.9e3
	k, f := gazeOf(level, m, s, level)
	hears := procedure.Judge{Half: level + 2.5*m, Spread: 3e3} // yes only where the nuisance is 2.5 σ up
	for range 4 {
		o := &observation{r: &procedure.Reading{Dimension: circuit.Pressure, Form: procedure.YesNo}, e: procedure.Evidence{Kind: circuit.Yes, Judge: hears}}
		k.seen = append(k.seen, lookedAt{likelihood: &likelihood{o: o, healthy: level, flat: 0.5}, bend: k.seen[0].bend, count: 1})
		f.add([]step{{stretch: stretch{low: level, high: level}}}, nil, level)
	}
	k.seen[0].sigma = 3 * m // the figure says little
	k.seen[0].likelihood.sigma = 3 * m
	want, step := 0.0, 1e-3
	for z := -8.0; z < 8; z += step {
		x := level + m*z
		p := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) * reason.DensityOver(level, x, x, 3*m)
		for range 4 {
			p *= hears.Says(x)
		}
		want += p * step
	}
	assert.InDelta(t, math.Log(want), k.evidence(f), 0.15)
	p := k.lookAround([]*face{f})
	assert.Greater(t, counting(p.weights(), 1), enough)
}

// Of two faults each disturbs its own readings, and their severities are told apart by them.
func TestTwoFacesHaveASeverityEach(t *testing.T) {
	const level, s = 8e5, 5e3
	k, a := gazeOf(level, 0, s, level+2e4, level+8e4)
	_, b := gazeOf(level, 0, s, level+2e4, level+8e4)
	for i, f := range []*face{a, b} {
		f.over[i][0].high, f.own[i] = level+1e5, true
		k.seen[i].healthy = math.NaN()
	}
	together, alone := k.evidence(a, b), k.evidence(a)
	// One figure evenly between two bounds has the density 1/1e5; the other too, where a second fault may give it.
	assert.InDelta(t, -2*math.Log(1e5), together, 0.2)
	assert.Less(t, alone, together-50)
}

// How much a fault does half way between two severities: a hole passes by its area; of a way that closes what is left tells how fast.
func TestDoneHalfWay(t *testing.T) {
	hole := airflow.Severity{Dimension: circuit.Length, Mild: 1e-3, Typical: 2e-3, Severe: 4e-3}
	assert.InDelta(t, (2.25-1)/(4-1), doneHalfWay(hole, 1e-3, 1.5e-3, 2e-3, false), 1e-12)
	way := airflow.Severity{Dimension: circuit.Ratio, Mild: 0.5, Typical: 0.9, Severe: 0.99}
	assert.InDelta(t, 0.6/0.8, doneHalfWay(way, 0.1, 0.7, 0.9, true), 1e-12)
	assert.Equal(t, 0.5, doneHalfWay(way, 0.1, 0.7, 0.9, false))
	for _, share := range []float64{0, 0.5, 1} {
		assert.InDelta(t, map[float64]float64{0: 0, 0.5: 0.75, 1: 1}[share], done(share, 0.75), 1e-12)
	}
}
