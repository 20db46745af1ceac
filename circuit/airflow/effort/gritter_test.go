package effort_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/limit"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func network(t require.TestingT) *airflow.Network {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	return n
}

func vehicle(t require.TestingT, n *airflow.Network, faults ...string) *effort.Vehicle {
	var list []airflow.Fault
	for _, text := range faults {
		f, err := airflow.ParseFault(n.Circuit(), text)
		require.NoError(t, err)
		list = append(list, f)
	}
	v, err := effort.New(n, list)
	require.NoError(t, err)
	return v
}

func TestWheelsOfTheGritter(t *testing.T) {
	v := vehicle(t, network(t))
	require.Len(t, v.Wheels, 4)
	for i, want := range []struct {
		chamber string
		axle    int
		side    effort.Side
		spring  bool
	}{{"front_left_chamber", 0, effort.Left, false}, {"front_right_chamber", 0, effort.Right, false}, {"rear_left_chamber", 1, effort.Left, true}, {"rear_right_chamber", 1, effort.Right, true}} {
		w := v.Wheels[i]
		assert.Equal(t, want.chamber, w.Chamber.ID)
		assert.Equal(t, want.axle, w.Axle)
		assert.Equal(t, want.side, w.Side)
		assert.Equal(t, want.spring, w.Spring())
		require.NotNil(t, w.Brake)
	}
	_, err := v.WheelAt("compressor")
	assert.Error(t, err)
}

// What a run says and what the static curves say is the same, wheel by wheel.
func TestARunAndTheCurvesAgree(t *testing.T) {
	v := vehicle(t, network(t))
	r, err := v.Charged(nil, 110*psi)
	require.NoError(t, err)
	for _, pedal := range []float64{0, 0.3, 0.5, 1} {
		require.NoError(t, r.Set("pedal", pedal, 0.2))
		require.NoError(t, r.Advance(5))
		for i, now := range v.At(r) {
			static := v.Apply(now.Service)[i]
			assert.InDelta(t, static.Stroke, now.Stroke, 1e-4, now.Wheel.Chamber.ID)
			assert.InDelta(t, static.WheelForce, now.WheelForce, 20, now.Wheel.Chamber.ID)
		}
	}
}

// Healthy: braked as the law asks (49 CFR 393.52(d)), even between the sides, no axle far from its load, parked as 571.121 S5.6
// asks, strokes within 393.47(e).
func TestTheHealthyGritterMeetsItsStandards(t *testing.T) {
	v := vehicle(t, network(t))
	full := v.Apply(100 * psi)
	b := v.Balance(full)
	assert.True(t, limit.BrakeForceLeast().Meets(b.Deceleration/effort.Gravity), "%.2f g", b.Deceleration/effort.Gravity)
	assert.InDelta(t, b.Left, b.Right, 1e-6*b.Total)
	for _, a := range b.Axles {
		assert.Zero(t, a.Uneven())
		assert.InDelta(t, a.LoadShare, a.Share, 0.12, a.Name)
	}
	p := v.Parking()
	assert.True(t, p.ByAxle, "%.3f of the rating", p.Axles[0].Share)
	assert.True(t, p.Pass())
	assert.False(t, p.ByMass, "only for a tractor with more than two axles")
	in, err := v.Inspect(context.Background(), effort.InspectAt)
	require.NoError(t, err)
	for _, w := range in.Wheels {
		assert.Negative(t, w.Over, "%s: %.1f mm of %.1f mm, %s", w.Wheel.Chamber.ID, w.Stroke*1e3, w.Most*1e3, w.Source)
		assert.InDelta(t, 38e-3, w.Stroke, 5e-3, "about 1.5 in for a well adjusted type 30 at 100 psi (trade press)")
		assert.False(t, w.LiningLow || w.CamOver)
	}
	for _, r := range in.Rulings {
		assert.False(t, r.OutOfService)
		assert.Equal(t, 1, r.Needed, "of four brakes")
	}
}

// A stroke that has come to its end leaves no force for the shoes, whatever the pressure; before it, force falls away.
func TestAnOverlongStrokeLosesItsBrake(t *testing.T) {
	n := network(t)
	last := math.Inf(1)
	for _, more := range []string{"6 mm", "12 mm", "20 mm", "28 mm", "36 mm"} {
		v := vehicle(t, n, "rear_left_slack/not adjusting="+more)
		w, err := v.WheelAt("rear_left_slack")
		require.NoError(t, err)
		force := v.Apply(100 * psi)[slices.Index(v.Wheels, w)].WheelForce
		assert.Less(t, force, last, more)
		last = force
	}
	assert.Zero(t, last, "the plate meets the housing before the shoes meet the drum")
}

// Without the anti-compounding check a full pedal on set springs puts both forces into the rod.
func TestForcesOfSpringAndAirAddUp(t *testing.T) {
	v := vehicle(t, network(t))
	for _, w := range v.Wheels[2:] {
		air, spring := w.Work(100*psi, 120*psi, 0.035, 0), w.Work(0, 0, 0.035, 0)
		both := w.Work(100*psi, 0, 0.035, 0)
		assert.InDelta(t, air.ShoeForce+spring.ShoeForce, both.ShoeForce, 1e-6)
		assert.Positive(t, spring.BySpring)
		assert.Zero(t, air.BySpring, "held off")
	}
}

// Every mode of a wheel's parts that the air does not show changes something here.
func TestSilentModesOfBrakesShowHere(t *testing.T) {
	n := network(t)
	healthy := vehicle(t, n)
	for _, m := range airflow.Modes("drum-brake") {
		v := vehicle(t, n, "rear_left_brake/"+m.Name)
		was, is := healthy.Wheels[2], v.Wheels[2]
		before, after := healthy.Apply(80 * psi)[2], v.Apply(80 * psi)[2]
		changed := before.WheelForce != after.WheelForce || before.Stroke != after.Stroke || was.Lining != is.Lining || before.CamTurn != after.CamTurn
		assert.True(t, changed, m.Name)
		assert.Equal(t, healthy.Apply(80 * psi)[3].WheelForce, v.Apply(80 * psi)[3].WheelForce, "the other side is as it was: %s", m.Name)
	}
}

// More air is never less force, and nothing is NaN or negative, whatever the faults.
func TestForcesRiseWithPressure(t *testing.T) {
	n := network(t)
	all := airflow.Catalogue(n.Circuit())
	rapid.Check(t, func(t *rapid.T) {
		var faults []airflow.Fault
		for range rapid.IntRange(0, 3).Draw(t, "faults") {
			f := rapid.SampledFrom(all).Draw(t, "fault")
			if slices.ContainsFunc(faults, func(g airflow.Fault) bool { return g.Target == f.Target }) {
				continue // one part can't fail twice over: a governor set to cut in above its cut-out is refused
			}
			m, err := airflow.ModeOf(n.Circuit(), f)
			require.NoError(t, err)
			f.Severity = rapid.Float64Range(min(m.Severity.Mild, m.Severity.Severe), max(m.Severity.Mild, m.Severity.Severe)).Draw(t, "severity")
			faults = append(faults, f)
		}
		v, err := effort.New(n, faults)
		require.NoError(t, err)
		last := make([]float64, len(v.Wheels))
		for p := 0.0; p <= 140; p += 7 {
			for i, e := range v.Apply(p * psi) {
				for _, x := range []float64{e.Stroke, e.ShoeForce, e.WheelForce, e.Lever, e.CamTurn} {
					require.False(t, math.IsNaN(x) || math.IsInf(x, 0) || x < 0, "%s at %g psi: %+v", e.Wheel.Chamber.ID, p, e)
				}
				if e.CamTurn >= 140*math.Pi/180 { // with linings worn out the cam falls over its nose
					require.Zero(t, e.WheelForce)
					continue
				}
				// Near the stop the diaphragm rolls off the plate and the arm turns past its right angle: there force may fall a little.
				require.GreaterOrEqual(t, e.WheelForce, 0.9*last[i], "%s at %g psi", e.Wheel.Chamber.ID, p)
				last[i] = max(last[i], e.WheelForce)
				require.LessOrEqual(t, e.Stroke, e.Wheel.Full+1e-9)
			}
		}
		b := v.Balance(v.Apply(80 * psi))
		require.InDelta(t, b.Total, b.Left+b.Right, 1e-6)
		weight := 0.0
		for _, a := range b.Axles {
			weight += a.Weight
		}
		require.InEpsilon(t, 16000*effort.Gravity, weight, 1e-9, "braking moves weight, and adds none")
	})
}

// Weight moved by braking: mass · deceleration · height / wheelbase, worked out by hand for 16 t at 5 m/s², 1.3 m and 4.2 m.
func TestWeightMovesForward(t *testing.T) {
	v := vehicle(t, network(t))
	pressure := 40 * psi
	var b effort.Balance
	for range 60 { // find the pressure for 5 m/s²
		b = v.Balance(v.Apply(pressure))
		pressure *= 1 + 0.1*(5-b.Deceleration)
	}
	require.InDelta(t, 5, b.Deceleration, 1e-6)
	moved := 16000 * 5 * 1.3 / 4.2
	assert.InDelta(t, 6000*effort.Gravity+moved, b.Axles[0].Weight, 1)
	assert.InDelta(t, 10000*effort.Gravity-moved, b.Axles[1].Weight, 1)
}

func TestAVehicleWithoutATable(t *testing.T) {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	c.Vehicle = circuit.Vehicle{}
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	v, err := effort.New(n, nil)
	require.NoError(t, err)
	e := v.Apply(100 * psi)
	assert.Positive(t, e[0].CamTorque)
	assert.Zero(t, e[0].WheelForce, "no tyre radius is known")
	assert.True(t, math.IsNaN(v.Balance(e).Deceleration))
	assert.False(t, v.Parking().Pass())
}
