package circuit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAmbientOfACase(t *testing.T) {
	const head = "airpath_case = 1\ncircuit = \"gritter\"\ntitle = \"frozen\"\n"
	k, err := ReadCase("cold.toml", []byte(head+"ambient = \"14 F\"\n"))
	require.NoError(t, err)
	at, ok := k.AmbientTemperature()
	assert.True(t, ok)
	assert.InDelta(t, 263.15, at, 1e-9)
	assert.Contains(t, string(WriteCase(k)), `ambient = "14 F"`)

	k, err = ReadCase("plain.toml", []byte(head))
	require.NoError(t, err)
	_, ok = k.AmbientTemperature()
	assert.False(t, ok, "nobody said")

	_, err = ReadCase("cold.toml", []byte(head+"ambient = \"cold\"\n"))
	assert.ErrorContains(t, err, "cold.toml:4:1")
	assert.ErrorContains(t, err, `write it with its unit, such as "-8 C"`)
	_, err = ReadCase("hot.toml", []byte(head+"ambient = \"200 C\"\n"))
	assert.ErrorContains(t, err, "it lies between -60 and 60 °C")
}
