package procedure

import (
	"testing"

	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A coupled trailer is charged before anything is tested with the brakes released, so that its leaks show on the tractor's gauges.
func TestReleasedMeansTheTrailerToo(t *testing.T) {
	c, err := circuits.Load("tractor_trailer")
	require.NoError(t, err)
	n := compiled(t, c)
	p := named(t, For(n), "leak-down-released")
	fall := func(faults ...string) float64 { return do(t, bench(t, n, faults...), p).Values[0] }
	perMinute := 6894.757 / 60
	assert.InDelta(t, 0, fall(), 0.1*perMinute)
	for _, fault := range []string{"trailer_reservoir/leaking=0.8 mm", "couplings/supply seal leaking=0.8 mm", "trailer_spring_valve/exhaust leaking=0.8 mm"} {
		assert.Greater(t, fall(fault), 2*perMinute, fault)
	}
	assert.InDelta(t, 0, fall("couplings/control seal leaking=0.8 mm"), 0.1*perMinute, "no service air, no leak")
}

// A trailer coupled crosswise: supply air stands in its control line, and no air holds its springs off until the pedal is pressed (the
// notes of the vehicle's own file; common practice).
func TestCrossedCouplingsShow(t *testing.T) {
	c, err := circuits.Load("tractor_trailer")
	require.NoError(t, err)
	shows(t, compiled(t, c), []shown{
		{"", "trailer-coupled", "rod-out", "trailer_rear_left_chamber", 0, 0.05},
		{"", "trailer-coupled", "level", "trailer_test_reservoir", 90, 130},
		{"", "trailer-coupled", "applied", "trailer_front_left_chamber", 0.95, 1},
		{"", "trailer-coupled", "applied", "trailer_rear_right_chamber", 0.95, 1},
		{"couplings/crossed", "trailer-coupled", "rod-out", "trailer_rear_left_chamber", 0.95, 1},
		{"couplings/crossed", "trailer-coupled", "level", "trailer_test_reservoir", -1, 10},
		{"couplings/supply cock left shut", "trailer-coupled", "rod-out", "trailer_rear_right_chamber", 0.95, 1},
		{"couplings/control cock left shut", "trailer-coupled", "rod-out", "trailer_rear_left_chamber", 0, 0.05},
		{"couplings/control cock left shut", "trailer-coupled", "applied", "trailer_front_right_chamber", 0, 0.05},
	})
}
