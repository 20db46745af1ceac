package airflow

import (
	"airpath/circuit"
)

// handPlay is how far the lever's demand lies below the atmosphere at rest. Engineering judgement.
const handPlay = 5 * psi

// handLaw: like one circuit of a foot valve. The lever asks for T = atmosphere − play + lever·(full demand + play).
var handLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", valveRoom)
		b.Volume("2", valveRoom)
		c, span, lap := b.Value("conductance"), b.Value("span"), b.Value("hysteresis")
		zero := circuit.AtmospherePressure - handPlay
		travel := b.Value("full_demand") - zero
		b.Passage("inlet", c, valveCrit, Opening{Base: zero / span, Terms: []Term{{Control: "lever", Gain: travel / span}, {Room: "2", Gain: -1 / span}}})
		b.CheckedBack("inlet", c, valveCrit, returnCrack, span)
		b.Passage("exhaust", c, valveCrit, Opening{Base: -(zero + lap) / span, Terms: []Term{{Control: "lever", Gain: -travel / span}, {Room: "2", Gain: 1 / span}}})
	},
	Modes: []Mode{
		passing("inlet seat leaking", "inlet", holeOf(0.15, 0.6, 2)),
		passing("exhaust seat leaking", "exhaust", holeOf(0.15, 0.6, 2)),
		{Name: "delivering low", Severity: shareOf("share of the demand that is missing", 0.1, 0.4, 0.8),
			Apply: func(e *Edit, share float64) {
				e.ScaleTerm("inlet", "lever", left(share))
				e.ScaleTerm("exhaust", "lever", left(share))
			}},
		{Name: "not returning", Severity: psiOf("delivery held with the lever back", 2, 8, 30),
			Apply: func(e *Edit, dp float64) {
				e.ControlRange("lever", (handPlay+dp)/(e.Value("full_demand")-circuit.AtmospherePressure+handPlay), 1)
			}},
		choked("exhaust blocked", shareOf("share of the exhaust that is blocked", 0.5, 0.95, 0.998), "exhaust"),
	},
}
