package circuits_test

import (
	"testing"

	"airpath/circuit"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLibraryIsWithoutProblems(t *testing.T) {
	require.Contains(t, circuits.Names(), "gritter")
	for _, name := range circuits.Names() {
		t.Run(name, func(t *testing.T) {
			c, err := circuits.Load(name)
			require.NoError(t, err)
			assert.Equal(t, name, c.Name)
			assert.Empty(t, circuit.Check(c))
		})
	}
}
