package trace

import (
	"context"
	"testing"

	"airpath/circuit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Of all that a vehicle shows, just one thing is reported: the chances add up to one.
func TestOneOfAllThatShowsIsReported(t *testing.T) {
	tracer := cachedTracer(t, "bench_board", "")
	require.NoError(t, tracer.Prepare(context.Background(), nil))
	shown := 0
	for v := range tracer.showing {
		sum := 0.0
		for p, pr := range tracer.procedures {
			healthy, values := tracer.table.values(p, 0), tracer.table.values(p, v)
			for r := range pr.Readings {
				if healthy != nil && values != nil && differs(&pr.Readings[r], healthy[r], values[r]) {
					o := &observation{procedure: p, reading: r, r: &pr.Readings[r]}
					sum += tracer.reportedOn(o, v)
				}
			}
		}
		if sum > 0 {
			assert.InDelta(t, 1, sum, 1e-9, "%v", tracer.table.vehicles[v])
			shown++
		}
	}
	assert.Greater(t, shown, 10)
}

// That a finding is what the vehicle came in for raises what shows in little else, and is said of one that is there alone.
func TestWhatWasReportedCounts(t *testing.T) {
	tracer := cachedTracer(t, "bench_board", "")
	require.NoError(t, tracer.Prepare(context.Background(), nil))
	k := &circuit.Case{Circuit: "bench_board", Title: "reported", Findings: []circuit.Finding{{
		ID: "f1", Procedure: "build-up-85-100", Reading: "time", Result: circuit.Result{Kind: circuit.Number, Text: "70 s"},
	}}}
	plain, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	k.Reported = "f1"
	reported, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	k.Reported = "f2"
	other, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	assert.NotEqual(t, plain.Suspects[0].Probability, reported.Suspects[0].Probability)
	assert.Equal(t, plain.Suspects[0].Probability, other.Suspects[0].Probability, "no finding has that id")
}
