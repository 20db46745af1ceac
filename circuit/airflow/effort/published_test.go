package effort_test

import (
	"math"
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow/effort"

	"github.com/stretchr/testify/assert"
)

const (
	psi  = circuit.PSI
	inch = 0.0254
	lbf  = 4.4482216152605
)

// British Columbia's driver manual, p. 159: type 30 at 100 psi (690 kPa) is 3000 lb; p. 175: 2000 lb of spring beside it make
// 5000 lb.
func TestPushRodForce(t *testing.T) {
	area := 30 * inch * inch
	assert.InEpsilon(t, 3000, effort.PushRodForce(area, 100*psi)/lbf, 1e-9)
	assert.InEpsilon(t, 3000, effort.PushRodForce(area, 690e3)/lbf, 1e-3, "kPa are rounded there")
	assert.InEpsilon(t, 5000, (effort.PushRodForce(area, 100*psi)+2000*lbf)/lbf, 1e-9)
	assert.Zero(t, effort.PushRodForce(area, -psi))
}

// Chamber area times arm, in³: from memory (TMC and SAE practice).
func TestALFactor(t *testing.T) {
	for _, row := range [][3]float64{{30, 5.5, 165}, {30, 6, 180}, {24, 5.5, 132}, {20, 5.5, 110}} {
		assert.InEpsilon(t, row[2], effort.ALFactor(row[0]*inch*inch, row[1]*inch)/(inch*inch*inch), 1e-12)
	}
}

// Accident reconstruction worksheet after SAE 910126: 1800 lb on a 5.5 in slack, friction 0.4, drum radius 8.25 in, cam 0.5 in,
// efficiency 0.6, tyre radius 20 in give 3920 lb at the tyre.
func TestCamWorksheet(t *testing.T) {
	f := effort.Foundation{CamRadius: 0.5 * inch, Efficiency: 0.6, Friction: 0.4, DrumRadius: 8.25 * inch, TyreRadius: 20 * inch}
	torque := 1800 * lbf * effort.Lever(5.5*inch, 1.5*inch, 1.5*inch)
	assert.InDelta(t, 3920, f.WheelForce(torque)/lbf, 1, "the worksheet rounds to pounds")
}

// The same worksheet's increments, in: 0.13 from 30 mph, 0.16 from 40, 0.19 from 50, 0.22 from 60, rounded to a hundredth. It
// gives them by speed; its seconds are those of a stop at 0.55 g, which meets all four.
func TestDynamicStroke(t *testing.T) {
	for _, row := range [][2]float64{{30, 0.13}, {40, 0.16}, {50, 0.19}, {60, 0.22}} {
		seconds := row[0] * 0.44704 / (0.55 * effort.Gravity)
		assert.InDelta(t, row[1], effort.DynamicStroke(seconds)/inch, 0.005, "%g mph", row[0])
	}
	assert.InDelta(t, 0.05*inch, effort.DynamicStroke(0), 1e-15)
}

// A right angle gives the whole arm (BC manual p. 159: force falls past it), and by as much to either side.
func TestLever(t *testing.T) {
	arm := 5.5 * inch
	assert.InEpsilon(t, arm, effort.Lever(arm, 0.038, 0.038), 1e-12)
	assert.InEpsilon(t, arm*math.Sin(75*math.Pi/180), effort.Lever(arm, 0.038+arm*15*math.Pi/180, 0.038), 1e-12)
	assert.InEpsilon(t, effort.Lever(arm, 0.01, 0.03), effort.Lever(arm, 0.05, 0.03), 1e-12)
	assert.InDelta(t, 0, effort.Lever(arm, 9, 0), 1e-12, "never beyond a quarter turn")
}

// UN R13 Annex 19: the stroke at which thrust is 90 % of the mean between one third and two thirds. Here 1000 N up to 60 mm, then
// falling by 10 N a millimetre, on 75 mm: 900 N at 70 mm.
func TestEffectiveStroke(t *testing.T) {
	thrust := func(s float64) float64 { return 1000 - 1e4*max(0, s-0.060) }
	assert.InDelta(t, 0.070, effort.EffectiveStroke(0.075, thrust), 3e-5)
	assert.InDelta(t, 0.075, effort.EffectiveStroke(0.075, func(float64) float64 { return 500 }), 1e-12)
}

// 49 CFR 571.121 S5.6.2: a grade of 20 % needs sin(arctan 0.2) of the weight.
func TestGradeHeld(t *testing.T) {
	assert.InEpsilon(t, 0.2, effort.GradeHeld(math.Sin(math.Atan(0.2))), 1e-12)
	assert.True(t, math.IsInf(effort.GradeHeld(1), 1))
}
