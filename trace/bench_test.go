package trace

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
)

func freshTracer(b *testing.B) *Tracer {
	b.Helper()
	c, err := circuits.Load("gritter")
	require.NoError(b, err)
	n, err := airflow.Compile(c)
	require.NoError(b, err)
	t, err := New(n, Options{})
	require.NoError(b, err)
	return t
}

// The whole signature table of the gritter: every fault at its severities through every procedure, on all cores.
func BenchmarkSignatureTable(b *testing.B) {
	for b.Loop() {
		require.NoError(b, freshTracer(b).Prepare(context.Background(), nil))
	}
}

// What a first finding asks for: the columns of its procedure, and enough of the others to say what to do next. s-first is when the
// suspects are there.
func BenchmarkFirstFinding(b *testing.B) {
	k := loadCase(b, "slow-build-up")
	k.Findings = k.Findings[:1]
	first := time.Duration(0)
	for b.Loop() {
		began := time.Now()
		_, err := freshTracer(b).TraceInParts(context.Background(), k, func(*Verdict) { first += time.Since(began) }, nil)
		require.NoError(b, err)
	}
	b.ReportMetric(first.Seconds()/float64(b.N), "s-first")
}

// A re-ranking after a finding on a vehicle that has been simulated: seven findings, of which one is new each time.
func BenchmarkRerank(b *testing.B) {
	t := gritterTracer(b)
	k := loadCase(b, "slow-build-up")
	_, err := t.Trace(context.Background(), k, nil)
	require.NoError(b, err)
	for i := 0; b.Loop(); i++ {
		k.Findings[0].Result = circuit.Result{Kind: circuit.Number, Text: fmt.Sprintf("%.4f s", 70+0.0001*float64(i))}
		_, err := t.Trace(context.Background(), k, nil)
		require.NoError(b, err)
	}
}
