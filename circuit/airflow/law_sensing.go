package airflow

// gaugeLaw: shows the pressure in its port. One that is off by up to 7 % of cut-out is in order (49 CFR 571.121 S5.1.4): what reads high or low
// is off by more, 10 psi being beyond 7 % of any usual cut-out.
var gaugeLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", smallRoom)
		b.Gauge("1")
	},
	Modes: []Mode{
		{Name: "sticking", Severity: psiOf("change that the needle does not follow", 3, 12, 40),
			Apply: func(e *Edit, dp float64) { e.GaugeStick(dp) }},
		{Name: "reading high", Severity: psiOf("above the true pressure", 10, 16, 30),
			Apply: func(e *Edit, dp float64) { e.GaugeOffset(dp) }},
		{Name: "reading low", Severity: psiOf("below the true pressure", 10, 16, 30),
			Apply: func(e *Edit, dp float64) { e.GaugeOffset(-dp) }},
	},
}

// leastHysteresis keeps a switch that a file gives none from chattering.
const leastHysteresis = 0.1 * psi

// pressureSwitchLaw: the latch "pressed" is up while there is pressure; the contact is closed while there is not.
var pressureSwitchLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", smallRoom)
		below := b.Value("closes_below")
		b.Latch("pressed", "1", below+max(b.Value("hysteresis"), leastHysteresis), below, false)
		b.Contact("pressed", false)
	},
	Modes: switchModes(5, 15, 50),
}

// stopSwitchLaw: its contact is closed while there is pressure.
var stopSwitchLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", smallRoom)
		above := b.Value("closes_above")
		b.Latch("pressed", "1", above, above-max(b.Value("hysteresis"), leastHysteresis), false)
		b.Contact("pressed", true)
	},
	Modes: switchModes(1, 8, 40),
}

// switchModes have their severities in psi: how far a threshold can be off differs between switches for high and for low
// pressures.
func switchModes(mild, typical, severe float64) []Mode {
	return []Mode{
		{Name: "stuck on", Severity: whole("contact closed for good"), Apply: func(e *Edit, _ float64) { e.ContactHold(true) }},
		{Name: "stuck off", Severity: whole("contact open for good"), Apply: func(e *Edit, _ float64) { e.ContactHold(false) }},
		{Name: "threshold high", Severity: psiOf("above its setting", mild, typical, severe),
			Apply: func(e *Edit, dp float64) { e.Shift("pressed", dp, dp) }},
		{Name: "threshold low", Severity: psiOf("below its setting", mild, typical, severe),
			Apply: func(e *Edit, dp float64) { e.Shift("pressed", -dp, -dp) }},
		// Dirt or ice lets the switch keep the pressure that it last had.
		{Name: "port blocked", Severity: psiOf("change of pressure that does not reach it", mild, 2*typical, 200),
			Apply: func(e *Edit, dp float64) { e.Shift("pressed", dp, -dp) }},
	}
}

var lampLaw = Law{
	Build: func(b *Builder) { b.Sink() },
	Modes: []Mode{{Name: "dead", Severity: whole("does not light"), Apply: func(e *Edit, _ float64) { e.SinkDead() }}},
}

var buzzerLaw = Law{
	Build: func(b *Builder) { b.Sink() },
	Modes: []Mode{{Name: "dead", Severity: whole("does not sound"), Apply: func(e *Edit, _ float64) { e.SinkDead() }}},
}
