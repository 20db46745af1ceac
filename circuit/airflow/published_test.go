package airflow

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

const (
	inch           = 25.4e-3
	cubicFoot      = 0.028316846592
	handbookPSIA   = 14.7 * circuit.PSI // the handbook's atmosphere
	handbookKelvin = 294.26             // 70 °F
)

// discharge is an orifice's air at a gauge pressure as the network has it, in cubic feet of free air a minute at the supply's
// temperature, as the handbook counts.
func discharge(t *testing.T, psi, diameter, coefficient float64) float64 {
	t.Helper()
	d := newBoard()
	supply := d.source("supply")
	d.thermal(supply, 0)
	d.pass("orifice", supply, outside, HoleConductance(diameter, coefficient)*1e8, NozzleCrit, open)
	r := d.start(t, Fine, nil)
	require.NoError(t, r.Fill("supply", atm+psi*circuit.PSI))
	warm(r, "supply", handbookKelvin)
	return r.VentFlow("orifice") * GasConstant * handbookKelvin / handbookPSIA * 60 / cubicFoot
}

// warm brings a thermal room to a temperature at its pressure.
func warm(r *Run, room string, kelvin float64) {
	i := r.plan.roomIndex[room]
	u, q := r.network.unknown[i], r.network.warmth[i]
	r.s.x[q] = r.s.x[u] * ReferenceK / kelvin
	r.s.pressures(r.s.x, r.s.p, r.s.capacity)
	r.s.begun = false
}

// STANDARDS.md section 7: discharge of free air through an orifice, coefficient 1.00 (a compressed-air handbook's table,
// seen). Rows up to 12 psi are below the critical ratio, the others choked.
func TestHandbookOrificeTable(t *testing.T) {
	sixteenths := []float64{0.25, 0.5, 1, 2, 4, 6, 8} // 1/64, 1/32, 1/16, 1/8, 1/4, 3/8, 1/2 in
	table := []struct {
		psi float64
		cfm [7]float64
	}{
		{1, [7]float64{.028, .112, .450, 1.80, 7.18, 16.2, 28.7}},
		{5, [7]float64{.062, .248, .993, 3.97, 15.9, 35.7, 63.5}},
		{12, [7]float64{.095, .379, 1.52, 6.07, 24.3, 54.6, 97.0}},
		{15, [7]float64{.105, .420, 1.68, 6.72, 26.9, 60.5, 108}},
		{20, [7]float64{.123, .491, 1.96, 7.86, 31.4, 70.7, 126}},
		{30, [7]float64{.158, .633, 2.53, 10.1, 40.5, 91.1, 162}},
		{40, [7]float64{.194, .774, 3.10, 12.4, 49.6, 112, 198}},
		{60, [7]float64{.264, 1.06, 4.23, 16.9, 67.6, 152, 271}},
		{80, [7]float64{.335, 1.34, 5.36, 21.4, 85.7, 193, 343}},
		{90, [7]float64{.370, 1.48, 5.92, 23.7, 94.8, 213, 379}},
		{100, [7]float64{.406, 1.62, 6.49, 26.0, 104, 234, 415}},
		{110, [7]float64{.441, 1.76, 7.05, 28.2, 113, 254, 452}},
		{120, [7]float64{.476, 1.91, 7.62, 30.5, 122, 274, 488}},
		{125, [7]float64{.494, 1.98, 7.90, 31.6, 126, 284, 506}},
	}
	worst := 0.0
	for _, row := range table {
		for i, cfm := range row.cfm {
			ours := discharge(t, row.psi, sixteenths[i]/16*inch, 1)
			assert.InEpsilon(t, cfm, ours, 0.01, "%g psi, %g/16 in", row.psi, sixteenths[i])
			worst = max(worst, math.Abs(ours/cfm-1))
		}
	}
	t.Logf("worst of %d entries: %.2f %%", len(table)*len(sixteenths), 100*worst)
}

// STANDARDS.md section 5, ISO 6358-1: C = 1e-8 m³/(s·Pa), p1 = 7 bar absolute, 293.15 K, b = 0.3: choked 8.295e-3 kg/s; at
// p2/p1 = 0.65 times 0.8660, 7.184e-3 kg/s (derived).
func TestISO6358(t *testing.T) {
	for _, row := range []struct{ ratio, kgPerS float64 }{{0.1, 8.295e-3}, {0.3, 8.295e-3}, {0.65, 7.184e-3}} {
		d := newBoard()
		d.pass("restriction", d.source("from"), d.source("to"), 1, 0.3, open)
		r := d.start(t, Fine, nil)
		require.NoError(t, r.Fill("from", 7e5))
		require.NoError(t, r.Fill("to", 7e5*row.ratio))
		assert.InEpsilon(t, row.kgPerS, r.PassageFlow("restriction"), 5e-4, "p2/p1 = %g", row.ratio)
		// The other way round the same.
		require.NoError(t, r.Fill("to", 7e5))
		require.NoError(t, r.Fill("from", 7e5*row.ratio))
		assert.InEpsilon(t, -row.kgPerS, r.PassageFlow("restriction"), 5e-4)
	}
}

// The ellipse with b = 0.52828 against the isentropic nozzle: within 0.16 % of choked flow (SIMULATION.md 1.1, largest
// deviation 0.001516), worked out here from the nozzle's own formula.
func TestEllipseAgainstNozzle(t *testing.T) {
	nozzle := func(r float64) float64 {
		if r <= NozzleCrit {
			return 1
		}
		g := HeatRatio
		f := math.Sqrt(2 * g / (g - 1) * (math.Pow(r, 2/g) - math.Pow(r, (g+1)/g)))
		return f / nozzleFlow
	}
	assert.InDelta(t, 0.68473146, nozzleFlow, 1e-8)
	assert.InDelta(t, math.Pow(2/(HeatRatio+1), HeatRatio/(HeatRatio-1)), NozzleCrit, 1e-12)
	worst := 0.0
	for r := 0.4; r < 1; r += 0.001 {
		phi := through(1, r, 1/(1-NozzleCrit), 1e-9, 1)
		worst = max(worst, math.Abs(phi-nozzle(r)))
	}
	assert.InDelta(t, 0.001516, worst, 2e-5)
	// One square millimetre passes 0.199195 dm³/(s·bar).
	assert.InEpsilon(t, 0.199195, HoleConductance(2e-3/math.Sqrt(math.Pi), 1)*1e8, 1e-6)
}

// The derivative that the solver works with is the ellipse's own.
func TestEllipseSlope(t *testing.T) {
	top := math.Sqrt(1 + defaultSmoothing)
	for r := 0.1; r < 1; r += 0.01 {
		for _, b := range []float64{0.05, 0.3, 0.52} {
			const h = 1e-6
			up := through(1, r+h, 1/(1-b), defaultSmoothing, top)
			down := through(1, r-h, 1/(1-b), defaultSmoothing, top)
			f, d2 := throughSlope(1, r, 1/(1-b), defaultSmoothing, top)
			assert.InEpsilon(t, through(1, r, 1/(1-b), defaultSmoothing, top), f, 1e-14)
			assert.InDelta(t, (up-down)/(2*h), d2, 1e-4, "by p2: r %g, b %g", r, b)
			up, down = through(1+h, r, 1/(1-b), defaultSmoothing, top), through(1-h, r, 1/(1-b), defaultSmoothing, top)
			assert.InDelta(t, (up-down)/(2*h), f-r*d2, 1e-4, "by p1: r %g, b %g", r, b)
		}
	}
}

// STANDARDS.md section 5: the trailer simulator of EU 2015/68 Annex III 4 and UN R13 Annex 6 3.3. A 30 L tank at 650 kPa, not
// recharged, feeds through an orifice a pipe of 385 cm³ with a vessel at its end. With a vessel of 385 cm³ the pressure there
// goes from 65 to 490 kPa in 0.2 ± 0.01 s; one of 1 155 cm³ takes twice as long, by geometry. The orifice is 4.0 to 4.3 mm.
func TestTrailerSimulator(t *testing.T) {
	for _, row := range []struct{ diameter, coefficient, small, large float64 }{{4.3e-3, 0.8, 0.196, 0.398}, {4.0e-3, 0.9, 0.202, 0.409}} {
		t.Run(fmt.Sprintf("%.1f mm", row.diameter*1e3), func(t *testing.T) {
			seconds := func(vessel float64) float64 {
				d := newBoard()
				tank, pipe := d.room("tank", 30e-3), d.room("pipe", 385e-6+vessel)
				d.pass("orifice", tank, pipe, HoleConductance(row.diameter, row.coefficient)*1e8, NozzleCrit, open)
				r := d.start(t, Fine, nil)
				require.NoError(t, r.Fill("tank", atm+650e3))
				from := until(t, r, 5, Event{Room: "pipe", Level: atm + 65e3, Rising: true})
				return until(t, r, 5, Event{Room: "pipe", Level: atm + 490e3, Rising: true}) - from
			}
			small, large := seconds(385e-6), seconds(1155e-6)
			assert.InDelta(t, 0.2, small, 0.01, "first calibration")
			assert.InDelta(t, row.small, small, 0.002, "as derived")
			assert.InDelta(t, row.large, large, 0.004, "as derived")
			assert.InDelta(t, 2, large/small, 0.05)
		})
	}
}

// STANDARDS.md section 5: 49 CFR 571.106 S8.7.2(g), (h): 150 psi through a hole of 0.0625 in must bring a hose to 140 psi.
// The largest leak that lets it is a hole of 0.0452 in at the same coefficient, and 4.59 cubic feet a minute pass (derived).
func TestHoseLeakTest(t *testing.T) {
	d := newBoard()
	hose := d.room("hose", 1e-3)
	d.pass("feed", d.source("supply"), hose, HoleConductance(0.0625*inch, 1)*1e8, NozzleCrit, open)
	d.pass("leak", hose, outside, HoleConductance(0.0452*inch, 1)*1e8, NozzleCrit, open)
	r := d.start(t, Fine, map[string]float64{"supply": 150})
	require.NoError(t, r.Advance(120))
	assert.InDelta(t, 140, toPSI(r.Pressure("hose")), 0.5)
	cfm := r.VentFlow("leak") * GasConstant * ReferenceK / handbookPSIA * 60 / cubicFoot
	assert.InEpsilon(t, 4.59, cfm, 0.01)
}

// STANDARDS.md section 7: choked flow of air is 0.040415·p·A/√T kg/s (derived), and 1 mm drains 10 L with a time constant of
// 64.1 s while choked.
func TestChokedFlow(t *testing.T) {
	const d = 1e-3
	area := math.Pi / 4 * d * d
	rate := HoleConductance(d, 1) * ReferenceDensity * 8e5
	assert.InEpsilon(t, 0.040415*8e5*area/math.Sqrt(ReferenceK), rate, 1e-4)
	assert.InEpsilon(t, 64.1, 10e-3/(HoleConductance(d, 1)*perConductance), 1e-3)
}
