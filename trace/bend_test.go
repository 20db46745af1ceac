package trace

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// Where a reading is the larger of what two needles make of it, both of which are moved by their own error, a bend has that larger
// one exactly, whichever way the two are off.
func TestABendHasTheCornerOfTwoNeedles(t *testing.T) {
	slower := func(z []float64) float64 { return 100 + math.Max(-4*z[0], -4*z[1]) } // one that reads low comes late
	b := newBend(2)
	for k := range 2 {
		up, down := make([]float64, 2), make([]float64, 2)
		up[k], down[k] = 1, -1
		b.set(k, slower(up)-100, slower(down)-100, false)
	}
	b.corner(0, 1)
	out := make([]float64, 2)
	for _, z := range [][]float64{{0, 0}, {1, 1}, {-1, -1}, {1.5, -0.5}, {-0.5, 1.5}, {-2, -0.7}, {0.3, 1.1}} {
		log, plus := b.at(z)
		assert.Zero(t, log)
		assert.InDelta(t, slower(z), 100+plus, 1e-12, "%v", z)
		b.slopes(z, 100, out)
		for k := range z {
			if z[0] == z[1] {
				continue // on the corner
			}
			const h = 1e-6
			ahead := []float64{z[0], z[1]}
			ahead[k] += h
			assert.InDelta(t, (slower(ahead)-slower(z))/h, out[k], 1e-6, "%v", z)
		}
	}
}

// Held against the simulation: the truck with both needles off and the compressor weak, none of it simulated for the tracer, reads as the bends say.
func TestBendsAgainstTheSimulation(t *testing.T) {
	tracer := gritterTracer(t)
	n := tracer.nuisances
	for _, id := range []string{"build-up-85-100", "build-up-from-empty", "applications-until-warning"} {
		p := procedureAt(t, tracer, id)
		require.NoError(t, tracer.table.fill(context.Background(), []int{p}, tracer.table.scatteredAround(0), nil))
		require.NoError(t, tracer.table.fill(context.Background(), []int{p}, []int{0}, nil))
		for _, off := range [][]float64{{1, -1}, {-1, 1}, {-1.2, -0.6}, {1.2, 0.6}} {
			z := make([]float64, n.dims())
			z[0] = -0.8
			v := vehicle{}
			spreads[0].set(&v.scatter, z[0]*spreads[0].sigma)
			for i, g := range n.gauges {
				z[len(spreads)+i] = off[i]
				mode := needleHigh
				if off[i] < 0 {
					mode = needleLow
				}
				v.faults = append(v.faults, airflow.Fault{Target: g, Mode: mode, Severity: math.Abs(off[i]) * gaugeSpread * n.cutOut})
			}
			bench, err := procedure.NewBench(tracer.network, v.faults, v.scatter)
			require.NoError(t, err)
			o, err := bench.Do(context.Background(), tracer.procedures[p])
			require.NoError(t, err)
			for r, x := range o.Values {
				reading := &tracer.procedures[p].Readings[r]
				at := tracer.healthy(p, r)
				if math.IsNaN(x) || math.IsNaN(at) {
					continue
				}
				b := n.around(tracer.table, 0, p, r, reading, reading.Gauge)
				log, plus := b.at(z)
				room := 0.03*math.Abs(x) + 2*reading.Sigma // as exactly as the tracer takes its own simulation to be
				if reading.Dimension == circuit.Time && reading.Form == procedure.YesNo {
					room = 2 // s
				}
				assert.InDelta(t, x, at*math.Exp(log)+plus, room, fmt.Sprintf("%s %s@%s, %v", id, reading.ID, reading.Place, off))
			}
		}
	}
}

func procedureAt(t *testing.T, tracer *Tracer, id string) int {
	t.Helper()
	for p := range tracer.procedures {
		if tracer.procedures[p].ID == id {
			return p
		}
	}
	require.Fail(t, "no procedure "+id)
	return -1
}
