package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

func TestFormatInTheUnitOfThePerson(t *testing.T) {
	p := circuit.MustQuantity("100 psi", circuit.Pressure).SI
	for _, c := range []struct {
		u    Units
		want string
	}{{"psi", "100 psi"}, {"bar", "6.9 bar"}, {"kPa", "689 kPa"}} {
		assert.Equal(t, c.want, c.u.Format(p, circuit.Pressure))
	}
	assert.Equal(t, "70 s", Units("bar").Format(70, circuit.Time))
	assert.Equal(t, "3 psi/min", Units("psi").Format(3*circuit.PSI/60, circuit.Rate))
	assert.Equal(t, "0.8 to 1.4 mm", Units("psi").Span(0.0008, 0.0014, circuit.Length))
	assert.Equal(t, "2 mm", Units("psi").Span(0.002, 0.002, circuit.Length))
	assert.Equal(t, "30 %", Units("psi").Format(0.3, circuit.Ratio))
	assert.Equal(t, "–", Units("psi").Number(nan(), circuit.Time))
}

func TestReadTakesTheUnitShownUnlessOneIsTyped(t *testing.T) {
	text, err := Units("bar").Read("6,9", circuit.Pressure)
	require.NoError(t, err)
	assert.Equal(t, "6.9 bar", text)
	text, err = Units("bar").Read("100 psi", circuit.Pressure)
	require.NoError(t, err)
	assert.Equal(t, "100 psi", text)
	text, err = Units("psi").Read(" 70 ", circuit.Time)
	require.NoError(t, err)
	assert.Equal(t, "70 s", text)
	for _, bad := range []string{"", "seventy", "70 psi", "1e999", "nan"} {
		_, err := Units("psi").Read(bad, circuit.Time)
		assert.Error(t, err, bad)
	}
}

func nan() float64 { z := 0.0; return z / z }
