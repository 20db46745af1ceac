package model

import (
	"testing"

	"github.com/stretchr/testify/assert"

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

func nan() float64 { z := 0.0; return z / z }
