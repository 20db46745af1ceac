package airflow

import (
	"airpath/circuit"
)

// returnLip is what the delivery must have over the supply to push a seal's lip aside on the way back. Engineering judgement.
const returnLip = 0.5 * psi

// limitingLaw: the way is open both ways while the delivery is under the limit; above it, only the way back.
var limitingLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", valveRoom)
		b.Volume("2", valveRoom)
		c, span := b.Value("conductance"), b.Value("span")
		b.Passage("inlet", c, valveCrit, Opening{Base: b.Value("limit") / span, Terms: []Term{{Room: "2", Gain: -1 / span}}})
		b.Checked("return", c, valveCrit, returnLip, checkSpan)
	},
	Modes: []Mode{
		{Name: "limit low", Severity: psiOf("below its limit", 4, 15, 40),
			Apply: func(e *Edit, dp float64) { e.ShiftTerm("inlet", "2", dp) }},
		{Name: "limit high", Severity: psiOf("above its limit", 4, 15, 60),
			Apply: func(e *Edit, dp float64) { e.ShiftTerm("inlet", "2", -dp) }},
		passing("seat leaking", "inlet", holeOf(0.3, 1, 3)),
		choked("stuck shut", shareOf("share of the way that stays shut", 0.7, 0.97, 1), "inlet"),
		leaking("leaking", "2", holeOf(0.15, 0.6, 2)),
	},
}

// ratioLaw: delivery follows a share of what comes in. Less its hysteresis it fills, less half of that it exhausts, so that at
// rest the exhaust stands open and nothing is left in the chambers.
var ratioLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", valveRoom)
		b.Volume("2", valveRoom)
		c, ratio, span, lap := b.Value("conductance"), b.Value("ratio"), b.Value("span"), b.Value("hysteresis")
		rest := (1 - ratio) * circuit.AtmospherePressure // the share is of gauge pressure
		b.Passage("inlet", c, valveCrit, Opening{Base: (rest - lap) / span, Terms: []Term{{Room: "1", Gain: ratio / span}, {Room: "2", Gain: -1 / span}}})
		b.Passage("exhaust", c, valveCrit, Opening{Base: (lap/2 - rest) / span, Terms: []Term{{Room: "1", Gain: -ratio / span}, {Room: "2", Gain: 1 / span}}})
	},
	Modes: []Mode{
		{Name: "delivering low", Severity: shareOf("share of the delivery that is missing", 0.1, 0.4, 0.8),
			Apply: func(e *Edit, share float64) { scaleRatio(e, left(share)) }},
		{Name: "delivering high", Severity: shareOf("share that is delivered too much", 0.1, 0.3, 0.6),
			Apply: func(e *Edit, share float64) { scaleRatio(e, 1+share) }},
		passing("inlet seat leaking", "inlet", holeOf(0.15, 0.6, 2)),
		passing("exhaust seat leaking", "exhaust", holeOf(0.15, 0.6, 2)),
		choked("exhaust blocked", shareOf("share of the exhaust that is blocked", 0.4, 0.93, 0.998), "exhaust"),
	},
}

// scaleRatio multiplies what a ratio valve delivers, at both seats. The gains work on absolute pressure; the share of it that the
// atmosphere makes is taken off again.
func scaleRatio(e *Edit, factor float64) {
	asked := (factor - 1) * e.Value("ratio") * circuit.AtmospherePressure / e.Value("span")
	e.ScaleTerm("inlet", "1", factor)
	e.ShiftOpening("inlet", -asked)
	e.ScaleTerm("exhaust", "1", factor)
	e.ShiftOpening("exhaust", asked)
}

// springValveLaw: the springs are held off at a limited pressure:
//
//	asked = hold-off − gain·(front delivery − rear delivery)
//
// With both circuits good the rear delivery is the higher, and nothing happens. With the rear one lost the pedal takes hold-off
// air away. Where the park control lets its line out, the springs' air goes back past a lip.
var springValveLaw = Law{
	Build: func(b *Builder) {
		for _, room := range []string{"1", "2", "41", "42"} {
			b.Volume(room, valveRoom)
		}
		c, span, gain, asked := b.Value("conductance"), b.Value("span"), b.Value("gain"), b.Value("hold_off")
		b.Passage("inlet", c, valveCrit, Opening{Base: asked / span, Terms: []Term{
			{Room: "42", Gain: -gain / span}, {Room: "41", Gain: gain / span}, {Room: "2", Gain: -1 / span}}})
		b.Checked("return", c, valveCrit, returnLip, checkSpan)
		b.Passage("exhaust", c, valveCrit, Opening{Base: -(asked + b.Value("hysteresis")) / span, Terms: []Term{
			{Room: "42", Gain: gain / span}, {Room: "41", Gain: -gain / span}, {Room: "2", Gain: 1 / span}}})
	},
	Modes: []Mode{
		passing("inlet seat leaking", "inlet", holeOf(0.15, 0.6, 2)),
		passing("exhaust leaking", "exhaust", holeOf(0.15, 0.6, 2)),
		passing("control seal leaking", "control seal", holeOf(0.3, 1, 3)),
		leaking("leaking", "2", holeOf(0.15, 0.6, 2)),
		{Name: "hold-off low", Severity: psiOf("below its pressure", 8, 30, 60),
			Apply: func(e *Edit, dp float64) {
				e.ShiftTerm("inlet", "2", dp)
				e.ShiftTerm("exhaust", "2", dp)
			}},
		{Name: "stuck", Severity: shareOf("share of what it should let out that it does not", 0.2, 0.8, 1),
			Apply: func(e *Edit, share float64) {
				for _, control := range []string{"41", "42"} {
					e.ScaleTerm("inlet", control, left(share))
					e.ScaleTerm("exhaust", control, left(share))
				}
			}},
		choked("exhaust blocked", shareOf("share of the exhaust that is blocked", 0.5, 0.97, 1), "exhaust"),
	},
}

// modulatorLaw: a pipe with a side door, both worked by the control unit.
var modulatorLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", valveRoom)
		b.Volume("2", valveRoom)
		c := b.Value("conductance")
		b.Passage("inlet", c, valveCrit, unworked("hold"))
		b.Passage("exhaust", c, valveCrit, worked("dump"))
	},
	Modes: []Mode{
		passing("inlet seat leaking", "inlet", holeOf(0.3, 1, 3)),
		passing("exhaust seat leaking", "exhaust", holeOf(0.15, 0.6, 2)),
		choked("stuck shut", shareOf("share of the way that stays shut", 0.8, 0.98, 1), "inlet"),
		{Name: "stuck applied", Severity: shareOf("share of the way back that stays shut", 0.8, 0.98, 1),
			Apply: func(e *Edit, share float64) { e.ScaleBack("inlet", left(share)) }},
		{Name: "stuck dumping", Severity: shareOf("share of the exhaust that stays open", 0.02, 0.3, 1),
			Apply: func(e *Edit, share float64) { e.AtLeast("exhaust", share) }},
		iced("iced", shareOf("share of both ways that ice closes", 0.8, 0.98, 1), "inlet", "exhaust"),
	},
}
