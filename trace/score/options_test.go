package score

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestOptionsAreRefusedInWords(t *testing.T) {
	good := Options{Cases: 1, Faults: 1}
	require.NoError(t, good.Check())
	require.Equal(t, DefaultBudget, good.Budget)
	for want, o := range map[string]Options{
		"at least 1":        {},
		"counted from 1":    {Cases: 2, Only: 3},
		"0, 1 or 2":         {Cases: 1, Faults: 3},
		"between 0 and 1":   {Cases: 1, Unmodelled: 2},
		"give one of":       {Cases: 1, Mixed: true, Unmodelled: 0.1},
		"not both":          {Cases: 1, Matched: true, Mismatch: true},
		"baselines on -1":   {Cases: 1, Baselines: -1},
		"budget of -1 minu": {Cases: 1, Budget: -1},
	} {
		require.ErrorContains(t, o.Check(), want)
	}
}
