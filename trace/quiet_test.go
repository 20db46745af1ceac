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

// Where the healthy run stands in for a fault's, the fault's own run gives the same readings.
func TestStandInsAreRight(t *testing.T) {
	tracer := gritterTracer(t)
	skipped, checked := 0, 0
	for p, pr := range tracer.procedures {
		quiet, healthy, err := quietRooms(context.Background(), tracer.network, pr)
		require.NoError(t, err)
		for h := firstFault; h < len(tracer.list); h++ {
			list := &tracer.list[h]
			if len(list.changes) == 0 || !leavesAlone(list.changes, quiet, pr, tracer.atlas.ends) {
				continue
			}
			skipped++
			if (skipped+p)%37 != 0 { // a sample: all of them take a minute
				continue
			}
			checked++
			bench, err := procedure.NewBench(tracer.network, []airflow.Fault{{Target: list.fault.Target, Mode: list.fault.Mode, Severity: list.points[len(list.points)-1]}}, airflow.Scatter{})
			require.NoError(t, err)
			o, err := bench.Do(context.Background(), pr)
			require.NoError(t, err)
			for r, v := range o.Values {
				tolerance := math.Max(2e-3*math.Abs(healthy[r]), 0.02*pr.Readings[r].Sigma)
				if math.IsNaN(healthy[r]) {
					assert.True(t, math.IsNaN(v), "%s, %s with %s", pr.ID, pr.Readings[r].ID, list.fault)
				} else if pr.Readings[r].Form == procedure.Measured {
					assert.InDelta(t, healthy[r], v, tolerance, "%s, %s with %s", pr.ID, pr.Readings[r].ID, list.fault)
				} else {
					assert.InDelta(t, pr.Readings[r].Judge.Says(healthy[r]), pr.Readings[r].Judge.Says(v), 1e-3, "%s, %s with %s", pr.ID, pr.Readings[r].ID, list.fault)
				}
			}
		}
	}
	assert.Greater(t, checked, 30)
	t.Logf("%d of %d runs need not be made", skipped, len(tracer.procedures)*(len(tracer.list)-firstFault))
}
