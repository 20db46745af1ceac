package engine

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow/walk"
	"airpath/circuits"
)

// Every walk holds, step by step, on every vehicle of the library that it can be taken on: what it says must be seen is
// seen in the simulation, in the time that it gives.
func TestWalksHoldOnEveryVehicle(t *testing.T) {
	walks, err := walk.All()
	require.NoError(t, err)
	taken := map[string]int{}
	for _, name := range circuits.Names() {
		n := network(t, name)
		w, err := NewWorked(n)
		require.NoError(t, err)
		for _, k := range walks {
			b, err := k.Bind(n)
			if err != nil {
				t.Logf("%s: %v", name, err)
				continue
			}
			taken[k.ID]++
			t.Run(name+"/"+k.ID, func(t *testing.T) { take(t, w, b) })
		}
	}
	for _, k := range walks {
		assert.GreaterOrEqual(t, taken[k.ID], 4, "%s can be taken on most vehicles", k.ID)
	}
}

func take(t *testing.T, w *Worked, b *walk.Bound) {
	require.NoError(t, w.Begin(!b.Empty))
	for i, s := range b.Steps {
		w.Carry(s.Deeds, noon)
		begun := w.now.Time()
		for {
			f := w.Frame()
			missing := ""
			for _, c := range s.Claims {
				if !f.Holds(c) {
					missing = c.Words
				}
			}
			gone := w.now.Time() - begun
			if missing == "" && gone >= s.Wait {
				break
			}
			if gone > s.Within {
				require.Fail(t, fmt.Sprintf("step %d, %s: after %.0f s it is not so that %s", i+1, s.Title, gone, missing))
			}
			w.Advance(0.25, time.Time{})
			require.Empty(t, w.trouble)
		}
	}
}

// A walk that asks for something else fails: the check is no formality.
func TestAWrongWalkFails(t *testing.T) {
	w := worked(t, "gritter")
	k, err := walk.Read("x.toml", []byte("airpath_walk = 1\nid = \"x\"\ntitle = \"x\"\nbegin = \"charged\"\n[[step]]\ntitle = \"a\"\ntext = \"b\"\ndo = [\"foot-valve.pedal 50 %\"]\nexpect = [\"foot-valve.21 above 120 psi\"]\nwithin = \"10 s\"\n"))
	require.NoError(t, err)
	b, err := k.Bind(w.network)
	require.NoError(t, err)
	w.Carry(b.Steps[0].Deeds, noon)
	w.Advance(10, time.Time{})
	assert.False(t, w.Frame().Holds(b.Steps[0].Claims[0]))
}
