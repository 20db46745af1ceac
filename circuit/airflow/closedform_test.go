package airflow

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// The cases V1 to V13 of SIMULATION.md section 4, each against its closed form, worked out here from the formula that is
// given there; the numbers printed there are asserted beside it where there are some. Tolerance on a gauge: 0.03 psi.
const onGauge = 0.03

const atm = circuit.AtmospherePressure

// simpson integrates f.
func simpson(f func(float64) float64, a, b float64) float64 {
	const n = 4000
	h := (b - a) / n
	sum := f(a) + f(b)
	for i := 1; i < n; i++ {
		if i%2 == 1 {
			sum += 4 * f(a+float64(i)*h)
		} else {
			sum += 2 * f(a+float64(i)*h)
		}
	}
	return sum * h / 3
}

// V1: isothermal fill of 24.5 L through C = 0.5, b = 0.4 from 120 psi.
func TestIsothermalFill(t *testing.T) {
	const v, c, b = 24.5e-3, 0.5, 0.4
	ps := atPSI(120)
	k := c * 1e-8 * perConductance / v
	assert.InDelta(t, 0.020350249, k, 1e-9, "K as printed")
	t1 := (b*ps - atm) / (k * ps)
	exactly := func(time float64) float64 {
		if time <= t1 {
			return atm + k*ps*time
		}
		return ps * (b + (1-b)*math.Sin(k*(time-t1)/(1-b)))
	}
	assert.InDelta(t, 14.294439, t1, 1e-6)
	printed := map[float64]float64{5: 13.7054802, 10: 27.4109605, 15: 41.1162562, 20: 54.7244912, 25: 67.8868191, 30: 80.2256080}
	d := newBoard()
	d.pass("orifice", d.source("supply"), d.room("tank", v), c, b, open)
	for _, o := range []Options{Fine, Coarse} {
		r := d.start(t, o, map[string]float64{"supply": 120})
		for time := 5.0; time <= 60; time += 5 {
			require.NoError(t, r.Advance(5))
			assert.InDelta(t, toPSI(exactly(time)), toPSI(r.Pressure("tank")), onGauge, "psi after %g s", time)
			if p, ok := printed[time]; ok {
				assert.InDelta(t, p, toPSI(exactly(time)), 1e-6, "the closed form against the print, after %g s", time)
			}
		}
	}
}

// blowDown is V2's closed form: seconds until the pressure has fallen from p0 to p through an isothermal orifice of rate k.
func blowDown(p0, p, k, b float64) float64 {
	if p*b >= atm {
		return math.Log(p0/p) / k
	}
	c := 1 - b
	s := math.Sqrt(c*c - b*b)
	i := func(th float64) float64 {
		tan := b * math.Tan(th/2)
		return math.Log(math.Abs((tan+c-s)/(tan+c+s))) / s
	}
	th := math.Asin((atm/p - b) / c)
	t1 := math.Log(p0*b/atm) / k
	return t1 + c/k*(i(th)-i(0))
}

// V2: isothermal blow-down of 24.5 L through C = 0.2, b = 0.3. A level is reached within 0.05 s of its time or the pressure
// at that time is within the tolerance.
func TestIsothermalBlowDown(t *testing.T) {
	const v, c, b = 24.5e-3, 0.2, 0.3
	k := c * 1e-8 * perConductance / v
	d := newBoard()
	d.pass("orifice", d.room("tank", v), outside, c, b, open)
	r := d.start(t, Fine, map[string]float64{"tank": 120})
	for _, row := range []struct{ psi, seconds float64 }{
		{100, 19.7461105}, {60, 72.4308287}, {40, 110.7149080}, {30, 135.5219839}, {20, 166.8358605}, {10, 210.6625076}, {5, 243.5184245}, {1, 289.1915623},
	} {
		at := blowDown(atPSI(120), atPSI(row.psi), k, b)
		assert.InDelta(t, row.seconds, at, 1e-5, "the closed form against the print, %g psi", row.psi)
		require.NoError(t, r.Advance(at-r.Time()))
		assert.InDelta(t, row.psi, toPSI(r.Pressure("tank")), onGauge)
	}
	require.NoError(t, r.Advance(326.9868956-r.Time()))
	assert.InDelta(t, 0, toPSI(r.Pressure("tank")), onGauge)
}

// V3: two rooms come to one pressure; isothermal and adiabatic alike, with the temperatures of the latter.
func TestEqualising(t *testing.T) {
	const v1, v2 = 24.5e-3, 11e-3
	p1, p2 := atPSI(120), atPSI(40)
	pf := (p1*v1 + p2*v2) / (v1 + v2)
	for _, thermal := range []bool{false, true} {
		t.Run(fmt.Sprintf("thermal %v", thermal), func(t *testing.T) {
			d := newBoard()
			a, b := d.room("first", v1), d.room("second", v2)
			if thermal {
				d.thermal(a, 0)
				d.thermal(b, 0)
			}
			d.pass("between", a, b, 2, 0.3, open)
			r := d.start(t, Fine, map[string]float64{"first": 120, "second": 40})
			m0 := r.Mass()
			assert.InEpsilon(t, 0.319687823, m0, 1e-8, "mass as printed")
			require.NoError(t, r.Advance(60))
			assert.InDelta(t, 95.2112676, toPSI(pf), 1e-7, "pressure as printed")
			assert.InDelta(t, toPSI(pf), toPSI(r.Pressure("first")), 1e-3)
			assert.InDelta(t, toPSI(pf), toPSI(r.Pressure("second")), 1e-3)
			assert.InEpsilon(t, m0, r.Mass(), 1e-14, "mass")
			if thermal {
				// The air that stays in the first room has expanded reversibly: T1 = T0·(pf/p1)^((γ−1)/γ).
				t1 := ReferenceK * math.Pow(pf/p1, (HeatRatio-1)/HeatRatio)
				m1 := pf * v1 / (GasConstant * t1)
				t2 := pf * v2 / (GasConstant * (m0 - m1))
				assert.InDelta(t, 276.600674, t1, 1e-5)
				assert.InDelta(t, 338.221461, t2, 1e-5)
				assert.InDelta(t, t1, r.Temperature("first"), 0.1)
				assert.InDelta(t, t2, r.Temperature("second"), 0.2)
			}
		})
	}
}

// V4: adiabatic choked blow-down. μ = m/m0 = (1 + 0.2·κ·t)^−5, p = p0·μ^1.4, T = Ti·μ^0.4.
func TestAdiabaticBlowDown(t *testing.T) {
	const v, c = 24.5e-3, 0.2
	kappa := c * 1e-8 * perConductance / v
	d := newBoard()
	tank := d.room("tank", v)
	d.thermal(tank, 0)
	d.pass("orifice", tank, outside, c, 0.3, open)
	r := d.start(t, Fine, map[string]float64{"tank": 120})
	for _, row := range []struct{ seconds, psi, kelvin float64 }{{10, 105.602572, 283.833054}, {30, 81.773126, 266.483866}, {50, 63.187860, 250.678085}} {
		mu := math.Pow(1+0.2*kappa*row.seconds, -5)
		p, kelvin := atPSI(120)*math.Pow(mu, 1.4), ReferenceK*math.Pow(mu, 0.4)
		assert.InDelta(t, row.psi, toPSI(p), 1e-5, "the closed form against the print")
		assert.InDelta(t, row.kelvin, kelvin, 1e-5)
		require.NoError(t, r.Advance(row.seconds-r.Time()))
		assert.InDelta(t, toPSI(p), toPSI(r.Pressure("tank")), onGauge)
		assert.InDelta(t, kelvin, r.Temperature("tank"), 0.03)
	}
}

// V5: adiabatic fill from the atmosphere with air of Ts: T = γ·Ts/(1 + (pa/p)·(γ·Ts/T0 − 1)); and what the gauge shows after
// the air has cooled down again.
func TestAdiabaticFill(t *testing.T) {
	d := newBoard()
	tank := d.room("tank", 24.5e-3)
	d.thermal(tank, 0)
	d.pass("orifice", d.source("supply"), tank, 0.5, 0.4, open)
	r := d.start(t, Fine, map[string]float64{"supply": 200})
	for _, row := range []struct{ psi, kelvin, cooled float64 }{{30, 362.707029, 21.428571}, {60, 380.468134, 42.857143}, {120, 393.247935, 85.714286}} {
		kelvin := HeatRatio * ReferenceK / (1 + atm/atPSI(row.psi)*(HeatRatio-1))
		assert.InDelta(t, row.kelvin, kelvin, 1e-5, "the closed form against the print")
		until(t, r, 600, Event{Room: "tank", Level: atPSI(row.psi), Rising: true})
		assert.InDelta(t, kelvin, r.Temperature("tank"), 0.05)
		assert.InDelta(t, row.cooled, toPSI(r.Pressure("tank")*ReferenceK/r.Temperature("tank")), 0.02)
	}
}

// compressorV6 pumps straight from the atmosphere: 13.2 cfm displaced, clearance 0.06, efficiency 0.92.
func (d *board) compressorV6(to int32, loaded opening) {
	const cfm = 0.028316846592 / 60
	k := d.p.passage("pump", "board", "pump")
	d.p.pumps = append(d.p.pumps, pump{
		passage: k, from: outside, to: to, displacement: 13.2 * cfm / 20, clearance: 0.06, efficiency: 0.92, ratio: 1,
		speed: d.p.controlIndex[Engine], opening: loaded,
	})
}

// pumpUp is V6's integral: seconds for the pump to take 60 L from one gauge pressure to another, with a leak beside it.
func pumpUp(from, to, leakC float64) float64 {
	const q, v = 13.2 * 0.028316846592 / 60, 60e-3
	return simpson(func(p float64) float64 {
		r := p / atm
		in := q * atm * 0.92 * (1.06 - 0.06*math.Pow(r, 0.75))
		return v / (in - leakC*perConductance*p)
	}, atPSI(from), atPSI(to))
}

// V6 with n = 4/3.
func TestPumpUp(t *testing.T) {
	for _, row := range []struct{ from, to, printed float64 }{{0, 120, 99.9316275}, {85, 100, 13.4635917}, {50, 90, 34.0600432}} {
		assert.InDelta(t, row.printed, pumpUp(row.from, row.to, 0), 1e-4)
	}
	d := newBoard()
	d.compressorV6(d.room("tank", 60e-3), open)
	r := d.start(t, Fine, nil)
	require.NoError(t, r.Set(Engine, 20, 0))
	last := 0.0
	for _, level := range []float64{50, 85, 90, 100, 120} {
		at := until(t, r, 200, Event{Room: "tank", Level: atPSI(level), Rising: true})
		assert.InDelta(t, pumpUp(0, level, 0), at, 0.03, "seconds to %g psi", level)
		assert.Greater(t, at, last)
		last = at
	}
}

// V7: a 24.5 L reservoir feeds two chambers, each application from the atmosphere. Boyle, with the chambers' own V(p).
func TestDrawDown(t *testing.T) {
	const cubicInch = 1.6387064e-5
	wall := Piston{Gauge: []float64{3 * circuit.PSI, 9 * circuit.PSI, 110 * circuit.PSI}, Volume: []float64{0, 42 * cubicInch, 55.5 * cubicInch}}
	const void, tank = 12 * cubicInch, 24.5e-3
	chamber := func(p float64) float64 { return void + wall.volume(p-atm) }
	// One such chamber at 6, 60 and 110 psi, as printed.
	for _, row := range []struct{ psi, volume, mass float64 }{{6, 33, 9.17005549e-4}, {60, 60.816832, 6.09948998e-3}, {110, 67.5, 1.13013103e-2}} {
		assert.InEpsilon(t, row.volume, chamber(atPSI(row.psi))/cubicInch, 1e-7)
		assert.InEpsilon(t, row.mass, atPSI(row.psi)*chamber(atPSI(row.psi))/perKilogram, 1e-7)
	}
	printed := []float64{109.079810, 99.246273, 90.364495, 82.320368, 75.016740, 68.370393, 62.309644, 56.772426, 51.704737, 47.059379}

	d := newBoard()
	feed, exhaust := d.control("feed"), d.control("exhaust")
	res := d.room("tank", tank)
	for _, name := range []string{"left", "right"} {
		c := d.room(name, void)
		d.p.rooms[c].piston = wall
		d.pass("feed "+name, res, c, 8, 0.3, worksWith(feed))
		d.pass("exhaust "+name, c, outside, 8, 0.3, worksWith(exhaust))
	}
	r := d.start(t, Fine, map[string]float64{"tank": 120})
	p := atPSI(120)
	for i, row := range printed {
		// Air in the tank and in two chambers at the atmosphere, shared out at one pressure.
		air := p*tank + 2*atm*void
		low, high := atm, p
		for range 200 {
			mid := (low + high) / 2
			if mid*(tank+2*chamber(mid)) < air {
				low = mid
			} else {
				high = mid
			}
		}
		p = low
		assert.InDelta(t, row, toPSI(p), 1e-5, "the closed form against the print, application %d", i+1)
		require.NoError(t, r.Set("feed", 1, 0.1))
		require.NoError(t, r.Advance(10))
		assert.InDelta(t, toPSI(p), toPSI(r.Pressure("tank")), onGauge, "application %d", i+1)
		require.NoError(t, r.Set("feed", 0, 0.1))
		require.NoError(t, r.Advance(1))
		require.NoError(t, r.Set("exhaust", 1, 0.1))
		require.NoError(t, r.Advance(20))
		require.NoError(t, r.Set("exhaust", 0, 0.1))
		require.NoError(t, r.Advance(1))
	}
}

// V9: the hole that is 2 psi a minute on 60 L at 120 psi.
func TestLeakSize(t *testing.T) {
	rate := 2 * circuit.PSI / 60
	c := 60e-3 * rate / perConductance / atPSI(120)
	assert.InEpsilon(t, 1.360919e-4, 60e-3*rate/atm, 1e-6, "m³/s at one atmosphere")
	assert.InEpsilon(t, 0.0148905, c*1e8, 1e-5)
	assert.InEpsilon(t, 0.30851e-3, HoleDiameter(c, 1), 1e-4)
	assert.InEpsilon(t, c, HoleConductance(HoleDiameter(c, SharpHole), SharpHole), 1e-12)

	d := newBoard()
	d.pass("leak", d.room("tank", 60e-3), outside, c*1e8, NozzleCrit, open)
	r := d.start(t, Fine, map[string]float64{"tank": 120})
	assert.InEpsilon(t, c*atPSI(120), FreeAir(r.VentFlow("leak")), 1e-9)
	require.NoError(t, r.Advance(1))
	assert.InEpsilon(t, rate, atPSI(120)-r.Pressure("tank"), 1e-3)
}

// V10: a small difference dies away with τ = V1·V2/((V1+V2)·G), whatever the pressure; G is the slope of the smooth ellipse.
func TestSmallDifferences(t *testing.T) {
	const v1, v2, b, eps = 1e-3, 2e-3, 0.3, 1e-3
	g := 1e-8 * perConductance * math.Sqrt(1+eps) * 2 / ((1 - b) * math.Sqrt(eps))
	tau := v1 * v2 / ((v1 + v2) * g)
	assert.InEpsilon(t, 9.01394273e-2, g, 1e-8)
	assert.InEpsilon(t, 7.39595e-3, tau, 1e-5)
	for _, level := range []float64{0, 60, 120} {
		d := newBoard()
		d.pass("between", d.room("first", v1), d.room("second", v2), 1, b, open)
		r := d.start(t, Options{Relative: 1e-10, Absolute: 1e-6, MaxStep: 5, Smoothing: eps}, map[string]float64{"first": level, "second": level})
		require.NoError(t, r.Fill("first", atPSI(level)*(1+1e-6)))
		d0 := r.Pressure("first") - r.Pressure("second")
		require.NoError(t, r.Advance(2*tau))
		assert.InEpsilon(t, math.Exp(-2), (r.Pressure("first")-r.Pressure("second"))/d0, 2e-3, "at %g psi", level)
	}
}

// V12: two orifices in series from 120 psi into the open.
func TestSeriesOrifices(t *testing.T) {
	ps := atPSI(120)
	for _, row := range []struct {
		name         string
		c1, b1, c2   float64
		ratio, kgSec float64
	}{
		{"both choked", 1, 0.5, 2.5, 0.4, 1.100504612e-2},
		{"first subsonic", 1, 0.3, 1, 0.75721555, 8.33319205e-3},
		{"first subsonic, twice as wide", 2, 0.4, 1, 0.93102481, 1.02459710e-2},
	} {
		t.Run(row.name, func(t *testing.T) {
			ratio := row.c1 / row.c2
			if ratio > row.b1 { // the first is not choked: the root of the quadratic
				a, q := 1/((1-row.b1)*(1-row.b1)), row.c2/row.c1
				B, C := -2*row.b1*a, row.b1*row.b1*a-1
				ratio = (-B + math.Sqrt(B*B-4*(a+q*q)*C)) / (2 * (a + q*q))
			}
			assert.InEpsilon(t, row.ratio, ratio, 1e-7)
			assert.InEpsilon(t, row.kgSec, row.c2*1e-8*ReferenceDensity*ps*ratio, 1e-7)
			d := newBoard()
			mid := d.room("between", 0.1e-3)
			d.pass("first", d.source("supply"), mid, row.c1, row.b1, open)
			d.pass("second", mid, outside, row.c2, 0.5, open)
			smoother := Fine
			smoother.Smoothing = 1e-4
			r := d.start(t, smoother, map[string]float64{"supply": 120})
			require.NoError(t, r.Advance(20))
			assert.InDelta(t, toPSI(ps*ratio), toPSI(r.Pressure("between")), onGauge)
			r = d.start(t, Fine, map[string]float64{"supply": 120})
			require.NoError(t, r.Advance(20))
			assert.InDelta(t, toPSI(ps*ratio), toPSI(r.Pressure("between")), onGauge)
			assert.InEpsilon(t, row.kgSec, r.PassageFlow("first"), 1e-3)
			assert.InEpsilon(t, row.kgSec, r.VentFlow("second"), 1e-3)
		})
	}
}

// V13: a governor's cycle on 60 L with a leak, 120 to 100 psi and back.
func TestGovernorCycle(t *testing.T) {
	const leak = 1.489051e-10 // m³/(s·Pa)
	k := leak * perConductance / 60e-3
	falls := math.Log(atPSI(120)/atPSI(100)) / k
	rises := pumpUp(100, 120, leak)
	assert.InEpsilon(t, 2.47470891e-4, k, 1e-6)
	assert.InDelta(t, 649.5120, falls, 1e-2)
	assert.InDelta(t, 19.26306, rises, 1e-4)
	assert.InDelta(t, 2.88035, 100*rises/(rises+falls), 1e-3)

	d := newBoard()
	tank := d.room("tank", 60e-3)
	cut := d.latch("cutout", tank, atPSI(120), atPSI(100))
	d.compressorV6(tank, opening{base: 1, low: 0, high: 1, terms: []term{{latchTerm, cut, -1}}})
	d.pass("leak", tank, outside, leak*1e8, NozzleCrit, open)
	r := d.start(t, Fine, nil)
	require.NoError(t, r.Set(Engine, 20, 0))
	out := until(t, r, 300, Event{Latch: "cutout", Value: true})
	for cycle := range 4 {
		in := until(t, r, 1000, Event{Latch: "cutout", Value: false})
		assert.InDelta(t, falls, in-out, 0.02, "cycle %d", cycle)
		assert.InDelta(t, 100, toPSI(r.Pressure("tank")), 3e-4, "an event lies within 2 Pa of its level")
		out = until(t, r, 1000, Event{Latch: "cutout", Value: true})
		assert.InDelta(t, rises, out-in, 0.02, "cycle %d", cycle)
		assert.InDelta(t, 120, toPSI(r.Pressure("tank")), 3e-4)
	}
}
