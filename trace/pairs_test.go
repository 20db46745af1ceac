package trace

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// asFound carries procedures out on a vehicle with some faults and notes all that is read, to the nearest that people write down.
func asFound(t *testing.T, tracer *Tracer, faults []airflow.Fault, ids ...string) *circuit.Case {
	t.Helper()
	bench, err := procedure.NewBench(tracer.network, faults, airflow.Scatter{})
	require.NoError(t, err)
	k := &circuit.Case{Circuit: tracer.circuit.Name}
	for _, id := range ids {
		for _, p := range tracer.procedures {
			if p.ID != id {
				continue
			}
			o, err := bench.Do(context.Background(), p)
			require.NoError(t, err)
			for i, x := range o.Values {
				r := &p.Readings[i]
				result := circuit.Result{Kind: circuit.Number, Text: circuit.Format(x, r.Dimension, circuit.UnitFor(r.Dimension, "psi"), 0)}
				switch {
				case r.Form == procedure.YesNo && r.Judge.Says(x) > 0.5:
					result = circuit.Result{Kind: circuit.Yes, Text: "yes"}
				case r.Form == procedure.YesNo:
					result = circuit.Result{Kind: circuit.No, Text: "no"}
				case math.IsNaN(x):
					result = circuit.Result{Kind: circuit.Never, Text: "never"}
				}
				k.Findings = append(k.Findings, circuit.Finding{ID: id + "-" + r.ID + "-" + r.Place, Procedure: id, Reading: r.ID, Place: r.Place, Result: result})
			}
		}
	}
	return k
}

// Two faults that have nothing to do with one another, each of which explains a few findings of many, are named as two; what nobody
// knows is not taken to be the matter.
func TestTwoUnrelatedFaultsAreAPair(t *testing.T) {
	tracer := gritterTracer(t)
	faults := []airflow.Fault{
		{Target: "governor", Mode: "cut-out low", Severity: 16 * circuit.PSI}, {Target: "front_left_slack", Mode: "not adjusting", Severity: 0.015},
	}
	k := asFound(t, tracer, faults, "governor-cut-out", "push-rod-stroke", "leak-down-released", "slack-travel")
	require.NotEmpty(t, k.Findings)
	v, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	assert.Less(t, v.SomethingElse, 0.01)
	assert.Equal(t, "governor/cut-out low", ranking(v)[0])
	assert.Greater(t, v.Suspects[0].Probability, 0.9)
	require.NotEmpty(t, v.Pairs)
	assert.Equal(t, [2]string{"governor/cut-out low", "front_left_slack/not adjusting"}, [2]string{id(v.Pairs[0].Faults[0]), id(v.Pairs[0].Faults[1])})
	long := v.Pairs[0].Probability
	for _, p := range v.Pairs[1:] { // what else makes one stroke long
		if id(p.Faults[0]) == "governor/cut-out low" && id(p.Faults[1]) != "front_left_slack/not adjusting" {
			long += p.Probability
		}
	}
	assert.Greater(t, long, 0.9)
}

// Of few findings two faults can't be told from something that nobody knows; the likeliest two are named nevertheless.
func TestTwoFaultsAreNamedWhereNothingKnownFits(t *testing.T) {
	tracer := gritterTracer(t)
	k := &circuit.Case{Circuit: "gritter"}
	for _, f := range []struct{ procedure, reading, place, result string }{
		{"governor-cut-out", "pressure", "gauge_primary", "92 psi"}, {"push-rod-stroke", "stroke", "front_left_chamber", "55 mm"},
		{"push-rod-stroke", "stroke", "front_right_chamber", "37 mm"},
	} {
		r, err := circuit.ParseResult(f.result)
		require.NoError(t, err)
		k.Findings = append(k.Findings, circuit.Finding{ID: f.reading + f.place, Procedure: f.procedure, Reading: f.reading, Place: f.place, Result: r})
	}
	v, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	require.True(t, v.Unknown(), "something else at %v", v.SomethingElse)
	require.Len(t, v.Pairs, fewPairsSaid)
	assert.Equal(t, [2]string{"governor/cut-out low", "front_left_slack/not adjusting"}, [2]string{id(v.Pairs[0].Faults[0]), id(v.Pairs[0].Faults[1])})

	k.Findings = k.Findings[:1]
	v, err = tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	assert.False(t, v.Unknown())
	assert.Empty(t, v.Pairs, "one fault is enough")
}

// Two faults at once are no rivals: neither is held to have given what the other gave, and what is asked next is which of those that
// lengthen the stroke it is.
func TestTwoFaultsAreNoRivals(t *testing.T) {
	tracer := gritterTracer(t)
	faults := []airflow.Fault{
		{Target: "governor", Mode: "cut-out low", Severity: 16 * circuit.PSI}, {Target: "front_left_slack", Mode: "not adjusting", Severity: 0.015},
	}
	k := asFound(t, tracer, faults, "governor-cut-out", "push-rod-stroke", "leak-down-released", "slack-travel")
	v, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	require.NotEmpty(t, v.Pairs)
	assert.Empty(t, v.Disagree)
	require.NotEmpty(t, v.Next)
	assert.NotContains(t, v.Next[0].Because, "governor", "it is there whatever the other is")
	assert.Contains(t, v.Next[0].Because, "front left slack adjuster (not adjusting)")
	assert.NotContains(t, v.Stop, "is as good as certain", "the other is not known yet")
}

// Of suspects that no procedure parts it is said which to mend first, and that the repair parts them.
func TestStopSaysThatARepairIsATest(t *testing.T) {
	tracer := gritterTracer(t)
	faults := []airflow.Fault{{Target: "rear_left_chamber", Mode: "inner seal leaking", Severity: 1.2e-3}}
	v, err := tracer.Trace(context.Background(), asFound(t, tracer, faults, "listen-released", "listen-parked", "listen-applied", "hold-off-pressure", "leak-down-released"), nil)
	require.NoError(t, err)
	require.NotEmpty(t, v.Inseparable)
	require.NotEmpty(t, v.Stop)
	assert.Contains(t, v.Stop, "rear left spring brake chamber: ")
	assert.Regexp(t, `A repair is a test too: begin with .* \(\d+ minutes\); if the vehicle is in order then, it was that; if not, go on with `, v.Stop)
}
