package trace

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// Ice is what the same findings point to in frost, and hardly in warmth; what is no ice is as likely as ever, beside one another.
func TestIceIsLikelierInFrost(t *testing.T) {
	tracer := gritterTracer(t)
	chances := func(ambient string) map[string]float64 {
		k := &circuit.Case{Circuit: "gritter", Ambient: ambient}
		for _, f := range []struct{ procedure, reading, place, result string }{
			{"build-up-85-100", "time", "", "never"}, {"charging-gauges", "compressor-outlet", "compressor", "150 psi"},
		} {
			r, err := circuit.ParseResult(f.result)
			require.NoError(t, err)
			k.Findings = append(k.Findings, circuit.Finding{ID: f.reading, Procedure: f.procedure, Reading: f.reading, Place: f.place, Result: r})
		}
		v, err := tracer.Trace(context.Background(), k, nil)
		require.NoError(t, err)
		out := map[string]float64{}
		for _, s := range v.Suspects {
			out[id(s.Fault)] = s.Probability
		}
		return out
	}
	unsaid, frost, warm := chances(""), chances("-8 C"), chances("25 C")
	const ice, other = "discharge_line/iced", "discharge_line/carboned"
	require.Greater(t, unsaid[ice], 0.001)
	require.Greater(t, unsaid[other], 0.001)
	// What leads is looked at closely, and what that is changes with the frost: hence the margins.
	assert.InEpsilon(t, 4*unsaid[ice]/unsaid[other], frost[ice]/frost[other], 0.2, "all of a year's ice falls on the quarter of its days that have frost")
	assert.Less(t, warm[ice], 0.01*unsaid[ice])
	assert.NotZero(t, warm[ice], "nothing is ruled out by the weather")
	assert.InEpsilon(t, unsaid["discharge_line/blocked"]/unsaid[other], frost["discharge_line/blocked"]/frost[other], 0.1)
}
