package airflow

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit"
	"airpath/circuits"
)

// Every fault that the design names, in its words, beside the kind (or sort of line) and mode that is it here. The list is the design's
// section on faults.
func TestEveryFaultOfTheDesignIsThere(t *testing.T) {
	for _, tt := range []struct{ phrase, kind, modes string }{
		{"compressor: worn", "compressor", "worn"},
		{"intake restricted", "compressor", "intake restricted"},
		{"drive slipping", "compressor", "drive slipping"},
		{"unloader stuck loaded", "compressor", "unloader stuck loaded"},
		{"unloader stuck unloaded", "compressor", "unloader stuck unloaded"},
		{"head or discharge valve leaking back", "compressor", "discharge valve leaking back"},
		{"passing oil", "compressor", "passing oil"},
		{"unloader seal or head gasket leaking (air at the intake, unloaded only)", "compressor", "unloader seal leaking"},
		{"discharge line: carboned, leaking", "tube", "carboned; leaking"},
		{"governor: cut-out high, low", "governor", "cut-out high; cut-out low"},
		{"cut-in low", "governor", "cut-in low"},
		{"stuck", "governor", "stuck loaded; stuck unloaded"},
		{"sensing line blocked", "tube", "blocked"},
		{"unloader line leaking", "tube", "leaking"},
		{"governor exhaust leaking or blocked", "governor", "exhaust leaking; exhaust blocked"},
		{"span too small", "governor", "span too small"},
		{"dryer: cartridge plugged, saturated", "air-dryer", "cartridge plugged; cartridge saturated"},
		{"purge valve stuck open, stuck shut", "air-dryer", "purge valve stuck open; purge valve stuck shut"},
		{"purge valve leaking", "air-dryer", "purge valve leaking"},
		{"outlet check leaking back", "air-dryer", "outlet check leaking back"},
		{"heater dead", "air-dryer", "heater dead"},
		{"purge control line leaking or staying charged", "tube", "leaking; staying charged"},
		{"purge iced", "air-dryer", "purge outlet iced"},
		{"safety valve: opens early, leaking; relief lifting early", "relief-valve", "opens early; leaking"},
		{"reservoirs: wall or fitting leak, water-filled", "reservoir", "leaking; full of water"},
		{"the same in a tank's compartments", "three-compartment-tank", "supply leaking; primary leaking; secondary leaking; supply full of water; primary full of water; secondary full of water"},
		{"tank inner wall leaking between compartments", "three-compartment-tank", "wall between supply and primary leaking; wall between primary and secondary leaking"},
		{"drain leaking or open", "drain-valve", "leaking; left open"},
		{"wet tank inlet iced", "tube", "iced"},
		{"check valve: leaking back, stuck shut, restricted", "check-valve", "leaking back; stuck shut; restricted"},
		{"pressure protection: stuck open, stuck shut, threshold off", "pressure-protection-valve", "stuck open; stuck shut; threshold low; threshold high"},
		{"foot valve: inlet seat leak (each circuit)", "foot-valve", "primary inlet seat leaking; secondary inlet seat leaking"},
		{"exhaust seat leak (each)", "foot-valve", "primary exhaust seat leaking; secondary exhaust seat leaking"},
		{"circuit sticking or low", "foot-valve", "primary delivering low; secondary delivering low"},
		{"does not return", "foot-valve", "not returning"},
		{"exhaust blocked", "foot-valve", "exhaust blocked"},
		{"leak between circuits", "foot-valve", "leaking between circuits"},
		{"pedal linkage binding or wrong free play", "foot-valve", "pedal binding; free play too large; free play too small"},
		{"relay: inlet seat leak, exhaust seat leak, stuck shut, stuck applied, crack pressure high", "relay-valve", "inlet seat leaking; exhaust seat leaking; stuck shut; stuck applied; crack pressure high"},
		{"control line leaking or blocked", "relay-valve", "control leaking; control seal leaking"},
		{"and as a line", "tube", "leaking; blocked"},
		{"relay and modulator iced", "relay-valve", "iced"},
		{"modulator: inlet seat leak, exhaust seat leak, stuck shut, stuck applied, iced", "anti-lock-modulator", "inlet seat leaking; exhaust seat leaking; stuck shut; stuck applied; iced"},
		{"quick release: leaking, exhaust blocked", "quick-release-valve", "leaking; exhaust blocked"},
		{"double check: leaking across, stuck; passing back to the foot valve exhaust", "double-check-valve", "first seat leaking; second seat leaking; stuck on the first supply; stuck on the second supply"},
		{"spring brake valve: leaking, stuck", "spring-brake-valve", "leaking; stuck"},
		{"park control: leak, pops early, won't pop", "park-control", "inlet leaking; exhaust leaking; popping early; not popping"},
		{"spring brake chamber: hold-off diaphragm or seal leaking to air", "spring-brake-chamber", "hold-off seal leaking"},
		{"leaking into the service side", "spring-brake-chamber", "inner seal leaking"},
		{"service diaphragm leaking, spring broken, push-rod stroke long, seized", "spring-brake-chamber", "diaphragm leaking; spring broken; stroke long; seized"},
		{"caging bolt left in", "spring-brake-chamber", "caging bolt left in"},
		{"service chamber: diaphragm leaking, stroke long, return spring weak", "service-chamber", "diaphragm leaking; stroke long; return spring weak"},
		{"foundation: cam or bushing worn, lining glazed, oiled or thin, drum oversize, seized", "drum-brake", "cam or bushings worn; lining glazed; lining oiled; lining thin; drum oversize; seized"},
		{"slack adjuster not adjusting, over-adjusting, clevis seized", "slack-adjuster", "not adjusting; over-adjusting; clevis seized"},
		{"switch: stuck on, stuck off, threshold off; port blocked or iced", "pressure-switch", "stuck on; stuck off; threshold high; threshold low; port blocked"},
		{"the stop lamp's switch too", "stop-lamp-switch", "stuck on; stuck off; threshold high; threshold low; port blocked"},
		{"gauge: sticking, reading high or low", "gauge", "sticking; reading high; reading low"},
		{"lamp", "lamp", "dead"},
		{"buzzer", "buzzer", "dead"},
		{"or wiring open or shorted", "wire", "open; shorted"},
		{"lines: leaking, kinked, iced, blocked", "tube", "leaking; kinked; iced; blocked"},
		{"hoses too; collapsed lining (passes one way), in each direction", "hose", "leaking; kinked; iced; blocked; lining closing the way out; lining closing the way back"},
		{"coupling: gladhand seal leaking", "gladhand", "seal leaking"},
		{"seal leaking on the supply or on the service line only, crossed", "coupling", "supply seal leaking; control seal leaking; crossed"},
		{"shut-off cock left closed", "coupling", "supply cock left shut; control cock left shut"},
		{"service line open", "coupling", "control left undone"},
		{"protection valve exhaust leaking", "tractor-protection-valve", "exhaust leaking"},
		{"trailer valve leaking back to the tractor", "trailer-spring-valve", "leaking back to the supply line"},
		{"and the other trailer valve", "relay-emergency-valve", "leaking back to the supply line"},
		{"hand valve passing back", "hand-control", "inlet seat leaking; exhaust seat leaking; not returning"},
		{"accessory: leaking", "auxiliary-consumer", "leaking"},
	} {
		modes := Modes(tt.kind)
		if slices.Contains([]string{"tube", "hose", "wire"}, tt.kind) {
			modes = LineModes(circuit.LineType(tt.kind))
		}
		for want := range strings.SplitSeq(tt.modes, "; ") {
			assert.True(t, slices.ContainsFunc(modes, func(m Mode) bool { return m.Name == want }), "%s: %s has no mode %q", tt.phrase, tt.kind, want)
		}
	}
}

// More than one fault may be present at once, on any vehicle: each acts as far as it can, and no run breaks.
func TestSeveralFaultsAtOnce(t *testing.T) {
	names := circuits.Names()
	rapid.Check(t, func(t *rapid.T) {
		c, err := circuits.Load(rapid.SampledFrom(names).Draw(t, "vehicle"))
		require.NoError(t, err)
		n, err := Compile(c)
		require.NoError(t, err)
		all := Catalogue(c)
		var faults []Fault
		for range rapid.IntRange(2, 4).Draw(t, "faults") {
			f := rapid.SampledFrom(all).Draw(t, "fault")
			mode, err := ModeOf(c, f)
			require.NoError(t, err)
			f.Severity = rapid.SampledFrom([]float64{mode.Severity.Mild, mode.Severity.Typical, mode.Severity.Severe}).Draw(t, "severity")
			if !slices.ContainsFunc(faults, func(o Fault) bool { return o.Target == f.Target }) {
				faults = append(faults, f)
			}
		}
		r, err := n.Start(faults, Scatter{})
		require.NoError(t, err)
		before := r.Mass()
		require.NoError(t, r.Set(Engine, c.Engine.Rated.SI, 1))
		require.NoError(t, r.Advance(20))
		for _, control := range []string{"pedal", "knob"} {
			if slices.ContainsFunc(n.Controls(), func(s string) bool { return strings.HasSuffix(s, "."+control) }) {
				require.NoError(t, r.Set(control, 1, 0.2))
			}
		}
		require.NoError(t, r.Advance(3))
		for _, room := range n.Rooms() {
			assert.Positive(t, r.Pressure(room), "%s with %v", room, faults)
		}
		assert.InDelta(t, before, r.Mass()+r.Vented(), 1e-9*max(before, r.Mass()), "no air is lost or made")
	})
}
