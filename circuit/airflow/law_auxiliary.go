package airflow

// levellingLaw: the load decides at which pressure the bellows stand at their height; the arm opens the inlet below it and the
// exhaust above it. A check before the inlet keeps the body up when the supply is lost.
var levellingLaw = Law{
	Build: func(b *Builder) {
		for _, room := range []string{"1", "gate", "2"} {
			b.Volume(room, valveRoom)
		}
		c, ride, span := b.Value("conductance"), b.Value("ride_pressure"), b.Value("span")
		b.Checked("inlet check", 2*c, valveCrit, 0.5*psi, checkSpan)
		b.Passage("inlet", c, valveCrit, between("2", ride, ride-span))
		over := ride + b.Value("dead_band")
		b.Passage("exhaust", c, valveCrit, between("2", over, over+span))
	},
	Modes: []Mode{
		passing("inlet leaking", "inlet", holeOf(0.2, 0.6, 2)),
		passing("exhaust leaking", "exhaust", holeOf(0.15, 0.6, 2)),
		passing("check leaking back", "inlet check", holeOf(0.3, 1, 3)),
		choked("stuck shut", shareOf("share of the inlet that stays shut", 0.9, 0.99, 1), "inlet"),
		{Name: "set high", Severity: psiOf("bellows pressure above the proper one", 4, 12, 30),
			Apply: func(e *Edit, dp float64) {
				e.ShiftTerm("inlet", "2", -dp)
				e.ShiftTerm("exhaust", "2", -dp)
			}},
		{Name: "set low", Severity: psiOf("bellows pressure below the proper one", 4, 12, 30),
			Apply: func(e *Edit, dp float64) {
				e.ShiftTerm("inlet", "2", dp)
				e.ShiftTerm("exhaust", "2", dp)
			}},
	},
}

// bellowsLaw: a bag whose height gives way over a narrow band of pressure.
var bellowsLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", b.Value("flat_volume"))
		b.Piston("1", Piston{
			Gauge:  []float64{b.Value("lifts_at"), b.Value("full_at")},
			Volume: []float64{0, b.Value("swept_volume")},
		})
	},
	Modes: []Mode{leaking("leaking", "1", holeOf(0.2, 0.6, 2))},
}

// consumerLaw: it holds some air and lets some go while it is worked.
var consumerLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", b.Value("volume"))
		b.Passage("use", b.Value("conductance"), orificeCrit, worked("work"))
	},
	Modes: []Mode{
		leaking("leaking", "1", holeOf(0.15, 0.5, 2)),
		{Name: "sticking open", Severity: shareOf("share of its valve that stays open", 0.05, 0.4, 1),
			Apply: func(e *Edit, share float64) { e.AtLeast("use", share) }},
	},
}

var plugLaw = Law{
	Build: func(b *Builder) { b.Volume("1", smallRoom) },
	Modes: []Mode{leaking("leaking", "1", holeOf(0.15, 0.5, 2))},
}
