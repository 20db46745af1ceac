package trace

import (
	"context"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
	"airpath/circuits"
)

// What the largest table of the library takes: that of the coupled tractor and trailer, simulated whole. MB-kept is what is in use
// when it is there, MB-peak the most that the process ever had in memory, the Go program itself with its collector's slack
// included; run it alone for that: go test -run '^$' -bench LargestTable -benchtime 1x ./trace.
func BenchmarkLargestTable(b *testing.B) {
	kept := func() float64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return float64(m.HeapAlloc)
	}
	before := kept()
	var t *Tracer
	for b.Loop() {
		t = nil
		c, err := circuits.Load("tractor_trailer")
		require.NoError(b, err)
		n, err := airflow.Compile(c)
		require.NoError(b, err)
		t, err = New(n, Options{})
		require.NoError(b, err)
		require.NoError(b, t.Prepare(context.Background(), nil))
	}
	const megabyte = 1e6
	b.ReportMetric((kept()-before)/megabyte, "MB-kept")
	b.ReportMetric(peak(b)/megabyte, "MB-peak")
	runtime.KeepAlive(t)
}

// peak of the process's memory so far, bytes.
func peak(tb testing.TB) float64 {
	tb.Helper()
	status, err := os.ReadFile("/proc/self/status")
	require.NoError(tb, err)
	_, after, ok := strings.Cut(string(status), "VmHWM:")
	require.True(tb, ok)
	kilobytes, err := strconv.ParseFloat(strings.Fields(after)[0], 64)
	require.NoError(tb, err)
	return kilobytes * 1024
}
