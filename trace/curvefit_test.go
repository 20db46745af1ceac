package trace

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// aReservoir is one vessel by itself, its air held at the temperature of its wall.
func aReservoir(t *testing.T, litres float64) *airflow.Network {
	t.Helper()
	c, err := circuit.Read("vessel.toml", []byte(fmt.Sprintf(`airpath = 1
name = "vessel"
title = "a vessel by itself"
class = "truck"
[engine]
idle = "600 rpm"
rated = "1500 rpm"
[sheet]
size = [40, 30]
[[component]]
id = "tank"
kind = "reservoir"
name = "vessel"
place = "board"
at = [20, 14]
volume = "%g L"
wall_heat = "100 W/K"
`, litres)))
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	return n
}

// fittedHole fits the hole of a leaking vessel to pressures recorded at some times.
func fittedHole(t *testing.T, n *airflow.Network, seconds, measured []float64, from float64) (hole, sigma float64) {
	t.Helper()
	weight := make([]float64, len(seconds))
	for i := range weight {
		weight[i] = 1 / (leastNoise * leastNoise)
	}
	at := func(x float64) ([]float64, error) { // from 0.1 mm to 4 mm
		size := 0.1e-3 * math.Pow(40, x)
		r, err := n.Start([]airflow.Fault{{Target: "tank", Mode: "leaking", Severity: size}}, airflow.Scatter{})
		if err != nil {
			return nil, err
		}
		if err := r.Fill("tank.air", from); err != nil {
			return nil, err
		}
		var out []float64
		now := 0.0
		for _, s := range seconds {
			if s > now {
				if err := r.Advance(s - now); err != nil {
					return nil, err
				}
				now = s
			}
			out = append(out, r.Pressure("tank.air"))
		}
		return out, nil
	}
	x, spread, _, err := newton(newFit(measured, weight, nil), at, 0.5)
	require.NoError(t, err)
	return 0.1e-3 * math.Pow(40, x), spread * math.Log(40)
}

// A blow-down of 24.5 L from 120 psi through C = 0.2 dm3/(s bar), isothermal and choked: p = p0·exp(−K·t), K = C·rho0·R·T0/V
// (ISO 6358; in the measurements of the air-flow core as V2, which prints 19.7461105 s for 100, 72.4308287 s for 60 and
// 110.7149080 s for 40 psi). The fit must give back the hole whose conductance that is.
func TestAClosedFormBlowDownGivesBackItsHole(t *testing.T) {
	n := aReservoir(t, 24.5)
	from := circuit.AtmospherePressure + 120*circuit.PSI
	seconds, measured := []float64{0}, []float64{from}
	for _, p := range [][2]float64{{19.7461105, 100}, {72.4308287, 60}, {110.7149080, 40}} {
		seconds, measured = append(seconds, p[0]), append(measured, circuit.AtmospherePressure+p[1]*circuit.PSI)
	}
	hole, _ := fittedHole(t, n, seconds, measured, from)
	want := airflow.HoleDiameter(0.2e-8, airflow.SharpHole)
	assert.InEpsilon(t, want, hole, 0.01, "the hole of C = 0.2: %.4f mm, fitted %.4f mm", 1e3*want, 1e3*hole)
}

// A fall of 2 psi a minute on 60 L at 120 psi is C = 0.0148905 dm3/(s bar), a hole of 0.30851 mm with a coefficient of 1 (V9 of
// the same measurements), and so 0.30851/√0.65 mm with a sharp edge.
func TestAClosedFormLeakDownGivesBackItsHole(t *testing.T) {
	n := aReservoir(t, 60)
	from := circuit.AtmospherePressure + 120*circuit.PSI
	// Isothermal and choked, so that the rate falls with the pressure.
	k := 2 * circuit.PSI / 60 / from
	var seconds, measured []float64
	for s := 0.0; s <= 300; s += 10 {
		seconds, measured = append(seconds, s), append(measured, from*math.Exp(-k*s))
	}
	hole, sigma := fittedHole(t, n, seconds, measured, from)
	want := 0.30851e-3 / math.Sqrt(airflow.SharpHole)
	assert.InEpsilon(t, want, hole, 0.01, "%.4f mm, fitted %.4f mm", 1e3*want, 1e3*hole)
	assert.Positive(t, sigma)
}

// What is free is summed out as it should be: the projected misfit is that of the best values of what is free, prior included,
// found by brute force.
func TestFreeParametersAreSummedOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 8).Draw(t, "samples")
		value := rapid.Float64Range(-3, 3)
		measured := rapid.SliceOfN(value, n, n).Draw(t, "measured")
		column := rapid.SliceOfN(value, n, n).Draw(t, "column")
		weight := rapid.SliceOfN(rapid.Float64Range(0.1, 2), n, n).Draw(t, "weight")
		f := newFit(measured, weight, [][]float64{column})
		zero := make([]float64, n)
		best := math.Inf(1)
		cost := func(z float64) float64 {
			s := z * z
			for i := range n {
				r := measured[i] - z*column[i]
				s += weight[i] * r * r
			}
			return s
		}
		for z := -10.0; z <= 10; z += 1e-3 {
			best = min(best, cost(z))
		}
		require.InDelta(t, best, f.misfit(zero), 1e-3)
	})
}

// The stretch between two curves is integrated as a sum over many shares would be.
func TestOverAStretch(t *testing.T) {
	f := newFit([]float64{1, 2, 3}, []float64{4, 4, 4}, nil)
	from, to := []float64{0, 1, 2}, []float64{3, 4, 5}
	sum := 0.0
	const steps = 20000
	for i := range steps {
		u := 0.2 + 0.6*(float64(i)+0.5)/steps
		c := make([]float64, 3)
		for k := range c {
			c[k] = from[k] + u*(to[k]-from[k])
		}
		sum += math.Exp(-f.misfit(c) / 2)
	}
	assert.InDelta(t, math.Log(sum/steps), f.over(from, to, 0.2, 0.8, 1), 1e-2)
}
