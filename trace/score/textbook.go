package score

// The textbook order is what the tracer's choice of procedures is held against. It is data, written down from published
// inspection procedures before anything was measured, and is not to be touched after that. Procedures that the catalogue gained
// later were given their place before anything was measured with them.

// A check is one procedure of the textbook order.
type check struct {
	procedure string
	// after names procedures that this one follows up: it is done at its place in the order only when one of them has broken a
	// published limit or the complaint is about it, and else at the end. Empty: it is always done.
	after  []string
	source string
}

// Short names of the sources. The commercial driver manual is the model manual that the states of the US publish as their
// own; its section 5.3, step 7, lists the final air brake check in this order: warning signal, spring brakes, build-up,
// leakage (released, then applied), governor, parking brake, service brakes.
const (
	manual    = "model commercial driver manual"
	practice  = "common practice"
	inService = "49 CFR 570.57"
)

// publishedOrder of an inspection: the checks from the driver's seat as the manual lists them, then what follows up a check
// that failed, then whatever is left of the catalogue in the order in which it is listed.
var publishedOrder = []check{
	{"cab-check", nil, manual + " 2.1, step 3: start the engine, look at the gauges and at the warning lamps"},
	{"low-pressure-warning", nil, manual + " 5.3, step 7: test low pressure warning signal"},
	{"spring-set", nil, manual + " 5.3, step 7: check that spring brakes come on automatically"},
	{"build-up-85-100", nil, manual + " 5.3, step 7: check rate of air pressure build-up"},
	{"leak-down-released", nil, manual + " 5.3, step 7: test air leakage rate, brakes released"},
	{"leak-down-applied", nil, manual + " 5.3, step 7: test air leakage rate, 90 psi or more applied"},
	{"governor-cut-in", nil, manual + " 5.3, step 7: check governor cut-in and cut-out pressures"},
	{"governor-cut-out", nil, manual + " 5.3, step 7: check governor cut-in and cut-out pressures"},
	{"full-application", nil, inService + "(a)(1): one full application, after the manual's test of the service brakes"},
	{"trailer-torn-off", nil, manual + " 6 (combination vehicles): test tractor protection valve, test trailer emergency brakes (from memory)"},

	// A leak beyond the limit is looked for: "check for air leaks and fix before driving" (manual 5.3, step 7); Ontario's driver
	// handbook 6 has audible leaks right before the air loss rate. In which states one listens is common practice.
	{"listen-parked", []string{"leak-down-released", "leak-down-applied", "build-up-85-100"}, manual + " 5.3, step 7: check for air leaks; state by " + practice},
	{"listen-released", []string{"leak-down-released", "leak-down-applied"}, manual + " 5.3, step 7: check for air leaks; state by " + practice},
	{"listen-applied", []string{"leak-down-applied"}, manual + " 5.3, step 7: check for air leaks; state by " + practice},
	{"listen-hand", []string{"leak-down-applied"}, manual + " 6 (combination vehicles): trailer service brakes by the hand valve; state by " + practice},
	{"listen-trailer-out", []string{"leak-down-released"}, practice},
	{"trailer-uncoupled", []string{"leak-down-released", "leak-down-applied"}, practice},
	{"leak-down-parked", []string{"leak-down-released"}, practice},
	{"plug-and-watch", []string{"leak-down-released", "leak-down-applied"}, practice},
	{"listen-building", []string{"build-up-85-100", "governor-cut-out"}, practice},
	{"listen-unloaded", []string{"governor-cut-in", "governor-cut-out"}, practice},

	// A slow build-up: intake, discharge line, drive, and the compressor last (US Army TM 5-3805-260-24, trouble table, symptom
	// 32, excessive build-up and recovery time).
	{"intake-restriction", []string{"build-up-85-100"}, "US Army TM 5-3805-260-24, trouble table, 32 A and B: induction filter and line"},
	{"charging-gauges", []string{"build-up-85-100", "governor-cut-out"}, "US Army TM 5-3805-260-24, trouble table, 32 C: discharge line and port"},
	{"drive-check", []string{"build-up-85-100"}, "US Army TM 5-3805-260-24, trouble table, 32 D: slipping drive"},
	{"line-off-flow", []string{"build-up-85-100"}, "US Army TM 5-3805-260-24, trouble table, 32: the compressor after everything before it"},

	{"purge-control-undone", []string{"governor-cut-out"}, practice},
	{"safety-valve", []string{"governor-cut-out"}, manual + " 5.1.4: opens at 150 psi; order by " + practice},

	// The wheels. The manual has the slack adjusters on the walk-around, before the checks from the seat; here they are left until
	// something calls for them, which is quicker.
	{"slack-travel", []string{"full-application", "applications-until-warning"}, manual + " 5.3, step 5: slack adjusters; order by " + practice},
	{"push-rod-stroke", []string{"full-application", "applications-until-warning"}, "49 CFR 396 App. A 1.a(5): stroke at 80 to 90 psi; order by " + practice},
	{"pedal-linkage", []string{"full-application"}, practice},
	{"application-balance", []string{"full-application"}, practice},
	{"application-time", []string{"full-application"}, "49 CFR 571.121 S5.3.3 and S5.3.4; order by " + practice},
	{"signal-pressure", []string{"full-application"}, practice},
	{"wheel-force", []string{"full-application"}, "49 CFR 393.52: brake force; order by " + practice},
	{"drum-temperature", []string{"full-application"}, practice},
	{"applications-until-warning", []string{"full-application", "low-pressure-warning"}, "Western Australia, heavy vehicles, s334(1)(b): five applications; order by " + practice},
	{"hold-off-pressure", []string{"spring-set"}, practice},
	{"substitute-gauge", []string{"cab-check", "governor-cut-out"}, practice},
	{"switch-unplugged", []string{"low-pressure-warning", "cab-check"}, practice},
	{"drain-yield", []string{"build-up-85-100", "full-application"}, manual + " 5.1: drain the tanks at the end of each day; order by " + practice},
	{"wet-tank-after-cut-out", []string{"governor-cut-in", "leak-down-released"}, practice},
	{"supply-loss", []string{"leak-down-released", "spring-set"}, "49 CFR 571.121 S5.1.2.3: each service reservoir's check valve can be checked; order by " + practice},
	{"switch-port-gauge", []string{"low-pressure-warning", "cab-check"}, practice},
	{"build-up-from-empty", []string{"build-up-85-100"}, manual + " 2.1: from 50 to 90 psi within 3 minutes; order by " + practice},
}

// Parts are changed, once no procedure is left or the findings leave one group as good as certain, in the order in which the
// findings accuse them, the most probable first, each part once, and the vehicle is tried after each (common practice). Who
// follows the textbook is given the same reasoning about what the findings mean as the tracer has, so that the two differ in nothing
// but the choice of what to do next.
