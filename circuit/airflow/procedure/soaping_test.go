package procedure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is not simulated by itself must be what it would have come to.
func TestARoundWithSoapReadsTheAirOfItsTwin(t *testing.T) {
	n := gritter(t)
	all := For(n)
	rounds := 0
	for _, faults := range []string{"", "rear_relay/exhaust seat leaking=0.2 mm", "discharge_line/leaking=0.3 mm", "front_left_chamber/diaphragm leaking=0.15 mm"} {
		for _, p := range all {
			if p.Twin() == nil {
				continue
			}
			rounds++
			assert.True(t, p.Round() && p.OneByOne() && p.Twin().Round() && !p.Twin().OneByOne(), p.ID)
			assert.Same(t, p, p.Twin().soaped)
			var list []string
			if faults != "" {
				list = []string{faults}
			}
			heard, seen := do(t, bench(t, n, list...), p.Twin()), do(t, bench(t, n, list...), p)
			for i := range p.Readings {
				require.Equal(t, p.Twin().Readings[i].Place, p.Readings[i].Place, p.ID)
				assert.Equal(t, math.Float64bits(heard.Values[i]), math.Float64bits(seen.Values[i]), "%s at %s", p.ID, p.Readings[i].Place)
			}
		}
	}
	assert.Equal(t, 20, rounds)
}

// A hole that no ear finds in a yard shows in soap, where it is and nowhere else.
func TestSoapFindsWhatNoEarDoes(t *testing.T) {
	n := gritter(t)
	all := For(n)
	for _, tt := range []struct {
		fault, round string
		places       []string
	}{
		{"spring_left_hose/leaking=0.08 mm", "released", []string{"spring_left_hose", "rear_left_chamber", "spring_right_hose"}},
		{"tee_front/leaking=0.08 mm", "applied", []string{"tee_front", "front_release"}},
		{"tee_unloader/leaking=0.08 mm", "unloaded", []string{"tee_unloader", "governor.3", "compressor.0", "purge_control_line"}},
		{"discharge_line/leaking=0.08 mm", "building", []string{"discharge_line", "dryer.3", "compressor.0"}},
		{"front_left_chamber/diaphragm leaking=0.08 mm", "applied", []string{"front_left_chamber", "front_left_hose"}},
	} {
		b := bench(t, n, tt.fault)
		soap := named(t, all, "soap-"+tt.round)
		o := do(t, b, soap)
		for i, place := range tt.places {
			at, ok := soap.Reading("bubbles", place)
			require.True(t, ok, place)
			if i > 0 {
				assert.Less(t, soap.Readings[at].Judge.Says(o.Values[at]), 0.1, "%s: bubbles at %s", tt.fault, place)
				continue
			}
			assert.Greater(t, soap.Readings[at].Judge.Says(o.Values[at]), 0.9, "%s: bubbles at %s", tt.fault, place)
			assert.Less(t, soap.Twin().Readings[at].Judge.Says(o.Values[at]), 0.4, "%s: a hiss at %s", tt.fault, place)
		}
	}
}
