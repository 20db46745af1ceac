package engine

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuits"
	"airpath/ui/model"
)

// The real tracer's answer, put into the window's terms: everything in it can be shown. The smallest vehicle has all there is to an answer; the
// live example is asked about in a real window.
func TestAnAnswerInTheWindowsTerms(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir()) // nothing has been simulated yet
	c, err := circuits.Load("bench_board")
	require.NoError(t, err)
	e, err := New(c)
	require.NoError(t, err)
	require.NotEmpty(t, e.Procedures())
	cs := &circuit.Case{Circuit: "bench_board", Findings: []circuit.Finding{{ID: "f1", Procedure: "build-up-85-100", Reading: "time",
		Result: circuit.Result{Kind: circuit.Number, Text: "70 s"}}}}
	last := 0
	a, err := e.Ask(context.Background(), cs, "bar", func(done, total int) { last = done; assert.LessOrEqual(t, done, total) })
	require.NoError(t, err)
	assert.Positive(t, last, "progress was told")

	require.NotEmpty(t, a.Suspects)
	seen := map[string]bool{}
	sum := a.Else + a.NoFault
	for _, s := range a.Suspects {
		assert.False(t, seen[s.Key], "%s twice", s.Key)
		seen[s.Key] = true
		sum += s.Probability
		assert.NotEmpty(t, s.Title)
		assert.NotContains(t, s.Because, "Path:", "the window lists the path by itself")
		for _, step := range append(s.Path, model.Step{Target: s.Target, Words: "-"}) {
			assert.True(t, c.Component(step.Target) != nil || c.Line(step.Target) != nil, "%s is on no sheet", step.Target)
			assert.NotEmpty(t, step.Words)
		}
	}
	assert.InDelta(t, 1, sum, 0.1, "a fault that is one of a pair counts in both")
	for _, g := range a.Alike {
		assert.Greater(t, len(g.Suspects), 1)
	}
	assert.Empty(t, a.Cleared, "one finding clears nothing")
	require.Contains(t, a.Limits, "f1")
	assert.False(t, a.Limits["f1"].Met, "70 s is too slow")
	require.NotEmpty(t, a.Next)

	top := a.Suspects[0]
	build := a.Next[0].Procedure
	for _, p := range e.Procedures() {
		if p.ID == "build-up-85-100" {
			build = p
		}
	}
	m, err := e.Curves(context.Background(), cs, &top, build)
	require.NoError(t, err)
	assert.Equal(t, top.Title, m.Suspect)
	healthy, faulty := 0, 0
	for _, curve := range m.Curves {
		require.Len(t, curve.Value, len(curve.Time))
		if curve.Healthy {
			healthy++
		} else {
			faulty++
		}
	}
	assert.Positive(t, healthy)
	assert.Equal(t, healthy, faulty)
	require.NotEmpty(t, m.Values)
	assert.Equal(t, "70 s", m.Values[0].Measured)
	assert.Greater(t, m.Values[0].Suspect, 2*m.Values[0].Healthy, "the likeliest suspect makes it slow")
	bounds, measured := 0, 0
	for _, k := range m.Marks {
		if k.Measured {
			measured++
			assert.InDelta(t, 70, k.End, 1e-9)
		} else {
			bounds++
		}
	}
	assert.Equal(t, 1, measured)
	assert.Positive(t, bounds)

}

func TestWithoutPath(t *testing.T) {
	assert.Equal(t, "It is slow.", withoutPath("It is slow. Path: a → b.", "a → b"))
	assert.Equal(t, "It is slow.", withoutPath("It is slow.", ""))
	assert.Equal(t, "It is slow.", withoutPath("It is slow.", "c → d"))
}
