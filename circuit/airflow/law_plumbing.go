package airflow

var teeLaw = Law{
	Build: func(b *Builder) { b.Volume("body", b.Value("volume")) },
	Modes: []Mode{leaking("leaking", "body", holeOf(0.15, 0.5, 4))},
}

var testConnectionLaw = Law{
	Build: func(b *Builder) { b.Volume("1", smallRoom) },
	Modes: []Mode{leaking("leaking", "1", holeOf(0.15, 0.5, 4))},
}
