package airflow

// A check valve is wide open this far above its cracking pressure. Engineering judgement.
const checkSpan = 1 * psi

// wallVolume is the volume that a tank's wall_heat is stated for.
const wallVolume = 24.5e-3

// tankLaw: three compartments, each with an energy equation, since a tight tank loses several psi while fresh air cools.
var tankLaw = Law{
	Build: func(b *Builder) {
		for _, room := range []string{"supply", "primary", "secondary"} {
			v := b.Value(room + "_volume")
			b.Volume(room, v)
			b.Thermal(room, b.Value("wall_heat")*v/wallVolume)
		}
	},
	Modes: []Mode{
		leaking("supply leaking", "supply", holeOf(0.15, 0.5, 4)),
		leaking("primary leaking", "primary", holeOf(0.15, 0.5, 4)),
		leaking("secondary leaking", "secondary", holeOf(0.15, 0.5, 4)),
		passing("wall between supply and primary leaking", "supply-primary wall", holeOf(0.4, 2, 6)),
		passing("wall between primary and secondary leaking", "primary-secondary wall", holeOf(0.4, 2, 6)),
		flooded("supply full of water", "supply"),
		flooded("primary full of water", "primary"),
		flooded("secondary full of water", "secondary"),
	},
}

func flooded(name, room string) Mode {
	return Mode{Name: name, Severity: shareOf("share of the compartment that is water", 0.1, 0.4, 0.8),
		Apply: func(e *Edit, share float64) { e.Drown(room, share) }}
}

// checkLaw: one way only.
var checkLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", valveRoom)
		b.Volume("2", valveRoom)
		b.Checked("seat", b.Value("conductance"), valveCrit, b.Value("crack"), checkSpan)
	},
	Modes: []Mode{
		passing("leaking back", "seat", holeOf(0.3, 1.5, 4)),
		choked("stuck shut", shareOf("share of the way that stays shut", 0.995, 0.9995, 1), "seat"),
		choked("restricted", shareOf("share of the way that is blocked", 0.8, 0.97, 0.99), "seat"),
	},
}

// drainLaw: a cock at the bottom of a tank.
var drainLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", smallRoom)
		b.Passage("cock", b.Value("conductance"), orificeCrit, worked("cock"))
	},
	Modes: []Mode{
		passing("leaking", "cock", holeOf(0.15, 0.5, 4)),
		{Name: "left open", Severity: shareOf("share of the cock that stays open", 0.005, 0.1, 1),
			Apply: func(e *Edit, share float64) { e.AtLeast("cock", share) }},
	},
}
