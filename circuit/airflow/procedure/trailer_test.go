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
