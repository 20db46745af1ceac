package trace

import (
	"context"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
	"airpath/circuits"
)

func boardTracer(t testing.TB) *Tracer {
	t.Helper()
	c, err := circuits.Load("bench_board")
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	tracer, err := New(n, Options{})
	require.NoError(t, err)
	return tracer
}

func TestIsolabilityOfTheBoard(t *testing.T) {
	tracer := boardTracer(t)
	r, err := tracer.Isolability(context.Background(), nil)
	require.NoError(t, err)

	total, grouped := 0, 0
	for size, n := range r.Sizes {
		require.Zero(t, n%size)
		total += n
	}
	assert.Equal(t, r.Detectable, total)
	assert.Equal(t, r.Faults, r.Detectable+len(r.Undetectable))
	seen := map[string]bool{}
	for _, g := range r.Groups {
		require.Greater(t, len(g.Faults), 1)
		assert.NotEmpty(t, g.Look)
		grouped += len(g.Faults)
		for _, f := range g.Faults {
			assert.False(t, seen[id(f)], "%s is in two groups", id(f))
			seen[id(f)] = true
		}
		if g.Tap != nil {
			var all []int
			for _, part := range g.Tap.Parts {
				all = append(all, part...)
			}
			slices.Sort(all)
			require.Len(t, all, len(g.Faults), "a tap parts its group, and loses none of it")
			require.Greater(t, len(g.Tap.Parts), 1)
		}
	}
	assert.Equal(t, r.Detectable-r.Sizes[1], grouped)

	// Where a group is of switches, wires and lamps alone, a test lamp on a terminal splits it.
	lamps := 0
	for _, g := range r.Groups {
		if g.Tap != nil && g.Tap.Room == "" {
			lamps++
			assert.True(t, strings.HasPrefix(g.Tap.At, "a test lamp on the terminal of"), g.Tap.At)
		}
	}
	assert.Positive(t, lamps)

	// Oil moves no needle: no structure and no figure can show it.
	var oil bool
	for _, u := range r.Undetectable {
		oil = oil || id(u.Fault) == "compressor/passing oil" && u.WithoutAir && u.Tap == nil
	}
	assert.True(t, oil, "the compressor's oil is undetectable")
	assert.GreaterOrEqual(t, r.Structure.Detectable, r.Detectable/2)
	assert.LessOrEqual(t, r.Structure.Detectable, r.Structure.Faults)

	again, err := tracer.Isolability(context.Background(), nil)
	require.NoError(t, err)
	assert.True(t, reflect.DeepEqual(r, again))
	fresh, err := boardTracer(t).Isolability(context.Background(), nil)
	require.NoError(t, err)
	assert.True(t, reflect.DeepEqual(r, fresh), "the same whatever was asked before")
}

// By structure alone: with a gauge on one of two rooms that an open line joins, a leak of one can't be told from a leak of the
// other; with a gauge on both it can. The same is known of leak sites seen by dash gauges (they collapse to groups by zone).
func TestStructureNeedsAGaugeOnEachSide(t *testing.T) {
	tracer := boardTracer(t)
	scenes, err := tracer.scenesOf(context.Background(), 0)
	require.NoError(t, err)
	var leaks []airflow.Change
	rooms := map[string]bool{}
	for h := firstFault; h < len(tracer.list); h++ {
		for _, c := range tracer.list[h].changes {
			if c.Effect == airflow.Leaks {
				leaks = append(leaks, c)
				rooms[c.Room] = true
			}
		}
	}
	require.Greater(t, len(rooms), 3)
	m := tracer.modelOf(scenes[0], leaks, nil)
	gauged := map[string]bool{}
	for _, g := range tracer.network.Gauges() {
		room, ok := tracer.network.GaugedRoom(g)
		require.True(t, ok)
		gauged[room] = true
	}
	// A leak in the room of a gauge is detectable; taking all gauges away leaves nothing to hold against anything.
	for _, l := range leaks {
		if gauged[l.Room] {
			shown, _ := m.structure.Isolability([][]int{m.breaks([]airflow.Change{l})})
			assert.True(t, shown[0], l.Room)
		}
	}
	var all []int
	for _, g := range tracer.network.Gauges() {
		all = append(all, m.reads[g])
	}
	assert.NotContains(t, m.structure.Without(all), true)
}

func TestIsolabilityCanBeCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	_, err := boardTracer(t).Isolability(ctx, func(int, int) { cancel() })
	require.ErrorIs(t, err, context.Canceled)
}

func TestApartBy(t *testing.T) {
	for _, c := range []struct {
		shows []float64
		want  [][]int
		gap   float64
	}{
		{[]float64{0, 0, 0}, [][]int{{0, 1, 2}}, 0},
		{[]float64{0, 5, 0.5}, [][]int{{0, 2}, {1}}, 4.5},
		{[]float64{0, -9, 5, 1}, [][]int{{1}, {0, 3}, {2}}, 9},
	} {
		parts, gap := apartBy(c.shows, 1)
		assert.Equal(t, c.want, parts)
		assert.Equal(t, c.gap, gap)
	}
}

// What no procedure tells apart in a case has something that would: at least one of its parts can be looked at.
func TestSplitByNamesATapOrALook(t *testing.T) {
	v := traceCase(t, "slow-build-up")
	require.NotEmpty(t, v.Inseparable)
	for _, g := range v.Inseparable {
		s, err := gritterTracer(t).SplitBy(context.Background(), g)
		require.NoError(t, err)
		assert.NotEmpty(t, s.Look)
		assert.NotEmpty(t, s.LookAt)
		again, err := gritterTracer(t).SplitBy(context.Background(), g)
		require.NoError(t, err)
		assert.Equal(t, s, again)
	}
	_, err := gritterTracer(t).SplitBy(context.Background(), Alike{Faults: []airflow.Fault{{Target: "nowhere", Mode: "gone"}}})
	require.ErrorContains(t, err, "nowhere/gone")
}
