package procedure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is found at a part by eye and hand says something of that part's fault and of no other.
func TestWhatEyeAndHandFind(t *testing.T) {
	n := gritter(t)
	all := For(n)
	for _, tt := range []struct {
		procedure, reading, fault string
		place                     string // where it is found; "" for nowhere
	}{
		{"lines-followed", "kink", "discharge_line/kinked=90 %", "discharge_line"},
		{"lines-followed", "kink", "discharge_line/blocked=90 %", ""},
		{"lines-followed", "kink", "discharge_line/iced=99 %", ""},
		{"lines-followed", "kink", "discharge_line/kinked=20 %", ""},
		{"cab-check", "jumps", "gauge_primary/sticking=8 psi", "gauge_primary"},
		{"cab-check", "jumps", "gauge_primary/sticking=1 psi", ""},
		{"cab-check", "jumps", "gauge_primary/reading high=20 psi", ""},
	} {
		p := named(t, all, tt.procedure)
		o := do(t, bench(t, n, tt.fault), p)
		for i := range p.Readings {
			r := &p.Readings[i]
			if r.ID != tt.reading {
				continue
			}
			assert.True(t, r.Touched && r.Amiss(), r.Title)
			if r.Place == tt.place {
				assert.Greater(t, r.Judge.Says(o.Values[i]), 0.8, "%s: %s", tt.fault, r.Title)
			} else {
				assert.Less(t, r.Judge.Says(o.Values[i]), 0.06, "%s: %s", tt.fault, r.Title)
			}
		}
	}
	p := named(t, all, "lines-followed")
	require.True(t, p.Round() && p.OneByOne() && p.Touches())
	assert.Nil(t, p.Twin())
	assert.False(t, named(t, all, "cab-check").Round())
}
