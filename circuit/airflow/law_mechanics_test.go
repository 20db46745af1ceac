package airflow

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Faults of springs, rods, knobs and the pedal.

func TestSpringsThatDoNotPark(t *testing.T) {
	healthy := charged(t).Stroke("rear_left_chamber")
	require.Greater(t, healthy, 0.025)
	for _, fault := range []string{"rear_left_chamber/caging bolt left in=1", "rear_left_chamber/spring broken=1"} {
		g := charged(t, fault)
		assert.LessOrEqual(t, g.Stroke("rear_left_chamber"), 0.1*healthy, fault)
		assert.InDelta(t, healthy, g.Stroke("rear_right_chamber"), 1e-4, "%s: the other side parks", fault)
		g.knob(1)
		g.wait(10)
		g.pedal(0.6)
		g.wait(5)
		assert.Greater(t, g.Stroke("rear_left_chamber"), 0.028, "%s: the service brake still works", fault)
	}
	for _, fault := range []string{"rear_left_chamber/seized=100 %", "rear_left_slack/clevis seized=100 %"} {
		g := charged(t, fault)
		assert.InDelta(t, 0, g.Stroke("rear_left_chamber"), 1e-6, "%s: the spring can't move the rod", fault)
		g.pedal(0.6)
		g.wait(5)
		assert.InDelta(t, 0, g.Stroke("rear_left_chamber"), 1e-6, "%s: neither can the pedal", fault)
	}
}

// popped is the pressure of the fuller tank at which the knob springs out, 0 if it does not.
func popped(t *testing.T, faults ...string) float64 {
	g := charged(t, faults...)
	g.knob(1)
	g.wait(5)
	for _, c := range []string{"supply", "primary", "secondary"} {
		g.set("drain_"+c+".cock", 0.5, 0)
	}
	for range 600 {
		g.wait(0.5)
		if g.Get("park_control.knob") < 0.5 {
			return max(g.psig("tank.primary"), g.psig("tank.secondary"))
		}
	}
	return 0
}

func TestKnobThatPopsTooSoonOrNever(t *testing.T) {
	healthy := popped(t)
	assert.InDelta(t, healthy+20, popped(t, "park_control/popping early=20 psi"), 3)
	assert.InDelta(t, healthy-10, popped(t, "park_control/not popping=10 psi"), 3)
	assert.Zero(t, popped(t, "park_control/not popping=200 psi"))
}

func TestPedalFaults(t *testing.T) {
	at := func(pedal float64, faults ...string) (rear, front float64) {
		g := charged(t, faults...)
		g.knob(1)
		g.wait(5)
		g.pedal(pedal)
		g.wait(10)
		return g.psig("rear_left_chamber.service"), g.psig("front_left_chamber.service")
	}
	rear, front := at(0)
	assert.InDelta(t, 0, rear, 0.05)
	assert.InDelta(t, 0, front, 0.05)
	rear, front = at(0, "foot_valve/not returning=15 psi")
	assert.Greater(t, rear, 10.0, "pedal up, but the brakes drag")
	assert.Greater(t, front, 10.0)
	_, front = at(0, "foot_valve/free play too small=25 psi")
	assert.Greater(t, front, 10.0)

	fullRear, fullFront := at(1)
	halfRear, halfFront := at(0.5)
	rear, front = at(1, "foot_valve/pedal binding=50 %")
	assert.InDelta(t, halfRear, rear, 1)
	assert.InDelta(t, halfFront, front, 1)
	rear, _ = at(0.5, "foot_valve/free play too large=10 %")
	assert.InDelta(t, halfRear-16, rear, 2, "a tenth of the travel is 16 psi")
	rear, front = at(0.5, "foot_valve/primary delivering low=40 %")
	assert.Less(t, rear, halfRear-20)
	assert.InDelta(t, rear, front, 3, "the secondary follows the primary")
	rear, front = at(0.5, "foot_valve/primary delivering low=80 %")
	assert.Less(t, rear, 10.0)
	assert.Greater(t, front, 45.0, "the pedal pushes the secondary by hand")
	rear, front = at(0.5, "foot_valve/secondary delivering low=20 psi")
	assert.InDelta(t, halfRear, rear, 0.5)
	assert.InDelta(t, halfFront-20, front, 1)
	rear, _ = at(1, "rear_relay/stuck shut=100 %")
	assert.Less(t, rear, 1.0)
	rear, _ = at(0, "rear_relay/stuck applied=60 psi")
	assert.Greater(t, rear, 40.0)
	rear, _ = at(0.5, "rear_relay/crack pressure high=10 psi")
	assert.InDelta(t, halfRear-10, rear, 1)
	assert.Greater(t, fullRear, halfRear)
	assert.Greater(t, fullFront, halfFront)
}

// Some modes belong to one line only.
func TestModesThatFitOneLine(t *testing.T) {
	n, err := gritterNetwork()
	require.NoError(t, err)
	where := map[string][]string{}
	for _, f := range Catalogue(n.Circuit()) {
		if f.Mode == "carboned" || f.Mode == "staying charged" {
			where[f.Mode] = append(where[f.Mode], f.Target)
		}
	}
	assert.Equal(t, map[string][]string{"carboned": {"discharge_line"}, "staying charged": {"purge_control_line"}}, where)
}

// Faults at one wheel add up, whichever part they are at: a slack adjuster that lags behind worn bushings.
func TestFaultsAtOneWheelAddUp(t *testing.T) {
	n, err := gritterNetwork()
	require.NoError(t, err)
	stroke := func(faults ...Fault) float64 {
		r, err := n.Start(faults, Scatter{})
		require.NoError(t, err)
		require.NoError(t, r.Fill("rear_left_chamber.service", atmosphere+30*psi))
		return r.Stroke("rear_left_chamber")
	}
	lag, play := Fault{"rear_left_slack", "not adjusting", 6e-3}, Fault{"rear_left_brake", "cam or bushings worn", 4e-3}
	healthy := stroke()
	assert.InDelta(t, healthy+10e-3, stroke(lag, play), 1e-9)
	assert.InDelta(t, stroke(lag, play), stroke(play, lag), 1e-12)
	stuck := Fault{"rear_left_brake", "seized", 0.5}
	assert.InDelta(t, (healthy+6e-3)/2, stroke(stuck, lag), 1e-9)
}
