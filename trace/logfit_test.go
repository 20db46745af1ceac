package trace

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// logged carries out a procedure on a gritter with a fault, and writes down what its dash gauges show at 1 Hz, with noise and a
// biased gauge.
func logged(t *testing.T, fault *airflow.Fault, scatter airflow.Scatter, procedureID string, noise, bias float64, seed uint64) circuit.Log {
	t.Helper()
	tracer := gritterTracer(t)
	var faults []airflow.Fault
	if fault != nil {
		faults = append(faults, *fault)
	}
	bench, err := procedure.NewBench(tracer.network, faults, scatter)
	require.NoError(t, err)
	for _, p := range tracer.procedures {
		if p.ID != procedureID {
			continue
		}
		o, err := bench.Do(context.Background(), p)
		require.NoError(t, err)
		random := rand.New(rand.NewPCG(seed, 1))
		var b strings.Builder
		b.WriteString("time [s],primary [psi],secondary [psi]\n")
		c := o.Curves
		end := c.Seconds[len(c.Seconds)-1]
		n := int(end)
		var at []float64
		for i := range n {
			at = append(at, float64(i))
		}
		primary, secondary := interpolated(c.Seconds, c.Series[0].Pressure, at), interpolated(c.Seconds, c.Series[1].Pressure, at)
		for i := range n {
			psi := func(pa float64) float64 { return (pa - circuit.AtmospherePressure) / circuit.PSI }
			fmt.Fprintf(&b, "%d,%.2f,%.2f\n", i, psi(primary[i])+bias+noise*random.NormFloat64(), psi(secondary[i])-bias+noise*random.NormFloat64())
		}
		return circuit.Log{ID: "log1", File: "leak.csv", Procedure: procedureID, Data: []byte(b.String())}
	}
	require.Fail(t, "no procedure "+procedureID)
	return circuit.Log{}
}

// The case of the identification study: a leak of C = 0.0075 dm3/(s bar) on the primary reservoir, 1 Hz, sigma 0.5 psi. With
// one independent reading in ten seconds the study gives its size to 4.7 % (1 sigma, of the conductance) from four tests of 1200 s
// together, without gauge error; one test of 300 s must stay within a factor of 3 of that, and not claim more than the study.
func TestALogGivesTheLeakItsSize(t *testing.T) {
	size := airflow.HoleDiameter(0.0075e-8, airflow.SharpHole)
	truth := airflow.Fault{Target: "tank", Mode: "primary leaking", Severity: size}
	tracer := gritterTracer(t)
	for seed := range uint64(2) {
		scatter := airflow.Scatter{Volume: 0.04 * float64(seed)}
		k := &circuit.Case{Circuit: "gritter", Logs: []circuit.Log{logged(t, &truth, scatter, "leak-down-released", 0.5, 1.5, seed)}}
		v, err := tracer.Trace(context.Background(), k, nil)
		require.NoError(t, err)
		require.NotEmpty(t, v.Fits)
		var found *LogFit
		for i := range v.Fits {
			if id(v.Fits[i].Fault) == id(truth) {
				found = &v.Fits[i]
			}
		}
		for _, f := range v.Fits {
			t.Logf("%s %.2f: %.3g to %.3g to %.3g mm; misfit %.2f psi", id(f.Fault), f.Probability, 1e3*f.Severity.Low, 1e3*f.Severity.Mid, 1e3*f.Severity.High, f.Misfit/circuit.PSI)
		}
		require.NotNil(t, found, "the leaking reservoir is among what is fitted")
		sigma := 2 * math.Log(found.Severity.High/found.Severity.Low) / (2 * 1.645) // of the conductance: the area goes with the square
		t.Logf("true %.3f mm, sigma of the conductance %.1f %%", 1e3*size, 100*sigma)
		assert.Less(t, sigma, 3*0.047)
		assert.Greater(t, sigma, 0.047/3)
		assert.InDelta(t, 0, 2*math.Log(found.Severity.Mid/size), 3*sigma)
		assert.Less(t, found.Misfit, 1*circuit.PSI)
	}
}

// A needle reading of the procedure that was logged is read off the same curve, and counts once; what is heard counts beside it.
func TestALogAndItsReadingsCountOnce(t *testing.T) {
	tracer := gritterTracer(t)
	truth := airflow.Fault{Target: "tank", Mode: "primary leaking", Severity: 1e-3}
	log := logged(t, &truth, airflow.Scatter{}, "leak-down-released", 0.5, 0, 7)
	k := &circuit.Case{Circuit: "gritter", Logs: []circuit.Log{log}}
	alone, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	result, err := circuit.ParseResult("5 psi/min")
	require.NoError(t, err)
	k.Findings = []circuit.Finding{{ID: "f1", Procedure: "leak-down-released", Reading: "fall", Place: "gauge_primary", Result: result}}
	both, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	require.Len(t, both.Ignored, 1)
	assert.Contains(t, both.Ignored[0].Because, "counts once")
	assert.Equal(t, ranking(alone), ranking(both))

	// No log makes the odds larger than its share of mistakes allows, and a log clears nobody by itself beyond that.
	for _, s := range alone.Suspects {
		assert.Less(t, s.Probability, 0.999)
	}

	k.Logs[0].Data = nil
	unread, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	require.Len(t, unread.Ignored, 1)
	assert.Contains(t, unread.Ignored[0].Because, "leak.csv was not read")

	k.Logs[0].Procedure = "leak-down-relased"
	_, err = tracer.Trace(context.Background(), k, nil)
	require.ErrorContains(t, err, `did you mean "leak-down-released"?`)
}
