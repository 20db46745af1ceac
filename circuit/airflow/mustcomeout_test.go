package airflow

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the model has to bring out by itself, because technicians find faults by it.

func TestExhaustsStandOpenAtRest(t *testing.T) {
	g := charged(t)
	exhausts := []string{"rear_relay/exhaust seat", "foot_valve/primary exhaust", "foot_valve/secondary exhaust", "front_release/exhaust", "spring_release/exhaust"}
	for _, id := range exhausts {
		assert.Greater(t, g.PassageOpen(id), 0.1, "%s at rest", id)
	}
	g.knob(1)
	g.wait(5)
	g.pedal(0.4)
	g.wait(10)
	for _, id := range exhausts {
		assert.Zero(t, g.PassageOpen(id), "%s lapped", id)
	}
	for _, place := range []string{"rear_relay.3", "foot_valve.3", "front_release.3"} {
		assert.InDelta(t, 0, g.blows(place), 0.02, place)
	}
}

func TestInnerSealBlowsAtTheRelayExhaust(t *testing.T) {
	g := charged(t, "rear_left_chamber/inner seal leaking=0.6 mm")
	assert.Less(t, g.blows("rear_relay.3"), heard, "parked: no hold-off air, no leak")
	g.knob(1)
	g.wait(30)
	assert.Greater(t, g.blows("rear_relay.3"), 5*heard, "released: hold-off air leaves at the relay's exhaust")
	assert.Less(t, g.psig("rear_left_chamber.service"), 2.0, "the open exhaust keeps the service side empty")
	g.knob(0)
	g.wait(30)
	assert.Less(t, g.blows("rear_relay.3"), heard, "parked again")
}

func TestPurgeValveLeakBlowsWhileLoaded(t *testing.T) {
	g := gritter(t, "dryer/purge valve leaking=1 mm")
	g.engine(rated)
	g.until(300, Event{Room: "tank.supply", Level: absolute(90), Rising: true})
	assert.Greater(t, g.blows("dryer.3"), 10*heard, "building")
	require.True(t, g.until(300, Event{Latch: "governor.cutout", Value: true}))
	g.wait(100)
	assert.Less(t, g.blows("dryer.3"), heard, "unloaded, once the purge volume is empty")
}

func TestOutletCheckLeakBlowsWhileUnloaded(t *testing.T) {
	g := gritter(t, "dryer/outlet check leaking back=0.5 mm")
	g.engine(rated)
	g.until(300, Event{Room: "tank.supply", Level: absolute(90), Rising: true})
	assert.Less(t, g.blows("dryer.3"), heard, "building")
	require.True(t, g.until(300, Event{Latch: "governor.cutout", Value: true}))
	g.engine(0)
	g.wait(20)
	assert.Greater(t, g.blows("dryer.3"), 10*heard, "unloaded: the supply tank blows back through the bed, engine off too")
	require.True(t, g.until(600, Event{Latch: "governor.cutout", Value: false}), "the wet tank falls to cut-in by itself")
	assert.InDelta(t, cutIn, g.psig("tank.supply"), 1.5)
	g.wait(30)
	assert.Less(t, g.blows("dryer.3"), heard, "it stops at cut-in, where the purge valve shuts")
	primary := g.psig("tank.primary")
	g.wait(120)
	assert.Greater(t, primary, cutIn+5)
	assert.InDelta(t, primary, g.psig("tank.primary"), 1, "the service tanks hold behind their checks, but for what their air cools")
}

func TestAFewSecondsOfPurgeAreNormal(t *testing.T) {
	g := gritter(t)
	g.engine(rated)
	require.True(t, g.until(400, Event{Latch: "governor.cutout", Value: true}))
	g.wait(1)
	assert.Greater(t, g.blows("dryer.3"), 100*heard)
	lasted := 1.0
	for g.blows("dryer.3") > 10*heard && lasted < 200 {
		g.wait(0.5)
		lasted += 0.5
	}
	t.Logf("purge lasts %.1f s", lasted)
	assert.Greater(t, lasted, 3.0)
	assert.Less(t, lasted, 60.0)
	g.wait(90)
	assert.Less(t, g.blows("dryer.3"), heard)
}

func TestPurgeStaysOpenWithTheEngineOff(t *testing.T) {
	g := charged(t)
	assert.Equal(t, 1.0, g.PassageOpen("dryer/purge valve"))
	g.set("drain_supply.cock", 0.2, 0)
	require.True(t, g.until(300, Event{Latch: "governor.cutout", Value: false}))
	g.wait(10)
	assert.Zero(t, g.PassageOpen("dryer/purge valve"))
}

func TestServiceAirThroughTheAntiCompoundingCheck(t *testing.T) {
	leaky := "anti_compound/first seat leaking=1 mm"
	g := charged(t, leaky)
	assert.Less(t, g.blows("park_control.3"), heard, "parked, pedal up")
	g.pedal(0.6)
	g.wait(10)
	assert.Greater(t, g.blows("park_control.3"), 10*heard, "parked, pedal down: service air at the park control's exhaust")
	assert.Greater(t, g.psig("rear_left_chamber.spring"), 30.0, "anti-compounding: service air holds the spring off meanwhile")
	g.pedal(0)
	g.wait(10)
	assert.Less(t, g.blows("park_control.3"), heard, "pedal up again")

	g = charged(t)
	g.pedal(0.6)
	g.wait(10)
	assert.Less(t, g.blows("park_control.3"), heard, "healthy: nothing, pedal down")
}

func TestWaterInATank(t *testing.T) {
	const water = "tank/primary full of water=50 %"
	build := func(faults ...string) float64 {
		g := gritter(t, append(faults, "tank/supply full of water=50 %")...)
		if len(faults) == 0 {
			g = gritter(t)
		}
		g.engine(rated)
		g.until(300, Event{Room: "tank.primary", Level: absolute(85), Rising: true})
		began := g.Time()
		g.until(300, Event{Room: "tank.primary", Level: absolute(100), Rising: true})
		return g.Time() - began
	}
	assert.Less(t, build(water), 0.8*build(), "it builds faster")
	drop := func(faults ...string) float64 {
		g := charged(t, faults...)
		g.knob(1)
		g.wait(60)
		before := g.psig("tank.primary")
		g.pedal(1)
		g.wait(60)
		return before - g.psig("tank.primary")
	}
	assert.Greater(t, drop(water), 1.3*drop(), "it drops more per application")
	cycle := func(faults ...string) int { return applicationsToCutIn(t, 0.3, faults...) }
	assert.Less(t, cycle(water, "tank/supply full of water=50 %"), cycle(), "it cycles quicker")
}

func TestPluggedDryerLiftsItsRelief(t *testing.T) {
	g := gritter(t, "dryer/cartridge plugged=98 %")
	g.engine(rated)
	g.wait(60)
	assert.Greater(t, g.blows("dryer_relief.3"), 10*heard)
	assert.Greater(t, g.psig("dryer.1"), 165.0)
	assert.Less(t, g.psig("tank.supply"), 120.0)

	g = gritter(t)
	g.engine(rated)
	g.until(400, Event{Latch: "governor.cutout", Value: true})
	assert.Zero(t, g.blows("dryer_relief.3"), "healthy: it never lifts")
}

func TestRestrictionAfterTheCompressorRaisesHeadPressure(t *testing.T) {
	head := func(faults ...string) float64 {
		g := gritter(t, faults...)
		g.engine(rated)
		g.until(300, Event{Room: "tank.supply", Level: absolute(90), Rising: true})
		return g.psig("compressor.head")
	}
	healthy := head()
	assert.InDelta(t, 95, healthy, 6)
	for _, fault := range []string{"discharge_line/carboned=96 %", "dryer/cartridge plugged=95 %", "supply_line/iced=97 %"} {
		assert.Greater(t, head(fault), healthy+25, fault)
	}
	for _, fault := range []string{"compressor/worn=50 %", "compressor/intake restricted=85 %", "compressor/drive slipping=40 %"} {
		assert.Less(t, head(fault), healthy+1, fault)
	}
	blocked := gritter(t, "discharge_line/blocked=100 %")
	blocked.engine(rated)
	blocked.wait(60)
	assert.Greater(t, blocked.psig("compressor.head"), 250.0)
	assert.Less(t, blocked.psig("compressor.head"), 600.0, "rings and valves take up the flow")
}

func TestCollapsedHose(t *testing.T) {
	const room, other = "front_left_chamber.service", "front_right_chamber.service"
	at := func(fault string) (applied, released float64) {
		g := charged(t, fault)
		g.pedal(0.5)
		g.wait(1)
		applied = g.psig(room) / g.psig(other)
		g.wait(60) // long enough to fill through anything
		g.pedal(0)
		g.wait(1)
		assert.Less(t, g.psig(other), 5.0, "the other side releases")
		return applied, g.psig(room)
	}
	applied, released := at("front_left_hose/lining closing the way back=99 %")
	assert.Greater(t, applied, 0.95, "shut the way back: it applies")
	assert.Greater(t, released, 20.0, "and does not release")
	applied, released = at("front_left_hose/lining closing the way out=99 %")
	assert.Less(t, applied, 0.5, "shut the way out: it does not apply")
	assert.Less(t, released, 5.0, "and what got in comes out")
}

func TestRelaySeats(t *testing.T) {
	for _, c := range []struct {
		fault             string
		released, applied bool
	}{
		{"rear_relay/inlet seat leaking=0.6 mm", true, false},
		{"rear_relay/exhaust seat leaking=0.6 mm", false, true},
		{"foot_valve/primary inlet seat leaking=0.6 mm", true, false},
	} {
		g := charged(t, c.fault)
		g.knob(1)
		g.wait(20)
		place := "rear_relay.3"
		if c.fault[0] == 'f' {
			place = "foot_valve.3"
		}
		assert.Equal(t, c.released, g.blows(place) > heard, "%s, released: %.2f L/min", c.fault, g.blows(place))
		g.pedal(1)
		g.wait(20)
		assert.Equal(t, c.applied, g.blows(place) > heard, "%s, applied: %.2f L/min", c.fault, g.blows(place))
	}
}

func TestSpringsOnLossOfOneCircuit(t *testing.T) {
	lose := func(circuit string, faults ...string) (held bool) {
		g := charged(t, faults...)
		g.knob(1)
		g.wait(20)
		require.InDelta(t, 0, g.Stroke("rear_left_chamber"), 1e-6)
		g.set("drain_supply.cock", 1, 0)
		g.set("drain_"+circuit+".cock", 1, 0)
		g.wait(120)
		return g.Stroke("rear_left_chamber") < 0.001
	}
	assert.True(t, lose("primary"), "the double check feeds the park control from the secondary")
	assert.True(t, lose("secondary"), "and from the primary")
	assert.False(t, lose("primary", "park_feed/stuck on the first supply=1"), "stuck on the primary: its loss sets the springs")
	assert.True(t, lose("secondary", "park_feed/stuck on the first supply=1"))
	assert.False(t, lose("secondary", "park_feed/stuck on the second supply=1"))
}

func TestDoubleCheckLetsNeitherCircuitDrainTheOther(t *testing.T) {
	g := charged(t)
	g.knob(1)
	g.wait(20)
	g.set("drain_supply.cock", 1, 0)
	g.wait(60)
	before := g.psig("tank.secondary")
	g.set("drain_primary.cock", 0.15, 0)
	g.wait(120)
	assert.Less(t, g.psig("tank.primary"), before-20)
	assert.InDelta(t, before, g.psig("tank.secondary"), 0.7)
}

func TestDrainingTheSupplyTakesThePrimaryDown(t *testing.T) {
	for _, fault := range []string{"check_primary/leaking back=1.5 mm", "tank/wall between supply and primary leaking=2 mm"} {
		g := charged(t, fault)
		secondary := g.psig("tank.secondary")
		g.drain("drain_supply", "tank.supply", 2)
		g.set("drain_supply.cock", 1, 0)
		g.wait(60)
		assert.Less(t, g.psig("tank.primary"), secondary-15, fault)
		assert.InDelta(t, secondary, g.psig("tank.secondary"), 0.7, fault)
	}
}

func TestPurgeControlStayingCharged(t *testing.T) {
	g := charged(t, "purge_control_line/staying charged=1")
	g.engine(rated)
	g.set("drain_supply.cock", 0.2, 0)
	require.True(t, g.until(300, Event{Latch: "governor.cutout", Value: false}))
	g.set("drain_supply.cock", 0, 0)
	g.wait(20)
	assert.Greater(t, g.blows("dryer.3"), 100*heard, "loaded again, and all of it goes out of the purge port")
	assert.Greater(t, g.psig("dryer.4"), 100.0)
	assert.Less(t, g.psig("compressor.4"), 2.0)
}

func TestGovernorLeaks(t *testing.T) {
	g := gritter(t, "governor/exhaust leaking=0.6 mm")
	g.engine(rated)
	g.until(300, Event{Latch: "governor.cutout", Value: true})
	g.wait(5)
	assert.Greater(t, g.blows("governor.3"), heard, "cut out: the exhaust seat")
	g = gritter(t, "governor/inlet seat leaking=0.6 mm")
	g.engine(rated)
	g.until(300, Event{Room: "tank.supply", Level: absolute(90), Rising: true})
	assert.Greater(t, g.blows("governor.3"), heard, "loaded: the inlet seat")
}

func TestUnloaderSealBlowsAtTheIntakeUnloadedOnly(t *testing.T) {
	g := gritter(t, "compressor/unloader seal leaking=0.8 mm")
	g.engine(rated)
	g.until(300, Event{Room: "tank.supply", Level: absolute(90), Rising: true})
	assert.Less(t, g.blows("compressor.0"), 0.0, "it draws air in")
	g.until(300, Event{Latch: "governor.cutout", Value: true})
	g.engine(0)
	g.wait(20)
	assert.Greater(t, g.blows("compressor.0"), heard)
}

func TestUnloaderStuckLoaded(t *testing.T) {
	g := gritter(t, "compressor/unloader stuck loaded=1")
	g.engine(rated)
	require.True(t, g.until(400, Event{Latch: "governor.cutout", Value: true}))
	g.wait(60)
	assert.Greater(t, g.blows("dryer.3"), 100*heard, "it goes on pumping, out of the open purge valve")
}

func TestSlackAdjusterOutOfAdjustment(t *testing.T) {
	stroke := func(faults ...string) float64 {
		g := charged(t, faults...)
		g.knob(1)
		g.wait(10)
		g.pedal(1)
		g.wait(20)
		return g.Stroke("front_left_chamber")
	}
	healthy := stroke()
	assert.Less(t, healthy, 44.5e-3, "49 CFR 393.47(e): type 20, 1 3/4 in")
	assert.InDelta(t, healthy+0.02, stroke("front_left_slack/not adjusting=20 mm"), 1e-3)
	assert.InDelta(t, 0.0635, stroke("front_left_slack/not adjusting=40 mm"), 1e-6, "on its stop")
	assert.InDelta(t, 0, stroke("front_left_slack/clevis seized=100 %"), 1e-6)
	assert.InDelta(t, healthy, stroke("front_right_slack/not adjusting=20 mm"), 1e-3, "the other side's adjuster")
}
