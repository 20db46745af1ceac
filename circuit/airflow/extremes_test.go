package airflow

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuits"
)

func TestExtremesAreKeptOverTheWholeRun(t *testing.T) {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	n, err := Compile(c)
	require.NoError(t, err)
	r, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	_, _, ok := r.Extremes("tank.primary")
	assert.False(t, ok, "not kept yet")
	r.KeepExtremes()
	require.NoError(t, r.Set(Engine, 2000.0/60, 1))
	_, err = r.Until(300, Event{Latch: "governor.cutout", Value: true})
	require.NoError(t, err)
	top := r.Pressure("tank.primary")
	require.NoError(t, r.Restart(nil, Scatter{}))
	require.NoError(t, r.Advance(1))
	low, high, ok := r.Extremes("tank.primary")
	assert.True(t, ok)
	assert.Equal(t, atmosphere, low)
	assert.InDelta(t, top, high, 1)
	low, high, _ = r.Extremes("rear_relay.2")
	assert.InDelta(t, 0, high-low, 1, "no service air with the pedal up")
	_, _, ok = r.Extremes("tank.tertiary")
	assert.False(t, ok)
}
