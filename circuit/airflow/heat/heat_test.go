package heat_test

import (
	"math"
	"slices"
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/airflow/heat"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const psi = circuit.PSI

func vehicleOf(t require.TestingT, name string, faults ...string) *effort.Vehicle {
	c, err := circuits.Load(name)
	require.NoError(t, err)
	v, err := effort.Of(c, faults...)
	require.NoError(t, err)
	return v
}

func gritter(t require.TestingT, faults ...string) *effort.Vehicle {
	return vehicleOf(t, "gritter", faults...)
}

// steep is a hill that the gritter's brakes can only just bear.
var steep = heat.Descent{Grade: 0.07, Length: 4000, Speed: 10, EngineShare: 0.3}

// The balance of one drum, against many small steps of its own equation.
func TestADrumWarmsAsItsEquationSays(t *testing.T) {
	drum := effort.Thermal{DrumMass: 60, Cooling: 20}
	const power, speed, ambient, seconds = 20e3, 12.0, 280.0, 600.0
	temperature := 300.0
	const n = 600000
	for range n {
		temperature += (power - heat.Cooling(drum, speed)*(temperature-ambient)) / heat.Capacity(drum) * seconds / n
	}
	assert.InDelta(t, temperature, heat.Warm(drum, 300, power, speed, ambient, seconds), 1e-3)
	assert.InEpsilon(t, 20, heat.Cooling(drum, 10), 1e-12, "the parameter is stated for 10 m/s")
	assert.InDelta(t, ambient+power/heat.Cooling(drum, speed), heat.Warm(drum, 300, power, speed, ambient, 1e6), 1e-6, "in the end all goes to the air")
	assert.InEpsilon(t, 300, heat.Warm(drum, 300, power, speed, ambient, 0), 1e-12)
}

// The grade severity rating formula (from memory, so with a wide band): 80,000 lb on five axles, ten brakes, 73 hp of engine
// drag, drag of 459.35 + 0.132·V² lb, K1 = 1.23 + 0.0256·V 1/h, K2 = 1/(0.1 + 0.00208·V) °F/hp, from 150 °F in 90 °F.
// The kind's own drums are held against its average brake; 16 % of the rise is what the masses differ by.
func TestAgainstTheGradeSeverityRating(t *testing.T) {
	k, err := circuit.KindNamed("drum-brake")
	require.NoError(t, err)
	own := &circuit.Component{Kind: k}
	drum := effort.Thermal{DrumMass: own.Value("drum_mass"), Cooling: own.Value("cooling")}
	for _, tt := range []struct{ mph, grade, miles float64 }{{20, 0.06, 5}, {15, 0.08, 3}, {30, 0.04, 8}, {25, 0.05, 2}} {
		hp := (80000*tt.grade-(459.35+0.132*tt.mph*tt.mph))*tt.mph/375 - 73
		k1, k2 := 1.23+0.0256*tt.mph, 1/(0.1+0.00208*tt.mph)
		want := (90 - 150 + k2*hp) * (1 - math.Exp(-k1*tt.miles/tt.mph))
		kelvin := func(f float64) float64 { return (f-32)*5/9 + 273.15 }
		got := heat.Warm(drum, kelvin(150), hp*745.7/10, tt.mph*0.44704, kelvin(90), tt.miles/tt.mph*3600) - kelvin(150)
		assert.InEpsilon(t, want*5/9, got, 0.16, "%+v", tt)
	}
}

// What the brakes take up is what the hill gives, less what rolling, air and engine take; and it is in the drums or in the air.
func TestEnergyIsKept(t *testing.T) {
	v := gritter(t)
	out, err := heat.Descend(v, steep)
	require.NoError(t, err)
	require.True(t, math.IsNaN(out.RunsAway))
	angle := math.Atan(steep.Grade)
	hold := 16000*effort.Gravity*(math.Sin(angle)-0.006*math.Cos(angle)) - 0.5*1.204*5.5*steep.Speed*steep.Speed
	assert.InEpsilon(t, hold*steep.Length*(1-steep.EngineShare), out.Absorbed, 1e-6, "speed is kept, so all of it is braked away")
	kept := 0.0
	for i, w := range v.Wheels {
		kept += heat.Capacity(w.Thermal) * (out.End.Temperature[i] - heat.Cold)
	}
	assert.InEpsilon(t, out.Absorbed, kept+out.GivenOff, 1e-9)
	assert.InDelta(t, steep.Length/steep.Speed, out.End.Seconds, 0.01)
	assert.InDelta(t, steep.Length, out.End.Distance, 1e-6)
	assert.GreaterOrEqual(t, len(out.Moments), 100)
}

// A long hill takes brake away: by fade, and by drums that grow away from the shoes. The pedal has to go further down.
func TestWhatALongDescentLeaves(t *testing.T) {
	v := gritter(t)
	long := steep
	long.Length, long.EngineShare = 8000, 0
	out, err := heat.Descend(v, long)
	require.NoError(t, err)
	_, hottest := out.End.Hottest()
	assert.Greater(t, hottest, 273.15+300, "smoking")
	assert.Less(t, out.Left, 0.85)
	assert.Greater(t, out.Moments[len(out.Moments)-1].Pressure, 1.1*out.Moments[0].Pressure)
	gentle := long
	gentle.EngineShare = 0.8
	easy, err := heat.Descend(v, gentle)
	require.NoError(t, err)
	assert.Greater(t, easy.Left, 0.95, "the engine has done the work")
	assert.Less(t, easy.Stop.Distance, out.Stop.Distance)
}

// Springs hold the truck parked on that grade cold (571.121 S5.6.1 asks 0.28 of the axle's rating), but bring it to rest from speed only over
// a long way, and not at all with hot drums on a steeper one.
func TestTheSpringsAlone(t *testing.T) {
	v := gritter(t)
	out, err := heat.Descend(v, steep)
	require.NoError(t, err)
	assert.Greater(t, out.Springs, out.SpringsNeeded)
	assert.True(t, out.SpringStop.Stops)
	assert.Greater(t, out.SpringStop.Distance, 3*out.Stop.Distance)
	worst := heat.Descent{Grade: 0.13, Length: 2500, Speed: 8}
	out, err = heat.Descend(v, worst)
	require.NoError(t, err)
	assert.Less(t, out.Springs, v.Parking().Force, "hot springs hold less than cold")
	assert.False(t, out.SpringStop.Stops)
	assert.Greater(t, out.SpringStop.Speed, worst.Speed)
}

// With both rear adjusters lagging the front does it alone, gets too hot, and the truck runs away.
func TestRunningAway(t *testing.T) {
	hill := heat.Descent{Grade: 0.10, Length: 8000, Speed: 14}
	healthy, err := heat.Descend(gritter(t), hill)
	require.NoError(t, err)
	faulty, err := heat.Descend(gritter(t, "rear_left_slack/not adjusting=36 mm", "rear_right_slack/not adjusting=36 mm"), hill)
	require.NoError(t, err)
	assert.False(t, math.IsNaN(faulty.RunsAway))
	assert.True(t, math.IsNaN(healthy.RunsAway) || healthy.RunsAway > faulty.RunsAway)
	assert.Greater(t, faulty.End.Speed, hill.Speed)
	assert.Greater(t, faulty.End.Temperature[0], healthy.End.Temperature[0], "the front brakes do all of it")
	assert.InDelta(t, heat.Cold, faulty.End.Temperature[2], 1, "the rear ones nothing")
}

// A brake with an oiled lining stays cool, and the others get its work: what a hand near the drums tells.
func TestAColdDrumTellsTheWeakBrake(t *testing.T) {
	healthy, err := heat.Descend(gritter(t), steep)
	require.NoError(t, err)
	faulty, err := heat.Descend(gritter(t, "rear_left_brake/lining oiled=60 %"), steep)
	require.NoError(t, err)
	assert.Less(t, faulty.End.Temperature[2], healthy.End.Temperature[2]-50)
	for _, i := range []int{0, 1, 3} {
		assert.Greater(t, faulty.End.Temperature[i], healthy.End.Temperature[i])
	}
}

// Snubs: what is gained in the pauses is taken off in the applications.
func TestSnubbingDown(t *testing.T) {
	v := gritter(t)
	const drop = 2.2 // m/s, about 5 mph
	s, err := heat.SnubbingDown(v, steep, drop, 30*psi)
	require.NoError(t, err)
	assert.InDelta(t, 3, s.On, 1.5, "about three seconds (common practice)")
	force := effort.Total(v.Apply(30 * psi))
	pull := drop * 16000 / s.Off
	assert.InEpsilon(t, drop*16000/s.On, force-pull, 1e-6)
	_, err = heat.SnubbingDown(v, steep, drop, 8*psi)
	assert.ErrorContains(t, err, "hold back")
	_, err = heat.SnubbingDown(v, heat.Descent{Grade: 0.001, Length: 100, Speed: 10}, drop, 30*psi)
	assert.ErrorContains(t, err, "gains no speed")
	_, err = heat.SnubbingDown(v, steep, 20, 30*psi)
	assert.ErrorContains(t, err, "drop")
}

func TestDescentsThatMakeNoSense(t *testing.T) {
	v := gritter(t)
	for _, d := range []heat.Descent{{Length: 100}, {Grade: 0.9, Length: 100, Speed: 10}, {Grade: 0.05, Length: 100, Speed: 10, EngineShare: 2}, {Grade: math.NaN(), Length: 100, Speed: 10}} {
		_, err := heat.Descend(v, d)
		assert.Error(t, err, "%+v", d)
	}
	v.Circuit.Vehicle = circuit.Vehicle{}
	_, err := heat.Descend(v, steep)
	assert.ErrorContains(t, err, "[vehicle]")
}

// Whatever the hill and the faults: no NaN, nothing colder than the air, the energy kept, and a steeper hill never colder drums.
func TestDescentsHoldTogether(t *testing.T) {
	n := gritter(t).Network
	all := slices.DeleteFunc(airflow.Catalogue(n.Circuit()), func(f airflow.Fault) bool {
		k := n.Circuit().Component(f.Target)
		return k == nil || !slices.Contains([]string{"drum-brake", "slack-adjuster", "service-chamber", "spring-brake-chamber"}, k.Kind.Name)
	})
	rapid.Check(t, func(t *rapid.T) {
		var faults []airflow.Fault
		for range rapid.IntRange(0, 2).Draw(t, "faults") {
			faults = append(faults, rapid.SampledFrom(all).Draw(t, "fault"))
		}
		v, err := effort.New(n, faults)
		require.NoError(t, err)
		d := heat.Descent{
			Grade: rapid.Float64Range(0, 0.15).Draw(t, "grade"), Length: rapid.Float64Range(50, 5000).Draw(t, "length"),
			Speed: rapid.Float64Range(2, 25).Draw(t, "speed"), EngineShare: rapid.Float64Range(0, 1).Draw(t, "engine"),
		}
		out, err := heat.Descend(v, d)
		require.NoError(t, err)
		kept := 0.0
		for i, w := range v.Wheels {
			x := out.End.Temperature[i]
			require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
			require.GreaterOrEqual(t, x, heat.Cold-1e-9)
			kept += heat.Capacity(w.Thermal) * (x - heat.Cold)
		}
		require.InDelta(t, out.Absorbed, kept+out.GivenOff, 1e-6*out.Absorbed+1e-3)
		require.False(t, math.IsNaN(out.Full) || out.Full < 0)
		d.EngineShare = 1
		cold, err := heat.Descend(v, d)
		require.NoError(t, err)
		require.Zero(t, cold.Absorbed, "the engine holds it")
	})
}
