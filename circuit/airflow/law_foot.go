package airflow

import (
	"airpath/circuit"
)

// Set-up of a foot valve. Engineering judgement.
const (
	freePlay      = 10 * psi // demand below the atmosphere with the pedal up: it must travel that far before it delivers
	byHandLater   = 10 * psi // the pedal has to go this much further to push the secondary by hand
	returnCrack   = 1 * psi  // a delivery above its supply pushes the inlet open
	byHandSection = 0.5      // conductance of the secondary worked by hand, of the full one
)

// footLaw: the primary delivers what the pedal asks for; its delivery works the secondary from above. Where the primary
// delivers less than the pedal asks for, the rest of the pedal's force reaches the secondary by hand.
//
// The pedal asks for T = atmosphere − freePlay + pedal·(full demand + freePlay). A circuit fills while T is above its
// delivery, exhausts while T is below it by more than the hysteresis, and is lapped between. With the pedal up T lies below
// the atmosphere, so both exhausts stand open.
//
// A delivery may not be left hanging above a supply that has failed under it: what happens then would be decided by
// rounding. So each inlet lets air return once the delivery is above the supply.
var footLaw = Law{
	Build: func(b *Builder) {
		for _, room := range []string{"11", "12", "21", "22"} {
			b.Volume(room, valveRoom)
		}
		c, span, lap := b.Value("conductance"), b.Value("span"), b.Value("hysteresis")
		zero := circuit.AtmospherePressure - freePlay
		travel := b.Value("full_demand") - zero

		asked := func(rooms []Term, less float64) Opening {
			return Opening{Base: (zero - less) / span, Terms: append([]Term{{Control: "pedal", Gain: travel / span}}, rooms...)}
		}
		letOut := func(room string) Opening {
			return Opening{Base: -(zero + lap) / span, Terms: []Term{{Control: "pedal", Gain: -travel / span}, {Room: room, Gain: 1 / span}}}
		}

		b.Passage("primary inlet", c, valveCrit, asked([]Term{{Room: "21", Gain: -1 / span}}, 0))
		b.CheckedBack("primary inlet", c, valveCrit, returnCrack, span)
		b.Passage("primary exhaust", c, valveCrit, letOut("21"))

		b.Passage("secondary inlet", c, valveCrit, above("21", "22", b.Value("offset"), span))
		// By hand: T − (primary delivery) − byHandLater, all above the atmosphere.
		b.Passage("secondary inlet", byHandSection*c, valveCrit,
			asked([]Term{{Room: "21", Gain: -1 / span}, {Room: "22", Gain: -1 / span}}, byHandLater-circuit.AtmospherePressure))
		b.CheckedBack("secondary inlet", c, valveCrit, returnCrack, span)
		b.Passage("secondary exhaust", c, valveCrit, letOut("22"))
	},
	Modes: []Mode{
		passing("primary inlet seat leaking", "primary inlet", holeOf(0.15, 0.6, 2)),
		passing("secondary inlet seat leaking", "secondary inlet", holeOf(0.15, 0.6, 2)),
		passing("primary exhaust seat leaking", "primary exhaust", holeOf(0.15, 0.6, 2)),
		passing("secondary exhaust seat leaking", "secondary exhaust", holeOf(0.15, 0.6, 2)),
		{Name: "primary delivering low", Severity: shareOf("share of the demand that is missing", 0.1, 0.4, 0.8),
			Apply: func(e *Edit, share float64) {
				e.ScaleTerm("primary inlet", "pedal", left(share))
				e.ScaleTerm("primary exhaust", "pedal", left(share))
			}},
		{Name: "secondary delivering low", Severity: psiOf("below what it should deliver", 4, 15, 50),
			Apply: func(e *Edit, dp float64) {
				// From above and by hand alike: the primary's delivery helps the one and hinders the other.
				travel := e.Value("full_demand") - circuit.AtmospherePressure + freePlay
				e.ShiftTerm("secondary inlet", "21", -dp)
				e.ShiftTerm("secondary inlet", "pedal", -2*dp/travel)
			}},
		{Name: "not returning", Severity: psiOf("delivery held with the pedal up", 0.5, 8, 30),
			Apply: func(e *Edit, dp float64) {
				e.ControlRange("pedal", (freePlay+dp)/(e.Value("full_demand")-circuit.AtmospherePressure+freePlay), 1)
			}},
		choked("exhaust blocked", shareOf("share of the exhaust that is blocked", 0.5, 0.93, 0.995), "primary exhaust", "secondary exhaust"),
		passing("leaking between circuits", "between circuits", holeOf(0.3, 1.5, 4)),
		{Name: "free play too large", Severity: shareOf("share of the pedal's travel lost", 0.05, 0.25, 0.5),
			Apply: func(e *Edit, share float64) { shiftPedal(e, -share) }},
		{Name: "free play too small", Severity: psiOf("demand with the pedal up, over the proper one", 5, 11, 25),
			Apply: func(e *Edit, dp float64) {
				shiftPedal(e, dp/(e.Value("full_demand")-circuit.AtmospherePressure+freePlay))
			}},
		{Name: "pedal binding", Severity: shareOf("share of the travel that the linkage stops short of", 0.1, 0.4, 0.7),
			Apply: func(e *Edit, share float64) { e.ControlRange("pedal", 0, left(share)) }},
	},
}

// shiftPedal moves the pedal's rod by a share of its travel, at every seat that it works.
func shiftPedal(e *Edit, share float64) {
	for _, passage := range []string{"primary inlet", "primary exhaust", "secondary inlet", "secondary exhaust"} {
		e.ShiftTerm(passage, "pedal", share)
	}
}
