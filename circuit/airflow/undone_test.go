package airflow

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A control line undone at the dryer: the dryer's port stands open and its purge valve shuts, while the line's plugged end
// keeps the unloader up.
func TestUndo(t *testing.T) {
	g := charged(t)
	require.True(t, g.Latch("governor.cutout"))
	assert.Greater(t, g.psig("dryer.4"), 60.0)
	require.NoError(t, g.Undo("dryer.4", true))
	g.wait(5)
	assert.Less(t, g.psig("dryer.4"), 0.1)
	assert.Greater(t, g.psig("compressor.4"), 60.0, "the line holds")
	assert.Zero(t, g.PassageOpen("dryer/purge valve"))
	state := g.Snapshot()
	require.NoError(t, g.Undo("dryer.4", false))
	g.wait(5)
	assert.Greater(t, g.psig("dryer.4"), 60.0, "fastened again")
	g.Restore(state)
	assert.Zero(t, g.PassageOpen("purge_control_line/bore"), "a state remembers what was undone")
	assert.ErrorContains(t, g.Undo("dryer.nothing", true), "component.port")
	assert.ErrorContains(t, g.Undo("dryer.3", true), "no air line")
}

func TestUnplugAndBridge(t *testing.T) {
	for _, tt := range []struct {
		fault                     string
		plain, unplugged, bridged bool
	}{
		{"", false, false, true},
		{"switch_primary/stuck on", true, false, true},
		{"switch_primary/stuck off", false, false, true},
		{"primary_switch_wire/shorted", true, true, true},
		{"primary_switch_wire/open", false, false, false},
		{"warning_lamp/dead", false, false, false},
	} {
		var faults []string
		if tt.fault != "" {
			faults = append(faults, tt.fault)
		}
		g := charged(t, faults...)
		assert.Equal(t, tt.plain, g.Lit("warning_lamp"), tt.fault)
		require.NoError(t, g.Unplug("switch_primary", true))
		assert.Equal(t, tt.unplugged, g.Lit("warning_lamp"), "%s, unplugged", tt.fault)
		require.NoError(t, g.Unplug("switch_primary", false))
		require.NoError(t, g.Bridge("switch_primary", true))
		assert.Equal(t, tt.bridged, g.Lit("warning_lamp"), "%s, bridged", tt.fault)
		require.NoError(t, g.Bridge("switch_primary", false))
		assert.Equal(t, tt.plain, g.Lit("warning_lamp"), "%s, plugged in again", tt.fault)
	}
	g := charged(t)
	assert.ErrorContains(t, g.Unplug("tank", true), "no electrical contact")
}

// The numbers that a hand and a gauge find at a chamber are those that its rod moves by.
func TestFreeTravelAndLettingGo(t *testing.T) {
	g := charged(t)
	c := component(t, g.n.Circuit(), "rear_left_chamber")
	assert.InDelta(t, 0.028, g.FreeTravel("rear_left_chamber"), 1e-12, "the slack adjusters' default")
	at := g.LetsGoAt("rear_left_chamber")
	assert.InDelta(t, c.Value("held_off_at"), at-atmosphere, 1e-6)
	require.NoError(t, g.Fill("rear_left_chamber.spring", at+10))
	assert.Zero(t, g.Stroke("rear_left_chamber"))
	require.NoError(t, g.Fill("rear_left_chamber.spring", at-2*psi))
	assert.Positive(t, g.Stroke("rear_left_chamber"))
	assert.True(t, math.IsNaN(g.LetsGoAt("front_left_chamber")), "no spring")
	assert.True(t, math.IsNaN(g.FreeTravel("tank")))
	assert.InDelta(t, 0.048, charged(t, "rear_left_slack/not adjusting=20 mm").FreeTravel("rear_left_chamber"), 1e-12)
	assert.True(t, math.IsNaN(charged(t, "rear_left_chamber/spring broken=100 %").LetsGoAt("rear_left_chamber")))
	assert.Less(t, charged(t, "rear_left_chamber/spring broken=60 %").LetsGoAt("rear_left_chamber"), at)
}

// What a hand would find is what the valve and the switch then do.
func TestWhatAHandWouldFind(t *testing.T) {
	for _, fault := range []string{"", "foot_valve/free play too large=20 %", "foot_valve/free play too small=5 psi"} {
		var faults []string
		if fault != "" {
			faults = append(faults, fault)
		}
		g := charged(t, faults...)
		at := g.OpensAt("foot_valve/primary inlet", "foot_valve.pedal")
		require.Greater(t, at, 0.0, fault)
		g.set("pedal", at-0.005, 0.1)
		g.wait(3)
		assert.Less(t, g.psig("foot_valve.21"), 0.1, "%s: not yet", fault)
		g.set("pedal", at+0.03, 0.1)
		g.wait(3)
		assert.Greater(t, g.psig("foot_valve.21"), 1.0, "%s: now", fault)
	}
	g := charged(t)
	assert.True(t, math.IsNaN(g.OpensAt("foot_valve/primary inlet", "park_control.knob")))
	assert.True(t, math.IsNaN(g.OpensAt("nothing", "foot_valve.pedal")))
	assert.InDelta(t, 0.6, charged(t, "foot_valve/pedal binding=40 %").Allows("foot_valve.pedal", 1), 1e-12)
	assert.Equal(t, 1.0, g.Allows("foot_valve.pedal", 1))
	rise, fall := g.SwitchesAt("switch_primary")
	assert.Greater(t, rise, fall)
	low := func(p float64) func(string) float64 {
		return func(part string) float64 {
			if part == "switch_primary" {
				return p
			}
			return math.NaN()
		}
	}
	assert.False(t, g.LitIf("warning_lamp", low(rise)))
	assert.True(t, g.LitIf("warning_lamp", low(fall)))
	assert.False(t, charged(t, "switch_primary/stuck off").LitIf("warning_lamp", low(fall)))
	rise, _ = charged(t, "switch_primary/stuck on").SwitchesAt("switch_primary")
	assert.True(t, math.IsNaN(rise))
}
