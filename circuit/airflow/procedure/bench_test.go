package procedure

import (
	"context"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
)

// same compares with NaN equal to NaN, bit by bit: a run is deterministic.
func same(t *testing.T, want, got []float64, about string) {
	t.Helper()
	require.Len(t, got, len(want), about)
	for i := range want {
		if math.Float64bits(want[i]) != math.Float64bits(got[i]) {
			t.Errorf("%s: value %d is %g, was %g", about, i, got[i], want[i])
			return
		}
	}
}

// An outcome does not depend on what was done on the bench before, on the vehicle before, or on the order.
func TestOutcomesDoNotDependOnWhatWentBefore(t *testing.T) {
	n := gritter(t)
	all := For(n)
	const fault = "dryer/outlet check leaking back"
	used := bench(t, n, fault)
	var first []Outcome
	for _, p := range all {
		first = append(first, do(t, used, p))
	}
	other, err := airflow.ParseFault(n.Circuit(), "governor/cut-out high")
	require.NoError(t, err)
	back := used.Faults()
	require.NoError(t, used.Next([]airflow.Fault{other}, airflow.Scatter{Pump: 0.1}))
	do(t, used, all[0])
	require.NoError(t, used.Next(back, airflow.Scatter{}))
	for i := len(all) - 1; i >= 0; i-- {
		o := do(t, used, all[i])
		same(t, first[i].Values, o.Values, all[i].ID+" again, last first")
		same(t, first[i].Curves.Seconds, o.Curves.Seconds, all[i].ID+" seconds")
		for k := range o.Curves.Series {
			same(t, first[i].Curves.Series[k].Pressure, o.Curves.Series[k].Pressure, all[i].ID+" curve")
		}
		same(t, first[i].Values, do(t, bench(t, n, fault), all[i]).Values, all[i].ID+" on a bench of its own")
	}
}

// The list of procedures is the same each time.
func TestForIsDeterministic(t *testing.T) {
	n := gritter(t)
	a, b := For(n), For(n)
	require.Equal(t, ids(a), ids(b))
	for i := range a {
		assert.Equal(t, Text(a[i]), Text(b[i]))
	}
}

func TestCurves(t *testing.T) {
	n := gritter(t)
	b := bench(t, n)
	for _, p := range For(n) {
		o := do(t, b, p)
		require.NotEmpty(t, o.Curves.Seconds, p.ID)
		assert.Zero(t, o.Curves.Seconds[0], p.ID)
		var names []string
		for _, s := range o.Curves.Series {
			require.Len(t, s.Pressure, len(o.Curves.Seconds), p.ID)
			names = append(names, s.Name)
		}
		assert.Subset(t, names, []string{"primary gauge", "secondary gauge", "service gauge on the supply test connection"}, p.ID)
		for i := 1; i < len(o.Curves.Seconds); i++ {
			step := o.Curves.Seconds[i] - o.Curves.Seconds[i-1]
			require.Positive(t, step, p.ID)
			require.LessOrEqual(t, step, 1+1e-9, "%s is recorded every second or more often", p.ID)
		}
		require.Len(t, o.Log, len(p.Steps), p.ID)
		for i, e := range o.Log {
			assert.Equal(t, i, e.Step, p.ID)
		}
		assert.LessOrEqual(t, o.Curves.Seconds[len(o.Curves.Seconds)-1], 60*p.Minutes, "%s takes longer on the healthy truck than it says", p.ID)
	}
}

// What the printed state says of engine, park and pedal is what the steps bring about, whenever something is read.
func TestTheStateIsWhatTheStepsBringAbout(t *testing.T) {
	n := gritter(t)
	b := bench(t, n)
	for _, p := range For(n) {
		reads := 0
		b.Watch(func(step int, r *airflow.Run) {
			if step < 0 || !strings.HasPrefix(fmt.Sprintf("%T", p.Steps[step].Do), "procedure.read") {
				return
			}
			reads++
			at := fmt.Sprintf("%s, step %d", p.ID, step+1)
			speed := map[string]float64{"off": 0, "idle": n.Circuit().Engine.Idle.SI, "rated": n.Circuit().Engine.Rated.SI}[p.State.Engine]
			if p.ID != "safety-valve" { // where it is stopped in the end
				assert.Equal(t, speed, r.Get(airflow.Engine), at)
			}
			if p.State.Pedal != "" { // else it is worked in between
				assert.Equal(t, map[string]float64{"up": 0, "down": 1}[p.State.Pedal], r.Get("pedal"), at)
			}
			if p.ID != "spring-set" && p.ID != "hold-off-pressure" { // where the knob has popped out, or is pulled
				assert.Equal(t, map[string]float64{"set": 0, "released": 1}[p.State.Park], r.Get("knob"), at)
			}
			if strings.HasPrefix(p.ID, "listen") && p.State.Compressor != "" {
				assert.Equal(t, p.State.Compressor == "unloaded", r.Latch("governor.cutout"), at)
			}
		})
		do(t, b, p)
		assert.Positive(t, reads, p.ID)
	}
}

func TestCancel(t *testing.T) {
	n := gritter(t)
	all := For(n)
	p := named(t, all, "leak-down-applied")
	want := do(t, bench(t, n), p).Values

	b := bench(t, n)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := b.Do(ctx, p)
	require.ErrorIs(t, err, context.Canceled)
	same(t, want, do(t, b, p).Values, "after a start that was cancelled")

	ctx, cancel = context.WithCancel(context.Background())
	steps := 0
	b.Watch(func(step int, _ *airflow.Run) {
		if steps++; step == 2 {
			cancel()
		}
	})
	_, err = b.Do(ctx, p)
	require.ErrorIs(t, err, context.Canceled)
	assert.Equal(t, 4, steps, "the start and three steps were done")
	b.Watch(nil)
	same(t, want, do(t, b, p).Values, "after steps that were cancelled")
}

func TestABenchTakesOnlyItsOwn(t *testing.T) {
	n, m := gritter(t), gritter(t)
	_, err := bench(t, n).Do(context.Background(), For(m)[0])
	require.ErrorContains(t, err, "another network")
	_, err = NewBench(n, []airflow.Fault{{Target: "compressor", Mode: "melted"}}, airflow.Scatter{})
	require.ErrorContains(t, err, "melted")
}

// The whole set of procedures on the healthy truck, shared starting states included.
func BenchmarkFullSet(b *testing.B) {
	n := gritter(b)
	all := For(n)
	bn := bench(b, n)
	b.ReportAllocs()
	for b.Loop() {
		if err := bn.Next(nil, airflow.Scatter{}); err != nil {
			b.Fatal(err)
		}
		for _, p := range all {
			if _, err := bn.Do(context.Background(), p); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkFor(b *testing.B) {
	n := gritter(b)
	for b.Loop() {
		For(n)
	}
}

// Benches of one network share it and the procedures, side by side.
func TestBenchesRunSideBySide(t *testing.T) {
	n := gritter(t)
	all := For(n)
	p := named(t, all, "governor-cut-in")
	want := do(t, bench(t, n), p).Values
	got := make([][]float64, 4)
	var group sync.WaitGroup
	for i := range got {
		b := bench(t, n)
		group.Go(func() {
			if o, err := b.Do(context.Background(), p); err == nil {
				got[i] = o.Values
			}
		})
	}
	group.Wait()
	for _, g := range got {
		same(t, want, g, "side by side")
	}
}
