package airflow

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuits"
)

func TestChangesSayWhereAFaultActs(t *testing.T) {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	n, err := Compile(c)
	require.NoError(t, err)
	tests := []struct {
		fault string
		want  []Change
	}{
		{"tank/primary leaking", []Change{{Effect: Leaks, Part: "tank", Room: "tank.primary", Place: "tank"}}},
		{"rear_relay/inlet seat leaking", []Change{{Effect: Opens, Part: "rear_relay", Passage: "rear_relay/inlet seat"}}},
		{"dryer/purge valve stuck open", []Change{{Effect: Opens, Part: "dryer", Passage: "dryer/purge valve"}}},
		{"rear_left_chamber/inner seal leaking", []Change{{Effect: Opens, Part: "rear_left_chamber", Passage: "rear_left_chamber/inner seal"}}},
		{"compressor/worn", []Change{{Effect: Weakens, Part: "compressor", Passage: "compressor/pump"}}},
		{"compressor/intake restricted", []Change{{Effect: Shuts, Part: "compressor", Passage: "compressor/intake filter"}}},
		{"governor/cut-out low", []Change{{Effect: Shifts, Part: "governor", Passage: "governor/inlet"}, {Effect: Shifts, Part: "governor", Passage: "governor/exhaust"}}},
		{"tank/supply full of water", []Change{{Effect: Swells, Part: "tank", Room: "tank.supply"}}},
		{"gauge_primary/reading high", []Change{{Effect: Reads, Part: "gauge_primary"}}},
		{"switch_primary/threshold high", []Change{{Effect: Signals, Part: "switch_primary"}}},
		{"primary_switch_wire/shorted", []Change{{Effect: Signals, Part: "primary_switch_wire"}}},
		{"rear_left_slack/not adjusting", []Change{{Effect: Swells, Part: "rear_left_slack", Room: "rear_left_chamber.service"}}},
		{"compressor/passing oil", nil},
	}
	for _, test := range tests {
		t.Run(test.fault, func(t *testing.T) {
			f, err := ParseFault(c, test.fault)
			require.NoError(t, err)
			got, err := n.Changes(f)
			require.NoError(t, err)
			assert.Equal(t, test.want, got)
		})
	}
	_, err = n.Changes(Fault{Target: "tank", Mode: "melting"})
	assert.ErrorContains(t, err, "melting")
}

// A fault that changes nothing would be one that no law has written: only those that leave the air as it is may.
func TestEveryFaultOfTheGritterChangesSomething(t *testing.T) {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	n, err := Compile(c)
	require.NoError(t, err)
	silent := map[string]bool{"passing oil": true, "cartridge saturated": true, "heater dead": true,
		"lining glazed": true, "lining oiled": true, "lining thin": true, "drum oversize": true}
	for _, f := range Catalogue(c) {
		changes, err := n.Changes(f)
		require.NoError(t, err)
		assert.Equal(t, silent[f.Mode], len(changes) == 0, f.String())
	}
}
