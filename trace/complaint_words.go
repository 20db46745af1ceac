package trace

import "airpath/circuit"

// The complaints of the trade and what they usually mean. Common practice and engineering judgement throughout: what half of
// all drivers notice is a guess, and is weighed as one.

const psiPerMinute = circuit.PSI / 60

var (
	waterFilled = []string{"full of water", "supply full of water", "primary full of water", "secondary full of water"}

	weakBrake = []blame{
		{kind: "drum-brake", modes: []string{"cam or bushings worn", "lining glazed", "lining oiled", "lining thin", "drum oversize", "seized"}},
		{kind: "slack-adjuster", modes: []string{"not adjusting", "clevis seized"}},
		{kind: "service-chamber", modes: []string{"diaphragm leaking", "stroke long"}},
		{kind: "spring-brake-chamber", modes: []string{"diaphragm leaking", "stroke long"}},
		{kind: "anti-lock-modulator", modes: []string{"stuck dumping", "stuck shut"}},
		{kind: "line", modes: []string{"kinked", "blocked", "lining closing the way out", "iced"}},
	}
	draggingBrake = []blame{
		{kind: "drum-brake", modes: []string{"seized"}, drags: true},
		{kind: "slack-adjuster", modes: []string{"over-adjusting", "clevis seized"}, drags: true},
		{kind: "service-chamber", modes: []string{"return spring weak", "seized"}, drags: true},
		{kind: "spring-brake-chamber", modes: []string{"return spring weak", "seized", "hold-off seal leaking", "caging bolt left in"}, drags: true},
		{kind: "line", modes: []string{"lining closing the way back", "kinked"}, drags: true},
		{kind: "anti-lock-modulator", modes: []string{"stuck applied", "inlet seat leaking", "iced"}, drags: true},
	}
	draggingValves = []blame{
		{kind: "foot-valve", modes: []string{"not returning", "exhaust blocked"}, drags: true},
		{kind: "relay-valve", modes: []string{"exhaust blocked", "stuck applied", "iced"}, drags: true},
		{kind: "quick-release-valve", modes: []string{"exhaust blocked"}, drags: true},
		{kind: "park-control", modes: []string{"exhaust leaking", "popping early"}, drags: true},
		{kind: "spring-brake-valve", modes: []string{"hold-off low", "stuck", "leaking"}, drags: true},
	}
)

var meanings = []*Meaning{
	{
		ID: "slow-build-up", Saying: "builds air slowly", Means: "the compressor delivers too little, or air is lost or held up before the reservoirs",
		phrases: []string{
			"build|fill|pump|charg|make|making|air_up|pressure|air. slow|long|ages|ever.|forever|age.|hour|late !stop|never|wont|leak|drop",
			"build. air_pressure. slow", "hour|long|minutes|ages|ever. leave|move|drive_off|set_off|pull_away|away",
		},
		signs: []sign{{procedure: "build-up-85-100", reading: "time", times: 1.8, never: true}, {procedure: "build-up-from-empty", reading: "time", times: 1.8, never: true}},
	},
	{
		ID: "no-build-up", Saying: "will not build air", Means: "hardly any air is made, or as much is lost as is made",
		phrases: []string{"wont|never|not|cannot|cant|stops|no. build|fill|pump|charg|get_up|reach|come_up|air_pressure|pressure !overnight|lamp|light|buzzer|release|high", "stays|stuck|only|stops goes|get|build|reach|below|under|at psi|bar|kpa"},
		signs: []sign{
			{procedure: "build-up-85-100", reading: "time", times: 6, never: true}, {procedure: "build-up-from-empty", reading: "time", times: 6, never: true},
			{procedure: "governor-cut-out", reading: "pressure", by: -20 * circuit.PSI, never: true},
		},
	},
	{
		ID: "pressure-high", Saying: "pressure goes too high", Means: "the governor or the unloader does not stop the compressor in time",
		phrases: []string{"pressure|gauge|needle|psi|bar|air. high|over|above|too_much|red !low|lamp", "safety_valve|relief blow|lift|open|pops"},
		signs: []sign{
			{procedure: "governor-cut-out", reading: "pressure", by: 10 * circuit.PSI}, {procedure: "listen-building", reading: "hiss", kind: "relief-valve", yes: true},
			{procedure: "listen-unloaded", reading: "hiss", kind: "relief-valve", yes: true},
		},
	},
	{
		ID: "pressure-low", Saying: "cuts out too low", Means: "the governor stops the compressor too early, or a gauge reads low",
		phrases: []string{"cut_out|cuts_out|unload|stops low|early|soon", "pressure|gauge|needle never|not|stays|only full|high_enough|low"},
		signs:   []sign{{procedure: "governor-cut-out", reading: "pressure", by: -8 * circuit.PSI}, {procedure: "cab-check", reading: "gauge", by: -8 * circuit.PSI}},
	},
	{
		ID: "leaks-standing", Saying: "leaks down overnight", Means: "air is lost while the vehicle stands",
		phrases: []string{
			"leak|los|drop|bleed|empt|flat|down|fall overnight|night|morning|weekend|stand|parked|parking|stood", "leak|los|bleed down|air.|pressure|out|off|away !brake|pedal|apply|applied|low_pressure|not|no. ",
			"no. air. morning|night",
		},
		signs: []sign{
			{procedure: "leak-down-released", reading: "fall", by: 0.4 * psiPerMinute}, {procedure: "leak-down-parked", reading: "fall", by: 0.4 * psiPerMinute},
			{procedure: "wet-tank-after-cut-out", reading: "drop", by: 6 * circuit.PSI},
		},
	},
	{
		ID: "leaks-applied", Saying: "leaks with the brakes applied", Means: "air is lost behind the foot valve",
		phrases: []string{"leak|los|drop|hiss|fall brake_pedal|pedal|applied|apply|foot_down|foot_on|braking|brakes_on"},
		signs:   []sign{{procedure: "leak-down-applied", reading: "fall", by: 1 * psiPerMinute}},
	},
	{
		ID: "uses-air", Saying: "uses a lot of air when braking", Means: "each application takes more air than it should, or there is less in the tanks than there should be",
		phrases: []string{"use|using|takes|eat|drops|los|lot|much air|pressure|gauge|needle brak|apply|application|pedal"},
		signs:   []sign{{procedure: "full-application", reading: "drop", times: 1.35}},
		blames:  []blame{{modes: append([]string{"stroke long"}, waterFilled...)}},
	},
	{
		ID: "governor-cycles", Saying: "governor cycles often", Means: "air is lost or used with nothing applied, or cut-in lies too near cut-out",
		phrases: []string{"cycl|cuts_in|cut_in|kicks_in|purge|blows_off|spit|dryer|drier often|frequent|every|minute|constantly|all_the_time|keeps|short", "cycles.|cycling.", "governor often|frequent|keeps|every"},
		signs: []sign{
			{procedure: "governor-cut-in", reading: "pressure", by: 6 * circuit.PSI}, {procedure: "wet-tank-after-cut-out", reading: "blows", yes: true},
			{procedure: "wet-tank-after-cut-out", reading: "drop", by: 10 * circuit.PSI}, {procedure: "leak-down-released", reading: "fall", by: 1.5 * psiPerMinute},
		},
		blames: []blame{{modes: append([]string{"span too small"}, waterFilled...)}},
	},
	{
		ID: "never-unloads", Saying: "compressor never unloads", Means: "it pumps on: it can't reach cut-out, or nothing tells it to stop",
		phrases: []string{"compressor|pump never|not|always|all_the_time|constant|keeps|doesnt unload|stop|cut|off|run|pump|work|load"},
		signs:   []sign{{procedure: "governor-cut-out", reading: "pressure", by: 15 * circuit.PSI, never: true}, {procedure: "build-up-85-100", reading: "time", times: 4, never: true}},
		blames:  []blame{{modes: []string{"unloader stuck loaded", "stuck loaded"}}},
	},
	{
		ID: "dryer-blows", Saying: "dryer blows all the time", Means: "the purge valve lets air out while the compressor should fill, or air comes back through the dryer",
		phrases: []string{"dryer|drier|purge blow|hiss|leak|exhaust|venting|air_out|constantly|all_the_time !often|short"},
		signs: []sign{
			{procedure: "listen-building", reading: "hiss", kind: "air-dryer", yes: true}, {procedure: "listen-unloaded", reading: "hiss", kind: "air-dryer", yes: true},
			{procedure: "wet-tank-after-cut-out", reading: "blows", yes: true},
		},
	},
	{
		ID: "hiss-parked", Saying: "hisses when parked", Means: "air is lost somewhere that holds air with the park set",
		phrases: []string{"hiss|blow|air_escap|air_noise|leaking_air parked|park_set|standing|park_on"},
		signs:   []sign{{procedure: "listen-parked", reading: "hiss", yes: true}},
	},
	{
		ID: "hiss-released", Saying: "hisses with the park released", Means: "air is lost from the hold-off side or what feeds it",
		phrases: []string{"hiss|blow|air_escap|air_noise|leaking_air released|park_off|driving|moving|knob_in"},
		signs:   []sign{{procedure: "listen-released", reading: "hiss", yes: true}},
	},
	{
		ID: "hiss-applied", Saying: "hisses when the pedal is down", Means: "air is lost from the service side",
		phrases: []string{"hiss|blow|air_escap|air_noise pedal|braking|foot|apply|applied|brake_on"},
		signs:   []sign{{procedure: "listen-applied", reading: "hiss", yes: true}},
	},
	{
		ID: "springs-set", Saying: "springs set while driving", Means: "hold-off pressure is lost, or the park control lets go too early",
		phrases: []string{"spring|park|brakes|knob set|come_on|comes_on|came_on|lock|pop|apply|grab|on_by driving|road|moving|by_itself|by_themselves|own|suddenly|early", "knob|park_valve pop|jump|comes_out|wont_stay"},
		signs:   []sign{{procedure: "spring-set", reading: "pressure", by: 10 * circuit.PSI}, {procedure: "leak-down-released", reading: "fall", by: 3 * psiPerMinute}},
		blames: []blame{
			{modes: []string{"popping early", "hold-off low", "hold-off seal leaking"}}, {kind: "spring-brake-valve", modes: []string{"stuck", "leaking", "control seal leaking"}},
			{kind: "park-control", modes: []string{"exhaust leaking"}},
		},
	},
	{
		ID: "springs-hold", Saying: "park brake will not release", Means: "hold-off air does not reach the springs, or a brake is stuck",
		phrases: []string{"park|spring|handbrake|hand_brake|brakes wont|not|never|doesnt|cant|stuck|locked release|off|let_go|move|on. !high|pop"},
		signs:   []sign{{procedure: "hold-off-pressure", reading: "pressure", by: -12 * circuit.PSI}},
		blames: []blame{
			{kind: "spring-brake-chamber", modes: []string{"hold-off seal leaking", "seized", "caging bolt left in", "spring broken"}}, {kind: "drum-brake", modes: []string{"seized"}},
			{kind: "park-control", modes: []string{"popping early", "exhaust leaking"}}, {kind: "spring-brake-valve", modes: []string{"stuck", "hold-off low"}},
			{kind: "line", modes: []string{"blocked", "iced", "kinked", "lining closing the way out"}}, {kind: "double-check-valve", modes: []string{"stuck on the first supply", "stuck on the second supply"}},
		},
	},
	{
		ID: "park-weak", Saying: "park brake does not hold", Means: "a spring is broken or caged, its push-rod runs out of stroke, or the lining gives too little",
		phrases: []string{"park|spring|handbrake|hand_brake|rolls|creeps wont|not|doesnt|weak|rolls|creeps hold|weak|park|parked|slope|hill !release|leak"},
		signs:   []sign{{procedure: "spring-set", reading: "pressure", by: -12 * circuit.PSI, never: true}},
		blames: append([]blame{
			{kind: "spring-brake-chamber", modes: []string{"spring broken", "caging bolt left in", "stroke long"}},
			{kind: "park-control", modes: []string{"not popping", "exhaust blocked"}},
		}, weakBrake[:2]...),
	},
	{
		ID: "lamp-on", Saying: "warning lamp at low pressure stays on", Means: "pressure is low in one circuit, or the switch or its wiring says so wrongly",
		phrases: []string{"lamp|light|warning|buzzer|beep on.|stays|comes_on|always|all_the_time|flicker|early|sound|driving|at_low !not|never|wont|doesnt|stop_lamp|brake_light|stop_light|late"},
		signs:   []sign{{procedure: "cab-check", reading: "warning", yes: true}, {procedure: "low-pressure-warning", reading: "lamp", by: 15 * circuit.PSI}},
		blames:  []blame{{kind: "pressure-switch", modes: []string{"stuck on", "port blocked"}}, {kind: "line", modes: []string{"shorted"}}},
	},
	{
		ID: "lamp-off", Saying: "warning lamp at low pressure does not come on", Means: "lamp, buzzer, switch or wiring do not warn, or warn too late",
		phrases: []string{"lamp|light|warning|buzzer no.|not|never|wont|doesnt|dead|late|fail !stop_lamp|brake_light|stop_light|go_out|goes_out|go_off", "no. warning|buzzer|lamp|light"},
		signs:   []sign{{procedure: "low-pressure-warning", reading: "lamp", by: -12 * circuit.PSI, never: true}, {procedure: "low-pressure-warning", reading: "buzzer", by: -12 * circuit.PSI, never: true}},
		blames:  []blame{{kind: "lamp", modes: []string{"dead"}}, {kind: "buzzer", modes: []string{"dead"}}, {kind: "pressure-switch", modes: []string{"stuck off"}}},
	},
	{
		ID: "stop-lamp", Saying: "stop lamps do not work", Means: "the stop lamp switch, its wiring or the air to it",
		phrases: []string{"stop_lamp|stop_light|brake_light|brake_lamp|stop_lights"},
		signs:   []sign{{procedure: "full-application", reading: "stop-lamp", yes: true}},
		blames:  []blame{{kind: "stop-lamp-switch", modes: []string{"stuck on", "stuck off", "port blocked", "threshold high", "threshold low"}}},
	},
	{
		ID: "gauge-odd", Saying: "a gauge reads wrong", Means: "the gauge or its line, or pressures really differ between circuits",
		phrases: []string{"gauge|needle wrong|odd|stuck|sticks|differ|apart|jump|jumpy|lag|behind|dead|zero|disagree"},
		signs: []sign{
			{procedure: "cab-check", reading: "gauge", by: 8 * circuit.PSI}, {procedure: "cab-check", reading: "gauge", by: -8 * circuit.PSI}, {procedure: "build-up-85-100", reading: "lags", yes: true},
		},
		blames: []blame{{kind: "gauge", modes: []string{"sticking", "reading high", "reading low"}}},
	},
	{
		ID: "drags", Saying: "brakes drag", Means: "a brake does not let go: air stays in, springs are not held off, or the mechanics stick",
		phrases: []string{"brake|wheel|drum|axle drag|bind|hot|smok|stuck_on|sticks_on|dont_release|hang|hold_on|seized|rub", "drag. !pull", "slow release|let_go|letting_go|off"},
		signs:   []sign{{procedure: "application-release-time", reading: "release", times: 1.6, never: true}, {procedure: "hold-off-pressure", reading: "pressure", by: -12 * circuit.PSI}},
		blames:  append(append([]blame{}, draggingBrake...), draggingValves...),
	},
	{
		ID: "pulls-left", Saying: "pulls left when braking", Means: "a brake on the right does too little, or one on the left too much",
		phrases: []string{"pull|veer|drift|swerve|steer left"}, side: "left", blames: append(append([]blame{}, weakBrake...), draggingBrake...),
	},
	{
		ID: "pulls-right", Saying: "pulls right when braking", Means: "a brake on the left does too little, or one on the right too much",
		phrases: []string{"pull|veer|drift|swerve|steer right"}, side: "right", blames: append(append([]blame{}, weakBrake...), draggingBrake...),
	},
	{
		ID: "weak", Saying: "brakes are weak", Means: "too little pressure reaches the chambers, or the foundation brakes turn it into too little force",
		phrases: []string{"brak|stop|pedal weak|poor|bad|long_way|fade|fading|no_brakes|distance|hard|dont|badly|nothing|spongy !stop_lamp|release|drag|pull|stopped"},
		signs:   []sign{{procedure: "full-application", reading: "drop", times: 0.7}, {procedure: "application-release-time", reading: "apply", times: 1.5, never: true}},
		blames: append([]blame{
			{kind: "foot-valve", modes: []string{"primary delivering low", "secondary delivering low", "pedal binding", "free play too large"}},
			{kind: "relay-valve", modes: []string{"stuck shut", "crack pressure high", "control leaking"}},
		}, weakBrake...),
	},
	{
		ID: "slow-to-apply", Saying: "brakes come on late", Means: "a way to the chambers is narrow, a valve cracks late, or the stroke is long",
		phrases: []string{"brak|pedal|response late|delay|slow|lag|sluggish !release|build|off|air. "},
		signs:   []sign{{procedure: "application-release-time", reading: "apply", times: 1.4, never: true}},
		blames: []blame{
			{kind: "relay-valve", modes: []string{"crack pressure high", "iced"}}, {kind: "foot-valve", modes: []string{"free play too large", "pedal binding"}},
			{kind: "line", modes: []string{"kinked", "iced", "lining closing the way out"}}, {modes: []string{"stroke long", "not adjusting"}},
		},
	},
	{
		ID: "water", Saying: "water in the tanks", Means: "the dryer no longer dries, is not purged, or the tanks were not drained",
		phrases: []string{"water|wet|moist|milky|emulsion|sludge !weather|road|wet_tank|wet_reservoir"},
		blames: []blame{
			{kind: "air-dryer", modes: []string{"cartridge saturated", "purge valve stuck shut", "purge outlet iced", "heater dead", "cartridge plugged"}},
			{kind: "compressor", modes: []string{"passing oil"}}, {modes: append([]string{"staying charged"}, waterFilled...)}, {kind: "governor", modes: []string{"stuck loaded", "cut-out high"}},
		},
	},
	{
		ID: "oil", Saying: "oil in the tanks", Means: "the compressor carries oil over",
		phrases: []string{"oil|oily tank|drain|dryer|drier|purge|valve|air. !brake_lining"},
		blames:  []blame{{kind: "compressor", modes: []string{"passing oil", "worn", "intake restricted"}}, {kind: "line", modes: []string{"carboned"}}},
	},
	{
		ID: "freezes", Saying: "freezes up in winter", Means: "water has got past the dryer and freezes in a valve or a line",
		phrases: []string{"freez|frozen|ice|iced|frost|cold winter|morning|cold|up|valve|line|brake|air|dryer|drier|overnight"},
		blames: []blame{
			{modes: append([]string{"iced", "purge outlet iced", "heater dead", "cartridge saturated"}, waterFilled...)},
		},
	},
	{
		ID: "one-circuit-lost", Saying: "one gauge drops with the other", Means: "the circuits are not kept apart: a check valve leaks back",
		phrases: []string{"gauge|circuit|needle|tank|reservoir both|together|other|one_follows|follows"},
		signs:   []sign{{procedure: "supply-loss", reading: "drop", by: 8 * circuit.PSI}},
		blames:  []blame{{kind: "check-valve", modes: []string{"leaking back"}}, {kind: "foot-valve", modes: []string{"leaking between circuits"}}},
	},
	{
		ID: "trailer-drags", Saying: "trailer brakes stay on", Means: "the trailer gets no supply air, its lines are crossed, or its own valve holds its springs",
		phrases: []string{"trailer|semi stay|stuck|drag|wont|not|lock|on. !leak|weak"},
		blames: []blame{
			{kind: "coupling", modes: []string{"crossed", "supply cock left shut"}}, {kind: "gladhand", modes: []string{"cock left shut"}},
			{kind: "tractor-protection-valve", modes: []string{"stuck shut", "supply way restricted"}}, {kind: "trailer-supply-control", modes: []string{"popping early"}},
			{kind: "trailer-spring-valve", modes: []string{"protection stuck shut", "protection opening late", "hold-off restricted"}}, {kind: "relay-emergency-valve", modes: []string{"stuck applied", "emergency early", "exhaust blocked"}},
			{kind: "hand-control", modes: []string{"not returning", "inlet seat leaking"}},
		},
	},
	{
		ID: "trailer-weak", Saying: "trailer does not brake", Means: "the service line does not reach the trailer, or its relay does nothing",
		phrases: []string{"trailer|semi wont|not|doesnt|weak|late|no. brak|stop|apply"},
		blames: []blame{
			{kind: "coupling", modes: []string{"control cock left shut", "control left undone", "crossed"}}, {kind: "tractor-protection-valve", modes: []string{"stuck shut", "service side leaking"}},
			{kind: "relay-emergency-valve", modes: []string{"stuck shut", "crack pressure high"}}, {kind: "gladhand", modes: []string{"cock left shut"}},
			{kind: "hand-control", modes: []string{"delivering low"}}, {kind: "line", modes: []string{"blocked", "kinked", "lining closing the way out"}},
		},
	},
}
