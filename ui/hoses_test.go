package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A bare trailer is worked with a workshop's air: its controls are on the dash, for it has no cab, and what they do is seen.
func TestAWorkshopsAirIsPutOnInFlow(t *testing.T) {
	f := newFlow(t, Options{Path: "semi_trailer"})
	_, ok := f.control("ignition")
	assert.False(t, ok, "it has no engine")
	f.press("supply gladhand, shut")
	f.press("supply gladhand, shop air")
	f.press("Let time run")
	f.run(3)
	d := f.shows()
	require.Equal(t, 1.0, d.Controls["gladhand_supply.shop_air"])
	assert.Equal(t, 0.0, d.Controls["gladhand_control.shop_air"])
	room := f.still.Frame().Network.Index().Room["gladhand_supply.1"]
	assert.Greater(t, f.still.Frame().Now.Pressure[room], 3e5, "Pa absolute")
}
