package engine

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// A log that was simulated with a worn compressor is fitted, and drawn with what was recorded and what would be healthy.
func TestARecordedLogIsDrawnBesideItsFit(t *testing.T) {
	e := benchBoard(t)
	ctx := context.Background()
	p := procedureOf(e, "build-up-85-100")
	o, err := e.tracer.Predict(ctx, &airflow.Fault{Target: "compressor", Mode: "worn", Severity: 0.5}, p)
	require.NoError(t, err)
	cs := &circuit.Case{Circuit: "bench_board", Title: "logged", Logs: []circuit.Log{{ID: "log1", File: "log.csv", Procedure: p.ID, Data: logged(o)}}}
	a, err := e.Ask(ctx, cs, "psi", func(int, int) {})
	require.NoError(t, err)
	require.Empty(t, a.Ignored)
	m, err := e.Curves(ctx, cs, &a.Suspects[0], p)
	require.NoError(t, err)
	kinds := map[string]int{}
	for _, c := range m.Curves {
		kinds[fmt.Sprint(c.Healthy, c.Logged)]++
		assert.Len(t, c.Value, len(c.Time))
	}
	assert.Equal(t, map[string]int{"true false": 1, "false false": 1, "false true": 1}, kinds, "one gauge: healthy, fitted, recorded")
}

// logged writes a run's dash gauge as a logger would: once a second.
func logged(o procedure.Outcome) []byte {
	var b strings.Builder
	fmt.Fprint(&b, "time [s]")
	for _, s := range o.Curves.Series {
		if s.Dash {
			fmt.Fprintf(&b, ",%s [psi]", s.Name)
		}
	}
	next := 0.0
	for i, t := range o.Curves.Seconds {
		if t < next {
			continue
		}
		next = t + 1
		fmt.Fprintf(&b, "\n%.2f", t)
		for _, s := range o.Curves.Series {
			if s.Dash {
				psi, _ := circuit.In(s.Pressure[i], circuit.Pressure, "psi")
				fmt.Fprintf(&b, ",%.2f", psi)
			}
		}
	}
	return []byte(b.String() + "\n")
}
