package circuit

// Kinds that use air for something else than braking.
var auxiliaryKinds = []*Kind{
	{
		Name: "levelling-valve", Title: "levelling valve",
		About: "Its arm follows the axle. It fills the bellows while the body is low and lets them out while it is high, and so holds the height whatever the load.",
		Ports: []PortSpec{
			airPort("1", "supply"), sparePort("21", "2", "to a second bellows"), {Name: "22", Medium: Air, Room: "2", About: "to the bellows"}, ventPort("3", "exhaust"),
		},
		Rooms: []RoomSpec{{Name: "1", About: "supply"}, {Name: "gate", About: "between check and seat"}, {Name: "2", About: "bellows"}},
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "1.5 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "either way", Source: "engineering judgement"},
			{Name: "ride_pressure", Dimension: Pressure, Default: "55 psi", Min: "10 psi", Max: "110 psi", About: "bellows pressure that carries the load at the proper height", Source: "engineering judgement"},
			{Name: "span", Dimension: PressureSpan, Default: "3 psi", Min: "0.5 psi", Max: "20 psi", About: "bellows pressure away from level, to open fully", Source: "engineering judgement"},
			{Name: "dead_band", Dimension: PressureSpan, Default: "4 psi", Min: "0.1 psi", Max: "20 psi", About: "bellows pressure over level before it lets air out", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "inlet check", From: "1", To: "gate", OneWay: true, About: "keeps the bellows up when the supply is lost"},
			{Name: "inlet", From: "gate", To: "2", Pilot: []string{"2"}, About: "open while the body is low"},
			{Name: "exhaust", From: "2", To: Atmosphere, Pilot: []string{"2"}, About: "open while the body is high"},
		},
	},
	{
		Name: "bellows", Title: "air bellows",
		About: "Carries the body on air, or lifts an axle. Its height gives way over a narrow band of pressure, as the load decides.",
		Ports: []PortSpec{airPort("1", "from its valve")},
		Rooms: valveRooms(airPort("1", "inside")),
		Params: []ParamSpec{
			{Name: "flat_volume", Dimension: Volume, Default: "4 L", Min: "0.2 L", Max: "30 L", About: "on its bump stop", Source: "engineering judgement"},
			{Name: "swept_volume", Dimension: Volume, Default: "6 L", Min: "0.2 L", Max: "30 L", About: "added up to its full height", Source: "engineering judgement"},
			{Name: "lifts_at", Dimension: PressureSpan, Default: "45 psi", Min: "5 psi", Max: "100 psi", Below: "full_at", About: "at which the load comes off the bump stop", Source: "engineering judgement"},
			{Name: "full_at", Dimension: PressureSpan, Default: "65 psi", Min: "8 psi", Max: "120 psi", About: "at full height", Source: "engineering judgement"},
		},
	},
	{
		Name: "auxiliary-consumer", Title: "auxiliary consumer",
		About: "A door cylinder, a horn, a seat, a tailgate: something that holds some air and uses some when it is worked.",
		Ports: []PortSpec{airPort("1", "supply"), ventPort("3", "outlet")},
		Rooms: valveRooms(airPort("1", "inside")),
		Params: []ParamSpec{
			{Name: "volume", Dimension: Volume, Default: "1.5 L", Min: "10 mL", Max: "40 L", About: "that it holds", Source: "engineering judgement"},
			{Name: "conductance", Dimension: Conductance, Default: "0.8 L/(s.bar)", Min: "0.01 L/(s.bar)", Max: "100 L/(s.bar)", About: "by which it uses air while it is worked", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{{Name: "use", From: "1", To: Atmosphere, Control: "work", About: "open while it is worked"}},
		Controls: []ControlSpec{{Name: "work", Rest: 0, Max: 1, About: "0 at rest, 1 being worked"}},
	},
	{
		Name: "plug", Title: "plug",
		About: "Closes the end of a line, or of a port that is kept for later.",
		Ports: []PortSpec{airPort("1", "what it closes")},
		Rooms: valveRooms(airPort("1", "behind the plug")),
	},
}
