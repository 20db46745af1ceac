package score

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// What a record keeps of a case is a case file, and each verdict says after which of its findings it was given.
func TestCasesAreFiledSoThatTheyCanBeTracedAgain(t *testing.T) {
	w := boardWorld(t, Options{Cases: 8, Seed: 3, Faults: 2})
	again := 0
	_, err := w.score(t.Context(), func() func(*subject) Reasoner {
		return func(s *subject) Reasoner { return broken{w, w.dice(s.vehicle, forReasoner)} }
	}, Watch{Record: func(r *Record) error {
		g := &r.Games[0]
		require.NotEmpty(t, g.Cases)
		require.Equal(t, r.Truths, g.Cases[0].Left)
		again += len(g.Cases) - 1
		before := 0
		for i, s := range g.Said {
			require.Less(t, s.Case, len(g.Cases))
			require.NotEmpty(t, g.Cases[s.Case].Left, "there is something to be found")
			if i > 0 && s.Case == g.Said[i-1].Case {
				require.GreaterOrEqual(t, s.Findings, before)
			}
			before = s.Findings
			k, err := circuit.ReadCase("vehicle", []byte(g.Cases[s.Case].Text))
			require.NoError(t, err)
			require.Equal(t, w.circuit.Name, k.Circuit)
			require.LessOrEqual(t, s.Findings, len(k.Findings))
			require.Equal(t, "f1", k.Reported)
			if i == len(g.Said)-1 {
				require.Len(t, k.Findings, s.Findings, "the last verdict was given on all of them")
			}
		}
		require.Equal(t, 1, strings.Count(g.Cases[0].Text, "reported"))
		return nil
	}})
	require.NoError(t, err)
	require.Positive(t, again, "one of two was mended, and a new case begun")
}

// Who keeps no records pays for none.
func TestNothingIsFiledForNobody(t *testing.T) {
	w := boardWorld(t, Options{Cases: 1, Seed: 3, Faults: 1})
	k := w.worker(func(s *subject) Reasoner { return told{w, s} })
	r, err := k.vehicle(t.Context(), 1)
	require.NoError(t, err)
	require.Empty(t, r.Games[0].Cases)
	k.filing = true
	r, err = k.vehicle(t.Context(), 1)
	require.NoError(t, err)
	require.Len(t, r.Games[0].Cases, 1)
}
