package trace

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A vehicle of a closer look that goes through one procedure after the other, others between, comes to the same bits as one that goes through all at once.
func TestAVehicleStandsAsItStood(t *testing.T) {
	tracer := gritterTracer(t)
	var procedures []int
	for _, id := range []string{"build-up-85-100", "leak-down-applied", "full-application", "application-time", "listen-applied", "low-pressure-warning"} {
		procedures = append(procedures, procedureAt(t, tracer, id))
	}
	require.NoError(t, tracer.table.fill(t.Context(), procedures, []int{0}, nil))
	vehicles := func(table *table) []int {
		var out []int
		for h := firstFault; h < len(tracer.list) && len(out) < 6; h += 60 {
			if len(tracer.list[h].points) > 1 {
				out = append(out, table.vehicleBetween(place{tracer.list[h].vehicle, parts / 2}))
			}
		}
		return out
	}
	bit, whole := tracer.table.apart(), tracer.table.apart()
	some, same := vehicles(bit), vehicles(whole)
	for _, p := range procedures {
		require.NoError(t, bit.fill(t.Context(), []int{p}, some, nil))
	}
	require.NotEmpty(t, bit.stood.kept)
	require.NoError(t, whole.fill(t.Context(), procedures, same, nil))
	for _, p := range procedures {
		for i := range some {
			require.True(t, sameBits(whole.values(p, same[i]), bit.values(p, some[i])), "%s on %v", tracer.procedures[p].ID, whole.vehicles[same[i]])
		}
	}
}

// No more are kept than there is room for, and those that came last.
func TestTheLatestStay(t *testing.T) {
	var s stood
	for v := range 3 * mostStood {
		s.keep(v, nil)
	}
	require.Len(t, s.kept, mostStood)
	for v := range s.kept {
		require.GreaterOrEqual(t, v, 2*mostStood)
	}
}
