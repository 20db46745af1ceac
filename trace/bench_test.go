package trace

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
)

func freshTracerOf(b *testing.B, vehicle string) *Tracer {
	b.Helper()
	c, err := circuits.Load(vehicle)
	require.NoError(b, err)
	n, err := airflow.Compile(c)
	require.NoError(b, err)
	t, err := New(n, Options{})
	require.NoError(b, err)
	return t
}

// times of a benchmark's rounds; the slowest of a hundred is told beside the mean.
type times []float64

func (t *times) add(began time.Time) { *t = append(*t, time.Since(began).Seconds()) }

func (t times) report(b *testing.B) {
	slices.Sort(t)
	b.ReportMetric(1000*t[len(t)/2], "p50-ms")
	b.ReportMetric(1000*t[min(len(t)-1, len(t)*99/100)], "p99-ms")
}

// The next procedure alone, looking ahead, once the findings have been weighed: with two findings, of which much is left open, and with
// seven.
func BenchmarkNextProcedure(b *testing.B) {
	for _, findings := range []int{2, 7} {
		b.Run(fmt.Sprintf("%d findings", findings), func(b *testing.B) {
			t := gritterTracer(b)
			require.NoError(b, t.Prepare(context.Background(), nil))
			k := loadCase(b, "slow-build-up")
			k.Findings = k.Findings[:findings]
			a := weighed(b, t, k)
			var spent times
			for b.Loop() {
				began := time.Now()
				v := &Verdict{}
				require.NoError(b, a.next(v, nil, nil))
				require.NotEmpty(b, v.Next)
				spent.add(began)
			}
			spent.report(b)
		})
	}
}

// weighed is a case as far as the next procedure needs it.
func weighed(b *testing.B, t *Tracer, k *circuit.Case) *analysis {
	b.Helper()
	v, err := t.Trace(context.Background(), k, nil) // fills the table as far as it is needed
	require.NoError(b, err)
	observations, _, err := observe(t.procedures, k)
	require.NoError(b, err)
	belief, err := t.weigh(observations, k, v.Complaint, nil)
	require.NoError(b, err)
	a := newAnalysis(context.Background(), t, k, observations, belief)
	a.paths, err = t.follow(a.ctx, observations)
	require.NoError(b, err)
	a.ruleOut()
	return a
}

// A re-ranking after a finding on a vehicle that has been simulated: seven findings, of which one is new each time.
func BenchmarkRerank(b *testing.B) {
	t := gritterTracer(b)
	k := loadCase(b, "slow-build-up")
	_, err := t.Trace(context.Background(), k, nil)
	require.NoError(b, err)
	var spent times
	for i := 0; b.Loop(); i++ {
		began := time.Now()
		k.Findings[0].Result = circuit.Result{Kind: circuit.Number, Text: fmt.Sprintf("%.4f s", 70+0.0001*float64(i))}
		_, err := t.Trace(context.Background(), k, nil)
		require.NoError(b, err)
		spent.add(began)
	}
	spent.report(b)
}
