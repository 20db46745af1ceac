//go:build unix

package trace

import (
	"context"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The whole signature table, through every procedure, on all cores: every fault at three severities (mild, typical, severe), and at all that the
// tracer simulates, which are up to seven. The healthy vehicle and those scattered around it are in both. s/op is by the clock; cpu-s/op is what the
// cores have worked, which hangs less on what else the machine does.
func BenchmarkSignatureTable(b *testing.B) {
	for _, name := range []string{"gritter", "tractor_trailer"} {
		b.Run(name+", three severities", func(b *testing.B) { fillTable(b, name, (*Tracer).milestones) })
		b.Run(name+", all severities", func(b *testing.B) { fillTable(b, name, func(t *Tracer) []int { return t.table.all() }) })
	}
}

func fillTable(b *testing.B, name string, which func(*Tracer) []int) {
	before, worked, runs := 0.0, 0.0, 0
	for b.Loop() {
		before = coresWorked(b)
		t := freshTracerOf(b, name)
		all := make([]int, len(t.procedures))
		for i := range all {
			all[i] = i
		}
		vehicles := which(t)
		require.NoError(b, t.table.fill(context.Background(), all, vehicles, nil))
		worked += coresWorked(b) - before
		runs = len(vehicles) * len(all)
	}
	b.ReportMetric(worked/float64(b.N), "cpu-s/op")
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/op")
	b.ReportMetric(float64(runs), "runs")
}

// What a first finding asks for, from the file of the vehicle on: the columns of its procedure, and enough of the others to say what to do next.
// s-rough is when a rough look is there, s-first when the suspects are; cpu-s-rough is what the cores have worked for the rough look.
func BenchmarkFirstFinding(b *testing.B) {
	k := loadCase(b, "slow-build-up")
	k.Findings = k.Findings[:1]
	for _, name := range []string{"gritter", "tractor_trailer"} {
		b.Run(name, func(b *testing.B) {
			k.Circuit = name
			var rough, first time.Duration
			worked := 0.0
			for b.Loop() {
				began, before := time.Now(), coresWorked(b)
				_, err := freshTracerOf(b, name).TraceInParts(context.Background(), k, func(v *Verdict) {
					if v.Rough {
						rough, worked = rough+time.Since(began), worked+coresWorked(b)-before
					} else {
						first += time.Since(began)
					}
				}, nil)
				require.NoError(b, err)
			}
			b.ReportMetric(rough.Seconds()/float64(b.N), "s-rough")
			b.ReportMetric(worked/float64(b.N), "cpu-s-rough")
			b.ReportMetric(first.Seconds()/float64(b.N), "s-first")
		})
	}
}

// coresWorked is the time that the process's threads have worked so far, s.
func coresWorked(tb testing.TB) float64 {
	tb.Helper()
	var u syscall.Rusage
	require.NoError(tb, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return time.Duration(u.Utime.Nano() + u.Stime.Nano()).Seconds()
}
