package moisture_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/airflow/moisture"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func load(t require.TestingT) *circuit.Circuit {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	return c
}

func vehicle(t require.TestingT, c *circuit.Circuit, faults ...string) *effort.Vehicle {
	v, err := effort.Of(c, faults...)
	require.NoError(t, err)
	return v
}

// healthyDuty is half an hour's driving of the gritter, simulated once.
var healthyDuty = sync.OnceValues(func() (moisture.Duty, error) {
	c, err := circuits.Load("gritter")
	if err != nil {
		return moisture.Duty{}, err
	}
	v, err := effort.Of(c)
	if err != nil {
		return moisture.Duty{}, err
	}
	return moisture.Drive(context.Background(), v, moisture.Use{})
})

func duty(t require.TestingT) moisture.Duty {
	d, err := healthyDuty()
	require.NoError(t, err)
	return d
}

var (
	autumn = moisture.Weather{Temperature: zero + 12, Humidity: 0.85}
	frost  = moisture.Weather{Temperature: zero - 8, Humidity: 0.9}
	summer = moisture.Weather{Temperature: zero + 30, Humidity: 0.6}
)

func follow(t require.TestingT, v *effort.Vehicle, w moisture.Weather) moisture.Report {
	r, err := moisture.Follow(v, duty(t), w, moisture.Hours(8))
	require.NoError(t, err)
	assert.InDelta(t, 0, r.Kept(), 1e-9, "water is neither made nor lost")
	return r
}

func TestADutyIsPlausible(t *testing.T) {
	d := duty(t)
	assert.Greater(t, d.Pumped, d.Purged)
	assert.Positive(t, d.Purged)
	assert.Positive(t, d.Purges)
	assert.Greater(t, d.Loaded, 0.01)
	assert.Less(t, d.Loaded, 0.5, "a compressor that is in order rests most of the time")
	assert.InDelta(t, 113, (d.Pressure-circuit.AtmospherePressure)/circuit.PSI, 9, "between cut-in and cut-out")
	assert.InEpsilon(t, 225e-6*22.5*1.2*0.7, d.Flow, 0.15, "displacement, speed, density, volumetric efficiency")
	harder, err := moisture.Drive(context.Background(), vehicle(t, load(t)), moisture.Use{ApplicationsPerHour: 120})
	require.NoError(t, err)
	assert.Greater(t, harder.Pumped, 2*d.Pumped, "three times the applications")
}

// With a dryer in order the tanks stay dry, the purge can carry off what the bed takes, and the dew point lies far below the air outside.
func TestADryerInOrder(t *testing.T) {
	for _, w := range []moisture.Weather{autumn, summer, frost} {
		r := follow(t, vehicle(t, load(t)), w)
		assert.True(t, r.Dryer)
		assert.Greater(t, r.Balance.Balance, 1.0)
		assert.Greater(t, r.Margin(), 10.0)
		for _, tank := range r.Tanks {
			assert.Less(t, tank.PerDay, 1e-3, "%s at %.0f °C", tank.Room, w.Temperature-zero)
		}
		assert.Empty(t, r.Freezing)
		assert.Greater(t, r.BlownOut, 0.5*r.DrawnIn)
		assert.Greater(t, r.Head, r.LineEnd)
		assert.Greater(t, r.LineEnd, w.Temperature)
	}
}

// A bed that takes nothing lets the tanks gather water; by far the most in the supply tank, where the air cools most.
func TestASaturatedCartridge(t *testing.T) {
	r := follow(t, vehicle(t, load(t), "dryer/cartridge saturated=100 %"), autumn)
	assert.Positive(t, r.Tanks[0].PerDay)
	assert.Greater(t, r.Tanks[0].PerDay, r.Tanks[1].PerDay)
	assert.Less(t, r.Margin(), 1.0)
	half := follow(t, vehicle(t, load(t), "dryer/cartridge saturated=50 %"), autumn)
	assert.Less(t, half.Ratio, r.Ratio+1e-12)
	assert.Less(t, half.Tanks[0].PerDay, r.Tanks[0].PerDay)
}

// A purge valve that does not open leaves sump and bed full: all the water goes to the supply tank.
func TestAPurgeValveStuckShut(t *testing.T) {
	r := follow(t, vehicle(t, load(t), "dryer/purge valve stuck shut=100 %"), autumn)
	assert.Zero(t, r.BlownOut)
	assert.Greater(t, r.Tanks[0].PerDay, 0.8*(r.DrawnIn-r.GoesOn))
	assert.Zero(t, r.Balance.Carries)
}

// Without a dryer, 8 hours at 12 °C and 85 %: what drops between intake and the air leaving the tanks at ambient temperature, worked out by
// hand from the Magnus formula.
func TestWithoutADryer(t *testing.T) {
	c := load(t)
	c.Components = slices.DeleteFunc(c.Components, func(x *circuit.Component) bool { return x.ID == "dryer" })
	for _, l := range c.Lines {
		switch l.ID {
		case "dryer_inlet_line":
			l.To = circuit.PortRef{Component: "tank", Port: "11"}
		}
	}
	c.Lines = slices.DeleteFunc(c.Lines, func(l *circuit.Line) bool { return l.ID == "supply_line" || l.ID == "purge_control_line" })
	d := duty(t)
	r, err := moisture.Follow(vehicle(t, c), d, autumn, moisture.Hours(8))
	require.NoError(t, err)
	assert.False(t, r.Dryer)
	e := 0.85 * 611.2 * math.Exp(17.62*12/(243.12+12))
	in := 0.622 * e / (circuit.AtmospherePressure - e)
	left := 0.622 * e / 0.85 / (d.Pressure - e/0.85)
	air := d.Pumped * 8 * 3600
	sum := 0.0
	for _, tank := range r.Tanks {
		sum += tank.PerDay
	}
	assert.InEpsilon(t, air*(in-left), sum, 1e-9)
	assert.InDelta(t, autumn.Temperature, r.DewPoint, 1e-6, "saturated")
	assert.Greater(t, sum, 0.03, "an egg-cupful a day at least")
}

// In frost: water that gathers freezes in drains; a dead heater lets the purge valve freeze; a dew point near the air outside leaves rime in valves.
func TestFreezingPlaces(t *testing.T) {
	places := func(w moisture.Weather, faults ...string) []string {
		var out []string
		for _, f := range follow(t, vehicle(t, load(t), faults...), w).Freezing {
			out = append(out, f.Component)
			assert.NotEmpty(t, f.Why)
		}
		return out
	}
	assert.Empty(t, places(frost))
	assert.Equal(t, []string{"dryer"}, places(frost, "dryer/heater dead"))
	wet := places(frost, "dryer/cartridge saturated=100 %")
	assert.Contains(t, wet, "tank")
	assert.Contains(t, wet, "rear_relay")
	assert.Contains(t, wet, "foot_valve")
	assert.NotContains(t, wet, "compressor")
	assert.Empty(t, places(autumn, "dryer/cartridge saturated=100 %", "dryer/heater dead"), "no frost, no ice")
}

// A tank that is never drained loses volume day by day, and the air engine can be told so.
func TestLostVolume(t *testing.T) {
	v := vehicle(t, load(t), "dryer/purge valve stuck shut=100 %")
	r := follow(t, v, summer)
	one, ten := r.Lost(1), r.Lost(10)
	assert.InEpsilon(t, 10*one[0], ten[0], 1e-9)
	assert.InEpsilon(t, r.Tanks[0].PerDay/1000/15e-3, one[0], 1e-9, "the supply compartment has 15 L")
	faults := r.Undrained(v, 10)
	require.NotEmpty(t, faults)
	assert.Equal(t, "tank", faults[0].Target)
	assert.Equal(t, "supply full of water", faults[0].Mode)
	assert.InEpsilon(t, min(0.9, ten[0]), faults[0].Severity, 1e-9)
	_, err := v.Network.Start(faults, airflow.Scatter{})
	assert.NoError(t, err)
	assert.Empty(t, follow(t, vehicle(t, load(t)), summer).Undrained(v, 1))
}

func TestOil(t *testing.T) {
	assert.True(t, follow(t, vehicle(t, load(t), "compressor/passing oil"), autumn).OilCarried)
	assert.False(t, follow(t, vehicle(t, load(t)), autumn).OilCarried)
}

// A line's air cools towards the air around it and never past it; a longer line, or a compressor that rests more, cools it more.
func TestLineEnd(t *testing.T) {
	k := func(metres, loaded float64) float64 {
		l := &circuit.Line{Length: circuit.NewQuantity(metres, circuit.Length), Bore: circuit.NewQuantity(14e-3, circuit.Length)}
		return moisture.LineEnd(450, 285, 4e-3, loaded, []*circuit.Line{l})
	}
	for _, loaded := range []float64{0.01, 0.1, 0.5, 1} {
		last := 450.0
		for _, metres := range []float64{0.1, 1, 3, 10, 100} {
			assert.Less(t, k(metres, loaded), last)
			last = k(metres, loaded)
		}
		assert.GreaterOrEqual(t, last, 285.0)
		assert.Less(t, k(3, loaded/2), k(3, loaded))
	}
	// Pumping all the time, the heat that the air loses is what the outside takes: checked from both sides.
	end := k(3, 1)
	nusselt := 0.023 * math.Pow(4*4e-3/(math.Pi*14e-3*2.2e-5), 0.8) * math.Pow(0.7, 0.4)
	stays := math.Exp(-nusselt * 0.031 * math.Pi * 3 / (4e-3 * 1005))
	wall := (end - 450*stays) / (1 - stays)
	assert.InEpsilon(t, 4e-3*1005*(450-end), 30*math.Pi*0.017*3*(wall-285), 1e-9)
	assert.InEpsilon(t, 293.15*math.Pow(8, 0.2), moisture.DischargeTemperature(293.15, 8), 1e-12)
	assert.InEpsilon(t, 285, moisture.LineEnd(450, 285, 0, 0, nil), 1e-12, "no air moves")
	assert.InEpsilon(t, 450, moisture.LineEnd(450, 285, 4e-3, 1, nil), 1e-12, "no line")
}

func TestWhatCannotBe(t *testing.T) {
	v := vehicle(t, load(t))
	for _, w := range []moisture.Weather{{}, {Temperature: 300, Humidity: 2}, {Temperature: math.NaN(), Humidity: 0.5}} {
		_, err := moisture.Follow(v, duty(t), w, 3600)
		assert.Error(t, err, "%+v", w)
	}
	_, err := moisture.Drive(context.Background(), v, moisture.Use{Seconds: 1})
	assert.Error(t, err)
}

// Whatever the weather and the dryer's faults: the books balance, nothing is negative, wetter air is never drier in the tanks.
func TestWaterIsKept(t *testing.T) {
	c := load(t)
	all := slices.DeleteFunc(airflow.Catalogue(c), func(f airflow.Fault) bool { return !strings.HasPrefix(f.Target, "dryer") || f.Target != "dryer" })
	healthy := vehicle(t, c)
	rapid.Check(t, func(t *rapid.T) {
		v := *healthy
		v.Faults = nil
		for range rapid.IntRange(0, 3).Draw(t, "faults") {
			v.Faults = append(v.Faults, rapid.SampledFrom(all).Draw(t, "fault"))
		}
		w := moisture.Weather{Temperature: zero + rapid.Float64Range(-40, 45).Draw(t, "C"), Humidity: rapid.Float64Range(0, 1).Draw(t, "RH")}
		r := follow(t, &v, w)
		for _, tank := range r.Tanks {
			require.GreaterOrEqual(t, tank.PerDay, 0.0)
			require.False(t, math.IsNaN(tank.PerDay))
		}
		require.GreaterOrEqual(t, r.InLine, 0.0)
		require.GreaterOrEqual(t, r.BlownOut, 0.0)
		require.False(t, math.IsNaN(r.DewPoint))
		require.LessOrEqual(t, r.Ratio, moisture.Most(w.Temperature, duty(t).Pressure)*(1+1e-9))
		w.Humidity = min(1, w.Humidity*1.1)
		require.GreaterOrEqual(t, follow(t, &v, w).Ratio, r.Ratio-1e-12)
	})
}
