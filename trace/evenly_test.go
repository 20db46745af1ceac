package trace

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
)

// A gauge in good order is off by 7 % of cut-out at most (49 CFR 571.121 S5.1.4), however it is drawn; half of what is drawn lies within half of that.
func TestAGaugeInGoodOrderIsWithinItsTolerance(t *testing.T) {
	var e evenly
	assert.InDelta(t, gaugeMost, gaugeSpread*e.along(8), 1e-9)
	assert.InDelta(t, gaugeMost/2, gaugeSpread*e.along(0.67449), 1e-5, "the upper quartile of a normal, from a table")
	for _, z := range []float64{-2, -0.3, 0, 1.1, 2.5} {
		assert.InDelta(t, (e.along(z+1e-5)-e.along(z-1e-5))/2e-5, e.slope(z), 1e-6)
	}
	n := gritterTracer(t).nuisances
	for _, draw := range n.draws {
		for k := n.even().first; k < n.even().last; k++ {
			assert.LessOrEqual(t, math.Abs(draw[k])*gaugeSpread, gaugeMost)
		}
	}
}

// What a substitute gauge shows settles it: beyond the tolerance the needle is at fault, within it nothing is.
func TestASubstituteGaugeSettlesWhetherANeedleIsOff(t *testing.T) {
	tracer := gritterTracer(t)
	for _, c := range []struct {
		off   string
		least float64 // probability of the gauge
		most  float64
	}{
		{"gauge_primary/reading high=13 psi", 0.8, 1},
		{"gauge_primary/reading low=13 psi", 0.8, 1},
		{"gauge_primary/reading high=6 psi", 0, 0.1},
	} {
		f, err := airflow.ParseFault(tracer.circuit, c.off)
		require.NoError(t, err)
		v, err := tracer.Trace(t.Context(), asFound(t, tracer, []airflow.Fault{f}, "cab-check", "substitute-gauge"), nil)
		require.NoError(t, err)
		p := 0.0
		for _, s := range v.Suspects {
			if s.Fault.Target == f.Target && s.Fault.Mode == f.Mode {
				p = s.Probability
			}
		}
		assert.GreaterOrEqual(t, p, c.least, c.off)
		assert.LessOrEqual(t, p, c.most, c.off)
	}
}
