package airflow_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
	"airpath/circuits"
)

// One hole from a room is told apart from two faults, from holes between rooms and from those in whose place something else is heard.
func TestWhatIsOneHole(t *testing.T) {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	texts := [][]string{
		{}, {"tee_unloader/leaking=1 mm"}, {"unloader_line/leaking=1 mm"}, {"tee_unloader/leaking=2 mm"}, {"governor/cut-out high"},
		{"tee_unloader/leaking=1 mm", "governor/cut-out high"}, {"rear_relay/exhaust seat leaking=1 mm"}, {"check_primary/leaking back=1 mm"},
		{"tee_unloader/leaking=1 mm", "tee_front/leaking=1 mm"},
	}
	var vehicles [][]airflow.Fault
	for _, list := range texts {
		var faults []airflow.Fault
		for _, text := range list {
			f, err := airflow.ParseFault(c, text)
			require.NoError(t, err)
			faults = append(faults, f)
		}
		vehicles = append(vehicles, faults)
	}
	holes, err := n.Holes(vehicles)
	require.NoError(t, err)
	for i, h := range holes {
		assert.Equal(t, i >= 1 && i <= 3, h.Room != "", "%v: %+v", texts[i], h)
	}
	assert.Equal(t, "tee_unloader", holes[1].Place)
	assert.Equal(t, "unloader_line", holes[2].Place)
	assert.Equal(t, holes[1].Size, holes[2].Size)
	assert.Less(t, holes[1].Size, holes[3].Size)
}
