package airflow

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit"
)

// Single parts against what they are known to do.

// Conductance (L/(s·bar)) and critical ratio of pipes against an adiabatic flow with friction in a smooth tube, entrance loss 0.5
// (Fanno flow, worked out independently): C, and the b that fits the flow at a pressure ratio of 0.8.
func TestLineFlowAgainstFanno(t *testing.T) {
	for _, c := range []struct{ d, l, conductance, crit float64 }{
		{12.7, 1, 17.37, 0.403}, {12.7, 3, 13.77, 0.300}, {11, 1, 12.71, 0.391}, {9.5, 3, 7.03, 0.257},
		{9.5, 8, 4.94, 0.127}, {6.5, 8, 1.93, 0.064}, {6, 2, 2.71, 0.236},
	} {
		got, crit := lineFlow(c.d*1e-3, c.l)
		assert.InEpsilon(t, c.conductance, got*1e8, 0.10, "C of %g mm × %g m", c.d, c.l)
		assert.InDelta(t, c.crit, crit, 0.035, "b of %g mm × %g m", c.d, c.l)
	}
}

// Rated volumes of 49 CFR 571.121 Table V include the void before the diaphragm.
func TestChamberVolumes(t *testing.T) {
	n, err := gritterNetwork()
	require.NoError(t, err)
	for _, c := range []struct {
		id    string
		cubic float64
	}{{"front_left_chamber", 54}, {"rear_left_chamber", 89}} {
		part := component(t, n.Circuit(), c.id)
		m := thrustOf(part, component(t, n.Circuit(), c.id[:len(c.id)-len("chamber")]+"slack"))
		p := m.service()
		assert.InEpsilon(t, c.cubic*cubicInch, m.void()+p.Volume[len(p.Volume)-1], 1e-9, "%s at full stroke", c.id)
		assert.Greater(t, m.void(), 0.0)
	}
}

func TestChamberCurvesAreSound(t *testing.T) {
	n, err := gritterNetwork()
	require.NoError(t, err)
	part := component(t, n.Circuit(), "rear_left_chamber")
	slack := component(t, n.Circuit(), "rear_left_slack")
	rapid.Check(t, func(t *rapid.T) {
		m := thrustOf(part, slack)
		m.clearance += rapid.Float64Range(-0.06, 0.08).Draw(t, "clearance")
		m.moves = rapid.Float64Range(0, 1).Draw(t, "moves")
		fall := rapid.Float64Range(0, 6*psi).Draw(t, "spring")
		m.starts -= fall
		m.contact -= fall
		m.springForce = rapid.Float64Range(0, 1).Draw(t, "force")
		m.cagedTravel = rapid.Float64Range(0, 1).Draw(t, "caged")
		for _, p := range []Piston{m.service(), m.spring()} {
			if err := p.check(); err != nil {
				t.Fatalf("%+v: %v", p, err)
			}
		}
		gauge, stroke := m.parked()
		if stroke[0] < stroke[1] || stroke[0] > m.full || gauge[0] >= gauge[1] {
			t.Fatalf("the spring pushes the rod out by %v at %v", stroke, gauge)
		}
	})
}

// The foot valve's deliveries follow the pedal: T = −10 psi + pedal·160 psi, the primary at most a little under it, the
// secondary 1.5 psi below the primary, and on the way back both stop within the hysteresis of 2 psi above T.
func TestFootValveFollowsThePedal(t *testing.T) {
	g := charged(t)
	g.knob(1)
	g.wait(5)
	asked := func(pedal float64) float64 { return -10 + 160*pedal }
	for _, pedal := range []float64{0.15, 0.3, 0.45, 0.6} {
		g.set("pedal", pedal, 1)
		g.wait(8)
		assert.InDelta(t, asked(pedal), g.psig("foot_valve.21"), 0.8, "primary, pedal %g", pedal)
		assert.InDelta(t, g.psig("foot_valve.21")-1.5, g.psig("foot_valve.22"), 0.8, "secondary, pedal %g", pedal)
	}
	for _, pedal := range []float64{0.5, 0.35, 0.2} {
		g.set("pedal", pedal, 1)
		g.wait(8)
		for _, room := range []string{"foot_valve.21", "foot_valve.22"} {
			assert.Greater(t, g.psig(room), asked(pedal)+0.5, "%s, pedal back to %g", room, pedal)
			assert.Less(t, g.psig(room), asked(pedal)+2.8, "%s, pedal back to %g", room, pedal)
		}
	}
}

// 49 CFR 571.121 S5.7 asks for brakes that are left when one circuit has failed; in a dual foot valve each works without the other.
func TestEachCircuitWorksWithoutTheOther(t *testing.T) {
	for _, c := range []struct{ lost, works, dead string }{
		{"primary", "front_left_chamber.service", "rear_left_chamber.service"},
		{"secondary", "rear_left_chamber.service", "front_left_chamber.service"},
	} {
		g := charged(t)
		g.knob(1)
		g.wait(10)
		g.set("drain_supply.cock", 1, 0)
		g.set("drain_"+c.lost+".cock", 1, 0)
		g.wait(120)
		g.pedal(0.5)
		g.wait(5)
		assert.Greater(t, g.psig(c.works), 55.0, "%s lost: %s", c.lost, c.works)
		assert.Less(t, g.psig(c.dead), 3.0, "%s lost: %s", c.lost, c.dead)
		g.pedal(0)
		g.wait(3)
		assert.Less(t, g.psig(c.works), 1.0, "%s lost: it releases", c.lost)
	}
}

func TestRelayFollowsItsControl(t *testing.T) {
	g := charged(t)
	g.knob(1)
	g.wait(5)
	for _, pedal := range []float64{0.1, 0.2, 0.35, 0.5} {
		g.set("pedal", pedal, 1)
		g.wait(8)
		control := g.psig("rear_relay.4")
		assert.InDelta(t, control*(1+3.0/90)-3, g.psig("rear_relay.2"), 0.8, "control %.1f psi", control)
	}
	g.pedal(1)
	g.wait(8)
	assert.InDelta(t, g.psig("rear_relay.1"), g.psig("rear_relay.2"), 0.2, "at a full application it gives all it has")
}

// The double check, filled by hand: the outlet follows the higher supply up and down, and neither supply loses to the other.
func TestDoubleCheckFollowsTheHigher(t *testing.T) {
	g := gritter(t)
	fill := func(first, second float64) {
		for room, p := range map[string]float64{"tank.primary": first, "tank.secondary": second} {
			require.NoError(t, g.Fill(room, absolute(p)))
		}
		g.wait(30)
	}
	for _, c := range []struct{ first, second float64 }{{80, 60}, {100, 60}, {90, 110}, {70, 50}, {40, 60}, {60, 60}, {30, 30}} {
		fill(c.first, c.second)
		// Filling the pipes has cost the tanks a little.
		first, second := g.psig("tank.primary"), g.psig("tank.secondary")
		assert.InDelta(t, math.Max(first, second), g.psig("park_feed.2"), 1.3, "%+v", c)
		g.wait(120)
		assert.InDelta(t, first, g.psig("tank.primary"), 0.2, "%+v", c)
		assert.InDelta(t, second, g.psig("tank.secondary"), 0.2, "%+v", c)
	}
}

// Hold-off: the rods are out at 20 psi and in at 70 psi, as 49 CFR 571.121 S5.8.3 wants no drag from 70 psi on (a trailer's rule,
// taken here as the mark that springs are built to).
func TestHoldOff(t *testing.T) {
	g := charged(t)
	g.knob(1)
	g.wait(10)
	require.Greater(t, g.psig("rear_left_chamber.spring"), 100.0)
	g.set("knob", 0, 0.1)
	require.True(t, g.until(10, Event{Room: "rear_left_chamber.spring", Level: absolute(70)}))
	assert.InDelta(t, 0, g.Stroke("rear_left_chamber"), 1e-6)
	require.True(t, g.until(10, Event{Room: "rear_left_chamber.spring", Level: absolute(20)}))
	assert.Greater(t, g.Stroke("rear_left_chamber"), 0.025)
	assert.Less(t, g.Stroke("rear_left_chamber"), 0.0508, "49 CFR 393.47(e): type 30, 2 in")
}

// With the sensing line blocked, or the governor stuck, nothing stops the compressor but the safety valve (model CDL manual 5.1.4: 150 psi).
func TestSafetyValveIsTheLastStop(t *testing.T) {
	for _, fault := range []string{"sensing_line/blocked=1", "governor/stuck loaded=200 psi"} {
		g := gritter(t, fault)
		g.engine(rated)
		g.wait(300)
		assert.False(t, g.Latch("governor.cutout"), fault)
		assert.Greater(t, g.blows("safety_valve.3"), 100*heard, fault)
		assert.Less(t, g.psig("tank.supply"), 162.0, fault)
		assert.Greater(t, g.psig("tank.supply"), 148.0, fault)
	}
}

func TestWarningCircuitFaults(t *testing.T) {
	for _, c := range []struct {
		fault      string
		full, none bool // the lamp with tanks full, and with none
		buzzerNone bool
	}{
		{"switch_primary/stuck on", true, true, true},
		{"primary_switch_wire/shorted", true, true, true},
		{"warning_lamp/dead", false, false, true},
		{"buzzer/dead", false, true, false},
		{"buzzer_wire/open", false, true, false},
		{"switch_primary/port blocked=200 psi", true, true, true}, // it still feels the empty tank that it was blocked at
		{"switch_secondary/threshold high=70 psi", true, true, true},
	} {
		g := gritter(t, c.fault)
		assert.Equal(t, c.none, g.Lit("warning_lamp"), "%s, empty: lamp", c.fault)
		assert.Equal(t, c.buzzerNone, g.Lit("buzzer"), "%s, empty: buzzer", c.fault)
		g.engine(rated)
		g.until(300, Event{Latch: "governor.cutout", Value: true})
		g.wait(60)
		assert.Equal(t, c.full, g.Lit("warning_lamp"), "%s, full: lamp", c.fault)
		assert.Greater(t, g.psig("tank.primary"), 100.0)
	}
	// One switch off: the other tank's still warns, its own does not.
	for _, c := range []struct {
		lost string
		lit  bool
	}{{"primary", false}, {"secondary", true}} {
		g := charged(t, "switch_primary/stuck off")
		g.set("drain_supply.cock", 1, 0)
		g.set("drain_"+c.lost+".cock", 1, 0)
		g.wait(120)
		assert.Equal(t, c.lit, g.Lit("warning_lamp"), "%s lost", c.lost)
	}
}

func TestGaugeFaults(t *testing.T) {
	g := charged(t, "gauge_primary/reading high=12 psi", "gauge_secondary/sticking=12 psi")
	assert.InDelta(t, g.psig("tank.primary")+12, gaugePSI(g.Gauge("gauge_primary")), 0.5)
	lag := gaugePSI(g.Gauge("gauge_secondary")) - g.psig("tank.secondary")
	assert.Greater(t, math.Abs(lag), 2.0)
	assert.LessOrEqual(t, math.Abs(lag), 12.1)
}

// A larger fault does more: what it costs rises with its severity, without jumps that a fit could trip over.
func TestSeveritiesAreSteady(t *testing.T) {
	fall := func(fault string) float64 { // psi a minute off the primary, parked
		g := charged(t, fault)
		before := g.psig("tank.primary")
		g.wait(60)
		return before - g.psig("tank.primary")
	}
	last := -0.1
	for d := 0.1; d < 1.05; d += 0.1 {
		v := fall(fmt.Sprintf("tank/primary leaking=%.2f mm", d))
		assert.Greater(t, v, last, "%.1f mm", d)
		last = v
	}
	build := func(fault string) float64 {
		g := gritter(t, fault)
		g.engine(rated)
		g.until(600, Event{Room: "tank.primary", Level: absolute(85), Rising: true})
		began := g.Time()
		require.True(t, g.until(600, Event{Room: "tank.primary", Level: absolute(100), Rising: true}), fault)
		return g.Time() - began
	}
	for _, mode := range []string{"compressor/worn", "compressor/intake restricted", "compressor/drive slipping", "discharge_line/carboned", "dryer/cartridge plugged"} {
		n, err := gritterNetwork()
		require.NoError(t, err)
		f, err := ParseFault(n.Circuit(), mode)
		require.NoError(t, err)
		m, err := ModeOf(n.Circuit(), f)
		require.NoError(t, err)
		last := 0.0
		for _, share := range []float64{0, 0.25, 0.5, 0.75, 1} {
			f.Severity = m.Severity.Mild + share*(m.Severity.Severe-m.Severity.Mild)
			took := build(f.String())
			assert.GreaterOrEqual(t, took, last-0.05, f.String())
			last = took
		}
		assert.Greater(t, last, 27.1, "%s, severe: past the limit of 49 CFR 571.121 S5.1.1", mode)
	}
}

// A 0.31 mm hole of discharge coefficient 1 costs 60 L about 2 psi a minute at 120 psi (closed form, isothermal).
func TestLeakSizeOfTheLegalLimit(t *testing.T) {
	g := charged(t)
	v := 0.0
	for _, room := range []string{"supply", "primary", "secondary"} {
		v += component(t, g.n.Circuit(), "tank").Value(room + "_volume")
	}
	conductance := HoleConductance(0.31e-3, 1)
	perMinute := conductance * ReferenceDensity * GasConstant * ReferenceK * absolute(120) / v * 60 / psi
	assert.InDelta(t, 2, perMinute, 0.05)
	assert.Equal(t, circuit.Length, LineModes(circuit.Tube)[0].Severity.Dimension)
}
