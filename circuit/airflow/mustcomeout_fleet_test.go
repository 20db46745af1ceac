package airflow

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What trailers, protection valves and spring brake valves have to bring out by themselves.

var trailerStrokes = []string{"trailer_front_left_chamber", "trailer_front_right_chamber", "trailer_rear_left_chamber", "trailer_rear_right_chamber"}

func TestAFallThroughAProtectionValveStopsAtItsClosingPressure(t *testing.T) {
	const closes = 75.0 // the valve's own, from its kind
	for _, c := range []struct{ vehicle, fault string }{
		{"refuse_collector", "tailgate/leaking=6 mm"}, {"refuse_collector", "tailgate_line/leaking=2 mm"},
		{"coach", "rear_door/leaking=6 mm"}, {"coach", "rear_door_line/leaking=2 mm"},
	} {
		g := ready(t, c.vehicle, c.fault)
		g.wait(900)
		assert.InDelta(t, closes, g.psig("tank.primary"), 2.5, "%s, %s", c.vehicle, c.fault)
		assert.Less(t, g.psig("aux_protection.2"), 40.0, "%s, %s: what is behind it is lost", c.vehicle, c.fault)

		g = ready(t, c.vehicle, c.fault, "aux_protection/stuck open=1")
		g.wait(900)
		assert.Less(t, g.psig("tank.primary"), 60.0, "%s, %s: stuck open, it takes the brakes' air", c.vehicle, c.fault)
	}
}

func TestCrossedGladhandsLeaveTheTrailerBraked(t *testing.T) {
	g := ready(t, "tractor_trailer", "couplings/crossed")
	assert.Less(t, g.psig("trailer_reservoir.air"), 1.0, "the reservoir does not fill")
	assert.Greater(t, g.Stroke("trailer_rear_left_chamber"), 0.02, "the springs stay set")
	g.set("lever", 0.5, 0.1)
	g.wait(10)
	assert.Greater(t, g.psig("couplings.21"), 35.0, "control air comes to the trailer's supply line")

	g = ready(t, "tractor_trailer")
	assert.Greater(t, g.psig("trailer_reservoir.air"), 90.0)
	for _, c := range trailerStrokes {
		assert.InDelta(t, 0, g.Stroke(c), 1e-6, "%s, coupled as they should be", c)
	}
}

// Hoses are crossed, and put right again, by hand: the same as the fault while they are, and gone with it.
func TestHosesCanBeCrossedAndPutRight(t *testing.T) {
	g := ready(t, "tractor_trailer")
	recouple := func(crossed float64) {
		for _, c := range []string{"couplings.supply_cock", "couplings.control_cock"} {
			g.set(c, 1, 0)
		}
		g.set("couplings.coupled", 0, 0)
		g.wait(10)
		assert.Less(t, g.psig("couplings.21"), 1.0, "the trailer's lines are open")
		assert.Greater(t, g.psig("couplings.11"), 80.0, "the tractor's are shut off")
		g.set("couplings.crossed", crossed, 0)
		g.set("couplings.coupled", 1, 0)
		g.wait(1)
		for _, c := range []string{"couplings.supply_cock", "couplings.control_cock"} {
			g.set(c, 0, 0)
		}
	}
	recouple(1)
	g.wait(60)
	assert.Greater(t, g.psig("couplings.22"), 80.0, "supply air stands in the control line")
	assert.Less(t, g.psig("couplings.21"), 5.0)
	assert.Greater(t, g.Stroke("trailer_rear_left_chamber"), 0.02, "the springs are set")
	recouple(0)
	g.wait(120)
	assert.Greater(t, g.psig("couplings.21"), 70.0)
	assert.InDelta(t, 0, g.Stroke("trailer_rear_left_chamber"), 1e-6, "they are off again")
}

// A shut cock keeps the towing vehicle's air, coupled or not; with the supply cock shut the trailer is not charged, with the control
// cock shut it is charged and does not brake.
func TestShutOffCocks(t *testing.T) {
	g := ready(t, "tractor_trailer")
	g.set("couplings.supply_cock", 1, 0)
	g.set("couplings.control_cock", 1, 0)
	g.set("couplings.coupled", 0, 0)
	before := g.psig("tractor_tank.primary")
	g.wait(60)
	assert.Less(t, g.blows("couplings.3"), heard)
	assert.InDelta(t, before, g.psig("tractor_tank.primary"), 1)
	assert.Equal(t, 1.0, g.Get("tractor_trailer_supply.knob"), "the knob stays in")

	g = ready(t, "tractor_trailer")
	g.set("couplings.control_cock", 1, 0)
	g.pedal(0.6)
	g.wait(5)
	assert.Greater(t, g.psig("tractor_rear_left_chamber.service"), 40.0)
	assert.Less(t, g.psig("trailer_front_left_chamber.service"), 1.0)
	assert.Greater(t, g.psig("trailer_reservoir.air"), 80.0)
}

func TestALostTrailerSupplySetsTheTrailersBrakes(t *testing.T) {
	for _, lose := range []func(g *rig){
		func(g *rig) { g.set("coupled", 0, 0) },
		func(g *rig) { g.set("tractor_trailer_supply.knob", 0, 0.05) },
	} {
		g := ready(t, "tractor_trailer")
		lose(g)
		g.wait(10)
		for _, c := range trailerStrokes {
			assert.Greater(t, g.Stroke(c), 0.02, "%s: by springs at the rear, by the reservoir's air in front", c)
		}
		// 49 CFR 393.43, from memory: the trailer's brakes hold for 15 minutes.
		g.wait(900)
		for _, c := range trailerStrokes {
			assert.Greater(t, g.Stroke(c), 0.02, "%s after 15 minutes", c)
		}
	}
}

// 49 CFR 571.121 S5.1.3: the towing vehicle's air is protected from a loss in the towed vehicle. 49 CFR 393.43, from memory: the supply
// shuts by itself between 20 and 45 psi.
func TestTheTractorKeepsItsAir(t *testing.T) {
	g := ready(t, "tractor_trailer")
	g.set("coupled", 0, 0)
	g.wait(60)
	assert.Zero(t, g.Get("tractor_trailer_supply.knob"), "the knob has popped")
	assert.Greater(t, g.psig("tractor_tank.primary"), 55.0)
	assert.Greater(t, g.psig("tractor_tank.secondary"), 55.0)
	before := g.psig("tractor_tank.primary")
	g.pedal(0.4)
	g.wait(10)
	assert.Greater(t, g.psig("tractor_rear_left_chamber.service"), 35.0, "and its own brakes work")
	assert.Less(t, g.blows("couplings.3"), heard, "none of its service air goes to the open control line")
	assert.Greater(t, g.psig("tractor_tank.primary"), before-12)

	g = ready(t, "tractor_trailer", "tractor_protection/not shutting=30 %")
	g.set("coupled", 0, 0)
	g.wait(60)
	g.pedal(0.4)
	g.wait(1)
	assert.Greater(t, g.blows("couplings.3"), 100*heard, "with a protection valve that does not shut it does")
}

// 49 CFR 571.121 S5.8.2: with 100 psi at the front supply coupling and any one leak in the trailer's service system, 70 psi or more are kept
// there. The rig's regulator is the tractor, held at 100 psi.
func TestTheSupplyLineIsKeptOnAServiceLeak(t *testing.T) {
	for _, fault := range []string{
		"trailer_reservoir/leaking=8 mm", "trailer_drain/left open=1", "trailer_relay_supply/leaking=6 mm", "trailer_emergency_reservoir/leaking=6 mm",
		"trailer_reservoir_fill/leaking=6 mm",
	} {
		g := ready(t, "tractor_trailer", fault)
		for range 240 {
			g.fillTractor(100)
			g.wait(0.5)
		}
		assert.GreaterOrEqual(t, g.psig("couplings.21"), 70.0, fault)
		// S5.8.3: no parking retardation at 70 psi or more.
		assert.InDelta(t, 0, g.Stroke("trailer_rear_left_chamber"), 1e-6, fault)
	}
	g := ready(t, "tractor_trailer", "trailer_drain/left open=1", "trailer_spring_valve/protection stuck open=1", "trailer_emergency/stuck shut=1")
	for range 240 {
		g.fillTractor(100)
		g.wait(0.5)
	}
	assert.Less(t, g.psig("couplings.21"), 70.0, "a protection that stays open lets it fall")
}

// 49 CFR 571.121 S5.8.3: no automatic drag while the supply line has 70 psi or more.
func TestNoDragAtSeventyPsi(t *testing.T) {
	g := ready(t, "tractor_trailer")
	for range 60 {
		g.fillTractor(73) // the check and the lines take up to 3 psi
		g.wait(0.5)
	}
	require.GreaterOrEqual(t, g.psig("couplings.21"), 70.0)
	for _, c := range trailerStrokes {
		assert.InDelta(t, 0, g.Stroke(c), 1e-6, c)
	}
}

func TestTheHandControlBrakesTheTrailerAlone(t *testing.T) {
	g := ready(t, "tractor_trailer")
	g.set("lever", 0.6, 0.1)
	g.wait(5)
	assert.Greater(t, g.psig("trailer_front_left_chamber.service"), 40.0)
	assert.Greater(t, g.psig("trailer_rear_left_chamber.service"), 40.0)
	assert.Less(t, g.psig("tractor_rear_left_chamber.service"), 0.5)
	assert.Less(t, g.psig("tractor_front_left_chamber.service"), 0.5)
	assert.True(t, g.Lit("tractor_stop_lamp"), "and lights the stop lamps")
	g.set("lever", 0, 0.1)
	g.wait(5)
	assert.Less(t, g.psig("trailer_front_left_chamber.service"), 0.5)
}

func TestCouplingSealsLeakWhereTheAirIs(t *testing.T) {
	for _, c := range []struct {
		fault             string
		released, applied bool
	}{{"couplings/supply seal leaking=0.8 mm", true, true}, {"couplings/control seal leaking=0.8 mm", false, true}} {
		g := ready(t, "tractor_trailer", c.fault)
		assert.Equal(t, c.released, g.blows("couplings") > heard, "%s, pedal up", c.fault)
		g.pedal(0.5)
		g.wait(5)
		assert.Equal(t, c.applied, g.blows("couplings") > heard, "%s, pedal down", c.fault)
		g.pedal(0)
		g.set("tractor_trailer_supply.knob", 0, 0.05)
		g.wait(20)
		assert.Less(t, g.blows("couplings"), heard, "%s, supply knob out", c.fault)
	}
}

func TestATrailerValveLeakingBackBlowsAtTheOpenGladhand(t *testing.T) {
	for _, fault := range []string{"trailer_spring_valve/leaking back to the supply line=1 mm", "trailer_emergency/leaking back to the supply line=1 mm"} {
		g := ready(t, "tractor_trailer", fault)
		g.set("coupled", 0, 0)
		g.wait(60)
		assert.Greater(t, g.blows("couplings.3"), 10*heard, fault)
	}
	g := ready(t, "tractor_trailer")
	g.set("coupled", 0, 0)
	g.wait(60)
	assert.Less(t, g.blows("couplings.3"), heard, "healthy")
}

// With the rear circuit lost the pedal sets the springs in its place, in proportion; with both circuits good it does not.
func TestSpringsBrakeInPlaceOfTheRearCircuit(t *testing.T) {
	g := ready(t, "coach")
	full := g.psig("rear_left_chamber.spring")
	assert.InDelta(t, 95, full, 6, "held off at the valve's pressure")
	g.pedal(0.5)
	g.wait(5)
	assert.InDelta(t, full, g.psig("rear_left_chamber.spring"), 7, "both circuits good: no less, and a little more as the rear leads")
	assert.Greater(t, g.psig("rear_left_chamber.spring"), full-1)
	g.pedal(0)
	g.set("drain_supply.cock", 1, 0)
	g.set("drain_primary.cock", 1, 0)
	g.wait(120)
	assert.InDelta(t, 0, g.Stroke("rear_left_chamber"), 1e-6, "primary lost, pedal up: the double check keeps the springs off")
	last := g.psig("rear_left_chamber.spring")
	for _, pedal := range []float64{0.25, 0.4, 0.55} {
		g.pedal(pedal)
		g.wait(5)
		assert.Less(t, g.psig("rear_left_chamber.spring"), last-8, "pedal %g", pedal)
		last = g.psig("rear_left_chamber.spring")
	}
	assert.Greater(t, g.Stroke("rear_left_chamber"), 0.02)
	g.pedal(0)
	g.wait(10)
	assert.InDelta(t, 0, g.Stroke("rear_left_chamber"), 1e-6, "let go again")

	g = ready(t, "coach", "spring_valve/stuck=1")
	g.set("drain_supply.cock", 1, 0)
	g.set("drain_primary.cock", 1, 0)
	g.wait(120)
	g.pedal(0.55)
	g.wait(5)
	assert.InDelta(t, 0, g.Stroke("rear_left_chamber"), 1e-6, "stuck: no springs")
}

// 49 CFR 571.121 S5.6.3.3: the springs hold within 3 s.
func TestTheParkControlSetsTheCoachsSprings(t *testing.T) {
	g := ready(t, "coach")
	g.knob(0)
	g.wait(3)
	assert.Greater(t, g.Stroke("rear_left_chamber"), 0.02)
}

func TestModulatorsHoldAndDump(t *testing.T) {
	g := ready(t, "refuse_collector")
	g.set("modulator_left.hold", 1, 0)
	g.pedal(0.5)
	g.wait(3)
	assert.Less(t, g.psig("rear_left_chamber.service"), 0.5, "held off")
	assert.Greater(t, g.psig("rear_right_chamber.service"), 50.0, "the other side is not")
	g.set("modulator_left.hold", 0, 0)
	g.wait(3)
	assert.Greater(t, g.psig("rear_left_chamber.service"), 50.0)
	g.set("modulator_left.hold", 1, 0)
	g.set("modulator_left.dump", 1, 0)
	g.wait(0.5)
	assert.Less(t, g.psig("rear_left_chamber.service"), 10.0, "dumped")
}

func TestLevellingKeepsTheHeightAndItsAir(t *testing.T) {
	g := ready(t, "coach")
	assert.InDelta(t, 58, g.psig("left_bellows.1"), 4)
	const lost = "levelling_line/leaking=3 mm" // the supply of both sides
	g = ready(t, "coach", lost)
	g.wait(600)
	require.Less(t, g.psig("level_left.1"), 20.0)
	assert.InDelta(t, 58, g.psig("left_bellows.1"), 4, "its check keeps the body up")
}

func TestTheLeverLiftsTheAxle(t *testing.T) {
	g := ready(t, "refuse_collector")
	assert.Less(t, g.psig("lift_left_bellows.1"), 0.5)
	g.set("lever", 1, 0.5)
	g.wait(60)
	assert.Greater(t, g.psig("lift_left_bellows.1"), 70.0)
	g.set("lever", 0, 0.5)
	g.wait(60)
	assert.Less(t, g.psig("lift_left_bellows.1"), 2.0)
}

// The ratio valve gives its share, up and down, and leaves nothing behind.
func TestTheLiftAxleGetsItsShare(t *testing.T) {
	g := ready(t, "refuse_collector")
	for _, pedal := range []float64{0.3, 0.5, 0.7, 0.4} {
		g.set("pedal", pedal, 1)
		g.wait(8)
		in := g.psig("lift_ratio.1")
		assert.InDelta(t, 0.6*in-0.6, g.psig("lift_left_chamber.service"), 1, "of %.1f psi", in)
	}
	g.pedal(0)
	g.wait(10)
	assert.InDelta(t, 0, g.psig("lift_left_chamber.service"), 0.05)
}
