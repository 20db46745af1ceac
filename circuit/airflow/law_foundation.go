package airflow

// drumBrakeLaw: a brake holds no air. What its faults do to the air is what they do to the stroke of the rod that works it;
// what they do to its force and heat is in package effort.
var drumBrakeLaw = Law{
	Build: func(*Builder) {},
	Modes: []Mode{
		// The slack adjuster takes up wear of the lining, not play that comes and goes with each application.
		{Name: "cam or bushings worn", Severity: mmOf("rod travel lost in the play of camshaft, bushings and rollers", 3, 10, 22),
			Apply: func(e *Edit, d float64) { atWheel(e, func(t *thrust) { t.clearance += d }) }},
		{Name: "lining glazed", Severity: shareOf("share of its friction that the lining has lost", 0.15, 0.35, 0.6),
			Apply: func(*Edit, float64) {}},
		{Name: "lining oiled", Severity: shareOf("share of its friction that the lining has lost", 0.3, 0.6, 0.9),
			Apply: func(*Edit, float64) {}},
		{Name: "lining thin", Severity: mmOf("worn off each lining", 8, 13.5, 18),
			// The adjuster takes it up: the stroke stays, the cam stands further round.
			Apply: func(*Edit, float64) {}},
		{Name: "drum oversize", Severity: mmOf("turned or worn off the drum's diameter", 1.5, 4, 8),
			Apply: func(*Edit, float64) {}},
		{Name: "seized", Severity: shareOf("share of its stroke that the camshaft does not let the rod make", 0.2, 0.8, 1),
			Apply: func(e *Edit, share float64) { atWheel(e, func(t *thrust) { t.moves *= left(share) }) }},
	},
}

// atWheel edits the chamber behind a brake's slack adjuster.
func atWheel(e *Edit, change func(*thrust)) {
	slack, ok := e.Across("cam")
	if !ok || slack.Component().Kind.Name != "slack-adjuster" {
		return
	}
	atChamber(slack, change)
}
