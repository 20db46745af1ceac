package trace

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
)

func TestSpansArePartedByMoreThanTheyScatter(t *testing.T) {
	a, b := span{low: 10, high: 12, spread: 1}, span{low: 13, high: 20, spread: 1}
	assert.False(t, a.apart(&b, false), "a spread between them")
	b.low = 14.5
	assert.True(t, a.apart(&b, false))
	assert.True(t, b.apart(&a, false))
	b.lost = 0.5
	assert.True(t, a.apart(&b, false), "it is reached often enough to tell")
	assert.True(t, a.apart(&span{lost: 1}, false))
	assert.False(t, (&span{lost: 0.6}).apart(&span{lost: 1}, false), "it may not be reached with either")
	assert.False(t, a.apart(&span{unknown: true}, false))
	assert.True(t, (&span{low: 0, high: 0.1}).apart(&span{low: 0.4, high: 1}, true))
	assert.False(t, (&span{low: 0, high: 0.1}).apart(&span{low: 0.3, high: 1}, true))
}

// A feed that is blocked and the check valve in it that is stuck shut are one to every procedure. The one lies at a severity between two that are
// simulated anyway, the other is four times as common: neither must part them.
func TestNeighboursInLineAreOneGroup(t *testing.T) {
	tracer := gritterTracer(t)
	for _, truth := range []string{"primary_fill/blocked=0.999", "check_primary/stuck shut=0.998"} {
		f, err := airflow.ParseFault(tracer.circuit, truth)
		require.NoError(t, err)
		v, err := tracer.Trace(t.Context(), asFound(t, tracer, []airflow.Fault{f}, "build-up-85-100", "cab-check", "listen-unloaded", "wet-tank-after-cut-out"), nil)
		require.NoError(t, err)
		require.NotEmpty(t, v.Inseparable)
		var group []string
		for _, g := range v.Inseparable[0].Faults {
			group = append(group, id(g))
		}
		assert.Subset(t, group, []string{"primary_fill/blocked", "primary_feed/blocked", "check_primary/stuck shut"}, truth)
		assert.Contains(t, v.Stop, "No listed procedure tells", truth)
		s, _ := suspectAt(t, v, "primary_fill/blocked")
		assert.Greater(t, s.Probability, 0.005, truth)
		assert.False(t, notTheCause(v, "primary_fill/blocked"))
	}
}

// In line with the check valve lie its feed and its fill; the relay's feed is a tee further than its supply; no brake hose is in line with a check valve.
func TestWhatLiesInLine(t *testing.T) {
	tracer := gritterTracer(t)
	hops := map[string]int{}
	tracer.atlas.inLine("check_primary/seat", hops)
	assert.Equal(t, 0, hops["primary_fill/bore"])
	assert.Contains(t, hops, "primary_feed/bore")
	assert.NotContains(t, hops, "front_left_hose/bore")
	beside := tracer.inLineWith(tracer.hypothesisOf("check_primary", "stuck shut"))
	assert.Contains(t, beside, tracer.hypothesisOf("primary_fill", "blocked"))
	assert.NotContains(t, beside, tracer.hypothesisOf("primary_fill", "leaking"))
	assert.NotContains(t, beside, tracer.hypothesisOf("check_primary", "stuck shut"))
}
