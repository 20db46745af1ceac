package circuit

// Kinds that a trailer is worked and fed through: in the cab, behind it, and on the trailer itself.
var trailerKinds = []*Kind{
	{
		Name: "hand-control", Title: "hand control",
		About: "A lever in the cab. It delivers a pressure that follows the lever, to the trailer's brakes alone or to an axle's lifting bellows.",
		Ports: []PortSpec{airPort("1", "supply"), airPort("2", "delivery"), ventPort("3", "exhaust")},
		Rooms: valveRooms(airPort("1", "supply"), airPort("2", "delivery")),
		Params: []ParamSpec{
			{Name: "full_demand", Dimension: Pressure, Default: "95 psi", Min: "30 psi", Max: "150 psi", About: "delivery asked for with the lever at its end", Source: "engineering judgement"},
			{Name: "conductance", Dimension: Conductance, Default: "4 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "inlet and exhaust", Source: "engineering judgement"},
			{Name: "span", Dimension: PressureSpan, Default: "4 psi", Min: "0.5 psi", Max: "20 psi", About: "between demand and delivery, to open fully", Source: "engineering judgement"},
			{Name: "hysteresis", Dimension: PressureSpan, Default: "2 psi", Min: "0 psi", Max: "15 psi", About: "between holding and exhausting", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "inlet", From: "1", To: "2", Pilot: []string{"2"}, Control: "lever", About: "open while the lever asks for more than is delivered"},
			{Name: "exhaust", From: "2", To: Atmosphere, Pilot: []string{"2"}, Control: "lever", About: "open with the lever back"},
		},
		Controls: []ControlSpec{{Name: "lever", Rest: 0, Max: 1, About: "0 back (released), 1 at its end", Gradual: true}},
	},
	{
		Name: "trailer-supply-control", Title: "trailer supply control",
		About: "The second knob in the cab. Pushed in, it charges the trailer's supply line; pulled out, or when its supply falls too low, it lets that line out and the trailer's brakes set.",
		Ports: []PortSpec{airPort("1", "supply"), airPort("2", "to the tractor protection valve"), ventPort("3", "exhaust")},
		Rooms: valveRooms(airPort("1", "supply"), airPort("2", "trailer supply")),
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "5 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "either way", Source: "engineering judgement"},
			{Name: "pops_at", Dimension: Pressure, Default: "38 psi", Min: "10 psi", Max: "80 psi", About: "the knob pops out by itself below this", Source: "model CDL manual 5.3, 6: 20 to 45 psi"},
		},
		Passages: []PassageSpec{
			{Name: "inlet", From: "1", To: "2", Control: "knob", About: "open with the knob in"},
			{Name: "exhaust", From: "2", To: Atmosphere, Control: "knob", About: "open with the knob out"},
		},
		Controls: []ControlSpec{{Name: "knob", Rest: 0, Max: 1, About: "0 out (trailer braked), 1 pushed in (trailer charged)"}},
	},
	{
		Name: "tractor-protection-valve", Title: "tractor protection valve",
		About: "Behind the cab. While the trailer supply is charged it lets service air through to the trailer; without it, the way is shut, so that a trailer that is lost or leaking can't take the tractor's service air.",
		Ports: []PortSpec{
			airPort("1", "trailer supply, from the knob"), airPort("21", "to the supply gladhand"),
			airPort("4", "service, from foot and hand control"), airPort("22", "to the control gladhand"), ventPort("3", "exhaust"),
		},
		Rooms: []RoomSpec{{Name: "1", About: "trailer supply"}, {Name: "21", About: "to the supply gladhand"}, {Name: "4", About: "service"}, {Name: "22", About: "to the control gladhand"}},
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "12 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "each way through", Source: "engineering judgement"},
			{Name: "shuts_at", Dimension: Pressure, Default: "36 psi", Min: "10 psi", Max: "70 psi", Below: "opens_at", About: "trailer supply at and below which the service way is shut", Source: "49 CFR 393.43, from memory: 20 to 45 psi"},
			{Name: "opens_at", Dimension: Pressure, Default: "48 psi", Min: "15 psi", Max: "90 psi", About: "trailer supply at and above which the service way is fully open", Source: "engineering judgement"},
			{Name: "exhaust_conductance", Dimension: Conductance, Default: "2 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "by which the trailer's service line is let out while the way is shut", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "supply way", From: "1", To: "21", About: "straight through"},
			{Name: "service way", From: "4", To: "22", Pilot: []string{"1"}, About: "open while the trailer supply is charged"},
			{Name: "exhaust", From: "22", To: Atmosphere, Pilot: []string{"1"}, About: "open while the service way is shut"},
		},
	},
	{
		Name: "gladhand", Title: "gladhand",
		About: "Half of a coupling, by itself: its face stands open to the air unless its cock is shut or it hangs on a dummy.",
		Ports: []PortSpec{airPort("1", "line of the vehicle"), ventPort("3", "open face")},
		Rooms: valveRooms(airPort("1", "behind the face")),
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "20 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "of the open face", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "face", From: "1", To: Atmosphere, Control: "shut", Coupling: true, About: "open unless shut off or on a dummy; another vehicle's air comes in here"},
			{Name: "shop air", From: Atmosphere, To: "1", OneWay: true, Control: "shop_air", Coupling: true, About: "open while a workshop's hose is on it"},
		},
		Controls: []ControlSpec{
			{Name: "shut", Rest: 0, Max: 1, About: "0 open to the air, 1 shut, on a dummy or on a hose"},
			{Name: "shop_air", Rest: 0, Max: 1, About: "0 no air from a workshop's hose, 1 air at up to 120 psi"},
		},
	},
	{
		Name: "coupling", Title: "gladhand couplings",
		About: "Both joints between two vehicles, supply and control, each of two gladhands with a seal, and a shut-off cock behind the towing vehicle's. Undone, all four faces are open, but for those whose cock is shut; joined crosswise, supply meets control.",
		Ports: []PortSpec{
			airPort("11", "supply, towing vehicle"), airPort("12", "control, towing vehicle"),
			airPort("21", "supply, towed vehicle"), airPort("22", "control, towed vehicle"), ventPort("3", "open faces"),
		},
		Rooms: valveRooms(airPort("11", "supply, towing side"), airPort("12", "control, towing side"), airPort("21", "supply, towed side"), airPort("22", "control, towed side")),
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "20 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "of each joint", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "supply joint", From: "11", To: "21", Control: "coupled", About: "supply to supply"},
			{Name: "control joint", From: "12", To: "22", Control: "coupled", About: "control to control"},
			{Name: "supply face", From: "11", To: Atmosphere, Control: "supply_cock", About: "open when uncoupled, with its cock open"},
			{Name: "control face", From: "12", To: Atmosphere, Control: "control_cock", About: "open when uncoupled, with its cock open"},
			{Name: "towed supply face", From: "21", To: Atmosphere, Control: "coupled", About: "open when uncoupled"},
			{Name: "towed control face", From: "22", To: Atmosphere, Control: "coupled", About: "open when uncoupled"},
			{Name: "supply on control", From: "11", To: "22", Worn: true, Control: "crossed", About: "open when joined crosswise"},
			{Name: "control on supply", From: "12", To: "21", Worn: true, Control: "crossed", About: "open when joined crosswise"},
		},
		Controls: []ControlSpec{
			{Name: "coupled", Rest: 1, Max: 1, About: "0 uncoupled, 1 coupled"},
			{Name: "crossed", Rest: 0, Max: 1, About: "0 supply to supply, 1 joined crosswise"},
			{Name: "supply_cock", Rest: 0, Max: 1, About: "0 open, 1 the towing vehicle's supply cock shut"},
			{Name: "control_cock", Rest: 0, Max: 1, About: "0 open, 1 the towing vehicle's control cock shut"},
		},
	},
	{
		Name: "trailer-spring-valve", Title: "trailer spring brake valve",
		About: "On a trailer with spring brakes. Supply air holds the springs off first; once there is enough of it, it fills the reservoir past a protection valve and a check. When the supply is lost it lets the hold-off air out and the springs set.",
		Ports: []PortSpec{airPort("1", "supply line"), airPort("21", "to the reservoir"), airPort("22", "to the spring sides"), ventPort("3", "exhaust")},
		Rooms: []RoomSpec{{Name: "1", About: "supply line"}, {Name: "gate", About: "between protection and check"}, {Name: "21", About: "to the reservoir"}, {Name: "22", About: "to the spring sides"}},
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "8 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "each way", Source: "engineering judgement"},
			{Name: "closes", Dimension: Pressure, Default: "72 psi", Min: "40 psi", Max: "100 psi", Below: "opens", About: "supply pressure at and below which nothing more goes to the reservoir", Source: "49 CFR 571.121 S5.8.2: 70 psi or more is kept in the supply line"},
			{Name: "opens", Dimension: Pressure, Default: "80 psi", Min: "45 psi", Max: "110 psi", About: "supply pressure at which the way to the reservoir is fully open", Source: "engineering judgement"},
			{Name: "crack", Dimension: PressureSpan, Default: "1 psi", Min: "0 psi", Max: "10 psi", About: "to open the checks", Source: "engineering judgement"},
			{Name: "hysteresis", Dimension: PressureSpan, Default: "2 psi", Min: "0.1 psi", Max: "15 psi", About: "by which the supply must fall under the hold-off before it exhausts", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "protection", From: "1", To: "gate", Pilot: []string{"1"}, About: "open while the supply line has enough"},
			{Name: "reservoir check", From: "gate", To: "21", OneWay: true, About: "keeps the reservoir's air on the trailer"},
			{Name: "back leak", From: "21", To: "1", Worn: true, About: "past check and protection, back into the supply line"},
			{Name: "hold-off way", From: "1", To: "22", OneWay: true, Pilot: []string{"1", "22"}, About: "open while supply is above hold-off"},
			{Name: "exhaust", From: "22", To: Atmosphere, Pilot: []string{"1", "22"}, About: "open while supply is below hold-off"},
		},
	},
	{
		Name: "relay-emergency-valve", Title: "relay emergency valve",
		About: "On a trailer without spring brakes. It fills the reservoir from the supply line, works the brakes as a relay under the control line, and puts them on with the reservoir's air when the supply line is lost.",
		Ports: []PortSpec{
			airPort("1", "supply line"), {Name: "20", Medium: Air, Room: "tank", About: "to and from the reservoir"},
			{Name: "21", Medium: Air, Room: "2", About: "to the brakes, left"}, {Name: "22", Medium: Air, Room: "2", About: "to the brakes, right"},
			sparePort("23", "2", "to further brakes"), ventPort("3", "exhaust"), airPort("4", "control line"),
		},
		Rooms: []RoomSpec{{Name: "1", About: "supply line"}, {Name: "gate", About: "between protection and check"}, {Name: "tank", About: "reservoir side"}, {Name: "2", About: "delivery"}, {Name: "4", About: "control"}},
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "14 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "inlet and exhaust", Source: "engineering judgement"},
			{Name: "fill_conductance", Dimension: Conductance, Default: "6 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "of the check to the reservoir", Source: "engineering judgement"},
			{Name: "crack", Dimension: PressureSpan, Default: "3 psi", Min: "0 psi", Max: "20 psi", About: "of control pressure before it delivers", Source: "engineering judgement: 3 to 4 psi"},
			{Name: "span", Dimension: PressureSpan, Default: "4 psi", Min: "0.5 psi", Max: "20 psi", About: "between control and delivery, to open fully", Source: "engineering judgement"},
			{Name: "closes", Dimension: Pressure, Default: "72 psi", Min: "40 psi", Max: "100 psi", Below: "opens", About: "supply pressure at and below which nothing more goes to the reservoir", Source: "49 CFR 571.121 S5.8.2: 70 psi or more is kept in the supply line"},
			{Name: "opens", Dimension: Pressure, Default: "80 psi", Min: "45 psi", Max: "110 psi", About: "supply pressure at which the way to the reservoir is fully open", Source: "engineering judgement"},
			{Name: "emergency_at", Dimension: Pressure, Default: "38 psi", Min: "10 psi", Max: "60 psi", Below: "recovers_at", About: "falling supply that puts the brakes on", Source: "49 CFR 393.43, from memory: 20 to 45 psi"},
			{Name: "recovers_at", Dimension: Pressure, Default: "55 psi", Min: "20 psi", Max: "80 psi", About: "rising supply that lets them go", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "protection", From: "1", To: "gate", Pilot: []string{"1"}, About: "open while the supply line has enough"},
			{Name: "reservoir check", From: "gate", To: "tank", OneWay: true, About: "keeps the reservoir's air on the trailer"},
			{Name: "back leak", From: "tank", To: "1", Worn: true, About: "past check and protection, back into the supply line"},
			{Name: "inlet seat", From: "tank", To: "2", Pilot: []string{"4", "2", "1"}, About: "open while control is above delivery, and in an emergency"},
			{Name: "exhaust seat", From: "2", To: Atmosphere, Pilot: []string{"4", "2", "1"}, About: "open at rest and while control is below delivery; shut in an emergency"},
			{Name: "control seal", From: "4", To: "2", Worn: true, About: "past the relay piston"},
		},
	},
}
