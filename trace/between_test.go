package trace

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// What the table says of a vehicle is what it reads when it goes through everything by itself: simulated from the healthy one's
// way on, told from its neighbours, or from one that is the same to the air. Every thirty-seventh vehicle.
func TestTheTableIsWhatVehiclesRead(t *testing.T) {
	tracer := gritterTracer(t)
	table := tracer.table
	var sample, all []int
	for v := range table.vehicles {
		if v%37 == 5 && table.vehicles[v].scatter == (table.vehicles[0].scatter) {
			sample = append(sample, v)
		}
	}
	for p := range tracer.procedures {
		all = append(all, p)
	}
	require.NoError(t, table.fill(context.Background(), all, sample, nil))
	between := 0
	for _, v := range sample {
		if _, ok := table.between[table.alias[v]]; ok {
			between++
		}
		bench, err := procedure.NewBench(tracer.network, table.vehicles[v].faults, table.vehicles[v].scatter)
		require.NoError(t, err)
		for p, pr := range tracer.procedures {
			o, err := bench.Do(context.Background(), pr)
			require.NoError(t, err)
			got := table.values(p, v)
			for r := range pr.Readings {
				assert.Less(t, farApart(&pr.Readings[r], o.Values[r], got[r]), 1.0, "%s, %s at %s with %s: %g, the table says %g",
					pr.ID, pr.Readings[r].ID, pr.Readings[r].Place, table.vehicles[v], o.Values[r], got[r])
			}
		}
	}
	assert.Greater(t, len(sample), 30)
	assert.Greater(t, between, 5)
}

// farApart is how far two values of a reading lie apart, by a third of what its instrument is off by, or by a twentieth of a yes.
func farApart(r *procedure.Reading, want, got float64) float64 {
	switch {
	case math.IsNaN(want) && math.IsNaN(got):
		return 0
	case math.IsNaN(want) || math.IsNaN(got):
		return math.Inf(1)
	case r.Form == procedure.YesNo:
		return math.Abs(r.Judge.Says(want)-r.Judge.Says(got)) / 0.05
	}
	return math.Abs(want-got) / (0.33 * math.Max(r.Sigma, modelError*math.Abs(want)))
}

// The table hangs neither on what was asked for before nor on the number of cores.
func TestTheTableDoesNotDependOnWhatWasAskedBefore(t *testing.T) {
	fresh := func() *Tracer {
		tracer, err := New(gritterTracer(t).network, Options{})
		require.NoError(t, err)
		return tracer
	}
	a, b := fresh(), fresh()
	var some []int
	for v := 100; v < 130; v++ {
		some = append(some, v)
	}
	procedures := []int{0, 2, 3, 5, 6, 15}
	require.NoError(t, a.table.fill(context.Background(), procedures, some, nil))
	for i := len(some) - 1; i >= 0; i-- {
		for _, p := range []int{15, 6, 2, 0, 3, 5} {
			require.NoError(t, b.table.fill(context.Background(), []int{p}, some[i:i+1], nil))
		}
	}
	for _, v := range some {
		for _, p := range procedures {
			want, got := a.table.values(p, v), b.table.values(p, v)
			require.Len(t, got, len(want))
			for r := range want {
				require.Equal(t, math.Float64bits(want[r]), math.Float64bits(got[r]), "%s with %s", a.procedures[p].ID, a.table.vehicles[v])
			}
		}
	}
}

func TestOneToTheAirIsSimulatedOnce(t *testing.T) {
	tracer := gritterTracer(t)
	require.NoError(t, tracer.table.unite())
	aliases := 0
	for v, stands := range tracer.table.alias {
		if stands == v {
			continue
		}
		aliases++
		keys, err := tracer.network.Keys([][]airflow.Fault{tracer.table.vehicles[v].faults, tracer.table.vehicles[stands].faults})
		require.NoError(t, err)
		assert.Equal(t, keys[1], keys[0])
		assert.Equal(t, stands, tracer.table.alias[stands])
	}
	assert.Greater(t, aliases, 50)
}

// A hole elsewhere on the same room is told from one that was simulated. It reads what it does when it is carried through everything by
// itself, the places where it is heard included: to a tenth of what its instrument is off by, since rounding alone may shift a step.
func TestAHoleElsewhereIsTheSameHole(t *testing.T) {
	tracer := gritterTracer(t)
	table := tracer.table
	require.NoError(t, table.prepare(context.Background(), nil))
	require.NoError(t, table.unite())
	require.NoError(t, table.findElsewhere())
	var sample, all []int
	for v := range table.vehicles {
		if _, ok := table.elsewhere[v]; ok && v%11 == 3 {
			sample = append(sample, v)
		}
	}
	for p := range tracer.procedures {
		all = append(all, p)
	}
	require.NoError(t, table.fill(context.Background(), all, sample, nil))
	told, heard := 0, 0
	for _, v := range sample {
		o := table.elsewhere[v]
		require.Zero(t, table.elsewhere[o.vehicle], "what it is told from is simulated or lies between such")
		bench, err := procedure.NewBench(tracer.network, table.vehicles[v].faults, airflow.Scatter{})
		require.NoError(t, err)
		require.NoError(t, bench.Follow(table.model))
		for p, pr := range tracer.procedures {
			if pr.Elsewhere(table.known[p][o.vehicle], table.known[p][0], o.was, o.is) == nil {
				continue
			}
			told++
			outcome, err := bench.Do(context.Background(), pr)
			require.NoError(t, err)
			got := table.values(p, v)
			for r := range pr.Readings {
				rd := &pr.Readings[r]
				if _, ok := table.between[v]; !ok {
					assert.Less(t, farApart(rd, outcome.Values[r], got[r]), 0.3, "%s, %s at %s with %s: %g, the table says %g",
						pr.ID, rd.ID, rd.Place, table.vehicles[v], outcome.Values[r], got[r])
				}
				if rd.ID == "hiss" && rd.Place == o.is.Place && got[r] > 0 {
					heard++
				}
			}
		}
	}
	assert.Greater(t, len(sample), 8)
	assert.Greater(t, told, 30*len(sample))
	assert.Greater(t, heard, len(sample), "each is heard where it is")
}
