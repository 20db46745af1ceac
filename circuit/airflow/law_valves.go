package airflow

import (
	"airpath/circuit"
)

// relayLap is how far a relay's delivery may rise before its exhaust opens, once the inlet has shut. It is smaller than the
// crack pressure, so that at rest, with neither control nor delivery, the exhaust stands open. Engineering judgement.
const relayLap = 1 * psi

// relayEven is the control pressure at which delivery has made up for the crack pressure: the delivered air works on a little
// less of the piston than the control air does. Above it a relay stands wide open to a supply that is no higher than its
// control, as at a full application. Engineering judgement.
const relayEven = 90 * psi

// relayLaw: delivery follows control, less the crack pressure:
//
//	asked = control·(1 + crack/relayEven) − crack     (above the atmosphere)
//
// It fills below that, exhausts above (asked + lap), and is lapped between.
var relayLaw = Law{
	Build: func(b *Builder) {
		for _, room := range []string{"1", "2", "4"} {
			b.Volume(room, valveRoom)
		}
		c, crack, span := b.Value("conductance"), b.Value("crack"), b.Value("span")
		gain := 1 + crack/relayEven
		// asked, absolute, is gain·control − less.
		less := crack + (gain-1)*circuit.AtmospherePressure
		b.Passage("inlet seat", c, valveCrit, Opening{Base: -less / span,
			Terms: []Term{{Room: "4", Gain: gain / span}, {Room: "2", Gain: -1 / span}}})
		b.CheckedBack("inlet seat", c, valveCrit, returnCrack, span)
		b.Passage("exhaust seat", c, valveCrit, Opening{Base: (less - min(relayLap, crack/2)) / span,
			Terms: []Term{{Room: "4", Gain: -gain / span}, {Room: "2", Gain: 1 / span}}})
	},
	Modes: relayModes,
}

// relayModes are the faults of every part that has a relay in it.
var relayModes = []Mode{
	passing("inlet seat leaking", "inlet seat", holeOf(0.15, 0.6, 2)),
	passing("exhaust seat leaking", "exhaust seat", holeOf(0.15, 0.6, 2)),
	choked("stuck shut", shareOf("share of the inlet that stays shut", 0.7, 0.97, 1), "inlet seat"),
	{Name: "stuck applied", Severity: psiOf("delivery above what the control asks for", 4, 15, 60),
		Apply: func(e *Edit, dp float64) { shiftRelay(e, dp) }},
	{Name: "crack pressure high", Severity: psiOf("above its crack pressure", 3, 10, 25),
		Apply: func(e *Edit, dp float64) { shiftRelay(e, -dp) }},
	passing("control seal leaking", "control seal", holeOf(0.2, 0.8, 2)),
	leaking("control leaking", "4", holeOf(0.15, 0.6, 2)),
	choked("exhaust blocked", shareOf("share of the exhaust that is blocked", 0.15, 0.93, 0.998), "exhaust seat"),
	iced("iced", shareOf("share of both seats that ice closes", 0.15, 0.97, 1), "inlet seat", "exhaust seat"),
}

// shiftRelay moves what a relay delivers by dp, at both seats.
func shiftRelay(e *Edit, dp float64) {
	e.ShiftTerm("inlet seat", "4", dp)
	e.ShiftTerm("exhaust seat", "4", dp)
}

// Set-up of a quick release valve. Engineering judgement: its diaphragm is limp, and hangs open with no air on it.
const (
	quickSpan   = 1 * psi
	limpBelow   = 1.5 * psi // supply pressure that presses the diaphragm on to its exhaust seat
	limpSection = 0.25      // conductance of the exhaust past a limp diaphragm, of the full one
)

// quickReleaseLaw: a diaphragm that supply pressure pushes on to the exhaust seat, letting air past its rim to the brakes.
var quickReleaseLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", valveRoom)
		b.Volume("2", valveRoom)
		c := b.Value("conductance")
		b.Checked("inlet", c, valveCrit, b.Value("crack"), quickSpan)
		b.Passage("exhaust", c, valveCrit, above("2", "1", b.Value("hysteresis"), quickSpan))
		b.Passage("exhaust", limpSection*c, valveCrit, between("1", circuit.AtmospherePressure+limpBelow, circuit.AtmospherePressure))
	},
	Modes: []Mode{
		passing("leaking", "exhaust", holeOf(0.15, 0.6, 2)),
		choked("exhaust blocked", shareOf("share of the exhaust that is blocked", 0.4, 0.93, 0.998), "exhaust"),
		choked("sticking shut", shareOf("share of the way to the brakes that is blocked", 0.5, 0.95, 1), "inlet"),
	},
}

// Set-up of a double check valve. Engineering judgement.
const (
	shuttleLead     = 0.5 * psi // by which one inlet must lead for the shuttle to leave its seat
	throughSection  = 0.6       // conductance of the seat that the shuttle has left, of the full one
	shuttleCrack    = 0.3 * psi // that a supply must have over the outlet before its rim lets air past the shuttle
	besideSection   = 0.25      // conductance past the shuttle while it floats
	shuttleRimSpan  = 1 * psi
	shuttleOutCrack = 1 * psi // by which the outlet must be over an inlet to hold the shuttle off the other's seat
)

// doubleCheckLaw: a shuttle between two inlets. Each seat has three ways, all of them shut while the shuttle floats between two
// inlets and an outlet that are level.
//
// Through the seat that the shuttle has left air goes both ways; what moves the shuttle is the difference of the inlets. Past
// the rim air goes from either supply to the outlet, never back: this feeds while both are nearly equal. And an outlet that is
// over an inlet holds the shuttle off the other inlet's seat, so that it follows the supplies down when they fall together.
//
// Neither supply can drain the other: on such a way the outlet would be lower than the one and higher than the other, and the
// seat of the lower one opens neither by the difference of the inlets nor by that of outlet and higher inlet. And what a
// supply behind a narrow line gives shuts its own way as that supply falls: the shuttle throttles, and does not hunt.
var doubleCheckLaw = Law{
	Build: func(b *Builder) {
		for _, room := range []string{"11", "12", "2"} {
			b.Volume(room, valveRoom)
		}
		c, span := b.Value("conductance"), b.Value("span")
		seat := func(passage, mine, other string) {
			b.Passage(passage, throughSection*c, valveCrit, above(mine, other, shuttleLead, span))
			b.Passage(passage, besideSection*c, valveCrit, above("2", other, shuttleOutCrack, span))
			b.Checked(passage, besideSection*c, valveCrit, shuttleCrack, shuttleRimSpan)
		}
		seat("first seat", "11", "12")
		seat("second seat", "12", "11")
	},
	Modes: []Mode{
		passing("first seat leaking", "first seat", holeOf(0.2, 1, 3)),
		passing("second seat leaking", "second seat", holeOf(0.2, 1, 3)),
		{Name: "stuck on the first supply", Severity: shareOf("share of the shuttle's travel that it does not make", 0.3, 0.99, 1),
			Apply: func(e *Edit, share float64) { stickShuttle(e, "first seat", "second seat", share) }},
		{Name: "stuck on the second supply", Severity: shareOf("share of the shuttle's travel that it does not make", 0.3, 0.99, 1),
			Apply: func(e *Edit, share float64) { stickShuttle(e, "second seat", "first seat", share) }},
	},
}

// stickShuttle keeps one seat open and the other shut.
func stickShuttle(e *Edit, open, shut string, share float64) {
	e.AtLeast(open, share)
	e.Scale(shut, left(share))
}
