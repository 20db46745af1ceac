package airflow

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What every technician knows of a healthy truck: common practice, no source.

func TestGovernorPoints(t *testing.T) {
	g := gritter(t)
	g.engine(rated)
	require.True(t, g.until(400, Event{Latch: "governor.cutout", Value: true}))
	out := g.psig("tank.supply")
	assert.GreaterOrEqual(t, out, 120.0)
	assert.LessOrEqual(t, out, 125.0)
	g.set("drain_supply.cock", 0.3, 0)
	require.True(t, g.until(400, Event{Latch: "governor.cutout", Value: false}))
	assert.GreaterOrEqual(t, g.psig("tank.supply"), 100.0)
	assert.Less(t, g.psig("tank.supply"), 110.0)
}

func TestRearTakesMoreThanFront(t *testing.T) {
	n, err := gritterNetwork()
	require.NoError(t, err)
	tank := component(t, n.Circuit(), "tank")
	assert.Greater(t, tank.Value("primary_volume"), tank.Value("secondary_volume"))
	rear, front := component(t, n.Circuit(), "rear_left_chamber"), component(t, n.Circuit(), "front_left_chamber")
	assert.Greater(t, rear.Value("area"), front.Value("area"))
}

func TestServiceChambersHoldAirOnlyWithThePedalDown(t *testing.T) {
	g := charged(t)
	g.knob(1)
	g.wait(10)
	for _, room := range serviceRooms {
		assert.InDelta(t, 0, g.psig(room), 0.05, "%s, pedal up", room)
	}
	g.pedal(0.4)
	g.wait(5)
	for _, room := range serviceRooms {
		assert.Greater(t, g.psig(room), 30.0, "%s, pedal down", room)
	}
	g.pedal(0)
	g.wait(10)
	for _, room := range serviceRooms {
		assert.InDelta(t, 0, g.psig(room), 0.05, "%s, pedal up again", room)
	}
}

func TestTanksStepDownAtTheApplicationNotAtTheRelease(t *testing.T) {
	g := charged(t)
	g.knob(1)
	g.wait(60)
	for range 3 {
		up := [2]float64{g.psig("tank.primary"), g.psig("tank.secondary")}
		g.pedal(0.5)
		g.wait(60)
		down := [2]float64{g.psig("tank.primary"), g.psig("tank.secondary")}
		g.pedal(0)
		g.wait(60)
		again := [2]float64{g.psig("tank.primary"), g.psig("tank.secondary")}
		for i := range up {
			assert.Greater(t, up[i]-down[i], 1.0, "applying costs air")
			assert.InDelta(t, down[i], again[i], 0.3, "releasing costs none")
		}
	}
}

// justCutOut is the gritter as it stands in traffic: parked no more, its air cool, the compressor just cut out.
func justCutOut(t testing.TB, faults ...string) *rig {
	g := charged(t, faults...)
	g.knob(1)
	g.wait(10)
	g.engine(idle)
	g.set("drain_supply.cock", 1, 0)
	require.True(t, g.until(400, Event{Latch: "governor.cutout", Value: false}))
	g.set("drain_supply.cock", 0, 0)
	require.True(t, g.until(400, Event{Latch: "governor.cutout", Value: true}))
	g.engine(0)
	return g
}

// applicationsToCutIn counts applications from cut-out until the governor would let the compressor pump again, engine off.
func applicationsToCutIn(t *testing.T, pedal float64, faults ...string) int {
	g := justCutOut(t, faults...)
	for k := 1; k < 40; k++ {
		g.pedal(pedal)
		g.wait(4)
		g.pedal(0)
		g.wait(4)
		if !g.Latch("governor.cutout") {
			return k
		}
	}
	return 40
}

func TestApplicationsBetweenCutOutAndCutIn(t *testing.T) {
	full := applicationsToCutIn(t, 1)
	assert.GreaterOrEqual(t, full, 2, "full applications")
	assert.LessOrEqual(t, full, 3, "full applications")
	g := charged(t)
	g.knob(1)
	g.wait(10)
	g.pedal(0.22)
	g.wait(5)
	require.InDelta(t, 20, g.psig("front_left_chamber.service"), 4, "this pedal makes about 20 psi")
	light := applicationsToCutIn(t, 0.22)
	t.Logf("%d full or %d light applications", full, light)
	assert.GreaterOrEqual(t, light, 8, "20 psi applications")
	assert.LessOrEqual(t, light, 13, "20 psi applications")
}

func TestFanningOutrunsTheCompressor(t *testing.T) {
	g := charged(t)
	g.engine(idle)
	g.knob(1)
	g.wait(20)
	warned := false
	for k := 0; k < 200 && g.Get("park_control.knob") > 0.5; k++ {
		g.pedal(1)
		g.wait(0.8)
		g.pedal(0)
		g.wait(0.8)
		if g.Lit("warning_lamp") && !warned {
			warned = true
			t.Logf("warning after %d applications", k+1)
			assert.Greater(t, g.Get("park_control.knob"), 0.5, "the warning comes before the springs")
			assert.InDelta(t, 0, g.Stroke("rear_left_chamber"), 0.002)
			return
		}
	}
	assert.True(t, warned)
}

func TestLostAirSetsTheSprings(t *testing.T) {
	g := charged(t)
	g.knob(1)
	g.wait(10)
	require.InDelta(t, 0, g.Stroke("rear_right_chamber"), 1e-6)
	for _, c := range []string{"supply", "primary", "secondary"} {
		g.set("drain_"+c+".cock", 1, 0)
	}
	g.wait(300)
	assert.Zero(t, g.Get("park_control.knob"))
	assert.Greater(t, g.Stroke("rear_right_chamber"), 0.02)
}

func TestSpringsAreHeardReleasingAndSetting(t *testing.T) {
	g := charged(t)
	g.set("knob", 1, 0.05)
	g.wait(0.3)
	assert.Greater(t, FreeAir(g.PassageFlow("park_control/inlet"))*60e3, 50.0, "air rushing in through the park control")
	g.wait(20)
	assert.InDelta(t, 0, g.blows("spring_release.3"), heard)
	g.set("knob", 0, 0.05)
	g.wait(0.4)
	assert.Greater(t, g.blows("spring_release.3"), 50.0, "air rushing out at the axle")
	g.wait(20)
	assert.InDelta(t, 0, g.blows("spring_release.3"), heard)
}
