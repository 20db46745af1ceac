package trace

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// Tracers that share a table say the same side by side as one says alone.
func TestSharedTracersAgree(t *testing.T) {
	alone, first := boardTracer(t), boardTracer(t)
	cases := make([]*circuit.Case, 3)
	want := make([]*Verdict, len(cases))
	for i, seconds := range []string{"70 s", "40 s", "20 s"} {
		result, err := circuit.ParseResult(seconds)
		require.NoError(t, err)
		cases[i] = &circuit.Case{Circuit: "bench_board", Findings: []circuit.Finding{{ID: "f1", Procedure: "build-up-85-100", Reading: "time", Result: result}}}
		want[i], err = alone.Trace(t.Context(), cases[i], nil)
		require.NoError(t, err)
	}
	share := first.Share()
	got := make([]*Verdict, len(cases))
	var work sync.WaitGroup
	for i := range cases {
		own := share()
		work.Go(func() { got[i], _ = own.Trace(t.Context(), cases[i], nil) })
	}
	work.Wait()
	for i := range cases {
		require.NotNil(t, got[i])
		require.Equal(t, want[i].Suspects, got[i].Suspects)
		require.Equal(t, want[i].Cleared, got[i].Cleared)
		require.Equal(t, len(want[i].Next), len(got[i].Next))
	}
}
