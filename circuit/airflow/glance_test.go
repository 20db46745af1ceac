package airflow_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit/airflow"
	"airpath/circuits"
)

// A glance is what the single questions give, for every thing that a vehicle has, in whatever state and with a fault.
func TestGlanceIsWhatTheQuestionsGive(t *testing.T) {
	for _, name := range []string{"gritter", "tractor_trailer"} {
		c, err := circuits.Load(name)
		require.NoError(t, err)
		n, err := airflow.Compile(c)
		require.NoError(t, err)
		faults := airflow.Catalogue(c)
		var g airflow.Glance
		rapid.Check(t, func(t *rapid.T) {
			f := rapid.SampledFrom(faults).Draw(t, "fault")
			r, err := n.Start([]airflow.Fault{f}, airflow.Scatter{})
			require.NoError(t, err)
			require.NoError(t, r.Set(airflow.Engine, rapid.Float64Range(0, 40).Draw(t, "speed"), 1))
			require.NoError(t, r.Set(airflow.Key, 1, 0))
			for range rapid.IntRange(1, 3).Draw(t, "deeds") {
				require.NoError(t, r.Advance(rapid.Float64Range(0.01, 40).Draw(t, "s")))
				require.NoError(t, r.Set(rapid.SampledFrom(n.Controls()[2:]).Draw(t, "control"), rapid.SampledFrom([]float64{0, 0.5, 1}).Draw(t, "to"), rapid.SampledFrom([]float64{0, 1}).Draw(t, "in")))
			}
			require.NoError(t, r.Advance(rapid.Float64Range(0.01, 3).Draw(t, "s")))
			r.Glance(&g)
			same(t, n, r, g.Clone())
		})
	}
}

func same(t *rapid.T, n *airflow.Network, r *airflow.Run, g *airflow.Glance) {
	assert.Equal(t, r.Time(), g.Time)
	for i, name := range n.Rooms() {
		assert.Equal(t, r.Pressure(name), g.Pressure[i], name)
	}
	for i, name := range n.Passages() {
		assert.InDelta(t, r.PassageOpen(name), g.Open[i], 1e-12, name)
		assert.InDelta(t, r.PassageFlow(name), g.Flow[i], 1e-12, name)
	}
	for i, name := range n.Vents() {
		assert.InDelta(t, r.VentFlow(name), g.Vent[i], 1e-12, name)
	}
	for i, name := range n.Controls() {
		assert.Equal(t, r.Get(name), g.Control[i], name)
		assert.Equal(t, r.Tripped(name), g.Tripped[i], name)
	}
	for i, name := range n.Latches() {
		assert.Equal(t, r.Latch(name), g.Latch[i], name)
	}
	for i, name := range n.Gauges() {
		assert.Equal(t, r.Gauge(name), g.Needle[i], name)
	}
	for i, name := range n.Sinks() {
		assert.Equal(t, r.Lit(name), g.Lit[i], name)
	}
	for i, name := range n.Rods() {
		assert.Equal(t, r.Stroke(name), g.Stroke[i], name)
	}
	for i, name := range n.Pumps() {
		assert.Equal(t, r.Turns(name), g.Turns[i], name)
	}
}

// The low pressure switches of an empty vehicle are closed, those of a charged one open, and the lamp goes with them.
func TestContactsCloseAndOpen(t *testing.T) {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	r, err := n.Start(nil, airflow.Scatter{})
	require.NoError(t, err)
	require.NoError(t, r.Set(airflow.Key, 1, 0))
	require.NoError(t, r.Advance(1))
	x := n.Index()
	var g airflow.Glance
	r.Glance(&g)
	for _, want := range []bool{true, false} {
		r.Glance(&g)
		for _, id := range n.Contacts() {
			if c.Component(id).Kind.Name == "pressure-switch" {
				assert.Equal(t, want, g.Contact[x.Contact[id]], id)
			}
		}
		assert.Equal(t, want, g.Lit[x.Sink["warning_lamp"]])
		require.NoError(t, r.Set(airflow.Engine, 30, 0))
		require.NoError(t, r.Advance(300))
	}
}

func BenchmarkGlance(b *testing.B) {
	c, err := circuits.Load("tractor_trailer")
	require.NoError(b, err)
	n, err := airflow.Compile(c)
	require.NoError(b, err)
	r, err := n.Start(nil, airflow.Scatter{})
	require.NoError(b, err)
	require.NoError(b, r.Set(airflow.Engine, 20, 1))
	require.NoError(b, r.Advance(60))
	var g airflow.Glance
	b.ReportAllocs()
	for b.Loop() {
		r.Glance(&g)
	}
}
