package moisture_test

import (
	"context"
	"math"
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/moisture"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A day's water on every vehicle that pumps air, each held against the Magnus formula of the WMO CIMO guide written out here: what is
// drawn in, how much can leave as vapour at ambient temperature under the reservoirs' pressure, and that the rest is accounted for
// by line, dryer and drains.
func TestTheWaterOfEachVehicle(t *testing.T) {
	magnus := func(celsius float64) float64 { return 611.2 * math.Exp(17.62*celsius/(243.12+celsius)) }
	for _, name := range circuits.Names() {
		t.Run(name, func(t *testing.T) {
			c, err := circuits.Load(name)
			require.NoError(t, err)
			v := vehicle(t, c)
			d, err := moisture.Drive(context.Background(), v, moisture.Use{})
			if name == "semi_trailer" {
				require.ErrorContains(t, err, "no pedal")
				return
			}
			require.NoError(t, err)
			for _, w := range []moisture.Weather{autumn, summer, frost} {
				r, err := moisture.Follow(v, d, w, moisture.Hours(8))
				require.NoError(t, err)
				celsius := w.Temperature - zero
				e := w.Humidity * magnus(celsius)
				drawn := r.Air * 0.622 * e / (circuit.AtmospherePressure - e)
				assert.InEpsilon(t, drawn, r.DrawnIn, 1e-9)
				assert.InDelta(t, 0, r.Kept(), 1e-9)
				most := r.Air * 0.622 * magnus(celsius) / (d.Pressure - magnus(celsius))
				assert.LessOrEqual(t, r.GoesOn, most*(1+1e-9), "no more stays vapour than air holds under pressure")
				tanks := 0.0
				for _, tank := range r.Tanks {
					tanks += tank.PerDay
					assert.InDelta(t, min(tank.Volume, tank.PerDay*10/1000), tank.Share(10)*tank.Volume, 1e-12, "lost volume: a kilogram is a litre")
				}
				if name == "bench_board" { // it has no dryer
					assert.False(t, r.Dryer)
					assert.InEpsilon(t, r.DrawnIn-most, tanks, 1e-6, "all that can't stay vapour comes out of the drains")
					assert.InDelta(t, w.Temperature, r.DewPoint, 1e-6, "saturated")
					assert.Equal(t, w == frost, len(r.Freezing) > 0)
					continue
				}
				assert.True(t, r.Dryer)
				assert.Greater(t, r.Balance.Balance, 1.0, "the purge carries off what the bed takes up")
				assert.InDelta(t, 0, tanks, 1e-3, "a dryer in order leaves the drains dry")
				assert.Greater(t, r.Margin(), 3.0, "dew point against the air outside")
				assert.Empty(t, r.Freezing)
			}
			if name == "bench_board" {
				return
			}
			wet := vehicle(t, c, part(c, "air-dryer")+"/cartridge saturated=100 %")
			r, err := moisture.Follow(wet, d, frost, moisture.Hours(8))
			require.NoError(t, err)
			assert.NotEmpty(t, r.Freezing, "a bed that takes nothing lets the drains freeze")
			r, err = moisture.Follow(wet, d, summer, moisture.Hours(8))
			require.NoError(t, err)
			assert.Positive(t, r.Tanks[0].PerDay)
			faults := r.Undrained(wet, 200)
			require.NotEmpty(t, faults)
			_, err = v.Network.Start(faults, airflow.Scatter{})
			assert.NoError(t, err, "the air engine takes the lost volume")
		})
	}
}

// part is the id of the one component of a kind.
func part(c *circuit.Circuit, kind string) string {
	for _, x := range c.Components {
		if x.Kind.Name == kind {
			return x.ID
		}
	}
	return ""
}

// The regeneration of heatless dryers (textbook): for saturated air in and out at one temperature the purge needs the share Patm/p of what
// was dried. Where the bed gets just that much, the balance is 1.
func TestRegenerationByTheTextbook(t *testing.T) {
	v := vehicle(t, load(t))
	purge := v.Circuit.Component("dryer").Value("purge_volume")
	d := duty(t)
	// One cycle's air is chosen so that the purge volume, expanded, is Patm/p of it.
	w := moisture.Weather{Temperature: zero + 30, Humidity: 1}
	d.Flow, d.Loaded = 0, 0 // the air comes at the ambient temperature
	blown := purge * (d.Pressure - circuit.AtmospherePressure) / (airflow.GasConstant * w.Temperature)
	d.Purges = d.Pumped / (blown * d.Pressure / circuit.AtmospherePressure)
	r, err := moisture.Follow(v, d, w, moisture.Hours(1))
	require.NoError(t, err)
	// A bed that brings the dew point down by 25 degrees leaves e(5 °C)/e(30 °C) of the vapour in the air, which is 8.72 hPa of 42.34 by the
	// same formula. Vapour takes a little of the pressure outside: within a twentieth.
	assert.InDelta(t, 1, r.Balance.Balance*(1-8.72/42.34), 0.05)
}
