package airflow

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuits"
)

// The tests of the laws work the gritter as a person would: start the engine, push the knob, step on the pedal.

var gritterNetwork = sync.OnceValues(func() (*Network, error) {
	c, err := circuits.Load("gritter")
	if err != nil {
		return nil, err
	}
	return Compile(c)
})

const (
	idle  = 700.0 / 60
	rated = 2000.0 / 60
)

// A rig is one gritter under test.
type rig struct {
	*Run
	t testing.TB
	n *Network
}

// gritter is empty, engine off, park out, key on.
func gritter(t testing.TB, faults ...string) *rig {
	t.Helper()
	n, err := gritterNetwork()
	require.NoError(t, err)
	var list []Fault
	for _, text := range faults {
		f, err := ParseFault(n.Circuit(), text)
		require.NoError(t, err)
		list = append(list, f)
	}
	r, err := n.Start(list, Scatter{})
	require.NoError(t, err)
	g := &rig{Run: r, t: t, n: n}
	g.set(Key, 1, 0)
	return g
}

// charged is the gritter after a build-up at rated speed to cut-out, engine then off and the air given time to cool; the
// healthy one is brought up once for all tests.
func charged(t testing.TB, faults ...string) *rig {
	t.Helper()
	if len(faults) == 0 {
		snapshot, err := healthyCharge()
		require.NoError(t, err)
		g := gritter(t)
		g.Restore(snapshot)
		return g
	}
	g := gritter(t, faults...)
	g.engine(rated)
	g.until(400, Event{Latch: "governor.cutout", Value: true})
	g.engine(0)
	g.wait(180)
	return g
}

var healthyCharge = sync.OnceValues(func() (*Snapshot, error) {
	n, err := gritterNetwork()
	if err != nil {
		return nil, err
	}
	r, err := n.Start(nil, Scatter{})
	if err != nil {
		return nil, err
	}
	steps := []func() error{
		func() error { return r.Set(Key, 1, 0) },
		func() error { return r.Set(Engine, rated, 0) },
		func() error { _, err := r.Until(400, Event{Latch: "governor.cutout", Value: true}); return err },
		func() error { return r.Set(Engine, 0, 0) },
		func() error { return r.Advance(180) },
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return r.Snapshot(), nil
})

func (g *rig) set(control string, value, over float64) {
	g.t.Helper()
	require.NoError(g.t, g.Set(control, value, over))
}

func (g *rig) engine(revs float64) { g.t.Helper(); g.set(Engine, revs, 0) }
func (g *rig) pedal(v float64)     { g.t.Helper(); g.set("pedal", v, 0.1) }
func (g *rig) knob(v float64)      { g.t.Helper(); g.set("knob", v, 0.05) }

func (g *rig) wait(seconds float64) {
	g.t.Helper()
	require.NoError(g.t, g.Advance(seconds))
}

func (g *rig) until(limit float64, e Event) bool {
	g.t.Helper()
	fired, err := g.Until(limit, e)
	require.NoError(g.t, err)
	return fired
}

// psig is a room's pressure on a gauge.
func (g *rig) psig(room string) float64 { return gaugePSI(g.Pressure(room)) }

func gaugePSI(p float64) float64 { return (p - circuit.AtmospherePressure) / psi }
func absolute(psig float64) float64 {
	return circuit.AtmospherePressure + psig*psi
}

// litres of free air per minute leaving at a place.
func (g *rig) blows(place string) float64 { return FreeAir(g.VentFlow(place)) * 60e3 }

// heard is a flow that no one overlooks with an ear near it: engineering judgement, 0.5 litre of free air a minute.
const heard = 0.5

// cutIn, full: what the gritter's file says.
const (
	cutOut = 122.0
	cutIn  = 103.0
)

// drain opens a cock until the room has fallen to a level.
func (g *rig) drain(cock, room string, to float64) {
	g.t.Helper()
	g.set(cock+".cock", 1, 0)
	g.until(300, Event{Room: room, Level: absolute(to)})
	g.set(cock+".cock", 0, 0)
}
