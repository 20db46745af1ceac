package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

func TestReadResult(t *testing.T) {
	for _, c := range []struct {
		typed string
		d     circuit.Dimension
		kind  circuit.ResultKind
		text  string
	}{
		{"70", circuit.Time, circuit.Number, "70 s"},
		{"1.5 min", circuit.Time, circuit.Number, "1.5 min"},
		{"60 to 75", circuit.Time, circuit.Range, "60..75 s"},
		{"60..75 s", circuit.Time, circuit.Range, "60..75 s"},
		{"6,5..7 bar", circuit.Pressure, circuit.Range, "6.5..7 bar"},
		{"60 s..2 min", circuit.Time, circuit.Range, "60 s..2 min"},
		{" 6,9 bar", circuit.Pressure, circuit.Number, "6.9 bar"},
		{"100", circuit.Pressure, circuit.Number, "100 psi"},
		{"Never", circuit.Pressure, circuit.Never, "never"},
	} {
		r, err := Units("psi").ReadResult(c.typed, c.d)
		require.NoError(t, err, c.typed)
		assert.Equal(t, c.kind, r.Kind, c.typed)
		assert.Equal(t, c.text, r.Text, c.typed)
	}
	for _, bad := range []string{"", "..", "75..60", "a..b", "60..", "..70", "slow", "70 psi", "nan", "1e999"} {
		_, err := Units("psi").ReadResult(bad, circuit.Time)
		assert.Error(t, err, bad)
	}
}
