package airflow

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A referenceRun is a vehicle with what is done to it, for the comparisons with other integrators.
type referenceRun struct {
	name   string
	faults []string
	do     func(g *rig)
}

// full scale of the library's gauges, Pa: 0 to 150 psi. One part in a thousand of it is what gauges may differ by.
const fullScale = 150 * psi

// fromEmpty brings the truck up past cut-out, at rated speed, park set.
func fromEmpty(g *rig) {
	g.set(Engine, rated, 1)
	g.until(900, Event{Latch: "governor.cutout", Value: true})
	g.wait(60)
}

// drive is the truck's day in short: charge, park off, applications and releases of all sizes, park on, then standing.
func drive(g *rig) {
	fromEmpty(g)
	g.knob(1)
	g.wait(15)
	for _, depth := range []float64{1, 0.3, 0.6} {
		g.pedal(depth)
		g.wait(4)
		g.pedal(0)
		g.wait(6)
	}
	g.knob(0)
	g.wait(10)
	g.set(Engine, 0, 1)
	g.wait(120)
}

// standing lets the truck lose air with the engine off: released, then applied, then the tanks are drained until the low
// pressure switches and the park control have acted.
func standing(g *rig) {
	fromEmpty(g)
	g.knob(1)
	g.wait(5)
	g.set(Engine, 0, 1)
	g.wait(240)
	g.pedal(1)
	g.wait(60)
	g.pedal(0)
	g.wait(10)
	g.set("drain_supply.cock", 0.3, 1)
	g.wait(30)
	g.set("drain_primary.cock", 0.5, 1)
	g.set("drain_secondary.cock", 0.5, 1)
	g.wait(120)
}

// lineOff is charged, then has its supply line taken off and fastened again.
func lineOff(g *rig) {
	fromEmpty(g)
	g.set(Engine, 0, 1)
	g.wait(10)
	for _, off := range []bool{true, false} {
		require.NoError(g.t, g.LineOff("supply_line", off))
		g.wait(20)
	}
}

var referenceRuns = []referenceRun{
	{"healthy, driven", nil, drive},
	{"healthy, standing", nil, standing},
	{"tank leaking, standing", []string{"tank/primary leaking=0.8 mm"}, standing},
	{"outlet check leaking, driven", []string{"dryer/outlet check leaking back=0.6 mm"}, drive},
	{"worn compressor, water in the tanks, driven", []string{"compressor/worn=45 %", "tank/primary full of water=40 %", "tank/supply full of water=30 %"}, drive},
	{"chamber leaking, control line kinked, driven", []string{"rear_left_chamber/diaphragm leaking=2 mm", "rear_control/kinked=80 %", "governor/cut-out low=8 psi"}, drive},
	{"line off", nil, lineOff},
}

// scipyPython is a Python that has scipy: the first on the path, or the system's own.
func scipyPython() (string, bool) {
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(name, "-c", "import scipy.integrate").Run() == nil {
			return name, true
		}
	}
	return "", false
}

type integrated struct {
	Times  []float64       `json:"times_s"`
	Gauges [][]float64     `json:"gauges_Pa"`
	Events []ExportedEvent `json:"events"`
}

// Every run of the truck, at the solver's default tolerance, against scipy's BDF at 1e-5 on the exported network. The demand:
// gauges within 0.1 % of full scale at all times, and within 0.1 psi when something happens.
func TestAgainstScipy(t *testing.T) {
	python, ok := scipyPython()
	if !ok {
		t.Skip("the independent integrator needs python3 with scipy (Debian: python3-scipy), which is not here")
	}
	const every = 0.1
	runs := referenceRuns
	if testing.Short() {
		runs = runs[:1]
	}
	for _, row := range runs {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			g := gritter(t, row.faults...)
			e := g.Export()
			var mine [][]float64
			g.Record(every, func(r *Run) {
				var at []float64
				for _, gauge := range e.Gauges {
					at = append(at, r.Pressure(gauge.Room))
				}
				mine = append(mine, at)
			})
			row.do(g)
			other := integrate(t, python, e, every)

			require.InDelta(t, len(other.Gauges), len(mine), 1)
			worst, when := 0.0, 0.0
			for i := range min(len(mine), len(other.Gauges)) {
				for k := range mine[i] {
					if d := math.Abs(mine[i][k] - other.Gauges[i][k]); d > worst {
						worst, when = d, other.Times[i]
					}
				}
			}
			assert.Less(t, worst/fullScale, 1e-3, "at %g s", when)
			worstEvent := compareEvents(t, e.Events, other.Events)
			t.Logf("%.0f s, %d events: gauges differ by up to %.4f psi (%.4f %% of full scale, at %.1f s), at events by %.4f psi",
				g.Time(), len(e.Events), worst/psi, 100*worst/fullScale, when, worstEvent/psi)
		})
	}
}

// compareEvents holds the n-th change of each latch and control against the other's.
func compareEvents(t *testing.T, mine, other []ExportedEvent) (worst float64) {
	of := func(list []ExportedEvent) map[string][]ExportedEvent {
		m := map[string][]ExportedEvent{}
		for _, e := range list {
			m[e.Latch+e.Control] = append(m[e.Latch+e.Control], e)
		}
		return m
	}
	theirs := of(other)
	ours := of(mine)
	assert.Len(t, theirs, len(ours))
	for name, list := range ours {
		if !assert.Len(t, theirs[name], len(list), name) {
			continue
		}
		for i, e := range list {
			assert.Equal(t, e.Up, theirs[name][i].Up)
			for k, p := range e.Pressures {
				d := math.Abs(p - theirs[name][i].Pressures[k])
				assert.Less(t, d/psi, 0.1, "%s, change %d, at %g and %g s", name, i+1, e.At, theirs[name][i].At)
				worst = max(worst, d)
			}
		}
	}
	return worst
}

func integrate(t *testing.T, python string, e *Export, every float64) (out integrated) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "export.json")
	var text bytes.Buffer
	require.NoError(t, e.Write(&text))
	require.NoError(t, os.WriteFile(path, text.Bytes(), 0o600))
	command := exec.Command(python, "reference/integrate.py", path, strconv.FormatFloat(every, 'g', -1, 64), "1e-5")
	command.Env = append(os.Environ(), "OPENBLAS_NUM_THREADS=1", "OMP_NUM_THREADS=1")
	var stderr bytes.Buffer
	command.Stderr = &stderr
	answer, err := command.Output()
	require.NoError(t, err, stderr.String())
	require.NoError(t, json.Unmarshal(answer, &out))
	return out
}
