package airflow

// parkLaw: the knob in sends supply air on, the knob out exhausts the delivery. When its supply fails the knob springs out
// by itself.
var parkLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", valveRoom)
		b.Volume("2", valveRoom)
		c := b.Value("conductance")
		b.Passage("inlet", c, valveCrit, worked("knob"))
		b.Passage("exhaust", c, valveCrit, unworked("knob"))
		b.Trip("knob", "1", b.Value("pops_at"))
	},
	Modes: []Mode{
		passing("inlet leaking", "inlet", holeOf(0.15, 0.6, 2)),
		passing("exhaust leaking", "exhaust", holeOf(0.15, 0.6, 2)),
		{Name: "popping early", Severity: psiOf("above its proper pressure", 6, 20, 50),
			Apply: func(e *Edit, dp float64) { e.ShiftTrip("knob", dp) }},
		{Name: "not popping", Severity: psiOf("below its proper pressure", 6, 20, 200),
			Apply: func(e *Edit, dp float64) { e.ShiftTrip("knob", -dp) }},
		choked("exhaust blocked", shareOf("share of the exhaust that is blocked", 0.4, 0.95, 0.999), "exhaust"),
	},
}
