package airflow

// reservoirLaw: one vessel with an energy equation, since a tight one loses several psi while fresh air cools.
var reservoirLaw = Law{
	Build: func(b *Builder) {
		v := b.Value("volume")
		b.Volume("air", v)
		b.Thermal("air", b.Value("wall_heat")*v/wallVolume)
	},
	Modes: []Mode{
		leaking("leaking", "air", holeOf(0.15, 0.5, 2)),
		flooded("full of water", "air"),
	},
}

// protectionLaw: open from its opening pressure before it on, shut at its closing pressure, and throttled between the two. It
// snaps at neither: a fall through it fades away towards the closing pressure.
var protectionLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", valveRoom)
		b.Volume("2", valveRoom)
		b.Passage("valve", b.Value("conductance"), valveCrit, between("1", b.Value("closes"), b.Value("opens")))
	},
	Modes: []Mode{
		{Name: "stuck open", Severity: shareOf("share of the valve that stays open", 0.02, 0.3, 1),
			Apply: func(e *Edit, share float64) { e.AtLeast("valve", share) }},
		{Name: "stuck shut", Severity: shareOf("share of the valve that stays shut", 0.9, 0.997, 1),
			Apply: func(e *Edit, share float64) { e.AtMost("valve", left(share)) }},
		{Name: "threshold low", Severity: psiOf("below its pressures", 8, 20, 45),
			Apply: func(e *Edit, dp float64) { e.ShiftTerm("valve", "1", dp) }},
		{Name: "threshold high", Severity: psiOf("above its pressures", 8, 20, 45),
			Apply: func(e *Edit, dp float64) { e.ShiftTerm("valve", "1", -dp) }},
		leaking("leaking", "2", holeOf(0.15, 0.5, 2)),
	},
}
