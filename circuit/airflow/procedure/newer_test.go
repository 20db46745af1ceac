package procedure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
)

// shown is a fault and what a reading makes of it: in the reading's unit, or as a yes (1) or no (0).
type shown struct {
	fault, procedure, reading, place string
	low, high                        float64
}

func shows(t *testing.T, n *airflow.Network, list []shown) {
	t.Helper()
	all := For(n)
	for _, tt := range list {
		var faults []string
		if tt.fault != "" {
			faults = append(faults, tt.fault)
		}
		p := named(t, all, tt.procedure)
		o := do(t, bench(t, n, faults...), p)
		require.Empty(t, o.Undone, tt.fault)
		i, ok := p.Reading(tt.reading, tt.place)
		require.True(t, ok, "%+v", tt)
		v := o.Values[i]
		switch r := p.Readings[i]; {
		case r.Form == YesNo:
			v = r.Judge.Says(v)
		case r.Dimension == circuit.Pressure:
			v = (v - circuit.AtmospherePressure) / psi
		case r.Dimension == circuit.PressureSpan:
			v /= psi
		case r.Dimension == circuit.Rate:
			v *= 60 / psi
		case r.Dimension == circuit.Length || r.Dimension == circuit.LengthSpan || r.Dimension == circuit.Volume:
			v *= 1000 // mm, L
		case r.Dimension == circuit.Temperature:
			v -= 273.15
		}
		if math.IsNaN(tt.low) {
			assert.True(t, math.IsNaN(v), "%+v: %g", tt, v)
			continue
		}
		assert.True(t, v >= tt.low && v <= tt.high, "%+v: %g", tt, v)
	}
}

var notReached = math.NaN()

// What the tests with gauges, recorders, rules and vessels make of faults, and of none. Bounds are engineering judgement, but for the
// limits that TestFaultsReachPastTheLimitsThatConcernThem holds.
func TestWhatInstrumentsMakeOfFaults(t *testing.T) {
	shows(t, gritter(t), []shown{
		{"", "safety-valve", "opens", "safety_valve", 148, 153},
		{"safety_valve/opens early=30 psi", "safety-valve", "opens", "safety_valve", 115, 126},
		{"compressor/unloader stuck loaded", "safety-valve", "opens", "safety_valve", 148, 153},
		{"drain_primary/leaking=0.5 mm", "leak-down-parked", "fall", "gauge_primary", 2, 8},
		{"rear_left_chamber/hold-off seal leaking=0.6 mm", "leak-down-parked", "fall", "gauge_primary", -0.1, 0.1},
		{"relay_supply/leaking=0.8 mm", "plug-and-watch", "fall", "primary_to_foot", 2, 20},
		{"relay_supply/leaking=0.8 mm", "plug-and-watch", "fall", "relay_supply", -0.1, 0.1},
		{"tank/primary leaking=0.8 mm", "plug-and-watch", "fall", "relay_supply", 2, 20},
		{"secondary_to_foot/leaking=0.8 mm", "plug-and-watch", "fall", "secondary_to_foot", -0.1, 0.1},
		{"", "applications-until-warning", "applications", "", 6, 10},
		{"tank/primary full of water=60 %", "applications-until-warning", "applications", "", 2, 5},
		{"switch_primary/stuck off", "applications-until-warning", "applications", "", 6, 10},
		{"warning_lamp/dead", "applications-until-warning", "applications", "", 6, 10},
		{"rear_left_hose/kinked=97 %", "application-time", "apply", "rear_left_chamber", 0.5, 5},
		{"rear_left_hose/kinked=97 %", "application-time", "apply", "rear_right_chamber", 0, 0.3},
		{"rear_left_hose/lining closing the way back=85 %", "application-time", "release", "rear_left_chamber", 1, 5},
		{"rear_left_hose/lining closing the way back=97 %", "application-time", "release", "rear_left_chamber", notReached, notReached},
		{"rear_left_hose/lining closing the way back=97 %", "application-time", "apply", "rear_left_chamber", 0, 0.3},
		{"rear_relay/exhaust blocked=85 %", "application-time", "release", "rear_right_chamber", 0.8, 5},
		{"rear_left_hose/lining closing the way out=100 %", "application-balance", "left-right", "rear_left_chamber", -100, -50},
		{"foot_valve/not returning=15 psi", "application-balance", "released", "front_left_chamber", 8, 25},
		{"foot_valve/primary delivering low=80 %", "signal-pressure", "sent", "foot_valve.21", 5, 60},
		{"relay_control/blocked=100 %", "signal-pressure", "arrives", "rear_relay", -1, 5},
		{"rear_relay/crack pressure high=25 psi", "signal-pressure", "behind", "rear_relay", 10, 40},
		{"rear_left_slack/not adjusting=20 mm", "push-rod-stroke", "stroke", "rear_left_chamber", 54, 60},
		{"rear_left_slack/not adjusting=20 mm", "push-rod-stroke", "left-right", "rear_left_chamber", 18, 22},
		{"rear_left_slack/not adjusting=20 mm", "slack-travel", "travel", "rear_left_chamber", 47, 49},
		{"rear_left_slack/clevis seized=100 %", "slack-travel", "travel", "rear_left_chamber", 0, 0.1},
		{"rear_left_brake/lining glazed=60 %", "wheel-force", "left-right", "rear_left_brake", -25000, -12000},
		{"rear_left_brake/lining glazed=60 %", "push-rod-stroke", "left-right", "rear_left_chamber", -0.1, 0.1},
		{"rear_left_brake/lining oiled=90 %", "drum-temperature", "left-right", "rear_left_brake", -200, -40},
		{"foot_valve/not returning=30 psi", "wheel-force", "drag", "rear_left_brake", 2000, 30000},
		{"", "hold-off-pressure", "sets", "rear_left_chamber", 0.1, 1.5},
		{"park_control/exhaust blocked=99.9 %", "hold-off-pressure", "left", "rear_left_chamber", 40, 120},
		{"rear_left_chamber/spring broken=60 %", "spring-set", "begins", "rear_left_chamber", 20, 30},
		{"foot_valve/free play too large=25 %", "pedal-linkage", "free-play", "foot_valve", 0.3, 0.36},
		{"foot_valve/free play too small=25 psi", "pedal-linkage", "free-play", "foot_valve", 0, 0.01},
		{"foot_valve/pedal binding=40 %", "pedal-linkage", "travel", "foot_valve", 0.59, 0.61},
		{"foot_valve/not returning=15 psi", "pedal-linkage", "stays", "foot_valve", 0.1, 0.4},
		{"stop_switch/threshold high=8 psi", "pedal-linkage", "stop-lamp", "stop_switch", 11, 13},
		{"stop_switch_stub/blocked=100 %", "pedal-linkage", "stop-lamp", "stop_switch", notReached, notReached},
		{"stop_switch_stub/kinked=90 %", "pedal-linkage", "stop-lamp", "stop_switch", 3, 5},
		{"stop_lamp/dead", "pedal-linkage", "stop-lamp", "stop_switch", notReached, notReached},
		{"gauge_primary/reading high=12 psi", "substitute-gauge", "difference", "gauge_primary", -13, -11},
		{"switch_primary/stuck on", "switch-unplugged", "unplugged", "switch_primary", 0, 0.1},
		{"switch_primary/stuck on", "switch-unplugged", "unplugged", "switch_secondary", 0.9, 1},
		{"primary_switch_wire/open", "switch-unplugged", "bridged", "switch_primary", 0, 0.1},
		{"primary_switch_wire/open", "switch-unplugged", "bridged", "switch_secondary", 0.9, 1},
		{"check_primary/leaking back=0.5 mm", "supply-loss", "rises", "test_supply", 0.9, 1},
		{"dryer/outlet check leaking back=0.3 mm", "purge-control-undone", "before", "dryer.3", 0.9, 1},
		{"dryer/outlet check leaking back=0.3 mm", "purge-control-undone", "after", "dryer.3", 0, 0.1},
		{"tank/supply full of water=40 %", "drain-yield", "water", "drain_supply", 6, 6.2},
		{"dryer/cartridge saturated=100 %", "drain-yield", "water", "drain_supply", 0.01, 1},
		{"compressor/passing oil", "drain-yield", "oil", "drain_supply", 0.9, 1},
	})
}

// The tests of a tractor with its trailer on tell whose fault it is, and what a trailer that is lost takes with it.
func TestWhatTheTrailersTestsMakeOfFaults(t *testing.T) {
	c, err := circuits.Load("tractor_trailer")
	require.NoError(t, err)
	shows(t, compiled(t, c), []shown{
		{"", "trailer-uncoupled", "fall", "tractor_gauge_primary", -0.2, 0.2},
		{"", "trailer-uncoupled", "rod-out", "trailer_rear_left_chamber", 0.9, 1},
		{"trailer_reservoir/leaking=0.8 mm", "trailer-uncoupled", "fall", "tractor_gauge_primary", -0.2, 0.2},
		{"trailer_reservoir/leaking=0.8 mm", "trailer-uncoupled", "trailer-fall", "trailer_test_reservoir", 1, 20},
		{"tractor_rear_left_chamber/diaphragm leaking=0.7 mm", "trailer-uncoupled", "fall", "tractor_gauge_primary", 1.5, 20},
		{"", "trailer-torn-off", "pressure", "", 40, 90},
		{"tractor_trailer_supply/not popping=200 psi", "trailer-torn-off", "pressure", "", notReached, notReached},
		{"tractor_trailer_supply/not popping=200 psi", "trailer-torn-off", "keeps", "tractor_gauge_primary", -1, 45},
		{"", "spring-set", "trailer-pressure", "", 20, 45},
		{"tractor_trailer_supply/popping early=20 psi", "spring-set", "trailer-pressure", "", 46, 70},
		{"tractor_hand_feed/second seat leaking=1 mm", "listen-hand", "hiss", "tractor_foot_valve.3", 0.9, 1},
		{"tractor_hand_feed/second seat leaking=1 mm", "listen-released", "hiss", "tractor_foot_valve.3", 0, 0.1},
		{"trailer_front_left_chamber/diaphragm leaking=0.7 mm", "listen-hand", "hiss", "trailer_front_left_chamber", 0.9, 1},
		{"trailer_front_left_chamber/diaphragm leaking=0.7 mm", "listen-trailer-out", "hiss", "trailer_front_left_chamber", 0.9, 1},
		{"tractor_protection/exhaust leaking=0.6 mm", "listen-applied", "hiss", "tractor_protection.3", 0.9, 1},
	})
}

// Fanning is simulated once and reckoned on from there. Held against doing it, press by press.
func TestFanningIsWhatFanningDoes(t *testing.T) {
	n := gritter(t)
	p := named(t, For(n), "applications-until-warning")
	for _, fault := range []string{"", "tank/primary full of water=40 %", "rear_left_slack/not adjusting=20 mm", "switch_secondary/threshold low=15 psi", "drain_primary/leaking=0.3 mm"} {
		var faults []string
		if fault != "" {
			faults = append(faults, fault)
		}
		b := bench(t, n, faults...)
		o := do(t, b, p)
		b.run.Restore(b.starts["released"].state)
		count, five := 0.0, 0.0
		for count < 12 && !b.run.Lit("warning_lamp") {
			for _, down := range []float64{1, 0} {
				require.NoError(t, b.run.Set("foot_valve.pedal", down, 0.2))
				require.NoError(t, b.run.Advance(5))
			}
			if count++; count == 5 {
				five = (min(b.run.Gauge("gauge_primary"), b.run.Gauge("gauge_secondary")) - circuit.AtmospherePressure) / (122 * psi)
			}
		}
		assert.InDelta(t, count, value(t, p, o, "applications", ""), 1, "%s: applications", fault)
		if five > 0 {
			assert.InDelta(t, five, value(t, p, o, "left-after-five", ""), 0.05, "%s: left after five", fault)
		}
		t.Logf("%s: %g and %.0f applications, %.2f and %.2f left after five", fault, value(t, p, o, "applications", ""), count, value(t, p, o, "left-after-five", ""), five)
	}
}

// Vehicles that no air tells apart are told apart by what procedures read of them.
func TestKeysTellWhatIsRead(t *testing.T) {
	n := gritter(t)
	fault := func(text string) []airflow.Fault {
		f, err := airflow.ParseFault(n.Circuit(), text)
		require.NoError(t, err)
		return []airflow.Fault{f}
	}
	keys, err := Keys(n, [][]airflow.Fault{nil, fault("compressor/passing oil"), fault("rear_left_brake/lining glazed"), fault("discharge_line/kinked=90 %"), fault("discharge_line/blocked=90 %"), fault("discharge_line/iced=90 %")})
	require.NoError(t, err)
	assert.Empty(t, keys[0])
	assert.NotEmpty(t, keys[1])
	assert.NotEqual(t, keys[1], keys[2])
	assert.Equal(t, keys[5], keys[4], "one to the air, and to every reading")
	assert.NotEqual(t, keys[3], keys[4], "a kink is seen")
	kinked, seen := AirKey(keys[3])
	assert.True(t, seen)
	blocked, seen := AirKey(keys[4])
	assert.False(t, seen)
	assert.Equal(t, blocked, kinked, "one to the air")
}
