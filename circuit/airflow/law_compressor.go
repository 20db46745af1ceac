package airflow

import (
	"airpath/circuit"
)

// The unloader lifts the intake valves off over this much pressure on it. Engineering judgement.
const unloadSpan = 6 * psi

// Rings and valves that are tight at working pressure let go of air at several times that, so that a compressor pumping into
// a blocked line reaches a few hundred psi and not the forty-fold of its clearance. Engineering judgement.
const (
	blowByBegins = circuit.AtmospherePressure + 250*psi
	blowByFull   = circuit.AtmospherePressure + 450*psi
	blowByTurns  = 60 // rev/s at which that leakage takes up all that is pumped
)

// compressorLaw: intake duct, cylinders, head. Air on port 4 holds the intake valves open.
var compressorLaw = Law{
	Build: func(b *Builder) {
		displacement := b.Value("displacement")
		b.Volume("intake", 4*displacement)
		b.Volume("head", b.Value("head_volume"))
		b.Volume("4", valveRoom)
		b.Passage("intake filter", b.Value("intake_conductance"), orificeCrit, Open)
		unload := b.Value("unload_pressure")
		b.Pump("pump", "intake", "head", Pump{
			Displacement: displacement, Clearance: b.Value("clearance"), Efficiency: b.Value("efficiency"), Ratio: b.Value("drive_ratio"),
			Loaded: between("4", unload+unloadSpan, unload),
		})
		// From head to intake, choked: C·ρ0·p carries displacement·turns of intake air.
		b.Passage("discharge valve", displacement*blowByTurns/blowByFull, orificeCrit, between("head", blowByBegins, blowByFull))
	},
	Modes: []Mode{
		{Name: "worn", Severity: shareOf("share of its output lost past rings and valves", 0.1, 0.5, 0.85),
			Apply: func(e *Edit, share float64) { e.PumpScale("pump", left(share)) }},
		choked("intake restricted", shareOf("share of the intake's way that is blocked", 0.3, 0.85, 0.93), "intake filter"),
		{Name: "drive slipping", Severity: shareOf("share of the turns lost to slip", 0.08, 0.4, 0.85),
			Apply: func(e *Edit, share float64) { e.PumpSpeed("pump", left(share)) }},
		{Name: "unloader stuck loaded", Severity: shareOf("share of the pumping that goes on while unloaded", 0.2, 0.8, 1),
			Apply: func(e *Edit, share float64) { e.AtLeast("pump", share) }},
		{Name: "unloader stuck unloaded", Severity: shareOf("share of the intake valves that stay open", 0.1, 0.7, 1),
			Apply: func(e *Edit, share float64) { e.AtMost("pump", left(share)) }},
		passing("discharge valve leaking back", "discharge valve", holeOf(0.3, 1.5, 4)),
		passing("unloader seal leaking", "unloader seal", holeOf(0.2, 0.8, 2.5)),
		{Name: "passing oil", Severity: shareOf("oil carried over, of what condemns a compressor", 0.5, 1, 4),
			// Oil changes no pressure; it is found on a card at the drains and the dryer, not on a gauge.
			Apply: func(*Edit, float64) {}},
	},
}

// A governor's piston travels over this much pressure between opening the exhaust and opening the inlet altogether, or half of
// what lies between cut-in and cut-out, if that is less. Engineering judgement.
const governorTravel = 2 * psi

// muchPressure is more than ever stands on a governor.
const muchPressure = 600 * psi

// governorSetting is what makes a governor cut out and in. Sensed air lifts its piston against a spring; once the inlet is open
// the air sent on helps, on a smaller area:
//
//	lift = p1 + aid·(p2 − atmosphere)
//
// It cuts out at a lift of p1 = cut-out, with nothing on port 2; and in when the lift is less by the piston's travel, which
// with p1 on both ports is at cut-in. On the way back the piston closes the inlet first, and then opens the exhaust. So it
// snaps over where sensed air comes freely, and where a narrow line feeds it, or port 2 leaks, it throttles instead of chattering.
type governorSetting struct{ aid, rise, fall, travel float64 }

func governorOf(cutOut, cutIn float64) governorSetting {
	travel := min(governorTravel, (cutOut-cutIn)/2)
	s := governorSetting{rise: cutOut, fall: cutOut - travel, travel: travel}
	s.aid = (s.fall - cutIn) / max(cutIn-circuit.AtmospherePressure, 2*psi)
	if cutIn <= circuit.AtmospherePressure {
		s.fall = 0 // not ever
	}
	return s
}

// inlet while cut out; shut otherwise.
func (s governorSetting) inlet() Opening {
	base := s.rise - s.travel + s.aid*circuit.AtmospherePressure + muchPressure
	return Opening{Base: -base / s.travel, Terms: []Term{
		{Latch: "cutout", Gain: muchPressure / s.travel}, {Room: "1", Gain: 1 / s.travel}, {Room: "2", Gain: s.aid / s.travel},
	}}
}

// governorLaw: a latch on the piston's lift sends the sensed air on to port 2, or lets port 2 out. It needs no engine: the
// purge valve that it feeds stays open until the sensed pressure falls to cut-in.
var governorLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", smallRoom)
		b.Volume("2", smallRoom)
		s := governorOf(b.Value("cut_out"), b.Value("cut_in"))
		b.LatchAided("cutout", "1", "2", s.aid, s.rise, s.fall, false)
		c := b.Value("conductance")
		b.Passage("inlet", c, valveCrit, s.inlet())
		b.Passage("exhaust", c, valveCrit, Opening{Base: 1, Terms: []Term{{Latch: "cutout", Gain: -1}}})
	},
	Modes: []Mode{
		// The setting screw moves both points.
		{Name: "cut-out high", Severity: psiOf("above its setting, both points", 4, 12, 30),
			Apply: func(e *Edit, dp float64) { shiftGovernor(e, dp, dp) }},
		{Name: "cut-out low", Severity: psiOf("below its setting, both points", 1.5, 12, 30),
			Apply: func(e *Edit, dp float64) { shiftGovernor(e, -dp, -dp) }},
		{Name: "cut-in low", Severity: psiOf("below its setting", 1.5, 15, 40),
			Apply: func(e *Edit, dp float64) { shiftGovernor(e, 0, -dp) }},
		{Name: "span too small", Severity: psiOf("by which cut-in lies too near cut-out", 5, 12, 17),
			Apply: func(e *Edit, dp float64) {
				shiftGovernor(e, 0, min(dp, e.Value("cut_out")-e.Value("cut_in")-0.5*psi))
			}},
		{Name: "stuck loaded", Severity: psiOf("over cut-out before it moves", 8, 40, 200),
			Apply: func(e *Edit, dp float64) { shiftGovernor(e, dp, 0) }},
		{Name: "stuck unloaded", Severity: psiOf("under cut-in before it moves", 1.5, 60, 200),
			Apply: func(e *Edit, dp float64) { shiftGovernor(e, 0, -dp) }},
		passing("inlet seat leaking", "inlet", holeOf(0.2, 0.6, 1.5)),
		passing("exhaust leaking", "exhaust", holeOf(0.2, 0.6, 1.5)),
		choked("exhaust blocked", shareOf("share of the exhaust that is blocked", 0.9, 0.99, 1), "exhaust"),
	},
}

// shiftGovernor adds Pa to cut-out and to cut-in.
func shiftGovernor(e *Edit, rise, fall float64) {
	l := e.Latch("cutout")
	cutIn := circuit.AtmospherePressure + (l.fall-circuit.AtmospherePressure)/(1+l.aid)
	e.must(l.rise+rise > cutIn+fall, "the governor would cut out at %g Pa and in at %g Pa", l.rise+rise, cutIn+fall)
	s := governorOf(l.rise+rise, cutIn+fall)
	l.rise, l.fall, l.aid = s.rise, s.fall, s.aid
	e.Reopen("inlet", s.inlet())
}

// reliefLaw: shut until the pressure before it reaches its setting.
var reliefLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", smallRoom)
		opens := b.Value("opens")
		b.Passage("seat", b.Value("conductance"), orificeCrit, between("1", opens, opens+b.Value("span")))
	},
	Modes: []Mode{
		{Name: "opens early", Severity: psiOf("below its setting", 15, 35, 60),
			Apply: func(e *Edit, dp float64) { e.ShiftTerm("seat", "1", dp) }},
		passing("leaking", "seat", holeOf(0.15, 0.6, 4)),
	},
}
