package airflow

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A part behind a narrow line throttles: it doesn't hunt to and fro. Common practice has a governor behind a choked sensing line
// sluggish; how little work that is for the solver is what this holds: a healthy truck needs some 200 tries for it.
func TestNoHuntingBehindNarrowLines(t *testing.T) {
	for _, line := range []string{"sensing_line", "park_feed_primary", "park_feed_secondary"} {
		for _, share := range []float64{0, 0.6, 0.9, 0.97, 0.99, 0.998} {
			g := gritter(t, fmt.Sprintf("%s/kinked=%g", line, share))
			g.engine(rated)
			require.True(t, g.until(400, Event{Gauge: "gauge_primary", Level: atPSI(70), Rising: true}))
			g.knob(1)
			changes := 0
			for g.Time() < 400 {
				was := g.Latch("governor.cutout")
				if g.until(400-g.Time(), Event{Latch: "governor.cutout", Value: !was}) {
					changes++
				}
			}
			assert.LessOrEqual(t, changes, 20, "%s closed to %g", line, share)
			assert.GreaterOrEqual(t, changes, 1)
			tried, _ := g.Tries()
			assert.Less(t, tried, 6000, "%s closed to %g", line, share)
		}
	}
}

// A leak behind the governor lets it cut in early, since the air sent on holds its piston: the smaller that pressure, the
// earlier. Common practice.
func TestALeakBehindTheGovernorCutsInEarly(t *testing.T) {
	cutIn := func(faults ...string) float64 {
		g := gritter(t, faults...)
		g.engine(rated)
		require.True(t, g.until(400, Event{Latch: "governor.cutout", Value: true}))
		g.engine(0)
		g.wait(1)
		g.set("drain_supply.cock", 0.3, 0)
		require.True(t, g.until(400, Event{Latch: "governor.cutout", Value: false}))
		return g.psig("governor.1")
	}
	healthy := cutIn()
	assert.InDelta(t, component(t, networkOf(t, "gritter").Circuit(), "governor").Value("cut_in"), atPSI(healthy), 0.1*psi)
	assert.Greater(t, cutIn("unloader_line/leaking=0.003"), healthy+1)
}

// The double check's own promise, at every moment of a vehicle's life that loses one circuit slowly: the other stays.
func TestASlowLeakDoesNotDrawTheOtherCircuitThroughTheDoubleCheck(t *testing.T) {
	g := charged(t, "tank/primary leaking=0.0006")
	g.knob(1)
	g.wait(60)
	before := g.psig("tank.secondary")
	g.wait(1200)
	require.Less(t, g.psig("tank.primary"), before-40, "it does leak")
	assert.Greater(t, g.psig("tank.secondary"), before-3)
}
