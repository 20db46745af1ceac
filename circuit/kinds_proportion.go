package circuit

// Kinds that change, on the way to the brakes, how much of the air gets there.
var proportionKinds = []*Kind{
	{
		Name: "limiting-valve", Title: "limiting valve",
		About: "Passes service air on up to a limit and no further, so that one axle takes less of a hard application than the other. What it has passed goes back the way it came.",
		Ports: []PortSpec{airPort("1", "from the foot valve or relay"), airPort("2", "to the brakes")},
		Rooms: valveRooms(airPort("1", "supply"), airPort("2", "delivery")),
		Params: []ParamSpec{
			{Name: "limit", Dimension: Pressure, Default: "60 psi", Min: "15 psi", Max: "130 psi", About: "the most that it delivers", Source: "engineering judgement"},
			{Name: "conductance", Dimension: Conductance, Default: "10 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "either way, open", Source: "engineering judgement"},
			{Name: "span", Dimension: PressureSpan, Default: "3 psi", Min: "0.5 psi", Max: "20 psi", About: "under the limit, to be fully open", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "inlet", From: "1", To: "2", Pilot: []string{"2"}, About: "open while the delivery is under the limit"},
			{Name: "return", From: "2", To: "1", OneWay: true, About: "the way back, past the lip of the seat"},
		},
	},
	{
		Name: "ratio-valve", Title: "ratio valve",
		About: "Delivers a fixed share of the pressure that comes in, and lets the rest out at its own exhaust when that falls.",
		Ports: []PortSpec{airPort("1", "from the foot valve"), airPort("2", "to the brakes"), ventPort("3", "exhaust")},
		Rooms: valveRooms(airPort("1", "supply"), airPort("2", "delivery")),
		Params: []ParamSpec{
			{Name: "ratio", Dimension: Ratio, Default: "60 %", Min: "20 %", Max: "100 %", About: "of the pressure coming in", Source: "engineering judgement"},
			{Name: "conductance", Dimension: Conductance, Default: "10 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "inlet and exhaust", Source: "engineering judgement"},
			{Name: "span", Dimension: PressureSpan, Default: "3 psi", Min: "0.5 psi", Max: "20 psi", About: "from what is asked, to open fully", Source: "engineering judgement"},
			{Name: "hysteresis", Dimension: PressureSpan, Default: "1 psi", Min: "0.1 psi", Max: "10 psi", About: "between holding and exhausting", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "inlet", From: "1", To: "2", Pilot: []string{"1", "2"}, About: "open while the delivery is under its share"},
			{Name: "exhaust", From: "2", To: Atmosphere, Pilot: []string{"1", "2"}, About: "open while the delivery is over its share"},
		},
	},
	{
		Name: "spring-brake-valve", Title: "spring brake valve",
		About: "Feeds the spring sides at a limited pressure. When the rear circuit has failed and the pedal is worked, it lets hold-off air out in proportion, so that the springs brake in place of the service side.",
		Ports: []PortSpec{
			airPort("1", "from the park control"), airPort("2", "to the spring sides"), ventPort("3", "exhaust"),
			airPort("41", "rear service delivery"), airPort("42", "front service delivery"),
		},
		Rooms: valveRooms(airPort("1", "supply"), airPort("2", "delivery"), airPort("41", "rear control"), airPort("42", "front control")),
		Params: []ParamSpec{
			{Name: "hold_off", Dimension: Pressure, Default: "95 psi", Min: "70 psi", Max: "130 psi", About: "the most that it delivers", Source: "engineering judgement"},
			{Name: "gain", Dimension: Ratio, Default: "120 %", Min: "30 %", Max: "300 %", About: "hold-off pressure taken away for each unit that the front delivery is over the rear", Source: "engineering judgement"},
			{Name: "conductance", Dimension: Conductance, Default: "8 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "inlet and exhaust", Source: "engineering judgement"},
			{Name: "span", Dimension: PressureSpan, Default: "4 psi", Min: "0.5 psi", Max: "20 psi", About: "from what is asked, to open fully", Source: "engineering judgement"},
			{Name: "hysteresis", Dimension: PressureSpan, Default: "3 psi", Min: "0.1 psi", Max: "15 psi", About: "between holding and exhausting", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "inlet", From: "1", To: "2", Pilot: []string{"2", "41", "42"}, About: "open while the springs have less air than is asked"},
			{Name: "return", From: "2", To: "1", OneWay: true, About: "the way back to the park control"},
			{Name: "exhaust", From: "2", To: Atmosphere, Pilot: []string{"2", "41", "42"}, About: "open while the springs have more air than is asked"},
			{Name: "control seal", From: "42", To: "41", Worn: true, About: "past the piston between the two control sides"},
		},
	},
	{
		Name: "anti-lock-modulator", Title: "anti-lock modulator",
		About: "Stands between relay and chamber. At rest air passes both ways; when a wheel locks, the control unit shuts the way in (hold) and opens the way out (dump) in quick turns.",
		Ports: []PortSpec{airPort("1", "from the relay or quick release"), airPort("2", "to the chamber"), ventPort("3", "exhaust")},
		Rooms: valveRooms(airPort("1", "supply"), airPort("2", "delivery")),
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "20 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "either way, and of its exhaust", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "inlet", From: "1", To: "2", Control: "hold", About: "open unless the control unit holds"},
			{Name: "exhaust", From: "2", To: Atmosphere, Control: "dump", About: "shut unless the control unit dumps"},
		},
		Controls: []ControlSpec{
			{Name: "hold", Rest: 0, Max: 1, About: "0 passing, 1 the control unit shuts the way in"},
			{Name: "dump", Rest: 0, Max: 1, About: "0 shut, 1 the control unit lets the chamber's air out"},
		},
	},
}
