package airflow

import (
	"math"
	"slices"

	"airpath/circuit"
)

// trailerSupplyLaw: the trailer's knob is a park control for another line.
var trailerSupplyLaw = parkLaw

// tractorProtectionLaw: the trailer's supply air, which passes straight through, holds the service way open.
var tractorProtectionLaw = Law{
	Build: func(b *Builder) {
		for _, room := range []string{"1", "21", "4", "22"} {
			b.Volume(room, valveRoom)
		}
		c, shuts := b.Value("conductance"), b.Value("shuts_at")
		b.Passage("supply way", c, valveCrit, Open)
		b.Passage("service way", c, valveCrit, between("1", shuts, b.Value("opens_at")))
		// The exhaust opens only once the way is shut.
		b.Passage("exhaust", b.Value("exhaust_conductance"), valveCrit, between("1", shuts, shuts-protectionLap))
	},
	Modes: []Mode{
		{Name: "not shutting", Severity: shareOf("share of the service way that stays open", 0.02, 0.3, 1),
			Apply: func(e *Edit, share float64) { e.AtLeast("service way", share) }},
		{Name: "stuck shut", Severity: shareOf("share of the service way that stays shut", 0.8, 0.98, 1),
			Apply: func(e *Edit, share float64) { e.AtMost("service way", left(share)) }},
		{Name: "shutting early", Severity: psiOf("above its proper pressure", 10, 25, 80),
			Apply: func(e *Edit, dp float64) {
				e.ShiftTerm("service way", "1", -dp)
				e.ShiftTerm("exhaust", "1", -dp)
			}},
		passing("exhaust leaking", "exhaust", holeOf(0.15, 0.6, 2)),
		leaking("supply side leaking", "21", holeOf(0.15, 0.6, 2)),
		leaking("service side leaking", "22", holeOf(0.15, 0.6, 2)),
		choked("supply way restricted", shareOf("share of the supply way that is blocked", 0.9, 0.98, 1), "supply way"),
	},
}

// protectionLap is the supply pressure over which a tractor protection valve's exhaust opens, under that at which it shuts.
// Engineering judgement.
const protectionLap = 8 * psi

// A workshop's air hose gives so much free air into nothing, and nothing more at its regulator's pressure: what comes falls off between
// the two, as with a pump whose clearance takes up all of a stroke there. Engineering judgement; 120 psi are common practice.
const (
	shopAir      = 15e-3 // m³/s
	shopPressure = circuit.AtmospherePressure + 120*psi
)

// gladhandLaw: half of a coupling, with nothing on it or a workshop's air hose. A cock that is shut shuts both.
var gladhandLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", valveRoom)
		b.Passage("face", b.Value("conductance"), orificeCrit, unworked("shut"))
		b.Pump("shop air", circuit.Atmosphere, "1", Pump{
			Displacement: shopAir, Clearance: 1 / (math.Pow(shopPressure/circuit.AtmospherePressure, 0.75) - 1), Efficiency: 1, Ratio: 1,
			Speed: "shop_air", Loaded: Open,
		})
	},
	Modes: []Mode{
		passing("seal leaking", "face", holeOf(0.2, 0.8, 3)),
		{Name: "cock left shut", Severity: shareOf("share of the face that stays shut", 0.9, 1, 1),
			Apply: func(e *Edit, share float64) {
				e.AtMost("face", left(share))
				e.AtMost("shop air", left(share))
			}},
	},
}

// couplingLaw: coupled, each joint joins its two halves, or crosswise the other one's; uncoupled, all four faces stand open. A shut
// cock of the towing vehicle closes whatever leads on from it.
var couplingLaw = Law{
	Build: func(b *Builder) {
		c := b.Value("conductance")
		for _, room := range []string{"11", "12", "21", "22"} {
			b.Volume(room, valveRoom)
		}
		for _, way := range []struct{ name, cock string }{{"supply", "supply_cock"}, {"control", "control_cock"}} {
			cock := Term{Control: way.cock, Gain: -1}
			b.Passage(way.name+" joint", c, orificeCrit, Opening{Terms: []Term{{Control: "coupled", Gain: 1}, {Control: "crossed", Gain: -1}, cock}})
			b.Passage(way.name+" face", c, orificeCrit, Opening{Base: 1, Terms: []Term{{Control: "coupled", Gain: -1}, cock}})
			b.Passage("towed "+way.name+" face", c, orificeCrit, unworked("coupled"))
		}
		for _, way := range []struct{ name, cock string }{{"supply on control", "supply_cock"}, {"control on supply", "control_cock"}} {
			b.Passage(way.name, c, orificeCrit,
				Opening{Base: -1, Terms: []Term{{Control: "coupled", Gain: 1}, {Control: "crossed", Gain: 1}, {Control: way.cock, Gain: -1}}})
		}
	},
	Modes: []Mode{
		leaking("supply seal leaking", "11", holeOf(0.2, 0.8, 3)),
		leaking("control seal leaking", "12", holeOf(0.2, 0.8, 3)),
		choked("supply cock left shut", shareOf("share of the way that is shut", 0.97, 1, 1), "supply joint"),
		choked("control cock left shut", shareOf("share of the way that is shut", 0.97, 1, 1), "control joint"),
		{Name: "control left undone", Severity: whole("the control hose hangs loose"),
			Apply: func(e *Edit, _ float64) {
				e.Scale("control joint", 0)
				e.AtLeast("control face", 1)
				e.AtLeast("towed control face", 1)
			}},
		{Name: "crossed", Severity: whole("supply joined to control, control to supply"),
			Apply: func(e *Edit, _ float64) { e.Control("crossed", 1) }},
	},
}

// trailerSpringLaw: hold-off first, the reservoir once the supply line has enough. What a burst reservoir can take from the
// supply line ends at the protection's closing pressure, which is above the pressure that holds the springs off.
var trailerSpringLaw = Law{
	Build: func(b *Builder) {
		for _, room := range []string{"1", "gate", "21", "22"} {
			b.Volume(room, valveRoom)
		}
		c, crack := b.Value("conductance"), b.Value("crack")
		b.Passage("protection", c, valveCrit, between("1", b.Value("closes"), b.Value("opens")))
		b.Checked("reservoir check", c, valveCrit, crack, checkSpan)
		b.Checked("hold-off way", c, valveCrit, crack, checkSpan)
		b.Passage("exhaust", c, valveCrit, above("22", "1", b.Value("hysteresis"), checkSpan))
	},
	Modes: []Mode{
		passing("leaking back to the supply line", "back leak", holeOf(0.3, 1, 3)),
		{Name: "protection stuck open", Severity: shareOf("share of the valve that stays open", 0.02, 0.3, 1),
			Apply: func(e *Edit, share float64) { e.AtLeast("protection", share) }},
		{Name: "protection stuck shut", Severity: shareOf("share of the valve that stays shut", 0.9, 0.995, 1),
			Apply: func(e *Edit, share float64) { e.AtMost("protection", left(share)) }},
		{Name: "protection opening late", Severity: psiOf("above its pressures", 8, 20, 45),
			Apply: func(e *Edit, dp float64) { e.ShiftTerm("protection", "1", -dp) }},
		choked("hold-off restricted", shareOf("share of the way to the springs that is blocked", 0.9, 0.99, 1), "hold-off way"),
		passing("exhaust leaking", "exhaust", holeOf(0.15, 0.6, 2)),
		choked("exhaust blocked", shareOf("share of the exhaust that is blocked", 0.6, 0.97, 0.999), "exhaust"),
	},
}

// emergencyLaw: a relay valve that a latch on the supply line overrides. Without supply the reservoir is joined to the brakes and
// the exhaust is shut.
var emergencyLaw = Law{
	Build: func(b *Builder) {
		for _, room := range []string{"1", "gate", "tank", "2", "4"} {
			b.Volume(room, valveRoom)
		}
		c, crack, span := b.Value("conductance"), b.Value("crack"), b.Value("span")
		b.Latch("charged", "1", b.Value("recovers_at"), b.Value("emergency_at"), false)
		b.Passage("protection", b.Value("fill_conductance"), valveCrit, between("1", b.Value("closes"), b.Value("opens")))
		b.Checked("reservoir check", b.Value("fill_conductance"), valveCrit, checkSpan, checkSpan)
		gain := 1 + crack/relayEven
		less := crack + (gain-1)*circuit.AtmospherePressure
		b.Passage("inlet seat", c, valveCrit, Opening{Base: -less / span,
			Terms: []Term{{Room: "4", Gain: gain / span}, {Room: "2", Gain: -1 / span}}})
		b.CheckedBack("inlet seat", c, valveCrit, returnCrack, span)
		b.Passage("inlet seat", c, valveCrit, Opening{Base: 1, Terms: []Term{{Latch: "charged", Gain: -1}}})
		b.Passage("exhaust seat", c, valveCrit, Opening{Base: (less-min(relayLap, crack/2))/span - emergencyHold,
			Terms: []Term{{Room: "4", Gain: -gain / span}, {Room: "2", Gain: 1 / span}, {Latch: "charged", Gain: emergencyHold}}})
	},
	Modes: slices.Concat(relayModes, []Mode{
		passing("leaking back to the supply line", "back leak", holeOf(0.3, 1, 3)),
		{Name: "emergency early", Severity: psiOf("above its pressures", 8, 20, 45),
			Apply: func(e *Edit, dp float64) { e.Shift("charged", dp, dp) }},
		{Name: "no emergency action", Severity: whole("the brakes stay off without supply"),
			Apply: func(e *Edit, _ float64) { e.Hold("charged", true) }},
	}),
}

// emergencyHold outweighs whatever control and delivery ask of the exhaust: 250 psi apart at the least span.
const emergencyHold = 500
