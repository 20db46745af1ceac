package trace

import (
	"fmt"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// builtUpIn is a case of the bench board that took so many seconds to build up, and whose needle was seen to fall.
func builtUpIn(tb testing.TB, seconds float64) *circuit.Case {
	tb.Helper()
	result, err := circuit.ParseResult(fmt.Sprintf("%g s", seconds))
	require.NoError(tb, err)
	return &circuit.Case{Circuit: "bench_board", Findings: []circuit.Finding{{ID: "f1", Procedure: "build-up-85-100", Reading: "time", Result: result}}}
}

// A tracer that lets go of everything before each question says what one says that keeps everything, to the last bit.
func TestLettingGoChangesNothing(t *testing.T) {
	keeps, lets := boardTracer(t), boardTracer(t)
	lets.table.mostAdded = 0
	added, most := 0, 0
	for _, seconds := range []float64{70, 40, 20, 70, 33} {
		k := builtUpIn(t, seconds)
		want, err := keeps.Trace(t.Context(), k, nil)
		require.NoError(t, err)
		lets.factors.kept = nil
		got, err := lets.Trace(t.Context(), k, nil)
		require.NoError(t, err)
		require.Equal(t, said(want), said(got))
		added, most = len(keeps.table.vehicles), max(most, len(lets.table.vehicles))
	}
	assert.Less(t, most, added, "something was let go")
	assert.Greater(t, most, len(lets.table.all()), "and something simulated")
}

// Whoever traces vehicle after vehicle with one tracer holds no more after sixty of them than after twenty.
func TestMemoryStaysBounded(t *testing.T) {
	tracer := boardTracer(t)
	tracer.table.mostAdded = 200
	held := func() int {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return int(m.HeapAlloc)
	}
	after20 := 0
	for i := range 60 {
		_, err := tracer.Trace(t.Context(), builtUpIn(t, 20+float64(i)), nil)
		require.NoError(t, err)
		require.LessOrEqual(t, len(tracer.factors.kept), mostFactors+2)
		if i == 19 {
			after20 = held()
		}
	}
	assert.Less(t, held()-after20, 8<<20)
	assert.Less(t, len(tracer.table.vehicles), len(tracer.table.all())+200+1500, "the bound, and what one question adds")
}
