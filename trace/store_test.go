package trace

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
	"airpath/circuits"
)

func cachedTracer(tb testing.TB, vehicle, dir string) *Tracer {
	tb.Helper()
	c, err := circuits.Load(vehicle)
	require.NoError(tb, err)
	n, err := airflow.Compile(c)
	require.NoError(tb, err)
	t, err := New(n, Options{Cache: dir})
	require.NoError(tb, err)
	return t
}

// A second start of the program finds all that the first has simulated, simulates nothing, and comes to the same verdict. A
// damaged file, or one cut short, is as if it were not there.
func TestTableOnDisk(t *testing.T) {
	dir := t.TempDir()
	k := loadCase(t, "slow-build-up")
	k.Findings = k.Findings[:1]
	ctx := context.Background()
	first := cachedTracer(t, "gritter", dir)
	want, err := first.Trace(ctx, k, nil)
	require.NoError(t, err)
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	require.NoError(t, err)
	require.Len(t, files, 1, "one table, and nothing half written beside it")
	text, err := os.ReadFile(files[0])
	require.NoError(t, err)

	again := func() *Tracer {
		second := cachedTracer(t, "gritter", dir)
		got, err := second.Trace(ctx, k, nil)
		require.NoError(t, err)
		require.Equal(t, said(want), said(got))
		return second
	}
	assert.Nil(t, again().table.model, "nothing had to be simulated")

	for _, spoil := range [][]byte{text[:len(text)/2], nil, append(bytes.Clone(text), 0), flipped(text, len(text)/3), flipped(text, 20), flipped(text, 60)} {
		require.NoError(t, os.WriteFile(files[0], spoil, 0o600))
		second := cachedTracer(t, "gritter", dir)
		assert.Error(t, second.table.load())
		assert.Zero(t, second.table.count())
	}
	assert.NotNil(t, again().table.model, "it is worked out again")
	assert.Nil(t, again().table.model, "and there again")
}

// said is a verdict as text, to the last bit of every probability.
func said(v *Verdict) string {
	var b strings.Builder
	for _, s := range v.Suspects {
		fmt.Fprintf(&b, "%s %x %x %s\n", s.Fault, s.Probability, s.Severity.Mid, s.Because)
	}
	for _, c := range v.Cleared {
		fmt.Fprintf(&b, "%s %s\n", c.Fault, c.Because)
	}
	for _, n := range v.Next {
		fmt.Fprintf(&b, "%s %x %x %s\n", n.Procedure.ID, n.Minutes, n.Bits, n.Because)
	}
	return b.String()
}

func flipped(text []byte, at int) []byte {
	text = bytes.Clone(text)
	text[at] ^= 0x10
	return text
}

// The name of the file changes with any number of the vehicle, and with what is done to it.
func TestTablesOfOtherVehicles(t *testing.T) {
	c, err := circuits.Load("bench_board")
	require.NoError(t, err)
	digest := func() [32]byte {
		n, err := airflow.Compile(c)
		require.NoError(t, err)
		tr, err := New(n, Options{})
		require.NoError(t, err)
		return tr.table.digest()
	}
	was := digest()
	assert.Equal(t, was, digest())
	for _, l := range c.Lines {
		if l.Bore.SI > 0 {
			l.Bore.SI *= 1.0001
			break
		}
	}
	assert.NotEqual(t, was, digest())
}

// Only the latest tables stay.
func TestOldTablesGo(t *testing.T) {
	dir := t.TempDir()
	for i := range mostStored + 5 {
		require.NoError(t, os.WriteFile(filepath.Join(dir, string(rune('a'+i))+storeSuffix), nil, 0o600))
	}
	require.NoError(t, tidyStore(dir))
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	require.NoError(t, err)
	assert.Len(t, files, mostStored)
}

// Whatever is in a file, reading it does no harm, and what can be read is written again the same.
func FuzzStoredTable(f *testing.F) {
	nan := math.NaN()
	s := &stored{
		alias: []uint32{0, 1, 1}, vehicles: []storedVehicle{{0, 0}, {2, 3}, {1, 0}},
		procedures: []storedRows{
			{readings: 2, rows: [][]float64{{1, 2}, {1, nan}}, which: []uint32{0, storeFailed, 1}}, {readings: 9, which: []uint32{storeUnknown, storeUnknown, storeFailed}},
			{rows: [][]float64{{}}, which: []uint32{0, 0, storeUnknown}},
		},
	}
	whole := s.encode([32]byte{})
	head := len(storeMagic) + 32
	f.Add(whole[head : len(whole)-4])
	f.Add([]byte{})
	f.Add([]byte{255, 255, 255, 255, 0, 0, 0, 0})
	f.Fuzz(func(t *testing.T, body []byte) {
		s, err := decodeBody(body)
		if err != nil {
			return
		}
		whole := s.encode([32]byte{})
		assert.Equal(t, body, whole[head:len(whole)-4])
		again, err := decodeStored(whole, [32]byte{})
		require.NoError(t, err)
		assert.Equal(t, len(s.procedures), len(again.procedures))
		tr := &table{own: 2, scatter: func(vehicle) []vehicle { return nil }}
		_ = tr.take(s)
	})
}

// What a second start costs: reading the whole table of a vehicle from disk.
func BenchmarkTableFromDisk(b *testing.B) {
	for _, vehicle := range []string{"gritter", "tractor_trailer"} {
		b.Run(vehicle, func(b *testing.B) {
			dir := b.TempDir()
			require.NoError(b, cachedTracer(b, vehicle, dir).Prepare(context.Background(), nil))
			for b.Loop() {
				b.StopTimer()
				t := cachedTracer(b, vehicle, dir)
				b.StartTimer()
				require.NoError(b, t.Prepare(context.Background(), nil))
				if t.table.model != nil {
					b.Fatal("it was simulated")
				}
			}
		})
	}
}
