package circuit

// Kinds that send the air to the brakes and let it go again.
var controlKinds = []*Kind{
	{
		Name: "foot-valve", Title: "dual foot valve",
		About: "Two valves over one another under one pedal. Each delivers a pressure that follows the pedal and lets it out when the pedal rises; the secondary is worked by the primary's delivery, or by hand of the pedal if there is none.",
		Ports: []PortSpec{airPort("11", "primary supply"), airPort("12", "secondary supply"), airPort("21", "primary delivery"), airPort("22", "secondary delivery"), ventPort("3", "exhaust")},
		Rooms: valveRooms(airPort("11", "primary supply"), airPort("12", "secondary supply"), airPort("21", "primary delivery"), airPort("22", "secondary delivery")),
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "8 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "each inlet and each exhaust", Source: "engineering judgement"},
			{Name: "span", Dimension: PressureSpan, Default: "4 psi", Min: "0.5 psi", Max: "20 psi", About: "between pedal demand and delivery, to open fully", Source: "engineering judgement"},
			{Name: "hysteresis", Dimension: PressureSpan, Default: "2 psi", Min: "0 psi", Max: "15 psi", About: "between holding and exhausting", Source: "engineering judgement"},
			{Name: "offset", Dimension: PressureSpan, Default: "1.5 psi", Min: "0 psi", Max: "10 psi", About: "by which the secondary stays below the primary", Source: "engineering judgement"},
			{Name: "full_demand", Dimension: Pressure, Default: "150 psi", Min: "60 psi", Max: "200 psi", About: "delivery asked for with the pedal at the floor", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "primary inlet", From: "11", To: "21", Pilot: []string{"21"}, Control: "pedal", About: "open while the pedal asks for more than is delivered"},
			{Name: "primary exhaust", From: "21", To: Atmosphere, Pilot: []string{"21"}, Control: "pedal", About: "open with the pedal up"},
			{Name: "secondary inlet", From: "12", To: "22", Pilot: []string{"21", "22"}, Control: "pedal", About: "follows the primary's delivery, or the pedal by hand"},
			{Name: "secondary exhaust", From: "22", To: Atmosphere, Pilot: []string{"21", "22"}, Control: "pedal", About: "open with the pedal up"},
			{Name: "between circuits", From: "21", To: "22", Worn: true, About: "past the piston between the two circuits"},
		},
		Controls: []ControlSpec{{Name: "pedal", Rest: 0, Max: 1, About: "0 up, 1 at the floor", Gradual: true, Sprung: true}},
	},
	{
		Name: "relay-valve", Title: "relay valve",
		About: "Close to the brakes it delivers reservoir air at the pressure of a small control line, and lets it out at its own exhaust, so that distant brakes act and release quickly.",
		Ports: []PortSpec{
			airPort("1", "from the reservoir"),
			{Name: "21", Medium: Air, Room: "2", About: "to the brakes, left"},
			{Name: "22", Medium: Air, Room: "2", About: "to the brakes, right"},
			sparePort("23", "2", "test connection"),
			ventPort("3", "exhaust"), airPort("4", "control"),
		},
		Rooms: []RoomSpec{{Name: "1", About: "supply"}, {Name: "2", About: "delivery"}, {Name: "4", About: "control"}},
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "16 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "inlet and exhaust", Source: "engineering judgement"},
			{Name: "crack", Dimension: PressureSpan, Default: "3 psi", Min: "0 psi", Max: "20 psi", About: "of control pressure before it delivers", Source: "engineering judgement: 3 to 4 psi"},
			{Name: "span", Dimension: PressureSpan, Default: "4 psi", Min: "0.5 psi", Max: "20 psi", About: "between control and delivery, to open fully", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "inlet seat", From: "1", To: "2", Pilot: []string{"4", "2"}, About: "open while control is above delivery"},
			{Name: "exhaust seat", From: "2", To: Atmosphere, Pilot: []string{"4", "2"}, About: "open at rest and while control is below delivery"},
			{Name: "control seal", From: "4", To: "2", Worn: true, About: "past the relay piston"},
		},
	},
	{
		Name: "quick-release-valve", Title: "quick release valve",
		About: "Passes air on to the brakes, and when its supply falls lets the brakes' air out close by instead of all the way back.",
		Ports: []PortSpec{
			airPort("1", "supply"),
			{Name: "21", Medium: Air, Room: "2", About: "to the brakes, left"},
			{Name: "22", Medium: Air, Room: "2", About: "to the brakes, right"},
			sparePort("23", "2", "test connection"),
			ventPort("3", "exhaust"),
		},
		Rooms: []RoomSpec{{Name: "1", About: "supply"}, {Name: "2", About: "delivery"}},
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "12 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "inlet and exhaust", Source: "engineering judgement"},
			{Name: "crack", Dimension: PressureSpan, Default: "0.5 psi", Min: "0 psi", Max: "5 psi", About: "to pass air on", Source: "engineering judgement"},
			{Name: "hysteresis", Dimension: PressureSpan, Default: "1 psi", Min: "0.1 psi", Max: "10 psi", About: "by which the supply must fall before it exhausts", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "inlet", From: "1", To: "2", OneWay: true, Pilot: []string{"1", "2"}, About: "open while supply is above delivery"},
			{Name: "exhaust", From: "2", To: Atmosphere, Pilot: []string{"1", "2"}, About: "open at rest and while supply is below delivery"},
		},
	},
	{
		Name: "double-check-valve", Title: "double check valve",
		About: "Two inlets and a shuttle: the higher of the two feeds the outlet, and neither can leak into the other.",
		Ports: []PortSpec{airPort("11", "first supply"), airPort("12", "second supply"), airPort("2", "out")},
		Rooms: valveRooms(airPort("11", "first supply"), airPort("12", "second supply"), airPort("2", "out")),
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "8 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "either way", Source: "engineering judgement"},
			{Name: "span", Dimension: PressureSpan, Default: "2 psi", Min: "0.2 psi", Max: "10 psi", About: "between the inlets, to throw the shuttle over", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "first seat", From: "11", To: "2", Pilot: []string{"11", "12"}, About: "open while the first supply is the higher"},
			{Name: "second seat", From: "12", To: "2", Pilot: []string{"11", "12"}, About: "open while the second supply is the higher"},
		},
	},
	{
		Name: "park-control", Title: "park control",
		About: "The knob in the cab. Pushed in, it sends air to hold the springs off; pulled out, or when its supply falls too low, it lets that air out at its exhaust and the springs set.",
		Ports: []PortSpec{airPort("1", "supply"), airPort("2", "to the spring brakes"), ventPort("3", "exhaust")},
		Rooms: valveRooms(airPort("1", "supply"), airPort("2", "delivery")),
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "5 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "either way", Source: "engineering judgement"},
			{Name: "pops_at", Dimension: Pressure, Default: "32 psi", Min: "10 psi", Max: "80 psi", About: "the knob pops out by itself below this", Source: "model CDL manual 5.3: 20 to 45 psi"},
		},
		Passages: []PassageSpec{
			{Name: "inlet", From: "1", To: "2", Control: "knob", About: "open with the knob in"},
			{Name: "exhaust", From: "2", To: Atmosphere, Control: "knob", About: "open with the knob out"},
		},
		Controls: []ControlSpec{{Name: "knob", Rest: 0, Max: 1, About: "0 out (parked), 1 pushed in (released)"}},
	},
}
