package usage_test

import (
	"context"
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/airflow/usage"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// worked are the library's vehicles that have a pedal and a compressor.
func worked(t *testing.T, each func(t *testing.T, v *effort.Vehicle)) {
	for _, name := range circuits.Names() {
		if name == "semi_trailer" {
			continue // its air is counted with the combination's
		}
		t.Run(name, func(t *testing.T) { each(t, vehicleOf(t, name)) })
	}
}

// One full application with the engine off, by the cylinder formula of the compressed-air handbooks: each chamber's stroke times its
// area, times the ratio of absolute pressures; voids, lines and valves come on top. What is used is what the reservoirs have lost.
func TestAnApplicationOfEach(t *testing.T) {
	worked(t, func(t *testing.T, v *effort.Vehicle) {
		a, err := usage.Count(context.Background(), v, usage.Braking{On: 5, Off: 20, Applications: 1, From: 110 * psi})
		require.NoError(t, err)
		least := 0.0
		for _, e := range v.Apply(a.Reached - circuit.AtmospherePressure) {
			least += e.Wheel.Area * e.Stroke * (e.Service + circuit.AtmospherePressure) / circuit.AtmospherePressure
		}
		least = airflow.FreeAir(least * circuit.AtmospherePressure / (airflow.GasConstant * airflow.ReferenceK))
		assert.Greater(t, a.Used, least)
		assert.Less(t, a.Used, 2.5*least+3e-3)
		kept := (a.Lowest[0] - circuit.AtmospherePressure) / (110 * psi)
		assert.GreaterOrEqual(t, kept, 0.8, "49 CFR 570.57(a)(1): one full application takes at most a fifth")
	})
}

// Fanned with the engine idling, more air goes than the compressor makes; snubbed down a hill at working speed, each in ten seconds, it
// keeps up, from where it begins to work.
func TestFanningAndSnubbingOfEach(t *testing.T) {
	worked(t, func(t *testing.T, v *effort.Vehicle) {
		from := usage.CutIn(v.Circuit)
		require.Greater(t, from, 80*psi)
		fan := usage.Fanning(v.Circuit)
		fan.From = from
		fanned, err := usage.Count(context.Background(), v, fan)
		require.NoError(t, err)
		assert.False(t, fanned.Keeps)
		speed := (v.Circuit.Engine.Idle.SI + v.Circuit.Engine.Rated.SI) / 2
		snubbed, err := usage.Count(context.Background(), v, usage.Braking{Pressure: 25 * psi, On: 3, Off: 7, Applications: 20, Engine: speed, From: from})
		require.NoError(t, err)
		assert.True(t, snubbed.Keeps, "%v", snubbed.Lowest)
		assert.Zero(t, snubbed.Warning)
		assert.Less(t, snubbed.Each(), fanned.Each())
		assert.Less(t, fanned.Lowest[19], snubbed.Lowest[19])
	})
}
