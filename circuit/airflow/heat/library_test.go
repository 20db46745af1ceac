package heat_test

import (
	"math"
	"slices"
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/airflow/heat"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// onAHill are the library's vehicles that can be driven down one.
func onAHill(t *testing.T, each func(t *testing.T, v *effort.Vehicle)) {
	for _, name := range circuits.Names() {
		v := vehicleOf(t, name)
		_, err := heat.Descend(v, heat.Descent{Grade: 0.06, Length: 1000, Speed: 10})
		switch name {
		case "bench_board":
			require.ErrorContains(t, err, "no [vehicle] table")
		case "semi_trailer":
			require.ErrorContains(t, err, "no pedal")
		default:
			require.NoError(t, err)
			t.Run(name, func(t *testing.T) { each(t, v) })
		}
	}
}

// The energy of a descent in closed form: mass · g · sin less rolling and air, over the length, less the engine's share, is what the
// brakes take up; and with hardly any cooling in so short a time each drum's rise is its share of that over its heat capacity.
func TestTheEnergyOfADescent(t *testing.T) {
	onAHill(t, func(t *testing.T, v *effort.Vehicle) {
		d := heat.Descent{Grade: 0.06, Length: 3000, Speed: 10, EngineShare: 0.4}
		out, err := heat.Descend(v, d)
		require.NoError(t, err)
		require.True(t, math.IsNaN(out.RunsAway))
		angle := math.Atan(d.Grade)
		pull := v.Circuit.Vehicle.Mass.SI*effort.Gravity*(math.Sin(angle)-0.006*math.Cos(angle)) - 0.5*1.204*5.5*d.Speed*d.Speed
		energy := pull * (1 - d.EngineShare) * d.Length
		assert.InEpsilon(t, energy, out.Absorbed, 1e-6)
		kept := 0.0
		for i, w := range v.Wheels {
			kept += heat.Capacity(w.Thermal) * (out.End.Temperature[i] - heat.Cold)
		}
		assert.InEpsilon(t, energy, kept+out.GivenOff, 1e-6)
		// Each drum as its equation has it, with the power that it had on the average.
		for i, w := range v.Wheels {
			share := 0.0
			for _, m := range out.Moments {
				share += m.Force[i] / effortOf(m) / float64(len(out.Moments))
			}
			want := heat.Warm(w.Thermal, heat.Cold, share*energy/out.End.Seconds, d.Speed, heat.Cold, out.End.Seconds)
			assert.InDelta(t, want, out.End.Temperature[i], 0.02*(want-heat.Cold)+0.5, w.Chamber.ID)
		}
	})
}

func effortOf(m heat.Moment) float64 {
	sum := 0.0
	for _, f := range m.Force {
		sum += f
	}
	return sum
}

// A hill too long for a vehicle: linings fade, drums grow away, the pedal goes further down for the same, and a full application at
// the bottom stops it later than at the top. Without the engine the springs alone hold less, hot, than parked and cold.
func TestFadeOfTheLibrary(t *testing.T) {
	onAHill(t, func(t *testing.T, v *effort.Vehicle) {
		cool, err := heat.Descend(v, heat.Descent{Grade: 0.05, Length: 500, Speed: 10, EngineShare: 0.5})
		require.NoError(t, err)
		assert.Greater(t, cool.Left, 0.99)
		assert.Greater(t, cool.Springs, cool.SpringsNeeded, "parked on half a mile of 5 %%, the springs hold")
		assert.True(t, cool.SpringStop.Stops)
		assert.Greater(t, cool.SpringStop.Distance, 1.5*cool.Stop.Distance, "but they are no service brake")

		hot, err := heat.Descend(v, heat.Descent{Grade: 0.08, Length: 9000, Speed: 10})
		require.NoError(t, err)
		_, hottest := hot.End.Hottest()
		assert.Greater(t, hottest, heat.Cold+280)
		assert.Less(t, hot.Left, 0.9)
		assert.Greater(t, hot.End.Pressure, 1.05*hot.Moments[0].Pressure)
		assert.Less(t, hot.Springs, v.Parking().Force)
	})
}

// Drums warm as they are shared: the coach's rear ones by far the most, both sides alike.
func TestDrumsWarmByTheirShare(t *testing.T) {
	onAHill(t, func(t *testing.T, v *effort.Vehicle) {
		out, err := heat.Descend(v, heat.Descent{Grade: 0.06, Length: 3000, Speed: 10, EngineShare: 0.4})
		require.NoError(t, err)
		for axle := range v.Circuit.Vehicle.Axles {
			var sides []float64
			for i, w := range v.Wheels {
				if w.Axle == axle {
					sides = append(sides, out.End.Temperature[i])
				}
			}
			require.Len(t, sides, 2)
			assert.InDelta(t, sides[0], sides[1], 0.5)
		}
		if v.Circuit.Name == "coach" {
			rear := slices.IndexFunc(v.Wheels, func(w *effort.Wheel) bool { return w.Axle == 1 })
			assert.Greater(t, out.End.Temperature[rear]-heat.Cold, 1.8*(out.End.Temperature[0]-heat.Cold))
		}
	})
}

// A lift axle behind a ratio valve does nothing on a gentle descent: 60 % of so little does not bring its shoes to the drum. When it is
// asked for more it helps.
func TestALiftAxleDragsLittle(t *testing.T) {
	v := vehicleOf(t, "refuse_collector")
	force := func(asked float64) float64 {
		sum := 0.0
		for _, e := range v.Apply(asked * circuit.PSI) {
			if v.Circuit.Vehicle.Axles[e.Wheel.Axle].Name == "lift axle" {
				sum += e.WheelForce
			}
		}
		return sum
	}
	assert.Zero(t, force(12))
	assert.Greater(t, force(60), 5e3)
}
