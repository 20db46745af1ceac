package procedure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the next procedure takes from where the last one left the vehicle; the minutes of the states are those of start.go.
func TestSetUpThatIsThereAlready(t *testing.T) {
	all := For(gritter(t))
	get := func(id string) *Procedure {
		for _, p := range all {
			if p.ID == id {
				return p
			}
		}
		require.Fail(t, "no procedure "+id)
		return nil
	}
	tests := []struct {
		last, next string
		minutes    float64
		why        string
	}{
		{"leak-down-released", "listen-released", 0, "nothing but time went by"},
		{"listen-released", "full-application", 0, "nothing but time went by"},
		{"full-application", "listen-released", 4, "the pedal has used air: charged again, and settled"},
		{"leak-down-parked", "leak-down-released", 4, "charged: the park is released, and it settles"},
		{"leak-down-released", "leak-down-parked", 4, "cut out once more, and settled"},
		{"build-up-85-100", "listen-unloaded", 1, "it goes on to cut-out"},
		{"build-up-85-100", "build-up-85-100", 3, "drained to 60 psi and built again"},
		{"listen-building", "listen-released", 4, "it is charged"},
		{"listen-applied", "soap-applied", 0, "the pedal is still propped"},
		{"soap-applied", "listen-applied", 0, "the pedal is still propped"},
		{"soap-applied", "listen-released", 4, "the pedal has used air: charged again, and settled"},
		{"soap-building", "soap-building", 3, "it may have cut out meanwhile"},
		{"charging-gauges", "leak-down-parked", 7, "lines were undone: everything but the chocks"},
	}
	for _, c := range tests {
		next := get(c.next)
		assert.InDelta(t, c.minutes, next.SetUpAfter(get(c.last).Leaves()), 1e-9, "%s after %s: %s", c.next, c.last, c.why)
	}
	for _, p := range all {
		assert.Equal(t, p.SetUp, p.SetUpAfter(Leaving{}), "%s: of a vehicle of which nothing is known", p.ID)
		for _, last := range all {
			m := p.SetUpAfter(last.Leaves())
			assert.LessOrEqual(t, m, p.SetUp, "%s after %s", p.ID, last.ID)
			assert.GreaterOrEqual(t, m, p.SetUp-p.Start.SetUp(), "%s after %s: gauges are still to be fitted", p.ID, last.ID)
		}
	}
}
